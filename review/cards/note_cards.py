"""The cards of notes, made for one member and the draft they are looking at."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from django.http import Http404

from review.access import Deed, may, may_change, may_join_thread, may_withdraw
from review.cards.came_to import fits_told, wordings_left_out
from review.cards.earlier_texts import texts_before
from review.cards.note_card import NoteCard, Offer, ReplyCard, Rights
from review.cards.note_places import stood, texts_beside
from review.decisions.note_decisions import decisions_on
from review.drafts.models import Draft
from review.notes.lines import whole_lines
from review.notes.markdown import render_markdown
from review.notes.models import Note, NoteQuerySet, Reply
from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.cards.came_to import WordingLeftOut
    from review.people.models import Member
    from review.rewriting.wording_fit import WordingFit


def note_cards(member: Member, notes: NoteQuerySet, draft: Draft) -> list[NoteCard]:
    """The cards of these notes in the order of the queryset, in five queries however many there are, seven where some
    are written in, one more where some were changed; and a few for a writer where some offer a wording.

    The caller says which notes, with `visible_to`; this asks nothing about who may read them.
    """
    told = notes.telling_who_reads_alone().select_related("author__person", "draft").defer("draft__text")
    found: list[Note] = list(told.prefetch_related("taken_down_by__person", "brought_by__person"))
    if not found:
        return []
    replies: dict[int, list[Reply]] = defaultdict(list)
    under = Reply.objects.visible_to(member).filter(note__in=[note.pk for note in found])
    for reply in under.select_related("author__person").prefetch_related("brought_by__person"):
        replies[reply.note_id].append(reply)
    decisions, places = decisions_on(found), stood(found, draft)
    waiting = {note.pk for note in found if decisions[note.pk].is_to_be_written_in}
    fits = fits_told(member, found if may(member, Deed.REWRITE) else [note for note in found if note.pk in waiting])
    left_out = wordings_left_out(member, {key: fit for key, fit in fits.items() if key in waiting})
    texts, before = texts_beside(places, draft), texts_before(found)
    cards = []
    for note in found:
        rights = _rights(member, note)
        standing = places[note.pk].standing(draft)
        cards.append(
            NoteCard(
                note=note,
                draft=draft,
                member=member,
                body_html=render_markdown(note.body) if rights.read else "",
                stands=standing,
                since=places[note.pk].since(standing, draft, texts),
                offer=_offer(note, rights, fits.get(note.pk), left_out.get(note.pk), texts),
                replies=tuple(_reply_card(member, reply) for reply in replies[note.pk]),
                decisions=decisions[note.pk],
                may=rights,
                texts_before=before.get(note.pk, ()) if rights.read else (),
            )
        )
    return cards


def card_of(member: Member, note: Note, draft: Draft) -> NoteCard:
    """One note's card."""
    return note_cards(member, Note.objects.filter(pk=note.pk), draft)[0]


def shown_draft(member: Member, note: Note, number: str | None) -> Draft:
    """The draft a card's form was shown on, by the number the form sent along; the note's own draft without one."""
    if not number:
        return note.draft
    try:
        return member.production.drafts.standing().get(number=int(number))
    except (ValueError, Draft.DoesNotExist):
        raise Http404("No such draft") from None


def _rights(member: Member, note: Note) -> Rights:
    stands = note.withdrawn_at is None
    return Rights(
        read=stands or note.author_id == member.pk,
        decide=stands and may(member, Deed.DECIDE),
        reply=stands and may_join_thread(member, note),
        change=stands and may_change(member, note),
        withdraw=stands and may_withdraw(member, note),
        put_back=not stands and may_withdraw(member, note),
    )


def _offer(
    note: Note, rights: Rights, fit: WordingFit | None, overtaken: WordingLeftOut | None, texts: Mapping[int, str]
) -> Offer | None:
    """The wording of a note; of a withdrawn one its author sees what it would have changed, and nobody how it fits."""
    if note.wording is None:
        return None
    before = whole_lines(texts[note.draft_id], note.first_line, note.last_line)
    changes = word_changes(before, note.wording) if rights.read else ()
    if note.withdrawn_at is not None:
        return Offer(note.wording, changes, None)
    return Offer(note.wording, changes, fit if rights.decide else None, overtaken)


def _reply_card(member: Member, reply: Reply) -> ReplyCard:
    readable = reply.withdrawn_at is None or reply.author_id == member.pk
    return ReplyCard(
        reply=reply,
        author=reply.author,
        body_html=render_markdown(reply.body) if readable else "",
        may_withdraw=reply.withdrawn_at is None and may_withdraw(member, reply),
    )
