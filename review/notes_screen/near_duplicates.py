"""Which undecided notes of a production say much the same, whatever page, group or filter each of them is shown by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.access import Deed, may
from review.decisions.accepting import accepting
from review.decisions.states import UNDECIDED
from review.drafts.models import Draft
from review.notes.lines import whole_lines
from review.notes.models import Note
from review.notes_screen.saying_alike import Saying, saying_alike, words_that_count

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from review.cards.note_rows import NoteRow
    from review.people.models import Member


def near_duplicates(member: Member, draft: Draft, rows: Sequence[NoteRow]) -> Mapping[int, tuple[int, ...]]:
    """For the key of each note that says much the same as others, the keys of all of these in the order of the rows,
    as they stand in the draft; one query, and one more where some offer a wording for an earlier one. Empty for
    whoever decides nothing."""
    if not may(member, Deed.DECIDE):
        return {}
    place = {row.pk: at for at, row in enumerate(rows)}
    groups = saying_alike(_sayings(member, draft, _sharing_a_line(rows)))
    in_order = [tuple(sorted(keys, key=place.__getitem__)) for keys in groups]
    return {key: keys for keys in in_order for key in keys}


def _sharing_a_line(rows: Sequence[NoteRow]) -> list[NoteRow]:
    """The undecided notes on lines of which another undecided one is on one too; few of many are, as a rule."""
    on_lines = [row for row in rows if row.state == UNDECIDED and row.first_line and row.last_line]
    by_line = sorted(on_lines, key=lambda row: row.first_line or 0)
    near: dict[int, NoteRow] = {}
    furthest: NoteRow | None = None
    for row in by_line:
        if furthest is not None and (row.first_line or 0) <= (furthest.last_line or 0):
            near |= {furthest.pk: furthest, row.pk: row}
        if furthest is None or (row.last_line or 0) > (furthest.last_line or 0):
            furthest = row
    return list(near.values())


def _sayings(member: Member, draft: Draft, rows: Sequence[NoteRow]) -> Iterator[Saying]:
    """Apart is whoever may not read the same, and what is accepted otherwise."""
    keys = [row.pk for row in rows] or [0]  # asked for none too: the page takes as many queries whatever its notes
    notes = Note.objects.visible_to(member).filter(pk__in=keys)
    told = {note.pk: note for note in notes.only("body", "wording", "audience", "draft", "first_line", "last_line")}
    earlier = {note.draft_id for note in told.values() if note.wording is not None} - {draft.pk}
    texts = {draft.pk: draft.text}
    texts |= dict(Draft.objects.filter(pk__in=earlier).values_list("pk", "text")) if earlier else {}
    for row in rows:
        if (note := told.get(row.pk)) and row.first_line and row.last_line:
            yield Saying(
                note=row.pk,
                on=(row.subject, row.character),
                first_line=row.first_line,
                last_line=row.last_line,
                words=words_that_count(note.body, note.wording, _lines(note, texts)),
                apart=(note.audience, accepting(row.kind, has_wording=note.wording is not None).state),
                offers=note.wording,
            )


def _lines(note: Note, texts: Mapping[int, str]) -> str:
    """The whole lines that its wording would replace, if it offers one."""
    return whole_lines(texts[note.draft_id], note.first_line, note.last_line) if note.wording is not None else ""
