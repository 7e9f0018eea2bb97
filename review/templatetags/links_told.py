"""Tells somebody, on the pages they come to first, of the links that others made to sign in as them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import template

from review.people.acts import links_to_tell_of
from review.people.models import Person
from review.people.sessions import is_by_link

if TYPE_CHECKING:
    from django.http import HttpRequest

register = template.Library()


@register.inclusion_tag("people/links_told.html", takes_context=True)
def links_told(context: dict[str, Any]) -> dict[str, Any]:
    """Nothing in a session that itself began by such a link: whoever is in it may not be who is to be told."""
    request: HttpRequest = context["request"]
    person = request.user
    links = list(links_to_tell_of(person)) if isinstance(person, Person) and not is_by_link(request) else []
    can_be_shut = any(link.ended_at is None if link.used_at else link.state == "open" for link in links)
    return {"links": links, "can_be_shut": can_be_shut, "csrf_token": context.get("csrf_token")}
