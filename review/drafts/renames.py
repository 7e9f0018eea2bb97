"""A name that changed throughout: how a line reads once every new name is put in."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from screenplay.compare import Rename

Renaming = Callable[[str], str]


def renaming(renames: Iterable[Rename]) -> Renaming:
    """A function that puts the new names into a line, in capitals where the line has capitals."""
    new_names = {rename.old.casefold(): rename.new for rename in renames}
    if not new_names:
        return lambda text: text
    longest_first = sorted(map(re.escape, new_names), key=len, reverse=True)
    pattern = re.compile(rf"(?<!\w)(?:{'|'.join(longest_first)})(?!\w)", re.IGNORECASE)

    def put_in(match: re.Match[str]) -> str:
        name = new_names.get(match[0].casefold(), match[0])
        return name.upper() if match[0].isupper() else name.title()

    return lambda text: pattern.sub(put_in, text)
