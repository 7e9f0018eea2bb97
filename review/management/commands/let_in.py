"""Lets somebody back in from the server's own terminal: for whom no writer can, or who lost their password."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser

from review.access import Role
from review.mail.site import opened_at
from review.management.on_database import DatabaseCommand
from review.people.acts import let_back_in, make_link_at_terminal
from review.people.models import Person
from review.productions.models import Production

if TYPE_CHECKING:
    from collections.abc import Iterable


class Command(DatabaseCommand):
    help = (
        "Print a link that signs somebody in, once, within 24 hours; and with --production give them back the place "
        "from which they were removed."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("email", help="their e-mail address")
        parser.add_argument("--production", default="", help="the title of the production to let them back into")
        parser.add_argument("--role", choices=Role.values, default=Role.WRITER.value, help="as what (writer)")

    def handle(self, *, email: str, production: str, role: str, **options: Any) -> None:
        person = Person.objects.filter(email=email.strip().lower()).first()
        if person is None:
            raise CommandError(f"Nobody here has the address {email}: see how it is written, or invite them.")
        if production:
            self.let_back(person, production, Role(role))
        path = f"/in/{make_link_at_terminal(person)}/"
        self.stdout.write(f"This signs {person.name} in, once, within 24 hours. {how_to_open(path)}")

    def let_back(self, person: Person, title: str, role: Role) -> None:
        theirs = Production.objects.filter(members__person=person)
        found = [each for each in theirs if each.name.casefold() == title.strip().casefold()]
        if len(found) != 1:
            how_many = f"{len(found)} productions" if found else "no production"
            raise CommandError(f"{person.name} is or was in {how_many} of the title {title}; in all: {_named(theirs)}.")
        member = let_back_in(person, found[0], role)
        self.stdout.write(f"{person.name} is in {found[0].name} again, as {member.get_role_display().lower()}.")


def how_to_open(path: str) -> str:
    """The whole link, where the environment says how the server is called; elsewhere what it lacks."""
    if settings.SITE_ADDRESS_IS_TOLD:
        return f"Open it:\n{opened_at(path)}"
    return f"Put the server's address before it, such as {settings.SITE_ADDRESS}, and open it:\n{path}"


def _named(productions: Iterable[Production]) -> str:
    return ", ".join(sorted(each.name for each in productions)) or "none"
