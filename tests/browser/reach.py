"""What every screen keeps: it shuts nobody out and fits, at a desk as on a phone, by day as by night."""

from __future__ import annotations

from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Any

import axe_playwright_python
import pytest
from django.templatetags.static import static

from tests.browser.conftest import DESK, TOUCH

if TYPE_CHECKING:
    from playwright.sync_api import Page

SIZES: dict[str, dict[str, Any]] = {"desk": {"viewport": DESK}, "phone": TOUCH}
# The policy of the pages is off, as it refuses the styles by which axe-core measures.
LOOKS = {
    f"{size}-{scheme}": {**SIZES[size], "color_scheme": scheme, "bypass_csp": True}
    for size, scheme in product(SIZES, ("light", "dark"))
}
AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
OPTIONS = {"preload": False, "resultTypes": ["violations"]}
# Each rule that is broken, its impact, and where. Where takes long to work out, so that is done only once there is
# something to tell. Contrast takes longest, so of the texts that are set alike on the same grounds one is looked at.
FINDING = """async (options) => {
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
    const isRead = (element) => element.checkVisibility() && (element.matches("input, select, textarea")
        || [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.data.trim()));
    const read = [...document.body.querySelectorAll("*")].filter(isRead);
    const one = new Set(new Map(read.map((element) => [setting(element), element])).values());
    for (const element of read) element.toggleAttribute("data-one-of-its-setting", one.has(element));
    axe.configure({ rules: [{ id: "color-contrast", selector: "[data-one-of-its-setting]" }] });
    const found = await axe.run(document, { ...options, selectors: false });
    if (!found.violations.length) return [];
    const { violations } = await axe.run(document, options);
    const told = violations.length ? violations : found.violations;
    return told.map(({ id, impact, help, nodes }) =>
        `${id} (${impact}): ${help}: ${nodes.map(({ target }) => target ?? "").join("; ")}`);
}"""


def in_looks(*names: str) -> pytest.MarkDecorator:
    """A test of each of these: both sizes and both schemes are in two looks, and no screen needs all four."""
    return pytest.mark.parametrize("look", [LOOKS[name] for name in names], ids=names)


desk_by_day_phone_by_night = in_looks("desk-light", "phone-dark")
desk_by_night_phone_by_day = in_looks("desk-dark", "phone-light")
in_every_look = in_looks(*LOOKS)


def what_shuts_out(page: Page) -> str:
    """What the rules of axe-core 4 find, those for WCAG 2.2 A and AA among them, and whether the page is wider than the
    screen; empty where it is as it should be."""
    if not page.evaluate("'axe' in globalThis"):
        of_the_site = page.url.startswith("http")  # where conftest.py puts it: a browser keeps those compiled
        page.add_script_tag(**({"url": static(f"axe/{AXE.name}")} if of_the_site else {"path": AXE}))
    found = page.evaluate(FINDING, OPTIONS)
    if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
        found.append("it is wider than the screen")
    return "\n".join([page.url, *found]) if found else ""


def shuts_nobody_out(page: Page) -> None:
    found = what_shuts_out(page)
    assert not found, found
