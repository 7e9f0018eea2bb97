"""Makes the index that the search asks anew, from the drafts, the papers, the notes and the replies."""

from __future__ import annotations

from typing import Any

from review.management.on_database import DatabaseCommand
from review.search.rebuilding import rebuild_index


class Command(DatabaseCommand):
    help = (
        "Make the index of the search anew, from all drafts, papers, notes and replies. It takes a while, and loses "
        "nothing."
    )

    def handle(self, **options: Any) -> None:
        self.stdout.write(f"{rebuild_index():,} lines, paragraphs, notes and replies can be found.")
