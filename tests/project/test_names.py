"""One name, one thing: what a class is called says which one is meant."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
NAMED_BY_DJANGO = {"Command", "Meta", "Migration"}


def test_each_class_name_is_defined_once() -> None:
    defined: dict[str, list[str]] = defaultdict(list)
    for room in ("review", "screenplay"):
        for module in sorted((ROOT / room).rglob("*.py")):
            for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
                if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                    defined[node.name].append(module.relative_to(ROOT).as_posix())
    assert defined.keys() > NAMED_BY_DJANGO
    assert {name: at for name, at in defined.items() if len(at) > 1 and name not in NAMED_BY_DJANGO} == {}
