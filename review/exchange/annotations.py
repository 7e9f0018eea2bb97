"""Notes as Web Annotations in JSON-LD (W3C Recommendations of 2017-02-23: the data model, and its vocabulary).

All is told in the vocabulary itself. A reply is an annotation of the note that it is under, `replying`; a decision is
one too, `assessing`, of which one body classifies, in the decision's word, and another gives the reason. Whoever wrote
a note down in its creator's name is its contributor, by the Dublin Core terms that the vocabulary draws on. The kind of
a note is a body that classifies it; what it offers in the place of its lines is a body that edits them; whom it is
about, where it is about somebody, is a body that identifies them, and `scene` a tag of one on a whole scene. One whose
lines read otherwise by now than when it was left has these as a second target, in the draft that they were in.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from review.exchange.iris import iri_named, iri_of, iri_of_said
from review.exchange.note_table import in_utc
from review.exchange.selectors import SelectedText
from review.exchange.taken_notes import lines_by_now, replies_that_stand
from review.notes.models import Audience, NoteKind, Subject

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.exchange.taken_notes import TakenNotes
    from review.notes.models import Note, Reply
    from review.people.models import Member

CONTEXT = "http://www.w3.org/ns/anno.jsonld"
JSON_LD = 'application/ld+json; profile="http://www.w3.org/ns/anno.jsonld"'  # section 2 of the protocol
MOTIVATIONS = {
    NoteKind.QUESTION: "questioning",
    NoteKind.CONFUSION: "assessing",
    NoteKind.IDEA: "commenting",
    NoteKind.PROBLEM: "assessing",
    NoteKind.PRACTICAL: "commenting",
    NoteKind.SAFETY: "commenting",
    NoteKind.PRAISE: "assessing",
}
SCENE = "scene"
FOR_WRITERS = "writers"
MARKDOWN = "text/markdown"
JsonLd = dict[str, Any]
Texts = dict[int, SelectedText]  # of drafts, by their keys


def as_json_ld(taken: TakenNotes, *, shows_all: bool) -> bytes:
    """The notes as a collection of annotations, in script order, each followed by what was said and decided under it.
    `shows_all` is whether who takes them may see what no page of the draft shows."""
    texts = {draft.pk: SelectedText(draft.text) for card in taken.cards for draft in _drafts(card)}
    items = [told for card in taken.cards for told in _of_note(card, texts, shows_all=shows_all)]
    collection = iri_named(f"notes of {taken.draft.public_id}")
    told = {
        "@context": CONTEXT,
        "id": collection,
        "type": "AnnotationCollection",
        "label": f"Notes on {taken.draft} of {taken.draft.production.name}. {taken.which} {taken.sense}",
        "total": len(items),
        "generator": {"id": iri_named("Fairhand"), "type": "Software", "name": "Fairhand"},
        "first": {
            "id": iri_named(f"all notes of {taken.draft.public_id}"),
            "type": "AnnotationPage",
            "partOf": collection,
            "startIndex": 0,
            "items": items,
        },
    }
    return json.dumps(told, ensure_ascii=False, indent=1).encode()


def _of_note(card: NoteCard, texts: Texts, *, shows_all: bool) -> Iterator[JsonLd]:
    """A note, its replies and its decision, each an annotation."""
    note, iri = card.note, iri_of_said(card.note)
    motivations = [MOTIVATIONS[NoteKind(note.kind)]] + ["editing"] * (note.wording is not None)
    told = _annotation(iri, motivations, _who_said(note), in_utc(note.said_at or note.created_at))
    if note.changed_at:
        told["modified"] = in_utc(note.changed_at)
    if note.taken_down_by:
        told["dcterms:contributor"] = _who(note.taken_down_by)
    if note.audience == Audience.WRITER:
        told["audience"] = {"type": "Audience", "schema:audienceType": FOR_WRITERS}
    yield told | {"body": list(_bodies(card)), "target": _target(card, texts, shows_all=shows_all)}
    for each in replies_that_stand(card):
        reply = each.reply
        moment = in_utc(reply.said_at or reply.created_at)
        said = _annotation(iri_of_said(reply), ["replying"], _who_said(reply), moment)
        yield said | {"body": [_body("commenting", each.reply.body, MARKDOWN)], "target": iri}
    if decision := card.decision:
        told = _annotation(iri_of(decision), ["assessing"], _who(decision.decided_by), in_utc(decision.created_at))
        bodies = [_body("classifying", decision.outcome)]
        if decision.reason:
            bodies.append(_body("commenting", decision.reason, MARKDOWN))
        yield told | {"body": bodies, "target": iri}


def _annotation(iri: str, motivations: list[str], creator: JsonLd, created: str) -> JsonLd:
    return {
        "id": iri,
        "type": "Annotation",
        "motivation": motivations if len(motivations) > 1 else motivations[0],
        "creator": creator,
        "created": created,
    }


def _who(member: Member) -> JsonLd:
    return {"id": iri_of(member.person), "type": "Person", "name": member.name}


def _who_said(said: Note | Reply) -> JsonLd:
    """Whoever said it; by their name alone where they are no member."""
    return {"type": "Person", "name": said.said_by} if said.said_by else _who(said.author)


def _bodies(card: NoteCard) -> Iterator[JsonLd]:
    note = card.note
    if note.body:
        yield _body("commenting", note.body, MARKDOWN)
    if note.wording is not None:
        yield _body("editing", note.wording)
    yield _body("classifying", note.kind)
    if note.subject == Subject.SCENE:
        yield _body("tagging", SCENE)
    if note.subject == Subject.CHARACTER:
        yield _body("identifying", note.character)


def _body(purpose: str, value: str, form: str = "text/plain") -> JsonLd:
    return {"type": "TextualBody", "purpose": purpose, "value": value, "format": form}


def _drafts(card: NoteCard) -> list[Draft]:
    """The draft that a note is shown on, and the one it was left on where its lines are gone there or read otherwise:
    there it is about both."""
    drafts = [card.shown_or_own_draft]
    return [*drafts, card.note.draft] if lines_by_now(card) else drafts


def _target(card: NoteCard, texts: Texts, *, shows_all: bool) -> JsonLd | list[JsonLd]:
    """The lines of a note in each of these drafts."""
    told = [
        {
            "type": "SpecificResource",
            "source": _source(draft),
            "selector": texts[draft.pk].selectors(span, shows_all=shows_all),
        }
        for draft, span in zip(_drafts(card), (card.stands.span or card.note.span, card.note.span), strict=False)
    ]
    return told if len(told) > 1 else told[0]


def _source(draft: Draft) -> JsonLd:
    return {
        "id": iri_of(draft),
        "type": "Text",
        "format": "text/plain",
        "language": draft.production.script_language,
    }
