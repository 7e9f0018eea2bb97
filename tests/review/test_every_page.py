"""What every page promises, whoever opens it: each is reached by following links from where somebody signs in."""

from __future__ import annotations

import re
import uuid
from collections import Counter
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl, urldefrag, urljoin, urlsplit

import pytest
from django.test import Client
from django.urls import Resolver404, resolve, reverse
from lxml.html import document_fromstring, tostring

from review.access import Role
from review.decisions.acts import decide
from review.notes.acts import reply
from review.notes.models import Audience, NoteKind
from review.people.acts import invite
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.readings.reader_acts import finish_reading
from screenplay.intake import Intake
from tests.factories import SCRIPT, make_member, make_note, make_production, make_reading
from tests.review.house import is_taken_away

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from collections.abc import Set as AbstractSet

    from lxml.html import HtmlElement
    from pytest_django import DjangoDbBlocker

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

REFERENCES = ("for", "aria-labelledby", "aria-describedby", "aria-controls")
HTMX_REQUESTS = ("hx-get", "hx-post")
SCREENS = {
    "home",
    "people",
    "drafts",
    "draft-report",
    "changes-between",
    "change-sheet",
    "voices",
    "voice",
    "voice-part",
    "scenes",
    "scenes-order",
    "scenes-marked-words",
    "script",
    "note",
    "notes",
    "note-new",
    "readings",
}
LEFT_OUT = {"account_logout"}  # following it would end the walk
SECOND = SCRIPT.replace("Tide turns at four.", "Tide turns at five.").replace("\nHe didn't wait.", "\nGone.")


@dataclass(frozen=True, eq=False)
class Page:
    """What was read, and its tags in their order: those in a template are no part of a page until a script takes it."""

    read: HtmlElement
    tags: tuple[HtmlElement, ...]

    @classmethod
    def of(cls, html: str) -> Page:
        read = document_fromstring(html)
        apart = {tag for template in read.iter("template") for tag in template.iterdescendants("*")}
        return cls(read, tuple(tag for tag in read.iter("*") if tag not in apart))

    def named(self, *names: str) -> list[HtmlElement]:
        return [tag for tag in self.tags if tag.tag in names]

    def having(self, attribute: str) -> list[HtmlElement]:
        return [tag for tag in self.tags if attribute in tag.attrib]


Pages = dict[str, Page]


@pytest.fixture(scope="module")
def members(once_a_module: DjangoDbBlocker) -> dict[str, Member]:
    """Those of a production of two drafts with notes in every state, replies, decisions and an open invitation."""
    with once_a_module.unblock():
        return build_everything()


def build_everything() -> dict[str, Member]:
    production = make_production()
    writer = make_member(production, Role.WRITER, Department.WRITING, "Ada Wren")
    crew = make_member(production, Role.CREW, Department.CAMERA, "Bo Finch")
    cast = make_member(production, Role.CAST, Department.CAST, "Cleo Marsh")
    first, _ = publish_draft(writer, Intake(text=SCRIPT, encoding="utf-8", bom=b""))
    notes = [
        make_note(crew, first, 6),
        make_note(crew, first, 9, kind=NoteKind.SAFETY, wording="NELL\nTide turns at noon."),
        make_note(cast, first, 20, kind=NoteKind.PROBLEM),
        make_note(crew, first, 17, audience=Audience.WRITER, kind=NoteKind.PRAISE),
    ]
    decide(writer, notes[0], "declined", "Night it *stays*.", 0, uuid.uuid4())
    decide(writer, notes[1], "accepted", "", 0, uuid.uuid4())
    reply(cast, notes[0], "I read it as dusk.", uuid.uuid4())
    second, _ = publish_draft(writer, Intake(text=SECOND, encoding="utf-8", bom=b""), label="After the reading")
    for author in (cast, crew):  # two that say the same
        make_note(author, second, 9, kind=NoteKind.IDEA)
    make_reading(writer, second, crew, cast, look_for="Does the end hold?", is_blind=False)
    finish_reading(cast, make_reading(writer, first, cast))
    invite(writer, "Noor Halloran", Role.CREW, Department.EDITING, uuid.uuid4())
    return {"writer": writer, "crew": crew, "cast": cast}


def kind_of(address: str) -> tuple[str, ...]:
    """Addresses of one kind differ in what they ask for alone: one of them is enough."""
    parts = urlsplit(address)
    match = resolve(parts.path)
    asked = sorted(name for name, _ in parse_qsl(parts.query))
    return (match.url_name or "", *asked, *(str(match.kwargs.get(name)) for name in ("number", "old", "new")))


def links_of(page: Page, address: str) -> list[str]:
    hrefs = [link.get("href") for link in page.named("a") if "href" in link.attrib]
    return [urljoin(address, href) for href in hrefs if not href.startswith("mailto:")]


def walk(
    client: Client,
    start: str,
    kind_of: Callable[[str], tuple[str, ...]] = kind_of,
    left_out: AbstractSet[str] = LEFT_OUT,
) -> Pages:
    """Every page that links lead to from the first, one of each kind but for some, by its address."""
    pages: Pages = {}
    waiting, seen, met = [start], set(), set()
    while waiting:
        address = urldefrag(waiting.pop(0)).url
        if address in met:
            continue
        met.add(address)
        kind = kind_of(address)
        if kind in seen or kind[0] in left_out:
            continue
        seen.add(kind)
        response = client.get(address, follow=True)
        assert response.status_code == 200, address
        assert "default-src 'none'" in response.headers["Content-Security-Policy"], address
        if response.headers["Content-Type"].startswith("text/html") and not is_taken_away(response):
            pages[address] = Page.of(response.text)
            waiting += links_of(pages[address], response.request["PATH_INFO"])
    return pages


def test_every_screen_answers_those_who_ask_for_its_headers_alone(
    members: dict[str, Member], signed_in: SignIn
) -> None:
    writer = members["writer"]
    client, answers, expected = signed_in(writer), {}, {}
    for name in ("home", "people", "script-current", "notes", "changes", "voices-current", "drafts"):
        address = reverse(name, args=[writer.production.public_id])
        whole = client.get(address, follow=True)
        headers = client.head(whole.request["PATH_INFO"])
        answers[name] = (client.head(address).status_code, headers.status_code, headers.content)
        expected[name] = (302 if whole.redirect_chain else 200, whole.status_code, b"")
    assert answers == expected


def ids_of(page: Page) -> list[str]:
    return [tag.get("id") for tag in page.having("id")]


def loosens_the_policy(page: Page, address: str) -> Iterator[str]:
    for tag in page.read.iter("*"):
        if tag.tag == "style" or (tag.tag == "script" and not tag.get("src")):
            yield f"an inline {tag.tag}"
        for name, value in tag.attrib.items():
            if name == "style" or name.startswith(("on", "hx-on")) or value.lower().startswith("javascript:"):
                yield f"{name} on {tag.tag}"


def has_no_title_language_or_heading(page: Page, address: str) -> Iterator[str]:
    if page.read.findtext(".//title", "").strip() in {"", "Fairhand"}:
        yield "no title of its own"
    if [tag.get("lang") for tag in page.named("html")] != ["en"]:
        yield "no language"
    if len(page.named("h1")) != 1:
        yield f"{len(page.named('h1'))} headings of the first level"


def uses_an_id_twice(page: Page, address: str) -> Iterator[str]:
    yield from (f"{name} is there {times} times" for name, times in Counter(ids_of(page)).items() if times > 1)


def refers_to_nothing(page: Page, address: str) -> Iterator[str]:
    """A dialog is left out: what names it comes with what it is opened on."""
    ids = set(ids_of(page))
    for name in REFERENCES:
        for tag in page.having(name):
            if tag.tag != "dialog":
                yield from (f"{name}={word}" for word in tag.get(name).split() if word not in ids)
    for link in page.named("a"):
        if (href := link.get("href", "")).startswith("#") and href[1:] not in ids:
            yield f"a link to {href}"


def has_a_control_without_a_name(page: Page, address: str) -> Iterator[str]:
    controls = page.named("button", "summary", "select", "textarea")
    controls += [link for link in page.named("a") if "href" in link.attrib]
    controls += [field for field in page.named("input") if field.get("type") != "hidden"]
    labelled = {label.get("for", "") for label in page.named("label")}
    yield from (tostring(tag, encoding="unicode")[:120] for tag in controls if not is_named(tag, labelled))


def is_named(tag: HtmlElement, labelled: set[str]) -> bool:
    if tag.get("aria-label") or tag.get("aria-labelledby") or tag.text_content().strip():
        return True
    return tag.get("id") in labelled or next(tag.iterancestors("label"), None) is not None


def posts_without_proof_that_it_is_ours(page: Page, address: str) -> Iterator[str]:
    for form in page.named("form"):
        if form.get("method") == "post" and form.find('.//input[@name="csrfmiddlewaretoken"]') is None:
            yield form.get("action", "")


def asks_for_what_is_not_there(page: Page, address: str) -> Iterator[str]:
    wanted = [form.get("action") or address for form in page.named("form")]
    wanted += [tag.get(name) for name in HTMX_REQUESTS for tag in page.having(name)]
    for asked in wanted:
        path = urlsplit(urljoin(address, asked)).path
        try:
            resolve(path)
        except Resolver404:
            yield path


def shows_what_only_a_program_says(page: Page, address: str) -> Iterator[str]:
    text = " ".join(page.read.itertext("*"))
    yield from re.findall(r"\{\{|\{%|=None|<QuerySet|object at 0x|\b(?:from|by|of|in|draft) None\b", text)


BREACHES: tuple[Callable[[Page, str], Iterator[str]], ...] = (
    loosens_the_policy,
    has_no_title_language_or_heading,
    uses_an_id_twice,
    refers_to_nothing,
    has_a_control_without_a_name,
    posts_without_proof_that_it_is_ours,
    asks_for_what_is_not_there,
    shows_what_only_a_program_says,
)


def breaches(pages: Pages) -> list[tuple[str, str, str]]:
    found = [
        (address, breach.__name__, what)
        for (address, page), breach in product(pages.items(), BREACHES)
        for what in breach(page, address)
    ]
    return found + [(address, "links to a place that is not there", link) for address, link in lost_places(pages)]


def lost_places(pages: Pages) -> Iterator[tuple[str, str]]:
    """Links from one page to a place on another that has no such place."""
    places = {address: set(page.read.xpath("//@id")) for address, page in pages.items()}
    for address, page in pages.items():
        for link in links_of(page, address):
            there, place = urldefrag(link)
            if place and there in places and place not in places[there]:
                yield address, link


@pytest.mark.parametrize("role", ["writer", "crew", "cast"])
def test_no_page_of_a_member_breaks_a_promise(members: dict[str, Member], signed_in: SignIn, role: str) -> None:
    pages = walk(signed_in(members[role]), reverse("productions"))
    assert {kind_of(address)[0] for address in pages} >= SCREENS
    assert breaches(pages) == []


@pytest.mark.usefixtures("members")
def test_no_page_of_somebody_signed_out_breaks_a_promise() -> None:
    pages = walk(Client(), reverse("account_login"))
    assert {kind_of(address)[0] for address in pages} >= {"account_login", "account_reset_password"}
    assert breaches(pages) == []


@pytest.mark.parametrize(
    ("html", "breach"),
    [
        ("<p style='color: red'>", loosens_the_policy),
        ("<script>alert(1)</script>", loosens_the_policy),
        ("<a onclick='go()'>", loosens_the_policy),
        ("<title>Fairhand</title><h1>One</h1>", has_no_title_language_or_heading),
        ("<i id='a'></i><i id='a'></i>", uses_an_id_twice),
        ("<input aria-describedby='lost'>", refers_to_nothing),
        ("<input id='a'>", has_a_control_without_a_name),
        ("<form method='post'></form>", posts_without_proof_that_it_is_ours),
        ("<button hx-post='/nowhere/at/all'>", asks_for_what_is_not_there),
        ("<p>Put up by None</p>", shows_what_only_a_program_says),
    ],
)
def test_a_breach_is_found(html: str, breach: Callable[[Page, str], Iterator[str]]) -> None:
    assert list(breach(Page.of(html), "/"))
