"""A script's text in the parts it is rewritten by: what stands before the first scene, and each scene."""

from __future__ import annotations

from collections import Counter
from itertools import groupby
from typing import TYPE_CHECKING

from rapidfuzz.distance import LCSseq

from screenplay.fountain import LINE_ENDS, parse, split_lines

if TYPE_CHECKING:
    from screenplay.model import Screenplay


def texts_by_scene(script: Screenplay | str) -> tuple[str, ...]:
    """The text cut before each scene heading; joined, it is the text again.

    The first part is what stands before the first heading, the title page with it: empty where nothing does.
    """
    script = parse(script) if isinstance(script, str) else script
    by_scene = {
        scene: "".join(line for line, _ in lines)
        for scene, lines in groupby(zip(script.source, script.scene_of, strict=True), key=lambda pair: pair[1])
    }
    return (by_scene.pop(0, ""), *by_scene.values())


def end_with_blank_line(text: str, end: str) -> str:
    """The text with a blank line after it, for a heading has to stand after one; an empty text is left empty."""
    lines = split_lines(text)
    if not lines:
        return text
    if not lines[-1].endswith(("\r", "\n")):
        text += end
    if not lines[-1].strip():
        return text
    return text + ("\r" if text.endswith("\r") and end == "\n" else end)  # a "\n" would be part of the end before it


def keep_line_ends(before: str, after: str, usual: str = "\n") -> str:
    """`after`, whose line ends a browser has made all alike, with the ends that its lines had in `before`.

    A new line ends as most lines of `before` do, or as `usual` where it has none. A text that had no end after its last
    line has none then either.
    """
    old = split_lines(before)
    new = [line.rstrip(LINE_ENDS) for line in split_lines(after)]
    ends = [line[len(line.rstrip(LINE_ENDS)) :] for line in old]
    counts = Counter(filter(None, ends))
    most = max(counts, key=counts.__getitem__, default=usual)
    kept = [most] * len(new)
    if len(counts) > 1:
        old_texts = [line.rstrip(LINE_ENDS) for line in old]
        for same in LCSseq.opcodes(old_texts, new):
            if same.tag == "equal":
                kept[same.dest_start : same.dest_end] = [end or most for end in ends[same.src_start : same.src_end]]
    for at in reversed(range(len(new) - 1)):
        if kept[at] == "\r" and kept[at + 1] == "\n" and not new[at + 1]:
            kept[at] = "\n"  # the two would be read as one line's end
    lines = [line + end for line, end in zip(new, kept, strict=True)]
    if new and not after.endswith(("\r", "\n")):
        lines[-1] = new[-1]
    return "".join(lines)
