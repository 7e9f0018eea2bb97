"""Figures as they are written down: lengths the trade's way, shares, and what came or went since."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django import template

from review.voices.told_figures import percent
from screenplay.page import in_pages

if TYPE_CHECKING:
    from collections.abc import Mapping

register = template.Library()
register.filter(percent)


@register.filter
def eighths(length: int) -> str:
    """A length in eighths of a page as the trade writes it: 19 is 2 3/8, 8 is 1, 3 is 3/8."""
    return in_pages(length)


@register.filter
def pages_long(length: int) -> str:
    """The same with its word: 19 is 2 3/8 pages, 8 is 1 page, 3 is 3/8 page."""
    return f"{in_pages(length)} page{'s' * (length > 8)}"


@register.filter
def called(ordinal: int, numbers: Mapping[int, str]) -> str:
    """What a scene is called, from the numbers of a draft's scenes by their ordinals."""
    return numbers.get(ordinal, f"{ordinal}")


@register.filter
def signed(difference: int) -> str:
    """A difference with its sign, a true minus for what is less."""
    return f"+{difference}" if difference > 0 else f"−{-difference}" if difference else "±0"


@register.filter
def slice_to(text: str, end: int) -> str:
    """What of a text stands before a character."""
    return text[:end]


@register.filter
def slice_from(text: str, start: int) -> str:
    """What of a text stands from a character on."""
    return text[start:]
