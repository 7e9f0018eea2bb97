"""What the text of a draft holds. A published text never changes, so each is read once and kept by its hash.

Its pages follow from its production's page setting too, which may change: what holds a page number is kept by both.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from django.core.cache import cache

import screenplay
from review.drafts.known_origins import known_origins
from review.drafts.models import Draft
from review.kept import kept
from review.kept_beyond import kept_beyond
from screenplay.names import AS_WRITTEN, with_names

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import PagesKey, TextKey
    from screenplay import LaidOut, PageSetting, PaperSize, Screenplay
    from screenplay.comparing import Comparison

NO_SCRIPT = screenplay.Screenplay("", source=(), kinds=(), scene_of=(), title_page=(), elements=(), warnings=())
# Bytes of what is kept, as measured: for each line, and for each character in it.
SCRIPT_LINE, LAYOUT_LINE, COMPARED_LINE, CHARACTER = 200, 260, 130, 4


def read_script(draft: Draft) -> Screenplay:
    """The parsed script of a draft."""
    return _read(draft.text_key)


def read_as_written(draft: Draft) -> Screenplay:
    """The parsed script of a draft, each speech under the very cue it has, whatever was said of the names."""
    return _read(replace(draft.text_key, names=AS_WRITTEN))


def laid_out(draft: Draft, paper: PaperSize | None = None) -> LaidOut:
    """The script of a draft with its pages by its own setting; `paper` takes the place of the paper in it, unless its
    pages are locked: then they are what they are on one paper alone, and ValueError is raised for another."""
    pages = draft.pages_key
    if paper is None or paper is pages.setting.paper:
        return _lay_out(pages)
    if pages.setting.locked_pages:
        raise ValueError("Locked pages are the same on the paper alone that they were locked on.")
    return _lay_out(replace(pages, setting=replace(pages.setting, paper=paper)))


def laid_out_as(draft: Draft, setting: PageSetting) -> LaidOut:
    """The script of a draft, stored or not, with its pages by another setting than its own."""
    return _lay_out(replace(draft.pages_key, setting=setting))


def compare_drafts(old: Draft, new: Draft) -> Comparison:
    """What became of the lines and scenes of one draft in another; nothing is guessed that is known."""
    return _compare(old.text_key, new.text_key)


def weigh_script(script: Screenplay, a_line: int = SCRIPT_LINE, a_character: int = CHARACTER) -> int:
    """About how many bytes something takes that is made of a script's lines."""
    return len(script.source) * a_line + sum(map(len, script.source)) * a_character


def _weigh_pages(pages: LaidOut) -> int:
    return weigh_script(pages.script, LAYOUT_LINE)


def weigh_comparison(comparison: Comparison) -> int:
    """With the two scripts, which it keeps along."""
    return sum(weigh_script(script, SCRIPT_LINE + COMPARED_LINE) for script in (comparison.old, comparison.new))


@kept(weigh_script)
def _read(text: TextKey) -> Screenplay:
    return with_names(screenplay.parse(text.draft.text), text.names)


@kept(_weigh_pages)
def _lay_out(pages: PagesKey) -> LaidOut:
    return screenplay.lay_out(read_script(pages.draft), pages.setting)


@kept(weigh_comparison)
def _compare(old: TextKey, new: TextKey) -> Comparison:
    return replace(_lies_between(old, new), old=_read(old), new=_read(new))


@kept_beyond
def _lies_between(old: TextKey, new: TextKey) -> Comparison:
    """The comparison without the two scripts, which are read as quickly as they would be found."""
    found = screenplay.compare(_read(old), _read(new), known_origins(new.draft, old.draft))
    return replace(found, old=NO_SCRIPT, new=NO_SCRIPT)


@dataclass(frozen=True, slots=True)
class Length:
    """How long a draft is: whole pages as laid out, eighths of a page as scenes are counted, and its scenes."""

    pages: int
    eighths: int
    scenes: int


def lengths(drafts: Sequence[Draft]) -> dict[int, Length]:
    """The length of each draft, by its key. Texts are fetched for those not yet measured, in one query."""
    key_of = {draft.pk: f"length:{draft.pages_key.key}" for draft in drafts}
    known: dict[str, Length] = cache.get_many(key_of.values())
    unknown = [draft.pk for draft in drafts if key_of[draft.pk] not in known]
    measured = Draft.objects.filter(pk__in=unknown).select_related("production") if unknown else ()
    known |= {key_of[draft.pk]: _length(laid_out(draft)) for draft in measured}
    cache.set_many({key: known[key] for key in key_of.values()}, timeout=None)
    return {draft: known[key] for draft, key in key_of.items()}


def _length(pages: LaidOut) -> Length:
    return Length(pages.page_count, pages.eighths, len(pages.scenes))
