"""Somebody at a browser without JavaScript: keeps cookies, fills in forms of ours and sends them."""

from __future__ import annotations

import re
import time
import urllib.error
import urllib.parse
import urllib.request
from dataclasses import dataclass, field
from http import HTTPStatus
from http.cookiejar import CookieJar
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup, Tag

if TYPE_CHECKING:
    from tests.servers import Server

PATIENCE = 300  # seconds


@dataclass
class Seen:
    """What somebody gets to see: the status, where it stands at last, and the page."""

    status: int
    address: str
    page: str


@dataclass
class Visitor:
    server: Server
    cookies: CookieJar = field(default_factory=CookieJar)

    @property
    def at(self) -> str:
        return f"http://127.0.0.1:{self.server.port}"

    def opens(self, path: str, sent: bytes | None = None) -> Seen:
        browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies))
        request = urllib.request.Request(f"{self.at}{path}", sent, headers={"Origin": self.at})
        try:
            with browser.open(request, timeout=PATIENCE) as answer:
                seen = Seen(answer.status, answer.url.removeprefix(self.at), answer.read().decode(errors="replace"))
        except urllib.error.HTTPError as refusal:
            return Seen(refusal.code, path, refusal.read().decode())
        return self.looks_again(seen) if seen.status == HTTPStatus.ACCEPTED else seen

    def looks_again(self, seen: Seen) -> Seen:
        """Waits a little for what is being made, as its page says."""
        time.sleep(0.3)
        again = BeautifulSoup(seen.page, "html.parser").find("a", string="Look again")
        assert isinstance(again, Tag)
        return self.opens(str(again["href"]))

    def sends(self, path: str, **fields: str) -> Seen:
        """Opens a page, fills in its form and sends it there."""
        return self.fills_in(self.opens(path), **fields)

    def fills_in(self, seen: Seen, **fields: str) -> Seen:
        """Fills in the form of a page beyond what it holds already, and sends it to the page's own address."""
        form = BeautifulSoup(seen.page, "html.parser").select_one("main form")
        assert form, f"{seen.address} has no form"
        held = form.select("input[type=hidden], input[checked]")
        filled = {str(each["name"]): str(each.get("value", "")) for each in held} | fields
        return self.opens(seen.address, urllib.parse.urlencode(filled).encode())


def set_up(server: Server) -> tuple[Visitor, str]:
    """The first writer of a server that was just started, and the address of their production."""
    code = server.wait_for(r"one-time code: (\S+)").group(1)
    server.wait_until_it_answers()
    writer = Visitor(server)
    who = {"name": "Ada Wren", "email": "ada@example.org", "password": "mended nets by lamp", "title": "Slack Water"}
    seen = writer.sends("/setup/", code=code, **who)
    production = re.match(r"/p/[^/]+/", seen.address)
    assert production, seen
    return writer, production.group()
