"""What is told of the changes between two drafts: scenes, their lines in row_groups, and the words within them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from screenplay.comparing import SceneFateKind

if TYPE_CHECKING:
    from collections import Counter
    from collections.abc import Iterable, Mapping

    from review.changes.printed_words import Words
    from screenplay import Kind
    from screenplay.comparing import Rename
    from screenplay.script import Scene

MOVED_AWAY = "moved away"
LEAD_IN = 0  # what stands before the first heading, counted as a scene of its own


class RowMark(StrEnum):
    """What happened to the line that a row shows. `renamed` are cues and headings that differ in a name alone which
    changed throughout, or in their scene's number; words that are spoken, and action, are reworded by that. Those that
    are `set otherwise` have the words that they had, and print in another way: as action, in more paragraphs."""

    SAME = "same"
    SET = "set otherwise"
    RENAMED = "renamed"
    REWORDED = "reworded"
    ADDED = "added"
    GONE = "gone"
    MOVED_HERE = "moved here"
    MOVED_AWAY = "moved away"


TOLD_FATES = tuple(fate for fate in SceneFateKind if fate != SceneFateKind.KEPT)
TOLD_MARKS = (
    (RowMark.REWORDED, "reworded"),
    (RowMark.SET, "set otherwise"),
    (RowMark.ADDED, "added"),
    (RowMark.GONE, "gone"),
    (RowMark.MOVED_HERE, "moved"),
)
_FATES_IN_WORDS: dict[str, str] = {SceneFateKind.RENAMED: "renamed in its heading"}
QUIET = frozenset({RowMark.SAME, RowMark.RENAMED})


@dataclass(frozen=True, slots=True)
class OtherEnd:
    """The other end of a line that moved: its line, its scene there or None before the first heading, the anchor of the
    row that shows it, and whether that is in the same scene."""

    line: int
    scene: Scene | None
    anchor: str
    is_within: bool


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A line of the old draft, of the new, or of both; `words` hold its text with what was cut and added in it.

    `remark` says how it is set now that it was not, and of a heading that is gone where its lines are.
    """

    mark: RowMark
    kind: Kind
    old: tuple[int, ...]
    new: tuple[int, ...]
    words: tuple[Words, ...]
    other: OtherEnd | None = None
    remark: str = ""

    @property
    def anchor(self) -> str:
        return f"new-{self.new[0]}" if self.new else f"old-{self.old[0]}"

    @property
    def is_whole(self) -> bool:
        """Whether the whole line shares one lot, so that its words need no marks."""
        return len({words.op for words in self.words}) < 2

    @property
    def before(self) -> list[Words]:
        return [words for words in self.words if words.op != "added"]

    @property
    def after(self) -> list[Words]:
        return [words for words in self.words if words.op != "cut"]

    @property
    def has_another_name(self) -> bool:
        """Whether it is a cue or a heading that prints a name otherwise, and is told with the name alone."""
        return self.mark == RowMark.RENAMED and not self.is_whole


@dataclass(frozen=True, slots=True)
class RowGroup:
    """Rows that follow each other; `folded` ones are unchanged and out of view until asked for."""

    folded: bool
    rows: tuple[ChangeRow, ...]

    @property
    def anchor(self) -> str:
        """What the group is called where notes are put beside it."""
        return f"beside-{self.rows[0].anchor}"

    @property
    def has_another_name(self) -> bool:
        return any(row.has_another_name for row in self.rows)


@dataclass(frozen=True, slots=True)
class SceneChange:
    """A scene with its lines, `heading` first among them and None for what stands before the first heading.

    `fate` is a scene's fate, kept where nothing that prints in it changed; "moved away" leaves word where a moved scene
    stood; "" is the lead-in. `also` are the fates that it has beside that one.
    `stood_after` is the old scene it came after, where it moved, and `is_word_left` says that word is left there;
    `stands_after` is the new one it comes after now, where word was left. `share` is which part of a split scene it is,
    or of how many it was merged. `joined` are the old scenes that are part of it now beside its own, and `split_into`
    the other new ones that its own is in.
    """

    fate: str
    old: Scene | None
    new: Scene | None
    heading: ChangeRow | None
    row_groups: tuple[RowGroup, ...]
    is_changed: bool
    stood_after: Scene | None = None
    share: str = ""
    joined: tuple[Scene, ...] = ()
    split_into: tuple[Scene, ...] = ()
    stands_after: Scene | None = None
    also: tuple[str, ...] = ()
    is_word_left: bool = False

    @property
    def is_moved(self) -> bool:
        return SceneFateKind.MOVED in {self.fate, *self.also}

    @property
    def fates_told(self) -> str:
        """What became of it, such as "renamed in its heading, and reworded"."""
        in_order = sorted((self.fate, *self.also), key=lambda fate: fate != SceneFateKind.MOVED)
        *told, last = (_FATES_IN_WORDS.get(fate, fate) for fate in in_order)
        return f"{', '.join(told)}, and {last}" if told else last

    @property
    def is_lead_in(self) -> bool:
        """Whether it is what stands before the first heading, which is no scene."""
        return not self.old and not self.new

    @property
    def rows(self) -> Iterable[ChangeRow]:
        return (row for group in self.row_groups for row in group.rows)

    @property
    def has_another_name(self) -> bool:
        """Whether a cue in it, or its heading, prints a name otherwise."""
        heading = [self.heading] if self.heading else []
        return any(row.has_another_name for row in (*heading, *self.rows))

    @property
    def anchor(self) -> str:
        if self.fate in {MOVED_AWAY, SceneFateKind.CUT} and self.old:
            return f"old-scene-{self.old.ordinal}"
        return f"scene-{self.new.ordinal if self.new else LEAD_IN}"

    @property
    def label(self) -> str:
        """The scene's number as the newest draft that has it gives it, or its ordinal."""
        scene = self.new or self.old
        number = (scene.number or str(scene.ordinal)) if scene else ""
        return number if self.new or not number else f"was {number}"

    @property
    def name(self) -> str:
        scene = self.new or self.old
        return scene.heading if scene else "Before the first scene"


@dataclass(frozen=True, slots=True)
class Unchanged:
    """Scenes that follow each other and have nothing changed in them."""

    scenes: tuple[SceneChange, ...]
    is_changed = False

    @property
    def has_another_name(self) -> bool:
        return any(scene.has_another_name for scene in self.scenes)

    @property
    def title(self) -> str:
        first, last = self.scenes[0].label, self.scenes[-1].label
        return f"Scene {first}" if len(self.scenes) == 1 else f"Scenes {first} to {last}"


@dataclass(frozen=True)
class Changes:
    """`changed_lines` are the old draft's lines that are not simply kept; cues and headings are left out that a rename
    alone changed.

    `scenes` and `lines` count, by fate and by mark, what prints of what the blocks show, a scene under each fate that
    it has; `moved_with_scenes` are the
    lines that came along with their whole scene, to another place or into another scene, which are not shown one by
    one; `unprinted` counts the shown changes of what never prints, which writers alone are told. `anchors` has
    the place on the screen of every old line, `new_anchors` of every new one, and `beside` the anchor of the group, or
    of the scene, that notes on a place stand beside. `folded` are the groups, by their anchors, whose lines come when
    they are opened.
    """

    blocks: tuple[SceneChange | Unchanged, ...]
    renames: tuple[Rename, ...]
    scenes: Counter[str]
    lines: Counter[str]
    moved_with_scenes: int
    unprinted: int
    changed_lines: frozenset[int]
    anchors: Mapping[int, str]
    new_anchors: Mapping[int, str]
    beside: Mapping[str, str]
    folded: Mapping[str, RowGroup]

    @property
    def is_same(self) -> bool:
        return not self.renames and not any(block.is_changed for block in self.blocks)

    @property
    def told_scenes(self) -> list[SceneChange]:
        """Every scene that changed, each once, as it stands in the new draft or stood in the old."""
        scenes = (block for block in self.blocks if isinstance(block, SceneChange) and block.is_changed)
        return [scene for scene in scenes if scene.fate != MOVED_AWAY]

    @property
    def scene_counts(self) -> list[tuple[int, str]]:
        """(how many, what happened to them), of what happened at all; of those that were split also into how many."""
        split_into = sum(scene.fate == SceneFateKind.SPLIT for scene in self.told_scenes)
        words = {fate: fate.value for fate in TOLD_FATES} | {SceneFateKind.SPLIT: f"split into {split_into}"}
        return [(self.scenes[fate], words[fate]) for fate in TOLD_FATES if self.scenes[fate]]

    @property
    def line_counts(self) -> list[tuple[int, str]]:
        return [(self.lines[mark], word) for mark, word in TOLD_MARKS if self.lines[mark]]
