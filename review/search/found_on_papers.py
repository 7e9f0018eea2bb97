"""Where words stand in world papers, and in what was said on their paragraphs, for one member."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Q

from review.findable.models import Findable
from review.findable.terms import pieces
from review.papers.models import WorldPaper
from review.papers.note_models import PaperNote, PaperPlace, PaperReply
from review.search.found import BESIDE, NOWHERE, pieces_said

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.findable.terms import Piece, Term
    from review.people.models import Member

MOST = 100
TITLE = 0  # the number that a paper's title has in the index


@dataclass(frozen=True, slots=True)
class FoundOnPaper:
    """A paper's title or paragraph, or what was said on one, in which words were found: the paper, where it stands in
    its latest version, what it is, its words, and the id that it has on the paper's page."""

    paper: WorldPaper
    where: str
    what: str
    pieces: tuple[Piece, ...]
    anchor: str = ""


@dataclass(frozen=True, slots=True)
class FoundOnPapers:
    """What was found, paper by paper, each paragraph before what was said on it; `has_more` says that not all is."""

    texts: tuple[FoundOnPaper, ...]
    has_more: bool


def find_on_papers(member: Member, terms: Sequence[Term]) -> FoundOnPapers:
    """What has all terms in papers that stand, in their latest versions, and in what stands on them, of what the member
    may read; two queries however much there is."""
    papers = WorldPaper.objects.visible_to(member).filter(withdrawn_at=None).order_by().values("pk")
    notes = PaperNote.objects.visible_to(member).standing().on_standing_papers().order_by().values("pk")
    replies = PaperReply.objects.filter(withdrawn_at=None, note__in=notes).open_to(member).order_by().values("pk")
    of_papers = Q(paper__in=papers) | Q(paper_note__in=notes) | Q(paper_reply__in=replies)
    with_all = Findable.objects.filter(of_papers, production_id=member.production_id).with_words(terms)
    known = with_all.select_related(
        "paper",
        "paper_note__author__person",
        "paper_note__version__paper",
        "paper_reply__author__person",
        "paper_reply__note__author__person",
        "paper_reply__note__version__paper",
    )
    found = list(known.order_by("pk")[: MOST + 1])
    said_on = {note.pk: note for each in found[:MOST] if (note := _note_of(each))}
    places = _places(said_on)
    ranked = []
    for each in found[:MOST]:
        note = _note_of(each)
        paper = note.version.paper if note else each.paper
        assert paper is not None  # what is found here is of a paper, or of a note on one
        at = (places[note.pk] or NOWHERE) if note else each.line or TITLE
        rank = (paper.title.casefold(), paper.pk, at, note is not None, each.pk)
        ranked.append((rank, _shown(each, paper, at, note, terms)))
    return FoundOnPapers(tuple(text for _, text in sorted(ranked, key=lambda one: one[0])), len(found) > MOST)


def _note_of(found: Findable) -> PaperNote | None:
    """The note that said it, or that it was said under; None of the paper's own words."""
    return found.paper_reply.note if found.paper_reply else found.paper_note


def _places(notes: Mapping[int, PaperNote]) -> dict[int, int | None]:
    """The paragraphs that notes stand on in the latest versions, by their keys; None where these are gone."""
    places: dict[int, int | None] = {pk: note.paragraph for pk, note in notes.items()}
    later = PaperPlace.objects.filter(note__in=places).order_by("version__number")
    places.update(later.values_list("note", "paragraph"))
    return places


def _shown(found: Findable, paper: WorldPaper, at: int, note: PaperNote | None, terms: Sequence[Term]) -> FoundOnPaper:
    where = "" if at == TITLE else "Its paragraph is gone" if at == NOWHERE else f"paragraph {at}"
    if note is None:
        return FoundOnPaper(paper, where, "", pieces(found.text, terms, BESIDE), f"p{at}" if at else "")
    if found.paper_reply:
        what = f"{found.paper_reply.author.name} replied to {note.author.name}"
    else:
        what = f"{note.get_kind_display()} from {note.author.name}"
    return FoundOnPaper(paper, where, what, pieces_said(found, terms), f"note-{note.public_id}")
