"""Requests on their way to Django, and answers on their way back."""

from __future__ import annotations

import asyncio
import time
from io import BytesIO
from typing import TYPE_CHECKING, Any, cast

import pytest
from django.core.handlers.wsgi import WSGIRequest

from review.serving.addresses import address_of
from review.serving.answers import WholeAnswer
from review.serving.apart import GivenUp
from review.serving.bodies import Limits
from review.serving.gateway import GAVE_UP, HANDED_ON, HANDS_ON, LEFT_OUT, MAKING, TOO_LARGE, Gateway, environ_of
from tests.loops import in_a_loop_of_its_own

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.serving.apart import Apart

LIMITS = Limits(small=10, large=100, grace=0.2, drained_for=0.2)


def scope(method: str = "GET", path: bytes = b"/", headers: Iterable[tuple[bytes, bytes]] = ()) -> Any:
    raw, _, query = path.partition(b"?")
    return {
        "type": "http",
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": raw.decode("latin-1"),
        "raw_path": raw,
        "query_string": query,
        "headers": list(headers),
        "client": ("192.0.2.9", 50000),
        "server": ("127.0.0.1", 8000),
    }


class Echo:
    """A WSGI application that keeps what it is told, and answers with the body it got."""

    def __init__(self) -> None:
        self.told: dict[str, Any] = {}

    def __call__(self, environ: dict[str, Any], start_response: Any) -> list[bytes]:
        self.told = environ
        start_response("201 Created", [("X-Of", "us")])
        return [b"got ", environ["wsgi.input"].read()]


class ReadApart:
    """The process apart, which answers whatever it gets."""

    def answer(self, environ: dict[str, Any], body: bytes) -> WholeAnswer:
        return WholeAnswer(200, [], b"read apart")


def exchange(
    asked: Any, body: bytes = b"", *, is_signed_in: bool = True, echo: Echo | None = None, takes_long: bool = False
) -> tuple[int, bytes, dict[bytes, bytes]]:
    """The status, body and headers that a gateway answers."""
    sent: list[Any] = []
    parts = [body]

    async def receive() -> dict[str, object]:
        return {"type": "http.request", "body": parts.pop(), "more_body": False}

    async def send(event: Any) -> None:
        sent.append(event)

    application = Gateway(
        echo or Echo(),
        threads=1,
        behind_proxy=False,
        is_signed_in=lambda environ: is_signed_in,
        takes_long=lambda environ: takes_long,
        apart=cast("Apart", ReadApart()) if takes_long else None,
        limits=LIMITS,
    )
    in_a_loop_of_its_own(application(asked, receive, send))  # type: ignore[arg-type]
    return sent[0]["status"], b"".join(event["body"] for event in sent[1:]), dict(sent[0]["headers"])


def length(size: int) -> list[tuple[bytes, bytes]]:
    return [(b"content-length", str(size).encode())]


def test_the_application_gets_the_body_and_its_answer_goes_out() -> None:
    assert exchange(scope("POST", headers=length(5)), b"a=b&c") == (201, b"got a=b&c", {b"x-of": b"us"})


def test_a_large_body_is_taken_of_someone_who_may_send_one() -> None:
    assert exchange(scope("POST", headers=length(50)), b"x" * 50)[1] == b"got " + b"x" * 50


@pytest.mark.parametrize(("is_signed_in", "by"), [(True, b"read apart"), (False, b"got a=b&c")])
def test_what_takes_long_is_done_apart_and_of_no_stranger(is_signed_in: bool, by: bytes) -> None:
    """Whom Django turns away in no time at all holds up no script that waits to be read."""
    asked = scope("POST", headers=length(5))
    assert exchange(asked, b"a=b&c", is_signed_in=is_signed_in, takes_long=True)[1] == by


@pytest.mark.parametrize(("size", "may"), [(50, False), (200, True), (200, False)])
def test_of_a_body_too_large_the_application_learns_just_that(size: int, may: bool) -> None:
    echo = Echo()
    assert exchange(scope("POST", headers=length(size)), b"x" * size, is_signed_in=may, echo=echo)[1] == b"got "
    assert echo.told[LEFT_OUT] == TOO_LARGE
    assert echo.told["CONTENT_LENGTH"] == "0"


def test_a_long_answer_goes_out_whole() -> None:
    long = b"x" * 1_000_000

    def application(environ: dict[str, Any], start_response: Any) -> list[bytes]:
        start_response("200 OK", [])
        return [long]

    assert exchange(scope(), echo=application)[1] == long  # type: ignore[arg-type]


def test_an_address_is_told_as_the_standard_has_it() -> None:
    """PEP 3333: the path decoded, its bytes as characters of Latin-1; the query as it came."""
    environ = environ_of(scope(path=b"/p/%C3%A9t%C3%A9/?q=%41"))
    assert environ["PATH_INFO"].encode("latin-1").decode() == "/p/été/"
    assert environ["QUERY_STRING"] == "q=%41"
    assert environ["REMOTE_ADDR"] == "192.0.2.9"


def test_a_header_that_could_pass_for_that_of_the_server_in_front_is_left_out() -> None:
    headers = [(b"x_forwarded_for", b"203.0.113.1"), (b"x-forwarded-for", b"198.51.100.1"), (b"host", b"localhost")]
    environ = environ_of(scope(headers=headers))
    assert environ["HTTP_X_FORWARDED_FOR"] == "198.51.100.1"
    assert environ["HTTP_HOST"] == "localhost"


def test_a_header_sent_twice_is_told_as_one() -> None:
    """RFC 9110, 5.2, and RFC 6265, 4.2.1, of cookies."""
    headers = [(b"cookie", b"a=1"), (b"cookie", b"b=2"), (b"accept", b"text/html"), (b"accept", b"text/plain")]
    environ = environ_of(scope(headers=headers))
    assert (environ["HTTP_COOKIE"], environ["HTTP_ACCEPT"]) == ("a=1; b=2", "text/html,text/plain")


@pytest.mark.parametrize("charset", ["rot13", "utf-16", "nowhere", "\xff"])
def test_a_body_is_read_as_utf_8_whatever_it_says_it_is(charset: str) -> None:
    """Django takes the character set of a body for that of its address too, be it one that no text has."""
    told = f"multipart/form-data; Charset={charset}; boundary=x".encode("latin-1")
    environ = environ_of(scope("POST", b"/?q=%C3%A9", headers=[(b"content-type", told)]))
    request = WSGIRequest({**environ, "wsgi.input": BytesIO(b"")})
    assert environ["CONTENT_TYPE"] == "multipart/form-data; boundary=x"
    assert (request.GET["q"], dict(request.POST)) == ("é", {})


@pytest.mark.parametrize(
    ("forwarded", "behind_proxy", "expected"),
    [
        ("203.0.113.5, 198.51.100.4", True, "198.51.100.4"),
        ("203.0.113.5", False, "192.0.2.7"),
        ("", True, "192.0.2.7"),
        ("198.51.100.4, unknown", True, "192.0.2.7"),
        ("2001:DB8::1", True, "2001:db8::1"),
    ],
)
def test_whom_an_address_is_believed_of(forwarded: str, behind_proxy: bool, expected: str) -> None:
    told = {"REMOTE_ADDR": "192.0.2.7", "HTTP_X_FORWARDED_FOR": forwarded}
    assert address_of(told, behind_proxy=behind_proxy) == expected


def test_an_address_may_be_unknown() -> None:
    assert address_of({}, behind_proxy=True) == ""


class Making:
    """A WSGI application that hands on what it is asked for; and the process apart, which takes `seconds` for it."""

    def __init__(self, seconds: float = 0.0, *, dies: bool = False) -> None:
        self.seconds, self.dies = seconds, dies
        self.made: list[str] = []
        self.given_up: list[str] = []

    def __call__(self, environ: dict[str, Any], start_response: Any) -> list[bytes]:
        if GAVE_UP in environ:
            self.given_up.append(environ[GAVE_UP])
        is_asked_for = environ["PATH_INFO"] == "/pdf/" and HANDS_ON in environ
        start_response("200 OK", [(HANDED_ON, "key /making/key/")] if is_asked_for else [])
        return [environ["PATH_INFO"].encode()]

    def answer(self, environ: dict[str, Any], body: bytes) -> WholeAnswer:
        time.sleep(self.seconds)
        if self.dies:
            raise GivenUp
        self.made.append(environ[MAKING])
        return WholeAnswer()


def answered(making: Making) -> tuple[bytes, dict[bytes, bytes]]:
    """What comes back of what is handed on, once all of it is done."""
    sent: list[Any] = []

    async def receive() -> dict[str, object]:
        return {"type": "http.request", "body": b"", "more_body": False}

    async def send(event: Any) -> None:
        sent.append(event)

    apart = cast("Apart", making)
    gateway = Gateway(making, threads=1, behind_proxy=False, is_signed_in=lambda environ: True, apart=apart)

    async def ask() -> None:
        await gateway(scope(path=b"/pdf/?a=b"), receive, send)  # type: ignore[arg-type]
        await asyncio.gather(*gateway.handed_on)

    in_a_loop_of_its_own(ask())
    return b"".join(event["body"] for event in sent[1:]), dict(sent[0]["headers"])


def test_what_is_handed_on_is_there_at_once_where_it_takes_no_time() -> None:
    making = Making()
    assert answered(making) == (b"/making/key/", {})
    assert making.made == ["key"]


def test_what_takes_longer_goes_on_while_its_page_is_answered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("review.serving.gateway.AT_ONCE", 0.05)
    making = Making(seconds=0.3)
    assert answered(making) == (b"/pdf/", {})
    assert making.made == ["key"]


def test_what_was_handed_on_and_given_up_is_told() -> None:
    making = Making(dies=True)
    answered(making)
    assert making.given_up == ["key"]
