"""Revision colours as the screens show them."""

from __future__ import annotations

from django import template

from review.drafts.colours import tint_of

register = template.Library()
register.filter("tint", tint_of)
