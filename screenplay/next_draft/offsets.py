"""Where a place within a text is in what the text became, by the words that the two share."""

from __future__ import annotations

from screenplay.comparing import word_changes


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
