"""What a note shows on its card, in the draft its reader is looking at."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.http import Http404
from django.utils.html import strip_tags
from django.utils.text import Truncator

from review.access import Deed, may, may_change, may_join_thread, may_withdraw
from review.cards.earlier_texts import texts_before
from review.cards.note_places import stood, texts_beside
from review.decisions.accepting import accepting_note
from review.decisions.note_decisions import decisions_on
from review.drafts.models import Draft
from review.notes.forms import kept_key
from review.notes.lines import whole_lines
from review.notes.markdown import render_markdown
from review.notes.models import Audience, Fate, Note, NoteQuerySet, Reply, Subject
from review.rewriting.current_text import current_text
from review.rewriting.wording_fit import WordingFit, wording_fits
from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from django.utils.safestring import SafeString

    from review.cards.earlier_texts import TextBefore
    from review.cards.note_places import NotePlace, Since
    from review.decisions.accepting import Accepting
    from review.decisions.models import Decision
    from review.decisions.note_decisions import NoteDecisions
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
class Offer:
    """The wording that a note proposes: its words, which may be none; those words against the whole lines that they
    would replace; and how it stands to the next draft, for those who write it."""

    words: str
    changes: tuple[WordChange, ...]
    fit: WordingFit | None


@dataclass(frozen=True, slots=True)
class Rights:
    """What a member may do with one note."""

    read: bool
    decide: bool
    reply: bool
    change: bool
    withdraw: bool
    put_back: bool


@dataclass(frozen=True, slots=True)
class NoteCard:
    """A note as `member` sees it on `draft`: what it says, where it stands there, what became of it since it was put
    down, the wording that it offers, what was said and decided under it, and what this member may do with it."""

    note: Note
    draft: Draft
    member: Member
    body_html: SafeString | str
    stands: NotePlace
    since: Since
    offer: Offer | None
    replies: tuple[ReplyCard, ...]
    decisions: NoteDecisions
    may: Rights
    texts_before: tuple[TextBefore, ...] = ()

    @property
    def author(self) -> Member:
        return self.note.author

    @property
    def title(self) -> str:
        return f"{self.note.get_kind_display()} from {self.author.name}, {self.author.get_department_display()}"

    @property
    def subject(self) -> str:
        return self.note.subject

    @property
    def quoted_lines(self) -> str:
        """The lines a note speaks of, as they were when it was left; of a whole scene as many as show which it was."""
        lines = self.note.quoted.rstrip().split("\n")
        if self.subject == Subject.SCENE and self.stands.span is not None:
            return lines[0]
        return "\n".join(lines[:MOST_QUOTED_LINES])

    @property
    def quoted_lines_left_out(self) -> int:
        lines = self.note.quoted.rstrip().count("\n") + 1
        return max(lines - MOST_QUOTED_LINES, 0) if self.stands.span is None else 0

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
    def was_renamed(self) -> bool:
        return self.subject == Subject.CHARACTER and bool(self.stands.name) and self.stands.name != self.since.name

    @property
    def kept_key(self) -> str:
        """The name under which a browser keeps a half-typed reply."""
        return kept_key(self.member, "reply", self.note.public_id)

    @property
    def is_mine(self) -> bool:
        return self.note.author_id == self.member.pk

    @property
    def is_answered(self) -> bool:
        """Whether its words can be corrected alone: somebody else has replied, or it was decided once."""
        return bool(self.decisions.decisions) or any(card.author != self.author for card in self.replies)

    @property
    def wording_before(self) -> str:
        """What to call the lines that the wording would replace."""
        return f"Draft {self.note.draft.number} {'read' if self.is_from_earlier else 'reads'}"

    @property
    def shows_quote(self) -> bool:
        """Whether to quote the lines a note speaks of: not where it stands at them by itself, as a scene's note does,
        nor where its wording is set beside the very same words."""
        if self.subject != Subject.LINES:
            return self.stands.span is None and self.subject == Subject.SCENE
        if self.offer is None:
            return True
        replaced = "".join(change.text for change in self.offer.changes if change.op != "added")
        return replaced.split() != self.note.quoted.split()

    @property
    def reads_as_offered(self) -> bool:
        """Whether a later draft has taken the wording where the note now stands."""
        is_here = self.is_from_earlier and self.stands.span is not None and self.offer is not None
        return is_here and self.stands.lines == self.note.wording

    @property
    def shows_then_and_now(self) -> bool:
        """Whether to compare the note's words with what they became.

        A card with a wording shows the old lines already; words that a note was set on by hand never came of its own.
        """
        if self.since.fate != Fate.REWORDED or self.since.is_by_hand or self.offer is not None:
            return False
        return self.subject == Subject.LINES or (self.subject == Subject.SCENE and self.stands.name != self.since.name)

    @property
    def shows_changes_of_scene(self) -> bool:
        """Whether to lead to what changed in a scene, of which the card shows no more than the heading."""
        return self.subject == Subject.SCENE and self.since.fate == Fate.REWORDED and not self.since.is_by_hand

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
    def accepting(self) -> Accepting:
        """What it means to accept it."""
        return accepting_note(self.note)

    @property
    def is_open(self) -> bool:
        return self.decision is None and not self.is_withdrawn

    @property
    def is_from_earlier(self) -> bool:
        return self.note.draft_id != self.draft.pk


def note_cards(member: Member, notes: NoteQuerySet, draft: Draft) -> list[NoteCard]:
    """The cards of these notes in the order of the queryset, in five queries however many there are, seven where some
    are written in, one more where some were changed; and a few for a writer where some offer a wording.

    The caller says which notes, with `visible_to`; this asks nothing about who may read them.
    """
    people = notes.telling_who_reads_alone().select_related("author__person", "draft__production")
    found: list[Note] = list(people.defer("draft__text"))
    replies: dict[int, list[Reply]] = defaultdict(list)
    under = Reply.objects.visible_to(member).filter(note__in=[note.pk for note in found])
    for reply in under.select_related("author__person"):
        replies[reply.note_id].append(reply)
    decisions, fits, places = decisions_on(found), _fits(member, found), stood(found, draft)
    texts, before = texts_beside(places, draft), texts_before(found)
    cards = []
    for note in found:
        rights = _rights(member, note)
        standing = places[note.pk].standing(draft)
        cards.append(
            NoteCard(
                note=note,
                draft=draft,
                member=member,
                body_html=render_markdown(note.body) if rights.read else "",
                stands=standing,
                since=places[note.pk].since(standing, draft, texts),
                offer=_offer(note, rights, fits.get(note.pk), texts),
                replies=tuple(_reply_card(member, reply) for reply in replies[note.pk]),
                decisions=decisions[note.pk],
                may=rights,
                texts_before=before.get(note.pk, ()) if rights.read else (),
            )
        )
    return cards


def _fits(member: Member, notes: Sequence[Note]) -> dict[int, WordingFit]:
    """How the wordings among these notes stand to the pages as they are now; a few queries more where there are some.
    The working draft is nobody's business but the writers'."""
    has_wordings = any(note.wording is not None for note in notes)
    current = current_text(member.production) if has_wordings and may(member, Deed.REWRITE) else None
    return wording_fits(notes, current) if current else {}


def card_of(member: Member, note: Note, draft: Draft) -> NoteCard:
    """One note's card."""
    return note_cards(member, Note.objects.filter(pk=note.pk), draft)[0]


def shown_draft(member: Member, note: Note, number: str | None) -> Draft:
    """The draft a card's form was shown on, by the number the form sent along; the note's own draft without one."""
    if not number:
        return note.draft
    try:
        return member.production.drafts.standing().get(number=int(number))
    except (ValueError, Draft.DoesNotExist):
        raise Http404("No such draft") from None


def _rights(member: Member, note: Note) -> Rights:
    stands = note.withdrawn_at is None
    return Rights(
        read=stands or note.author_id == member.pk,
        decide=stands and may(member, Deed.DECIDE),
        reply=stands and may_join_thread(member, note),
        change=stands and may_change(member, note),
        withdraw=stands and may_withdraw(member, note),
        put_back=not stands and may_withdraw(member, note),
    )


def _offer(note: Note, rights: Rights, fit: WordingFit | None, texts: Mapping[int, str]) -> Offer | None:
    """The wording of a note; of a withdrawn one its author sees what it would have changed, and nobody how it fits."""
    if note.wording is None:
        return None
    before = whole_lines(texts[note.draft_id], note.first_line, note.last_line)
    changes = word_changes(before, note.wording) if rights.read else ()
    return Offer(note.wording, changes, fit if note.withdrawn_at is None else None)


def _reply_card(member: Member, reply: Reply) -> ReplyCard:
    readable = reply.withdrawn_at is None or reply.author_id == member.pk
    return ReplyCard(
        reply=reply,
        author=reply.author,
        body_html=render_markdown(reply.body) if readable else "",
        may_withdraw=reply.withdrawn_at is None and may_withdraw(member, reply),
    )
