"""The demo's two talks, one that was held and one to come, as talks.toml tells of them, put in by the acts everybody
uses."""

from __future__ import annotations

import tomllib
import uuid
from datetime import time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from review import log
from review.decisions.acts import decide
from review.decisions.models import Decision
from review.drafts.scripts import read_script
from review.notes.models import Note
from review.notes.taking_down import take_down
from review.talks.acts import When, call_talk
from review.talks.models import Talk
from screenplay.script import scene_span

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from review.drafts.models import Draft
    from review.people.models import Member

FOLDER = Path(__file__).resolve().parent
FORMS = uuid.UUID("2a4b7f0e-6d1c-5b7e-9c52-8e0f6a3d1b47")
CALLED_AT = timedelta(hours=12)
FIRST_SAID_AFTER = timedelta(minutes=12)
BETWEEN = timedelta(minutes=15)
DECIDED_AFTER = timedelta(minutes=4)


def read_talks() -> list[dict[str, Any]]:
    """The demo's talks, as talks.toml explains them."""
    talks: list[dict[str, Any]] = tomllib.loads((FOLDER / "talks.toml").read_text(encoding="utf-8"))["talks"]
    return talks


def hold_demo_talk(writer: Member, members: Mapping[str, Member], draft: Draft, today: datetime) -> None:
    """The talk about a draft: called, and where it is past, with what was written down and decided in it. `today` is
    when this day began."""
    told = next(each for each in read_talks() if each["draft"] == draft.number)
    day = today + timedelta(days=told["days"])
    at = time.fromisoformat(told["time"])
    begins = day + timedelta(hours=at.hour, minutes=at.minute)
    called_at = day - timedelta(days=told["called"]) + CALLED_AT
    with log.happened_at(called_at):
        when = When(begins, told["minutes"], told["place"])
        talk = call_talk(writer, draft, [members[key] for key in told["who"]], when, _form(f"talk {draft.number}"))
    Talk.objects.filter(pk=talk.pk).update(created_at=called_at)
    for ordinal, said in enumerate(told["said"]):
        _take_down(writer, members[said["who"]], talk, said, begins + FIRST_SAID_AFTER + ordinal * BETWEEN, ordinal)


def _take_down(writer: Member, author: Member, talk: Talk, said: Mapping[str, Any], at: datetime, ordinal: int) -> None:
    draft = talk.draft
    name = f"talk {draft.number} said {ordinal}"
    span = scene_span(read_script(draft), said["scene"])
    with log.happened_at(at):
        note = take_down(writer, author, draft, span, said["kind"], said["body"], form_id=_form(name), talk=talk)
    Note.objects.filter(pk=note.pk).update(created_at=at)
    if "decision" in said:
        with log.happened_at(at + DECIDED_AFTER):
            decision = decide(writer, note, said["decision"], said["reason"], 0, _form(f"{name} decision"))
        Decision.objects.filter(pk=decision.pk).update(created_at=at + DECIDED_AFTER)


def _form(name: str) -> uuid.UUID:
    return uuid.uuid5(FORMS, name)
