"""Where a stretch of one draft is in the next."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from screenplay import Span, carry, compare, parse
from screenplay.comparing.comparison import LineFateKind
from screenplay.next_draft.carrying import SpanFate, SpanFateKind
from tests.screenplay.comparing.test_comparison_laws import two_drafts, two_rewrites

if TYPE_CHECKING:
    from screenplay import Screenplay
    from screenplay.comparing.comparison import Comparison

FERRY = """\
INT. FERRY - NIGHT

Mara kneels by the diesel with a torch between her teeth.

MARA
It won't hold past the second buoy.
Not with that gasket.

The engine coughs twice and dies.
"""


PARAGRAPHS = (
    "Four people on one rope come down past the pump. The second stops, and so all of them stop.",
    "Somebody has hung a lantern in the apple tree, where the ladder was. It burns with nobody near.",
)
YARD = "EXT. YARD - DUSK\n\n" + "\n\n".join(PARAGRAPHS) + "\n\nNELL\nIt wasn't there at noon.\n"


SENTENCES = st.lists(
    st.builds(
        "{} {} {}.".format,
        st.sampled_from(["The", "He", "The boat"]),
        st.sampled_from(["tide", "lamp", "gull"]),
        st.sampled_from(["is out", "goes", "is"]),
    ),
    min_size=3,
    max_size=7,
    unique=True,
)


def span_of(text: str, words: str) -> Span:
    """The stretch of a text that these words, perhaps over several lines, take up."""
    start = text.index(words)
    end = start + len(words)
    before, until = text[:start], text[:end]
    return Span(
        before.count("\n") + 1,
        start - (before.rfind("\n") + 1),
        until.count("\n") + 1,
        end - (until.rfind("\n") + 1),
    )


def words_in(text: str, span: Span) -> str:
    lines = text.split("\n")[span.first_line - 1 : span.last_line]
    lines[-1] = lines[-1][: span.last_char]
    lines[0] = lines[0][span.first_char :]
    return "\n".join(lines)


def carried(words: str, new: str, old: str = FERRY) -> tuple[str, str | None]:
    """The fate of these words of a draft, and what they are in another."""
    placement = carry(span_of(old, words), compare(old, new))
    return placement.fate.value, None if placement.span is None else words_in(new, placement.span)


def test_a_stretch_that_did_not_change_is_kept_wherever_its_lines_are_now() -> None:
    new = "Title: Ferry\n\n" + FERRY

    assert carried("second buoy.\nNot with", new) == ("kept", "second buoy.\nNot with")


def test_a_heading_with_a_scene_number_put_in_is_kept_and_with_other_words_is_reworded() -> None:
    numbered = FERRY.replace("NIGHT", "NIGHT #12#")

    assert carried("INT. FERRY - NIGHT", numbered) == ("kept", "INT. FERRY - NIGHT #12#")
    assert carried("FERRY - NIGHT\n\nMara", numbered) == ("kept", "FERRY - NIGHT #12#\n\nMara")
    assert carried("INT. FERRY - NIGHT #12#", FERRY, numbered) == ("kept", "INT. FERRY - NIGHT")
    assert carried("INT. FERRY - NIGHT", numbered.replace("NIGHT", "DAWN"))[0] == "reworded"


def test_a_stretch_of_a_line_that_moved_within_its_scene_has_moved() -> None:
    engine = "The engine coughs twice and dies.\n"
    new = FERRY.replace("\n" + engine, "").replace("Mara kneels", engine + "\nMara kneels")

    assert carried("coughs twice and", new) == ("moved", "coughs twice and")


def test_a_stretch_of_a_speech_that_moved_to_the_next_scene_has_moved() -> None:
    quay = "\nEXT. QUAY - DAY\n\nGulls walk the length of the empty slip.\n"
    speech = "MARA\nIt won't hold past the second buoy.\nNot with that gasket.\n\n"
    old = FERRY.replace(speech, "") + "\n" + speech + quay

    new = FERRY.replace(speech, "") + quay.replace("Gulls", speech + "Gulls")
    assert carried("past the second buoy", new, old) == ("moved", "past the second buoy")


def test_characters_follow_the_words_of_a_reworded_line() -> None:
    new = FERRY.replace("It won't hold past the second buoy.", "Listen to me: it won't get us past the second buoy.")

    assert carried("second buoy", new) == ("kept", "second buoy")
    assert carried("hold past the second", new) == ("reworded", "get us past the second")


def test_a_whole_line_that_was_reworded_is_the_whole_new_line() -> None:
    new = FERRY.replace("The engine coughs twice and dies.", "Then the engine coughs twice and dies for good.")

    assert carried("The engine coughs twice and dies.", new) == (
        "reworded",
        "Then the engine coughs twice and dies for good.",
    )


def test_words_cut_from_a_line_that_is_left_give_the_whole_line() -> None:
    new = FERRY.replace("with a torch between her teeth.", "in the dark.").replace("Mara kneels", "Mara just kneels")

    fate, words = carried("a torch between her teeth", new)
    assert fate == "reworded"
    assert words


def test_a_range_is_carried_as_a_range_with_what_came_between() -> None:
    new = FERRY.replace("buoy.\nNot", "buoy.\nNot tonight it won't, I can promise you.\nNot")

    assert carried("hold past the second buoy.\nNot with that", new) == (
        "reworded",
        "hold past the second buoy.\nNot tonight it won't, I can promise you.\nNot with that",
    )


def test_a_range_that_lost_a_line_is_what_is_left_of_it() -> None:
    new = FERRY.replace("Not with that gasket.\n", "")

    assert carried("the second buoy.\nNot with that gasket.", new) == ("reworded", "the second buoy.")


def test_a_range_of_which_no_line_is_left_is_gone() -> None:
    new = FERRY.replace("The engine coughs twice and dies.\n", "")

    assert carried("coughs twice", new) == ("gone", None)


def test_a_line_of_a_range_that_went_far_away_is_left_behind() -> None:
    engine = "The engine coughs twice and dies.\n"
    far = "".join(f"\nGull number {number} looks at the sea.\n" for number in range(30))
    new = FERRY.replace(engine, "Silence.\n") + far + "\n" + engine

    fate, words = carried("It won't hold past the second buoy.\nNot with that gasket.\n\nThe engine", new)
    assert (fate, words) == ("reworded", "It won't hold past the second buoy.\nNot with that gasket.")


def test_a_line_joined_to_another_is_its_own_words_there() -> None:
    new = FERRY.replace("buoy.\nNot", "buoy. Not")

    assert carried("Not with that gasket.", new) == ("kept", "Not with that gasket.")
    assert carried("It won't hold past the second buoy.", new) == ("kept", "It won't hold past the second buoy.")


@pytest.mark.parametrize("parted", ["\n", "\n\n"])
@given(st.data())
@settings(max_examples=25, deadline=None)
def test_a_line_that_was_only_parted_is_kept_with_all_its_words(parted: str, data: st.DataObject) -> None:
    line = data.draw(st.sampled_from(PARAGRAPHS))
    space = data.draw(st.sampled_from([at for at, letter in enumerate(line) if letter == " "]))
    new = YARD.replace(line, line[:space] + parted + line[space + 1 :])

    fate, words = carried(line, new, YARD)

    assert words is not None
    assert (fate, words.split()) == ("kept", line.split())
    assert carried(words, YARD, new) == ("kept", line)


def test_words_of_a_line_that_was_split_are_on_the_part_that_has_them() -> None:
    old = FERRY.replace("buoy.\nNot", "buoy. Not")

    assert carried("with that gasket", FERRY, old) == ("kept", "with that gasket")
    assert carried("second buoy. Not with", FERRY, old)[1] == "second buoy.\nNot with"


def test_a_blank_line_stands_behind_the_line_before_it() -> None:
    comparison = compare(FERRY, "Title: Ferry\n\n" + FERRY)

    assert carry(Span(2, 0, 2, 0), comparison) == SpanFate(SpanFateKind.KEPT, Span(4, 0, 4, 0))


def test_lines_and_characters_that_are_not_there_count_as_the_nearest() -> None:
    last = FERRY.count("\n")

    assert carry(Span(last, 4, last + 20, 900), compare(FERRY, FERRY)).span == Span(last, 4, last, 33)
    assert carry(Span(1, 0, 1, 5), compare("", FERRY)) == SpanFate(SpanFateKind.GONE, None)


def any_span(data: st.DataObject, source: tuple[str, ...]) -> Span:
    first, last = sorted(data.draw(st.tuples(*[st.integers(1, len(source))] * 2)))
    lengths = [len(source[line - 1].rstrip("\r\n")) for line in (first, last)]
    first_char = data.draw(st.integers(0, lengths[0]))
    return Span(first, first_char, last, data.draw(st.integers(first_char if first == last else 0, lengths[1])))


often = settings(max_examples=150)


@often
@given(two_drafts(), st.data())
def test_stretches_of_any_draft_are_carried_by_the_laws(drafts: tuple[str, str], data: st.DataObject) -> None:
    old, new = map(parse, drafts)
    assume(old.source)
    there, back = compare(old, new), compare(new, old)
    span = any_span(data, old.source)

    a_carried_stretch_is_within_the_new_text(span, there)
    a_text_carried_to_itself_is_where_it_was(span, old)
    a_kept_stretch_of_kept_lines_is_carried_back_to_where_it_was(there, back, data)


def a_carried_stretch_is_within_the_new_text(span: Span, comparison: Comparison) -> None:
    placement = carry(span, comparison)

    assert (placement.span is None) == (placement.fate is SpanFateKind.GONE)
    if placement.span is not None:
        span, source = placement.span, comparison.new.source
        assert 1 <= span.first_line <= span.last_line <= len(source)
        assert 0 <= span.first_char <= len(source[span.first_line - 1].rstrip("\r\n"))
        assert 0 <= span.last_char <= len(source[span.last_line - 1].rstrip("\r\n"))
        assert (span.first_line, span.first_char) <= (span.last_line, span.last_char)


def a_kept_stretch_of_kept_lines_is_carried_back_to_where_it_was(
    there: Comparison, back: Comparison, data: st.DataObject
) -> None:
    whole = [
        line.old
        for line in there.lines
        if line.fate is LineFateKind.KEPT and there.old.source[line.old - 1] == there.new.source[line.new[0] - 1]
    ]
    assume(whole)  # the last of the laws: those before it were held to this example too
    first = data.draw(st.sampled_from(whole))
    last = first + data.draw(st.integers(0, next(n for n in range(len(whole) + 1) if first + n + 1 not in whole)))
    length = len(there.old.source[last - 1].rstrip("\r\n"))
    span = Span(first, 0, last, length)
    placement = carry(span, there)

    if placement.fate is SpanFateKind.KEPT and placement.span is not None:
        assert carry(placement.span, back).span == span


def scene(*paragraphs: str) -> str:
    return "\n\n".join(["INT. LAMP FACTORY - NIGHT", *paragraphs]) + "\n"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (
            scene("KIT\nNo.", "KIT\nYes.", "KIT\nNo.", "KIT\nYes."),
            scene("KIT\nNo.", "A lamp goes out.", "KIT (CONT'D)\nNo. Yes. No.", "KIT\nYes."),
        ),
        (
            scene("KIT\nYes.", "RHONA\nYes.", "RHONA\nI counted the crates at six.", "KIT\nYes."),
            scene("KIT\nYes.", "RHONA\nI counted the crates at six. Give it here. Yes."),
        ),
    ],
    ids=["words met twice in the line they were joined into", "joined in the other order"],
)
def test_lines_joined_into_one_keep_each_its_own_words(old: str, new: str) -> None:
    there, back = compare(old, new), compare(new, old)
    joined = [fate.old for fate in there.lines if fate.fate is LineFateKind.JOINED]
    assert joined
    for line in joined:
        span = Span(line, 0, line, len(there.old.source[line - 1].rstrip("\n")))
        now = carry(span, there).span
        assert now is not None
        assert words_in(new, now) == words_in(old, span)
        assert carry(now, back).span == span


@often
@given(two_rewrites(), st.data())
def test_a_line_that_is_not_gone_is_carried_back_over_its_words(drafts: tuple[str, str], data: st.DataObject) -> None:
    old, new = map(parse, drafts)
    there, back = compare(old, new), compare(new, old)
    line = data.draw(st.sampled_from(there.lines)).old
    span = Span(line, 0, line, len(there.old.source[line - 1].rstrip("\n")))
    now = carry(span, there).span

    assert (now is None) == (there.by_old[line].fate is LineFateKind.GONE)
    if now is not None:
        was = carry(now, back).span
        assert was is not None
        back_on = range(was.first_line, was.last_line + 1)
        assert there.old.source[line - 1].strip() in {there.old.source[number - 1].strip() for number in back_on}


def a_text_carried_to_itself_is_where_it_was(span: Span, script: Screenplay) -> None:
    placement = carry(span, compare(script, script))

    assert placement.fate is SpanFateKind.KEPT
    assert placement.span == span


@given(SENTENCES, st.data())
def test_a_note_on_a_sentence_stays_on_all_of_it_when_another_of_its_line_goes_or_comes(
    sentences: list[str], data: st.DataObject
) -> None:
    gone, noted = data.draw(st.permutations(sentences))[:2]
    line = "INT. FERRY - NIGHT\n\nNight. {} Rain.\n"
    whole, without = (line.format(" ".join(some)) for some in (sentences, [one for one in sentences if one != gone]))

    for before, after in ((whole, without), (without, whole)):
        followed = carry(span_of(before, noted), compare(before, after))
        assert (followed.fate, followed.span) == (SpanFateKind.KEPT, span_of(after, noted))
