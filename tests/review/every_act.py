"""Every act of a member, and how it is tried."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.utils import timezone

from review.access import Deed
from review.changes.change_sheet_pdf import print_change_sheet
from review.changes.recipients import departments
from review.characters import acts as characters
from review.decisions import acts as decisions
from review.decisions import together, undoing
from review.decisions.acts import Deciding, Shown
from review.drafts import acts as drafts
from review.drafts import numbering, paging, visits
from review.drafts.texts import hash_text
from review.exchange import acts as exchange
from review.exchange.taken_notes import WhichNotes
from review.mail import acts as mail
from review.making import acts as making
from review.notes import acts as notes
from review.notes.acts import NoteWords
from review.notes.taking_down import take_down
from review.notes_screen.looks import choose_look
from review.notes_screen.models import Look
from review.papers import acts as papers
from review.papers import note_acts as paper_notes
from review.people import acts as people
from review.people.models import Department
from review.printing import acts as printing
from review.printing.revised_pages import revised_since
from review.productions_screen.acts import change_settings
from review.publishing import acts as publishing
from review.readings import acts as readings
from review.readings import question_acts as questions
from review.readings import reader_acts as reading_on
from review.rewriting import acts as rewriting
from review.rewriting import scene_acts, taking_over, wordings
from review.scenes import acts as scenes
from review.talks import acts as talks
from review.talks.agenda_pdf import print_agenda
from screenplay import PaperSize
from screenplay.intake import read_text
from screenplay.speech import RuleKind, VoiceRule
from tests.review.made_ready import (
    HUT,
    LINE,
    PICTURE,
    Tried,
    a_file,
    a_talk,
    accepted,
    crew_of,
    done,
    first,
    for_papers,
    for_readings,
    given,
    given_up,
    in_deciding,
    in_rewriting,
    locked,
    next_week,
    of_their_own,
    ordered,
    other_settings,
    question,
    saved_again,
    scene,
    second,
    taken,
    taken_away,
    unanswered,
    words_on_lines,
)

if TYPE_CHECKING:
    from collections.abc import Callable

TRIED: dict[Callable[..., object], Tried] = {
    # what is put up
    publishing.publish_draft: Tried(Deed.PUBLISH, lambda _: given(read_text(HUT)), is_given_theirs=True),
    publishing.hold_draft: Tried(Deed.PUBLISH, lambda _: given(read_text(HUT)), is_given_theirs=True),
    publishing.let_go: Tried(Deed.PUBLISH, lambda house: given(house.held)),
    publishing.publish_held: Tried(Deed.PUBLISH, lambda house: given(house.held, "", "", {}, 2)),
    publishing.publish_working: Tried(
        Deed.PUBLISH,
        lambda house: given(house.working, "", "", {}, hash_text(saved_again(house).working.joined_text())),
    ),
    drafts.withdraw_draft: Tried(Deed.PUBLISH, lambda house: given(second(house), "Mine.")),
    drafts.put_up_again: Tried(
        Deed.PUBLISH, lambda house: given(done(drafts.withdraw_draft, house.member("writer"), second(house), ""))
    ),
    visits.be_at: Tried(Deed.READ, lambda house: given(second(house), 6), by="crew", only_reads=True),
    # what is taken away
    printing.print_draft: taken_away(
        lambda house: given(second(house), PaperSize.A4, scene_numbers=False, with_notes=False)
    ),
    printing.print_sides: taken_away(lambda house: given(second(house), "NELL", PaperSize.A4, scene_numbers=False)),
    printing.print_revision: taken_away(
        lambda house: given(
            revised_since(first(house), second(house)), scene_numbers=False, changed_only=False, tinted=False
        )
    ),
    printing.take_source: Tried(Deed.PUBLISH, lambda house: given(second(house)), only_reads=True),
    printing.take_text: Tried(
        Deed.PUBLISH, lambda house: given(second(house), PaperSize.A4, scene_numbers=False), only_reads=True
    ),
    printing.take_web_page: Tried(
        Deed.PUBLISH, lambda house: given(second(house), scene_numbers=False), only_reads=True
    ),
    print_change_sheet: taken_away(lambda house: given(departments()[0], first(house), second(house))),
    print_agenda: Tried(Deed.TALK, lambda house: given(house.talk), only_reads=True),
    scenes.take_breakdown: taken_away(lambda house: given(second(house), {}, "csv")),
    exchange.take_notes: taken_away(lambda house: given(second(house), "csv", WhichNotes())),
    exchange.bring_in_notes: Tried(Deed.BRING_IN, lambda house: given(a_file(house)), is_given_theirs=True),
    making.begin_making: Tried(
        Deed.READ,
        lambda _: given(Deed.READ, "/a/page/", "A page", "/", is_sent=False),
        by="cast",
        is_given_theirs=True,
    ),
    # notes
    notes.leave_note: Tried(
        Deed.NOTE, lambda house: given(second(house), LINE, "idea", "Hm.", form_id=uuid.uuid4()), by="cast"
    ),
    notes.store_note: Tried(Deed.NOTE, lambda house: given(uuid.uuid4(), words_on_lines(house)), by="cast"),
    notes.change_note: of_their_own(
        lambda house: given(unanswered(house), NoteWords("idea", "Day?", None, "everyone"), 1)
    ),
    notes.correct_note: of_their_own(lambda house: given(house.note, "Is it day?", 1)),
    notes.reply: Tried(Deed.NOTE, lambda house: given(house.note, "Hm.", uuid.uuid4()), by="cast"),
    notes.withdraw_note: of_their_own(lambda house: given(house.note)),
    notes.put_note_back: of_their_own(lambda house: given(done(notes.withdraw_note, house.member("crew"), house.note))),
    notes.withdraw_reply: of_their_own(lambda house: given(house.reply)),
    take_down: Tried(
        Deed.TALK,
        lambda house: given(house.member("crew"), second(house), LINE, "idea", "Hm.", form_id=uuid.uuid4()),
    ),
    choose_look: Tried(Deed.READ, lambda _: given(Look.PAGES), by="cast", is_given_theirs=True, only_reads=True),
    # decisions
    decisions.decide: in_deciding(lambda house: given(house.note, "accepted", "", 0, uuid.uuid4())),
    decisions.place_note: in_deciding(lambda house: given(house.note, second(house), None)),
    together.decide_together: in_deciding(
        lambda house: given([Shown(house.note, 0)], Deciding("parked", ""), uuid.uuid4())
    ),
    undoing.undo: in_deciding(lambda house: given(accepted(house), uuid.uuid4())),
    wordings.take_wording: in_rewriting(lambda house: given((made := accepted(house)).note, made, uuid.uuid4())),
    wordings.take_out: in_rewriting(lambda house: given(taken(house), uuid.uuid4())),
    wordings.leave_in: in_rewriting(lambda house: given(taken(house))),
    wordings.own_again: in_rewriting(lambda house: given(taken(house, is_left=True))),
    # the working draft
    rewriting.begin_working: in_rewriting(
        lambda house: given(second(house), uuid.uuid4(), first(house), set_aside=house.working),
    ),
    rewriting.set_aside_working: in_rewriting(lambda house: given(house.working)),
    rewriting.take_up_working: in_rewriting(
        lambda house: given(done(rewriting.set_aside_working, house.member("writer"), house.working)),
    ),
    rewriting.take_working_text: in_rewriting(lambda house: given(house.working)),
    taking_over.take_over: in_rewriting(
        lambda house: given(house.working, HUT, hash_text(house.working.joined_text()))
    ),
    scene_acts.save_scene: in_rewriting(lambda house: given(scene(house), HUT, 1, uuid.uuid4())),
    scene_acts.take_back_text: in_rewriting(lambda house: given(saved_again(house), 1, uuid.uuid4())),
    scene_acts.save_together: in_rewriting(lambda house: given(scene(house), HUT, HUT, 1, uuid.uuid4())),
    scene_acts.keep_theirs: in_rewriting(lambda house: given(scene(house), HUT, uuid.uuid4())),
    scene_acts.add_scene: in_rewriting(lambda house: given(house.working, None, HUT, uuid.uuid4())),
    scene_acts.cut_scene: in_rewriting(lambda house: given(scene(house))),
    scene_acts.restore_scene: in_rewriting(
        lambda house: given(done(scene_acts.cut_scene, house.member("writer"), scene(house)))
    ),
    scene_acts.move_scene: in_rewriting(lambda house: given(scene(house), house.working.scenes.get(ordinal=2))),
    # the characters, and the scenes of a draft
    characters.make_rule: in_rewriting(
        lambda house: given(second(house), VoiceRule("TOBIAS", RuleKind.NO_QUESTIONS), uuid.uuid4()),
    ),
    characters.withdraw_rule: in_rewriting(lambda house: given(house.rule)),
    characters.merge_cues: in_rewriting(lambda _: given("NELL", "TOBIAS"), is_given_theirs=True),
    characters.keep_cues_apart: in_rewriting(lambda _: given("NELL", "TOBIAS"), is_given_theirs=True),
    scenes.mark_word: Tried(
        Deed.MARK, lambda _: given("net", Department.PROPS, uuid.uuid4()), by="crew", is_given_theirs=True
    ),
    scenes.unmark_word: Tried(Deed.MARK, lambda house: given(house.marked), by="crew"),
    scenes.set_story_days: in_rewriting(lambda house: given(second(house), {1: 2}, {})),
    scenes.move_scene_in_order: Tried(Deed.MARK, lambda house: given(second(house), 1, 2), by="crew"),
    scenes.begin_order_again: Tried(Deed.MARK, lambda house: given(ordered(house)), by="crew"),
    scenes.merge_places: in_rewriting(lambda _: given("HUT", "PIER"), is_given_theirs=True),
    scenes.keep_places_apart: in_rewriting(lambda _: given("HUT", "PIER"), is_given_theirs=True),
    # how the production is set up, and who is in it
    numbering.lock_numbers: Tried(Deed.SET_UP, locked, is_given_theirs=True),
    numbering.unlock_numbers: Tried(
        Deed.SET_UP, lambda house: locked(house, numbering.lock_numbers), is_given_theirs=True
    ),
    paging.lock_pages: Tried(Deed.SET_UP, lambda house: locked(house, numbering.lock_numbers), is_given_theirs=True),
    paging.unlock_pages: Tried(
        Deed.SET_UP, lambda house: locked(house, numbering.lock_numbers, paging.lock_pages), is_given_theirs=True
    ),
    change_settings: Tried(Deed.SET_UP, other_settings, by="producer", is_given_theirs=True),
    people.invite: Tried(Deed.INVITE, lambda _: given("Ida", "crew", "art", uuid.uuid4()), is_given_theirs=True),
    people.withdraw_invitation: Tried(Deed.INVITE, lambda house: given(house.invitation)),
    people.change_role: Tried(
        Deed.INVITE,
        lambda house: given(house.member("cast"), people.RoleInProduction("cast", "cast", "NELL")),
    ),
    people.remove_member: Tried(Deed.INVITE, lambda house: given(house.member("cast"))),
    people.make_sign_in_link: Tried(Deed.INVITE, lambda house: given(house.member("cast"))),
    mail.choose_pace: Tried(Deed.READ, lambda _: given("daily"), by="cast", is_given_theirs=True),
    mail.send_again: Tried(Deed.SEND_AGAIN, given_up),
    # papers
    papers.put_up_paper: for_papers(
        lambda _: given(papers.PaperAsked("Tides", for_everyone=True), "Ebb.", uuid.uuid4()),
        is_given_theirs=True,
    ),
    papers.put_up_version: for_papers(
        lambda house: given(
            house.paper,
            papers.PaperAsked.of(house.paper),
            "No lamp after ten.",
            1,
            papers.PaperAsked.of(house.paper).seen,
        ),
    ),
    papers.withdraw_paper: for_papers(lambda house: given(house.paper)),
    papers.put_paper_back: for_papers(
        lambda house: given(done(papers.withdraw_paper, house.member("writer"), house.paper))
    ),
    papers.add_picture: for_papers(lambda house: given(house.paper, "lamp.png", PICTURE)),
    paper_notes.leave_paper_note: Tried(
        Deed.NOTE,
        lambda house: given(house.paper.versions.get(), 1, "idea", "Hm.", "everyone", uuid.uuid4()),
        by="cast",
    ),
    paper_notes.reply_to_paper_note: Tried(
        Deed.NOTE, lambda house: given(house.paper_note, "Hm.", uuid.uuid4()), by="cast"
    ),
    paper_notes.change_paper_note: of_their_own(
        lambda house: given(house.paper_note, paper_notes.PaperWords("idea", "Nine.", "everyone"), 1)
    ),
    paper_notes.withdraw_paper_note: of_their_own(lambda house: given(house.paper_note)),
    paper_notes.put_paper_note_back: of_their_own(
        lambda house: given(done(paper_notes.withdraw_paper_note, house.member("crew"), house.paper_note))
    ),
    paper_notes.withdraw_paper_reply: of_their_own(lambda house: given(house.paper_reply)),
    paper_notes.decide_paper_note: in_deciding(lambda house: given(house.paper_note, "parked", "", 0, uuid.uuid4())),
    # readings
    readings.open_reading: for_readings(
        lambda house: given(second(house), crew_of(house), next_week(), uuid.uuid4()),
    ),
    readings.change_reading: for_readings(
        lambda house: given(house.reading, next_week(), readings.Asked.of(house.reading).seen),
    ),
    readings.add_readers: for_readings(lambda house: given(house.reading, [house.member("cast")])),
    readings.take_off: for_readings(lambda house: given(house.reading.readers.get())),
    readings.remind: for_readings(lambda house: given(house.reading)),
    readings.close_reading: for_readings(lambda house: given(house.reading)),
    readings.reopen_reading: for_readings(
        lambda house: given(done(readings.close_reading, house.member("writer"), house.reading), timezone.localdate()),
    ),
    questions.ask: for_readings(lambda house: given(house.reading, questions.Asking("Why?"), uuid.uuid4())),
    questions.carry_questions: for_readings(lambda house: given(house.reading, house.earlier)),
    questions.withdraw_question: for_readings(lambda house: given(question(house))),
    questions.ask_again: for_readings(
        lambda house: given(done(questions.withdraw_question, house.member("writer"), question(house)))
    ),
    questions.show_intended: for_readings(lambda house: given(question(house))),
    questions.judge: for_readings(lambda house: given(question(house).answers.get(), "missed")),
    questions.write_purposes: for_readings(lambda house: given(second(house), {1: "The lamp."})),
    questions.answer_questions: of_their_own(lambda house: given(house.reading, {question(house).public_id: "Hers."})),
    questions.answer_and_finish: of_their_own(lambda house: given(house.reading, {question(house).public_id: "Hers."})),
    reading_on.report_progress: of_their_own(lambda house: given(house.reading, {1: 60})),
    reading_on.say_read: of_their_own(lambda house: given(house.reading, 1, is_read=True)),
    reading_on.mark_scenes: of_their_own(lambda house: given(house.reading, {1: ("slow", "")})),
    reading_on.take_back_mark: of_their_own(
        lambda house: given(done(reading_on.mark_scene, house.member("crew"), house.reading, 1, "slow"), 1)
    ),
    reading_on.share_time: of_their_own(lambda house: given(house.reading, shares=True)),
    reading_on.finish_reading: of_their_own(lambda house: given(house.reading)),
    # talks
    talks.call_talk: Tried(Deed.TALK, lambda house: given(second(house), crew_of(house), a_talk(), uuid.uuid4())),
    talks.change_talk: Tried(Deed.TALK, lambda house: given(house.talk, crew_of(house), a_talk(), house.talk.sequence)),
    talks.call_off: Tried(Deed.TALK, lambda house: given(house.talk)),
}
