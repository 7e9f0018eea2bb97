"""The keys of a title page (F1): which are known, and how one is told from its value."""

from __future__ import annotations

import re

# Keys that a script may leave empty without its first line being action (common practice, C).
KNOWN_TITLE_KEYS = frozenset(
    {"title", "credit", "author", "authors", "source", "notes", "draft date", "date", "contact", "copyright"}
    | {
        "revision",
        "draft",
        "written by",
        "story by",
        "production",
        "company",
        "version",
        "language",
        "series",
        "episode",
    }
)
_TITLE_KEY = re.compile(r"[^\s.!@>~#=\[(]")


def title_key(line: str) -> tuple[str, str] | None:
    """The key that a line of a title page begins with, and the value after it; None where it has no key."""
    key, colon, value = line.rstrip().partition(":")
    if not colon or not _TITLE_KEY.match(key):
        return None
    key = key.rstrip()
    if value and not value[0].isspace() and key.lower() not in KNOWN_TITLE_KEYS:
        return None
    return key, value.strip()
