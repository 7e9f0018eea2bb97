"""What writers do with the rules of a character's voice: make one, and withdraw it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.characters.models import CharacterRule
from review.productions.models import lock_for

if TYPE_CHECKING:
    import uuid

    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay.speech import VoiceRule

Verb = log.Act.Verb


@transaction.atomic
def make_rule(by: Member, draft: Draft, rule: VoiceRule, form_id: uuid.UUID) -> CharacterRule:
    """Make a rule on a draft; the same form sent again, and the same rule made again, find the one that stands."""
    production = lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, draft)
    before = CharacterRule.objects.filter(form_id=form_id, made_by=by).first()
    if before is not None:
        return before
    same = [each for each in production.character_rules.filter(draft=draft, withdrawn_at=None) if each.as_made == rule]
    if same:
        return same[0]
    made = CharacterRule(form_id=form_id, production=production, draft=draft, made_by=by)
    made.take(rule)
    made.save()
    told = {"character": rule.character, "kind": rule.kind.value, "draft": draft.number}
    log.record(by.person, Verb.MADE_VOICE_RULE, production, made.public_id, **told)
    return made


@transaction.atomic
def withdraw_rule(by: Member, rule: CharacterRule) -> None:
    """Let a rule hold no more; it is kept."""
    production = lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, rule)
    rule.refresh_from_db(fields=["withdrawn_at"])
    if rule.withdrawn_at is not None:
        return
    rule.withdrawn_at = timezone.now()
    rule.save(update_fields=["withdrawn_at"])
    told = {"character": rule.character, "kind": rule.kind}
    log.record(by.person, Verb.WITHDREW_VOICE_RULE, production, rule.public_id, **told)
