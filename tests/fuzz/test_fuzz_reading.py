"""Any text at all, read and laid out: a fuzz target, one round among the other tests and for longer by hand.

For five minutes, with new texts every time:

    FUZZ_MINUTES=5 python -m pytest tests/fuzz

A text that breaks a law is shown as small as hypothesis can make it, and is tried first from then on.
"""

from __future__ import annotations

import os
from itertools import pairwise
from time import monotonic
from typing import TYPE_CHECKING

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from screenplay import Kind, PageSetting, PaperSize, lay_out, paginate, parse, voices
from screenplay.fountain import plain, runs
from screenplay.model import Block, Heading, Speech
from screenplay.script import lines_of
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay import Screenplay
    from screenplay.model import Element, Printed
    from screenplay.page import Layout

MINUTES = float(os.environ.get("FUZZ_MINUTES", "0"))
TEXTS_A_ROUND = 40

# Several texts as one are longer than any that hypothesis draws by itself, and run over several pages.
long_text = st.builds(
    lambda texts, times: "\n\n".join(texts * times), st.lists(any_text, max_size=4), st.integers(1, 9)
)


def test_any_text_is_read_and_laid_out_by_the_laws() -> None:
    end = monotonic() + MINUTES * 60
    some_texts_keep_the_laws()
    while monotonic() < end:
        some_texts_keep_the_laws()


@settings(max_examples=TEXTS_A_ROUND, suppress_health_check=list(HealthCheck))
@given(long_text, st.sampled_from(PaperSize))
def some_texts_keep_the_laws(text: str, paper: PaperSize) -> None:
    screenplay = parse(text)
    keeps_the_source(screenplay, text)
    keeps_each_place(screenplay)
    keeps_the_pages(screenplay, paginate(screenplay, PageSetting(paper)))
    keeps_the_figures(screenplay)


def keeps_the_source(screenplay: Screenplay, text: str) -> None:
    assert "".join(screenplay.source) == text
    assert len(screenplay.kinds) == len(screenplay.scene_of) == len(screenplay.source)
    for before, after in pairwise([*screenplay.title_page, *screenplay.elements]):
        assert before.first_line <= before.last_line < after.first_line <= after.last_line


def keeps_each_place(screenplay: Screenplay) -> None:
    for printed in all_printed(screenplay):
        source = screenplay.source[printed.line - 1]
        found = runs(printed)
        assert "".join(run.text for run in found) == plain(printed)
        for run in found:
            assert source[run.start : run.start + len(run.text)].replace("\t", " ") == run.text


def keeps_the_pages(screenplay: Screenplay, layout: Layout) -> None:
    shown: dict[int, str] = {}
    for page in layout.pages:
        assert 0 < len(page.rows) <= layout.paper.lines
        for cell in (cell for row in page.rows for cell in row.cells if cell.line is not None):
            assert cell.line is not None
            shown[cell.line] = shown.get(cell.line, "") + cell.text
    expected = {printed.line: plain(printed) for printed in all_printed(screenplay) if prints(printed)}
    assert {line: without_space(text) for line, text in shown.items()} == {
        line: without_space(text) for line, text in expected.items() if without_space(text)
    }


def keeps_the_figures(screenplay: Screenplay) -> None:
    pages = lay_out(screenplay)
    assert len(lines_of(screenplay, pages.layout)) == len(screenplay.source)
    assert all(scene.eighths >= 1 for scene in pages.scenes)
    assert {voice.name for voice in voices(pages)} <= {character.name for character in pages.characters}
    assert all(1 <= warning.line <= len(screenplay.source) for warning in screenplay.warnings)


def all_printed(screenplay: Screenplay) -> Iterator[Printed]:
    return (printed for element in screenplay.elements for printed in printed_of(element))


def printed_of(element: Element) -> tuple[Printed, ...]:
    match element:
        case Heading():
            return (element.printed,)
        case Speech():
            return (element.cue, *element.lines)
        case Block():
            return element.lines


def prints(printed: Printed) -> bool:
    return printed.kind not in {Kind.SECTION, Kind.SYNOPSIS, Kind.PAGE_BREAK}


def without_space(text: str) -> str:
    return "".join(text.split())
