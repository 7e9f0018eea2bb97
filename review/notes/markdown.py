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
