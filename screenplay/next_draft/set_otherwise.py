"""Which lines of a new draft are set otherwise on the paper than in the old one, whatever became of their words.

A line is, where it is of another kind, said by another, beside another speech or no longer, where it was parted from
what stood before it or joined with it, and where a blank line came in above it or went.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from screenplay.comparing import SceneFateKind
from screenplay.fountain import same_name
from screenplay.model import Kind, Speech
from screenplay.page import LineOnPaper, arrangement
from screenplay.what_prints import lines_that_print

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from screenplay.comparing import Comparison, LineFate
    from screenplay.model import Printed, Screenplay

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_KINDS = {
    Kind.ACTION: "action",
    Kind.CENTERED: "centred",
    Kind.CHARACTER: "a cue",
    Kind.LYRIC: "a lyric",
    Kind.SCENE_HEADING: "a scene heading",
    Kind.TRANSITION: "a transition",
}
_SPOKEN = {
    Kind.DIALOGUE: "said by {}",
    Kind.PARENTHETICAL: "a direction to {}",
    Kind.LYRIC: "sung by {}",
}
_NOT_ON_A_PAGE = dict.fromkeys((Kind.NOTE, Kind.BONEYARD, Kind.SECTION, Kind.SYNOPSIS), "not printed")
_NOT_ON_A_PAGE[Kind.TITLE_PAGE] = "on the title page"


class _Speaker(NamedTuple):
    """By whom a line of a speech is said, and whose speech stands beside it, "" where none does."""

    by: str
    beside: str


_NOBODY = _Speaker("", "")


class _LinesOf:
    """The lines of a script that print something, by number: how each stands, who says it, and what it follows."""

    def __init__(self, script: Screenplay) -> None:
        self.script = script
        self.printed: Mapping[int, Printed] = lines_that_print(script)
        self.above = {line: above for above, line in pairwise(self.printed)}
        self._on_paper = arrangement(script)
        self._said = dict(_said(script))

    def on_paper(self, line: int) -> LineOnPaper:
        return self._on_paper.get(line, LineOnPaper("", None))

    def said(self, line: int) -> _Speaker:
        return self._said.get(line, _NOBODY)

    def begins(self, line: int) -> bool:
        """Whether a line begins a paragraph or a speech."""
        return self.on_paper(line).blank_rows is None

    def what(self, line: int) -> str:
        """What a line is, in words."""
        kind, by = self.printed[line].kind, self.said(line).by
        return _SPOKEN[kind].format(by) if by and kind in _SPOKEN else _KINDS.get(kind, str(kind))


class SetOtherwise:
    """The lines of two drafts, by number, and how each new one is set beside the old ones that it comes from.

    `sources` has the fates of the printed old lines that each new line has words of.
    """

    def __init__(self, comparison: Comparison) -> None:
        self.old, self.new = _LinesOf(comparison.old), _LinesOf(comparison.new)
        self.sources: dict[int, list[LineFate]] = defaultdict(list)
        self._comparison = comparison
        self._fates = comparison.by_old
        self._came_on: dict[int, Kind] = {}  # of new lines that have words of old ones on no page: what these were
        for fate in comparison.lines:
            for line in fate.new:
                if fate.old in self.old.printed:
                    self.sources[line].append(fate)
                elif (kind := comparison.old.kinds[fate.old - 1]) in _NOT_ON_A_PAGE:
                    self._came_on[line] = kind
        renames = [rename for rename in comparison.renames if rename.kind == "character"]
        self._called = {same_name(rename.old): rename.new for rename in renames}

    def is_so(self, line: int) -> bool:
        """Whether a new line is set otherwise than the old lines that it comes from."""
        if self._left_the_pages(line) or self._is_on_a_page_now(line):
            return True
        if line not in self.new.printed or not self.sources.get(line):
            return False
        return (
            self.is_another_kind(line)
            or self.is_on_another_side(line)
            or len(self.sources[line]) > 1
            or self.stands_otherwise(line)
            or self._is_given_away(line)
        )

    def is_another_kind(self, line: int) -> bool:
        """Whether it is dialogue where it was action, and the like."""
        return self.old.printed[self._first(line)].kind is not self.new.printed[line].kind

    def is_on_another_side(self, line: int) -> bool:
        """Whether its speech stands beside another's where it stood by itself, or the other way round."""
        return self.old.on_paper(self._first(line)).side != self.new.on_paper(line).side

    def stands_otherwise(self, line: int) -> bool:
        """Whether it was parted from the words before it, or stands nearer to the line above it, or further away, where
        that is the line it stood under."""
        return self._is_parted(line) or self._spacing(line) is not None

    def told(self, lines: Sequence[int], *, alone: bool = False) -> str:
        """What is said of new lines that are told together, because they were one: "" where nothing is to be said.

        What is so of a whole speech is said at its beginning, and where a line is told `alone` of that.
        """
        first = lines[0]
        if self._left_the_pages(first):
            now, was = _NOT_ON_A_PAGE[self.new.script.kinds[first - 1]], self.old.what(self._first(first))
            return f"Now {now}; it was {was}."
        if self._is_on_a_page_now(first):
            return f"Now {self.new.what(first)}; it was {_NOT_ON_A_PAGE[self._came_on[first]]}."
        if first not in self.new.printed or not self.sources.get(first):
            return ""
        return " ".join(self._told(first, [line for line in lines if line in self.new.printed], alone))

    def told_of(self, old_lines: Iterable[int]) -> tuple[str, ...]:
        """What is said of some old lines, as they are set now, each sentence once."""
        fates = (self._fates[line] for line in old_lines if line in self._fates)
        return tuple(dict.fromkeys(filter(None, (self.told(fate.new, alone=True) for fate in fates if fate.new))))

    def moved(self, old_lines: Iterable[int]) -> str:
        """What is said of old lines of which any stands elsewhere now, by itself and not along with its whole scene."""
        where = {self._scenes(line) for line in old_lines if line in self._comparison.moved and self._fates[line].new}
        along = {SceneFateKind.MOVED, SceneFateKind.MERGED, SceneFateKind.SPLIT}
        pairs = {(scene.old, scene.new): scene.fate for scene in self._comparison.scenes}
        alone = [scenes for scenes in where if pairs.get(scenes) not in along]
        if not alone:
            return ""
        return "Moved within its scene." if all(scenes in pairs for scenes in alone) else "Moved to another scene."

    def _scenes(self, line: int) -> tuple[int, int]:
        """The scene of an old line, and that of the new one it is on."""
        old, new = self._comparison.old.scene_of, self._comparison.new.scene_of
        return old[line - 1], new[self._fates[line].new[0] - 1]

    def _told(self, line: int, together: Sequence[int], alone: bool) -> Iterator[str]:
        old = self._first(line)
        if self.is_another_kind(line) or self._is_given_away(line, alone=alone):
            yield f"Now {self.new.what(line)}; it was {self.old.what(old)}."
        if self.is_on_another_side(line) and (alone or self.new.printed[line].kind is Kind.CHARACTER):
            beside, before = self.new.said(line).beside, self.old.said(old).beside
            yield f"Now side by side with {beside}’s." if beside else f"No longer side by side with {before}’s."
        if len(together) > 1:
            count = 1 + sum(self.new.begins(each) for each in together[1:])
            yield _made("One {} made {}.", count, len(together))
        elif self._is_parted(line):
            yield "Parted from what stood before it."
        if len(self.sources[line]) > 1:
            yield self._joined(line)
        yield from filter(None, [self._spaced(line)])

    def _joined(self, line: int) -> str:
        sources = self.sources[line]
        count = 1 + sum(self.old.begins(fate.old) for fate in sources[1:])
        if any(fate.new != (line,) for fate in sources):
            return _made("Words of {1} {0}s in one.", count, len(sources))
        return _made("{1} {0}s made one.", count, len(sources))

    def _spaced(self, line: int) -> str:
        spacing = self._spacing(line)
        if spacing is None:
            return ""
        before, after = spacing
        if before is None:
            return "In one paragraph with what stands above it."
        if after is None:
            return "A paragraph of its own now."
        return "A blank line stands above it now." if after > before else "No blank line stands above it any more."

    def _first(self, line: int) -> int:
        return self.sources[line][0].old

    def _is_parted(self, line: int) -> bool:
        return self.sources[line][0].new[0] != line

    def _spacing(self, line: int) -> tuple[int | None, int | None] | None:
        """The blank rows above it before and now, where they differ and it is under the line that it was under."""
        above, old = self.new.above.get(line), self._first(line)
        if above is None or self._is_parted(line):
            return None
        if self.old.above.get(old) not in {fate.old for fate in self.sources.get(above, ())}:
            return None
        before, after = self.old.on_paper(old).blank_rows, self.new.on_paper(line).blank_rows
        return (before, after) if before != after else None

    def _is_given_away(self, line: int, *, alone: bool = False) -> bool:
        """Whether another says it than did; of lines that follow each other in a speech, said of the first, or of each
        `alone`."""
        speakers = self._speakers(line)
        above = self.new.above.get(line)
        if speakers is None or speakers[0] == speakers[1]:
            return False
        return alone or above is None or self._speakers(above) != speakers

    def _speakers(self, line: int) -> tuple[str, str] | None:
        """Who said a line and who says it, by the names of the new draft; None where either is no line of a speech."""
        if line not in self.new.printed or self.new.printed[line].kind is Kind.CHARACTER or not self.sources.get(line):
            return None
        was, now = same_name(self.old.said(self._first(line)).by), same_name(self.new.said(line).by)
        return (same_name(self._called.get(was, was)), now) if was and now else None

    def _left_the_pages(self, line: int) -> bool:
        return self.new.script.kinds[line - 1] in _NOT_ON_A_PAGE and bool(self.sources.get(line))

    def _is_on_a_page_now(self, line: int) -> bool:
        return line in self._came_on and line in self.new.printed and not self.sources.get(line)


def _said(script: Screenplay) -> Iterator[tuple[int, _Speaker]]:
    """By whom each line of a speech is said, its cue among them."""
    elements = script.elements
    for before, element, following in zip((None, *elements), elements, (*elements[1:], None), strict=False):
        if not isinstance(element, Speech):
            continue
        other = before if element.dual else following
        is_beside = isinstance(other, Speech) and (element.dual or other.dual)
        said = _Speaker(element.name, other.name if isinstance(other, Speech) and is_beside else "")
        for line in (element.cue, *element.lines):
            yield line.line, said


def _made(sentence: str, paragraphs: int, lines: int) -> str:
    """A sentence with how many paragraphs there are, or lines where all are of one paragraph."""
    noun, count = ("paragraph", paragraphs) if paragraphs > 1 else ("line", lines)
    number = _NUMBERS[count] if count < len(_NUMBERS) else str(count)
    told = sentence.format(noun, number)
    return told[0].upper() + told[1:]
