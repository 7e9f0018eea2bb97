"""Two texts of one passage that were both made from a third, put together line by line; where they differ, nothing is
guessed.

The rule is that of three-way merging since `diff3`: lines that all three have are fixed points, and what lies between
two of them is taken from the version that changed it. What both changed, each in its own way, is a clash, also where
the one changed a line and the other its neighbour, for a cue and the words under it are read together. Paragraphs are
read apart, so that what each of two did to its own is no clash, though they stand next to each other. Lines are never
put together by words: the sentence that came of it would be one that nobody wrote, and nobody would have read it.
"""

from __future__ import annotations

from itertools import chain, groupby, pairwise, takewhile, zip_longest
from operator import itemgetter, lt
from typing import TYPE_CHECKING, NamedTuple

from rapidfuzz.distance import LCSseq

from screenplay.comparing import in_order
from screenplay.fountain import split_lines
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    LinePair = tuple[int, int]

LARGEST_PRODUCT = 12_000**2  # lines of both texts between two that are known to be the same, for a subsequence of them
NOWHERE = -1
_MARKS = ("/*", "*/")
_ASIDE = {Kind.NOTE: 1, Kind.BONEYARD: 2}  # how far from the page: what is in a boneyard may be in a note there


class TextLine(NamedTuple):
    """A line and its line end."""

    text: str
    end: str

    @property
    def words(self) -> str:
        """What counts when lines are compared: the text without white space at its end. Of a line of blanks, more than
        one are text, for they keep a speech open (F10)."""
        return self.text.rstrip() or ("" if self.text == " " else self.text)

    @property
    def is_blank(self) -> bool:
        return not self.text.strip()


Lines = tuple[TextLine, ...]
NO_LINE = TextLine("", "")


class Clash(NamedTuple):
    """Lines as they were, and what each version made of them; `is_moved` where the versions differ in the place
    alone."""

    base: Lines
    ours: Lines
    theirs: Lines
    is_moved: bool = False


class PassageKinds(NamedTuple):
    """What each line of a passage is, as it was and in each version; which of its blank lines, as it was, end a scene;
    and which lines of ours they cut, and which of theirs we did."""

    base: Sequence[Kind]
    ours: Sequence[Kind]
    theirs: Sequence[Kind]
    ending: Sequence[bool]
    cut_by_theirs: Sequence[bool]
    cut_by_ours: Sequence[bool]


class Versions(NamedTuple):
    """A passage as it was and as each version has it, with pairs of places of lines known to be the same in both."""

    base: Lines
    ours: Lines
    theirs: Lines
    same_in_ours: Sequence[LinePair] = ()
    same_in_theirs: Sequence[LinePair] = ()


class _Fixed(NamedTuple):
    """A line that all three have: its place in each."""

    base: int
    ours: int
    theirs: int


class _Gap(NamedTuple):
    """A version's lines between two fixed ones, what each of them is, and which the other version cut."""

    lines: Lines
    kinds: Sequence[Kind]
    cut: Sequence[bool] = ()

    @property
    def worded(self) -> list[int]:
        """The places of lines that are neither blank nor a mark of a boneyard by itself."""
        return [at for at, line in enumerate(self.lines) if line.words.strip() not in ("", *_MARKS)]


def merge_lines(versions: Versions, kinds: PassageKinds) -> list[Lines | Clash]:
    """The passage with both versions' changes in it: lines that are settled, and clashes, in order.

    Blank lines that end the passage are no part of a clash: they tell where it stands rather than what is in it. What
    one version put into a note or a boneyard is cut from the page, so that it clashes as a whole with what the other
    changed in it; but what each put into a boneyard of its own, and neither changed, goes into one. A paragraph that
    one moved there and the other cut clashes where it stands now.
    """
    base, ours, theirs, same_in_ours, same_in_theirs = versions
    places = zip(_places(base, ours, same_in_ours), _places(base, theirs, same_in_theirs), strict=True)
    fixed = [_Fixed(at, *found) for at, found in enumerate(places) if NOWHERE not in found]
    hidden = _hidden(fixed, kinds)
    return list(_by_fixed_lines(versions, kinds, [line for line in fixed if line.base not in hidden]))


def _hidden(fixed: Sequence[_Fixed], kinds: PassageKinds) -> set[int]:
    """Places of lines that one version alone put into a note or a boneyard, with blank ones that end their scene."""
    found: set[int] = set()
    for line in fixed:
        was, ours, theirs = kinds.base[line.base], kinds.ours[line.ours], kinds.theirs[line.theirs]
        is_hidden = _aside(ours) != _aside(theirs) and max(_aside(ours), _aside(theirs)) > _aside(was)
        if is_hidden or (kinds.ending[line.base] and line.base - 1 in found):
            found.add(line.base)
    return found


def _aside(kind: Kind) -> int:
    return _ASIDE.get(kind, 0)


def _by_fixed_lines(versions: Versions, kinds: PassageKinds, fixed: Iterable[_Fixed]) -> Iterator[Lines | Clash]:
    base, ours, theirs = versions[:3]
    start = our_start = their_start = 0
    same: list[TextLine] = []
    for at, our_at, their_at in fixed:
        if at > start or our_at > our_start or their_at > their_start:
            yield tuple(same)
            gap = slice(start, at), slice(our_start, our_at), slice(their_start, their_at)
            yield from _put_together(*_in_gap(versions, kinds, gap))
            same = []
        same.append(_as_it_ends(base[at], ours[our_at], theirs[their_at]))
        start, our_start, their_start = at + 1, our_at + 1, their_at + 1
    yield tuple(same)
    gap = slice(start, None), slice(our_start, None), slice(their_start, None)
    yield from _put_together(*_in_gap(versions, kinds, gap), is_last=True)


def _in_gap(versions: Versions, kinds: PassageKinds, gap: tuple[slice, slice, slice]) -> tuple[_Gap, _Gap, _Gap]:
    base, ours, theirs = gap
    return (
        _Gap(versions.base[base], kinds.base[base]),
        _Gap(versions.ours[ours], kinds.ours[ours], kinds.cut_by_theirs[ours]),
        _Gap(versions.theirs[theirs], kinds.theirs[theirs], kinds.cut_by_ours[theirs]),
    )


def _as_it_ends(base: TextLine, ours: TextLine, theirs: TextLine) -> TextLine:
    """A line of the same words in all three, with the white space at its end and the line end that a version gave
    it."""
    return theirs if ours == base else TextLine(*map(three_way, base, ours, theirs))


def three_way(base: str, ours: str, theirs: str) -> str:
    """White space that one version changed, as that version has it; if both did, the longer one."""
    if ours == base:
        return theirs
    return ours if theirs in (base, ours) else max(ours, theirs, key=lambda end: (len(end), end))


def reads_the_same(some: Lines, others: Lines) -> bool:
    """Whether two passages have the same lines, the blank ones after the last apart."""
    return _words(_parted(some)[0]) == _words(_parted(others)[0])


# -- what lies between two lines that all have


def _put_together(was: _Gap, here: _Gap, there: _Gap, *, is_last: bool = False) -> Iterator[Lines | Clash]:
    base, ours, theirs = was.lines, here.lines, there.lines
    taken = _taken(base, ours, theirs)
    if taken is None:
        taken = None if Kind.SCENE_HEADING in was.kinds else _cut_by_each(base, ours, theirs)
    blanks: Lines = ()
    if taken is None and is_last:
        (base, base_blanks), (ours, our_blanks), (theirs, their_blanks) = _parted(base), _parted(ours), _parted(theirs)
        blanks = _blanks(base_blanks, our_blanks, their_blanks)
        taken = _taken(base, ours, theirs)
    if taken is None:
        was, here, there = was._replace(lines=base), here._replace(lines=ours), there._replace(lines=theirs)
        taken = _in_boneyards(was, here, there) or _added_above(was, here, theirs) or _added_above(was, there, ours)
    if taken is not None:
        yield from _unless_cut(taken, here, there)
    else:
        yield from _clashing(base, ours, theirs)
    yield blanks


def _clashing(base: Lines, ours: Lines, theirs: Lines) -> Iterator[Lines | Clash]:
    """What both changed, each in its own way, and around it what they begin and end alike with."""
    first = _alike(ours, theirs)
    last = _alike(ours[len(first) :][::-1], theirs[len(first) :][::-1])[::-1]
    ours, theirs = (lines[len(first) : len(lines) - len(last)] for lines in (ours, theirs))
    taken = None if base else _taken(base, ours, theirs)
    if taken is None and not any(line.words for line in (*ours, *theirs)):
        taken = max(ours, theirs, key=lambda lines: (len(lines), lines))
    yield first
    yield Clash(_unsettled(base, first + last), ours, theirs) if taken is None else taken
    yield last


def _unsettled(base: Lines, settled: Lines) -> Lines:
    """The paragraphs of the base but for those that both versions have, in another place than it has them."""
    words = set(_words(settled))
    paragraphs = [(paragraph, set(_words(_parted(paragraph)[0]))) for paragraph in _paragraphs(base)]
    return tuple(chain.from_iterable(lines for lines, found in paragraphs if not found or not found <= words))


def _unless_cut(taken: Lines, here: _Gap, there: _Gap) -> Iterator[Lines | Clash]:
    """Lines taken from one version, with clashes for the paragraphs of them that the other cut: as they are new here,
    the one moved them."""
    is_ours, is_theirs = (_words(taken) == _words(version.lines) for version in (here, there))
    cut = here.cut if is_ours else there.cut
    if is_ours == is_theirs or not any(cut):
        yield taken
        return
    start, asked = 0, []
    for paragraph in _paragraphs(taken):
        places = [at for at, line in enumerate(paragraph, start) if line.words]
        asked += [bool(places) and all(cut[at] for at in places)] * len(paragraph)
        start += len(paragraph)
    for is_asked, run in groupby(zip(asked, taken, strict=True), key=itemgetter(0)):
        lines = tuple(line for _, line in run)
        clash = Clash(lines, lines if is_ours else (), () if is_ours else lines)
        yield clash if is_asked else lines


def _in_boneyards(was: _Gap, here: _Gap, there: _Gap) -> Lines | None:
    """Lines that neither version changed, all in boneyards that either put there; None if that is not all they did.

    What is in a boneyard is cut, and what each of two cut goes, whoever of them cut it.
    """
    words = [[gap.lines[at].words for at in gap.worded] for gap in (was, here, there)]
    if Kind.BONEYARD in was.kinds or not words[0] == words[1] == words[2]:
        return None
    places = list(zip(here.worded, there.worded, strict=True))
    hidden = [(here.kinds[at] is Kind.BONEYARD, there.kinds[their_at] is Kind.BONEYARD) for at, their_at in places]
    if (True, True) in hidden or not any(map(any, hidden)):
        return None
    runs = [list(run) for _, run in groupby((nth for nth, by in enumerate(hidden) if any(by)), hidden.__getitem__)]
    written: Lines = ()
    for run, following in zip_longest(runs, runs[1:]):
        version = hidden[run[0]].index(True)
        lines = (here, there)[version].lines
        start = places[run[0] - 1][version] + 1 if written else 0
        stop = places[following[0]][version] if following else len(lines)
        while written and written[-1].is_blank and lines[start].is_blank:
            start += 1
        written += lines[start:stop]
    return written


def _cut_by_each(base: Lines, ours: Lines, theirs: Lines) -> Lines | None:
    """The paragraphs that are left where each version cut some and did nothing else; None if that is not all."""
    paragraphs = _paragraphs(base)
    was, is_here, is_there = (
        [tuple(_words(_parted(paragraph)[0])) for paragraph in found]
        for found in (paragraphs, _paragraphs(ours), _paragraphs(theirs))
    )
    here, there = set(is_here), set(is_there)
    is_cut = all(
        version == [words for words in was if words in left] for version, left in ((is_here, here), (is_there, there))
    )
    if not is_cut or len(set(was)) < len(was):
        return None
    pairs, left = zip(paragraphs, was, strict=True), here & there
    kept = tuple(chain.from_iterable(lines for lines, words in pairs if words in left))
    return _parted(kept)[0] + _parted(base)[1] if kept else ()


def _paragraphs(lines: Lines) -> list[Lines]:
    """Lines by paragraphs, each with the blank ones under it."""
    starts = [at for at in range(len(lines)) if not at or (lines[at - 1].is_blank and not lines[at].is_blank)]
    return [lines[start:stop] for start, stop in pairwise([*starts, len(lines)])]


def _added_above(was: _Gap, adding: _Gap, changed: Lines) -> Lines | None:
    """A paragraph as one version changed it, under paragraphs that the other added above it; None if that is not
    all."""
    paragraph, lines = was.lines, adding.lines
    count = len(lines) - len(paragraph)
    above = lines[:count]
    is_added = count > 0 and not above[-1].words and _words(lines[count:]) == _words(paragraph) and _is_whole(above)
    if not is_added or adding.kinds[count : len(lines)] != was.kinds[: len(paragraph)]:
        return None
    is_alone = all(found and not any(line.is_blank for line in found) for found in (paragraph, changed))
    return above + changed if is_alone and not set(_words(above)) & set(_words(changed)) else None


def _is_whole(lines: Lines) -> bool:
    """Whether no boneyard begins or ends in these lines, and each note that does both."""
    text = "\n".join(line.text for line in lines)
    return text.count("[[") == text.count("]]") and not any(mark in text for mark in _MARKS)


def _taken(base: Lines, ours: Lines, theirs: Lines) -> Lines | None:
    """What one version alone changed, or both alike; None where each has its own change."""
    was, is_here, is_there = _words(base), _words(ours), _words(theirs)
    if is_here == is_there:
        before = base if was == is_here else (NO_LINE,) * len(ours)
        return tuple(map(_as_it_ends, before, ours, theirs))
    if is_here == was:
        return theirs
    return ours if is_there == was else None


def _alike(ours: Sequence[TextLine], theirs: Sequence[TextLine]) -> Lines:
    """The lines that both begin with."""
    pairs = takewhile(lambda pair: pair[0].words == pair[1].words, zip(ours, theirs, strict=False))
    return tuple(_as_it_ends(NO_LINE, one, other) for one, other in pairs)


def _parted(lines: Lines) -> tuple[Lines, Lines]:
    """The lines up to the last that is not blank, and the blank ones after it."""
    blank = sum(1 for _ in takewhile(lambda line: line.is_blank, reversed(lines)))
    return lines[: len(lines) - blank], lines[len(lines) - blank :]


def _blanks(base: Lines, ours: Lines, theirs: Lines) -> Lines:
    return lines_of(three_way(*("".join(chain.from_iterable(lines)) for lines in (base, ours, theirs))))


def _words(lines: Iterable[TextLine]) -> list[str]:
    return [line.words for line in lines]


# -- lines that stayed


def _places(base: Lines, version: Lines, known: Iterable[LinePair]) -> list[int]:
    """Where each line of `base` stands in `version`, rising; NOWHERE for those that do not."""
    places = [NOWHERE] * len(base)
    for at, place in _with_those_between(_words(base), _words(version), _rising(known)):
        places[at] = place
    _put_early(base, version, places)
    return places


def _rising(known: Iterable[LinePair]) -> list[LinePair]:
    pairs = sorted(known)
    places = [place for _, place in pairs]
    return pairs if all(map(lt, places, places[1:])) else [pairs[at] for at in in_order(places)]


def _with_those_between(base: Sequence[str], version: Sequence[str], known: Sequence[LinePair]) -> Iterator[LinePair]:
    """The pairs that are known, and in each gap between them the longest sequence of lines that both have."""
    start = place = 0
    for at, known_place in [*known, (len(base), len(version))]:
        while start < at and place < known_place and base[start] == version[place]:
            yield start, place
            start, place = start + 1, place + 1
        if 0 < (at - start) * (known_place - place) <= LARGEST_PRODUCT:
            for block in LCSseq.opcodes(base[start:at], version[place:known_place]).as_matching_blocks():
                yield from ((start + block.a + nth, place + block.b + nth) for nth in range(block.size))
        if at < len(base):
            yield at, known_place
        start, place = at + 1, known_place + 1


def _put_early(base: Lines, version: Lines, places: list[int]) -> None:
    """Of equal lines that one added or cut line could be, let it be the last, so that both versions' gaps lie alike.

    A paragraph added between two blank lines is then itself and the blank line after it.
    """
    before, place_before = NOWHERE, NOWHERE
    for at in range(len(base)):
        place = places[at]
        if place == NOWHERE:
            continue
        if at == before + 1 and place > place_before + 1 and version[place_before + 1].words == base[at].words:
            places[at] = place = place_before + 1
        elif place == place_before + 1 and at > before + 1 and base[before + 1].words == base[at].words:
            places[before + 1], places[at] = place, NOWHERE
            before, place_before = before + 1, place
            continue
        before, place_before = at, place


def lines_of(text: str | Sequence[str]) -> Lines:
    """The lines of a text, or of source lines with their ends, each apart from its end."""
    source = split_lines(text) if isinstance(text, str) else text
    texts = [line.rstrip("\r\n") for line in source]
    return tuple(map(TextLine, texts, [line[len(text) :] for line, text in zip(source, texts, strict=True)]))
