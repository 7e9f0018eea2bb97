"""What a note shows on its card, as one member sees it on one draft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.html import strip_tags
from django.utils.text import Truncator

from review.cards.came_to import CameTo
from review.cards.cautions_beside import cautions_beside
from review.decisions.accepting import accepting_note
from review.drafts.list_language import language_sense
from review.drafts.printed_lines import printed_in_rows, printed_quote
from review.notes.forms import kept_key
from review.notes.models import Audience, Fate, Note, NoteKind, Subject
from screenplay.comparing import word_changes
from screenplay.script import same_words

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from review.cards.came_to import WordingLeftOut
    from review.cards.cautions_beside import CautionBeside
    from review.cards.earlier_texts import TextBefore
    from review.cards.note_places import NotePlace, Since
    from review.decisions.accepting import Accepting
    from review.decisions.models import Decision
    from review.decisions.note_decisions import NoteDecisions
    from review.drafts.models import Draft
    from review.notes.models import Reply
    from review.people.models import Member
    from review.rewriting.wording_fit import WordingFit
    from screenplay.comparing import WordChange

WORDS_OF_A_FOLD, WORDS_OF_A_ROW = 9, 45
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
    would replace; how it stands to the next draft, for those who write it; and whether it was overtaken, for them and
    for its author."""

    words: str
    changes: tuple[WordChange, ...]
    fit: WordingFit | None
    overtaken: WordingLeftOut | None = None

    @property
    def changes_in_a_row(self) -> tuple[WordChange, ...]:
        """The same as they are printed, in a row; as they are typed where they change no word that is printed."""
        before = "".join(change.text for change in self.changes if change.op != "added")
        told = word_changes(" ".join(printed_in_rows(before)), " ".join(printed_in_rows(self.words)))
        return told if any(change.op != "same" for change in told) else self.changes


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
        return f"{self.note.get_kind_display()} from {self.whose_words}"

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
    def printed_lines(self) -> str:
        """Those lines as they are printed."""
        return printed_quote(self.quoted_lines, begins_a_line=self.note.first_char == 0)

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
        return self._words(WORDS_OF_A_FOLD) or "Offers a wording"

    @property
    def opening_words(self) -> str:
        """As much of the note as a list shows of it; empty where it only offers a wording."""
        return self._words(WORDS_OF_A_ROW)

    def _words(self, most: int) -> str:
        return Truncator(" ".join(strip_tags(self.body_html).split())).words(most, truncate=" …")

    @property
    def first_quoted_line(self) -> str:
        """The first line that it speaks of and that says something, as it was printed when it was left: of a speech the
        cue, and what is said under it."""
        return printed_in_rows(self.quoted_lines, begins_a_line=self.note.first_char == 0)[0]

    @property
    def department(self) -> str:
        return self.note.author_department

    @property
    def author_name(self) -> str:
        return self.note.author_name

    @property
    def whose(self) -> str:
        """Who said it, and of which department they are, if any."""
        return ", ".join(filter(None, (self.author_name, self.department)))

    @property
    def taken_down(self) -> str:
        """That somebody else wrote it down in its author's name, and who; empty where its author wrote it."""
        return f"taken down by {self.note.taken_down_by.name}" if self.note.taken_down_by else ""

    @property
    def whose_words(self) -> str:
        """Who said it, as a file says so: with whoever wrote it down, where they did not themselves."""
        return ", ".join(filter(None, (self.whose, self.taken_down)))

    @property
    def was_renamed(self) -> bool:
        return self.subject == Subject.CHARACTER and bool(self.stands.name) and self.stands.name != self.since.name

    @property
    def kept_key(self) -> str:
        """The name under which a browser keeps a half-typed reply."""
        return kept_key(self.member, "reply", self.note.public_id)

    @property
    def is_mine(self) -> bool:
        return self.note.is_of(self.member)

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
        return not same_words(replaced, self.note.quoted)

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
    def overtaken(self) -> WordingLeftOut | None:
        """By what the note's wording was overtaken, where it was accepted all the same."""
        return self.offer.overtaken if self.offer else None

    @property
    def came_to(self) -> CameTo | None:
        """What became of it; None while it waits."""
        return CameTo(self.decision, self.overtaken) if self.decision else None

    @property
    def accepting(self) -> Accepting:
        """What it means to accept it."""
        return accepting_note(self.note)

    @property
    def cautions(self) -> list[CautionBeside]:
        """Of a note on safety, what lists of words find in the scene that it stands in."""
        if self.kind != NoteKind.SAFETY or self.stands.at is None:
            return []
        return cautions_beside(self.draft, self.stands.at.first_line)

    @property
    def language_sense(self) -> str:
        """That the lists cannot read its draft, where they cannot."""
        return language_sense(self.draft)

    @property
    def may_undo(self) -> bool:
        """Whether the member can take back the decision that they made of it last."""
        latest = self.decisions.latest
        if latest is None or not self.may.decide or latest.answered_in is not None:
            return False
        return latest.decided_by_id == self.member.pk and latest.undoes_id is None

    @property
    def is_open(self) -> bool:
        return self.decision is None and not self.is_withdrawn

    @property
    def is_from_earlier(self) -> bool:
        return self.note.draft_id != self.draft.pk

    @property
    def shown_or_own_draft(self) -> Draft:
        """The draft that its lines are in: the one shown, or where they are gone there the one it was left on."""
        return self.draft if self.stands.span else self.note.draft
