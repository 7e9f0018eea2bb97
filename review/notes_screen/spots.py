"""Where notes are shown: each at its lines, or with those that meet it there; what says much the same, together."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

from review.cards.meeting import sharing_lines
from review.notes.models import NoteKind, Subject
from review.notes_screen.saying_alike import Saying, saying_alike, words_of
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
    """Undecided notes that say much the same, two at least, which a writer can decide in one go."""

    cards: tuple[NoteCard, ...]

    @property
    def key(self) -> str:
        """What stands for them in the page: the first one's public id."""
        return self.cards[0].note.public_id

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
class Spot:
    """Notes that are shown at one place: those that say much the same, set by set, and the others. `beside` are the
    lines they are on, None where these are gone or not asked for."""

    alike: tuple[AlikeNotes, ...]
    others: tuple[NoteCard, ...]
    beside: SharedLines | None

    @property
    def cards(self) -> tuple[NoteCard, ...]:
        return (*chain.from_iterable(each.cards for each in self.alike), *self.others)

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
    """Notes under one name, spot by spot."""

    name: GroupName
    spots: tuple[Spot, ...]

    @property
    def cards(self) -> list[NoteCard]:
        return [card for spot in self.spots for card in spot.cards]

    @property
    def first_line(self) -> int | None:
        """Where it begins in the draft shown, None where it does not follow the script."""
        if self.name.scene is not None:
            return self.name.scene.first_line
        at = self.cards[0].stands.at
        return at.first_line if self.name.character and at else None


def spots_of(
    groups: Iterable[GroupedRows], cards: Mapping[int, NoteCard], *, meets_lines: bool, beside: Screenplay | None
) -> list[NoteGroup]:
    """The notes of each group at their spots. `cards` holds each note's card by its key.

    `meets_lines` sets those with lines in common at one spot; without it each is at its own, but for what says much the
    same. `beside` is the script whose lines are shown next to them, None for a list without.
    """
    lines = LinesBeside(beside) if beside is not None else None
    return [NoteGroup(group.name, tuple(_spots(group, cards, lines, meets_lines=meets_lines))) for group in groups]


def _spots(
    group: GroupedRows, cards: Mapping[int, NoteCard], lines: LinesBeside | None, *, meets_lines: bool
) -> Iterator[Spot]:
    alike = {note: keys for keys in saying_alike(_sayings(group.rows, cards)) for note in keys}
    follows_script = meets_lines and not group.name.is_safety and not group.name.is_gone
    together = _meeting(group) if follows_script else _one_by_one(group.rows, alike)
    for keys in together:
        here = set(keys)
        sets = dict.fromkeys(alike[key] for key in keys if key in alike and here.issuperset(alike[key]))
        grouped = set(chain.from_iterable(sets))
        others = tuple(cards[key] for key in keys if key not in grouped)
        shown = [AlikeNotes(tuple(cards[key] for key in keys)) for keys in sets]
        on_lines = lines is not None and cards[keys[0]].stands.at is not None
        yield Spot(tuple(shown), others, lines.of([cards[key] for key in keys]) if lines and on_lines else None)


def _meeting(group: GroupedRows) -> list[list[int]]:
    """Those that share lines, and of a character all."""
    if group.name.character:
        return [[row.pk for row in group.rows]]
    return [[row.pk for row in rows] for rows in sharing_lines(group.rows)]


def _one_by_one(rows: Sequence[NoteRow], alike: Mapping[int, tuple[int, ...]]) -> list[list[int]]:
    """Each by itself, or with those that say much the same where the first of them comes."""
    done: set[int] = set()
    spots: list[list[int]] = []
    for row in rows:
        if row.pk not in done:
            spots.append(list(alike.get(row.pk, (row.pk,))))
            done.update(spots[-1])
    return spots


def _sayings(rows: Iterable[NoteRow], cards: Mapping[int, NoteCard]) -> Iterator[Saying]:
    """Of the notes that can be decided: apart is whoever may not read the same, and what is accepted otherwise."""
    for row in rows:
        card = cards[row.pk]
        if card.is_open and card.may.decide and row.first_line is not None and row.last_line is not None:
            yield Saying(
                note=row.pk,
                on=(row.subject, row.character),
                first_line=row.first_line,
                last_line=row.last_line,
                words=words_of(card.note.body, card.note.wording),
                apart=(card.note.audience, card.accepting.state),
            )
