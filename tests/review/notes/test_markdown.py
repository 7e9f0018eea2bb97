"""The light Markdown of notes: what it knows, and what it never lets through."""

from __future__ import annotations

import pytest

from review.notes.markdown import render_markdown, typed_out


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("*slow* and **loud**", "<p><em>slow</em> and <strong>loud</strong></p>\n"),
        ("one\ntwo", "<p>one<br>\ntwo</p>\n"),
        ("- a\n- b", "<ul>\n<li>a</li>\n<li>b</li>\n</ul>\n"),
        ("3. c", '<ol start="3">\n<li>c</li>\n</ol>\n'),
        ("> said", "<blockquote>\n<p>said</p>\n</blockquote>\n"),
        ("`INT.`", "<p><code>INT.</code></p>\n"),
        ("# not a title", "<p># not a title</p>\n"),
        ("", ""),
    ],
)
def test_it_knows_the_light_marks_and_no_more(text: str, html: str) -> None:
    assert render_markdown(text) == html


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("*slow* and **loud**,\n[map](https://example.org) & `INT.`", "slow and loud,\nmap & INT."),
        ("one\n\ntwo", "one\n\ntwo"),
        ("So:\n\n- a\n- b\n  c\n\nAnd.", "So:\n– a\n– b\n  c\n\nAnd."),
        ("3. c\n4. d\n   - e", "3. c\n4. d\n   – e"),
        ("> said\n> again", "| said\n| again"),
        ("```\nx = 1\n```", "x = 1"),
        ("", ""),
    ],
)
def test_typed_out_it_is_what_one_would_type_without_marks(text: str, typed: str) -> None:
    assert typed_out(text) == typed


def test_a_link_leads_out_without_saying_where_from() -> None:
    link = '<p><a href="https://example.org" rel="noreferrer noopener nofollow">map</a></p>\n'
    assert render_markdown("[map](https://example.org)") == link


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "[x](javascript:alert(1))",
        "[x](data:text/html,<script>alert(1)</script>)",
        "<javascript:alert(1)>",
        "![x](https://example.org/x.png)",
        '[x](https://example.org "onmouseover=alert(1)")',
        "<p onclick=alert(1)>",
    ],
)
def test_nothing_that_acts_gets_through(text: str) -> None:
    html = render_markdown(text)
    for bad in ("<script", "<img", 'javascript:alert(1)"', 'href="data:', "<p onclick", "onmouseover="):
        assert bad not in html


def test_a_space_or_a_line_never_makes_it_fail() -> None:
    for text in ("[", "](", "***", "`" * 50, "> " * 200, "- " * 100, "\x00", "𝔉"):
        assert isinstance(render_markdown(text), str)
