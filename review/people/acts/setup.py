"""The first writer's way in: a one-time code, which only whoever sees the server's terminal knows."""

from __future__ import annotations

import hmac
import secrets
import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review.people.acts.productions import start_production
from review.people.acts.refusals import CodeSpent, Refused
from review.people.models import Person, SetupCode, hash_token

if TYPE_CHECKING:
    from review.productions.models import Production

CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # none that is easily taken for another
CODE_GROUPS, CODE_GROUP_LENGTH = 3, 4  # 60 random bits

WRONG_CODE = "That is not the code. It stands in the terminal where the server was started, in the last lines."
CODE_SPENT = "A wrong code was given ten times, so the code no longer counts. Ask for a new one."
SET_UP_ALREADY = "This server has been set up already: sign in instead."
NEXT_CODE_AFTER = timedelta(minutes=1)


def new_setup_code() -> str:
    """A one-time code for the first writer's setup; codes made earlier are void. Only its hash is kept."""
    groups = ("".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_GROUP_LENGTH)) for _ in range(CODE_GROUPS))
    code = "-".join(groups)
    with transaction.atomic():
        SetupCode.objects.all().delete()
        SetupCode.objects.create(code_hash=_hash_code(code))
    return code


def another_setup_code() -> str:
    """A code in place of one that no longer counts. Refused while one counts, and within a minute of the last."""
    with transaction.atomic():
        current = _lock_code()
        if current and current.wrong_tries < SetupCode.MOST_TRIES:
            raise Refused("The code in the terminal still counts.")
        if current and timezone.now() < current.created_at + NEXT_CODE_AFTER:
            raise Refused("A code was printed less than a minute ago. Wait a minute, then ask again.")
        return new_setup_code()


def _lock_code() -> SetupCode | None:
    """The code that was printed last, locked. Refused once somebody is here."""
    current = SetupCode.objects.select_for_update().filter(used_at=None).order_by("-id").first()
    if Person.objects.exists():
        raise Refused(SET_UP_ALREADY)
    return current


def _hash_code(code: str) -> str:
    return hash_token("".join(code.split()).replace("-", "").upper())


def check_setup_code(code: str) -> None:
    """Refused unless this is the code that was printed last; a wrong try counts as it does in setting up."""
    with transaction.atomic():
        current = _count_try(code)
    if current is None:
        raise Refused(WRONG_CODE)


def set_up_first_writer(code: str, name: str, email: str, password: str, title: str) -> Production:
    """Make the first person, who may start productions, and their production.

    Refused if somebody is here already, and unless this is the code that was printed last. A wrong try is counted, and
    too many make the code void. The code is locked for the while, so that of two at once one is the first.
    """
    with transaction.atomic():
        current = _count_try(code)
        if current:
            current.used_at = timezone.now()
            current.save(update_fields=["used_at"])
            person = Person.objects.create_user(email, name, password, starts_productions=True)
            return start_production(person, title, uuid.uuid4())
    raise Refused(WRONG_CODE)


def _count_try(code: str) -> SetupCode | None:
    """The code's record, locked, if it is the one that was printed last; else None, and the wrong try is counted."""
    current = _lock_code()
    if current is None or current.wrong_tries >= SetupCode.MOST_TRIES:
        raise CodeSpent(CODE_SPENT)
    if hmac.compare_digest(current.code_hash, _hash_code(code)):
        return current
    current.wrong_tries += 1
    current.save(update_fields=["wrong_tries"])
    return None
