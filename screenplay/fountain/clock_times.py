"""Times by the clock in headings, in digits and in words, in the languages of `times_of_day`; when it is light then.

What is looked at is in capitals and without accents. Which hours are light is this project's own rule, which goes by
what the words do: morning and afternoon count as day, evening as night. Around sunrise and sunset an hour does not say.
"""

from __future__ import annotations

import re

AT_NIGHT, BY_DAY, AT_SOME_HOUR = "0NIGHT", "0DAY", "0CLOCK"  # words that stand for a time by the clock
_IN_WORDS = """
    ONE TWO THREE FOUR FIVE SIX SEVEN EIGHT NINE TEN ELEVEN TWELVE
    UNE DEUX TROIS QUATRE CINQ SIX SEPT HUIT NEUF DIX ONZE DOUZE
    EIN ZWEI DREI VIER FUNF SECHS SIEBEN ACHT NEUN ZEHN ELF ZWOLF
    UNA DOS TRES CUATRO CINCO SEIS SIETE OCHO NUEVE DIEZ ONCE DOCE
    UNA DUE TRE QUATTRO CINQUE SEI SETTE OTTO NOVE DIECI UNDICI DODICI
"""
HOUR_WORDS = {word: 1 + at % 12 for at, word in enumerate(_IN_WORDS.split())}
_BEFORE_NOON = {"MORNING", "MATIN", "MORGENS", "MANANA", "MATTINO", "MATTINA"}
_IN_THE_DARK = {"NIGHT", "NUIT", "NACHTS", "NOCHE", "MADRUGADA", "NOTTE"}
_AFTER_NOON = {"AFTERNOON", "EVENING", "APRES-MIDI", "SOIR", "NACHMITTAGS", "ABENDS", "TARDE", "POMERIGGIO", "SERA"}
_PART = (
    r"\s*(?:(?:IN THE|AT|DU|DE LA|DE L['’]|DEL|DELLA|DI) ?|(?=MORGENS|NACHTS|NACHMITTAGS|ABENDS))"
    rf"({'|'.join(sorted(_BEFORE_NOON | _IN_THE_DARK | _AFTER_NOON))})\b"
)
_PART_AFTER = re.compile(_PART)
# 3 A.M., 15H30, 3 UHR, THREE O'CLOCK, THREE IN THE MORNING, 0300 HOURS, 15:30, ORE 15; 2 HEURES PLUS TARD is a while.
_CLOCK = re.compile(
    rf"\b(?P<hour>\d{{1,2}}|{'|'.join(HOUR_WORDS)})(?:[:.H]\d{{2}})?(?:\s*(?P<meridiem>[AP])\.?\s?M\b\.?"
    r"|\s*O['’]?\s?CLOCK\b|\s*UHR\b|\s*(?:HEURES?|H)\b(?!\s+(?:PLUS|APRES|AVANT)\b)"
    rf"|(?=\s{_PART}))"
    r"|\b(?P<of_four>\d{2})\d{2}\s*(?:HRS|HOURS)\b|\b(?P<parted>\d{1,2})[:H]\d{2}\b|\bORE (?P<ore>\d{1,2})\b"
)
_STILL_DARK, _FIRST_LIGHT, _LAST_LIGHT, _DARK = 4, 7, 17, 20  # hours of the day
_SMALL_HOURS = 6  # those called at night come before it, the others in the evening


def with_clock_times(text: str) -> str:
    """A part of a heading with one of the three words in the place of each time by the clock."""
    return _CLOCK.sub(lambda clock: f" {_word_for(clock)} ", text)


def _word_for(clock: re.Match[str]) -> str:
    said = clock["hour"] or clock["of_four"] or clock["parted"] or clock["ore"]
    hour = _of_twenty_four(said, clock)
    if hour is None:
        return AT_SOME_HOUR
    if hour < _STILL_DARK or hour >= _DARK:
        return AT_NIGHT
    return BY_DAY if _FIRST_LIGHT <= hour < _LAST_LIGHT else AT_SOME_HOUR


def _of_twenty_four(said: str, clock: re.Match[str]) -> int | None:
    """The hour from 0 to 23, None where it may be either of two."""
    hour = HOUR_WORDS.get(said) or int(said)
    after = _PART_AFTER.match(clock.string, clock.end())
    part = after[1] if after else ""
    if clock["meridiem"] == "A" or part in _BEFORE_NOON:
        return hour % 12
    if clock["meridiem"] == "P" or part in _AFTER_NOON:
        return hour % 12 + 12
    if part:
        return hour % 12 if hour % 12 < _SMALL_HOURS else hour % 12 + 12
    return hour % 24 if hour > 12 or said.startswith("0") else None
