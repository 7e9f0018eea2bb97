"""What comes along when the page is imported, and by which names it is asked."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import screenplay

ROOT = Path(__file__).resolve().parents[2]
# What PDFs are written, read and set with, and what tells encodings apart: half a second of a start that few need.
LIBRARIES = {"fpdf", "fontTools", "PIL", "pypdfium2", "charset_normalizer", "django"}


def test_importing_the_page_brings_none_of_the_large_libraries_along() -> None:
    told = "import sys, screenplay\nprint(*{name.partition('.')[0] for name in sys.modules})"
    done = subprocess.run([sys.executable, "-c", told], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "lark" in done.stdout.split()
    assert LIBRARIES.isdisjoint(done.stdout.split())


def test_the_front_door_has_the_acts_and_what_one_needs_to_call_them() -> None:
    pages = screenplay.lay_out(screenplay.parse("INT. SHED - NIGHT\n\nDark.\n\nNELL\nWho?\n"))
    longer = screenplay.parse(pages.script.text + "\nRain.\n")
    span = screenplay.Span(3, 0, 3, 4)
    carried = screenplay.carry(span, screenplay.compare(pages.script, longer))
    assert carried.span == span
    assert pages.layout == screenplay.paginate(pages.script, screenplay.PageSetting(screenplay.PaperSize.LETTER))
    assert [voice.name for voice in screenplay.voices(pages)] == ["NELL"]
    assert [scene.speaking for scene in screenplay.break_down(pages)] == [("NELL",)]
    assert screenplay.revise(pages.script.text, []).text == pages.script.text
