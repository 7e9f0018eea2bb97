"""Whether a note's wording goes into the pages as they are now, and if not, what stands in its way."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, partial
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import read_script
from review.notes.lines import whole_lines
from review.notes.then_and_now import lines_then_and_now
from screenplay import revise
from screenplay.comparing import word_changes
from screenplay.next_draft import Edit, join_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.notes.models import Note
    from review.notes.then_and_now import ThenAndNow, WholeLines
    from review.rewriting.current_text import CurrentText
    from review.rewriting.models import WorkingScene
    from review.rewriting.wording_models import TakenWording
    from screenplay.comparing import WordChange


class FitState(StrEnum):
    FITS = "fits"
    IN = "in"  # the pages read so already
    OVERTAKEN = "overtaken"  # a wording that was taken changes the same words
    REWRITTEN = "rewritten"  # its words have been changed since it was offered
    ACROSS = "across"  # it goes over more than one scene
    GONE = "gone"  # its lines are in the pages no more


@dataclass(frozen=True, slots=True)
class WordingFit:
    """A wording beside the pages as they are now.

    `own` are the lines that it was offered for, as they were; `now` the lines it would replace, None where they are
    gone; `after` is what they would read with it, or the wording itself where it does not fit. `scene` is the working
    scene they are in, None without a working draft, and `line` the first of them in it. `by` is the note that overtook
    it. `taken` is the wording's own record while it is in the working draft, `twin` that of another note's wording
    which makes the very same of the very same lines.
    """

    state: FitState
    own: str
    now: WholeLines | None
    after: str
    scene: WorkingScene | None = None
    line: int = 1
    by: Note | None = None
    taken: TakenWording | None = None
    twin: TakenWording | None = None

    @property
    def fits(self) -> bool:
        return self.state in {FitState.FITS, FitState.IN}

    @property
    def before(self) -> str:
        return self.now.lines if self.now else ""

    @property
    def changes(self) -> tuple[WordChange, ...]:
        return word_changes(self.before, self.after)

    @property
    def is_as_offered(self) -> bool:
        """Whether the lines still read as they did when it was offered, so that it goes in just as it is."""
        return self.own == self.before

    @property
    def changes_since(self) -> tuple[WordChange, ...]:
        """From the lines that it was offered for to what they read now."""
        return word_changes(self.own, self.before)


def wording_fits(notes: Sequence[Note], current: CurrentText) -> dict[int, WordingFit]:
    """How the wording of each note that has one stands to the current text, by the note's key; four queries at most."""
    offering = [note for note in notes if note.wording is not None]
    if not offering:
        return {}
    known = {note.pk: note for note in (*offering, *(each.note for each in current.taken))}
    followed = lines_then_and_now(list(known.values()), current.draft, current.following)
    table = _Fitting(current, followed, _own_lines(known.values(), current.draft))
    return {note.pk: table.fit(note) for note in offering}


def wording_fit(note: Note, current: CurrentText) -> WordingFit:
    """How one note's wording stands to the current text."""
    return wording_fits([note], current)[note.pk]


def _own_lines(notes: Iterable[Note], draft: Draft) -> dict[int, str]:
    """The lines that each wording would replace, as they were when it was offered."""
    notes = list(notes)
    elsewhere = {note.draft_id for note in notes} - {draft.pk}
    texts = {draft.pk: draft.text} | dict(Draft.objects.filter(pk__in=elsewhere).values_list("pk", "text"))
    return {note.pk: whole_lines(texts[note.draft_id], note.first_line, note.last_line) for note in notes}


@dataclass(frozen=True)
class _Fitting:
    """The current text, and all that bears on the wordings for them."""

    current: CurrentText
    then_and_now: Mapping[int, ThenAndNow]
    own_lines: Mapping[int, str]

    def fit(self, note: Note) -> WordingFit:
        now = self.then_and_now[note.pk].now
        scene, line = self._place(now)
        told = partial(WordingFit, own=self.own_lines[note.pk], now=now, scene=scene, line=line)
        wording = note.wording or ""
        if taken := next((each for each in self.current.taken if each.note_id == note.pk), None):
            return told(FitState.IN, after=now.lines if now else "", scene=scene or taken.scene, taken=taken)
        if by := self._overtaken_by(note):
            return told(FitState.OVERTAKEN, after=wording, by=by)
        twin = self._twin(note)
        if now is None:
            return told(FitState.IN if twin else FitState.GONE, after=wording, twin=twin)
        after = join_words(self.own_lines[note.pk], now.lines, wording)
        if after is None:
            return told(FitState.REWRITTEN, after=wording)
        if after == now.lines:
            return told(FitState.IN, after=after, twin=twin)
        return told(FitState.FITS if self._is_in_one_scene(now) else FitState.ACROSS, after=after)

    def _place(self, now: WholeLines | None) -> tuple[WorkingScene | None, int]:
        found = self.current.scene_at(now.first_line) if now else None
        return found or (None, 1)

    def _is_in_one_scene(self, now: WholeLines) -> bool:
        """Without a working draft yet, the scenes are those of the current draft."""
        if self.current.working is None:
            return not _begins_a_scene_within(self.current.draft, now)
        first, last = self.current.scene_at(now.first_line), self.current.scene_at(now.last_line)
        return first is not None and last is not None and first[0] == last[0]

    def _overtaken_by(self, note: Note) -> Note | None:
        edit = self._edit(note)
        if edit is None:
            return None
        taken = ((each.note, self._edit(each.note)) for each in self.current.taken if each.is_still_in)
        others = [(other, theirs) for other, theirs in taken if theirs and _are_near(theirs, edit)]
        if not others:
            return None
        revised = revise(self.current.draft.text, [*(other for _, other in others), edit])
        return next((others[told.by][0] for told in revised.overtaken if told.index == len(others)), None)

    def _twin(self, note: Note) -> TakenWording | None:
        edit = self._edit(note)
        return next((each for each in self.current.taken if edit and self._edit(each.note) == edit), None)

    @cached_property
    def _edits(self) -> dict[int, Edit | None]:
        return {}

    def _edit(self, note: Note) -> Edit | None:
        """The wording as an edit of the current draft; None where its lines there are gone or have other words."""
        if note.pk not in self._edits:
            self._edits[note.pk] = _as_edit(note, self.own_lines[note.pk], self.then_and_now[note.pk].then)
        return self._edits[note.pk]


def _as_edit(note: Note, own_lines: str, then: WholeLines | None) -> Edit | None:
    wording = join_words(own_lines, then.lines, note.wording or "") if then else None
    return Edit(then.first_line, then.last_line, wording) if then and wording is not None else None


def _are_near(one: Edit, other: Edit) -> bool:
    """Whether they share a line or are on neighbouring ones: others cannot touch the same words."""
    return one.first_line <= other.last_line + 1 and other.first_line <= one.last_line + 1


def _begins_a_scene_within(draft: Draft, lines: WholeLines) -> bool:
    scene_of = read_script(draft).scene_of
    return scene_of[lines.first_line - 1] != scene_of[lines.last_line - 1]
