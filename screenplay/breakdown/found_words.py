"""Which of one caution's listed words count in a sentence, by the rules that the header of `cautions.toml` states."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.caution_lists import WordRole
from screenplay.breakdown.doers import is_by_someone
from screenplay.breakdown.list_files import plain_words
from screenplay.breakdown.person_words import PEOPLE
from screenplay.breakdown.sentences import may_be_doing, may_be_thing

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from screenplay.breakdown.caution_lists import Tag
    from screenplay.breakdown.entries import Match
    from screenplay.breakdown.known_people import KnownPeople
    from screenplay.breakdown.scene_lines import Told
    from screenplay.breakdown.sentences import Sentence

_NEAR = 9  # words, either way
_SOON = 6  # words, after
_REACH_OF_NOT_AFTER = 4  # words
_REACH_OF_BEFORE_SOMEONE = 3  # words
_COUNT = frozenset({WordRole.THINGS, WordRole.OUTDOORS, WordRole.DOINGS, WordRole.TO_SOMEONE, WordRole.BY_SOMEONE})
_WAIT = frozenset(
    {
        *(WordRole.FAINT, WordRole.THESE, WordRole.SOMEWHERE, WordRole.SOMEONE_SOMEWHERE),
        WordRole.INDOOR_PLACES_UNLESS,
        *(WordRole.WET, WordRole.WET_OUTDOORS, WordRole.IN_THE_WET),
    }
)
_THINGS = frozenset({WordRole.THINGS, WordRole.OUTDOORS, WordRole.THESE})
_BY_SOMEONE = frozenset({WordRole.BY_SOMEONE, WordRole.BESIDE_BY_SOMEONE, WordRole.SOMEONE_SOMEWHERE})
_DOINGS = frozenset({WordRole.DOINGS, WordRole.TO_SOMEONE, WordRole.SOMEWHERE})
_DOERS = plain_words("grammar", "uses", "doers")
_OTHERS = plain_words("grammar", "someone", "others")
_AFTER_HER = plain_words("grammar", "someone", "after_her")
_BETWEEN = plain_words("grammar", "someone", "between")
_BEFORE_SOMEONE = plain_words("grammar", "someone", "before_someone")
_OBJECTS = plain_words("grammar", "uses", "objects")
_SOMEONE = PEOPLE | plain_words("grammar", "someone", "body")


class FoundWords:
    """One caution's words in a sentence. `people` are those whom the script has,
    `pictured` those that were first met in the scene as a picture or a likeness. With `far_too` they count far off."""

    def __init__(
        self,
        told: Told,
        by_tag: Mapping[Tag, Sequence[Match]],
        people: KnownPeople,
        pictured: Collection[str],
        *,
        far_too: bool = False,
    ) -> None:
        self._sentence = told.sentence
        self._seeming = told.seeming
        self._unreal = told.seeming.unreal - told.seeming.far if far_too else told.seeming.unreal
        self._by_tag = by_tag
        self._people = people
        self._names = people.names
        self._pictured = pictured
        self._never = [match for tag, each in by_tag.items() if tag.role is WordRole.NEVER for match in each]
        self._not_after = frozenset(self._reached_by_not_after())
        self._not_these = list(self._these_beside())

    def counting(self, *, outdoors: bool) -> Iterator[str]:
        """The words that count by themselves, or with others of the sentence; none that are part of longer ones."""
        found: dict[tuple[int, int], tuple[Match, ...]] = {}
        for matches in (*((match,) for match in self._single(outdoors=outdoors)), *self._together()):
            found.setdefault((matches[0].start, matches[-1].end), matches)
        return (self._text(*found[span]) for span in _outermost(found))

    def _single(self, *, outdoors: bool) -> Iterator[Match]:
        for tag, matches in self._by_tag.items():
            if tag.role in _COUNT and (outdoors or tag.role is not WordRole.OUTDOORS):
                yield from (match for match in matches if self._holds(tag.role, match))

    def waiting(self) -> Iterator[tuple[Tag, str]]:
        """The words that count only with something else of the scene."""
        for tag, matches in self._by_tag.items():
            if tag.role in _WAIT:
                yield from ((tag, self._text(match)) for match in matches if self._holds(tag.role, match))

    def _holds(self, role: WordRole, match: Match) -> bool:
        if role in _THINGS:
            return self._is_thing(match)
        if role in _BY_SOMEONE:
            if role is WordRole.SOMEONE_SOMEWHERE and self._has_object(match):
                return False
            return self._is_not_undone(match) and is_by_someone(self._sentence, match.start, self._people)
        if role in _DOINGS:
            return self._is_doing(match) and (role is not WordRole.TO_SOMEONE or self._is_someone(match.end))
        return self._is_real(match)

    def _text(self, *matches: Match) -> str:
        """The words of one match or of two, without the 's of a possessive at their end."""
        first, last = matches[0], matches[-1]
        if first.end == last.start:
            told = self._sentence.as_written(first.start, last.end)
        else:
            told = " … ".join(text_of(self._sentence, match) for match in matches)
        return told.removesuffix("'s").removesuffix("’s")

    def _reached_by_not_after(self) -> Iterator[int]:
        for tag, matches in self._by_tag.items():
            if tag.role is WordRole.NOT_AFTER:
                for match in matches:
                    yield from range(match.end, match.end + _REACH_OF_NOT_AFTER)

    def _these_beside(self) -> Iterator[tuple[Match, Sequence[Match]]]:
        """What does not count, and the words for the sake of which it does not."""
        for tag, matches in self._by_tag.items():
            beside = self._by_tag.get(tag._replace(role=WordRole.NOT_BESIDE), ())
            if tag.role is WordRole.NOT_THESE and beside:
                yield from ((match, beside) for match in matches)

    def _is_cancelled(self, match: Match, ends: Collection[int]) -> bool:
        """Whether an end of it is among what does not count beside other words; a bell that its own "bell tower" begins
        with is none of these."""
        return any(
            any(these.start <= end < these.end for end in ends)
            and any(each.end != these.start or each.start < match.start for each in beside)
            for these, beside in self._not_these
        )

    def _is_real(self, match: Match) -> bool:
        ends = {match.start, match.end - 1}
        if any(ends & {*range(never.start, never.end)} and not _is_longer(match, never) for never in self._never):
            return False
        if self._is_cancelled(match, ends):
            return False
        return self._not_after.isdisjoint(ends) and self._unreal.isdisjoint(ends)

    def _is_thing(self, match: Match) -> bool:
        if not self._is_real(match) or self._sentence.words[match.end - 1] in self._pictured:
            return False
        return not match.entry.is_single or may_be_thing(self._sentence, match.start, self._names)

    def _is_doing(self, match: Match) -> bool:
        if not self._is_not_undone(match):
            return False
        return not match.entry.is_single or may_be_doing(self._sentence, match.start)

    def _is_not_undone(self, match: Match) -> bool:
        return self._is_real(match) and match.start not in self._seeming.undone

    def _together(self) -> Iterator[tuple[Match, Match]]:
        """Words that count with others, in their order."""
        for tag, matches in self._by_tag.items():
            if tag.role is not WordRole.THESE:
                continue
            beside = [*self._doings(tag, WordRole.BESIDE), *self._doings(tag, WordRole.BESIDE_BY_SOMEONE)]
            then = self._doings(tag, WordRole.THEN)
            for these in filter(self._is_thing, matches):
                near = (doing for doing in beside if self._is_near(these, doing))
                soon = (doing for doing in then if self._is_soon(these, doing))
                for doing in (*near, *soon):
                    yield (these, doing) if these.start < doing.start else (doing, these)

    def _doings(self, these: Tag, role: WordRole) -> list[Match]:
        """What is done in the same pair of lists as some things, and holds."""
        matches = self._by_tag.get(these._replace(role=role), ())
        return [
            match
            for match in matches
            if self._is_doing(match) and (role not in _BY_SOMEONE or self._holds(role, match))
        ]

    def _has_object(self, match: Match) -> bool:
        """Whether it is done to what stands behind it: "jumps the turnstile" is no jump from where somebody stands."""
        words = self._sentence.words
        return match.end < len(words) and not self._sentence.stops_after(match.end - 1) and words[match.end] in _OBJECTS

    def _is_near(self, one: Match, other: Match) -> bool:
        first, second = (one, other) if one.start < other.start else (other, one)
        if not 0 <= second.start - first.end <= _NEAR:
            return False
        return not any(map(self._sentence.breaks_after, range(first.end - 1, second.start)))

    def _is_soon(self, these: Match, doing: Match) -> bool:
        """Whether it follows so closely that nobody else can be the one who does it."""
        if not 0 <= doing.start - these.end <= _SOON:
            return False
        # A comma parts "the van, she comes", and not "two cars, racing".
        is_parted = self._sentence.breaks_after if self._is_participle(doing) else self._sentence.stops_after
        if any(map(is_parted, range(these.end - 1, doing.start))):
            return False
        return not any(map(self._is_somebody, range(these.end, doing.start)))

    def _is_somebody(self, at: int) -> bool:
        word = self._sentence.words[at]
        return word in _DOERS or (word in self._names and self._sentence.is_capital(at))

    def _is_participle(self, doing: Match) -> bool:
        return self._sentence.words[doing.start].endswith("ing")

    def _is_someone(self, at: int) -> bool:
        """Whether somebody stands at a word: him, a name, the guard, her face."""
        words = self._sentence.words
        if at >= len(words) or self._sentence.stops_after(at - 1):
            return False
        word, after = words[at], words[at + 1 :]
        if word in _BETWEEN and after and after[0] not in _BETWEEN:
            return self._is_someone(at + 1)
        if word in _OTHERS or (word == "one" and after[:1] == ("another",)):
            return True
        if word == "her" and (not after or self._sentence.stops_after(at) or after[0] in _AFTER_HER):
            return True
        if word in _BEFORE_SOMEONE or self._sentence.is_possessive(at):
            return not _SOMEONE.isdisjoint(after[:_REACH_OF_BEFORE_SOMEONE])
        return word in self._names or (self._sentence.is_capital(at) and word not in _DOERS)


def _is_longer(match: Match, other: Match) -> bool:
    """Whether it has all of another's words, and more: "falls … stairs" is no longer than "falls behind", of which the
    second word stands in its gap."""
    if match.start == other.start and other.end > other.start + match.entry.length_before_gap:
        return False
    return match.start <= other.start and other.end <= match.end and match.end - match.start > other.end - other.start


def _outermost(spans: Iterable[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """The spans that lie within no other, in their order."""
    furthest = 0
    for start, end in sorted(spans, key=lambda span: (span[0], -span[1])):
        if end > furthest:
            yield start, end
            furthest = end


def text_of(sentence: Sentence, match: Match) -> str:
    """The words of a match as they stand, in small letters."""
    return sentence.as_written(match.start, match.end)
