"""The breakdown of a draft as a member sees it: a row for each scene, narrowed and put in order as they ask."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db.models import F

import screenplay
from review.changes.concerned import concerned_departments
from review.decisions.in_force import undecided
from review.drafts.scripts import laid_out
from review.kept import kept
from review.notes.models import Note, Placement
from review.people.models import Department
from review.scenes.intercuts import intercuts_with
from review.scenes.said_of_scenes import marked_words_found, set_days
from screenplay.breakdown import AS_HEADED, caution_names, story_days
from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from review.changes.concerned import ConcernedDepartment
    from review.drafts.models import Draft, PagesKey
    from review.people.models import Member
    from review.scenes.intercuts import IntercutWith
    from screenplay.breakdown import FoundMarkedWord, PlaceNames, SceneNeeds, ScenePlace

BYTES_A_SCENE, BYTES_A_FIND = 3_000, 300  # of what is kept, as measured and more
LIGHTS = {"day": "Day", "night": "Night", "dawn": "Dawn", "dusk": "Dusk", "": "Not said"}


@dataclass(frozen=True, slots=True)
class FoundCaution:
    """A kind of caution in a scene: what it is called, and the words found with the lines that they stand on."""

    name: str
    words: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class BreakdownRow:
    """A scene of the breakdown, with the day of the story that it is on, if any, and how many open notes stand in it.

    `light_from` is what the scenes are called whose headings say when it is; empty where its own does. `intercuts` are
    as its INTERCUT lines have them.
    """

    needs: SceneNeeds
    story_day: int | None
    open_notes: int
    marked: tuple[FoundMarkedWord, ...] = ()
    light_from: str = ""
    intercuts: tuple[IntercutWith, ...] = ()

    @property
    def number(self) -> str:
        """What the scene is called: its number, or its place in the script."""
        return _called(self.needs)

    @property
    def light(self) -> str:
        """Day, night or both, in words."""
        return " and ".join(LIGHTS[light].lower() for light in self.needs.lights).capitalize()

    @property
    def place(self) -> str:
        """The whole place, as typed."""
        return self.needs.place_typed

    @property
    def cast_at_every_end(self) -> tuple[str, ...]:
        """Everybody in it, and in what it is intercut with."""
        return tuple(dict.fromkeys((*self.needs.cast, *(name for one in self.intercuts for name in one.cast))))

    @property
    def minutes(self) -> str:
        """The estimated time, in minutes and seconds."""
        return f"{self.needs.seconds // 60}:{self.needs.seconds % 60:02}"

    @property
    def marked_words(self) -> list[tuple[str, list[FoundMarkedWord]]]:
        """The marked words in it, department by department, each word once."""
        found: dict[str, dict[str, FoundMarkedWord]] = {}
        for each in self.marked:
            found.setdefault(each.sought.department, {}).setdefault(each.sought.words.casefold(), each)
        return [(label, list(found[key].values())) for key, label in Department.choices if key in found]

    @property
    def concerned(self) -> list[ConcernedDepartment]:
        """The departments that it concerns, with the words that say so."""
        return concerned_departments(self.needs, self.marked)

    @property
    def words(self) -> int:
        return self.needs.dialogue_words + self.needs.action_words

    @property
    def cautions(self) -> list[FoundCaution]:
        """The cautions found, kind by kind, in the order of the list."""
        names = caution_names()
        found: dict[str, dict[tuple[str, int], None]] = {key: {} for key in names}
        for find in self.needs.cautions:
            found[find.key][find.words, find.line] = None
        return [FoundCaution(names[key], tuple(words)) for key, words in found.items() if words]


def _called(scene: SceneNeeds) -> str:
    return scene.number or str(scene.ordinal)


@dataclass(frozen=True, slots=True)
class Order:
    """An order that the rows can be put in. `descends` says that its largest comes first."""

    key: str
    label: str
    of: Callable[[BreakdownRow], Any]
    descends: bool = False


ORDERS = (
    Order("script", "Script order", lambda row: row.needs.ordinal),
    Order("place", "Place", lambda row: (row.needs.place_key, row.needs.place_within.casefold())),
    Order("light", "Day and night", lambda row: list(LIGHTS).index(row.needs.light)),
    Order("length", "Longest first", lambda row: row.needs.eighths, descends=True),
    Order("cast", "Most cast first", lambda row: len(row.needs.there), descends=True),
    Order("cautions", "Most cautions first", lambda row: len(row.cautions), descends=True),
    Order("notes", "Most open notes first", lambda row: row.open_notes, descends=True),
)


@dataclass(frozen=True, slots=True)
class Narrowing:
    """A way to narrow the rows: its name in the address, its label, and what can be chosen, by key with its words."""

    name: str
    label: str
    options: Mapping[str, str]
    chosen: str


@dataclass(frozen=True, slots=True)
class Breakdown:
    """The rows that are shown, of how many, in which order, and by which choices they were narrowed."""

    rows: list[BreakdownRow]
    of: int
    order: Order
    choices: list[Narrowing]

    @property
    def eighths(self) -> int:
        return sum(row.needs.eighths for row in self.rows)

    @property
    def minutes(self) -> int:
        """The estimated time of all rows, in whole minutes."""
        return round(sum(row.needs.seconds for row in self.rows) / 60)

    @property
    def has_marked_words(self) -> bool:
        """Whether a marked word stands in any of the rows."""
        return any(row.marked for row in self.rows)

    @property
    def has_intercuts(self) -> bool:
        """Whether any of the rows is cut together with another scene."""
        return any(row.intercuts for row in self.rows)

    @property
    def is_narrowed(self) -> bool:
        return any(choice.chosen for choice in self.choices)


def needs_of(draft: Draft) -> tuple[SceneNeeds, ...]:
    """What each scene of a draft needs, worked out once for each text and page setting, and what is said of places."""
    return _break_down(draft.pages_key, draft.production.names_of_places.merged_alone)


def places_as_headed(draft: Draft) -> list[ScenePlace]:
    """The places of a draft's scenes as headings name them, whatever was said of them."""
    return [place for scene in _break_down(draft.pages_key, AS_HEADED) for place in scene.rooms]


def _weigh(scenes: tuple[SceneNeeds, ...]) -> int:
    return sum(BYTES_A_SCENE + BYTES_A_FIND * (len(scene.cautions) + len(scene.department_words)) for scene in scenes)


@kept(_weigh)
def _break_down(pages: PagesKey, names: PlaceNames) -> tuple[SceneNeeds, ...]:
    return screenplay.break_down(laid_out(pages.draft), names)


def days_of(draft: Draft) -> tuple[int | None, ...]:
    """The day of the story of each scene of a draft, as it was set, else as it is proposed; None for none."""
    return story_days(needs_of(draft), set_days(draft))


def scene_rows(member: Member, draft: Draft) -> list[BreakdownRow]:
    """A row for each scene of the draft, in its order."""
    scenes = needs_of(draft)
    notes = _open_notes(member, draft)
    days = days_of(draft)
    marked: dict[int, list[FoundMarkedWord]] = defaultdict(list)
    for each in marked_words_found(draft):
        marked[each.scene].append(each)
    called = {scene.ordinal: _called(scene) for scene in scenes}
    return [
        BreakdownRow(
            scene,
            day,
            notes[scene.ordinal],
            tuple(marked[scene.ordinal]),
            " and ".join(dict.fromkeys(called[place.light_from] for place in scene.places if place.light_from)),
            intercuts_with(scene, scenes, called),
        )
        for scene, day in zip(scenes, days, strict=True)
    ]


def read_breakdown(rows: Sequence[BreakdownRow], asked: Mapping[str, str]) -> Breakdown:
    """The rows as an address asks for them; what it asks and nobody knows is as if it did not."""
    orders = {order.key: order for order in ORDERS}
    order = orders.get(asked.get("order", ""), ORDERS[0])
    choices = _choices(rows, asked)
    shown = [row for row in rows if all(_passes(row, choice) for choice in choices)]
    return Breakdown(sorted(shown, key=order.of, reverse=order.descends), len(rows), order, choices)


def _choices(rows: Sequence[BreakdownRow], asked: Mapping[str, str]) -> list[Narrowing]:
    places: dict[str, str] = {}
    for row in rows:
        for place in row.needs.places:
            places.setdefault(place.key or "none", place.name or "No place said")
    met = {light for row in rows for light in row.needs.lights}
    cast = Counter(name for row in rows for name in row.needs.cast)
    keys = {find.key for row in rows for find in row.needs.cautions}
    departments = {one.department for row in rows for one in row.concerned}
    options: list[tuple[str, str, dict[str, str]]] = [
        ("place", "Place", dict(sorted(places.items()))),
        ("light", "Day or night", {key or "none": name for key, name in LIGHTS.items() if key in met}),
        ("cast", "Cast", {same_name(name): name for name in sorted(cast)}),
        ("caution", "Caution", {key: name for key, name in caution_names().items() if key in keys}),
        ("department", "Concerns", {key: name for key, name in Department.choices if key in departments}),
    ]
    return [
        Narrowing(name, label, told, chosen if (chosen := asked.get(name, "")) in told else "")
        for name, label, told in options
    ]


def _passes(row: BreakdownRow, choice: Narrowing) -> bool:
    if not choice.chosen:
        return True
    of_row: dict[str, Iterable[str]] = {
        "place": (place.key or "none" for place in row.needs.places),
        "light": (light or "none" for light in row.needs.lights),
        "cast": map(same_name, row.cast_at_every_end),
        "caution": (find.key for find in row.needs.cautions),
        "department": (one.department for one in row.concerned),
    }
    return choice.chosen in of_row[choice.name]


def _open_notes(member: Member, draft: Draft) -> Counter[int]:
    """How many undecided notes that the member may read stand in each scene of the draft, by its ordinal."""
    scene_of = laid_out(draft).script.scene_of
    notes = undecided(Note.objects.visible_to(member).not_withdrawn())
    own = notes.filter(draft=draft).order_by().values_list("first_line", flat=True)
    placed = Placement.objects.filter(draft=draft, note__in=notes.exclude(draft=draft)).annotate(line=F("first_line"))
    lines = [*own, *placed.order_by().values_list("line", flat=True)]
    return Counter(scene_of[line - 1] for line in lines if line is not None and line <= len(scene_of))
