"""Web annotations as they come in: what of them is a note, a reply, or nothing that can be taken in.

Nothing is fetched, and no context but the W3C's is followed: a file that names its terms otherwise is no file of
annotations here. Whatever a file says in vain is left out, with a sentence.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from review.exchange.annotations import CONTEXT, FOR_WRITERS, SCENE
from review.notes.brought_in import MOST_IRI, MOST_SAID_BY
from review.notes.forms import MOST_CHARACTERS, MOST_WORDING_CHARACTERS, line_feeds
from review.notes.models import MOST_NAME, Audience, NoteKind, Subject

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_BYTES = 4 * 1024 * 1024
MOST_ANNOTATIONS = 2_000
FIRST_YEAR = 1900  # what was said before is no moment
SOMEBODY = "Somebody unnamed"
KINDS_OF = {"questioning": NoteKind.QUESTION, "assessing": NoteKind.PROBLEM}
TOO_LARGE = "That file is larger than 4 MiB, the most that is read. Take the notes out of it draft by draft."
NOT_JSON = "That is no JSON file{where}. Choose the file of annotations that was taken out, as it is."
NOT_ANNOTATIONS = (
    f"That file holds no web annotations: its @context does not name {CONTEXT}. Choose a file that was taken out as "
    "annotations (JSON-LD)."
)
NONE_IN_IT = "There is no annotation in that file."
TOO_MANY = f"That file holds more than {MOST_ANNOTATIONS:,} annotations, the most that is read at once."
NO_ID = "it has no address of its own (id), so it would come in twice"
NO_WORDS = "it says nothing, and offers nothing"
TOO_LONG = "it is longer than a note here can be"
NO_PLACE = "it does not say which lines it is on"


class UnreadableFile(ValueError):
    """Raised where a file cannot be read as annotations, with the sentence that says why."""


@dataclass(frozen=True, slots=True)
class Selected:
    """What an annotation selects of a text: the words, those before and behind them, and the code points from which to
    which; each as far as it says."""

    source: str
    exact: str | None
    prefix: str
    suffix: str
    start: int | None
    end: int | None


@dataclass(frozen=True, slots=True)
class ReadNote:
    """A note as a file has it, or with `note` a reply to the one of that IRI. `person` is the IRI of whoever said it,
    empty where the file names none."""

    iri: str
    person: str
    name: str
    said_at: datetime | None
    body: str
    note: str = ""
    kind: str = NoteKind.IDEA
    wording: str | None = None
    audience: str = Audience.EVERYONE
    subject: str = Subject.LINES
    character: str = ""
    selected: Selected | None = None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An annotation that cannot come in: how to tell which it is, and why."""

    which: str
    why: str


@dataclass(frozen=True, slots=True)
class ReadFile:
    """What a file holds: notes, replies, how many decisions, which stay where they were made, and what is left out."""

    notes: tuple[ReadNote, ...]
    replies: tuple[ReadNote, ...]
    decisions: int
    left_out: tuple[LeftOut, ...]


def read_annotations(file: bytes) -> ReadFile:
    """What a file says. Raises UnreadableFile."""
    if len(file) > MOST_BYTES:
        raise UnreadableFile(TOO_LARGE)
    items = _items(_parsed(file))
    notes: list[ReadNote] = []
    replies: list[ReadNote] = []
    left_out: list[LeftOut] = []
    decisions = 0
    for at, item in enumerate(items, 1):
        if isinstance(item, dict) and "assessing" in _words(item.get("motivation")) and _said_under(item):
            decisions += 1
            continue
        try:
            read = _read(item)
        except _Unusable as why:
            left_out.append(LeftOut(_which(at, item), str(why)))
        else:
            (replies if read.note else notes).append(read)
    return ReadFile(tuple(notes), tuple(replies), decisions, tuple(left_out))


class _Unusable(ValueError):
    """Why an annotation cannot come in."""


def _parsed(file: bytes) -> dict[str, Any]:
    try:
        told = json.loads(file.decode("utf-8-sig"))
    except json.JSONDecodeError as fault:
        raise UnreadableFile(NOT_JSON.format(where=f" (line {fault.lineno})")) from None
    except (ValueError, RecursionError):  # no UTF-8, a number without end, or deeper than anything said
        raise UnreadableFile(NOT_JSON.format(where="")) from None
    contexts = told.get("@context") if isinstance(told, dict) else None
    if CONTEXT not in (contexts if isinstance(contexts, list) else [contexts]):
        raise UnreadableFile(NOT_ANNOTATIONS)
    whole: dict[str, Any] = told
    return whole


def _items(told: dict[str, Any]) -> list[Any]:
    """The annotations of a collection, of a page of one, or a single one."""
    page = told.get("first", told)
    items = page.get("items") if isinstance(page, dict) else None
    if items is None and "target" in told:
        items = [told]
    if not isinstance(items, list) or not items:
        raise UnreadableFile(NONE_IN_IT)
    if len(items) > MOST_ANNOTATIONS:
        raise UnreadableFile(TOO_MANY)
    return items


def _read(item: Any) -> ReadNote:
    if not isinstance(item, dict) or "Annotation" not in _words(item.get("type")):
        raise _Unusable("it is no annotation")
    iri = _iri(item)
    if not iri or len(iri) > MOST_IRI:
        raise _Unusable(NO_ID)
    creator = next(iter(_list(item.get("creator"))), None)
    person = _iri(creator)
    name = _line(creator.get("name")) if isinstance(creator, dict) else ""
    said = _SaidInBodies(item)
    if not said.body and said.wording is None:
        raise _Unusable(NO_WORDS)
    if len(said.body) > MOST_CHARACTERS or len(said.wording or "") > MOST_WORDING_CHARACTERS:
        raise _Unusable(TOO_LONG)
    whose: dict[str, Any] = {
        "iri": iri,
        "person": person,
        "name": (name or SOMEBODY)[:MOST_SAID_BY],
        "said_at": _moment(item.get("created")),
        "body": said.body,
    }
    if replied := _said_under(item):
        return ReadNote(**whose, note=replied)
    motives = _words(item.get("motivation"))
    return ReadNote(
        **whose,
        kind=said.kind or next((KINDS_OF[motive] for motive in motives if motive in KINDS_OF), NoteKind.IDEA),
        wording=said.wording,
        audience=Audience.WRITER if _is_for_writers(item.get("audience")) else Audience.EVERYONE,
        subject=said.subject,
        character=said.character,
        selected=_selected(next(iter(_list(item.get("target"))), None)),
    )


def _said_under(item: dict[str, Any]) -> str:
    """The IRI of the annotation that this one is of; empty for one of lines."""
    target = next(iter(_list(item.get("target"))), None)
    is_of_lines = isinstance(target, dict) and ("source" in target or "selector" in target)
    return "" if is_of_lines else _iri(target)


class _SaidInBodies:
    """What the bodies of an annotation say, each by its purpose; one without any comments."""

    def __init__(self, item: dict[str, Any]) -> None:
        told = list(_texts(item))
        self.body = "\n\n".join(text for purpose, text in told if purpose == "commenting").strip()
        self.wording = next((text for purpose, text in told if purpose == "editing"), None)
        kinds = (text for purpose, text in told if purpose == "classifying")
        self.kind = next((kind for kind in kinds if kind in NoteKind.values), "")
        self.character = next((_line(text)[:MOST_NAME] for purpose, text in told if purpose == "identifying"), "")
        is_of_scene = ("tagging", SCENE) in told
        self.subject = Subject.CHARACTER if self.character else Subject.SCENE if is_of_scene else Subject.LINES
        if self.subject != Subject.LINES:
            self.wording = None


def _texts(item: dict[str, Any]) -> Iterator[tuple[str, str]]:
    if isinstance(item.get("bodyValue"), str):
        yield "commenting", _text(item["bodyValue"])
    for body in _list(item.get("body")):
        if isinstance(body, dict) and isinstance(body.get("value"), str):
            for purpose in _words(body.get("purpose")) or ["commenting"]:
                yield purpose, _text(body["value"])


def _selected(target: Any) -> Selected:
    if not isinstance(target, dict):
        raise _Unusable(NO_PLACE)
    chosen = [one for one in _list(target.get("selector")) if isinstance(one, dict)]
    quotation = next((one for one in chosen if "TextQuoteSelector" in _words(one.get("type"))), {})
    position = next((one for one in chosen if "TextPositionSelector" in _words(one.get("type"))), {})
    exact, start, end = quotation.get("exact"), position.get("start"), position.get("end")
    is_placed = type(start) is int and type(end) is int and 0 <= start <= end
    if not isinstance(exact, str) and not is_placed:
        raise _Unusable(NO_PLACE)
    return Selected(
        source=_iri(target.get("source")),
        exact=exact if isinstance(exact, str) else None,
        prefix=quotation["prefix"] if isinstance(quotation.get("prefix"), str) else "",
        suffix=quotation["suffix"] if isinstance(quotation.get("suffix"), str) else "",
        start=start if is_placed else None,
        end=end if is_placed else None,
    )


def _is_for_writers(audience: Any) -> bool:
    return any(isinstance(one, dict) and one.get("schema:audienceType") == FOR_WRITERS for one in _list(audience))


def _moment(told: Any) -> datetime | None:
    try:
        moment = datetime.fromisoformat(told)
        moment = moment if moment.tzinfo else moment.replace(tzinfo=UTC)
        return moment if moment.year >= FIRST_YEAR and moment < datetime.now(UTC) + timedelta(days=1) else None
    except (TypeError, ValueError, OverflowError):
        return None


def _which(at: int, item: Any) -> str:
    """How to tell which annotation it is: its place in the file, and whose it is where it says so."""
    creator = next(iter(_list(item.get("creator"))), None) if isinstance(item, dict) else None
    name = _line(creator.get("name"))[:MOST_SAID_BY] if isinstance(creator, dict) else ""
    return f"The {at:,}. in the file" + (f", from {name}" if name else "")


def _list(told: Any) -> list[Any]:
    """JSON-LD has one of something by itself, or several as a list."""
    return told if isinstance(told, list) else [] if told is None else [told]


def _words(told: Any) -> list[str]:
    return [word for word in _list(told) if isinstance(word, str)]


def _iri(told: Any) -> str:
    iri = told.get("id") if isinstance(told, dict) else told
    return _text(iri) if isinstance(iri, str) else ""


def _text(told: str) -> str:
    """A text that can be kept: no NUL, no half of a surrogate pair, plain line feeds."""
    return line_feeds(told.replace("\0", "").encode("utf-16", "surrogatepass").decode("utf-16", "replace"))


def _line(told: Any) -> str:
    return " ".join(_text(told).split()) if isinstance(told, str) else ""
