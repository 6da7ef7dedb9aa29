"""A seam that is picked out in a picture: where it begins, the way it goes, and how much of it is seen."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from docgen.assemble import Body, BodyLine, Copy, Flat, Span, Vec
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.geometry.vector import scale

WHOLE = 1 - 1e-6
CLOSED_MM = 1.0  # a row whose ends lie no farther apart goes round
Path = tuple[Point, ...]
Seen = tuple[Flat, Flat, Sequence[Span]]
"""A line in the view, and the shares of it that are seen."""
See = Callable[[int, BodyLine], Seen]


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Where a seam begins on paper; the stretches of it that are seen, in the way that it goes: the first begins there
    where that is seen (`is_begun`)."""

    seam: str
    at: Point
    runs: tuple[Path, ...]
    is_begun: bool

    def scaled(self, share: float) -> Start:
        """The same in a drawing so many times as large."""
        runs = tuple(tuple(scale(at, share) for at in run) for run in self.runs)
        return replace(self, at=scale(self.at, share), runs=runs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The same in the measure of the view, with the share of its length that is seen on the part where most of it is."""

    seam: str
    at: Point
    runs: tuple[Path, ...]
    is_begun: bool
    share: float

    def put(self, put: Callable[[float, float], Point]) -> Start:
        runs = tuple(tuple(put(*at) for at in run) for run in self.runs)
        return Start(seam=self.seam, at=put(*self.at), runs=runs, is_begun=self.is_begun)


def find_row(seam: str, begun_on: Copy, bodies: Sequence[tuple[int, Body]], see: See) -> Row | None:
    """The row of a seam on the part that it is said to begin on, where its beginning is seen there, else on another that
    shows it; None where no part has it. `bodies` by their places in the drawing."""
    found = [(place, body.copy, lines) for place, body in bodies if (lines := _row_of(body, seam))]
    own = next((lines for _, copy, lines in found if copy == begun_on), None)
    if own is None:
        return None
    found.sort(key=lambda item: item[1] != begun_on)
    origin, is_round = own[0].start, math.dist(own[0].start, own[-1].end) < CLOSED_MM
    rows = [
        _read(seam, [see(place, line) for line in _from(lines, origin)])
        for place, _, lines in found
        if lines is own or not is_round
    ]
    best = next((row for row in rows if row.is_begun), rows[0])
    return replace(best, share=max(row.share for row in rows))


def _row_of(body: Body, seam: str) -> Sequence[BodyLine]:
    """The first row of a seam on a part."""
    lines = [line for line in body.lines if line.kind == "stitch" and line.name == seam and not line.is_through]
    begun = [k for k, line in enumerate(lines) if line.is_start]
    return lines[begun[0] : begun[1] if len(begun) > 1 else len(lines)] if begun else []


def _from(lines: Sequence[BodyLine], origin: Vec) -> Sequence[BodyLine]:
    """The row in the order in which it is sewn: partners may be drawn from the other end."""
    if math.dist(lines[-1].end, origin) < math.dist(lines[0].start, origin):
        return [replace(line, start=line.end, end=line.start) for line in reversed(lines)]
    return lines


def _read(seam: str, lines: Sequence[Seen]) -> Row:
    runs: list[list[Point]] = []
    seen_mm = whole_mm = 0.0
    is_open = False
    for start, end, seen in lines:
        long = math.dist(start[:2], end[:2])
        whole_mm += long
        for span in seen:
            seen_mm += long * (span[1] - span[0])
            first, last = _ends(start, end, span)
            if is_open and span[0] < 1 - WHOLE:
                runs[-1].append(last)
            else:
                runs.append([first, last])
            is_open = span[1] > WHOLE
        is_open = is_open and bool(seen)
    x, y, _ = lines[0][0]
    return Row(
        seam=seam,
        at=Point(x, y),
        runs=tuple(map(tuple, runs)),
        is_begun=bool(lines[0][2]) and lines[0][2][0][0] < 1 - WHOLE,
        share=seen_mm / whole_mm if whole_mm else 0.0,
    )


def _ends(start: Flat, end: Flat, span: Span) -> tuple[Point, Point]:
    (x, y, _), (to_x, to_y, _) = start, end
    first, last = (Point(x + (to_x - x) * share, y + (to_y - y) * share) for share in span)
    return first, last
