"""Somebody with the script open in a browser, as far as the server can tell: what they ask, when, what they write."""

from __future__ import annotations

import asyncio
import random
import re
import time
import uuid
from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import aiohttp

if TYPE_CHECKING:
    from collections.abc import Mapping

NEWS_EVERY = 5.0  # seconds, as `static/js/news.js` has it of a page that somebody is at
SCROLLS_EVERY = 12.0  # on average
PLACE_EVERY = 120.0
WRITES_EVERY = 20.0
PAGES_IN_VIEW = 3
NOT_MODIFIED, PATIENCE = 304, 60.0
TOKEN = re.compile(rb'"X-CSRFToken": "(\w+)"')


@dataclass(slots=True)
class Measured:
    """How long each sort of request took, in seconds; what went wrong; and the words that were said to be kept."""

    seconds: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    errors: list[str] = field(default_factory=list)
    written: list[str] = field(default_factory=list)
    nothing_new: int = 0


@dataclass(frozen=True, slots=True)
class Script:
    """What is read: its production, its draft, and of each page its name and its first and last line."""

    production: str
    number: int
    pages: list[tuple[str, int, int]]
    lines: list[int]

    @property
    def address(self) -> str:
        return f"/p/{self.production}/drafts/{self.number}"


class Reader:
    """One person. They open the script, read on, and, if they write, leave notes and reply to those of others."""

    def __init__(self, server: str, session: str, script: Script, measured: Measured, *, writes: bool) -> None:
        self._server, self._script, self._measured, self._writes = server, script, measured, writes
        self._cookies = {"sessionid": session}
        self._random = random.Random(session)
        self._token = ""
        self._etag, self._since, self._page = "", 0, script.pages[0]
        self._latest = ""
        self._known: set[str] = set()
        self._notes: list[str] = []

    async def read(self, begin_within: float, until: float) -> None:
        """Come within so many seconds, and stay until a moment of the monotonic clock."""
        await asyncio.sleep(self._random.uniform(0, begin_within))
        async with self._browser() as self._http:
            if not await self._open():
                return
            tasks = [
                self._every(NEWS_EVERY, self._ask, until, spread=0.0),
                self._every(SCROLLS_EVERY, self._scroll, until),
                self._every(PLACE_EVERY, self._be_here, until),
            ]
            if self._writes:
                tasks.append(self._every(WRITES_EVERY, self._write, until))
            await asyncio.gather(*tasks)

    async def idle(self) -> None:
        """Have the page open, and do nothing, until cancelled."""
        await asyncio.sleep(self._random.uniform(0, NEWS_EVERY))
        async with self._browser() as self._http:
            await self._ask()
            await self._every(NEWS_EVERY, self._ask, float("inf"), spread=0.0)

    def _browser(self) -> aiohttp.ClientSession:
        jar = aiohttp.CookieJar(unsafe=True)  # takes cookies from a server without a name
        timeout = aiohttp.ClientTimeout(total=PATIENCE)
        return aiohttp.ClientSession(self._server, cookies=self._cookies, cookie_jar=jar, timeout=timeout)

    async def _every(self, seconds: float, do: Any, until: float, spread: float = 0.6) -> None:
        while (wait := seconds * self._random.uniform(1 - spread, 1 + spread)) < until - time.monotonic():
            await asyncio.sleep(wait)
            await do()

    async def _open(self) -> bool:
        await self._get("Home", f"/p/{self._script.production}/")
        page = await self._get("Script, opened", f"{self._script.address}/script/")
        if page is None:
            return False
        found = TOKEN.search(page)
        self._token = found[1].decode() if found else ""
        await self._get("A bare page of its size", f"/bare/{len(page)}/")
        await self._cards(0)
        await self._be_here()
        return True

    async def _scroll(self) -> None:
        at = self._random.randrange(len(self._script.pages))
        self._page, self._etag = self._script.pages[at], ""
        await self._cards(at)
        await self._be_here()
        if not self._random.randrange(10):
            await self._get("Notes", f"/p/{self._script.production}/notes/")

    async def _cards(self, at: int) -> None:
        names = [name for name, _, _ in self._script.pages[at : at + PAGES_IN_VIEW]]
        query = "&".join(f"page={name}" for name in names)
        cards = await self._get("Cards of three pages", f"{self._script.address}/script/notes/?{query}")
        self._notes += re.findall(r'id="note-([\w-]{12})"', (cards or b"").decode())[:1]

    async def _be_here(self) -> None:
        await self._post("Place kept", f"{self._script.address}/script/place/", {"line": str(self._page[1])})

    async def _ask(self) -> None:
        _, first, last = self._page
        since = f"&since={self._since}&after={self._latest}" if self._since else ""
        query = f"draft={self._script.number}&first={first}&last={last}{since}"
        headers = {"If-None-Match": self._etag} if self._etag else {}
        sort = "Nothing new" if self._etag else "News"
        began = time.monotonic()
        try:
            async with self._http.get(f"{self._script.address}/script/news/?{query}", headers=headers) as answer:
                if answer.status == NOT_MODIFIED:
                    self._measured.seconds["Nothing new"].append(time.monotonic() - began)
                    self._measured.nothing_new += 1
                    return
                answer.raise_for_status()
                told = await answer.json()
        except (aiohttp.ClientError, TimeoutError) as error:
            self._measured.errors.append(f"{sort}: {error!r}")
            return
        self._measured.seconds["News"].append(time.monotonic() - began)
        is_first, self._since, self._etag = not self._since, told["since"], answer.headers["ETag"]
        self._latest = next((each["key"] for each in told["happened"]), self._latest)
        fresh = [each for each in told["happened"] if each["key"] not in self._known]
        self._known.update(each["key"] for each in fresh)
        if notes := list(dict.fromkeys(each["note"] for each in fresh if each["note"] and not each["is_own"])):
            self._notes += [] if is_first else notes[:1]

    async def _write(self) -> None:
        words = f"written {uuid.uuid4()}"
        if self._notes and self._random.randrange(2):
            note = self._random.choice(self._notes)
            address = f"/p/{self._script.production}/notes/{note}/replies/"
            sent = await self._post("Reply", address, {"form_id": str(uuid.uuid4()), "body": words})
        else:
            line = str(self._random.choice(self._script.lines))
            said = {"form_id": str(uuid.uuid4()), "from": line, "to": line, "kind": "idea", "body": words}
            more = {"audience": "everyone", "beside": "script", "about": "lines"}
            sent = await self._post("Note left", f"{self._script.address}/notes/new/", said | more)
        if sent:
            self._measured.written.append(words)

    async def _get(self, sort: str, address: str) -> bytes | None:
        return await self._request(sort, "GET", address)

    async def _post(self, sort: str, address: str, fields: Mapping[str, str]) -> bool:
        return await self._request(sort, "POST", address, dict(fields)) is not None

    async def _request(
        self, sort: str, method: str, address: str, fields: dict[str, str] | None = None
    ) -> bytes | None:
        headers = {"X-CSRFToken": self._token, "HX-Request": "true"} if fields else {}
        began = time.monotonic()
        try:
            async with self._http.request(
                method, address, data=fields, headers=headers, allow_redirects=False
            ) as answer:
                body: bytes = await answer.read()
        except (aiohttp.ClientError, TimeoutError) as error:
            self._measured.errors.append(f"{sort}: {error!r}")
            return None
        self._measured.seconds[sort].append(time.monotonic() - began)
        if answer.status >= 300:
            self._measured.errors.append(f"{sort}: {answer.status} {body[:200]!r}")
            return None
        return body
