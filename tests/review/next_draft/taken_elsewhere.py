"""A working text of three scenes, taken away, put back, and rewritten here meanwhile."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

from django.urls import reverse

from review.rewriting.models import DownloadedText
from review.rewriting.scene_acts import save_scene

if TYPE_CHECKING:
    from django.test import Client

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft

TEXT = (
    "INT. FERRY - DAY\r\n\r\nRain on the deck.\r\n\r\nEXT. PIER - DAY\r\n\r\nFog over the posts.\r\n\r\n"
    "INT. HUT - NIGHT\r\n\r\nDark, and a stove.\r\n"
)


def address(writer: Member, name: str = "working-put-back") -> str:
    return reverse(name, args=[writer.production.public_id])


def take_away(client: Client, writer: Member) -> str:
    return client.get(address(writer, "working-download")).content.decode()


def put_back(client: Client, writer: Member, text: str, **said: str) -> Any:
    since = DownloadedText.objects.filter(taken_by=writer).latest("created_at").public_id
    return client.post(address(writer), {"text": text, "since": since, **said})


def rewrite_here(writer: Member, working: WorkingDraft, before: str, after: str) -> None:
    scene = next(scene for scene in working.scenes.all() if before in scene.text)
    save_scene(writer, scene, scene.text.replace(before, after), scene.version, uuid.uuid4())


def versions(working: WorkingDraft) -> list[int]:
    return [scene.version for scene in working.scenes.order_by("position")]
