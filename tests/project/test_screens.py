"""A screen's view, its template and its test share one name, so that any of them is found at the first guess."""

from __future__ import annotations

from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
SCREENS = sorted(
    (path.parents[1].name, path.stem) for path in (HOUSE / "review").glob("*/views/*.py") if path.stem != "__init__"
)
MOST_COLUMNS = 200  # of a template, whose lines are broken where white space shows nothing
# They answer with a file, with the note's card and page, to a page's script, or lead back to where one came from.
WITHOUT_A_TEMPLATE = {
    ("news", "news"),
    ("script", "script_news"),
    ("printing", "download"),
    ("notes_screen", "decision"),
    ("notes_screen", "reply"),
    ("people", "links_told"),
}


def test_there_are_screens() -> None:
    assert len(SCREENS) > 25


@pytest.mark.parametrize(("room", "screen"), SCREENS)
def test_each_screen_has_its_test(room: str, screen: str) -> None:
    assert (HOUSE / "tests" / "review" / room / f"test_{screen}.py").exists()


@pytest.mark.parametrize(("room", "screen"), sorted({*SCREENS} - WITHOUT_A_TEMPLATE))
def test_each_screen_has_its_template(room: str, screen: str) -> None:
    name = f"{room}/{screen}.html"
    assert (HOUSE / "templates" / name).exists()
    assert f'"{name}"' in (HOUSE / "review" / room / "views" / f"{screen}.py").read_text(encoding="utf-8")


def test_each_template_is_shown_or_included_somewhere() -> None:
    names = {path.relative_to(HOUSE / "templates").as_posix() for path in (HOUSE / "templates").rglob("*.html")}
    ours = {name for name in names if (HOUSE / "review" / name.split("/")[0]).is_dir()}
    told = "".join(
        path.read_text(encoding="utf-8")
        for folder, kind in (("review", "*.py"), ("templates", "*.html"))
        for path in (HOUSE / folder).rglob(kind)
    )
    assert {name for name in ours if f'"{name}"' not in told} == set()


def test_no_line_of_a_template_is_too_long_to_read() -> None:
    lines = {
        f"{path.relative_to(HOUSE).as_posix()}:{number}": len(line)
        for path in (HOUSE / "templates").rglob("*.html")
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
    }
    assert lines
    assert {place: length for place, length in lines.items() if length > MOST_COLUMNS} == {}
