"""Lengths as the trade writes them."""

from __future__ import annotations

from django import template

register = template.Library()

EIGHTHS_IN_A_PAGE = 8


@register.filter
def eighths(length: int) -> str:
    """A length in eighths of a page as the trade writes it: 19 is 2 3/8, 8 is 1, 3 is 3/8."""
    pages, rest = divmod(length, EIGHTHS_IN_A_PAGE)
    parts = [str(pages)] if pages or not rest else []
    return " ".join([*parts, f"{rest}/8"] if rest else parts)
