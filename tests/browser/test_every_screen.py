"""Every screen as everybody who may see it: axe-core finds nothing, and nothing is wider than the
screen, nor than a narrow one or with large text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse

from tests.browser.reach import (
    DESK_BY_DAY_PHONE_BY_NIGHT,
    DESK_BY_NIGHT_PHONE_BY_DAY,
    LOOKED_AT,
    show_in,
    what_shuts_out,
    width_needed,
)
from tests.review.house import build_house
from tests.review.who_gets_what import EVERYBODY, EXPECTED, OPEN, PARTS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from playwright.sync_api import Page
    from pytest_django.live_server_helper import LiveServer

    from tests.review.house import House

LOOKS = (DESK_BY_DAY_PHONE_BY_NIGHT, DESK_BY_NIGHT_PHONE_BY_DAY)
# WCAG 2.2, 1.4.10 (reflow at 320 CSS pixels) and 1.4.4 (text at 200 %).
NARROW = ((320, "100%"), (390, "200%"))
# For two workers at a time, as the whole would be the longest test of all.
NAMES = tuple(PARTS)
HALF = NAMES.index("talks")
MORE = {"script-find": "?word=lamp", "note-new": "?from=6&to=6"}
ELEMENT = re.compile(rb'<(\w+)(?: class="([^"]*)")?')


def sights(house: House, names: Iterable[str]) -> Iterator[tuple[str, str, bool]]:
    """Who sees which of these addresses, and whether that is the first sight of it; what is made of the same elements
    as another's sight of it is left out."""
    for name in names:
        seen: set[frozenset[Any]] = set()
        for who in EVERYBODY:
            if EXPECTED[name][who][0] != OPEN:
                continue
            address = reverse(name, kwargs=house.sample(name)) + MORE.get(name, "")
            response = house.client(who).get(address)
            _, main, inside = response.content.partition(b"<main")
            made_of = frozenset(ELEMENT.findall(inside))
            if main and "Content-Disposition" not in response and made_of not in seen:
                yield who, address, not seen
                seen.add(made_of)


@pytest.mark.parametrize("names", [NAMES[:HALF], NAMES[HALF:]], ids=("first_half", "second_half"))
def test_no_screen_shuts_anybody_out_at_a_desk_or_on_a_phone_by_day_or_by_night(
    visit: Callable[..., Page], live_server: LiveServer, names: tuple[str, ...]
) -> None:
    house = build_house()
    page = visit(None, "about:blank", **LOOKED_AT)
    wrong = []
    for ordinal, (who, address, is_first) in enumerate(sights(house, names)):
        page.context.clear_cookies()
        if session := house.client(who).cookies.get("sessionid"):
            page.context.add_cookies([{"name": "sessionid", "value": session.value, "url": live_server.url}])
        both = LOOKS[ordinal % 2]
        looks = both if is_first else both[ordinal // 2 % 2 :][:1]
        show_in(page, looks[0])
        page.goto(address)
        for look in looks:
            if look != looks[0]:
                show_in(page, look)
            if found := what_shuts_out(page):
                wrong.append(f"{who}, {look}: {found}")
        for width, text in NARROW if is_first else ():
            if (needed := width_needed(page, width, text)) > width:
                wrong.append(f"{who}, {width} pixels, text at {text}: {page.url} is {needed} wide")
    show_in(page, "desk-light")
    assert not wrong, "\n".join(wrong)
