"""What pages cost that are open and to which nothing happens: the share of a core that the server uses for them, taken
from the time its processes have had of the processor, so that other work on the machine does not count.

    .venv/bin/python -m tests.load.idle              # 200 pages, on SQLite
    .venv/bin/python -m tests.load.idle --postgres
"""

from __future__ import annotations

import argparse
import asyncio
import sys
import time

from tests.load.crowd import prepare
from tests.load.reader import Measured, Reader
from tests.load.served import own_database, serving

SETTLED = 4  # times that each page has been told of nothing new, by either of two workers


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--postgres", action="store_true", help="PostgreSQL instead of SQLite")
    parser.add_argument("--people", type=int, default=200)
    parser.add_argument("--seconds", type=int, default=60)
    asked = parser.parse_args()
    with own_database(on_postgres=asked.postgres), serving() as served:
        script, sessions = prepare(20, 100, asked.people)
        measured = Measured()

        async def wait_and_see() -> float:
            readers = [Reader(served.address, session, script, measured, writes=False) for session in sessions]
            idling = [asyncio.create_task(reader.idle()) for reader in readers]
            while measured.nothing_new < SETTLED * asked.people:
                await asyncio.sleep(1)
            measured.nothing_new, used, began = 0, served.seconds(), time.monotonic()
            await asyncio.sleep(asked.seconds)
            share = (served.seconds() - used) / (time.monotonic() - began)
            for each in idling:
                each.cancel()
            await asyncio.gather(*idling, return_exceptions=True)
            return share

        share = asyncio.run(wait_and_see())
    each = share * asked.seconds / max(measured.nothing_new, 1)
    sys.stdout.write(
        f"{asked.people} idle pages on {'PostgreSQL' if asked.postgres else 'SQLite'}: {share:.3f} of a core, "
        f"{1000 * each:.2f} ms for each of {measured.nothing_new:,} questions. Errors: {len(measured.errors)}.\n"
    )
    for error in measured.errors[:5]:
        sys.stdout.write(f"  {error}\n")


if __name__ == "__main__":
    main()
