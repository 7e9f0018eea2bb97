"""Revision colours: which comes next."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from review.drafts.colours import colour_after, round_with, rounds_of
from review.productions.models import USUAL_COLOURS
from screenplay.tints import paper_named
from tests.factories import SCRIPT, make_draft

if TYPE_CHECKING:
    from review.people.models import Member
    from review.productions.models import Production


def next_colour_in(production: Production) -> str:
    return production.drafts.next_colour(production.revision_colours)


def test_the_first_draft_has_the_first_colour(writer: Member) -> None:
    assert next_colour_in(writer.production) == "White"


def test_the_next_follows_the_latest_draft(writer: Member) -> None:
    make_draft(writer)
    make_draft(writer, SCRIPT + "And out.", 2, colour="Pink")
    assert next_colour_in(writer.production) == "Yellow"


def test_a_production_has_an_order_of_its_own(writer: Member) -> None:
    writer.production.revision_colours = ["Buff", "Grey"]
    assert next_colour_in(writer.production) == "Buff"
    make_draft(writer, colour="Buff")
    assert next_colour_in(writer.production) == "Grey"


# Common practice in the trade: after the last colour the round begins again as Double White; houses differ.
@pytest.mark.parametrize(
    ("latest", "following"),
    [("Cherry", "Double White"), ("Double White", "Double Blue"), ("Double Cherry", "Triple White")],
)
def test_the_round_begins_again_as_double_white(latest: str, following: str) -> None:
    assert colour_after([latest], USUAL_COLOURS) == following


def test_case_makes_no_difference() -> None:
    assert colour_after(["blue"], USUAL_COLOURS) == "Pink"


def test_a_colour_of_no_order_is_passed_over() -> None:
    assert colour_after(["Mauve", "Blue", "White"], USUAL_COLOURS) == "Pink"
    assert colour_after(["Mauve"], USUAL_COLOURS) == "White"


def test_a_double_colour_that_the_order_has_itself_comes_once() -> None:
    order = ["White", "Blue", "Double White"]
    assert colour_after(["Double White"], order) == "Double Blue"
    assert "Double White" not in rounds_of(order)[1]


def test_after_the_last_round_there_is_still_a_colour() -> None:
    assert colour_after(["Quintuple Buff"], ["White", "Buff"]) == "Quintuple Buff"


def test_the_colours_of_one_round_are_offered_together() -> None:
    assert round_with("Double Grey", ["White", "Grey"]) == ["Double White", "Double Grey"]
    assert round_with("Mauve", ["White", "Grey"]) == ["White", "Grey"]


@pytest.mark.parametrize(
    ("colour", "paper"),
    [("White", "white"), ("Double Blue", "blue"), ("goldenrod", "goldenrod"), ("Mauve", ""), ("", "")],
)
def test_a_colour_is_shown_as_the_paper_of_its_last_word(colour: str, paper: str) -> None:
    assert paper_named(colour) == paper
