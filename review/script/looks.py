"""How a reader wants the script to look: the size of its letters and the space between its lines, kept on the device.

They are a cookie, so that the page comes as it is wanted and nothing on it moves. It says nothing of anybody.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

COOKIE = "script-looks"
LASTS = 60 * 60 * 24 * 365  # seconds
SIZES = {"small": "Small", "usual": "Usual", "large": "Large", "larger": "Larger"}
LEADINGS = {"usual": "Usual", "open": "Open"}


@dataclass(frozen=True, slots=True)
class Looks:
    """A key of SIZES, and one of LEADINGS."""

    size: str = "usual"
    leading: str = "usual"

    @classmethod
    def of(cls, size: str, leading: str) -> Looks:
        """What was asked for, as far as it is there."""
        return cls(size if size in SIZES else "usual", leading if leading in LEADINGS else "usual")

    @classmethod
    def asked_for(cls, request: HttpRequest) -> Looks:
        """As the device has kept them."""
        size, _, leading = request.COOKIES.get(COOKIE, "").partition(".")
        return cls.of(size, leading)

    def keep(self, response: HttpResponse) -> None:
        """Let the device keep them."""
        response.set_cookie(COOKIE, f"{self.size}.{self.leading}", max_age=LASTS, samesite="Lax")

    @property
    def classes(self) -> str:
        """As the style sheet knows them."""
        return f"size-{self.size} leading-{self.leading}"
