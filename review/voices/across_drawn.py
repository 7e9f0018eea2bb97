"""A voice across drafts as a picture: for each figure, and for how far it is from the model, a bar a draft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.pictures.shapes import Anchor, Bar, DrawnMark, Picture, Stroke, Tone, WrittenWords
from review.voices.told_figures import TOLD, WITHHELD

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from review.voices.character import DraftDistance, VoiceThen

MOST_DRAFTS = 6
COLUMNS, PANEL, TALL, HEAD, FOOT, APART, WIDEST = 4, 208, 54, 34, 16, 22, 56


@dataclass(frozen=True, slots=True)
class FigureThen:
    """A figure in one draft: as a number, None where it is withheld, as it is written, and where its lines are."""

    draft: str
    amount: float | None
    told: str
    briefly: str
    to: str


@dataclass(frozen=True, slots=True)
class FigureAcross:
    """A figure across drafts."""

    label: str
    drafts: tuple[FigureThen, ...]


@dataclass(frozen=True, slots=True)
class AcrossDrawn:
    """The picture, and the same figure by figure; the drafts by name, and how many earlier ones are left out."""

    picture: Picture
    figures: tuple[FigureAcross, ...]
    drafts: tuple[str, ...]
    left_out: int


def draw_across(
    then: Sequence[VoiceThen],
    distances: Sequence[DraftDistance],
    model: str,
    voice_address: Callable[[VoiceThen], str],
) -> AcrossDrawn | None:
    """A voice in the last MOST_DRAFTS of some drafts, and its distance from the model's, if there is one; None of fewer
    than two drafts. `voice_address` is where the voice is told of in one of them."""
    if len(then) < 2:
        return None
    shown = then[-MOST_DRAFTS:]
    to = {each.label: voice_address(each) for each in shown}
    figures = _figures(shown, to)
    if distances:
        deltas = {one.label: one.delta for one in distances}
        near = (_distance(each.label, deltas.get(each.label), to[each.label]) for each in shown)
        figures.append(FigureAcross(f"Distance from {model}", tuple(near)))
    rows = -(-len(figures) // COLUMNS)
    height = HEAD + TALL + FOOT
    picture = Picture(
        name="across",
        label="Each figure of the voice, draft by draft",
        width=COLUMNS * PANEL + (COLUMNS - 1) * APART,
        height=rows * height + (rows - 1) * APART,
        marks=[
            mark
            for at, figure in enumerate(figures)
            for mark in _panel(figure, at % COLUMNS * (PANEL + APART), at // COLUMNS * (height + APART))
        ],
    )
    return AcrossDrawn(picture, tuple(figures), tuple(to), len(then) - len(shown))


def _figures(shown: Sequence[VoiceThen], to: dict[str, str]) -> list[FigureAcross]:
    return [
        FigureAcross(
            told.label,
            tuple(
                FigureThen(
                    each.label,
                    told.amount(each.voice) if each.voice else None,
                    told.of(each.voice) if each.voice else "",
                    told.briefly(each.voice) if each.voice else "",
                    f"{to[each.label]}?lines={told.lines}#lines" if each.voice and to[each.label] else "",
                )
                for each in shown
            ),
        )
        for told in TOLD
    ]


def _distance(draft: str, delta: float | None, to: str) -> FigureThen:
    told = WITHHELD if delta is None else f"{delta:.2f}"
    return FigureThen(draft, delta, told, told, f"{to}?lines=speeches#lines" if to else "")


def _panel(figure: FigureAcross, left: float, top: float) -> Iterator[DrawnMark]:
    """One figure: the last draft dark, the working draft hollow."""
    yield DrawnMark((WrittenWords(left, top + 11, figure.label, 11),))
    step = min(PANEL / len(figure.drafts), WIDEST)
    most = max((one.amount or 0 for one in figure.drafts), default=0) or 1
    foot = top + HEAD + TALL
    published = [one.draft for one in figure.drafts if one.draft != "Working draft"]
    for at, one in enumerate(figure.drafts):
        x, width = left + step * at, min(step - 6, 44)
        tone, edge = (Tone.STRONG, None) if one.draft == published[-1] else (Tone.MIDDLE, None)
        if one.draft not in published:
            tone, edge = Tone.PAPER, Tone.STRONG
        height = TALL * (one.amount or 0) / most
        words = WITHHELD if one.amount is None else one.briefly
        name = one.draft.removeprefix("Draft ").removesuffix(" draft").lower()
        yield DrawnMark(
            (
                Bar(x, foot - height, width, height, tone, edge),
                WrittenWords(x + width / 2, foot - height - 4, words, 9, Tone.INK, Anchor.MIDDLE),
                WrittenWords(x + width / 2, foot + 12, name, 9, Tone.SOFT, Anchor.MIDDLE),
            ),
            f"{figure.label}, {one.draft}: {one.told or 'says nothing'}",
            one.to,
        )
    yield DrawnMark((Stroke(((left, foot), (left + PANEL - 6, foot)), Tone.MIDDLE),))
