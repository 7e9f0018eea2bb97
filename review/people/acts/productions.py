"""Beginning a production, with its first writer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from review import log
from review.access import Role, refuse_to_start
from review.people.models import Department, Member
from review.productions.models import Production

if TYPE_CHECKING:
    import uuid

    from review.people.models import Person


@transaction.atomic
def start_production(person: Person, name: str, form_id: uuid.UUID) -> Production:
    """Make a production with this person as its writer; the same form sent again finds the one it made."""
    refuse_to_start(person)
    told = {"started_by": person, "name": name.strip()}
    production, made = Production.objects.get_or_create(form_id=form_id, defaults=told)
    if not made:
        if (production.started_by, production.name) == (person, name.strip()):
            return production
        production = Production.objects.create(**told)  # that form id said something else
    Member.objects.create(production=production, person=person, role=Role.WRITER, department=Department.WRITING)
    log.record(person, log.Act.Verb.STARTED_PRODUCTION, production, production.public_id, name=production.name)
    return production
