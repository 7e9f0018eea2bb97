"""How an act is tried: what it is given, made ready in the house, who may do it, and who of the production may not."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import timedelta
from functools import partial
from typing import TYPE_CHECKING, Any

from django.utils import timezone

from review.access import MAY, Deed, Role
from review.decisions.acts import decide
from review.exchange.iris import iri_of
from review.exchange.read_annotations import ReadFile, ReadNote
from review.notes.acts import standing_on
from review.papers.pictures import CheckedPicture
from review.productions_screen.acts import settings_of
from review.readings import acts as readings
from review.rewriting import scene_acts, wordings
from review.scenes import acts as scenes
from review.talks import acts as talks
from screenplay import Span
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.decisions.models import Decision
    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member
    from review.rewriting.models import WorkingScene
    from review.rewriting.wording_models import TakenWording
    from tests.review.house import House

Given = tuple[tuple[Any, ...], dict[str, Any]]
LINE = Span(6, 0, 6, 4)
HUT = "INT. HUT - DAY\n\nFog.\n"


def given(*args: Any, **named: Any) -> Given:
    return args, named


@dataclass(frozen=True)
class Tried:
    """How an act is tried.

    `deed` is what it asks for. `given` is what it is given besides who does it, made ready in the house, so that `by`
    can do it. `nor` are members who may do the deed, and not this: what it is given is another's. With
    `is_given_theirs` everything in it is of whoever does it, so that nobody comes to it from another production. With
    `only_reads` it asks at its beginning, and locks nothing.
    """

    deed: Deed
    given: Callable[[House], Given]
    by: str = "writer"
    nor: tuple[str, ...] = ()
    is_given_theirs: bool = False
    only_reads: bool = False

    @property
    def refused(self) -> tuple[str, ...]:
        """Who of the production may not do the deed, though they are in it."""
        return tuple(str(role) for role in Role if self.deed not in MAY[role])


def first(house: House) -> Draft:
    return house.note.draft


def second(house: House) -> Draft:
    return house.talk.draft


def scene(house: House) -> WorkingScene:
    return house.working.scenes.get(ordinal=1)


def words_on_lines(house: House) -> dict[str, Any]:
    told = {"kind": "idea", "subject": "lines", "character": "", "body": "Hm.", "wording": None, "audience": "everyone"}
    return standing_on(second(house), LINE) | told


def unanswered(house: House) -> Note:
    return make_note(house.member("crew"), second(house))


def offered(house: House) -> Note:
    """A note with a wording."""
    return make_note(house.member("crew"), second(house), 9, wording="The tide turns at four.")


def accepted(house: House) -> Decision:
    return decide(house.member("writer"), offered(house), "accepted", "", 0, uuid.uuid4())


def taken(house: House, *, is_left: bool = False) -> TakenWording:
    """A wording that is in the working draft."""
    writer, decision = house.member("writer"), accepted(house)
    found = wordings.take_wording(writer, decision.note, decision, uuid.uuid4())
    if is_left:
        wordings.leave_in(writer, found)
    return found


def done(act: Callable[..., object], by: Member, *of: Any) -> Any:
    """What an act was done to before, which is what another is tried on."""
    act(by, *of)
    return of[0]


def saved_again(house: House) -> WorkingScene:
    return scene_acts.save_scene(house.member("writer"), scene(house), "INT. LOFT - DAY\n", 1, uuid.uuid4())


def ordered(house: House) -> Draft:
    scenes.move_scene_in_order(house.member("crew"), second(house), 1, 2)
    return second(house)


def locked(house: House, *locks: Callable[[Member, int], object]) -> Given:
    for lock in locks:
        lock(house.member("writer"), 2)
    return given(2)


def given_up(house: House) -> Given:
    house.letter.given_up_at = timezone.now()
    house.letter.save()
    return given(house.letter)


def other_settings(house: House) -> Given:
    standing = settings_of(house.production)
    wanted = type(standing)("Ebb", standing.paper, 1, standing.revision_colours, standing.language)
    return given(wanted, standing.seen)


def a_talk() -> talks.When:
    return talks.When(timezone.now() + timedelta(days=2), 30, "On the slip")


def next_week() -> readings.Asked:
    return readings.Asked(timezone.localdate() + timedelta(days=7), "The lamp")


def crew_of(house: House) -> list[Member]:
    return [house.member("crew")]


def question(house: House) -> Any:
    return house.reading.questions.get()


def a_file(house: House) -> ReadFile:
    said = ReadNote("urn:note:1", "", "Ida", timezone.now(), "Why?", note=iri_of(house.note))
    return ReadFile((), (said,), 0, ())


PICTURE = CheckedPicture(b"\x89PNG", "image/png", 1, 1)


def of_their_own(given: Callable[[House], Given]) -> Tried:
    """What only the one of the crew does whose it is."""
    return Tried(Deed.NOTE, given, by="crew", nor=("writer", "producer", "cast"))


def taken_away(given: Callable[[House], Given]) -> Tried:
    """What every member takes away."""
    return Tried(Deed.READ, given, by="cast", only_reads=True)


in_rewriting = partial(Tried, Deed.REWRITE)
in_deciding = partial(Tried, Deed.DECIDE)
for_readings = partial(Tried, Deed.ASK_FOR_READING)
for_papers = partial(Tried, Deed.WRITE_PAPERS)
