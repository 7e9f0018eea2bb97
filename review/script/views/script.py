"""The script screen: a draft's laid-out pages with the notes beside their lines."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from django.db.models import Q
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.html import format_html
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.cards.note_cards import NoteCard, note_cards
from review.drafts.drawn_pages import DrawnPages, draw_pages
from review.drafts.models import Draft
from review.drafts.scripts import laid_out
from review.notes.forms import kept_key
from review.notes.models import Note, Placement
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.http import HttpResponse
    from django.utils.safestring import SafeString

    from review.people.models import Member
    from review.requests import Request

SHOWINGS = {"all": "All notes", "open": "Open", "mine": "Mine", "none": "Script alone"}
MARKER = '<a class="marker" href="#note-{}" data-count="{}"><span class="unseen">{} {}</span></a>'


@require_safe
@members_who_may(Deed.READ)
def script_current(request: Request, member: Member) -> HttpResponse:
    """The current draft's script, or a page that says there is none yet."""
    draft = member.production.drafts.current()
    if draft is None:
        context = {"member": member, "may_publish": may(member, Deed.PUBLISH)}
        return render(request, "script/script_none.html", context)
    return redirect("script", member.production.public_id, draft.number)


@require_safe
@members_who_may(Deed.READ)
def script(request: Request, member: Member, number: int) -> HttpResponse:
    """One draft's pages, and the notes that this member may read on it; `notes` says which of them are shown."""
    draft = get_object_or_404(member.production.drafts.standing(), number=number)
    drafts = list(Draft.objects.standing().filter(production_id=member.production_id).defer("text").order_by("-number"))
    showing = request.GET.get("notes", "all")
    showing = showing if showing in SHOWINGS else "all"
    carried = Placement.objects.filter(draft=draft).values("note")
    notes = Note.objects.visible_to(member).not_withdrawn().filter(Q(draft=draft) | Q(pk__in=carried))
    cards = note_cards(member, notes, draft)
    shown = [card for card in cards if _is_shown(card, showing)]
    drawn = draw_pages(draft)
    context = {
        "member": member,
        "draft": draft,
        "drafts": drafts,
        "is_current": drafts[0].number == draft.number,
        "pages": laid_out(draft),
        "drawn_pages": _pages_with_notes(drawn, shown),
        "gone": sorted((card for card in shown if card.stands.span is None), key=lambda card: not card.is_open),
        "showing": showing,
        "showings": SHOWINGS.items(),
        "counts": {"all": len(cards), "open": sum(card.is_open for card in cards)},
        "kept_beginning": kept_key(member, draft.number, "note", ""),
    }
    return render(request, "script/script.html", context)


def _is_shown(card: NoteCard, showing: str) -> bool:
    if showing == "open":
        return card.is_open
    return showing == "all" or (showing == "mine" and card.is_mine)


@dataclass(frozen=True, slots=True)
class ShownPage:
    """A page as this member sees it: its HTML with the noted lines marked, and the cards for its margin."""

    label: str
    html: SafeString
    cards: list[NoteCard] = field(default_factory=list)

    @property
    def margin(self) -> str:
        return margin_name(self.label)


def margin_name(label: str) -> str:
    """The id of the margin of a page, by what it is called, "" for the title page."""
    return f"notes-on-page-{label}" if label else "notes-on-title-page"


def margin_of(draft: Draft, card: NoteCard) -> str | None:
    """The id of the margin where the card stands on the draft's script, None where it stands in none."""
    drawn = draw_pages(draft)
    line = _line_beside(drawn, card)
    return None if line is None else margin_name(drawn.pages[drawn.page_of[line]].label)


def _line_beside(drawn: DrawnPages, card: NoteCard) -> int | None:
    at = card.stands.at
    return drawn.first_printed(at.first_line, at.last_line) if at else None


def _pages_with_notes(drawn: DrawnPages, cards: Iterable[NoteCard]) -> list[ShownPage]:
    beside: dict[int, list[NoteCard]] = defaultdict(list)
    noted: set[int] = set()
    for card in sorted(cards, key=_place):
        line = _line_beside(drawn, card)
        if line is not None and card.stands.at is not None:
            beside[line].append(card)
            noted.update(range(card.stands.at.first_line, card.stands.at.last_line + 1), (line,))
    markers = {line: _marker(here) for line, here in beside.items()}
    shown = [ShownPage(page.label, page.with_notes(frozenset(noted), markers)) for page in drawn.pages]
    for line, here in beside.items():
        shown[drawn.page_of[line]].cards.extend(here)
    return shown


def _place(card: NoteCard) -> tuple[int, int, int]:
    span = card.stands.at
    return (span.first_line, span.first_char, card.note.pk) if span else (0, 0, card.note.pk)


def _marker(cards: list[NoteCard]) -> SafeString:
    words = "note" if len(cards) == 1 else "notes"
    return format_html(MARKER, cards[0].note.public_id, len(cards), len(cards), words)
