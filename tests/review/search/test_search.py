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

from review.access import Role
from review.drafts.found_lines import index_draft
from review.findable.models import Findable
from review.findable.terms import MOST_ASKED, terms_in
from review.notes.acts import NoteWords, change_note, leave_note, reply, withdraw_note, withdraw_reply
from review.notes.models import Audience
from review.papers.acts import PaperAsked, put_up_paper, put_up_version, withdraw_paper
from review.papers.note_acts import leave_paper_note, reply_to_paper_note, withdraw_paper_note
from review.publishing.acts import publish_draft
from review.search.found import find
from review.search.found_on_papers import find_on_papers
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_draft, make_member, make_next_draft, make_production, make_reading
from tests.screenplay.scripts import encodable

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


FOR_ALL = PaperAsked("The ferry song", for_everyone=True)


def left(author: Member, draft: Draft, body: str, line: int = 6, **fields: str) -> Note:
    return leave_note(author, draft, Span(line, 0, line, 4), "idea", body, form_id=uuid.uuid4(), **fields)


def asked(member: Member, draft: Draft, words: str) -> FoundTexts:
    return find(member, draft, terms_in(words))


def told(found: FoundTexts) -> list[str]:
    return ["".join(piece.text for piece in text.pieces) for text in found.texts]


def put_up(writer: Member, text: str) -> Draft:
    """The next draft, whose lines can be found."""
    draft = make_next_draft(writer, text)
    index_draft(draft)
    return draft


@pytest.fixture
def draft(writer: Member) -> Draft:
    return put_up(writer, SCRIPT)


@pytest.mark.parametrize(("text", "by", "not_by"), CASES)
def test_both_databases_find_a_text_by_the_same_words(
    text: str, by: list[str], not_by: list[str], writer: Member
) -> None:
    draft = make_draft(writer, "Zzzz.\n")
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
    draft = put_up(writer, text)
    assert told(asked(writer, draft, "rain")) == ["Rain falls."]
    for word in ("lanternslide", "oarlock", "saltwhistle", "quillstone"):
        assert told(asked(writer, draft, word)) == []


def test_an_earlier_draft_is_searched_on_wish(writer: Member, crew: Member, draft: Draft) -> None:
    left(crew, draft, "Mooring, surely.", 15)
    later = put_up(writer, SCRIPT.replace("Mist.", "Fog."))
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


def places(member: Member, words: str) -> list[str]:
    """Where words are found in papers: the title, where on it, what it is."""
    found = find_on_papers(member, terms_in(words)).texts
    return [" · ".join(filter(None, (text.paper.title, text.where, text.what))) for text in found]


def test_papers_are_found_in_their_latest_version_with_what_stands_on_them(writer: Member, crew: Member) -> None:
    song = put_up_paper(writer, FOR_ALL, "# The song\n\nRing **once**, oarlock.\n\n![A bell](bell)", uuid.uuid4())
    note = leave_paper_note(crew, song.versions.get(), 2, "question", "*Whose* oarlock?", "everyone", uuid.uuid4())
    reply_to_paper_note(writer, note, "The oarlock of all.", uuid.uuid4())
    assert places(crew, "ferry") == ["The ferry song"]
    assert places(crew, '"ring once"') == ["The ferry song · paragraph 2"]
    assert places(crew, "bell") == ["The ferry song · paragraph 3"]
    assert places(crew, "oarlock") == [
        "The ferry song · paragraph 2",
        "The ferry song · paragraph 2 · Question from Bo Finch",
        "The ferry song · paragraph 2 · Ada Wren replied to Bo Finch",
    ]
    bell = PaperAsked("The bell song", for_everyone=True)
    put_up_version(writer, song, bell, "First.\n\nRing once, oar.", 1, FOR_ALL.seen)
    assert places(crew, "ferry") == places(crew, '"ring once oarlock"') == []
    assert places(crew, "oarlock")[0] == "The bell song · paragraph 2 · Question from Bo Finch"
    put_up_version(writer, song, FOR_ALL, "Nothing of it.", 2, bell.seen)
    assert places(crew, "oarlock")[0] == "The ferry song · Its paragraph is gone · Question from Bo Finch"
    (asked_for,) = find_on_papers(crew, terms_in("whose")).texts
    assert ["".join(piece.text for piece in asked_for.pieces), asked_for.anchor] == [
        "Whose oarlock?",
        f"note-{note.public_id}",
    ]


def test_of_papers_nothing_is_found_that_may_not_be_read(writer: Member, crew: Member, cast: Member) -> None:
    papers = {
        "for all": put_up_paper(writer, FOR_ALL, "heronglass", uuid.uuid4()),
        "of camera": put_up_paper(
            writer, PaperAsked("Of camera", False, departments=("camera",)), "heronglass", uuid.uuid4()
        ),
        "by name": put_up_paper(writer, PaperAsked("By name", False, members=(cast,)), "heronglass", uuid.uuid4()),
        "withdrawn": put_up_paper(writer, PaperAsked("Withdrawn", True), "heronglass", uuid.uuid4()),
    }
    first = papers["for all"].versions.get()
    sealed = leave_paper_note(crew, first, 1, "idea", "Sealed heronglass.", Audience.WRITER, uuid.uuid4())
    leave_paper_note(cast, papers["by name"].versions.get(), 1, "idea", "My heronglass.", "everyone", uuid.uuid4())
    taken_back = leave_paper_note(crew, first, 1, "idea", "No heronglass.", "everyone", uuid.uuid4())
    withdraw_paper_note(crew, taken_back)
    withdraw_paper(writer, papers["withdrawn"])
    song, by_name = "The ferry song · paragraph 1", "By name · paragraph 1"
    own = f"{by_name} · Idea from Cleo Marsh"
    assert places(cast, "heronglass") == [by_name, own, song]
    assert places(crew, "heronglass") == ["Of camera · paragraph 1", song, f"{song} · Idea from Bo Finch"]
    assert len(places(writer, "heronglass")) == 5
    assert places(make_member(make_production("Elsewhere"), Role.WRITER), "heronglass") == []
    reply_to_paper_note(writer, sealed, "Answered heronglass.", uuid.uuid4())
    make_reading(writer, put_up(writer, SCRIPT), crew, cast)
    leave_paper_note(writer, first, 1, "idea", "Late heronglass.", "everyone", uuid.uuid4())
    assert places(cast, "heronglass") == [by_name, own, song]
    assert f"{song} · Idea from Ada Wren" not in places(crew, "heronglass")


def test_the_page_leads_to_papers_too_before_the_first_draft(writer: Member, signed_in: SignIn) -> None:
    song = put_up_paper(writer, FOR_ALL, "Ring once.", uuid.uuid4())
    address = reverse("search", args=[writer.production.public_id])
    response = signed_in(writer).get(address, {"for": "once"})
    page = BeautifulSoup(response.content, "html.parser")
    of_song = reverse("paper", args=[writer.production.public_id, song.public_id])
    assert [str(link["href"]) for link in page.select(".search-found a")] == [f"{of_song}#p1"]
    assert "Found in 1 place in world papers." in re.sub(r"\s+", " ", page.get_text())


def test_the_index_follows_a_note_that_is_changed(crew: Member, draft: Draft) -> None:
    note = left(crew, draft, "heronglass", wording="NELL quillstone.")
    change_note(crew, note, NoteWords("idea", "marrowlight", None, Audience.EVERYONE), 1)
    assert not asked(crew, draft, "heronglass").texts
    assert not asked(crew, draft, "quillstone").texts
    assert told(asked(crew, draft, "marrow*")) == ["marrowlight"]


def test_the_index_made_anew_is_the_same(writer: Member, crew: Member, capsys: pytest.CaptureFixture[str]) -> None:
    draft, _ = publish_draft(writer, read_text(SCRIPT))
    assert "Tide turns at four." in told(asked(crew, draft, "tide"))
    reply(writer, left(crew, draft, "Which tide?", wording="NELL waits."), "The tide.", uuid.uuid4())
    song = put_up_paper(writer, FOR_ALL, "*Slack* tide.\n\nNo lamp.", uuid.uuid4())
    note = leave_paper_note(crew, song.versions.get(), 2, "idea", "Nor tide.", "everyone", uuid.uuid4())
    reply_to_paper_note(writer, note, "Nor that.", uuid.uuid4())
    put_up_version(writer, song, FOR_ALL, "*Slack* tide, then ebb.\n\nNo lamp.", 1, FOR_ALL.seen)
    fields = ("draft", "paper", "line", "note", "reply", "paper_note", "paper_reply", "is_wording", "text")
    before, found = set(Findable.objects.values_list(*fields)), told(asked(crew, draft, "tide"))
    call_command("index_words")
    assert set(Findable.objects.values_list(*fields)) == before
    assert told(asked(crew, draft, "tide")) == found
    assert f"{len(before)} lines, paragraphs, notes and replies" in capsys.readouterr().out


@given(st.text(encodable, max_size=30) | st.text("\"*“” -()^:{}+'\\&|!<>%_aé\0", max_size=30))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
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
    assert "Found in 1 line and 1 note." in re.sub(r"\s+", " ", page.get_text())


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
    song = put_up_paper(writer, FOR_ALL, "Tide.", uuid.uuid4()).versions.get()
    leave_paper_note(crew, song, 1, "idea", "Tide?", "everyone", uuid.uuid4())
    client.get(address, {"for": "tide"})
    with django_assert_num_queries(QUERIES):
        client.get(address, {"for": "tide"})
    for line in (4, 6, 9, 15):
        reply(writer, left(crew, draft, "The tide?", line), "Tide.", uuid.uuid4())
        leave_paper_note(crew, song, 1, "idea", "Tide?", "everyone", uuid.uuid4())
    with django_assert_num_queries(QUERIES):
        client.get(address, {"for": "tide"})


QUERIES = 9
