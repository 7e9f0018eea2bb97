"""Files of annotations as they come in: whatever they hold, they are read or refused with a sentence."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from review.exchange.annotations import CONTEXT
from review.exchange.placing import NoPlace, place
from review.exchange.read_annotations import MOST_BYTES, ReadFile, Selected, UnreadableFile, read_annotations
from review.exchange.selectors import SelectedText
from screenplay import Span

NOTE = {
    "@context": CONTEXT,
    "id": "urn:uuid:1",
    "type": "Annotation",
    "motivation": "questioning",
    "creator": {"type": "Person", "name": "Zoe Quill"},
    "created": "2026-03-01T10:00:00Z",
    "body": {"type": "TextualBody", "value": "Whose lamp?", "purpose": "commenting"},
    "target": {"source": "urn:uuid:2", "selector": {"type": "TextQuoteSelector", "exact": "one lamp"}},
}
KEYS = st.sampled_from(
    [
        *(
            "id",
            "type",
            "motivation",
            "creator",
            "created",
            "body",
            "bodyValue",
            "value",
            "purpose",
            "target",
            "source",
        ),
        *("selector", "exact", "prefix", "start", "end", "items", "first", "name", "audience", "schema:audienceType"),
    ]
)
WORDS = st.sampled_from(
    ["Annotation", "TextQuoteSelector", "TextPositionSelector", "urn:x", "editing", "", "\ud800", "\0"]
)
ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers(-2, 10**30) | st.floats() | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


def read(told: Any) -> ReadFile:
    return read_annotations(json.dumps(told).encode())


@given(st.dictionaries(KEYS, ANYTHING, max_size=6), KEYS, ANYTHING)
@settings(max_examples=120)
def test_anything_that_is_json_is_read_or_refused(told: dict[str, Any], key: str, value: Any) -> None:
    for document in ({"@context": CONTEXT} | told, NOTE | {key: value}, NOTE | {"items": [value, NOTE | {key: value}]}):
        try:
            found = read(document)
        except UnreadableFile:
            continue
        else:
            texts = [(note.body, note.name, note.iri, note.wording or "") for note in (*found.notes, *found.replies)]
            assert "\0" not in str(texts)
            assert str(texts).encode()


@pytest.mark.parametrize(
    ("file", "sentence"),
    [
        (b"\xff\xfe", "no JSON file"),
        (b"{\n]", "no JSON file (line 2)"),
        (b"[" * 100_000, "no JSON file"),
        (b'{"a": ' + b"9" * 10_000 + b"}", "no JSON file"),
        (b"[]", "no web annotations"),
        (b'{"@context": "https://example.org/own"}', "no web annotations"),
        (json.dumps({"@context": CONTEXT, "items": []}).encode(), "no annotation in that file"),
        (json.dumps({"@context": CONTEXT, "items": [{}] * 2_001}).encode(), "more than 2,000"),
        (b" " * (MOST_BYTES + 1), "larger than 4 MiB"),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_sentence(file: bytes, sentence: str) -> None:
    with pytest.raises(UnreadableFile, match=sentence.replace("(", r"\(").replace(")", r"\)")):
        read_annotations(file)


def test_another_s_annotation_is_a_note() -> None:
    (note,) = read(NOTE).notes
    assert (note.name, note.kind, note.body, note.person) == ("Zoe Quill", "question", "Whose lamp?", "")
    assert note.said_at
    assert note.said_at.isoformat() == "2026-03-01T10:00:00+00:00"


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"id": None}, "no address of its own"),
        ({"body": []}, "says nothing"),
        ({"body": {"type": "TextualBody", "value": "x" * 10_001}}, "longer than a note"),
        ({"target": {"source": "urn:x"}}, "does not say which lines"),
        ({"type": "Note"}, "no annotation"),
    ],
)
def test_what_cannot_come_in_is_left_out_and_says_why(changed: dict[str, Any], why: str) -> None:
    found = read({"@context": CONTEXT, "items": [NOTE, NOTE | changed]})
    assert len(found.notes) == 1
    (left_out,) = found.left_out
    assert left_out.which == "The 2. in the file, from Zoe Quill"
    assert why in left_out.why


TEXT = "A lamp.\r\nNo lamp.\r\nA lamp.\r\n"


def selected(exact: str | None, prefix: str = "", suffix: str = "", start: int | None = None) -> Selected:
    end = None if start is None else start + len(exact or "lamp")
    return Selected("urn:x", exact, prefix, suffix, start, end)


@pytest.mark.parametrize(
    ("chosen", "is_source", "span"),
    [
        (selected(None, start=2), True, Span(1, 2, 1, 6)),
        (selected("lamp", start=12), True, Span(2, 3, 2, 7)),
        (selected("lamp", prefix="No "), False, Span(2, 3, 2, 7)),
        (selected("lamp", suffix=".\nNo"), False, Span(1, 2, 1, 6)),
        (selected("lamp.\nNo"), False, Span(1, 2, 2, 2)),
        (selected("A lamp.", start=25), False, Span(3, 0, 3, 7)),
    ],
)
def test_words_are_found_by_what_is_around_them(chosen: Selected, is_source: bool, span: Span) -> None:
    assert place(SelectedText(TEXT), chosen, is_source=is_source) == span


@pytest.mark.parametrize(
    ("chosen", "why"),
    [(selected("lamp"), "several places"), (selected("net"), "nowhere"), (selected(None, start=2), "nowhere")],
)
def test_words_that_are_nowhere_or_anywhere_have_no_place(chosen: Selected, why: str) -> None:
    with pytest.raises(NoPlace, match=why):
        place(SelectedText(TEXT), chosen, is_source=False)
