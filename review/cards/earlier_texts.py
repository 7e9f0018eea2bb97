"""What corrected notes said before: the texts that somebody had answered, which stay in view."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.notes.markdown import render_markdown
from review.notes.models import EarlierText

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from django.utils.safestring import SafeString

    from review.notes.models import Note


@dataclass(frozen=True, slots=True)
class TextBefore:
    """A text that a note had until its author corrected it."""

    body_html: SafeString | str
    until: datetime


def texts_before(notes: Sequence[Note]) -> dict[int, tuple[TextBefore, ...]]:
    """The texts that these notes were answered by and have no longer, oldest first, by the note's key; one query, and
    none where no note was changed."""
    changed = [note.pk for note in notes if note.version > 1]
    found: dict[int, list[TextBefore]] = defaultdict(list)
    for text in EarlierText.objects.filter(note__in=changed, was_answered=True) if changed else ():
        found[text.note_id].append(TextBefore(render_markdown(text.body), text.replaced_at))
    return {pk: tuple(texts) for pk, texts in found.items()}
