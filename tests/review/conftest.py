"""A production with a writer, a head of department, one of the cast, and a first draft."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from django.test import Client

from review.access import Role
from review.people.models import Department
from tests.factories import make_draft, make_member, make_production
from tests.mail_server import mail_server

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production
    from tests.mail_server import MailServer


@pytest.fixture
def production(db: None) -> Production:
    return make_production()


@pytest.fixture
def writer(production: Production) -> Member:
    return make_member(production, Role.WRITER, Department.WRITING, "Ada Wren")


@pytest.fixture
def crew(production: Production) -> Member:
    return make_member(production, Role.CREW, Department.CAMERA, "Bo Finch")


@pytest.fixture
def cast(production: Production) -> Member:
    return make_member(production, Role.CAST, Department.CAST, "Cleo Marsh")


@pytest.fixture
def draft(writer: Member) -> Draft:
    return make_draft(writer)


@pytest.fixture
def signed_in() -> Callable[[Member], Client]:
    """Gives a client signed in as a member."""

    def sign_in(member: Member) -> Client:
        client = Client()
        client.force_login(member.person, backend="allauth.account.auth_backends.AuthenticationBackend")
        return client

    return sign_in


@pytest.fixture
def post(settings: Any) -> Iterator[MailServer]:
    """A mail server that the app sends by."""
    with mail_server() as server:
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port
        settings.EMAIL_USE_TLS = settings.EMAIL_USE_SSL = False
        settings.EMAIL_TIMEOUT = 5
        settings.SITE_ADDRESS = "https://script.example.org"
        settings.DEFAULT_FROM_EMAIL = "Fairhand <fairhand@example.org>"
        yield server
