"""The demo's two readings, as readings.toml tells of them, put in by the acts everybody uses."""

from __future__ import annotations

import tomllib
import uuid
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from review import log
from review.drafts.scripts import laid_out
from review.readers.models import Reading
from review.readings.acts import Asked, close_reading, open_reading
from review.readings.question_acts import Asking, answer_questions, ask, judge, write_purposes
from review.readings.reader_acts import finish_reading, mark_scenes, report_progress, share_time

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from review.drafts.models import Draft
    from review.people.models import Member

FOLDER = Path(__file__).resolve().parent
FORMS = uuid.UUID("0d6b1a53-55a5-5c0e-8d0c-5f0c5f1f7a33")
SECONDS_AN_EIGHTH = 6
TIMES_AS_LONG = 3  # over a scene that a reader found slow or was lost in
BEGUN_AFTER = timedelta(hours=5)
BETWEEN_READERS = timedelta(hours=3, minutes=20)
TAKES = timedelta(hours=1, minutes=10)


def read_readings() -> dict[str, Any]:
    """The demo's readings, as readings.toml explains them."""
    return tomllib.loads((FOLDER / "readings.toml").read_text(encoding="utf-8"))


def open_demo_reading(writer: Member, members: Mapping[str, Member], draft: Draft, at: datetime) -> None:
    """The reading of a draft that just went up, with its questions, and the purposes of its scenes."""
    told = _told_of(draft)
    with log.happened_at(at):
        reading = open_reading(
            writer,
            draft,
            [members[reader["who"]] for reader in told["readers"]],
            Asked((at + timedelta(days=told["days"])).date(), told["look_for"]),
            uuid.uuid5(FORMS, f"reading {draft.number}"),
            is_blind=told["blind"],
        )
        for ordinal, question in enumerate(told["questions"]):
            asking = Asking(**{**question, "options": tuple(question.get("options", ()))})
            ask(writer, reading, asking, uuid.uuid5(FORMS, f"reading {draft.number} question {ordinal}"))
        purposes = [each for each in read_readings()["purposes"] if each["draft"] == draft.number]
        write_purposes(writer, draft, {each["scene"]: each["text"] for each in purposes})
    Reading.objects.filter(pk=reading.pk).update(created_at=at)
    reading.readers.exclude(others_open_at=None).update(others_open_at=at)
    reading.readers.update(created_at=at)


def go_through_demo_reading(writer: Member, members: Mapping[str, Member], draft: Draft, opened_at: datetime) -> None:
    """What its readers said, one after the other; and its end, if it has one."""
    told = _told_of(draft)
    reading = Reading.objects.get(draft=draft)
    for ordinal, reader in enumerate(told["readers"]):
        at = opened_at + BEGUN_AFTER + ordinal * BETWEEN_READERS
        with log.happened_at(at):
            _read(writer, members[reader["who"]], reading, reader, told["marks"])
        _date(reading, members[reader["who"]], at)
    if "closed_after" in told:
        closed_at = opened_at + timedelta(days=told["closed_after"])
        with log.happened_at(closed_at):
            close_reading(writer, reading)
        Reading.objects.filter(pk=reading.pk).update(closed_at=closed_at)
        reading.readers.filter(finished_at=None, others_open_at__gt=closed_at).update(others_open_at=closed_at)


def _told_of(draft: Draft) -> dict[str, Any]:
    told: dict[str, Any] = next(each for each in read_readings()["readings"] if each["draft"] == draft.number)
    return told


def _read(
    writer: Member, member: Member, reading: Reading, told: Mapping[str, Any], marks: list[dict[str, Any]]
) -> None:
    """One reader's way through it: how long they took, what they said, what they answered."""
    own = {mark["scene"]: (mark["mark"], mark["why"]) for mark in marks if mark["who"] == told["who"]}
    scenes = [scene for scene in laid_out(reading.draft).scenes if scene.ordinal <= told["to"]]
    usual = {scene.ordinal: scene.eighths * SECONDS_AN_EIGHTH for scene in scenes}
    report_progress(member, reading, {at: took * (TIMES_AS_LONG if at in own else 1) for at, took in usual.items()})
    mark_scenes(member, reading, dict.fromkeys(usual, ("clear", "")) | own)
    if told.get("shares_time"):
        share_time(member, reading, shares=True)
    questions = list(reading.questions.standing())
    answers = {question.public_id: said for question, said in zip(questions, told["answers"], strict=True) if said}
    answer_questions(member, reading, answers)
    if told.get("finished"):
        finish_reading(member, reading)
    reader = reading.readers.get(member=member)
    in_words = reader.answers.standing().filter(question__answered_by="words")
    for answer, verdict in zip(in_words, told.get("judged", ()), strict=False):
        judge(writer, answer, verdict)


def _date(reading: Reading, member: Member, at: datetime) -> None:
    """Set back the moments of what one reader did."""
    done_at = at + TAKES
    reader = reading.readers.get(member=member)
    reader.marks.update(created_at=done_at)
    reader.answers.update(created_at=done_at)
    reader.scenes_read.exclude(read_at=None).update(read_at=done_at)
    reader.begun_at = at
    if reader.finished_at:
        reader.finished_at = done_at
        reader.others_open_at = done_at if reading.is_blind else reader.others_open_at
    reader.save(update_fields=["begun_at", "finished_at", "others_open_at"])
