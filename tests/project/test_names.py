"""One name, one thing: what a class or a type is called says which one is meant."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).resolve().parents[2]
LOOKED_AT = ast.ClassDef | ast.ImportFrom | ast.Assign | ast.AnnAssign
MAP = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ROOMS = sorted(path.parent.name for path in (ROOT / "screenplay").glob("*/__init__.py"))
NAMED_BY_DJANGO = {"Command", "Meta", "Migration"}


def test_each_name_of_a_class_or_a_type_is_defined_once() -> None:
    """That of a module's own too, its underscore aside."""
    defined: dict[str, list[str]] = defaultdict(list)
    for room in ("review", "screenplay"):
        for module in sorted((ROOT / room).rglob("*.py")):
            statements = _statements(module)
            classes = [node.name for node in statements if isinstance(node, ast.ClassDef)]
            types = {name for node in statements if (name := _type_named(node))}  # once, for each branch of an `if`
            for name in [*classes, *types]:
                defined[name.lstrip("_")].append(module.relative_to(ROOT).as_posix())
    assert defined.keys() > NAMED_BY_DJANGO
    assert {name: at for name, at in defined.items() if len(at) > 1 and name not in NAMED_BY_DJANGO} == {}


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Lengths = dict[str, int]", "Lengths"),
        ("Length = int | float", "Length"),
        ("Length: TypeAlias = int", "Length"),
        ("Length: typing.TypeAlias = int", "Length"),
        ("LONGEST = LENGTHS[-1]", ""),
        ("Kind = model.Kind", ""),
        ("longest = lengths[0]", ""),
        ("Lengths.longest = lengths[0]", ""),
    ],
)
def test_a_type_that_is_given_a_name_is_seen(line: str, name: str) -> None:
    assert _type_named(ast.parse(line).body[0]) == name


def _type_named(node: ast.stmt) -> str:
    """The name that a statement gives to a type which is put together from others, or that it says is a type's; empty
    for any other statement. Another module's class under its own last name is no second one."""
    match node:
        case ast.Assign(targets=[ast.Name(id=name)], value=ast.Subscript() | ast.BinOp(op=ast.BitOr())):
            return name if name[0].isupper() and not name.isupper() else ""
        case ast.AnnAssign(
            target=ast.Name(id=name), annotation=ast.Name(id="TypeAlias") | ast.Attribute(attr="TypeAlias")
        ):
            return name
    return ""


@pytest.mark.parametrize("room", ROOMS)
def test_each_name_on_a_face_is_used_outside_its_room(room: str) -> None:
    home = ROOT / "screenplay" / room
    on_face = {alias.name for found in _imports(home / "__init__.py").values() for alias in found}
    outside = (path for top in ("review", "screenplay", "project") for path in (ROOT / top).rglob("*.py"))
    used = {
        alias.name
        for path in outside
        if not path.is_relative_to(home)
        for alias in _imports(path).get(f"screenplay.{room}", [])
    }
    assert on_face - used - {"annotations"} == set()


@pytest.mark.parametrize("room", ROOMS)
def test_no_name_on_a_face_is_that_of_a_module_of_its_room(room: str) -> None:
    """Whoever imports the one would be given the other, whichever was loaded last."""
    home = ROOT / "screenplay" / room
    on_face = {alias.name for found in _imports(home / "__init__.py").values() for alias in found}
    assert on_face & {path.stem for path in home.iterdir()} == set()


@pytest.mark.parametrize("room", ROOMS)
def test_each_test_of_the_page_is_named_after_a_module_of_its_room(room: str) -> None:
    modules = [path.stem for path in (ROOT / "screenplay" / room).glob("*.py")]
    tests = [path.stem.removeprefix("test_") for path in (ROOT / "tests/screenplay" / room).glob("test_*.py")]
    assert [test for test in tests if not any(f"{test}_".startswith(f"{module}_") for module in modules)] == []


@pytest.mark.parametrize("room", ROOMS)
def test_the_map_names_each_module_of_the_page_and_no_other(room: str) -> None:
    modules = {path.stem for path in (ROOT / "screenplay" / room).glob("*.py")} - {"__init__"}
    rows = re.findall(rf"^\| `{room}/` \| (`.+) \|$", MAP, re.MULTILINE)
    assert [set(re.findall(r"`([a-z_]+)`", row)) for row in rows] == [modules]


def test_the_map_names_each_room_of_the_people() -> None:
    floors = re.findall(
        r"^\| (`[^|]+) \|", MAP.partition("| layer, lowest first |")[2].partition("\n\n")[0], re.MULTILINE
    )
    named = [name.rstrip("/") for floor in floors for name in re.findall(r"`([a-z_]+/?)`", floor)]
    there = (path for path in (ROOT / "review").iterdir() if path.suffix == ".py" or (path / "__init__.py").exists())
    assert sorted(named) == sorted({path.stem for path in there} - {"__init__"})


def test_what_the_map_leads_to_is_there() -> None:
    paths = re.findall(r"`((?:review|screenplay|tests|project|templates|static)/[\w./-]+)`", MAP)
    assert len(paths) > 50
    assert [path for path in paths if not (ROOT / path).exists()] == []


def _imports(module: Path) -> dict[str, list[ast.alias]]:
    """What a module imports, by where from."""
    found: dict[str, list[ast.alias]] = defaultdict(list)
    for node in _statements(module):
        if isinstance(node, ast.ImportFrom) and node.module:
            found[node.module] += node.names
    return found


@cache
def _statements(module: Path) -> tuple[ast.stmt, ...]:
    """The classes, imports and names given of a module, wherever in it they stand: read once for all these tests."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    return tuple(node for node in _within(tree) if isinstance(node, LOOKED_AT))


def _within(block: ast.AST) -> Iterator[ast.stmt]:
    """A block's statements and theirs in turn: neither a class nor an import stands in an expression."""
    for part in ("body", "handlers", "orelse", "finalbody", "cases"):
        for node in getattr(block, part, ()):
            yield node
            yield from _within(node)
