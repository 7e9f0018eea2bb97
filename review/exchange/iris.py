"""The IRIs by which notes, replies, decisions, drafts and people are known outside: they never change, whatever address
the server has, and lead nowhere."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Protocol

    from review.notes.brought_in import SaidRecord

    class Known(Protocol):
        """What has an address that cannot be guessed."""

        @property
        def public_id(self) -> str: ...


_SPACE = uuid.UUID("5d0a6d0e-2f0b-4c55-9f63-3b1f3a1c7d24")  # of our own names, drawn once


def iri_of(record: Known) -> str:
    """The record's IRI: a name-based UUID (RFC 9562, version 5), so that its own address cannot be told from it."""
    return iri_for(type(record), record.public_id)


def iri_of_said(said: SaidRecord) -> str:
    """The IRI of a note or a reply: that which it came in with, if it was brought in."""
    return said.iri or iri_of(said)


def iri_for(kind: type[object], public_id: str) -> str:
    """The IRI of the record of a kind that has the public id."""
    return iri_named(f"{kind.__name__} {public_id}")


def iri_named(name: str) -> str:
    """The IRI of something that is no record."""
    return str(uuid.uuid5(_SPACE, name).urn)
