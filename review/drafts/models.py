"""A draft: one version of the script's text, which never changes once published."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from django.db import models

from review.downloads import file_name
from review.drafts.colours import colour_after
from review.drafts.kept_pages import with_kept_pages
from review.drafts.texts import hash_text, hashes_of_the_same_text
from review.productions.models import CHOICE_OF
from review.records import Record
from screenplay.intake import Intake
from screenplay.page import SceneNumber
from screenplay.tints import paper_named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay import PageSetting
    from screenplay.names import CueNames

MOST_COLOUR = 60  # characters: a name of a production's order, and the word for its round


class DraftQuerySet(models.QuerySet["Draft"]):
    """Asked of one production's drafts, as `production.drafts`.

    Those alone that stand are there for anybody: `standing` says which, and every screen asks it. A writer finds the
    others on the list of drafts, can take their source away, and put them up again.
    """

    def standing(self) -> DraftQuerySet:
        """Those that were not withdrawn."""
        return self.filter(withdrawn_at=None)

    def numbered(self, *numbers: int) -> DraftQuerySet:
        """Those under any of some numbers that an address or a form named, which may be larger than any draft's.

        Each is asked for by itself: of a number that the column can't hold Django knows that nothing has it, while a
        list with such a one in it goes to the database, and SQLite fails on it.
        """
        return self.filter(models.Q(*(("number", number) for number in numbers), _connector=models.Q.OR))

    def current(self) -> Draft | None:
        """The latest that stands; None before the first."""
        return self.standing().order_by("-number").first()

    def next_number(self) -> int:
        """The number of the next one. Those of withdrawn drafts are not given again."""
        return (self.aggregate(latest=models.Max("number"))["latest"] or 0) + 1

    def next_colour(self, order: Sequence[str]) -> str:
        """The colour of the next one, in a production's order: the one after that of the latest, withdrawn or not."""
        return colour_after(self.order_by("-number").values_list("colour", flat=True), order)

    def with_text(self, text: str) -> Draft | None:
        """The latest that has a text, whatever its line ends; None where none has it."""
        return self.filter(sha256__in=hashes_of_the_same_text(text)).order_by("-number").first()


class Draft(Record):
    """`text` is the upload, decoded; `encoding` and `bom` give its bytes back. `sha256` is of the text in UTF-8.

    `scene_numbers` are the scenes by number, in the draft's order, where its production's numbers were locked when it
    was current or published: for each its number, its ordinal in the draft or None for one that is OMITTED, its
    heading, and an OMITTED one's text (`screenplay.next_draft.numbering.NumberedScene`). None where they were not.

    `locked_pages` are its pages, as `review.drafts.kept_pages` keeps them, where its production's pages were locked
    when it was current or published; None where they were not.

    A draft that was written here has kept from which lines of `written_from`, the draft before it, its own come, as
    `line_origins` (`screenplay.comparing.LineOrigins.packed`).

    One that was put up by mistake is withdrawn, `withdrawn_because` of what its writer said; it can be put up again.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="drafts")
    number = models.PositiveIntegerField()
    label = models.CharField(max_length=80, blank=True)
    colour = models.CharField(max_length=MOST_COLOUR)
    text = models.TextField()
    sha256 = models.CharField(max_length=64)
    encoding = models.CharField(max_length=20, default="utf-8")
    bom = models.BooleanField(default=False)
    filename = models.CharField(max_length=200, blank=True)
    scene_numbers = models.JSONField(null=True, blank=True)
    locked_pages = models.JSONField(null=True, blank=True)
    written_from = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="went_into")
    line_origins = models.JSONField(null=True, blank=True)
    uploaded_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="drafts_uploaded")
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    withdrawn_by = models.ForeignKey(
        "review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="drafts_withdrawn"
    )
    withdrawn_because = models.TextField(blank=True)

    objects = DraftQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["production", "number"], name="one_draft_a_number"),
        ]

    @property
    def page_setting(self) -> PageSetting:
        """How its pages are laid out: as its production has it, with its own scene numbers where they were locked, and
        as they were locked where its pages were."""
        numbers = tuple(SceneNumber(each["number"], each["ordinal"]) for each in self.scene_numbers or ())
        setting = replace(self.production.page_setting, scene_numbers=numbers)
        return setting if self.locked_pages is None else with_kept_pages(setting, self.locked_pages)

    @property
    def is_as_set_up(self) -> bool:
        """Whether it is laid out on the paper, and with the blank lines, that its production has by now."""
        own, now = self.page_setting, self.production.page_setting
        return (own.paper, own.blank_lines_before_heading) == (now.paper, now.blank_lines_before_heading)

    @property
    def paper_name(self) -> str:
        """What its paper is called."""
        return str(CHOICE_OF[self.page_setting.paper].label)

    @property
    def text_key(self) -> TextKey:
        """The key of what is kept of its text."""
        return TextKey(self.sha256, self._known, self._merged, self)

    @property
    def pages_key(self) -> PagesKey:
        """The key of what is kept of its pages. Its production is asked for: who fetches drafts fetches that along."""
        return PagesKey(self.sha256, self._known, self._merged, self.page_setting, self)

    @property
    def _merged(self) -> CueNames:
        """The names that its characters go by; what is kept apart changes nothing of what is read."""
        return self.production.names.merged_alone

    @property
    def _known(self) -> str:
        """What is known of its lines, as a key."""
        return hash_text(f"{self.written_from_id} {self.line_origins}") if self.line_origins is not None else ""

    @property
    def colour_name(self) -> str:
        """Its revision colour as shown: with a capital."""
        return self.colour[:1].upper() + self.colour[1:]

    @property
    def tint(self) -> str:
        """The paper its colour is shown as, empty where there is none for it."""
        return paper_named(self.colour)

    @property
    def usual_line_end(self) -> str:
        """The line end that most of its lines have."""
        windows = self.text.count("\r\n")
        counts = {"\n": self.text.count("\n") - windows, "\r\n": windows, "\r": self.text.count("\r") - windows}
        return max(counts, key=lambda end: counts[end])

    @property
    def document_title(self) -> str:
        """What it is called as a document, printed or saved."""
        return f"{self.production.name}: {self}"

    def file_name(self, ending: str, more: str = "") -> str:
        """What a file of it is called: by its production, its number, its label, and `more` of what is in it."""
        return file_name(f"{self.production.name} draft {self.number} {self.label} {more}", ending)

    def upload_bytes(self) -> bytes:
        """The very bytes that were put up; of pasted text, its UTF-8."""
        mark = "\ufeff".encode(self.encoding) if self.bom else b""
        return Intake(self.text, self.encoding, mark).to_bytes()

    def __str__(self) -> str:
        return self.by_number + (f", {self.label}" if self.label else "")

    @property
    def by_number(self) -> str:
        """What it is called within a sentence, where its label would run into the words."""
        return f"Draft {self.number}"


@dataclass(frozen=True)
class TextKey:
    """A draft's text by its hash, what is `known` of where its lines come from, and the `names` that its
    characters go by, as the key of what is kept of it; the text itself is only asked for to be read."""

    sha256: str
    known: str
    names: CueNames
    draft: Draft = field(compare=False, repr=False)


@dataclass(frozen=True)
class PagesKey:
    """A draft's text by its hash, its characters' names, and how it is laid out: the key of what is kept of its
    pages."""

    sha256: str
    known: str
    names: CueNames
    setting: PageSetting
    draft: Draft = field(compare=False, repr=False)

    @property
    def key(self) -> str:
        """The same as short text, for what is kept in the cache."""
        return hashlib.sha256(repr(self).encode()).hexdigest()
