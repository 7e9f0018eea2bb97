"""Cues that are one character's, as a writer says."""

from __future__ import annotations

import sys
import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

import screenplay
from review.characters.acts import keep_cues_apart, make_rule, merge_cues
from review.drafts.scripts import laid_out
from review.kept import STORE
from review.log import Act
from review.printing.acts import print_sides
from review.productions.said_names import TooLongName
from review.voices.table import voices_of
from screenplay import PaperSize
from screenplay.speech import RuleKind, VoiceRule
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import FrameType

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCRIPT = """INT. A - DAY

MARA
No.

MARA'S VOICE
Yes, and no.

YOUNG MARA
Well.
"""


def send(client: Client, member: Member, what: str, cue: str, name: str, status: int = 200) -> BeautifulSoup:
    address = reverse(f"voice-names-{what}", args=[member.production.public_id])
    response = client.post(address, {"other": cue, "name": name}, follow=True)
    assert response.status_code == status
    return BeautifulSoup(response.text, "html.parser")


def words_of(draft: Draft) -> dict[str, int]:
    draft = type(draft).objects.select_related("production").get(pk=draft.pk)
    return {voice.name: voice.words for voice in voices_of(draft)}


def test_cues_that_look_alike_are_offered_until_something_is_said_of_them(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(writer)
    page = BeautifulSoup(client.get(reverse("voice-names", args=[writer.production.public_id])).text, "html.parser")
    assert len(page.select("#alike ~ ul li")) == 2

    send(client, writer, "merge", "MARA'S VOICE", "MARA")
    page = send(client, writer, "apart", "YOUNG MARA", "MARA")
    assert page.select("#alike ~ ul li") == []
    assert "Kept apart: MARA and YOUNG MARA" in page.get_text()


def test_what_is_merged_is_one_in_counts_scenes_and_sides_of_every_draft(writer: Member, signed_in: SignIn) -> None:
    first, second = make_draft(writer, SCRIPT), make_draft(writer, SCRIPT + "\nRain.\n", 2)
    assert words_of(first) == {"MARA": 1, "MARA'S VOICE": 3, "YOUNG MARA": 1}

    send(signed_in(writer), writer, "merge", "MARA'S VOICE", "MARA")

    assert words_of(first) == words_of(second) == {"MARA": 4, "YOUNG MARA": 1}
    drafts = {each.number: each for each in writer.production.drafts.select_related("production")}
    assert laid_out(drafts[1]).scenes[0].characters == ("MARA", "YOUNG MARA")
    assert print_sides(writer, drafts[1], "MARA", PaperSize.LETTER, scene_numbers=False).startswith(b"%PDF")
    assert Act.objects.filter(verb=Act.Verb.MERGED_CUES).count() == 1


def test_what_is_merged_can_be_kept_apart_again(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, SCRIPT)
    client = signed_in(writer)
    send(client, writer, "merge", "MARA'S VOICE", "MARA")
    send(client, writer, "apart", "MARA'S VOICE", "MARA")
    assert words_of(draft) == {"MARA": 1, "MARA'S VOICE": 3, "YOUNG MARA": 1}


def test_what_was_merged_into_a_cue_comes_along(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, SCRIPT)
    client = signed_in(writer)
    send(client, writer, "merge", "MARA'S VOICE", "YOUNG MARA")
    send(client, writer, "merge", "YOUNG MARA", "MARA")
    assert words_of(draft) == {"MARA": 5}


def test_a_cue_is_not_merged_with_itself(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    for cue in ("mara", ""):
        page = send(signed_in(writer), writer, "merge", cue, "MARA", 422)
        assert "Choose two different names" in page.get_text()
    writer.production.refresh_from_db()
    assert writer.production.names.merged == ()


@pytest.mark.parametrize("what", ["merge", "apart"])
def test_a_name_that_is_too_long_is_refused_and_not_cut_short(writer: Member, signed_in: SignIn, what: str) -> None:
    long = "THE MAN WHO " * 11
    make_draft(writer, f"INT. A - DAY\n\n{long}\nYes.\n\nMARA\nNo.\n")
    page = send(signed_in(writer), writer, what, long, "MARA", 422)
    assert "A name can have 120 characters here" in page.get_text()
    for act in (merge_cues, keep_cues_apart):
        with pytest.raises(TooLongName):
            act(writer, long, "MARA")
    writer.production.refresh_from_db()
    assert writer.production.cue_names == {}


def test_a_rule_for_a_name_that_is_too_long_is_refused_with_a_sentence(writer: Member, signed_in: SignIn) -> None:
    long = "THE MAN WHO " * 11
    make_draft(writer, f"INT. A - DAY\n\n{long}\nYes.\n")
    address = reverse("voice-rule-new", args=[writer.production.public_id, 1, long.strip()])
    response = signed_in(writer).post(address, {"kind": "no_questions", "form_id": str(uuid.uuid4())})
    assert response.status_code == 422
    assert "A rule holds for a name of 120 characters at most" in response.text


def test_the_names_are_shown_from_the_reading_that_is_kept(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    client, address = signed_in(writer), reverse("voice-names", args=[writer.production.public_id])
    STORE.clear()
    first, readings = counting_readings(lambda: client.get(address))
    assert readings > 0
    again, readings = counting_readings(lambda: client.get(address))
    assert readings == 0
    assert again.context["alike"] == first.context["alike"]


def counting_readings(visit: Callable[[], Any]) -> tuple[Any, int]:
    """What a visit gives, and how many texts were parsed in it, by whatever name the parser was called."""
    readings = 0

    def count(frame: FrameType, event: str, _: object) -> None:
        nonlocal readings
        readings += event == "call" and frame.f_code is screenplay.parse.__code__

    sys.setprofile(count)
    try:
        return visit(), readings
    finally:
        sys.setprofile(None)


def test_whoever_plays_a_merged_cue_has_the_character_s_part_sides_sheet_and_rules(
    writer: Member, cast: Member, signed_in: SignIn
) -> None:
    first = make_draft(writer, SCRIPT)
    make_draft(writer, SCRIPT.replace("No.", "Never."), 2)
    rule = VoiceRule("MARA'S VOICE", RuleKind.NEVER_SAYS, words=("wait",))
    make_rule(writer, first, rule, uuid.uuid4())
    cast.character = "Mara's voice"
    cast.save()
    production = writer.production.public_id
    client = signed_in(cast)
    send(signed_in(writer), writer, "merge", "MARA'S VOICE", "MARA")

    part = reverse("voice-part", args=[production, 2, "MARA"])
    home = BeautifulSoup(client.get(reverse("home", args=[production])).text, "html.parser")
    assert [link["href"] for link in home.select(".acts a") if "Your part" in link.get_text()] == [part]
    by_cue = client.get(reverse("voice-part", args=[production, 2, "MARA'S VOICE"])).text
    speeches = [each.get_text(" ", strip=True) for each in BeautifulSoup(by_cue, "html.parser").select(".part-speech")]
    assert [speech.split()[-1] for speech in speeches] == ["Never.", "no."]
    page = BeautifulSoup(client.get(reverse("voice", args=[production, 2, "mara's voice"])).text, "html.parser")
    assert [title.get_text() for title in page.select("h1")] == ["MARA"]
    assert [told.get_text() for told in page.select(".voice-rule strong")] == ["MARA never says “wait”"]
    sheet = client.get(reverse("change-sheet-mine", args=[production]), follow=True)
    assert sheet.redirect_chain[-1][0] == reverse("change-sheet", args=[production, 1, 2, "mara"])
    paper = BeautifulSoup(client.get(reverse("draft-print", args=[production, 2])).text, "html.parser")
    assert [one.get_text() for one in paper.select("#sides-character option[selected]")] == ["MARA"]


def test_whoever_is_invited_may_play_a_character_and_not_each_cue_of_theirs(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    merge_cues(writer, "MARA'S VOICE", "MARA")
    page = signed_in(writer).get(reverse("people", args=[writer.production.public_id])).text
    offered = BeautifulSoup(page, "html.parser").select("datalist#cast-names option")
    assert [option["value"] for option in offered] == ["MARA", "YOUNG MARA"]
