"""The light Markdown of papers: safe whatever it holds, with the paper's own pictures and no others."""

from __future__ import annotations

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from review.papers.markdown import paragraphs_of, read_paragraphs, render_paragraph, words_read

PICTURES = {"map": "/p/x/papers/y/pictures/map/"}
PIECES = st.sampled_from(
    [
        "# A",
        "\n\n",
        "\n",
        "- one",
        "> said",
        "*so*",
        "![a](map)",
        "<img src=x onerror=1>",
        "```",
        "1. ",
        "    ",
        "[x](y)",
    ]
)


def test_a_picture_of_its_own_is_shown_and_no_other() -> None:
    told = BeautifulSoup(
        render_paragraph("![The ![harbour](map) ![x](https://e.example/a.png)", PICTURES), "html.parser"
    )
    assert [str(image["src"]) for image in told.select("img")] == [PICTURES["map"]]
    assert told.select("img")[0]["alt"] == "harbour"
    assert "[x]" in told.get_text()


@pytest.mark.parametrize(
    "text",
    [
        "<script>x</script>",
        "![a](javascript:x)",
        "[a](javascript:x)",
        '![" onerror="x](map)',
        "<img src=/p/x onerror=x>",
    ],
)
def test_nothing_in_it_runs(text: str) -> None:
    told = BeautifulSoup(render_paragraph(text, PICTURES), "html.parser")
    assert not told.select("script, [onerror], [href^=javascript]")


def test_the_words_of_a_paragraph_are_those_of_its_pictures_too() -> None:
    text = "*Ring* ![The **bell**](map) & wait. ![](map)"
    assert words_read(render_paragraph(text, PICTURES)) == "Ring [The bell] & wait. []"
    assert read_paragraphs(f"# Rules\n\n{text}")[0] == "Rules"


def test_headings_stand_below_the_page_s_own() -> None:
    assert render_paragraph("# Rules", {}).strip() == "<h2>Rules</h2>"


def test_each_block_is_a_paragraph() -> None:
    text = "# Rules\n\nOne\nline.\n\n- a\n- b\n\n```\nx\n\ny\n```\n"
    assert paragraphs_of(text) == ("# Rules", "One\nline.", "- a\n- b", "```\nx\n\ny\n```")


@given(st.lists(PIECES, max_size=10).map("".join))
def test_no_word_is_lost_between_paragraphs(text: str) -> None:
    paragraphs = paragraphs_of(text)
    assert [line.strip() for part in paragraphs for line in part.split("\n") if line.strip()] == [
        line.strip() for line in text.splitlines() if line.strip()
    ]
    for paragraph in paragraphs:
        render_paragraph(paragraph, PICTURES)
