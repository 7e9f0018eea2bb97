"""Where notes are shown: each at its lines, or with those that meet it there; what says much the same, together."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import chain
from typing import TYPE_CHECKING

from review.cards.meeting import sharing_lines
from review.notes.models import NoteKind, Subject
from review.notes_screen.shared_lines import LinesBeside

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from review.cards.note_card import NoteCard
    from review.cards.note_rows import NoteRow
    from review.decisions.accepting import Accepting
    from review.notes_screen.arrangement import GroupedRows, GroupName
    from review.notes_screen.shared_lines import SharedLines
    from screenplay import Screenplay


@dataclass(frozen=True, slots=True)
class AlikeNotes:
    """Undecided notes that say much the same, two at least, which a writer can decide in one go; `here` are those that
    are shown where that is proposed, while the others stand in other groups, on other pages, or are filtered out."""

    cards: tuple[NoteCard, ...]
    here: tuple[NoteCard, ...]

    @property
    def key(self) -> str:
        """What stands for them in the page: the first one's public id."""
        return self.here[0].note.public_id

    @property
    def accepting(self) -> Accepting:
        """What it means to accept them, which is the same for all."""
        return self.cards[0].accepting

    @property
    def wordings(self) -> frozenset[str]:
        return frozenset(card.note.wording for card in self.cards if card.note.wording is not None)

    @property
    def offers_one_wording(self) -> bool:
        """Whether whoever of them offers a wording offers the same, and it goes in."""
        fits = [card.offer.fit for card in self.cards if card.offer]
        return len(self.wordings) == 1 and all(fit is not None and fit.fits for fit in fits)

    @property
    def is_about_safety(self) -> bool:
        return any(card.kind == NoteKind.SAFETY for card in self.cards)


@dataclass(frozen=True, slots=True)
class NotesOnLines:
    """Notes that are shown beside the lines they are on: those that say much the same, set by set, and the others.
    `beside` are these lines, None where they are gone or not asked for. `elsewhere` are notes on the same lines that
    are shown in another group, as safety comes first."""

    alike: tuple[AlikeNotes, ...]
    others: tuple[NoteCard, ...]
    beside: SharedLines | None
    elsewhere: tuple[NoteRow, ...] = ()

    @property
    def cards(self) -> tuple[NoteCard, ...]:
        return (*chain.from_iterable(each.here for each in self.alike), *self.others)

    @property
    def authors(self) -> int:
        return len({card.author.pk for card in self.cards})

    @property
    def meets(self) -> bool:
        """Whether several notes have lines of the script in common here."""
        return (
            len(self.cards) > 1 and self.cards[0].subject != Subject.CHARACTER and self.cards[0].stands.at is not None
        )


@dataclass(frozen=True, slots=True)
class NoteGroup:
    """Notes under one name, as they stand on lines, in order."""

    name: GroupName
    on_lines: tuple[NotesOnLines, ...]

    @property
    def cards(self) -> list[NoteCard]:
        return [card for each in self.on_lines for card in each.cards]

    @property
    def first_line(self) -> int | None:
        """Where it begins in the draft shown, None where it does not follow the script."""
        if self.name.scene is not None:
            return self.name.scene.first_line
        at = self.cards[0].stands.at
        return at.first_line if self.name.character and at else None


def grouped_on_lines(
    groups: Iterable[GroupedRows],
    cards: Mapping[int, NoteCard],
    alike: Mapping[int, tuple[int, ...]],
    *,
    meeting: Sequence[Sequence[NoteRow]] | None,
    beside: Screenplay | None,
) -> list[NoteGroup]:
    """The notes of each group on their lines. `cards` holds each note's card by its key, those too that are of no group
    here and say much the same as one that is; `alike` has by a note's key the keys of all that do.

    `meeting` are all notes with lines in common, on other pages too: those of a group are shown as one, and of the
    others it is said there. With None each is by itself, but for what says much the same. What does is proposed where
    the first of it comes, once. `beside` is the script whose lines are shown next to them, None for a list without.
    """
    at_lines = {row.pk: rows for rows in meeting or () for row in rows}
    lines = LinesBeside(beside) if beside is not None else None
    proposed: set[tuple[int, ...]] = set()
    follows = meeting is not None
    return [
        NoteGroup(
            group.name,
            tuple(
                replace(each, elsewhere=_elsewhere(each, at_lines))
                for each in _on_lines(group, cards, lines, alike, proposed, meets_lines=follows)
            ),
        )
        for group in groups
    ]


def _elsewhere(shown: NotesOnLines, at_lines: Mapping[int, Sequence[NoteRow]]) -> tuple[NoteRow, ...]:
    here = [card.note.pk for card in shown.cards]
    meeting = {row.pk: row for key in here for row in at_lines.get(key, ())}
    return tuple(row for key, row in meeting.items() if key not in here)


def _on_lines(
    group: GroupedRows,
    cards: Mapping[int, NoteCard],
    lines: LinesBeside | None,
    alike: Mapping[int, tuple[int, ...]],
    proposed: set[tuple[int, ...]],
    *,
    meets_lines: bool,
) -> Iterator[NotesOnLines]:
    follows_script = meets_lines and not group.name.is_safety and not group.name.is_gone
    for keys in _meeting(group) if follows_script else _one_by_one(group.rows, alike):
        here = set(keys)
        sets = [each for each in dict.fromkeys(alike[key] for key in keys if key in alike) if each not in proposed]
        proposed.update(sets)
        grouped = here.intersection(chain.from_iterable(sets))
        others = tuple(cards[key] for key in keys if key not in grouped)
        shown = tuple(_alike_notes(each, cards, here) for each in sets)
        has_lines = lines is not None and cards[keys[0]].stands.at is not None
        yield NotesOnLines(shown, others, lines.of([cards[key] for key in keys]) if lines and has_lines else None)


def _alike_notes(keys: Sequence[int], cards: Mapping[int, NoteCard], here: set[int]) -> AlikeNotes:
    return AlikeNotes(tuple(cards[key] for key in keys), tuple(cards[key] for key in keys if key in here))


def _meeting(group: GroupedRows) -> list[list[int]]:
    """Those that share lines, and of a character all."""
    if group.name.character:
        return [[row.pk for row in group.rows]]
    return [[row.pk for row in rows] for rows in sharing_lines(group.rows)]


def _one_by_one(rows: Sequence[NoteRow], alike: Mapping[int, tuple[int, ...]]) -> list[list[int]]:
    """Each by itself, or with those of the group that say much the same where the first of them comes."""
    of_group = {row.pk for row in rows}
    done: set[int] = set()
    together: list[list[int]] = []
    for row in rows:
        if row.pk not in done:
            together.append([key for key in alike.get(row.pk, (row.pk,)) if key in of_group])
            done.update(together[-1])
    return together
