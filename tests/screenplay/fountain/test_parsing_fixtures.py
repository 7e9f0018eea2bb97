"""The Fountain standard, rule by rule, as the text files in `fixtures` have it: a script on the left of the bar, and on
its right what each line of it is.

Source: the standard (fountain.io/syntax), restated from memory, with what is decided where it leaves room.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from screenplay import parse
from screenplay.fountain import runs
from screenplay.model import Block, Heading, Speech

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from screenplay.model import Element, Printed, Run, Screenplay

FIXTURES = Path(__file__).parents[1] / "fixtures"
SIGNS = str.maketrans({"␣": " ", "⇥": "\t", "⎀": "\ufeff"})
LINE_ENDS = {"␍␊": "\r\n", "␍": "\r", "": "\n"}


@dataclass(frozen=True)
class Expected:
    """A source line of a case and what is said about it: (word, value) pairs, the first of them the kind."""

    text: str
    kind: str
    said: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Case:
    rule: str
    title: str
    lines: tuple[Expected, ...]

    @property
    def text(self) -> str:
        return re.sub(r"(?:\r\n|\r|\n)\Z", "", "".join(line.text for line in self.lines))


def cases() -> Iterator[Case]:
    for path in sorted(FIXTURES.glob("F*.txt")):
        rule = f"F{int(path.name[1:3])}"
        for part in path.read_bytes().decode("utf-8").split("\n--- ")[1:]:
            title, _, rows = part.partition("\n")
            yield Case(rule, title, tuple(expected(row) for row in rows.split("\n") if row))


def expected(row: str) -> Expected:
    source, _, said = row.rpartition("|")
    text, end = re.fullmatch(r"(.*?)(␍?␊?)", source.rstrip(" "), re.DOTALL).groups()  # type: ignore[union-attr]
    kind, *facts = (part.strip() for part in re.split(r";(?= |\Z)", said.removeprefix(" ")))
    prints = re.search(r"; prints( ?)([^;]*(?:;(?! )[^;]*)*)", said)
    pairs = [(word, value) for word, _, value in (fact.partition(" ") for fact in facts) if word != "prints"]
    if prints:
        pairs.append(("prints", prints.group(2)))
    return Expected(text.translate(SIGNS) + LINE_ENDS[end], kind, tuple(pairs))


CASES = list(cases())


@pytest.mark.parametrize("case", CASES, ids=[f"{case.rule}: {case.title}" for case in CASES])
def test_a_case_is_read_as_its_fixture_says(case: Case) -> None:
    screenplay = parse(case.text)

    assert [str(kind) for kind in screenplay.kinds] == [line.kind for line in case.lines]
    for number, line in enumerate(case.lines, start=1):
        warned = Counter(warning.rule for warning in screenplay.warnings if warning.line == number)
        assert warned == Counter(value for word, value in line.said if word == "warns"), f"warnings on line {number}"
        for word, values in grouped(line.said).items():
            assert FACTS[word](screenplay, number) == values, f"{word} on line {number}"


def grouped(said: tuple[tuple[str, str], ...]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for word, value in said:
        if word != "warns":
            found.setdefault(word, []).append(value)
    return found


def element_of(screenplay: Screenplay, number: int) -> Element:
    return next(one for one in screenplay.elements if one.first_line <= number <= one.last_line)


def printed_of(screenplay: Screenplay, number: int) -> Printed:
    element = element_of(screenplay, number)
    if isinstance(element, Heading):
        return element.printed
    lines = (element.cue, *element.lines) if isinstance(element, Speech) else element.lines
    return next(line for line in lines if line.line == number)


def heading_of(screenplay: Screenplay, number: int) -> Heading:
    element = element_of(screenplay, number)
    assert isinstance(element, Heading)
    return element


def speech_of(screenplay: Screenplay, number: int) -> Speech:
    element = element_of(screenplay, number)
    assert isinstance(element, Speech)
    return element


def block_of(screenplay: Screenplay, number: int) -> Block:
    element = element_of(screenplay, number)
    assert isinstance(element, Block)
    return element


def tagged(run: Run) -> str:
    text = run.text
    for tag, on in (("u", run.underline), ("i", run.italic), ("b", run.bold)):
        text = f"<{tag}>{text}</{tag}>" if on else text
    return text


def styled(screenplay: Screenplay, number: int) -> list[str]:
    """The line's runs as tags; two of one style are parted only where something stands between them in the source."""
    text = "".join(tagged(run) for run in runs(printed_of(screenplay, number)))
    return [re.sub(r"((?:</[biu]>)+)((?:<[biu]>)+)", without_a_seam, text).rstrip(" ")]


def without_a_seam(match: re.Match[str]) -> str:
    closed, opened = re.findall(r"\w", match.group(1)), re.findall(r"\w", match.group(2))
    return "" if closed == opened[::-1] else match.group()


def title_values(screenplay: Screenplay, number: int) -> list[str]:
    return [value for entry in screenplay.title_page if entry.first_line == number for value in entry.values]


FACTS: dict[str, Callable[[Screenplay, int], list[str]]] = {
    "prints": styled,
    "at": lambda screenplay, number: [str(printed_of(screenplay, number).source_offset(0))],
    "number": lambda screenplay, number: [heading_of(screenplay, number).number or ""],
    "setting": lambda screenplay, number: [heading_of(screenplay, number).setting],
    "place": lambda screenplay, number: [heading_of(screenplay, number).place],
    "time": lambda screenplay, number: [heading_of(screenplay, number).time],
    "remark": lambda screenplay, number: [heading_of(screenplay, number).remark],
    "name": lambda screenplay, number: [speech_of(screenplay, number).name],
    "extension": lambda screenplay, number: list(speech_of(screenplay, number).extensions),
    "dual": lambda screenplay, number: [""] if speech_of(screenplay, number).dual else [],
    "under": lambda screenplay, number: [str(speech_of(screenplay, number).first_line)],
    "level": lambda screenplay, number: [str(block_of(screenplay, number).level)],
    "key": lambda screenplay, number: [one.key for one in screenplay.title_page if one.first_line == number],
    "value": title_values,
}


def test_every_rule_of_the_standard_has_cases() -> None:
    assert {case.rule for case in CASES} == {f"F{number}" for number in range(1, 25)}


def test_every_kind_of_line_stands_in_a_fixture() -> None:
    from screenplay.model import Kind

    assert {line.kind for case in CASES for line in case.lines} == {str(kind) for kind in Kind}
