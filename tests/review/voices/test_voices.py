"""How each character talks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from tests.factories import SCRIPT, make_draft, make_member, make_next_draft, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from django.test.client import _MonkeyPatchedWSGIResponse as Response

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SMALL = """INT. LOFT - DAY

NELL
I don't know. It is cold.

TOBIAS
(shivering)
Then go.

EXT. QUAY - DAY

NELL
No.

TOBIAS
You're going to miss the whole of the evening tide if you stand there.
"""


def address(member: Member, number: int = 1, sort: str = "") -> str:
    return reverse("voices", args=[member.production.public_id, number]) + (f"?sort={sort}" if sort else "")


def page_of(client: Client, at: str) -> BeautifulSoup:
    response = client.get(at)
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def table(page: BeautifulSoup) -> list[list[str]]:
    rows = page.select(".voices-table tbody tr")
    return [[" ".join(cell.get_text(" ").split()) for cell in row.select("th, td")] for row in rows]


def names(page: BeautifulSoup) -> list[str]:
    return [name.get_text() for name in page.select(".voice-name")]


def test_each_character_has_their_figures(writer: Member, signed_in: SignIn) -> None:
    # Counted by hand, by the trade's definitions: words are runs of letters and digits with inner apostrophes;
    # the contraction rate is contracted forms out of these and the places that did not contract.
    make_draft(writer, SMALL)
    rows = table(page_of(signed_in(writer), address(writer)))
    tobias, nell = rows
    assert tobias[0].startswith("TOBIAS")
    assert tobias[1:9] == ["70 %", "2", "16", "2", "1", "1", "14 words", "8.0"]
    assert tobias[9] == "100 % 1 of 1"
    assert nell[0].startswith("NELL")
    assert nell[1:9] == ["30 %", "2", "7", "2", "1", "1", "6 words", "3.5"]
    assert nell[9] == "50 % 1 of 2"


def test_what_is_sung_under_no_cue_is_counted_and_nobody_s(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL + "\n~Row, row\n")
    page = page_of(signed_in(writer), address(writer))
    assert "4 speeches and 25 words of dialogue, 2 of them sung under no cue, in" in " ".join(page.get_text().split())
    assert [row[3] for row in table(page)] == ["16", "7"]


def test_the_longest_speech_leads_to_its_line(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    page = page_of(signed_in(writer), address(writer))
    link = page.select_one(".voices-table tbody td:not(.voice-share) a")
    assert link is not None
    assert link["href"] == reverse("script", args=[writer.production.public_id, 1]) + "#L15"


def test_that_voices_are_short_is_said_once(writer: Member, signed_in: SignIn) -> None:
    long = "word " * 300
    make_draft(writer, SMALL.replace("Then go.", long.strip()))
    page = page_of(signed_in(writer), address(writer))
    said = " ".join(page.get_text(" ").split())
    assert said.count("Under 300 words") == said.count("likeness and variety are left out: NELL.") == 1


@pytest.mark.parametrize(
    ("sort", "first"),
    [
        ("", "TOBIAS"),
        ("name", "NELL"),
        ("-name", "TOBIAS"),
        ("-words", "NELL"),
        ("longest", "TOBIAS"),
        ("?", "TOBIAS"),
    ],
)
def test_a_link_puts_the_table_in_another_order(writer: Member, signed_in: SignIn, sort: str, first: str) -> None:
    make_draft(writer, SMALL)
    assert names(page_of(signed_in(writer), address(writer, sort=sort)))[0] == first


def test_the_column_in_use_says_which_way_it_runs_and_leads_to_the_other(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    page = page_of(signed_in(writer), address(writer, sort="words"))
    [head] = page.select("th[aria-sort]")
    assert head["aria-sort"] == "descending"
    link = head.select_one("a")
    assert link is not None
    assert link["href"] == "?sort=-words"


def test_the_draft_before_stands_beside_it(writer: Member, signed_in: SignIn) -> None:
    make_next_draft(writer, SMALL)
    make_next_draft(writer, SMALL.replace("Then go.", "Then go, and go quickly."))
    rows = table(page_of(signed_in(writer), address(writer, 2)))
    assert rows[0][3] == "19 +3"
    assert rows[1][3] == "7"


def test_a_renamed_character_keeps_their_figures_from_before(writer: Member, signed_in: SignIn) -> None:
    make_next_draft(writer, SMALL)
    make_next_draft(writer, SMALL.replace("TOBIAS", "ANSELM"))
    page = page_of(signed_in(writer), address(writer, 2))
    assert "TOBIAS in draft 1" in table(page)[0][0]
    assert "says nothing now" not in page.get_text()


def test_a_character_whose_name_is_spelled_otherwise_is_the_same_one(writer: Member, signed_in: SignIn) -> None:
    old = SMALL.replace("TOBIAS", "NELL'S AUNT").replace("NELL\n", "JOS\u00c9\n")
    make_next_draft(writer, old)
    make_next_draft(writer, old.replace("'S AUNT", "’S AUNT").replace("\u00c9", "E\u0301"))
    page = page_of(signed_in(writer), address(writer, 2))
    assert page.select(".voices-table .voice-aside") == []
    assert "says nothing now" not in page.get_text()


def test_who_falls_silent_is_named(writer: Member, signed_in: SignIn) -> None:
    make_next_draft(writer, SMALL)
    without = SMALL.replace("TOBIAS\n(shivering)\nThen go.\n\n", "").replace(
        "\nTOBIAS\nYou're going to miss the whole of the evening tide if you stand there.\n", ""
    )
    make_next_draft(writer, without)
    words = " ".join(page_of(signed_in(writer), address(writer, 2)).get_text(" ").split())
    assert "says nothing now: TOBIAS" in words


def test_it_says_how_each_figure_is_got(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    counted = page_of(signed_in(writer), address(writer)).select_one(".counted")
    assert counted is not None
    terms = [term.get_text() for term in counted.select("dt")]
    assert {"Words", "Share", "Scenes", "Longest speech", "Words a speech", "Contractions"} <= set(terms)


def test_a_script_in_which_nobody_speaks_says_so(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. LOFT - DAY\n\nDust.\n")
    assert "Nobody speaks in this draft" in page_of(signed_in(writer), address(writer)).get_text()


def test_it_leads_to_the_current_draft(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    make_draft(writer, SCRIPT + "\nAnd out.\n", number=2)
    response = signed_in(writer).get(reverse("voices-current", args=[writer.production.public_id]))
    assert response["Location"] == address(writer, 2)


def test_before_the_first_draft_it_says_what_will_be_here(crew: Member, signed_in: SignIn) -> None:
    response = signed_in(crew).get(reverse("voices-current", args=[crew.production.public_id]))
    assert "No draft yet" in response.content.decode()
    assert "Put up" not in response.content.decode()


def test_a_draft_that_is_not_there_is_not_found(writer: Member, signed_in: SignIn) -> None:
    assert signed_in(writer).get(address(writer)).status_code == 404


def test_every_reader_may_see_it(writer: Member, cast: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    assert signed_in(cast).get(address(cast)).status_code == 200


def test_it_is_not_there_for_a_stranger(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    stranger = make_member(make_production("Elsewhere"))
    assert signed_in(stranger).get(address(writer)).status_code == 404


def test_it_rejects_post(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert signed_in(writer).post(address(writer)).status_code == 405


def test_who_speaks_to_whom_is_told_in_words_with_their_lines(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    page = page_of(signed_in(writer), address(writer))
    rows = [
        [" ".join(cell.get_text().split()) for cell in row.select("th, td")]
        for row in page.select(".exchanges-table tbody tr")
    ]
    assert rows == [["TOBIAS", "–", "16"], ["NELL", "7", "–"]]
    link = page.select_one(".exchanges-table td a")
    assert link is not None
    assert str(link["href"]).endswith("/voices/of/TOBIAS/?lines=speaks_to&of=NELL#lines")


def test_the_pictures_of_the_voices_are_files_too(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    client = signed_in(crew)

    def file(name: str, ending: str) -> Response:
        return client.get(reverse("voices-picture", args=[crew.production.public_id, 1, name, ending]))

    assert file("share", "svg").content.startswith(b"<svg")
    assert b"NELL to TOBIAS: 7 words" in file("exchanges", "svg").content
    assert [file(name, "png").content[:4] for name in ("share", "exchanges")] == [b"\x89PNG"] * 2
    # Likeness is withheld from voices that are too short, and so is its picture.
    assert [file(*each).status_code for each in [("likeness", "png"), ("no", "svg"), ("share", "gif")]] == [404] * 3


def test_each_disc_leads_to_the_lines_from_one_to_the_other(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SMALL)
    page = page_of(signed_in(writer), address(writer))
    links = {str(link["aria-label"]): str(link["href"]) for link in page.select("svg.exchanges a")}
    assert sorted(links) == ["NELL to TOBIAS: 7 words", "TOBIAS to NELL: 16 words"]
    assert links["NELL to TOBIAS: 7 words"].endswith("/voices/of/NELL/?lines=speaks_to&of=TOBIAS#lines")
