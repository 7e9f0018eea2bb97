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

fountain = st.lists(
    st.tuples(st.one_of(st.sampled_from(LINES), st.text("*_\\ aA(^#[]/.", max_size=12)), st.sampled_from(LINE_ENDS)),
    max_size=40,
).map(lambda lines: "".join(line + end for line, end in lines))
noise = st.one_of(st.text(st.characters(), max_size=200), st.text("*_[]/\\#=.!@~>^()\r\n\t aA:", max_size=200))
any_text = st.one_of(fountain, fountain.map(str.rstrip), noise)
