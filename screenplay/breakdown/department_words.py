"""Where the words of the departments' lists stand in a script, scene by scene.

They are looked for in headings, action, centred lines, transitions, lyrics, parentheticals and what stands beside a
name in a cue, such as (ON RADIO), and not in what is only spoken. A lyric is the music department's, whatever it says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.cautions import Find
from screenplay.breakdown.trade_words import trade_words_in
from screenplay.fountain import name_and_extensions, plain
from screenplay.model import Block, Heading, Kind, Speech

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.model import Element, Screenplay

MUSIC = "music"
LYRICS = "lyrics"
_SEARCHED = frozenset({Kind.ACTION, Kind.CENTERED, Kind.TRANSITION, Kind.LYRIC})


def department_words(script: Screenplay) -> list[tuple[Find, ...]]:
    """The words found in each scene by its ordinal, at 0 of what stands before the first heading; by line in each, with
    the list's key, each word of a list once, where it stands first."""
    found: list[dict[tuple[str, str], Find]] = [{} for _ in range(max(script.scene_of, default=0) + 1)]
    for element in script.elements:
        for line, text in searched_texts(element):
            scene = found[script.scene_of[line - 1]]
            for listed in trade_words_in([text]):
                for words in listed.words:
                    scene.setdefault((listed.key, words), Find(listed.key, words, line))
            if script.kinds[line - 1] is Kind.LYRIC:
                scene.setdefault((MUSIC, LYRICS), Find(MUSIC, LYRICS, line))
    return [tuple(scene.values()) for scene in found]


def searched_texts(element: Element) -> Iterator[tuple[int, str]]:
    """What is searched of an element: each source line with what of it is."""
    if isinstance(element, Heading):
        yield element.printed.line, plain(element.printed)
    elif isinstance(element, Speech):
        extensions = name_and_extensions(plain(element.cue))[1]
        yield element.cue.line, ", ".join(extensions)
        yield from ((line.line, plain(line)) for line in element.lines if line.kind in {Kind.PARENTHETICAL, Kind.LYRIC})
    elif isinstance(element, Block) and element.kind in _SEARCHED:
        yield from ((line.line, plain(line)) for line in element.lines)
