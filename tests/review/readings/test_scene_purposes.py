"""Why each scene is in the film: for writers alone, and with the scene wherever it goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.publishing.acts import publish_draft
from review.readings.followed_scenes import purposes_in
from review.readings.locked_reading import NoSuchScene
from review.readings.question_acts import write_purposes
from review.readings.question_models import ScenePurpose
from screenplay.intake import read_text
from screenplay.intake.limits import MOST_SCENES
from tests.factories import SCRIPT

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

HEAD, BOATHOUSE = SCRIPT[: SCRIPT.index("INT. BOATHOUSE")], SCRIPT[SCRIPT.index("INT. BOATHOUSE") :]
SLIPWAY = SCRIPT[SCRIPT.index("EXT. SLIPWAY") :]


def test_they_are_written_all_at_once_and_kept(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    client = signed_in(writer)
    address = reverse("scene-purposes", args=[writer.production.public_id, draft.number])
    client.post(address, {"scene-1": " She  waits. ", "scene-2": ""})
    assert purposes_in(draft) == {1: "She waits."}
    assert "She waits." in client.get(address).text
    assert "Nothing has changed." in client.post(address, {"scene-1": "She waits."}, follow=True).text
    client.post(address, {"scene-1": ""})
    assert purposes_in(draft) == {}
    assert ScenePurpose.objects.count() == 2


def test_one_that_is_too_long_is_refused_and_still_there(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    address = reverse("scene-purposes", args=[writer.production.public_id, draft.number])
    response = signed_in(writer).post(address, {"scene-1": "x" * 1001, "scene-2": "Loss."})
    assert response.status_code == 422
    assert "1000 characters at most" in response.text
    assert "Loss." in response.text
    assert not ScenePurpose.objects.exists()


def as_shown(client: Client, address: str) -> dict[str, str]:
    page = BeautifulSoup(client.get(address).text, "html.parser")
    hidden = {str(field["name"]): str(field["value"]) for field in page.select("input[name^=shown-]")}
    return hidden | {str(field["name"]): field.text.strip() for field in page.select("textarea")}


def test_a_page_that_is_behind_writes_over_nothing(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    client, address = signed_in(writer), reverse("scene-purposes", args=[writer.production.public_id, draft.number])
    write_purposes(writer, draft, {1: "She waits."})
    page = as_shown(client, address)
    write_purposes(writer, draft, {1: "She gives up."})
    client.post(address, page | {"scene-2": "Loss."})
    assert purposes_in(draft) == {1: "She gives up.", 2: "Loss."}
    told = client.post(address, page | {"scene-1": "She hopes.", "scene-2": "Loss, again."})
    assert told.status_code == 409
    assert "Theirs: “She gives up.”" in told.text
    assert "She hopes." in told.text
    assert purposes_in(draft) == {1: "She gives up.", 2: "Loss."}
    again = {"shown-1": "She gives up.", "scene-1": "She hopes."}
    assert all(f'name="shown-{n}" value="{was}"' in told.text for n, was in ((1, "She gives up."), (2, "Loss.")))
    client.post(address, page | again | {"shown-2": "Loss.", "scene-2": "Loss, again."})
    assert purposes_in(draft) == {1: "She hopes.", 2: "Loss, again."}


def test_the_form_of_the_longest_script_there_can_be_is_taken_in(
    signed_in: SignIn, writer: Member, draft: Draft
) -> None:
    """By its number of fields: for each scene its purpose, and what was shown of it."""
    address = reverse("scene-purposes", args=[writer.production.public_id, draft.number])
    fields = {f"{name}-{scene}": "" for name in ("scene", "shown") for scene in range(1, MOST_SCENES + 1)}
    told = signed_in(writer).post(address, fields | {"scene-1": "She waits.", "csrfmiddlewaretoken": "-"})
    assert told.status_code == 302
    assert purposes_in(draft) == {1: "She waits."}


def test_each_follows_its_scene_into_later_drafts_and_can_be_written_anew_there(writer: Member, draft: Draft) -> None:
    write_purposes(writer, draft, {1: "She waits.", 2: "He is gone."})
    moved = BOATHOUSE[: BOATHOUSE.index("EXT. SLIPWAY")]
    second, _ = publish_draft(writer, read_text(f"{HEAD}{SLIPWAY}\n{moved}"))
    assert purposes_in(second) == {1: "He is gone.", 2: "She waits."}
    write_purposes(writer, second, {1: "He left her."})
    third, _ = publish_draft(writer, read_text(f"{HEAD}INT. LOFT - DAY\n\nDust.\n\n{SLIPWAY}"))
    assert purposes_in(third) == {2: "He left her."}
    assert purposes_in(draft) == {1: "She waits.", 2: "He is gone."}


def test_nobody_else_writes_them_nor_of_a_scene_that_is_not_there(writer: Member, crew: Member, draft: Draft) -> None:
    with pytest.raises(PermissionDenied):
        write_purposes(crew, draft, {1: "Mine."})
    with pytest.raises(NoSuchScene):
        write_purposes(writer, draft, {1: "She waits.", 9: "Nothing."})
    assert purposes_in(draft) == {}
