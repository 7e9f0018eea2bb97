"""The accepted notes that no draft answers yet, each with its card, and with its lines in the text to come."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.cards.note_cards import note_cards
from review.decisions.in_force import accepted_and_not_written_in, decisions_in_force
from review.drafts.scripts import compare_drafts
from review.notes.models import Note, Subject
from review.notes.then_and_now import lines_then_and_now
from review.rewriting.wording_fit import FitState
from screenplay.comparing import word_changes
from screenplay.next_draft import SetOtherwise
from screenplay.script import same_words

if TYPE_CHECKING:
    from review.cards.note_card import NoteCard
    from review.decisions.models import Decision
    from review.notes.then_and_now import NextText, ThenAndNow
    from review.people.models import Member
    from screenplay.comparing import WordChange

MOST_SHOWN_LINES = 12


@dataclass(frozen=True, slots=True)
class AcceptedNote:
    """A note, the decision that accepted it, and its lines in the current draft and in the text to come.

    `set_otherwise` says in sentences how they print in another way there, or elsewhere, whatever became of their words.
    """

    card: NoteCard
    decision: Decision
    then_and_now: ThenAndNow
    set_otherwise: tuple[str, ...] = ()

    @property
    def has_changed(self) -> bool:
        """Whether its lines read otherwise in the text than in the current draft, or are set otherwise."""
        return self.then_and_now.has_changed or bool(self.set_otherwise)

    @property
    def is_renamed_alone(self) -> bool:
        """Whether nothing became of its lines but a name that changed throughout, and so in them."""
        return self.then_and_now.is_renamed and not self.set_otherwise

    @property
    def then(self) -> str:
        return _first_lines(self.then_and_now.then.lines) if self.then_and_now.then else ""

    @property
    def now(self) -> str:
        return _first_lines(self.then_and_now.now.lines) if self.then_and_now.now else ""

    @property
    def changes(self) -> tuple[WordChange, ...]:
        return word_changes(self.then, self.now)

    @property
    def is_overtaken(self) -> bool:
        """Whether another's wording stands on the words that the note's own would change, and the text does not read
        as the note offered, which a file written elsewhere may."""
        offer = self.card.offer
        if offer is None or offer.fit is None or offer.fit.state is not FitState.OVERTAKEN:
            return False
        now = self.then_and_now.now.lines if self.then_and_now.now else ""
        return not same_words(now, offer.words)


def _first_lines(lines: str) -> str:
    """As many lines as show what it is about, of a long stretch."""
    shown = lines.split("\n")
    return "\n".join(shown[:MOST_SHOWN_LINES]) + "\n…" * (len(shown) > MOST_SHOWN_LINES)


def decisions_to_write_in(by: Member) -> list[Decision]:
    """The decisions that accepted a note which no draft answers yet; one query."""
    notes = accepted_and_not_written_in(Note.objects.visible_to(by).not_withdrawn())
    return list(decisions_in_force(note__in=notes).select_related("note").order_by("pk"))


def count_accepted(by: Member) -> int:
    """How many accepted notes no draft answers yet; one query."""
    return accepted_and_not_written_in(Note.objects.visible_to(by).not_withdrawn()).count()


def accepted_notes(by: Member, following: NextText) -> list[AcceptedNote]:
    """The accepted notes that no draft answers yet, with their lines in a text, in the order of the current draft; the
    same queries however many there are."""
    draft = by.production.drafts.current()
    decisions = {decision.note_id: decision for decision in decisions_to_write_in(by)} if draft else {}
    if draft is None or not decisions:
        return []
    cards = note_cards(by, Note.objects.filter(pk__in=decisions), draft)
    followed = lines_then_and_now([card.note for card in cards], draft, following)
    setting = SetOtherwise(compare_drafts(draft, following.draft))
    found = [
        AcceptedNote(card, decisions[card.note.pk], told, _set_otherwise(card, told, setting))
        for card in cards
        for told in (followed[card.note.pk],)
    ]
    return sorted(found, key=_script_order)


def _set_otherwise(card: NoteCard, told: ThenAndNow, setting: SetOtherwise) -> tuple[str, ...]:
    """How the lines of a note are set that were not; what is so of a character is told by what they say."""
    if told.then is None or card.subject == Subject.CHARACTER:
        return ()
    lines = range(told.then.first_line, told.then.last_line + 1)
    moved = setting.moved(lines) if card.subject == Subject.LINES else ""
    return tuple(filter(None, (moved, *setting.told_of(lines))))


def _script_order(accepted: AcceptedNote) -> tuple[bool, int, int, int]:
    span, note = accepted.card.stands.span, accepted.card.note
    where = (span.first_line, span.first_char) if span else (note.first_line, 0)
    return (span is None, *where, note.pk)
