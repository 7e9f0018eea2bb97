"""What a note shows on its card, in the draft its reader is looking at."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.http import Http404
from django.utils.html import strip_tags
from django.utils.text import Truncator

from review.access import Deed, may, may_withdraw
from review.decisions.models import Decision
from review.drafts.models import Draft
from review.drafts.scripts import read_script
from review.notes.carrying import span_of
from review.notes.forms import kept_key
from review.notes.lines import quote, whole_lines
from review.notes.markdown import render_markdown
from review.notes.models import Audience, Fate, Note, NoteQuerySet, Placement, Reply
from review.notes.page_names import page_name
from screenplay.compare import word_changes

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.utils.safestring import SafeString

    from review.people.models import Member
    from screenplay.carry import Span
    from screenplay.compare import WordChange

WORDS_OF_A_FOLD = 9


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

    `span` is where it stands in that draft, None where its lines are gone or it was never there. `fate` is empty on the
    note's own draft. `then_words` and `now_words` differ for reworded lines. `wording_changes` are the proposed
    wording's words against the whole lines it would replace. `place_name` is "Page 3" or "Pages 3 to 4", empty without
    lines; `now_lines` are the whole lines there. `is_hidden` says that not everyone can read it.
    """

    note: Note
    draft: Draft
    member: Member
    author: Member
    body_html: SafeString | str
    span: Span | None
    fate: Fate | None
    placed_by_hand: bool
    now_words: str
    place_name: str
    now_lines: str
    wording_changes: tuple[WordChange, ...]
    replies: tuple[ReplyCard, ...]
    decision: Decision | None
    earlier_decisions: tuple[Decision, ...]
    may_read: bool
    may_decide: bool
    may_reply: bool
    may_withdraw: bool

    @property
    def title(self) -> str:
        return f"{self.note.get_kind_display()} from {self.author.name}, {self.author.get_department_display()}"

    @property
    def then_words(self) -> str:
        return self.note.quoted

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
        return f"Draft {self.note.draft.number} read" if self.is_from_earlier else "Reads"

    @property
    def reads_as_offered(self) -> bool:
        """Whether a later draft has taken the wording where the note now stands."""
        return self.is_from_earlier and self.span is not None and self.now_lines == self.wording

    @property
    def shows_then_and_now(self) -> bool:
        """Whether to compare the note's words with what they became.

        A card with a wording shows the old lines already; words that a note was set on by hand never came of its own.
        """
        return self.fate == Fate.REWORDED and self.wording is None and not self.placed_by_hand

    @property
    def is_hidden(self) -> bool:
        return self.note.audience == Audience.WRITER

    @property
    def is_withdrawn(self) -> bool:
        return self.note.withdrawn_at is not None

    @property
    def is_open(self) -> bool:
        return self.decision is None and not self.is_withdrawn

    @property
    def is_from_earlier(self) -> bool:
        return self.note.draft_id != self.draft.pk


def note_cards(member: Member, notes: NoteQuerySet, draft: Draft) -> list[NoteCard]:
    """The cards of these notes in the order of the queryset, in five queries however many there are.

    The caller says which notes, with `visible_to`; this asks nothing about who may read them.
    """
    found = list(notes.select_related("author__person", "draft__production").defer("draft__text"))
    ids = [note.pk for note in found]
    replies: dict[int, list[Reply]] = defaultdict(list)
    for reply in Reply.objects.filter(note__in=ids).select_related("author__person"):
        replies[reply.note_id].append(reply)
    decisions: dict[int, list[Decision]] = defaultdict(list)
    for decision in Decision.objects.filter(note__in=ids).select_related("decided_by__person"):
        decisions[decision.note_id].append(decision)
    placements = {placement.note_id: placement for placement in Placement.objects.filter(draft=draft, note__in=ids)}
    texts = _texts(found, draft)
    return [
        _card(member, note, draft, placements.get(note.pk), replies[note.pk], decisions[note.pk], texts)
        for note in found
    ]


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


def _texts(notes: Iterable[Note], draft: Draft) -> dict[int, str]:
    """The texts of the drafts whose lines a wording would replace, by the draft's key."""
    wanted = {note.draft_id for note in notes if note.wording is not None} - {draft.pk}
    return {draft.pk: draft.text} | dict(Draft.objects.filter(pk__in=wanted).values_list("pk", "text"))


def _card(
    member: Member,
    note: Note,
    draft: Draft,
    placement: Placement | None,
    replies: list[Reply],
    decisions: list[Decision],
    texts: dict[int, str],
) -> NoteCard:
    stands = note.withdrawn_at is None
    readable = stands or note.author_id == member.pk
    span = _span(note, draft, placement)
    fate = Fate(placement.fate) if placement else None
    return NoteCard(
        note=note,
        draft=draft,
        member=member,
        may_read=readable,
        author=note.author,
        body_html=render_markdown(note.body) if readable else "",
        span=span,
        fate=fate,
        placed_by_hand=bool(placement and placement.placed_by_id),
        now_words=quote(draft.text, span) if span else "",
        place_name=page_name(read_script(draft), span.first_line, span.last_line) if span else "",
        now_lines=whole_lines(draft.text, span.first_line, span.last_line) if span else "",
        wording_changes=_wording_changes(note, texts) if readable else (),
        replies=tuple(_reply_card(member, reply) for reply in replies),
        decision=decisions[-1] if decisions else None,
        earlier_decisions=tuple(decisions[:-1]),
        may_decide=stands and may(member, Deed.DECIDE),
        may_reply=stands and may(member, Deed.NOTE),
        may_withdraw=stands and may_withdraw(member, note),
    )


def _span(note: Note, draft: Draft, placement: Placement | None) -> Span | None:
    stands = note if note.draft_id == draft.pk else placement
    return span_of(stands) if stands is not None and stands.first_line is not None else None


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
