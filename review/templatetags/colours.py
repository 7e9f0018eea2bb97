"""Revision colours as the screens show them."""

from __future__ import annotations

from django import template

from screenplay.tints import paper_named

register = template.Library()
register.filter("tint", paper_named)
