"""Making the index anew, of all that there is: nothing is in it that could be lost."""

from __future__ import annotations

from django.db import transaction

from review.drafts.found_lines import lines_to_find
from review.drafts.models import Draft
from review.findable.indexing import (
    forget_all,
    index_lines,
    index_note,
    index_paper,
    index_paper_note,
    index_paper_reply,
    index_reply,
)
from review.findable.models import Findable
from review.notes.models import Note, Reply
from review.papers.markdown import read_paragraphs
from review.papers.models import PaperVersion
from review.papers.note_models import PaperNote, PaperReply
from screenplay import parse


@transaction.atomic
def rebuild_index() -> int:
    """Make the index anew; how many texts are in it."""
    forget_all()
    for draft in Draft.objects.only("production", "text"):
        index_lines(draft.production_id, draft.pk, lines_to_find(parse(draft.text)))
    for note in Note.objects.all():
        index_note(note)
    for reply in Reply.objects.select_related("note"):
        index_reply(reply.note.production_id, reply.pk, reply.body)
    for version in PaperVersion.objects.latest_of_each().select_related("paper"):
        paper = version.paper
        index_paper(paper.production_id, paper.pk, paper.title, read_paragraphs(version.text))
    for said in PaperNote.objects.select_related("version__paper"):
        index_paper_note(said.version.paper.production_id, said.pk, said.body)
    for answer in PaperReply.objects.select_related("note__version__paper"):
        index_paper_reply(answer.note.version.paper.production_id, answer.pk, answer.body)
    return Findable.objects.count()
