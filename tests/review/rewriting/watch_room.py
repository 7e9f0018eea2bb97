"""A short script that is rewritten here, and what its notes then stand on."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from review.decisions.acts import decide
from review.decisions.models import Outcome
from review.drafts.texts import hash_text
from review.notes.lines import whole_lines
from review.notes.models import Note, Placement
from review.notes.then_and_now import lines_then_and_now
from review.publishing.acts import publish_working
from review.rewriting.current_text import current_text
from review.rewriting.scene_acts import save_scene

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft, WorkingScene

LONG = (
    "I have stood at this window every night for eleven years, and not once in all that time did the light on the"
    " point go out, not in the worst of the winter, not when the keeper died, so do not tell me it is a bulb."
)
SCRIPT = f"""INT. WATCH ROOM - NIGHT

ODA lowers the glass.

ODA
{LONG}

BREN
It is a bulb.

EXT. POINT - NIGHT

The lamp turns, dark.

BREN
Yes.

ODA
Yes.
"""

SPEECH, REPLY = 6, 9  # lines


def accept(writer: Member, note: Note) -> None:
    seen = note.decisions.count()
    decide(writer, note, Outcome.ACCEPTED, "", seen, uuid.uuid4(), with_wording=True)


def open_working(writer: Member) -> WorkingDraft:
    working = writer.production.working_drafts.open_now()
    assert working is not None
    return working


def publish(writer: Member) -> Draft:
    working = open_working(writer)
    return publish_working(writer, working, "", "", {}, hash_text(working.joined_text()))


def scene_with(writer: Member, words: str) -> WorkingScene:
    return next(scene for scene in open_working(writer).scenes.all() if words in scene.text)


def write(writer: Member, before: str, after: str) -> None:
    scene = scene_with(writer, before)
    save_scene(writer, scene, scene.text.replace(before, after, 1), scene.version, uuid.uuid4())


def words_in(draft: Draft, note: Note) -> str | None:
    """What a note stands on in a draft, as whole lines."""
    span = Placement.objects.get(draft=draft, note=note).span
    return whole_lines(draft.text, span.first_line, span.last_line) if span else None


def words_now(writer: Member, note: Note) -> str | None:
    """What a note stands on in the working text, as whole lines."""
    pages = current_text(writer.production)
    assert pages is not None
    now = lines_then_and_now([note], pages.draft, pages.following)[note.pk].now
    return now.lines if now else None
