"""The guard at the door of every view of a production: it finds the member who asks, and asks `access` for them."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, cast

from django.http import Http404, HttpResponseBase

from review.access import refuse_unless
from review.people.models import Member

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest

    from review.access import Deed
    from review.people.models import Person
    from review.requests import Request

P = ParamSpec("P")


def member_or_404(person: Person, production_id: str) -> Member:
    """The person's place in the production; a production they are not in does not exist for them."""
    try:
        member = person.open_memberships.select_related("production").get(production__public_id=production_id)
    except Member.DoesNotExist:
        raise Http404("No such production") from None
    member.person = person
    return member


def members_who_may(
    deed: Deed,
) -> Callable[
    [Callable[Concatenate[Request, Member, P], HttpResponseBase]],
    Callable[Concatenate[HttpRequest, str, P], HttpResponseBase],
]:
    """Opens a view of a production to the members who may do the deed; it gets the member in the production's place.

    A stranger to the production gets 404, a member who may not gets 403.
    """

    def decorate(
        view: Callable[Concatenate[Request, Member, P], HttpResponseBase],
    ) -> Callable[Concatenate[HttpRequest, str, P], HttpResponseBase]:
        @wraps(view)
        def guarded(request: HttpRequest, production: str, *args: P.args, **kwargs: P.kwargs) -> HttpResponseBase:
            member = member_or_404(request.user, production)  # type: ignore[arg-type]  # the middleware saw to it
            refuse_unless(member, deed)
            return view(cast("Request", request), member, *args, **kwargs)

        return guarded  # type: ignore[return-value]  # Django names the production when it calls

    return decorate
