"""How near voices are to each other."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import pytest

from screenplay.speech.nearness import likeness, measure_of

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass
class Heard:
    name: str
    counts: Mapping[str, int] = field(default_factory=Counter)

    @property
    def words(self) -> int:
        return sum(self.counts.values())


def heard(name: str, **counts: int) -> Heard:
    return Heard(name, Counter(counts))


def test_two_words_by_hand() -> None:
    # Shares of "so" are 1/2, 1/4, 3/4: mean 1/2, standard deviation 1/4; z-scores 0, -1, 1. "no" is their mirror.
    found = likeness([heard("A", so=200, no=200), heard("B", so=100, no=300), heard("C", so=300, no=100)])
    assert found is not None
    assert found.names == ("A", "B", "C")
    assert [list(row) for row in found.deltas] == [pytest.approx(row) for row in ([0, 1, 1], [1, 0, 2], [1, 2, 0])]
    most_like = found.most_like("B")
    assert most_like
    assert most_like[0] == "A"
    assert most_like[1] == pytest.approx(1)


def test_a_voice_of_299_words_is_told_no_likeness_but_helps_to_say_what_is_usual() -> None:
    voices = [heard("A", so=200, no=200), heard("B", so=100, no=300), heard("C", so=199, no=100)]
    found = likeness(voices)
    assert found is not None
    assert found.names == ("A", "B")
    assert found.most_like("C") is None
    measure = measure_of(voices)
    assert measure is not None
    assert measure.delta(voices[0], voices[2]) is None
    assert measure.delta(voices[0], voices[1]) == pytest.approx(found.deltas[0][1])


def test_two_voices_alone_set_no_measure() -> None:
    assert likeness([heard("A", so=200, no=200), heard("B", so=100, no=300), heard("C", so=50, no=49)]) is None
    assert likeness([]) is None


def test_voices_that_say_the_same_words_as_often_are_no_distance_apart() -> None:
    found = likeness([heard(name, so=200, no=200) for name in "ABC"])
    assert found is not None
    assert found.deltas == ((0, 0, 0), (0, 0, 0), (0, 0, 0))
