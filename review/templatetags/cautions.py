"""What pages say beside cautions and notes about safety, in the words of the breakdown."""

from __future__ import annotations

from django import template

from screenplay.breakdown import ASSESS_FIRST, CAUTION_SENSE

register = template.Library()


@register.simple_tag
def assess_first() -> str:
    """Who must look at the work before anyone does it, and what comes first."""
    return ASSESS_FIRST


@register.simple_tag
def caution_sense() -> str:
    """The same, and how cautions were found."""
    return CAUTION_SENSE
