"""The light Markdown of world papers: that of notes, with headings and the paper's own pictures, as safe HTML."""

from __future__ import annotations

import re
from html import unescape
from typing import TYPE_CHECKING
from urllib.parse import unquote

import bleach
from django.utils.html import escape, strip_tags
from django.utils.safestring import SafeString, mark_safe
from markdown_it import MarkdownIt

from review.notes.markdown import ATTRIBUTES, PROTOCOLS, RULES, TAGS, open_link

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from markdown_it.renderer import RendererHTML
    from markdown_it.token import Token
    from markdown_it.utils import EnvType, OptionsDict

Attributes = dict[str, "list[str] | Callable[[str, str, str], bool]"]
_PICTURE = re.compile(r'<img[^>]* alt="([^"]*)"[^>]*>')
HIGHEST = 2  # of a heading: the name of the paper, or of the page, stands above


def _open_heading(renderer: RendererHTML, tokens: Sequence[Token], at: int, options: OptionsDict, env: EnvType) -> str:
    tag = f"h{min(int(tokens[at].tag[1:]) + HIGHEST - 1, 6)}"
    tokens[at].tag = tokens[at + 2].tag = tag
    return renderer.renderToken(tokens, at, options, env)


def _picture(renderer: RendererHTML, tokens: Sequence[Token], at: int, options: OptionsDict, env: EnvType) -> str:
    """A picture of the paper's by its name; the words for it where it has none of the name."""
    token = tokens[at]
    name = unquote(str(token.attrGet("src") or ""))
    words = escape(renderer.renderInlineAsText(token.children or [], options, env))
    address = env["pictures"].get(name)
    return f'<img src="{address}" alt="{words}" loading="lazy">' if address else f"[{words or escape(name)}]"


MARKDOWN = MarkdownIt("zero", {"breaks": True, "html": False}).enable([*RULES, "heading", "image"])
MARKDOWN.add_render_rule("link_open", open_link)
MARKDOWN.add_render_rule("heading_open", _open_heading)
MARKDOWN.add_render_rule("image", _picture)


def render_paragraph(text: str, pictures: Mapping[str, str]) -> SafeString:
    """A paragraph as safe HTML; `pictures` are the addresses of the paper's pictures by their names."""
    html = MARKDOWN.render(text, {"pictures": pictures})
    ours = frozenset(pictures.values())

    def allowed(tag: str, name: str, value: str) -> bool:
        return name in {"alt", "loading"} or (name == "src" and value in ours)

    tags = TAGS | {"h2", "h3", "h4", "h5", "h6", "img"}
    attributes: Attributes = {**ATTRIBUTES, "img": allowed}
    return mark_safe(bleach.clean(html, tags=tags, attributes=attributes, protocols=PROTOCOLS, strip=True))  # noqa: S308 - bleach has just cleaned it


def read_paragraphs(text: str) -> list[str]:
    """A paper's paragraphs as they read, each on one line: no mark of Markdown, and of a picture the words for it."""
    return [words_read(render_paragraph(paragraph, {})) for paragraph in paragraphs_of(text)]


def words_read(html: str) -> str:
    """The words that a paragraph's safe HTML has for its reader, on one line; of a picture the words for it."""
    return " ".join(unescape(strip_tags(_PICTURE.sub(r"[\1]", html))).split())


def paragraphs_of(text: str) -> tuple[str, ...]:
    """A paper's paragraphs as they were typed: its headings, lists, quotes and stretches of code are one each."""
    lines = text.splitlines()
    blocks = [token.map for token in MARKDOWN.parse(text, {"pictures": {}}) if token.level == 0 and token.map]
    return tuple("\n".join(lines[first:last]).strip("\n") for first, last in dict.fromkeys(map(tuple, blocks)))
