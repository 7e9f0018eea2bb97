"""What a note shows on its card, in the draft its reader is looking at."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Q
from django.http import Http404
from django.utils.html import strip_tags
from django.utils.text import Truncator

from review.access import Deed, may, may_withdraw
from review.decisions.note_decisions import NoteDecisions, decisions_on
from review.drafts.models import Draft
from review.drafts.scripts import laid_out
from review.notes.carrying import span_of
from review.notes.forms import kept_key
from review.notes.lines import quote, whole_lines
from review.notes.markdown import render_markdown
from review.notes.models import Audience, Fate, Note, NoteQuerySet, Placement, Reply, Subject
from review.notes.page_names import page_name
from review.notes.subjects import heading_as_read
from review.rewriting.current_text import current_text
from review.rewriting.wording_fit import WordingFit, wording_fits
from screenplay import Span
from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from django.utils.safestring import SafeString

    from review.decisions.models import Decision
    from review.people.models import Member
    from screenplay.comparing import WordChange

WORDS_OF_A_FOLD = 9
MOST_QUOTED_LINES = 14


@dataclass(frozen=True, slots=True)
class ReplyCard:
    """A reply under a note. The words of a withdrawn one are its author's alone: `body_html` is empty for others."""

    reply: Reply
    author: Member
    body_html: SafeString | str
    may_withdraw: bool

    @property
    def is_withdrawn(self) -> bool:
        return self.reply.withdrawn_at is not None


@dataclass(frozen=True, slots=True)
class NoteCard:
    """A note as `member` sees it on `draft`.

    `span` are its lines in that draft, None where they are gone or it was never there; `stands_on` where it stands: a
    scene's note at its heading. `fate` is empty on the note's own draft, and told since draft `since`: the one it was
    left on, or in which a writer placed it last. `then_words` and `now_words` differ for reworded lines. `about` is
    what a scene or a character is called in this draft, `about_then` what it was called in that one. `wording_changes`
    are the proposed wording's words against the whole lines it would replace. `place_name` is "Page 3" or "Pages 3 to
    4", empty without lines; `now_lines` are the whole lines there. `fit` is how its wording stands to the next draft,
    for those who write it. `is_hidden` says that not everyone can read it.
    """

    note: Note
    draft: Draft
    member: Member
    author: Member
    body_html: SafeString | str
    span: Span | None
    stands_on: Span | None
    fate: Fate | None
    since: int
    placed_by_hand: bool
    about: str
    about_then: str
    then_words: str
    now_words: str
    place_name: str
    now_lines: str
    wording_changes: tuple[WordChange, ...]
    replies: tuple[ReplyCard, ...]
    decisions: NoteDecisions
    fit: WordingFit | None
    may_read: bool
    may_decide: bool
    may_reply: bool
    may_withdraw: bool

    @property
    def title(self) -> str:
        return f"{self.note.get_kind_display()} from {self.author.name}, {self.author.get_department_display()}"

    @property
    def subject(self) -> str:
        return self.note.subject

    @property
    def fate_label(self) -> str:
        """The fate in a word; of a character with another name, that it was renamed."""
        if self.fate is None:
            return ""
        is_renamed = self.subject == Subject.CHARACTER and self.fate == Fate.REWORDED
        return "Renamed" if is_renamed else str(self.fate.label)

    @property
    def quoted_lines(self) -> str:
        """The lines a note speaks of, as they were when it was left; of a whole scene as many as show which it was."""
        lines = self.note.quoted.rstrip().split("\n")
        if self.subject == Subject.SCENE and self.span is not None:
            return lines[0]
        return "\n".join(lines[:MOST_QUOTED_LINES])

    @property
    def quoted_lines_left_out(self) -> int:
        lines = self.note.quoted.rstrip().count("\n") + 1
        return max(lines - MOST_QUOTED_LINES, 0) if self.span is None else 0

    @property
    def kind(self) -> str:
        return self.note.kind

    @property
    def kind_label(self) -> str:
        return self.note.get_kind_display()

    @property
    def first_words(self) -> str:
        """As much of the note as tells it from others when it is folded."""
        words = " ".join(strip_tags(self.body_html).split())
        return Truncator(words).words(WORDS_OF_A_FOLD, truncate=" …") if words else "Offers a wording"

    @property
    def department(self) -> str:
        return self.author.get_department_display()

    @property
    def fate_changes(self) -> tuple[WordChange, ...]:
        """What became of the note's words between then and now."""
        return word_changes(self.then_words, self.now_words)

    @property
    def was_renamed(self) -> bool:
        return self.subject == Subject.CHARACTER and bool(self.about) and self.about != self.about_then

    @property
    def kept_key(self) -> str:
        """The name under which a browser keeps a half-typed reply."""
        return kept_key(self.member, "reply", self.note.public_id)

    @property
    def is_mine(self) -> bool:
        return self.note.author_id == self.member.pk

    @property
    def wording(self) -> str | None:
        return self.note.wording

    @property
    def wording_before(self) -> str:
        """What to call the lines that the wording would replace."""
        return f"Draft {self.note.draft.number} {'read' if self.is_from_earlier else 'reads'}"

    @property
    def shows_quote(self) -> bool:
        """Whether to quote the lines a note speaks of: not where it stands at them by itself, as a scene's note does,
        nor where its wording is set beside the very same words."""
        if self.subject != Subject.LINES:
            return self.span is None and self.subject == Subject.SCENE
        replaced = "".join(change.text for change in self.wording_changes if change.op != "added")
        return self.wording is None or replaced.split() != self.note.quoted.split()

    @property
    def reads_as_offered(self) -> bool:
        """Whether a later draft has taken the wording where the note now stands."""
        return self.is_from_earlier and self.span is not None and self.now_lines == self.wording

    @property
    def shows_then_and_now(self) -> bool:
        """Whether to compare the note's words with what they became.

        A card with a wording shows the old lines already; words that a note was set on by hand never came of its own.
        """
        if self.fate != Fate.REWORDED or self.placed_by_hand or self.wording is not None:
            return False
        return self.subject == Subject.LINES or (self.subject == Subject.SCENE and self.about != self.about_then)

    @property
    def shows_changes_of_scene(self) -> bool:
        """Whether to lead to what changed in a scene, of which the card shows no more than the heading."""
        return self.subject == Subject.SCENE and self.fate == Fate.REWORDED and not self.placed_by_hand

    @property
    def is_hidden(self) -> bool:
        return self.note.audience == Audience.WRITER

    @property
    def is_withdrawn(self) -> bool:
        return self.note.withdrawn_at is not None

    @property
    def decision(self) -> Decision | None:
        """The decision that stands."""
        return self.decisions.in_force

    @property
    def is_open(self) -> bool:
        return self.decision is None and not self.is_withdrawn

    @property
    def is_from_earlier(self) -> bool:
        return self.note.draft_id != self.draft.pk


def note_cards(member: Member, notes: NoteQuerySet, draft: Draft) -> list[NoteCard]:
    """The cards of these notes in the order of the queryset, in five queries however many there are, seven where some
    are written in; and a few more for a writer where some offer a wording.

    The caller says which notes, with `visible_to`; this asks nothing about who may read them.
    """
    found = list(notes.select_related("author__person", "draft__production").defer("draft__text"))
    ids = [note.pk for note in found]
    replies: dict[int, list[Reply]] = defaultdict(list)
    for reply in Reply.objects.filter(note__in=ids).select_related("author__person"):
        replies[reply.note_id].append(reply)
    told_of, fit_of = decisions_on(found), _fits(member, found)
    places: dict[int, _Places] = defaultdict(_Places)
    by_hand = Q(placed_by__isnull=False, draft__number__lt=draft.number)
    told = Placement.objects.filter(Q(draft=draft) | by_hand, note__in=ids).order_by("draft__number")
    for placement in told.select_related("draft").defer("draft__text"):
        if placement.draft_id == draft.pk:
            places[placement.note_id].here = placement
        elif placement.first_line is not None:
            places[placement.note_id].by_hand = placement
    texts = _texts(found, places, draft)
    return [
        _card(
            member,
            note,
            draft,
            places=places[note.pk],
            replies=replies[note.pk],
            decisions=told_of[note.pk],
            fit=fit_of.get(note.pk),
            texts=texts,
        )
        for note in found
    ]


def _fits(member: Member, notes: Sequence[Note]) -> dict[int, WordingFit]:
    """How the wordings among these notes stand to the pages as they are now; a few queries more where there are some.
    The working draft is nobody's business but the writers'."""
    has_wordings = any(note.wording is not None for note in notes)
    current = current_text(member.production) if has_wordings and may(member, Deed.REWRITE) else None
    return wording_fits(notes, current) if current else {}


@dataclass(slots=True)
class _Places:
    """A note's placement in the draft shown, and the last one that was set by hand in a draft before it."""

    here: Placement | None = None
    by_hand: Placement | None = None


def card_of(member: Member, note: Note, draft: Draft) -> NoteCard:
    """One note's card."""
    return note_cards(member, Note.objects.filter(pk=note.pk), draft)[0]


def shown_draft(member: Member, note: Note, number: str | None) -> Draft:
    """The draft a card's form was shown on, by the number the form sent along; the note's own draft without one."""
    if not number:
        return note.draft
    try:
        return member.production.drafts.get(number=int(number))
    except (ValueError, Draft.DoesNotExist):
        raise Http404("No such draft") from None


def _texts(notes: Iterable[Note], places: Mapping[int, _Places], draft: Draft) -> dict[int, str]:
    """The texts of the drafts whose lines are shown beside others, by the draft's key: those that a wording would
    replace, and those on which a writer placed a note."""
    wanted = {note.draft_id for note in notes if note.wording is not None}
    wanted |= {place.by_hand.draft_id for place in places.values() if place.by_hand}
    return {draft.pk: draft.text} | dict(Draft.objects.filter(pk__in=wanted - {draft.pk}).values_list("pk", "text"))


def _card(
    member: Member,
    note: Note,
    draft: Draft,
    *,
    places: _Places,
    replies: list[Reply],
    decisions: NoteDecisions,
    fit: WordingFit | None,
    texts: dict[int, str],
) -> NoteCard:
    stands = note.withdrawn_at is None
    readable = stands or note.author_id == member.pk
    placement = places.here
    span = _span(note, draft, placement)
    own = places.by_hand or note
    stands_on = _heading(draft.text, span) if span and note.subject == Subject.SCENE else span
    fate = Fate(placement.fate) if placement else None
    about, about_then = _abouts(note, placement, own, stands_on, draft, texts)
    return NoteCard(
        note=note,
        draft=draft,
        member=member,
        may_read=readable,
        author=note.author,
        body_html=render_markdown(note.body) if readable else "",
        span=span,
        stands_on=stands_on,
        fate=fate,
        since=own.draft.number,
        placed_by_hand=bool(placement and placement.placed_by_id),
        about=about,
        about_then=about_then,
        then_words=_then_words(note, own, about_then, texts),
        now_words=about if note.subject == Subject.SCENE else quote(draft.text, stands_on) if stands_on else "",
        place_name=page_name(laid_out(draft), stands_on.first_line, stands_on.last_line) if stands_on else "",
        now_lines=whole_lines(draft.text, span.first_line, span.last_line) if span else "",
        wording_changes=_wording_changes(note, texts) if readable else (),
        replies=tuple(_reply_card(member, reply) for reply in replies),
        decisions=decisions,
        fit=fit if stands else None,
        may_decide=stands and may(member, Deed.DECIDE),
        may_reply=stands and may(member, Deed.NOTE),
        may_withdraw=stands and may_withdraw(member, note),
    )


def _span(note: Note, draft: Draft, placement: Placement | None) -> Span | None:
    stands = note if note.draft_id == draft.pk else placement
    return span_of(stands) if stands is not None and stands.first_line is not None else None


def _heading(text: str, scene: Span) -> Span:
    """The heading alone of a scene's lines, where its notes stand."""
    return Span(scene.first_line, 0, scene.first_line, len(whole_lines(text, scene.first_line, scene.first_line)))


def _abouts(
    note: Note,
    here: Placement | None,
    own: Note | Placement,
    stands_on: Span | None,
    draft: Draft,
    texts: dict[int, str],
) -> tuple[str, str]:
    """What the scene or the character of a note is called in the draft shown, and in the draft it was put on."""
    if note.subject == Subject.CHARACTER:
        return (here.character if here else note.character if note.draft_id == draft.pk else ""), own.character
    if note.subject == Subject.LINES:
        return "", ""
    heading = note.quoted if isinstance(own, Note) else quote(texts[own.draft_id], span_of(own))
    now = heading_as_read(quote(draft.text, stands_on)) if stands_on else ""
    return now, heading_as_read(heading.split("\n", 1)[0])


def _then_words(note: Note, own: Note | Placement, about_then: str, texts: dict[int, str]) -> str:
    """The words that its fate is told against; of a scene, its heading."""
    if note.subject == Subject.SCENE:
        return about_then
    return note.quoted if isinstance(own, Note) else quote(texts[own.draft_id], span_of(own))


def _wording_changes(note: Note, texts: dict[int, str]) -> tuple[WordChange, ...]:
    if note.wording is None:
        return ()
    return word_changes(whole_lines(texts[note.draft_id], note.first_line, note.last_line), note.wording)


def _reply_card(member: Member, reply: Reply) -> ReplyCard:
    readable = reply.withdrawn_at is None or reply.author_id == member.pk
    return ReplyCard(
        reply=reply,
        author=reply.author,
        body_html=render_markdown(reply.body) if readable else "",
        may_withdraw=reply.withdrawn_at is None and may_withdraw(member, reply),
    )
