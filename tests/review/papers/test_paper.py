"""A world paper with what is said on its paragraphs: by whom, for whom, and where it stands in later versions."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.decisions.acts import NeedsReason
from review.log import Act
from review.notes.forms import ARRIVED_BEFORE
from review.notes.models import Audience, Fate
from review.papers.acts import PaperAsked, add_picture, put_up_version, withdraw_paper
from review.papers.note_acts import (
    NoParagraph,
    PaperDecidedMeanwhile,
    PaperWords,
    change_paper_note,
    decide_paper_note,
    leave_paper_note,
    put_paper_note_back,
    reply_to_paper_note,
    withdraw_paper_note,
)
from review.papers.note_models import PaperNote, PaperReply
from review.papers.pictures import CheckedPicture
from review.papers.shown import show_paper
from review.papers.views.paper import MEANWHILE, NO_REASON
from tests.factories import make_draft, make_reading
from tests.review.papers.conftest import SONG

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_django import DjangoAssertNumQueries

    from review.papers.models import PaperVersion, WorldPaper
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

AS_IT_WAS = PaperAsked("The ferry song", for_everyone=True)


def address(member: Member, name: str, public_id: str, *more: str) -> str:
    return reverse(name, args=[member.production.public_id, public_id, *more])


def say(author: Member, version: PaperVersion, body: str, audience: str = Audience.EVERYONE) -> PaperNote:
    return leave_paper_note(author, version, 3, "idea", body, audience, uuid.uuid4())


def test_notes_stand_beside_their_paragraph_and_follow_it(
    writer: Member, crew: Member, paper: WorldPaper, note: PaperNote
) -> None:
    gone = say(crew, paper.versions.get(), "May what?")
    text = "# The ferry song\n\nA first verse.\n\nRing once, and wait for it.\n\nNobody rings twice."
    second = put_up_version(writer, paper, AS_IT_WAS, text, 1, AS_IT_WAS.seen)
    shown = show_paper(crew, paper, second)
    assert [(at.number, one.note, one.fate) for at in shown.paragraphs for one in at.notes] == [
        (3, note, Fate.REWORDED)
    ]
    assert [one.note for one in shown.gone] == [gone]
    assert [one.quoted for one in shown.gone] == ["<p>The water carries what it may.</p>\n"]
    first = show_paper(crew, paper, paper.versions.get(number=1))
    assert [(at.number, one.fate) for at in first.paragraphs for one in at.notes] == [(2, None), (3, None)]
    third = put_up_version(writer, paper, AS_IT_WAS, f"{text}\n\nThe water carries what it may.", 2, AS_IT_WAS.seen)
    again = show_paper(crew, paper, third)
    assert [(at.number, one.note) for at in again.paragraphs for one in at.notes] == [(3, note), (5, gone)]


def test_a_note_left_on_an_earlier_version_is_carried_at_once(writer: Member, crew: Member, paper: WorldPaper) -> None:
    second = put_up_version(writer, paper, AS_IT_WAS, f"Before all.\n\n{SONG}", 1, AS_IT_WAS.seen)
    say(crew, paper.versions.get(number=1), "May what?")
    assert [at.number for at in show_paper(crew, paper, second).paragraphs if at.notes] == [4]


def test_who_reads_what_is_as_on_the_script(
    writer: Member, crew: Member, cast: Member, paper: WorldPaper, note: PaperNote
) -> None:
    sealed = say(crew, paper.versions.get(), "Frankly, no.", Audience.WRITER)
    reply_to_paper_note(cast, note, "Abel.", uuid.uuid4())
    assert {*PaperNote.objects.visible_to(writer)} == {note, sealed} == {*PaperNote.objects.visible_to(crew)}
    assert {*PaperNote.objects.visible_to(cast)} == {note}
    make_reading(writer, make_draft(writer), crew, cast)
    assert not PaperNote.objects.visible_to(cast).exists()
    assert not PaperReply.objects.visible_to(crew).exists()
    with pytest.raises(PermissionDenied):
        reply_to_paper_note(cast, note, "Or Kit.", uuid.uuid4())


def test_a_thread_and_its_decisions_are_kept_in_order(
    writer: Member, crew: Member, paper: WorldPaper, note: PaperNote
) -> None:
    reply_to_paper_note(writer, note, "Everybody.", uuid.uuid4())
    decide_paper_note(writer, note, "parked", "Later.", 0, uuid.uuid4())
    decide_paper_note(writer, note, "taken in", "Now.", 1, uuid.uuid4())
    with pytest.raises(PaperDecidedMeanwhile):
        decide_paper_note(writer, note, "declined", "", 1, uuid.uuid4())
    with pytest.raises(PermissionDenied):
        decide_paper_note(crew, note, "declined", "", 2, uuid.uuid4())
    (shown,) = show_paper(crew, paper, paper.versions.get()).paragraphs[1].notes
    assert [str(decision) for decision in shown.decisions] == ["Parked", "Taken in"]
    assert [each.reply.body for each in shown.replies] == ["Everybody."]
    assert (shown.may_decide, shown.may_withdraw) == (False, True)


def test_the_same_form_counts_once_and_no_paragraph_is_made_up(crew: Member, paper: WorldPaper) -> None:
    form_id, version = uuid.uuid4(), paper.versions.get()
    first, again = (leave_paper_note(crew, version, 1, "idea", "So.", "everyone", form_id) for _ in range(2))
    assert first == again
    assert Act.objects.filter(verb=Act.Verb.LEFT_PAPER_NOTE).count() == 1
    with pytest.raises(NoParagraph):
        leave_paper_note(crew, version, 5, "idea", "So.", "everyone", uuid.uuid4())


def test_nothing_is_said_on_a_withdrawn_paper_and_what_was_taken_back_is_not_shown(
    writer: Member, crew: Member, paper: WorldPaper, note: PaperNote
) -> None:
    other = say(crew, paper.versions.get(), "Hm.")
    withdraw_paper_note(crew, other)
    assert [one.note for at in show_paper(writer, paper, paper.versions.get()).paragraphs for one in at.notes] == [note]
    withdraw_paper(writer, paper)
    for act in (
        lambda: say(writer, paper.versions.get(), "So."),
        lambda: reply_to_paper_note(writer, note, "So.", uuid.uuid4()),
    ):
        with pytest.raises(PermissionDenied):
            act()


def test_a_note_that_was_taken_back_is_its_author_s_to_put_back(
    writer: Member, crew: Member, cast: Member, paper: WorldPaper, note: PaperNote, signed_in: SignIn
) -> None:
    client = signed_in(crew)
    page = client.post(address(crew, "paper-note-withdraw", note.public_id), follow=True).text
    assert "You withdrew this note. Nobody else can read it." in page
    for other in (writer, cast):
        assert "Who sings it?" not in signed_in(other).get(address(other, "paper", paper.public_id)).text
    back = address(crew, "paper-note-put-back", note.public_id)
    assert back in page
    page = client.post(back, follow=True).text
    assert "Your note is back, as it was." in page
    assert back not in page
    assert "Who sings it?" in signed_in(cast).get(address(cast, "paper", paper.public_id)).text
    with pytest.raises(PermissionDenied):
        put_paper_note_back(cast, note)
    withdraw_paper_note(crew, note)
    put_up_version(writer, paper, PaperAsked(paper.title, for_everyone=False), "So.", 1, AS_IT_WAS.seen)
    with pytest.raises(PermissionDenied):
        put_paper_note_back(crew, note)


def test_a_note_comes_by_the_form_and_an_empty_one_says_what_is_missing(
    crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    client, to = signed_in(crew), address(crew, "paper-note-new", paper.public_id)
    told = {"form_id": str(uuid.uuid4()), "paragraph": "2", "version": "1", "kind": "idea", "audience": "everyone"}
    refused = client.post(to, told | {"body": " "})
    assert refused.status_code == 422
    page = BeautifulSoup(refused.content, "html.parser")
    said, chosen = page.select_one("#say .field-errors"), page.select_one("#say [name=paragraph] [selected]")
    assert said
    assert chosen
    assert said.get_text() == "Write what you want to say first."
    assert chosen.get_text() == "2. Ring once and wait."
    sent = client.post(to, told | {"body": "Slower here."})
    assert sent.headers["Location"].endswith(f"#note-{PaperNote.objects.get().public_id}")
    assert client.post(to, told | {"body": "x", "paragraph": "99", "form_id": str(uuid.uuid4())}).status_code == 422
    shown = "http://testserver" + address(crew, "paper", paper.public_id)
    by_script = client.post(
        to, told | {"body": "Slower here."}, headers={"HX-Request": "true", "HX-Current-URL": shown}
    )
    assert by_script.status_code == 200
    assert by_script.headers["HX-Redirect"] == sent.headers["Location"]
    assert (
        by_script.headers["HX-Refresh"] == "true"
    )  # the page it is on already, which another fragment does not load anew


@pytest.mark.parametrize(
    ("door", "already"),
    [("paper-note-new", "You left this note already"), ("paper-reply-new", "You sent this reply already")],
)
def test_the_same_words_in_a_form_made_anew_count_once_and_other_words_in_one_that_was_sent_are_kept(
    crew: Member, paper: WorldPaper, note: PaperNote, signed_in: SignIn, door: str, already: str
) -> None:
    """As a browser without scripts sends them that went back."""
    client, of = signed_in(crew), paper if door == "paper-note-new" else note
    told = {"paragraph": "3", "version": "1", "kind": "idea", "audience": "everyone"}

    def send(body: str, form_id: str = "") -> Any:
        sent = told | {"body": body, "form_id": form_id or str(uuid.uuid4())}
        return client.post(address(crew, door, of.public_id), sent, follow=True)

    def said() -> list[str]:
        records = PaperNote.objects.exclude(pk=note.pk) if door == "paper-note-new" else PaperReply.objects.all()
        return [each.body for each in records.order_by("pk")]

    first = str(uuid.uuid4())
    assert already not in send("Slower.", first).text
    assert f"{already}. It counts once." in send("Slower.").text
    assert said() == ["Slower."]
    again = send("Louder.", first)
    assert (again.status_code, ARRIVED_BEFORE in again.text, "Louder." in again.text) == (409, True, True)
    send("Louder.")
    assert said() == ["Slower.", "Louder."]


@pytest.mark.parametrize("others", [{"audience": "writer"}, {"paragraph": "2"}, {"kind": "problem"}])
def test_other_choices_in_a_form_that_was_sent_are_not_taken_for_what_it_left(
    crew: Member, paper: WorldPaper, signed_in: SignIn, others: dict[str, str]
) -> None:
    """Or somebody believed that they had kept their note for the writer."""
    client, to = signed_in(crew), address(crew, "paper-note-new", paper.public_id)
    told = {"paragraph": "3", "version": "1", "kind": "idea", "audience": "everyone", "body": "Slower."}
    form_id = {"form_id": str(uuid.uuid4())}
    client.post(to, told | form_id)
    late = client.post(to, told | others | form_id)
    page = BeautifulSoup(late.content, "html.parser")
    assert (late.status_code, ARRIVED_BEFORE in late.text) == (409, True)
    (name, value), renewed = next(iter(others.items())), page.select_one("#say [name=form_id]")["value"]  # type: ignore[index]
    assert page.select(f"#say [name={name}] [value={value!r}][selected]")
    client.post(to, told | others | {"form_id": renewed})
    assert PaperNote.objects.filter(**others).count() == 1
    assert PaperNote.objects.count() == 2


def test_a_note_that_was_changed_since_is_known_by_what_its_form_said(
    crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    client, to = signed_in(crew), address(crew, "paper-note-new", paper.public_id)
    told = {"paragraph": "3", "version": "1", "kind": "idea", "audience": "everyone", "body": "Slower."}
    told["form_id"] = str(uuid.uuid4())
    client.post(to, told)
    change_paper_note(crew, PaperNote.objects.get(), PaperWords("idea", "Louder.", "writer"), 1)
    assert "You left this note already" in client.post(to, told, follow=True).text
    assert client.post(to, told | {"audience": "writer"}).status_code == 409


def test_the_same_words_to_a_reply_that_came_between_are_a_new_reply(
    writer: Member, crew: Member, note: PaperNote
) -> None:
    for author, body in ((crew, "Yes."), (writer, "All of it?"), (crew, "Yes."), (crew, "Yes.")):
        reply_to_paper_note(author, note, body, uuid.uuid4())
    assert [each.body for each in note.replies.all()] == ["Yes.", "All of it?", "Yes."]


def test_declining_a_note_needs_a_reason(writer: Member, note: PaperNote, signed_in: SignIn) -> None:
    with pytest.raises(NeedsReason):
        decide_paper_note(writer, note, "declined", " ", 0, uuid.uuid4())
    decline = {"form_id": str(uuid.uuid4()), "seen": "0", "outcome": "declined", "reason": ""}
    refused = signed_in(writer).post(address(writer, "paper-decide", note.public_id), decline)
    assert refused.status_code == 422
    page = BeautifulSoup(refused.content, "html.parser")
    assert [each.get_text() for each in page.select("details[open] .field-errors")] == [NO_REASON]
    assert not note.decisions.exists()


def test_another_outcome_in_a_form_that_was_sent_is_not_taken_for_what_it_decided(
    writer: Member, note: PaperNote, signed_in: SignIn
) -> None:
    client, decide = signed_in(writer), address(writer, "paper-decide", note.public_id)
    told = {"form_id": str(uuid.uuid4()), "seen": "0", "outcome": "parked", "reason": ""}
    assert [client.post(decide, told).status_code for _ in range(2)] == [302, 302]
    for other in ({"outcome": "taken in"}, {"reason": "Later."}):
        late = client.post(decide, told | other)
        assert (late.status_code, MEANWHILE in late.text) == (409, True)
        assert client.post(decide, told | other | {"seen": str(note.decisions.count())}).status_code == 302
    assert [str(each) for each in note.decisions.all()] == ["Parked", "Taken in", "Parked"]


def test_replies_and_decisions_come_by_forms(writer: Member, note: PaperNote, signed_in: SignIn) -> None:
    client = signed_in(writer)
    form_id = {"form_id": str(uuid.uuid4())}
    assert client.post(address(writer, "paper-reply-new", note.public_id), form_id | {"body": ""}).status_code == 422
    assert (
        client.post(address(writer, "paper-reply-new", note.public_id), form_id | {"body": "Yes."}).status_code == 302
    )
    decide = address(writer, "paper-decide", note.public_id)
    assert client.post(decide, form_id | {"seen": "0"}).status_code == 422
    assert client.post(decide, form_id | {"seen": "0", "outcome": "parked"}).status_code == 302
    late = client.post(decide, {"form_id": str(uuid.uuid4()), "seen": "0", "outcome": "declined", "reason": "Mine."})
    assert late.status_code == 409
    assert "Mine." in late.text
    assert note.decisions.count() == note.replies.count() == 1


def test_a_picture_is_given_to_whom_the_paper_is_for_and_nothing_in_it_is_run(
    writer: Member, crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    add_picture(writer, paper, "map", CheckedPicture(b"PNG", "image/png", 1, 1))
    put_up_version(writer, paper, AS_IT_WAS, "![the harbour](map)", 1, AS_IT_WAS.seen)
    page = BeautifulSoup(signed_in(crew).get(address(crew, "paper", paper.public_id)).content, "html.parser")
    image = page.select_one(".paper-paragraph img")
    assert image
    assert image["alt"] == "the harbour"
    response = signed_in(crew).get(str(image["src"]))
    assert (response.content, response["Content-Type"]) == (b"PNG", "image/png")
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["Content-Security-Policy"] == "default-src 'none'; sandbox"
    for_cast = PaperAsked("The ferry song", for_everyone=False, departments=("cast",))
    put_up_version(writer, paper, for_cast, "x", 2, AS_IT_WAS.seen)
    assert signed_in(crew).get(str(image["src"])).status_code == 404


@pytest.mark.parametrize("version", ["9", "x", "-1", "9" * 30, "²"])
def test_no_other_version_is_there(version: str, crew: Member, paper: WorldPaper, signed_in: SignIn) -> None:
    assert signed_in(crew).get(address(crew, "paper", paper.public_id), {"version": version}).status_code == 404


def test_queries_are_as_many_for_many_notes(
    writer: Member,
    crew: Member,
    paper: WorldPaper,
    signed_in: SignIn,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    client, page = signed_in(crew), address(crew, "paper", paper.public_id)
    version = paper.versions.get()
    say(crew, version, "One.")
    client.get(page)
    with django_assert_num_queries(QUERIES):
        client.get(page)
    for body in ("Two.", "Three.", "Four."):
        reply_to_paper_note(writer, say(crew, version, body), "So.", uuid.uuid4())
    with django_assert_num_queries(QUERIES):
        client.get(page)


QUERIES = 11
