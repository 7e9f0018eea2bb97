"""One piece of news as a letter tells it, and how what people said is set in it."""

from __future__ import annotations

from dataclasses import dataclass

from review.notes.markdown import typed_out

MOST_QUOTED = 2_000  # characters of one thing that somebody said; the page that the letter leads to has it all


@dataclass(frozen=True, slots=True)
class Tidings:
    """What happened, in a few words; what there is to say of it, a paragraph each; and the path where it happened; with
    the method and the iCalendar object of a talk."""

    title: str
    paragraphs: tuple[str, ...]
    path: str
    calendar: tuple[str, str] | None = None

    @property
    def text(self) -> str:
        return "\n\n".join(paragraph for paragraph in self.paragraphs if paragraph)


def quoted(text: str) -> str:
    """What somebody wrote, which is light Markdown, as quoted lines of plain words (RFC 3676, 4.5)."""
    words = typed_out(text).strip()
    told = words if len(words) <= MOST_QUOTED else f"{words[:MOST_QUOTED].rstrip()} …"
    return "\n".join(f"> {line}".rstrip() for line in told.splitlines())


def the_note(text: str) -> str:
    """The note that something happened to, as its author put it."""
    return f"The note:\n\n{quoted(text)}"
