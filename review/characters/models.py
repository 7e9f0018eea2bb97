"""What writers decided of the characters: the rules of their voices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from review.records import PostedRecord
from screenplay.names import MOST_NAME
from screenplay.speech import RuleKind, VoiceRule

if TYPE_CHECKING:
    from typing import Any


class CharacterRule(PostedRecord):
    """A voice rule, as it was made on a draft: its character is named as there, its scenes are that draft's by ordinal,
    None for from the start and to the end. In other drafts it follows them."""

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="character_rules")
    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="character_rules")
    made_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="character_rules")
    character = models.CharField(max_length=MOST_NAME)
    kind = models.CharField(max_length=20, choices=[(kind.value, kind.value) for kind in RuleKind])
    most_words = models.PositiveSmallIntegerField(default=0)
    words = models.JSONField(default=list)
    scripts = models.JSONField(default=list)
    first_scene = models.PositiveIntegerField(null=True, blank=True)
    last_scene = models.PositiveIntegerField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["character", "pk"]

    def __str__(self) -> str:
        return f"{self.character}: {self.kind}"

    @property
    def as_made(self) -> VoiceRule:
        """The rule on the draft that it was made on."""
        return VoiceRule(
            character=self.character,
            kind=RuleKind(self.kind),
            most_words=self.most_words,
            words=tuple(self.words),
            scripts=tuple(self.scripts),
            first_scene=self.first_scene,
            last_scene=self.last_scene,
        )

    def take(self, rule: VoiceRule) -> None:
        """Let it say what a rule says."""
        told: dict[str, Any] = {
            "character": rule.character,
            "kind": rule.kind.value,
            "most_words": rule.most_words,
            "words": list(rule.words),
            "scripts": list(rule.scripts),
            "first_scene": rule.first_scene,
            "last_scene": rule.last_scene,
        }
        for name, value in told.items():
            setattr(self, name, value)
