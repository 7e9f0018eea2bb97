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

    Where there is no `make`, the rule is a choice of one, or it `repeats`: the second value is one more in the first.
    """

    size: int
    origin: str
    make: Callable[[list[Any]], Any] | None
    repeats: bool

    @property
    def is_choice(self) -> bool:
        return self.make is None and not self.repeats


# What to do in a state with each symbol: go on to another state, which is its row of the table, or end a rule.
TableRow = dict[str, "TableRow | Reduction"]


class Grammar:
    """The grammar in `NAME.lark`, which starts with its first rule. `shapes` has a method for each rule, which takes
    the values of the rule's parts, those of repetitions and of rules that begin with `_` among them."""

    def __init__(self, name: str, lexer: type[Lexer], shapes: object) -> None:
        text = Path(__file__).with_name(f"{name}.lark").read_text(encoding="utf-8")
        start = next(line.partition(":")[0] for line in text.splitlines() if line[:1].isalpha())
        lark = Lark(text, start=start, parser="lalr", lexer=lexer)
        conf = lark.parse_interactive().parser_state.parse_conf
        self._start = _rows(conf, shapes)[conf.start_state]

    def parse(self, tokens: Iterable[Token]) -> Any:
        """The value of the first rule, from all tokens; there is at least one, and no rule is empty with that.

        KeyError where the grammar has no place for a token.
        """
        row: Any = self._start
        rows: list[Any] = [row]
        values: list[Any] = []
        for token in chain(tokens, _END):
            name = token.type
            while (action := row[name]).__class__ is Reduction:
                size, origin, make, repeats = action
                if make is not None:
                    values[-size:] = (make(values[-size:]),)
                elif repeats:
                    one_more = values.pop()
                    values[-1].append(one_more)
                del rows[-size:]
                row = rows[-1][origin]
                rows.append(row)
            row = action
            rows.append(row)
            values.append(token)
        return values[-2]


@dataclass(frozen=True, slots=True)
class End:
    """The token after the last."""

    type: str = "$END"


_END = (End(),)


def _rows(conf: Any, shapes: object) -> dict[int, TableRow]:
    """Lark's table, by its numbers for the states."""
    rows: dict[int, TableRow] = {state: {} for state in conf.states}
    for state, actions in conf.states.items():
        for name, (kind, to) in actions.items():
            rows[state][str.__str__(name)] = rows[to] if kind is Shift else _reduction(to, shapes)
    rows[conf.end_state][_END[0].type] = rows[conf.end_state]
    for row in rows.values():
        row.update({name: _past_choices(row, action) for name, action in row.items()})
    return rows


def _past_choices(row: TableRow, action: TableRow | Reduction) -> TableRow | Reduction:
    """Where to go on when there is nothing to do but to end a choice: a TEXT under a cue is a `_said` at once."""
    while isinstance(action, dict) and (choice := _only_choice(action)):
        action = row[choice.origin]
    return action


def _only_choice(row: TableRow) -> Reduction | None:
    """The choice that ends in a state, where it is all that happens there, whatever comes."""
    first, *others = row.values() or (None,)
    if isinstance(first, Reduction) and first.is_choice and all(other == first for other in others):
        return first
    return None


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
