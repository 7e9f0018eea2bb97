"""One piece of news as a letter tells it, and how what people said is set in it."""

from __future__ import annotations

from dataclasses import dataclass

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


def quoted(words: str) -> str:
    """What somebody said, as quoted lines (RFC 3676, 4.5)."""
    words = words.strip()
    told = words if len(words) <= MOST_QUOTED else f"{words[:MOST_QUOTED].rstrip()} …"
    return "\n".join(f"> {line}".rstrip() for line in told.splitlines())
