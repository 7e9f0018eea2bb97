"""What of how the characters talk changed from one draft to another."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from screenplay.fountain import same_name
from screenplay.speech.voice import Voice

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

_NO_FIGURES = frozenset({"name", "counts", "longest_speech_line"})
FIGURES = tuple(field.name for field in fields(Voice) if field.name not in _NO_FIGURES)


@dataclass(frozen=True, slots=True)
class VoiceChange:
    """A character in two drafts: None in the one in which they say nothing. `changed` are the names of the figures that
    differ, in the order of Voice's fields; none where they speak in one draft alone."""

    old: Voice | None
    new: Voice | None
    changed: tuple[str, ...]


def voice_changes(old: Sequence[Voice], new: Sequence[Voice], renames: Mapping[str, str]) -> tuple[VoiceChange, ...]:
    """Everybody who speaks in either draft, in the order of the new one, those gone last; `renames` has the present
    name of each character who was renamed, by the old."""
    names = {same_name(before): same_name(now) for before, now in renames.items()}
    by_present_name = {names.get(same_name(voice.name), same_name(voice.name)): voice for voice in old}
    found = [_change(by_present_name.pop(same_name(voice.name), None), voice) for voice in new]
    return (*found, *(VoiceChange(voice, None, ()) for voice in by_present_name.values()))


def _change(old: Voice | None, new: Voice) -> VoiceChange:
    if old is None:
        return VoiceChange(None, new, ())
    return VoiceChange(old, new, tuple(name for name in FIGURES if getattr(old, name) != getattr(new, name)))
