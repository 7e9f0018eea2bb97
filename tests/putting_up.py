"""Puts up a draft as a writer does: a script is chosen, looked at, and put up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from bs4 import BeautifulSoup
from django.urls import reverse

if TYPE_CHECKING:
    from django.test import Client
    from django.test.client import _MonkeyPatchedWSGIResponse as Response

    from review.people.models import Member


def choose(client: Client, member: Member, **source: Any) -> Response:
    """Send a file or a pasted text; what is read leads on to the page that shows it."""
    return client.post(reverse("draft-upload", args=[member.production.public_id]), source)


def preset(page: Response) -> dict[str, Any]:
    """What the form of a page would send as it stands."""
    form = BeautifulSoup(page.content, "html.parser").select_one("form.asking")
    assert form is not None
    fields = form.select("input[type=hidden], input[checked]")
    return {str(field["name"]): str(field["value"]) for field in fields if field["name"] != "csrfmiddlewaretoken"}


def is_shown(response: Response) -> bool:
    """Whether a text was read and leads on to the page that shows it."""
    return response.status_code == 302 and "/drafts/new/" in response["Location"]


def put_up(client: Client, member: Member, **fields: Any) -> Response:
    """Choose a script and put it up with what is preset and these fields; where it is not shown, the first answer."""
    source = {name: fields.pop(name) for name in ("file", "text", "as_it_stands", "came_as") if name in fields}
    chosen = choose(client, member, **source)
    if not is_shown(chosen):
        return chosen
    return client.post(chosen["Location"], preset(client.get(chosen["Location"])) | fields)
