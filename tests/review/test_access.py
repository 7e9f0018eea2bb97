"""Who gets through which door: every address of the site, tried by everybody, by GET and by POST."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import URLResolver, get_resolver, reverse
from django.utils import timezone

from review.access import Deed, Role
from review.characters.acts import make_rule
from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.mail.models import Letter
from review.mail.stopping import stop_address
from review.making.acts import begin_making, keep_answer
from review.notes.acts import reply
from review.notes.models import Audience
from review.papers.acts import PaperAsked, put_up_paper
from review.papers.note_acts import leave_paper_note, reply_to_paper_note
from review.people.acts import invite
from review.people.models import Department, Invitation, Member, Person, SignInLink, hash_token
from review.publishing.acts import hold_draft
from review.readings.question_acts import Asking, answer_questions, ask
from review.rewriting.acts import begin_working
from review.scenes.acts import mark_word
from review.talks.acts import When, call_talk
from screenplay.intake import read_text
from screenplay.speech import RuleKind, VoiceRule
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_person, make_production, make_reading

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.characters.models import CharacterRule
    from review.making.models import Making
    from review.notes.models import Note, Reply
    from review.papers.models import WorldPaper
    from review.papers.note_models import PaperNote, PaperReply
    from review.productions.models import Production
    from review.publishing.models import HeldDraft
    from review.readers.models import Reading
    from review.rewriting.models import WorkingDraft
    from review.scenes.models import DepartmentMark
    from review.talks.models import Talk

pytestmark = pytest.mark.django_db

READERS = ("producer", "crew", "cast")
MEMBERS = ("writer", *READERS)
OUTSIDERS = ("removed", "stranger")
EVERYBODY = (*MEMBERS, *OUTSIDERS, "signed out")

OPEN = 200
LEADS_ON = 302  # done, and on to the next page; where it leads is told apart from the way to signing in
REFUSED_FORM = 422  # an empty form, by somebody who may send it
NOT_UNDERSTOOD = 400
MEANWHILE = 409  # nothing is done, since something stands otherwise than the form says
ANOTHER_IS_OPEN = 409  # nothing is set aside that the form does not name
WRONG_METHOD = 405
FORBIDDEN = 403
NOT_FOUND = 404
SIGN_IN = "sign in"  # led to the sign-in page, and nothing else
Outcome = int | str
Pair = tuple[Outcome, Outcome]  # of GET and of POST


def of_a_production(members: Pair, writer: Pair | None = None) -> dict[str, Pair]:
    """What everybody gets of an address in a production; whoever is not in it finds nothing there."""
    get, post = (WRONG_METHOD if outcome == WRONG_METHOD else NOT_FOUND for outcome in members)
    signed_out: Pair = (SIGN_IN, SIGN_IN)
    return (
        dict.fromkeys(READERS, members)
        | {"writer": writer or members}
        | dict.fromkeys(OUTSIDERS, (get, post))
        | {"signed out": signed_out}
    )


def for_everybody(outcome: Pair, **but: Pair) -> dict[str, Pair]:
    named = {name.replace("_", " "): told for name, told in but.items()}
    return dict.fromkeys(EVERYBODY, outcome) | named


def for_whoever_is_signed_in(outcome: Pair, signed_out: Pair = (SIGN_IN, SIGN_IN)) -> dict[str, Pair]:
    return for_everybody(outcome, signed_out=signed_out)


PAGE: Pair = (OPEN, WRONG_METHOD)
LEADS: Pair = (LEADS_ON, WRONG_METHOD)
NOT_THEIRS: Pair = (FORBIDDEN, FORBIDDEN)
ACT_NOT_THEIRS: Pair = (WRONG_METHOD, FORBIDDEN)

# Each address by its name: who gets what by GET and by an empty POST.
EXPECTED: dict[str, dict[str, Pair]] = {
    "healthy": for_everybody(PAGE),
    "reading-on": for_everybody(PAGE),
    "setup-code": for_everybody((WRONG_METHOD, LEADS_ON)),  # says that somebody is here already
    "setup": for_everybody((SIGN_IN, SIGN_IN)),  # somebody is here already
    # an open invitation: those inside are told so; others may join; a form without an answer is refused
    "join": for_everybody((LEADS_ON, LEADS_ON), removed=(OPEN, LEADS_ON), stranger=(OPEN, LEADS_ON))
    | {"signed out": (OPEN, REFUSED_FORM)},
    "sign-in-link": for_everybody((OPEN, LEADS_ON)),
    "links-told": for_whoever_is_signed_in((WRONG_METHOD, LEADS_ON)),
    "mail": of_a_production((OPEN, REFUSED_FORM)),
    "mail-again": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "mail-stop": for_everybody((OPEN, OPEN)),  # whoever holds a letter stops what it is of, and nothing else
    "productions": for_whoever_is_signed_in(PAGE, signed_out=(SIGN_IN, WRONG_METHOD)),
    "production-new": for_whoever_is_signed_in(NOT_THEIRS) | {"writer": (OPEN, REFUSED_FORM)},
    "home": of_a_production(PAGE),
    "news": of_a_production(PAGE),
    "settings": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)) | {"producer": (OPEN, REFUSED_FORM)},
    "people": of_a_production(PAGE),
    "security-log": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "invite": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "invitation-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "member-remove": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "member-place": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "member-sign-in-link": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, OPEN)),
    "drafts": of_a_production(PAGE),
    "draft-upload": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-held": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-withdraw": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-put-up-again": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),  # it is up
    "draft-report": of_a_production(PAGE),
    "draft-download": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "draft-text": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "draft-html": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "draft-print": of_a_production(PAGE),
    "draft-pdf": of_a_production(PAGE),
    "draft-sides": of_a_production((REFUSED_FORM, WRONG_METHOD)),  # of nobody named
    "revised-pages": of_a_production(PAGE),
    "revised-pages-pdf": of_a_production((NOT_FOUND, WRONG_METHOD)),  # of the first draft there are none
    "scene-numbers": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)) | {"producer": (OPEN, REFUSED_FORM)},
    "locked-pages": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)) | {"producer": (OPEN, REFUSED_FORM)},
    "making": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE),  # the writer asked for it
    "changes": of_a_production(LEADS),
    "changes-between": of_a_production(PAGE),
    "changes-stretch": of_a_production((NOT_FOUND, WRONG_METHOD)),  # these drafts have no stretch that is folded
    "change-sheet-mine": of_a_production(LEADS),
    "change-sheets": of_a_production(LEADS),
    "change-sheet": of_a_production(PAGE),
    "change-sheet-pdf": of_a_production(PAGE),
    "voices-current": of_a_production(LEADS),
    "voices": of_a_production(PAGE),
    "voice": of_a_production(PAGE),
    "voice-part": of_a_production(PAGE),
    "voices-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # there is none of the sample's name
    "voice-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # nor a file of the sample's ending
    "voice-names": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "voice-names-merge": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "voice-names-apart": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "voice-rule-new": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "voice-rule-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "search": of_a_production(PAGE),
    # the sample paper is for everyone; the note on it and the reply are the head of department's
    "papers": of_a_production(PAGE),
    "paper-new": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "paper": of_a_production(PAGE),
    "paper-write": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "paper-changes": of_a_production(PAGE),
    "paper-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # there is none of the sample's name
    "paper-picture-add": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "paper-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "paper-put-back": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "paper-note-new": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "paper-reply-new": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "paper-decide": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "paper-note-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "paper-reply-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "scenes-current": of_a_production(LEADS),
    "scenes": of_a_production(PAGE),
    "scenes-file": of_a_production(PAGE),
    "scenes-pictures": of_a_production(PAGE),
    "scenes-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # there is none of the sample's name
    "scenes-order": of_a_production(PAGE),
    "scenes-order-move": of_a_production((WRONG_METHOD, REFUSED_FORM)) | {"cast": ACT_NOT_THEIRS},
    "scenes-order-again": of_a_production((WRONG_METHOD, LEADS_ON)) | {"cast": ACT_NOT_THEIRS},
    "scenes-marks": of_a_production(PAGE),
    "scenes-mark-new": of_a_production((OPEN, REFUSED_FORM)) | {"cast": NOT_THEIRS},
    "scenes-days": of_a_production(NOT_THEIRS, writer=(OPEN, LEADS_ON)),
    "scenes-mark-withdraw": of_a_production((WRONG_METHOD, LEADS_ON)) | {"cast": ACT_NOT_THEIRS},
    "script-current": of_a_production(LEADS),
    "script": of_a_production(PAGE),
    "script-notes": of_a_production(PAGE),
    "script-marks": of_a_production(PAGE),
    "script-page": of_a_production(PAGE),
    "script-find": of_a_production(PAGE),
    "script-changed": of_a_production(PAGE),
    "script-place": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "note-new": of_a_production((OPEN, REFUSED_FORM)),
    "note": of_a_production(PAGE),
    # the sample reading is of the head of department alone: nobody else reads in it
    "readings": of_a_production(PAGE),
    "reading-new": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "reading": of_a_production((NOT_FOUND, WRONG_METHOD), writer=LEADS) | {"crew": PAGE},
    "reading-readers": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "reading-add": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "reading-take-off": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, NOT_FOUND)),  # nobody is named
    "reading-change": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "reading-remind": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "reading-close": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "reading-reopen": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "reading-ends": of_a_production((NOT_FOUND, WRONG_METHOD)) | {"crew": PAGE},
    "reading-progress": of_a_production((WRONG_METHOD, NOT_FOUND)) | {"crew": (WRONG_METHOD, NOT_UNDERSTOOD)},
    "reading-scene": of_a_production((NOT_FOUND, NOT_FOUND)) | {"crew": (OPEN, REFUSED_FORM)},
    "reading-read": of_a_production((WRONG_METHOD, NOT_FOUND)) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "reading-finish": of_a_production((NOT_FOUND, NOT_FOUND)) | {"crew": (OPEN, LEADS_ON)},
    "reading-learned": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE) | {"crew": PAGE},
    "reading-compare": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "reading-questions": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "reading-carry": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, NOT_FOUND)),  # no reading is named
    "question-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "question-show-intended": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "answer-judge": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "scene-purposes": of_a_production(NOT_THEIRS, writer=(OPEN, LEADS_ON)),
    "reading-share-time": of_a_production((WRONG_METHOD, NOT_FOUND)) | {"crew": (WRONG_METHOD, LEADS_ON)},
    # the sample talk is with the head of department alone
    "talks": of_a_production(PAGE),
    "talk-new": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "talk": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE) | {"crew": PAGE},
    "talk-change": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "talk-call-off": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "talk-taken-down": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "talk-agenda": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "talk-calendar": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE) | {"crew": PAGE},
    # the sample note and reply are the head of department's: nobody else can take them back
    "note-change": of_a_production(NOT_THEIRS) | {"crew": (OPEN, REFUSED_FORM)},
    "note-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "note-put-back": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "reply-new": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "reply-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "home-own-notes": of_a_production(PAGE),
    "notes": of_a_production(PAGE),
    "notes-in": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "notes-out": of_a_production(PAGE),
    "notes-csv": of_a_production(PAGE),
    "notes-fountain": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "notes-json": of_a_production(PAGE),
    "notes-look": of_a_production((WRONG_METHOD, LEADS_ON)),
    "decide-together": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "decision-undo": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "decide": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "decision-reopen": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "place": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "to-do": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "working": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "working-begin": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-set-aside": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-take-up": of_a_production(NOT_THEIRS, writer=(OPEN, LEADS_ON)),
    "working-add": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-cut": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-restore": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-move": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, NOT_FOUND)),  # behind no scene
    "working-scene": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "working-scene-typed": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, OPEN)),
    "working-take-back": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-download": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "working-catch-up": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-put-back": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "working-publish": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-restore": of_a_production(NOT_THEIRS, writer=(OPEN, ANOTHER_IS_OPEN)),
    "account_login": for_whoever_is_signed_in((LEADS_ON, LEADS_ON), signed_out=(OPEN, OPEN)),
    "account_logout": for_everybody((OPEN, SIGN_IN), signed_out=(SIGN_IN, SIGN_IN)),
    "account_signup": for_everybody((LEADS_ON, LEADS_ON), signed_out=(OPEN, OPEN)),
    "account_inactive": for_everybody(PAGE),
    "account_change_password": for_whoever_is_signed_in((LEADS_ON, LEADS_ON)),  # to choosing one: they have none
    "account_set_password": for_whoever_is_signed_in((OPEN, OPEN)),
    "account_reset_password": for_everybody((OPEN, OPEN)),
    "account_reset_password_done": for_everybody(PAGE),
    "account_reset_password_from_key": for_everybody((OPEN, OPEN)),  # says that the link does not open
    "account_reset_password_from_key_done": for_everybody(PAGE),
}


# What stands in the variable parts of addresses, where it is no record's.
SAMPLES: dict[str, Any] = {
    "number": 1,
    "old": 1,
    "new": 2,
    "version": 1,
    "ordinal": 1,
    "name": "1",
    "whose": "camera",
    "ending": "csv",
    "character": "NELL",
    "anchor": "beside-new-1",
    "uidb36": "1",
    "key": "not-a-key",
}


@dataclass(frozen=True)
class House:
    """A production with everybody in and around it, and one record of every sort."""

    production: Production
    people: dict[str, Person]
    note: Note
    reply: Reply
    reading: Reading
    earlier: Reading
    invitation: Invitation
    working: WorkingDraft
    held: HeldDraft
    making: Making
    rule: CharacterRule
    mark: DepartmentMark
    paper: WorldPaper
    paper_note: PaperNote
    paper_reply: PaperReply
    letter: Letter
    talk: Talk
    tokens: dict[str, str]

    def client(self, who: str) -> Client:
        client = Client()
        if who in self.people:
            client.force_login(self.people[who], backend="allauth.account.auth_backends.AuthenticationBackend")
        return client

    def tries(self, who: str, method: str, address: str) -> Outcome:
        """What somebody gets at an address; whatever they did there is undone."""
        client = self.client(who)
        with transaction.atomic():
            response = client.generic(method, address, "", "application/x-www-form-urlencoded")
            transaction.set_rollback(True)
        leads_to = response.headers.get("Location", "")
        return SIGN_IN if leads_to.startswith(reverse("account_login")) else response.status_code

    def sample(self, name: str) -> dict[str, Any]:
        """What stands in the variable parts of an address."""
        samples = SAMPLES | {"production": self.production.public_id, "token": self.tokens.get(name, "")}
        samples["other"] = self.earlier.public_id
        samples["public_id"] = self.public_id(name)
        return {part: samples[part] for part in PARTS[name]}

    def public_id(self, name: str) -> str:
        if name.startswith("member-"):
            return self.people["crew"].memberships.get(production=self.production).public_id
        if name == "invitation-withdraw":
            return self.invitation.public_id
        if name.startswith("question-"):
            return self.reading.questions.get().public_id
        if name.startswith("answer-"):
            return self.reading.questions.get().answers.get().public_id
        own: dict[str, str] = {
            "draft-held": self.held.public_id,
            "scenes-mark-withdraw": self.mark.public_id,
            "voice-rule-withdraw": self.rule.public_id,
            "mail-again": self.letter.public_id,
            "making": self.making.public_id,
        }
        if name in own:
            return own[name]
        if name.startswith("talk"):
            return self.talk.public_id
        if name.startswith("reading"):
            return self.reading.public_id
        if name.startswith("paper"):
            of_note = self.paper_reply if name == "paper-reply-withdraw" else self.paper_note
            is_of_note = name in {"paper-reply-new", "paper-decide", "paper-note-withdraw", "paper-reply-withdraw"}
            return of_note.public_id if is_of_note else self.paper.public_id
        if name.startswith("working-"):
            is_whole = name == "working-take-up"
            return self.working.public_id if is_whole else self.working.scenes.get(position=1).public_id
        return self.reply.public_id if name.startswith("reply-w") else self.note.public_id


def build_house(name: str = "Slack Water") -> House:
    production = make_production(name)
    writer = make_member(production, Role.WRITER, Department.WRITING, "Ada Wren", make_person(starts_productions=True))
    producer = make_member(production, Role.PRODUCER, Department.PRODUCTION, "Pim Oake")
    crew = make_member(production, Role.CREW, Department.CAMERA, "Bo Finch")
    cast = make_member(production, Role.CAST, Department.CAST, "Cleo Marsh")
    removed = make_member(production, Role.CREW, Department.SOUND, "Rue Long")
    removed.removed_at = timezone.now()
    removed.save()
    stranger = make_member(make_production("Elsewhere"), Role.WRITER, Department.WRITING, "Odd Moe")
    first = make_draft(writer)
    note = make_note(crew, first, 6)
    second = make_draft(writer, SCRIPT.replace("Mist.", "Fog."), 2)
    note.placements.create(draft=second, fate="kept", first_line=6, first_char=0, last_line=6, last_char=note.last_char)
    invitation, join_token = invite(writer, "Ida", Role.CREW, Department.ART, uuid.uuid4())
    SignInLink.objects.create(
        person=crew.person, token_hash=hash_token(f"link-{name}"), expires_at=timezone.now() + timedelta(hours=1)
    )
    people = {"writer": writer, "producer": producer, "crew": crew, "cast": cast}
    people |= {"removed": removed, "stranger": stranger}
    making, _ = begin_making(writer, Deed.READ, "/somewhere/", "Draft 2 as a PDF", "/", is_sent=False)
    keep_answer(making, HttpResponse("%PDF"))
    earlier = make_reading(writer, first, crew, is_blind=False)
    reading = make_reading(writer, first, crew, is_blind=False)
    question = ask(writer, reading, Asking("Whose lamp is it?", intended="Nell’s"), uuid.uuid4())
    answer_questions(crew, reading, {question.public_id: "The ferry’s"})
    paper = put_up_paper(writer, PaperAsked("Harbour rules", for_everyone=True), "No lamp after nine.", uuid.uuid4())
    paper_note = leave_paper_note(crew, paper.versions.get(), 1, "idea", "Ten.", "everyone", uuid.uuid4())
    letter = Letter.objects.create(production=production, member=crew)
    talk = call_talk(writer, second, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    return House(
        production=production,
        letter=letter,
        talk=talk,
        people={who: member.person for who, member in people.items()},
        note=note,
        reading=reading,
        making=making,
        earlier=earlier,
        reply=reply(crew, note, "So ask the gaffer.", uuid.uuid4()),
        invitation=invitation,
        working=begin_working(writer, second, uuid.uuid4()),
        held=hold_draft(writer, read_text(SCRIPT.replace("Mist.", "Rain."))),
        paper=paper,
        paper_note=paper_note,
        paper_reply=reply_to_paper_note(crew, paper_note, "Or eleven.", uuid.uuid4()),
        mark=mark_word(crew, "lamp", Department.PROPS, uuid.uuid4()),
        rule=make_rule(writer, second, VoiceRule("NELL", RuleKind.NO_QUESTIONS), uuid.uuid4()),
        tokens={
            "join": join_token or "",
            "sign-in-link": f"link-{name}",
            "mail-stop": stop_address(letter).rstrip("/").rpartition("/")[2],
        },
    )


@pytest.fixture
def house() -> House:
    return build_house()


def every_address(
    resolver: URLResolver | None = None, above: frozenset[str] = frozenset()
) -> Iterator[tuple[str, frozenset[str]]]:
    """The name of every address, and of its variable parts."""
    for entry in (resolver or get_resolver()).url_patterns:
        parts = above | entry.pattern.regex.groupindex.keys()
        if isinstance(entry, URLResolver):
            yield from every_address(entry, parts)
        else:
            yield str(entry.name), parts


PARTS = dict(every_address())


def test_every_address_has_a_name_of_its_own_and_a_line_in_the_table() -> None:
    assert sorted(name for name, _ in every_address()) == sorted(EXPECTED)


@pytest.mark.parametrize("name", EXPECTED)
def test_the_door_opens_to_those_it_is_for(house: House, name: str) -> None:
    address = reverse(name, kwargs=house.sample(name))
    assert {who: (house.tries(who, "GET", address), house.tries(who, "POST", address)) for who in EVERYBODY} == (
        EXPECTED[name]
    )


@pytest.mark.parametrize("name", [name for name, parts in PARTS.items() if parts >= {"production", "public_id"}])
def test_a_record_of_another_production_does_not_exist(house: House, name: str) -> None:
    """The writer's own production in the address, another's record after it."""
    other = build_house("Other Film")
    kwargs = other.sample(name) | {"production": house.production.public_id}
    method = "post" if EXPECTED[name]["writer"][0] == WRONG_METHOD else "get"
    assert getattr(house.client("writer"), method)(reverse(name, kwargs=kwargs)).status_code == NOT_FOUND


@pytest.mark.parametrize("number", [7, 10**30])
@pytest.mark.parametrize(
    "name", ["script", "note-new", "draft-report", "draft-download", "voices", "voice", "scenes", "changes-between"]
)
def test_a_draft_that_is_not_there_does_not_exist(house: House, name: str, number: int) -> None:
    kwargs = house.sample(name) | ({"new": number} if name == "changes-between" else {"number": number})
    assert house.client("writer").get(reverse(name, kwargs=kwargs)).status_code == NOT_FOUND


@pytest.mark.parametrize("address", ["/p/%00/", "/p/{}/notes/%00/", "/join/%00/", "/in/%00/", "/p/nowhere/"])
def test_an_address_that_cannot_be_is_not_found(house: House, address: str) -> None:
    response = house.client("writer").get(address.format(house.production.public_id))
    assert response.status_code == NOT_FOUND


@pytest.mark.parametrize("who", ["producer", "cast", *OUTSIDERS, "signed out"])
def test_a_note_for_the_writer_alone_is_read_through_no_door(house: House, who: str) -> None:
    """Nor are its replies, its decision, and its reason."""
    crew = house.people["crew"].memberships.get(production=house.production)
    writer = house.people["writer"].memberships.get(production=house.production)
    note = make_note(crew, house.note.draft, 9, body="The lamp frightens me.", audience=Audience.WRITER)
    reply(crew, note, "Truly frightens.", uuid.uuid4())
    decide(writer, note, "accepted", "Then no lamp, frightful thing.", 0, uuid.uuid4())
    client = house.client(who)
    for name, parts in PARTS.items():
        kwargs = house.sample(name)
        if parts >= {"production", "public_id"} and not name.startswith(("member", "inv")):
            kwargs["public_id"] = note.public_id
        if name in {"account_logout", "sign-in-link", "join"}:
            continue  # doors to being someone else
        for query in ("", "?state=all&author=all", "?page=1", "?word=lamp"):
            response = client.get(reverse(name, kwargs=kwargs) + query)
            assert b"frigh" not in response.content, name
            assert note.public_id.encode() not in response.content, name


def test_the_writer_and_its_author_do_read_it(house: House) -> None:
    crew = house.people["crew"].memberships.get(production=house.production)
    note = make_note(crew, house.note.draft, 9, body="The lamp frightens me.", audience=Audience.WRITER)
    address = reverse("note", args=[house.production.public_id, note.public_id])
    for who in ("writer", "crew"):
        assert "frightens" in house.client(who).get(address).text


def test_a_withdrawn_note_is_read_by_nobody_but_its_author(house: House) -> None:
    house.note.body = "I was unkind here."
    house.note.withdrawn_at = timezone.now()
    house.note.save()
    for who in ("writer", "producer", "cast"):
        client = house.client(who)
        for name in ("home", "notes", "script", "note", "drafts", "changes-between"):
            page = client.get(reverse(name, kwargs=house.sample(name)) + "?state=withdrawn&author=all")
            assert "unkind" not in page.text, (who, name)


@pytest.mark.parametrize("who", READERS)
def test_a_withdrawn_draft_is_read_through_no_door(house: House, who: str) -> None:
    """Draft 2, the one with the fog; the working draft that was begun from it is the writers' alone."""
    writer = house.people["writer"].memberships.get(production=house.production)
    withdraw_draft(writer, house.production.drafts.get(number=2), "Frightful typing.")
    client = house.client(who)
    for name, parts in PARTS.items():
        if name in {"account_logout", "sign-in-link", "join"}:
            continue  # doors to being someone else
        kwargs = house.sample(name) | ({"number": 2} if "number" in parts else {})
        response = client.get(reverse(name, kwargs=kwargs) + "?since=1&character=NELL&page=1")
        assert b"Fog." not in response.content, name
        assert b"Frightful" not in response.content, name
        if parts & {"number", "new"}:
            assert response.status_code in {FORBIDDEN, NOT_FOUND, WRONG_METHOD}, name


def test_someone_removed_is_out_at_once_though_still_signed_in(house: House) -> None:
    client = house.client("crew")
    address = reverse("home", args=[house.production.public_id])
    assert client.get(address).status_code == OPEN
    Member.objects.filter(person=house.people["crew"]).update(removed_at=timezone.now())
    assert client.get(address).status_code == NOT_FOUND


def test_a_closed_account_signs_nobody_in(house: House) -> None:
    client = house.client("crew")
    Person.objects.filter(pk=house.people["crew"].pk).update(is_active=False)
    response = client.get(reverse("home", args=[house.production.public_id]))
    assert response.headers["Location"].startswith(reverse("account_login"))
    assert (
        house.client("signed out").post(reverse("sign-in-link", args=[house.tokens["sign-in-link"]])).status_code == 404
    )


@pytest.mark.parametrize("name", ["leave", "answer", "invite", "begin", "mark", "rule"])
def test_a_form_id_that_somebody_else_has_used_says_nothing_and_breaks_nothing(house: House, name: str) -> None:
    """Sent by the cast with the id of the head of department's note and reply, by the writer with those of others."""
    production, other = house.production.public_id, build_house("Other Film")
    forms: dict[str, tuple[str, str, dict[str, Any], uuid.UUID]] = {
        "leave": (
            "cast",
            reverse("note-new", args=[production, 1]),
            {"kind": "idea", "body": "Mine", "audience": "everyone", "from": 6, "to": 6, "from_char": 0, "to_char": 4},
            house.note.form_id,
        ),
        "answer": (
            "cast",
            reverse("reply-new", args=[production, house.note.public_id]),
            {"body": "Mine"},
            house.reply.form_id,
        ),
        "invite": (
            "writer",
            reverse("invite", args=[production]),
            {"name": "Mine", "role": "crew", "department": "art"},
            other.invitation.form_id,
        ),
        "begin": ("writer", reverse("production-new"), {"name": "Mine"}, make_production("Theirs").form_id),
        "mark": (
            "writer",
            reverse("scenes-mark-new", args=[production, 1]),
            {"words": "Mine", "department": "props"},
            house.mark.form_id,
        ),
        "rule": (
            "writer",
            reverse("voice-rule-new", args=[production, 1, "NELL"]),
            {"kind": "never_says", "words": "Mine"},
            other.rule.form_id,
        ),
    }
    who, address, fields, form_id = forms[name]
    response = house.client(who).post(address, fields | {"form_id": str(form_id)}, follow=True)
    assert response.status_code == OPEN, response.text
    assert "Mine" in response.text
    assert "Theirs" not in response.text


def test_the_mix_of_expectations_is_not_all_alike() -> None:
    """The table would be worthless if it expected one thing of everybody."""
    assert {outcome for outcomes in EXPECTED.values() for pair in outcomes.values() for outcome in pair} >= {
        OPEN,
        LEADS_ON,
        FORBIDDEN,
        NOT_FOUND,
        WRONG_METHOD,
        SIGN_IN,
    }
