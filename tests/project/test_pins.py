"""That what `project/constraints.txt` pins can be had by everybody to whom `pyproject.toml` promises it.

Source: the Python that each installed distribution says it requires, in its metadata.
"""

from __future__ import annotations

import tomllib
from importlib.metadata import distributions
from pathlib import Path

from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
PINNED = {
    canonicalize_name(Requirement(line).name): line
    for line in (ROOT / "project" / "constraints.txt").read_text().splitlines()
    if line and not line.startswith("#")
}


def test_each_pinned_version_runs_on_the_oldest_python_that_is_promised() -> None:
    oldest = PROJECT["requires-python"].removeprefix(">=") + ".0"
    required = {
        canonicalize_name(one.metadata["Name"]): SpecifierSet(one.metadata["Requires-Python"] or "")
        for one in distributions()
    }
    assert {"django", "pytest"} <= PINNED.keys() & required.keys()
    assert {
        PINNED[name]: str(needed) for name, needed in required.items() if name in PINNED and oldest not in needed
    } == {}
