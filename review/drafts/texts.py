"""When two texts are the same text."""

from __future__ import annotations

import hashlib


def hash_text(text: str) -> str:
    """The SHA-256 of a text in UTF-8, in hexadecimal: two drafts with the same hash are the same draft."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def hashes_of_the_same_text(text: str) -> set[str]:
    """The hashes of a text with its own line ends and with each of the usual ones.

    A form field brings other line ends than a file: the text one uploads and then pastes is the same text.
    """
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    return {hash_text(text), *(hash_text(plain.replace("\n", end)) for end in ("\n", "\r\n", "\r"))}
