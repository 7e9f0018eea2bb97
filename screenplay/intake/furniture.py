"""What stands on typed pages beside the script: page numbers, headers and footers, continuations of scenes over a
page's end, scene numbers in the margins, OMITTED for scenes that were cut and the asterisks of changed lines. Common
practice in the trade (C)."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from screenplay.fountain import SETTING
from screenplay.intake.typed_pages import WIDE_GAP, TypedLine, TypedPage, TypedWord

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_PAGE_NUMBER = re.compile(r"(?i:page\s+)?[-–—(]?\s*(\d{1,4})[A-Z]{0,2}\s*[-–—).]?(?i:\s+of\s+\d{1,4}\.?)?")
_SCENE_NUMBER = re.compile(r"(?=[^\d]{0,3}\d)[^\W_](?:[^\W_]|[.\-]){0,7}")
_SCENE_GOES_ON = re.compile(r"\(CONTINUED\)|CONTINUED:(?:\s*\(\d+\))?")
_OMITTED = re.compile(r"OMITTED\.?")
_ASTERISKS = re.compile(r"\*{1,3}")
_OF_A_SPEECH = re.compile(r"(?i:.*\((?:more|cont['’]?d|continued|cont\.)\))")
_DIGITS = re.compile(r"\d+")
_EDGE_LINES = 2  # at a page's top or foot, how many may be headers or footers
_LEAST_REPEATS = 3
_LEAST_SHARE = 0.3
_FAR_RIGHT = 30  # columns from the leftmost text: no speech begins as far to the right


@dataclass(slots=True)
class Dropped:
    """How many of each kind of furniture were taken off, by what it is called in a report."""

    counts: Counter[str] = field(default_factory=Counter)

    def add(self, what: str, count: int = 1) -> None:
        if count:
            self.counts[what] += count


def clear(pages: Sequence[TypedPage], dropped: Dropped) -> list[TypedPage]:
    """The pages with the script alone. A text without form feeds is parted into pages at its page numbers."""
    marked = [_without_asterisks(page, dropped) for page in pages]
    parted = _parted_at_numbers(marked[0], dropped) if len(marked) == 1 else marked
    bare = _without_headers(parted, dropped)
    return [_without_scene_marks(page, dropped) for page in bare]


def _without_asterisks(page: TypedPage, dropped: Dropped) -> TypedPage:
    ends = Counter(round(line.right) for line in page if line.words and _ASTERISKS.fullmatch(line.words[-1].text))
    columns = {column for column, count in ends.items() if count >= _LEAST_REPEATS}
    return [_without_asterisk(line, columns, dropped) for line in page]


def _without_asterisk(line: TypedLine, columns: set[int], dropped: Dropped) -> TypedLine:
    if not line.words or "*" not in line.words[0].text + line.words[-1].text:
        return line
    bare = _without_left_asterisk(_without_right_asterisk(line, columns))
    dropped.add("asterisks of changed lines", int(bare != line))
    return bare


def _without_right_asterisk(line: TypedLine, columns: set[int]) -> TypedLine:
    *before, last = line.words
    if not _ASTERISKS.fullmatch(last.text):
        number = last.text.rstrip("*")
        touches = number != last.text and before and _is_scene_number(number) and before[0].text == number
        return replace(line, words=(*before, last._replace(text=number))) if touches else line
    stands_apart = last.gap >= WIDE_GAP - 1 or round(last.right) in columns or (not before and last.left >= _FAR_RIGHT)
    return line.only(0, -1) if stands_apart or _ends_in_scene_number(before) else line


def _ends_in_scene_number(words: Sequence[TypedWord]) -> bool:
    """Whether a heading's words end in the scene number that stands before them too, or far to their right."""
    if len(words) < 2 or not _is_scene_number(words[-1].text.rstrip(".")):
        return False
    number = words[-1].text.rstrip(".")
    is_heading = SETTING.match(f"{words[0].text.removeprefix(number)} ") and words[-1].gap >= WIDE_GAP - 1
    return bool(is_heading) or words[0].text.rstrip(".") == number


def _without_left_asterisk(line: TypedLine) -> TypedLine:
    words = line.words
    if len(words) < 2 or not _ASTERISKS.fullmatch(words[0].text):
        return line
    is_numbered = len(words) > 2 and _is_scene_number(words[1].text) and words[1].text == words[-1].text
    return line.only(1) if words[1].gap >= WIDE_GAP or is_numbered else line


def _parted_at_numbers(page: TypedPage, dropped: Dropped) -> list[TypedPage]:
    """One page as several, parted at its page numbers, which go up by one and stand far to the right or in dashes."""
    edge = min((line.left for line in page if line.words), default=0.0)
    headers = _repeated(_key(line) for line in page if _ends_in_number(line))
    pages: list[TypedPage] = [[]]
    last = 0
    for line in page:
        number = _page_number(line, edge, headers)
        if last < number <= last + 2:
            dropped.add("page numbers and headers")
            last = number
            pages.append([])
        else:
            pages[-1].append(line)
    return [one for one in pages if any(line.words for line in one)] or [page]


def _page_number(line: TypedLine, edge: float, headers: set[str]) -> int:
    """The page number that a line is, alone or at the end of a header that is repeated; 0 for none."""
    if not line.words or len(line.words) > 20:
        return 0
    text = line.text
    alone = _PAGE_NUMBER.fullmatch(text)
    if alone and (line.left >= edge + _FAR_RIGHT or not text[0].isdigit()):
        return int(alone[1])
    last = _PAGE_NUMBER.fullmatch(line.words[-1].text) if _key(line) in headers and _ends_in_number(line) else None
    return int(last[1]) if last else 0


def _ends_in_number(line: TypedLine) -> bool:
    """Whether a line has a number at its end, far from all else."""
    return len(line.words) > 1 and line.words[-1].gap >= WIDE_GAP and bool(_PAGE_NUMBER.fullmatch(line.words[-1].text))


def _repeated(keys: Iterator[str]) -> set[str]:
    return {key for key, count in Counter(keys).items() if count >= _LEAST_REPEATS}


def _key(line: TypedLine) -> str:
    """What a header has in common from page to page: its words without a page number at its end, digits all alike."""
    words = line.words[:20]
    words = words[:-1] if _ends_in_number(line) and len(line.words) <= 20 else words
    return _DIGITS.sub("#", " ".join(word.text for word in words))


def _without_headers(pages: Sequence[TypedPage], dropped: Dropped) -> list[TypedPage]:
    """The pages without the lines at their edges that are page numbers or stand on many of them."""
    if len(pages) == 1:
        return list(pages)
    edges = [[*_edge(page), *_edge(page[::-1])] for page in pages]
    counts = Counter(key for lines in edges for key in {_key(line) for line in lines})
    least = max(_LEAST_REPEATS, _LEAST_SHARE * len(pages))
    headers = {
        key
        for key, count in counts.items()
        if count >= least and not SETTING.match(key) and not _OF_A_SPEECH.fullmatch(key)
    }
    cleared: list[TypedPage] = []
    for page in pages:
        gone = {line.number for line in (*_furniture_at(page, headers), *_furniture_at(page[::-1], headers))}
        dropped.add("page numbers and headers", len(gone))
        cleared.append([TypedLine(line.number) if line.number in gone else line for line in page])
    return [page for page in cleared if any(line.words for line in page)]


def _edge(page: TypedPage) -> list[TypedLine]:
    """The first lines of a page, up to a blank one; a cue is none of them, since what is said stands under it."""
    lines: list[TypedLine] = []
    for line in page:
        if line.words:
            lines.append(line)
        elif lines:
            break
        if len(lines) > _EDGE_LINES:
            return lines[:1] if _is_page_number(lines[0]) else []
    return lines


def _furniture_at(page: TypedPage, headers: set[str]) -> Iterator[TypedLine]:
    for line in _edge(page):
        if not (_is_page_number(line) or _key(line) in headers):
            return
        yield line


def _is_page_number(line: TypedLine) -> bool:
    return len(line.words) <= 4 and bool(_PAGE_NUMBER.fullmatch(line.text))


def _without_scene_marks(page: TypedPage, dropped: Dropped) -> TypedPage:
    lines = [_with_scene_number(line) for line in page]
    for index, line in enumerate(lines):
        if line.words and len(line.words) <= 2 and _SCENE_GOES_ON.fullmatch(line.text):
            dropped.add("CONTINUED lines")
            lines[index] = TypedLine(line.number)
        elif line.words and _OMITTED.fullmatch(line.text) and (line.scene or _stands_alone(lines, index)):
            dropped.add("OMITTED, for scenes that were cut")
            lines[index] = TypedLine(line.number)
        elif line.scene:
            dropped.add("scene numbers in the margins, now in their headings")
    return lines


def _stands_alone(lines: Sequence[TypedLine], index: int) -> bool:
    """Whether a line has a blank one before and after it, or the page's edge."""
    return not any(line.words for line in (*lines[max(index - 1, 0) : index], *lines[index + 1 : index + 2]))


def _with_scene_number(line: TypedLine) -> TypedLine:
    """The line without the scene number in both margins, or in one of a line that is a scene heading anyway."""
    words = line.words
    if len(words) < 2:
        return line
    first = words[0].text.rstrip(".")
    last = words[-1].text.rstrip(".") if words[-1].gap >= WIDE_GAP - 1 else ""
    first = first if words[1].gap and _is_scene_number(first) else ""
    last = last if _is_scene_number(last) else ""
    if len(words) > 2 and first and first == last and _may_be_numbered(words):
        return replace(line.only(1, -1), scene=first)
    if first and SETTING.match(words[1].text + " "):
        return replace(line.only(1), scene=first)
    if last and SETTING.match(words[0].text + " "):
        return replace(line.only(0, -1), scene=last)
    if last and SETTING.match(words[0].text.removeprefix(last) + " "):
        return replace(line, words=(_without_start(words[0], last), *words[1:-1]), scene=last)
    return line


def _may_be_numbered(words: Sequence[TypedWord]) -> bool:
    """Whether the number before these words stands apart from them, or close to what is a heading by its capitals."""
    return words[1].gap >= WIDE_GAP - 1 or (words[-1].gap >= WIDE_GAP and all(_is_capital(one) for one in words[1:-1]))


def _is_capital(word: TypedWord) -> bool:
    return word.text == word.text.upper()


def _without_start(word: TypedWord, start: str) -> TypedWord:
    """A word without what touches it from the left, a number in the margin that is as wide as its margin."""
    left = word.left + (word.right - word.left) * len(start) / len(word.text)
    return word._replace(text=word.text.removeprefix(start), left=left, gap=0)


def _is_scene_number(text: str) -> bool:
    return bool(_SCENE_NUMBER.fullmatch(text))
