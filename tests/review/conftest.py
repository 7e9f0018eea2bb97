"""A production with a writer, a head of department, one of the cast, and a first draft."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING, Any

import pytest
from django.conf import settings
from django.db import transaction
from django.test import Client

from review.access import Role
from review.people.models import Department
from tests.factories import make_draft, make_member, make_production
from tests.mail_server import mail_server
from tests.review.doors import looking
from tests.review.house import build_house
from tests.review.sessions import begin_session

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytest_django import DjangoDbBlocker

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production
    from tests.mail_server import MailServer
    from tests.review.house import House


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
        client.cookies[settings.SESSION_COOKIE_NAME] = begin_session(member.person)
        return client

    return sign_in


@pytest.fixture(scope="module")
def once_a_module(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[DjangoDbBlocker]:
    """What is put into the database while this is unblocked is there for all tests of a module: what one of them does
    is taken back. Within a transaction that is never committed."""
    with django_db_blocker.unblock(), transaction.atomic():
        with django_db_blocker.block():
            yield django_db_blocker
        transaction.set_rollback(True)


@pytest.fixture(scope="module")
def houses(once_a_module: DjangoDbBlocker) -> tuple[House, House]:
    """Two productions with one record of every sort."""
    with once_a_module.unblock():
        return build_house(), build_house("Other Film")


@pytest.fixture
def house(houses: tuple[House, House], db: None) -> House:
    return deepcopy(houses[0])


@pytest.fixture
def other_house(houses: tuple[House, House], db: None) -> House:
    return deepcopy(houses[1])


@pytest.fixture
def looked_for() -> Iterator[set[str]]:
    """By which names pages have looked for something in their addresses and forms, until a test forgets them."""
    with looking() as names:
        yield names


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
