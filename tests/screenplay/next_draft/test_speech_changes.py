"""What became of a character's speeches in a changed scene."""

from __future__ import annotations

import pytest

import screenplay
from screenplay.next_draft.scene_concerns import Change, ChangedScene
from screenplay.next_draft.speech_changes import Presence, presences

LANDING = """INT. LANDING - NIGHT

Ruth and Peter whisper.

RUTH
She knows.

PETER
She always knows.

RUTH
Then tell her.
"""


def of(name: str, old: str, new: str, scenes: int = 1) -> list[Presence | None]:
    """A character in the first scenes of two scripts, in which every line that is not kept is a change."""
    comparison = screenplay.compare(old, new)
    was, now = comparison.old.scene_of, comparison.new.scene_of
    pairs = [(fate.old, fate.new) for fate in comparison.lines]
    changed = [
        (line, on) for line, on in pairs if not on or [was_read(old, line)] != [was_read(new, each) for each in on]
    ]
    kinds = comparison.old.kinds, comparison.new.kinds
    changed += [(line, on) for line, on in pairs if any(kinds[0][line - 1] is not kinds[1][each - 1] for each in on)]
    told = [
        ChangedScene(
            ordinal,
            ordinal,
            (
                *(Change((line,), on) for line, on in changed if was[line - 1] == ordinal),
                *(Change((), (line,)) for line in comparison.added if now[line - 1] == ordinal),
            ),
        )
        for ordinal in range(1, scenes + 1)
    ]
    return presences(comparison, told, [name])


def was_read(text: str, line: int) -> str:
    return text.split("\n")[line - 1].strip()


@pytest.mark.parametrize(
    ("old", "new", "peter", "ruth"),
    [
        ("PETER\nShe always knows.\n\n", "", {"cut": 1}, {}),
        ("She always knows.", "She has always known.", {"changed": 1}, {}),
        ("PETER\nShe", "RUTH\nShe", {"now RUTH’s": 1}, {"until now PETER’s": 1}),
        ("PETER\nShe", "Peter looks up. She", {"now action": 1}, {}),
        ("Ruth and Peter whisper.", "PETER\nRuth and Peter whisper.", {"until now action": 1}, {}),
        ("\nRUTH\nThen", "\nPETER\nHush, both of you.\n\nRUTH\nThen", {"new": 1}, {}),
        ("She always knows.", "She always knows.\nShe has ears.", {"changed": 1}, {}),
    ],
)
def test_each_speech_is_told_once_by_what_became_of_it(
    old: str, new: str, peter: dict[str, int], ruth: dict[str, int]
) -> None:
    assert LANDING.count(old) == 1
    for name, expected in (("PETER", peter), ("RUTH", ruth)):
        [found] = of(name, LANDING, LANDING.replace(old, new))
        assert found is not None
        assert dict(found.speeches) == expected, name


def test_a_speech_that_went_to_another_scene_is_told_in_both() -> None:
    old = LANDING + "\nEXT. WEIR - DAY\n\nRUTH\nThe gate will never hold until the morning comes.\n\nOLA\nIt will.\n"
    speech = "RUTH\nThe gate will never hold until the morning comes.\n\n"
    new = old.replace(speech, "").replace("RUTH\nShe knows.", f"{speech}RUTH\nShe knows.")
    comparison = screenplay.compare(old, new)
    line = old.split("\n").index("The gate will never hold until the morning comes.") + 1
    on = comparison.by_old[line].new
    change = Change((line,), on)
    landing, weir = presences(comparison, [ChangedScene(1, 1, (change,)), ChangedScene(2, 2, (change,))], ["RUTH"])
    assert landing is not None
    assert weir is not None
    assert dict(landing.speeches) == {"moved here from another scene": 1}
    assert dict(weir.speeches) == {"moved to another scene": 1}
    assert (weir.speaks, weir.spoke, weir.is_in_it) == (False, True, False)


def test_a_character_is_where_they_speak_and_where_action_names_them() -> None:
    text = LANDING + "\nEXT. SLIPWAY - DAWN\n\nPeter waits.\n\nEXT. QUAY - DAY\n\nNobody.\n"
    comparison = screenplay.compare(text, text.replace("She always knows.", "She must know."))
    scenes = [ChangedScene(ordinal, ordinal, ()) for ordinal in (1, 2, 3)]
    peter = presences(comparison, scenes, ["PETER"])
    assert [one and (one.speaks, one.is_in_it) for one in peter] == [(True, True), (False, True), None]
    [cut] = presences(screenplay.compare(text, LANDING), [ChangedScene(2, None, ())], ["PETER"])
    assert cut is not None
    assert not cut.is_in_it
    assert [one and one.speaks for one in presences(comparison, scenes, ["RUTH"])] == [True, None, None]


def test_a_character_of_two_names_is_one() -> None:
    comparison = screenplay.compare(LANDING, LANDING.replace("PETER", "PIET"))
    [one] = presences(comparison, [ChangedScene(1, 1, ())], ["PIET", "PETER"])
    assert one is not None
    assert one.speaks
    assert not one.speeches


@pytest.mark.parametrize(
    ("old", "new", "peter", "ruth"),
    [
        ("Ruth and Peter whisper.", "Ruth and Peter argue.", True, True),
        ("Ruth and Peter whisper.", "Ruth whispers.", True, True),
        ("Ruth and Peter whisper.", "Ruth and Peter whisper.\n\nRuth sits.", False, True),
        ("She always knows.", "She has always known.", False, False),
    ],
)
def test_action_that_names_a_character_changes_for_them_where_its_words_do(
    old: str, new: str, *, peter: bool, ruth: bool
) -> None:
    for name, acts in (("PETER", peter), ("RUTH", ruth)):
        [found] = of(name, LANDING, LANDING.replace(old, new))
        assert found is not None
        assert found.acts is acts, name
