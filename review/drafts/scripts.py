"""What the text of a draft holds. A published text never changes, so each is read once and kept by its hash."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from django.core.cache import cache

import screenplay
from review.drafts.models import Draft

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.compare import Comparison
    from screenplay.model import Screenplay

SCRIPTS_KEPT = 24
COMPARISONS_KEPT = 24


@dataclass(frozen=True)
class TextOf:
    """A draft's text by its hash, as the key of what is kept of it; the text itself is only asked for to be read."""

    sha256: str
    draft: Draft = field(compare=False, repr=False)


def read_script(draft: Draft) -> Screenplay:
    """The parsed script of a draft. Its pages are laid out when first asked for, and kept with it."""
    return _read(TextOf(draft.sha256, draft))


def compare_drafts(old: Draft, new: Draft) -> Comparison:
    """What became of the lines and scenes of one draft in another."""
    return _compare(TextOf(old.sha256, old), TextOf(new.sha256, new))


@lru_cache(maxsize=SCRIPTS_KEPT)
def _read(text: TextOf) -> Screenplay:
    return screenplay.parse(text.draft.text)


@lru_cache(maxsize=COMPARISONS_KEPT)
def _compare(old: TextOf, new: TextOf) -> Comparison:
    return screenplay.compare(_read(old), _read(new))


@dataclass(frozen=True, slots=True)
class Length:
    """How long a draft is: whole pages as laid out, eighths of a page as scenes are counted, and its scenes."""

    pages: int
    eighths: int
    scenes: int


def lengths(drafts: Sequence[Draft]) -> dict[str, Length]:
    """The length of each draft, by its hash. Texts are fetched for those not yet measured, in one query."""
    known: dict[str, Length] = cache.get_many([_length_key(draft.sha256) for draft in drafts])
    unknown = [draft.pk for draft in drafts if _length_key(draft.sha256) not in known]
    for draft in Draft.objects.filter(pk__in=unknown) if unknown else ():
        script = read_script(draft)
        known[_length_key(draft.sha256)] = Length(script.pages, script.eighths, len(script.scenes))
    cache.set_many({_length_key(draft.sha256): known[_length_key(draft.sha256)] for draft in drafts}, timeout=None)
    return {draft.sha256: known[_length_key(draft.sha256)] for draft in drafts}


def _length_key(sha256: str) -> str:
    return f"length:{sha256}"
