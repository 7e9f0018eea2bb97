"""What people write for others to read, as its few marks of emphasis, lists and links show it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django import template

from review.notes.markdown import render_markdown, without_markdown

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

register = template.Library()


@register.filter
def marked_down(text: str) -> SafeString:
    """The text as notes are shown: paragraphs, lines, emphasis, lists, links; safe, whatever was typed."""
    return render_markdown(text)


@register.filter
def without_marks(text: str) -> str:
    """The words of it alone, on one line, for a message in plain text."""
    return without_markdown(text)
