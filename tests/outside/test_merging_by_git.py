"""Two texts put together, against what a general-purpose tool makes of them line by line.

Source: `git merge-file`, of Git 2.39, a three-way merge that knows nothing of scenes. Where nothing moved and it finds
no conflict, both come to the same text. Ours does better in what it takes for a conflict: it puts together what the two
did in neighbouring scenes, of which one was cut, say, and follows a scene that one of them moved.
"""

from __future__ import annotations

import shutil
import subprocess
from random import Random
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay.next_draft import merge
from tests.plays import play_as_fountain

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

WORDS = ("rope", "tide", "lamp", "gull", "oar", "fog", "pier", "salt", "rust", "bell", "winch", "hull", "keel", "mast")
LINES, MOST_EDITS = 150, 8


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    assert shutil.which("git"), "Install git to run this."
    return tmp_path_factory.mktemp("merge")


def by_git(folder: Path, base: str, ours: str, theirs: str) -> str | None:
    """What Git makes of them; None where it finds a conflict."""
    paths = [folder / name for name in ("ours", "base", "theirs")]
    for path, text in zip(paths, (ours, base, theirs), strict=True):
        path.write_text(text, encoding="utf-8", newline="")
    done = subprocess.run(["git", "merge-file", "-p", "-q", *paths], capture_output=True, check=False)
    return None if done.returncode else done.stdout.decode()


def edited(rng: Random, lines: Sequence[str], hand: str) -> str:
    """The lines with some reworded, cut and added, and scenes parted and joined, each in its place."""
    places = set(rng.sample(range(len(lines)), rng.randint(1, MOST_EDITS)))
    written: list[str] = []
    for at, line in enumerate(lines):
        if at not in places:
            written.append(line)
        elif line.strip():
            written += rng.choice(([], [f"{line.rstrip()} {new_line(rng, hand)}"], [line, new_line(rng, hand)]))
        elif written and written[-1].strip() and not written[-1].startswith((".", "#", "INT.")):
            heading = f"INT. {new_line(rng, hand).upper()}"
            written += rng.choice(([line, new_line(rng, hand), "\n"], [line, heading, "\n", new_line(rng, hand), "\n"]))
    return "".join(written)


def new_line(rng: Random, hand: str) -> str:
    return f"{' '.join(rng.choices(WORDS, k=rng.randint(3, 9)))} {hand}{rng.randrange(10**9)}.\n"


def three_texts(seed: int) -> tuple[str, str, str]:
    rng = Random(seed)
    whole = play_as_fountain(rng.choice(("hamlet", "king-lear"))).splitlines(keepends=True)
    start = rng.randrange(len(whole) - LINES)
    lines = whole[start : start + LINES]
    return "".join(lines), edited(rng, lines, "o"), edited(rng, lines, "t")


@settings(max_examples=40)
@given(seed=st.integers(0, 2**32))
def test_where_git_finds_no_conflict_the_text_is_the_same(folder: Path, seed: int) -> None:
    base, ours, theirs = three_texts(seed)
    expected = by_git(folder, base, ours, theirs)
    if expected is not None:
        assert merge(base, ours, theirs).text == expected


def test_a_good_half_of_those_texts_have_no_conflict_for_git(folder: Path) -> None:
    """Else the test before this one would try next to nothing."""
    clean = [seed for seed in range(40) if by_git(folder, *three_texts(seed)) is not None]
    assert len(clean) >= 20


def test_a_scene_that_one_moved_and_the_other_rewrote_is_a_conflict_for_git_alone(folder: Path) -> None:
    scenes = [f"INT. {word.upper()} - DAY\n\nThe {word}, and nobody by it.\n\n" for word in WORDS]
    base, moved = "".join(scenes), "".join([*scenes[:3], *scenes[4:], scenes[3]])
    rewritten = base.replace("The gull, and nobody by it.", "A gull, and a boy with bread.")
    assert by_git(folder, base, moved, rewritten) is None
    assert merge(base, moved, rewritten).text == moved.replace(
        "The gull, and nobody by it.", "A gull, and a boy with bread."
    )


def test_no_more_texts_have_a_conflict_than_git_finds(folder: Path) -> None:
    """In a scene the rule is the same, and around scenes ours is the more lenient."""
    texts = [three_texts(seed) for seed in range(40)]
    theirs = sum(by_git(folder, *three) is None for three in texts)
    assert sum(bool(merge(*three).conflicts) for three in texts) <= theirs
