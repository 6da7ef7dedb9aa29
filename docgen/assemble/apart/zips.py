"""Zips in the mouth of a finished article as they are drawn: from the rows of both tapes to the teeth between them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from docgen.assemble.apart.bodies import Body, BodyFace, BodyLine
from docgen.assemble.apart.metal_bodies import MetalBody
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.vectors import Vec, along, apart, direction, inner, length, middle, minus, outer, plus, times
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, distance, scale, subtract, transform_point
from docgen.resolve import Seam, Trimming, by_name, find_windows

SPOTS = 24  # along a zip at which it is looked up where it lies
TOOTH_MM, APART_MM = 3.0, 1.3  # how far teeth reach on to a tape; on paper, how far apart they are drawn: our choice
LOOK_EVERY_MM = 10.0  # along it, where it is looked up whether any of it is seen
CLEAR_MM = 5.0  # from the teeth to an edge of which nothing tells how far it lies over its tape: our choice
SLACK_MM = 3.0  # so much wider than the tapes are a mouth may be drawn, and is pulled together: our choice
Row = Sequence[Vec]


class ZipBody(MetalBody):
    """A zip: a face for each stretch of both tapes, their edges, and teeth along the middle. Of one that `lies` in a window
    the edges are those of that."""

    def __init__(self, metal: Metal, title: str, rows: tuple[Row, Row], middle: Row, *, lies: bool) -> None:
        super().__init__(metal, title)
        self.rows, self.middle, self.lies = rows, middle, lies

    @cached_property
    def faces(self) -> tuple[BodyFace, ...]:
        quads = [
            (at, to, its, own)
            for row in self.rows
            for (at, to), (own, its) in zip(pairwise(row), pairwise(self.middle), strict=True)
        ]
        return tuple(BodyFace(k, (), corners, _normal(corners)) for k, corners in enumerate(quads))

    @cached_property
    def lines(self) -> tuple[BodyLine, ...]:
        return (*self._edges(), *self._teeth(LOOK_EVERY_MM))

    def lines_for(self, scale: float) -> Sequence[BodyLine]:
        """Its edges, and teeth as far apart as they are told apart on paper."""
        return (*self._edges(), *self._teeth(APART_MM / scale))

    def _edges(self) -> Iterator[BodyLine]:
        legs = len(self.middle) - 1
        for k, (at, to) in enumerate(pairwise(self.middle if not self.lies else ())):
            yield BodyLine("edge", "", at, to, (k, k + legs))
        for side, row in enumerate(self.rows if not self.lies else ()):
            for end, band in ((0, 0), (-1, legs - 1)):
                yield BodyLine("edge", "", row[end], self.middle[end], (side * legs + band,))

    def _teeth(self, apart_mm: float) -> Iterator[BodyLine]:
        legs, left_mm = len(self.middle) - 1, apart_mm / 2
        for k, (at, to) in enumerate(pairwise(self.middle)):
            far, long_mm = minus(to, at), length(minus(to, at))
            while left_mm < long_mm:
                share = left_mm / long_mm
                foot = along(at, far, share)
                for side, row in enumerate(self.rows):
                    tape = minus(along(row[k], minus(row[k + 1], row[k]), share), foot)
                    wide_mm = length(tape)
                    if wide_mm > TOOTH_MM:
                        tip = along(foot, tape, TOOTH_MM / wide_mm)
                        yield BodyLine("metal", self.metal.hardware, foot, tip, (side * legs + k,))
                left_mm += apart_mm
            left_mm -= long_mm


def _normal(corners: Sequence[Vec]) -> Vec:
    return direction(outer(minus(corners[1], corners[0]), minus(corners[2], corners[0])))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tape:
    """The row by which a tape is sewn to a part, the way out of the part there, and how far it is to the teeth."""

    copy: Copy
    row: Row
    out: Vec
    half_mm: float


def find_zips(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[ZipBody]:
    """The zips of which each tape is sewn in by one seam, to one outer part that is drawn, and those behind windows."""
    shown = {copy: body for copy, body in bodies.items() if not body.placed.is_inner}
    for item in (item for item in build.trimmings if item.kind == "zip"):
        sides = [list(_tape_rows(build, shown, item, side)) for side in ("left", "right")]
        if all(len(found) == 1 for found in sides):
            one, other = (found[0] for found in sides)
            is_along = apart(one.row[0], other.row[0]) <= apart(one.row[0], other.row[-1])
            rows = one.row, other.row if is_along else other.row[::-1]
            out, half_mm = plus(one.out, other.out), (one.half_mm + other.half_mm) / 2
            teeth = _meet(rows, out, half_mm, is_closed=one.copy == other.copy)
            if teeth is not None:
                yield _make(item, one.copy, rows, teeth, lies=False)
        for body in shown.values():
            yield from (_make(item, body.copy, rows, teeth, lies=True) for rows, teeth in _find_windows(body, item))


def _make(item: Trimming, copy: Copy, rows: tuple[Row, Row], teeth: Row, *, lies: bool) -> ZipBody:
    corners = rows[0][0], rows[0][-1], teeth[-1], teeth[0]
    metal = Metal(
        hardware=item.name,
        part=copy,
        shape="bar",
        at=teeth[0],
        axis=_normal(corners),
        way=direction(minus(teeth[-1], teeth[0])),
        wide_mm=item.width_mm,
    )
    return ZipBody(metal, item.what, rows, teeth, lies=lies)


def _find_windows(body: Body, item: Trimming) -> Iterator[tuple[tuple[Row, Row], Row]]:
    """The long sides of the windows of a part behind which a zip is laid, and the line in the middle between them."""
    for strip in body.placed.item.strips if not body.placed.item.is_mirrored else ():
        if all(line.goods != item.name for line in strip.piece.dividers):
            continue
        for slits in find_windows(strip.piece.marks.slits):
            a, b, c, d = (transform_point(slit.start, strip.move) for slit in slits)
            at, to, over = (a, b, c) if distance(a, b) >= distance(b, c) else (b, c, d)
            wide = subtract(over, to)
            yield (
                (_lay(body, at, to), _lay(body, add(at, wide), over)),
                _lay(body, *(add(end, scale(wide, 0.5)) for end in (at, to))),
            )


def _lay(body: Body, start: Point, end: Point) -> Row:
    """A line on a part in space, with each bend that it goes across."""
    legs = [*body.placed.surface.split((start, end))]
    return [body.point(legs[0][1], legs[0][0]), *(body.point(to, band) for band, _, to in legs)]


def _tape_rows(build: Assembled, bodies: Mapping[Copy, Body], item: Trimming, side: str) -> Iterator[_Tape]:
    """The rows by which a tape of a zip is sewn to parts."""
    seams = by_name(build.seams)
    for once in build.assembly.sewn:
        seam = seams[once.seam]
        if not any(use.name == item.name and use.side == side for use in seam.trimmings):
            continue
        half_mm = _half_mm(build, seam, item)
        for copy in dict.fromkeys(once.sides):
            body = bodies.get(copy)
            if body is not None and half_mm > 0:
                legs = [line for line in body.lines if line.kind == "stitch" and line.name == seam.name]
                points = [legs[0].start, *(leg.end for leg in legs)] if legs else []
                if len(points) > 1 and not any(leg.is_through for leg in legs):
                    yield _Tape(copy=copy, row=_spread(points), out=_way_out(body, points), half_mm=half_mm)


def _half_mm(build: Assembled, seam: Seam, item: Trimming) -> float:
    """From the row to the teeth: half of both tapes together without what lies beyond the row. Where no lap tells how far
    an edge lies over its tape, it is drawn clear of the teeth, no farther."""
    inset_mm = next(stitch.inset_mm for stitch in build.stitches if stitch.name == seam.stitch)
    lap_mm = max(side.lap_mm for side in seam.sides)
    if not (seam.is_turned or lap_mm):
        return inset_mm + CLEAR_MM
    return item.width_mm / 2 - (inset_mm if seam.is_turned else lap_mm - inset_mm)


def _spread(points: Sequence[Vec]) -> Row:
    """So many points evenly along a line; the two ends of one that is straight."""
    far = [0.0]
    for at, to in pairwise(points):
        far.append(far[-1] + apart(at, to))
    if far[-1] - apart(points[0], points[-1]) < 1e-3 * far[-1]:
        return points[0], points[-1]
    found, k = [], 0
    for spot in range(SPOTS + 1):
        mm = far[-1] * spot / SPOTS
        while k < len(points) - 2 and far[k + 1] < mm:
            k += 1
        share = (mm - far[k]) / ((far[k + 1] - far[k]) or 1.0)
        found.append(along(points[k], minus(points[k + 1], points[k]), share))
    return found


def _way_out(body: Body, points: Sequence[Vec]) -> Vec:
    """The way from the middle of a part to its row, square to that."""
    centre = middle([at for face in body.faces for at in face.corners])
    run, far = direction(minus(points[-1], points[0])), minus(points[len(points) // 2], centre)
    return direction(minus(far, times(run, inner(far, run))))


def _meet(rows: tuple[Row, Row], out: Vec, half_mm: float, *, is_closed: bool) -> Row | None:
    """Where the teeth lie: as far from both rows as the tapes are wide, beyond them where they lie nearer; None where they
    are too far apart for that, or their rows are not alike, and where a part that goes round is drawn closed without it."""
    if len(rows[0]) != len(rows[1]) or length(out) < 1e-6:
        return None
    found = []
    for at, to in zip(*rows, strict=True):
        far = minus(to, at)
        wide_mm = length(far)
        if wide_mm > 2 * half_mm + SLACK_MM or (is_closed and wide_mm < half_mm):
            return None
        up = minus(out, times(far, inner(out, far) / wide_mm**2)) if wide_mm > 1e-6 else out
        high_mm = math.sqrt(max(half_mm**2 - (wide_mm / 2) ** 2, 0.0))
        found.append(along(along(at, far, 0.5), direction(up), high_mm))
    return found
