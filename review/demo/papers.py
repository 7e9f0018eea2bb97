"""The demo's world paper, in two versions with a chart and a few notes, put in by the acts everybody uses."""

from __future__ import annotations

import uuid
from datetime import timedelta
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from PIL import Image, ImageDraw

from review import log
from review.papers.acts import PaperAsked, add_picture, put_up_paper, put_up_version
from review.papers.models import PaperVersion
from review.papers.note_acts import decide_paper_note, leave_paper_note, reply_to_paper_note
from review.papers.note_models import PaperNote, PaperReply
from review.papers.pictures import check_picture
from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from review.people.models import Member

FOLDER = Path(__file__).resolve().parent
FORMS = uuid.UUID("7b1c1f6e-8d0e-5d3a-9b6f-4a1d3e5c9b21")
DEPARTMENTS = tuple(department.value for department in (Department.ART, Department.PROPS, Department.STUNTS))
BY_NAME = ("maren", "noor")
FIRST_NOTE_AFTER = timedelta(hours=6)
NEXT_VERSION_AFTER = timedelta(days=2)
SIZE = (1200, 520)
PAPER, INK, WATER = "#efe7d4", "#4a3b2a", "#9db4b8"


def put_up_demo_paper(writer: Member, members: Mapping[str, Member], at: datetime) -> None:
    """The rules of the crossing, for those who build, paint and play it."""
    asked = PaperAsked("The ferry rules", False, DEPARTMENTS, tuple(members[key] for key in BY_NAME))
    first, second = ((FOLDER / f"ferry-rules-{number}.md").read_text(encoding="utf-8").strip() for number in (1, 2))
    with log.happened_at(at):
        paper = put_up_paper(writer, asked, first, _form("paper"))
        add_picture(writer, paper, "crossing", check_picture(draw_crossing()))
    version = paper.versions.get()
    with log.happened_at(at + FIRST_NOTE_AFTER):
        deck = leave_paper_note(
            members["wick"],
            version,
            4,
            "safety",
            "Six on that deck is too many to stand clear of the rope. Could the board say **four**?",
            "everyone",
            _form("deck"),
        )
        board = leave_paper_note(
            members["maren"], version, 2, "question", "Who painted it? I touch it twice.", "everyone", _form("board")
        )
        answer = reply_to_paper_note(writer, board, "Nobody knows any more. I’ll say so.", _form("answer"))
    with log.happened_at(at + NEXT_VERSION_AFTER):
        decide_paper_note(
            writer, deck, "taken in", "Four it is, for the marine coordinator to confirm.", 0, _form("four")
        )
        decide_paper_note(writer, board, "taken in", "", 0, _form("hand"))
        following = put_up_version(writer, paper, asked, second, 1, asked.seen)
    PaperVersion.objects.filter(pk=version.pk).update(created_at=at)
    PaperVersion.objects.filter(pk=following.pk).update(created_at=at + NEXT_VERSION_AFTER)
    PaperNote.objects.filter(pk__in=[deck.pk, board.pk]).update(created_at=at + FIRST_NOTE_AFTER)
    PaperReply.objects.filter(pk=answer.pk).update(created_at=at + FIRST_NOTE_AFTER)


def draw_crossing() -> bytes:
    """A chart of the river, as a PNG: its banks, the landings, and the rope from one to the other."""
    chart = Image.new("RGB", SIZE, PAPER)
    pen = ImageDraw.Draw(chart)
    width, height = SIZE
    bend = [(0, 170), (260, 130), (520, 190), (800, 150), (width, 200)]
    far = [(x, y + 190) for x, y in reversed(bend)]
    pen.polygon([*bend, *far], fill=WATER)
    pen.line(bend, fill=INK, width=6, joint="curve")
    pen.line(far, fill=INK, width=6, joint="curve")
    near, across = (520, 192), (560, 366)
    pen.line([near, across], fill=INK, width=3)
    for x, y in (near, across):
        pen.rectangle([x - 22, y - 12, x + 22, y + 12], fill=PAPER, outline=INK, width=5)
    pen.rectangle([20, 20, width - 20, height - 20], outline=INK, width=3)
    for at in range(5):
        pen.arc([80 + at * 230, 240 + at % 2 * 30, 160 + at * 230, 280 + at % 2 * 30], 200, 340, fill=INK, width=3)
    written = BytesIO()
    chart.save(written, "PNG")
    return written.getvalue()


def _form(name: str) -> uuid.UUID:
    return uuid.uuid5(FORMS, name)
