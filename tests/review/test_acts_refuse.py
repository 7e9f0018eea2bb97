"""Every act asks for itself who may do it, whatever door it is called through."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied

from review.decisions.acts import decide, place_note
from review.drafts.numbering import lock_numbers, unlock_numbers
from review.log import Act
from review.printing.acts import print_draft, take_source, take_text, take_web_page
from review.productions.acts import change_settings, settings_of
from review.publishing.acts import publish_draft
from review.rewriting.acts import begin_working
from screenplay import Paper
from screenplay.intake import read_text
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.people.models import Member


def _change_settings(by: Member) -> None:
    standing = settings_of(by.production)
    change_settings(by, standing, standing.seen)


FOR_WRITERS: dict[str, Callable[[Member, Draft], object]] = {
    "publish": lambda by, draft: publish_draft(by, read_text("INT. HUT - DAY\n\nFog.\n")),
    "take the source": take_source,
    "take the text": lambda by, draft: take_text(by, draft, Paper.A4, scene_numbers=False),
    "take the web page": lambda by, draft: take_web_page(by, draft, scene_numbers=False),
    "lock the numbers": lambda by, draft: lock_numbers(by, draft.number),
    "unlock the numbers": lambda by, draft: unlock_numbers(by, draft.number),
    "change the settings": lambda by, draft: _change_settings(by),
    "decide": lambda by, draft: decide(by, make_note(by, draft), "accepted", "", 0, uuid.uuid4()),
    "place a note": lambda by, draft: place_note(by, make_note(by, draft), draft, None),
    "begin the next draft": lambda by, draft: begin_working(by, draft, uuid.uuid4()),
}


@pytest.mark.parametrize("act", FOR_WRITERS.values(), ids=FOR_WRITERS)
def test_a_reader_is_refused_and_nothing_is_done(
    crew: Member, draft: Draft, act: Callable[[Member, Draft], object]
) -> None:
    with pytest.raises(PermissionDenied):
        act(crew, draft)
    assert not Act.objects.exists()


def test_someone_removed_prints_nothing(crew: Member, draft: Draft) -> None:
    crew.removed_at = draft.created_at
    with pytest.raises(PermissionDenied):
        print_draft(crew, draft, Paper.A4, scene_numbers=False, with_notes=False)
