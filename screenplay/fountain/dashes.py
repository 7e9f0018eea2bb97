"""The dashes that people type in headings."""

from __future__ import annotations

HYPHENS = "-‐‑−"  # which may stand within a word: as typed, Unicode's two, and minus
LONG_DASHES = "‒–—―"  # which part what they stand between
DASHES = f"{HYPHENS}{LONG_DASHES}"  # in this order: within the brackets of a pattern, a hyphen in front is no range
