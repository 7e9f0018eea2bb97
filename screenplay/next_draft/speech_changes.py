"""What became of a character in a changed scene: which of their speeches are new, reworded, cut, or another's now, and
whether action that names them changed."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import same_name
from screenplay.model import Kind, Speech
from screenplay.names import action_naming
from screenplay.script import part_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from screenplay.comparing import Comparison
    from screenplay.model import Screenplay
    from screenplay.next_draft.scene_concerns import ChangedScene

CHANGED = "changed"
CUT = "cut"
NEW = "new"
MOVED_AWAY = "moved to another scene"
MOVED_HERE = "moved here from another scene"
NOW = "now {}"
WAS = "until now {}"
ACTION = "action"


@dataclass(frozen=True, slots=True)
class Presence:
    """A character in a changed scene: whether they speak there now and whether they did before, whether
    they are in it at all now, and how many of their speeches became what, each speech counted once: `changed`, `cut`,
    `new`, `now RUTH’s`, `until now action`. `acts` says that words of action changed where it names them, be it a
    name."""

    speaks: bool
    spoke: bool
    is_in_it: bool
    speeches: Mapping[str, int]
    acts: bool


def presences(comparison: Comparison, scenes: Sequence[ChangedScene], names: Collection[str]) -> list[Presence | None]:
    """A character in each of these scenes, None where they are not; `names` are what they are called in either draft.

    They are in the scenes that `part_of` finds: where they speak, and where action names them.
    """
    before, after = _Appearances(comparison.old, names), _Appearances(comparison.new, names)
    speeches = _SpeechChanges(comparison, before, after)
    return [_presence(scene, before, after, speeches) for scene in scenes]


class _CuedSpeech(NamedTuple):
    """A speech by the line of its cue, and whose it is."""

    cue: int
    by: str


class _Appearances:
    """A character's part in one draft, whatever they are called: their scenes, and everybody's speeches by line."""

    def __init__(self, script: Screenplay, names: Collection[str]) -> None:
        parts = [part_of(script, name) for name in names]
        self.script = script
        self.names = {same_name(name) for name in names}
        self.scenes = {script.scene_of[line - 1] for part in parts for line in part.lines}
        self.lines = {line for part in parts for line in part.speeches}
        self.speaking = {script.scene_of[line - 1] for line in self.lines}
        self.naming = {line for lines in action_naming(script, names).values() for line in lines}

    @cached_property
    def speech_at(self) -> Mapping[int, _CuedSpeech]:
        return {
            line: _CuedSpeech(element.cue.line, element.name)
            for element in self.script.elements
            if isinstance(element, Speech)
            for line in range(element.first_line, element.last_line + 1)
        }

    def is_theirs(self, speech: _CuedSpeech) -> bool:
        return same_name(speech.by) in self.names

    def speeches(self, lines: Iterable[int]) -> set[_CuedSpeech]:
        """Their speeches that any of these lines are of."""
        return {self.speech_at[line] for line in lines if line in self.lines}

    def said(self, speech: _CuedSpeech) -> list[int]:
        """The lines under its cue."""
        found = []
        line = speech.cue + 1
        while self.speech_at.get(line) == speech:
            found.append(line)
            line += 1
        return found

    def what(self, lines: Iterable[int]) -> str:
        """What lines are that are nobody's of these names: another's, or action; "" for none."""
        for line in lines:
            if (speech := self.speech_at.get(line)) is not None:
                return f"{speech.by}’s"
            if self.script.kinds[line - 1] is not Kind.BLANK:
                return ACTION
        return ""


class _SpeechChanges:
    """The speeches of one character in two drafts, and which of them come from which."""

    def __init__(self, comparison: Comparison, before: _Appearances, after: _Appearances) -> None:
        self.before, self.after = before, after
        self.on = {fate.old: fate.new for fate in comparison.lines}
        self.sources: dict[int, list[int]] = defaultdict(list)
        for fate in comparison.lines:
            for line in fate.new:
                self.sources[line].append(fate.old)

    def of(self, scene: ChangedScene) -> Counter[str]:
        """What became of the speeches that the changes of a scene touch."""
        told: Counter[str] = Counter()
        groups: list[tuple[set[_CuedSpeech], set[_CuedSpeech]]] = []
        for speech in sorted(self.after.speeches(line for change in scene.changes for line in change.new)):
            came_from = [line for each in self.after.said(speech) for line in self.sources[each]]
            if own := self.before.speeches(came_from):
                _add(groups, own, {speech})
            else:
                was = self.before.what(came_from)
                told[WAS.format(was) if was else NEW] += 1
        for speech in sorted(self.before.speeches(line for change in scene.changes for line in change.old)):
            if any(speech in old for old, _ in groups):
                continue
            went_to = [line for each in self.before.said(speech) for line in self.on.get(each, ())]
            if own := self.after.speeches(went_to):
                _add(groups, {speech}, own)
            else:
                now = self.after.what(went_to)
                told[NOW.format(now) if now else CUT] += 1
        for old, new in groups:
            told[self._fate(scene, old, new)] += 1
        return told

    def _fate(self, scene: ChangedScene, old: set[_CuedSpeech], new: set[_CuedSpeech]) -> str:
        """Of speeches that are one, whether it changed here, or came from another scene, or went to one."""
        scene_of_old, scene_of_new = self.before.script.scene_of, self.after.script.scene_of
        if scene.new not in {scene_of_new[speech.cue - 1] for speech in new}:
            return MOVED_AWAY
        was_here = {scene.old, *scene.joined}
        return CHANGED if was_here.intersection(scene_of_old[speech.cue - 1] for speech in old) else MOVED_HERE


def _add(groups: list[tuple[set[_CuedSpeech], set[_CuedSpeech]]], old: set[_CuedSpeech], new: set[_CuedSpeech]) -> None:
    """Put speeches that are the same with those that have any of them."""
    for group in [each for each in groups if each[0] & old or each[1] & new]:
        groups.remove(group)
        old, new = old | group[0], new | group[1]
    groups.append((old, new))


def _presence(
    scene: ChangedScene, before: _Appearances, after: _Appearances, speeches: _SpeechChanges
) -> Presence | None:
    found = speeches.of(scene)
    were = {scene.old, *scene.joined}
    if were.isdisjoint(before.scenes) and scene.new not in after.scenes and not found:
        return None
    return Presence(
        speaks=scene.new in after.speaking,
        spoke=not were.isdisjoint(before.speaking),
        is_in_it=scene.new in after.scenes,
        speeches=found,
        acts=not (scene.old_lines_read.isdisjoint(before.naming) and scene.new_lines_read.isdisjoint(after.naming)),
    )
