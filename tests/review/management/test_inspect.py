"""`manage.py inspect`: what a script holds, for people and for programs."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from django.core.management import call_command
from jsonschema import Draft202012Validator

from screenplay import lay_out, parse
from screenplay.breakdown import CAUTION_SENSE
from screenplay.model import Kind
from screenplay.page.layout import in_pages
from screenplay.script import lines_of
from tests.terminal import ended

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parents[3]
SCRIPT = """Title: _The **Last**_ Crossing

INT. FERRY - WHEELHOUSE - NIGHT #4#

MARA (V.O.)
It won't hold.

INT. FERRY

@Joren
Slow ahead.
"""


def object_of(**properties: Any) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": list(properties), "additionalProperties": False}


def many(item: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": item}


TEXT = {"type": "string"}
COUNT = {"type": "integer", "minimum": 0}
ORDINAL = {"type": "integer", "minimum": 1}
ORDINAL_OR_NONE = {"type": ["integer", "null"], "minimum": 1}
FIGURE = {"type": "number", "minimum": 0}
FIGURE_OR_NONE = {"type": ["number", "null"], "minimum": 0}
SHARE = {"type": "number", "minimum": 0, "maximum": 1}
GROUP = object_of(name=TEXT, scenes=many(ORDINAL), eighths=COUNT)
OF_CAST = object_of(name=TEXT, scenes=many(ORDINAL), eighths=COUNT, named=many(ORDINAL), heard=many(ORDINAL))
MOVES = object_of(places=COUNT, lights=COUNT)
SHAPE = object_of(
    pages=COUNT,
    eighths=COUNT,
    lines=many(
        object_of(line=ORDINAL, kind={"enum": [*map(str, Kind)]}, scene=ORDINAL_OR_NONE, page=ORDINAL_OR_NONE)
    ),
    scenes=many(
        object_of(
            ordinal=ORDINAL, number={"type": ["string", "null"]}, heading=TEXT, setting=TEXT, place=TEXT, time=TEXT,
            remark=TEXT, first_line=ORDINAL, last_line=ORDINAL, page=ORDINAL_OR_NONE, eighths=ORDINAL,
            characters=many(TEXT),
        )
    ),
    characters=many(object_of(name=TEXT, speeches=COUNT, words=COUNT, scenes=COUNT)),
    voices=many(
        object_of(
            name=TEXT, speeches=COUNT, words=COUNT, share=SHARE, scenes=COUNT, pages=COUNT, first_page=ORDINAL_OR_NONE,
            last_page=ORDINAL_OR_NONE, longest_speech=COUNT, longest_speech_line=ORDINAL, words_a_speech=FIGURE,
            words_a_speech_spread=FIGURE, sentences=COUNT, words_a_sentence=FIGURE, words_a_sentence_spread=FIGURE,
            questions=COUNT, exclamations=COUNT, contractions=COUNT, not_contracted=COUNT,
            contraction_rate=FIGURE_OR_NONE, variety_of_words=FIGURE_OR_NONE,
            distinctive_words=many(object_of(word=TEXT, times=COUNT, by_others=COUNT, z=FIGURE)),
            favourite_openings=many(object_of(words=TEXT, times=COUNT)),
            speaks_to=many(object_of(name=TEXT, speeches=COUNT, words=COUNT)), silent_scenes=many(ORDINAL),
            likeness={"anyOf": [{"type": "null"}, many(object_of(name=TEXT, delta=FIGURE))]},
        )
    ),
    breakdown=object_of(
        scenes=many(
            object_of(
                ordinal=ORDINAL, number={"type": ["string", "null"]}, heading=TEXT, setting=TEXT, place=TEXT,
                place_within=TEXT, place_typed=TEXT, time=TEXT,
                also_at=many(object_of(name=TEXT, within=TEXT, light=TEXT, light_from=ORDINAL_OR_NONE)),
                light=TEXT, light_from=ORDINAL_OR_NONE, remark=TEXT, eighths=COUNT, seconds=COUNT,
                page=ORDINAL_OR_NONE, page_label=TEXT, first_line=ORDINAL, last_line=ORDINAL, speaking=many(TEXT),
                heard=many(TEXT), mentioned=many(TEXT),
                intercuts=many(object_of(line=ORDINAL, scenes=many(ORDINAL), named=many(TEXT), missing=many(TEXT))),
                dialogue_words=COUNT, action_words=COUNT,
                cautions=many(object_of(key=TEXT, words=TEXT, line=ORDINAL)), story_day=ORDINAL,
                department_words=many(object_of(key=TEXT, words=TEXT, line=ORDINAL)),
                concerned=many(object_of(department=TEXT, cautions=many(TEXT), words=many(TEXT))),
            )
        ),
        time_rule=TEXT, cautions_sense=TEXT, places=many(GROUP), cast=many(OF_CAST), lights=many(GROUP),
        shooting_order=object_of(rule=TEXT, scenes=many(ORDINAL), moves=MOVES, moves_in_script_order=MOVES),
        suggestions=many(object_of(words=TEXT, scene=COUNT, line=ORDINAL, departments=many(TEXT))),
    ),
    warnings=many(object_of(line=ORDINAL, rule={"type": "string", "pattern": "^F[0-9]+$"}, text=TEXT)),
)  # fmt: skip


def run(*arguments: str, script: bytes = b"", **environment: str) -> subprocess.CompletedProcess[bytes]:
    """The command as from a shell."""
    return subprocess.run(
        [sys.executable, "manage.py", "inspect", *arguments],
        input=script,
        cwd=ROOT,
        env={**os.environ, **environment},
        capture_output=True,
        timeout=60,
        check=False,
    )


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "crossing.fountain"
    path.write_text(SCRIPT, encoding="utf-8")
    return path


def inspected(path: Path, *options: str) -> str:
    out = StringIO()
    call_command("inspect", str(path), *options, stdout=out)
    return out.getvalue()


def test_the_json_has_the_fields_it_promises(path: Path) -> None:
    found = json.loads(inspected(path, "--json"))

    Draft202012Validator(SHAPE).validate(found)
    assert len(found["lines"]) == len(SCRIPT.splitlines())
    assert found["lines"][2] == {"line": 3, "kind": "scene_heading", "scene": 1, "page": 1}
    assert found["scenes"][0]["place"] == "FERRY - WHEELHOUSE"
    assert found["scenes"][0]["number"] == "4"
    assert found["scenes"][1]["characters"] == ["Joren"]
    assert found["characters"][0] == {"name": "MARA", "speeches": 1, "words": 3, "scenes": 1}
    assert [(one["line"], one["rule"]) for one in found["warnings"]] == [(8, "F2")]
    assert [(one["name"], one["contractions"], one["variety_of_words"]) for one in found["voices"]] == [
        ("MARA", 1, None),
        ("Joren", 0, None),
    ]
    wheelhouse, ferry = found["breakdown"]["scenes"]
    assert (wheelhouse["place"], wheelhouse["place_within"], wheelhouse["light"]) == ("FERRY", "WHEELHOUSE", "night")
    assert (ferry["speaking"], ferry["dialogue_words"], ferry["story_day"]) == (["Joren"], 2, 1)
    assert found["breakdown"]["shooting_order"]["scenes"] == [1, 2]
    stunts = next(one for one in wheelhouse["concerned"] + ferry["concerned"] if one["department"] == "stunts")
    assert (stunts["cautions"], stunts["words"]) == (["water"], [])
    assert found["breakdown"]["cautions_sense"].startswith(CAUTION_SENSE)


def test_the_json_says_what_the_objects_of_the_same_names_say(path: Path) -> None:
    found = json.loads(inspected(path, "--json"))
    pages = lay_out(parse(SCRIPT))
    objects: dict[str, Sequence[object]] = {
        "lines": lines_of(pages.script, pages.layout),
        "scenes": pages.scenes,
        "characters": pages.characters,
        "warnings": pages.script.warnings,
    }

    assert (found["pages"], found["eighths"]) == (pages.page_count, pages.eighths)
    for name, objects_told in objects.items():
        for told, one in zip(found[name], objects_told, strict=True):
            assert told == {field: json.loads(json.dumps(getattr(one, field))) for field in told}


def test_the_report_has_figures_scenes_characters_and_warnings_in_columns(path: Path) -> None:
    lines = inspected(path).splitlines()

    assert lines[0] == "The Last Crossing"
    assert lines[1] == "1 page (2/8 by scene lengths), 2 scenes, 2 speaking characters, 2 speeches, 5 words of dialogue"
    row = next(line for line in lines if "WHEELHOUSE" in line)
    assert row.split() == ["1", "4", "1", "1/8", "3", "INT.", "FERRY", "-", "WHEELHOUSE", "-", "NIGHT", "MARA"]
    assert any(line.startswith("  line 8 (F2): ") for line in lines)
    headed = next(line for line in lines if "who speaks" in line)
    assert headed.index("who speaks") == row.index("MARA")


def test_lengths_are_written_as_the_trade_writes_them() -> None:
    assert [in_pages(eighths) for eighths in (0, 1, 8, 19)] == ["0", "1/8", "1", "2 3/8"]


def test_a_dash_is_standard_input_and_no_database_is_needed(tmp_path: Path) -> None:
    nowhere = tmp_path / "nowhere"

    done = run("-", "--json", script=SCRIPT.encode("utf-16"), FAIRHAND_DATA=str(nowhere), DATABASE_URL="")

    assert (done.returncode, done.stderr) == (0, b"")
    assert len(json.loads(done.stdout)["scenes"]) == 2
    assert not nowhere.exists()


@pytest.mark.parametrize(
    ("arguments", "script", "sentence"),
    [
        (["-"], b"", "This file is empty: choose a file with a script's text, or paste the text.\n"),
        (["no-such.fountain"], b"", "There is no file “no-such.fountain”.\n"),
        (["tests"], b"", "“tests” is a folder: name a file in it.\n"),
    ],
)
def test_what_cant_be_read_is_one_sentence_and_exit_status_2(
    arguments: list[str], script: bytes, sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(capsys, "inspect", *arguments, script=script) == (2, "", sentence)


def test_a_terminal_that_lacks_a_letter_still_gets_the_report() -> None:
    done = run("-", script="INT. ПАРОМ - NIGHT\n\nRain.".encode(), PYTHONIOENCODING="ascii")

    assert done.returncode == 0
    assert b"INT. ????? - NIGHT" in done.stdout


def test_the_help_describes_every_field_of_the_json(capsys: pytest.CaptureFixture[str]) -> None:
    text = ended(capsys, "inspect", "--help").stdout

    for part in (
        SHAPE,
        *(SHAPE["properties"][name]["items"] for name in ("lines", "scenes", "characters", "warnings")),
    ):
        for field in part["properties"]:
            assert field in text
