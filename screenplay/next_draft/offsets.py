"""Where an offset in a text, or in one of several, is in what these became, by the words that they share."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rapidfuzz.distance import LCSseq

from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Sequence


class TextOffset(NamedTuple):
    """An offset in one of several texts: which of them, from 0, and how many characters are before it."""

    nth: int
    char: int


def through_words(before: str, after: str, char: int, *, is_end: bool) -> int:
    """The offset in `after` of the offset `char` in `before`, by the words they share.

    Within words that were replaced, a beginning goes before what replaces them, an end behind it.
    """
    in_old = in_new = 0
    changes = word_changes(before, after)
    for at, change in enumerate(changes):
        follows = changes[at + 1] if at + 1 < len(changes) else None
        length = len(change.text)
        if change.op == "added":
            in_new += length
            continue
        reaches = char <= in_old + length if is_end else char < in_old + length
        if reaches and change.op == "same":
            return in_new + char - in_old
        if reaches:
            replaced = len(follows.text) if follows is not None and follows.op == "added" else 0
            return in_new + (replaced if is_end and char > in_old else 0)
        in_old += length
        in_new += length if change.op == "same" else 0
    return in_new


def through_texts(before: Sequence[str], after: Sequence[str], given: TextOffset, *, is_end: bool) -> TextOffset:
    """The same of an offset in one of several texts that became one, or in one that became several, in whatever order.

    Where one text begins and ends, what it became does.
    """
    old_order, new_order = _order_within(" ".join(after), before), _order_within(" ".join(before), after)
    if len(before) == 1 and given.char == (len(before[0]) if is_end else 0):
        nth = new_order[-1 if is_end else 0]
        return TextOffset(nth, len(after[nth]) if is_end else 0)
    old, new = [before[nth] for nth in old_order], [after[nth] for nth in new_order]
    ahead = sum(len(text) + 1 for text in old[: old_order.index(given.nth)])
    offset = through_words(" ".join(old), " ".join(new), ahead + given.char, is_end=is_end)
    at = 0
    while at < len(new) - 1 and offset > len(new[at]):
        offset -= len(new[at]) + 1
        at += 1
    return TextOffset(new_order[at], offset)


def _order_within(whole: str, texts: Sequence[str]) -> list[int]:
    """The order in which texts stand in a whole: theirs, unless more of their words stay in another."""
    order = list(range(len(texts)))
    if len(texts) == 1:
        return order
    words, in_whole = [text.split() for text in texts], whole.split()

    def staying(order: Sequence[int]) -> int:
        return LCSseq.similarity([word for nth in order for word in words[nth]], in_whole)

    stay, most = staying(order), sum(staying([nth]) for nth in order)
    for nth in range(len(texts)):
        if stay == most:
            break
        others = [other for other in order if other != nth]
        moved = [[*others[:at], nth, *others[at:]] for at in range(len(texts))]
        order = max([order, *moved], key=staying)
        stay = staying(order)
    return order
