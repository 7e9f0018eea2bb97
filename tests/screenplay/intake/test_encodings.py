"""How a file's bytes, or pasted text, become a draft's text, and which of them do not."""

from __future__ import annotations

import io
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import parse
from screenplay.intake import MAXIMUM_BYTES, Intake, Unreadable, read_bytes, read_text
from tests.screenplay.scripts import encodable

SCRIPT = "INT. CAFÉ - NIGHT\r\n\r\nMARA\rIt won’t hold…\n“No.”\r\n"


@pytest.mark.parametrize(
    ("data", "encoding", "bom"),
    [
        (SCRIPT.encode(), "utf-8", b""),
        (b"\xef\xbb\xbf" + SCRIPT.encode(), "utf-8", b"\xef\xbb\xbf"),
        (b"\xff\xfe" + SCRIPT.encode("utf-16-le"), "utf-16-le", b"\xff\xfe"),
        (b"\xfe\xff" + SCRIPT.encode("utf-16-be"), "utf-16-be", b"\xfe\xff"),
        (SCRIPT.encode("utf-16-le"), "utf-16-le", b""),
        (SCRIPT.encode("utf-16-be"), "utf-16-be", b""),
        (SCRIPT.encode("cp1252"), "cp1252", b""),
    ],
    ids=["UTF-8", "UTF-8, marked", "UTF-16 LE, marked", "UTF-16 BE, marked", "UTF-16 LE", "UTF-16 BE", "Windows-1252"],
)
def test_a_script_is_read_right_however_its_characters_are_stored(data: bytes, encoding: str, bom: bytes) -> None:
    intake = read_bytes(data)

    assert intake == Intake(SCRIPT, encoding, bom)
    assert intake.to_bytes() == data


def test_a_script_in_another_alphabet_is_read_in_utf_16_without_a_mark() -> None:
    script = "ИНТ. ПАРОМ - НОЧЬ\n\nМара ждёт.\n"

    assert read_bytes(script.encode("utf-16-be")).text == script


@pytest.mark.parametrize(
    "text",
    [
        "La nuit. Une femme dit : n’y va pas. L’homme regarde la rivière où le bac s’éloigne, très lentement.",
        "Nacht. Eine Frau sagt: Geh nicht. Der Mann sieht über den Fluß, der träge strömt.",
        "¿Quién está ahí? La niña mira el río. Mañana será otro día.",
        "Noite. As estações não são más; os cães dormem. Você está aí?",
        "Nótt. Konan segir: farðu ekki þangað. Maðurinn þegir og horfir á ána.",
        "INT. CAFÉ - DAY\r\n\r\nRENÉE\r\nIt’s 20° out and £5 a cup. “Wait”—go.\r\n",
    ],
    ids=["French", "German", "Spanish", "Portuguese", "Icelandic", "English"],
)
def test_windows_1252_is_read_in_the_languages_it_is_for(text: str) -> None:
    assert read_bytes(text.encode("cp1252")) == Intake(text, "cp1252", b"")


@pytest.mark.parametrize(
    ("text", "encoding"),
    [
        ("Příběh začíná v noci. Žena říká: Nechoď tam, prosím tě. Muž mlčí a dívá se na řeku.", "cp1250"),
        ("Noc. Kobieta mówi: nie idź tam. Mężczyzna milczy i patrzy na rzekę, która płynie powoli.", "cp1250"),
        ("Az éjszaka hűvös volt, a kompon ülő férfi őrizte a kötelet. Nem félt az időtől.", "cp1250"),
        ("Gece. Kadın diyor ki: oraya gitme, lütfen. Adam susuyor ve akan ırmağa bakıyor. Şimdi değil.", "cp1254"),
        ("Ночь. Женщина говорит: не ходи туда. Мужчина молчит и смотрит на реку.", "cp1251"),
        ("Νύχτα. Η γυναίκα λέει: μην πας εκεί, σε παρακαλώ.", "cp1253"),
        ("INT. CAFÉ - DAY\r\rMARA\rI don’t know… “maybe” we’ll cross.\r", "mac_roman"),
        ("INT. CAFÉ - DAY\r\n\r\nRENÉE\r\nDéjà vu, naïve façade.\r\n", "cp850"),
        ("夜。女が言う。行かないで、お願い。", "shift_jis"),
    ],
)
def test_other_ways_to_store_characters_are_refused_and_not_guessed(text: str, encoding: str) -> None:
    with pytest.raises(Unreadable, match="save it as text in UTF-8"):
        read_bytes(text.encode(encoding))


def zipped() -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("word/document.xml", "<w:document/>")
    return file.getvalue()


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "This file is empty: choose a file"),
        (b"\xef\xbb\xbf", "nothing in it but white space|is empty"),
        (b" \r\n\t\n", "nothing in it but white space"),
        (b"x" * (MAXIMUM_BYTES + 1), "over 4 MiB"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "is a PDF, not text"),
        (zipped(), "a word processor's file or a zip archive"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100), "an old word processor's file"),
        (b"{\\rtf1\\ansi INT. FERRY}", "is rich text"),
        (b'<?xml version="1.0"?>\n<script/>', "is XML"),
        (b"<!DOCTYPE html>\n<html><body>INT. FERRY</body></html>", "the source of a web page"),
        (b"\n<!-- x -->\n<HTML lang='en'>", "the source of a web page"),
        (b"<div class='a'><p>INT. FERRY</p><p>Mara waits.</p></div>", "the source of a web page"),
        (b"\x89PNG\r\n\x1a\n\0\0", "is a picture"),
        (b"MZ\x90\0\x03\0\0\0\x04\0\0\0\xff\xff", "is not text"),
        (b"INT. FERRY\0 - NIGHT and so on", "is not text"),
        (bytes(range(1, 32)) * 3, "is not text"),
        ("Mara é\n".encode() * 9 + b"Mara \xc3\n", "damaged letters, the first of them in line 10"),
        (b"\xff\xfe" + "Mara\n".encode("utf-16-le") + b"\x00\xd8A\x00", "damaged letters, the first of them in line 2"),
    ],
)
def test_what_is_no_script_is_refused_with_one_sentence_that_says_what_to_do(data: bytes, words: str) -> None:
    with pytest.raises(Unreadable, match=words) as refusal:
        read_bytes(data)

    sentence = str(refusal.value)
    assert sentence.endswith(".")
    assert ". " not in sentence
    assert ": " in sentence, "what is wrong, and what to do"


def test_the_refusal_names_the_file() -> None:
    with pytest.raises(Unreadable, match=r"^“{it} draft\.pdf” is a PDF"):
        read_bytes(b"%PDF-1.7", "{it} draft.pdf")


def test_a_file_of_four_mebibytes_is_read() -> None:
    assert len(read_bytes((b"x" * 63 + b"\n") * (MAXIMUM_BYTES // 64)).text) == 4 * 1024 * 1024


def test_a_script_about_web_pages_is_a_script() -> None:
    script = "INT. OFFICE - DAY\n\nShe types <html> and <body>, then </p></p></p>.\n"

    assert read_bytes(script.encode()).text == script


def test_text_copied_from_a_web_page_is_text() -> None:
    copied = "Home\u00a0| Scripts\n\nINT. FERRY - NIGHT\n\nMARA\nNo.\n\nShare this\n"

    assert read_text(copied) == Intake(copied, "utf-8", b"")


def test_pasted_text_is_kept_as_it_is() -> None:
    assert read_text(SCRIPT).text == SCRIPT
    assert read_text("\ufeff" + SCRIPT) == Intake(SCRIPT, "utf-8", b"\xef\xbb\xbf")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "The pasted text is empty"),
        (" \n", "The pasted text has nothing in it but white space"),
        ("é" * (MAXIMUM_BYTES // 2 + 1), "over 4 MiB"),
        ("%PDF-1.4 and so on", "is a PDF"),
        ("<html>", "the source of a web page"),
        ("Mara\0", "is not text"),
        ("Mara\nwaits\ud800", "lacks part of a character in line 2"),
    ],
)
def test_pasted_text_that_is_no_script_is_refused(text: str, words: str) -> None:
    with pytest.raises(Unreadable, match=words):
        read_text(text)


@settings(max_examples=300)
@given(
    st.one_of(
        st.binary(max_size=300),
        st.text(encodable, max_size=200).map(str.encode),
        st.text(encodable, max_size=200).map(lambda text: text.encode("utf-16")),
        st.text(encodable, max_size=200).map(lambda text: text.encode("utf-16-le")),
        st.text("aeioué’“”Éßñ \r\n", max_size=200).map(lambda text: text.encode("cp1252")),
    )
)
def test_what_is_read_goes_out_again_byte_for_byte(data: bytes) -> None:
    try:
        intake = read_bytes(data)
    except Unreadable:
        return
    assert intake.to_bytes() == data
    assert intake.text.strip()


def test_a_byte_order_mark_is_no_part_of_what_is_parsed() -> None:
    intake = read_bytes(b"\xef\xbb\xbfINT. FERRY - NIGHT\n")

    assert parse(intake.text).kinds == ("scene_heading",)
