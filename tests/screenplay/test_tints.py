"""How light the tints of the paper are, and which colour has which."""

from __future__ import annotations

import pytest

from screenplay.tints import TINTS, Tint, contrast, tint_named


def test_contrast_is_that_of_the_standard() -> None:
    """WCAG 2.2: black on white is 21 to 1; #767676 on white 4.54 to 1, an often cited grey (from memory)."""
    white = Tint(255, 255, 255)
    assert contrast(Tint(0, 0, 0), white) == pytest.approx(21)
    assert contrast(Tint(0x76, 0x76, 0x76), white) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("name", TINTS)
def test_black_type_and_grey_type_read_on_every_tint_and_on_the_name_across_it(name: str) -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1 for text; the name across the page is 224/255 as light as the paper."""
    for paper in (TINTS[name], TINTS[name].darker(224 / 255)):
        assert contrast(Tint(0, 0, 0), paper) > 4.5
    assert contrast(Tint(110, 110, 110), TINTS["white"]) > 4.5


@pytest.mark.parametrize(("colour", "tint"), [("Double Blue", "blue"), ("second pink", "pink"), ("GREEN", "green")])
def test_a_colour_is_tinted_by_its_last_word(colour: str, tint: str) -> None:
    assert tint_named(colour) == TINTS[tint]


@pytest.mark.parametrize("colour", ["White", "Double White", "Chartreuse", ""])
def test_white_and_unknown_colours_are_not_tinted(colour: str) -> None:
    assert tint_named(colour) is None
