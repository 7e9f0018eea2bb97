"""The voices of a draft as a table: each character's figures, in the reader's order, beside the draft before."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import screenplay
from review.drafts.scripts import compare_drafts, laid_out
from review.kept import kept
from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from review.drafts.models import Draft, PagesKey
    from screenplay.speech import Voice

BYTES_A_VOICE, BYTES_A_WORD = 6_000, 120  # of what is kept, as measured and more


@dataclass(frozen=True, slots=True)
class VoiceColumn:
    """A column the table can be put in order by. `descends` says that its largest comes first."""

    key: str
    label: str
    of: Callable[[Voice], Any]
    descends: bool = True

    @property
    def is_number(self) -> bool:
        return self.key not in {"name", "share"}


COLUMNS = (
    VoiceColumn("name", "Character", lambda voice: voice.name.casefold(), descends=False),
    VoiceColumn("share", "Share", lambda voice: voice.words),
    VoiceColumn("speeches", "Speeches", lambda voice: voice.speeches),
    VoiceColumn("words", "Words", lambda voice: voice.words),
    VoiceColumn("scenes", "Scenes", lambda voice: voice.scenes),
    VoiceColumn("first", "First page", lambda voice: voice.first_page or 0, descends=False),
    VoiceColumn("last", "Last page", lambda voice: voice.last_page or 0),
    VoiceColumn("longest", "Longest speech", lambda voice: voice.longest_speech),
    VoiceColumn("mean", "Words a speech", lambda voice: voice.words_a_speech),
    VoiceColumn(
        "contractions", "Contractions", lambda voice: -1.0 if voice.contraction_rate is None else voice.contraction_rate
    ),
)
FIRST_SORT = "words"


@dataclass(frozen=True, slots=True)
class SortOrder:
    """What the table is in order by; `is_turned` when the column's own direction is turned round."""

    column: VoiceColumn
    is_turned: bool

    @property
    def descends(self) -> bool:
        return self.column.descends != self.is_turned


@dataclass(frozen=True, slots=True)
class ColumnHead:
    """A column's head: `sort` is what a link to the order it leads to asks for, `direction` the present one if any."""

    column: VoiceColumn
    sort: str
    direction: str


@dataclass(frozen=True, slots=True)
class VoiceRow:
    """A character's figures, and the same character's in the draft before: None where they had no word there; and what
    the pages are called on which they first and last speak, "" for none."""

    voice: Voice
    earlier: Voice | None
    first_page: str
    last_page: str

    @property
    def words_more(self) -> int:
        return self.voice.words - (self.earlier.words if self.earlier else 0)

    @property
    def speeches_more(self) -> int:
        return self.voice.speeches - (self.earlier.speeches if self.earlier else 0)

    @property
    def contracted_of(self) -> str:
        """How many contracted forms there are, out of these and the places that could have had one and did not."""
        return f"{self.voice.contractions} of {self.voice.contractions + self.voice.not_contracted}"

    @property
    def former_name(self) -> str:
        """What the character was called in the draft before, if it was something else."""
        former = self.earlier.name if self.earlier else ""
        return former if same_name(former) != same_name(self.voice.name) else ""


def voices_of(draft: Draft) -> tuple[Voice, ...]:
    """How each character of a draft talks, most words first; worked out once for each text and page setting."""
    return _speak(draft.pages_key)


def _weigh(voices: tuple[Voice, ...]) -> int:
    return sum(BYTES_A_VOICE + BYTES_A_WORD * len(voice.counts) for voice in voices)


@kept(_weigh)
def _speak(pages: PagesKey) -> tuple[Voice, ...]:
    return screenplay.voices(laid_out(pages.draft))


def read_order(asked: str) -> SortOrder:
    """The order an address asks for: a column's key, with a dash before it for the other way round."""
    by_key = {column.key: column for column in COLUMNS}
    key = asked.removeprefix("-")
    if key not in by_key:
        return SortOrder(by_key[FIRST_SORT], False)
    return SortOrder(by_key[key], asked.startswith("-"))


def column_heads(order: SortOrder) -> list[ColumnHead]:
    """The heads of the columns: the one in use leads to its other direction."""
    return [_head(column, order) for column in COLUMNS]


def _head(column: VoiceColumn, order: SortOrder) -> ColumnHead:
    if column != order.column:
        return ColumnHead(column, column.key, "")
    direction = "descending" if order.descends else "ascending"
    return ColumnHead(column, column.key if order.is_turned else f"-{column.key}", direction)


def voice_rows(draft: Draft, earlier: Draft | None, order: SortOrder) -> list[VoiceRow]:
    """A line for each character who speaks in the draft, in order; equals by name."""
    before = _voices_by_present_name(earlier, draft) if earlier else {}
    layout = laid_out(draft).layout
    lines = [
        VoiceRow(
            voice,
            before.get(same_name(voice.name)),
            *(layout.label_of(page) if page else "" for page in (voice.first_page, voice.last_page)),
        )
        for voice in sorted(voices_of(draft), key=lambda voice: same_name(voice.name))
    ]
    return sorted(lines, key=lambda line: order.column.of(line.voice), reverse=order.descends)


def gone_voices(draft: Draft, earlier: Draft) -> Sequence[str]:
    """Who spoke in the draft before and says nothing in this one, under any name."""
    present = {same_name(voice.name) for voice in voices_of(draft)}
    before = _voices_by_present_name(earlier, draft)
    return sorted(voice.name for name, voice in before.items() if name not in present)


def _voices_by_present_name(earlier: Draft, draft: Draft) -> dict[str, Voice]:
    renames = {
        rename.old: rename.new for rename in compare_drafts(earlier, draft).renames if rename.kind == "character"
    }
    return {same_name(renames.get(voice.name, voice.name)): voice for voice in voices_of(earlier)}
