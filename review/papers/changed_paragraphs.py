"""A paper's paragraphs as they changed from one version to another, as they read: what was cut and what was added is
marked in the text, not in its Markdown."""

from __future__ import annotations

from dataclasses import dataclass
from html.parser import HTMLParser
from typing import TYPE_CHECKING

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from review.papers.following import paragraph_changes
from review.papers.markdown import paragraphs_of, render_paragraph
from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

# A picture stands in the words of its paragraph as a sign for it, one of Unicode's private use area that it has not.
PRIVATE_USE = range(0xE000, 0xF900)
SAID = {"del": "cut", "ins": "added"}


@dataclass(frozen=True, slots=True)
class ShownChange:
    """A paragraph beside the version before: "kept", "moved", "reworded", "added" or "gone", as safe HTML. `has_words`
    says that words came or went in it: one without them is only set in another way."""

    what: str
    html: SafeString
    has_words: bool


def changed_paragraphs(old: str, new: str, pictures: Mapping[str, str]) -> tuple[ShownChange, ...]:
    """The paragraphs of a version beside the one before, in its order; those that are gone stand where they stood."""
    return tuple(
        _shown(change.what, change.old, change.new, pictures)
        for change in paragraph_changes(paragraphs_of(old), paragraphs_of(new))
    )


def _shown(what: str, old: str, new: str, pictures: Mapping[str, str]) -> ShownChange:
    if what == "gone":
        return ShownChange(what, _whole("del", render_paragraph(old, pictures)), has_words=True)
    html = render_paragraph(new, pictures)
    if what == "added":
        return ShownChange(what, _whole("ins", html), has_words=True)
    if what != "reworded":
        return ShownChange(what, html, has_words=False)
    return _marked(render_paragraph(old, pictures), html)


def _whole(tag: str, html: SafeString) -> SafeString:
    return mark_safe(f"<{tag}>{html}</{tag}>")  # noqa: S308 - it was cleaned


@dataclass(frozen=True, slots=True)
class _HtmlTag:
    html: str
    name: str
    ends: bool


class _Pieces(HTMLParser):
    """Safe HTML taken apart: its tags, and its text between them; a picture is text, as its sign."""

    def __init__(self, html: str, signs: dict[str, str], free: Iterator[str]) -> None:
        super().__init__(convert_charrefs=True)
        self.pieces: list[_HtmlTag | str] = []
        self._signs, self._free = signs, free
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        html = self.get_starttag_text() or ""
        if tag == "img":
            if html not in self._signs:
                self._signs[html] = next(self._free)
            self.handle_data(self._signs[html])
        else:
            self.pieces.append(_HtmlTag(html, tag, ends=False))

    def handle_endtag(self, tag: str) -> None:
        self.pieces.append(_HtmlTag(f"</{tag}>", tag, ends=True))

    def handle_data(self, data: str) -> None:
        self.pieces.append(data)

    @property
    def text(self) -> str:
        return "".join(piece for piece in self.pieces if isinstance(piece, str))


def _marked(old: str, new: str) -> ShownChange:
    """What a paragraph reads now, with the words that were cut and added in it."""
    signs: dict[str, str] = {}
    free = (sign for sign in map(chr, PRIVATE_USE) if sign not in old and sign not in new)
    before, after = _Pieces(old, signs, free), _Pieces(new, signs, free)
    told = _MarkedPieces(after.pieces, {sign: html for html, sign in signs.items()})
    changes = word_changes(before.text, after.text)
    for change in changes:
        if change.op == "cut":
            told.cut(change.text)
        else:
            told.go_on(len(change.text), is_new=change.op == "added")
    has_words = any(change.op != "same" and change.text.strip() for change in changes)
    return ShownChange("reworded", told.html, has_words)


class _MarkedPieces:
    """The pieces of a paragraph as it reads now, told anew with marks in them."""

    def __init__(self, pieces: list[_HtmlTag | str], pictures: Mapping[str, str]) -> None:
        self._waiting = list(reversed(pieces))
        self._pictures = pictures
        self._told: list[str] = []
        self._was_cut = ""  # the words before, where they were cut and nothing stands behind them yet

    def go_on(self, length: int, *, is_new: bool) -> None:
        """Tell so many characters of its text, with the tags on the way."""
        while length:
            piece = self._waiting.pop()
            if isinstance(piece, _HtmlTag):
                self._told.append(piece.html)
                continue
            taken, rest = piece[:length], piece[length:]
            if rest:
                self._waiting.append(rest)
            length -= len(taken)
            self._tell("ins" if is_new else "", taken)

    def cut(self, text: str) -> None:
        """Tell words that are gone, within the block that they were cut from."""
        if not text.strip():
            return
        self._open()
        mark = self._mark("del", " ".join(text.split()) if "\n" in text else text)
        self._told.insert(self._end_of_item(), mark)
        self._was_cut = text

    @property
    def html(self) -> SafeString:
        self._told += [
            piece.html if isinstance(piece, _HtmlTag) else self._text(piece) for piece in reversed(self._waiting)
        ]
        self._waiting.clear()
        return mark_safe("".join(self._told))  # noqa: S308 - of safe pieces and escaped text

    def _open(self) -> None:
        """Pass what opens next, so that a cut at its beginning stands within it."""
        while self._waiting and isinstance(piece := self._waiting[-1], _HtmlTag) and not piece.ends:
            self._told.append(piece.html)
            self._waiting.pop()

    def _end_of_item(self) -> int:
        """Where a cut goes: right here, but behind the last words of an item where nothing follows that one."""
        last = self._waiting[-1] if self._waiting else None
        is_between = len(self._told) > 1 and not self._told[-1].strip() and self._told[-2].startswith("</")
        return len(self._told) - 2 if is_between and isinstance(last, _HtmlTag) and last.ends else len(self._told)

    def _tell(self, tag: str, text: str) -> None:
        if tag and text.strip():
            if self._was_cut[-1:].isalnum() and text[0].isalnum():
                self._told.append(" ")
            self._told.append(self._mark(tag, text))
        else:
            self._told.append(self._text(text))
        self._was_cut = ""

    def _mark(self, tag: str, text: str) -> str:
        said = SAID[tag]
        begins, ends = (f'<span class="unseen">{words}</span>' for words in (f"{said}: ", f" (end of {said}) "))
        return f"<{tag}>{begins}{self._text(text)}{ends}</{tag}>"

    def _text(self, text: str) -> str:
        html = str(escape(text))
        for sign, picture in self._pictures.items():
            html = html.replace(sign, picture)
        return html
