"""What holds of locked pages however a script is rewritten, draft after draft: each word of it is there once."""

from __future__ import annotations

from collections import defaultdict
from itertools import count
from random import Random
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import Kind, PageSetting, PaperSize, compare, paginate, parse
from screenplay.next_draft import carry_pages
from screenplay.page import beginnings, page_swap
from screenplay.page.page_labels import first_of, last_of
from screenplay.page.scene_numbers import reading_order
from screenplay.printing import print_pages
from tests.printed_copy import pages_of, swapped
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay import Screenplay
    from screenplay.page import Layout, LockedPage, Page

DRAFTS, MOST_EDITS = 3, 10
Blocks = list[list[str]]

often = settings(max_examples=10, deadline=None)
seeds = st.integers(0, 2**32)


class Writer:
    """Writes a script in blocks, and rewrites it."""

    def __init__(self, seed: int, *, moves: bool = True) -> None:
        self.rng, self.counted, self.moves = Random(seed), count(1), moves
        self.blocks: Blocks = [self.block() for _ in range(self.rng.choice((20, 60, 150)))]

    @property
    def text(self) -> str:
        return "\n\n".join("\n".join(block) for block in self.blocks) + "\n"

    def words(self, length: int) -> str:
        return " ".join(f"word{next(self.counted)}" for _ in range(length)) + "."

    def block(self) -> list[str]:
        kind = self.rng.choices(("heading", "action", "lines", "speech", "transition", "break"), (3, 7, 2, 7, 1, 1))[0]
        if kind == "heading":
            return [f"INT. ROOM {next(self.counted)} - DAY"]
        if kind == "action":
            return [self.words(self.rng.choice((3, 10, 40, 120)))]
        if kind == "lines":
            return [self.words(self.rng.randint(3, 12)) for _ in range(self.rng.randint(2, 8))]
        if kind == "speech":
            said = [self.words(self.rng.choice((3, 10, 40, 90))) for _ in range(self.rng.choice((1, 1, 2, 5)))]
            low = [f"(low{next(self.counted)})"] * (self.rng.random() < 0.3)
            return [self.rng.choice(("NELL", "TOBIAS", "KIT")), *low, *said]
        return ["CUT TO:"] if kind == "transition" else ["==="]

    def rewrite(self) -> None:
        """The next draft: blocks added, cut, reworded and moved."""
        edits = [self._add, self._add, self._cut, self._cut, *[self._reword] * 4, *[self._move] * self.moves]
        for _ in range(self.rng.randint(1, MOST_EDITS)):
            self.rng.choice(edits)(self.rng.randrange(len(self.blocks)))
            self.blocks = self.blocks or [self.block()]

    def _add(self, at: int) -> None:
        self.blocks[at:at] = [self.block() for _ in range(self.rng.choice((1, 1, 1, 20)))]

    def _cut(self, at: int) -> None:
        del self.blocks[at : at + self.rng.choice((1, 1, 1, 20))]

    def _reword(self, at: int) -> None:
        block = self.blocks[at]
        line = self.rng.randrange(len(block))
        words = block[line].split()
        if len(words) > 2:
            start = self.rng.randrange(len(words))
            new = self.words(self.rng.randint(1, 30)).split() * (self.rng.random() < 0.8)
            words[start : start + self.rng.randint(0, 20)] = new
            block[line] = " ".join(words)

    def _move(self, at: int) -> None:
        length = self.rng.randint(1, 8)
        moved, self.blocks[at : at + length] = self.blocks[at : at + length], []
        place = self.rng.randint(0, len(self.blocks))
        self.blocks[place:place] = moved


def drafts(
    writer: Writer, paper: PaperSize = PaperSize.LETTER
) -> Iterator[tuple[Screenplay, Layout, Screenplay, Layout]]:
    """Each draft and the next, laid out, with pages locked since the first."""
    script = parse(writer.text)
    layout = paginate(script, PageSetting(paper))
    for _ in range(DRAFTS):
        writer.rewrite()
        new = parse(writer.text)
        locked = carry_pages(beginnings(layout), compare(script, new))
        new_layout = paginate(new, PageSetting(paper, locked_pages=locked))
        yield script, layout, new, new_layout
        script, layout = new, new_layout


@often
@given(seeds, st.sampled_from(PaperSize))
def test_locked_pages_keep_the_laws_draft_after_draft(seed: int, paper: PaperSize) -> None:
    for before, old, script, new in drafts(Writer(seed), paper):
        changed_pages_swapped_into_the_old_copy_make_the_new_one_and_no_other_page_comes_out(old, new)
        pages_are_never_too_long_and_print_everything_once_in_reading_order(script, new, paper)
        if old.setting.locked_pages and new.setting.locked_pages:
            scenes_that_stay_as_they_are_keep_their_length(before, old, script, new)


def scenes_that_stay_as_they_are_keep_their_length(
    before: Screenplay, old: Layout, script: Screenplay, new: Layout
) -> None:
    was, now = _lengths(before, old), _lengths(script, new)
    assert {text: was[text] for text in was.keys() & now.keys()} == {
        text: now[text] for text in was.keys() & now.keys()
    }
    assert all(length >= 1 for length in new.scene_eighths)


def _lengths(script: Screenplay, layout: Layout) -> dict[str, int]:
    """Each scene's length by its text, and that of what stands before the first, where there is one."""
    texts: dict[int, str] = defaultdict(str)
    for source, scene in zip(script.source, script.scene_of, strict=True):
        texts[scene] += source
    lengths = (layout.lead_in_eighths, *layout.scene_eighths)
    return {texts[at].strip(): length for at, length in enumerate(lengths)} if layout.scene_eighths else {}


def changed_pages_swapped_into_the_old_copy_make_the_new_one_and_no_other_page_comes_out(
    old: Layout, new: Layout
) -> None:
    printed, wanted, swap = print_pages(old), print_pages(new), page_swap(old, new)
    assert swapped(printed, wanted, swap) == wanted
    before, after = pages_of(printed), pages_of(wanted)
    assert set(swap.out) == {label for label in before if before[label] != after.get(label)}
    assert set(swap.into) == {label for label in after if after[label] != before.get(label)}


def pages_are_never_too_long_and_print_everything_once_in_reading_order(
    script: Screenplay, layout: Layout, paper: PaperSize
) -> None:
    assert all(0 < len(page.rows) <= paper.lines for page in layout.pages)
    printed = [cell.text for page in layout.pages for row in page.rows for cell in row.cells if cell.line]
    free = paginate(script, PageSetting(paper))
    flowing = [cell.text for page in free.pages for row in page.rows for cell in row.cells if cell.line]
    assert "".join(printed).replace(" ", "") == "".join(flowing).replace(" ", "")
    order = [reading_order(first_of(page.label)) or () for page in layout.pages]
    assert order == sorted(set(order))


@often
@given(seeds)
def test_every_page_begins_with_what_it_began_with_where_that_still_stands(seed: int) -> None:
    """Where the line that a page began with, or within, is as it was. Nothing is moved here: what is moved goes away
    from its page. A speech of which all that was said on the page before is cut begins with its cue."""
    for script, old, new, layout in drafts(Writer(seed, moves=False)):
        standing = {line.strip() for line in new.source}
        by_label = {label: page for page in layout.pages for label in labels_of(page, old)}
        for page in old.pages:
            line, words = beginning(page)
            source = script.source[line - 1].strip()
            if source in standing and source[:4] == "word":
                now = [cell for row in by_label[page.label].rows for cell in row.cells if cell.line]
                cue = next(at for at, cell in enumerate(now) if cell.kind not in (Kind.CHARACTER, Kind.PARENTHETICAL))
                assert now[cue].text.split()[0] == words.split()[0]


def labels_of(page: Page, old: Layout) -> list[str]:
    """The pages of the old layout that a page is."""
    first, last = reading_order(first_of(page.label)) or (), reading_order(last_of(page.label)) or ()
    known = [(label, reading_order(first_of(label)) or ()) for label in (page.label for page in old.pages)]
    return [label for label, order in known if first <= order <= last]


def beginning(page: Page) -> tuple[int, str]:
    """The source line that a page begins with, and what of it stands there first."""
    return next((cell.line, cell.text) for row in page.rows for cell in row.cells if cell.line is not None)


@settings(max_examples=60, deadline=None)
@given(any_text, any_text)
def test_pages_of_any_text_are_carried_to_any_other(before: str, after: str) -> None:
    old, new = parse(before), parse(after)
    locked = beginnings(paginate(old))
    carried: tuple[LockedPage, ...] = carry_pages(locked, compare(old, new))
    assert [page.label for page in carried] == [page.label for page in locked]
    layout = paginate(new, PageSetting(locked_pages=carried))
    assert set(layout.page_of) == set(paginate(new).page_of)
