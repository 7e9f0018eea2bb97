"""A picture as a file to take away, by the ending that is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.pictures.as_png import as_png
from review.pictures.as_svg import as_svg

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.pictures.shapes import Picture

# By ending: the media type (registered with IANA), and what writes it.
FILES: dict[str, tuple[str, Callable[[Picture], bytes]]] = {
    "svg": ("image/svg+xml", as_svg),
    "png": ("image/png", as_png),
}
