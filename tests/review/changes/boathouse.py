"""Two drafts of a short script, and how the change sheets between them are asked for and read."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup, Tag
from django.urls import reverse

from review.decisions.acts import decide
from review.rewriting.wording_models import WrittenIn
from tests.factories import make_next_draft
from tests.pdf import sheets

if TYPE_CHECKING:
    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

OLD = """INT. BOATHOUSE - NIGHT

NELL mends a net by one lamp.

NELL
Tide turns at four.

EXT. MEADOW - DAWN

Rain. The gate is open. Nell looks for him.

EXT. CHURCH - DAY

TOBIAS
Grant them rest.

A choir sings.
"""
NEW = (
    OLD.replace("NELL mends a net by one lamp.", "NELL mends a net by one lamp, on the ladder, with a knife.")
    .replace("EXT. MEADOW - DAWN", "EXT. MEADOW - NIGHT")
    .replace("A choir sings.", "The choir sings louder.")
    .replace("Grant them rest.", "Grant them all rest.")
)

# MAGS is called TILDE in the draft that follows, by NELL and in action too.
CALLED = """INT. BOATHOUSE - NIGHT

Rain on the roof.

NELL
Mags? Mags!

MAGS
Here, under the boat.

She holds up a knife.

A wave.

MAGS
Listen to it.

EXT. MEADOW - DAWN

Mags shuts the gate, a knife in her belt.

NELL
It was open all night.

EXT. CHURCH - DAY

The bell is late.

MAGS
Nobody rings it any more.

Crows.
"""
CALLED_OTHERWISE = CALLED.replace("Mags", "Tilde").replace("MAGS", "TILDE")


def publish(writer: Member, *texts: str) -> list[Draft]:
    return [make_next_draft(writer, text) for text in texts]


def address(member: Member, whose: str, name: str = "change-sheet") -> str:
    return reverse(name, args=[member.production.public_id, 1, 2, whose])


def sheet_of(client: Client, member: Member, whose: str, **asked: str) -> BeautifulSoup:
    response = client.get(address(member, whose), asked)
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def words_of(page: Tag) -> str:
    return " ".join(page.get_text(" ").split())


def scenes_of(page: BeautifulSoup) -> list[str]:
    return [" ".join(heading.get_text(" ").split()) for heading in page.select(".sheet-scene h2")]


def written_in(note: Note, writer: Member, draft: Draft) -> None:
    decision = decide(writer, note, "accepted", "So it shall be.", 0, uuid.uuid4())
    WrittenIn.objects.create(decision=decision, draft=draft, said_by=writer)


def read_pdf(data: bytes) -> str:
    return " ".join(sheet.words for sheet in sheets(data))
