"""Notes as web annotations, read by a JSON-LD processor (`pyld`) against the terms that the W3C published."""

from __future__ import annotations

import json
import uuid
from typing import TYPE_CHECKING, Any

import pytest
from pyld import jsonld

from review.decisions.acts import decide
from review.exchange.acts import take_notes
from review.exchange.annotations import CONTEXT as NAMED
from review.exchange.annotations import MOTIVATIONS as GIVEN
from review.exchange.iris import iri_of
from review.exchange.taken_notes import WhichNotes
from review.notes.acts import reply
from review.notes.models import Audience, Subject
from tests.factories import make_draft, make_next_draft, make_note
from tests.review.exchange.web_annotation import CONTEXT, CONTEXT_IRI, MOTIVATIONS, OA

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.drafts.models import Draft
    from review.people.models import Member

TEXT = "INT. CAFÉ - NIGHT\r\n\r\n𝄞 plays. [[mine]] Rain.\r\n\r\nNELL\r\nTide turns.\r\n"


@pytest.fixture
def noted(writer: Member, crew: Member, cast: Member) -> Draft:
    draft = make_draft(writer, TEXT)
    note = make_note(crew, draft, 6, kind="problem", body="Who *says*?", wording="Tide's in.")
    reply(cast, note, "I do.", uuid.uuid4())
    decide(writer, note, "declined", "She would not.", 0, uuid.uuid4())
    make_note(crew, draft, 1, 6, subject=Subject.SCENE, kind="question")
    make_note(crew, draft, 5, subject=Subject.CHARACTER, character="NELL", kind="praise")
    make_note(crew, draft, 3, first_char=0, last_char=7, audience=Audience.WRITER)
    return draft


def told(member: Member, draft: Draft, *, for_writers_too: bool = False) -> dict[str, Any]:
    choice = WhichNotes(for_writers_too=for_writers_too)
    read: dict[str, Any] = json.loads(take_notes(member, draft, "json", choice))
    return read


def expanded(document: dict[str, Any]) -> dict[str, Any]:
    """As a processor has it, which fetches nothing: every term as its IRI, and what stands for no IRI left out."""

    def load(url: str, _: object) -> dict[str, Any]:
        assert url == CONTEXT_IRI
        return {"contextUrl": None, "documentUrl": url, "document": {"@context": CONTEXT}, "contentType": None}

    (whole,) = jsonld.expand(document, {"documentLoader": load})
    return dict(whole)


def objects_in(part: Any) -> Iterator[dict[str, Any]]:
    if isinstance(part, dict):
        yield part
    for each in part.values() if isinstance(part, dict) else part if isinstance(part, list) else ():
        yield from objects_in(each)


def typed(part: dict[str, Any]) -> list[str]:
    kinds = part.get("@type", [])
    return [kinds] if isinstance(kinds, str) else kinds


def test_every_term_stands_for_one_of_the_vocabulary(writer: Member, noted: Draft) -> None:
    document = told(writer, noted, for_writers_too=True)
    whole = expanded(document)
    assert document["@context"] == NAMED == CONTEXT_IRI
    named = [key for each in objects_in(document) for key in each if key not in {"@context", "id", "type"}]
    meant = [key for each in objects_in(whole) for key in each if not key.startswith("@")]
    assert len(meant) == len(named)  # none was left out, so none was without a meaning
    assert all(key.startswith("http://") for key in meant)
    assert all(kind.startswith("http://") for each in objects_in(whole) for kind in typed(each))
    assert {*GIVEN.values(), "replying", "editing"} <= {*MOTIVATIONS}


def test_a_processor_finds_the_annotations_their_motives_and_targets(writer: Member, noted: Draft) -> None:
    page = expanded(told(writer, noted))["http://www.w3.org/ns/activitystreams#first"][0]
    items = page["http://www.w3.org/ns/activitystreams#items"][0]["@list"]
    motives = [sorted(one["@id"].removeprefix(OA) for one in item[f"{OA}motivatedBy"]) for item in items]
    assert motives == [["questioning"], ["assessing"], ["assessing", "editing"], ["replying"], ["assessing"]]
    assert all(item["@type"] == [f"{OA}Annotation"] and item[f"{OA}hasTarget"] for item in items)
    note, answer, decision = items[2:]
    assert answer[f"{OA}hasTarget"] == decision[f"{OA}hasTarget"] == [{"@id": note["@id"]}]
    purposes = [[one["@id"].removeprefix(OA) for one in body[f"{OA}hasPurpose"]] for body in note[f"{OA}hasBody"]]
    assert purposes == [["commenting"], ["editing"], ["classifying"]]


def test_selectors_select_the_lines_in_code_points(writer: Member, noted: Draft) -> None:
    """Data Model, 4.2.4 and 4.2.5: a quotation with what is around it; positions from 0, the end not in it."""
    items = told(writer, noted, for_writers_too=True)["first"]["items"]
    for item in (item for item in items if isinstance(item["target"], dict)):
        quotation, position = item["target"]["selector"]
        start, end = position["start"], position["end"]
        assert TEXT[start:end] == quotation["exact"]
        assert TEXT[:start].endswith(quotation["prefix"])
        assert TEXT[end:].startswith(quotation["suffix"])
    quoted = [item["target"]["selector"][0]["exact"] for item in items if isinstance(item["target"], dict)]
    assert quoted == [TEXT[: TEXT.index("Tide")] + "Tide turns.", "𝄞 plays", "NELL", "Tide turns."]


def test_lines_that_read_otherwise_by_now_are_a_second_target_as_they_were_when_the_note_was_left(
    writer: Member, crew: Member, noted: Draft
) -> None:
    """So that what a note offers in their place, once it is written in, is not set against itself."""
    later = make_next_draft(writer, TEXT.replace("Tide turns.", "Tide's in."))
    offering = next(item for item in told(writer, later)["first"]["items"] if "editing" in item["motivation"])
    assert [target["selector"][0]["exact"] for target in offering["target"]] == ["Tide's in.", "Tide turns."]
    assert [target["source"]["id"] for target in offering["target"]] == [iri_of(later), iri_of(noted)]
    assert expanded(told(writer, later))


def test_what_no_page_shows_is_quoted_to_writers_alone(writer: Member, crew: Member, noted: Draft) -> None:
    make_note(crew, noted, 3)
    assert "mine" in take_notes(writer, noted, "json", WhichNotes()).decode()
    assert "mine" not in take_notes(crew, noted, "json", WhichNotes()).decode()


def test_iris_stay_and_tell_nothing_of_addresses(writer: Member, noted: Draft) -> None:
    first, again = told(writer, noted)["first"]["items"], told(writer, noted)["first"]["items"]
    assert [item["id"] for item in first] == [item["id"] for item in again]
    assert all(item["id"].startswith("urn:uuid:") for item in first)
    ids = [noted.public_id, *noted.notes.values_list("public_id", flat=True)]
    assert not any(public_id in take_notes(writer, noted, "json", WhichNotes()).decode() for public_id in ids)
