"""The security log of a production in plain words: who came in and how, who was kept out, who let in whom, who took
a copy. It is read out of the log of acts, so it only grows."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from django.db.models import Q
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date, datetime

    from review.productions.models import Production

Verb = Act.Verb
ON_A_PAGE = 200  # acts

COPIES = {
    Verb.PRINTED_DRAFT: "took a PDF of draft {number}",
    Verb.PRINTED_SIDES: "took the sides of {character} from draft {number}",
    Verb.PRINTED_SHEET: "took the change sheet of {whose} for draft {new}",
    Verb.PRINTED_REVISION: "took the revised pages of draft {number}",
    Verb.TOOK_BREAKDOWN: "took the breakdown of draft {number}",
}
FORMS = {"source": "the source", "text": "the plain text", "html": "the web page"}
NOTES_AS = {"csv": "a table", "fountain": "Fountain", "json": "JSON-LD", "pdf": "a PDF"}


@dataclass(frozen=True, slots=True)
class LogEntry:
    """One thing that happened, once or several times in a row; `at` is the last time. `is_warning` is whether a reader
    ought to look at it twice. `address` is "" where it was not asked for over the network."""

    who: str
    what: str
    at: datetime
    address: str
    is_warning: bool
    times: int = 1


@dataclass(frozen=True, slots=True)
class LogPage:
    """The entries of some days, the latest first, and the key of the act to go on before; None for nothing left."""

    days: tuple[tuple[date, tuple[LogEntry, ...]], ...]
    earlier: int | None


def read_security_log(production: Production, before: int | None = None) -> LogPage:
    """What concerns who may come in, in this production; and of its members, what concerns them in all.

    A page holds so many acts, from the one before that with the key `before` on.
    """
    theirs = production.members.filter(removed_at=None).values("person")
    acts = Act.objects.filter(
        Q(production=production, verb__in=IN_WORDS) | Q(production=None, person__in=theirs, verb__in=IN_WORDS)
    )
    if before is not None:
        acts = acts.filter(pk__lt=before)
    found = list(acts.select_related("person").order_by("-pk")[: ON_A_PAGE + 1])
    shown = found[:ON_A_PAGE]
    entries = [_together(list(group)) for _, group in groupby(shown, key=_sameness)]
    days = tuple((day, tuple(group)) for day, group in groupby(entries, key=lambda entry: _day(entry.at)))
    return LogPage(days, shown[-1].pk if len(found) > ON_A_PAGE else None)


def _day(at: datetime) -> date:
    return timezone.localtime(at).date()


def _sameness(act: Act) -> tuple[object, ...]:
    return _day(act.at), act.person_id, act.verb, act.address, _words(act)


def _together(acts: list[Act]) -> LogEntry:
    """What was done several times in a row as one entry."""
    latest = acts[0]
    who, what = _words(latest)
    is_warning = latest.verb == Verb.FAILED_TO_SIGN_IN
    return LogEntry(who, what, latest.at, latest.address or "", is_warning, len(acts))


def _words(act: Act) -> tuple[str, str]:
    """Who, and what they did."""
    return IN_WORDS[act.verb](act)


def _by(what: str) -> Callable[[Act], tuple[str, str]]:
    """Words in which the person of the act did something; the names in braces are those of its details."""
    return lambda act: (act.person.name, what.format_map(_Details(act.details)))


class _Details(dict[str, object]):
    """Details of an act; one that an older act lacks is left out."""

    def __missing__(self, name: str) -> str:
        return ""


def _as(details: dict[str, object]) -> str:
    """A role and a department in words: "crew, in art"."""
    role, department = str(details.get("role", "")), str(details.get("department", ""))
    role_in_words = Role(role).label.lower() if role in Role.values else role
    department_in_words = Department(department).label.lower() if department in Department.values else department
    words = dict.fromkeys(word for word in (role_in_words, department_in_words) if word)
    return ", in ".join(words)


def _invited(act: Act) -> tuple[str, str]:
    return act.person.name, f"invited {act.details.get('name')} as {_as(act.details)}"


def _joined(act: Act) -> tuple[str, str]:
    return act.person.name, f"joined by invitation as {_as(act.details)}"


def _changed_role(act: Act) -> tuple[str, str]:
    changed: dict[str, list[str]] = act.details.get("changed", {})
    before, after = ({field: pair[nth] for field, pair in changed.items()} for nth in (0, 1))
    return act.person.name, f"made {act.details.get('name')} {_as({**after})}; before: {_as({**before})}"


def _made_link(act: Act) -> tuple[str, str]:
    made_for = act.details.get("name")
    at_terminal = "was made a sign-in link at the server’s own terminal"
    return act.person.name, f"made a sign-in link for {made_for}" if made_for else at_terminal


def _used_link(act: Act) -> tuple[str, str]:
    made_by = act.details.get("made_by")
    return act.person.name, f"was signed in by the link that {made_by} made" if made_by else "was signed in by a link"


def _failed(act: Act) -> tuple[str, str]:
    return "Somebody", f"gave a wrong password for {act.person.name}"


def _downloaded(act: Act) -> tuple[str, str]:
    form = FORMS.get(act.details.get("form", ""), "the text")
    return act.person.name, f"downloaded {form} of draft {act.details.get('number')}"


def _took_notes(act: Act) -> tuple[str, str]:
    form = NOTES_AS.get(act.details.get("as", ""), "a file")
    notes, number = act.details.get("notes"), act.details.get("number")
    several = "" if notes == 1 else "s"
    return act.person.name, f"took {notes} note{several} on draft {number} as {form}{_with_secrets(act)}"


def _took_agenda(act: Act) -> tuple[str, str]:
    number = act.details.get("number")
    about = f" about draft {number}" if number else ""  # an older act does not say
    return act.person.name, f"took the agenda of a talk{about}{_with_secrets(act)}"


def _with_secrets(act: Act) -> str:
    return ", with those for the writer’s eyes only" if act.details.get("for_writers") else ""


IN_WORDS: dict[str, Callable[[Act], tuple[str, str]]] = {
    Verb.STARTED_PRODUCTION: _by("started the production"),
    Verb.SIGNED_IN: _by("signed in"),
    Verb.FAILED_TO_SIGN_IN: _failed,
    Verb.MADE_SIGN_IN_LINK: _made_link,
    Verb.USED_SIGN_IN_LINK: _used_link,
    Verb.CHANGED_PASSWORD: _by("chose a new password"),
    Verb.INVITED: _invited,
    Verb.JOINED: _joined,
    Verb.WITHDREW_INVITATION: _by("withdrew the invitation for {name}"),
    Verb.CHANGED_ROLE: _changed_role,
    Verb.REMOVED_MEMBER: _by("removed {name}"),
    Verb.LET_BACK_IN: _by("was let back in at the server’s own terminal"),
    Verb.DOWNLOADED_DRAFT: _downloaded,
    Verb.TOOK_NOTES: _took_notes,
    Verb.TOOK_AGENDA: _took_agenda,
    Verb.TOOK_WORKING_TEXT: _by("downloaded the text of the working draft"),
    Verb.BROUGHT_IN_NOTES: _by("brought in notes ({notes}) and replies ({replies}) from a file"),
    **{verb: _by(words) for verb, words in COPIES.items()},
}
