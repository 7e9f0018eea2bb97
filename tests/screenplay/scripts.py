"""Texts for property tests: what looks like Fountain, and noise."""

from __future__ import annotations

from hypothesis import strategies as st

LINES = [
    "INT. FERRY - NIGHT", "EXT. QUAY - DAY #12A#", ".WHEELHOUSE", "...and then", "int. van", "I/E VAN - DUSK #1#",
    "MARA", "MARA (V.O.) (CONT'D)", "@McAvoy", "JOREN ^", "@Joren ^", "МАРА", "İNCİ (on radio)", "MA[[x]]RA",
    "CUT TO:", "> FADE OUT.", "> THE END <", "CUT TO: ", "(low)", "(one) or (two)", "It won't hold.",
    "Yes. [[too fast?]] No.", "[[", "]]", "[[open", "close]]", "/*", "*/", "/* old */ new", "a /* b", "c */ d",
    "~Over the water", "# Act", "## Two", "= What happens", "===", "!BANG", "**bold *both*** and _under_",
    "*69 and *23*", "\\*plain\\*", "Title: X", "Contact:", "   1 Quay Road", "\tSunday\tnight", "", "", "", " ",
    "  ", "\t", "@", ">", "^", "#", "真理", "@真理", "\ufeffMARA", "\x0b", "\x1c",
]  # fmt: skip
LINE_ENDS = ["\n", "\n", "\n", "\r\n", "\r"]

# Several lines that belong together, as scripts have them.
PASSAGES = [
    "\nINT. FERRY - NIGHT\n\n", "\nEXT. QUAY\nRain.\n", "\nMARA\nYes.\n\n", "\nMARA\n(low)\nYes.\n  \nNo.\n\n",
    "JOREN ^\nNo.\n\n", "\nJOREN ^\n~La\n\n", "[[a\n  \nb]]\n", "/* a\n\nINT. B\n*/\n", "\nCUT TO:\n\n", "\nMARRA\n\n",
]  # fmt: skip

some_line = st.one_of(st.sampled_from(LINES), st.text("*_\\ aA(^#[]/.", max_size=12))
ended_line = st.builds(lambda line, end: line + end, some_line, st.sampled_from(LINE_ENDS))
passage = st.builds(lambda lines, end: lines.replace("\n", end), st.sampled_from(PASSAGES), st.sampled_from(LINE_ENDS))
fountain = st.lists(st.one_of(ended_line, passage), max_size=40).map("".join)
noise = st.one_of(st.text(st.characters(), max_size=200), st.text("*_[]/\\#=.!@~>^()\r\n\t aA:", max_size=200))
any_text = st.one_of(fountain, fountain.map(str.rstrip), noise)
