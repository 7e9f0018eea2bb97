"""What a character cue says (F7 to F9): a name, its extensions, and whether it is upper case as a cue has to be."""

from __future__ import annotations

import re
import unicodedata

# What makes two of MARA AND ILSE, in some languages.
JOINING_WORDS = frozenset({"and", "&", "+", "with", "et", "und", "y", "e", "og", "och", "en"})


def is_upper(text: str) -> bool:
    """Whether `text` is wholly upper case outside its parentheses, with at least one letter there, by Unicode."""
    outside = text if "(" not in text else _outside_parentheses(text)
    return outside.isupper() or (not outside.isascii() and _without_caseless(outside).isupper())


def _without_caseless(text: str) -> str:
    """`text` without letters that have no case but count as small by Unicode, as the raised ones of Mª and Nº do."""
    return "".join(character for character in text if unicodedata.category(character) not in _CASELESS)


_CASELESS = frozenset({"Lo", "Lm"})


def _outside_parentheses(text: str) -> str:
    """`text` without what stands in parentheses; one that is never closed is an ordinary character."""
    kept: list[str] = []
    depth = 0
    opened = 0
    for position, character in enumerate(text):
        if character == "(":
            opened = position if depth == 0 else opened
            depth += 1
        elif character == ")" and depth:
            depth -= 1
        elif depth == 0:
            kept.append(character)
    if depth:
        kept.append(text[opened:])
    return "".join(kept)


def is_parenthetical(text: str) -> bool:
    """Whether the line's first parenthesis closes at its very end: `(to herself)`, but not `(a) and (b)`."""
    if not (text.startswith("(") and text.endswith(")")):
        return False
    first_close = text.find(")")
    if first_close == len(text) - 1:
        return True
    depth = 0
    for position, character in enumerate(text):
        if character == "(":
            depth += 1
        elif character == ")":
            depth -= 1
            if depth == 0:
                return position == len(text) - 1
    return False


def name_and_extensions(text: str) -> tuple[str, tuple[str, ...]]:
    """`MARA (on radio) (CONT'D)` is MARA, with the extensions `on radio` and `CONT'D`."""
    extensions: list[str] = []
    end = len(text)
    while end and text[end - 1] == ")":
        opening = text.rfind("(", 0, end)
        if opening <= 0 or text.find(")", opening, end) != end - 1:
            break
        extensions.append(text[opening + 1 : end - 1].strip())
        end = opening
        while end and text[end - 1].isspace():
            end -= 1
    return " ".join(text[:end].split()), tuple(reversed(extensions))


def names_of_several(name: str) -> tuple[str, ...]:
    """The names in one that is of several people, `MARA, ILSE and TOM` or `MARA/ILSE`; of one, that name alone."""
    names: list[list[str]] = [[]]
    for word in _COMMAS.sub(" & ", name).split():
        if word.casefold() in JOINING_WORDS:
            names.append([])
        else:
            names[-1].append(word)
    return tuple(" ".join(words) for words in names if words)


_COMMAS = re.compile(r"[,/]")


def same_name(name: str) -> str:
    """What two spellings of one name share: case, spacing, the shape of an apostrophe and the way an accent is
    stored make no other character, so that `@McAVOY` and `MCAVOY` are one."""
    return unicodedata.normalize("NFC", " ".join(name.split()).replace("’", "'").casefold())
