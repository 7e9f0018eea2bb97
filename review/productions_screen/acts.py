"""Changing how a production is set up: its name, its page, its colours and its language."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from django.db import transaction

from review import log
from review.access import Deed
from review.drafts.numbering import PagesAreLocked
from review.productions.models import Production, lock_for
from review.records import mark_of

if TYPE_CHECKING:
    from review.people.models import Member

Verb = log.Act.Verb
LAYING_OUT = {"paper", "blank_lines_before_heading"}


@dataclass(frozen=True, slots=True)
class Settings:
    """What of a production its writers and producers set. The fields are named as the record's."""

    name: str
    paper: str
    blank_lines_before_heading: int
    revision_colours: tuple[str, ...]
    language: str

    @property
    def seen(self) -> str:
        """A mark of these very settings: a form carries it, so that it shows on what it was based."""
        return mark_of(self)

    def differing_from(self, other: Settings) -> dict[str, object]:
        """The fields that another has otherwise, with the values here."""
        theirs = asdict(other)
        return {name: value for name, value in asdict(self).items() if value != theirs[name]}


class SettingsChangedMeanwhile(Exception):
    """Raised when others stand than the settings somebody saw: `settings`, set by `by` if the log knows."""

    def __init__(self, settings: Settings, by: str) -> None:
        super().__init__("The settings were changed meanwhile.")
        self.settings = settings
        self.by = by


def settings_of(production: Production) -> Settings:
    """The settings as they stand."""
    return Settings(
        name=production.name,
        paper=str(production.paper),
        blank_lines_before_heading=production.blank_lines_before_heading,
        revision_colours=tuple(production.revision_colours),
        language=production.language,
    )


@transaction.atomic
def change_settings(by: Member, wanted: Settings, seen: str) -> bool:
    """Set the production up as wanted; whether anything changed.

    `seen` is the mark of the settings that the change is based on. Raises `SettingsChangedMeanwhile` where others
    stand by now, unless they are the ones wanted; `PagesAreLocked` where the paper, or the blank lines before headings,
    would change under locked pages.
    """
    production = lock_for(by, Deed.SET_UP)
    standing = settings_of(production)
    if standing == wanted:
        return False
    if standing.seen != seen:
        raise SettingsChangedMeanwhile(standing, _last_changed_by(production))
    changed = wanted.differing_from(standing)
    if production.pages_locked_at is not None and LAYING_OUT & changed.keys():
        raise PagesAreLocked
    for name, value in changed.items():
        setattr(production, name, list(value) if isinstance(value, tuple) else value)
    production.save(update_fields=list(changed))
    if changed.pop("name", None):
        told = {"before": standing.name, "name": wanted.name}
        log.record(by.person, Verb.RENAMED_PRODUCTION, production, production.public_id, **told)
    if changed:
        before = {name: asdict(standing)[name] for name in changed}
        log.record(by.person, Verb.CHANGED_SETTINGS, production, production.public_id, before=before, after=changed)
    return True


def _last_changed_by(production: Production) -> str:
    """The name of whoever last changed the settings."""
    verbs = (Verb.CHANGED_SETTINGS, Verb.RENAMED_PRODUCTION)
    act = log.Act.objects.filter(production=production, verb__in=verbs).select_related("person").first()
    return act.person.name if act else ""
