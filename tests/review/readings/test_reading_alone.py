"""Whoever reads alone sees nothing of the others, at any address and in any output, until they have finished."""

from __future__ import annotations

import re
import uuid
from copy import deepcopy
from dataclasses import dataclass
from html import unescape
from itertools import islice, product
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qsl, urldefrag, urljoin, urlsplit

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.decisions.acts import decide
from review.drafts.drawn_pages import draw_pages
from review.making.models import Making
from review.notes.acts import leave_note, reply
from review.notes.models import Note, NoteKind, Subject
from review.papers.acts import PaperAsked, put_up_paper
from review.papers.models import WorldPaper
from review.papers.note_acts import decide_paper_note, leave_paper_note, reply_to_paper_note
from review.papers.note_models import PaperNote
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.readers.models import Reading
from review.readings.acts import Asked, close_reading, open_reading
from review.readings.question_acts import Asking, answer_questions, ask, judge, write_purposes
from review.readings.question_models import BlindAnswer
from review.readings.reader_acts import finish_reading, mark_scene
from review.script.note_marks import note_marks
from review.talks.models import Talk
from screenplay import Span
from screenplay.intake import Intake
from tests.factories import SCRIPT, make_member, make_note, make_production, make_reading
from tests.review.who_gets_what import EXPECTED, FORBIDDEN, PARTS, SAMPLES, WRONG_METHOD

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from django.test import Client
    from pytest_django import DjangoDbBlocker

    from review.drafts.models import Draft
    from review.notes.models import Reply
    from review.papers.note_models import PaperReply
    from review.people.models import Member
    from review.readings.models import ClarityMark
    from review.readings.question_models import BlindQuestion
    from review.records import Record

    SignIn = Callable[[Member], Client]
    Said = Note | Reply | ClarityMark | BlindAnswer | PaperNote | PaperReply

pytestmark = pytest.mark.django_db

SECOND = SCRIPT.replace("Tide turns at four.", "Tide turns at five.")
# Words that stand in nothing but what others say.
NOTED, OFFERED, ANSWERED, WHY, REASON = "heronglass", "quillstone", "marrowlight", "saltwhistle", "oarlock"
TOLD = "lanternslide"
ALL_WORDS = (NOTED, OFFERED, ANSWERED, WHY, REASON, TOLD)
# Words that stand in nothing but what the writer keeps to themselves.
EARLIER = "candlewick"  # said under the reader's own note before they read alone
MEANT, PURPOSE = "bellmouth", "winterlight"
# What differs each time an answer is made, and says nothing.
FORM_ID = r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}"
NOISE = (
    r'name="csrfmiddlewaretoken" value="[^"]*"',
    r"\"X-CSRFToken\": \"[^\"]*\"",
    FORM_ID,
    r"/CreationDate \([^)]*\)",
    r"/ID \[[^]]*\]",
    r'"since": [0-9]+',
    r'"generated": "[^"]*"',
)
LEADS_ON = re.compile(r'\b(?:href|hx-get)="([^"]*)"')
# What makes no difference here: in which order and with which lines voices are shown, which has nothing to do with
# notes; and for which words a search leads on to another.
WHATEVER_IT_IS = {"sort", "lines", "for", "word"}
# Of which sort the record is that an address names, by how the address's name begins.
SORTS: dict[str, type[Record]] = {
    "making": Making,
    "note": Note,
    "paper-note": PaperNote,
    "paper": WorldPaper,
    "reading": Reading,
    "talk": Talk,
}


@dataclass(frozen=True)
class House:
    """A production of two drafts with a blind reading of the second, a note of the reader's own on each, and people in
    and out of the reading."""

    reading: Reading
    drafts: tuple[Draft, Draft]
    writer: Member
    reader: Member
    other: Member
    outside: Member
    own: tuple[Note, Note]
    own_on_paper: PaperNote
    paper: WorldPaper
    question: BlindQuestion

    def addresses(self, *records: Record) -> Iterator[str]:
        """Every address below the production, with what can stand in its parts, these records among it.

        Of one that is only posted to, or shut to the reader, once: whatever stands in its parts, nobody looks at it.
        """
        parts: dict[str, list[Any]] = {part: [sample] for part, sample in SAMPLES.items()}
        parts |= {
            "production": [self.reader.production.public_id],
            "number": [1, 2],
            "whose": ["camera", "cast", "writing"],
            "ordinal": [1, 2],
            "other": [self.reading.public_id],
        }
        for name, wanted in PARTS.items():
            if "production" in wanted:
                parts["name"] = ["1", "title", "gone"] if name == "script-page" else ["1"]
                parts["public_id"] = [each.public_id for each in that_it_may_name(name, records)]
                ways = product(*(parts[part] for part in sorted(wanted)))
                is_shut = EXPECTED[name]["crew"][0] in {WRONG_METHOD, FORBIDDEN}
                for values in islice(ways, 1) if is_shut else ways:
                    yield reverse(name, kwargs=dict(zip(sorted(wanted), values, strict=True)))

    def searches(self) -> Iterator[str]:
        """What looks for the others' words: in part, since the answer says what was looked for."""
        for word, number in product((NOTED, ANSWERED, EARLIER), (1, 2)):
            address = reverse("script-find", args=[self.reader.production.public_id, number])
            yield f"{address}?word={word[:-1]}"
            search = reverse("search", args=[self.reader.production.public_id])
            yield f"{search}?for={word[:-1]}*&draft={number}"

    def outputs(self, client: Client, *, and_linked: bool = True) -> dict[str, str]:
        """All that the reader gets: status, headers and body of every address, and of those that pages lead on to."""
        found: dict[str, str] = {}
        records = (self.reading, self.question, *self.own, self.own_on_paper, self.paper)
        linked: dict[tuple[str, ...], str] = {}
        for address in (*self.addresses(*records), *self.searches()):
            found[address], links = told_by(client, address)
            for link in links:
                linked.setdefault(kind_of(link), link)
        for address in linked.values() if and_linked else ():
            if address not in found and "/p/" in address:
                found[address], _ = told_by(client, address)
        return found

    def as_others(self, said: Iterable[Said], before: dict[str, str]) -> Iterator[str]:
        """Addresses of what others said: of one of each sort every address there is, and of all those of the sort that
        the reader has too the addresses at which their own were found."""
        one_each = {type(each): each for each in said}.values()
        ids = {each.public_id for each in one_each}
        yield from (address for address in self.addresses(*one_each) if not ids.isdisjoint(address.split("/")))
        own: dict[type, str] = {type(note): note.public_id for note in (*self.own, self.own_on_paper)}
        opened = [address for address, told in before.items() if told.startswith("200") and "?" not in address]
        for each in said:
            if mine := own.get(type(each)):
                yield from (address.replace(mine, each.public_id) for address in opened if mine in address)

    def others_speak(self) -> list[Said]:
        """The others leave notes of every sort, reply, are decided upon, mark scenes, and one finishes."""
        said: list[Said] = []
        version = self.paper.versions.get()
        for author in (self.other, self.outside):
            on_paper = leave_paper_note(author, version, 1, "idea", NOTED, "everyone", uuid.uuid4())
            said += [on_paper, reply_to_paper_note(self.writer, on_paper, ANSWERED, uuid.uuid4())]
            decide_paper_note(self.writer, on_paper, "declined", REASON, 0, uuid.uuid4())
        for draft, author in product(self.drafts, (self.other, self.outside)):
            note = leave_note(
                author,
                draft,
                Span(9, 0, 9, 4),
                NoteKind.SAFETY,
                f"{NOTED} {author.name}",
                f"NELL {OFFERED}",
                form_id=uuid.uuid4(),
            )
            whole = leave_note(
                author, draft, Span(6, 0, 6, 4), "idea", NOTED, subject=Subject.SCENE, form_id=uuid.uuid4()
            )
            of_nell = leave_note(
                author,
                draft,
                Span(8, 0, 8, 4),
                "praise",
                NOTED,
                subject=Subject.CHARACTER,
                character="NELL",
                form_id=uuid.uuid4(),
            )
            said += [note, whole, of_nell, reply(self.writer, note, ANSWERED, uuid.uuid4())]
            decide(self.writer, note, "declined", REASON, 0, uuid.uuid4())
        said += [mark_scene(self.other, self.reading, scene, "lost", WHY) for scene in (1, 2)]
        answer_questions(self.other, self.reading, {self.question.public_id: TOLD})
        answers = list(BlindAnswer.objects.filter(reader__member=self.other))
        for answer in answers:
            judge(self.writer, answer, "missed")
        finish_reading(self.other, self.reading)
        return said + answers


def that_it_may_name(address: str, records: Iterable[Record]) -> list[Record]:
    """Of these records those that an address of this name may be of, and one of the others: it finds none of them."""
    begins = max((each for each in SORTS if address.startswith(each)), key=len, default=None)
    if begins is None:
        return list(records)
    theirs = [each for each in records if isinstance(each, SORTS[begins])]
    return theirs + [each for each in records if each not in theirs][:1]


def told_by(client: Client, address: str) -> tuple[str, list[str]]:
    """An answer without its noise, and where it leads."""
    response = client.get(address)
    body = response.getvalue().decode("latin-1")
    has_form = re.search(FORM_ID, body)  # of which an ETag is other each time
    for noise in NOISE:
        body = re.sub(noise, "", body)
    etag = "" if has_form else response.headers.get("ETag", "")
    told = f"{response.status_code} {etag} {response.headers.get('Location', '')}\n{body}"
    if not response.headers["Content-Type"].startswith("text/html"):
        return told, []
    links = (urldefrag(urljoin(address, unescape(href))).url for href in LEADS_ON.findall(body))
    return told, [link for link in links if link.startswith("/") and urlsplit(link).query]


def that_tell(words: Iterable[str], found: dict[str, str]) -> list[str]:
    """At which addresses one of these words was told."""
    return [address for word in words for address, told in found.items() if word in told]


def kind_of(address: str) -> tuple[str, ...]:
    """Addresses of one kind show the same of the notes: each page of a script is looked for in the same way."""
    told = urlsplit(address)
    path = re.sub("/pages/[^/]+/", "/pages/", told.path)
    return (path, *(name if name in WHATEVER_IT_IS else f"{name}={value}" for name, value in parse_qsl(told.query)))


@pytest.fixture(scope="module")
def built(once_a_module: DjangoDbBlocker) -> House:
    with once_a_module.unblock():
        return build_house()


@pytest.fixture
def house(built: House, db: None) -> House:
    return deepcopy(built)


def build_house() -> House:
    production = make_production()
    writer = make_member(production, Role.WRITER, Department.WRITING, "Ada Wren")
    crew = make_member(production, Role.CREW, Department.CAMERA, "Bo Finch")
    cast = make_member(production, Role.CAST, Department.CAST, "Cleo Marsh")
    outside = make_member(production, Role.PRODUCER, Department.PRODUCTION, "Pim Oake")
    first, _ = publish_draft(writer, Intake(text=SCRIPT, encoding="utf-8", bom=b""))
    mine = leave_note(crew, first, Span(6, 0, 6, 4), "question", "Whose lamp?", form_id=uuid.uuid4())
    decide(writer, mine, "parked", "Later.", 0, uuid.uuid4())
    reply(outside, mine, EARLIER, uuid.uuid4())
    second, _ = publish_draft(writer, Intake(text=SECOND, encoding="utf-8", bom=b""))
    own = make_note(crew, second, 9)
    reading = make_reading(writer, second, crew, cast)
    asking = Asking("Whose lamp is it?", intended=MEANT)
    question = ask(writer, reading, asking, uuid.uuid4())
    write_purposes(writer, second, {1: PURPOSE})
    paper = put_up_paper(writer, PaperAsked("Rules", for_everyone=True), "No lamp after nine.", uuid.uuid4())
    on_paper = leave_paper_note(crew, paper.versions.get(), 1, "idea", "Ten.", "everyone", uuid.uuid4())
    return House(reading, (first, second), writer, crew, cast, outside, (mine, own), on_paper, paper, question)


def test_no_address_and_no_output_is_other_for_what_others_say(house: House, signed_in: SignIn) -> None:
    """Everything the reader can open, before the others have said anything and after: it is the same to the letter."""
    client = signed_in(house.reader)
    before = house.outputs(client)
    said = house.others_speak()
    after = house.outputs(client)
    assert before.keys() == after.keys()
    assert [address for address in before if before[address] != after[address]] == []
    assert len(before) > 80
    assert that_tell((*ALL_WORDS, EARLIER, MEANT, PURPOSE), after) == []
    theirs = set(house.as_others(said, before))
    assert len(theirs) > 80
    assert [address for address in theirs if client.get(address).status_code not in {403, 404, 405}] == []


def test_the_same_addresses_tell_it_all_once_the_reader_has_finished(house: House, signed_in: SignIn) -> None:
    client = signed_in(house.reader)
    house.others_speak()
    finish_reading(house.reader, house.reading)
    told = house.outputs(client, and_linked=False)
    for word in (NOTED, OFFERED, ANSWERED, REASON):
        assert that_tell([word], told) != [], word
    assert that_tell([MEANT, PURPOSE], told) == []


def test_who_is_not_in_it_sees_everything_meanwhile(house: House, signed_in: SignIn) -> None:
    house.others_speak()
    page = signed_in(house.outside).get(reverse("notes", args=[house.reader.production.public_id]) + "?author=all")
    assert NOTED in page.text


def test_closing_opens_the_others_to_whoever_did_not_finish(house: House, signed_in: SignIn) -> None:
    house.others_speak()
    close_reading(house.writer, house.reading)
    page = signed_in(house.reader).get(reverse("notes", args=[house.reader.production.public_id]) + "?author=all")
    assert NOTED in page.text


def test_nobody_but_a_writer_joins_the_thread_of_somebody_who_reads_alone(house: House, signed_in: SignIn) -> None:
    """What they said would be kept from the one it is for."""
    note = house.own[1]
    finish_reading(house.other, house.reading)
    for other in (house.other, house.outside):
        with pytest.raises(PermissionDenied, match="once they have finished"):
            reply(other, note, ANSWERED, uuid.uuid4())
        page = signed_in(other).get(reverse("note", args=[note.production.public_id, note.public_id]))
        assert "Your reply to" not in page.text
    reply(house.writer, note, "The one on the wall.", uuid.uuid4())
    page = signed_in(house.reader).get(reverse("note", args=[note.production.public_id, note.public_id]))
    assert "The one on the wall." in page.text
    finish_reading(house.reader, house.reading)
    reply(house.other, note, "Mine too.", uuid.uuid4())


@pytest.mark.parametrize("left", [{"role": Role.WRITER}, {"removed_at": timezone.now()}])
def test_the_thread_of_a_reader_who_reads_alone_no_longer_is_open_to_all(house: House, left: dict[str, Any]) -> None:
    """As a writer they see everything, and removed they see nothing: neither way is a reply kept from them."""
    type(house.reader).objects.filter(pk=house.reader.pk).update(**left)
    assert reply(house.outside, house.own[1], ANSWERED, uuid.uuid4()).body == ANSWERED


def test_a_reply_that_is_kept_from_them_does_not_make_their_note_new(house: House) -> None:
    note, draft = house.own[0], house.drafts[0]
    decided = note.decisions.get().created_at  # before the reply
    assert not note_marks(house.reader, draft, draw_pages(draft), decided)[0].is_new
    finish_reading(house.reader, house.reading)
    assert note_marks(house.reader, draft, draw_pages(draft), decided)[0].is_new


def test_what_was_said_under_their_note_before_is_kept_from_them_too(house: House, signed_in: SignIn) -> None:
    note = house.own[0]
    finish_reading(house.reader, house.reading)
    reply(house.outside, note, ANSWERED, uuid.uuid4())
    make_reading(house.writer, house.drafts[1], house.reader)
    client = signed_in(house.reader)
    assert ANSWERED not in client.get(reverse("note", args=[note.production.public_id, note.public_id])).text
    assert "Others wrote" not in client.get(reverse("home", args=[note.production.public_id])).text


def test_a_second_reading_of_the_same_draft_keeps_the_first_ones_words_again_and_both_say_so(
    house: House, signed_in: SignIn
) -> None:
    house.others_speak()
    client, production = signed_in(house.reader), house.reader.production.public_id
    finish_reading(house.reader, house.reading)
    asked = Asked(house.reading.until, "")
    second = open_reading(house.writer, house.drafts[1], [house.reader, house.other], asked, uuid.uuid4())

    def page(name: str, reading: Reading) -> str:
        return " ".join(client.get(reverse(name, args=[production, reading.public_id])).text.split())

    first = page("reading", house.reading)
    assert "You read draft 2 once more, on your own now" in first
    assert "what the others said here is kept from you again until you" in first
    assert reverse("reading", args=[production, second.public_id]) in first
    assert "What they said in the reading before is kept from you again too" in page("reading", second)
    refused = page("reading-learned", house.reading)
    assert "You are reading draft 2 on your own: what others said, in earlier readings too, is open to you" in refused
    assert not any(word in told for told in (first, refused) for word in ALL_WORDS)
    assert not any(reader.others_open_at is None for reader in second.readers.all())  # it stays said
    assert "and can join in" in page("reading-finish", second)
    finish_reading(house.reader, second)
    assert WHY in page("reading-learned", house.reading)
    assert "kept from you" not in page("reading", house.reading)


def test_finishing_one_of_two_says_that_the_other_keeps_the_words_still(house: House, signed_in: SignIn) -> None:
    other = make_reading(house.writer, house.drafts[0], house.reader)
    client, production = signed_in(house.reader), house.reader.production.public_id
    finish = reverse("reading-finish", args=[production, house.reading.public_id])
    assert "once you have finished reading draft 1 too" in " ".join(client.get(finish).text.split())
    page = client.post(finish, follow=True)
    assert "is open to you once you have finished reading draft 1 too." in page.text
    close_reading(house.writer, other)
    assert "kept from you" not in client.get(finish).text


def test_the_reader_is_told_that_notes_are_kept_from_them_and_until_when(house: House, signed_in: SignIn) -> None:
    address = reverse("notes", args=[house.reader.production.public_id])
    assert "You are reading Draft 2 on your own" in " ".join(signed_in(house.reader).get(address).text.split())
    assert "on your own" not in signed_in(house.outside).get(address).text
    for number, said in (
        (1, "You are reading Draft 2 on your own"),
        (2, "What the others wrote comes when you finish."),
    ):
        script = reverse("script", args=[house.reader.production.public_id, number])
        assert said in " ".join(signed_in(house.reader).get(script).text.split())
