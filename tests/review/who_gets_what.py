"""Every address of the site by its name: who gets what there, and what stands in its parts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.urls import URLResolver, get_resolver

if TYPE_CHECKING:
    from collections.abc import Iterator

READERS = ("producer", "crew", "cast")
MEMBERS = ("writer", *READERS)
OUTSIDERS = ("removed", "stranger")
EVERYBODY = (*MEMBERS, *OUTSIDERS, "signed out")

OPEN = 200
LEADS_ON = 302  # done, and on to the next page; where it leads is told apart from the way to signing in
REFUSED_FORM = 422  # an empty form, by somebody who may send it
NOT_UNDERSTOOD = 400
MEANWHILE = 409  # nothing is done, since something stands otherwise than the form says
ANOTHER_IS_OPEN = 409  # nothing is set aside that the form does not name
WRONG_METHOD = 405
FORBIDDEN = 403
NOT_FOUND = 404
SIGN_IN = "sign in"  # led to the sign-in page, and nothing else
Outcome = int | str
Pair = tuple[Outcome, Outcome]  # of GET and of POST


def of_a_production(members: Pair, writer: Pair | None = None) -> dict[str, Pair]:
    """What everybody gets of an address in a production; whoever is not in it finds nothing there."""
    get, post = (WRONG_METHOD if outcome == WRONG_METHOD else NOT_FOUND for outcome in members)
    signed_out: Pair = (SIGN_IN, SIGN_IN)
    return (
        dict.fromkeys(READERS, members)
        | {"writer": writer or members}
        | dict.fromkeys(OUTSIDERS, (get, post))
        | {"signed out": signed_out}
    )


def for_everybody(outcome: Pair, **but: Pair) -> dict[str, Pair]:
    named = {name.replace("_", " "): told for name, told in but.items()}
    return dict.fromkeys(EVERYBODY, outcome) | named


def for_whoever_is_signed_in(outcome: Pair, signed_out: Pair = (SIGN_IN, SIGN_IN)) -> dict[str, Pair]:
    return for_everybody(outcome, signed_out=signed_out)


PAGE: Pair = (OPEN, WRONG_METHOD)
LEADS: Pair = (LEADS_ON, WRONG_METHOD)
NOT_THEIRS: Pair = (FORBIDDEN, FORBIDDEN)
ACT_NOT_THEIRS: Pair = (WRONG_METHOD, FORBIDDEN)

# Each address by its name: who gets what by GET and by an empty POST.
EXPECTED: dict[str, dict[str, Pair]] = {
    "healthy": for_everybody(PAGE),
    "reading-on": for_everybody(PAGE),
    "setup-code": for_everybody((WRONG_METHOD, LEADS_ON)),  # says that somebody is here already
    "setup": for_everybody((SIGN_IN, SIGN_IN)),  # somebody is here already
    # an open invitation: those inside are told so; others may join; a form without an answer is refused
    "join": for_everybody((LEADS_ON, LEADS_ON), removed=(OPEN, LEADS_ON), stranger=(OPEN, LEADS_ON))
    | {"signed out": (OPEN, REFUSED_FORM)},
    "sign-in-link": for_everybody((OPEN, LEADS_ON)),
    "links-told": for_whoever_is_signed_in((WRONG_METHOD, LEADS_ON)),
    "mail": of_a_production((OPEN, REFUSED_FORM)),
    "mail-again": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "mail-stop": for_everybody((OPEN, OPEN)),  # whoever holds a letter stops what it is of, and nothing else
    "productions": for_whoever_is_signed_in(PAGE, signed_out=(SIGN_IN, WRONG_METHOD)),
    "production-new": for_whoever_is_signed_in(NOT_THEIRS) | {"writer": (OPEN, REFUSED_FORM)},
    "home": of_a_production(PAGE),
    "news": of_a_production(PAGE),
    "settings": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)) | {"producer": (OPEN, REFUSED_FORM)},
    "people": of_a_production(PAGE),
    "security-log": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "invite": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "invitation-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "member-remove": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "member-role": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "member-sign-in-link": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, OPEN)),
    "drafts": of_a_production(PAGE),
    "draft-upload": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-held": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-withdraw": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-put-up-again": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),  # it is up
    "draft-report": of_a_production(PAGE),
    "draft-download": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "draft-text": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "draft-html": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "draft-print": of_a_production(PAGE),
    "draft-pdf": of_a_production(PAGE),
    "draft-sides": of_a_production((REFUSED_FORM, WRONG_METHOD)),  # of nobody named
    "revised-pages": of_a_production(PAGE),
    "revised-pages-pdf": of_a_production((NOT_FOUND, WRONG_METHOD)),  # of the first draft there are none
    "scene-numbers": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)) | {"producer": (OPEN, REFUSED_FORM)},
    "locked-pages": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)) | {"producer": (OPEN, REFUSED_FORM)},
    "making": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE),  # the writer asked for it
    "changes": of_a_production(LEADS),
    "changes-between": of_a_production(PAGE),
    "changes-stretch": of_a_production((NOT_FOUND, WRONG_METHOD)),  # these drafts have no stretch that is folded
    "change-sheet-mine": of_a_production(LEADS),
    "change-sheets": of_a_production(LEADS),
    "change-sheet": of_a_production(PAGE),
    "change-sheet-pdf": of_a_production(PAGE),
    "voices-current": of_a_production(LEADS),
    "voices": of_a_production(PAGE),
    "voice": of_a_production(PAGE),
    "voice-part": of_a_production(PAGE),
    "voices-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # there is none of the sample's name
    "voice-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # nor a file of the sample's ending
    "voice-names": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "voice-names-merge": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "voice-names-apart": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "voice-rule-new": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "voice-rule-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "search": of_a_production(PAGE),
    # the sample paper is for everyone; the note on it and the reply are the head of department's
    "papers": of_a_production(PAGE),
    "paper-new": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "paper": of_a_production(PAGE),
    "paper-write": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "paper-changes": of_a_production(PAGE),
    "paper-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # there is none of the sample's name
    "paper-picture-add": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "paper-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "paper-put-back": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "paper-note-new": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "paper-reply-new": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "paper-decide": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "paper-note-change": of_a_production(NOT_THEIRS) | {"crew": (OPEN, REFUSED_FORM)},
    "paper-note-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "paper-note-put-back": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "paper-reply-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "scenes-current": of_a_production(LEADS),
    "scenes": of_a_production(PAGE),
    "scenes-file": of_a_production(PAGE),
    "scenes-pictures": of_a_production(PAGE),
    "scenes-picture": of_a_production((NOT_FOUND, WRONG_METHOD)),  # there is none of the sample's name
    "scenes-order": of_a_production(PAGE),
    "scenes-order-move": of_a_production((WRONG_METHOD, REFUSED_FORM)) | {"cast": ACT_NOT_THEIRS},
    "scenes-order-again": of_a_production((WRONG_METHOD, LEADS_ON)) | {"cast": ACT_NOT_THEIRS},
    "scenes-marked-words": of_a_production(PAGE),
    "scenes-marked-word-new": of_a_production((OPEN, REFUSED_FORM)) | {"cast": NOT_THEIRS},
    "scenes-days-told": of_a_production(PAGE),
    "scenes-days": of_a_production(NOT_THEIRS, writer=(OPEN, LEADS_ON)),
    "scenes-places": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "scenes-places-merge": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "scenes-places-apart": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "scenes-marked-word-withdraw": of_a_production((WRONG_METHOD, LEADS_ON)) | {"cast": ACT_NOT_THEIRS},
    "script-current": of_a_production(LEADS),
    "script": of_a_production(PAGE),
    "script-notes": of_a_production(PAGE),
    "script-news": of_a_production(PAGE),
    "script-page": of_a_production(PAGE),
    "script-find": of_a_production(PAGE),
    "script-changed": of_a_production(PAGE),
    "line-in-view": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "note-new": of_a_production((OPEN, REFUSED_FORM)),
    "note": of_a_production(PAGE),
    # the sample reading is of the head of department alone: nobody else reads in it
    "readings": of_a_production(PAGE),
    "reading-new": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "reading": of_a_production((NOT_FOUND, WRONG_METHOD), writer=LEADS) | {"crew": PAGE},
    "reading-readers": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE) | {"producer": PAGE},
    "reading-add": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "reading-take-off": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, NOT_FOUND)),  # nobody is named
    "reading-change": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "reading-remind": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "reading-close": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "reading-reopen": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "reading-ends": of_a_production((NOT_FOUND, WRONG_METHOD)) | {"crew": PAGE},
    "reading-progress": of_a_production((WRONG_METHOD, NOT_FOUND)) | {"crew": (WRONG_METHOD, NOT_UNDERSTOOD)},
    "reading-scene": of_a_production((NOT_FOUND, NOT_FOUND)) | {"crew": (OPEN, REFUSED_FORM)},
    "reading-read": of_a_production((WRONG_METHOD, NOT_FOUND)) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "reading-finish": of_a_production((NOT_FOUND, NOT_FOUND)) | {"crew": (OPEN, LEADS_ON)},
    "reading-learned": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE) | {"crew": PAGE},
    "reading-compare": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "reading-questions": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "reading-carry": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, NOT_FOUND)),  # no reading is named
    "question-ask-again": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "question-withdraw": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "question-show-intended": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "answer-judge": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "scene-purposes": of_a_production(NOT_THEIRS, writer=(OPEN, LEADS_ON)),
    "reading-share-time": of_a_production((WRONG_METHOD, NOT_FOUND)) | {"crew": (WRONG_METHOD, LEADS_ON)},
    # the sample talk is with the head of department alone
    "talks": of_a_production(PAGE),
    "talk-new": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "talk": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE) | {"crew": PAGE},
    "talk-change": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "talk-call-off": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "talk-taken-down": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "talk-agenda": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "talk-calendar": of_a_production((NOT_FOUND, WRONG_METHOD), writer=PAGE) | {"crew": PAGE},
    # the sample note and reply are the head of department's: nobody else can take them back
    "note-change": of_a_production(NOT_THEIRS) | {"crew": (OPEN, REFUSED_FORM)},
    "note-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "note-put-back": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "reply-new": of_a_production((WRONG_METHOD, REFUSED_FORM)),
    "reply-withdraw": of_a_production(ACT_NOT_THEIRS) | {"crew": (WRONG_METHOD, LEADS_ON)},
    "home-own-notes": of_a_production(PAGE),
    "notes": of_a_production(PAGE),
    "notes-in": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "notes-out": of_a_production(PAGE),
    "notes-csv": of_a_production(PAGE),
    "notes-fountain": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "notes-pdf": of_a_production(PAGE),
    "notes-json": of_a_production(PAGE),
    "notes-look": of_a_production((WRONG_METHOD, LEADS_ON)),
    "decide-together": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "decision-undo": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "decide": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "decision-reopen": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, REFUSED_FORM)),
    "place": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "to-do": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "working": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "working-begin": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-set-aside": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-take-up": of_a_production(NOT_THEIRS, writer=(OPEN, LEADS_ON)),
    "working-add": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-cut": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-restore": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-move": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, NOT_FOUND)),  # behind no scene
    "working-scene": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "working-scene-typed": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, OPEN)),
    "working-take-back": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-download": of_a_production((FORBIDDEN, WRONG_METHOD), writer=PAGE),
    "working-catch-up": of_a_production(ACT_NOT_THEIRS, writer=(WRONG_METHOD, LEADS_ON)),
    "working-put-back": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "working-publish": of_a_production(NOT_THEIRS, writer=(OPEN, REFUSED_FORM)),
    "draft-restore": of_a_production(NOT_THEIRS, writer=(OPEN, ANOTHER_IS_OPEN)),
    "account_login": for_whoever_is_signed_in((LEADS_ON, LEADS_ON), signed_out=(OPEN, OPEN)),
    "account_logout": for_everybody((OPEN, SIGN_IN), signed_out=(SIGN_IN, SIGN_IN)),
    "account_signup": for_everybody((LEADS_ON, LEADS_ON), signed_out=(OPEN, OPEN)),
    "account_inactive": for_everybody(PAGE),
    "account_change_password": for_whoever_is_signed_in((LEADS_ON, LEADS_ON)),  # to choosing one: they have none
    "account_set_password": for_whoever_is_signed_in((OPEN, OPEN)),
    "account_reset_password": for_everybody((OPEN, OPEN)),
    "account_reset_password_done": for_everybody(PAGE),
    "account_reset_password_from_key": for_everybody((OPEN, OPEN)),  # says that the link does not open
    "account_reset_password_from_key_done": for_everybody(PAGE),
}


# Those of which a browser saves a file, and shows no page.
FILES = {
    "change-sheet-pdf",
    "draft-download",
    "draft-html",
    "draft-pdf",
    "draft-text",
    "notes-csv",
    "notes-fountain",
    "notes-json",
    "notes-pdf",
    "scenes-file",
    "talk-agenda",
    "talk-calendar",
    "working-download",
}


def every_address(
    resolver: URLResolver | None = None, above: frozenset[str] = frozenset()
) -> Iterator[tuple[str, frozenset[str]]]:
    """The name of every address, and of its variable parts."""
    for entry in (resolver or get_resolver()).url_patterns:
        parts = above | entry.pattern.regex.groupindex.keys()
        if isinstance(entry, URLResolver):
            yield from every_address(entry, parts)
        else:
            yield str(entry.name), parts


PARTS = dict(every_address())
# What stands in the variable parts of addresses, where it is no record's.
SAMPLES: dict[str, Any] = {
    "number": 1,
    "old": 1,
    "new": 2,
    "version": 1,
    "ordinal": 1,
    "name": "1",
    "whose": "camera",
    "ending": "csv",
    "character": "NELL",
    "anchor": "beside-new-1",
    "uidb36": "1",
    "key": "not-a-key",
}
