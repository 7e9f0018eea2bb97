"""The IRIs by which notes, replies, decisions, drafts and people are known outside: they never change, whatever address
the server has, and lead nowhere."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Protocol

    class Known(Protocol):
        """What has an address that cannot be guessed."""

        @property
        def public_id(self) -> str: ...


_SPACE = uuid.UUID("5d0a6d0e-2f0b-4c55-9f63-3b1f3a1c7d24")  # of our own names, drawn once


def iri_of(record: Known) -> str:
    """The record's IRI: a name-based UUID (RFC 9562, version 5), so that its own address cannot be told from it."""
    return str(uuid.uuid5(_SPACE, f"{type(record).__name__} {record.public_id}").urn)


def iri_named(name: str) -> str:
    """The IRI of something that is no record."""
    return str(uuid.uuid5(_SPACE, name).urn)
