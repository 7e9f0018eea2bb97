"""Writing world papers: versions, whom they are for, and pictures, by the forms."""

from __future__ import annotations

import uuid
from io import BytesIO
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from review.log import Act
from review.notes.forms import ARRIVED_BEFORE
from review.papers.acts import PaperAsked, put_up_version
from review.papers.models import WorldPaper
from review.papers.views.paper_write import UP_ALREADY
from tests.review.papers.conftest import SONG

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def told(**fields: object) -> dict[str, object]:
    usual = {"title": "Harbour rules", "text": "No lamp.\r\n", "seen": "0", "form_id": str(uuid.uuid4())}
    return usual | fields


def test_a_paper_goes_up_for_those_who_are_named(writer: Member, crew: Member, signed_in: SignIn) -> None:
    new = reverse("paper-new", args=[writer.production.public_id])
    form = told(departments=["art"], members=[crew.public_id])
    assert signed_in(writer).post(new, form).status_code == 302
    assert signed_in(writer).post(new, form).status_code == 302
    paper = WorldPaper.objects.get()
    assert {str(reader) for reader in paper.readers.all()} == {"Art", "Bo Finch"}
    assert paper.versions.get().text == "No lamp."


def test_the_same_paper_in_a_form_made_anew_is_put_up_once_and_any_other_is_kept(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    """As a browser without scripts sends it that went back."""
    client, new = signed_in(writer), reverse("paper-new", args=[writer.production.public_id])
    first = told(members=[crew.public_id], departments=["art"])
    client.post(new, first)
    assert UP_ALREADY in client.post(new, first | {"form_id": str(uuid.uuid4())}, follow=True).text
    assert WorldPaper.objects.count() == Act.objects.filter(verb=Act.Verb.PUT_UP_PAPER).count() == 1
    for others in ({"text": "No lamp after ten."}, {"departments": ["art", "sound"]}, {"title": "Rules"}):
        late = client.post(new, first | others)
        page = BeautifulSoup(late.content, "html.parser")
        assert (late.status_code, ARRIVED_BEFORE in late.text) == (409, True)
        again = first | others | {"form_id": page.select_one("#paper-form [name=form_id]")["value"]}  # type: ignore[index]
        assert client.post(new, again).status_code == 302
    assert WorldPaper.objects.count() == 4


def test_a_paper_that_was_changed_since_is_known_by_what_its_form_said(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    client, new = signed_in(writer), reverse("paper-new", args=[writer.production.public_id])
    first = told(for_everyone="on")
    client.post(new, first)
    paper = WorldPaper.objects.get()
    put_up_version(writer, paper, PaperAsked("Rules", for_everyone=True), "Ring twice.", 1, PaperAsked.of(paper).seen)
    for form_id in (first["form_id"], str(uuid.uuid4())):
        assert UP_ALREADY in client.post(new, first | {"form_id": form_id}, follow=True).text
    narrowed = told(form_id=first["form_id"], members=[crew.public_id])
    assert client.post(new, narrowed).status_code == 409
    assert WorldPaper.objects.count() == 1


def test_what_is_missing_is_said_and_what_was_written_stays(writer: Member, signed_in: SignIn) -> None:
    new = reverse("paper-new", args=[writer.production.public_id])
    for form, sentence in (
        (told(), "Say whom it is for"),
        (told(for_everyone="on", text=" \n"), "nothing to read"),
        (told(for_everyone="on", title=""), "Give it a title."),
        (told(for_everyone="on", text="x" * 60_001), "60,000 characters"),
    ):
        refused = signed_in(writer).post(new, form)
        assert refused.status_code == 422
        assert sentence in refused.text
    assert not WorldPaper.objects.exists()


def test_the_next_version_is_put_up_and_a_late_one_is_told(
    writer: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    write = reverse("paper-write", args=[writer.production.public_id, paper.public_id])
    page = BeautifulSoup(client.get(write).content, "html.parser")
    area = page.select_one("textarea[name=text]")
    assert area
    assert area.get_text().strip() == SONG
    begun = PaperAsked.of(paper).seen
    sent = told(text="Ring twice.", seen="1", seen_asked=begun, for_everyone="on")
    assert client.post(write, sent).status_code == 302
    late = client.post(write, told(text="Ring never.", seen="1", for_everyone="on"))
    assert late.status_code == 409
    assert "Ring never." in late.text
    late = client.post(write, told(text="Ring never.", seen="1", departments=["art", "sound"]))
    ticked = BeautifulSoup(late.content, "html.parser").select("[name=departments][checked], [name=seen]")
    assert {field["value"] for field in ticked} == {"2", "art", "sound"}
    by_now = PaperAsked.of(WorldPaper.objects.get()).seen
    narrowed = told(text="Ring twice.", seen="1", seen_asked=by_now, departments=["art"])
    assert client.post(write, narrowed).status_code == 302
    paper.refresh_from_db()
    assert [version.text for version in paper.versions.all()] == [SONG, "Ring twice."]
    assert paper.for_everyone is False


def test_a_form_that_was_open_gives_a_paper_no_readers_that_were_taken_from_it(
    writer: Member, crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    write = reverse("paper-write", args=[writer.production.public_id, paper.public_id])
    as_it_was = told(title=paper.title, for_everyone="on", seen="1", seen_asked=PaperAsked.of(paper).seen)
    narrower = PaperAsked(paper.title, for_everyone=False, departments=("costume",))
    put_up_version(writer, paper, narrower, SONG, 1, PaperAsked.of(paper).seen)
    assert client.post(write, as_it_was | {"text": "Ring twice."}).status_code == 302
    assert paper.versions.count() == 2
    assert PaperAsked.of(WorldPaper.objects.get()) == narrower
    assert not WorldPaper.objects.visible_to(crew).exists()
    late = client.post(write, as_it_was | {"text": "Ring on."})
    assert late.status_code == 409
    shown = BeautifulSoup(late.content, "html.parser").select("[checked]")
    assert [field["value"] for field in shown] == ["costume"]
    before, after = Act.objects.filter(verb=Act.Verb.CHANGED_PAPER).values_list("details__before", "details__after")[0]
    assert (before["for_everyone"], after["departments"]) == (True, ["costume"])


def test_who_reads_a_paper_is_changed_knowing_how_another_left_it(
    writer: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    write = reverse("paper-write", args=[writer.production.public_id, paper.public_id])
    sent = told(title="Their song", text=SONG, departments=["art"], seen="1", seen_asked=PaperAsked.of(paper).seen)
    put_up_version(
        writer, paper, PaperAsked("Our song", False, ("costume", "sound")), SONG, 1, PaperAsked.of(paper).seen
    )
    late = client.post(write, sent)
    assert late.status_code == 409
    assert "called “Our song” and is for Costume, Sound, besides writers" in late.text
    page = BeautifulSoup(late.content, "html.parser")
    fields = {str(field["name"]): field["value"] for field in page.select("[name=title], [name=seen_asked], [checked]")}
    assert (fields["title"], fields["departments"]) == ("Their song", "art")
    assert client.post(write, sent | {"seen_asked": fields["seen_asked"]}).status_code == 302
    assert PaperAsked.of(WorldPaper.objects.get()) == PaperAsked("Their song", False, ("art",))


def test_a_title_goes_with_the_readers_that_another_has_given_the_paper_meanwhile(
    writer: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    begun = PaperAsked.of(paper).seen
    put_up_version(writer, paper, PaperAsked(paper.title, False, ("costume",)), SONG, 1, begun)
    write = reverse("paper-write", args=[writer.production.public_id, paper.public_id])
    sent = told(title="Their song", text=SONG, for_everyone="on", seen="1", seen_asked=begun)
    assert signed_in(writer).post(write, sent).status_code == 302
    assert PaperAsked.of(WorldPaper.objects.get()) == PaperAsked("Their song", False, ("costume",))


def test_a_picture_is_added_once_under_its_name(writer: Member, paper: WorldPaper, signed_in: SignIn) -> None:
    written = BytesIO()
    Image.new("RGB", (8, 8)).save(written, "PNG")
    add = reverse("paper-picture-add", args=[writer.production.public_id, paper.public_id])
    client = signed_in(writer)

    def send(name: str, content: bytes) -> int:
        return client.post(add, {"name": name, "file": SimpleUploadedFile("a.png", content)}).status_code

    assert send("map", written.getvalue()) == 302
    assert [send("map", written.getvalue()), send("a b", written.getvalue()), send("x", b"no")] == [422, 422, 422]
    assert client.post(add, {"name": "y"}).status_code == 422
    assert paper.pictures.get().media_type == "image/png"
