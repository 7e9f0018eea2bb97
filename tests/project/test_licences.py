"""What Fairhand runs on may be shipped with it: no library that it needs is under the GPL.

Source: the licence that each installed distribution states of itself, in its metadata.
"""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import Distribution, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
GPL = re.compile(r"(?<!Lesser )General Public License|(?<![A-Za-z])A?GPL", re.IGNORECASE)


def what_runs() -> dict[str, Distribution]:
    """The distributions that the project's dependencies bring, theirs with them."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    waiting = [(Requirement(text), "") for text in project["dependencies"]]
    found: dict[str, Distribution] = {}
    while waiting:
        requirement, extra = waiting.pop()
        if requirement.marker and not requirement.marker.evaluate({"extra": extra}):
            continue
        name = canonicalize_name(requirement.name)
        known = name in found
        found[name] = distribution(requirement.name)
        extras = [*requirement.extras, *([] if known else [""])]
        waiting += [(Requirement(text), one) for one in extras for text in found[name].requires or []]
    return found


def stated(one: Distribution) -> str:
    said = [one.metadata.get_all(field) or [] for field in ("License-Expression", "License", "Classifier")]
    expression, licence, classifiers = said
    short = [text.partition("\n")[0] for text in licence]
    return "; ".join([*expression, *short, *(text for text in classifiers if text.startswith("License"))])


def test_nothing_that_it_runs_on_is_under_the_gpl() -> None:
    libraries = what_runs()
    assert {"django", "lark", "rapidfuzz", "asgiref"} <= set(libraries)
    assert [name for name, one in libraries.items() if GPL.search(stated(one))] == []


def test_a_library_under_the_gpl_would_be_seen() -> None:
    assert GPL.search("GPL-2.0-or-later")
    assert GPL.search("License :: OSI Approved :: GNU General Public License v3")
    assert GPL.search("AGPL-3.0")
    assert not GPL.search("LGPL-3.0-only")
    assert not GPL.search("License :: OSI Approved :: GNU Lesser General Public License v3")
