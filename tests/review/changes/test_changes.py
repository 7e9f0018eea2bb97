"""What changed between two drafts."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.urls import reverse

from review import demo
from tests.factories import SCRIPT, make_note
from tests.review.changes.boathouse import CALLED, CALLED_OTHERWISE
from tests.review.changes.slack_water import NEW, OLD, address, page_of, publish, rows, words_of

if TYPE_CHECKING:
    from collections.abc import Callable

    import pytest
    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_the_counts_stand_at_the_top(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    counts = words_of(page_of(signed_in(writer), writer).select_one(".change-counts"))
    assert counts == "Pages 1 as before Scenes 2 reworded 1 cut Lines 1 reworded 1 added 5 gone"


def test_words_within_a_line_are_marked_and_read_out(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    row = page_of(signed_in(writer), writer).select_one(".change-reworded")
    assert row is not None
    assert [words_of(tag) for tag in row.select("del")][-1] == "cut: four (end of cut)"
    assert [words_of(tag) for tag in row.select("ins")][-1] == "added: five (end of added)"
    for unseen in row.select(".unseen, del"):
        unseen.decompose()
    text = row.select_one(".change-text")
    assert text is not None
    assert text.get_text() == "The tide turns at five, and not before."


def test_words_put_in_place_of_others_stand_apart_from_them_and_no_space_is_doubled(
    writer: Member, signed_in: SignIn
) -> None:
    line = "The letter is from 3 February, in the middle, which is torn."
    after = "The letter is from 17 March, in the middle is torn."
    publish(writer, f"INT. HUT - DAY\n\n{line}\n", f"INT. HUT - DAY\n\n{after}\n")
    text = page_of(signed_in(writer), writer).select_one(".change-reworded .change-text")
    assert text is not None
    assert "  " not in text.get_text()
    for unseen in text.select(".unseen"):
        unseen.decompose()
    assert text.get_text() == "The letter is from 3 February 17 March, in the middle, which is torn."
    for gone in text.select("del"):
        gone.decompose()
    assert text.get_text() == after


def test_added_and_cut_lines_stand_where_they_belong(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    page = page_of(signed_in(writer), writer)
    assert rows(page, "added") == ["Added Her boots fill slowly with cold water."]
    boathouse, slipway = page.select_one("#scene-1"), page.select_one("#scene-2")
    assert boathouse is not None
    assert slipway is not None
    assert "Gone A dog barks somewhere across the water." in words_of(boathouse)
    assert words_of(slipway).index("Mist. The skiff is gone.") < words_of(slipway).index("Her boots fill")


def test_a_cut_scene_stands_after_the_scene_before_it_with_its_lines_folded(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    page = page_of(signed_in(writer), writer)
    ids = [section["id"] for section in page.select(".scene-change, .unchanged") if section.get("id")]
    assert ids.index("scene-2") < ids.index("old-scene-3")
    cut = page.select_one("#old-scene-3")
    assert cut is not None
    assert "INT. CHANDLERY - DAY" in words_of(cut.select_one("h2"))
    assert "I sold the skiff on Tuesday morning." in words_of(cut.select_one("details.fold"))


def test_every_line_of_the_changed_scenes_is_there_once(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    page = page_of(signed_in(writer), writer)
    shown = words_of(page.select_one(".changed-lines"))
    lines = [line for line in OLD.partition("EXT. HARBOUR")[0].splitlines()[2:] if line.endswith(".")]
    assert [shown.count(line) for line in lines if "Tide" not in line] == [1] * (len(lines) - 1)


def test_long_unchanged_stretches_are_folded(writer: Member, signed_in: SignIn) -> None:
    words = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh"]
    many = "".join(f"The {word} oar is wet.\n\n" for word in words)
    old = f"INT. LOFT - DAY\n\n{many}A bell rings.\n"
    publish(writer, old, old.replace("A bell rings.", "A bell rings twice."))
    page = page_of(signed_in(writer), writer)
    fold = page.select_one("details.fold")
    assert fold is not None
    assert words_of(fold.select_one("summary")) == "5 lines unchanged"
    assert "The first oar is wet." not in page.text
    assert "The seventh oar is wet." in page.text
    lines = fold.select_one("[hx-get]")
    assert lines is not None
    stretch = str(lines["hx-get"])
    opened = signed_in(writer).get(stretch, headers={"HX-Request": "true"}).text
    assert ("The first oar is wet." in opened, "The seventh oar is wet." in opened) == (True, False)
    assert "<html" not in opened
    whole = page_of(signed_in(writer), writer, str(lines.select("a")[0]["href"]).partition("#")[0])
    assert "The first oar is wet." in whole.text
    led = signed_in(writer).get(stretch)
    assert led["Location"] == f"{address(writer)}?script=whole#new-3"


def test_a_stretch_that_is_not_there_is_not_found(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    for old, new, anchor in ((1, 2, "beside-new-9999"), (2, 1, "beside-new-3"), (1, 7, "beside-new-3")):
        place = reverse("changes-stretch", args=[writer.production.public_id, old, new, anchor])
        assert signed_in(writer).get(place).status_code == 404


def test_an_opened_stretch_shows_no_source_to_readers(writer: Member, crew: Member, signed_in: SignIn) -> None:
    many = "".join(f"Oar {number} is wet.\n\n" for number in range(8))
    old = f"INT. LOFT - DAY\n\n= What it is for\n\n{many}A bell rings.\n"
    publish(writer, old, old.replace("A bell rings.", "A bell rings twice."))
    for member, sees in ((writer, True), (crew, False)):
        lines = page_of(signed_in(member), member).select_one("details.fold [hx-get]")
        assert lines is not None
        opened = signed_in(member).get(str(lines["hx-get"]), headers={"HX-Request": "true"}).text
        assert ("What it is for" in opened) == sees


def test_a_scene_with_nothing_changed_is_named_alone(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    unchanged = page_of(signed_in(writer), writer).select_one(".unchanged")
    assert "EXT. HARBOUR WALL - DUSK" in words_of(unchanged)
    assert "Two gulls" not in words_of(unchanged)


def test_a_line_that_moved_says_where_from_and_where_to(writer: Member, signed_in: SignIn) -> None:
    sentence = "Shelves of rope. A bell over the door.\n\n"
    moved = OLD.replace(sentence, "").replace("Mist. The skiff is gone.\n\n", f"Mist. The skiff is gone.\n\n{sentence}")
    publish(writer, OLD, moved)
    page = page_of(signed_in(writer), writer)
    assert rows(page, "moved-here") == [
        "Moved here Shelves of rope. A bell over the door. From scene 3, INT. CHANDLERY - DAY"
    ]
    assert rows(page, "moved-away") == [
        "Moved away Shelves of rope. A bell over the door. To scene 2, EXT. SLIPWAY - DAWN"
    ]
    for link in page.select(".change-where a"):
        assert page.select_one(str(link["href"])) is not None


def test_a_scene_that_moved_says_where_it_stood_and_leaves_word_there(writer: Member, signed_in: SignIn) -> None:
    first, second = OLD.index("INT. BOATHOUSE"), OLD.index("EXT. SLIPWAY")
    moved = OLD[:first] + OLD[second:] + "\n" + OLD[first:second].strip() + "\n"
    publish(writer, OLD, moved)
    page = page_of(signed_in(writer), writer)
    assert "1 moved" in words_of(page.select_one(".change-counts"))
    departed = page.select_one(".departed")
    assert words_of(departed).startswith("Here stood scene 1, INT. BOATHOUSE")
    assert words_of(departed).endswith("It stands after scene 3, EXT. HARBOUR WALL - DUSK now")
    assert rows(page, "moved-here") == []


def test_a_rename_is_stated_once(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("TOBIAS", "ANSELM"))
    page = page_of(signed_in(writer), writer)
    assert [words_of(rename).split(" throughout")[0] for rename in page.select(".rename")] == ["TOBIAS is ANSELM"]
    assert rows(page, "reworded") == []


def test_the_list_and_the_scene_say_that_its_heading_and_its_words_are_others(
    writer: Member, signed_in: SignIn
) -> None:
    publish(writer, OLD, OLD.replace("EXT. SLIPWAY", "EXT. JETTY").replace("He did not wait", "She did not wait"))
    page = page_of(signed_in(writer), writer)
    told = "renamed in its heading, and reworded"
    assert [words_of(fate) for fate in page.select(".changed-scene-fate")] == [told]
    assert [words_of(tag) for tag in page.select(".scene-change header .tag")] == [told.capitalize()]
    assert "1 reworded 1 renamed" in words_of(page.select_one(".change-counts"))


def test_words_that_have_another_name_in_them_are_listed_and_cues_are_told_with_the_rename(
    writer: Member, signed_in: SignIn
) -> None:
    publish(writer, CALLED, CALLED_OTHERWISE)
    page = page_of(signed_in(writer), writer)
    said, done = page.select(".change-reworded")
    assert [words_of(name) for name in said.select("ins")] == ["added: Tilde (end of added)"] * 2
    assert "shuts the gate, a knife in her belt." in words_of(done)
    assert "2 reworded" in words_of(page.select_one(".change-counts"))
    [unchanged] = page.select(".unchanged summary")
    assert words_of(unchanged) == "Scene 3: nothing changed but names in cues and headings"
    assert "4 lines unchanged but for a name" in [words_of(fold) for fold in page.select(".fold summary")]


def test_every_link_within_the_page_leads_somewhere(writer: Member, signed_in: SignIn) -> None:
    folder = Path(demo.__file__).parent
    texts = [(folder / name).read_text(encoding="utf-8") for name in ("first-draft.fountain", "second-draft.fountain")]
    [first] = publish(writer, texts[0])
    for line, text in enumerate(texts[0].splitlines(), 1):
        if text.strip():
            make_note(writer, first, line)
    publish(writer, texts[1])
    page = page_of(signed_in(writer), writer)
    links = {str(link["href"]).removeprefix("#") for link in page.select("main a[href^='#']")}
    ids = [str(tag["id"]) for tag in page.select("[id]")]
    assert len(links) > 100
    assert links <= set(ids)
    assert len(ids) == len(set(ids))


def test_side_by_side_shows_the_line_before_and_after(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    row = page_of(signed_in(writer), writer, "?view=two").select_one(".change-reworded")
    assert row is not None
    before, after = row.select_one(".change-before"), row.select_one(".change-after")
    assert before is not None
    assert after is not None
    assert "four" in before.get_text()
    assert "five" not in before.get_text()
    assert "five" in after.get_text()


def test_the_whole_script_has_the_unchanged_scenes_too(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    client = signed_in(writer)
    assert "Two gulls fight over a crust." not in words_of(page_of(client, writer))
    whole = page_of(client, writer, "?script=whole")
    unchanged = whole.select_one(".scene-unchanged")
    assert "EXT. HARBOUR WALL - DUSK" in words_of(unchanged)
    assert "Two gulls fight over a crust." in words_of(unchanged)


def test_the_ways_to_look_at_it_are_links_that_keep_each_other(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    client = signed_in(writer)
    ways = {
        query: sorted(str(link["href"]).partition("#")[0] for link in page_of(client, writer, query).select(".ways a"))
        for query in ("", "?view=two", "?script=whole", "?view=two&script=whole")
    }
    assert ways == {
        "": ["?script=whole", "?view=two"],
        "?view=two": ["?", "?view=two&script=whole"],
        "?script=whole": ["?", "?view=two&script=whole"],
        "?view=two&script=whole": ["?script=whole", "?view=two"],
    }


def test_moved_scenes_are_linked_both_ways(writer: Member, signed_in: SignIn) -> None:
    first, second = OLD.index("INT. BOATHOUSE"), OLD.index("EXT. SLIPWAY")
    publish(writer, OLD, OLD[:first] + OLD[second:] + "\n" + OLD[first:second].strip() + "\n")
    page = page_of(signed_in(writer), writer)
    there = page.select_one(".departed a")
    assert there is not None
    scene = page.select_one(str(there["href"]))
    assert scene is not None
    back = [str(link["href"]) for link in scene.select("header a") if str(link["href"]).startswith("#")]
    departed = page.select_one(".departed")
    assert departed is not None
    assert back == [f"#{departed['id']}"]


HIDDEN = """INT. BOATHOUSE - NIGHT

# Act one

= She waits for him.

[[Cut this speech if it drags.]]

NELL mends a net by one lamp. [[Or two?]]

/*
The old ending, where she drowns.
*/

NELL
Tide turns at *four*.
"""
UNSEEN = ("Act one", "She waits", "drags", "Or two?", "drowns")


def test_a_reader_sees_only_what_prints_and_the_writer_the_source(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    publish(writer, SCRIPT, HIDDEN, SCRIPT + "\nAnd out.\n")
    for old, new in ((1, 2), (2, 3)):
        for query in ("", "?view=two"):
            pages = [
                signed_in(member).get(address(member, old, new) + query).content.decode() for member in (writer, crew)
            ]
            assert [words in pages[0] for words in UNSEEN] == [True] * len(UNSEEN)
            assert [words in pages[1] for words in UNSEEN] == [False] * len(UNSEEN)
            assert "mends a net by one lamp." in pages[1]


def test_a_line_taken_out_of_the_pages_is_gone_for_a_reader(writer: Member, crew: Member, signed_in: SignIn) -> None:
    dog = "A dog barks somewhere across the water."
    publish(writer, OLD, OLD.replace(dog, f"/* {dog} */"), OLD + "\nAnd out.\n")
    client = signed_in(crew)
    assert rows(page_of(client, crew), "gone") == [f"Gone {dog}"]
    back = BeautifulSoup(client.get(address(crew, 2, 3)).content, "html.parser")
    assert rows(back, "added") == [f"Added {dog}", "Added And out."]


def test_what_changed_out_of_sight_is_no_change_to_a_reader(writer: Member, crew: Member, signed_in: SignIn) -> None:
    aside = OLD.replace("The lamp gutters.", "[[Too slow?]]\n\nThe lamp gutters.")
    publish(writer, OLD, aside)
    page = page_of(signed_in(writer), writer)
    assert rows(page, "added") == ["Added [[Too slow?]]"]
    counts = words_of(page.select_one(".change-counts"))
    assert counts == "Pages 1 as before Scenes as they were Lines as they were 1 that never prints"
    assert "What prints is as it was" in words_of(page.select_one("#scene-1"))
    assert "Not a word has changed" in words_of(page_of(signed_in(crew), crew))


def test_writers_and_readers_are_told_the_same_numbers_of_what_prints(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    unseen = "# Act two\n\n= She goes.\n\n[[Why?]]\n\n===\n\n"
    new = NEW.replace("INT. BOATHOUSE - NIGHT", f"INT. BOATHOUSE - NIGHT [[a]]\n\n{unseen}")
    publish(writer, OLD.replace("EXT. HARBOUR", f"{unseen}EXT. HARBOUR"), new + "\n[[The end?]]\n")
    pages = [page_of(signed_in(member), member) for member in (writer, crew)]
    counts, of_reader = (words_of(page.select_one(".change-counts")) for page in pages)
    assert of_reader == "Pages 2 as before Scenes 2 reworded 1 cut Lines 1 reworded 1 added 5 gone"
    assert counts == f"{of_reader} 6 that never print"
    assert [words_of(page.select_one("#scene-3 header .tag")) for page in pages] == ["", ""]


def test_marks_for_bold_italic_and_underline_are_styles(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("Tide turns at four,", "Tide turns at *five*,").replace("for me.", "_for me_."))
    page = page_of(signed_in(writer), writer)
    assert [italic.get_text() for italic in page.select("ins .i")] == ["five"]
    assert [underlined.get_text() for underlined in page.select("ins .u")] == ["for me"]
    assert [words_of(gone) for gone in page.select("del")] == [
        "cut: four (end of cut)",
        "cut: for me (end of cut)",
    ]
    assert not any(mark in words_of(page.select_one(".changed-lines")) for mark in "*_")


def test_lines_that_moved_with_their_scene_are_counted_apart(writer: Member, signed_in: SignIn) -> None:
    first, second = OLD.index("INT. BOATHOUSE"), OLD.index("EXT. SLIPWAY")
    publish(writer, OLD, OLD[:first] + OLD[second:] + "\n" + OLD[first:second].strip() + "\n")
    counts = words_of(page_of(signed_in(writer), writer).select_one(".change-counts"))
    assert "none on its own" in counts
    assert "came along with their scenes" in counts


def test_scene_numbers_that_were_put_in_rename_no_scene_and_reword_no_line(writer: Member, signed_in: SignIn) -> None:
    numbered = re.sub(r"(?m)^((?:INT|EXT)\..*)$", r"\1 #7A#", OLD)
    assert numbered != OLD
    publish(writer, OLD, numbered, numbered.replace("The lamp gutters.", "The lamp is out."))
    assert "the numbers of scenes" in words_of(page_of(signed_in(writer), writer))
    told = BeautifulSoup(signed_in(writer).get(address(writer, 1, 3)).content, "html.parser")
    counts = words_of(told.select_one(".change-counts"))
    assert "Scenes 1 reworded Lines" in counts
    assert "Lines 1 reworded" in counts


def test_whoever_waits_is_told_of_no_step_as_done_before_it_is(
    writer: Member, signed_in: SignIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps: list[tuple[int, int]] = []
    monkeypatch.setattr("review.changes.views.changes.tell", lambda _, done, total: steps.append((done, total)))
    publish(writer, OLD, NEW)
    page_of(signed_in(writer), writer)
    assert steps == [(0, 3), (1, 3), (2, 3)]


def test_drafts_that_differ_in_blank_lines_alone_say_so(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("\n\nEXT.", "\n\n\nEXT."))
    assert "Not a word has changed" in words_of(page_of(signed_in(writer), writer))
