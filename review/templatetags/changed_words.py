"""The words of a changed line as HTML: what was cut and added in it is marked, and said to those who hear the page."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from django import template
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.changes.printed_words import Style, Words

register = template.Library()

_TAGS = {"cut": ("del", "cut-words", "cut"), "added": ("ins", "new-words", "added")}


@register.filter
def marked(all_words: Iterable[Words]) -> SafeString:
    """A line in its styles, with marks on what was cut and added in it."""
    told = (
        _plain(words) if words.op == "same" else _marked(words, after)
        for words, after in pairwise((*all_words, None))
        if words
    )
    return mark_safe("".join(told))  # noqa: S308 - every text in it is escaped


@register.filter
def unmarked(all_words: Iterable[Words]) -> SafeString:
    """A line in its styles that came, went or stayed as a whole."""
    return mark_safe("".join(map(_plain, all_words)))  # noqa: S308 - every text in it is escaped


def _plain(words: Words) -> str:
    return _styled(words.text, words.style)


def _marked(words: Words, after: Words | None) -> str:
    """Spaces around the words are cut or added too, and show no mark."""
    tag, name, said = _TAGS[words.op]
    if not words.core:
        return f"<{tag}>{escape(words.text)}</{tag}>"
    core = f'<span class="{name}">{_styled(words.core, words.style)}</span>'
    is_spaced = words.tail or (after and after.text[0].isspace())
    gap = " " if after and not is_spaced and _run_together(words, after) else ""
    end = f"(end of {said})" if is_spaced or gap else f"(end of {said}) "
    said_around = f'<span class="unseen">{said}: </span>{core}<span class="unseen"> {end}</span>'
    return f"<{tag}>{words.lead}{said_around}{words.tail}{gap}</{tag}>"


def _run_together(words: Words, after: Words) -> bool:
    """Whether a cut would read as one word with what was added in its place."""
    touches = words.text[-1].isalnum() or after.text[0].isalnum()
    return words.op == "cut" and after.op == "added" and touches


def _styled(text: str, style: Style) -> str:
    names = [name for name, is_on in (("b", style.bold), ("i", style.italic), ("u", style.underline)) if is_on]
    return f'<span class="{" ".join(names)}">{escape(text)}</span>' if names else escape(text)
