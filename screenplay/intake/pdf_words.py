"""The words of a PDF and their places, read by PDFium: a program of its own, run apart from the server.

PDFium is native code, and what it reads comes from outside. In a process of its own neither a file made to crash it nor
one made to keep it busy takes the server along. So this module imports nothing of the project; it takes a PDF on its
standard input and writes JSON on its standard output: `{"pages": [...]}` or `{"wrong": "locked"}`.
"""

from __future__ import annotations

import ctypes
import json
import math
import re
import sys
from collections import defaultdict
from itertools import islice, pairwise
from typing import TYPE_CHECKING, Any

import pypdfium2
import pypdfium2.raw as pdfium

if TYPE_CHECKING:
    from collections.abc import Iterator

# One word of a page: text, left and right edge, baseline and size in points as they are on the paper, whether it is
# tilted, whether it is light, and its style: of these, those added up that it is in.
WordFields = tuple[str, float, float, float, float, bool, bool, int]
BOLD, ITALIC, UNDERLINED = 1, 2, 4
Letter = tuple[int, str]  # the index of a page's character, and what it is
Edges = tuple[float, float, float, float]  # a ruled line's edges in points: left, low, right, high

LOCKED, DAMAGED, TOO_MANY_PAGES = "locked", "damaged", "too many pages"
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
_FAINT = 150  # of 255: less opaque than that


def words_of_pdf(data: bytes, most_pages: int) -> dict[str, Any]:
    """The pages of a PDF, each a list of its words; or what is wrong with it."""
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        return {"wrong": LOCKED if "password" in str(error).lower() else DAMAGED}
    try:
        if pdfium.FPDF_GetSecurityHandlerRevision(document) >= 0:
            return {"wrong": LOCKED}
        if len(document) > most_pages:
            return {"wrong": TOO_MANY_PAGES}
        return {"pages": [_words_of_page(document, index) for index in range(len(document))]}
    finally:
        document.close()


def _words_of_page(document: pypdfium2.PdfDocument, index: int) -> list[WordFields]:
    try:
        page = document[index]
    except pypdfium2.PdfiumError:
        return []
    text = page.get_textpage()
    try:
        words = [word for letters in _letters(text) for part in _parted(text, letters) for word in _word(text, part)]
        return _underlined(words, _rules(page))
    finally:
        text.close()
        page.close()


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
    return [(*word[:7], word[7] | UNDERLINED) if _is_underlined(word, rules) else word for word in words]


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


def _letters(text: Any) -> Iterator[list[Letter]]:
    """The letters of each word of a page.

    PDFium puts in a space or a line's end where it sees one. On a page with few words it may see one behind every
    letter; so those that touch are kept together.
    """
    word: list[Letter] = []
    found = 0
    is_parted = False
    for index in range(text.count_chars()):
        code = pdfium.FPDFText_GetUnicode(text, index)
        is_hyphen = code in _HYPHENS
        character = "-" if is_hyphen else _character(code)
        is_space = character.isspace()
        if is_space and pdfium.FPDFText_IsGenerated(text, index) == 1:
            is_parted = True
            continue
        if word and (is_space or (is_parted and not _touch(text, word[-1][0], index))):
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


def _touch(text: Any, before: int, after: int) -> bool:
    """Whether a character stands right beside the one before it."""
    box = pdfium.FS_RECTF()
    if not pdfium.FPDFText_GetLooseCharBox(text, before, box):
        return False
    (_, height), (left, baseline) = _origin(text, before), _origin(text, after)
    size = _size(text, after)
    return abs(baseline - height) < _BESIDE * size and -_BESIDE * size < left - box.right < _TOUCHING * size


def _character(code: int) -> str:
    """The character of this code; the one for none where it is a control or half of a pair."""
    is_control = (code < 0x20 and code not in _SPACES) or 0x7F <= code < 0xA0
    if is_control or 0xD800 <= code < 0xE000 or code > sys.maxunicode:
        return "\ufffd"
    return chr(code)


def _parted(text: Any, word: list[Letter]) -> list[list[Letter]]:
    """The letters as one word, or as several where PDFium has joined what stands apart.

    It joins a line's last word with the first one of the next line in type of a few points.
    """
    if not _may_stand_apart(text, word):
        return [word]
    origins = [_origin(text, index) for index, _ in word]
    apart = _APART * _size(text, word[0][0])
    cuts = [
        at
        for at, ((x, y), (next_x, next_y)) in enumerate(pairwise(origins), 1)
        if abs(next_y - y) > apart or abs(next_x - x) > _WIDEST * apart
    ]
    return [word[start:end] for start, end in pairwise([0, *cuts, len(word)])]


def _may_stand_apart(text: Any, word: list[Letter]) -> bool:
    """Whether a word's last character is not on the line of its first, or too far from it for so few characters."""
    (left, baseline), (right, height) = _origin(text, word[0][0]), _origin(text, word[-1][0])
    apart = _APART * _size(text, word[0][0])
    return abs(height - baseline) > apart or abs(right - left) > _WIDEST * apart * len(word)


def _origin(text: Any, index: int) -> tuple[float, float]:
    x, y = ctypes.c_double(), ctypes.c_double()
    pdfium.FPDFText_GetCharOrigin(text, index, x, y)
    return x.value, y.value


def _word(text: Any, word: list[Letter]) -> Iterator[WordFields]:
    first, last = word[0][0], word[-1][0]
    x, y = ctypes.c_double(), ctypes.c_double()
    box = pdfium.FS_RECTF()
    if not pdfium.FPDFText_GetCharOrigin(text, first, x, y):
        return
    left, baseline = x.value, y.value
    right = box.right if pdfium.FPDFText_GetLooseCharBox(text, last, box) else left
    size = _size(text, first)
    angle = math.remainder(pdfium.FPDFText_GetCharAngle(text, first), math.tau)
    if all(math.isfinite(value) and abs(value) < _FARTHEST for value in (left, right, baseline, size)):
        edges = round(left, 3), round(right, 3), round(baseline, 3)
        yield (
            "".join(letter for _, letter in word),
            *edges,
            size,
            abs(angle) > _TILT,
            _is_light(text, first),
            _style(text, first),
        )


def _size(text: Any, index: int) -> float:
    """The size in points that a character has on the paper: its font's, times what the text's matrix makes of it.

    A program may ask for type of one point and stretch it twelve times, or print its pages at 85 %; either is in the
    matrix alone (ISO 32000-1, 9.4.4).
    """
    matrix = pdfium.FS_MATRIX()
    size: float = abs(pdfium.FPDFText_GetFontSize(text, index))
    return size * math.hypot(matrix.c, matrix.d) if pdfium.FPDFText_GetMatrix(text, index, matrix) else size


def _style(text: Any, index: int) -> int:
    """Whether a character is bold or italic, by its font's name and flags."""
    name = ctypes.create_string_buffer(_LONGEST_NAME)
    flags = ctypes.c_int()
    pdfium.FPDFText_GetFontInfo(text, index, name, _LONGEST_NAME, flags)
    bold = _BOLD_NAME.search(name.value) or flags.value & _BOLD_FLAG
    italic = _ITALIC_NAME.search(name.value) or flags.value & _ITALIC_FLAG
    return (BOLD if bold else 0) | (ITALIC if italic else 0)


def _is_light(text: Any, index: int) -> bool:
    red, green, blue, opaque = (ctypes.c_uint() for _ in range(4))
    if not pdfium.FPDFText_GetFillColor(text, index, red, green, blue, opaque):
        return False
    return opaque.value < _FAINT or min(red.value, green.value, blue.value) > _LIGHT


def main() -> None:
    """Read a PDF from standard input; the most pages it may have is the one argument."""
    try:
        import resource  # noqa: PLC0415 - not every system has it

        resource.setrlimit(resource.RLIMIT_AS, (_MOST_MEMORY, _MOST_MEMORY))
    except (ImportError, ValueError, OSError):
        pass  # nor can every system that has it set it
    json.dump(words_of_pdf(sys.stdin.buffer.read(), int(sys.argv[1])), sys.stdout)


if __name__ == "__main__":
    main()
