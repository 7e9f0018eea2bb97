"""A paper's paragraphs with what was cut and added in them, as they read."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from bs4 import BeautifulSoup
from hypothesis import given, settings
from hypothesis import strategies as st

from review.papers.changed_paragraphs import changed_paragraphs
from review.papers.markdown import read_paragraphs

PICTURES = {"map": "/p/x/map/", "bell": "/p/x/bell/"}
WORDS = st.sampled_from(["bell", "*bell*", "**rope** ends", "a & b", "<i>", "`dock`", "![Map](map)", "it’s", "[a](b)"])
LINES = st.lists(WORDS, min_size=1, max_size=5).map(" ".join)
BLOCKS = st.one_of(
    LINES,
    LINES.map(lambda line: f"## {line}"),
    st.lists(LINES, min_size=1, max_size=3).map(lambda lines: "\n".join(f"- {line}" for line in lines)),
    st.lists(LINES, min_size=1, max_size=3).map(lambda lines: "\n".join(f"> {line}" for line in lines)),
)


def without_unseen(html: str) -> str:
    return re.sub(r'<span class="unseen">.*?</span>', "", html)


@pytest.mark.parametrize(
    ("old", "new", "html"),
    [
        ("Ring *once* and wait.", "Ring *twice* and wait.", "Ring <em><del>once</del> <ins>twice</ins></em> and wait."),
        ("## The bell", "## The old bell", "The <ins>old </ins>bell"),
        ("Ring once & wait.", "Ring once.", "Ring once<del> &amp; wait</del>."),
        ("Ring ![](map) now.", "Ring ![](bell) now.", '<ins><img src="/p/x/bell/"'),
    ],
)
def test_words_are_marked_where_they_read(old: str, new: str, html: str) -> None:
    (change,) = changed_paragraphs(old, new, PICTURES)
    assert html in without_unseen(change.html)
    assert change.has_words


def test_a_letter_of_the_private_use_area_is_no_picture() -> None:
    (change,) = changed_paragraphs("\ue000 bell ![](map)", "\ue000 bells ![](map)", PICTURES)
    assert change.html.count("<img") == 1
    assert "\ue000" in change.html


def test_an_item_that_is_gone_stands_in_its_list() -> None:
    (change,) = changed_paragraphs("- one rope\n- two bells", "- one rope", PICTURES)
    (gone,) = BeautifulSoup(change.html, "html.parser").select("li del")
    assert "two bells" in gone.get_text()


def test_the_same_words_set_otherwise_are_said_to_be_so() -> None:
    (change,) = changed_paragraphs("Ring once.", "Ring **once**.", PICTURES)
    assert (change.what, change.has_words) == ("reworded", False)


class _Nesting(HTMLParser):
    """Raises where a tag ends that was not the last to begin."""

    open: list[str]

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag not in {"br", "img"}:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@given(BLOCKS, BLOCKS)
@settings(max_examples=60)
def test_both_versions_can_be_read_off_and_the_html_is_whole(old: str, new: str) -> None:
    for change in changed_paragraphs(old, new, PICTURES):
        nesting = _Nesting()
        nesting.open = []
        nesting.feed(change.html)
        assert not nesting.open
    page = without_unseen(" ".join(change.html for change in changed_paragraphs(old, new, PICTURES)))
    for kept, marks in ((new, "del"), (old, "ins")):
        soup = BeautifulSoup(page, "html.parser")
        for mark in soup(marks):
            mark.replace_with(" ")
        for picture in soup("img"):
            picture.replace_with(f"[{picture['alt']}]")
        read = "".join(soup.get_text().split())
        assert read == "".join("".join(read_paragraphs(kept)).split())
