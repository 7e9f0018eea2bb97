"""A paper as one member sees it, paragraph by paragraph, with what was said on each."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Q
from django.urls import reverse
from django.utils.text import Truncator

from review.access import Deed, may, may_join_thread, may_withdraw
from review.cards.earlier_texts import TextBefore
from review.notes.markdown import render_markdown
from review.notes.models import Audience, Fate
from review.papers.markdown import paragraphs_of, render_paragraph, words_read
from review.papers.note_models import EarlierPaperText, PaperDecision, PaperNote, PaperPlace, PaperReply

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from django.utils.safestring import SafeString

    from review.papers.models import PaperVersion, WorldPaper
    from review.people.models import Member

OPENING = 9  # words


@dataclass(frozen=True, slots=True)
class ShownReply:
    """A reply that stands."""

    reply: PaperReply
    html: SafeString
    may_withdraw: bool


@dataclass(frozen=True, slots=True)
class ShownNote:
    """A note as one member sees it in a version: `fate` is what became of its paragraph since it was left, None in the
    version that it was left on; `quoted` is the paragraph where it is gone; `seen` counts its decisions."""

    note: PaperNote
    html: SafeString
    fate: Fate | None
    replies: tuple[ShownReply, ...]
    decisions: tuple[PaperDecision, ...]
    may_reply: bool
    may_withdraw: bool
    may_change: bool
    may_decide: bool
    texts_before: tuple[TextBefore, ...] = ()
    quoted: SafeString | str = ""

    @property
    def decision(self) -> PaperDecision | None:
        """The one that stands."""
        return self.decisions[-1] if self.decisions else None

    @property
    def seen(self) -> int:
        return len(self.decisions)

    @property
    def is_withdrawn(self) -> bool:
        """Whether its author, who alone still sees it, took it back."""
        return self.note.withdrawn_at is not None

    @property
    def is_for_writers(self) -> bool:
        return self.note.audience == Audience.WRITER

    @property
    def is_answered(self) -> bool:
        """Whether what it says can be corrected alone."""
        return bool(self.decisions) or any(each.reply.author_id != self.note.author_id for each in self.replies)


@dataclass(frozen=True, slots=True)
class ShownParagraph:
    """A paragraph of a version, by its number from 1, with its first words and its notes."""

    number: int
    opening: str
    html: SafeString
    notes: tuple[ShownNote, ...]


@dataclass(frozen=True, slots=True)
class ShownPaper:
    """A version of a paper, and the notes whose paragraphs are gone in it."""

    paper: WorldPaper
    version: PaperVersion
    paragraphs: tuple[ShownParagraph, ...]
    gone: tuple[ShownNote, ...]


def show_paper(member: Member, paper: WorldPaper, version: PaperVersion) -> ShownPaper:
    """A version with the notes that the member may read, and their own that they took back, in five queries however
    many there are, one more where some were corrected."""
    notes: dict[int, list[ShownNote]] = defaultdict(list)
    addresses = picture_addresses(paper)
    for at, note in _notes(member, paper, version, addresses):
        notes[at].append(note)
    texts = (render_paragraph(text, addresses) for text in paragraphs_of(version.text))
    paragraphs = tuple(
        ShownParagraph(number, _opening(html), html, tuple(notes[number])) for number, html in enumerate(texts, 1)
    )
    return ShownPaper(paper, version, paragraphs, tuple(notes[0]))


def _opening(html: SafeString) -> str:
    return Truncator(words_read(html)).words(OPENING, truncate=" …")


def picture_addresses(paper: WorldPaper) -> dict[str, str]:
    """The addresses of a paper's pictures by their names."""
    ids = [paper.production.public_id, paper.public_id]
    names = paper.pictures.values_list("name", flat=True)
    return {name: reverse("paper-picture", args=[*ids, name]) for name in names}


def _notes(
    member: Member, paper: WorldPaper, version: PaperVersion, pictures: Mapping[str, str]
) -> Iterable[tuple[int, ShownNote]]:
    """The notes that stand in a version with the numbers of their paragraphs, 0 for one that is gone."""
    theirs = Q(withdrawn_at=None) | Q(author=member)
    visible = PaperNote.objects.visible_to(member).filter(theirs).telling_who_reads_alone()
    found = list(
        visible.filter(version__paper=paper, version__number__lte=version.number).select_related(
            "author__person", "version"
        )
    )
    keys = [note.pk for note in found]
    places = {place.note_id: place for place in PaperPlace.objects.filter(version=version, note__in=keys)}
    replies: dict[int, list[ShownReply]] = defaultdict(list)
    said = PaperReply.objects.visible_to(member).filter(note__in=keys, withdrawn_at=None)
    for reply in said.select_related("author__person"):
        shown = ShownReply(reply, render_markdown(reply.body), may_withdraw(member, reply))
        replies[reply.note_id].append(shown)
    decisions: dict[int, list[PaperDecision]] = defaultdict(list)
    for decision in PaperDecision.objects.filter(note__in=keys).select_related("decided_by__person"):
        decisions[decision.note_id].append(decision)
    before = _texts_before(found)
    stands = paper.withdrawn_at is None
    for note in found:
        place = places.get(note.pk)
        at = note.paragraph if place is None else place.paragraph or 0
        yield (
            at,
            ShownNote(
                note=note,
                html=render_markdown(note.body),
                fate=None if place is None else Fate(place.fate),
                replies=tuple(replies[note.pk]),
                decisions=tuple(decisions[note.pk]),
                may_reply=stands and may_join_thread(member, note),
                may_withdraw=may_withdraw(member, note),
                may_change=stands and may_withdraw(member, note),
                may_decide=stands and may(member, Deed.DECIDE),
                texts_before=tuple(before[note.pk]),
                quoted="" if at else render_paragraph(note.quoted, pictures),
            ),
        )


def _texts_before(notes: Sequence[PaperNote]) -> dict[int, list[TextBefore]]:
    """The texts that notes were answered by and have no longer, oldest first, by the note's key."""
    changed = [note.pk for note in notes if note.text_number > 1]
    found: dict[int, list[TextBefore]] = defaultdict(list)
    for text in EarlierPaperText.objects.filter(note__in=changed, was_answered=True) if changed else ():
        found[text.note_id].append(TextBefore(render_markdown(text.body), text.replaced_at))
    return found
