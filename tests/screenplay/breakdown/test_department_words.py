"""Where the departments' words stand, scene by scene."""

from __future__ import annotations

from screenplay import parse
from screenplay.breakdown.department_words import department_words

SCRIPT = """A suitcase, before anything.

INT. LOFT - NIGHT

She opens a suitcase. The suitcase has a wig in it.

NELL (ON RADIO)
(takes the wig)
Bring my umbrella.

INT. HALL - DAY

NELL
~Oh, the tide
"""


def test_words_of_the_lists_are_found_where_they_stand_first_in_each_scene() -> None:
    before, loft, hall = department_words(parse(SCRIPT))
    assert [(find.key, find.words, find.line) for find in before] == [("props", "suitcase", 1)]
    assert {(find.key, find.words, find.line) for find in loft} >= {("props", "suitcase", 5), ("hair", "wig", 5)}
    assert "umbrella" not in {find.words for find in loft}  # it is only spoken of
    assert ("sound", "radio", 7) in {(find.key, find.words, find.line) for find in loft}
    assert ("music", "lyrics", 14) in [(find.key, find.words, find.line) for find in hall]
