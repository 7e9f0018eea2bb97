"""A draft that was read and is held in a form, byte for byte, while its writer is asked about the notes it answers."""

from __future__ import annotations

from base64 import b64decode, b64encode
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.core import signing

from screenplay.intake import Intake

if TYPE_CHECKING:
    from review.people.models import Member

SALT = "fairhand.held-draft"
HELD_SECONDS = 24 * 60 * 60


class NotHeld(Exception):  # noqa: N818 - it states what was found
    """The form holds no draft of this member's, or one from too long ago."""


@dataclass(frozen=True, slots=True)
class HeldUpload:
    """A text as it was read, and what else its form said; `again`, that an earlier draft may have the same."""

    intake: Intake
    label: str
    colour: str
    filename: str
    again: bool = False

    def sealed(self, by: Member) -> str:
        """The draft as one text that only this server can have made, for this member."""
        told = {
            "member": by.public_id,
            "text": self.intake.text,
            "encoding": self.intake.encoding,
            "bom": b64encode(self.intake.bom).decode(),
            "label": self.label,
            "colour": self.colour,
            "filename": self.filename,
            "again": self.again,
        }
        return signing.dumps(told, salt=SALT, compress=True)


def unsealed(by: Member, sealed: str) -> HeldUpload:
    """The draft that a form held. Raises NotHeld unless this server sealed it for this member, within a day."""
    try:
        told = signing.loads(sealed, salt=SALT, max_age=HELD_SECONDS)
    except signing.BadSignature:
        raise NotHeld from None
    if told["member"] != by.public_id:
        raise NotHeld
    intake = Intake(told["text"], told["encoding"], b64decode(told["bom"]))
    return HeldUpload(intake, told["label"], told["colour"], told["filename"], told.get("again", False))
