"""What the README says of the screens and the commands: that it leaves none of them out."""

from __future__ import annotations

from pathlib import Path

from review.management.commands import compare, inspect
from review.templatetags.sections import SECTIONS
from screenplay import compare as compare_scripts
from screenplay import lay_out, parse
from tests.factories import SCRIPT

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_every_screen_of_the_menu_is_told_of() -> None:
    screens = {label for label, *_ in SECTIONS} - {"Home"}
    assert screens > {"Script", "Scenes", "Voices"}
    assert {screen for screen in screens if f"**{screen}" not in README} == set()


def test_every_part_of_the_printed_json_is_told_of() -> None:
    script = parse(SCRIPT)
    inspected, compared = README.split("`inspect --json` prints")[1].split("`compare --json` prints")
    for said, printed in (
        (inspected, inspect.contents(lay_out(script))),
        (compared, compare.contents(compare_scripts(script, script))),
    ):
        assert {name for name in printed if f"`{name}`" not in said} == set()
