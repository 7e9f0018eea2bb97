"""What writers decide of the characters: the rules of their voices, and which cues are one character's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.characters.models import CharacterRule
from review.productions.models import lock_for
from review.productions.said_names import TooLongName, kept_name
from screenplay.names import MOST_NAME

if TYPE_CHECKING:
    import uuid

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production
    from screenplay.names import CueNames
    from screenplay.speech import VoiceRule

Verb = log.Act.Verb


@transaction.atomic
def make_rule(by: Member, draft: Draft, rule: VoiceRule, form_id: uuid.UUID) -> CharacterRule:
    """Make a rule on a draft; the same form sent again, and the same rule made again, find the one that stands. Raises
    TooLongName."""
    production = lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, draft)
    if len(rule.character) > MOST_NAME:
        raise TooLongName
    before = CharacterRule.objects.filter(form_id=form_id, made_by=by, draft=draft).first()
    if before is not None and before.as_made == rule:
        return before
    same = [each for each in production.character_rules.filter(draft=draft, withdrawn_at=None) if each.as_made == rule]
    if same:
        return same[0]
    made = CharacterRule(form_id=CharacterRule.unused(form_id), production=production, draft=draft, made_by=by)
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


@transaction.atomic
def merge_cues(by: Member, cue: str, name: str) -> None:
    """Let a cue be of the character called `name`, in every draft; what was merged into the cue comes along. Raises
    SameName where the two are one already, or one is empty, and TooLongName."""
    production = lock_for(by, Deed.REWRITE)
    cue, name = kept_name(cue), kept_name(name)
    names = production.names.with_one(cue, name)
    _store(production, names)
    log.record(by.person, Verb.MERGED_CUES, production, production.public_id, cue=cue, name=names.name_of(cue))


@transaction.atomic
def keep_cues_apart(by: Member, cue: str, name: str) -> None:
    """Let a cue be a character of its own, and not the one called `name`. Raises SameName where the two are spelled
    alike, or one is empty, and TooLongName."""
    production = lock_for(by, Deed.REWRITE)
    cue, name = kept_name(cue), kept_name(name)
    _store(production, production.names.with_two(cue, name))
    log.record(by.person, Verb.KEPT_CUES_APART, production, production.public_id, cue=cue, name=name)


def _store(production: Production, names: CueNames) -> None:
    production.cue_names = names.as_plain_data
    production.save(update_fields=["cue_names"])
