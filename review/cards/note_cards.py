"""The cards of notes, made for one member and the draft they are looking at."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from django.http import Http404

from review.access import Deed, may, may_change, may_join_thread, may_withdraw
from review.cards.earlier_texts import texts_before
from review.cards.note_card import NoteCard, Offer, ReplyCard, Rights, WordingLeftOut
from review.cards.note_places import stood, texts_beside
from review.decisions.note_decisions import decisions_on
from review.drafts.models import Draft
from review.notes.lines import whole_lines
from review.notes.markdown import render_markdown
from review.notes.models import Note, NoteQuerySet, Reply
from review.rewriting.current_text import current_text
from review.rewriting.wording_fit import FitState, WordingFit, wording_fits
from screenplay.comparing import word_changes

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.decisions.models import Decision
    from review.decisions.note_decisions import NoteDecisions
    from review.people.models import Member


def note_cards(member: Member, notes: NoteQuerySet, draft: Draft) -> list[NoteCard]:
    """The cards of these notes in the order of the queryset, in five queries however many there are, seven where some
    are written in, one more where some were changed; and a few for a writer where some offer a wording.

    The caller says which notes, with `visible_to`; this asks nothing about who may read them.
    """
    people = notes.telling_who_reads_alone().select_related(
        "author__person", "taken_down_by__person", "brought_by__person", "draft__production"
    )
    found: list[Note] = list(people.defer("draft__text"))
    replies: dict[int, list[Reply]] = defaultdict(list)
    under = Reply.objects.visible_to(member).filter(note__in=[note.pk for note in found])
    for reply in under.select_related("author__person", "brought_by__person"):
        replies[reply.note_id].append(reply)
    decisions, places = decisions_on(found), stood(found, draft)
    fits = _fits(member, found, decisions)
    overtaken = _overtaken(member, fits, decisions)
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
                offer=_offer(note, rights, fits.get(note.pk), overtaken.get(note.pk), texts),
                replies=tuple(_reply_card(member, reply) for reply in replies[note.pk]),
                decisions=decisions[note.pk],
                may=rights,
                texts_before=before.get(note.pk, ()) if rights.read else (),
            )
        )
    return cards


def _fits(member: Member, notes: Sequence[Note], decisions: Mapping[int, NoteDecisions]) -> dict[int, WordingFit]:
    """How the wordings among these notes stand to the pages as they are now; a few queries more where there are some.
    The working draft is nobody's business but the writers': for others they are those of their own accepted notes, of
    which they are told no more than what overtook them."""
    asked = [note for note in notes if note.wording is not None]
    if not may(member, Deed.REWRITE):
        asked = [note for note in asked if note.is_of(member) and decisions[note.pk].is_to_be_written_in]
    current = current_text(member.production) if asked else None
    return wording_fits(asked, current) if current else {}


def _overtaken(
    member: Member, fits: Mapping[int, WordingFit], decisions: Mapping[int, NoteDecisions]
) -> dict[int, WordingLeftOut]:
    """What overtook the wordings of accepted notes; one query where something did."""
    found = {
        key: fit.by
        for key, fit in fits.items()
        if fit.state is FitState.OVERTAKEN and fit.by and decisions[key].is_to_be_written_in
    }
    if not found:
        return {}
    visible = Note.objects.visible_to(member).not_withdrawn().filter(pk__in=[by.pk for by in found.values()])
    read = set(visible.values_list("pk", flat=True))
    return {key: WordingLeftOut(by if by.pk in read else None) for key, by in found.items()}


def card_of(member: Member, note: Note, draft: Draft) -> NoteCard:
    """One note's card."""
    return note_cards(member, Note.objects.filter(pk=note.pk), draft)[0]


def came_to_by(member: Member, decision: Decision, draft: Draft) -> str:
    """What a note came to by a decision that stands; of one that offers a wording, also whether that was left out."""
    came_to = card_of(member, decision.note, draft).came_to if decision.note.wording is not None else ""
    return came_to or decision.word


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
