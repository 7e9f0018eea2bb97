"""Names that changed throughout: a character another name now speaks for, a place that headings call otherwise."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from screenplay.comparing.draft_lines import FREE
from screenplay.model import Heading

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.model import Screenplay

FEWEST = 2  # a name met once that changed is a changed line, not a rename throughout
MOST = 0.8  # of what bore the old name, and of what bears the new
LEFT_OVER = 0.1  # of the old name's uses may remain, and of the new one's may have been there


@dataclass(frozen=True, slots=True)
class Rename:
    """One name for another throughout, as cues or headings write them."""

    old: str
    new: str
    kind: Literal["character", "place"]


def renamed_characters(old: DraftLines, new: DraftLines) -> list[Rename]:
    """Characters whose speeches, placed so far by their lines, are another name's in the new draft."""
    theirs = new.speakers
    heard = [
        (speaker, theirs[partner])
        for speaker, partner, cue in zip(old.speakers, old.partner, old.is_cue, strict=True)
        if partner != FREE and speaker and not cue and theirs[partner]
    ]
    return _without_followers(_throughout(Counter(heard), _cues(old), _cues(new), "character"))


def renamed_places(old: Screenplay, new: Screenplay, scene_pairs: Iterable[tuple[int, int]]) -> list[Rename]:
    """Places of paired scenes (ordinals) whose headings name another place in the new draft."""
    before, after = _places(old), _places(new)
    pairs = Counter(
        (before[scene - 1], after[partner - 1])
        for scene, partner in scene_pairs
        if scene and partner and before[scene - 1] and after[partner - 1]
    )
    return _throughout(pairs, Counter(before), Counter(after), "place")


def _without_followers(renames: list[Rename]) -> list[Rename]:
    """Without those that follow from another: MARA & JON to EDIE & JON, where MARA is EDIE now."""
    return [
        rename for rename in renames if not any(_follows(rename, other) for other in renames if other is not rename)
    ]


def _follows(rename: Rename, other: Rename) -> bool:
    return re.sub(rf"\b{re.escape(other.old)}\b", lambda _: other.new, rename.old) == rename.new


def _cues(draft: DraftLines) -> Counter[str]:
    return Counter(speaker for speaker, cue in zip(draft.speakers, draft.is_cue, strict=True) if cue)


def _places(script: Screenplay) -> list[str]:
    return [element.place for element in script.elements if isinstance(element, Heading)]


def _throughout(
    pairs: Counter[tuple[str, str]],
    before: Counter[str],
    after: Counter[str],
    kind: Literal["character", "place"],
) -> list[Rename]:
    """The pairs of names of which one gave way to the other nearly everywhere."""
    of_old: Counter[str] = Counter()
    of_new: Counter[str] = Counter()
    for (old, new), count in pairs.items():
        of_old[old] += count
        of_new[new] += count
    return [
        Rename(old, new, kind)
        for (old, new), count in sorted(pairs.items())
        if old != new
        and count >= FEWEST
        and count >= MOST * max(of_old[old], of_new[new])
        and min(before[old], after[new]) >= FEWEST
        and after[old] <= LEFT_OVER * before[old]
        and before[new] <= LEFT_OVER * after[new]
    ]


def with_names_of_now(text: str, renames: Iterable[Rename]) -> str:
    """EDIE & JON for MARA & JON, where MARA is EDIE now, and Edie for Mara. A word in small letters is no name."""
    now: dict[str, str] = {}
    for rename in renames:
        now[rename.old] = rename.new
        now.setdefault(rename.old.title(), rename.new.title())
    if not now:
        return text
    longest_first = "|".join(map(re.escape, sorted(now, key=len, reverse=True)))
    return re.sub(rf"(?<!\w)(?:{longest_first})(?!\w)", lambda match: now[match[0]], text)


def with_names_alike(renames: Iterable[Rename]) -> Callable[[str], str] | None:
    """A function that writes a renamed name, old or new, the same way in any text; None without renames."""
    tokens: dict[str, str] = {}
    for number, rename in enumerate(renames):
        for old, new in _tokens(rename):
            tokens[old.casefold()] = tokens[new.casefold()] = f"\x00{number}"
    if not tokens:
        return None
    longest_first = sorted(tokens, key=len, reverse=True)
    pattern = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)", re.IGNORECASE)

    def alike(text: str) -> str:
        folded = text.casefold()
        if not any(token in folded for token in longest_first):
            return text
        return pattern.sub(lambda match: tokens.get(match[0].casefold(), match[0]), text)

    return alike


def _tokens(rename: Rename) -> list[tuple[str, str]]:
    """The whole name, and its one word that changed where the rest stayed: KING CLAUDIUS to KING OSRIC."""
    pairs = [(rename.old, rename.new)]
    old, new = rename.old.split(), rename.new.split()
    if len(old) == len(new) > 1:
        changed = [(before, after) for before, after in zip(old, new, strict=True) if before != after]
        if len(changed) == 1:
            pairs += changed
    return pairs
