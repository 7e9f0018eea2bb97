"""The style sheets: each colour named once, a paper for each revision colour, and for each screen what it needs."""

from __future__ import annotations

import re
from fnmatch import filter as matching
from functools import cache
from pathlib import Path

import pytest

from screenplay.tints import TINTS

HOUSE = Path(__file__).resolve().parents[2]
SHEETS, TEMPLATES = HOUSE / "static" / "css", HOUSE / "templates"
TOKENS = SHEETS / "tokens.css"
# The ways to write a colour out (https://www.w3.org/TR/css-color-4/#color-syntax), or to mix it from others.
COLOUR = re.compile(r"#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color|color-mix)\(", re.IGNORECASE)

LINKED = re.compile(r'{% static "css/([\w/-]+\.css)" %}')
INCLUDED = re.compile(r'{% (?:include|extends) "([^"]+)"')
TAGS = re.compile(r"{% (\w+)")
CLASSES = re.compile(r'\bclass="((?:[^"{]|{%.*?%}|{{.*?}})*)"', re.DOTALL)
BY_A_VIEW = {
    "changes/changes.html": ["changes/changes_body.html", "changes/changes_beside.html"]
}  # shown by more than an include
HTMX = "django_htmx/htmx-2.min.js"
SCREENS = sorted(
    path.relative_to(TEMPLATES).as_posix()
    for path in TEMPLATES.rglob("*.html")
    if '{% extends "base.html" %}' in path.read_text(encoding="utf-8")
)


@cache
def template(name: str) -> str:
    return (TEMPLATES / name).read_text(encoding="utf-8")


@cache
def tags_with_templates() -> dict[str, str]:
    """The template of each tag that shows one, by the tag's name."""
    code = "".join(path.read_text(encoding="utf-8") for path in (HOUSE / "review" / "templatetags").glob("*.py"))
    return {name: shown for shown, name in re.findall(r'inclusion_tag\("([^"]+)".*?\)\ndef (\w+)', code)}


def shown_with(name: str, seen: set[str] | None = None) -> set[str]:
    """The names of a template and of all that it includes, whatever the conditions."""
    seen = set() if seen is None else seen
    if name not in seen and (TEMPLATES / name).is_file():
        seen.add(name)
        words = template(name)
        for other in INCLUDED.findall(words) + BY_A_VIEW.get(name, []):
            shown_with(other, seen)
        for tag in TAGS.findall(words):
            shown_with(tags_with_templates().get(tag, ""), seen)
    return seen


@cache
def classes_of(sheet: str) -> set[str]:
    rules = re.sub(r"/\*.*?\*/", "", (SHEETS / sheet).read_text(encoding="utf-8"), flags=re.DOTALL)
    return {
        name for selector in re.findall(r"([^{}]+){", rules) for name in re.findall(r"\.([a-zA-Z][\w-]*)", selector)
    }


@cache
def every_class() -> tuple[str, ...]:
    return tuple(
        sorted({name for sheet in SHEETS.rglob("*.css") for name in classes_of(str(sheet.relative_to(SHEETS)))})
    )


def test_a_colour_is_written_out_among_the_tokens_alone() -> None:
    found = {
        sheet.relative_to(SHEETS).as_posix(): COLOUR.findall(sheet.read_text(encoding="utf-8"))
        for sheet in sorted(SHEETS.rglob("*.css"))
        if sheet != TOKENS
    }
    assert len(found) == len(list(SHEETS.rglob("*.css"))) - 1 > 10
    assert {sheet: colours for sheet, colours in found.items() if colours} == {}


def test_the_screens_have_a_paper_for_each_revision_colour() -> None:
    papers = re.findall(r"\.tint-(\w+) \{", TOKENS.read_text(encoding="utf-8"))
    assert papers == list(TINTS)


def test_no_sheet_waits_for_another() -> None:
    assert [sheet.name for sheet in SHEETS.rglob("*.css") if "@import" in sheet.read_text(encoding="utf-8")] == []


@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_links_the_sheets_that_its_classes_are_in_and_no_other(screen: str) -> None:
    shown = "".join(template(name) for name in shown_with(screen) if name != "base.html")
    said = [re.sub(r"{{.*?}}", "*", re.sub(r"{%.*?%}", " ", each)) for each in CLASSES.findall(shown)]
    used = {word for each in said for word in each.split()} - {"*"}
    linked = {*LINKED.findall(template(screen))}
    styled = {name for sheet in {*LINKED.findall(template("base.html"))} | linked for name in classes_of(sheet)}
    assert {word for word in used if matching(every_class(), word) and not matching(styled, word)} == set()
    name = re.search(r"{% block screen %}([\w-]+)", template(screen))
    used.add(f"screen-{name[1]}" if name else "screen-plain")
    assert {sheet for sheet in linked if not any(matching(classes_of(sheet), word) for word in used)} == set()


@pytest.mark.parametrize("screen", SCREENS)
def test_htmx_comes_with_the_screens_that_use_it(screen: str) -> None:
    shown = "".join(template(name) for name in shown_with(screen) if name != "base.html")
    assert bool(re.search(r"\bhx-(?:get|post)=", shown)) == (HTMX in template(screen))


def test_the_screenplays_face_is_used_as_soon_as_it_is_there_and_others_from_the_next_page_on() -> None:
    faces = re.findall(r"@font-face {.*?}", (SHEETS / "fonts.css").read_text(encoding="utf-8"), re.DOTALL)
    said = {
        (name, shown)
        for face in faces
        for name, shown in re.findall(r'family: "(.*?)".*display: (\w+)', face, re.DOTALL)
    }
    assert said == {
        ("Courier Prime", "swap"),
        ("Literata", "optional"),
        ("Atkinson Hyperlegible Next", "optional"),
    }


def test_a_screen_that_sets_pages_asks_for_their_face_at_once() -> None:
    sheet = "css/screens/script.css"
    set_pages = {screen for screen in SCREENS if sheet in template(screen)}
    assert {"script/script_page.html", "readings/reading_scene.html", "next_draft/scene.html"} <= set_pages
    asks = "shared/page_typeface.html"
    assert "courier-prime-latin-400-normal.woff2" in template(asks)
    assert {name for name in set_pages if f'include "{asks}"' not in template(name)} == set()
