"""A drawing with its names -> a figure of marks: line kinds as ISO 128 has them, widths that survive a one-bit copy."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from docgen.fonts import text_width_mm
from docgen.geometry.path import grow_box, polyline
from docgen.geometry.shapes import Point
from docgen.pages.marks.moving import mark_box, place_marks
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.pictures.drawing import BETWEEN, Drawing, Drawn
from docgen.pages.pictures.leaders import (
    GAP_MM,
    LEAST_INSIDE_MM,
    Named,
    draw_labels,
    labels_width_mm,
    over_and_under_mm,
    set_labels,
)
from docgen.pages.pictures.legs import chain_legs, clear_hatching
from docgen.pages.pictures.starts import CLEAR_MM, draw_starts
from docgen.pages.setting.blocks import Figure, PageStyle

COLUMN_SHARE = 0.28  # of a figure, that the names on one side may take
ONE_COLUMN_SHARE = 0.45  # that all names may take on one side
EDGE_MM = 1.0  # kept free all round, for the thickness of lines
DASH_MM: Final = {"stitch": (1.2, 0.7), "picked": (1.8, 1.0), "link": (0.3, 0.9)}
DRAWN_IN_ORDER: Final = (
    "hatch",
    BETWEEN,
    "frame",
    "link",
    "hole",
    "slit",
    "joint",
    "break",
    "run on",
    "stitch",
    "metal",
    "edge",
    "outline",
    "picked",
)


def scale_for(
    drawing: Drawing, named: Sequence[Named], room_mm: tuple[float, float], style: PageStyle, columns: int = 2
) -> float:
    """The largest scale at which a drawing fits the room with its names in columns at both sides, or at one."""
    wide, high = room_mm
    return drawing.scale_for(wide - columns * _beside_mm(named, wide, style, columns) - 2 * EDGE_MM, high - 2 * EDGE_MM)


def _beside_mm(named: Sequence[Named], wide_mm: float, style: PageStyle, columns: int) -> float:
    share = COLUMN_SHARE if columns == 2 else ONE_COLUMN_SHARE
    column = labels_width_mm([text for _, text in named], share * wide_mm, style)
    return column + 2 * GAP_MM if named else 0.0


def has_long_word(named: Sequence[Named], wide_mm: float, style: PageStyle) -> bool:
    """Whether a word of a name would be broken in a column at both sides."""
    words = (word for _, text in named for word in text.split())
    return any(text_width_mm(word, "regular", style.label_type_mm) > COLUMN_SHARE * wide_mm for word in words)


def is_one_sided(
    drawing: Drawing, named: Sequence[Named], room_mm: tuple[float, float], style: PageStyle, least_mm: float
) -> bool:
    """Whether no name stands on one side of a drawing as large as fits the room between columns at both."""
    drawn = drawing.draw(scale_for(drawing, named, room_mm, style))
    left, right, _ = set_labels(drawn, named, _beside_mm(named, room_mm[0], style, 2) - 2 * GAP_MM, least_mm, style)
    return not (left and right)


def make_figure(
    drawing: Drawing,
    named: Sequence[Named],
    wide_mm: float,
    scale: float,
    style: PageStyle,
    caption: str = "",
    numbers: Mapping[str, int] = MappingProxyType({}),
    least_mm: float = LEAST_INSIDE_MM,
    columns: int = 2,
) -> tuple[Figure, list[Named]]:
    """The drawing to scale with names at its sides, in the middle of its width, or all at one side; and the names of which
    nothing is seen."""
    drawn = drawing.draw(scale)
    room = max(_beside_mm(named, wide_mm, style, columns) - 2 * GAP_MM, 1.0)
    left, right, lost = set_labels(drawn, named, room, least_mm, style, columns)
    reach = [over_and_under_mm(side, drawn.high_mm) for side in (left, right)]
    under, over = max(low for low, _ in reach), max(top for _, top in reach)
    sides = (-GAP_MM, left), (drawn.wide_mm + GAP_MM, right)
    legs = [(start, end) for kind, start, end in drawn.legs if "hatch" not in kind]
    legs += [(Point(x, label.middle), label.at) for x, side in sides for label in side]
    starts, clashes = draw_starts(drawn.starts, legs, (drawn.wide_mm, drawn.high_mm), style, numbers)
    boxes = [grow_box(mark_box(mark), CLEAR_MM) for mark in starts if isinstance(mark, TextMark)]
    drawn = replace(drawn, legs=tuple(clear_hatching(drawn.legs, boxes))) if boxes else drawn
    marks: Sequence[Mark] = [
        *draw_legs(drawn, style),
        *draw_labels(left, -2 * GAP_MM, True, style),
        *draw_labels(right, drawn.wide_mm + 2 * GAP_MM, False, style),
    ]
    over = max(over, *(mark_box(mark).top - drawn.high_mm for mark in starts), 0.0)
    marks = [*marks, *starts]
    across = (wide_mm - drawn.wide_mm) / 2
    if columns == 1:
        across = EDGE_MM if right else wide_mm - drawn.wide_mm - EDGE_MM
    tall = drawn.high_mm + under + over + 2 * EDGE_MM
    marks = place_marks(marks, across, under + EDGE_MM)
    return Figure(wide_mm, tall, marks, caption, kinds_of(drawn), clashes), lost


KEYS: Final = {
    "picked": "joined",
    "stitch": "sewn",
    "link": "goes",
    "hatch": "flesh",
    "break": "broken",
    "run on": "goes_on",
}
"""A kind of line -> what it is called in the key of the drawings; those of earlier parts are `there`."""
OF_EARLIER = ("sewn", "flesh")  # on earlier parts too


def kinds_of(drawn: Drawn) -> tuple[str, ...]:
    """The kinds of lines that a drawing has, as its key names them."""
    kinds = {kind for kind, _, _ in drawn.legs}
    found = {key for kind, key in KEYS.items() if kind in kinds or (key in OF_EARLIER and f"old {kind}" in kinds)}
    found |= {"there"} if any(kind.startswith("old ") for kind in kinds) else set()
    found |= {"start"} if drawn.starts else set()
    return tuple(sorted(found))


def draw_legs(drawn: Drawn, style: PageStyle) -> Iterator[Mark]:
    """All lines as marks, finer ones beneath."""
    chains: dict[str, list[list[Point]]] = {}
    for kind, chain in chain_legs(drawn.legs):
        chains.setdefault(kind, []).append(chain)
    for name in DRAWN_IN_ORDER:
        for kind in (f"old {name}", name):
            stroke = stroke_of(kind, style)
            yield from (PathMark(path=polyline(chain), stroke=stroke) for chain in chains.get(kind, ()))


@lru_cache(maxsize=64)
def stroke_of(kind: str, style: PageStyle) -> Stroke:
    """Outlines and what is picked out wide, edges narrow, what is there already, hatching and links fine."""
    name = kind.removeprefix("old ")
    is_fine = name in ("hatch", BETWEEN, "link", "frame") or name != kind
    width = (
        style.thick_line_mm if kind in ("outline", "picked") else style.fine_line_mm if is_fine else style.thin_line_mm
    )
    return Stroke(width, DASH_MM.get(name, ()))
