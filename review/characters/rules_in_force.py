"""Which voice rules hold in a draft or in a scene that is being written, in plain words, and where they are broken."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from review.drafts.scripts import compare_drafts, read_script
from screenplay import parse
from screenplay.names import with_names
from screenplay.next_draft import carry_rule
from screenplay.speech import RuleKind, breaches

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.characters.models import CharacterRule
    from review.drafts.models import Draft
    from review.productions.models import Production
    from screenplay.speech import Breach, VoiceRule

SHOWN_AT_ONCE = 12
SENTENCES = {
    RuleKind.NO_CONTRACTIONS: "never contracts",
    RuleKind.ONLY_CONTRACTIONS: "always contracts",
    RuleKind.NO_QUESTIONS: "asks no questions",
    RuleKind.USES_NAMES: "calls somebody by name in every scene",
    RuleKind.NEVER_USES_NAMES: "never calls anybody by name",
}


@dataclass(frozen=True, slots=True)
class RuleInForce:
    """A rule as it holds in one draft, and where it is broken there."""

    made: CharacterRule
    rule: VoiceRule
    breaches: tuple[Breach, ...]

    @property
    def sentence(self) -> str:
        return sentence_of(self.rule)

    @property
    def is_short(self) -> bool:
        """Whether its breaches are few enough to be shown at once."""
        return len(self.breaches) <= SHOWN_AT_ONCE


@dataclass(frozen=True, slots=True)
class BrokenRule:
    """A rule that a scene's own text breaks, in words, and where: each line, from 1, with the words on it."""

    sentence: str
    lines: dict[int, list[str]]

    @property
    def times(self) -> int:
        return sum(map(len, self.lines.values()))


def sentence_of(rule: VoiceRule) -> str:
    """A rule in plain words, without its scenes: "MARA never contracts"."""
    if rule.kind is RuleKind.SHORT_SENTENCES:
        does = f"says no more than {rule.most_words} words a sentence"
    elif rule.kind is RuleKind.NEVER_SAYS:
        does = f"never says {_quoted(rule.words)}"
    elif rule.kind is RuleKind.SAYS_EACH_SCENE:
        does = f"says {_quoted(rule.words)} in every scene"
    elif rule.kind is RuleKind.SCRIPTS_ONLY:
        does = f"speaks in {' or '.join(rule.scripts)} letters alone"
    else:
        does = SENTENCES[rule.kind]
    return f"{rule.character} {does}"


def rules_in_force(draft: Draft) -> list[RuleInForce]:
    """The rules of the production as they hold in a draft; those whose scenes it has no more are left out."""
    script = read_script(draft)
    return [RuleInForce(made, rule, breaches(script, rule)) for made, rule in _carried(draft.production, draft)]


def breaches_as_typed(production: Production, base: Draft, text: str, ordinal: int | None) -> list[BrokenRule]:
    """The rules that hold for a scene and that its text breaks. `ordinal` is the scene's in the base, None
    for one that is new: for that, rules hold that hold throughout."""
    rules = [rule for _, rule in _carried(production, base) if _holds(rule, ordinal)]
    if not rules:
        return []
    script = with_names(parse(text), production.names)
    found: list[BrokenRule] = []
    for rule in rules:
        lines: dict[int, list[str]] = {}
        for breach in breaches(script, _throughout(rule)):
            lines.setdefault(breach.line, []).append(breach.words)
        if lines:
            found.append(BrokenRule(sentence_of(rule), lines))
    return found


def _carried(production: Production, draft: Draft) -> Iterable[tuple[CharacterRule, VoiceRule]]:
    """The rules as they hold in a draft; one for a cue that was merged since is the character's whose cue it is."""
    for made in production.character_rules.filter(withdrawn_at=None).select_related("draft__production"):
        rule = replace(made.as_made, character=production.names.name_of(made.character))
        if made.draft_id == draft.pk or made.draft.sha256 == draft.sha256:
            yield made, rule
        elif carried := carry_rule(rule, compare_drafts(made.draft, draft)):
            yield made, carried


def _holds(rule: VoiceRule, ordinal: int | None) -> bool:
    if ordinal is None:
        return rule.first_scene is None and rule.last_scene is None
    return rule.holds_in(ordinal)


def _throughout(rule: VoiceRule) -> VoiceRule:
    """The rule as it holds for a scene by itself."""
    return rule.__class__(rule.character, rule.kind, rule.most_words, rule.words, rule.scripts)


def _quoted(words: Iterable[str]) -> str:
    return " or ".join(f"“{word}”" for word in words)
