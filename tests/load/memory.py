"""What the workers hold in memory while thirty drafts are read, looked over and compared, ten thousand times: told
after each thousand, so that it can be seen whether it grows. What is kept of drafts has a bound in bytes
(`review/kept.py`).

    .venv/bin/python -m tests.load.memory
"""

from __future__ import annotations

import argparse
import http.client
import random
import sys
from itertools import cycle
from typing import TYPE_CHECKING

from tests.load.served import own_database, serving

if TYPE_CHECKING:
    from collections.abc import Iterator

TOLD_EVERY = 1000


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--requests", type=int, default=10_000)
    parser.add_argument("--drafts", type=int, default=30)
    parser.add_argument("--pages", type=int, default=60)
    asked = parser.parse_args()
    with own_database(on_postgres=False), serving() as served:
        addresses, session = prepare(asked.drafts, asked.pages)
        sys.stdout.write("| requests | each process, MiB |\n|---|---|\n")
        host = served.address.removeprefix("http://")
        for ordinal, address in zip(range(1, asked.requests + 1), addresses, strict=False):
            connection = http.client.HTTPConnection(host)  # each its own, so that both workers get some
            connection.request("GET", address, headers={"Cookie": f"sessionid={session}"})
            answer = connection.getresponse()
            answer.read()
            connection.close()
            if answer.status >= http.client.BAD_REQUEST:  # what is made apart leads to where it will be
                sys.exit(f"{answer.status} at {address}")
            if ordinal % TOLD_EVERY == 0 or ordinal == asked.requests:
                held = " ".join(f"{each:.0f}" for each in served.mebibytes())
                sys.stdout.write(f"| {ordinal:,} | {held} |\n")
                sys.stdout.flush()


def prepare(drafts: int, pages: int) -> tuple[Iterator[str], str]:
    """Addresses without end, of each screen that keeps something of a draft, in an order by chance; and a session."""
    import django

    django.setup()
    from django.urls import reverse

    from tests.load.film import make_film, session_of, text_of

    text = text_of(pages)
    film = make_film("Slack Water", [f"{text}\nDraft {number} ends.\n" for number in range(drafts)], 600, 3)
    production = film.production.public_id
    found = [reverse("notes", args=[production]), reverse("home", args=[production])]
    for number in range(1, drafts + 1):
        found += [reverse(name, args=[production, number]) for name in ("script", "scenes", "draft-report")]
        found.append(f"{reverse('script-notes', args=[production, number])}?page=1&page=2&page=3")
        found.append(f"{reverse('script-find', args=[production, number])}?word=night")
        if number > 1:
            found.append(reverse("changes-between", args=[production, number - 1, number]))
    random.Random(1).shuffle(found)
    return cycle(found), session_of(film.writer.person)


if __name__ == "__main__":
    main()
