"""What an act says to whoever asked for something that cannot be."""

from __future__ import annotations


class Refused(Exception):
    """Something cannot be done; the message says why and what to do, for the person who tried."""


class LinkRefused(Refused):
    """A link does not let anyone in. `state` is one of unknown, used, expired, withdrawn or elsewhere."""

    def __init__(self, state: str) -> None:
        super().__init__(state)
        self.state = state


class AddressTaken(Refused):
    """The e-mail address belongs to a person who is already here, and who has to sign in to use it."""


class AlreadyMember(Refused):
    """The person is in the production already; their invitation stays unused."""


class CodeSpent(Refused):
    """The setup code was tried wrongly too often, and another has to be asked for."""
