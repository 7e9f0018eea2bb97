"""Two pages drawn and counted by hand, held against what is laid out.

Source: common practice in the trade, as the fixture says it; the pages, the ruler and the count are made by hand, from
the columns and lines that a format guide gives (tests/outside/test_page_facts.py names them).
"""

from __future__ import annotations

import re
from pathlib import Path

from screenplay import paginate, parse
from screenplay.fountain import plain
from screenplay.script import headings_of

COUNTED = (Path(__file__).parent / "counted_pages.txt").read_text(encoding="utf-8")
_, SCRIPT, PAGES, COUNT = re.split(r"^== [\w ]+ ==\n\n", COUNTED, flags=re.MULTILINE)


def test_each_line_stands_on_the_page_where_it_was_drawn() -> None:
    drawn = [
        [line.partition("|")[2].removeprefix(" ") for line in page.splitlines()[1:] if "|" in line]
        for page in PAGES.split("page ")[1:]
    ]
    assert [[row.text.rstrip() for row in page.rows] for page in paginate(parse(SCRIPT)).pages] == drawn


def test_each_scene_has_the_eighths_that_were_counted() -> None:
    counted = re.findall(r"^(\S.*?) {2,}.* (\d)/8$", COUNT, flags=re.MULTILINE)
    script = parse(SCRIPT)
    headings = [plain(heading.printed) for heading in headings_of(script)]
    assert [*zip(headings, paginate(script).scene_eighths, strict=True)] == [
        (heading, int(eighths)) for heading, eighths in counted
    ]
