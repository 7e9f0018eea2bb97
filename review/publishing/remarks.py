"""The warnings about a script, each with its rule in plain words and the line it is about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain import Rule

if TYPE_CHECKING:
    from screenplay import Screenplay


@dataclass(frozen=True, slots=True)
class Remark:
    """A warning as a writer reads it: `rule` is the standard's rule in plain words, `quoted` the source line."""

    line: int
    rule: str
    text: str
    quoted: str


def remarks(script: Screenplay) -> tuple[Remark, ...]:
    """The warnings of a script in the order of its lines."""
    return tuple(
        Remark(
            warning.line,
            Rule(warning.rule).words,
            warning.text,
            script.source[warning.line - 1].strip() if warning.line <= len(script.source) else "",
        )
        for warning in sorted(script.warnings, key=lambda warning: warning.line)
    )
