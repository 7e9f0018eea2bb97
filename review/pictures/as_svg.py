"""A picture as SVG: within a page, where a style sheet gives its tones and each mark leads to its lines; and as a file
that stands by itself."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString, mark_safe

from review.pictures.shapes import Anchor, Band, Bar, Disc, Stroke
from review.pictures.tones import COLOURS, MARGIN

if TYPE_CHECKING:
    from review.pictures.shapes import DrawnMark, Picture, Point, Shape, Tone

# What XML 1.0 has no room for (https://www.w3.org/TR/xml/#charsets).
_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg_within_page(picture: Picture) -> SafeString:
    """The picture as an element of a page."""
    head = f'<svg class="{picture.name}" {_box(picture, 0)} role="group" aria-label="{_said(picture.label)}">'
    drawn = f"{head}{''.join(_mark(mark, is_alone=False) for mark in picture.marks)}</svg>"
    return mark_safe(drawn)  # noqa: S308 - every word in it is escaped


def as_svg(picture: Picture) -> bytes:
    """The picture as a file: with its own colours, on paper, and without links, which would lead nowhere from there."""
    at = f'x="{-MARGIN}" y="{-MARGIN}" width="100%" height="100%"'
    paper = f'<rect class="paper" {at} fill="{COLOURS["paper"]}"/>'
    box = _box(picture, MARGIN)
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {box} font-family="Courier Prime, Courier, monospace">'
    marks = "".join(_mark(mark, is_alone=True) for mark in picture.marks)
    return f"{head}<title>{_said(picture.label)}</title>{paper}{marks}</svg>\n".encode()


def _box(picture: Picture, margin: int) -> str:
    width, height = picture.width + 2 * margin, picture.height + 2 * margin
    return f'viewBox="{-margin} {-margin} {width} {height}" width="{width}" height="{height}"'


def _mark(mark: DrawnMark, *, is_alone: bool) -> str:
    shapes = "".join(map(_shape, mark.shapes))
    if not mark.says:
        return shapes
    title = f"<title>{_said(mark.says)}</title>"
    if is_alone or not mark.to:
        return f"<g>{title}{shapes}</g>"
    return f'<a href="{_said(mark.to)}" aria-label="{_said(mark.says)}">{title}{shapes}</a>'


def _shape(shape: Shape) -> str:
    if isinstance(shape, Bar):
        place = f'x="{shape.x:.6g}" y="{shape.y:.6g}" width="{shape.width:.6g}" height="{shape.height:.6g}"'
        return f"<rect {_filled(shape.tone, shape.edge)} {place}/>"
    if isinstance(shape, Band):
        return f'<polygon {_filled(shape.tone, shape.edge)} points="{_points(shape.points)}"/>'
    if isinstance(shape, Stroke):
        drawn = f'class="edge-{shape.tone}" fill="none" stroke="{COLOURS[shape.tone]}" stroke-width="{shape.width}"'
        return f'<polyline {drawn} points="{_points(shape.points)}"/>'
    if isinstance(shape, Disc):
        place = f'cx="{shape.x:.6g}" cy="{shape.y:.6g}" r="{shape.radius:.6g}"'
        return f"<circle {_filled(shape.tone, None)} {place}/>"
    anchor = "" if shape.anchor is Anchor.START else f' text-anchor="{shape.anchor}"'
    place = f'x="{shape.x:.6g}" y="{shape.y:.6g}" font-size="{shape.size:.6g}"{anchor}'
    return f"<text {_filled(shape.tone, None)} {place}>{_said(shape.text)}</text>"


def _filled(tone: Tone, edge: Tone | None) -> str:
    if edge is None:
        return f'class="tone-{tone}" fill="{COLOURS[tone]}"'
    return f'class="tone-{tone} edge-{edge}" fill="{COLOURS[tone]}" stroke="{COLOURS[edge]}"'


def _points(points: tuple[Point, ...]) -> str:
    return " ".join(f"{x:.6g},{y:.6g}" for x, y in points)


def _said(text: str) -> str:
    return escape(_NO_XML.sub("", text))
