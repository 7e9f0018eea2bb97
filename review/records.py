"""What records have in common: an address that cannot be guessed, and a form that counts once however often sent."""

from __future__ import annotations

import secrets
import uuid

from django.db import models

PUBLIC_ID_BYTES = 9


def new_public_id() -> str:
    """Twelve characters that can stand in an address and cannot be guessed."""
    return secrets.token_urlsafe(PUBLIC_ID_BYTES)


class Record(models.Model):
    """A record with a public address of its own and the moment it was made."""

    public_id = models.CharField(max_length=16, unique=True, default=new_public_id, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        abstract = True


class PostedRecord(Record):
    """A record made by a form. `form_id` came with the form, so that sending it twice finds the first record."""

    form_id = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)

    class Meta(Record.Meta):
        abstract = True
