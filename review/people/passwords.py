"""No password that others would try first: a name, an e-mail address, a production's title, or these put together."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from django.core.exceptions import ValidationError

from review.people.models import Person

if TYPE_CHECKING:
    from collections.abc import Iterable

MADE_OF_KNOWN_WORDS = (
    "That is made of your name, your e-mail address or the production’s title, which others know. Choose another."
)
SHORTEST_WORD = 3  # letters; shorter ones stand by chance in anything
LEAST_OF_ITS_OWN = 4  # letters that a password needs beside what others know


def refuse_known_words(password: str, known: Iterable[str]) -> None:
    """Raise ValidationError where little is left of a password without the words that stand in what others know."""
    left = _letters(password)
    words = {_letters(word) for text in known for word in (text, *re.split(r"[\W_]+", text))}
    for word in sorted(words, key=len, reverse=True):
        if len(word) >= SHORTEST_WORD:
            left = left.replace(word, "")
    if len(left.strip("0123456789")) < LEAST_OF_ITS_OWN:
        raise ValidationError(MADE_OF_KNOWN_WORDS, code="password_known")


def _letters(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())


class NotWhatOthersKnow:
    """The same among Django's password validators: it knows the person, and the titles of their productions."""

    def validate(self, password: str, user: object = None) -> None:
        if not isinstance(user, Person):
            return
        titles: list[str] = []
        if user.pk:
            titles = list(user.memberships.values_list("production__name", flat=True))
        refuse_known_words(password, [user.name, user.email, *titles])

    def get_help_text(self) -> str:
        return MADE_OF_KNOWN_WORDS
