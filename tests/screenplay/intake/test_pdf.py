"""PDFs taken in: what is read, and what is refused with which sentence."""

from __future__ import annotations

import contextlib
import io
import re
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from screenplay import lay_out, parse
from screenplay.intake import MAXIMUM_BYTES, Unreadable, is_pdf, pdf, pdf_words, read_pdf
from screenplay.intake.pdf import read_told_pages
from screenplay.intake.pdf_words import words_of_pdf
from screenplay.printing.typesetting import typeset
from tests.read_back import elements_of, read_here
from tests.typed_pdf import Sheets, set_script

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from screenplay.intake import Conversion
    from tests.typed_pdf import ScaledBy

PARTS = [
    ("scene_heading", "INT. BOATHOUSE - NIGHT"),
    ("action", "Rain on a tin roof. A lamp, turned down so low that it is mostly smell, and a long way off a bell."),
    ("character", "MARA"),
    ("parenthetical", "(not looking up)"),
    ("dialogue", "You came back for the tide table. Nobody comes back for that."),
    ("transition", "CUT TO:"),
    ("scene_heading", "EXT. QUAY - DAY"),
    ("action", "Nobody."),
]


def drawn(draw: Callable[[Canvas], object], pages: int = 1) -> bytes:
    file = io.BytesIO()
    canvas = Canvas(file)
    for _ in range(pages):
        draw(canvas)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def refusal(data: bytes, filename: str = "slack.pdf") -> str:
    with pytest.raises(Unreadable) as caught:
        read_pdf(data, filename)
    return str(caught.value)


def test_a_pdf_becomes_the_script_that_was_set() -> None:
    assert [(one.kind, one.text) for one in elements_of(parse(read_pdf(set_script(PARTS)).text))] == PARTS


def test_a_name_across_the_page_and_what_is_light_is_left_out() -> None:
    sheets = Sheets(name_across="Ivo Quent")
    assert "Quent" not in read_pdf(set_script(PARTS, sheets)).text


def test_a_scanned_pdf_is_refused() -> None:
    scan = drawn(lambda canvas: canvas.rect(50, 50, 400, 600, fill=1), pages=3)
    assert refusal(scan).startswith("“slack.pdf” has pictures of pages with no text in them, as a scan has: ")


@pytest.mark.parametrize("password", ["", "secret"])
def test_a_locked_pdf_is_refused(password: str) -> None:
    from reportlab.lib.pdfencrypt import StandardEncryption

    file = io.BytesIO()
    canvas = Canvas(file, encrypt=StandardEncryption(password, ownerPassword="owner", canCopy=0))
    canvas.drawString(72, 700, "INT. BOATHOUSE - NIGHT")
    canvas.save()
    assert refusal(file.getvalue()).startswith("“slack.pdf” is locked with a password or against copying: ")


@pytest.mark.parametrize("cut", [20, 300])
def test_a_damaged_pdf_is_refused(cut: int) -> None:
    assert refusal(set_script(PARTS)[:cut]).startswith("“slack.pdf” is a PDF that is damaged or not whole: ")


def test_an_empty_file_and_one_too_long_are_refused() -> None:
    assert refusal(b"").startswith("“slack.pdf” is empty: ")
    assert refusal(b"%PDF-" + bytes(MAXIMUM_BYTES)).startswith("“slack.pdf” is over 4 MiB")


def test_a_pdf_of_too_many_pages_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "MAXIMUM_PAGES", 2)
    assert "pages, far more than a script" in refusal(drawn(lambda canvas: canvas.drawString(72, 700, "A b c d."), 3))


def test_a_pdf_that_takes_too_long_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "MOST_SECONDS", 0.001)
    assert refusal(set_script(PARTS)).startswith("“slack.pdf” takes too long to read: ")


def test_a_pdf_that_ends_its_reader_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    ending = tmp_path / "ending.py"
    ending.write_text("import os\nos.abort()\n")
    monkeypatch.setattr(pdf, "_PROGRAM", ending)
    assert refusal(set_script(PARTS)).startswith("“slack.pdf” is a PDF that is damaged")


def test_a_pdf_is_known_by_its_first_bytes() -> None:
    assert is_pdf(set_script(PARTS))
    assert is_pdf(b"\n%PDF-1.7 ...")
    assert not is_pdf(b"INT. BOATHOUSE - NIGHT")


TIDES = "one", "two", "three", "four"


def typed(canvas: Canvas, number: int) -> None:
    """A page of action, whose last line tells it from the others."""
    canvas.setFont("Courier", 12)
    for row in range(12):
        canvas.drawString(108, 700 - 24 * row, "Rain on a tin roof, and a long way off a bell.")
    canvas.drawString(108, 400, f"The tide is at {TIDES[number - 1]} this time.")


def scanned(canvas: Canvas) -> None:
    canvas.drawImage(ImageReader(Image.new("L", (60, 80), 200)), 0, 0, 595, 842)
    canvas.drawString(500, 800, "2.")


def askew(canvas: Canvas) -> None:
    canvas.rotate(30)
    canvas.drawString(300, 300, "Do not pass this page on.")


def four_pages(second: Callable[[Canvas], object] | None = None) -> bytes:
    """Four typed pages; or three, and one that is drawn otherwise in the place of the second."""
    file = io.BytesIO()
    canvas = Canvas(file, pageCompression=0)
    for number in range(1, 5):
        if number == 2 and second is not None:
            second(canvas)
        else:
            typed(canvas, number)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def with_another_second_page(reference: bytes) -> bytes:
    """Four typed pages, of which the tree of pages (ISO 32000-1, 7.7.3) names something else as the second."""
    data = four_pages()
    tree = re.search(rb"/Kids \[ (\d+ 0 R) (\d+ 0 R)", data)
    assert tree is not None
    return data[: tree.start(2)] + reference.ljust(len(tree[2])) + data[tree.end(2) :]


def with_a_damaged_second_page() -> bytes:
    data = four_pages()
    tree = re.search(rb"/Kids \[ \d+ 0 R (\d+) 0 R", data)
    assert tree is not None
    return data.replace(b"\n" + tree[1] + b" 0 obj\n<<", b"\n" + tree[1] + b" 0 obj\n((")


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (with_a_damaged_second_page(), "The file is damaged here: the page could not be opened."),
        (with_another_second_page(b"0 0 R"), "The file is damaged here: the page could not be opened."),
        (
            with_another_second_page(b"9 0 R"),
            "Nothing was found on it. If something stands there, it could not be read.",
        ),
        (four_pages(scanned), "It is a picture, or mostly one, as a scan is:"),
        (four_pages(askew), "All on it is tilted, pale or much larger than the script"),
        (four_pages(Canvas.saveState), "Nothing was found on it."),
    ],
    ids=["damaged", "lost", "no page", "scanned", "askew", "empty"],
)
def test_a_page_that_cannot_be_read_is_told_with_its_place(data: bytes, why: str) -> None:
    conversion = read_here(data)
    (page,) = conversion.unread
    assert (page.place, page.after) == (2, "The tide is at one this time.")
    assert page.why.startswith(why)
    assert [word for word in TIDES if f"at {word} this" in conversion.text] == [
        "one",
        "three",
        "four",
    ]


def test_a_page_that_is_read_whole_is_not_told() -> None:
    assert read_here(four_pages()).unread == ()
    assert read_here(four_pages(lambda canvas: canvas.drawString(108, 700, "THE END"))).unread == ()


def test_a_page_with_more_words_than_a_script_s_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_words, "_MOST_WORDS_A_PAGE", 151)
    assert [page.place for page in read_here(four_pages()).unread] == []
    monkeypatch.setattr(pdf_words, "_MOST_WORDS_A_PAGE", 100)
    assert [page.why[:10] for page in read_here(four_pages()).unread] == ["More words"] * 4


def test_a_pdf_none_of_whose_pages_can_be_opened_is_damaged() -> None:
    data = re.sub(rb"/Kids \[ (?:\d+ 0 R ?)+\]", lambda kids: b"/Kids [ 0 0 R ]".ljust(len(kids[0])), four_pages())
    assert refusal(data).startswith("“slack.pdf” is a PDF that is damaged or not whole: ")


SOUND = set_script(PARTS)


@settings(max_examples=60)
@given(st.integers(0, len(SOUND) - 1), st.binary(min_size=1, max_size=40), st.booleans())
def test_any_bytes_are_read_or_said_to_be_wrong(at: int, noise: bytes, over: bool) -> None:
    told = words_of_pdf(SOUND[:at] + noise + SOUND[at + len(noise) * over :], 10)
    if "wrong" in told:
        assert told["wrong"] in {"locked", "damaged", "too many pages"}
        return
    with contextlib.suppress(Unreadable):
        read_told_pages(told)


def set_in_styles(*words: tuple[str, str], scale: float = 1) -> bytes:
    """A heading and a line of action whose words are set in these fonts, over a ruled line where a name says so."""

    def draw(canvas: Canvas) -> None:
        canvas.scale(scale, scale)
        canvas.setFont("Courier-Bold", 12)
        canvas.drawString(108, 720, "INT. BOATHOUSE - NIGHT")
        x = 108.0
        for text, style in words:
            canvas.setFont("Courier" + style.replace("Ruled", ""), 12)
            canvas.drawString(x, 696, text)
            if "Ruled" in style:
                canvas.line(x, 694.5, x + 7.2 * len(text), 694.5)
            x += 7.2 * (len(text) + 1)

    return drawn(draw)


PLAIN = [(word, "") for word in ("On", "the", "wall", "is", "what")]


@pytest.mark.parametrize(("words", "written"), [
    ([("she", "-Oblique"), ("said", "-Oblique")], "*she said*"),
    ([("she", "-Bold"), ("said", "")], "**she** said"),
    ([("she", "-BoldOblique")], "***she***"),
    ([("she", "Ruled"), ("said", "Ruled")], "_she said_"),
    ([("she", "-BoldRuled"), ("said", "-Oblique")], "_**she**_ *said*"),
    ([("2*3*4", "-Bold"), ("_she_", "")], r"**2\*3\*4** \_she\_"),
    ([("2*3*4", ""), ("_she_", "")], r"2\*3\*4 \_she\_"),
    ([("snake_case", ""), ("5*", "")], "snake_case 5*"),
])  # fmt: skip
def test_emphasis_comes_along_and_signs_stay_signs(words: list[tuple[str, str]], written: str) -> None:
    text = read_here(set_in_styles(*PLAIN, *words, *PLAIN)).text
    assert text == f"INT. BOATHOUSE - NIGHT\n\nOn the wall is what {written} On the wall is what\n"


def test_emphasis_comes_back_from_our_own_pdf() -> None:
    script = (
        "INT. BOATHOUSE - NIGHT\n\nOn the wall is **a chart** of _the whole bay_ as it was.\n\n"
        "MARA\n(not *now*)\nNobody comes back for *that* any more.\n\nRain, and more of it than before.\n"
    )
    assert read_pdf(typeset(lay_out(parse(script)))).text == script


def test_signs_around_words_in_a_style_stay_out_of_it() -> None:
    script = (
        "INT. BOATHOUSE - NIGHT\n\nThe hen *clucks*. It falls, *hard*, into **the race**. The lever **snaps**!\n\n"
        'MARA\n(*low*)\nWho owns *water*? "*Never*," he said, "*never, never* again." *One*, *two* (*three*).\n'
    )
    assert read_pdf(typeset(lay_out(parse(script)))).text == script


def test_lyrics_come_back_from_our_own_pdf_and_what_may_be_one_is_told_once() -> None:
    script = (
        "INT. BOATHOUSE - NIGHT\n\n"
        + "The lamp is lit, and nobody looks at the tide.\n\n" * 5
        + "MARA\n(low)\n~Row, row,\n~the boat is slow,\n~the *tide* is slower.\n\nJOREN\nStop that.\n\nRain.\n\n"
        "~Over the water\n~she goes.\n\n"
    )
    speech = (
        "MARA\n*The eel goes up, the eel goes down, the eel goes all around the town.*\n\n"
        "JOREN\n*Do hast gjin rjocht.*\n"
    )
    found = read_pdf(typeset(lay_out(parse(script + speech))))
    assert found.text == script.replace("*tide*", "tide") + speech
    whys = [guess.why for guess in found.guesses]
    assert [why.split(":")[0] for why in whys] == [
        "Its lines are all in italics and end short",
        "It stands like speech, but nobody’s cue is above it",
        "It is all in italics, which the words were given, here and further on",
    ]


SCALES = (0.24, 0.5, 0.7, 0.85, 0.9, 1.5, 2.0)
FONTS = {
    "courier": Sheets(scene_numbers=True, name_across="Ivo Quent", header="SECOND DRAFT", title=("THE SLACK", "by")),
    "times": Sheets(font="Times-Roman", pitch=14, dialogue=(70, 250), parenthetical=(110, 160), cue=150),
    "a small helvetica": Sheets(font="Helvetica", size=9, pitch=11, cue=170, scene_numbers=True),
}


@cache
def drawn_at_its_own_size(font: str) -> Conversion:
    return read_here(set_script(PARTS * 8, FONTS[font]))


@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("scaled_by", ["page", "text", "print"])
@pytest.mark.parametrize("scale", SCALES)
def test_pages_drawn_larger_or_smaller_are_the_same_script(scale: float, scaled_by: ScaledBy, font: str) -> None:
    before = drawn_at_its_own_size(font)
    after = read_here(set_script(PARTS * 8, replace(FONTS[font], scale=scale, scaled_by=scaled_by)))

    assert after.text == before.text
    assert after.guesses == before.guesses
    assert after.dropped == before.dropped


@pytest.mark.parametrize("scale", SCALES)
def test_emphasis_comes_along_at_any_scale(scale: float) -> None:
    words = [*PLAIN, ("she", "Ruled"), ("said", "-BoldRuled"), *PLAIN]
    text = read_here(set_in_styles(*words, scale=scale)).text
    assert text.endswith("On the wall is what _she_ _**said**_ On the wall is what\n")
