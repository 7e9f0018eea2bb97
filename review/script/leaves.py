"""The pages of a draft as they lie on the screen, one under the other: each with its margin, and with its doors for a
reader whose browser runs no scripts. They are joined from what is kept of the draft, and no template is asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from screenplay.page import in_pages

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from review.drafts.drawn_pages import DrawnPage, DrawnPages
    from screenplay.script import Scene

TITLE = "title"  # as addresses name the title page


def page_id(page: DrawnPage) -> str:
    """The name of a page in an address."""
    return page.label or TITLE


def margin_id(page: DrawnPage) -> str:
    """The id of the margin of a page."""
    return f"notes-on-page-{page_id(page)}"


def leaves(drawn: DrawnPages, language: str, cards: Mapping[int, str] | None = None) -> SafeString:
    """All pages of the draft. `cards` are those that stand in a margin from the start, as HTML, by the page's place."""
    known = cards or {}
    return mark_safe("".join(_leaf(page, language, known.get(at, "")) for at, page in enumerate(drawn.pages)))  # noqa: S308 - each part is escaped


def _leaf(page: DrawnPage, language: str, cards: str) -> str:
    name, label = page_id(page), escape(page.label)
    title = "" if label else " paper-title"
    head = f'<p class="page-number"><span class="unseen">Page </span>{label}.</p>' if label else ""
    where = f"page {label}" if label else "the title page"
    return (
        f'<div class="leaf" id="page-{name}" data-page="{name}">'
        f'<div class="paper{title}" lang="{escape(language)}">{head}{page.html}</div>'
        f'<div class="margin" id="{margin_id(page)}">{cards}</div>'
        f'<p class="doors"><a class="door-notes" href="pages/{name}/">Notes on {where}</a>'
        f' <a href="../notes/new/?page={name}">Leave a note on {where}</a></p></div>'
    )


def scene_list(scenes: Iterable[Scene]) -> SafeString:
    """The scenes as a list that leads to each, with its number, its length and its page."""
    return mark_safe("".join(map(_scene, scenes)))  # noqa: S308 - each part is escaped


def _scene(scene: Scene) -> str:
    number = escape(scene.number or str(scene.ordinal))
    page = f"p. {escape(scene.page_label)}" if scene.page_label else ""
    return (
        f'<li><a href="#L{scene.first_line}"><span class="scene-number">{number}</span> '
        f'<span class="scene-name">{escape(scene.heading)}</span> '
        f'<span class="scene-length">{in_pages(scene.eighths)}</span> '
        f'<span class="scene-page">{page}</span></a></li>'
    )
