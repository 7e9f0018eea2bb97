"""Many people at one script, with the app as `serve` starts it: what each sort of request takes beside a bare page of
the script's size in the same run, whether anything went wrong, and whether anything that was written was lost.

    .venv/bin/python -m tests.load.crowd --postgres               # 200 people, 20 of them writing, for five minutes
    .venv/bin/python -m tests.load.crowd --people 25 --writers 5  # the same on SQLite
"""

from __future__ import annotations

import argparse
import asyncio
import os
import sys
import time
from collections import Counter
from statistics import quantiles
from typing import TYPE_CHECKING

from tests.load.reader import Measured, Reader, Script
from tests.load.served import own_database, serving

if TYPE_CHECKING:
    from tests.load.served import Served

BARE = "A bare page of its size"
MOST_TIMES = 5
ONCE = 1


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--postgres", action="store_true", help="PostgreSQL instead of SQLite")
    parser.add_argument("--people", type=int, default=200)
    parser.add_argument("--writers", type=int, default=20)
    parser.add_argument("--seconds", type=int, default=300)
    parser.add_argument("--arrive", type=int, default=60, help="seconds within which they come")
    parser.add_argument("--pages", type=int, default=120)
    parser.add_argument("--notes", type=int, default=1000)
    asked = parser.parse_args()
    with own_database(on_postgres=asked.postgres), serving() as served:
        script, sessions = prepare(asked.pages, asked.notes, asked.people)
        used = served.seconds()
        measured = asyncio.run(crowd(served, script, sessions, asked))
        used = served.seconds() - used
        lost = lost_words(measured.written)
    report(measured, lost, used, asked)


def prepare(pages: int, notes: int, people: int) -> tuple[Script, list[str]]:
    """The film, and a session of each of its people."""
    import django

    django.setup()
    from review.drafts.drawn_pages import draw_pages
    from review.script.leaves import page_id
    from tests.load.film import make_film, session_of, text_of

    film = make_film("Slack Water", [text_of(pages)], notes, people)
    drawn = draw_pages(film.drafts[0])
    told = [(page_id(page), page.first_line or 1, page.last_line or 1) for page in drawn.pages]
    script = Script(film.production.public_id, 1, told, list(drawn.printed))
    return script, [session_of(member.person) for member in film.others]


async def crowd(served: Served, script: Script, sessions: list[str], asked: argparse.Namespace) -> Measured:
    measured = Measured()
    until = time.monotonic() + asked.seconds
    readers = [
        Reader(served.address, session, script, measured, writes=ordinal < asked.writers)
        for ordinal, session in enumerate(sessions)
    ]
    await asyncio.gather(*(reader.read(asked.arrive, until) for reader in readers))
    return measured


def lost_words(written: list[str]) -> list[str]:
    """What was said to be kept and is not, or is twice."""
    from review.notes.models import Note, Reply

    kept = Counter([*Note.objects.values_list("body", flat=True), *Reply.objects.values_list("body", flat=True)])
    return [words for words in written if kept[words] != ONCE]


def report(measured: Measured, lost: list[str], used: float, asked: argparse.Namespace) -> None:
    write = sys.stdout.write
    bare = p95(measured.seconds[BARE])
    write(f"\n{asked.people} people, {asked.writers} writing, {asked.seconds} s, {os.cpu_count()} cores, ")
    write(f"{'PostgreSQL' if asked.postgres else 'SQLite'}\n\n")
    write("| request | how often | median, ms | p95, ms | p95 to a bare page's |\n|---|---|---|---|---|\n")
    for sort, seconds in sorted(measured.seconds.items()):
        median = sorted(seconds)[len(seconds) // 2]
        write(f"| {sort} | {len(seconds):,} | {1000 * median:.0f} | {1000 * p95(seconds):.0f} ")
        write(f"| {p95(seconds) / bare:.1f} |\n")
    everything = [each for sort, seconds in measured.seconds.items() if sort != BARE for each in seconds]
    write(f"| all but the bare page | {len(everything):,} | {1000 * sorted(everything)[len(everything) // 2]:.0f} ")
    write(f"| {1000 * p95(everything):.0f} | {p95(everything) / bare:.1f} |\n\n")
    write(f"Errors: {len(measured.errors)}. Written: {len(measured.written)}, lost or doubled: {len(lost)}. ")
    write(f"The server used {used / asked.seconds:.2f} of a core.\n")
    for error, often in Counter(measured.errors).most_common(10):
        write(f"  {often} × {error}\n")
    write("\n")
    sys.exit(bool(measured.errors or lost or p95(everything) > MOST_TIMES * bare))


def p95(seconds: list[float]) -> float:
    return quantiles(seconds, n=20)[-1] if len(seconds) > ONCE else sum(seconds)


if __name__ == "__main__":
    main()
