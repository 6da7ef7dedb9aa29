"""The legend of line types, drawn with the same strokes as the pattern."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace
from typing import Final

from docgen.geometry.path import box_path, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.piece_drawing import draw_hole, draw_notch, draw_skive, draw_slit, draw_stitch_line
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern.sheets import JOIN_STROKE, draw_diamond
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.resolve import Hole, Notch, Skive, Slit, StitchLine

ROW_MM = 6.5
SAMPLE_MM = 26.0
MIDDLE = Point(SAMPLE_MM / 2, 0.0)


def legend_figure(style: PatternStyle, page: PageStyle, width_mm: float, used: Collection[str]) -> Figure:
    """One row per kind of line that is `used`, in the order of the words: a sample and its meaning."""
    said = words("lines")
    names = tuple(name for name in said if name in used)
    height_mm = ROW_MM * len(names)
    marks: list[Mark] = []
    for row, name in enumerate(names):
        y = height_mm - (row + 0.5) * ROW_MM
        marks += place_marks(_draw_sample(name, style), 0.0, y)
        marks.append(
            TextMark(x_mm=SAMPLE_MM + 4, y_mm=y - page.body_type_mm * 0.33, text=said[name], size_mm=page.body_type_mm)
        )
    return Figure(width_mm, height_mm, tuple(marks))


def _draw_sample(name: str, style: PatternStyle) -> tuple[Mark, ...]:
    draw = SAMPLES.get(name)
    return tuple(draw(style)) if draw else (_sample(style[name]),)


def _sample(stroke: Stroke) -> PathMark:
    return PathMark(path=polyline((Point(0.5, 0), Point(SAMPLE_MM, 0))), stroke=stroke)


def _arrow(style: PatternStyle) -> list[Mark]:
    marks: list[Mark] = [PathMark(path=polyline((Point(2, 0), Point(SAMPLE_MM - 2, 0))), stroke=style["notch"])]
    for tip, back in ((2.0, 5.0), (SAMPLE_MM - 2, SAMPLE_MM - 5)):
        head = polyline((Point(back, 1.5), Point(tip, 0), Point(back, -1.5)), closed=True)
        marks.append(PathMark(path=head, fill=0.0))
    return marks


def _notch(style: PatternStyle) -> tuple[Mark, ...]:
    edge = PathMark(path=polyline((Point(0.5, 2), Point(SAMPLE_MM, 2))), stroke=style["cut"])
    return (edge, *draw_notch(Notch(at=Point(MIDDLE.x, 2), inward=Point(0, -1), edge=""), style))


def _skive(style: PatternStyle) -> tuple[Mark, ...]:
    band = box_path(Box(0.5, -1.9, SAMPLE_MM, 1.9))
    return tuple(draw_skive(Skive(edges="", band=band, width_mm=3.8, to_mm=1.0, to_words=""), style))


def _broken(style: PatternStyle) -> tuple[Mark, ...]:
    """A piece of strap on its side, with the zigzag at its open end."""
    low, high, open_end = -1.8, 1.8, SAMPLE_MM - 6
    edge = polyline((Point(open_end, low), Point(2, low), Point(2, high), Point(open_end, high)))
    zigzag = ((0, -2.7), (0, -0.6), (1.6, -0.2), (-1.6, 0.2), (0, 0.6), (0, 2.7))
    return (
        PathMark(path=edge, stroke=style["cut"]),
        PathMark(path=polyline([Point(open_end + x, y) for x, y in zigzag]), stroke=style["punch"]),
    )


_SEWN: Final = StitchLine(seam="", stitch="", path=polyline((Point(0.5, 0), Point(SAMPLE_MM, 0))))
_BY_MACHINE: Final = replace(_SEWN, ticked_mm=(0.0, SAMPLE_MM / 2 - 0.5, SAMPLE_MM - 0.5))
_BY_HAND: Final = replace(_SEWN, holes_mm=tuple(at * 3.6 for at in range(8)), by="hand")
_SHARED: Final = replace(_SEWN, ticked_mm=(0.5, 12.5, 24.5), turn=2)
SAMPLES: Final[Mapping[str, Callable[[PatternStyle], Iterable[Mark]]]] = {
    "stitch": lambda style: draw_stitch_line(_BY_MACHINE, style),
    "hand": lambda style: draw_stitch_line(_BY_HAND, style),
    "stretch": _arrow,
    "slit": lambda style: draw_slit(Slit(start=Point(5, 0), end=Point(SAMPLE_MM - 5, 0)), style),
    "notch": _notch,
    "punch": lambda style: draw_hole(Hole(at=MIDDLE, diameter_mm=3.5), style),
    "skive": _skive,
    "match": lambda _: draw_diamond(MIDDLE, 2.4),
    "join": lambda _: (_sample(JOIN_STROKE),),
    "shared": lambda style: draw_stitch_line(_SHARED, style),
    "middle": lambda style: draw_hole(Hole(at=MIDDLE, diameter_mm=1.2, is_middle=True), style),
    "broken": _broken,
}
"""What stands for a kind in the legend, where that is more than a line of its style."""
