"""A script's pages as a browser prints them to PDF, at several scales, read back.

Source: Chromium's own print to PDF, which writes type in dots of 0.24 points on a page turned on its head.
"""

from __future__ import annotations

from base64 import b64encode
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import review.demo
import screenplay.printing
from screenplay import lay_out, parse
from screenplay.printing import print_pages
from tests.read_back import elements_of, read_here, share_alike

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page, PdfMargins

SCRIPT = parse((Path(review.demo.__file__).parent / "first-draft.fountain").read_text(encoding="utf-8"))
FONT = Path(screenplay.printing.__file__).parent / "fonts" / "courier-prime" / "CourierPrime-Regular.ttf"
MARGIN: PdfMargins = {"top": "0.3in", "bottom": "0.3in", "left": "0.3in", "right": "0.3in"}


@pytest.fixture(scope="module")
def shown(browser: Browser) -> Iterator[Page]:
    """The script's pages typed in columns, one after the other on the browser's page."""
    page = browser.new_page()
    font = b64encode(FONT.read_bytes()).decode()
    pages = "".join(f"<pre>{escape(sheet)}</pre>" for sheet in print_pages(lay_out(SCRIPT).layout).split("\f"))
    style = f"@font-face{{font-family:F;src:url(data:font/ttf;base64,{font})}}pre{{font:12pt F;break-after:page}}"
    page.set_content(f"<!doctype html><style>{style}</style>{pages}")
    page.wait_for_load_state()
    yield page
    page.close()


@pytest.mark.parametrize("scale", [0.7, 0.85, 1])
def test_pages_that_a_browser_prints_at_any_scale_are_the_script(shown: Page, scale: float) -> None:
    again = parse(read_here(shown.pdf(scale=scale, format="Letter", margin=MARGIN)).text)

    assert share_alike(elements_of(SCRIPT, numbers=False), elements_of(again, numbers=False)) >= 0.99
