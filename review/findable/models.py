"""One text that can be found by its words: a line of a draft as it prints, a paragraph of a paper as it reads, what a
note says or offers, or a reply."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models
from django.db.models import Q

from review.findable.engines import engine_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.findable.terms import Term

    AnyLookup = models.Lookup[Any]
    AnyKey = models.BigAutoField[Any, Any]
else:
    AnyLookup = models.Lookup
    AnyKey = models.BigAutoField


class Matches(AnyLookup):
    """Of a record's key: whether the words of its text match what is looked for, as the database's own search says."""

    lookup_name = "matches"
    prepare_rhs = False

    def as_sql(self, compiler: Any, connection: Any) -> tuple[str, tuple[str | int, ...]]:
        key, params = self.process_lhs(compiler, connection)
        condition, asked = engine_of(connection.vendor).condition(key, self.rhs)
        return condition, (*params, *asked)


class FindableQuerySet(models.QuerySet["Findable"]):
    def with_words(self, terms: Sequence[Term]) -> FindableQuerySet:
        """Those in which every term stands."""
        return self.filter(pk__matches=terms)


class FindableKey(AnyKey):
    """The key of a text in the index."""


FindableKey.register_lookup(Matches)


def _of_one(*own: str) -> Q:
    """That a text is of what these fields name, and of nothing else."""
    fields = ("draft", "paper", "note", "reply", "paper_note", "paper_reply", "line")
    return Q(**{f"{name}__isnull": name not in own for name in fields})


class Findable(models.Model):
    """`line` is a line's number in the draft, or a paragraph's in the latest version of a paper, where 0 is the title;
    the text of a note on the script is what it says, or with `is_wording` what it offers."""

    id = FindableKey(primary_key=True)
    production = models.ForeignKey("review.Production", on_delete=models.CASCADE, related_name="+")
    draft = models.ForeignKey("review.Draft", on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    line = models.PositiveIntegerField(null=True, blank=True)
    paper = models.ForeignKey("review.WorldPaper", on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    note = models.ForeignKey("review.Note", on_delete=models.CASCADE, null=True, blank=True, related_name="findable")
    reply = models.ForeignKey("review.Reply", on_delete=models.CASCADE, null=True, blank=True, related_name="findable")
    paper_note = models.ForeignKey(
        "review.PaperNote", on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    paper_reply = models.ForeignKey(
        "review.PaperReply", on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    is_wording = models.BooleanField(default=False)
    text = models.TextField()

    objects = FindableQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=_of_one("draft", "line")
                | _of_one("note")
                | _of_one("reply")
                | _of_one("paper", "line")
                | _of_one("paper_note")
                | _of_one("paper_reply"),
                name="a_findable_text_is_of_one_thing",
            )
        ]

    def __str__(self) -> str:
        return self.text[:80]
