"""A member changing their note on a paper, and correcting it once somebody has answered it."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.log import Act
from review.notes.models import Audience
from review.papers.acts import put_paper_back, withdraw_paper
from review.papers.note_acts import (
    PaperWords,
    change_paper_note,
    leave_paper_note,
    reply_to_paper_note,
    withdraw_paper_note,
)
from review.papers.shown import show_paper

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.papers.models import WorldPaper
    from review.papers.note_models import PaperNote
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_its_author_changes_a_note_and_once_answered_corrects_what_it_says(
    writer: Member, crew: Member, cast: Member, paper: WorldPaper, note: PaperNote, signed_in: SignIn
) -> None:
    client, to = signed_in(crew), reverse("paper-note-change", args=[crew.production.public_id, note.public_id])
    changed = client.post(to, {"read": 1, "kind": "idea", "body": "Let Abel sing it.", "audience": "everyone"})
    assert changed.headers["Location"].endswith(f"#note-{note.public_id}")
    note.refresh_from_db()
    assert (note.kind, note.body, note.text_number) == ("idea", "Let Abel sing it.", 2)
    reply_to_paper_note(writer, note, "He will.", uuid.uuid4())
    late = client.post(to, {"read": 2, "kind": "praise", "body": "Good.", "audience": "everyone"})
    assert (late.status_code, "Good." in late.text, "Correct the note" in late.text) == (409, True, True)
    assert client.post(to, {"read": 1, "body": "Let Kit sing it."}).status_code == 409
    assert client.post(to, {"read": 2, "body": " "}).status_code == 422
    assert client.post(to, {"read": 2, "body": "Let Kit sing it."}).status_code == 302
    (shown,) = show_paper(cast, paper, paper.versions.get()).paragraphs[1].notes
    assert "Let Kit sing it." in shown.html
    assert ["Let Abel sing it." in text.body_html for text in shown.texts_before] == [True]
    assert [text.body for text in note.earlier_texts.all()] == ["Who sings it?", "Let Abel sing it."]
    assert signed_in(writer).get(to).status_code == 403
    assert Act.objects.filter(verb=Act.Verb.CHANGED_PAPER_NOTE).count() == 2


def test_no_note_is_changed_that_is_another_s_or_taken_back_or_on_a_withdrawn_paper(
    writer: Member, crew: Member, paper: WorldPaper, note: PaperNote
) -> None:
    words = PaperWords("idea", "So.", Audience.EVERYONE)
    with pytest.raises(PermissionDenied):
        change_paper_note(writer, note, words, 1)
    own = leave_paper_note(writer, paper.versions.get(), 3, "idea", "Mine.", Audience.EVERYONE, uuid.uuid4())
    withdraw_paper(writer, paper)
    with pytest.raises(PermissionDenied):
        change_paper_note(writer, own, words, 1)
    put_paper_back(writer, paper)
    withdraw_paper_note(crew, note)
    with pytest.raises(PermissionDenied):
        change_paper_note(crew, note, words, 1)
