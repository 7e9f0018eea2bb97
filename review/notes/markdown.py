"""The light Markdown of notes, replies and reasons: what is allowed, and how it becomes safe HTML."""

from __future__ import annotations

from html import unescape
from typing import TYPE_CHECKING

import bleach
from django.utils.html import strip_tags
from django.utils.safestring import SafeString, mark_safe
from markdown_it import MarkdownIt

from review.kept import kept

if TYPE_CHECKING:
    from collections.abc import Sequence

    from markdown_it.renderer import RendererHTML
    from markdown_it.token import Token
    from markdown_it.utils import EnvType, OptionsDict

RULES = [
    "blockquote",
    "list",
    "fence",
    "backticks",
    "emphasis",
    "link",
    "autolink",
    "newline",
    "escape",
    "entity",
]
TAGS = frozenset({"p", "br", "em", "strong", "ul", "ol", "li", "a", "blockquote", "code", "pre"})
ATTRIBUTES = {"a": ["href", "rel"], "ol": ["start"]}
PROTOCOLS = frozenset({"http", "https", "mailto"})


def open_link(renderer: RendererHTML, tokens: Sequence[Token], at: int, options: OptionsDict, env: EnvType) -> str:
    """A link that tells the page it leads to nothing of where it was."""
    tokens[at].attrSet("rel", "noreferrer noopener nofollow")
    return renderer.renderToken(tokens, at, options, env)


MARKDOWN = MarkdownIt("zero", {"breaks": True, "html": False}).enable(RULES)
MARKDOWN.add_render_rule("link_open", open_link)


def _weigh(html: SafeString) -> int:
    return 2 * len(html) + 200  # with the text that it is asked by


@kept(_weigh)
def render_markdown(text: str) -> SafeString:
    """Paragraphs, line breaks, emphasis, lists, links, quotes and code; anything else stays as it was typed."""
    html = bleach.clean(MARKDOWN.render(text), tags=TAGS, attributes=ATTRIBUTES, protocols=PROTOCOLS, strip=True)
    return mark_safe(html)  # noqa: S308 - bleach has just cleaned it


def without_markdown(text: str) -> str:
    """The words that a reader sees of a text, on one line: no mark of emphasis, no address of a link."""
    return " ".join(unescape(strip_tags(render_markdown(text))).split())


def typed_out(text: str) -> str:
    """What a reader sees of a text, in lines as one would type them plainly: paragraphs apart, a list's items with
    their marks, a quotation behind a bar; no mark of emphasis, no address of a link."""
    told: list[str] = []
    marks: list[str] = []  # what stands before the lines of the lists and quotations that are open
    item = ""  # what stands before the next line alone, where an item begins
    for token in MARKDOWN.parse(text):
        if token.type == "blockquote_open":
            marks.append("| ")
        elif token.type == "list_item_open":
            item = f"{token.info}{token.markup} " if token.info else "– "
            marks.append(" " * len(item))
        elif token.type in {"blockquote_close", "list_item_close"}:
            marks.pop()
        elif token.type in {"inline", "fence"}:
            if told and not item and not token.hidden:
                told.append("")
            for line in _said(token).split("\n"):
                told.append("".join([*(marks[:-1] if item else marks), item, line]).rstrip())
                item = ""
    return "\n".join(told)


def _said(token: Token) -> str:
    """The words of a paragraph, or of a stretch of code, in lines."""
    if token.children is None:
        return token.content.rstrip("\n")
    return "".join("\n" if child.type in {"softbreak", "hardbreak"} else child.content for child in token.children)
