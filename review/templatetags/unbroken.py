"""Names that stand on one line: a number is not parted from what it counts."""

from __future__ import annotations

import re

from django import template

register = template.Library()

BEFORE_A_NUMBER = re.compile(r" (?=\d)")
NO_BREAK = "\N{NO-BREAK SPACE}"


@register.filter
def unbroken(name: object) -> str:
    """A name as headings have it: Draft 2, After the reading, with no line's end between Draft and 2."""
    return BEFORE_A_NUMBER.sub(NO_BREAK, str(name), count=1)
