"""Who of a script is a child, by the age or the word at their introduction, and where they speak or stand.

A character is introduced where action first names them, in capitals (common practice) or by the name of a cue: NELL, 9,
or NELL (9), NELL, a girl of nine, a small boy, NELL, or their nine-year-old, NELL. What is said there holds throughout.
Introduced again otherwise, as when someone is older, they are so in that scene. A child may be called by a part of
their name, unless that is somebody else's: YOUNG TADEUSZ, 9, makes no child of TADEUSZ KRÓL, 71.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.ages import (
    KIN,
    LONGEST_NAME,
    OF_AGE,
    WORDS,
    age_after,
    grown_up,
    is_somebody_so_old,
    years_of,
)
from screenplay.breakdown.known_people import AWAY
from screenplay.breakdown.list_files import plain_words
from screenplay.breakdown.person_words import is_person
from screenplay.breakdown.sentences import is_number, plain_word

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from screenplay.breakdown.scene_lines import SceneLines, Told
    from screenplay.breakdown.sentences import Sentence

_Name = tuple[str, ...]  # its words, in small letters
_AFTER_WORD = plain_words("grammar", "children", "after_word")
_NO_LONGER = plain_words("grammar", "children", "no_longer")
_CALLED = plain_words("grammar", "children", "called")
_NO_NAME = plain_words("grammar", "children", "no_name")
_NUMBERED = plain_words("grammar", "children", "numbered")
_NUMBERED_IN_CAPITALS = _NUMBERED | plain_words("grammar", "children", "numbered_in_capitals")
_LONGEST_APPOSITION = 6  # words


class ChildInScene(NamedTuple):
    """A child in a scene: the words that say so, and the source line of the speech or the action where they are."""

    words: str
    line: int


class _Introduction(NamedTuple):
    """What is said of somebody at their introduction in a scene, on a source line: such as "KIT, 15", or "" where they
    are no child."""

    scene: int
    line: int
    words: str


def children_in(scenes: Sequence[SceneLines]) -> list[list[ChildInScene]]:
    """The children that speak or stand in each of the scenes, in the order of their lines."""
    cues = {speech.name: tuple(map(plain_word, speech.name.split())) for scene in scenes for speech in scene.speeches}
    introduced = _introductions(scenes, frozenset(words[0] for words in cues.values() if words))
    names = _names(introduced, cues)
    found = [{*_standing(ordinal, scene, names, cues), *_of_an_age(scene)} for ordinal, scene in enumerate(scenes)]
    for said in itertools.chain.from_iterable(introduced.values()):
        if said.words:
            found[said.scene].add(ChildInScene(said.words, said.line))
    return [sorted(standing, key=lambda one: (one.line, one.words)) for standing in found]


def grown_kin(scenes: Sequence[SceneLines]) -> frozenset[str]:
    """The words such as "stepson" that a script has for somebody who is grown up by an age said once, and for no
    child."""
    said: dict[str, set[bool | None]] = defaultdict(set)
    for scene in scenes:
        for told in scene.action:
            for at, word in enumerate(told.sentence.words):
                if word in KIN:
                    said[word].add(grown_up(told.sentence, at, at + 1))
    return frozenset(word for word, ages in said.items() if True in ages and False not in ages)


def _introductions(scenes: Sequence[SceneLines], cued: frozenset[str]) -> dict[_Name, list[_Introduction]]:
    """By name, every introduction that says of somebody how old they are, or that they are a child."""
    found: dict[_Name, list[_Introduction]] = defaultdict(list)
    for ordinal, scene in enumerate(scenes):
        for told in scene.action:
            for name, words in _introduced(told, cued):
                if words is not None:
                    found[name].append(_Introduction(ordinal, told.line, words))
        for speech in scene.speeches:
            if "/" in speech.name:
                _make_one(found, ordinal, [tuple(map(plain_word, name.split())) for name in speech.name.split("/")])
    return found


def _make_one(found: dict[_Name, list[_Introduction]], scene: int, names: Sequence[_Name]) -> None:
    """Let what a scene says of somebody hold there for the others whom a cue has for the same, STRANGER / EIRIK."""
    spelled = [(*article, *name) for name in names for article in ((), ("a",), ("the",))]
    said = next((one for name in spelled for one in found.get(name, ()) if one.scene == scene and not one.words), None)
    if said:
        for name in names:
            if all(one.scene != scene for one in found[name]):
                found[name].append(said)


def _introduced(told: Told, cued: frozenset[str]) -> Iterator[tuple[_Name, str | None]]:
    """The names in a sentence with the words that make each a child, "" for an adult, None where no age is said."""
    sentence = told.sentence
    at = 0
    while at < len(sentence.words):
        end = _name_end(sentence, at, cued)
        if end == at or at in told.seeming.unreal - told.seeming.named:
            at += 1
            continue
        if not _is_numbered(sentence, at, end, cued):
            yield sentence.words[at:end], _said_of(sentence, at, end)
        at = end


def _name_end(sentence: Sentence, start: int, cued: frozenset[str]) -> int:
    """Where a name ends that starts at a word; that word itself where none does."""
    end = start
    while end < min(len(sentence.words), start + LONGEST_NAME) and sentence.is_all_capitals(end):
        end += 1
        if sentence.stops_after(end - 1):
            break
    if end == start and sentence.words[start] in KIN:
        return start + 1 + _is_name_behind(sentence, start + 1, cued)
    if end == start and sentence.is_capital(start):
        return start + 1 if sentence.words[start] in cued else _end_at_an_age(sentence, start)
    return end


def _end_at_an_age(sentence: Sentence, start: int) -> int:
    """Where a name ends in small letters by which an age stands as it only does by names: Priya Nair (9); Priya, aged
    9. Not of what has a number, Platform (9), or is several things, Chairs (4)."""
    end = start + 1
    while end < min(len(sentence.words), start + LONGEST_NAME) and not sentence.stops_after(end - 1):
        if not sentence.is_capital(end):
            return start
        end += 1
    if end == len(sentence.words) or not _NUMBERED.isdisjoint(sentence.words[start:end]):
        return start
    if sentence.words[end] == "aged":
        return end
    in_parentheses = "(" in sentence.gaps[end - 1] and sentence.gaps[end].startswith(")")
    is_several = sentence.words[end - 1].endswith("s") and not any(
        word.endswith("s") for word in sentence.words[end + 1 : end + 2]
    )
    return end if in_parentheses and not is_several else start


def _is_name_behind(sentence: Sentence, at: int, cued: frozenset[str]) -> bool:
    """Whether "her son" goes on with a name by which nobody is met elsewhere: her son Milo, 6."""
    if at >= len(sentence.words) or sentence.stops_after(at - 1) or not sentence.is_capital(at):
        return False
    return not sentence.is_all_capitals(at) and sentence.words[at] not in cued


def _is_numbered(sentence: Sentence, start: int, end: int, cued: frozenset[str]) -> bool:
    """Whether a number behind capitals is no age but that of a thing: MARCH, 12; of somebody who speaks, or of whom
    more is said, JUNE, 12, barefoot, it is one."""
    words, last = sentence.words, sentence.words[end - 1]
    if last not in _NUMBERED_IN_CAPITALS or is_person(last) or words[start] in cued or end == len(words):
        return False
    if not is_number(words[end]) or sentence.gaps[end - 1].strip() != ",":
        return False
    return end + 1 == len(words) or sentence.breaks_after(end) or is_number(words[end + 1])


def _said_of(sentence: Sentence, start: int, end: int) -> str | None:
    name = " ".join(sentence.texts[start:end])
    age = age_after(sentence, end)
    if age is not None:
        return f"{name}, {age.told}" if age.years < OF_AGE else ""
    if word := _apposition(sentence, end) or _leading(sentence, start):
        return f"{name}, {word}"
    return name if sentence.words[end - 1] in WORDS else None


def _apposition(sentence: Sentence, end: int) -> str:
    """A word for a child in what stands between a name's comma and the next mark: FINN, a boy of about nine."""
    if end >= len(sentence.words) or not sentence.stops_after(end - 1):
        return ""
    for at in range(end, min(end + _LONGEST_APPOSITION, len(sentence.words))):
        word, last = sentence.words[at], at + 1 == len(sentence.words) or sentence.stops_after(at)
        if word in WORDS and (last or sentence.words[at + 1] in _AFTER_WORD):
            return word
        if last or word in _NO_LONGER:
            return ""
    return ""


def _leading(sentence: Sentence, start: int) -> str:
    """A word for a child or years just before a name: a small boy, TUCK; their nine-year-old daughter, MAX."""
    before = start - 2 if start > 1 and sentence.words[start - 1] in _CALLED else start - 1
    if before >= 0 and sentence.words[before] in WORDS:
        return sentence.words[before]
    for at in range(start - 1, max(start - 4, -1), -1):
        if (years := years_of(sentence.words[at])) is not None:
            return sentence.words[at] if years < OF_AGE else ""
    return ""


def _names(
    introduced: Mapping[_Name, Sequence[_Introduction]], cues: Mapping[str, _Name]
) -> dict[_Name, Sequence[_Introduction]]:
    """The names by which children are met: as introduced, as cued, and by a part of these that is nobody else's."""
    cued = frozenset(cues.values())
    parts: dict[_Name, set[_Name]] = defaultdict(set)
    for name in {*introduced, *cued}:
        for part in _parts(name):
            parts[part].add(name)
    found = {name: said for name, said in introduced.items() if any(one.words for one in said) and name[0] not in KIN}
    for name, said in list(found.items()):
        own = name[0] not in _NO_NAME and name[0] not in WORDS
        for short in (part for part in _parts(name) if part in cued or (own and part == name[:1])):
            if short not in introduced and not _is_anothers(short, name, parts[short] - {name}, cued):
                found.setdefault(short, said)
    for cue, words in cues.items():
        last = next((word for word in reversed(words) if not word.strip("#").isdigit()), "")
        if last in WORDS and words not in introduced:
            found.setdefault(words, (_Introduction(0, 0, cue),))
    return found


def _parts(name: _Name) -> Iterator[_Name]:
    """What somebody may be called for short: the first of their names, or the last."""
    return (part for at in range(1, len(name)) for part in (name[:at], name[at:]))


def _is_anothers(short: _Name, name: _Name, others: Collection[_Name], cued: Collection[_Name]) -> bool:
    """Whether who is called so is somebody else than the child of a name; where nobody says, it is the child."""
    if name[0] in _NO_NAME:
        return bool(others) or (name in cued and short in cued)
    return bool(others) and (short not in cued or name in cued)


def _of_an_age(scene: SceneLines) -> Iterator[ChildInScene]:
    """Who has no name but an age: a nine-year-old on a bicycle."""
    for told in scene.action:
        for at, word in enumerate(told.sentence.words):
            years = years_of(word)
            if years and years < OF_AGE and at not in told.seeming.unreal and is_somebody_so_old(told.sentence, at):
                age = told.sentence.as_written(at, at + 1)
                yield ChildInScene(age.removesuffix("'s").removesuffix("’s"), told.line)


def _standing(
    ordinal: int, scene: SceneLines, names: Mapping[_Name, Sequence[_Introduction]], cues: Mapping[str, _Name]
) -> Iterator[ChildInScene]:
    for speech in scene.speeches:
        said = names.get(cues[speech.name])
        if said and not any(map(AWAY.search, speech.extensions)) and (words := _words_in(ordinal, said)):
            yield ChildInScene(words, speech.cue.line)
    for told in scene.action:
        for name in _named(told, names):
            if words := _words_in(ordinal, names[name]):
                yield ChildInScene(words, told.line)


def _named(told: Told, names: Mapping[_Name, Sequence[_Introduction]]) -> Iterator[_Name]:
    """Who of these is named in a sentence with a capital letter, and not only likened to or shown."""
    words = told.sentence.words
    for at in range(len(words)):
        if told.sentence.is_capital(at) and at not in told.seeming.unreal - told.seeming.named:
            lengths = range(min(LONGEST_NAME, len(words) - at), 0, -1)
            yield from itertools.islice((words[at : at + n] for n in lengths if words[at : at + n] in names), 1)


def _words_in(ordinal: int, said: Sequence[_Introduction]) -> str:
    """What makes somebody a child in a scene: what it says itself, or else what their introduction does."""
    return next((one.words for one in said if one.scene == ordinal), said[0].words)
