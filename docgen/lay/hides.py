"""Hides as outlines: what is usual of a kind, scaled to area and edge, with faults drawn by chance where some are usual.

Points are across and along in mm: the straight edge at 0 across, the tail at 0 along. The shapes are from memory of how
hides look, and copied from none.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import ring_area
from docgen.lay.search import Chance
from docgen.resolve import Goods
from docgen.tables.hides import MEASURED_EVERY_MM

Shape = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hide:
    """One hide: its outline, its faults, and the parts of it that are poor (belly, shanks, neck end) and firm; without a
    firm part said, all that is not poor counts. `has_edge`: it has a straight edge at 0 across; else the
    backbone lies at `back_mm`. `is_example`: its faults are drawn by chance."""

    name: str
    outline: Shape
    faults: tuple[Shape, ...] = ()
    poor: tuple[Shape, ...] = ()
    firm: tuple[Shape, ...] = ()
    has_edge: bool = True
    back_mm: float = 0.0
    is_leather: bool = True
    is_example: bool = False

    @property
    def width_mm(self) -> float:
        return max(x for x, _ in self.outline)

    @property
    def length_mm(self) -> float:
        return max(y for _, y in self.outline)

    @property
    def area_mm2(self) -> float:
        return outline_area(self.outline)


@dataclass(frozen=True, slots=True)
class _Usual:
    """The outline of a kind and its poor parts, in shares of its width and length. `edge` is how much of its length the
    straight edge takes; of one without, the backbone lies at `back` of its width."""

    outline: Shape
    poor: tuple[Shape, ...] = ()
    edge: float = 1.0
    back: float = 0.0


_SIDE: Final = _Usual(
    outline=(
        *((0.0, 0.02), (0.0, 0.97), (0.2, 1.0), (0.4, 0.965), (0.5, 0.87), (0.72, 0.805), (0.95, 0.79), (0.98, 0.73)),
        *((0.82, 0.67), (0.86, 0.55), (0.88, 0.44), (0.82, 0.34), (0.78, 0.27), (0.9, 0.21), (1.0, 0.16), (0.93, 0.1)),
        *((0.7, 0.085), (0.48, 0.03), (0.2, 0.0)),
    ),
    poor=(
        (
            *((0.7, 0.0), (0.74, 0.2), (0.7, 0.34), (0.75, 0.45), (0.72, 0.6), (0.68, 0.72), (0.5, 0.84), (0.4, 1.0)),
            *((1.1, 1.0), (1.1, 0.0)),
        ),
    ),
    edge=0.95,
)
_WHOLE: Final = _Usual(
    outline=(
        *tuple((0.5 + x / 2, y) for x, y in _SIDE.outline[2:]),
        *tuple((0.5 - x / 2, y) for x, y in reversed(_SIDE.outline[2:])),
    ),
    poor=tuple(tuple((0.5 + side * x / 2, y) for x, y in _SIDE.poor[0]) for side in (1, -1)),
    back=0.5,
)
_USUAL: Final = {
    "side": _SIDE,
    "butt": _Usual(
        outline=(
            *((0.0, 0.01), (0.0, 0.99), (0.45, 1.0), (0.94, 0.99), (0.98, 0.8), (0.965, 0.6), (0.98, 0.4), (1.0, 0.2)),
            *((0.86, 0.05), (0.46, 0.0)),
        ),
        edge=0.98,
    ),
    "double-butt": _Usual(
        outline=(
            *((0.03, 0.06), (0.0, 0.25), (0.015, 0.55), (0.02, 0.8), (0.03, 0.99), (0.5, 1.0), (0.97, 0.99)),
            *((0.98, 0.8), (0.985, 0.55), (1.0, 0.25), (0.97, 0.06), (0.68, 0.0), (0.5, 0.04), (0.32, 0.0)),
        ),
        back=0.5,
    ),
    "shoulder": _Usual(
        outline=(
            *(
                (0.0, 0.03),
                (0.0, 0.93),
                (0.22, 1.0),
                (0.48, 0.96),
                (0.66, 0.85),
                (0.91, 0.76),
                (1.0, 0.62),
                (0.96, 0.42),
            ),
            *((0.99, 0.22), (0.95, 0.06), (0.54, 0.0)),
        ),
        poor=(((0.8, 0.0), (0.8, 1.0), (1.1, 1.0), (1.1, 0.0)),),
        edge=0.9,
    ),
    "double-shoulder": _Usual(
        outline=(
            *(
                (0.0, 0.04),
                (0.0, 0.95),
                (0.36, 1.0),
                (0.56, 0.94),
                (0.63, 0.81),
                (0.76, 0.71),
                (0.94, 0.66),
                (1.0, 0.57),
            ),
            *((0.94, 0.5), (1.0, 0.41), (0.92, 0.33), (0.76, 0.28), (0.63, 0.19), (0.56, 0.06), (0.36, 0.0)),
        ),
        poor=(((0.78, 0.2), (0.78, 0.8), (1.1, 0.8), (1.1, 0.2)),),
        edge=0.91,
    ),
    "whole": _WHOLE,
    "skin": _Usual(
        outline=(
            *((0.39, 0.0), (0.26, 0.06), (0.09, 0.08), (0.03, 0.18), (0.16, 0.28), (0.19, 0.46), (0.16, 0.64)),
            *(
                (0.03, 0.75),
                (0.07, 0.85),
                (0.23, 0.85),
                (0.3, 0.97),
                (0.5, 1.0),
                (0.7, 0.97),
                (0.77, 0.85),
                (0.93, 0.85),
            ),
            *((0.97, 0.75), (0.84, 0.64), (0.81, 0.46), (0.84, 0.28), (0.97, 0.18), (0.91, 0.08), (0.74, 0.06)),
            *((0.61, 0.0), (0.5, 0.03)),
        ),
        poor=(((-0.1, 0.0), (-0.1, 1.0), (0.19, 1.0), (0.19, 0.0)), ((0.81, 0.0), (0.81, 1.0), (1.1, 1.0), (1.1, 0.0))),
        back=0.5,
    ),
}


def usual_hide(goods: Goods, number: int, area_mm2: float = 0.0, seed: int = 0) -> Hide:
    """The `number`th hide of these goods, from 0, of their middle area or one that is said, with their share of faults."""
    usual = _USUAL[goods.sold]
    area_mm2 = area_mm2 or goods.middle_mm2
    stretch = (area_mm2 / goods.middle_mm2) ** 0.5
    if goods.measured_mm:
        outline = _taped(goods.measured_mm, usual.back, stretch)
        wide_mm, long_mm = (max(point[k] for point in outline) for k in (0, 1))
    else:
        long_mm = goods.edge_mm * stretch / usual.edge
        wide_mm = area_mm2 / (outline_area(usual.outline) * long_mm)
        outline = _scaled(usual.outline, wide_mm, long_mm)
    back_mm, firm_mm = usual.back * wide_mm, goods.firm_mm * stretch
    left_mm, right_mm = (back_mm - firm_mm / 2, back_mm + firm_mm / 2) if usual.back else (0.0, firm_mm)
    return Hide(
        name=str(number + 1),
        outline=outline,
        faults=tuple(draw_faults(outline, goods.faults, seed * 1009 + number)),
        poor=tuple(_scaled(shape, wide_mm, long_mm) for shape in usual.poor),
        firm=(((left_mm, 0.0), (right_mm, 0.0), (right_mm, long_mm), (left_mm, long_mm)),),
        has_edge=not usual.back,
        back_mm=back_mm,
        is_example=bool(goods.faults),
    )


def _scaled(shape: Shape, wide_mm: float, long_mm: float) -> Shape:
    return tuple((x * wide_mm, y * long_mm) for x, y in shape)


def _taped(measured_mm: Sequence[float], back: float, stretch: float) -> Shape:
    """The outline by widths from the straight edge, from the tail up; of a hide with its backbone inside, half of each
    on either side of it."""
    points = [(mm * stretch, k * MEASURED_EVERY_MM * stretch) for k, mm in enumerate(measured_mm)]
    if not back:
        return ((0.0, points[-1][1]), (0.0, 0.0), *points)
    middle = max(x for x, _ in points) / 2
    left = [(middle - x / 2, y) for x, y in reversed(points)]
    return (*left, *((middle + x / 2, y) for x, y in points))


def outline_area(shape: Sequence[tuple[float, float]]) -> float:
    """The area inside a closed outline in mm2."""
    return abs(ring_area(shape))


# A ten-sided round of radius 1, and turns by six angles: numbers that are the same everywhere, and need no sine.
_ROUND: Final = (
    *((1.0, 0.0), (0.809, 0.588), (0.309, 0.951), (-0.309, 0.951), (-0.809, 0.588)),
    *((-1.0, 0.0), (-0.809, -0.588), (-0.309, -0.951), (0.309, -0.951), (0.809, -0.588)),
)
_TURNS: Final = ((1.0, 0.0), (0.8, 0.6), (0.6, 0.8), (0.0, 1.0), (-0.6, 0.8), (-0.8, 0.6))


def draw_faults(outline: Shape, share: float, seed: int) -> Iterator[Shape]:
    """Faults by chance, oval and 6 to 42 by 6 to 76 mm from their middles, until they take this share of the outline."""
    chance, left_mm2 = Chance(seed * 7919 + 13), share * outline_area(outline)
    wide, long = int(max(x for x, _ in outline)), int(max(y for _, y in outline))
    while left_mm2 > 0:
        at = chance.below(wide), chance.below(long)
        short_mm, long_mm, (cos, sin) = 6 + chance.below(36), 6 + chance.below(70), _TURNS[chance.below(len(_TURNS))]
        if not is_inside(outline, at):
            continue
        fault = tuple(
            (at[0] + short_mm * x * cos - long_mm * y * sin, at[1] + short_mm * x * sin + long_mm * y * cos)
            for x, y in _ROUND
        )
        left_mm2 -= outline_area(fault)
        yield fault


def is_inside(shape: Shape, at: tuple[float, float]) -> bool:
    """Whether a point lies inside a closed outline: a line from it crosses an odd number of legs."""
    x, y = at
    inside = False
    for k, (ax, ay) in enumerate(shape):
        bx, by = shape[k - 1]
        if (ay <= y) != (by <= y) and ax + (y - ay) / (by - ay) * (bx - ax) > x:
            inside = not inside
    return inside
