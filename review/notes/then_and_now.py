"""Where notes stand in a text that is no draft yet: from their lines in the current draft to those in the text."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.drafts.texts import hash_text
from review.notes.carrying import Position, Trail, carried
from review.notes.lines import whole_lines
from review.notes.models import Placement, Subject
from screenplay.fountain import same_name
from screenplay.model import Speech

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.notes.models import Note
    from review.productions.models import Production
    from screenplay import Screenplay, Span
    from screenplay.comparing import Comparison


@dataclass(frozen=True, slots=True)
class WholeLines:
    """Whole lines of a text, from the first to the last, counted from 1; of a character, the cue they first speak
    under."""

    first_line: int
    last_line: int
    lines: str

    @property
    def filled(self) -> dict[int, str]:
        """Those that are not blank, by their numbers."""
        numbered = enumerate(self.lines.split("\n"), self.first_line)
        return {number: text for number, text in numbered if text.strip()}


@dataclass(frozen=True, slots=True)
class ThenAndNow:
    """A note's lines in the current draft and in the text, None where it has none there; `has_changed` tells whether
    their words differ, or those of its whole scene, or all that its character says; `is_renamed` that they do in names
    alone which changed throughout, or in the numbers of scenes. `reads_as_proposed` says that its own wording was put
    into the text: then it stands on these words, and on none where it proposed to cut the lines; `beside` is the line
    of the text that comes before where these were.
    """

    then: WholeLines | None
    now: WholeLines | None
    has_changed: bool
    reads_as_proposed: bool = False
    beside: int = 1
    is_renamed: bool = False

    @property
    def line(self) -> int | None:
        """The first line of the text that has to do with the note; None where its lines are gone."""
        if self.now is not None:
            return self.now.first_line
        return self.beside if self.reads_as_proposed else None


@dataclass(frozen=True)
class NextText:
    """A text that may become the next draft: as that draft, not stored, with the wordings that were put into it, by
    their notes' keys, and the lines that they are, None for one that cuts its lines."""

    draft: Draft
    wordings: Mapping[int, Span | None] = field(default_factory=dict)

    @classmethod
    def of(cls, production: Production, text: str) -> NextText:
        """A text of which nothing more is known."""
        return cls(Draft(production=production, text=text, sha256=hash_text(text)))


def lines_then_and_now(notes: Sequence[Note], draft: Draft, following: NextText) -> dict[int, ThenAndNow]:
    """Where each note stands in the current draft, and in the text to follow it, by the note's key; one query."""
    comparison = compare_drafts(draft, following.draft)
    placed = Placement.objects.filter(draft=draft, note__in=[note.pk for note in notes])
    placements = {placement.note_id: placement for placement in placed}
    found: dict[int, ThenAndNow] = {}
    for note in notes:
        told = _then_and_now(note, placements.get(note.pk), draft, comparison)
        if note.pk in following.wordings:
            lines = following.wordings[note.pk]
            now = _whole_lines(comparison.new, lines) if lines else None
            beside = _line_before(told.then, comparison)
            told = ThenAndNow(told.then, now, has_changed=True, reads_as_proposed=True, beside=beside)
        found[note.pk] = told
    return found


def _then_and_now(note: Note, placement: Placement | None, draft: Draft, comparison: Comparison) -> ThenAndNow:
    stands = note if note.draft_id == draft.pk else placement
    if stands is None or stands.span is None:
        return ThenAndNow(None, None, has_changed=False)
    position = Position(draft.pk, stands.span, stands.character)
    found = carried(Trail(note.subject, position, position), {draft.pk: comparison})
    then = _whole_lines(comparison.old, position.span)
    now = _whole_lines(comparison.new, found.span) if found.span else None
    if now is None:
        return ThenAndNow(then, None, has_changed=True)
    if note.subject == Subject.CHARACTER:
        was, reads = _said_by(position.character, comparison.old), _said_by(found.character, comparison.new)
        changed = list(was.values()) != list(reads.values())
    else:
        was, reads = then.filled, now.filled
        changed = then.lines.split() != now.lines.split()  # a scene's number too, which is told as a name is
    return ThenAndNow(then, now, changed, is_renamed=changed and _differ_in_names(list(was), list(reads), comparison))


def _differ_in_names(was: Sequence[int], reads: Sequence[int], comparison: Comparison) -> bool:
    """Whether lines, by their numbers, are these lines of the text, in that order and with the same words, but for
    names that changed throughout and numbers of scenes."""
    fates = [comparison.by_old[line] for line in was]
    return all(map(comparison.keeps_words, fates)) and [line for fate in fates for line in fate.new] == reads


def _line_before(lines: WholeLines | None, comparison: Comparison) -> int:
    """The line of the new text that has the words which stood last before these lines, of those that are left."""
    stood = range((lines.first_line if lines else 1) - 1, 0, -1)
    return next(
        (on[-1] for line in stood if (on := comparison.by_old[line].new if line in comparison.by_old else ())), 1
    )


def _whole_lines(script: Screenplay, span: Span) -> WholeLines:
    return WholeLines(span.first_line, span.last_line, whole_lines(script.text, span.first_line, span.last_line))


def _said_by(name: str, script: Screenplay) -> dict[int, str]:
    """Every line a character speaks that is not blank, in order, by its number."""
    speeches = (element for element in script.elements if isinstance(element, Speech))
    theirs = (speech for speech in speeches if same_name(speech.name) == same_name(name))
    return {line.line: line.text for speech in theirs for line in speech.lines if line.text.strip()}
