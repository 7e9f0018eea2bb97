"""A script and what is counted in it: its lines, its scenes and its characters, and the lines that each of them is on.

What has page numbers is counted in a script and its layout together: `LaidOut` holds the two.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from screenplay.fountain import LINE_ENDS, parse, plain, same_name, without_number
from screenplay.model import Block, Heading, Kind, Screenplay, Span, Speech
from screenplay.names import action_naming
from screenplay.page import USUAL_SETTING, paginate
from screenplay.words import count_words

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from screenplay.page import Layout, PageSetting

_PRINTS_NOTHING = frozenset(
    {Kind.BLANK, Kind.NOTE, Kind.BONEYARD, Kind.SECTION, Kind.SYNOPSIS, Kind.PAGE_BREAK, Kind.TITLE_PAGE}
)
_SPOKEN = frozenset({Kind.DIALOGUE, Kind.LYRIC})


@dataclass(frozen=True, slots=True)
class Line:
    """A source line. `line` counts from 1, as its `page` does; `end` is its own line end; `scene` and `page` are None
    where it has none."""

    line: int
    kind: Kind
    scene: int | None
    page: int | None
    text: str
    end: str


@dataclass(frozen=True, slots=True)
class Scene:
    """A scene, from its heading to the line before the next. `remark` is what the heading says behind the time, as
    FLASHBACK does. `eighths` is its length in eighths of a page; its heading is on `page`, counted from 1, which is
    called `page_label`, and on none where it prints nothing."""

    ordinal: int
    number: str | None
    heading: str
    setting: str
    place: str
    time: str
    remark: str
    first_line: int
    last_line: int
    page: int | None
    page_label: str
    eighths: int
    characters: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Character:
    """A character as counted from the cues: `scenes` is the number of scenes with a speech of theirs."""

    name: str
    speeches: int
    words: int
    scenes: int


@dataclass(frozen=True, slots=True)
class CharacterPart:
    """`lines` are the source lines of the character's scenes, `speeches` those of their speeches, cues included."""

    name: str
    lines: frozenset[int]
    speeches: frozenset[int]


@dataclass(frozen=True)
class LaidOut:
    """A script with its pages. Its scenes and characters are counted once, when they are first asked for."""

    script: Screenplay
    layout: Layout

    @property
    def page_count(self) -> int:
        """How many pages it has, the title page not counted."""
        return len(self.layout.pages)

    @property
    def eighths(self) -> int:
        """Its length in eighths of a page, as the layout adds it up."""
        return self.layout.eighths

    @cached_property
    def scenes(self) -> tuple[Scene, ...]:
        """Every scene, in order."""
        return scenes_of(self.script, self.layout)

    @cached_property
    def characters(self) -> tuple[Character, ...]:
        """Everybody who speaks, most words first."""
        return characters_of(self.script)


def lay_out(script: Screenplay, setting: PageSetting = USUAL_SETTING) -> LaidOut:
    """The script with its pages by a setting."""
    return LaidOut(script, paginate(script, setting))


def headings_of(script: Screenplay) -> list[Heading]:
    """The scene headings, in order: one for each scene."""
    return [element for element in script.elements if isinstance(element, Heading)]


def lines_of(script: Screenplay, layout: Layout) -> tuple[Line, ...]:
    """Every source line, with the page it first stands on where it prints something."""
    page_of = layout.page_of
    found: list[Line] = []
    for number, (source, kind, scene) in enumerate(
        zip(script.source, script.kinds, script.scene_of, strict=True), start=1
    ):
        text = source.rstrip(LINE_ENDS)
        page = None if kind in _PRINTS_NOTHING or not text.strip() else page_of.get(number)
        found.append(Line(number, kind, scene or None, page, text, source[len(text) :]))
    return tuple(found)


def scenes_of(script: Screenplay, layout: Layout) -> tuple[Scene, ...]:
    """Every scene, in order; its characters are in the order of their first speech in it. Its number is the locked one
    where the layout's setting has any, else the one in its heading."""
    locked = {ordinal: number for number, ordinal in layout.setting.scene_numbers}
    headings = headings_of(script)
    speakers = speakers_by_scene(script)
    ends = [*(heading.first_line - 1 for heading in headings[1:]), len(script.source)][: len(headings)]
    return tuple(
        Scene(
            ordinal=ordinal,
            number=locked.get(ordinal, heading.number),
            heading=plain(heading.printed),
            setting=heading.setting,
            place=heading.place,
            time=heading.time,
            remark=heading.remark,
            first_line=heading.first_line,
            last_line=end,
            page=layout.page_of.get(heading.first_line),
            page_label=layout.label_at(heading.first_line),
            eighths=layout.scene_eighths[ordinal - 1],
            characters=speakers.get(ordinal, ()),
        )
        for ordinal, (heading, end) in enumerate(zip(headings, ends, strict=True), start=1)
    )


def speakers_by_scene(script: Screenplay) -> Mapping[int, tuple[str, ...]]:
    """Who speaks in each scene that has speeches, by the scene's ordinal, 0 for before the first, in the order of their
    first speech in it."""
    speakers: dict[int, dict[str, None]] = defaultdict(dict)
    for scene, speech in _speeches(script):
        speakers[scene][speech.name] = None
    return {scene: tuple(names) for scene, names in speakers.items()}


def named_by_scene(script: Screenplay, names: Collection[str]) -> Mapping[int, tuple[str, ...]]:
    """Which of some characters the action of each scene names, in the order in which it first does."""
    first: dict[int, dict[str, int]] = defaultdict(dict)
    for name, lines in action_naming(script, names).items():
        for line in lines:
            first[script.scene_of[line - 1]].setdefault(name, line)
    return {scene: tuple(sorted(at, key=lambda name: (at[name], name))) for scene, at in first.items()}


def characters_of(script: Screenplay) -> tuple[Character, ...]:
    """Everybody who speaks, most words first, equals by name. Parentheticals, extensions and notes are no words of
    theirs."""
    speeches: dict[str, int] = defaultdict(int)
    spoken: dict[str, int] = defaultdict(int)
    scenes: dict[str, set[int]] = defaultdict(set)
    for scene, speech in _speeches(script):
        speeches[speech.name] += 1
        spoken[speech.name] += speech_words(speech)
        if scene:
            scenes[speech.name].add(scene)
    found = [Character(name, speeches[name], spoken[name], len(scenes[name])) for name in speeches]
    return tuple(sorted(found, key=lambda character: (-character.words, same_name(character.name))))


def first_cues(script: Screenplay) -> dict[str, int]:
    """The source line of the cue under which each character first speaks, in that order."""
    cues: dict[str, int] = {}
    for _, speech in _speeches(script):
        cues.setdefault(speech.name, speech.cue.line)
    return cues


def speech_words(speech: Speech) -> int:
    """How many words are said or sung in a speech."""
    return sum(count_words(plain(line)) for line in speech.lines if line.kind in _SPOKEN)


def block_words(block: Block) -> int:
    """How many words a block of action, or of lyrics without a cue, has."""
    return sum(count_words(plain(line)) for line in block.lines)


def words_sung_alone(script: Screenplay) -> int:
    """How many words are sung under no cue, so that they are nobody's."""
    lyrics = (one for one in script.elements if isinstance(one, Block) and one.kind is Kind.LYRIC)
    return sum(map(block_words, lyrics))


def part_of(script: Screenplay, character: str) -> CharacterPart:
    """The part of a character, whose name is spelled in capitals or not; without lines where they are in no scene.

    They are in the scenes they speak in, and in those whose action names them with a capital letter, or in any letters
    if the name has several words. What stands before the first heading counts as a scene. Someone who is only meant,
    as "he" or as "the twins", is not found, nor who merely owns something there.
    """
    cued = (element for element in script.elements if isinstance(element, Speech))
    theirs = [speech for speech in cued if same_name(speech.name) == same_name(character)]
    said = {line for speech in theirs for line in range(speech.first_line, speech.last_line + 1)}
    scenes = {script.scene_of[line - 1] for line in (*said, *action_naming(script, [character])[character])}
    lines = frozenset(line for line, scene in enumerate(script.scene_of, 1) if scene in scenes)
    return CharacterPart(theirs[0].name if theirs else character, lines, frozenset(said))


def scene_span(script: Screenplay, ordinal: int) -> Span:
    """All the lines of a scene, from its heading to the line before the next.

    Raises ValueError for a scene that the script does not have.
    """
    first, last = bisect_left(script.scene_of, ordinal) + 1, bisect_right(script.scene_of, ordinal)
    if ordinal < 1 or last < first:
        raise ValueError(f"The script has no scene {ordinal}.")
    return Span(first, 0, last, len(script.source[last - 1].rstrip(LINE_ENDS)))


def cue_span(script: Screenplay, name: str) -> Span | None:
    """The cue under which a character first speaks, None where nobody of the name does."""
    lines = {same_name(speaker): line for speaker, line in first_cues(script).items()}
    line = lines.get(same_name(name))
    return None if line is None else Span(line, 0, line, len(script.source[line - 1].rstrip(LINE_ENDS)))


def chosen_words(script: Screenplay, span: Span) -> list[str]:
    """The text of a stretch, line by line, white space at the ends, blank lines and scene numbers left out."""
    within = slice(span.first_line - 1, span.last_line)
    lines = list(map(_without_scene_number, script.source[within], script.kinds[within]))
    lines[-1] = lines[-1][: span.last_char]
    lines[0] = lines[0][span.first_char :]
    return [words for line in lines if (words := " ".join(line.split()))]


def chosen_text(script: Screenplay, span: Span) -> str:
    """The words of a stretch in one line, however they are parted into lines and paragraphs."""
    return " ".join(chosen_words(script, span))


def same_words(was: str, reads: str) -> bool:
    """Whether two stretches of source say the same, each read by itself: however they are parted into lines, and
    whatever numbers the scenes have that begin in them."""
    if was.split() == reads.split():
        return True
    return "#" in was + reads and _words_of(was) == _words_of(reads)


def _words_of(source: str) -> str:
    script = parse(f"\n{source}")  # whose first line is no title page's
    return chosen_text(script, Span(1, 0, len(script.source), len(script.source[-1])))


def _without_scene_number(line: str, kind: Kind) -> str:
    return without_number(line.rstrip())[0] if kind is Kind.SCENE_HEADING else line


def _speeches(script: Screenplay) -> Iterator[tuple[int, Speech]]:
    """Every speech in which something stands under the cue, with the ordinal of its scene, 0 for none."""
    for element in script.elements:
        if isinstance(element, Speech) and element.lines:
            yield script.scene_of[element.first_line - 1], element
