"""A production: the film that drafts, members and notes belong to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from django.conf import settings
from django.db import models

from review.access import Membership, refuse_unless
from review.records import PostedRecord
from screenplay import PageSetting, PaperSize
from screenplay.breakdown import PlaceNames
from screenplay.names import CueNames
from screenplay.tints import TINTS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.access import Deed


MOST_LANGUAGE = 35  # characters: RFC 5646, 4.4.1, has this as enough for any tag in use
USUAL_COLOURS = tuple(paper.capitalize() for paper in TINTS)


def usual_colours() -> list[str]:
    """Revision colours in the order usual in the trade (common practice; houses differ)."""
    return list(USUAL_COLOURS)


class PaperChoice(models.TextChoices):
    LETTER = "letter", "US Letter"
    A4 = "a4", "A4"


PAPER_OF = {PaperChoice.LETTER: PaperSize.LETTER, PaperChoice.A4: PaperSize.A4}
CHOICE_OF = {paper: choice for choice, paper in PAPER_OF.items()}


class Production(PostedRecord):
    """`paper` and `blank_lines_before_heading` are how its drafts are laid out, and so where every page number comes
    from. `revision_colours` are its colours in order. `language` is the BCP 47 tag of what its scripts are written in,
    empty for the server's own. `scene_numbers_locked_at` is when its scene numbers were locked, None while they follow
    the order; `pages_locked_at` is when its pages were, None while each draft fills them afresh. Pages are locked only
    while scene numbers are, and `paper` and `blank_lines_before_heading` stay as they are meanwhile. `cue_names` has
    the cues that a writer said are one character's, each with that one's name, as `merged`, and the pairs they keep
    `apart`; `place_names` has the same of the places that headings name.
    """

    name = models.CharField(max_length=120)
    started_by = models.ForeignKey("review.Person", on_delete=models.PROTECT, related_name="productions_started")
    paper = models.CharField(max_length=10, choices=PaperChoice, default=PaperChoice.LETTER)
    blank_lines_before_heading = models.PositiveSmallIntegerField(default=2)
    revision_colours = models.JSONField(default=usual_colours)
    language = models.CharField(max_length=MOST_LANGUAGE, blank=True)
    scene_numbers_locked_at = models.DateTimeField(null=True, blank=True)
    pages_locked_at = models.DateTimeField(null=True, blank=True)
    cue_names = models.JSONField(default=dict, blank=True)
    place_names = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

    @property
    def page_setting(self) -> PageSetting:
        """How its drafts are laid out."""
        return PageSetting(PAPER_OF[PaperChoice(self.paper)], self.blank_lines_before_heading)

    @property
    def names(self) -> CueNames:
        """Which cues are one character's, as a writer has it."""
        return CueNames.of(self.cue_names)

    @property
    def names_of_places(self) -> PlaceNames:
        """Which places of scenes are one, as a writer has it."""
        return PlaceNames.of(self.place_names)

    @property
    def script_language(self) -> str:
        """The BCP 47 tag of the language its scripts are written in."""
        return self.language or settings.LANGUAGE_CODE


class AskedAgain(Membership, Protocol):
    """A member, who can be read anew as they stand by now: the people are a layer above."""

    def refresh_from_db(self, *, fields: Iterable[str] | None) -> None: ...


def lock_production(production_id: int) -> Production:
    """The production, locked for the rest of the transaction.

    It is locked before anything of it: whoever takes a note, a draft or a working draft first could stand in the way of
    whoever waits for it while holding the production.
    """
    return Production.objects.select_for_update(no_key=True).get(pk=production_id)


def lock_for(by: AskedAgain, deed: Deed) -> Production:
    """The production of a member, locked, once they have been asked again, as they stand by now, whether they may.

    Whoever was removed, or given another role, while they waited for the lock, is turned away: PermissionDenied.
    """
    production = lock_production(by.production_id)
    by.refresh_from_db(fields=["role", "removed_at"])
    refuse_unless(by, deed)
    return production
