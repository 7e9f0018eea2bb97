"""Gives a form in a template the id by which sending it twice counts once."""

from __future__ import annotations

import uuid

from django import template

register = template.Library()


@register.simple_tag
def new_form_id() -> str:
    return str(uuid.uuid4())
