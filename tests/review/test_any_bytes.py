"""Whatever bytes come in whatever field of whatever form or address, a page answers that says what is the matter.

Forms and addresses are found by following links, as each of those who may come here. Each is then sent as it stands,
but for one field, or all, that holds what no browser would send.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl, quote_plus, urljoin, urlsplit

import pytest
from django.conf import settings as project
from django.db import transaction
from django.test import Client
from django.urls import resolve, reverse
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from tests.review.house import HANDLER
from tests.review.test_every_page import LEFT_OUT, walk
from tests.review.who_gets_what import EXPECTED, FILES, WRONG_METHOD

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from lxml.html import HtmlElement

    from tests.review.house import House
    from tests.review.test_every_page import Page

pytestmark = pytest.mark.django_db

URLENCODED = "application/x-www-form-urlencoded"
# As they are sent: percent-escapes that are none or of no text, numbers that no record has, addresses that are none.
TELLING = (
    *(b"%00", b"\0", b"a%00b", b"%FF%FE", b"\xff", b"%ED%A0%80", b"%F4%8F%BF%BF", b"%", b"%zz", b"%5C000", b"%0A%0D"),
    *(b"9" * 30, b"9" * 5000, b"-1", b"9223372036854775808", b"2147483648", b"1.5", b"1e999", b"NaN", b"%C2%B2"),
    *(b"", b"word", b"all", b"a" * 3000, b"http://[", b"//x/", b"00000000-0000-0000-0000-000000000000"),
)
ESCAPED = st.binary(max_size=12).map(lambda value: "".join(f"%{byte:02X}" for byte in value).encode())
ANY_BYTES = st.sampled_from(TELLING) | ESCAPED | st.binary(max_size=12).map(lambda value: value.replace(b"&", b""))

NAMED = b'--x\r\nContent-Disposition: form-data; name="%s"%s\r\n\r\n%s\r\n--x--\r\n'
BODIES = (
    (b"a=b", "text/plain"),
    (b"a=b", ""),
    (b"{}", "application/json"),
    (b"a=b", f"{URLENCODED}; charset=utf-16"),
    (b"a=b", "multipart/form-data"),
    (b"a=b", "multipart/form-data; boundary=" + "x" * 300),
    (b"a=b", "multipart/form-data; boundary=\xff"),
    (b'--x\r\nContent-Disposition: form-data; name="', "multipart/form-data; boundary=x"),
    (NAMED % (b"text", b"", b"\xff\0"), "multipart/form-data; boundary=x"),
    (NAMED % (b"file", b'; filename="\0\xff.pdf"', b"%PDF-\0\xff"), "multipart/form-data; boundary=x"),
    (
        NAMED % (b"file", b'; filename="../a"\r\nContent-Transfer-Encoding: base64', b"?"),
        "multipart/form-data; boundary=x",
    ),
)
COOKIES = ('"\\000aaaaaaaaa"', '"\\377\\376aaaaaaaa"', "\xff\xfeaaaaaaaaaa", "a" * 5000)


@dataclass(frozen=True)
class Asked:
    """A form as it stands on a page, or an address with what it asks for; and by whom it was met."""

    who: str
    method: str
    path: str
    fields: tuple[tuple[str, str], ...]

    def but_for(self, bad: Collection[str], value: bytes) -> bytes:
        """Its fields as they are sent, these of them with this value."""
        sent = [(field, value if field in bad else quote_plus(held).encode()) for field, held in self.fields]
        return b"&".join(quote_plus(field).encode() + b"=" + told for field, told in sent)


@dataclass(frozen=True)
class Everybody:
    """Those who may come in, by their sessions; whatever they do is undone."""

    sessions: dict[str, str]

    def is_answered(self, asked: Asked, sent: bytes, content_type: str = URLENCODED) -> int:
        """The status of the answer."""
        client = Client(raise_request_exception=False)
        client.handler = HANDLER
        client.cookies[project.SESSION_COOKIE_NAME] = self.sessions[asked.who]
        with transaction.atomic():
            if asked.method == "post":
                status = client.generic("POST", asked.path, sent, content_type).status_code
            else:
                status = client.get(asked.path, QUERY_STRING=sent.decode("latin-1")).status_code
            transaction.set_rollback(True)
        return status


@pytest.fixture
def everybody(house: House) -> Everybody:
    return Everybody({who: house.sessions.get(who, "") for who in ("writer", "crew", "signed out")})


def pages_of(house: House) -> Iterator[tuple[str, str, Page]]:
    """Every page: who met it, where, and what stands on it."""
    doors = [reverse("account_login"), *(reverse(name, args=[token]) for name, token in house.tokens.items())]
    ways_in = [("writer", reverse("productions")), ("crew", reverse("productions"))]
    for who, start in [*ways_in, *(("signed out", door) for door in doors)]:
        pages = walk(house.client(who), start, what_is_asked, LEFT_OUT | FILES)  # in which no form stands
        yield from ((who, address, page) for address, page in pages.items())


def what_is_asked(address: str) -> tuple[str, ...]:
    """Which page it is, and by which names it is asked for something: it is the same of each draft."""
    parts = urlsplit(address)
    return (resolve(parts.path).url_name or "", *sorted(name for name, _ in parse_qsl(parts.query)))


def all_that_is_asked(house: House) -> list[Asked]:
    """Of each form that has its address by itself, and of each page, that which asks for the most."""
    found: dict[tuple[str, str | None], Asked] = {}
    for who, address, page in pages_of(house):
        link = urlsplit(address)
        met = [Asked(who, "get", link.path, tuple(parse_qsl(link.query)))]
        for one in [*met, *(asked_by(form, who, address) for form in page.read.iter("form"))]:
            kind = one.method, resolve(one.path).url_name
            found[kind] = max(found.get(kind, one), one, key=lambda asked: len(asked.fields))
    return [asked for asked in found.values() if asked.fields]


def asked_by(form: HtmlElement, who: str, address: str) -> Asked:
    path = urlsplit(urljoin(address, form.get("action") or address)).path
    return Asked(who, form.get("method", "get").lower(), path, tuple(filled_in(form).items()))


def filled_in(form: HtmlElement) -> dict[str, str]:
    """The fields of a form as somebody in a hurry would send them, with its first button."""
    fields: dict[str, str] = {}
    for field in form.xpath(".//*[self::input or self::select or self::textarea or self::button][@name]"):
        name, kind = field.get("name"), field.get("type") if field.tag == "input" else field.tag
        if kind == "select":
            chosen = [*field.xpath(".//option[@selected]"), *field.iter("option")][:1]
            fields[name] = next((option.get("value", option.text_content()) for option in chosen), "")
        elif kind in {"radio", "checkbox", "button"}:
            if "checked" in field.attrib or name not in fields:
                fields[name] = field.get("value", "on")
        else:
            written = field.get("value") or field.text_content().removeprefix("\n")  # which HTML leaves out
            fields[name] = written or ("a@b.example" if kind == "email" else "Nell")
    return fields | {"shown": "1"}  # which a page asked for in passing sends along


def test_no_field_of_any_form_or_address_breaks_the_server(house: House, everybody: Everybody) -> None:
    asked = all_that_is_asked(house)
    assert {one.who for one in asked} == everybody.sessions.keys()
    at_once = [(one, tuple(dict(one.fields))) for one in asked]
    one_by_one = [(one, names) for one, names in at_once if one.method == "get"]
    one_by_one += [(one, (name,)) for one, names in at_once if one.method == "post" for name in names]
    each = len(one_by_one)
    answers: set[int] = set()

    @given(st.lists(ANY_BYTES, min_size=each, max_size=each))
    @settings(max_examples=1, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
    def each_is_answered(values: list[bytes]) -> None:
        assume(len(set(values)) > len(TELLING))  # the simplest values of all, which come first, are NULs
        told = [(one, one.but_for(names, value)) for (one, names), value in zip(one_by_one, values, strict=True)]
        answered = [(one, sent, everybody.is_answered(one, sent)) for one, sent in told]
        answers.update(status for _, _, status in answered)
        assert [said for said in answered if said[2] >= 500] == []

    each_is_answered()
    assert answers >= {200, 302, 400, 422}  # pages, forms that were taken in, what nobody can type, and forms refused
    with_nul = [(one, one.but_for(names, b"a%00")) for one, names in at_once]
    assert [said for said in with_nul if everybody.is_answered(*said) >= 500] == []


def test_nothing_that_a_page_looks_for_in_its_address_breaks_the_server(
    house: House, everybody: Everybody, looked_for: set[str]
) -> None:
    """Whether a link with it was met or not: what an address is asked for is what its view looks for there."""
    broken, tried = [], set()
    for name in EXPECTED:
        if EXPECTED[name]["writer"][0] == WRONG_METHOD:
            continue
        asked = Asked("writer", "get", reverse(name, kwargs=house.sample(name)), ())
        looked_for.clear()
        everybody.is_answered(asked, b"")
        fields = sorted(looked_for)
        tried.update(fields)
        for value in (b"a%00", b"9" * 5000, b"%C2%B2") if fields else ():
            sent = b"&".join(field.encode() + b"=" + value for field in fields)
            broken += [(asked, sent[:80])] * (everybody.is_answered(asked, sent) >= 500)
    assert broken == []
    assert tried >= {"for", "page", "scene", "state"}


def test_no_body_of_another_kind_breaks_the_server(house: House, everybody: Everybody) -> None:
    addresses = [reverse(name, kwargs=house.sample(name)) for name in EXPECTED]
    tried = [(address, *BODIES[nth % len(BODIES)]) for nth, address in enumerate(addresses)]
    tried += [(reverse("draft-upload", kwargs=house.sample("draft-upload")), *body) for body in BODIES]
    posts = [(Asked("writer", "post", address, ()), body, kind) for address, body, kind in tried]
    assert [post for post in posts if everybody.is_answered(*post) >= 500] == []


@pytest.mark.parametrize("cookie", COOKIES)
@pytest.mark.parametrize("name", [project.SESSION_COOKIE_NAME, project.CSRF_COOKIE_NAME, "device-nobody"])
def test_no_cookie_breaks_the_server(name: str, cookie: str) -> None:
    client = Client(raise_request_exception=False)
    told = f"{name}={cookie}"
    assert client.get(reverse("productions"), HTTP_COOKIE=told).status_code == 302
    assert client.get(reverse("account_login"), HTTP_COOKIE=told).status_code == 200
