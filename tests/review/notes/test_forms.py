"""Words as they are typed into a form: what their browser counts is what counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from review.notes_screen.change_forms import CorrectNoteForm
from review.notes_screen.forms import OutcomeForm, ReplyForm
from review.papers.forms import PaperDecisionForm, PaperNoteForm, PaperReplyForm
from review.publishing.forms import WithdrawForm
from review.readings.forms import ReadingForm
from review.readings.question_forms import QuestionForm
from review.script.forms import NoteForm
from review.talks.forms import TakeDownForm

if TYPE_CHECKING:
    from django import forms

FIELDS = {
    "a note": (NoteForm, "body"),
    "a correction": (CorrectNoteForm, "body"),
    "a reply": (ReplyForm, "body"),
    "a reason": (OutcomeForm, "reason"),
    "what is taken down": (TakeDownForm, "body"),
    "a note on a paper": (PaperNoteForm, "body"),
    "a reply there": (PaperReplyForm, "body"),
    "a reason there": (PaperDecisionForm, "reason"),
    "what to look for": (ReadingForm, "look_for"),
    "a question": (QuestionForm, "text"),
    "what is meant": (QuestionForm, "intended"),
    "why a draft is withdrawn": (WithdrawForm, "reason"),
}


@pytest.mark.parametrize(("form", "name"), FIELDS.values(), ids=FIELDS)
def test_a_line_end_counts_once_and_is_kept_as_a_line_feed(form: type[forms.Form], name: str) -> None:
    """Browsers send CRLF for each line end of a textarea, and count one character (the HTML standard, 4.10.11)."""
    field = form.base_fields[name]
    most = field.max_length  # type: ignore[attr-defined]
    typed = ("Rain.\n" * most)[: most - 1] + "."
    assert field.clean(typed.replace("\n", "\r\n")) == typed
