"""The changed scenes and their lines as HTML, which follows from two texts and how they are laid out, and so is kept.

It is kept in pieces, between which notes are put: these are not the same for everybody and are never kept.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from django.template.loader import render_to_string

from review.changes.reading_order import changes_between
from review.kept import kept
from review.kept_beyond import kept_beyond

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.drafts.models import Draft, PagesKey
    from review.productions.models import Production

SIDE_BY_SIDE, WHOLE = "two", "whole"
# The template leaves word of what notes may stand beside; texts are escaped, so that no script can say this.
_BESIDE = re.compile(r"<!--beside ([\w-]+)-->")


class RenderedPiece(NamedTuple):
    """Some HTML, and what the notes that follow it stand beside, "" at the end."""

    html: str
    beside: str


@dataclass(frozen=True, slots=True)
class Showing:
    """How the changes are shown, as the address says: `view=two` side by side, `script=whole` with unchanged scenes."""

    side_by_side: bool = False
    whole: bool = False

    @classmethod
    def asked_for(cls, query: Mapping[str, str]) -> Showing:
        return cls(query.get("view") == SIDE_BY_SIDE, query.get("script") == WHOLE)

    @property
    def query(self) -> str:
        """The address's query, with its question mark."""
        told = [f"view={SIDE_BY_SIDE}"] * self.side_by_side + [f"script={WHOLE}"] * self.whole
        return "?" + "&".join(told)

    @property
    def other_columns(self) -> Showing:
        return Showing(not self.side_by_side, self.whole)

    @property
    def other_scenes(self) -> Showing:
        return Showing(self.side_by_side, not self.whole)


@dataclass(frozen=True)
class _PiecesKey:
    """The key of what is kept: HTML has the production's address and the drafts' numbers in it."""

    old: PagesKey
    new: PagesKey
    numbers: tuple[int, int]
    names: tuple[str, str]
    production: str
    showing: Showing
    with_source: bool
    of: Production = field(compare=False, repr=False)


def body_pieces(
    production: Production, old: Draft, new: Draft, showing: Showing, *, with_source: bool
) -> tuple[RenderedPiece, ...]:
    """The scenes as HTML in pieces. Those who put up drafts see the source, everyone else what prints."""
    return _pieces(_asked(production, old, new, showing, with_source))


def are_there(production: Production, old: Draft, new: Draft, showing: Showing, *, with_source: bool) -> bool:
    """Whether the pieces are there to be had, and so all that they were made from."""
    return _rendered.is_kept(_asked(production, old, new, showing, with_source))


def _asked(production: Production, old: Draft, new: Draft, showing: Showing, with_source: bool) -> _PiecesKey:
    numbers, names = (old.number, new.number), (str(old), str(new))
    asked = (old.pages_key, new.pages_key, numbers, names, production.public_id, showing, with_source, production)
    return _PiecesKey(*asked)


def _weigh(pieces: tuple[RenderedPiece, ...]) -> int:
    return sum(len(piece.html) for piece in pieces)


@kept(_weigh)
def _pieces(asked: _PiecesKey) -> tuple[RenderedPiece, ...]:
    return _rendered(asked)


@kept_beyond
def _rendered(asked: _PiecesKey) -> tuple[RenderedPiece, ...]:
    before, after = asked.old.draft, asked.new.draft
    context = {
        "production": asked.of,
        "before": before,
        "after": after,
        "changes": changes_between(before, after, with_source=asked.with_source),
        "showing": asked.showing,
        "side_by_side": asked.showing.side_by_side,
    }
    parts = _BESIDE.split(render_to_string("changes/changes_body.html", context))
    return tuple(RenderedPiece(html, beside) for html, beside in zip(parts[::2], [*parts[1::2], ""], strict=True))
