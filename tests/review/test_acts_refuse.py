"""Every act asks for itself who may do it, and is whole, whatever door it is called through."""

from __future__ import annotations

import ast
import re
import uuid
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest
from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.db import connection, transaction
from django.utils import timezone

from review.access import Role
from review.notes.acts import leave_note, reply, withdraw_note
from review.notes.models import Audience
from review.people.models import Department, Member
from review.readings.acts import Asked, open_reading
from review.readings.question_acts import Asking, ask
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import add_scene, save_scene
from screenplay import Span
from tests.factories import make_draft, make_member, make_note, make_production, make_reading
from tests.review.every_act import TRIED

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from review.drafts.models import Draft
    from review.records import PostedRecord
    from tests.review.house import House

# They work out what takes long, or lock what is the member's own, as the laws in DEVELOPERS.md tell.
LOCKS_LATER = {
    "begin_making",
    "bring_in_notes",
    "leave_note",
    "publish_draft",
    "publish_held",
    "publish_working",
    "report_progress",
    "take_down",
    "take_over",
}
WRITES = ("INSERT", "UPDATE", "DELETE", "REPLACE")


@contextmanager
def what_it_sends(*, in_transaction: bool = False) -> Iterator[list[str]]:
    """The statements that go to the database, but for those around a transaction, and none of them outside one of its
    own where it should have one; whatever they did is undone."""
    sent: list[str] = []

    def noted(execute: Callable[..., object], sql: str, *rest: object) -> object:
        if sql.startswith(("SELECT", *WRITES)):
            sent.append(sql)
            assert len(connection.savepoint_ids) > depth or not in_transaction
        return execute(sql, *rest)

    with transaction.atomic():
        depth = len(connection.savepoint_ids)
        with connection.execute_wrapper(noted):
            yield sent
        transaction.set_rollback(True)


def writes(sent: list[str]) -> list[str]:
    return [sql for sql in sent if sql.startswith(WRITES)]


@pytest.mark.parametrize("act", TRIED, ids=lambda act: act.__name__)
def test_who_may_not_is_refused_and_who_may_does_it_whole(house: House, act: Callable[..., object]) -> None:
    """Whoever has not the role, or whose it is not, is in another production, or was removed, by then or while the page
    was open, is refused before anything is written; whoever has not the role is told who may. Who may does the same, so
    that nothing else was in the way: in one transaction, with the production locked first."""
    tried = TRIED[act]
    args, named = tried.given(house)

    def is_refused(by: Member, told: str | None = None) -> None:
        with what_it_sends() as sent, pytest.raises(PermissionDenied, match=told and re.escape(told)):
            act(by, *args, **named)
        assert writes(sent) == []

    for who in tried.refused:
        is_refused(house.member(who), tried.deed.value)
    for who in tried.nor:
        is_refused(house.member(who))
    if not tried.is_given_theirs:
        is_refused(house.member("stranger"))
    gone, now = house.member(tried.by), timezone.now()
    if tried.only_reads:
        gone.removed_at = now
    with transaction.atomic():
        Member.objects.filter(pk=gone.pk).update(removed_at=now)
        is_refused(gone)
        transaction.set_rollback(True)
    is_whole = not tried.only_reads and act.__name__ not in LOCKS_LATER
    with what_it_sends(in_transaction=is_whole) as sent:
        act(house.member(tried.by), *args, **named)
    assert writes(sent) != []
    if is_whole:
        assert sent[0].partition(" FROM ")[2].startswith('"review_production"')
        assert "FOR NO KEY UPDATE" in sent[0] or not connection.features.has_select_for_no_key_update


def test_every_act_of_a_member_is_tried() -> None:
    assert set(acts_of_members()) == {(act.__module__, act.__name__) for act in TRIED}


def acts_of_members() -> Iterator[tuple[str, str]]:
    """The module and the name of each function for others to call that is given a member first, and that is one
    transaction or asks by itself who may, or has another of its module ask."""
    for path in (settings.BASE_DIR / "review").rglob("*.py"):
        source = path.read_text()
        if "transaction.atomic" not in source and "refuse_unless" not in source:
            continue
        functions = [each for each in ast.parse(source).body if isinstance(each, ast.FunctionDef)]
        asks = {"refuse_unless"}
        asks |= {each.name for each in functions if each.name.startswith("_") and "refuse_unless" in called_by(each)}
        for each in functions:
            if each.name.startswith("_") or not each.args.args:
                continue
            first = each.args.args[0].annotation
            is_whole = "transaction.atomic" in map(ast.unparse, each.decorator_list)
            if first and ast.unparse(first) in {"Member", "ActingMember"} and (is_whole or asks & called_by(each)):
                yield ".".join(path.relative_to(settings.BASE_DIR).with_suffix("").parts), each.name


def called_by(function: ast.FunctionDef) -> set[str]:
    return {ast.unparse(called.func) for called in ast.walk(function) if isinstance(called, ast.Call)}


BY_FORM: dict[str, Callable[[Member, Draft, uuid.UUID], PostedRecord]] = {
    "open a reading": lambda by, draft, form_id: open_reading(
        by, draft, by.production.members.filter(role=Role.CREW), Asked(timezone.localdate(), ""), form_id
    ),
    "ask": lambda by, draft, form_id: ask(by, draft.readings.latest("pk"), Asking("Why?"), form_id),
    "leave a note": lambda by, draft, form_id: leave_note(
        by, draft, Span(6, 0, 6, 4), "question", "Why?", form_id=form_id
    ),
    "reply": lambda by, draft, form_id: reply(by, draft.notes.latest("pk"), "Because.", form_id),
}


@pytest.mark.parametrize("act", BY_FORM.values(), ids=BY_FORM)
def test_the_form_of_somebody_else_says_nothing(
    writer: Member, crew: Member, draft: Draft, act: Callable[[Member, Draft, uuid.UUID], PostedRecord]
) -> None:
    second, form_id = make_member(writer.production, Role.WRITER, Department.WRITING), uuid.uuid4()
    make_note(writer, draft)
    make_reading(writer, draft, crew)
    first = act(writer, draft, form_id)
    assert act(second, draft, form_id) != first
    assert act(writer, draft, form_id) == first


def test_a_form_of_another_production_is_written_by_all_the_same(writer: Member, draft: Draft) -> None:
    other = make_member(make_production("Ebb"), Role.WRITER, Department.WRITING)
    begun, added, saved = uuid.uuid4(), uuid.uuid4(), uuid.uuid4()
    written = []
    for by, on in ((other, make_draft(other)), (writer, draft)):
        working = begin_working(by, on, begun)
        scene = add_scene(by, working, None, "EXT. PIER - DAY", added)
        written.append((working, save_scene(by, scene, "EXT. PIER - NIGHT", 1, saved)))
    assert [working.production for working, _ in written] == [other.production, writer.production]
    assert [scene.version for _, scene in written] == [2, 2]
    assert written[0][1] != written[1][1]


def test_cast_reply_to_no_note_that_is_for_the_writer_s_eyes(cast: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, audience=Audience.WRITER)
    with pytest.raises(PermissionDenied, match="Only a note that one can read"):
        reply(cast, note, "I know what you said.", uuid.uuid4())
    assert not note.replies.exists()


def test_nobody_replies_to_a_note_that_was_withdrawn(crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    withdraw_note(crew, note)
    with pytest.raises(PermissionDenied):
        reply(cast, note, "But I had a thought.", uuid.uuid4())
