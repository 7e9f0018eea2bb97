"""Where a word stands in a draft's pages and in what was said about them, wording by wording, folded notes too."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import unescape
from typing import TYPE_CHECKING

from review.decisions.models import Decision
from review.notes.models import Note, Reply

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.drafts.drawn_pages import DrawnPages
    from review.people.models import Member
    from review.script.note_marks import NoteMark

MOST_LETTERS = 100  # of a word that is looked for
MOST_PLACES = 200  # in the script, and as many in notes
BESIDE = 40  # letters shown before and behind
LINE = re.compile(r'<(p|h2) (?:id="L|data-of=")(\d+)"[^>]*>(.*?)</\1>')
NUMBER = re.compile(r'<span class="margin-number[^>]*>[^<]*</span>')
TAG = re.compile(r"<[^>]+>")


@dataclass(frozen=True, slots=True)
class WordsAround:
    """The words that were found, and those around them."""

    before: str
    found: str
    behind: str


@dataclass(frozen=True, slots=True)
class FoundLine:
    """A printed line that has the word: its number, and the name of its page."""

    line: int
    page: str
    words: WordsAround


@dataclass(frozen=True, slots=True)
class FoundNote:
    """A note that has the word in what it says, offers or quotes, in a reply to it or in what was decided."""

    public_id: str
    author: str
    where: str
    words: WordsAround


def lines_with(word: str, drawn: DrawnPages) -> list[FoundLine]:
    """The printed lines that have a word, capitals or not, as many as are shown at the most."""
    found = []
    for page in drawn.pages:
        for _, number, html in LINE.findall(page.html):
            text = unescape(TAG.sub("", NUMBER.sub("", html)))
            if words := _words(word, text):
                found.append(FoundLine(int(number), page.name, words))
                if len(found) == MOST_PLACES:
                    return found
    return found


def notes_with(member: Member, word: str, marks: Sequence[NoteMark]) -> list[FoundNote]:
    """Those of the notes that have a word, themselves or in a reply that the member may read, in their order; three
    queries."""
    keys = [mark.pk for mark in marks]
    notes = {note.pk: note for note in Note.objects.filter(pk__in=keys).select_related("author__person")}
    said: dict[int, list[tuple[str, str]]] = {pk: list(_said(note)) for pk, note in notes.items()}
    for reply in (
        Reply.objects.visible_to(member).filter(note__in=keys, withdrawn_at=None).select_related("author__person")
    ):
        said[reply.note_id].append((f"{reply.author_name} replied", reply.body))
    for decision in Decision.objects.filter(note__in=keys).exclude(reason=""):
        said[decision.note_id].append(("Decided", decision.reason))
    found = []
    for mark in marks:
        note = notes.get(mark.pk)
        hits = ((where, _words(word, text)) for where, text in said.get(mark.pk, ()))
        hit = next(((where, words) for where, words in hits if words), None)
        if note and hit:
            found.append(FoundNote(note.public_id, note.author_name, *hit))
    return found[:MOST_PLACES]


def _said(note: Note) -> Iterator[tuple[str, str]]:
    yield str(note.get_kind_display()), note.body
    if note.wording is not None:
        yield "Offers", note.wording


def _words(word: str, text: str) -> WordsAround | None:
    """The word where it first stands in a text, with what is around it."""
    text = " ".join(text.split())
    hit = re.search(re.escape(word), text, re.IGNORECASE)
    if not hit:
        return None
    start, end = max(hit.start() - BESIDE, 0), min(hit.end() + BESIDE, len(text))
    before = ("…" if start else "") + text[start : hit.start()]
    behind = text[hit.end() : end] + ("…" if end < len(text) else "")
    return WordsAround(before, hit[0], behind)
