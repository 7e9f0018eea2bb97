"""Fountain, the standard for scripts in plain text: reading it, and the small rules that others ask it about."""

from __future__ import annotations

from screenplay.fountain.asides import stretches
from screenplay.fountain.cues import JOINING_WORDS, is_upper, name_and_extensions, same_name
from screenplay.fountain.dashes import DASHES, HYPHENS, LONG_DASHES
from screenplay.fountain.emphasis import plain, plain_lines, plain_text, runs
from screenplay.fountain.excerpts import AroundExcerpt, ExcerptFacts, begins_a_scene, ends_apart, facts_of
from screenplay.fountain.headings import (
    SETTING,
    HeadingFields,
    heading_fields,
    setting_fields,
    setting_places,
    without_number,
)
from screenplay.fountain.noted_text import with_notes
from screenplay.fountain.parsing import parse, parse_excerpt
from screenplay.fountain.rules import Rule
from screenplay.fountain.source_lines import LINE_ENDS, split_lines
from screenplay.fountain.times_of_day import FOLLOWS_ON, light_of
from screenplay.fountain.title_keys import KNOWN_TITLE_KEYS, title_key

__all__ = [
    "DASHES",
    "FOLLOWS_ON",
    "HYPHENS",
    "JOINING_WORDS",
    "KNOWN_TITLE_KEYS",
    "LINE_ENDS",
    "LONG_DASHES",
    "SETTING",
    "AroundExcerpt",
    "ExcerptFacts",
    "HeadingFields",
    "Rule",
    "begins_a_scene",
    "ends_apart",
    "facts_of",
    "heading_fields",
    "is_upper",
    "light_of",
    "name_and_extensions",
    "parse",
    "parse_excerpt",
    "plain",
    "plain_lines",
    "plain_text",
    "runs",
    "same_name",
    "setting_fields",
    "setting_places",
    "split_lines",
    "stretches",
    "title_key",
    "with_notes",
    "without_number",
]
