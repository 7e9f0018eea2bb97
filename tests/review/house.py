"""A production with everybody in and around it and one record of every sort, to be tried at every address."""

from __future__ import annotations

import uuid
from copy import copy
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.test.client import ClientHandler
from django.urls import reverse
from django.utils import timezone

from review.access import Deed, Role
from review.characters.acts import make_rule
from review.mail.models import Letter
from review.mail.stopping import stop_address
from review.making.acts import begin_making, keep_answer
from review.notes.acts import reply
from review.papers.acts import PaperAsked, put_up_paper
from review.papers.note_acts import leave_paper_note, reply_to_paper_note
from review.people.acts import invite
from review.people.models import Department, Invitation, Person, SignInLink, hash_token
from review.publishing.acts import hold_draft
from review.readings.question_acts import Asking, answer_questions, ask
from review.rewriting.acts import begin_working
from review.scenes.acts import mark_word
from review.talks.acts import When, call_talk
from screenplay.intake import read_text
from screenplay.speech import RuleKind, VoiceRule
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_person, make_production, make_reading
from tests.review.sessions import begin_session
from tests.review.who_gets_what import PARTS, SAMPLES, SIGN_IN, Outcome

if TYPE_CHECKING:
    from django.http import HttpResponseBase

    from review.characters.models import CharacterRule
    from review.making.models import Making
    from review.notes.models import Note, Reply
    from review.papers.models import WorldPaper
    from review.papers.note_models import PaperNote, PaperReply
    from review.people.models import Member
    from review.productions.models import Production
    from review.publishing.models import HeldDraft
    from review.readers.models import Reading
    from review.rewriting.models import WorkingDraft
    from review.scenes.models import MarkedWord
    from review.talks.models import Talk

HANDLER = ClientHandler(enforce_csrf_checks=False)  # whose middleware is set up once, and not for each client


def outcome_of(answer: HttpResponseBase) -> Outcome:
    leads_to = answer.headers.get("Location", "")
    return SIGN_IN if leads_to.startswith(reverse("account_login")) else answer.status_code


def is_taken_away(answer: HttpResponseBase) -> bool:
    """Whether a browser saves the answer as a file, and shows no page of it."""
    return answer.headers.get("Content-Disposition", "").startswith("attachment")


@dataclass(frozen=True)
class House:
    """A production with everybody in and around it, and one record of every sort."""

    production: Production
    people: dict[str, Person]
    members: dict[str, Member]
    note: Note
    reply: Reply
    reading: Reading
    earlier: Reading
    invitation: Invitation
    working: WorkingDraft
    held: HeldDraft
    making: Making
    rule: CharacterRule
    marked: MarkedWord
    paper: WorldPaper
    paper_note: PaperNote
    paper_reply: PaperReply
    letter: Letter
    talk: Talk
    tokens: dict[str, str]
    sessions: dict[str, str]

    def member(self, who: str) -> Member:
        """Somebody as a member, as they stood when the house was built."""
        return copy(self.members[who])

    def client(self, who: str) -> Client:
        client = Client()
        client.handler = HANDLER
        if who in self.sessions:
            client.cookies[settings.SESSION_COOKIE_NAME] = self.sessions[who]
        return client

    def tries(self, who: str, method: str, address: str) -> HttpResponseBase:
        """What somebody gets at an address; whatever they did there is undone."""
        client = self.client(who)
        with transaction.atomic():
            response = client.generic(method, address, "", "application/x-www-form-urlencoded")
            transaction.set_rollback(True)
        return response

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
            "scenes-marked-word-withdraw": self.marked.public_id,
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
            is_of_note = name in {
                "paper-note-change",
                "paper-reply-new",
                "paper-decide",
                "paper-note-withdraw",
                "paper-note-put-back",
                "paper-reply-withdraw",
            }
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
    members = {"writer": writer, "producer": producer, "crew": crew, "cast": cast}
    members |= {"removed": removed, "stranger": stranger}
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
        people={who: member.person for who, member in members.items()},
        members=members,
        sessions={who: begin_session(member.person) for who, member in members.items()},
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
        marked=mark_word(crew, "lamp", Department.PROPS, uuid.uuid4()),
        rule=make_rule(writer, second, VoiceRule("NELL", RuleKind.NO_QUESTIONS), uuid.uuid4()),
        tokens={
            "join": join_token or "",
            "sign-in-link": f"link-{name}",
            "mail-stop": stop_address(letter).rstrip("/").rpartition("/")[2],
        },
    )
