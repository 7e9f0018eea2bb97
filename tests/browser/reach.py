"""What every screen keeps: it shuts nobody out and fits, at a desk as on a phone, by day as by night."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Any
from weakref import WeakKeyDictionary

import axe_playwright_python
import pytest
from django.templatetags.static import static

from tests.browser.conftest import DESK, PHONE, TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from playwright.sync_api import CDPSession, Page

SIZES: dict[str, dict[str, Any]] = {"desk": {"viewport": DESK}, "phone": TOUCH}
# The policy of the pages is off, as it refuses the styles by which axe-core measures.
LOOKS = {
    f"{size}-{scheme}": {**SIZES[size], "color_scheme": scheme, "bypass_csp": True}
    for size, scheme in product(SIZES, ("light", "dark"))
}
LOOKED_AT = LOOKS["desk-light"]  # how a page is opened that will be shown in other looks
# Both sizes and both schemes are in two looks, and no screen needs all four.
DESK_BY_DAY_PHONE_BY_NIGHT = ("desk-light", "phone-dark")
DESK_BY_NIGHT_PHONE_BY_DAY = ("desk-dark", "phone-light")
AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
OPTIONS = {"preload": False, "resultTypes": ["violations"]}
# Each rule that is broken, its impact, and where. Where takes long to work out, so that is done only once there is
# something to tell. Contrast takes longest, so of the texts that are set alike on the same grounds one is looked at.
FINDING = """async ([address, options]) => {
    if (!globalThis.axe) {
        const script = Object.assign(document.createElement("script"), { src: address });
        await new Promise((come, fail) => {
            Object.assign(script, { onload: come, onerror: fail });
            document.head.append(script);
        });
    }
    const grounds = new Map([[null, ""]]);
    const ground = (element) => {
        if (!grounds.has(element)) {
            const { backgroundColor, backgroundImage, opacity, position } = getComputedStyle(element);
            const own = [backgroundColor, backgroundImage, opacity, position].join();
            const under = ground(element.parentElement);
            grounds.set(element, own === "rgba(0, 0, 0, 0),none,1,static" ? under : `${under}|${own}`);
        }
        return grounds.get(element);
    };
    const setting = (element) => {
        const { color, fontSize, fontWeight } = getComputedStyle(element);
        return [color, fontSize, fontWeight, ground(element)].join();
    };
    const isRead = (element) => element.checkVisibility() && !element.matches("option, :disabled, :disabled *")
        && (element.matches("input, select, textarea")
            || [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.data.trim()));
    const read = [...document.body.querySelectorAll("*")].filter(isRead);
    const one = new Set(new Map(read.map((element) => [setting(element), element])).values());
    for (const element of read) element.toggleAttribute("data-one-of-its-setting", one.has(element));
    axe.configure({ rules: [{ id: "color-contrast", selector: "[data-one-of-its-setting]" }] });
    const found = await axe.run(document, { ...options, selectors: false });
    const wide = document.documentElement.scrollWidth > innerWidth ? ["it is wider than the screen"] : [];
    if (!found.violations.length) return wide;
    const { violations } = await axe.run(document, options);
    const told = violations.length ? violations : found.violations;
    return [...told.map(({ id, impact, help, nodes }) =>
        `${id} (${impact}): ${help}: ${nodes.map(({ target }) => target ?? "").join("; ")}`), ...wide];
}"""
WIDTH_OF = """(text) => {
    document.documentElement.style.fontSize = text;
    return document.documentElement.scrollWidth;
}"""


@dataclass
class Device:
    """What a page is shown on."""

    session: CDPSession
    is_touched: bool | None = None  # as its context is, until it is said


DEVICES: WeakKeyDictionary[Page, Device] = WeakKeyDictionary()


def in_looks(*names: str) -> pytest.MarkDecorator:
    """A test of each of these, for what is done there too and not looked at alone."""
    return pytest.mark.parametrize("look", [LOOKS[name] for name in names], ids=names)


def resize(page: Page, width: int, height: int, *, is_phone: bool = False) -> None:
    """Show a page on another device, as it stands: what has to come and to open for it comes and opens once."""
    device = DEVICES.get(page) or DEVICES.setdefault(page, Device(page.context.new_cdp_session(page)))
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": is_phone}
    device.session.send("Emulation.setDeviceMetricsOverride", size)
    if device.is_touched is not is_phone:
        device.session.send("Emulation.setTouchEmulationEnabled", {"enabled": is_phone})
        device.is_touched = is_phone


def show_in(page: Page, look: str) -> None:
    """A page, and what comes after it, in one of the looks."""
    size, _, scheme = look.partition("-")
    viewport: dict[str, int] = SIZES[size]["viewport"]
    resize(page, viewport["width"], viewport["height"], is_phone=size == "phone")
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]  # one of those that there are


def shown_in(page: Page, looks: Iterable[str]) -> Iterator[str]:
    """A page in one of these looks after another, and by day at the desk again when they have been seen."""
    for look in looks:
        show_in(page, look)
        yield look
    show_in(page, "desk-light")


def width_needed(page: Page, width: int, text: str) -> int:
    """How wide a page is on a screen of this width, with text of this size. It is seen no more, for to draw it anew at
    each width takes longer than to measure it."""
    page.evaluate("document.documentElement.style.visibility = 'hidden'")
    resize(page, width, PHONE["height"])
    needed: int = page.evaluate(WIDTH_OF, text)
    return needed


def what_shuts_out(page: Page) -> str:
    """What the rules of axe-core 4 find, those for WCAG 2.2 A and AA among them, and whether the page is wider than the
    screen; empty where it is as it should be."""
    of_the_site = page.url.startswith("http")  # where conftest.py puts it: a browser keeps those compiled
    if not of_the_site:
        page.add_script_tag(path=AXE)
    found = page.evaluate(FINDING, [static(f"axe/{AXE.name}"), OPTIONS])
    return "\n".join([page.url, *found]) if found else ""


def shuts_nobody_out(page: Page, looks: Iterable[str] = ()) -> None:
    """In each of these looks, or as it is shown."""
    seen = [(look, what_shuts_out(page)) for look in shown_in(page, looks)] if looks else [("", what_shuts_out(page))]
    found = "\n".join(f"{look} {said}" for look, said in seen if said)
    assert not found, found
