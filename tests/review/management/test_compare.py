"""`manage.py compare OLD NEW`: what became of a script, for people and for programs. No database is opened."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from django.core.management import call_command

from review import demo
from review.management.commands.compare import contents, report
from screenplay import compare
from tests.terminal import ended

DEMO = Path(demo.__file__).parent
OLD = "INT. HALL - DAY\n\nMARA\nWe should have left an hour ago.\n\nThe bell rings.\n\nThe lamp goes out.\n"
NEW = "INT. HALL - DAY\n\nMARA\nWe should have left an hour before.\n\nA gull lands.\n\nThe bell rings.\n"


@pytest.fixture
def drafts(tmp_path: Path) -> tuple[str, str]:
    paths = tmp_path / "first.fountain", tmp_path / "second.fountain"
    for path, text in zip(paths, (OLD, NEW), strict=True):
        path.write_text(text, encoding="utf-8")
    return str(paths[0]), str(paths[1])


def test_the_json_has_every_line_and_scene(drafts: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    call_command("compare", *drafts, "--json")

    found = json.loads(capsys.readouterr().out)
    before, after = (
        {one["words"] for one in words} for words in found["breakdown"][0]["changed"].pop("department_words")
    )
    assert before - after == {"lamp", "goes out"}
    assert found == {
        "lines": [
            {"old": 1, "new": [1], "fate": "kept"},
            {"old": 3, "new": [3], "fate": "kept"},
            {"old": 4, "new": [4], "fate": "reworded"},
            {"old": 6, "new": [8], "fate": "kept"},
            {"old": 8, "new": [], "fate": "gone"},
        ],
        "added": [6],
        "scenes": [{"old": 1, "new": 1, "fate": "reworded"}],
        "renames": [],
        "voices": [{"old": "MARA", "new": "MARA", "changed": {}}],
        "breakdown": [{"old": 1, "new": 1, "changed": {"action_words": [7, 6]}}],
    }


def test_the_json_has_the_changes_in_voices_and_breakdown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old, new = tmp_path / "old.txt", tmp_path / "new.txt"
    old.write_text("INT. HALL - DAY\n\nMARA\nIt's late. Don't wait.\n\nIt rains on the long roof all night.\n")
    new.write_text("INT. HALL - DUSK\n\nMARA\nIt is late. Don't wait.\n\nIt rains on the long roof all night.\n")

    call_command("compare", str(old), str(new), "--json")
    found = json.loads(capsys.readouterr().out)

    assert found["voices"][0]["changed"]["contractions"] == [2, 1]
    assert found["voices"][0]["changed"]["contraction_rate"] == [1.0, 0.5]
    assert found["breakdown"][0]["changed"] == {
        "time": ["DAY", "DUSK"],
        "light": ["day", "dusk"],
        "dialogue_words": [4, 5],
    }


def test_the_report_counts_what_never_prints_and_names_that_changed_throughout_apart() -> None:
    unseen = "# Act two\n\n[[Why?]]\n\n"
    script = OLD + "\nMARA\nCome.\n\nMARA\nNow.\n"
    told = report(compare(unseen + script, script.replace("MARA", "EDIE") + "\n[[Why?]]\n\nThe end.\n")).splitlines()

    assert told[0] == "Lines: 6 kept, 3 renamed, 1 added. Of what never prints: 1 moved, 1 gone."
    assert "     1    1  reworded  INT. HALL - DAY" in told


def test_the_report_has_scenes_and_changed_lines_with_their_numbers() -> None:
    told = report(compare(OLD, NEW)).splitlines()

    assert told[0] == "Lines: 3 kept, 1 reworded, 1 gone, 1 added."
    assert "     1    1  reworded  INT. HALL - DAY" in told
    assert "      4     4  reworded  We should have left an hour ago." in told
    assert "                         now: We should have left an hour before." in told
    assert "      8     –  gone      The lamp goes out." in told
    assert "            6  added     A gull lands." in told
    assert not any("The bell rings." in row for row in told)


def test_two_drafts_that_are_the_same_are_said_to_be() -> None:
    assert report(compare(OLD, OLD)) == "The two drafts are the same."


def test_a_scene_that_moved_is_told_once_and_a_rename_too() -> None:
    old, new = ((DEMO / f"{number}-draft.fountain").read_text(encoding="utf-8") for number in ("first", "second"))
    told = report(compare(old, new))

    assert told.count("Renamed throughout") == 1
    assert " moved     " in told
    comparison = compare(old, new)
    moved = {(scene.old, scene.new) for scene in comparison.scenes if scene.fate == "moved"}
    assert moved
    for line in comparison.lines:
        scenes = comparison.old.scene_of[line.old - 1], comparison.new.scene_of[line.new[0] - 1] if line.new else 0
        if line.fate == "moved" and scenes in moved:
            assert f"{line.old:>7} {line.new[0]:>5}  moved" not in told


def test_the_json_of_the_demo_s_drafts_places_each_new_line_once() -> None:
    old, new = ((DEMO / f"{number}-draft.fountain").read_text(encoding="utf-8") for number in ("first", "second"))
    told = contents(compare(old, new))

    reached = {number for line in told["lines"] for number in line["new"]}
    assert not reached & set(told["added"])
    assert reached | set(told["added"]) == {at for at, line in enumerate(new.splitlines(), 1) if line.strip()}


def test_standard_input_stands_for_one_of_the_two(drafts: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    done = ended(capsys, "compare", drafts[0], "-", "--json", script=NEW.encode())

    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["added"] == [6]


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [(("-", "-"), "Only one of the two drafts"), (("no-such-file.fountain", "-"), "There is no file")],
)
def test_a_file_it_can_t_read_is_one_sentence_and_exit_2(
    arguments: tuple[str, str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    done = ended(capsys, "compare", *arguments)

    assert done.returncode == 2
    assert done.stderr.startswith(sentence)
    assert len(done.stderr.strip().splitlines()) == 1
    assert done.stdout == ""
