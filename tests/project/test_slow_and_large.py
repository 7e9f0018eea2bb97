"""A running server whom nobody outside stops: attacked from this machine, within bounds, as anyone could attack it."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import time
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, suppress
from select import select
from typing import TYPE_CHECKING

import pytest

from tests.servers import serving, with_migrated

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tests.servers import Server

HALF_SENT = 64
CUT_OFF = 60.0  # seconds: far more than a slow sender is waited for
MOST_ON_THE_WAY = 5 * 1024**2  # bytes: Linux keeps 4 MiB for a connection at the most, and the server a little
SMALL_PACKET = 536  # bytes, of a line that is thin: for one with large packets the system keeps more
FORM = b"application/x-www-form-urlencoded"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory, migrated: Path) -> Iterator[Server]:
    with serving(with_migrated(tmp_path_factory.mktemp("attacked"), migrated)) as started:
        started.wait_for("one-time code")
        started.wait_until_it_answers()
        yield started


def post(server: Server, path: str, length: int, sent: bytes, *more: bytes) -> socket.socket:
    """A connection on which a form of so many bytes was announced, and only these were sent."""
    line = socket.create_connection(("127.0.0.1", server.port), timeout=CUT_OFF)
    head = [f"POST {path} HTTP/1.1".encode(), b"Host: localhost", b"Content-Type: " + FORM, *more]
    if length:
        head.append(f"Content-Length: {length}".encode())
    line.sendall(b"\r\n".join(head) + b"\r\n\r\n" + sent)
    return line


def status_of(line: socket.socket) -> int:
    """What is answered on a connection; 0 where it is hung up."""
    try:
        first = line.makefile("rb").readline()
    except ConnectionError:
        return 0
    return int(first.split()[1]) if first else 0


def is_still_waited_for(line: socket.socket) -> bool:
    """Whether the server has neither answered on a connection nor hung up."""
    return not select([line], [], [], 0)[0]


def answers_meanwhile(server: Server, lines: list[socket.socket]) -> bool:
    """Whether a page comes while all of them are waited for, and so before any was given up."""
    return server.get("/setup/")[0] == 200 and all(is_still_waited_for(line) for line in lines)


@pytest.mark.parametrize("path", ["/account/sign-in/", "/setup/", "/p/x/drafts/new/", "/nowhere/", "/healthy/"])
def test_half_sent_forms_hold_nobody_up(server: Server, path: str) -> None:
    with ExitStack() as stack:
        lines = [stack.enter_context(post(server, path, 300, b"login=somebody")) for _ in range(HALF_SENT)]
        assert answers_meanwhile(server, lines)


def test_half_sent_headers_hold_nobody_up(server: Server) -> None:
    with ExitStack() as stack:
        lines = [stack.enter_context(socket.create_connection(("127.0.0.1", server.port))) for _ in range(HALF_SENT)]
        for line in lines:
            line.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ")
        assert answers_meanwhile(server, lines)


def a_typeface(server: Server) -> str:
    """The path of a file that pages have browsers fetch."""
    _, page = server.get("/setup/")
    sheet = re.search(r'href="(/static/css/fonts\.[^"]+)"', page)
    assert sheet, page
    _, rules = server.get(sheet.group(1))
    typeface = re.search(r'url\("?\.\.(/fonts/[^")]+)', rules)
    assert typeface, rules
    return f"/static{typeface.group(1)}"


def length_of_answer(server: Server, path: str) -> int:
    with urllib.request.urlopen(f"http://127.0.0.1:{server.port}{path}") as answer:
        assert answer.status == 200
        return len(answer.read())


def test_whoever_takes_no_answer_holds_nobody_up(server: Server) -> None:
    """Each asks at once for more than lies on the way to them, so that the server is left with the rest."""
    path = a_typeface(server)
    times = MOST_ON_THE_WAY // length_of_answer(server, path) + 1
    with ExitStack() as stack:
        for _ in range(HALF_SENT):
            line = stack.enter_context(socket.socket())
            line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
            line.setsockopt(socket.IPPROTO_TCP, socket.TCP_MAXSEG, SMALL_PACKET)
            line.connect(("127.0.0.1", server.port))
            line.setblocking(False)
            with suppress(BlockingIOError):  # the server takes in no more until they take something
                line.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost\r\n\r\n".encode() * times)
        assert server.get("/setup/")[0] == 200


@pytest.mark.timing
def test_slow_senders_are_hung_up_on(server: Server) -> None:
    """However they keep the line alive: by nothing, or by a byte now and then; and once their time is over, which takes
    a quarter of a minute in which nobody has anything to do."""

    def trickle(line: socket.socket) -> int:
        started = time.monotonic()
        while time.monotonic() - started < CUT_OFF:
            try:
                line.sendall(b"x")
            except OSError:
                return 0
            time.sleep(0.5)
        return -1

    with ExitStack() as lines, ThreadPoolExecutor(3) as threads:
        silent = lines.enter_context(post(server, "/account/sign-in/", 300, b"login=somebody"))
        dripping = lines.enter_context(post(server, "/account/sign-in/", 300, b"login=somebody"))
        header = lines.enter_context(socket.create_connection(("127.0.0.1", server.port), timeout=CUT_OFF))
        header.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ")
        outcomes = [
            threads.submit(status_of, silent),
            threads.submit(trickle, dripping),
            threads.submit(status_of, header),
        ]
        assert [outcome.result() for outcome in outcomes] == [408, 0, 0]


@pytest.mark.parametrize("path", ["/account/sign-in/", "/setup/", "/nowhere/", "/p/x/drafts/new/"])
def test_a_large_body_is_turned_away_unread(server: Server, path: str) -> None:
    with post(server, path, 600 * 1024**2, b"login=") as line:
        line.sendall(b"x" * 1024**2)
        line.shutdown(socket.SHUT_WR)
        assert status_of(line) in {413, 400, 0}
    assert server.get("/setup/")[0] == 200


def test_a_large_body_that_comes_whole_is_answered_by_a_sentence(server: Server) -> None:
    size = 3 * 1024**2
    with post(server, "/account/sign-in/", size, b"x" * size, b"Connection: close") as line:
        answer = line.makefile("rb").read().decode()
    assert answer.startswith("HTTP/1.1 413 ")
    assert "larger than is taken in here" in answer


def test_a_body_of_no_stated_length_has_the_same_limit(server: Server) -> None:
    chunk = b"10000\r\n" + b"x" * 0x10000 + b"\r\n"
    with post(server, "/account/sign-in/", 0, chunk * 4 + b"0\r\n\r\n", b"Transfer-Encoding: chunked") as line:
        assert status_of(line) == 413


def test_the_terminal_says_when_and_from_where_something_was_refused_and_no_secret(server: Server) -> None:
    server.get("/join/Zk3-secret_Token/")
    server.wait_for(r"^\d{4}-\d\d-\d\d \d\d:\d\d:\d\d 127\.0\.0\.1 .*: /join/…/$")
    assert "Zk3-secret_Token" not in "".join(server.printed)


def workers_of(server: Server) -> list[int]:
    listed = subprocess.run(["ps", "-ww", "-A", "-o", "pid=,ppid=,args="], capture_output=True, text=True, check=True)
    lines = [line.split(None, 2) for line in listed.stdout.splitlines()]
    return [int(pid) for pid, parent, what in lines if int(parent) == server.pid and "spawn_main" in what]


def test_a_worker_that_dies_is_started_again_and_the_server_stays_up(server: Server) -> None:
    for _ in range(2):  # those that came in their place too
        before = workers_of(server)
        assert before
        for worker in before:
            os.kill(worker, signal.SIGKILL)
        server.wait_until_it_answers()
        assert server.get("/setup/")[0] == 200
        assert not set(before) & set(workers_of(server))


ODD = {
    "a NUL in a cookie": b'GET / HTTP/1.1\r\nHost: localhost\r\nCookie: sessionid="\\000aaaaaaa"\r\n\r\n',
    "an address that is none": b"GET http://[ HTTP/1.1\r\nHost: localhost\r\n\r\n",
    "an address to go on to that is none": b"GET /account/sign-in/?next=http://[ HTTP/1.1\r\nHost: localhost\r\n\r\n",
    "bytes that are no text": b"GET /%ff%fe/?%zz=%00 HTTP/1.1\r\nHost: localhost\r\nReferer: \xff\r\n\r\n",
    "a host that is none": b"GET / HTTP/1.1\r\nHost: \xff\xfe\r\n\r\n",
    "a method that is none": b"BREW / HTTP/1.1\r\nHost: localhost\r\n\r\n",
    "a length that is none": b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: -5\r\n\r\n",
    "a text in no character set": b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 3\r\n"
    b"Content-Type: multipart/form-data; boundary=x; charset=rot13\r\n\r\na=b",
    "no request at all": b"\x00\xff\r\n\r\n",
}


@pytest.mark.parametrize("sent", ODD.values(), ids=ODD)
def test_what_no_browser_sends_is_answered_all_the_same(server: Server, sent: bytes) -> None:
    with socket.create_connection(("127.0.0.1", server.port), timeout=CUT_OFF) as line:
        line.sendall(sent)
        assert 200 <= status_of(line) < 500
