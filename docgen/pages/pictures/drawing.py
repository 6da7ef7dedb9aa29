"""Bodies in space -> what is seen of them on paper: lines by their kinds, and where each body shows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType

from docgen.assemble import (
    INWARD_MM,
    Body,
    BodyFace,
    BodyHole,
    BodyLine,
    BoxBody,
    Copy,
    Flat,
    MetalBody,
    Span,
    Vec,
    inner,
)
from docgen.classes import dataclass
from docgen.geometry import vector
from docgen.geometry.shapes import Point
from docgen.pages.pictures.broken import break_legs, break_straps, trim
from docgen.pages.pictures.covered import is_covered, is_outer
from docgen.pages.pictures.hatching import across, slope_of, uncovered
from docgen.pages.pictures.hide import Hider
from docgen.pages.pictures.legs import Leg, break_off, frame_legs, is_beyond
from docgen.pages.pictures.rows import Row, Start, find_row
from docgen.pages.pictures.under import bare_spans, both, list_over
from docgen.pages.pictures.view import Frame, View

LEAST_COSINE = -0.02  # between the ray and a face whose flesh side is seen
BESIDE_MM = 0.4  # on paper, from an edge, where it is looked up whether anything lies there
NOTHING_MM = 1e-6
LEAST_MM = 0.1  # on paper; what is shorter is not drawn
LEAST_WIDE_MM = 0.85  # on paper: two outlines of 0.5 mm with 0.35 mm between them
NARROW_MM = 2.5  # on paper: within that a row between two edges would run together with them
HATCH_MM = 1.7  # on paper, between the lines that mark a flesh side
BROKEN_OVER, BROKEN_AT = 0.7, 0.4  # of the height of all else: straps that arch higher are broken off there
BETWEEN = "hatch between"  # every other line of these, left out where the drawing is made smaller
CAPS_DIFFER = 1.25  # so many times as large, against its part, a cap is drawn anew: our choice
THINNED_BELOW = 0.75  # of the size that they are drawn for
NOWHERE: Vec = (0.0, 0.0, 0.0)

Window = tuple[float, float, float, float]
"""A box in the measure of the view: from left to right, from bottom to top."""

Spot = tuple[float, float, float]
"""A place of a part that is seen, in the measure of space, and how far it lies from the outline."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A body in a picture: moved by `shift`; one that `is_new` is what the picture is about. Stitches are drawn of the
    `seams` alone, None for all; those of `picked` are picked out. The flesh side is hatched unless something lines it, and
    not where a hem or a part lies on it (`covered`), nor outside of the seams along which the edge of a wall does
    (`flanged`). Of one that `is_lined` the inner side is not in sight: its lining is, which is not drawn, and hides the
    rows `beneath` it, joints and slits, and the holes that are `shut` there, by their numbers."""

    body: Body | MetalBody
    shift: Vec = NOWHERE
    is_new: bool = True
    seams: frozenset[str] | None = None
    picked: frozenset[str] = frozenset()
    is_hatched: bool = True
    flanged: frozenset[str] = frozenset()
    covered: tuple[tuple[Point, ...], ...] = ()
    is_lined: bool = False
    beneath: frozenset[str] = frozenset()
    shut: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Lines on paper from (0, 0) to the size, the faces that hide each other, in the measure of space, and places
    of each part that are seen, as far as they were asked for; of `lined` faces the lining is seen."""

    legs: tuple[Leg, ...]
    wide_mm: float
    high_mm: float
    frame: Frame
    hider: Hider = field(hash=False)
    owners: tuple[int, ...]
    spots: dict[int, list[Spot]] = field(hash=False)
    lined: frozenset[int] = frozenset()
    starts: tuple[Start, ...] = ()

    def scaled(self, share: float) -> Drawn:
        """The same drawing so many times as large."""
        return replace(
            self,
            legs=tuple(
                (kind, vector.scale(start, share), vector.scale(end, share))
                for kind, start, end in self.legs
                if share >= THINNED_BELOW or not kind.endswith(BETWEEN)
            ),
            wide_mm=self.wide_mm * share,
            high_mm=self.high_mm * share,
            frame=replace(self.frame, scale=self.frame.scale * share),
            starts=tuple(one.scaled(share) for one in self.starts),
        )


class Drawing:
    """One picture while it is drawn; it does not leave this module."""

    def __init__(
        self,
        shown: Sequence[Shown],
        view: View,
        links: Sequence[tuple[Vec, Vec]] = (),
        begun_on: Mapping[str, Copy] = MappingProxyType({}),
        window: Window | None = None,
        unmarked: frozenset[str] = frozenset(),
    ) -> None:
        """`begun_on` tells of seams that are picked out on which part they are said to begin, and of `unmarked` ones that
        is not drawn; of a `window` nothing is drawn but what lies in it."""
        self.unmarked = unmarked
        self.broken = break_straps([(one.body, one.shift) for one in shown], view) if window is None else {}
        shown = [replace(one, body=self.broken[k].body) if k in self.broken else one for k, one in enumerate(shown)]
        self.shown, self.view, self.links, self.window = shown, view, links, window
        self.framed: tuple[Window, ...] = ()
        self.owners: list[int] = []
        self.numbers: dict[tuple[int, int], int] = {}
        faces: list[tuple[list[Flat], float]] = []
        self.cosines: list[float] = []
        for place, one in enumerate(shown):
            for face in one.body.faces:
                self.numbers[place, face.band] = len(faces)
                cosine = inner(face.grain, view.eye)
                faces.append(([self.flat(at, one.shift) for at in face.corners], cosine))
                self.cosines.append(cosine)
                self.owners.append(place)
            for face in one.body.bridges if isinstance(one.body, Body) else ():
                faces.append(([self.flat(at, one.shift) for at in face.corners], inner(face.grain, view.eye)))
                self.cosines.append(faces[-1][1])
                self.owners.append(place)
        self.over = list_over([(one.body, one.shift) for one in shown])
        self.flats = [flats for flats, _ in faces]
        self.hider = Hider(faces)
        self.rows = [*self._find_rows(begun_on)]
        self._drawn: dict[float, Drawn] = {}

    def flat(self, at: Vec, shift: Vec) -> Flat:
        return self.view.flat((at[0] + shift[0], at[1] + shift[1], at[2] + shift[2]))

    def _find_rows(self, begun_on: Mapping[str, Copy]) -> Iterator[Row]:
        bodies = [(place, one.body) for place, one in enumerate(self.shown) if isinstance(one.body, Body)]
        for seam, copy in begun_on.items():
            picked = [(place, body) for place, body in bodies if seam in self.shown[place].picked]
            row = find_row(seam, copy, picked, lambda place, line: self.seen(place, self.shown[place], line))
            if row is not None:
                yield row

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in the measure of space."""
        return self._box[1] - self._box[0], self._box[3] - self._box[2]

    @cached_property
    def _box(self) -> Window:
        if self.window is not None:
            return self.window
        points = [(x, y) for flats in self.flats for x, y, _ in flats]
        for one in self.shown:
            if isinstance(one.body, MetalBody):
                points += [self.flat(line.start, one.shift)[:2] for line in one.body.lines]
        points += [self.flat(at, NOWHERE)[:2] for link in self.links for at in link]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), max(xs), min(ys), min(max(ys), self._cut)

    @cached_property
    def _cut(self) -> float:
        """The height above which straps that arch far over all else, and over where they begin, are broken off; none where
        nothing does."""
        firm: list[float] = []
        feet: dict[int, float] = {}
        for flats, owner in zip(self.flats, self.owners, strict=True):
            ys = [y for _, y, _ in flats]
            if _is_firm(self.shown[owner].body):
                firm += ys
            elif isinstance(self.shown[owner].body, Body):
                feet[owner] = min(*ys, feet.get(owner, math.inf))
        if not firm:
            return math.inf
        high, top = max(firm) - min(firm), max(*firm, *feet.values())
        tallest = max(y for flats in self.flats for _, y, _ in flats)
        return top + BROKEN_AT * high if tallest > top + BROKEN_OVER * high else math.inf

    def scale_for(self, wide_mm: float, high_mm: float) -> float:
        """The largest scale at which it fits."""
        return min(wide_mm / max(self.size[0], 1e-6), high_mm / max(self.size[1], 1e-6))

    def draw(self, scale: float) -> Drawn:
        """At a scale, once; what is hidden is found at the first that is asked for."""
        if not self._drawn:
            self._drawn[scale] = self._draw_all(scale)
        if scale not in self._drawn:
            its, first = next(iter(self._drawn.items()))
            are_alike = all(self._thin_at(scale, mm) == self._thin_at(its, mm) for mm in (LEAST_WIDE_MM, NARROW_MM))
            is_new = not are_alike or self._do_caps_differ(scale, its)
            self._drawn[scale] = self._draw_all(scale) if is_new else first.scaled(scale / its)
        return self._drawn[scale]

    def _thin_at(self, scale: float, wide_mm: float = LEAST_WIDE_MM) -> frozenset[int]:
        """The places of bodies that are narrower than that on paper: their two edges would be one bar, or with a row
        between them."""
        bodies = ((place, one.body) for place, one in enumerate(self.shown))
        return frozenset(k for k, body in bodies if isinstance(body, Body) and body.wide_mm * scale < wide_mm)

    def _do_caps_differ(self, scale: float, other: float) -> bool:
        """Whether a cap is grown far more at one scale than at the other: it would be scaled with the drawing."""
        caps = [one.body for one in self.shown if not isinstance(one.body, Body)]
        return any(not 1 / CAPS_DIFFER < cap.growth(scale) / cap.growth(other) < CAPS_DIFFER for cap in caps)

    def glance(self, scale: float) -> Drawn:
        """What is seen where, without a line."""
        return Drawn(
            legs=(),
            wide_mm=self.size[0] * scale,
            high_mm=self.size[1] * scale,
            frame=Frame(scale=scale, left=self._box[0], bottom=self._box[2]),
            hider=self.hider,
            owners=tuple(self.owners),
            spots={},
            lined=frozenset(self._find_lined()),
        )

    def _draw_all(self, scale: float) -> Drawn:
        drawn = self.glance(scale)
        frame, wide, high = drawn.frame, drawn.wide_mm, drawn.high_mm
        thin = self._thin_at(scale)
        legs = [
            leg
            for place, one in enumerate(self.shown)
            for leg in (self._draw_thin if place in thin else self._draw)(place, one, frame)
        ]
        legs += [leg for link in self.links for leg in self._link(link, frame)]
        for k, broken in self.broken.items():
            legs += break_legs(*(frame.put(*self.flat(at, self.shown[k].shift)[:2]) for at in broken.corners))
        if self.window is not None:
            legs = [*frame_legs(legs, wide, high)]
        elif self._cut != math.inf:
            legs = [*break_off(legs, high)]
        for framed in self.framed:
            (left, bottom), (right, top) = (
                (min(max(x, self._box[0]), self._box[1]), min(max(y, self._box[2]), self._box[3]))
                for x, y in ((framed[0], framed[2]), (framed[1], framed[3]))
            )
            corners = [frame.put(x, y) for x, y in ((left, bottom), (right, bottom), (right, top), (left, top))]
            legs += [("frame", at, to) for at, to in pairwise((*corners, corners[0]))]
        starts = tuple(row.put(frame.put) for row in self.rows if row.seam not in self.unmarked)
        return replace(drawn, legs=tuple(legs), starts=starts)

    def _find_lined(self) -> Iterator[int]:
        """The faces that bear no name: seen from the side on which their lining lies, or round folds, in one place."""
        yield from {*range(len(self.owners))} - {*self.numbers.values()}
        for place, one in enumerate(self.shown):
            if one.is_lined and isinstance(one.body, Body):
                for band in {face.band for face in one.body.faces}:
                    if inner(one.body.placed.out(band), self.view.eye) < 0:
                        yield self.numbers[place, band]

    def _draw(self, place: int, one: Shown, frame: Frame) -> Iterator[Leg]:
        is_narrow = isinstance(one.body, Body) and one.body.is_strap and one.body.wide_mm * frame.scale < NARROW_MM
        for line in one.body.lines if isinstance(one.body, Body) else one.body.lines_for(frame.scale):
            kind = self._kind(place, one, line)
            if kind and not (is_narrow and kind == "stitch"):
                yield from self._draw_line(place, one, line, kind, frame)
        for k, hole in enumerate(one.body.holes):
            if k not in one.shut or is_outer(one.body, hole.band, self.view.eye):
                yield from self._draw_hole(place, one, hole, frame)
        for face in one.body.faces:
            number = self.numbers[place, face.band]
            if one.is_hatched and isinstance(one.body, Body | BoxBody) and self.cosines[number] < LEAST_COSINE:
                yield from self._hatch(one, one.body, face, number, frame)

    def _draw_thin(self, place: int, one: Shown, frame: Frame) -> Iterator[Leg]:
        """A body that is no wider than two lines on paper: its middle, and what is sewn of it."""
        if isinstance(one.body, Body):
            for line in one.body.middle:
                yield from self._draw_line(place, one, line, "edge", frame)
            for line in one.body.lines:
                if line.kind == "stitch" and line.name in one.picked:
                    yield from self._draw_line(place, one, line, "picked", frame)

    def _kind(self, place: int, one: Shown, line: BodyLine) -> str:
        """What a line is drawn as; "" where it is not."""
        if is_covered(one.body, line, one.beneath, self.view.eye, is_lined=one.is_lined):
            return ""
        if line.kind == "bend":
            mine, its = (self.cosines[self.numbers[place, band]] for band in line.bands)
            return "edge" if mine * its < 0 or line.is_sharp else ""
        if line.kind == "hem":
            is_behind = self.cosines[self.numbers[place, line.bands[0]]] < LEAST_COSINE
            return "edge" if is_behind and one.is_hatched else ""
        if line.kind == "stitch":
            is_there = one.seams is None or line.name in one.seams
            if line.name in one.picked:
                return "picked"
            return "stitch" if is_there and not line.is_edge else ""
        return "" if line.name and line.name in one.picked else line.kind  # of an edge that is sewn its row is drawn

    def _is_beneath(self, body: Body, line: BodyLine) -> bool:
        """Whether a row lies on the inner side of a body alone, of which the outer one is seen."""
        is_inner = line.kind == "stitch" and line.name in body.placed.item.inner_rows
        return is_inner and is_outer(body, line.bands[0], self.view.eye)

    def _draw_hole(self, place: int, one: Shown, hole: BodyHole, frame: Frame) -> Iterator[Leg]:
        """A hole, whole where its middle is seen."""
        flats = [self.flat(at, one.shift) for at in hole.rim]
        x, y, near = self.flat(hole.middle, one.shift)
        own = self.numbers[place, hole.band]
        front = self.hider.front_at(x, y, near)
        if front is not None and front[0] != own and front[1] > near + self.hider.margin(front[0]):
            return
        kind = "hole" if one.is_new else "old hole"
        for p, q in pairwise(flats):
            yield kind, frame.put(p[0], p[1]), frame.put(q[0], q[1])

    def seen(self, place: int, one: Shown, line: BodyLine) -> tuple[Flat, Flat, Sequence[Span]]:
        """A line in the view, and the shares of it that are seen."""
        start, end = self.flat(line.start, one.shift), self.flat(line.end, one.shift)
        if isinstance(one.body, Body) and self._is_beneath(one.body, line):
            return start, end, ()
        own = [self.numbers[place, band] for band in line.bands]
        (ix, iy, iz), by = line.inward, INWARD_MM
        dx, dy, dw = self.view.flat((ix * by, iy * by, iz * by))
        tried = [(x + dx, y + dy, near + dw) for x, y, near in (start, end)]
        return start, end, self.hider.seen(tried[0], tried[1], own)

    def _draw_line(self, place: int, one: Shown, whole: BodyLine, kind: str, frame: Frame) -> Iterator[Leg]:
        if (line := trim(self.broken.get(place), whole)) is None:
            return
        start, end, seen = self.seen(place, one, line)
        if self.window is not None and is_beyond(self.window, start, end):
            return
        if line.kind == "stitch" and (over := self.over.get(place)) and isinstance(one.body, Body):
            seen = [*both(seen, bare_spans(one.body, line, over, self.view.eye))]
        for begin, finish in seen:
            p, q = _between(start, end, begin), _between(start, end, finish)
            a, b = frame.put(*p), frame.put(*q)
            short = LEAST_MM if finish - begin < 1 else NOTHING_MM  # chords of a small curve are short too
            if math.dist(a, b) < short:
                continue
            yield self._weigh(one, kind, p, q, frame), a, b

    def _weigh(self, one: Shown, kind: str, p: tuple[float, float], q: tuple[float, float], frame: Frame) -> str:
        """The kind of line on paper: what is not new is fine, an edge with nothing on one side of it is an outline."""
        if kind != "edge":
            return kind if one.is_new or kind == "picked" else f"old {kind}"
        if not one.is_new:
            return "old edge"
        long = math.dist(p, q)
        by = BESIDE_MM / frame.scale / long
        ox, oy = -(q[1] - p[1]) * by, (q[0] - p[0]) * by
        x, y = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
        is_inside = self.hider.covers(x + ox, y + oy) and self.hider.covers(x - ox, y - oy)
        return "edge" if is_inside else "outline"

    def _hatch(self, one: Shown, body: Body | BoxBody, face: BodyFace, number: int, frame: Frame) -> Iterator[Leg]:
        """Slanting lines on the piece, which run on from band to band."""
        heading = body.heading if isinstance(body, BoxBody) else body.placed.surface.heading
        right, up = (self.view.flat(heading(way, body.largest_band)) for way in (Point(1.0, 0.0), Point(0.0, 1.0)))
        slope = slope_of(Point(*right[:2]), Point(*up[:2]))
        gap = HATCH_MM / frame.scale * math.hypot(1.0, slope)
        offs = [y - slope * x for x, y in face.ring]
        kinds = ("hatch", BETWEEN) if one.is_new else ("old hatch", f"old {BETWEEN}")
        own = [*body.plain, *(body.margins(one.flanged) if one.flanged else ())] if isinstance(body, Body) else []
        bare = [*own, *one.covered]
        for k in range(math.ceil(min(offs) / gap), math.floor(max(offs) / gap) + 1):
            for start, end in uncovered(across(face.ring, k * gap, slope), bare, k * gap, slope):
                ends = [self.flat(body.point(at, face.band), one.shift) for at in (start, end)]
                for begin, finish in self.hider.seen(ends[0], ends[1], (number,)):
                    a = frame.put(*_between(ends[0], ends[1], begin))
                    b = frame.put(*_between(ends[0], ends[1], finish))
                    if math.dist(a, b) >= 2 * LEAST_MM:
                        yield kinds[k % 2], a, b

    def _link(self, link: tuple[Vec, Vec], frame: Frame) -> Iterator[Leg]:
        start, end = self.flat(link[0], NOWHERE), self.flat(link[1], NOWHERE)
        for begin, finish in self.hider.seen(start, end):
            a, b = frame.put(*_between(start, end, begin)), frame.put(*_between(start, end, finish))
            if math.dist(a, b) >= LEAST_MM:
                yield "link", a, b


def _is_firm(body: Body | MetalBody) -> bool:
    """Whether it is no strap that arches, nor hardware, which may be on one."""
    return isinstance(body, Body) and body.placed.how != "arches"


def _between(start: Flat, end: Flat, share: float) -> tuple[float, float]:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share
