"""Scripts are read apart from the workers that serve readers: however bad one is, nobody else waits for it."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import threading
import time
from typing import TYPE_CHECKING

import pytest

from screenplay.intake import MAXIMUM_BYTES
from screenplay.intake.limits import MOST_LINES
from tests.servers import serving, with_migrated
from tests.visitor import Seen, Visitor, set_up

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from tests.servers import Server

SCRIPT = "Title: Slack Water\n\nINT. BOATHOUSE - NIGHT\n\nNELL mends a net by one lamp.\n\nNELL\nTide turns at four.\n"
WORST = "A\nb\n\n" * (MOST_LINES // 3 - 1)  # of what the limits allow, speeches cost the most
MOST_OF_A_PAGE = 4 * MAXIMUM_BYTES  # characters
A_LOOK = 0.1  # seconds


class House:
    """A running server with a first draft, its writer, and a reader who reads it."""

    def __init__(self, server: Server) -> None:
        self.server = server
        self.writer, self.production = set_up(server)
        self.reader = Visitor(server, self.writer.cookies)
        assert self.puts_up(SCRIPT).address.endswith("/drafts/1/report/")

    def chooses(self, text: str) -> Seen:
        """Has a text read, and sees it before it goes up."""
        return self.writer.sends(f"{self.production}drafts/new/", text=text)

    def puts_up(self, text: str) -> Seen:
        shown = self.chooses(text)
        fields = {"all_the_same": "on"} if "all_the_same" in shown.page else {}
        return self.writer.fills_in(shown, **fields)

    def waits_meanwhile(self, what: Callable[[], object]) -> list[float]:
        """How long it takes the reader to get from one page of the script to the next while something goes on.

        Between two pages the reader waits a little, and counts that in: so the processor is not kept from what goes on,
        and nothing that holds a reader up is missed.
        """
        waits: list[float] = []
        over = threading.Event()

        def read() -> None:
            started = time.monotonic()
            while not over.wait(A_LOOK):
                assert self.reader.opens(f"{self.production}drafts/1/script/").status == 200
                before, started = started, time.monotonic()
                waits.append(started - before)

        reading = threading.Thread(target=read)
        reading.start()
        try:
            what()
        finally:
            over.set()
            reading.join()
        return waits

    def read_apart_by(self) -> list[int]:
        """The processes that read scripts."""
        listed = subprocess.run(
            ["ps", "-ww", "-A", "-o", "pid=,ppid=,args="], capture_output=True, text=True, check=True
        )
        found = [line.split(None, 2) for line in listed.stdout.splitlines()]
        parents = {int(pid): int(parent) for pid, parent, _ in found}
        ours = [int(pid) for pid, _, what in found if what.endswith("-m review.serving.apart")]
        return [pid for pid in ours if parents.get(parents[pid]) == self.server.pid]


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory, migrated: Path) -> Iterator[House]:
    with serving(with_migrated(tmp_path_factory.mktemp("apart"), migrated)) as server:
        yield House(server)


def test_an_upload_that_is_ended_is_given_up_with_a_sentence_and_nothing_is_kept(house: House) -> None:
    """As the system ends a process that takes all its memory, and as we end one that takes too long."""

    answered = threading.Event()

    def end_it() -> None:
        while not answered.wait(0.2):
            for process in house.read_apart_by():
                os.kill(process, signal.SIGKILL)

    ending = threading.Thread(target=end_it)
    ending.start()
    try:
        seen = house.chooses(WORST)
    finally:
        answered.set()
        ending.join()
    assert seen.status == 503
    assert "nothing was put up" in seen.page
    assert "drafts/2/" not in house.writer.opens(f"{house.production}drafts/").page


def test_after_that_the_next_upload_is_read(house: House) -> None:
    seen = house.puts_up(SCRIPT.replace("four", "five"))
    assert (seen.status, seen.address) == (200, f"{house.production}drafts/2/report/")
    assert house.read_apart_by()


def test_a_pdf_is_made_apart_and_handed_over_once_it_is_there(house: House) -> None:
    seen = house.reader.opens(f"{house.production}drafts/1/pdf/")
    assert (seen.status, seen.page[:4]) == (200, "%PDF")


def test_changes_are_set_out_apart_and_then_shown_where_they_were_asked_for(house: House) -> None:
    new = re.search(r"/drafts/(\d+)/report/$", house.puts_up(SCRIPT.replace("four", "noon")).address)
    assert new
    asked = f"{house.production}changes/1/{new.group(1)}/"
    seen = house.reader.opens(asked)
    assert (seen.status, seen.address) == (200, asked)
    assert "reworded" in seen.page


@pytest.mark.timing
def test_the_worst_script_there_may_be_holds_no_reader_up_for_more_than_a_second(house: House) -> None:
    """Neither while it is read, nor while its writer then opens it as pages: no more than a second longer than they
    wait in this same run while nobody does anything."""

    def put_up_and_open() -> None:
        assert house.puts_up(WORST).address.endswith("/report/")
        assert len(house.writer.opens(f"{house.production}script/").page) < MOST_OF_A_PAGE

    usual = house.waits_meanwhile(lambda: time.sleep(5))
    waits = house.waits_meanwhile(put_up_and_open)
    assert len(waits) > 5
    assert max(waits) < max(usual) + 1.0
