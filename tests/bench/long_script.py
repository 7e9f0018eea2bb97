"""A script of 150 pages with many notes, for what is measured on it."""

from __future__ import annotations

import uuid
from itertools import cycle
from typing import TYPE_CHECKING

from review.decisions.models import Decision
from review.drafts.drawn_pages import draw_pages
from review.notes.models import Note
from screenplay import lay_out, parse
from tests.factories import make_member
from tests.plays import play_as_fountain

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

PAGES = 150


def long_script() -> str:
    """A play cut to so many pages."""
    whole = lay_out(parse(play_as_fountain("hamlet")))
    last_line = max(line for line, page in whole.layout.page_of.items() if page <= PAGES)
    return "".join(whole.script.source[:last_line])


def leave_notes(writer: Member, draft: Draft, count: int) -> None:
    """So many notes from three people all over the script, two in five of them decided."""
    authors = [make_member(writer.production) for _ in range(3)]
    printed = draw_pages(draft).printed
    lines = draft.text.splitlines()
    made = []
    for ordinal, author in zip(range(count), cycle(authors), strict=False):
        line = printed[ordinal * len(printed) // count]
        place = {"first_line": line, "first_char": 0, "last_line": line, "last_char": len(lines[line - 1])}
        said = {"kind": "question", "body": "Is this *really* night?", "quoted": lines[line - 1]}
        made.append(Note(production=draft.production, draft=draft, author=author, **place, **said))
    notes = Note.objects.bulk_create(made)
    decided = [note for ordinal, note in enumerate(notes) if ordinal % 5 < 2]
    Decision.objects.bulk_create(
        Decision(note=note, ordinal=1, outcome="declined", reason="No.", decided_by=writer, form_id=uuid.uuid4())
        for note in decided
    )
