"""The cards of the notes on some pages of the script, as the screen asks for them before they are reached; and a page
with its notes by itself, where no script runs in the browser."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import render
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.cards.note_cards import note_cards
from review.drafts.at_address import draft_or_404
from review.drafts.drawn_pages import draw_pages
from review.drafts.visits import new_since, visits_of
from review.notes.models import Note
from review.people.guard import members_who_may
from review.script.leaves import TITLE, margin_id, page_id
from review.script.note_marks import SHOWINGS, by_page, note_marks
from review.script.views.script import showing_asked_for

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.http import HttpResponse

    from review.cards.note_card import NoteCard
    from review.drafts.drawn_pages import DrawnPage, DrawnPages
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request
    from review.script.note_marks import NoteMark

MOST_PAGES = 12  # a request: as many as lie in reach of the eye on a large screen, and those around them
GONE = "gone"


@dataclass(frozen=True, slots=True)
class Margin:
    """The cards of one page, and the id of the margin they stand in."""

    page: DrawnPage
    cards: list[NoteCard]

    @property
    def id(self) -> str:
        return margin_id(self.page)


@require_safe
@members_who_may(Deed.READ)
def script_notes(request: Request, member: Member, number: int) -> HttpResponse:
    """The cards on the pages that `page` names, however often it is given; "gone" names the notes that are on none."""
    draft = draft_or_404(member, number, with_text=False)
    drawn = draw_pages(draft)
    since = new_since(visits_of(member), timezone.now())
    wanted = dict.fromkeys(request.GET.getlist("page")[:MOST_PAGES])
    places = [place for name in wanted if (place := _place_of(drawn, name)) is not None]
    gone = [mark for mark in note_marks(member, draft, drawn, since) if mark.is_gone] if GONE in wanted else []
    marks = note_marks(member, draft, drawn, since, pages=places)
    of_page = by_page(marks)
    cards = _cards(member, draft, [mark for place in places for mark in of_page.get(place, ())] + gone)
    context = {
        "member": member,
        "draft": draft,
        "margins": [Margin(drawn.pages[place], _of(cards, of_page.get(place, ()))) for place in places],
        "gone": _of(cards, gone),
        "new_since": since,
        "forms_asked_for": True,
    }
    return render(request, "script/script_notes.html", context)


@require_safe
@members_who_may(Deed.READ)
def script_page(request: Request, member: Member, number: int, name: str) -> HttpResponse:
    """One page with the notes on it, or for "gone" the notes whose lines are gone."""
    draft = draft_or_404(member, number, with_text=False)
    drawn = draw_pages(draft)
    place = _place_of(drawn, name)
    if place is None and name != GONE:
        raise Http404("No such page")
    showing = showing_asked_for(request)
    since = new_since(visits_of(member), timezone.now())
    marks = [mark for mark in note_marks(member, draft, drawn, since) if mark.is_shown(showing)]
    here = [mark for mark in marks if mark.is_gone] if place is None else by_page(marks).get(place, [])
    context = {
        "member": member,
        "draft": draft,
        "page": None if place is None else drawn.pages[place],
        "name": name,
        "html": SafeString() if place is None else mark_safe(drawn.pages[place].html),  # noqa: S308 - escaped there
        "language": member.production.script_language,
        "cards": _of(_cards(member, draft, here), here),
        "before": None if not place else page_id(drawn.pages[place - 1]),
        "after": None if place is None or place + 1 == len(drawn.pages) else page_id(drawn.pages[place + 1]),
        "showing": showing,
        "showings": SHOWINGS.items(),
        "may_note": may(member, Deed.NOTE),
        "new_since": since,
    }
    return render(request, "script/script_page.html", context)


def _place_of(drawn: DrawnPages, name: str) -> int | None:
    return drawn.labelled("" if name == TITLE else name)


def _cards(member: Member, draft: Draft, marks: Iterable[NoteMark]) -> dict[int, NoteCard]:
    cards = note_cards(member, Note.objects.filter(pk__in=[mark.pk for mark in marks]), draft)
    return {card.note.pk: card for card in cards}


def _of(cards: dict[int, NoteCard], marks: Iterable[NoteMark]) -> list[NoteCard]:
    """The cards in the order of the marks; of a note that was withdrawn meanwhile there is none."""
    return [cards[mark.pk] for mark in marks if mark.pk in cards]
