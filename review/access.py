"""Who may do what: the one place that decides."""

from __future__ import annotations

from enum import StrEnum
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, cast

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponseBase

from review.people.models import Member, Role

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpRequest

    from review.notes.models import Note, Reply
    from review.people.models import Person
    from review.requests import Request

P = ParamSpec("P")


class Deed(StrEnum):
    """Something a member can do in a production, by the sentence that tells those who may not."""

    READ = "Only members read the drafts and the notes."
    NOTE = "Only members leave notes and replies."
    DECIDE = "Only a writer decides notes and sets their places."
    REWRITE = "Only a writer writes the next draft."
    PUBLISH = "Only a writer puts up drafts and downloads their source."
    SET_UP = "Only a writer or a producer changes the production’s settings."
    INVITE = "Only a writer invites people and removes them."


MAY: dict[Role, frozenset[Deed]] = {
    Role.WRITER: frozenset(Deed),
    Role.PRODUCER: frozenset({Deed.READ, Deed.NOTE, Deed.SET_UP}),
    Role.CREW: frozenset({Deed.READ, Deed.NOTE}),
    Role.CAST: frozenset({Deed.READ, Deed.NOTE}),
}


def may(member: Member, deed: Deed) -> bool:
    return member.removed_at is None and deed in MAY[Role(member.role)]


def refuse_unless(member: Member, deed: Deed) -> None:
    """Raise PermissionDenied, with a sentence for the member, unless they may do the deed."""
    if not may(member, deed):
        raise PermissionDenied(str(deed))


def may_start_productions(person: Person) -> bool:
    """Whoever set the server up may."""
    return person.starts_productions


def member_or_404(person: Person, production_id: str) -> Member:
    """The person's place in the production; a production they are not in does not exist for them."""
    try:
        return Member.objects.select_related("production", "person").get(
            production__public_id=production_id, person=person, removed_at=None
        )
    except Member.DoesNotExist:
        raise Http404("No such production") from None


def refuse_nul(*parts: object) -> None:
    """No record has an address with a NUL in it, and PostgreSQL takes none to look up."""
    if any("\0" in part for part in parts if isinstance(part, str)):
        raise Http404("No such address")


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
            refuse_nul(production, *kwargs.values())
            member = member_or_404(request.user, production)  # type: ignore[arg-type]  # the middleware saw to it
            refuse_unless(member, deed)
            return view(cast("Request", request), member, *args, **kwargs)

        return guarded  # type: ignore[return-value]  # Django names the production when it calls

    return decorate


def may_withdraw(member: Member, written: Note | Reply) -> bool:
    """A note or a reply is its author's alone to take back."""
    return may(member, Deed.NOTE) and written.author_id == member.pk
