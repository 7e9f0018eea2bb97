"""Between the network and Django: requests are whole before a worker sees them, answers are whole before they leave it.

The event loop waits for those who send slowly and those who read slowly, thousands of them if need be; a worker, which
is a thread that runs Django, is only ever held by work.
"""

from __future__ import annotations

import asyncio
import sys
from concurrent.futures import ThreadPoolExecutor
from http import HTTPStatus
from typing import TYPE_CHECKING
from urllib.parse import unquote_to_bytes

from review.serving.addresses import address_of
from review.serving.answers import WholeAnswer, answer_of
from review.serving.apart import GivenUp
from review.serving.bodies import Bodies, BodyRefused, Limits, Refusal

if TYPE_CHECKING:
    from collections.abc import Callable
    from wsgiref.types import WSGIApplication, WSGIEnvironment

    from asgiref.typing import ASGIReceiveCallable, ASGISendCallable, HTTPScope, Scope

    from review.serving.apart import Apart
    from review.serving.bodies import Room

# What Django is told of a request, in the place of its body, that is not worked on; and why that is.
LEFT_OUT = "fairhand.left_out"
TOO_LARGE, GIVEN_UP = "too large", "given up"
# What Django is told: that it may hand on work of this request to the process apart; there, what is being made by it;
# and what that process gave up.
HANDS_ON = "fairhand.hands_on"
MAKING = "fairhand.making"
GAVE_UP = "fairhand.gave_up"
# What Django tells in a header that goes no further: the key of what it hands on, and the address of what comes of it.
HANDED_ON = "Fairhand-Handed-On"
AT_ONCE = 1.0  # seconds within which what was handed on is there as if it had not been
PIECE = 64 * 1024  # bytes of an answer that are handed on at a time
A_PIECE_LASTS = 20.0  # seconds within which whoever asked has to take a piece

SENTENCES = {
    Refusal.TOO_SLOW: (HTTPStatus.REQUEST_TIMEOUT, "What you sent came too slowly, and was not kept. Send it again."),
    Refusal.TOO_MUCH_AT_ONCE: (
        HTTPStatus.SERVICE_UNAVAILABLE,
        "Too much is being sent at once, so this was not kept. Wait a minute, and send it again.",
    ),
}


class Gateway:
    """An ASGI application around a WSGI one.

    `is_signed_in` is asked, in a worker, of each request whose body is more than a small one, or that `takes_long`. Of
    a stranger's a large body is left out, and Django turns them away. What takes long is done by the process `apart`,
    one request after the other; so is what Django hands on, whose answer Django keeps: `handed_on` is under way.
    """

    def __init__(
        self,
        application: WSGIApplication,
        *,
        threads: int,
        behind_proxy: bool,
        is_signed_in: Callable[[WSGIEnvironment], bool],
        takes_long: Callable[[WSGIEnvironment], bool] = lambda environ: False,
        apart: Apart | None = None,
        limits: Limits | None = None,
    ) -> None:
        self._application = application
        self._behind_proxy = behind_proxy
        self._is_signed_in = is_signed_in
        self._bodies = Bodies(limits or Limits())
        self._workers = ThreadPoolExecutor(threads, thread_name_prefix="worker")
        self._takes_long, self._apart = takes_long, apart
        self._line = ThreadPoolExecutor(1, thread_name_prefix="apart")
        self.handed_on: set[asyncio.Task[None]] = set()

    async def __call__(self, scope: Scope, receive: ASGIReceiveCallable, send: ASGISendCallable) -> None:
        if scope["type"] != "http":
            return
        environ = environ_of(scope)
        address = address_of(environ, behind_proxy=self._behind_proxy)
        with self._bodies.room_for(address) as room:
            try:
                answer = await self._answer(environ, room, receive)
            except BodyRefused as refused:
                answer = refusal_of(refused.refusal)
        await hand_out(answer, send)

    async def _answer(self, environ: WSGIEnvironment, room: Room, receive: ASGIReceiveCallable) -> WholeAnswer:
        """What Django answers to the request, once its body is here. Raises BodyRefused where there is no answer."""
        declared, limits = declared_length(environ), self._bodies.limits
        work = asyncio.get_running_loop().run_in_executor
        try:
            if declared is not None and declared <= limits.small:
                body = await room.read(receive, declared, limits.small)
            elif await work(self._workers, self._is_signed_in, environ):
                body = await room.read(receive, declared, limits.large)
            else:
                body = await room.read(receive, declared, limits.small)
        except BodyRefused as refused:
            if refused.refusal is not Refusal.TOO_LARGE:
                raise
            await room.drain(receive)
            body, environ[LEFT_OUT] = b"", TOO_LARGE
        if self._apart and LEFT_OUT not in environ and self._takes_long(environ):
            try:
                if await work(self._workers, self._is_signed_in, environ):
                    return await work(self._line, self._apart.answer, environ, body)
            except GivenUp:
                body, environ[LEFT_OUT] = b"", GIVEN_UP
        return await self._worked_on_or_handed_on(environ, body)

    async def _worked_on_or_handed_on(self, environ: WSGIEnvironment, body: bytes) -> WholeAnswer:
        """What Django answers; what came of the work, where it hands that on and it is there at once."""
        if self._apart is None:
            return await self._worked_on(environ, body)
        answer = await self._worked_on(environ | {HANDS_ON: True}, body)
        if handed_on := answer.taken_out(HANDED_ON):
            key, place = handed_on.split()
            making = asyncio.create_task(self._make(self._apart, environ | {MAKING: key}, body))
            self.handed_on.add(making)
            making.add_done_callback(self.handed_on.discard)
            if (await asyncio.wait({making}, timeout=AT_ONCE))[0]:
                there = {"REQUEST_METHOD": "GET", "PATH_INFO": place, "QUERY_STRING": ""}
                return await self._worked_on(environ | there, b"")
        return answer

    async def _worked_on(self, environ: WSGIEnvironment, body: bytes) -> WholeAnswer:
        work = asyncio.get_running_loop().run_in_executor
        return await work(self._workers, answer_of, self._application, environ, body)

    async def _make(self, apart: Apart, environ: WSGIEnvironment, body: bytes) -> None:
        """Have what Django handed on made by the process apart, which keeps the answer; say so where it gave it up."""
        try:
            await asyncio.get_running_loop().run_in_executor(self._line, apart.answer, environ, body)
        except GivenUp:
            await self._worked_on(environ | {GAVE_UP: environ[MAKING]}, body)


def environ_of(scope: HTTPScope) -> WSGIEnvironment:
    """The request as PEP 3333 tells it to an application, without its body.

    A header whose name has an underscore is left out: told so, it could not be known from the one with a hyphen that a
    server in front sets. So is the character set of a body: forms of ours come in UTF-8, and Django would read the
    address by it too.
    """
    path = scope["raw_path"].partition(b"?")[0] if scope["raw_path"] else scope["path"].encode()
    client, server = scope["client"] or ("", 0), scope["server"] or ("localhost", None)
    environ: WSGIEnvironment = {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote_to_bytes(path).decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_NAME": server[0],
        "SERVER_PORT": str(server[1] or 0),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "REMOTE_ADDR": client[0],
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": True,
        "wsgi.run_once": False,
    }
    for name, value in scope["headers"]:
        if b"_" in name:
            continue
        key = name.decode("latin-1").upper().replace("-", "_")
        key = key if key in {"CONTENT_TYPE", "CONTENT_LENGTH"} else f"HTTP_{key}"
        told = value.decode("latin-1")
        if key in environ:
            told = f"{environ[key]}{'; ' if key == 'HTTP_COOKIE' else ','}{told}"
        environ[key] = without_charset(told) if key == "CONTENT_TYPE" else told
    return environ


def without_charset(content_type: str) -> str:
    """The type of a body, and of what it says more all but its character set."""
    kind, *more = content_type.split(";")
    return ";".join([kind, *(each for each in more if not each.strip().lower().startswith("charset"))])


def declared_length(environ: WSGIEnvironment) -> int | None:
    """The bytes that the request says its body has; None where it says that one comes, and not how long it is."""
    if "HTTP_TRANSFER_ENCODING" in environ:
        return None
    told = str(environ.get("CONTENT_LENGTH") or "0")
    return int(told) if told.isascii() and told.isdigit() else None


async def hand_out(answer: WholeAnswer, send: ASGISendCallable) -> None:
    """Send an answer, piece by piece; whoever takes none of it for a while is hung up on."""
    await send({"type": "http.response.start", "status": answer.status, "headers": answer.headers, "trailers": False})
    for start in range(0, max(1, len(answer.body)), PIECE):
        piece, more = answer.body[start : start + PIECE], start + PIECE < len(answer.body)
        try:
            async with asyncio.timeout(A_PIECE_LASTS):
                await send({"type": "http.response.body", "body": piece, "more_body": more})
        except TimeoutError:
            return


def refusal_of(refusal: Refusal) -> WholeAnswer:
    """A sentence, for what no page can be made of; the connection ends with it."""
    status, sentence = SENTENCES.get(refusal, (HTTPStatus.BAD_REQUEST, ""))
    body = sentence.encode()
    headers = [
        (b"content-type", b"text/plain; charset=utf-8"),
        (b"content-length", str(len(body)).encode()),
        (b"cache-control", b"no-store"),
        (b"connection", b"close"),
    ]
    return WholeAnswer(status, headers, body)
