"""Scripts typed in columns, read as Fountain."""

from __future__ import annotations

import random
from textwrap import dedent

import pytest

from screenplay import parse
from screenplay.fountain.emphasis import plain
from screenplay.intake import from_columns, looks_typed_in_columns
from screenplay.script import headings_of
from tests.read_back import elements_of
from tests.screenplay.fountain.test_parsing_fixtures import CASES

# In tabs, as a typist sets them: dialogue at the first, parentheticals at the second, cues at the third.
TABBED = """\
INT. BOATHOUSE - NIGHT

Rain on a tin roof. A lamp, turned down so low that it is mostly
smell.

\t\t\tMARA
\tYou came back for the tide table.
\tNobody comes back for that.

\t\t\tJOREN
\t\t(shaking his coat)
\tI came back for the boat.

\t\t\tMARA
\tIt is the same thing, on a night
\tlike this.

\t\t\t\t\t\tCUT TO:

EXT. SLIPWAY - NIGHT

They look at the water. The water does not look like much.
"""


def typed(text: str) -> str:
    """A script in spaces: the columns that 1.5 in, 2.5 in, 3.1 in and 3.7 in have, less the paper's left edge."""
    return dedent(text).lstrip("\n")


def kinds_and_texts(text: str) -> list[tuple[str, str]]:
    return [(one.kind, one.text) for one in elements_of(parse(from_columns(text).text))]


def speech_at_a_page_end(foot: str, top: str) -> str:
    action = "\n\n".join(f"               Boat number {number} goes out." for number in range(20))
    said = "                         The tide turns at four and the"
    more = "                         harbour is dry by five, more or"
    last = "                         less, as it always is."
    cue = "                                     "
    page = f"{action}\n\n{cue}MARA\n{said}\n{more}\n{foot}"
    return f"               EXT. QUAY - DAY\n\n{page}\n{top}{last}\n\n{cue}JOREN\n{said}\n\n{cue}MARA\n{said}\n"


def test_tabs_and_wrapped_lines_become_elements() -> None:
    assert kinds_and_texts(TABBED) == [
        ("scene_heading", "INT. BOATHOUSE - NIGHT"),
        ("action", "Rain on a tin roof. A lamp, turned down so low that it is mostly smell."),
        ("character", "MARA"),
        ("dialogue", "You came back for the tide table. Nobody comes back for that."),
        ("character", "JOREN"),
        ("parenthetical", "(shaking his coat)"),
        ("dialogue", "I came back for the boat."),
        ("character", "MARA"),
        ("dialogue", "It is the same thing, on a night like this."),
        ("transition", "CUT TO:"),
        ("scene_heading", "EXT. SLIPWAY - NIGHT"),
        ("action", "They look at the water. The water does not look like much."),
    ]


@pytest.mark.parametrize(
    ("foot", "top"),
    [
        ("                                     (MORE)", f"\f{'2.':>75}\n\n{'':37}MARA (CONT'D)\n"),
        ("                                     (MORE)", f"\n\n{'2.':>75}\n\n\n{'':37}MARA (cont’d)\n"),
        ("", f"\f{'2.':>75}\n\n{'':37}MARA (CONT'D)\n"),
        ("", f"\f{'2.':>75}\n\n"),
    ],
    ids=["more and a form feed", "more and blank lines", "the cue again alone", "neither"],
)
def test_a_speech_over_a_page_end_is_one(foot: str, top: str) -> None:
    found = kinds_and_texts(speech_at_a_page_end(foot, top))

    assert (
        "dialogue",
        "The tide turns at four and the harbour is dry by five, more or less, as it always is.",
    ) in found
    assert [text for kind, text in found if kind == "character"] == ["MARA", "JOREN", "MARA"]
    assert not any("2." in text or "MORE" in text or "CONT" in text for _, text in found)


def test_a_cue_that_the_writer_continued_keeps_its_extension() -> None:
    text = TABBED.replace("\t\t\tJOREN\n\t\t(shaking", "He laughs.\n\n\t\t\tMARA (CONT'D)\n\t\t(shaking")

    assert ("character", "MARA (CONT'D)") in kinds_and_texts(text)


def test_scene_numbers_go_from_the_margins_into_the_headings() -> None:
    text = typed(
        """
             12    INT. BOATHOUSE - NIGHT                            12
                   She waits.

             12A   THE LAST OF THE LIGHT                             12A

                   She waits.

             13    OMITTED                                           13
        """
    )
    converted = from_columns(text)

    assert [(plain(heading.printed), heading.number) for heading in headings_of(parse(converted.text))] == [
        ("INT. BOATHOUSE - NIGHT", "12"),
        ("THE LAST OF THE LIGHT", "12A"),
    ]
    assert converted.dropped["OMITTED, for scenes that were cut"] == 1


def test_asterisks_of_changed_lines_are_dropped_and_those_of_the_text_kept() -> None:
    text = TABBED.replace("for the boat.", "for the *boat*.".ljust(50) + "*").replace("is mostly\n", "is mostly   *\n")
    converted = from_columns(text)

    assert converted.dropped["asterisks of changed lines"] == 2
    assert ("dialogue", "I came back for the *boat*.") in kinds_and_texts(text)
    assert r"the \*boat\*." in converted.text


def test_headers_and_footers_are_dropped_from_every_page() -> None:
    pages = [f"THE SLACK{'':40}3/4/25{'':10}{page}.\n\n{TABBED}\n\n{'':30}Lamp Street" for page in range(1, 6)]
    converted = from_columns("\f".join(pages))

    assert "SLACK" not in converted.text
    assert "Lamp Street" not in converted.text
    assert converted.page_count == 5
    assert len(headings_of(parse(converted.text))) == 10


def test_what_fountain_would_read_otherwise_is_forced() -> None:
    text = typed(
        """
        INT. HARBOUR OFFICE - DAY

        > he writes on the slate.

        EVERYBODY OUT
        He means it.

        #4 is missing.

        The slate says *_TIDE_* and [[late]] /* ever */ so.

                      MARA
            No.

                      McVAY
            ~ like this ~

                      mate
            Aye.

                      MARA
            Yes.
        """
    )
    found = kinds_and_texts(text)

    assert [kind for kind, _ in found[1:6]] == ["action"] * 5
    assert found[1:6] == [
        ("action", "> he writes on the slate."),
        ("action", "EVERYBODY OUT"),
        ("action", "He means it."),
        ("action", "#4 is missing."),
        ("action", "The slate says *_TIDE_* and [ [late]] /* ever */ so."),
    ]
    assert [text for kind, text in found if kind == "character"] == ["MARA", "McVAY", "mate", "MARA"]


def test_two_speeches_side_by_side_are_dual_dialogue() -> None:
    text = f"{TABBED}\n" + typed(
        """
              MARA                            JOREN
        I told you the rope would       You never told me anything
        not hold.                       about the rope, you told me
                                        about the weather.

        The rope goes.
        """
    )
    speeches = [one for one in elements_of(parse(from_columns(text).text)) if one.kind == "character"]

    assert [(one.text, one.more) for one in speeches[-2:]] == [("MARA", ""), ("JOREN", "^")]
    assert ("dialogue", "You never told me anything about the rope, you told me about the weather.") in kinds_and_texts(
        text
    )
    assert ("action", "The rope goes.") in kinds_and_texts(text)


def test_a_title_page_is_read_into_its_entries() -> None:
    text = typed(
        """
                              THE SLACK

                              written by

                             Ivo Quent


        Second draft

        3 February 2025

        Lamp Street Pictures
        ivo@example.org
        """
    )
    title = parse(from_columns(f"{text}\f{TABBED}").text).title_page

    assert [(entry.key, entry.values) for entry in title] == [
        ("Title", ("THE SLACK",)),
        ("Credit", ("written by",)),
        ("Author", ("Ivo Quent",)),
        ("Revision", ("Second draft",)),
        ("Draft date", ("3 February 2025",)),
        ("Contact", ("Lamp Street Pictures", "ivo@example.org")),
    ]


def test_a_guess_names_its_line_its_text_and_the_reason() -> None:
    converted = from_columns(f"{TABBED}\n{'':25}THE END\n".replace("A lamp,", "[[A lamp]],"))
    guesses = {guess.what: guess for guess in converted.guesses}
    lines = converted.text.split("\n")

    (bracket,) = (guess for guess in converted.guesses if "[[" in guess.what)
    assert lines[bracket.line - 1].startswith("Rain on a tin roof. [ [A lamp]]")
    assert bracket.source_line == 3
    assert lines[guesses["THE END"].line - 1] == "> THE END <"
    assert guesses["THE END"].why.endswith(".")


def test_lines_broken_by_hand_before_they_are_full_are_rejoined() -> None:
    rng = random.Random(4)
    words = "she rows out past the last of the lamps and on to where the water has no name that anybody gave it"
    paragraphs = [["The", *rng.choices(words.split(), k=40)] for _ in range(30)]

    converted = from_columns(f"{TABBED}\n" + "\n\n".join(by_hand(paragraph, rng) for paragraph in paragraphs))

    lines = set(converted.text.split("\n"))
    assert sum(" ".join(paragraph) in lines for paragraph in paragraphs) >= 27


def by_hand(words: list[str], rng: random.Random) -> str:
    """A paragraph in lines that end where a typist feels like it, after the 50th column."""
    lines = [""]
    for word in words:
        if len(lines[-1]) > rng.randint(50, 56):
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return "\n".join(lines)


@pytest.mark.parametrize("text", ["", "\n\n", "Just a line.", "\f\f", "   ", "MARA\nHello.\n"])
def test_little_text_is_not_typed_in_columns(text: str) -> None:
    assert not looks_typed_in_columns(text)


def test_no_fountain_of_the_fixtures_looks_typed_in_columns() -> None:
    assert len(CASES) > 100
    assert not [case for case in CASES if looks_typed_in_columns(case.text)]


def test_fountain_indented_for_looks_is_not_taken_for_columns() -> None:
    wide = "They row. " * 20
    speeches = "".join(f"{'':20}MARA\n{'':10}{wide}\n\n{wide}\n\n" for _ in range(5))

    assert not looks_typed_in_columns(f"INT. BOAT - DAY\n\n{speeches}")
    assert not looks_typed_in_columns(f"Title: The Slack\n\n{TABBED}")
    assert not looks_typed_in_columns(f"{TABBED}\n# Act two\n")
    assert looks_typed_in_columns(TABBED)
