"""What holds for the comparison of any two texts. Most laws are held to one comparison, dearer than they all are."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import compare, parse
from screenplay.comparing.comparison import Comparison, LineFateKind, Rename, SceneFateKind
from tests.screenplay.scripts import any_text, fountain_of

often = settings(max_examples=100)

TURNED = {
    SceneFateKind.CUT: SceneFateKind.ADDED,
    SceneFateKind.ADDED: SceneFateKind.CUT,
    SceneFateKind.SPLIT: SceneFateKind.MERGED,
    SceneFateKind.MERGED: SceneFateKind.SPLIT,
}


some_lines = fountain_of(160)
up_to_five = st.text("01234", max_size=5)


@st.composite
def two_drafts(draw: st.DrawFn) -> tuple[str, str]:
    """Two texts with stretches of lines in common, or nothing."""
    lines = draw(some_lines).splitlines(keepends=True)
    length = len(lines) // 5 + 1
    stretches = ["".join(lines[start : start + length]) for start in range(0, 5 * length, length)]
    old, new = ("".join(stretches[int(number)] for number in draw(up_to_five)) for _ in range(2))
    return old or draw(any_text), new or draw(any_text)


NAMES = ("KIT", "ABEL", "RHONA")
WORDS = ("Yes.", "No.", "What?", "Left.")
SAID = (
    "It was dark and the crate had no handle. I carried it all the way. Nobody came to help.",
    "There's a rule for fog. My father had it from his father. You whistle till something whistles back.",
    "I counted the crates at six. There were thirty-one, and I chalked it on the door.",
    "We sell them to the army. Soldiers don't read.",
)


@st.composite
def two_rewrites(draw: st.DrawFn) -> tuple[str, str]:
    """Speeches, some of them all but alike, and the same trimmed, broken up, joined, given to another or replaced."""
    before, after = ["INT. LAMP FACTORY - NIGHT"], ["INT. LAMP FACTORY - NIGHT"]
    for _ in range(draw(st.integers(1, 7))):
        name, text = draw(st.sampled_from(NAMES)), draw(st.sampled_from(WORDS + SAID))
        before.append(f"{name}\n{text}")
        after += draw(st.sampled_from(_rewritten(name, text, after[-1])))
        if after[-1].startswith("joined "):
            after[-2:] = [f"{after[-2]} {after[-1].removeprefix('joined ')}"]
    return "\n\n".join(before) + "\n", "\n\n".join(after) + "\n"


def _rewritten(name: str, text: str, before: str) -> list[list[str]]:
    first, *rest = text.replace(". ", ".\n").split("\n")
    last = rest[-1] if rest else first
    return [
        [f"{name}\n{text}"],
        [f"{name}\n{text}"],
        [],
        [f"{name}\n{first}"],
        [f"{name}\n{last}"],
        [f"{name}\n{text} Give it here. I will do it."],
        [f"{name}\n{first}", "A lamp goes out.", f"{name} (CONT'D)\n{' '.join(rest) or first}"],
        ["\n".join([name, first, *rest])],
        [f"{NAMES[0]}\n{text}"],
        [f"{name}\nSomething else altogether."],
        ["joined " + text] if "\n" in before else [text],
    ]


def pairs(comparison: Comparison) -> set[tuple[int, int]]:
    return {(line.old, new) for line in comparison.lines for new in line.new}


@often
@given(any_text)
@example("")
@example("\ufeff")
@example("MARA\nYes.\n\nMARA\nYes.\n")
def test_a_text_and_itself_are_kept_line_by_line(text: str) -> None:
    comparison = compare(text, text)

    numbers = [number for number, line in enumerate(comparison.old.source, 1) if line.strip()]
    assert [(line.old, line.new, line.fate) for line in comparison.lines] == [
        (number, (number,), LineFateKind.KEPT) for number in numbers
    ]
    assert comparison.added == ()
    assert comparison.renames == ()
    assert all(scene.old == scene.new and scene.fate is SceneFateKind.KEPT for scene in comparison.scenes)


def comparing_back_gives_the_inverse(there: Comparison, back: Comparison) -> None:
    assert pairs(back) == {(after, before) for before, after in pairs(there)}
    assert {(scene.old, scene.new, scene.fate) for scene in back.scenes} == {
        (scene.new, scene.old, TURNED.get(scene.fate, scene.fate)) for scene in there.scenes
    }
    assert set(back.renames) == {Rename(rename.new, rename.old, rename.kind) for rename in there.renames}


def every_line_of_both_is_told_and_none_twice(comparison: Comparison) -> None:
    old = [number for number, line in enumerate(comparison.old.source, 1) if line.strip()]
    new = {number for number, line in enumerate(comparison.new.source, 1) if line.strip()}
    assert [line.old for line in comparison.lines] == old
    reached = {number for _, number in pairs(comparison)}
    assert reached | set(comparison.added) == new
    assert not reached & set(comparison.added)


def fates_say_how_many_lines_share_a_place(comparison: Comparison) -> None:
    for line in comparison.lines:
        assert list(line.new) == sorted(set(line.new))
        assert (line.fate is LineFateKind.GONE) == (not line.new)
        assert (line.fate is LineFateKind.SPLIT) == (len(line.new) > 1)
    on = [new for line in comparison.lines for new in line.new if line.fate is not LineFateKind.SPLIT]
    for line in comparison.lines:
        if line.fate in {LineFateKind.KEPT, LineFateKind.MOVED, LineFateKind.REWORDED}:
            assert on.count(line.new[0]) == 1


def a_line_stands_on_several_or_with_another_only_where_it_was_split_or_joined(comparison: Comparison) -> None:
    lines_on = Counter(new for line in comparison.lines for new in line.new)
    for line in comparison.lines:
        is_alone = len(line.new) <= 1 and all(lines_on[new] == 1 for new in line.new)
        assert is_alone == (line.fate not in {LineFateKind.JOINED, LineFateKind.SPLIT})


@st.composite
def scenes_taken_apart(draw: st.DrawFn) -> tuple[str, str, dict[int, int]]:
    """Some scenes, and the same with headings deleted, scenes cut and scenes put under the next one's heading; with the
    ordinals, before and after, of those whose heading stands over all its lines."""
    before: list[str] = []
    after: list[str] = []
    stands: dict[int, int] = {}
    under_the_next: list[str] = []
    for ordinal in range(1, draw(st.integers(2, 6)) + 1):
        heading = f"INT. {draw(st.sampled_from(['CABIN', 'CELLAR', 'MILL']))} {ordinal} - DAY"
        lines = [
            f"{line} {'abcdefg'[ordinal]}{ordinal}." for line in draw(st.lists(st.sampled_from(SENTENCES), min_size=1))
        ]
        before += [heading, *lines]
        way = draw(st.sampled_from(["stands", "stands", "cut", "heading deleted", "under the next"]))
        if way == "stands":
            after += [heading, *under_the_next, *lines]
            stands[ordinal] = len(stands) + 1
        elif way == "under the next":
            under_the_next += lines
            continue
        elif way == "heading deleted" and stands:
            after += [*under_the_next, *lines]
        else:
            continue
        under_the_next = []
    return "\n\n".join(before) + "\n", "\n\n".join([*after, *under_the_next]) + "\n", stands


@often
@given(scenes_taken_apart())
def test_a_scene_that_stands_is_itself_whatever_became_of_others(drafts: tuple[str, str, dict[int, int]]) -> None:
    old, new, stands = drafts
    comparison = compare(old, new)

    assert comparison.same_headings == {after: before for before, after in stands.items()}
    told = {(scene.old, scene.new): scene.fate for scene in comparison.scenes}
    for pair in stands.items():
        assert told[pair] not in {SceneFateKind.RENAMED, SceneFateKind.MOVED}
    cut = {scene.old for scene in comparison.scenes if scene.fate is SceneFateKind.CUT}
    assert not cut & set(stands)


def kept_and_moved_lines_have_the_same_words_and_kept_ones_their_order(comparison: Comparison) -> None:
    kept = [line.new[0] for line in comparison.lines if line.fate is LineFateKind.KEPT]
    assert kept == sorted(kept)
    for line in comparison.lines:
        if line.fate in {LineFateKind.KEPT, LineFateKind.MOVED}:
            old, new = comparison.old.source[line.old - 1], comparison.new.source[line.new[0] - 1]
            assert old.split() == new.split()


def every_scene_of_both_is_told(comparison: Comparison) -> None:
    count_old, count_new = max(comparison.old.scene_of, default=0), max(comparison.new.scene_of, default=0)
    assert {scene.old for scene in comparison.scenes} - {None} == set(range(1, count_old + 1))
    assert {scene.new for scene in comparison.scenes} - {None} == set(range(1, count_new + 1))
    assert all((scene.fate is SceneFateKind.CUT) == (scene.new is None) for scene in comparison.scenes)
    assert all((scene.fate is SceneFateKind.ADDED) == (scene.old is None) for scene in comparison.scenes)


SENTENCES = tuple(
    f"{who} {does} {what} {where}."
    for who, does, what, where in zip(
        ("Mara", "The pilot", "A gull", "Jon", "Nobody", "The harbour master"),
        ("mends", "counts", "watches", "drops", "remembers", "paints"),
        (
            "the torn brown net",
            "nine crates of lamp oil",
            "an upturned dinghy",
            "his father's watch",
            "that song",
            "a bell",
        ),
        (
            "by one low lamp",
            "under the crane",
            "without any hurry",
            "through the grating",
            "at the slip",
            "for the third time",
        ),
        strict=True,
    )
)


@st.composite
def two_orders(draw: st.DrawFn) -> tuple[str, str]:
    """A scene and the same scene with its lines in another order, some of them cut and some reworded."""
    after = [
        line.replace(" the ", " her own ").replace(" a ", " one more ") if draw(st.booleans()) else line
        for line in draw(st.permutations(SENTENCES))
        if draw(st.integers(0, 5))
    ]
    heading = "INT. BOATHOUSE - NIGHT"
    return "\n\n".join([heading, *SENTENCES]) + "\n", "\n\n".join([heading, *after]) + "\n"


def lines_of_a_scene_cross_only_where_one_of_them_moved(comparison: Comparison) -> None:
    old, new = comparison.old.scene_of, comparison.new.scene_of
    stayed: dict[tuple[int, int], list[tuple[int, ...]]] = {}
    for line in comparison.lines:
        if line.new and line.old not in comparison.moved:
            stayed.setdefault((old[line.old - 1], new[line.new[0] - 1]), []).append(line.new)
    for places in stayed.values():
        for before, after in pairwise(places):
            assert before[-1] <= after[0]


def lines_with_the_fate_moved_are_among_those_that_moved(comparison: Comparison) -> None:
    fates = {line.old: line.fate for line in comparison.lines}
    assert {old for old, fate in fates.items() if fate is LineFateKind.MOVED} <= comparison.moved
    assert not {old for old, fate in fates.items() if fate is LineFateKind.KEPT} & comparison.moved


def what_is_neither_cut_nor_added_comes_back_to_where_it_was(there: Comparison, back: Comparison) -> None:
    """There and back, line by line: each line is among those that the lines it went to come from."""
    for line in there.lines:
        for at in line.new:
            assert line.old in back.by_old[at].new
    gone = {line.old for line in there.lines if line.fate is LineFateKind.GONE}
    assert gone == set(back.added)


@settings(max_examples=150)
@given(st.one_of(two_orders(), two_drafts(), two_rewrites()))
def test_any_two_drafts_compared_keep_the_laws(drafts: tuple[str, str]) -> None:
    old, new = map(parse, drafts)
    there, back = compare(old, new), compare(new, old)

    comparing_back_gives_the_inverse(there, back)
    every_line_of_both_is_told_and_none_twice(there)
    fates_say_how_many_lines_share_a_place(there)
    a_line_stands_on_several_or_with_another_only_where_it_was_split_or_joined(there)
    kept_and_moved_lines_have_the_same_words_and_kept_ones_their_order(there)
    every_scene_of_both_is_told(there)
    lines_of_a_scene_cross_only_where_one_of_them_moved(there)
    lines_with_the_fate_moved_are_among_those_that_moved(there)
    what_is_neither_cut_nor_added_comes_back_to_where_it_was(there, back)
    assert compare(old, old).moved == frozenset()


@given(st.lists(st.sampled_from(WORDS), min_size=2, max_size=7), st.data())
@settings(max_examples=40)
def test_a_question_that_is_cut_takes_its_own_answer_along(answers: list[str], data: st.DataObject) -> None:
    """However often the same few words answer: each of the others stays under its own question."""
    cut = data.draw(st.integers(0, len(answers) - 1))
    asked = [f"CLERK\nWas it crate {at}?\n\nVERA\n{answer}\n\n" for at, answer in enumerate(answers, 20)]
    old, new = ("INT. COURT - DAY\n\n" + "".join(each) for each in (asked, asked[:cut] + asked[cut + 1 :]))
    comparison = compare(old, new)
    for at in range(len(answers)):
        line = 7 + 6 * at
        stays = () if at == cut else (line - 6 * (at > cut),)
        assert comparison.by_old[line].new == stays
