"""What a scene heading says (F2, F4): setting, place, time of day, what follows that, and scene number."""

from __future__ import annotations

import re
from typing import NamedTuple

from screenplay.fountain.dashes import DASHES, HYPHENS
from screenplay.fountain.times_of_day import is_like_a_time_of_day, is_plainly_a_time_of_day, is_time_of_day

SETTING = re.compile(r"(?ai:INT\.?/EXT|EXT\./INT|INT|EXT|EST|I/E)(?=[. ])\.? *")
_BOTH = re.compile(r"(?ai:INT\.? ?[/-] ?EXT|EXT\.? ?[/-] ?INT)(?=[. ])\.? *")  # INT. / EXT. too, once it is a heading
_SPELLING = {"INT": "INT.", "EXT": "EXT.", "EST": "EST.", "INT/EXT": "INT./EXT.", "EXT/INT": "EXT./INT.", "I/E": "I/E."}
# What parts a heading: dashes; and where no dash does, strokes, and full stops and other marks before a space.
_DASH = re.compile(rf"[{DASHES}]+")
_DASH_OR_STOP = re.compile(rf"[{DASHES}]+|[.,;:]+(?=\s)|[/|•~]+")
_PART_OF_A_WORD = frozenset({"ALL", "MID", "EVERY"})  # ALL-NIGHT
_DASH_APART = re.compile(rf" [{DASHES}]+ ")
# Other ways to type a setting, a scene's number before it, and other languages' (common practice; from memory).
_LIKE_A_SETTING = re.compile(
    r"(?:\d+[A-Z]*[. ]+)?(?:INT|EXT|EST|I\.?/?E|E/I|INTERIOR|EXTERIOR|ESTABLISHING|INT[ÉE]RIEUR|EXT[ÉE]RIEUR|INNEN"
    r"|AUSSEN|AUßEN|INTERNO|ESTERNO)\b"
)
_NUMBER = re.compile(r"[.\-]*[^\W_](?:[^\W_]|[.\-])*")
_ABBREVIATED = re.compile(r"(?i:\b(?:mr|mrs|ms|dr|st|ste|prof|capt|sgt|no|nr|sr|sra|mme|fr|sig|[ap]\.?\s?m))$")
_LONGEST_ABBREVIATION = 6
_WITHIN_PARENTHESES = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_IN_PARENTHESES = re.compile(r"[(\[]([^()\[\]]*)[)\]]$")
# PHONE BOX / INT. COTTAGE, PHONE BOX - INTERCUT WITH INT. COTTAGE (common practice). All that may part two settings is
# taken at once, and what follows it looked at after, so that the time for it is in proportion to its length.
_BETWEEN_SETTINGS = re.compile(rf"(?:[{DASHES}\s/&+,:]|\b(?ai:AND|INTERCUT|BETWEEN|WITH)\b)++")
_NEXT_SETTING = re.compile(r"(?ai:INT|EXT|EST|I/E)[. /]")


class HeadingFields(NamedTuple):
    """What a heading says; a field it does not have is an empty string. `setting` is spelled INT., EXT., INT./EXT.,
    I/E. or EST. however it was typed; `place`, `time` and `remark`, which is what follows the time, are as typed."""

    setting: str
    place: str
    time: str
    remark: str


def heading_fields(text: str) -> HeadingFields:
    """`INT. FERRY - ENGINE ROOM - NIGHT - FLASHBACK` taken apart. With no time of day in it, all is the place."""
    match = SETTING.match(text) and (_BOTH.match(text) or SETTING.match(text))
    setting, rest = "", text
    if match:
        setting = _SPELLING["/".join(re.findall(r"[A-Z]+", match.group().upper()))]
        rest = text[match.end() :]
    return _fields(setting, rest)


def setting_fields(place: str) -> list[HeadingFields]:
    """A heading's place taken apart by its settings, at least one: `PHONE BOX - DAY / INT. COTTAGE` has PHONE BOX by
    DAY, and COTTAGE in INT. The first has no setting, for that stands before the place. Of one with no other setting in
    it all is the place.

    A setting without a place is left out where another has one. Where none has, as long as the places are still to be
    named, those of `DAY / EXT.` are one by DAY and one in EXT.; and if there is no time in them either, they are one.
    """
    first, *more = _by_settings(place)
    if not more:
        return [HeadingFields("", place, "", "")]
    found = [_fields("", first), *map(heading_fields, more)]
    if named := [each for each in found if each.place]:
        return named
    return (
        [each for each in found if any(each)] if any(each.time for each in found) else [HeadingFields("", "", "", "")]
    )


def setting_places(place: str) -> list[str]:
    """The places of a heading's place, of which there are several where it has several settings: PHONE BOX and COTTAGE
    of `PHONE BOX / INT. COTTAGE`. Times of day within are left out; a place that is still to be named is empty."""
    return [each.place for each in setting_fields(place)]


def _by_settings(place: str) -> list[str]:
    """A heading's place in pieces, each but the first of which begins with a setting."""
    between = (
        match
        for match in _BETWEEN_SETTINGS.finditer(place)
        if not match[0].isspace() and _NEXT_SETTING.match(place, match.end())
    )
    spans = [match.span() for match in between]
    starts = [0, *(end for _, end in spans)]
    ends = [*(start for start, _ in spans), len(place)]
    return [place[start:end] for start, end in zip(starts, ends, strict=True)]


def _fields(setting: str, rest: str) -> HeadingFields:
    return HeadingFields(setting, *_time_apart(rest.strip().strip("/").strip()))


def _time_apart(rest: str) -> tuple[str, str, str]:
    """Place, time of day and remark. Times in a row are one: `NIGHT - LATER`.

    Time is the last part that may be one, but the first where that alone may: `NIGHT - QUAY`.
    """
    for pattern in (_DASH, _DASH_OR_STOP):
        parts = _parts(rest, pattern)
        texts = [rest[start:end] for start, end in parts]
        is_time = [is_time_of_day(text) or (at > 0 and is_like_a_time_of_day(text)) for at, text in enumerate(texts)]
        if any(is_time):
            last = len(parts) - 1 - is_time[::-1].index(True)
            first = last
            while first > 1 and is_time[first - 1]:
                first -= 1
            return _around(rest, parts, first, last)
    if (at_end := _IN_PARENTHESES.search(rest)) and is_time_of_day(at_end[1]):
        return rest[: at_end.start()].rstrip().rstrip(f" {DASHES}"), at_end[1].strip(), ""
    return _time_behind_hyphen(rest)


def _time_behind_hyphen(rest: str) -> tuple[str, str, str]:
    """`KITCHEN-NIGHT`, where nothing else is a time and the spaces were left out."""
    place, hyphen, last = rest.rpartition("-")
    if hyphen and is_plainly_a_time_of_day(last) and re.split(r"[\s-]", place)[-1].upper() not in _PART_OF_A_WORD:
        return place.rstrip(), last, ""
    return rest, "", ""


def _around(rest: str, parts: list[tuple[int, int]], first: int, last: int) -> tuple[str, str, str]:
    """What stands before the times, the times themselves and what follows; the place comes after them if not before."""
    place = rest[parts[0][0] : parts[first - 1][1]].strip() if first else ""
    time = rest[parts[first][0] : parts[last][1]].rstrip()
    end = parts[last + 1][0] if last + 1 < len(parts) else len(rest)
    if at_end := _IN_PARENTHESES.search(time):
        end = parts[first][0] + at_end.start()
        time = time[: at_end.start()]
    time, remark = _without_stop(time.strip()), _without_stop(rest[end:].strip())
    return (place, time, remark) if place else (remark, time, "")


def _without_stop(text: str) -> str:
    """A part without the full stops at its end, unless that is one of its own: `3 A.M.`."""
    return text if _ABBREVIATED.search(text.removesuffix(".")[-_LONGEST_ABBREVIATION:]) else text.rstrip(".")


def _parts(text: str, pattern: re.Pattern[str]) -> list[tuple[int, int]]:
    """Where the parts of a text start and end. A hyphen parts it only next to a space, for others are within a word,
    and a full stop only where it abbreviates nothing; nothing does within parentheses: DAY (FLASHBACK - 1974)."""
    outside = _WITHIN_PARENTHESES.sub(lambda within: "_" * len(within[0]), text)
    cuts = [match.span() for match in pattern.finditer(outside) if _cuts(text, *match.span())]
    starts = [0, *(end for _, end in cuts)]
    ends = [*(start for start, _ in cuts), len(text)]
    return [(start, end) for start, end in zip(starts, ends, strict=True) if text[start:end].strip()]


def _cuts(text: str, start: int, end: int) -> bool:
    sign = text[start:end]
    if sign == ".":
        return not _ABBREVIATED.search(text[max(start - _LONGEST_ABBREVIATION, 0) : start])
    return sign.strip(HYPHENS) != "" or start == 0 or text[start - 1].isspace() or text[end : end + 1].isspace()


def may_be_meant_as_a_heading(text: str) -> bool:
    """Whether a line in capitals that is none has a place and a time of day: `EXT/INT. CAR - DAY`, `KITCHEN - NIGHT`.
    One with a colon, `CAPTION: BERGEN - NIGHT`, has to begin as a heading does."""
    if not (begins := _LIKE_A_SETTING.match(text)) and (":" in text or not _DASH_APART.search(text)):
        return False
    fields = heading_fields(text[begins.end() :] if begins else text)
    return bool(fields.place and fields.time)


def without_number(text: str) -> tuple[str, str | None]:
    """A heading without the scene number at its end, and the number: letters, digits, dots and dashes between `#`."""
    if not text.endswith("#"):
        return text, None
    opening = text.rfind("#", 0, -1)
    if opening < 0 or not _NUMBER.fullmatch(text, opening + 1, len(text) - 1):
        return text, None
    return text[:opening].rstrip(), text[opening + 1 : -1]
