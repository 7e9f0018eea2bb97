"""Whom a changed scene concerns: what of its place, time and cast changed, its cautions, and the words that changed.

Where a name changed throughout, that is no change of a scene's place or cast. What is looked for as a caution or as a
department's word, and where, is the breakdown's business.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown import (
    AS_HEADED,
    LYRICS,
    MUSIC,
    ListedWords,
    caution_names,
    cautions_of,
    lights,
    searched_texts,
    trade_words_in,
)
from screenplay.comparing import with_names_of_now
from screenplay.fountain import HYPHENS, LONG_DASHES, same_name, setting_fields, setting_places
from screenplay.model import Kind
from screenplay.next_draft.cast_changes import CastBetween
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from screenplay.breakdown import Find, PlaceNames
    from screenplay.comparing import Comparison, Rename
    from screenplay.model import Heading, Screenplay

_WORD = re.compile(r"\w+")
_SENTENCE_END = re.compile(r"[.?!…]+")
_DASHES = re.compile(rf" ?[{LONG_DASHES}]+ ?| [{HYPHENS}]+ ?|[{HYPHENS}]+ ")


class Change(NamedTuple):
    """The source lines of the old draft and of the new that one change is about; one of them may have none.

    `is_of_words` is false of one in how they are set alone, in more paragraphs or beside another speech, and of one in
    a name alone that changed throughout, of which `is_of_names` is true.
    """

    old: tuple[int, ...]
    new: tuple[int, ...]
    is_of_words: bool = True
    is_of_names: bool = False

    @property
    def reads_otherwise(self) -> bool:
        return self.is_of_words or self.is_of_names


@dataclass(frozen=True, slots=True)
class ChangedScene:
    """A scene by its ordinal in either draft, None where that draft has none, 0 for what stands before the first
    heading; `changes` are those of its lines that are not simply kept. `joined` are the old scenes that are part of it
    now beside its own, `split_into` the new ones that its own is in beside it."""

    old: int | None
    new: int | None
    changes: tuple[Change, ...]
    joined: tuple[int, ...] = ()
    split_into: tuple[int, ...] = ()

    @property
    def old_lines(self) -> frozenset[int]:
        """The lines whose words left or changed."""
        return frozenset(line for change in self.changes if change.is_of_words for line in change.old)

    @property
    def new_lines(self) -> frozenset[int]:
        """The lines whose words are new or changed."""
        return frozenset(line for change in self.changes if change.is_of_words for line in change.new)

    @property
    def old_lines_read(self) -> frozenset[int]:
        """The lines that read otherwise now, be it for a name that changed throughout."""
        return frozenset(line for change in self.changes if change.reads_otherwise for line in change.old)

    @property
    def new_lines_read(self) -> frozenset[int]:
        """The lines that read otherwise than before."""
        return frozenset(line for change in self.changes if change.reads_otherwise for line in change.new)


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution whose words stand in a scene: of the new draft, or where `is_over` of the old, which alone has any.

    `taken_out` are words of the old scene that a changed line lost and the new scene has not; `standing` are those that
    it has all the same, though no list finds them as they stand now. `is_new` says that the new scene alone has the
    caution; `came_with` that it came along with an old scene, by its ordinal; `in_new_lines` that what changed in it
    has.
    """

    key: str
    words: tuple[str, ...]
    taken_out: tuple[str, ...] = ()
    standing: tuple[str, ...] = ()
    is_new: bool = False
    is_over: bool = False
    in_new_lines: bool = False
    came_with: int | None = None

    @property
    def in_change(self) -> bool:
        """Whether what changed has to do with it, and not only what the scene had and still has."""
        is_lost = bool(self.taken_out or self.standing)
        return self.is_new or self.is_over or self.in_new_lines or is_lost or self.came_with is not None


@dataclass(frozen=True, slots=True)
class CameAlong:
    """An old scene, by its ordinal, that is part of another now: `place`, `setting` and `light` as in SceneConcerns,
    and those who speak there now because of it alone."""

    scene: int
    place: tuple[str, str] | None
    place_stays: bool
    setting: tuple[str, str] | None
    light: tuple[str, str] | None
    speakers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SceneConcerns:
    """Whom a changed scene may concern, and why.

    `place`, `setting` and `light` are pairs of before and after where they differ, "" where a draft has none; `light`
    is day, night, dawn or dusk. `place_stays` says that the place before is still that of some scene. `came` and `left`
    are those who speak in the scene of one draft alone, `named` and `unnamed` those whom its action names in the new
    draft or the old alone and who do not speak there; `along` tells of the scenes that came along with all that they
    had. What another part of a split scene has is not told as gone. `words` are those of changed lines, by department.
    """

    place: tuple[str, str] | None = None
    place_stays: bool = False
    setting: tuple[str, str] | None = None
    light: tuple[str, str] | None = None
    came: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    named: tuple[str, ...] = ()
    unnamed: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    words: tuple[ListedWords, ...] = ()
    along: tuple[CameAlong, ...] = ()


def concerns(
    comparison: Comparison, scenes: Iterable[ChangedScene], names: PlaceNames = AS_HEADED
) -> list[SceneConcerns]:
    """Whom each of these scenes concerns, in their order; their places are told by the names that they go by."""
    people = [rename for rename in comparison.renames if rename.kind == "character"]
    old, new = _Searched(comparison.old, people), _Searched(comparison.new)
    cast = CastBetween.of(comparison)
    places = _PlacesPlayed(comparison, names)
    return [_concerns(scene, old, new, cast, places) for scene in scenes]


class _Searched:
    """A script as it is searched: the text of each source line that is, and the light of each scene. Names that
    `renames` changed throughout are the new ones in what is found."""

    def __init__(self, script: Screenplay, renames: Iterable[Rename] = ()) -> None:
        self.script = script
        self.renames = tuple(renames)
        self.texts = dict(text for element in script.elements for text in searched_texts(element))
        self.lights = lights(script)
        self.cautions = cautions_of(script)
        self.headings = headings_of(script)
        self.starts = [1, *(heading.first_line for heading in self.headings), len(script.source) + 1]
        self.said = cache(self._said)

    def heading(self, ordinal: int | None) -> Heading | None:
        return self.headings[ordinal - 1] if ordinal else None

    def finds(self, ordinal: int | None) -> tuple[Find, ...]:
        """What is found for cautions in a scene; for ordinal 0, in what stands before the first."""
        found = () if ordinal is None else self.cautions[ordinal]
        if not self.renames:
            return found
        return tuple(find._replace(words=with_names_of_now(find.words, self.renames)) for find in found)

    def light(self, ordinal: int | None) -> str:
        return self.lights[ordinal - 1] if ordinal else ""

    def lines(self, ordinal: int | None) -> range:
        """The source lines of a scene; for ordinal 0, of what stands before the first."""
        if ordinal is None:
            return range(0)
        return range(self.starts[ordinal], self.starts[ordinal + 1])

    def searched(self, lines: Iterable[int]) -> list[str]:
        return [self.texts[line] for line in sorted(lines) if line in self.texts]

    def has_words(self, words: str, scenes: Iterable[int | None]) -> bool:
        """Whether a sentence of one of these scenes has words as they were found: next to each other, but for what `…`
        stands for."""
        sought = [_WORD.findall(phrase) for phrase in words.casefold().split("…")]
        return any(_are_in(sought, sentence) for scene in scenes for sentence in self.said(scene))

    def _said(self, ordinal: int | None) -> list[list[str]]:
        """The words of each sentence of a scene."""
        sentences = (each for text in self.searched(self.lines(ordinal)) for each in _SENTENCE_END.split(text))
        return [_WORD.findall(sentence.casefold()) for sentence in sentences]

    def has_lyrics(self, lines: Iterable[int]) -> bool:
        return any(self.script.kinds[line - 1] is Kind.LYRIC for line in lines)


class _PlacesPlayed:
    """Where scenes are played, by the names that the places go by; those that changed throughout are the new ones."""

    def __init__(self, comparison: Comparison, names: PlaceNames) -> None:
        self.names = names
        self.called = {rename.old: rename.new for rename in comparison.renames if rename.kind == "place"}
        self.played = self._played(comparison.new)

    def between(self, before: Heading | None, after: Heading | None) -> tuple[tuple[str, str] | None, bool]:
        """A scene's place before and after where they differ, and whether any scene is played at that before."""
        was = self._told(self.called.get(before.place, before.place)) if before else ""
        return _pair(was, self._told(after.place) if after else ""), _plainly(was) in self.played

    def _told(self, place: str) -> str:
        """What a heading's place is told as: as typed, where nothing was said of any place in it."""
        typed = setting_fields(place)
        named = [each._replace(place=self.names.name_of(each.place)) for each in typed]
        return place if named == typed else " / ".join(f"{each.setting} {each.place}".strip() for each in named)

    def _played(self, script: Screenplay) -> frozenset[str]:
        """Every place of a script, and what each is within: of KILN - YARD, the kiln too; of several settings, each."""
        typed = {heading.place for heading in headings_of(script)}
        settings = {self.names.name_of(each) for place in typed for each in setting_places(place)}
        parts = (_plainly(place).split(" - ") for place in {*map(self._told, typed), *settings})
        return frozenset(" - ".join(within[:end]) for within in parts for end in range(1, len(within) + 1))


def _are_in(phrases: Iterable[list[str]], words: list[str]) -> bool:
    """Whether each of these phrases is among the words, one after the other."""
    at = 0
    for phrase in phrases:
        starts = (start for start in range(at, len(words)) if words[start : start + len(phrase)] == phrase)
        found = next(starts, None)
        if found is None:
            return False
        at = found + len(phrase)
    return True


def _concerns(
    scene: ChangedScene,
    old: _Searched,
    new: _Searched,
    cast: CastBetween,
    places: _PlacesPlayed,
) -> SceneConcerns:
    before, after = old.heading(scene.old), new.heading(scene.new)
    came, left = cast.by_speaking(scene.old, scene.new, scene.split_into)
    named, unnamed = cast.by_naming(scene.old, scene.new, scene.split_into, scene.joined)
    now = new.light(scene.new)
    along = tuple(_along(each, came, after, (old.light(each), now), old, cast, places) for each in scene.joined)
    brought = {name for each in along for name in each.speakers}
    place, stays = places.between(before, after)
    return SceneConcerns(
        place=place,
        place_stays=stays,
        setting=_pair(before.setting if before else "", after.setting if after else ""),
        light=_pair(old.light(scene.old), now),
        came=tuple(name for name in came if name not in brought),
        left=left,
        named=named,
        unnamed=unnamed,
        cautions=tuple(_cautions(scene, old, new)),
        words=_words(scene, old, new),
        along=along,
    )


def _along(
    ordinal: int,
    came: Collection[str],
    after: Heading | None,
    light: tuple[str, str],
    old: _Searched,
    cast: CastBetween,
    places: _PlacesPlayed,
) -> CameAlong:
    """An old scene that is part of another now; `came` are those who speak in that one and did not."""
    before = old.heading(ordinal)
    place, stays = places.between(before, after)
    there = cast.who_spoke(ordinal)
    return CameAlong(
        scene=ordinal,
        place=place,
        place_stays=stays,
        setting=_pair(before.setting if before else "", after.setting if after else ""),
        light=_pair(*light),
        speakers=tuple(name for name in came if same_name(name) in there),
    )


def _plainly(place: str) -> str:
    """A place whatever its letters, its spaces and its dashes: longer dashes part it, and hyphens next to a space."""
    return " - ".join(part for part in _DASHES.split(" ".join(place.split()).casefold()) if part)


def _pair(before: str, after: str) -> tuple[str, str] | None:
    return (before, after) if same_name(before) != same_name(after) else None


def _cautions(scene: ChangedScene, old: _Searched, new: _Searched) -> Iterator[Caution]:
    """The cautions of the whole scene before and after, whether or not a changed line has them."""
    then, now = old.finds(scene.old), new.finds(scene.new)
    along = {each: old.finds(each) for each in scene.joined}
    before = [*then, *(find for finds in along.values() for find in finds)]
    scenes = (scene.new, *scene.split_into)
    left, changed = scene.old_lines, scene.new_lines
    for key in caution_names():
        words = _told(now, key)
        if not words and (words := _told(before, key)):
            if not any(_told(new.finds(other), key) for other in scene.split_into):
                standing = tuple(word for word in words if new.has_words(word, scenes))
                yield Caution(key, words, standing=standing, is_over=True)
        elif words:
            had = _told((find for find in before if find.line in left), key)
            lost = {word: new.has_words(word, scenes) for word in had if not _are_among(word, words)}
            was_here = _told(then, key)
            yield Caution(
                key,
                words,
                taken_out=tuple(word for word, stands in lost.items() if not stands),
                standing=tuple(word for word, stands in lost.items() if stands),
                is_new=not _told(before, key),
                in_new_lines=any(find.key == key and find.line in changed for find in now),
                came_with=None if was_here else next((each for each in along if _told(along[each], key)), None),
            )


def _are_among(words: str, found: Iterable[str]) -> bool:
    """Whether each of some words is one of those that were found, if in another phrase."""
    return set(_WORD.findall(words.casefold())) <= {word for each in found for word in _WORD.findall(each.casefold())}


def _told(finds: Iterable[Find], key: str) -> tuple[str, ...]:
    """The words of a caution, each once."""
    return tuple(dict.fromkeys(find.words for find in finds if find.key == key))


def _words(scene: ChangedScene, old: _Searched, new: _Searched) -> tuple[ListedWords, ...]:
    found = trade_words_in([*new.searched(scene.new_lines), *old.searched(scene.old_lines)])
    if not (new.has_lyrics(scene.new_lines) or old.has_lyrics(scene.old_lines)):
        return found
    music = next((one.words for one in found if one.key == MUSIC), ())
    return (*(one for one in found if one.key != MUSIC), ListedWords(MUSIC, (LYRICS, *music)))
