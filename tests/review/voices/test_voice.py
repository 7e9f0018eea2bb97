"""One character's voice: figures with their lines, rules with their breaches, likeness from draft to draft."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.characters.models import CharacterRule
from review.drafts.scripts import laid_out
from review.log import Act
from review.management.figures_told import voices_told
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from bs4 import Tag
    from django.test import Client
    from pytest_django import DjangoAssertNumQueries

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SMALL = """INT. LOFT - DAY

NELL
I don't know. It is cold. Why not?

TOBIAS
Then go.

EXT. QUAY - DAY

NELL
It's late.
"""
LONG = "\n\n".join(
    f"{name}\n{said} " + " ".join(f"{said} and {word} then {word}." for word in words)
    for name, said, words in [
        ("NELL", "I don't know", ["rope", "tide", "boat"] * 16),
        ("TOBIAS", "It is not so", ["tide", "oar", "net"] * 16),
        ("IRIS", "We shall see", ["boat", "net", "fog"] * 16),
    ]
)
RULE = {"kind": "no_contractions", "most_words": "", "words": "", "first_scene": "", "last_scene": ""}


def at(member: Member, name: str = "voice", character: str = "NELL", number: int = 1) -> str:
    return reverse(name, args=[member.production.public_id, number, character])


def page_of(client: Client, address: str, status: int = 200) -> BeautifulSoup:
    response = client.get(address)
    assert response.status_code == status
    return BeautifulSoup(response.text, "html.parser")


def words_of(page: BeautifulSoup, selector: str) -> list[str]:
    return [" ".join(found.get_text(" ").split()) for found in page.select(selector)]


def make_rule(client: Client, member: Member, **fields: str) -> None:
    response = client.post(at(member, "voice-rule-new"), RULE | {"form_id": str(uuid.uuid4())} | fields)
    assert response.status_code == 302, response.text


def test_every_figure_stands_beside_the_draft_before(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    make_draft(writer, SMALL.replace("It is cold.", "It's cold."), 2)
    rows = {row[0]: row[1:] for row in map(list, figures(page_of(signed_in(crew), at(writer, number=2))))}

    assert rows["Contractions"][:2] == ["100 % (3 of 3)", "67 % (2 of 3)"]
    assert rows["Questions"][:2] == ["1 (25 %)", "1 (25 %)"]
    assert rows["Variety of words"][0] == "–"


def test_that_a_voice_is_short_is_said_once(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    page = page_of(signed_in(writer), at(writer))
    assert page.get_text().count("300 words") == 1
    assert page.select("#likeness") == []


def test_the_commands_tell_its_figures_by_their_names_on_screen(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, SMALL)
    page = page_of(signed_in(writer), at(writer))
    labels = words_of(page, ".voice-figures tbody th") + words_of(page, ".voice-lists h2")
    assert len(labels) == 17
    told = voices_told(laid_out(draft))[0]
    assert {label.lower().replace(" ", "_") for label in labels} <= told.keys()


def figures(page: BeautifulSoup) -> list[list[str]]:
    return [
        [" ".join(cell.get_text(" ").split()) for cell in row.select("th, td")]
        for row in page.select(".voice-figures tbody tr")
    ]


def test_a_figure_leads_to_the_lines_it_comes_from(crew: Member, writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    client = signed_in(crew)
    page = page_of(client, at(writer) + "?lines=contractions")
    assert words_of(page, "#lines mark") == ["don't", "It's"]
    script = reverse("script", args=[writer.production.public_id, 1])
    assert [link["href"] for link in page.select("#lines a")] == [f"{script}#L4", f"{script}#L12"]
    assert words_of(page_of(client, at(writer) + "?lines=speaks_to&of=TOBIAS"), "#lines mark")[0].startswith("I don't")
    assert page_of(client, at(writer) + "?lines=nothing").select("#lines") == []


def test_scenes_are_called_by_their_own_numbers(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL.replace("LOFT - DAY", "LOFT - DAY #7A#").replace("QUAY - DAY", "QUAY - DAY #9#"))
    client = signed_in(writer)
    make_rule(client, writer, first_scene="2", last_scene="2")
    page = page_of(client, at(writer) + "?lines=contractions")
    assert words_of(page, "#lines a") == ["Scene 7A", "Scene 9"]
    assert words_of(page, ".voice-rules .breach-lines li > a:first-child") == ["Scene 9"]
    assert "from scene 9 to scene 9" in words_of(page, ".voice-rule")[0]


def test_nobody_of_the_name_is_not_found(crew: Member, writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    for name in ("voice", "voice-part"):
        page_of(signed_in(crew), at(writer, name, "NOBODY"), status=404)


def test_a_writer_makes_a_rule_and_everybody_sees_where_it_is_broken(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SMALL)
    make_rule(signed_in(writer), writer)

    page = page_of(signed_in(crew), at(writer))
    assert words_of(page, ".voice-rule strong") == ["NELL never contracts"]
    assert words_of(page, ".voice-rules mark") == ["don't", "It's"]
    assert page.select(".rule-form") == []
    note = page.select_one(".voice-rules a.small")
    assert note
    assert str(note["href"]).endswith("?from=4&to=4")
    assert Act.objects.filter(verb=Act.Verb.MADE_VOICE_RULE).count() == 1


def test_a_rule_holds_between_its_scenes_and_follows_them(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    make_rule(signed_in(writer), writer, first_scene="2", last_scene="2")
    make_draft(writer, "EXT. FIELD - DAY\n\nHay, and nobody about.\n\n" + SMALL, 2)

    page = page_of(signed_in(writer), at(writer, number=2))
    assert words_of(page, ".voice-rules mark") == ["It's"]
    assert "from scene 3 to scene 3" in words_of(page, ".voice-rule")[0]


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"kind": "short_sentences"}, "Say how many words"),
        ({"kind": "never_says", "words": " , "}, "Name a word at least."),
        ({"kind": "scripts_only"}, "Choose the letters."),
        ({"first_scene": "2", "last_scene": "1"}, "This comes before the first scene"),
        ({"kind": "whatever"}, "Select a valid choice"),
    ],
)
def test_a_rule_that_says_nothing_is_refused_with_a_sentence(
    writer: Member, signed_in: SignIn, fields: dict[str, str], sentence: str
) -> None:
    make_draft(writer, SMALL)
    told = RULE | {"form_id": str(uuid.uuid4())} | fields
    response = signed_in(writer).post(at(writer, "voice-rule-new"), told)
    assert response.status_code == 422
    assert sentence in response.text
    assert not CharacterRule.objects.exists()


def test_the_same_form_makes_one_rule(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    for form_id in [uuid.uuid4()] * 2 + [uuid.uuid4()]:
        signed_in(writer).post(at(writer, "voice-rule-new"), RULE | {"form_id": str(form_id)})
    assert CharacterRule.objects.count() == 1


def test_another_rule_in_a_form_that_was_sent_stands_too(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    client, form_id = signed_in(writer), str(uuid.uuid4())
    for kind in ("no_contractions", "no_questions", "no_contractions"):
        make_rule(client, writer, kind=kind, form_id=form_id)
    assert sorted(CharacterRule.objects.values_list("kind", flat=True)) == ["no_contractions", "no_questions"]


def test_a_rule_that_is_withdrawn_is_kept_and_holds_no_more(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    client = signed_in(writer)
    make_rule(client, writer)
    rule = CharacterRule.objects.get()
    client.post(reverse("voice-rule-withdraw", args=[writer.production.public_id, rule.public_id]))

    rule.refresh_from_db()
    assert rule.withdrawn_at
    assert page_of(client, at(writer)).select(".voice-rules") == []


def test_a_writer_mends_breaches_in_the_working_draft_and_sees_the_voice_move(
    writer: Member, signed_in: SignIn
) -> None:
    draft = make_draft(writer, f"INT. LOFT - DAY\n\n{LONG}\n")
    client = signed_in(writer)
    make_rule(client, writer)
    working = begin_working(writer, draft, uuid.uuid4())
    scene = working.scenes.get(ordinal=1)

    typed = client.post(
        reverse("working-scene-typed", args=[writer.production.public_id, scene.public_id]), {"text": scene.text}
    )
    told = words_of(BeautifulSoup(typed.text, "html.parser"), ".writing-breaches li")
    assert len(told) == 1
    assert told[0].startswith("NELL never contracts. Line 4 don't, don't,")
    assert told[0].count("don't") == 49

    save_scene(writer, scene, scene.text.replace("don't", "do not"), scene.version, uuid.uuid4())
    page = page_of(client, at(writer) + "?model=TOBIAS")
    tags = words_of(page, ".voice-rule .tag")
    assert tags == ["49 breaches", "0 in the working draft"]
    before, after = (float(row.split()[-1]) for row in words_of(page, ".likeness-drafts tbody tr"))
    assert after != before
    assert "Working draft" in words_of(page, ".voice-figures thead th")


def test_a_voice_is_drawn_draft_by_draft_and_each_bar_leads_to_its_lines(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, f"INT. LOFT - DAY\n\n{LONG}\n")
    make_draft(writer, f"INT. LOFT - DAY\n\n{LONG.replace('I don', 'We don')}\n", 2)
    client = signed_in(crew)
    page = page_of(client, at(writer, number=2) + "?model=TOBIAS")

    table = page.select("section[aria-labelledby=voice-across] tbody tr")
    rows = {row.th.get_text(): words_of_cells(row.select("td")) for row in table if row.th}
    assert rows["Contractions"] == ["100 % (49 of 49)"] * 2
    before, after = map(float, rows["Distance from TOBIAS"])
    assert before != after
    links = {str(link["aria-label"]): str(link["href"]) for link in page.select("svg.across a")}
    assert links["Contractions, Draft 1: 100 % (49 of 49)"] == at(writer) + "?lines=contractions#lines"
    assert f"Distance from TOBIAS, Draft 2: {after:.2f}" in links

    picture = reverse("voice-picture", args=[writer.production.public_id, 2, "svg", "NELL"])
    assert b"Distance from TOBIAS" in client.get(picture + "?model=TOBIAS").content
    assert client.get(picture.replace("svg", "png")).content[:4] == b"\x89PNG"


def words_of_cells(cells: Iterable[Tag]) -> list[str]:
    return [" ".join(cell.get_text(" ").split()) for cell in cells]


def test_of_one_draft_alone_nothing_is_drawn_draft_by_draft(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    client = signed_in(writer)
    assert page_of(client, at(writer)).select("svg.across") == []
    assert client.get(reverse("voice-picture", args=[writer.production.public_id, 1, "svg", "NELL"])).status_code == 404


def test_queries_are_as_many_for_many_rules(
    writer: Member, signed_in: SignIn, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    make_draft(writer, SMALL)
    client = signed_in(writer)
    for most in range(1, 6):
        make_rule(client, writer, kind="short_sentences", most_words=str(most))
    client.get(at(writer))
    with django_assert_max_num_queries(9):
        client.get(at(writer))
