"""A picture as an element of the page that shows it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django import template

from review.pictures.as_svg import svg_within_page

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from review.pictures.shapes import Picture

register = template.Library()


@register.filter
def drawn(picture: Picture) -> SafeString:
    """The picture as SVG, each mark a link to its lines."""
    return svg_within_page(picture)
