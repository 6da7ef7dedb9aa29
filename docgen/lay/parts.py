"""What a plan cuts of one material -> kinds of pieces to be laid, with the part of the hide that each comes from."""

import math
from collections.abc import Iterator, Sequence
from functools import reduce
from operator import and_
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten
from docgen.lay.grid import Mask, inside_rows, make_mask, turn_mask
from docgen.lay.kinds import ANY, FIRM, GOOD, HIDDEN, POOR, SHOWN, STRAPS, Kind
from docgen.plan import CutItem, MaterialPlan, StrapItem

NEAR_MM: Final = 0.1
"""How far flattened outlines may lie from the drawn ones: the knife's gap is ten times as wide."""

SEWN_MM: Final = 8.0
"""A fault keeps so far inside the edge of what covers it, where the stitches are. Our choice."""

TURNS: Final = {"up": (0, 180), "across": (90, 270), "nap": (0,), "": (0, 90, 180, 270)}
"""How a piece may be turned, by the way that its least stretch lies: along the backbone, or with the nap, only upright."""

ZONES: Final = {"firm": FIRM, "good": GOOD, "any": ANY}

Outline = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Part:
    """`count` pieces of one line of the cutting list, its `number` there; `covered` are outlines under which a fault may
    lie."""

    number: int
    title: str
    outline: Outline
    count: int
    is_pair: bool = False
    lies: str = ""
    group: int = SHOWN
    zone: str = GOOD
    area_mm2: float = 0.0
    covered: tuple[Outline, ...] = ()


def list_parts(plan: MaterialPlan) -> tuple[Part, ...]:
    """What is cut of a material, in the order of the cutting list: straps, then pieces."""
    has_nap = plan.material.goods.has_nap
    straps = [_strap_part(number, item) for number, item in enumerate(plan.straps, start=1)]
    first = len(straps) + 1
    return (*straps, *(_piece_part(n, item, has_nap=has_nap) for n, item in enumerate(plan.items, start=first)))


def _strap_part(number: int, item: StrapItem) -> Part:
    """A strap as the strip that is taken off the edge: its ends are shaped afterwards."""
    wide, long = item.width_mm, item.length_mm
    return Part(
        number=number,
        title=item.title,
        outline=((0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long)),
        count=item.count,
        lies="up",
        group=HIDDEN if item.comes_from == "any" else STRAPS,
        zone=ZONES[item.comes_from],
        area_mm2=wide * long,
    )


def _piece_part(number: int, item: CutItem, *, has_nap: bool) -> Part:
    piece = item.piece
    cut_from = piece.cut_from or ("any" if piece.lines else "good")
    return Part(
        number=number,
        title=item.title,
        outline=_points(flatten(outline_path(piece.outline), NEAR_MM)),
        count=item.count,
        is_pair=item.is_pair,
        lies="nap" if has_nap and not piece.least_stretch else piece.least_stretch,
        group=HIDDEN if cut_from == "any" else SHOWN,
        zone=ZONES[cut_from],
        area_mm2=item.area_mm2,
        covered=tuple(
            _points(flatten(landing.outline, NEAR_MM)) for landing in piece.marks.landings if not landing.is_inside
        ),
    )


def _points(points: Sequence[tuple[float, float]]) -> Outline:
    """An outline without its first point again, in 64ths of a mm, so that the last bits of a sine do not count."""
    rounded = tuple((round(x * 64) / 64, round(y * 64) / 64) for x, y in points)
    return rounded[:-1] if len(rounded) > 1 and rounded[0] == rounded[-1] else rounded


def make_kinds(parts: Sequence[Part], cell_mm: float, gap_mm: float, *, has_zones: bool) -> list[tuple[Kind, int]]:
    """The kinds of all parts with their counts; the mirrored half of a pair is a kind of its own."""
    return [entry for part in parts for entry in _kinds_of(part, cell_mm, gap_mm, has_zones=has_zones)]


def _kinds_of(part: Part, cell_mm: float, gap_mm: float, *, has_zones: bool) -> Iterator[tuple[Kind, int]]:
    mirrored = part.count // 2 if part.is_pair else 0
    for is_mirrored, count in ((False, part.count - mirrored), (True, mirrored)):
        if not count:
            continue
        outline, *covered = (
            map(_mirror, (part.outline, *part.covered)) if is_mirrored else (part.outline, *part.covered)
        )
        drawn = make_mask(outline, cell_mm, gap_mm)
        bare = _uncover(drawn, outline, covered, cell_mm)
        lies = _turn_both(drawn, bare, TURNS[part.lies], cell_mm)
        first = POOR if part.group == HIDDEN else ""
        yield (
            Kind(
                number=part.number,
                is_mirrored=is_mirrored,
                lies=tuple(mask for mask, _ in lies),
                bare=tuple(mask for _, mask in lies),
                area_mm2=part.area_mm2,
                short_mm=min(drawn.width, drawn.height) * cell_mm,
                long_mm=max(drawn.width, drawn.height) * cell_mm,
                zone=part.zone if has_zones else ANY,
                first=first if has_zones else "",
                group=part.group,
                strip=(max(x for x, _ in drawn.points) + gap_mm / 2) / cell_mm,
                wider=_widen(drawn) if part.group == STRAPS else None,
            ),
            count,
        )


def _widen(mask: Mask) -> Mask:
    """The mask of a shape that begins anywhere within its first cell."""
    return Mask(mask.width + 1, tuple(row | row << 1 for row in mask.rows), mask.points)


def _turn_both(drawn: Mask, bare: Mask, turns: Sequence[int], cell_mm: float) -> list[tuple[Mask, Mask]]:
    """The lies of a mask that differ, each with what is bare of it."""
    lies: list[tuple[Mask, Mask]] = []
    for turn in turns:
        mask, rest = turn_mask(drawn, turn, cell_mm), turn_mask(bare, turn, cell_mm)
        if not any(mask.is_like(other) and rest.is_like(own) for other, own in lies):
            lies.append((mask, mask if bare is drawn else rest))
    return lies


def _uncover(mask: Mask, outline: Outline, covered: Sequence[Outline], cell_mm: float) -> Mask:
    """The mask without the cells that another piece covers, up to where that is sewn."""
    if not covered:
        return mask
    (x, y), (at_x, at_y) = outline[0], mask.points[0]
    rows = list(mask.rows)
    steps = math.ceil(SEWN_MM / cell_mm)
    for other in covered:
        moved = [(px - x + at_x, py - y + at_y) for px, py in other]
        inside = inside_rows(moved, cell_mm, mask.width, mask.height)
        for row, cells in enumerate(_shrink(inside, steps)):
            rows[row] &= ~cells
    return Mask(mask.width, tuple(rows), mask.points)


def _shrink(rows: Sequence[int], steps: int) -> list[int]:
    """The cells with so many others set on every side."""
    found = list(rows)
    for row, cells in enumerate(rows):
        for by in range(1, steps + 1):
            cells &= rows[row] << by & rows[row] >> by
        found[row] = cells
    edged = [0] * steps + found + [0] * steps
    return [reduce(and_, edged[row : row + 2 * steps + 1]) for row in range(len(found))]


def _mirror(outline: Outline) -> Outline:
    return tuple((-x, y) for x, y in reversed(outline))
