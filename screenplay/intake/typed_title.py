"""The title page of a typed script: which lines are on it, and what they are as entries of Fountain's title page."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.fountain import KNOWN_TITLE_KEYS, SETTING, title_key
from screenplay.intake.forcing import literal

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.intake.typed_pages import TypedLine, TypedPage

_MOST_LINES = 40
_WIDEST = 200  # columns
_WIDEST_GAP = 4  # blank lines, more than which part a title page from the script where no form feed does
_BEGINS_SCRIPT = re.compile(r"FADE IN[:.]?|OVER BLACK[:.]?")
_CREDIT = re.compile(r"(?i:.*\b(?:by|from)\b:?|.*\b(?:screenplay|script|teleplay|story)\b.*)")
_SOURCE = re.compile(r"(?i:(?:based|adapted|inspired|after|from)\b.*)")
_REVISION = re.compile(r"(?i:.*\b(?:draft|revision|revised|version)\b.*)")
_MONTH = (
    r"(?:january|february|march|april|may|june|july|august|september|october|november|december"
    r"|jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec)"
)
# With a year, or of the writer's own year and so without: a day and a month by themselves.
_DATE = re.compile(
    rf"(?i:.*\b{_MONTH}\b.*\d{{2,4}}.*|\D*\d{{1,4}}[./-]\d{{1,2}}[./-]\d{{2,4}}\D*"
    rf"|(?:the\s+)?\d{{1,2}}(?:st|nd|rd|th|\.)?\s+(?:of\s+)?{_MONTH}\.?|{_MONTH}\.?\s+\d{{1,2}}(?:st|nd|rd|th|\.)?)"
)


def parted(pages: list[TypedPage]) -> tuple[TypedPage, list[TypedPage]]:
    """The title page, empty for none, and the pages of the script."""
    if not pages:
        return [], pages
    first = pages[0]
    cut = next((index for index, line in enumerate(first) if line.words and _begins_script(line)), len(first))
    if cut == len(first) and len(pages) == 1:
        return [], pages
    title = first[:cut]
    if not _is_title(title, whole=cut == len(first)):
        return [], pages
    return title, [page for page in (first[cut:], *pages[1:]) if page]


def _begins_script(line: TypedLine) -> bool:
    return bool(_BEGINS_SCRIPT.fullmatch(line.text) or any(SETTING.match(f"{word.text} ") for word in line.words[:2]))


def _is_title(lines: TypedPage, *, whole: bool) -> bool:
    """Whether these lines are a title page: few, set apart, and mostly not at the left edge, or with a credit."""
    groups = list(_groups(lines))
    typed = [line for group in groups for line in group]
    if not 0 < len(typed) <= _MOST_LINES or len(groups) < 2 or any(line.right > _WIDEST for line in typed):
        return False
    edge = min(line.left for line in typed)
    blank_above = next(index for index, line in enumerate(lines) if line.words)
    is_credited = any(len(group) <= 3 and _CREDIT.fullmatch(line.text) for group in groups[:4] for line in group)
    is_set_apart = whole or _blank_at_end(lines) > _WIDEST_GAP
    starts_within = typed[0].left - edge >= 4 or blank_above >= 6
    return is_set_apart and (is_credited or (starts_within and whole and blank_above >= 6))


def _blank_at_end(lines: TypedPage) -> int:
    return next((count for count, line in enumerate(reversed(lines)) if line.words), len(lines))


def _groups(lines: Sequence[TypedLine]) -> Iterator[list[TypedLine]]:
    group: list[TypedLine] = []
    for line in lines:
        if line.words:
            group.append(line)
        elif group:
            yield group
            group = []
    if group:
        yield group


def entries(page: TypedPage, edge: float) -> list[str]:
    """The title page as Fountain's entries, a value's lines indented under its key; `edge` is where action begins."""
    groups = list(_groups(page))
    written: list[str] = []
    seen: set[str] = set()
    for group in groups:
        key = _key(group, seen, in_the_middle=group[0].left - edge >= 4)
        seen.add(key)
        written += _entry(key, [line.text for line in group])
    return written


def _key(group: Sequence[TypedLine], seen: set[str], *, in_the_middle: bool) -> str:
    text = group[0].text
    if "Title" not in seen:
        return "Title"
    if in_the_middle and ("Author" in seen or ("Credit" in seen and _SOURCE.fullmatch(text))):
        return "Source"
    if in_the_middle and "Credit" not in seen and _CREDIT.fullmatch(text):
        return "Credit"
    if in_the_middle and "Author" not in seen:
        return "Author"
    found = title_key(text)
    if found and (found[0].lower() in KNOWN_TITLE_KEYS or found[1]):
        return ""
    if _REVISION.fullmatch(text) and not _DATE.fullmatch(text):
        return "Revision"
    return "Draft date" if _DATE.fullmatch(text) and len(group) == 1 else "Contact"


def _entry(key: str, texts: Sequence[str]) -> list[str]:
    lines = [literal(text) for text in texts]
    if not key:
        return [lines[0], *(f"    {line}" for line in lines[1:])]
    if len(lines) == 1:
        return [f"{key}: {lines[0]}"]
    return [f"{key}:", *(f"    {line}" for line in lines)]
