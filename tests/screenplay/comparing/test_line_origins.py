"""What is known of where lines come from, and a comparison that knows it."""

from __future__ import annotations

from itertools import combinations

from hypothesis import example, given
from hypothesis import strategies as st

from screenplay.comparing import LineFateKind, LineOrigins, compare
from screenplay.fountain import parse, split_lines
from tests.screenplay.scripts import any_text, fountain, some_of

LINES = [line for line in range(-3, 10) if line]
OF_ONE = [origins for count in range(4) for origins in combinations(LINES, count)]  # up to three lines, rising
some_origins = some_of(OF_ONE, most=12).map(lambda lines: LineOrigins(tuple(lines)))

OLD = """INT. FERRY - NIGHT

MARA
It won't hold. I told them so in May.

JOREN
Yes.

MARA
Yes.
"""


@given(some_origins)
def test_what_is_packed_comes_back(origins: LineOrigins) -> None:
    assert LineOrigins.unpacked(origins.packed()) == origins


def test_lines_in_a_row_are_packed_as_one() -> None:
    assert LineOrigins.unchanged(3000).packed() == [[1, 3000]]


@given(some_origins, some_origins, some_origins)
def test_three_saves_come_to_the_same_however_they_are_put_together(
    one: LineOrigins, two: LineOrigins, three: LineOrigins
) -> None:
    assert one.then(two).then(three) == one.then(two.then(three))


@given(some_origins)
def test_a_save_that_changed_nothing_changes_nothing(origins: LineOrigins) -> None:
    assert origins.then(LineOrigins.unchanged(len(origins.lines))) == origins


def test_a_mark_stays_with_its_lines() -> None:
    marked = LineOrigins.unchanged(4).with_mark(-7, range(2, 4))
    assert marked.marked(-7) == range(2, 4)
    assert marked.then(LineOrigins(((), (3,), (1,)))).marked(-7) == range(2, 3)
    assert marked.told_of({1: (5,), 3: (6, 7)}).lines == ((5,), (-7,), (-7, 6, 7), ())


def test_two_texts_made_of_one_know_each_other_s_lines() -> None:
    one, other = LineOrigins(((1,), (), (3,), (3,), (4, 5))), LineOrigins(((2,), (1,), (5,), (3,), (4,)))
    assert other.told_of_kin(one).lines == ((), (1,), (5,), (3, 4), (5,))


def test_which_is_which_of_a_line_that_both_made_several_of_is_not_known() -> None:
    assert LineOrigins(((1,), (1,), (2,))).told_of_kin(LineOrigins(((1,), (1,), (2,)))).lines == ((), (), (3,))


@given(some_origins)
def test_told_of_the_text_it_was_made_of_it_is_the_same(origins: LineOrigins) -> None:
    assert origins.told_of_kin(LineOrigins.unchanged(9)) == origins


@given(fountain, fountain)
@example("JOREN ^\n\nCUT TO:\n", "CUT TO:\n\nJOREN ^\n")  # of as many letters: either may have moved
def test_a_comparison_that_is_told_nothing_is_the_same(old: str, new: str) -> None:
    before, after = parse(old), parse(new)
    assert compare(before, after, LineOrigins()) == compare(before, after)


@given(any_text, any_text, st.data())
def test_what_is_known_is_not_guessed(old: str, new: str, data: st.DataObject) -> None:
    count = len(split_lines(old))
    lines = st.lists(st.integers(1, count or 1), max_size=2, unique=True).map(tuple)
    known = LineOrigins(tuple(data.draw(lines) for _ in split_lines(new)))
    comparison = compare(old, new, known)
    source = comparison.new.source
    for fate in comparison.lines:
        where = {at for at, lines in enumerate(known.lines, 1) if fate.old in lines and source[at - 1].strip()}
        if fate.old in comparison.known:
            assert fate.new
            assert set(fate.new) <= where
    on = {line for fate in comparison.lines for line in fate.new}
    assert on.isdisjoint(comparison.added)
    assert on | set(comparison.added) == {at for at, text in enumerate(source, 1) if text.strip()}


def test_a_line_is_where_it_is_known_to_be_whatever_likeness_says() -> None:
    new = OLD.replace("It won't hold. I told them so in May.", "No.") + "\nJOREN\nIt won't hold. I told them in May.\n"
    fate = compare(OLD, new, LineOrigins.unchanged(9)).by_old[4]
    assert (fate.new, fate.fate) == ((4,), LineFateKind.REWORDED)


def test_a_line_that_stands_as_it_was_is_nobody_elses() -> None:
    """JOREN's was taken out: MARA's own is not taken for it."""
    new = OLD.replace("JOREN\nYes.\n\n", "")
    known = LineOrigins(tuple((line,) for line in (1, 2, 3, 4, 5, 8, 9)))
    comparison = compare(OLD, new, known)
    assert (comparison.by_old[7].new, comparison.by_old[9].new) == ((), (7,))
