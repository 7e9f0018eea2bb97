"""How this package's grammars are followed: Lark makes an LALR table of each, and one short loop walks it.

Lark's own loop would do; but it keeps the names in its tables as strings that know their place in the grammar and
compares them in Python code, and it makes a tree of every repetition. That is most of the time of a parse, and a
script is parsed whenever somebody opens it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

from lark import Lark
from lark.parsers.lalr_analysis import Shift

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from lark.grammar import Rule
    from lark.lexer import Lexer


class Token(Protocol):
    """A token: `type` is the name of its terminal."""

    @property
    def type(self) -> str: ...


class Repeated(list[Any]):
    """The values of a repetition, on their way into the rule that has it."""


class Reduction(NamedTuple):
    """What the end of a rule does: `size` values become one of `origin`, which `make` makes of them.

    Where there is no `make`, the rule is a choice, or it `repeats`: the second value is one more in the first.
    """

    size: int
    origin: str
    make: Callable[[list[Any]], Any] | None
    repeats: bool


class Grammar:
    """The grammar in `NAME.lark`, which starts with its first rule. `shapes` has a method for each rule, which takes
    the values of the rule's parts, those of repetitions and of rules that begin with `_` among them."""

    def __init__(self, name: str, lexer: type[Lexer], shapes: object) -> None:
        text = Path(__file__).with_name(f"{name}.lark").read_text(encoding="utf-8")
        start = next(line.partition(":")[0] for line in text.splitlines() if line[:1].isalpha())
        self.lark = Lark(text, start=start, parser="lalr", lexer=lexer)
        conf = self.lark.parse_interactive().parser_state.parse_conf
        self._start = conf.start_state
        self._table: dict[int, dict[str, Any]] = {
            state: {str.__str__(name): _action(action[0], action[1], shapes) for name, action in row.items()}
            for state, row in conf.states.items()
        }
        self._table[conf.end_state][_END[0].type] = conf.end_state

    def parse(self, tokens: Iterable[Token]) -> Any:
        """The value of the first rule, from all tokens. KeyError where the grammar has no place for a token."""
        table = self._table
        states: list[int] = [self._start]
        values: list[Any] = []
        for token in chain(tokens, _END):
            name = token.type
            while (action := table[states[-1]][name]).__class__ is Reduction:
                size, origin, make, repeats = action
                if make is not None:
                    values[-size:] = (make(values[-size:]),)
                elif repeats:
                    one_more = values.pop()
                    values[-1].append(one_more)
                del states[-size:]
                states.append(table[states[-1]][origin])
            states.append(action)
            values.append(token)
        return values[-2]


@dataclass(frozen=True, slots=True)
class End:
    """The token after the last."""

    type: str = "$END"


_END = (End(),)


def _action(kind: Any, to: Any, shapes: object) -> int | Reduction:
    return to if kind is Shift else _reduction(to, shapes)


def _reduction(rule: Rule, shapes: object) -> Reduction:
    origin = str.__str__(rule.origin.name)
    parts = [symbol.name for symbol in rule.expansion]
    if origin.startswith("__"):
        return Reduction(len(parts), origin, None if parts[0] == origin else Repeated, repeats=parts[0] == origin)
    if origin.startswith("_"):
        return Reduction(len(parts), origin, None, repeats=False)
    shape = getattr(shapes, origin)
    make = _splicing(shape) if any(part.startswith("__") for part in parts) else shape
    return Reduction(len(parts), origin, make, repeats=False)


def _splicing(shape: Callable[[list[Any]], Any]) -> Callable[[list[Any]], Any]:
    """The shape, given the values of a repetition among the others instead of as a list."""

    def make(values: list[Any]) -> Any:
        flat: list[Any] = []
        for value in values:
            if value.__class__ is Repeated:
                flat += value
            else:
                flat.append(value)
        return shape(flat)

    return make
