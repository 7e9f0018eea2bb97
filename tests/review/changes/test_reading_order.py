"""The laws of setting out changes: no line of either draft is left out, and none is told twice."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import screenplay
from review import demo
from review.changes.reading_order import set_out
from review.changes.scene_changes import TOLD_MARKS, Changes, RowMark, SceneChange, Unchanged
from review.drafts.printed_lines import UNPRINTED
from screenplay import Kind
from screenplay.comparing import SceneFateKind
from screenplay.fountain import plain_text
from screenplay.next_draft import marks_between
from tests.screenplay.rewriting_cases import cases

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.changes.scene_changes import ChangeRow
    from screenplay import Screenplay
    from screenplay.comparing import Comparison
    from tests.screenplay.rewriting_cases import Case

DEMO = Path(demo.__file__).parent
FIRST = (DEMO / "first-draft.fountain").read_text(encoding="utf-8")
SECOND = (DEMO / "second-draft.fountain").read_text(encoding="utf-8")


def set_out_all(old: str, new: str, *, with_source: bool) -> Changes:
    return set_out_compared(screenplay.compare(old, new), with_source=with_source)


def set_out_compared(comparison: Comparison, *, with_source: bool) -> Changes:
    old, new = (screenplay.lay_out(draft).scenes for draft in (comparison.old, comparison.new))
    on_paper = set_out(comparison, old, new)
    return set_out(comparison, old, new, on_paper) if with_source else on_paper


def scenes_of(changes: Changes) -> Iterator[SceneChange]:
    for block in changes.blocks:
        if isinstance(block, Unchanged):
            yield from block.scenes
        else:
            yield block


def rows_of(changes: Changes) -> Iterator[ChangeRow]:
    for scene in scenes_of(changes):
        if scene.heading:
            yield scene.heading
        yield from scene.rows


def lines(script: Screenplay) -> list[int]:
    """The lines of a script that are not blank. What stands before the first scene is not told where it is the same."""
    return [number for number, line in enumerate(script.source, 1) if line.strip() and script.scene_of[number - 1]]


def rewrite(text: str, seed: int) -> str:
    """A script with paragraphs cut, added, moved and joined, by chance."""
    chance = random.Random(seed)
    kept: list[str] = []
    for paragraph in text.split("\n\n"):
        fate = chance.random()
        if fate < 0.08:
            continue
        if fate < 0.12:
            kept.insert(chance.randrange(len(kept) + 1), paragraph)
            continue
        kept.append(paragraph.replace(" the ", " some ", 1) if fate < 0.25 else paragraph)
        if fate > 0.95:
            kept.append(f"Somewhere a bell, {chance.random():.3f} of one.")
    return "\n\n".join(kept)


PAIRS = {
    "the demo": (FIRST, SECOND),
    "the demo backwards": (SECOND, FIRST),
    "the same": (FIRST, FIRST),
    "from nothing": ("", FIRST),
    "to nothing": (FIRST, ""),
    **{f"by chance {seed}": (FIRST, rewrite(FIRST, seed)) for seed in range(6)},
}


@dataclass(frozen=True)
class Pair:
    """Two drafts, how they compare, and what changed as it is set out for writers and for everyone else."""

    old: str
    new: str
    comparison: Comparison
    changes: Changes
    readers: Changes


@pytest.fixture(scope="module", params=PAIRS.values(), ids=list(PAIRS))
def pair(request: pytest.FixtureRequest) -> Pair:
    old, new = request.param
    comparison = screenplay.compare(old, new)
    writers, readers = (set_out_compared(comparison, with_source=with_source) for with_source in (True, False))
    return Pair(old, new, comparison, writers, readers)


def test_every_line_of_the_new_draft_is_told_once(pair: Pair) -> None:
    told = Counter(line for row in rows_of(pair.changes) for line in row.new)
    wanted = lines(pair.comparison.new)
    assert {line: told[line] for line in wanted} == dict.fromkeys(wanted, 1)


def test_every_line_of_the_old_draft_is_told_where_it_stands_or_stood(pair: Pair) -> None:
    rows = rows_of(pair.changes)
    where_it_is = Counter(line for row in rows if row.mark != RowMark.MOVED_AWAY for line in row.old)
    wanted = lines(pair.comparison.old)
    assert {line: where_it_is[line] for line in wanted} == dict.fromkeys(wanted, 1)


def test_a_line_that_moved_alone_is_told_at_both_ends(pair: Pair) -> None:
    changes = pair.changes
    moved = {mark: {line for row in rows_of(changes) if row.mark == mark for line in row.old} for mark in RowMark}
    assert moved[RowMark.MOVED_HERE] == moved[RowMark.MOVED_AWAY]


def test_the_lines_of_each_scene_stand_in_the_new_drafts_order(pair: Pair) -> None:
    changes = pair.changes
    for scene in scenes_of(changes):
        told = [line for row in scene.rows for line in row.new]
        assert told == sorted(told)


def test_every_scene_that_was_cut_added_or_moved_is_among_those_told_as_changed(
    pair: Pair,
) -> None:
    changes = pair.changes
    told = {(scene.old and scene.old.ordinal, scene.new and scene.new.ordinal) for scene in changes.told_scenes}
    for scene in pair.comparison.scenes:
        if scene.fate in {SceneFateKind.CUT, SceneFateKind.ADDED, SceneFateKind.MOVED}:
            assert (scene.old, scene.new) in told


def test_what_stands_beside_a_line_is_known_for_every_line_that_is_shown(pair: Pair) -> None:
    changes = pair.changes
    shown = {row.anchor for row in rows_of(changes)}
    assert shown | {*changes.new_anchors.values(), *changes.anchors.values()} <= changes.beside.keys()


def test_the_words_of_a_row_give_both_texts_back(pair: Pair) -> None:
    old_script, new_script = pair.comparison.old, pair.comparison.new
    for row in rows_of(pair.changes):
        if len(row.old) != 1 or len(row.new) != 1:
            continue
        before, after = "".join(word.text for word in row.before), "".join(word.text for word in row.after)
        assert before in plain_text(old_script.source[row.old[0] - 1])
        assert after in plain_text(new_script.source[row.new[0] - 1])


def test_an_anchor_is_never_used_twice(pair: Pair) -> None:
    changes = pair.changes
    anchors = Counter(row.anchor for row in rows_of(changes))
    anchors.update(scene.anchor for scene in scenes_of(changes) if scene.fate != "moved away")
    assert [anchor for anchor, times in anchors.items() if times > 1] == []


def test_a_reader_is_told_every_printed_line_once_and_no_other(pair: Pair) -> None:
    changes, new = pair.readers, pair.comparison.new
    kinds = new.kinds
    printing = [line for line in lines(new) if kinds[line - 1] not in UNPRINTED]
    told = Counter(line for row in rows_of(changes) for line in row.new)
    assert all(told[line] == 1 for line in printing)
    assert all(row.kind not in UNPRINTED for row in rows_of(changes))


def test_the_same_draft_has_nothing_to_tell() -> None:
    assert set_out_all(FIRST, FIRST, with_source=True).is_same


def tags(changes: Changes) -> Counter[str]:
    """How many scenes the list shows under each tag: of a scene that was split its first part alone."""
    shown = [block for block in changes.blocks if isinstance(block, SceneChange) and block.is_changed]
    told = (block for block in shown if block.fate and block.fate not in {"moved away", "kept"})
    first: dict[tuple[str, object], SceneChange] = {}
    for block in told:
        whole = block.old if block.fate == "split" else (block.old, block.new)
        for fate in (block.fate, *block.also):
            first.setdefault((fate, whole), block)
    return Counter(fate for fate, _ in first)


def test_the_totals_are_those_of_the_scenes_and_lines_that_are_shown(pair: Pair) -> None:
    writers, readers = ({mark: marks_of(each)[mark] for mark, _ in TOLD_MARKS} for each in (pair.changes, pair.readers))
    assert pair.readers.scenes == tags(pair.readers)
    assert {word: count for count, word in pair.readers.line_counts} == {
        word: readers[mark] for mark, word in TOLD_MARKS if readers[mark]
    }
    assert pair.changes.scenes == Counter({fate: count for fate, count in tags(pair.changes).items() if fate != "kept"})
    assert pair.changes.line_counts == pair.readers.line_counts
    assert sum(writers.values()) == sum(readers.values()) + pair.changes.unprinted


def marks_of(changes: Changes) -> Counter[str]:
    return Counter(row.mark.value for row in rows_of(changes))


def test_every_scene_that_is_shown_as_changed_is_in_a_total_but_what_stands_before_the_first(
    pair: Pair,
) -> None:
    changes = pair.changes
    for block in changes.told_scenes:
        is_scene = block.new is not None or block.old is not None
        assert (block.fate in changes.scenes) == (is_scene and block.fate != "kept")


def scenes(*names: str) -> str:
    told = "INT. {0} - DAY\n\nThe {0} has sixteen ropes.\n\nRain on {0}.\n\n"
    return "".join(told.format(name) for name in names)


SPLIT = scenes("SHED", "QUAY").replace("Rain on SHED.", "EXT. YARD - DAY\n\nRain on SHED.")
MERGED = scenes("SHED", "QUAY").replace("INT. QUAY - DAY\n\n", "")


@pytest.mark.parametrize(
    ("old", "new", "total", "shown"),
    [
        (scenes("SHED", "QUAY"), SPLIT, {"split": 1}, ["part 1 of 2", "part 2 of 2"]),
        (scenes("SHED", "QUAY"), MERGED, {"merged": 1}, ["from 2 scenes"]),
        (scenes("SHED"), "Fog.\n\n" + scenes("SHED"), {}, []),
        ("Fog.\n\n" + scenes("SHED"), scenes("SHED"), {}, []),
        ("Fog.\n\n" + scenes("SHED"), "Fog, thick.\n\n" + scenes("SHED", "QUAY"), {"added": 1}, []),
    ],
    ids=["a scene in two parts", "two in one", "lines before the first", "lines gone there", "both"],
)
def test_scenes_are_counted_once_and_what_stands_before_the_first_is_none(
    old: str, new: str, total: dict[str, int], shown: list[str]
) -> None:
    changes = set_out_all(old, new, with_source=True)
    assert changes.scenes == total
    assert [scene.share for scene in scenes_of(changes) if scene.share] == shown
    assert not changes.is_same
    assert all(each.old != 0 and each.new != 0 for each in screenplay.compare(old, new).scenes)


@pytest.mark.parametrize(
    ("new", "told", "total"),
    [
        (scenes("SHED", "QUAY", "BARN").replace("INT. QUAY", "INT. PIER"), "renamed in its heading", {"renamed": 1}),
        (
            scenes("SHED", "QUAY", "BARN").replace("INT. QUAY", "INT. PIER").replace("Rain on QUAY.", "Hail on QUAY."),
            "renamed in its heading, and reworded",
            {"renamed": 1, "reworded": 1},
        ),
        (
            scenes("QUAY", "BARN", "SHED").replace("Rain on SHED.", "Hail on SHED."),
            "moved, and reworded",
            {"moved": 1, "reworded": 1},
        ),
        (
            scenes("QUAY", "BARN", "SHED").replace("INT. SHED", "INT. HUT").replace("Rain on SHED.", "Hail on SHED."),
            "moved, renamed in its heading, and reworded",
            {"moved": 1, "renamed": 1, "reworded": 1},
        ),
    ],
    ids=["heading", "heading and lines", "moved with other lines", "moved under another heading with other lines"],
)
@pytest.mark.parametrize("with_source", [True, False])
def test_a_scene_is_told_and_counted_under_all_that_became_of_it(
    new: str, told: str, total: dict[str, int], with_source: bool
) -> None:
    changes = set_out_all(scenes("SHED", "QUAY", "BARN"), new, with_source=with_source)
    assert [scene.fates_told for scene in changes.told_scenes] == [told]
    assert changes.scenes == total


PARTED = scenes("BARN").replace("Rain on", "INT. LOFT - DAY\n\nRain on")


@pytest.mark.parametrize("with_source", [True, False])
def test_a_scene_that_moved_and_was_split_is_told_as_both_and_its_lines_as_they_are(with_source: bool) -> None:
    changes = set_out_all(scenes("SHED", "QUAY", "BARN"), PARTED + scenes("SHED", "QUAY"), with_source=with_source)
    assert [scene.fates_told for scene in changes.told_scenes] == ["moved, and split"] * 2
    assert [scene.share for scene in changes.told_scenes] == ["part 1 of 2", "part 2 of 2"]
    assert changes.scenes == {"split": 1, "moved": 1}
    [word] = (scene for scene in scenes_of(changes) if scene.fate == "moved away")
    assert (word.old and word.old.ordinal, word.new and word.new.ordinal) == (3, 1)
    assert all(scene.is_word_left for scene in changes.told_scenes)
    assert marks_of(changes) == {"same": 9, "added": 1}


def test_a_note_in_a_scene_under_another_heading_rewords_nothing() -> None:
    new = scenes("SHED", "QUAY", "BARN").replace("INT. QUAY", "INT. PIER").replace("QUAY.", "QUAY. [[Why?]]")
    changes = set_out_all(scenes("SHED", "QUAY", "BARN"), new, with_source=True)
    assert [scene.fates_told for scene in changes.told_scenes] == ["renamed in its heading"]


def test_a_scene_renamed_by_its_number_alone_is_not_shown_and_not_counted() -> None:
    changes = set_out_all(scenes("SHED"), scenes("SHED").replace("DAY\n", "DAY #7#\n"), with_source=True)
    assert changes.scenes == tags(changes)


def untold(comparison: Comparison, changes: Changes) -> list[str]:
    """The lines that get an asterisk and are shown as nothing changed: not on a changed row, nor next to one that left,
    nor brought along with their whole scene, nor the heading of a scene that another went into."""
    rows = list(rows_of(changes))
    told = {line for scene in scenes_of(changes) if scene.joined and scene.heading for line in scene.heading.new}
    told |= {line for row in rows if row.mark != RowMark.SAME for line in row.new}
    for beside in (rows, rows[::-1]):
        told |= {line for left, row in pairwise(beside) if not left.new for line in row.new}
    told |= {line for fate in comparison.lines if fate.old in comparison.moved for line in fate.new}
    marked = marks_between(comparison).in_lines
    return [comparison.new.source[line - 1] for line in sorted(marked) if line not in told]


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_whatever_gets_an_asterisk_on_the_pages_is_shown_as_changed(case: Case) -> None:
    for old, new in ((case.before, case.after), (case.after, case.before)):
        comparison = screenplay.compare(old.text, new.text)
        assert untold(comparison, set_out_compared(comparison, with_source=False)) == []


def test_whatever_gets_an_asterisk_in_a_script_rewritten_by_chance_is_shown_as_changed(
    pair: Pair,
) -> None:
    assert untold(pair.comparison, pair.readers) == []


PARAGRAPHS = "INT. SHED - DAY\n\nThe tide is out. The rope is wet. Nobody comes.\n\nNELL\nIt is late.\n"


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (". The rope is wet. ", ".\n\nThe rope is wet.\n\n", "The tide is out. ¶ The rope is wet. ¶ Nobody comes."),
        ("NELL\nIt", "It", "It is late."),
    ],
)
def test_what_is_set_otherwise_is_shown_so_with_a_sentence_and_counted(old: str, new: str, words: str) -> None:
    after = PARAGRAPHS.replace(old, new)
    for before, later in ((PARAGRAPHS, after), (after, PARAGRAPHS)):
        changes = set_out_all(before, later, with_source=False)
        [row] = (row for row in rows_of(changes) if row.mark == RowMark.SET)
        assert "".join(each.text for each in row.words) == words
        assert row.remark
        assert (1, "set otherwise") in changes.line_counts
        assert changes.scenes == {"reworded": 1}


FOLDED = scenes("SHED", "QUAY").replace("INT. QUAY - DAY\n\n", "").replace("INT. SHED", "INT. QUAY")


@pytest.mark.parametrize("new", [FOLDED, MERGED], ids=["into the next scene", "into the one before"])
def test_the_lines_of_a_scene_that_went_into_another_are_shown_once_and_nobody_moved_them(new: str) -> None:
    changes = set_out_all(scenes("SHED", "QUAY"), new, with_source=True)
    marks = Counter(row.mark for row in rows_of(changes))
    assert marks == {RowMark.SAME: 5, RowMark.GONE: 1}
    [scene] = scenes_of(changes)
    assert scene.heading is not None
    assert scene.heading.new == (1,)
    assert scene.old is not None
    assert (scene.old.heading, [each.heading for each in scene.joined]) == (
        ("INT. QUAY - DAY", ["INT. SHED - DAY"]) if new == FOLDED else ("INT. SHED - DAY", ["INT. QUAY - DAY"])
    )
    [gone] = (row for row in rows_of(changes) if row.mark == RowMark.GONE)
    assert gone.remark == "What stood under it is part of this scene now."
    assert changes.line_counts == [(1, "gone")]


@pytest.mark.parametrize("old", [FOLDED, MERGED], ids=["from before its heading", "from behind its lines"])
def test_both_parts_of_a_scene_that_was_split_are_shown_and_nobody_moved_their_lines(old: str) -> None:
    changes = set_out_all(old, scenes("SHED", "QUAY"), with_source=True)
    assert Counter(row.mark for row in rows_of(changes)) == {RowMark.SAME: 5, RowMark.ADDED: 1}
    assert [(each.share, each.is_changed) for each in changes.told_scenes] == [
        ("part 1 of 2", True),
        ("part 2 of 2", True),
    ]
    assert changes.scenes == {"split": 1}
    assert changes.scene_counts == [(1, "split into 2")]
    first, second = changes.told_scenes
    assert (first.split_into, second.split_into) == ((second.new,), (first.new,))


@pytest.mark.parametrize(("to", "is_within"), [("Rain on SHED.", True), ("Rain on QUAY.", False)])
def test_a_line_that_moved_says_whether_it_is_in_its_scene_still(to: str, is_within: bool) -> None:
    line = "Two gulls fight over a crust of bread.\n\n"
    stood = f"DAY\n\n{line}The SHED"
    old = scenes("SHED", "QUAY").replace("DAY\n\nThe SHED", stood)
    new = old.replace(stood, "DAY\n\nThe SHED").replace(f"{to}\n", f"{to}\n\n{line}")
    moved = [row for row in rows_of(set_out_all(old, new, with_source=False)) if row.other]
    assert {row.mark for row in moved} == {RowMark.MOVED_HERE, RowMark.MOVED_AWAY}
    assert {row.other.is_within for row in moved if row.other} == {is_within}


def test_a_scene_that_was_added_is_part_of_no_other() -> None:
    [added] = set_out_all(scenes("SHED"), scenes("SHED", "QUAY"), with_source=True).told_scenes
    assert (added.fate, added.split_into, added.joined) == ("added", (), ())


def test_of_a_scene_that_went_into_another_in_part_its_heading_says_so() -> None:
    text = scenes("SHED", "QUAY").replace("Rain on SHED.", "Rain on SHED and on all of its ropes.\n\nA bell.")
    new = text.replace("INT. QUAY - DAY\n\n", "").replace("The QUAY has sixteen ropes.\n\n", "")
    [gone] = (
        row
        for row in rows_of(set_out_all(text, new, with_source=True))
        if row.kind == Kind.SCENE_HEADING and row.old and not row.new
    )
    assert gone.remark == "What is left of what stood under it is part of this scene now."
