"""What each scene needs, as an assistant director asks for it: where and when it is, how long, who is in it, how much
is said and told, and the cautions found in it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.breakdown.cast_by_scene import cast_by_scene
from screenplay.breakdown.cautions import cautions_of
from screenplay.breakdown.department_words import department_words
from screenplay.breakdown.intercuts import intercuts_of
from screenplay.breakdown.place_names import AS_HEADED
from screenplay.breakdown.places import ScenePlace
from screenplay.breakdown.scene_places import scene_places
from screenplay.fountain import plain
from screenplay.model import Block, Kind, Speech
from screenplay.script import block_words, speech_words
from screenplay.words import count_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from screenplay.breakdown.cast_by_scene import CastByScene
    from screenplay.breakdown.cautions import Find
    from screenplay.breakdown.intercuts import Intercut
    from screenplay.breakdown.place_names import PlaceNames
    from screenplay.model import Screenplay
    from screenplay.script import LaidOut, Scene

SECONDS_AN_EIGHTH = 7.5  # a minute a page: a rough guide, and shown as one (C)
TIME_RULE = "about a minute a page"


@dataclass(frozen=True, slots=True)
class SceneNeeds:
    """One scene of the breakdown.

    `place` is the first part of the heading's place and `place_within` the rest: FERRY and ENGINE ROOM; of a heading
    with several settings, those of the first, and `also_at` has the places of the others, as it has where a heading is
    an INTERCUT of several scenes: each by the name that it goes by. `place_typed` is the whole as typed. `time` is as
    typed, `light` is when it is at the first place: day, night, dawn, dusk or "" for not said; where the heading takes
    it from another scene, as with CONTINUOUS, `light_from` is that scene's ordinal. `remark` is what the heading says
    behind the time, as FLASHBACK does. `eighths` of a page are its length and `seconds` an estimate, by TIME_RULE.
    `speaking` are those with a speech in it, `heard` those of them who are a voice alone: each speech of theirs is a
    voice over, and no action names them. `mentioned` are the others of the cast whom its action names, in the order in
    which they first do. `intercuts` say with which scenes it is cut together, as far as its INTERCUT lines do.
    `dialogue_words` are said or sung, under a cue or not; `action_words` are those of action and parentheticals.
    `cautions` are found by a list of words: no assessment of risk. `department_words` are found by the departments'
    lists, each under its department's.
    """

    ordinal: int
    number: str | None
    heading: str
    setting: str
    place: str
    place_within: str
    also_at: tuple[ScenePlace, ...]
    place_typed: str
    time: str
    light: str
    light_from: int | None
    remark: str
    eighths: int
    seconds: int
    page: int | None
    page_label: str
    first_line: int
    last_line: int
    speaking: tuple[str, ...]
    heard: tuple[str, ...]
    mentioned: tuple[str, ...]
    intercuts: tuple[Intercut, ...]
    dialogue_words: int
    action_words: int
    cautions: tuple[Find, ...]
    department_words: tuple[Find, ...]

    @property
    def place_key(self) -> str:
        """What two spellings of its first place share."""
        return self._first_place.key

    @property
    def places(self) -> tuple[ScenePlace, ...]:
        """Every place that it is at, each once, however many rooms of it."""
        found: dict[str, ScenePlace] = {}
        for place in self.rooms:
            found.setdefault(place.key, place)
        return tuple(found.values())

    @property
    def rooms(self) -> tuple[ScenePlace, ...]:
        """Every place that it is at, room by room."""
        return (self._first_place, *self.also_at)

    @property
    def lights(self) -> tuple[str, ...]:
        """When it is in it, at one place and another, each once: "" alone where nobody says."""
        said = dict.fromkeys(place.light for place in self.rooms)
        return tuple(filter(None, said)) or ("",)

    @property
    def _first_place(self) -> ScenePlace:
        return ScenePlace(self.place, self.place_within, self.light, self.light_from)

    @property
    def cast(self) -> tuple[str, ...]:
        """Everybody in it: those who speak, and those whom the action names."""
        return (*self.speaking, *self.mentioned)

    @property
    def speaking_there(self) -> tuple[str, ...]:
        """Those who speak in it and are no voice alone."""
        return tuple(name for name in self.speaking if name not in self.heard)

    @property
    def there(self) -> tuple[str, ...]:
        """Everybody who is in it to be seen: all but the voices alone."""
        return (*self.speaking_there, *self.mentioned)


def break_down(pages: LaidOut, names: PlaceNames = AS_HEADED) -> tuple[SceneNeeds, ...]:
    """What each scene of a script needs, in order, at places by the names they go by. What stands before the first
    heading is in none."""
    script = pages.script
    cautions, listed = cautions_of(script), department_words(script)
    cast = cast_by_scene(script, [one.name for one in pages.characters])
    intercuts = intercuts_of(script, cast, [scene.number for scene in pages.scenes])
    dialogue, action = _word_counts(script)
    return tuple(
        _needs(
            scene,
            tuple(map(names.named, told)),
            cast,
            intercuts.get(scene.ordinal, ()),
            dialogue[scene.ordinal],
            action[scene.ordinal],
            cautions,
            listed,
        )
        for scene, told in zip(pages.scenes, scene_places(script, intercuts), strict=True)
    )


def _needs(
    scene: Scene,
    places: tuple[ScenePlace, ...],
    cast: CastByScene,
    intercuts: tuple[Intercut, ...],
    dialogue_words: int,
    action_words: int,
    cautions: list[tuple[Find, ...]],
    listed: list[tuple[Find, ...]],
) -> SceneNeeds:
    place, *also_at = places
    named = cast.named.get(scene.ordinal, ())
    over_alone = cast.over_alone.get(scene.ordinal, frozenset())
    return SceneNeeds(
        ordinal=scene.ordinal,
        number=scene.number,
        heading=scene.heading,
        setting=scene.setting,
        place=place.name,
        place_within=place.within,
        also_at=tuple(also_at),
        place_typed=scene.place,
        time=scene.time,
        light=place.light,
        light_from=place.light_from,
        remark=scene.remark,
        eighths=scene.eighths,
        seconds=round(scene.eighths * SECONDS_AN_EIGHTH),
        page=scene.page,
        page_label=scene.page_label,
        first_line=scene.first_line,
        last_line=scene.last_line,
        speaking=scene.characters,
        heard=tuple(name for name in scene.characters if name in over_alone and name not in named),
        mentioned=tuple(name for name in named if name not in scene.characters),
        intercuts=intercuts,
        dialogue_words=dialogue_words,
        action_words=action_words,
        cautions=cautions[scene.ordinal],
        department_words=listed[scene.ordinal],
    )


def _word_counts(script: Screenplay) -> tuple[Mapping[int, int], Mapping[int, int]]:
    """The words said or sung in each scene, and those of its action and parentheticals."""
    dialogue: dict[int, int] = defaultdict(int)
    action: dict[int, int] = defaultdict(int)
    for element in script.elements:
        scene = script.scene_of[element.first_line - 1]
        if isinstance(element, Speech):
            dialogue[scene] += speech_words(element)
            action[scene] += sum(count_words(plain(line)) for line in element.lines if line.kind is Kind.PARENTHETICAL)
        elif isinstance(element, Block) and element.kind is Kind.LYRIC:
            dialogue[scene] += block_words(element)
        elif isinstance(element, Block) and element.kind is Kind.ACTION:
            action[scene] += block_words(element)
    return dialogue, action
