"""What writers do with world papers: put one up, and its next version; say whom it is for; withdraw it; add pictures.

Each is one logged transaction."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.findable.indexing import index_paper
from review.papers.following import follow
from review.papers.markdown import paragraphs_of, read_paragraphs
from review.papers.models import MOST_PICTURES, PaperPicture, PaperReaders, PaperVersion, WorldPaper
from review.papers.note_models import PaperNote, PaperPlace
from review.people.models import Department
from review.productions.models import lock_for
from review.records import mark_of, sent_before

if TYPE_CHECKING:
    import uuid

    from review.papers.pictures import CheckedPicture
    from review.people.models import Member

Verb = log.Act.Verb
HALF = 8  # characters of the mark of what was said of a paper
ELSEWHERE = "A paper is for members of its own production."


class NewVersionMeanwhile(Exception):
    """Raised where another version of a paper has gone up since its writer saw it."""


class PaperChangedMeanwhile(Exception):
    """Raised where others have given a paper another title, or other readers, than its writer saw: `standing`."""

    def __init__(self, standing: PaperAsked) -> None:
        super().__init__("The paper’s title, or whom it is for, was changed meanwhile.")
        self.standing = standing


class NameTaken(Exception):
    """Raised where a paper has a picture of a name already: what a version shows never changes."""


class TooManyPictures(Exception):
    """Raised where a paper has as many pictures as one may have."""


@dataclass(frozen=True, slots=True)
class PaperAsked:
    """What a writer says of a paper: its title, and whom it is for besides writers."""

    title: str
    for_everyone: bool
    departments: tuple[str, ...] = ()
    members: tuple[Member, ...] = ()

    @classmethod
    def of(cls, paper: WorldPaper) -> PaperAsked:
        """What was said of it, as it stands; whoever was removed since, or became a writer, is not named any more."""
        readers = list(paper.readers.select_related("member__person").order_by("pk"))
        named = (reader.member for reader in readers if reader.member)
        return cls(
            paper.title,
            paper.for_everyone,
            tuple(reader.department for reader in readers if reader.department),
            tuple(member for member in named if member.removed_at is None and not member.is_writer),
        )

    @property
    def told(self) -> dict[str, Any]:
        """The same for the log, whatever the order in which readers were named."""
        return {
            "title": self.title,
            "for_everyone": self.for_everyone,
            "departments": sorted(self.departments),
            "members": sorted(member.public_id for member in self.members),
        }

    @property
    def readers_in_words(self) -> str:
        """Whom it is for besides writers: “everyone”, or “Costume, Bo Finch”."""
        if self.for_everyone:
            return "everyone"
        named = [Department(each).label for each in self.departments] + [member.name for member in self.members]
        return ", ".join(named) or "nobody"

    @property
    def seen(self) -> str:
        """A mark of just this, half of it of the title and half of the readers: a form carries it, so that it shows on
        what it was based."""
        readers = {name: value for name, value in self.told.items() if name != "title"}
        return "".join(mark_of(half)[:HALF] for half in (self.title, readers))

    def over(self, standing: PaperAsked, seen: str) -> PaperAsked:
        """This, with the title, or the readers, that were left as they were `seen` as they stand by now."""
        left_title, left_readers = (mine == was for mine, was, _ in self._halves(standing, seen))
        readers = standing if left_readers else self
        title = standing.title if left_title else self.title
        return PaperAsked(title, readers.for_everyone, readers.departments, readers.members)

    def is_overtaken(self, standing: PaperAsked, seen: str) -> bool:
        """Whether others have changed, in another way, what this changes of what was `seen`."""
        return any(mine != was != stands != mine for mine, was, stands in self._halves(standing, seen))

    def based_on(self, standing: PaperAsked, seen: str) -> str:
        """The mark of what `over` these is based on: what was left, as it stands; what it changes, as it was seen."""
        return "".join(stands if mine == was else was for mine, was, stands in self._halves(standing, seen))

    def _halves(self, standing: PaperAsked, seen: str) -> list[tuple[str, str, str]]:
        halves = slice(HALF), slice(HALF, None)
        return [(self.seen[half], seen[half], standing.seen[half]) for half in halves]


@transaction.atomic
def put_up_paper(by: Member, asked: PaperAsked, text: str, form_id: uuid.UUID) -> WorldPaper:
    """Put up a paper, in its first version; the same form sent again finds the paper it made, and so does one that says
    the very same."""
    production = lock_for(by, Deed.WRITE_PAPERS)
    said = {"put_up_as": mark_of((asked.told, text))}
    own = WorldPaper.objects.filter(put_up_by=by)
    before = sent_before(said, own.filter(form_id=form_id), own.filter(withdrawn_at=None, **said))
    if before is not None:
        return before
    paper = WorldPaper(production=production, put_up_by=by, form_id=WorldPaper.unused(form_id), **said)
    _say(by, paper, asked)
    PaperVersion.objects.create(paper=paper, number=1, text=text, put_up_by=by)
    index_paper(production.pk, paper.pk, paper.title, read_paragraphs(text))
    told = {"title": paper.title, "version": 1, "after": asked.told}
    log.record(by.person, Verb.PUT_UP_PAPER, production, paper.public_id, **told)
    return paper


@transaction.atomic
def put_up_version(
    by: Member, paper: WorldPaper, asked: PaperAsked, text: str, seen: int, seen_asked: str
) -> PaperVersion:
    """Say anew whom a paper is for and, where its text is another, put up that as its next version: every note follows
    its paragraph into it.

    `seen` is the number of the version, and `seen_asked` the mark of what was said of the paper, as its writer began
    from them: a title, or readers, that they left as they were stay as they stand by now. Raises NewVersionMeanwhile
    where that version is not the latest any more, PaperChangedMeanwhile where others have changed what they change too.
    """
    production = lock_for(by, Deed.WRITE_PAPERS)
    refuse_elsewhere(by, paper)
    latest = PaperVersion.objects.filter(paper=paper).order_by("-number")[0]
    if latest.number != seen and latest.text != text:
        raise NewVersionMeanwhile
    paper.refresh_from_db(fields=["title", "for_everyone"])
    standing = PaperAsked.of(paper)
    if asked.is_overtaken(standing, seen_asked):
        raise PaperChangedMeanwhile(standing)
    asked = asked.over(standing, seen_asked)
    is_changed = asked.seen != standing.seen
    if is_changed:
        _say(by, paper, asked)
    index_paper(production.pk, paper.pk, paper.title, read_paragraphs(text))
    told = {"title": paper.title} | ({"before": standing.told, "after": asked.told} if is_changed else {})
    if latest.text == text:
        if is_changed:
            log.record(by.person, Verb.CHANGED_PAPER, production, paper.public_id, **told)
        return latest
    version = PaperVersion.objects.create(paper=paper, number=latest.number + 1, text=text, put_up_by=by)
    _carry(paper, version)
    log.record(by.person, Verb.PUT_UP_PAPER, production, paper.public_id, **told, version=version.number)
    return version


def _say(by: Member, paper: WorldPaper, asked: PaperAsked) -> None:
    if any(member.production_id != by.production_id for member in asked.members):
        raise PermissionDenied(ELSEWHERE)
    paper.title, paper.for_everyone = asked.title, asked.for_everyone
    paper.save()
    paper.readers.all().delete()
    PaperReaders.objects.bulk_create(
        [
            *(PaperReaders(paper=paper, department=department) for department in asked.departments),
            *(PaperReaders(paper=paper, member=member) for member in asked.members),
        ]
    )


def _carry(paper: WorldPaper, version: PaperVersion) -> None:
    """Give every note of the paper, withdrawn ones too, its place in a version that was just put up: that of its
    paragraph as it last stood. Each earlier version that has such a paragraph is compared once."""
    notes = list(PaperNote.objects.filter(version__paper=paper).select_related("version").defer("version__text"))
    stood = {note.pk: (note.version.number, note.paragraph) for note in notes}
    places = PaperPlace.objects.filter(version__paper=paper).order_by("version__number")
    for note_id, number, paragraph in places.values_list("note", "version__number", "paragraph"):
        if paragraph is not None:
            stood[note_id] = (number, paragraph)
    now = paragraphs_of(version.text)
    earlier = paper.versions.filter(number__in={number for number, _ in stood.values()})
    followed = {each.number: follow(paragraphs_of(each.text), now) for each in earlier}
    carried = []
    for note in notes:
        number, paragraph = stood[note.pk]
        carried.append(PaperPlace.of(note, version, followed[number][paragraph - 1]))
    PaperPlace.objects.bulk_create(carried)


@transaction.atomic
def withdraw_paper(by: Member, paper: WorldPaper) -> None:
    """Take a paper from its readers; it is kept, with all that was said on it. Doing it again changes nothing."""
    _withdraw(by, paper, Verb.WITHDREW_PAPER, withdrawn=True)


@transaction.atomic
def put_paper_back(by: Member, paper: WorldPaper) -> None:
    """Give a paper that was withdrawn back to its readers, with its notes. Doing it again changes nothing."""
    _withdraw(by, paper, Verb.PUT_PAPER_BACK, withdrawn=False)


def _withdraw(by: Member, paper: WorldPaper, verb: log.Act.Verb, *, withdrawn: bool) -> None:
    production = lock_for(by, Deed.WRITE_PAPERS)
    refuse_elsewhere(by, paper)
    moment = timezone.now() if withdrawn else None
    if WorldPaper.objects.filter(pk=paper.pk, withdrawn_at__isnull=withdrawn).update(withdrawn_at=moment):
        log.record(by.person, verb, production, paper.public_id, title=paper.title)
    paper.refresh_from_db(fields=["withdrawn_at"])


@transaction.atomic
def add_picture(by: Member, paper: WorldPaper, name: str, picture: CheckedPicture) -> PaperPicture:
    """Add a picture that the paper can show by its name. Raises NameTaken, TooManyPictures."""
    production = lock_for(by, Deed.WRITE_PAPERS)
    refuse_elsewhere(by, paper)
    names = set(paper.pictures.values_list("name", flat=True))
    if name in names:
        raise NameTaken
    if len(names) >= MOST_PICTURES:
        raise TooManyPictures
    added = PaperPicture.objects.create(
        paper=paper,
        name=name,
        content=picture.content,
        media_type=picture.media_type,
        width=picture.width,
        height=picture.height,
        put_up_by=by,
    )
    log.record(by.person, Verb.ADDED_PICTURE, production, paper.public_id, title=paper.title, name=name)
    return added
