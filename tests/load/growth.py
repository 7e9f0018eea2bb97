"""How the cost of every screen grows with productions and with drafts: its queries, and the processor's time that it
takes, where it was shown before. Each production has a thousand notes.

    .venv/bin/python -m tests.load.growth             # 1 production of 1, 2, 10 drafts; 10 and 100 of 10
    .venv/bin/python -m tests.load.growth --postgres
"""

from __future__ import annotations

import argparse
import sys
import time
from typing import TYPE_CHECKING, NamedTuple

from tests.load.served import own_database

if TYPE_CHECKING:
    from django.test import Client

    from tests.load.film import Film

NOTES, PAGES, TRIES = 1000, 20, 3
SIZES = ((1, 1), (1, 2), (1, 10), (10, 10), (100, 10))  # productions, and drafts of the one that is looked at
OF_A_DRAFT = (
    "script",
    "script-notes",
    "script-page",
    "script-find",
    "script-changed",
    "scenes-days-told",
    "note-new",
    "draft-report",
    "draft-print",
    "voices",
    "scenes",
    "scenes-pictures",
    "scenes-order",
    "scenes-marked-words",
)
OF_A_PRODUCTION = (
    "home",
    "news",
    "notes",
    "drafts",
    "people",
    "security-log",
    "settings",
    "readings",
    "to-do",
    "working",
)
ASKED = {"script-notes": "?page=1&page=2", "script-find": "?word=night"}


class Cost(NamedTuple):
    """What a screen takes: its queries, and the processor's milliseconds at the least of a few tries."""

    queries: int
    milliseconds: float


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--postgres", action="store_true", help="PostgreSQL instead of SQLite")
    parser.add_argument("--most", type=int, default=100, help="productions at the most")
    asked = parser.parse_args()
    with own_database(on_postgres=asked.postgres):
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        found = measure(asked.most)
    report(found)


def measure(most: int) -> dict[tuple[int, int], dict[str, Cost]]:
    """The costs of each screen, by how many productions there are, and of how many drafts the one is that is shown."""
    from tests.load.film import copy_film, make_film, text_of

    text = text_of(PAGES)
    texts = [f"{text}\nDraft {number} ends.\n" for number in range(10)]
    film, made, found = None, 0, {}
    for productions, drafts in SIZES:
        if productions > most:
            break
        if film is None or len(film.drafts) != drafts:
            film = make_film("Slack Water", texts[:drafts], NOTES, 5)
            made = 1
        copy_film(film, productions - made)
        made = productions
        found[productions, drafts] = costs_of(film)
    return found


def costs_of(film: Film) -> dict[str, Cost]:
    from django.test import Client as Browser
    from django.urls import reverse

    from tests.load.film import session_of

    client = Browser(SERVER_NAME="localhost")
    client.cookies["sessionid"] = session_of(film.writer.person)
    production, number = film.production.public_id, film.drafts[-1].number
    addresses = {name: reverse(name, args=[production]) for name in OF_A_PRODUCTION}
    for name in OF_A_DRAFT:
        more = ["1"] if name == "script-page" else []
        addresses[name] = reverse(name, args=[production, number, *more]) + ASKED.get(name, "")
    if number > 1:
        addresses["changes-between"] = reverse("changes-between", args=[production, number - 1, number])
    addresses["productions"] = reverse("productions")
    return {name: cost_at(client, address) for name, address in addresses.items()}


def cost_at(client: Client, address: str) -> Cost:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    get = client.get
    if (status := get(address, follow=True).status_code) >= 400:
        raise SystemExit(f"{status} at {address}")
    with CaptureQueriesContext(connection) as queries:
        get(address, follow=True)
    count = len(queries)  # before the next request empties the log
    times = []
    for _ in range(TRIES):
        began = time.process_time()
        get(address, follow=True)
        times.append(1000 * (time.process_time() - began))
    return Cost(count, min(times))


def report(found: dict[tuple[int, int], dict[str, Cost]]) -> None:
    write = sys.stdout.write
    heads = [f"{productions} of {drafts}" for productions, drafts in found]
    write(f"| screen | queries at {', '.join(heads)} productions of drafts | processor, ms |\n|---|---|---|\n")
    for name in sorted(set().union(*found.values())):
        costs = [found[size].get(name) for size in found]
        queries = ", ".join(str(cost.queries) if cost else "–" for cost in costs)
        times = ", ".join(f"{cost.milliseconds:.0f}" if cost else "–" for cost in costs)
        write(f"| {name} | {queries} | {times} |\n")


if __name__ == "__main__":
    main()
