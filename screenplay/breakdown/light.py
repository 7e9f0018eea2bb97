"""When it is light in each scene, by its heading and those before it, and whether it is apart from the story there, as
a flashback is."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import DASHES, FOLLOWS_ON, light_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from screenplay.model import Heading

# How headings mark what is on no day of the story (common practice; other languages' from memory).
_FLASHBACK = r"FLASH(?:[ -]?(?:BACKS?|FORWARDS?))|RÜCKBLENDE"
_DREAM = r"(?:DAY)?DREAMS?|NIGHTMARES?|MEMOR(?:Y|IES)|FANTASY|TRAUM|RÊVE|SOUVENIR|SUEÑO|RECUERDO|SOGNO|RICORDO"
_APART = f"{_FLASHBACK}|{_DREAM}"
# A word behind DREAM or MEMORY makes a name of it, MEMORY SHOP, unless it is one of these.
_BEHIND_DREAM = r"SEQUENCE|CONT|CONTINU\w*|BEGINS?|AGAIN|IN|OF|FROM|TO|ABOUT|D|D[EIU]|DEL|VON"
_REMARK_APART = re.compile(
    rf"\b(?:{_FLASHBACK})\b|\b(?:{_DREAM})\b(?! (?!(?:{_BEHIND_DREAM})\b)[^\W\d])", re.IGNORECASE
)
# What says of a mark right beside it that it is none, or over: END OF MARA'S DREAM, FLASHBACK ENDS.
_WHOSE = r"(?:(?:AN?|THE|HIS|HER|THEIR|MY|OUR|\w+['’]S?|\d{4}) )*"
_NO_MORE_BEFORE = r"(?:END(?:S|ED)?(?: OF)?|AFTER|BEFORE|OUT OF|(?:BACK|RETURN) FROM|NOT?|NO LONGER|INTERCUT(?: WITH)?)"
_NO_MORE_BEHIND = rf"(?:['’]S)?[{DASHES}\s:,]+END(?:S|ED)?\b(?! OF\b)"
_NO_MORE = re.compile(rf"\b{_NO_MORE_BEFORE} {_WHOSE}(?:{_APART})\b|\b(?:{_APART})\b{_NO_MORE_BEHIND}", re.IGNORECASE)
_PART = re.compile(rf"[()\[\]:,/]|\s[{DASHES}]+\s")
# Before the time of day a mark is a part of the heading, and what is first is a place's name, FANTASY, save FLASHBACK.
_BEFORE_MARK = (
    r"(?:.*(?:['’]S?|\b(?:\d{4}|AN?|IN|HIS|HER|THEIR|MY|OUR|DAY|NIGHT|MORNING|AFTERNOON|EVENING|DAWN|DUSK)) )?"
)
_FIRST_APART = re.compile(rf"{_BEFORE_MARK}(?:{_FLASHBACK}|(?:{_APART}) SEQUENCE)(?: \d{{4}})?", re.IGNORECASE)
_PART_APART = re.compile(rf"{_BEFORE_MARK}(?:{_APART})(?: SEQUENCE)?(?: \d{{4}})?", re.IGNORECASE)
_BACK = re.compile(r"\b(?:BACK TO|PRESENT)\b", re.IGNORECASE)
_STRAIGHT_ON = re.compile(r"\bCONTINU", re.IGNORECASE)


class Light(NamedTuple):
    """When it is in a scene: day, night, dawn, dusk, or "" for not said; and the ordinal of the scene whose heading
    says so, None where its own does or none."""

    light: str
    taken_from: int | None


def says_its_light(time: str) -> bool:
    """Whether a heading's time of day says by itself when it is, as NIGHT does, and CONTINUOUS does not."""
    return light_of(time) not in {"", FOLLOWS_ON}


def is_apart(place: str, time: str, remark: str, *, goes_on_from_apart: bool) -> bool:
    """Whether the scene of a heading is apart from the story, as a FLASHBACK, a DREAM or a MEMORY is: the heading marks
    it as one, or it goes on from one before it, as CONTINUOUS, LATER and SAME do unless they say that it is over."""
    if _is_marked_apart(place, remark):
        return True
    goes_on = light_of(time) == FOLLOWS_ON or _STRAIGHT_ON.search(time)
    return bool(goes_on_from_apart and goes_on and not _is_back(place, time, remark))


def lights_by_heading(headings: Iterable[Heading], known: Mapping[int, Light]) -> list[Light]:
    """When it is in each scene. CONTINUOUS, LATER and SAME take it from the scene before (common practice), and past
    those whose headings have no time of day at all; back in the story, from the last scene that is not apart from it.
    `known` has those of scenes, by ordinal, of which their headings are not asked."""
    found: list[Light] = []
    last = last_of_story = Light("", None)
    apart = False
    for ordinal, heading in enumerate(headings, start=1):
        apart = is_apart(heading.place, heading.time, heading.remark, goes_on_from_apart=apart)
        light = light_of(heading.time)
        if ordinal in known:
            found.append(known[ordinal])
        elif light != FOLLOWS_ON:
            found.append(Light(light, None))
        else:
            found.append(last if apart else last_of_story)
        if heading.time or found[-1].light:
            origin = ordinal if found[-1].taken_from is None and found[-1].light else found[-1].taken_from
            last = Light(found[-1].light, origin)
            last_of_story = last_of_story if apart else last
    return found


def _is_marked_apart(place: str, remark: str) -> bool:
    """Whether a heading marks its scene as a memory or the like, and not as the end of one."""
    if _REMARK_APART.search(_NO_MORE.sub(" ", remark)):
        return True
    first, *others = (part.strip() for part in _PART.split(_NO_MORE.sub(" ", place)))
    return bool(_FIRST_APART.fullmatch(first)) or any(_PART_APART.fullmatch(part) for part in others)


def _is_back(place: str, time: str, remark: str) -> bool:
    """Whether a heading says that it is back in the story."""
    said = (*_PART.split(place)[1:], time, remark)
    return any(_BACK.search(part) or _NO_MORE.search(part) for part in said)
