"""Change sheets: the changed scenes that concern a department or a character, and why each does.

A sheet is made to be handed on. So it tells what prints, to writers too: no note inside the script, nothing taken out.
The notes on it are those that its reader may read.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.changes.reading_order import changes_between, weigh_changes
from review.changes.reasons import Reason, character_reasons, department_reasons, fate_reason
from review.changes.recipients import Recipient, characters_between, departments
from review.changes.scene_changes import QUIET, ChangeRow, RowMark, SceneChange
from review.drafts.scripts import compare_drafts
from review.kept import kept
from review.kept_beyond import kept_beyond
from review.notes.models import sense_of_audiences
from review.people.models import Department
from screenplay.comparing import SceneFateKind
from screenplay.next_draft import Change, ChangedScene, concerns, presences

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from review.changes.notes_at_changes import NoteAcrossDrafts
    from review.changes.scene_changes import Changes
    from review.drafts.models import Draft, PagesKey
    from review.people.models import Member
    from screenplay.breakdown import PlaceNames
    from screenplay.comparing import Comparison, Rename
    from screenplay.next_draft import Presence, SceneConcerns


@dataclass(frozen=True, slots=True)
class SheetEntry:
    """A changed scene on a sheet: why it is there, its changed lines, and the notes that stand in it.

    `is_close` says that what changed in it is of concern, and not only what it had before and still has: `brief` then
    tells that in a few words.
    """

    scene: SceneChange
    reasons: tuple[str, ...]
    notes: tuple[NoteAcrossDrafts, ...]
    is_close: bool
    brief: str

    @property
    def rows(self) -> list[ChangeRow]:
        heading = [self.scene.heading] if self.scene.heading else []
        return [row for row in (*heading, *self.scene.rows) if row.mark not in QUIET]

    @property
    def is_whole(self) -> bool:
        """Whether the whole scene came or went, so that all of its lines did."""
        return self.scene.fate in {SceneFateKind.ADDED, SceneFateKind.CUT}

    @property
    def page_words(self) -> str:
        """The pages it is on, such as "page 4, before on page 3"."""
        before = self.scene.old.page_label if self.scene.old else ""
        after = self.scene.new.page_label if self.scene.new else ""
        if not after:
            return f"was on page {before}" if before else ""
        return f"page {after}, before on page {before}" if before and before != after else f"page {after}"


@dataclass(frozen=True, slots=True)
class ChangeSheet:
    """Somebody's changed scenes, in the order of the new draft, and the names that changed throughout, whosever."""

    whose: Recipient
    entries: tuple[SheetEntry, ...]
    renames: tuple[Rename, ...] = ()

    @property
    def has_new_name(self) -> bool:
        """Whether it is a character's who has another name now."""
        return any(rename.kind == "character" and self.whose.is_named(rename.new) for rename in self.renames)

    def sense_of_audiences(self, *, for_writers_too: bool) -> str:
        """What it says of notes for the writer's eyes only."""
        audiences = [each.note.audience for entry in self.entries for each in entry.notes]
        return sense_of_audiences(audiences, for_writers_too=for_writers_too)

    @property
    def close(self) -> list[SheetEntry]:
        return [entry for entry in self.entries if entry.is_close]

    @property
    def extent(self) -> str:
        """How much changed that is of concern, such as "2 scenes"; the lines before the first scene are no scene."""
        scenes = len([entry for entry in self.close if not entry.scene.is_lead_in])
        counted = "1 scene" if scenes == 1 else f"{scenes} scenes"
        if scenes == len(self.close):
            return counted
        return f"{counted} and the lines before the first" if scenes else "the lines before the first scene"

    @property
    def others(self) -> list[SheetEntry]:
        return [entry for entry in self.entries if not entry.is_close]


@dataclass(frozen=True, slots=True)
class _Basis:
    """What the sheets of two drafts are made of, the notes apart."""

    changes: Changes
    scenes: tuple[tuple[SceneChange, SceneConcerns], ...]
    characters: tuple[Recipient, ...]
    presences: Mapping[str, Sequence[Presence | None]]
    old_scene_of: tuple[int, ...]
    new_scene_of: tuple[int, ...]


def characters(old: Draft, new: Draft) -> tuple[Recipient, ...]:
    """Those who speak in either draft, in the order of the new one's, most words first."""
    return _basis(*_basis_keys(old, new)).characters


def everyone(old: Draft, new: Draft) -> list[Recipient]:
    """Whom there is a sheet for."""
    return [*departments(), *characters(old, new)]


def whose_of(member: Member, old: Draft, new: Draft) -> Recipient:
    """Whose sheet is the member's own: their character's, if they play one who speaks, or their department's."""
    theirs = (each for each in characters(old, new) if each.is_called(member.character))
    return next(theirs, None) or next(each for each in departments() if each.department == member.department)


def change_sheet(
    whose: Recipient, old: Draft, new: Draft, notes: Iterable[NoteAcrossDrafts], reader: Member | None = None
) -> ChangeSheet:
    """Somebody's sheet with these notes on it, those of them that stand in its scenes; the reader's own are told as
    theirs."""
    basis = _basis(*_basis_keys(old, new))
    return _sheet(whose, basis, _by_scene(notes, basis), reader)


def change_sheets(old: Draft, new: Draft, notes: Iterable[NoteAcrossDrafts]) -> list[ChangeSheet]:
    """All sheets, for departments and then for characters."""
    basis = _basis(*_basis_keys(old, new))
    by_scene = _by_scene(notes, basis)
    return [_sheet(whose, basis, by_scene) for whose in (*departments(), *basis.characters)]


def _weigh(basis: _Basis) -> int:
    return weigh_changes(basis.changes)


def are_worked_out(old: Draft, new: Draft) -> bool:
    """Whether what all sheets come from is there to be had."""
    return _work_out.is_kept(*_basis_keys(old, new))


def _basis_keys(old: Draft, new: Draft) -> tuple[PagesKey, PagesKey, PlaceNames]:
    """What the basis of the sheets follows from."""
    return old.pages_key, new.pages_key, new.production.names_of_places.merged_alone


@kept(_weigh)
def _basis(old: PagesKey, new: PagesKey, names: PlaceNames) -> _Basis:
    return _work_out(old, new, names)


@kept_beyond
def _work_out(old: PagesKey, new: PagesKey, names: PlaceNames) -> _Basis:
    comparison = compare_drafts(old.draft, new.draft)
    changes = changes_between(old.draft, new.draft, with_source=False)
    told = changes.told_scenes
    changed = [_changed(scene, comparison) for scene in told]
    people = characters_between(comparison, new.draft.production.names)
    return _Basis(
        changes=changes,
        scenes=tuple(zip(told, concerns(comparison, changed, names), strict=True)),
        characters=people,
        presences={each.slug: presences(comparison, changed, each.names) for each in people},
        old_scene_of=comparison.old.scene_of,
        new_scene_of=comparison.new.scene_of,
    )


def _changed(scene: SceneChange, comparison: Comparison) -> ChangedScene:
    heading = [scene.heading] if scene.heading else []
    rows = [row for row in (*heading, *scene.rows) if row.mark not in QUIET]
    return ChangedScene(
        old=scene.old.ordinal if scene.old else (0 if scene.is_lead_in else None),
        new=scene.new.ordinal if scene.new else (0 if scene.is_lead_in else None),
        changes=tuple(_change(row, comparison) for row in rows),
        joined=tuple(each.ordinal for each in scene.joined),
        split_into=tuple(each.ordinal for each in scene.split_into),
    )


def _change(row: ChangeRow, comparison: Comparison) -> Change:
    """What changed in a row: its words, which came, went or changed, or are of another kind now, as a caution looks for
    them; or names alone that changed throughout."""
    is_of_names = row.mark == RowMark.REWORDED and bool(row.old) and comparison.renamed.issuperset(row.old)
    is_of_another_kind = any(comparison.old.kinds[line - 1] is not row.kind for line in row.old)
    is_of_words = is_of_another_kind or (row.mark != RowMark.SET and not is_of_names)
    return Change(row.old, row.new, is_of_words, is_of_names)


def _sheet(
    whose: Recipient,
    basis: _Basis,
    notes: Mapping[tuple[str, int], Sequence[NoteAcrossDrafts]],
    reader: Member | None = None,
) -> ChangeSheet:
    entries = (
        _entry(whose, at, scene, concern, _notes_in(scene, notes), basis, reader)
        for at, (scene, concern) in enumerate(basis.scenes)
    )
    return ChangeSheet(whose, tuple(entry for entry in entries if entry), basis.changes.renames)


def _entry(
    whose: Recipient,
    at: int,
    scene: SceneChange,
    concern: SceneConcerns,
    found: list[NoteAcrossDrafts],
    basis: _Basis,
    reader: Member | None,
) -> SheetEntry | None:
    """The scene on the sheet, None where it does not concern whom the sheet is for."""
    theirs = [note for note in found if whose.wrote(note)]
    is_listed = bool(theirs) or whose.has_everything
    reasons = _reasons(whose, scene, concern, basis, at, is_listed=is_listed)
    if not (reasons or is_listed):
        return None
    told = [fate_reason(scene), *(reason.text for reason in reasons), *_note_reasons(whose, theirs, reader)]
    others = [note for note in found if not whose.wrote(note) and _is_of_the_change(note, basis.changes)]
    is_close = is_listed or any(reason.is_about_change for reason in reasons)
    brief = "; ".join(reason.brief for reason in reasons if reason.brief)
    return SheetEntry(scene, tuple(filter(None, told)), (*theirs, *others), is_close, brief[:1].upper() + brief[1:])


def _reasons(
    whose: Recipient, scene: SceneChange, concern: SceneConcerns, basis: _Basis, at: int, *, is_listed: bool
) -> list[Reason]:
    if whose.department:
        acts = list(_cast_changes(basis, at)) if whose.department == Department.CAST else []
        is_listed = is_listed or bool(acts)
        return [*acts, *department_reasons(Department(whose.department), scene, concern, is_listed=is_listed)]
    return character_reasons(whose.name, scene, concern, basis.presences[whose.slug][at], is_listed=is_listed)


def _cast_changes(basis: _Basis, at: int) -> Iterator[Reason]:
    """Whose speeches changed in a scene, and whom changed action names: the cast are told of all, for nobody may have
    said yet whom they play."""
    found = [(each.name, presence) for each in basis.characters if (presence := basis.presences[each.slug][at])]
    if names := [name for name, presence in found if presence.speeches]:
        yield Reason(f"Speeches changed: {', '.join(names)}.")
    if names := [name for name, presence in found if presence.acts]:
        yield Reason(f"Named in changed action: {', '.join(names)}.")


def _note_reasons(whose: Recipient, notes: Sequence[NoteAcrossDrafts], reader: Member | None) -> Iterator[str]:
    """How many of the notes are whose: the reader's own, those of the department or of who plays the character, and
    those about the character."""
    own = [note for note in notes if reader and note.note.is_of(reader)]
    others = [note for note in notes if note not in own]
    if own:
        yield "One of your notes." if len(own) == 1 else f"{len(own)} of your notes."
    if whose.department:
        yield from _counted(others, f"from {whose.name}")
        return
    played = [note for note in others if whose.is_called(note.note.author.character)]
    players = dict.fromkeys(note.note.author_name for note in played)
    yield from _counted(played, f"from {' and '.join(players)}")
    yield from _counted([note for note in others if note not in played], f"about {whose.name}")


def _counted(notes: Sequence[NoteAcrossDrafts], which: str) -> Iterator[str]:
    if notes:
        yield f"One note {which}." if len(notes) == 1 else f"{len(notes)} notes {which}."


def _is_of_the_change(note: NoteAcrossDrafts, changes: Changes) -> bool:
    return bool(note.answered_in or (note.was and not changes.changed_lines.isdisjoint(note.was)))


def _by_scene(notes: Iterable[NoteAcrossDrafts], basis: _Basis) -> dict[tuple[str, int], list[NoteAcrossDrafts]]:
    """The notes by the scene they stand in: of the new draft, or of the old where their lines are gone."""
    by_scene: dict[tuple[str, int], list[NoteAcrossDrafts]] = defaultdict(list)
    for note in notes:
        if note.now:
            by_scene["new", basis.new_scene_of[note.now.start - 1]].append(note)
        elif note.was:
            by_scene["old", basis.old_scene_of[note.was.start - 1]].append(note)
    return by_scene


def _notes_in(
    scene: SceneChange, notes: Mapping[tuple[str, int], Sequence[NoteAcrossDrafts]]
) -> list[NoteAcrossDrafts]:
    found: list[NoteAcrossDrafts] = []
    if scene.new or scene.is_lead_in:
        found += notes.get(("new", scene.new.ordinal if scene.new else 0), ())
    if scene.old or scene.is_lead_in:
        found += notes.get(("old", scene.old.ordinal if scene.old else 0), ())
    return [*found, *(note for each in scene.joined for note in notes.get(("old", each.ordinal), ()))]
