"""Lines of a script where they are quoted: as they are printed, without the marks they are typed with."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from django import template

from review.drafts.printed_lines import printed_quote

if TYPE_CHECKING:
    from screenplay import Span

register = template.Library()


class Quoting(Protocol):
    """What quotes a script: a note, the form for one, or one that comes in from a file."""

    @property
    def quoted(self) -> str: ...

    @property
    def span(self) -> Span | None: ...


@register.filter
def as_printed(lines: str) -> str:
    """Whole lines, each as it is printed."""
    return printed_quote(lines)


@register.filter
def printed_lines(quoting: Quoting) -> str:
    """What something quotes, as it is printed."""
    return printed_quote(quoting.quoted, begins_a_line=quoting.span is None or quoting.span.first_char == 0)
