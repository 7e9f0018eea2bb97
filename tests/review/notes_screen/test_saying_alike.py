"""Which notes are proposed to be decided together."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from review.notes_screen.saying_alike import Saying, are_alike, likeness, saying_alike, words_that_count


def on_line(note: int, said: str, line: int = 9, **fields: object) -> Saying:
    told = {"on": ("lines",), "first_line": line, "last_line": line, "words": words_that_count(said, None)}
    return Saying(note, **(told | fields))  # type: ignore[arg-type]


WORDS = st.frozensets(st.sampled_from(["lamp", "net", "tide", "skiff", "slip", "rope", "mist", "oar"]), max_size=5)
SAYINGS = st.lists(
    st.builds(
        lambda first, length, words, on, apart: (first, first + length, words, on, apart),
        st.integers(1, 4),
        st.integers(0, 2),
        WORDS,
        st.sampled_from([("lines",), ("scene",)]),
        st.sampled_from([("everyone",), ("writer",)]),
    ),
    max_size=9,
).map(
    lambda told: [Saying(at, on, first, last, words, apart) for at, (first, last, words, on, apart) in enumerate(told)]
)


@given(WORDS, WORDS)
@settings(max_examples=40)
def test_likeness_is_the_same_from_both_sides_and_a_share(one: frozenset[str], other: frozenset[str]) -> None:
    assert likeness(one, other) == likeness(other, one)
    assert 0 <= likeness(one, other) <= 1
    assert likeness(one, one) == (1 if one else 0)


@given(SAYINGS, st.randoms(use_true_random=False))
@settings(max_examples=60)
def test_a_note_is_in_one_group_at_most_with_notes_that_are_each_like_it(sayings: list[Saying], random: object) -> None:
    groups = saying_alike(sayings)
    grouped = [note for group in groups for note in group]
    assert len(grouped) == len(set(grouped))
    for group in groups:
        assert len(group) > 1
        members = [sayings[note] for note in group]
        assert all(are_alike(one, other) for one in members for other in members if one != other)
        assert len({(each.on, each.apart) for each in members}) == 1
    shuffled = list(sayings)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert saying_alike(shuffled) == groups
    assert all(are_alike(one, other) == are_alike(other, one) for one in sayings for other in sayings)


def test_a_worked_example_of_the_index() -> None:
    """Counted by hand: of lamp, smokes, much and lamp, smokes, badly, two of four are shared."""
    assert likeness(words_that_count("The lamp smokes much.", None), words_that_count("LAMP smokes badly", None)) == 0.5


def test_notes_that_ask_the_same_of_the_same_line_are_one_group() -> None:
    said = (
        "Why does Nell not go with him? She has the skiff.",
        "Nell has the skiff: why doesn't she go too?",
        "The lamp would go out in that wind.",
    )
    assert saying_alike(on_line(at, words) for at, words in enumerate(said)) == [(0, 1)]


def test_the_same_words_on_other_lines_are_not() -> None:
    said = "Nell has the skiff and the net."
    assert saying_alike([on_line(1, said), on_line(2, said, line=17)]) == []


def test_one_name_in_common_is_not_enough() -> None:
    assert saying_alike([on_line(1, "Nell lies."), on_line(2, "Nell, again?")]) == []


def test_those_that_would_be_read_by_others_or_accepted_otherwise_stay_apart() -> None:
    said = "Nell has the skiff and the net."
    assert saying_alike([on_line(1, said, apart=("everyone",)), on_line(2, said, apart=("writer",))]) == []


def test_the_wording_they_offer_counts_too() -> None:
    assert words_that_count("", "Ebb at four.") == words_that_count("ebb four", None) == {"ebb", "four"}


CHIMNEYS = "Three chimneys smoke. The fourth is being swept: a rope, a boy-sized brush, Nils forty feet up, one arm."


def offering(note: int, wording: str, body: str = "") -> Saying:
    return on_line(note, "", words=words_that_count(body, wording, CHIMNEYS), offers=wording)


def test_what_two_wordings_leave_as_it_is_says_nothing_of_either() -> None:
    harness = offering(1, CHIMNEYS.replace("rope", "harness"), "A harness.")
    one = offering(2, CHIMNEYS.replace("Three chimneys smoke", "One chimney smokes"), "One chimney.")
    assert saying_alike([harness, one]) == []
    assert (
        saying_alike([offering(1, CHIMNEYS.replace("forty", "six")), offering(2, CHIMNEYS.replace("Nils ", ""))]) == []
    )
    assert saying_alike([one, offering(3, "One chimney smokes, no more.", "Only one chimney smokes.")]) == [(2, 3)]


def test_the_very_same_wording_is_the_same_whatever_is_said_with_it() -> None:
    """Those that cut the same lines too; what one of them brings in and the other cuts is no likeness."""
    same = CHIMNEYS.replace("rope", "harness")
    assert saying_alike([offering(1, same, "A rope kills."), offering(2, same, "Ask the stunts first.")]) == [(1, 2)]
    assert saying_alike([offering(1, "", "Cut it."), offering(2, "")]) == [(1, 2)]
    assert words_that_count("", "", "A rope.") == {"-rope"}
