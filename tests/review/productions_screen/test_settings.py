"""The settings of a production."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.access import Role
from review.drafts.paging import unlock_pages
from review.drafts.scripts import laid_out
from review.log import Act
from review.productions.models import USUAL_COLOURS, Production
from review.productions_screen.acts import Settings, SettingsChangedMeanwhile, change_settings, settings_of
from review.productions_screen.forms import in_usual_case, wrong_with_colours
from tests.factories import SCRIPT, make_draft, make_member
from tests.review.locked_film import WHOLE, lock_all, put_up

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]
    Answer = Any


@pytest.fixture
def producer(production: Production) -> Member:
    return make_member(production, Role.PRODUCER, name="Pim Oake")


def address(member: Member) -> str:
    return reverse("settings", args=[member.production.public_id])


def page_of(response: Answer) -> BeautifulSoup:
    return BeautifulSoup(response.content, "html.parser")


def shown(response: Answer) -> dict[str, str]:
    """What the form on a page would send."""
    page = page_of(response)
    fields = {str(field["name"]): str(field.get("value", "")) for field in page.select("form.settings input")}
    fields |= {str(radio["name"]): str(radio["value"]) for radio in page.select("form.settings input[checked]")}
    fields |= {str(area["name"]): area.get_text().strip() for area in page.select("form.settings textarea")}
    return fields


def save(client: Client, member: Member, **changed: str) -> Answer:
    return client.post(address(member), shown(client.get(address(member))) | changed)


def standing(member: Member) -> Settings:
    return settings_of(Production.objects.get(pk=member.production_id))


def test_a_new_production_is_typed_as_is_usual(writer: Member, signed_in: SignIn) -> None:
    fields = shown(signed_in(writer).get(address(writer)))
    assert (fields["paper"], fields["blank_lines_before_heading"], fields["language"]) == ("letter", "2", "")
    assert fields["revision_colours"].splitlines() == list(USUAL_COLOURS)


def test_a_writer_sets_paper_blank_lines_language_colours_and_name(writer: Member, signed_in: SignIn) -> None:
    response = save(
        signed_in(writer),
        writer,
        name="Neap  Tide",
        paper="a4",
        blank_lines_before_heading="1",
        language="EN-gb",
        revision_colours="White\r\n\r\n  Pale  Blue \r\n",
    )
    assert response["Location"] == address(writer)
    assert standing(writer) == Settings("Neap Tide", "a4", 1, ("White", "Pale Blue"), "en-GB")


def test_a_producer_may_too(producer: Member, signed_in: SignIn) -> None:
    save(signed_in(producer), producer, paper="a4")
    assert standing(producer).paper == "a4"


@pytest.mark.parametrize("role", ["crew", "cast"])
def test_other_members_may_not(request: pytest.FixtureRequest, signed_in: SignIn, role: str) -> None:
    member = request.getfixturevalue(role)
    client = signed_in(member)
    assert client.get(address(member)).status_code == 403
    assert client.post(address(member), {"name": "Mine"}).status_code == 403
    people = client.get(reverse("people", args=[member.production.public_id]))
    assert not page_of(people).select(f'a[href="{address(member)}"]')


def test_the_people_screen_leads_there(producer: Member, signed_in: SignIn) -> None:
    people = signed_in(producer).get(reverse("people", args=[producer.production.public_id]))
    assert page_of(people).select(f'a[href="{address(producer)}"]')


def test_each_change_is_in_the_log_with_what_stood_before(writer: Member, signed_in: SignIn) -> None:
    save(signed_in(writer), writer, name="Neap Tide", paper="a4")
    renamed = Act.objects.get(verb=Act.Verb.RENAMED_PRODUCTION)
    changed = Act.objects.get(verb=Act.Verb.CHANGED_SETTINGS)
    assert renamed.details == {"before": "Slack Water", "name": "Neap Tide"}
    assert changed.details == {"before": {"paper": "letter"}, "after": {"paper": "a4"}}
    assert (changed.person, changed.production) == (writer.person, writer.production)


def test_saving_what_stands_changes_nothing_and_is_no_act(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    page = client.get(save(client, writer)["Location"])
    assert "Nothing has changed" in page.text
    assert not Act.objects.filter(verb__in=[Act.Verb.CHANGED_SETTINGS, Act.Verb.RENAMED_PRODUCTION]).exists()


def test_a_form_sent_twice_counts_once(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    fields = shown(client.get(address(writer))) | {"paper": "a4"}
    assert [client.post(address(writer), fields).status_code for _ in range(2)] == [302, 302]
    assert Act.objects.filter(verb=Act.Verb.CHANGED_SETTINGS).count() == 1


def test_of_two_who_save_at_once_the_later_is_told_and_loses_nothing(
    writer: Member, producer: Member, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    opened = shown(client.get(address(writer)))
    save(signed_in(producer), producer, paper="a4", revision_colours="White\nBuff")
    response = client.post(address(writer), opened | {"name": "Neap Tide"})
    assert response.status_code == 409
    told = " ".join(page_of(response).select("[role=alert]")[0].get_text(" ").split())
    assert "Pim Oake saved other settings" in told
    assert "Paper A4" in told
    assert "White, Buff" in told
    assert standing(writer) == Settings("Slack Water", "a4", 2, ("White", "Buff"), "")
    kept = shown(response)
    assert (kept["name"], kept["paper"]) == ("Neap Tide", "letter")
    assert client.post(address(writer), kept).status_code == 302
    assert (standing(writer).name, standing(writer).paper) == ("Neap Tide", "letter")


def test_what_another_has_saved_alike_is_no_conflict(writer: Member, producer: Member) -> None:
    before = settings_of(writer.production)
    wanted = Settings("Slack Water", "a4", 1, ("White",), "ja")
    assert change_settings(producer, wanted, before.seen)
    assert not change_settings(writer, wanted, before.seen)
    with pytest.raises(SettingsChangedMeanwhile):
        change_settings(writer, before, "")


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("name", " ", "Say what the production is called."),
        ("language", "English, mostly", "is not a language tag"),
        ("revision_colours", " \n ", "Name at least one colour"),
        ("revision_colours", "White\nBlue\nwhite", "“white” is there twice"),
        ("revision_colours", "B" * 41, "longer than 40 characters"),
        ("revision_colours", "\n".join(f"Colour {n}" for n in range(41)), "These are 41 colours"),
        ("paper", "foolscap", "valid choice"),
        ("blank_lines_before_heading", "3", "valid choice"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(
    writer: Member, signed_in: SignIn, field: str, value: str, sentence: str
) -> None:
    before = standing(writer)
    response = save(signed_in(writer), writer, **{field: value})
    assert response.status_code == 422
    assert sentence in page_of(response).get_text(" ")
    assert standing(writer) == before


def test_an_order_may_have_forty_colours_of_forty_characters() -> None:
    assert wrong_with_colours([f"{n:040}" for n in range(40)]) == ""


# The case that RFC 5646, 2.1.1, recommends, and its own examples.
@pytest.mark.parametrize("tag", ["en", "mn-Cyrl-MN", "sr-Latn-RS", "es-419", "sl-rozaj-biske", "de-CH-1901", ""])
def test_a_language_tag_is_kept_in_the_usual_case(writer: Member, signed_in: SignIn, tag: str) -> None:
    assert in_usual_case(tag.upper()) == in_usual_case(tag.lower()) == tag
    assert save(signed_in(writer), writer, language=tag.lower()).status_code == 302
    assert standing(writer).language == tag


def test_every_page_number_follows_the_setting(writer: Member, signed_in: SignIn) -> None:
    text = SCRIPT + "\n\nRain.\n" * 20
    draft = make_draft(writer, text)
    client = signed_in(writer)
    production = writer.production.public_id
    screens = [
        (reverse("script", args=[production, draft.number]), "{} page"),
        (reverse("drafts", args=[production]), "{} page"),
        (reverse("draft-print", args=[production, draft.number]), "{} page"),
    ]
    for paper, pages in (("letter", 2), ("a4", 1)):
        save(client, writer, paper=paper)
        for screen, words in screens:
            assert words.format(pages) in " ".join(page_of(client.get(screen)).get_text(" ").split()), screen
    assert laid_out(draft).page_count == 2  # the record in hand is as it was fetched


def test_home_tells_that_the_settings_changed(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    save(signed_in(writer), writer, paper="a4")
    home = signed_in(crew).get(reverse("home", args=[crew.production.public_id]))
    assert "changed the settings" in home.text


def test_the_pages_of_the_script_say_their_language(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer)
    client = signed_in(writer)
    save(client, writer, language="pt-br")
    page = page_of(client.get(reverse("script", args=[writer.production.public_id, draft.number])))
    assert {str(paper["lang"]) for paper in page.select(".paper")} == {"pt-BR"}


@pytest.fixture
def with_locked_pages(writer: Member) -> Member:
    put_up(writer, WHOLE)
    lock_all(writer)
    return writer


def test_what_lays_pages_out_stays_while_they_are_locked(with_locked_pages: Member, signed_in: SignIn) -> None:
    member, client = with_locked_pages, signed_in(with_locked_pages)
    for changed in ({"paper": "a4"}, {"blank_lines_before_heading": "1"}):
        before = standing(member)
        answer = save(client, member, name="Neap Tide", **changed)
        assert answer.status_code == 409
        assert "The pages are locked, so this stays as it is. Unlock them first." in answer.text
        assert standing(member) == before
    unlock_pages(member, 1)
    assert save(client, member, paper="a4").status_code == 302
    assert standing(member).paper == "a4"


def test_all_else_is_set_while_pages_are_locked(with_locked_pages: Member, signed_in: SignIn) -> None:
    client = signed_in(with_locked_pages)
    page = client.get(address(with_locked_pages)).text
    assert "stays as it is while the pages are locked" in page
    assert "See or unlock the pages" in page
    assert save(client, with_locked_pages, name="Neap Tide").status_code == 302
    assert standing(with_locked_pages).name == "Neap Tide"
