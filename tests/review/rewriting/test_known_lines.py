"""A note whose lines were rewritten here stands on what they became: nothing is guessed that was seen."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup, Tag
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from review.access import Role
from review.decisions.acts import decide
from review.decisions.models import Outcome
from review.drafts.acts import put_up_again, withdraw_draft
from review.drafts.known_origins import known_origins
from review.drafts.scripts import compare_drafts
from review.drafts.texts import hash_text
from review.notes.acts import leave_note
from review.notes.lines import whole_lines
from review.notes.models import Fate, Note, Placement
from review.notes.then_and_now import lines_then_and_now
from review.people.models import Department
from review.publishing.acts import publish_draft, publish_working
from review.rewriting.acts import begin_working
from review.rewriting.current_text import current_text
from review.rewriting.scene_acts import add_scene, cut_scene, move_scene, restore_scene, save_scene
from review.rewriting.wordings import CannotTake
from screenplay.intake import read_text
from tests.factories import make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft, WorkingScene

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

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


@pytest.fixture
def draft(writer: Member) -> Draft:
    return make_draft(writer, SCRIPT)


def test_a_short_wording_for_a_long_speech_is_where_its_note_stands(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    assert words_now(writer, note) == "Never."
    published = publish(writer)
    placement = Placement.objects.get(draft=published, note=note)
    assert (words_in(published, note), placement.fate, placement.is_known) == ("Never.", Fate.REWORDED, True)


def test_every_note_on_the_words_goes_where_the_wording_went(writer: Member, crew: Member, draft: Draft) -> None:
    other = make_note(crew, draft, SPEECH)
    accept(writer, make_note(crew, draft, SPEECH, wording="Never."))
    assert words_now(writer, other) == "Never."
    assert words_in(publish(writer), other) == "Never."


def test_a_line_that_is_written_anew_is_that_line(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "No.")
    assert words_now(writer, note) == "No."
    assert words_in(publish(writer), note) == "No."


def test_a_line_that_is_emptied_first_and_then_written_is_that_line(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, REPLY)
    begin_working(writer, draft, uuid.uuid4())
    scene = scene_with(writer, LONG)
    for typed in ("", "H", "Hm."):
        text = SCRIPT.split("EXT.", maxsplit=1)[0].replace("It is a bulb.", typed)
        scene = save_scene(writer, scene, text, scene.version, uuid.uuid4(), as_typed=True)
    assert words_now(writer, note) == "Hm."


def test_of_two_who_say_the_same_the_one_that_stays_keeps_the_note(writer: Member, crew: Member, draft: Draft) -> None:
    on_bren, on_oda = make_note(crew, draft, 16), make_note(crew, draft, 19)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "BREN\nYes.\n\n", "")
    assert (words_now(writer, on_bren), words_now(writer, on_oda)) == (None, "Yes.")
    published = publish(writer)
    assert (words_in(published, on_bren), words_in(published, on_oda)) == (None, "Yes.")


def test_it_stays_with_its_words_in_a_scene_that_moves(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    move_scene(writer, scene_with(writer, "Never."), scene_with(writer, "The lamp turns"))
    assert words_in(publish(writer), note) == "Never."


def test_it_follows_its_words_into_a_scene_of_their_own(writer: Member, crew: Member, draft: Draft) -> None:
    note, other = make_note(crew, draft, SPEECH, wording="Never."), make_note(crew, draft, REPLY)
    accept(writer, note)
    write(writer, "ODA\nNever.", "INT. STAIR - NIGHT\n\nODA\nNever.")
    write(writer, "It is a bulb.", "Nonsense.")
    published = publish(writer)
    assert (words_in(published, note), words_in(published, other)) == ("Never.", "Nonsense.")


def test_words_taken_out_again_are_where_they_were(writer: Member, crew: Member, draft: Draft) -> None:
    note, other = make_note(crew, draft, SPEECH, wording="Never."), make_note(crew, draft, REPLY)
    accept(writer, note)
    write(writer, "It is a bulb.", "Nonsense.")
    decide(writer, note, Outcome.REOPENED, "", 1, uuid.uuid4(), with_wording=True)
    assert (words_now(writer, note), words_now(writer, other)) == (LONG, "Nonsense.")


def test_a_wording_that_cuts_its_lines_leaves_its_note_with_none(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 16, wording="")
    accept(writer, note)
    pages = current_text(writer.production)
    assert pages is not None
    told = lines_then_and_now([note], draft, pages.following)[note.pk]
    assert (told.now, told.reads_as_proposed) == (None, True)
    assert words_in(publish(writer), note) is None


def test_words_put_back_by_hand_are_no_longer_the_wordings(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    write(writer, "Never.", LONG)
    pages = current_text(writer.production)
    assert pages is not None
    told = lines_then_and_now([note], draft, pages.following)[note.pk]
    assert (told.now and told.now.lines, told.reads_as_proposed) == (LONG, False)


def test_a_draft_put_up_from_a_file_keeps_it_where_it_was_rewritten(writer: Member, crew: Member, draft: Draft) -> None:
    """The note's own words were rewritten here; a later draft that has others more like them does not draw it away."""
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    text = publish(writer).text
    third, _ = publish_draft(writer, read_text(f"{text}\nBREN\nI have stood at this window every night for years.\n"))
    assert words_in(third, note) == "Never."


def test_a_note_left_late_on_the_draft_before_goes_to_its_line(writer: Member, crew: Member, draft: Draft) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "No.")
    published = publish(writer)
    earlier = make_note(crew, draft, SPEECH)
    note = leave_note(crew, draft, earlier.span, "idea", "Too long.", form_id=uuid.uuid4())
    assert words_in(published, note) == "No."


# On the screens: the working draft, its scenes, what is to be written in, the questions, what changed, home.


def page(client: Client, member: Member, name: str, *more: object) -> BeautifulSoup:
    answer = client.get(reverse(name, args=[member.production.public_id, *more]))
    assert answer.status_code == 200
    return BeautifulSoup(answer.text, "html.parser")


def words_of(found: Tag | BeautifulSoup | None) -> str:
    assert found is not None
    return " ".join(found.get_text(" ").split())


@pytest.fixture
def on_speech(writer: Member, crew: Member, draft: Draft) -> Note:
    """A note whose own short wording for a long speech is in the working draft."""
    note = make_note(crew, draft, SPEECH, body="Too long.", wording="Never.")
    accept(writer, note)
    return note


def test_what_is_to_be_written_in_stands_in_script_order(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, on_speech: Note
) -> None:
    cut = make_note(crew, draft, REPLY, body="Not needed.", wording="")
    last = make_note(crew, draft, 13, body="Darker.")
    for note in (last, cut):
        accept(writer, note)
    items = page(signed_in(writer), writer, "to-do").select(".to-do-item")
    assert [item["id"] for item in items] == [f"to-do-{note.public_id}" for note in (on_speech, cut, last)]
    assert ["Wording is in" in words_of(item) for item in items] == [True, True, False]
    assert "gone" not in words_of(items[0]) + words_of(items[1])
    assert "Nothing: these lines are cut." in words_of(items[1])
    assert [bool(item.select(".acts a")) for item in items] == [True, True, True]


def test_its_scene_counts_it_and_shows_it(signed_in: SignIn, writer: Member, on_speech: Note) -> None:
    scene = scene_with(writer, "Never.")
    client = signed_in(writer)
    row = page(client, writer, "working").select_one(f"#scene-{scene.public_id}")
    assert "1 accepted" in words_of(row)
    assert page(client, writer, "working-scene", scene.public_id).select(f"#note-{on_speech.public_id}")


def test_publishing_asks_about_its_words(signed_in: SignIn, writer: Member, on_speech: Note) -> None:
    question = page(signed_in(writer), writer, "working-publish").select_one(f"#question-{on_speech.public_id}")
    assert question is not None
    assert "these lines are gone" not in words_of(question)
    assert [after.get_text() for after in question.select("dd.after")] == ["Never."]
    assert question.select_one("input[value=yes]").has_attr("checked")  # type: ignore[union-attr]


def test_what_changed_shows_the_line_as_reworded_with_its_note(
    signed_in: SignIn, writer: Member, crew: Member, on_speech: Note
) -> None:
    decision = on_speech.decisions.get()
    working = open_working(writer)
    second = publish_working(writer, working, "", "", {decision.pk: True}, hash_text(working.joined_text()))
    changes = page(signed_in(crew), crew, "changes-between", 1, second.number)
    assert "1 reworded" in words_of(changes)
    assert " gone" not in words_of(changes.select_one(f"#note-{on_speech.public_id}"))
    card = page(signed_in(crew), crew, "note", on_speech.public_id)
    assert "Never." in words_of(card.select_one(".answer dd"))


def test_home_tells_its_author_that_it_reads_otherwise(
    signed_in: SignIn, writer: Member, crew: Member, on_speech: Note
) -> None:
    publish(writer)
    assert "Never." in words_of(page(signed_in(crew), crew, "home"))


def test_queries_do_not_grow_with_the_notes(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, on_speech: Note
) -> None:
    scene, client, counts = scene_with(writer, "Never."), signed_in(writer), []
    names = (("to-do",), ("working",), ("working-scene", scene.public_id), ("working-publish",))
    for _ in range(2):
        taken = []
        for name, *more in names:
            with CaptureQueriesContext(connection) as queries:
                page(client, writer, name, *more)
            taken.append(len(queries))
        counts.append(taken)
        for line in (SPEECH, REPLY, 16, 19):
            for _ in range(3):
                accept(writer, make_note(crew, draft, line, wording=draft.text.split("\n")[line - 1] + " So."))
    assert counts[0] == counts[1]


# Whatever is taken, written, moved, cut and put back, in whatever order.

SAID = ("Yes.", "No.", "Go on, then.", "The lamp is out, and nobody has been up the stair since the storm.")
HEADINGS = ("INT. WATCH ROOM - NIGHT", "EXT. POINT - DAY", "INT. STAIR - NIGHT")
speeches = st.tuples(
    st.sampled_from(["ODA", "BREN", "THE KEEPER"]), st.lists(st.sampled_from(SAID), min_size=1, max_size=3)
)
scripts = st.lists(st.lists(speeches, min_size=1, max_size=4), min_size=1, max_size=4)
proposals = st.sampled_from(
    ["{n} never", "{n} is out.\nAnd {n} again.", "So {n}, and the lamp, and the stair, and the storm."]
)
acts = st.tuples(
    st.sampled_from(["take", "take", "take", "rewrite", "add", "delete", "move", "cut", "restore", "type", "scene"]),
    st.integers(0, 40),
    st.integers(0, 40),
    st.sampled_from([*SAID, "A wholly other thing is said here, in many more words than there were."]),
)


def typed(written: list[list[tuple[str, list[str]]]]) -> str:
    scenes = []
    for at, said in enumerate(written):
        body = "".join(f"{name}\n{chr(10).join(lines)}\n\n" for name, lines in said)
        scenes.append(f"{HEADINGS[at % len(HEADINGS)]}\n\nThe sea.\n\n{body}")
    return "".join(scenes)


def dialogue(draft: Draft) -> list[int]:
    return [line for line, text in enumerate(draft.text.split("\n"), 1) if text in SAID]


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(scripts, st.lists(proposals, min_size=1, max_size=5), st.lists(acts, max_size=12), st.integers(1, 7))
def test_a_note_whose_wording_was_put_in_stands_on_exactly_its_words(
    written: list[list[tuple[str, list[str]]]], proposed: list[str], steps: list[tuple[str, int, int, str]], apart: int
) -> None:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING)
    draft = make_draft(writer, typed(written))
    lines = dialogue(draft)[::apart]
    notes = [
        make_note(writer, draft, line, wording=wording.format(n=f"word{at}"))
        for at, (line, wording) in enumerate(zip(lines, proposed, strict=False))
    ]
    begin_working(writer, draft, uuid.uuid4())
    for act, one, other, said in steps:
        take_step(writer, notes, act, one, other, said)
    add_scene(writer, open_working(writer), None, "INT. NEW ROOM - DAY\n\nEmpty.\n", uuid.uuid4())
    standing = [
        taken.note
        for taken in open_working(writer).taken_wordings.filter(undone_at=None).select_related("note")
        if str(taken.note.wording) in open_working(writer).joined_text()
    ]
    published = publish(writer)
    assert {note.pk: words_in(published, note) for note in standing} == {note.pk: note.wording for note in standing}


def take_step(writer: Member, notes: list[Note], act: str, one: int, other: int, said: str) -> None:
    """One act on the working draft that leaves the words of wordings alone."""
    if act == "take":
        try:
            accept(writer, notes[one % len(notes)])
        except CannotTake:
            return
        return
    scenes = list(open_working(writer).scenes.order_by("position", "pk"))
    scene, behind = scenes[one % len(scenes)], scenes[other % len(scenes)]
    if act == "move":
        move_scene(writer, scene, behind)
    elif act in {"cut", "restore"}:
        (cut_scene if act == "cut" else restore_scene)(writer, scene)
    elif act == "scene":
        add_scene(writer, open_working(writer), behind, f"EXT. SEA - DAY\n\nODA\n{said}\n", uuid.uuid4())
    else:
        text = rewritten(scene.text, act, other, said)
        save_scene(writer, scene, text, scene.version, uuid.uuid4(), as_typed=act == "type")


def rewritten(text: str, act: str, at: int, said: str) -> str:
    lines = text.split("\n")
    free = [line for line, words in enumerate(lines) if "word" not in words]
    at = free[at % len(free)]
    if act == "delete":
        del lines[at]
    elif act == "add":
        lines[at:at] = ["", "BREN", said, ""]
    else:
        lines[at] = said
    return "\n".join(lines)


def test_lines_of_a_draft_that_went_and_came_back_are_known_as_before(
    writer: Member, crew: Member, draft: Draft
) -> None:
    """A note left while it was away too, and a draft written meanwhile keeps its own."""
    note = make_note(crew, draft, SPEECH)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Never.")
    withdrawn = publish(writer)
    withdraw_draft(writer, withdrawn, "Too soon.")
    meanwhile = leave_note(crew, draft, note.span, "question", "All of it?", form_id=uuid.uuid4())
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "No.")
    third = publish(writer)
    put_up_again(writer, withdrawn)
    for each in (note, meanwhile):
        assert (words_in(withdrawn, each), words_in(third, each)) == ("Never.", "No.")
    begin_working(writer, third, uuid.uuid4())
    write(writer, "No.", "Hm.")
    assert words_in(publish(writer), note) == "Hm."


def test_two_drafts_written_from_one_are_not_guessed_to_be_alike(writer: Member, draft: Draft) -> None:
    """The second, withdrawn while the third was written and put up again, knows its lines in the third by the first's;
    and so does the first its own in the fourth, which was written from the third."""
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Never.")
    second = publish(writer)
    withdraw_draft(writer, second, "Too soon.")
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Hm.")
    write(writer, "It is a bulb.", "Never.")
    third = publish(writer)
    put_up_again(writer, second)
    begin_working(writer, third, uuid.uuid4())
    write(writer, "Hm.", "It is a bulb.")
    fourth = publish(writer)

    for old, new in ((second, third), (second, fourth), (draft, fourth)):
        comparison = compare_drafts(old, new)
        assert {SPEECH, REPLY} <= comparison.known
        assert (comparison.by_old[SPEECH].new, comparison.by_old[REPLY].new) == ((SPEECH,), (REPLY,))
    for new, old, most in ((fourth, third, 0), (fourth, second, 1), (draft, fourth, 0)):
        with CaptureQueriesContext(connection) as queries:
            known_origins(new, old)
        assert len(queries) == most


def test_a_working_draft_knows_its_lines_though_the_draft_it_was_begun_from_goes_and_comes_back(
    writer: Member, crew: Member, draft: Draft
) -> None:
    on_speech, on_reply = make_note(crew, draft, SPEECH), make_note(crew, draft, REPLY)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Never.")
    write(writer, "ODA\nNever.", "ODA\nNo.\n\nBREN\nWhy?\n\nODA\nNever.")
    second = publish(writer)
    begin_working(writer, second, uuid.uuid4())
    write(writer, "It is a bulb.", "Nonsense.")
    withdraw_draft(writer, second, "Too soon.")
    assert (words_now(writer, on_speech), words_now(writer, on_reply)) == ("Never.", "Nonsense.")
    put_up_again(writer, second)
    assert (words_now(writer, on_speech), words_now(writer, on_reply)) == ("Never.", "Nonsense.")
    withdraw_draft(writer, second, "Still too soon.")
    third = publish(writer)
    assert (words_in(third, on_speech), words_in(third, on_reply)) == ("Never.", "Nonsense.")
