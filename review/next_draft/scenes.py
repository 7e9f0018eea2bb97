"""The scenes of a working draft as its screens show them: what each holds, where it stands, and the notes on it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from review.cards.note_cards import note_cards
from review.decisions.in_force import accepted_and_not_written_in, undecided
from review.drafts.scripts import read_script
from review.notes.models import Note
from review.notes.then_and_now import lines_then_and_now
from review.rewriting.models import SceneText
from screenplay import parse
from screenplay.fountain import plain, split_lines
from screenplay.next_draft import texts_by_scene
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingScene
    from review.rewriting.working_pages import WorkingPages
    from screenplay.script import Scene

_BLANK_LINES = re.compile(r"\n{3,}")
FIRST = "first"  # in the place of a scene's key: before all scenes
LEAD = "Before the first scene"
NO_HEADING = "Without a heading"


@dataclass(frozen=True, slots=True)
class NotesOnScene:
    """The notes on one scene, by their keys: those nobody has decided, and those accepted that no draft answers."""

    open: tuple[int, ...] = ()
    accepted: tuple[int, ...] = ()

    def __len__(self) -> int:
        return len(self.open) + len(self.accepted)


@dataclass(frozen=True, slots=True)
class SceneRow:
    """A working scene: `scenes` are those that its text holds, usually one, and `page` that on which it begins.

    `state` is "cut", "new", "changed" or "", as it was in the draft that this was begun from, and "gone" for one that
    is cut and was not in it. `omitted` is the locked number that stays as OMITTED in the place of one that is cut. `up`
    and `down` are the scenes that it would stand behind one place before and one after: `FIRST` for the beginning, ""
    for none.
    """

    scene: WorkingScene
    scenes: tuple[Scene, ...]
    name: str
    page_label: str
    eighths: int
    state: str
    notes: NotesOnScene
    omitted: str = ""
    up: str = ""
    down: str = ""

    @property
    def label(self) -> str:
        """What it is called in a list of scenes to choose from."""
        return f"{self.number} {self.name}".strip()

    @property
    def may_stand_before(self) -> bool:
        """Whether another scene can be put behind it by its name."""
        return not self.is_cut and not self.is_lead

    @property
    def is_cut(self) -> bool:
        """Whether its words are not in the text, and can be put back."""
        return self.scene.cut_at is not None

    @property
    def is_touched(self) -> bool:
        """Whether it is a scene that is not as it was in the draft that this was begun from."""
        return self.state not in {"", "gone"} and not self.is_lead

    @property
    def number(self) -> str:
        return (self.scenes[0].number or str(self.scenes[0].ordinal)) if self.scenes else self.omitted

    @property
    def is_lead(self) -> bool:
        return self.scene.ordinal == 0

    @property
    def further(self) -> int:
        """How many more scenes than one its text holds."""
        return max(len(self.scenes) - 1, 0)


def working_scene_rows(member: Member, pages: WorkingPages, draft: Draft) -> list[SceneRow]:
    """Every scene of a working draft, cut ones too, in order; `draft` is the current one, which the notes stand in.

    As many queries, however many scenes and notes there are.
    """
    on_scenes = notes_by_scene(member, pages, draft)
    began_as = _texts_begun_with(pages)
    omitted = _omitted_numbers(pages, began_as)
    rows = [
        SceneRow(
            scene=scene,
            scenes=(found := pages.scenes_in(scene)),
            name=name_of(scene, found[0].heading if found else "", began_as.get(scene.pk, "")),
            page_label=pages.page_of(scene),
            eighths=sum(each.eighths for each in found),
            state=_state(scene, began_as),
            notes=on_scenes.get(scene.pk, NotesOnScene()),
            omitted=omitted.get(scene.pk, ""),
        )
        for scene in pages.scenes
    ]
    return _with_neighbours(rows)


def _with_neighbours(rows: Sequence[SceneRow]) -> list[SceneRow]:
    """The rows, each with where it would stand one place before and one after."""
    keys = [row.scene.public_id for row in rows if row.may_stand_before]
    behind = [FIRST, *keys]
    ups = dict(zip(keys[1:], behind, strict=False))
    downs = dict(pairwise(keys))
    return [replace(row, up=ups.get(row.scene.public_id, ""), down=downs.get(row.scene.public_id, "")) for row in rows]


def scene_called(rows: Sequence[SceneRow], label: str) -> WorkingScene | None:
    """The one scene that a label or a scene number means; None where there is none, or more than one."""
    wanted = " ".join(label.split()).casefold()
    for names in ([row.label for row in rows], [row.number for row in rows]):
        found = [
            row.scene
            for row, name in zip(rows, names, strict=True)
            if row.may_stand_before and wanted and " ".join(name.split()).casefold() == wanted
        ]
        if found:
            return found[0] if len(found) == 1 else None
    return None


def notes_by_scene(member: Member, pages: WorkingPages, draft: Draft) -> dict[int, NotesOnScene]:
    """The open and the accepted notes that stand on each scene, by the scene's key; three queries."""
    standing = Note.objects.visible_to(member).not_withdrawn()
    accepted = list(accepted_and_not_written_in(standing))
    waiting = list(undecided(standing))
    followed = lines_then_and_now([*accepted, *waiting], draft, pages.current_text(draft).following)
    lines = {key: found.line for key, found in followed.items() if found.line is not None}
    wanted = {note.pk for note in accepted}
    return {
        scene: NotesOnScene(
            open=tuple(key for key in keys if key not in wanted), accepted=tuple(key for key in keys if key in wanted)
        )
        for scene, keys in pages.notes_on(lines).items()
    }


def cards_on(member: Member, notes: NotesOnScene, draft: Draft) -> tuple[list[NoteCard], list[NoteCard]]:
    """The cards of the notes on a scene, accepted ones first and apart."""
    found = Note.objects.visible_to(member).filter(pk__in=(*notes.open, *notes.accepted))
    cards = {card.note.pk: card for card in note_cards(member, found, draft)}
    accepted, waiting = ([cards[key] for key in keys if key in cards] for keys in (notes.accepted, notes.open))
    return accepted, waiting


def _texts_begun_with(pages: WorkingPages) -> dict[int, str]:
    """What the scenes read in the draft that the working draft was begun from, by their keys; those that are not in it
    and were saved since, what they read at first."""
    texts = texts_by_scene(read_script(pages.working.begun_from))
    there = {scene.pk: scene.ordinal for scene in pages.scenes if scene.ordinal is not None}
    found = {key: texts[ordinal] for key, ordinal in there.items() if ordinal < len(texts)}
    return found | _texts_at_first([scene for scene in pages.scenes if scene.pk not in found])


def _texts_at_first(scenes: Sequence[WorkingScene]) -> dict[int, str]:
    """What the scenes that have been saved since read at first, by their keys."""
    saved = [scene.pk for scene in scenes if scene.version > 1]
    return dict(SceneText.objects.filter(scene__in=saved, version=1).values_list("scene_id", "text"))


def _omitted_numbers(pages: WorkingPages, began_as: Mapping[int, str]) -> dict[int, str]:
    """The OMITTED number of each scene that is cut, by the scene's key: known by the text it has in the last draft."""
    numbers: dict[str, list[str]] = {}
    for each in pages.numbers:
        if each.ordinal is None:
            numbers.setdefault(each.text, []).append(each.number)
    found: dict[int, str] = {}
    for scene in pages.scenes:
        if scene.cut_at is not None and (same := numbers.get(began_as.get(scene.pk, scene.text))):
            found[scene.pk] = same.pop(0)
    return found


def _state(scene: WorkingScene, began_as: Mapping[int, str]) -> str:
    if scene.cut_at is not None:
        return "cut" if scene.ordinal is not None else "gone"
    if scene.ordinal is None:
        return "new"
    return "changed" if _as_typed(began_as.get(scene.pk, scene.text)) != _as_typed(scene.text) else ""


def _as_typed(text: str) -> str:
    """A scene without the white space that prints nothing: behind its lines, and blank lines beyond one. A line of two
    spaces stays, for it is a blank line within a speech (F10)."""
    typed = [line.rstrip("\r\n") for line in split_lines(text)]
    lines = [line if line == "  " else line.rstrip() for line in typed]
    return _BLANK_LINES.sub("\n\n", "\n".join(lines)).strip("\n")


def name_of(scene: WorkingScene, heading: str, began_as: str | None = None) -> str:
    """What a working scene is called, by the first heading that its text holds, "" for none. One that was emptied is
    called by the heading of what it read at first, `began_as`, which is looked up where it is not given."""
    if heading:
        return heading
    if scene.ordinal == 0:
        return LEAD
    if first := _first_line(scene.text):
        return first
    if began_as is None:
        began_as = _texts_at_first([scene]).get(scene.pk, "")
    was = headings_of(parse(began_as))
    first = plain(was[0].printed) if was else _first_line(began_as)
    return f"Empty (was {first})" if first else NO_HEADING


def _first_line(text: str) -> str:
    """The first line with a word on it, "" where there is none."""
    return next((line.strip() for line in split_lines(text) if line.strip()), "")
