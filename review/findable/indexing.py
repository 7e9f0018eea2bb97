"""Keeping the index: within the transaction of whatever act puts a draft up, or says something."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import connection

from review.findable.engines import engine_of
from review.findable.folding import words_of
from review.findable.models import Findable

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from typing import Protocol

    class OneNote(Protocol):
        """What is asked of a note."""

        @property
        def pk(self) -> int: ...
        @property
        def production_id(self) -> int: ...
        @property
        def body(self) -> str: ...
        @property
        def wording(self) -> str | None: ...


AT_ONCE = 2_000  # texts


def index_lines(production_id: int, draft_id: int, lines: Iterable[tuple[int, str]]) -> None:
    """Let the lines of a draft be found, by their numbers, as they print."""
    of_draft = {"production_id": production_id, "draft_id": draft_id}
    index_texts([Findable(line=number, text=text, **of_draft) for number, text in lines if text.strip()])


def index_note(note: OneNote) -> None:
    """Let a note be found by what it says and offers, in the place of what it did before."""
    _forget(list(Findable.objects.filter(note=note.pk).values_list("pk", flat=True)))
    said = ((note.body, False), (note.wording or "", True))
    own = {"production_id": note.production_id, "note_id": note.pk}
    index_texts([Findable(text=text, is_wording=is_wording, **own) for text, is_wording in said if text.strip()])


def index_reply(production_id: int, reply_id: int, body: str) -> None:
    """Let a reply be found."""
    index_texts([Findable(production_id=production_id, reply_id=reply_id, text=body)])


def index_paper(production_id: int, paper_id: int, title: str, paragraphs: Iterable[str]) -> None:
    """Let a paper be found by its title and by the paragraphs of its latest version, in the place of those before."""
    _forget(list(Findable.objects.filter(paper=paper_id).values_list("pk", flat=True)))
    own = {"production_id": production_id, "paper_id": paper_id}
    index_texts([Findable(line=at, text=text, **own) for at, text in enumerate((title, *paragraphs)) if text.strip()])


def index_paper_note(production_id: int, note_id: int, body: str) -> None:
    """Let a note on a paper be found, in the place of what it said before."""
    _forget(list(Findable.objects.filter(paper_note=note_id).values_list("pk", flat=True)))
    index_texts([Findable(production_id=production_id, paper_note_id=note_id, text=body)])


def index_paper_reply(production_id: int, reply_id: int, body: str) -> None:
    """Let a reply under a note on a paper be found."""
    index_texts([Findable(production_id=production_id, paper_reply_id=reply_id, text=body)])


def forget_all() -> None:
    """Empty the index, to be made anew."""
    _forget(list(Findable.objects.values_list("pk", flat=True)))


def index_texts(texts: Sequence[Findable]) -> None:
    """Store texts, with their words in the database's own search."""
    if not texts:
        return
    made = type(texts[0]).objects.bulk_create(texts, batch_size=AT_ONCE)
    words = [(text.pk, [word.folded for word in words_of(text.text)]) for text in made]
    engine_of(connection.vendor).store(connection, words)


def _forget(keys: Sequence[int]) -> None:
    engine_of(connection.vendor).forget(connection, keys)
    for at in range(0, len(keys), AT_ONCE):
        Findable.objects.filter(pk__in=keys[at : at + AT_ONCE]).delete()
