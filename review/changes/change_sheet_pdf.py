"""A change sheet that a member takes away as a PDF, with their name across it; each time is kept in the log."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from django.conf import settings
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.changes.change_sheets import SheetEntry, change_sheet
from review.changes.notes_at_changes import NoteAcrossDrafts, notes_across_drafts
from review.changes.scene_changes import ChangeRow, RowMark
from review.drafts.list_language import language_sense
from review.drafts.on_paper import name_across
from review.drafts.page_words import pages_in_words
from review.drafts.scripts import laid_out
from screenplay.printing import SheetLine, SheetMention, SheetScene, SheetTitle, change_sheet_pdf

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from review.changes.printed_words import Op, Words
    from review.changes.recipients import Recipient
    from review.drafts.models import Draft
    from review.people.models import Member

LINES_PRINTED = 14  # of a scene that is wholly new or cut: the script has them all, on the pages that are told
WORDS_NEAR, FEWEST_ELIDED = 6, 4
BEFORE, AFTER = "was", "now"
_WORD_OF = {
    RowMark.ADDED: "new",
    RowMark.GONE: "gone",
    RowMark.MOVED_HERE: "came",
    RowMark.MOVED_AWAY: "left",
    RowMark.SET: "set",
}


def print_change_sheet(
    member: Member, whose: Recipient, old: Draft, new: Draft, *, for_writers_too: bool = False
) -> bytes:
    """Somebody's change sheet as a PDF for this member, with the notes that the member may read; `for_writers_too`
    takes in those for the writer's eyes only."""
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, old, new)
    sheet = change_sheet(whose, old, new, notes_across_drafts(member, old, new, for_writers_too=for_writers_too))
    title = SheetTitle(
        production=member.production.name,
        whose=whose.name,
        drafts=f"From {old} to {new}",
        numbers=f"Drafts {old.number} to {new.number}",
        date=timezone.localdate(new.created_at),
        renames=tuple(f"{rename.old} is {rename.new} throughout." for rename in sheet.renames),
        has_everything=whose.has_everything,
        language_sense=language_sense(new),
        notes_sense=sheet.sense_of_audiences(for_writers_too=for_writers_too),
    )
    data = change_sheet_pdf(
        title,
        [_scene(entry, old, new) for entry in sheet.close],
        [SheetMention(_name(entry), entry.page_words, entry.brief) for entry in sheet.others],
        paper=new.page_setting.paper,
        language=settings.LANGUAGE_CODE,
        name=name_across(member),
    )
    told = {"old": old.number, "new": new.number, "whose": whose.name, "for_writers": for_writers_too}
    log.record(member.person, log.Act.Verb.PRINTED_SHEET, member.production, new.public_id, **told)
    return data


def _scene(entry: SheetEntry, old: Draft, new: Draft) -> SheetScene:
    lines = [(line, row) for row in entry.rows for line in _lines(row)]
    printed, left_out = (lines[:LINES_PRINTED], lines[LINES_PRINTED:]) if entry.is_whole else (lines, [])
    return SheetScene(
        name=_name(entry),
        pages=entry.page_words,
        reasons=entry.reasons,
        lines=(*(line for line, _ in printed), *_where_the_rest_is([row for _, row in left_out], old, new)),
        notes=tuple(_note(note) for note in entry.notes),
    )


def _where_the_rest_is(rows: Sequence[ChangeRow], old: Draft, new: Draft) -> Iterator[SheetLine]:
    """How many lines of a scene that is wholly new, or cut, are not printed, and on which pages of which draft."""
    if not rows:
        return
    draft, lines = (new, [row.new for row in rows]) if rows[0].new else (old, [row.old for row in rows])
    layout = laid_out(draft).layout
    labels = dict.fromkeys(layout.label_at(line) for each in lines for line in each)
    pages = pages_in_words(list(filter(None, labels)), layout)
    more = f"and {len(rows)} more line{'' if len(rows) == 1 else 's'}"
    yield SheetLine("", f"{more}, on {pages} of draft {draft.number}." if pages else f"{more}.")


def _name(entry: SheetEntry) -> str:
    return " ".join(filter(None, (entry.scene.label, entry.scene.name)))


def _lines(row: ChangeRow) -> Iterator[SheetLine]:
    if row.mark in _WORD_OF:
        yield SheetLine(_WORD_OF[row.mark], _joined(row.after if row.mark == RowMark.SET else row.words).strip())
    else:
        yield SheetLine(BEFORE, _near(row.words, left_out="added"))
        yield SheetLine(AFTER, _near(row.words, left_out="cut"))
    if row.remark:
        yield SheetLine("", f"({row.remark})")


def _near(words: Sequence[Words], left_out: Op) -> str:
    """A reworded line as it was or as it is now, without most of the words that stayed where these are many."""
    stretches = [(is_same, list(group)) for is_same, group in groupby(words, key=lambda each: each.op == "same")]
    last = len(stretches) - 1
    told = [
        _elided(_joined(group), keep_start=at > 0, keep_end=at < last)
        if is_same
        else _joined(each for each in group if each.op != left_out)
        for at, (is_same, group) in enumerate(stretches)
    ]
    return "".join(told).strip()


def _joined(words: Iterable[Words]) -> str:
    return "".join(each.text for each in words)


def _elided(text: str, *, keep_start: bool, keep_end: bool) -> str:
    """Words that stayed, but for a few next to what changed."""
    words = text.split(" ")
    if len(words) <= WORDS_NEAR * (keep_start + keep_end) + FEWEST_ELIDED:
        return text
    start = " ".join(words[:WORDS_NEAR]) + " " if keep_start else ""
    end = " " + " ".join(words[-WORDS_NEAR:]) if keep_end else ""
    return f"{start}…{end}"


def _note(note: NoteAcrossDrafts) -> str:
    author = ", ".join(filter(None, (note.note.author_name, note.note.author_department)))
    for_writers = ", for the writer’s eyes only" if note.is_for_writers else ""
    if note.answered_in:
        return f"Answers {note.note.author_name}’s note{for_writers}: {note.excerpt}"
    return f"{author}{for_writers} ({note.note.get_kind_display().lower()}, {note.state}): {note.excerpt}"
