"""The demo's two drafts and the notes on them, as they lie on disk."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from screenplay import Kind, compare, lay_out, paginate, parse
from screenplay.model import Block, Speech
from screenplay.script import characters_of, headings_of

if TYPE_CHECKING:
    from screenplay import Screenplay
    from screenplay.comparing import Comparison

DEMO = Path(__file__).parents[3] / "review" / "demo"

# The trade's departments and the two roles a demo needs one of: common practice.
DEPARTMENTS = {
    "direction", "production", "camera", "lighting", "sound", "art", "props", "costume", "hair", "locations",
    "stunts", "special effects", "visual effects", "editing", "music", "cast",
}  # fmt: skip
KINDS = {"question", "confusion", "idea", "problem", "practical", "safety", "praise"}
NOTE_FIELDS = {
    "draft", "author", "kind", "about", "from", "to", "nth", "words", "body", "wording", "audience", "decision",
    "reason", "replies",
}  # fmt: skip
# Who a caution leaves the work to.
QUALIFIED = re.compile(
    r"coordinator|licensed|licence|keeper|stunt driver|precision driver|local (?:law|code|authority)", re.IGNORECASE
)

FILE: dict[str, Any] = tomllib.loads((DEMO / "notes.toml").read_text(encoding="utf-8"))
PEOPLE: list[dict[str, Any]] = FILE["people"]
NOTES: list[dict[str, Any]] = FILE["notes"]
SOURCES = {draft["number"]: (DEMO / draft["file"]).read_text(encoding="utf-8").split("\n") for draft in FILE["drafts"]}


def name_of(note: dict[str, Any]) -> str:
    return f"{note['draft']}: {note['from'][:40]}"


def span(note: dict[str, Any]) -> tuple[int, int]:
    """The note's first and last line, from 1; fails where its text is not in the draft."""
    source = SOURCES[note["draft"]]
    starts = [number for number, line in enumerate(source, 1) if line == note["from"]]
    nth = note.get("nth", 1)
    assert len(starts) >= nth, f"not in the draft: {note['from']}"
    assert len(starts) == 1 or "nth" in note, f"which of {len(starts)}: {note['from']}"
    first = starts[nth - 1]
    ends = [number for number, line in enumerate(source, 1) if number >= first and line == note.get("to", note["from"])]
    assert ends, f"no such line after it: {note['to']}"
    return first, ends[0]


@pytest.fixture(scope="module", params=[1, 2], ids=["first", "second"])
def script(request: pytest.FixtureRequest) -> Screenplay:
    return parse("\n".join(SOURCES[request.param]))


@pytest.fixture(scope="module")
def comparison() -> Comparison:

    return compare(parse("\n".join(SOURCES[1])), parse("\n".join(SOURCES[2])))


def speeches(script: Screenplay) -> list[Speech]:
    return [element for element in script.elements if isinstance(element, Speech)]


def speech_of(script: Screenplay, name: str) -> str:
    """Everything a character says, parentheticals left out, in one string."""
    lines = [line for speech in speeches(script) if speech.name == name for line in speech.lines]
    return " ".join(line.text for line in lines if line.kind == Kind.DIALOGUE)


# --- the drafts


def test_a_draft_leaves_its_writer_nothing_to_mend(script: Screenplay) -> None:
    assert script.warnings == ()


def test_a_draft_is_a_short_film(script: Screenplay) -> None:
    assert 20 <= len(paginate(script).pages) <= 25
    assert 20 <= len(headings_of(script)) <= 28


def test_a_draft_has_a_title_page(script: Screenplay) -> None:
    keys = {entry.key: entry.values for entry in script.title_page}
    assert keys.keys() >= {"Title", "Credit", "Author", "Draft date", "Contact"}
    assert keys["Title"] == ("_**RING ONCE AND WAIT**_",)
    assert keys["Author"] == ("Pia Strake",)


def test_a_draft_uses_the_language_of_the_page(script: Screenplay) -> None:
    assert {kind for kind in Kind if kind != Kind.PAGE_BREAK} == set(script.kinds)
    assert "INTERCUT WITH:\n" in script.source
    assert any("[[" in line and not line.startswith("[[") for line in script.source)
    assert sum(speech.dual for speech in speeches(script)) == 2
    assert {scene.setting.upper().rstrip(".") for scene in headings_of(script)} == {"INT", "EXT", "I/E"}


def test_the_drafts_hear_people_in_every_way() -> None:
    scripts = [parse("\n".join(source)) for source in SOURCES.values()]
    found = {extension for script in scripts for speech in speeches(script) for extension in speech.extensions}
    assert found == {"V.O.", "O.S.", "CONT'D", "ON RADIO", "ON PHONE"}


def test_a_cue_says_whether_its_character_was_speaking_already(script: Screenplay) -> None:
    """CONT'D after an interruption within a scene, and nowhere else: common practice."""
    last_speaker = None
    for element in script.elements:
        if not isinstance(element, Speech | Block):
            last_speaker = None
        elif isinstance(element, Speech):
            assert ("CONT'D" in element.extensions) == (element.name == last_speaker), element.first_line
            last_speaker = element.name


def test_the_pilot_contracts_nothing(script: Screenplay) -> None:
    contracted = r"\w+['’](?:t|ll|ve|re|d|m)\b|\b(?:it|that|there|she|he)['’]s\b"
    assert re.findall(contracted, speech_of(script, "MRS. HARGAN"), re.IGNORECASE) == []


def test_the_mechanic_contracts_whatever_she_can(script: Screenplay) -> None:
    said = speech_of(script, "RHONA")
    assert len(re.findall(r"\w['’]\w", said)) > 40
    open_forms = r"\b(?:I am|I have|I will|it is|that is|do not|is not|was not|did not|could have|you have)\b"
    assert re.findall(open_forms, said, re.IGNORECASE) == []


def test_the_ferryman_says_little(script: Screenplay) -> None:
    words = {character.name: character.words / character.speeches for character in characters_of(script)}
    assert words["ABEL"] < 5 < words["RHONA"] < words["PETTIFER" if "PETTIFER" in words else "HARGREAVE"]


# --- the revision


def test_the_official_has_a_new_name_throughout() -> None:
    first, second = ("\n".join(SOURCES[number]) for number in (1, 2))
    assert "HARGREAVE" in first
    assert "Hargreave" in first
    assert "pettifer" not in first.lower()
    assert "hargreave" not in second.lower()
    assert parse(first).text.count("\nHARGREAVE") > 10 < parse(second).text.count("\nPETTIFER")


def test_the_comparison_sees_the_new_name(comparison: Comparison) -> None:
    assert [(rename.old, rename.new) for rename in comparison.renames] == [("HARGREAVE", "PETTIFER")]


def test_scenes_were_cut_added_and_moved(comparison: Comparison) -> None:
    old, new = (lay_out(parse("\n".join(SOURCES[number]))).scenes for number in (1, 2))
    cut = {old[scene.old - 1].heading for scene in comparison.scenes if scene.fate == "cut" and scene.old}
    added = {new[scene.new - 1].heading for scene in comparison.scenes if scene.fate == "added" and scene.new}
    moved = {old[scene.old - 1].heading for scene in comparison.scenes if scene.fate == "moved" and scene.old}
    assert cut >= {"INT. TICKET OFFICE - MOMENTS LATER", "INT. RHONA'S BEDROOM - NIGHT (TWENTY-TWO YEARS AGO)"}
    assert added >= {"INT. COAL SHED - NIGHT", "INT. CHANDLER'S ROW - BACK BEDROOM - NIGHT"}
    assert moved >= {"EXT. OVER QUILL LANDING - NIGHT", "INT. OVER QUILL HALL - NIGHT"}


def test_notes_stand_on_lines_of_every_fate(comparison: Comparison) -> None:
    fates = {line.old: str(line.fate) for line in comparison.lines}
    found = Counter(fates[span(note)[0]] for note in NOTES if note["draft"] == 1)
    assert min(found[fate] for fate in ("kept", "moved", "reworded", "gone")) >= 2, found


# --- the people


def test_people_are_told_apart() -> None:
    for field in ("key", "name", "email"):
        assert len({person[field] for person in PEOPLE}) == len(PEOPLE)
    assert all(re.fullmatch(r"[a-z.]+@example\.org", person["email"]) for person in PEOPLE)


def test_people_have_the_roles_and_departments_of_a_small_film() -> None:
    assert {person["department"] for person in PEOPLE} <= DEPARTMENTS
    roles = Counter(person["role"] for person in PEOPLE)
    assert roles.keys() == {"writer", "producer", "crew", "cast"}
    assert (roles["writer"], roles["producer"], roles["cast"]) == (1, 1, 2)
    assert {person["department"] for person in PEOPLE if person["role"] == "cast"} == {"cast"}


def test_six_departments_and_more_leave_notes() -> None:
    department = {person["key"]: person["department"] for person in PEOPLE}
    counts = Counter(department[note["author"]] for note in NOTES)
    assert counts.keys() >= {"camera", "sound", "art", "costume", "stunts", "editing", "production", "cast"}
    assert min(counts.values()) >= 2


def test_the_script_is_the_writers() -> None:
    writer = next(person for person in PEOPLE if person["role"] == "writer")
    assert all(f"Author: {writer['name']}" in source for source in SOURCES.values())
    assert all(f"    {writer['email']}" in source for source in SOURCES.values())


# --- the notes


@pytest.mark.parametrize("note", NOTES, ids=name_of)
def test_a_note_finds_its_lines(note: dict[str, Any]) -> None:
    assert note.keys() <= NOTE_FIELDS
    first, last = span(note)
    assert last - first < 16
    assert SOURCES[note["draft"]][first - 1].strip()
    if "words" in note:
        assert first == last
        assert note["from"].count(note["words"]) == 1
        assert "wording" not in note  # a wording replaces whole lines


@pytest.mark.parametrize("note", NOTES, ids=name_of)
def test_a_note_is_in_order(note: dict[str, Any]) -> None:
    keys = {person["key"] for person in PEOPLE}
    writers = {person["key"] for person in PEOPLE if person["role"] == "writer"}
    assert note["author"] in keys - writers
    assert note["kind"] in KINDS
    assert note["body"].strip()
    assert note.get("audience", "everyone") in {"everyone", "writer"}
    assert ("decision" in note) == ("reason" in note)
    assert note.get("decision", "accepted") in {"accepted", "declined", "parked"}
    for reply in note.get("replies", []):
        assert reply.keys() == {"author", "body"}
        assert reply["author"] in keys


def test_notes_follow_the_script() -> None:
    places = [(note["draft"], span(note)[0]) for note in NOTES]
    assert all(before <= after for before, after in pairwise(places))


def test_each_draft_has_its_share_of_notes() -> None:
    counts = Counter(note["draft"] for note in NOTES)
    assert 40 <= counts[1] <= 50
    assert 6 <= counts[2] <= 8


def test_every_kind_and_state_is_there() -> None:
    first = [note for note in NOTES if note["draft"] == 1]
    kinds = Counter(note["kind"] for note in first)
    states = Counter(note.get("decision", "undecided") for note in first)
    assert kinds.keys() == KINDS
    assert min(kinds.values()) >= 3
    assert states.keys() == {"accepted", "declined", "parked", "undecided"}
    assert min(states.values()) >= 3
    assert sum(note.get("audience") == "writer" for note in NOTES) >= 4
    assert sum(bool(note.get("replies")) for note in NOTES) >= 12
    assert any(len(note.get("replies", [])) >= 2 for note in NOTES)


def test_accepted_wordings_are_in_the_next_draft() -> None:
    wordings = [
        note["wording"]
        for note in NOTES
        if note["draft"] == 1 and note.get("decision") == "accepted" and note.get("wording")
    ]
    written_in = [wording for wording in wordings if wording in "\n".join(SOURCES[2])]
    assert len(written_in) >= 5
    assert any(note.get("wording") == "" for note in NOTES)


@pytest.mark.parametrize("note", [note for note in NOTES if note["kind"] == "safety"], ids=name_of)
def test_a_safety_note_defers_to_someone_qualified(note: dict[str, Any]) -> None:
    assert QUALIFIED.search(note["body"])
