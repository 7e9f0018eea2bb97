"""What differs between two texts as HTML: marked, said to those who hear the page, and long stretches folded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django import template
from django.utils.html import escape, format_html
from django.utils.safestring import SafeString, mark_safe

from screenplay.fountain import split_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.comparing import WordChange

register = template.Library()

LINES_BESIDE = 3  # that stay in view before and after what differs
FEWEST_FOLDED = 3

_TAGS = {"cut": ("del", "cut"), "added": ("ins", "added")}


@register.filter
def differing(changes: Sequence[WordChange]) -> SafeString:
    """A text with marks on the words that differ; of what is the same, lines far from any of them are folded."""
    last = len(changes) - 1
    told = (
        _marked(change) if change.op != "same" else _folded(change.text, is_first=at == 0, is_last=at == last)
        for at, change in enumerate(changes)
    )
    return mark_safe("".join(told))  # noqa: S308 - every text in it is escaped


def _marked(change: WordChange) -> str:
    tag, said = _TAGS[change.op]
    core = change.text.strip()
    if not core:
        return f"<{tag}>{escape(change.text)}</{tag}>"
    before, after = change.text.split(core, 1)
    said_around = f'<span class="unseen">{said}: </span>{escape(core)}<span class="unseen"> (end of {said}) </span>'
    return f"<{tag}>{before}{said_around}{after}</{tag}>"


def _folded(text: str, *, is_first: bool, is_last: bool) -> str:
    """What is the same, with its lines folded but for those beside what differs; all in view if nothing does."""
    lines = split_lines(text)
    begin = 0 if is_first else LINES_BESIDE
    end = len(lines) if is_last else len(lines) - LINES_BESIDE
    folded = lines[begin:end]
    if (is_first and is_last) or sum(bool(line.strip()) for line in folded) < FEWEST_FOLDED:
        return escape(text)
    inside = format_html(
        '<details class="same-lines"><summary>{} lines the same</summary>{}</details>', len(folded), "".join(folded)
    )
    return escape("".join(lines[:begin])) + inside + escape("".join(lines[end:]))
