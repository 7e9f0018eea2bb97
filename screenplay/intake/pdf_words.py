"""The words of a PDF and their places, read by PDFium: a program of its own, run apart from the server.

PDFium is native code, and what it reads comes from outside. In a process of its own neither a file made to crash it nor
one made to keep it busy takes the server along. So this module imports nothing of the project; it takes a PDF on its
standard input and writes JSON on its standard output: `{"pages": [...], "flaws": [...]}`, the words of each page and
what is wrong with it, or `{"wrong": "locked"}`.
"""

from __future__ import annotations

import ctypes
import json
import math
import re
import sys
from collections import defaultdict
from functools import lru_cache
from itertools import islice, pairwise
from typing import TYPE_CHECKING, Any

import pypdfium2
import pypdfium2.raw as pdfium

if TYPE_CHECKING:
    from collections.abc import Iterator

# One word of a page: text, left and right edge, baseline and size in points as they are on the paper, whether it is
# tilted, whether it is light, its style: of these, those added up that it is in; and how many of its first and of its
# last characters are in another.
WordFields = tuple[str, float, float, float, float, bool, bool, int, int, int]
BOLD, ITALIC, UNDERLINED = 1, 2, 4
PaperPoint = tuple[float, float]  # in points from the paper's lower left corner
PageCharacter = tuple[int, str]  # the index of a page's character, and what it is
Edges = tuple[float, float, float, float]  # a ruled line's edges in points: left, low, right, high

LOCKED, DAMAGED, TOO_MANY_PAGES = "locked", "damaged", "too many pages"
# What may be wrong with a page.
NOT_OPENED, PICTURE, TOO_MANY_WORDS = "not opened", "picture", "too many words"
_MOST_MEMORY = 2 * 1024**3
_MOST_WORDS_A_PAGE = 20_000
_HYPHENS = {0x02, 0xFFFE}  # what PDFium gives for a hyphen at a line's end
_SPACES = {0x09, 0x0A, 0x0B, 0x0C, 0x0D}
_TILT = math.radians(2)
_LIGHT = 140  # of 255, in each of red, green and blue
_ITALIC_FLAG, _BOLD_FLAG = 1 << 6, 1 << 18  # of a font's descriptor (ISO 32000-1, table 123)
_BOLD_NAME = re.compile(rb"(?i:bold|black|heavy)")
_ITALIC_NAME = re.compile(rb"(?i:italic|oblique)")
_LONGEST_NAME = 200
_MOST_RULES_A_PAGE = 2_000
# Where a line under words is ruled and how thick it is at most, below their baseline, in parts of the type's size.
_UNDER = (-1 / 24, 1 / 3)
_THICKEST_RULE = 1 / 5
_LARGEST = 72.0  # points: type that may have a line ruled under it
# In parts of the type's size: from one line to the next at least, and from a character to the next at most.
_APART, _WIDEST = 0.6, 2.0
# In the same: how far from the one before a character may stand and be of one line, and of one word.
_BESIDE, _TOUCHING = 0.3, 0.12
_FARTHEST = 1e5  # points: nothing on paper is as far off
_NOWHERE: PaperPoint = 0.0, 0.0
_FAINT = 150  # of 255: less opaque than that
# A page with fewer words is a picture where pictures cover so much of it; one without any, also where so much is drawn.
_FEW_WORDS, _MOSTLY, _MUCH_DRAWN = 30, 0.5, 50


def words_of_pdf(data: bytes, most_pages: int) -> dict[str, Any]:
    """The pages of a PDF, each a list of its words, and what is wrong with each, "" for nothing; or what is with it."""
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        return {"wrong": LOCKED if "password" in str(error).lower() else DAMAGED}
    try:
        if pdfium.FPDF_GetSecurityHandlerRevision(document) >= 0:
            return {"wrong": LOCKED}
        if len(document) > most_pages:
            return {"wrong": TOO_MANY_PAGES}
        read = [_words_of_page(document, index) for index in range(len(document))]
        return {"pages": [words for words, _ in read], "flaws": [flaw for _, flaw in read]}
    finally:
        document.close()


def _words_of_page(document: pypdfium2.PdfDocument, index: int) -> tuple[list[WordFields], str]:
    """A page's words, and what is wrong with it."""
    try:
        page = document[index]
    except pypdfium2.PdfiumError:
        return [], NOT_OPENED
    text = page.get_textpage()
    try:
        characters = _PageCharacters(text.raw)
        found = list(_letters(characters, text.count_chars()))
        words = [word for letters in found for word in _words(characters, letters)]
        if len(found) > _MOST_WORDS_A_PAGE:
            flaw = TOO_MANY_WORDS
        else:
            flaw = PICTURE if len(words) < _FEW_WORDS and _is_drawn(page, has_words=bool(words)) else ""
        return _underlined(words, _rules(page)), flaw
    finally:
        text.close()
        page.close()


def _is_drawn(page: Any, *, has_words: bool) -> bool:
    """Whether what there is on a page with few words or none is drawn: pictures, or letters as mere outlines."""
    covered, drawn = 0.0, 0
    for part in islice(page.get_objects(max_depth=3), _MOST_RULES_A_PAGE):
        drawn += part.type != pdfium.FPDF_PAGEOBJ_TEXT
        if part.type == pdfium.FPDF_PAGEOBJ_IMAGE:
            try:
                left, low, right, high = part.get_bounds()
            except pypdfium2.PdfiumError:
                continue
            covered += abs(right - left) * abs(high - low)
    return covered >= _MOSTLY * page.get_width() * page.get_height() or (not has_words and drawn >= _MUCH_DRAWN)


def _rules(page: Any) -> dict[int, list[Edges]]:
    """The level lines ruled on a page, and boxes wider than high, by the whole points of their height on it."""
    rules: dict[int, list[Edges]] = defaultdict(list)
    paths = page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=3)
    for path in islice(paths, _MOST_RULES_A_PAGE):
        try:
            left, low, right, high = path.get_bounds()
        except pypdfium2.PdfiumError:
            continue
        if high - low < right - left and max(abs(low), abs(high)) < _FARTHEST:
            rules[math.floor((low + high) / 2)].append((left, low, right, high))
    return rules


def _underlined(words: list[WordFields], rules: dict[int, list[Edges]]) -> list[WordFields]:
    if not rules:
        return words
    return [(*word[:7], word[7] | UNDERLINED, *word[8:]) if _is_underlined(word, rules) else word for word in words]


def _is_underlined(word: WordFields, rules: dict[int, list[Edges]]) -> bool:
    _, left, right, baseline, size, *_ = word
    middle = (left + right) / 2
    size = min(size, _LARGEST)
    highest, lowest = baseline - _UNDER[0] * size, baseline - _UNDER[1] * size
    return any(
        lowest <= (low + high) / 2 <= highest
        and high - low <= _THICKEST_RULE * size < end - start
        and start <= middle <= end
        for level in range(math.floor(lowest), math.floor(highest) + 1)
        for start, low, end, high in rules.get(level, ())
    )


class _PageCharacters:
    """What PDFium says of each character of a page, by its index. What it writes its answers into is made once."""

    def __init__(self, text: Any) -> None:
        self.text = text
        self._x, self._y = ctypes.c_double(), ctypes.c_double()
        self._box = pdfium.FS_RECTF()
        self._matrix = pdfium.FS_MATRIX()
        self._name = ctypes.create_string_buffer(_LONGEST_NAME)
        self._flags = ctypes.c_int()
        self._color = [ctypes.c_uint() for _ in range(4)]

    def origin(self, index: int) -> PaperPoint | None:
        """Where it stands, in points."""
        if not pdfium.FPDFText_GetCharOrigin(self.text, index, self._x, self._y):
            return None
        return self._x.value, self._y.value

    def right(self, index: int) -> float | None:
        """The right edge of the room that it takes."""
        found = pdfium.FPDFText_GetLooseCharBox(self.text, index, self._box)
        return float(self._box.right) if found else None

    def size(self, index: int) -> float:
        """The size in points that it has on the paper: its font's, times what the text's matrix makes of it.

        A program may ask for type of one point and stretch it twelve times, or print its pages at 85 %; either is in
        the matrix alone (ISO 32000-1, 9.4.4).
        """
        matrix = self._matrix
        size: float = abs(pdfium.FPDFText_GetFontSize(self.text, index))
        return size * math.hypot(matrix.c, matrix.d) if pdfium.FPDFText_GetMatrix(self.text, index, matrix) else size

    def is_tilted(self, index: int) -> bool:
        angle = math.remainder(pdfium.FPDFText_GetCharAngle(self.text, index), math.tau)
        return abs(angle) > _TILT

    def is_light(self, index: int) -> bool:
        if not pdfium.FPDFText_GetFillColor(self.text, index, *self._color):
            return False
        red, green, blue, opaque = (part.value for part in self._color)
        return opaque < _FAINT or min(red, green, blue) > _LIGHT

    def style(self, index: int) -> int:
        """Whether it is bold or italic, by its font's name and flags."""
        self._name[0] = b"\0"
        self._flags.value = 0
        pdfium.FPDFText_GetFontInfo(self.text, index, self._name, _LONGEST_NAME, self._flags)
        return _style_of_font(self._name.value, self._flags.value)


@lru_cache(maxsize=256)
def _style_of_font(name: bytes, flags: int) -> int:
    bold = _BOLD_NAME.search(name) or flags & _BOLD_FLAG
    italic = _ITALIC_NAME.search(name) or flags & _ITALIC_FLAG
    return (BOLD if bold else 0) | (ITALIC if italic else 0)


def _letters(characters: _PageCharacters, count: int) -> Iterator[list[PageCharacter]]:
    """The letters of each word of a page that has so many characters.

    PDFium puts in a space or a line's end where it sees one. On a page with few words it may see one behind every
    letter; so those that touch are kept together.
    """
    text = characters.text
    word: list[PageCharacter] = []
    found = 0
    is_parted = False
    for index in range(count):
        code = pdfium.FPDFText_GetUnicode(text, index)
        is_hyphen = code in _HYPHENS
        character = "-" if is_hyphen else _character(code)
        is_space = character.isspace()
        if is_space and pdfium.FPDFText_IsGenerated(text, index) == 1:
            is_parted = True
            continue
        if word and (is_space or (is_parted and not _touch(characters, word[-1][0], index))):
            yield word
            word, found = [], found + 1
        is_parted = False
        if not is_space:
            word.append((index, character))
        if is_hyphen:
            yield word
            word = []
        if found > _MOST_WORDS_A_PAGE:
            return
    if word:
        yield word


def _touch(characters: _PageCharacters, before: int, after: int) -> bool:
    """Whether a character stands right beside the one before it."""
    right = characters.right(before)
    if right is None:
        return False
    (_, height), (left, baseline) = characters.origin(before) or _NOWHERE, characters.origin(after) or _NOWHERE
    size = characters.size(after)
    return abs(baseline - height) < _BESIDE * size and -_BESIDE * size < left - right < _TOUCHING * size


@lru_cache(maxsize=1024)
def _character(code: int) -> str:
    """The character of this code; the one for none where it is a control or half of a pair."""
    is_control = (code < 0x20 and code not in _SPACES) or 0x7F <= code < 0xA0
    if is_control or 0xD800 <= code < 0xE000 or code > sys.maxunicode:
        return "\ufffd"
    return chr(code)


def _words(characters: _PageCharacters, letters: list[PageCharacter]) -> Iterator[WordFields]:
    """The letters as one word, or as several where PDFium has joined what stands apart.

    It joins a line's last word with the first one of the next line in type of a few points.
    """
    first = letters[0][0]
    origin, size = characters.origin(first), characters.size(first)
    if not _may_stand_apart(characters, letters, origin or _NOWHERE, size):
        yield from _word(characters, letters, origin, size)
        return
    for part in _parted(characters, letters, size):
        index = part[0][0]
        yield from _word(characters, part, characters.origin(index), characters.size(index))


def _may_stand_apart(
    characters: _PageCharacters, letters: list[PageCharacter], origin: PaperPoint, size: float
) -> bool:
    """Whether a word's last character is not on the line of its first, or too far from it for so few characters."""
    if len(letters) == 1:
        return False
    (left, baseline), (right, height) = origin, characters.origin(letters[-1][0]) or _NOWHERE
    apart = _APART * size
    return abs(height - baseline) > apart or abs(right - left) > _WIDEST * apart * len(letters)


def _parted(characters: _PageCharacters, letters: list[PageCharacter], size: float) -> list[list[PageCharacter]]:
    origins = [characters.origin(index) or _NOWHERE for index, _ in letters]
    apart = _APART * size
    cuts = [
        at
        for at, ((x, y), (next_x, next_y)) in enumerate(pairwise(origins), 1)
        if abs(next_y - y) > apart or abs(next_x - x) > _WIDEST * apart
    ]
    return [letters[start:end] for start, end in pairwise([0, *cuts, len(letters)])]


def _word(
    characters: _PageCharacters, letters: list[PageCharacter], origin: PaperPoint | None, size: float
) -> Iterator[WordFields]:
    if origin is None:
        return
    left, baseline = origin
    right = characters.right(letters[-1][0])
    right = left if right is None else right
    if all(abs(value) < _FARTHEST for value in (left, right, baseline, size)):  # which what is no number is not
        first = letters[0][0]
        edges = round(left, 3), round(right, 3), round(baseline, 3)
        text = "".join([letter for _, letter in letters])
        styled = _styled(characters, letters)
        yield text, *edges, size, characters.is_tilted(first), characters.is_light(first), *styled


def _styled(characters: _PageCharacters, letters: list[PageCharacter]) -> tuple[int, int, int]:
    """A word's style, that of its first letter, and how many of its first and last characters are not in it: the
    quotation mark before words in italics, the stop behind them."""
    at = next((at for at, (_, letter) in enumerate(letters) if letter.isalnum()), 0)
    style = characters.style(letters[at][0])
    if not style:
        return 0, 0, 0
    is_in = [characters.style(index) == style for index, _ in letters]
    return style, is_in.index(True), is_in[::-1].index(True)


def main() -> None:
    """Read a PDF from standard input; the most pages it may have is the one argument."""
    try:
        import resource  # noqa: PLC0415 - not every system has it

        resource.setrlimit(resource.RLIMIT_AS, (_MOST_MEMORY, _MOST_MEMORY))
    except (ImportError, ValueError, OSError):
        pass  # nor can every system that has it set it
    told = words_of_pdf(sys.stdin.buffer.read(), int(sys.argv[1]))
    sys.stdout.write(json.dumps(told))  # `json.dump` would write it piece by piece, in several times the time


if __name__ == "__main__":
    main()
