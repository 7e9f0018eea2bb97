"""What became of a script from one draft to the next, for people or, with --json, for programs.

The JSON is one object:

    lines       one for every line of the old draft that is not blank:
                old         its number, from 1
                new         the numbers of the lines it is on in the new draft: several if it was split, none if it is
                            gone
                fate        kept, moved, reworded, numbered, gone, joined or split; a heading is numbered whose scene
                            number alone came, went or is another, and its scene is kept if all of it is
    added       the lines of the new draft, not blank, that no line of the old is on
    scenes      in the new draft's order, cut ones behind the scene they stood behind:
                old, new    the scene's ordinal in each draft, null in the one that does not have it
                fate        kept, reworded, moved, renamed, split, merged, cut or added; a scene that was split is there
                            once for each of its parts, scenes that were merged once each; one is kept if all that
                            prints in it is
    renames     names that changed throughout:
                old, new    the name in each draft
                kind        character or place
    voices      everybody who speaks in either draft:
                old, new    their name in each, null in the one in which they say nothing
                changed     the figures that differ, by their names in inspect, each with the old and the new
    breakdown   every pair of `scenes` again:
                old, new    as there
                changed     what differs in what the scene needs, by the names of inspect, each with the old and the new
"""

from __future__ import annotations

import json
from collections import Counter
from typing import TYPE_CHECKING, Any

from review.management.figures_told import breakdown_changes_told, voice_changes_told
from review.management.script_files import ScriptCommand, UnreadableScript, read_script
from screenplay import compare, lay_out
from screenplay.comparing import LineFateKind, SceneFateKind
from screenplay.fountain import plain
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from django.core.management.base import CommandParser

    from screenplay import Screenplay
    from screenplay.comparing import Comparison, LineFate

WIDTH = 100
STANDARD_INPUT = "-"
UNTOLD = frozenset({LineFateKind.KEPT, LineFateKind.NUMBERED})  # the words are as they were
RENAMED, ADDED = "renamed", "added"  # a line in which a name alone changed; one that no old line is on
SORTS = (*LineFateKind, RENAMED, ADDED)
LEAD_IN = 0  # the place in a report of lines before the first scene


class Command(ScriptCommand):
    help = "Say what became of a script's scenes and lines from one draft to the next."
    description_of_json = __doc__

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("old", help="the earlier draft (.fountain or .txt), or - for standard input")
        parser.add_argument("new", help="the later draft, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print one JSON object instead of a report")

    def handle(self, *, old: str, new: str, **options: Any) -> None:
        comparison = compare(*read_drafts(old, new))
        self.stdout.write(json.dumps(contents(comparison)) if options["json"] else report(comparison))


def read_drafts(old: str, new: str) -> tuple[str, str]:
    """The texts of both. Raises UnreadableScript, also where both are to come from standard input."""
    if old == new == STANDARD_INPUT:
        raise UnreadableScript("Only one of the two drafts can come from standard input: name a file for the other.")
    return read_script(old), read_script(new)


def contents(comparison: Comparison) -> dict[str, Any]:
    """What the JSON has, as this module's description says."""
    old, new = lay_out(comparison.old), lay_out(comparison.new)
    return {
        "lines": [{"old": line.old, "new": list(line.new), "fate": str(line.fate)} for line in comparison.lines],
        "added": list(comparison.added),
        "scenes": [{"old": scene.old, "new": scene.new, "fate": str(scene.fate)} for scene in comparison.scenes],
        "renames": [{"old": one.old, "new": one.new, "kind": one.kind} for one in comparison.renames],
        "voices": voice_changes_told(old, new, comparison),
        "breakdown": breakdown_changes_told(old, new, comparison),
    }


def report(comparison: Comparison) -> str:
    """The same for people: counts, names, then the scenes, then the lines that changed, scene by scene."""
    if comparison.old.text == comparison.new.text:
        return "The two drafts are the same."
    return "\n".join(
        [
            _counts(comparison),
            *_titled("Renamed throughout", [f"{one.old} is now {one.new}" for one in comparison.renames]),
            *_titled("Scenes", _scene_rows(comparison)),
            *_changed_lines(comparison),
        ]
    )


def _counts(comparison: Comparison) -> str:
    printed, unseen = Counter[str](), Counter[str]()
    for line in comparison.lines:
        if not comparison.is_out_of_sight(line):
            is_renamed = line.fate is LineFateKind.REWORDED and line.old in comparison.renamed
            printed[RENAMED if is_renamed else line.fate] += 1
        elif line.fate not in UNTOLD:
            unseen[line.fate] += 1
            printed[LineFateKind.KEPT] += comparison.prints(line.new[0]) if line.new else 0
    for number in comparison.added:
        (printed if comparison.prints(number) else unseen)[ADDED] += 1
    never = f" Of what never prints: {_sorts(unseen)}." if unseen else ""
    return f"Lines: {_sorts(printed) or 'none'}.{never}"


def _sorts(counted: Counter[str]) -> str:
    return ", ".join(f"{counted[sort]:,} {sort}" for sort in SORTS if counted[sort])


def _titled(title: str, rows: list[str]) -> list[str]:
    return ["", title, *(f"  {row}" for row in rows)] if rows else []


def _scene_rows(comparison: Comparison) -> list[str]:
    headings = _headings(comparison.old), _headings(comparison.new)
    rows = []
    for scene in comparison.scenes:
        heading = headings[1][scene.new] if scene.new else headings[0][scene.old or 0]
        was = headings[0][scene.old] if scene.old and scene.new else heading
        changed = f" (was {was})" if was != heading else ""
        rows.append(f"{_ordinal(scene.old)} {_ordinal(scene.new)}  {scene.fate:<8}  {heading}{changed}")
    return [f"{'old':>4} {'new':>4}", *rows] if rows else []


def _ordinal(scene: int | None) -> str:
    return f"{scene or '–':>4}"


def _headings(script: Screenplay) -> Mapping[int, str]:
    return {LEAD_IN: "Before the first scene"} | {
        ordinal: plain(heading.printed) for ordinal, heading in enumerate(headings_of(script), 1)
    }


def _changed_lines(comparison: Comparison) -> Iterator[str]:
    """Lines whose words are not as they were, under the scene they are in now, gone ones under the scene they were in.

    A line that only moved with its scene, or only has a name that changed throughout, is not told again.
    """
    of_new = _scenes_of_cut_lines(comparison)
    moved_scenes = {(scene.old, scene.new) for scene in comparison.scenes if scene.is_moved}
    by_scene: dict[tuple[int, int], list[tuple[int, str]]] = {}
    for line in comparison.lines:
        if line.fate in UNTOLD or line.old in comparison.renamed:
            continue
        was = comparison.old.scene_of[line.old - 1]
        place = (comparison.new.scene_of[line.new[0] - 1], LEAD_IN) if line.new else of_new[was]
        if line.fate is LineFateKind.MOVED and (was, place[0]) in moved_scenes:
            continue
        by_scene.setdefault(place, []).append((line.new[0] if line.new else line.old, _changed(comparison, line)))
    for number in comparison.added:
        place = (comparison.new.scene_of[number - 1], LEAD_IN)
        row = f"{'':>5} {number:>5}  added     {_text(comparison.new, number)}"
        by_scene.setdefault(place, []).append((number, row))
    headings = _headings(comparison.old), _headings(comparison.new)
    for (now, cut), rows in sorted(by_scene.items()):
        heading = f"{headings[0][cut]} (cut)" if cut else headings[1][now]
        yield from ("", heading, *(f"  {row}" for _, row in sorted(rows, key=lambda row: row[0])))


def _scenes_of_cut_lines(comparison: Comparison) -> Mapping[int, tuple[int, int]]:
    """For each old scene, where its lost lines are told: under (new scene, 0), or as (new scene before it, itself)."""
    places = {LEAD_IN: (LEAD_IN, LEAD_IN)}
    last = LEAD_IN
    for scene in comparison.scenes:
        last = scene.new or last
        if scene.old:
            places.setdefault(scene.old, (last, scene.old if scene.fate is SceneFateKind.CUT else LEAD_IN))
    return places


def _changed(comparison: Comparison, line: LineFate) -> str:
    numbers = ",".join(map(str, line.new)) or "–"
    start = f"{line.old:>5} {numbers:>5}  {line.fate:<8}  "
    before = _text(comparison.old, line.old)
    if line.fate is not LineFateKind.REWORDED:
        return start + before
    return f"{start}{before}\n{'':>25}now: {_text(comparison.new, line.new[0])}"


def _text(script: Screenplay, number: int) -> str:
    text = " ".join(script.source[number - 1].split())
    return text if len(text) <= WIDTH else text[: WIDTH - 1] + "…"
