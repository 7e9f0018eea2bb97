"""One text that can be found by its words: a line of a draft as it prints, what a note says or offers, or a reply."""

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


class Findable(models.Model):
    """`line` is a line's number in the draft; a note's text is what it says, or with `is_wording` what it offers."""

    id = FindableKey(primary_key=True)
    production = models.ForeignKey("review.Production", on_delete=models.CASCADE, related_name="+")
    draft = models.ForeignKey("review.Draft", on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    line = models.PositiveIntegerField(null=True, blank=True)
    note = models.ForeignKey("review.Note", on_delete=models.CASCADE, null=True, blank=True, related_name="findable")
    reply = models.ForeignKey("review.Reply", on_delete=models.CASCADE, null=True, blank=True, related_name="findable")
    is_wording = models.BooleanField(default=False)
    text = models.TextField()

    objects = FindableQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(draft__isnull=False, line__isnull=False, note=None, reply=None)
                | Q(draft=None, line=None, note__isnull=False, reply=None)
                | Q(draft=None, line=None, note=None, reply__isnull=False),
                name="a_findable_text_is_of_one_thing",
            )
        ]

    def __str__(self) -> str:
        return self.text[:80]
