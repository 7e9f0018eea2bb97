"""What a reader does on the script screen, step by step, for the tests that try it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import FloatRect, Locator, Page

    from review.drafts.models import Draft

    Visit = Callable[..., Page]


def script_of(draft: Draft) -> str:
    return reverse("script", args=[draft.production.public_id, draft.number])


def drag_over(page: Page, line: int, first: int, last: int) -> None:
    """Drag the mouse over characters of a line that stands in one row."""
    page.locator(f"#L{line}").scroll_into_view_if_needed()
    box = words_box(page, line)
    character = box["width"] / len(page.locator(f"#L{line}").inner_text())
    y = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + first * character + 1, y)
    page.mouse.down()
    page.mouse.move(box["x"] + last * character - 1, y, steps=4)
    page.mouse.up()


def words_box(page: Page, line: int) -> FloatRect:
    """Where the words of a line stand on the screen, without the paper beside them."""
    box: FloatRect = page.locator(f"#L{line}").evaluate(
        """(line) => {
            const words = document.createRange();
            words.selectNodeContents(line);
            return words.getBoundingClientRect().toJSON();
        }"""
    )
    return box


def form_of(page: Page) -> Locator:
    return page.locator("#note-form")


def open_form_on_line(page: Page, line: int) -> Locator:
    page.locator(f"#L{line}").focus()
    page.keyboard.press("Enter")
    expect(form_of(page)).to_be_visible()
    return form_of(page)


def write(form: Locator, words: str, kind: str = "Question") -> None:
    form.get_by_role("radio", name=kind).check()
    form.get_by_label("Your note").fill(words)


def keeps_nothing(page: Page) -> None:
    """Wait until no words are kept on the device: a note may come to the page, as news, before its answer does."""
    page.wait_for_function("!Object.keys(localStorage).length")
