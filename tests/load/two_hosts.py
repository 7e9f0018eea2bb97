"""Two hosts on one PostgreSQL: each `serve` with a data folder of its own; what they share is the database, by its
address, and the secret key. What is done at one is seen at the other, in a session that began at either.

    .venv/bin/python -m tests.load.two_hosts
"""

from __future__ import annotations

import json
import sys
import urllib.parse
import urllib.request
import uuid
from http.cookies import SimpleCookie
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.load.crowd import prepare
from tests.load.reader import TOKEN
from tests.load.served import own_database, serving


class Host:
    """One of them, as somebody's browser is answered by it."""

    def __init__(self, address: str, session: str) -> None:
        self._address, self._session, self._token, self._secret = address, session, "", ""

    def get(self, path: str) -> bytes:
        return self._ask(urllib.request.Request(self._address + path))

    def post(self, path: str, page: str, **fields: str) -> bytes:
        """Send a form that stands on a page, with the page's own token, whichever of the hosts gave it out."""
        if not self._token:
            found = TOKEN.search(self.get(page))
            self._token = found[1].decode() if found else ""
        sent = urllib.parse.urlencode(fields | {"csrfmiddlewaretoken": self._token}).encode()
        request = urllib.request.Request(self._address + path, sent)
        request.add_header("Referer", self._address + page)
        return self._ask(request)

    def _ask(self, request: urllib.request.Request) -> bytes:
        request.add_header("Cookie", f"sessionid={self._session}; csrftoken={self._secret}")
        request.add_header("HX-Request", "true")
        with urllib.request.urlopen(request, timeout=60) as answer:
            body: bytes = answer.read()
            cookies = SimpleCookie(answer.headers.get("Set-Cookie", ""))
        if "csrftoken" in cookies:
            self._secret = cookies["csrftoken"].value
        return body


def main() -> None:
    with (
        own_database(on_postgres=True),
        TemporaryDirectory() as folder,
        serving() as first,
        serving(FAIRHAND_DATA=str(Path(folder) / "data")) as second,
    ):
        script, sessions = prepare(5, 20, 2)
        here, there = Host(first.address, sessions[0]), Host(second.address, sessions[1])
        news = f"/p/{script.production}/news/"
        told = json.loads(there.get(news))
        words = f"said at one host {uuid.uuid4()}"
        reply_to = _note_on(here.get(f"{script.address}/script/notes/?page=1"))
        here.post(
            f"/p/{script.production}/notes/{reply_to}/replies/",
            f"{script.address}/script/",
            form_id=str(uuid.uuid4()),
            body=words,
        )
        heard = json.loads(there.get(f"{news}?since={told['since']}"))["happened"]
        is_shown = words.encode() in there.get(f"{script.address}/script/notes/?page=1")
        same_session = Host(second.address, sessions[0]).get(f"/p/{script.production}/")
    sys.stdout.write(f"A reply at one host is told at the other: {[each['sort'] for each in heard]}, ")
    sys.stdout.write(f"and stands on its page: {is_shown}. A session of one opens the other: {bool(same_session)}.\n")
    sys.exit(not (heard and is_shown and same_session))


def _note_on(cards: bytes) -> str:
    return cards.decode().partition('id="note-')[2][:12]


if __name__ == "__main__":
    main()
