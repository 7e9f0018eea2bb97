"""Searching a production: what is found, in which order, for whom, and in both databases alike."""

from __future__ import annotations

import re
import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.core.management import call_command
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from review.findable.models import Findable
from review.findable.terms import MOST_ASKED, terms_in
from review.notes.acts import NoteWords, change_note, leave_note, reply, withdraw_note, withdraw_reply
from review.notes.models import Audience
from review.publishing.acts import publish_draft
from review.search.found import find
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_member, make_production, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_django import DjangoAssertNumQueries

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member
    from review.search.found import FoundTexts

    SignIn = Callable[[Member], Client]

# What each text is found by, and what it is not found by: capitals, accents, letters that are typed as others,
# apostrophes, hyphens, numbers, scripts without capitals, beginnings and words that stand together.
CASES = [
    (
        "Tide turns at four.",
        ["tide", "TIDE", "tid*", '"turns at four"', "four tide", "“turns at”"],
        ["tid", '"turns four"'],
    ),
    ("Four at the turn", ['"the turn"', "turn four"], ['"turn the"', '"four the"', '"four at turn"']),
    ("The café is déjà full", ["cafe", "CAFÉ", "deja", "cafe\u0301"], ["caf", "dej"]),
    ("Cafe\u0301 noir", ["café", "cafe"], []),
    ("Straße, Ærø, Łódź", ["strasse", "STRASSE", "aero", "lodz", "łódź"], ["stras"]),
    ("He didn’t wait", ["didn't", "didnt", "didn’t", "did*"], ["didn", "t"]),
    ("A hand-held, wide-angle", ["hand-held", "hand", '"held wide"', "hand-h*"], ["handheld", "held-hand"]),
    ("Scene 12A at 3.30", ["12a", "12*", "3.30", "30"], ["12", "330"]),
    ("Мир, ΑΘΗΝΑ und ἀθήνα", ["мир", "МИР", "αθηνα", "ми*"], ["мирр"]),
    ("東京 by night", ["東京", "東*", "night"], ["京"]),
    ("o'clock; 'quoted' and x_y", ["quoted", "o'clock", "x", "x_y"], ["xy", "o"]),
    ("½ cup ﬁne ２０２６", ["fine", "2026", "12"], []),
    ("Tide AND four OR near", ["and", "or", "near", "tide AND four", "tide near"], ["not"]),
]


def left(author: Member, draft: Draft, body: str, line: int = 6, **fields: str) -> Note:
    return leave_note(author, draft, Span(line, 0, line, 4), "idea", body, form_id=uuid.uuid4(), **fields)


def asked(member: Member, draft: Draft, words: str) -> FoundTexts:
    return find(member, draft, terms_in(words))


def told(found: FoundTexts) -> list[str]:
    return ["".join(piece.text for piece in text.pieces) for text in found.texts]


@pytest.fixture
def draft(writer: Member) -> Draft:
    return publish_draft(writer, read_text(SCRIPT))[0]


@pytest.mark.parametrize(("text", "by", "not_by"), CASES)
def test_both_databases_find_a_text_by_the_same_words(
    text: str, by: list[str], not_by: list[str], writer: Member
) -> None:
    draft, _ = publish_draft(writer, read_text("Zzzz.\n"))
    left(writer, draft, text, 1)
    assert [words for words in by if told(asked(writer, draft, words)) != [" ".join(text.split())]] == []
    assert [words for words in not_by if told(asked(writer, draft, words))] == []


def test_what_is_found_stands_in_script_order_with_its_words_marked(writer: Member, crew: Member, draft: Draft) -> None:
    late = left(crew, draft, "The tide again.", 17)
    reply(writer, left(crew, draft, "Which lamp?", 6), "The tide lamp.", uuid.uuid4())
    found = asked(writer, draft, "tid*")
    assert [(text.line, text.what) for text in found.texts] == [
        (6, "Ada Wren replied to Bo Finch"),
        (9, ""),
        (17, "Idea from Bo Finch"),
    ]
    assert [piece.text for text in found.texts for piece in text.pieces if piece.is_found] == ["tide", "Tide", "tide"]
    assert found.texts[2].note == late.public_id


def test_a_note_is_shown_as_it_reads_with_no_mark_of_markdown(crew: Member, draft: Draft) -> None:
    left(crew, draft, "**No cast** on a *loaded* rope & [a chart](https://charts.example.org/quay).")
    left(crew, draft, "As offered.", wording="**a** rope")
    found = asked(crew, draft, "rope")
    said = ["".join(piece.text for piece in text.pieces) for text in found.texts]
    assert said == ["No cast on a loaded rope & a chart.", "**a** rope"]
    in_link = asked(crew, draft, "quay")
    assert [piece.text for text in in_link.texts for piece in text.pieces if piece.is_found] == ["quay"]


def test_no_line_is_found_by_what_no_page_shows(writer: Member) -> None:
    text = "INT. HUT - DAY\n\nFog. [[lanternslide]] /* oarlock */\n\n# Saltwhistle\n\n= Quillstone\n\n*Rain* falls.\n"
    draft, _ = publish_draft(writer, read_text(text))
    assert told(asked(writer, draft, "rain")) == ["Rain falls."]
    for word in ("lanternslide", "oarlock", "saltwhistle", "quillstone"):
        assert told(asked(writer, draft, word)) == []


def test_an_earlier_draft_is_searched_on_wish(writer: Member, crew: Member, draft: Draft) -> None:
    left(crew, draft, "Mooring, surely.", 15)
    later, _ = publish_draft(writer, read_text(SCRIPT.replace("Mist.", "Fog.")))
    assert told(asked(crew, draft, "mist")) == ["Mist. The skiff is gone."]
    assert told(asked(crew, later, "mist")) == []
    assert [text.line for text in asked(crew, later, "mooring").texts] == [15]


def test_what_may_not_be_read_is_not_found(writer: Member, crew: Member, cast: Member, draft: Draft) -> None:
    left(crew, draft, "heronglass", audience=Audience.WRITER)
    gone = left(cast, draft, "marrowlight")
    answer = reply(crew, left(cast, draft, "Whose?"), "saltwhistle", uuid.uuid4())
    withdraw_note(cast, gone)
    withdraw_reply(crew, answer)
    stranger = make_member(make_production("Elsewhere"))
    for member, word, is_found in [
        (writer, "heronglass", True),
        (crew, "heronglass", True),
        (cast, "heronglass", False),
        (cast, "marrowlight", False),
        (writer, "saltwhistle", False),
        (stranger, "heronglass", False),
    ]:
        assert bool(asked(member, draft, word).texts) == is_found, (member, word)
    make_reading(writer, draft, crew)
    assert not asked(crew, draft, "whose").texts
    assert asked(crew, draft, "heronglass").texts


def test_the_index_follows_a_note_that_is_changed(crew: Member, draft: Draft) -> None:
    note = left(crew, draft, "heronglass", wording="NELL quillstone.")
    change_note(crew, note, NoteWords("idea", "marrowlight", None, Audience.EVERYONE), 1)
    assert not asked(crew, draft, "heronglass").texts
    assert not asked(crew, draft, "quillstone").texts
    assert told(asked(crew, draft, "marrow*")) == ["marrowlight"]


def test_the_index_made_anew_is_the_same(
    writer: Member, crew: Member, draft: Draft, capsys: pytest.CaptureFixture[str]
) -> None:
    reply(writer, left(crew, draft, "Which tide?", wording="NELL waits."), "The tide.", uuid.uuid4())
    fields = ("draft", "line", "note", "reply", "is_wording", "text")
    before, found = set(Findable.objects.values_list(*fields)), told(asked(crew, draft, "tide"))
    call_command("index_words")
    assert set(Findable.objects.values_list(*fields)) == before
    assert told(asked(crew, draft, "tide")) == found
    assert f"{len(before)} lines, notes and replies" in capsys.readouterr().out


@given(st.text(max_size=30) | st.text("\"*“” -()^:{}+'\\&|!<>%_aé\0", max_size=30))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_typed_finds_or_finds_nothing(writer: Member, draft: Draft, words: str) -> None:
    assert asked(writer, draft, words).lines >= 0 if terms_in(words) else True


def test_terms_are_bounded() -> None:
    assert len(terms_in("a " * 500)) == 1
    assert len(terms_in(" ".join(f"w{number}" for number in range(500)))) == 12
    assert terms_in("x" * 10_000)[0].words == ("x" * 80,)
    assert MOST_ASKED == 200


def test_the_page_leads_to_each_place(writer: Member, crew: Member, draft: Draft, signed_in: SignIn) -> None:
    note = left(crew, draft, "The tide?", 9)
    response = signed_in(crew).get(reverse("search", args=[writer.production.public_id]), {"for": "tide"})
    page = BeautifulSoup(response.content, "html.parser")
    script = reverse("script", args=[writer.production.public_id, 1])
    links = [str(link["href"]) for link in page.select(".search-found a")]
    assert links == [f"{script}#L9", f"{script}?note={note.public_id}#note-{note.public_id}"]
    assert [mark.get_text() for mark in page.select("mark")] == ["Tide", "tide"]
    assert "1 line, and 1 note or reply" in re.sub(r"\s+", " ", page.get_text())


@pytest.mark.parametrize("words", ["", "zzz", '"', "((", "\0", "*" * 300])
def test_a_page_answers_whatever_is_asked(words: str, writer: Member, draft: Draft, signed_in: SignIn) -> None:
    address = reverse("search", args=[writer.production.public_id])
    response = signed_in(writer).get(address, {"for": words, "draft": words})
    assert response.status_code == (400 if "\0" in words else 200)


def test_before_the_first_draft_it_says_so(writer: Member, signed_in: SignIn) -> None:
    page = signed_in(writer).get(reverse("search", args=[writer.production.public_id]), {"for": "tide"}).text
    assert "No draft yet" in page


def test_queries_are_as_many_for_many_notes(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    client = signed_in(crew)
    address = reverse("search", args=[writer.production.public_id])
    left(crew, draft, "The tide?", 9)
    client.get(address, {"for": "tide"})
    with django_assert_num_queries(QUERIES):
        client.get(address, {"for": "tide"})
    for line in (4, 6, 9, 15):
        reply(writer, left(crew, draft, "The tide?", line), "Tide.", uuid.uuid4())
    with django_assert_num_queries(QUERIES):
        client.get(address, {"for": "tide"})


QUERIES = 7
