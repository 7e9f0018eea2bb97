"""The look of a script as an HTML file: the page's columns where there is room for them, narrower ones on a phone."""

from __future__ import annotations

STYLE = """\
:root { color-scheme: light dark; --ink: #211d19; --soft: #5b544c; --paper: #fffdf8; --line: #ccc4b8; }
@media (prefers-color-scheme: dark) { :root { --ink: #ece7df; --soft: #b5ada2; --paper: #22201d; --line: #57514a; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink);
  font: 1rem/1.4 "Courier Prime", "Courier New", Courier, "Liberation Mono", monospace; overflow-wrap: break-word; }
main { max-width: calc(60ch + 14rem); margin: 0 auto; padding: 2rem 7rem 6rem; }
h1, h2, p { margin: 0 0 1em; font: inherit; white-space: pre-wrap; unicode-bidi: plaintext; }
header { display: grid; gap: 1em; padding: 18vh 0 12vh; text-align: center; }
h1 { font-size: 1.35rem; font-weight: bold; }
header p { margin: 0; }
.foot { text-align: left; }
p:not(.foot) + .foot, h1 + .foot { margin-top: 8vh; }
.about { margin-top: 3em; padding-top: 1em; border-top: 1px solid var(--line); color: var(--soft); }
article { border-top: 1px solid var(--line); padding-top: 2em; }
h2 { margin: 2.5em 0 1em; font-weight: bold; position: relative; }
.number { color: var(--soft); position: absolute; right: calc(100% + 2ch); white-space: nowrap; }
.speech { width: 38ch; max-width: 100%; margin: 0 0 1em 10ch; }
.speech p { max-width: 35ch; margin: 0; }
.speech .character { margin-left: 12ch; max-width: none; }
.speech .parenthetical { margin-left: 6ch; max-width: 24ch; }
article > .lyric { margin-left: 10ch; }
.transition { text-align: right; }
.centered { text-align: center; }
.dual { display: grid; grid-template-columns: 1fr 1fr; gap: 4ch; }
.dual .speech { width: auto; margin-left: 0; }
.dual .speech .character { margin-left: 8ch; }
.dual .speech .parenthetical { margin-left: 4ch; }
.page { float: right; clear: both; margin: 0 -6ch 0 1ch; color: var(--soft); font-weight: normal; font-style: normal; }
@media screen and (max-width: 52rem) {
  main { padding: 1rem 1.25rem 4rem; }
  header { padding: 8vh 0; }
  .number { position: static; margin-right: 1ch; }
  .page { margin-right: 0; }
  .speech { width: auto; margin-left: 8%; margin-right: 8%; }
  .speech .character { margin-left: 20%; }
  .speech .parenthetical { margin-left: 10%; }
  article > .lyric { margin-left: 8%; }
  .dual { gap: 2ch; }
  .dual .speech { margin-right: 0; }
}
@media screen and (max-width: 30rem) {
  .dual { grid-template-columns: 1fr; gap: 0; border-left: 2px solid var(--line); }
  .dual .speech { margin-left: calc(8% - 2px); }
}
@media print {
  @page { margin: 1in 1in 1in 1.5in; }
  :root { --ink: #000; --soft: #000; --paper: #fff; }
  body { font-size: 12pt; line-height: 1; }
  main { max-width: 60ch; margin: 0; padding: 0; }
  header { padding: 2.5in 0 0; break-after: page; }
  article { border: 0; padding: 0; }
  h2, .character, .parenthetical { break-after: avoid; }
  p { orphans: 2; widows: 2; }
  .number { left: -6ch; right: auto; }
  .page { margin-right: -5ch; }
}
"""
