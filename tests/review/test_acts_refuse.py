"""Every act asks for itself who may do it, whatever door it is called through."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.utils import timezone

from review.access import Role
from review.characters.acts import keep_cues_apart, make_rule, merge_cues
from review.decisions.acts import decide, place_note
from review.drafts.acts import put_up_again, withdraw_draft
from review.drafts.models import Draft
from review.drafts.numbering import lock_numbers, unlock_numbers
from review.drafts.paging import lock_pages, unlock_pages
from review.log import Act
from review.notes.acts import correct_note, leave_note, reply, withdraw_note
from review.notes.models import Audience, Note, Reply
from review.people import acts as people
from review.people.models import Department, Invitation, Member
from review.printing.acts import print_draft, take_source, take_text, take_web_page
from review.productions_screen.acts import change_settings, settings_of
from review.publishing.acts import publish_draft, publish_working
from review.readings.acts import Asked, open_reading
from review.readings.question_acts import Asking, ask
from review.rewriting.acts import begin_working, set_aside_working, take_up_working, take_working_text
from review.rewriting.models import WorkingDraft
from review.rewriting.scene_acts import add_scene, cut_scene, move_scene, restore_scene, save_scene, take_back_text
from review.rewriting.taking_over import take_over
from review.scenes.acts import set_story_days
from screenplay import Paper, Span
from screenplay.intake import read_text
from screenplay.speech import RuleKind, VoiceRule
from tests.factories import make_draft, make_member, make_note, make_production, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.records import PostedRecord


def _change_settings(by: Member) -> None:
    standing = settings_of(by.production)
    change_settings(by, standing, standing.seen)


FOR_WRITERS: dict[str, Callable[[Member, Draft], object]] = {
    "publish": lambda by, draft: publish_draft(by, read_text("INT. HUT - DAY\n\nFog.\n")),
    "withdraw a draft": lambda by, draft: withdraw_draft(by, draft, "Mine."),
    "put a draft up again": put_up_again,
    "take the source": take_source,
    "take the text": lambda by, draft: take_text(by, draft, Paper.A4, scene_numbers=False),
    "take the web page": lambda by, draft: take_web_page(by, draft, scene_numbers=False),
    "lock the numbers": lambda by, draft: lock_numbers(by, draft.number),
    "unlock the numbers": lambda by, draft: unlock_numbers(by, draft.number),
    "lock the pages": lambda by, draft: lock_pages(by, draft.number),
    "unlock the pages": lambda by, draft: unlock_pages(by, draft.number),
    "change the settings": lambda by, draft: _change_settings(by),
    "decide": lambda by, draft: decide(by, make_note(by, draft), "accepted", "", 0, uuid.uuid4()),
    "place a note": lambda by, draft: place_note(by, make_note(by, draft), draft, None),
    "make a voice rule": lambda by, draft: make_rule(by, draft, VoiceRule("NELL", RuleKind.NO_QUESTIONS), uuid.uuid4()),
    "merge cues": lambda by, draft: merge_cues(by, "NELL", "TOBIAS"),
    "keep cues apart": lambda by, draft: keep_cues_apart(by, "NELL", "TOBIAS"),
    "set story days": lambda by, draft: set_story_days(by, draft, {1: 2}, {}),
    "begin the next draft": lambda by, draft: begin_working(by, draft, uuid.uuid4()),
}


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


FOR_WHOEVER_INVITES: dict[str, Callable[[Member, Member], object]] = {
    "invite": lambda by, other: people.invite(by, "Ida", "crew", "art", uuid.uuid4()),
    "withdraw an invitation": lambda by, other: people.withdraw_invitation(by, open_invitation(other)),
    "remove": people.remove_member,
    "change a place": lambda by, other: people.change_role(by, other, people.RoleInProduction("writer", "writing", "")),
    "name a character": lambda by, other: people.change_role(
        by, other, people.RoleInProduction("cast", "cast", "NELL")
    ),
    "make a sign-in link": people.make_sign_in_link,
}


def open_invitation(writer: Member) -> Invitation:
    """An invitation to the production of a member, made before the act in question."""
    fields = {"name": "Ida", "role": "crew", "department": "art", "expires_at": timezone.now() + timedelta(days=1)}
    production = {"production": writer.production, "invited_by": writer, "token_hash": uuid.uuid4().hex}
    return Invitation.objects.create(**fields, **production)


@pytest.mark.parametrize("act", FOR_WHOEVER_INVITES.values(), ids=FOR_WHOEVER_INVITES)
def test_only_a_writer_lets_in_and_keeps_out(
    writer: Member, crew: Member, cast: Member, act: Callable[[Member, Member], object]
) -> None:
    with pytest.raises(PermissionDenied, match="Only a writer invites"):
        act(crew, cast)
    assert not Act.objects.exists()
    act(writer, cast)


@pytest.mark.parametrize("act", FOR_WHOEVER_INVITES.values(), ids=FOR_WHOEVER_INVITES)
def test_a_writer_who_was_removed_meanwhile_lets_in_nobody(
    writer: Member, cast: Member, act: Callable[[Member, Member], object]
) -> None:
    """Though they were a writer when the request came in."""
    second = make_member(writer.production, Role.WRITER, Department.WRITING)
    known_from_before = Member.objects.get(pk=second.pk)
    people.remove_member(writer, second)
    told = Act.objects.count()
    with pytest.raises(PermissionDenied, match="Only a writer invites"):
        act(known_from_before, cast)
    assert Act.objects.count() == told


@pytest.mark.parametrize("name", ["remove", "change a place", "make a sign-in link"])
def test_a_writer_does_nothing_to_the_members_of_another_production(writer: Member, name: str) -> None:
    elsewhere = make_member(make_production("Elsewhere"))
    with pytest.raises(PermissionDenied):
        FOR_WHOEVER_INVITES[name](writer, elsewhere)
    assert not Act.objects.exists()


def test_a_writer_withdraws_no_invitation_to_another_production(writer: Member) -> None:
    theirs = open_invitation(make_member(make_production("Elsewhere"), Role.WRITER, Department.WRITING))
    people.withdraw_invitation(writer, theirs)
    theirs.refresh_from_db()
    assert theirs.state == "open"


@pytest.mark.parametrize("act", FOR_WRITERS.values(), ids=FOR_WRITERS)
def test_a_reader_is_refused_and_nothing_is_done(
    crew: Member, draft: Draft, act: Callable[[Member, Draft], object]
) -> None:
    with pytest.raises(PermissionDenied):
        act(crew, draft)
    assert not Act.objects.exists()


@pytest.mark.parametrize("name", ["take the source", "take the text", "take the web page", "decide", "place a note"])
def test_a_writer_of_another_film_is_refused(writer: Member, draft: Draft, name: str) -> None:
    elsewhere = make_member(make_production("Another film"), Role.WRITER)
    with pytest.raises(PermissionDenied, match="another production"):
        FOR_WRITERS[name](elsewhere, draft)


ON_A_WORKING_DRAFT: dict[str, Callable[[Member, WorkingDraft], object]] = {
    "begin on its draft": lambda by, working: begin_working(by, working.base, uuid.uuid4()),
    "set aside": set_aside_working,
    "take up": take_up_working,
    "take its text": take_working_text,
    "take a text over": lambda by, working: take_over(by, working, "Fog.\n", ""),
    "save a scene": lambda by, working: save_scene(by, working.scenes.all()[1], "Fog.\n", 1, uuid.uuid4()),
    "take a text back": lambda by, working: take_back_text(by, working.scenes.all()[1], 1, uuid.uuid4()),
    "add a scene": lambda by, working: add_scene(by, working, None, "INT. HUT - DAY\n", uuid.uuid4()),
    "cut a scene": lambda by, working: cut_scene(by, working.scenes.all()[1]),
    "restore a scene": lambda by, working: restore_scene(by, working.scenes.all()[1]),
    "move a scene": lambda by, working: move_scene(by, working.scenes.all()[1], None),
    "publish": lambda by, working: publish_working(by, working, "", "", {}, ""),
}


@pytest.mark.parametrize("act", ON_A_WORKING_DRAFT.values(), ids=ON_A_WORKING_DRAFT)
def test_a_working_draft_is_written_by_its_own_writers_alone(
    writer: Member, crew: Member, draft: Draft, act: Callable[[Member, WorkingDraft], object]
) -> None:
    working = begin_working(writer, draft, uuid.uuid4())
    text = working.joined_text()
    for other in (crew, make_member(make_production("Another film"), Role.WRITER)):
        with pytest.raises(PermissionDenied):
            act(other, working)
    assert WorkingDraft.objects.get().joined_text() == text
    assert Draft.objects.count() == 1


def test_someone_removed_prints_nothing(crew: Member, draft: Draft) -> None:
    crew.removed_at = draft.created_at
    with pytest.raises(PermissionDenied):
        print_draft(crew, draft, Paper.A4, scene_numbers=False, with_notes=False)


def test_cast_reply_to_no_note_that_is_for_the_writer_s_eyes(cast: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, audience=Audience.WRITER)
    with pytest.raises(PermissionDenied, match="Only a note that one can read"):
        reply(cast, note, "I know what you said.", uuid.uuid4())
    assert not Reply.objects.exists()


def test_nobody_replies_to_a_note_that_was_withdrawn(crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    withdraw_note(crew, note)
    with pytest.raises(PermissionDenied):
        reply(cast, note, "But I had a thought.", uuid.uuid4())


def test_nobody_writes_in_a_production_of_others(writer: Member, draft: Draft) -> None:
    stranger = make_member(make_production("Another film"), Role.WRITER)
    note = make_note(writer, draft)
    acts: tuple[Callable[[], object], ...] = (
        lambda: leave_note(stranger, draft, Span(6, 0, 6, 4), "idea", "Hm.", form_id=uuid.uuid4()),
        lambda: reply(stranger, note, "Hm.", uuid.uuid4()),
        lambda: decide(stranger, note, "accepted", "", 0, uuid.uuid4()),
        lambda: place_note(stranger, note, draft, None),
        lambda: withdraw_note(stranger, note),
        lambda: correct_note(stranger, note, "Hm.", 1),
    )
    for act in acts:
        with pytest.raises(PermissionDenied):
            act()
    assert list(Note.objects.values_list("withdrawn_at", flat=True)) == [None]
    assert not Reply.objects.exists()
    assert not note.decisions.exists()


def test_someone_removed_meanwhile_leaves_no_note(crew: Member, draft: Draft) -> None:
    """They had the page open: the record that their act was given still says that they are in."""
    type(crew).objects.filter(pk=crew.pk).update(removed_at=draft.created_at)
    with pytest.raises(PermissionDenied):
        leave_note(crew, draft, Span(6, 0, 6, 4), "idea", "One more thing.", form_id=uuid.uuid4())
    assert not Note.objects.exists()
