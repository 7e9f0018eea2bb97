"""One character's voice as a writer and the cast look at it: every figure beside the last draft's and the working
draft's, the lines it comes from, the rules, and how near it is to others from draft to draft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import compare_drafts, read_script
from review.rewriting.working_pages import WorkingPages
from review.voices.table import voices_of
from review.voices.told_figures import TOLD
from screenplay import compare, voices
from screenplay.fountain import same_name
from screenplay.next_draft import carry_rule
from screenplay.speech import Figure, breaches, lines_behind, measure_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.characters.rules_in_force import RuleInForce
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.voices.told_figures import ToldFigure
    from screenplay.speech import DeltaMeasure, LineBehind, Voice


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure in this draft, in the one before and in the working draft; "" where there is no such voice there."""

    told: ToldFigure
    now: str
    before: str
    working: str

    @property
    def is_changed(self) -> bool:
        return bool(self.before) and self.before != self.now


@dataclass(frozen=True, slots=True)
class VoiceThen:
    """A voice in one draft, or in the working draft, which has no number; None where it says nothing there."""

    number: int | None
    voice: Voice | None

    @property
    def label(self) -> str:
        return f"Draft {self.number}" if self.number else "Working draft"


@dataclass(frozen=True, slots=True)
class DraftDistance:
    """How far a voice is from its model in one draft, None where either is too short; `label` says which."""

    label: str
    delta: float | None


@dataclass(frozen=True, slots=True)
class WorkingVoice:
    """The voice in the working draft: its figures, all voices there, and how often each rule is broken there."""

    voice: Voice | None
    every: tuple[Voice, ...]
    breaches: dict[int, int]


def voice_named(draft: Draft, name: str) -> Voice | None:
    """The voice of a draft by a name in any case, or by a cue that was merged into it."""
    return _named(voices_of(draft), draft.production.names.name_of(name))


def figure_rows(now: Voice, before: Voice | None, working: Voice | None) -> list[FigureRow]:
    """Every figure beside the earlier one's and the working draft's."""
    return [
        FigureRow(told, told.of(now), told.of(before) if before else "", told.of(working) if working else "")
        for told in TOLD
    ]


def earlier_voice(draft: Draft, earlier: Draft | None, name: str) -> Voice | None:
    """The same character's voice in another draft, by the name that they have there."""
    return _named(voices_of(earlier), _name_in(earlier, draft, name)) if earlier else None


def voice_then(drafts: Sequence[Draft], draft: Draft, name: str, working: WorkingVoice | None) -> list[VoiceThen]:
    """The voice in each draft up to this, by the name that it has there, and in the working draft."""
    upto = [each for each in drafts if each.number <= draft.number]
    found = [VoiceThen(each.number, earlier_voice(draft, each, name)) for each in upto]
    return [*found, VoiceThen(None, working.voice)] if working else found


def asked_lines(draft: Draft, name: str, figure: str, of: str) -> tuple[LineBehind, ...]:
    """The lines behind a figure that an address asks for, none where it asks for none."""
    if figure not in {one.value for one in Figure}:
        return ()
    return lines_behind(read_script(draft), name, Figure(figure), of)


def working_voice(member: Member, draft: Draft, name: str, rules: Sequence[RuleInForce]) -> WorkingVoice | None:
    """What of a voice a writer has made of this draft so far; None where no draft is being written from it."""
    working = member.production.working_drafts.open_now()
    if working is None or working.base_id != draft.pk:
        return None
    pages = WorkingPages(working, list(working.scenes.order_by("position", "pk")))
    every = voices(pages.laid_out)
    comparison = compare(read_script(draft), pages.script)
    names = {same_name(one.old): one.new for one in comparison.renames if one.kind == "character"}
    counts: dict[int, int] = {}
    for each in rules:
        carried = carry_rule(each.rule, comparison)
        counts[each.made.pk] = len(breaches(pages.script, carried)) if carried else 0
    return WorkingVoice(_named(every, names.get(same_name(name), name)), every, counts)


def distances(
    drafts: Sequence[Draft], draft: Draft, name: str, model: str, working: WorkingVoice | None
) -> list[DraftDistance]:
    """How far a voice is from another one's in each draft up to this, and in the working draft: all by the measure that
    the voices of this draft set, so that they can be held against each other."""
    measure = measure_of(voices_of(draft))
    if measure is None:
        return []
    found: list[DraftDistance] = []
    for each in drafts:
        if each.number <= draft.number:
            pair = [_named(voices_of(each), _name_in(each, draft, one)) for one in (name, model)]
            found.append(DraftDistance(f"Draft {each.number}", _delta(measure, pair)))
    if working and working.voice:
        found.append(DraftDistance("Working draft", _delta(measure, [working.voice, _named(working.every, model)])))
    return found


def _delta(measure: DeltaMeasure, pair: Sequence[Voice | None]) -> float | None:
    one, other = pair
    return measure.delta(one, other) if one and other else None


def _named(voices: Sequence[Voice], name: str) -> Voice | None:
    return next((voice for voice in voices if same_name(voice.name) == same_name(name)), None)


def _name_in(other: Draft, draft: Draft, name: str) -> str:
    """What somebody of this draft is called in an earlier one."""
    if other.pk == draft.pk:
        return name
    renames = compare_drafts(other, draft).renames
    return next((one.old for one in renames if one.kind == "character" and same_name(one.new) == same_name(name)), name)
