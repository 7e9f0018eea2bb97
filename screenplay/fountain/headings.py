"""What a scene heading says (F2, F4): setting, place, time of day and scene number."""

from __future__ import annotations

import re
from typing import NamedTuple

SETTING = re.compile(r"(?ai:INT\.?/EXT|EXT\./INT|INT|EXT|EST|I/E)(?=[. ])\.? *")
_SPELLING = {"INT": "INT.", "EXT": "EXT.", "EST": "EST.", "INT/EXT": "INT./EXT.", "EXT/INT": "EXT./INT.", "I/E": "I/E."}
_DASH = re.compile(r"[-–—]+")
_NUMBER = re.compile(r"[.\-]*[^\W_](?:[^\W_]|[.\-])*")
_NEVER_IN_TIMES = re.compile(r"[^\w\s'’.,/&()+\-–—]")
_LONGEST_TIME = 80
_PARENTHESES = re.compile(r"\([^()]*\)")

# Common practice in the trade (C), and the words that go with them.
_TIMES = """
    DAY NIGHT MORNING AFTERNOON EVENING DAWN DUSK SUNRISE SUNSET CONTINUOUS LATER SAME
    NOON MIDDAY MIDNIGHT TWILIGHT DAYBREAK NIGHTFALL SUNDOWN SUNUP DAYTIME NIGHTTIME
"""
_GOING_WITH_TIMES = """
    A AN AND AT FEW THE THAT THIS NEXT FOLLOWING EARLY EARLIER LATE MID MOMENT MOMENTS MINUTE MINUTES SECOND SECONDS
    HOUR HOURS DAYS WEEK WEEKS MONTH MONTHS YEAR YEARS TIME FOR INTO TO BEFORE AFTER PRE STILL FIRST LAST SEVERAL SOME
    ONE TWO THREE FOUR FIVE SIX SEVEN EIGHT NINE TEN
"""
TIMES = frozenset(_TIMES.split())
_TIME_WORDS = TIMES.union(_GOING_WITH_TIMES.split())


class HeadingParts(NamedTuple):
    """The parts of a heading; a part it does not have is an empty string. `setting` is spelled INT., EXT., INT./EXT.,
    I/E. or EST. however it was typed; `place` and `time` are as typed."""

    setting: str
    place: str
    time: str


def heading_parts(text: str) -> HeadingParts:
    """`INT. FERRY - ENGINE ROOM - NIGHT` taken apart. A last part that is no time of day belongs to the place."""
    match = SETTING.match(text)
    setting, rest = "", text
    if match:
        setting = _SPELLING[match.group().upper().replace(".", "").strip()]
        rest = text[match.end() :]
    place, time = _time_apart(rest.strip())
    return HeadingParts(setting, place, time)


def _time_apart(rest: str) -> tuple[str, str]:
    """Place and time of day, the latter with each dash part at the end that is one: `NIGHT - LATER`."""
    time_start, place_end = len(rest), len(rest)
    for dash_start, dash_end in reversed(_dashes(rest)):
        if not is_time_of_day(rest[dash_end:place_end]):
            break
        time_start, place_end = dash_end, dash_start
    return rest[:place_end].strip(), rest[time_start:].strip()


def _dashes(text: str) -> list[tuple[int, int]]:
    """Where dashes part the text: longer ones anywhere, hyphens only next to a space, for others are within a word."""
    return [match.span() for match in _DASH.finditer(text) if _parts(text, *match.span())]


def _parts(text: str, start: int, end: int) -> bool:
    return start == 0 or text[start - 1].isspace() or text[end : end + 1].isspace() or text[start:end].strip("-") != ""


def is_time_of_day(part: str) -> bool:
    """Whether a part of a heading is one of the times met (C), with what may go with it: `EARLY MORNING`, `DAY 2`."""
    if len(part) > _LONGEST_TIME or _NEVER_IN_TIMES.search(part):
        return False
    known = False
    for word in re.findall(r"[^\W_]+", _PARENTHESES.sub(" ", part).upper()):
        known = known or word in TIMES
        if word not in _TIME_WORDS and not word.isdigit():
            return False
    return known


def without_number(text: str) -> tuple[str, str | None]:
    """A heading without the scene number at its end, and the number: letters, digits, dots and dashes between `#`."""
    if not text.endswith("#"):
        return text, None
    opening = text.rfind("#", 0, -1)
    if opening < 0 or not _NUMBER.fullmatch(text, opening + 1, len(text) - 1):
        return text, None
    return text[:opening].rstrip(), text[opening + 1 : -1]
