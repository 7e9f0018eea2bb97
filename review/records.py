"""What records have in common: an address that cannot be guessed, a form that counts once however often sent, and a
mark of what it was based on."""

from __future__ import annotations

import hashlib
import secrets
import uuid
from typing import TYPE_CHECKING, Any, TypeVar

from django.core.exceptions import EmptyResultSet
from django.db import models
from django.db.models.lookups import Exact

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

PUBLIC_ID_BYTES = 9


@models.CharField.register_lookup
class Equal(Exact):
    """Equal texts, in every query. No record has a text with a NUL in it, and PostgreSQL takes none to look for, so
    nothing equals one that has."""

    def process_rhs(self, compiler: Any, connection: Any) -> Any:
        if isinstance(self.rhs, str) and "\0" in self.rhs:
            raise EmptyResultSet
        return super().process_rhs(compiler, connection)


def new_public_id() -> str:
    """Twelve characters that can stand in an address and cannot be guessed."""
    return secrets.token_urlsafe(PUBLIC_ID_BYTES)


def mark_of(told: object) -> str:
    """Sixteen characters that differ where the other's words or figures do: a form carries them, so that it shows on
    what it was based."""
    return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


class Record(models.Model):
    """A record with a public address of its own and the moment it was made."""

    public_id = models.CharField(max_length=16, unique=True, default=new_public_id, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        abstract = True


class PostedRecord(Record):
    """A record made by a form. `form_id` came with the form, so that sending it twice finds the first record."""

    came_again = False  # said of one that an act was to make, and that was there
    came_otherwise = False  # and whose form came again with something else in it

    form_id = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)

    class Meta(Record.Meta):
        abstract = True

    @classmethod
    def unused(cls, form_id: uuid.UUID) -> uuid.UUID:
        """For a new record the id of its form; one of its own where that is another record's, of somebody else: then
        it says nothing."""
        return uuid.uuid4() if cls._base_manager.filter(form_id=form_id).exists() else form_id

    def said_at_first(self) -> Mapping[str, Any]:
        """Those of its fields, as its form made them, that were changed since."""
        return {}


Posted = TypeVar("Posted", bound=PostedRecord)


def sent_before(said: Mapping[str, Any], by_form: Iterable[Posted], in_same_words: Iterable[Posted]) -> Posted | None:
    """What a form was to make and that is there: the record that it made, or else one that says the very same, for
    without scripts a browser that goes back has the form made anew. `came_again` says of it that it was found, and
    `came_otherwise` that the form says something else by now: `said` are the record's fields as they were to be."""
    before = next(iter(by_form), None)
    if before is None:
        before = next(iter(in_same_words), None)
    else:
        at_first = before.said_at_first()
        before.came_otherwise = any(at_first.get(name, getattr(before, name)) != value for name, value in said.items())
    if before is not None:
        before.came_again = True
    return before
