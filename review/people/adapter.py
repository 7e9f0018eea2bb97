"""How the sign-in library behaves here: nobody signs up, tries are counted, and what happens at the door is logged."""

from __future__ import annotations

import logging
from functools import partial
from typing import TYPE_CHECKING, Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core.exceptions import ImmediateHttpResponse
from allauth.core.internal.ratelimit import respond_429
from django.db import transaction

from review import log
from review.log import Act
from review.people.acts import end_link_sessions
from review.people.devices import known_device
from review.people.landing import landing
from review.people.models import Person
from review.people.sessions import sign_in
from review.people.tries import SIGNING_IN, SIGNING_IN_FROM_KNOWN_DEVICE, Attempt, TriedTooOften, attempt
from review.serving.addresses import asked_from
from review.serving.afterwards import afterwards

if TYPE_CHECKING:
    from django.http import HttpRequest


logger = logging.getLogger(__name__)


class InvitedOnly(DefaultAccountAdapter):  # type: ignore[misc]  # the library has no types
    error_messages = DefaultAccountAdapter.error_messages | {
        "email_password_mismatch": "This address and this password do not belong together.",
        "too_many_login_attempts": "That was tried too often. Wait five minutes, then try again.",
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def is_safe_url(self, url: str) -> bool:
        """Whether an address that a form asks to be led to is one of this site's; of none that cannot be."""
        try:
            return bool(super().is_safe_url(url))
        except ValueError:
            return False

    def get_client_ip(self, request: HttpRequest) -> str:
        return asked_from()

    def authenticate(self, request: HttpRequest, **credentials: Any) -> Person | None:
        """Whose address and password these are, if anybody's. A try that fails is counted, and logged."""
        email = str(credentials.get("email", "")).strip().lower()
        tried = self._count(request, email)
        person: Person | None = super().authenticate(request, **credentials)
        if person:
            tried.came_out_well()
        else:
            logger.warning("Not let in: no such address and password.")
            afterwards(partial(_record_failure, email))  # so that the answer takes as long for an unknown address
        return person

    def _count(self, request: HttpRequest, email: str) -> Attempt:
        """Tries at one address from a device that its owner has signed in from are counted apart from all others."""
        device = known_device(request, Person.objects.filter(email=email).first())
        try:
            if device:
                return attempt(SIGNING_IN_FROM_KNOWN_DEVICE, door=f"{email} {device}", by=device)
            return attempt(SIGNING_IN, door=email, by=asked_from())
        except TriedTooOften as refusal:
            logger.warning("Not let in: tried too often.")
            if refusal.by_one:
                raise ImmediateHttpResponse(respond_429(request)) from refusal
            raise self.validation_error("too_many_login_attempts") from refusal

    def get_login_redirect_url(self, request: HttpRequest) -> str:
        assert isinstance(request.user, Person)
        return landing(request.user)

    def login(self, request: HttpRequest, user: Person) -> None:
        with transaction.atomic():
            log.record(user, Act.Verb.SIGNED_IN, None)
            sign_in(request, user)

    @transaction.atomic
    def set_password(self, user: Person, password: str) -> None:
        super().set_password(user, password)
        end_link_sessions(user)
        log.record(user, Act.Verb.CHANGED_PASSWORD, None)


def _record_failure(email: str) -> None:
    """Log that somebody was not let in as the person with this address, if there is one."""
    person = Person.objects.filter(email=email).first()
    if person:
        log.record(person, Act.Verb.FAILED_TO_SIGN_IN, None)
