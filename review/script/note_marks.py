"""Where the notes that a member may read stand on a draft's pages, and of what sort each is: all that a page needs to
know of a note before its card is asked for."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Case, Exists, FilteredRelation, OuterRef, Q, Value, When

from review.decisions.in_force import decisions_in_force
from review.decisions.models import Decision
from review.notes.models import Note, Reply, Subject

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import datetime

    from django.db.models.expressions import Combinable

    from review.drafts.drawn_pages import DrawnPages
    from review.drafts.models import Draft
    from review.people.models import Member

SHOWINGS = {"all": "All notes", "open": "Open", "mine": "Mine", "new": "New for me", "none": "Script alone"}
OPEN, MINE, NEW = "o", "m", "n"


@dataclass(frozen=True, slots=True)
class NoteMark:
    """A note on the pages of a draft. `lines` are the first line, the first character in it, the last line and the
    last character of what it stands on there, None where that is gone; a scene's note stands on its heading, whole.
    `beside` is the printed line that it stands at, `page` the page of that line, counted from 0. It is new to the
    member where somebody else left it, replied to it, or decided it since their last visit."""

    pk: int
    public_id: str
    lines: tuple[int, int, int, int | None] | None
    beside: int | None
    page: int | None
    is_open: bool
    is_mine: bool
    is_new: bool

    @property
    def is_gone(self) -> bool:
        return self.lines is None

    def is_shown(self, showing: str) -> bool:
        """Whether it is among the notes that a reader wants to see, by a key of SHOWINGS."""
        if showing == "open":
            return self.is_open
        if showing == "new":
            return self.is_new
        return showing == "all" or (showing == "mine" and self.is_mine)

    @property
    def short(self) -> str:
        """A line of text that says it all, for the script of the page: "id first.char-last.char sorts line"."""
        first, first_char, last, last_char = self.lines or (0, 0, 0, 0)
        end = "" if last_char is None else last_char
        sorts = OPEN * self.is_open + MINE * self.is_mine + NEW * self.is_new
        return f"{self.public_id} {first}.{first_char}-{last}.{end} {self.beside or 0} {sorts}"


def note_marks(
    member: Member,
    draft: Draft,
    drawn: DrawnPages,
    since: datetime | None = None,
    among: Iterable[str] | None = None,
    pages: Iterable[int] | None = None,
) -> list[NoteMark]:
    """Every note that the member may read on the draft, or those `among` some public ids, or on some pages, by their
    places, in the order of its lines, in one query however many there are; those whose lines are gone come last, open
    ones first. What others did after `since` is new."""
    notes = Note.objects.visible_to(member)
    if among is not None:
        notes = notes.filter(public_id__in=among)
    wanted = None if pages is None else set(pages)
    standing = (
        notes.not_withdrawn()
        .annotate(here=FilteredRelation("placements", condition=Q(placements__draft=draft)))
        .filter(Q(draft=draft) | Q(here__isnull=False) if wanted is None else _near(wanted, draft, drawn))
        .annotate(is_decided=Exists(decisions_in_force(note=OuterRef("pk"))), is_new=_is_new(member, since))
        .order_by()
        .values_list(
            "pk",
            "public_id",
            "subject",
            "author_id",
            "said_by",
            "is_decided",
            "is_new",
            "draft_id",
            "first_line",
            "first_char",
            "last_line",
            "last_char",
            "here__first_line",
            "here__first_char",
            "here__last_line",
            "here__last_char",
        )
    )
    marks = []
    for pk, public_id, subject, author, said_by, is_decided, is_new, left_on, *places in standing:
        first, first_char, last, last_char = places[:4] if left_on == draft.pk else places[4:]
        lines: tuple[int, int, int, int | None] | None = None
        if first is not None:
            lines = (first, 0, first, None) if subject == Subject.SCENE else (first, first_char, last, last_char)
        beside = drawn.first_printed(lines[0], lines[2]) if lines else None
        page = None if beside is None else drawn.page_of[beside]
        if wanted is not None and page not in wanted:
            continue
        is_mine = author == member.pk and not said_by
        marks.append(NoteMark(pk, public_id, lines, beside, page, not is_decided, is_mine, is_new))
    return sorted(marks, key=_script_order)


def _near(pages: Iterable[int], draft: Draft, drawn: DrawnPages) -> Q:
    """The notes with lines between the first and the last of any of some pages, or on lines that do not print right
    behind its last. Where two speak at once over a page break, lines of both pages stand between."""
    near = Q(pk__in=[])
    for page in (drawn.pages[at] for at in pages):
        if page.first_line is None or page.last_line is None:
            continue
        first = 0 if page.first_line == drawn.printed[0] else page.first_line
        following = drawn.printed_behind(page.last_line)
        for own, lines in ((Q(draft=draft), ""), (~Q(draft=draft), "here__")):
            here = own & Q(**{f"{lines}last_line__gte": first})
            near |= here if following is None else here & Q(**{f"{lines}first_line__lt": following})
    return near


def _is_new(member: Member, since: datetime | None) -> Combinable:
    if since is None:
        return Value(False)
    others = Reply.objects.visible_to(member).exclude(author=member)
    replies = others.filter(note=OuterRef("pk"), created_at__gt=since, withdrawn_at=None)
    decisions = Decision.objects.filter(note=OuterRef("pk"), created_at__gt=since).exclude(decided_by=member)
    left = Q(created_at__gt=since) & ~Q(author=member)
    return Case(When(left | Exists(replies) | Exists(decisions), then=Value(True)), default=Value(False))


def _script_order(mark: NoteMark) -> tuple[bool, int, int, int]:
    if mark.lines is None:
        return (True, int(not mark.is_open), 0, mark.pk)
    return (False, mark.lines[0], mark.lines[1], mark.pk)


def by_page(marks: Iterable[NoteMark]) -> dict[int, list[NoteMark]]:
    """The marks of each page, by its place among the pages; those whose lines are gone are on none."""
    found: dict[int, list[NoteMark]] = defaultdict(list)
    for mark in marks:
        if mark.page is not None and mark.lines is not None:
            found[mark.page].append(mark)
    return found


def in_short(marks: Sequence[NoteMark]) -> str:
    """The marks for the script of the page, a line each."""
    return "\n".join(mark.short for mark in marks)
