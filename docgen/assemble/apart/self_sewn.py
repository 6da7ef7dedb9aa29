"""A piece that a step folds and sews to itself alone, on its way there: part way bent, with the edges that meet apart; and
one with others on it that a step only folds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.apart.bodies import Body, BodyLine
from docgen.assemble.apart.bonds import Bond, Group, group_before, held_folded, step_of
from docgen.assemble.apart.heaps import Folding, Heap
from docgen.assemble.apart.laid_flat import carried, depth_of
from docgen.assemble.apart.made_up import is_worked
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import BY_AN_END, Placed
from docgen.assemble.space.vectors import Vec, along, direction, inner, minus, plus, times
from docgen.geometry.path import flatten, ring_area
from docgen.resolve import by_name, speaks_of_folding

PART_WAY = 1 / 3  # of its angle, by which a fold is drawn bent: our choice
BEYOND_MM = 1.0  # of a fold, from which a row lies on that side; and from which edges are apart
Pair = tuple[Vec, Vec]


def fold_part_way(
    build: Assembled, placed: Mapping[Copy, Body], bonds: Sequence[Bond], step: int
) -> tuple[dict[Copy, Body], list[Heap]]:
    """What a step (from 0) sews to itself, or only folds, bent part way, with all that hangs together with it; each as a
    heap. None where nothing is, or how it bends is more than folds alone tell. `placed` are the bodies as they are
    placed."""
    closing = _list_folded(build, step) if build.space.kind == "lying" else {}
    seams, before = by_name(build.seams), held_folded(build, step - 1)
    for once in build.assembly.sewn if build.space.kind == "lying" else ():
        if step_of(build, once.event) == step and len({*once.sides}) == 1 < len(once.sides):
            closing.setdefault(once.sides[0], []).append(once.seam)
    found, heaps = dict[Copy, Body](), list[Heap]()
    groups = group_before([*placed], bonds, step + 1) if closing else []
    for copy, names in closing.items():
        group = next((group for group in groups if copy in group), ())
        if copy in before or not group or any(seams[name].is_turned for name in names):
            continue
        body = placed[copy]
        count = len(body.placed.surface.bands) - 1
        bends = [k for k in range(count) if not names or _is_closed_by(body.placed, k, names)]
        if bends and _bends_alone(placed, copy, group) and (names or len(group) > 1):
            home = _home_of(body, bends)
            leans = {bend: _lean_of(body.placed, bend) for bend in bends}
            for one in sorted(group, key=lambda one: depth_of(placed, one)):
                host = placed[one].placed.host
                if host is None or placed[one].placed.surface.bands == body.placed.surface.bands:
                    found[one] = placed[one].with_place(_bent(placed[one], body.placed.out(home), home, leans))
                else:
                    found[one] = carried(placed[one], placed[host], found[host])
            opened = found[copy]
            folding = Folding(
                inside=times(opened.placed.out(home), 1.0 if body.placed.folds_out(bends[0]) else -1.0),
                stands=times(opened.placed.surface.bands[home].way, 1.0 if bends[0] >= home else -1.0),
                meets=tuple(pair for name in names for pair in _meet(opened, name)),
            )
            heaps.append(Heap(base=group, moved=(), bonds=(), handled=frozenset({copy}), folding=folding))
    return found, heaps


def _list_folded(build: Assembled, step: int) -> dict[Copy, list[str]]:
    """The pieces that a step speaks of folding and does nothing else with, with no seam to close them."""
    one = build.assembly.steps[step]
    idle = not (one.seams or one.hardware or one.straps or one.joins) and speaks_of_folding(one)
    pieces = [piece for piece in build.pieces if piece.name in one.pieces] if idle else []
    return {Copy(piece.name): [] for piece in pieces if piece.own_folds and not is_worked(build, piece, step)}


def _bends_alone(placed: Mapping[Copy, Body], copy: Copy, group: Group) -> bool:
    """Whether a piece bends at its folds alone, and all that hangs together with it lies on it, and bends as it does, or at
    its own folds."""
    own, others = placed[copy].placed, [placed[one].placed for one in group if one != copy]
    is_plain = not own.item.is_ring and not own.is_inner and len(own.surface.bands) == 1 + len(own.item.folds)
    return is_plain and all(
        one.host in group
        and (
            one.how in BY_AN_END
            or one.surface.bands == own.surface.bands
            or len(one.surface.bands) == 1 + len(one.item.folds)
        )
        for one in others
    )


def _is_closed_by(placed: Placed, bend: int, names: Sequence[str]) -> bool:
    """Whether one of these seams has rows on both sides of a bend."""
    at_mm = placed.surface.bands[bend].end_mm
    for name in names:
        rows = [flatten(mark.path) for mark in placed.item.marks if mark.kind == "stitch" and mark.name == name]
        reach = [placed.surface.measure(at)[0] - at_mm for row in rows for at in row]
        if reach and min(reach) < -BEYOND_MM and max(reach) > BEYOND_MM:
            return True
    return False


def _home_of(body: Body, bends: Sequence[int]) -> int:
    """The band that stays: the largest of what is largest together between those bends."""
    sizes = {face.band: round(abs(ring_area(face.ring)), 3) for face in body.faces}
    parts: dict[int, list[int]] = {}
    for band in sizes:
        parts.setdefault(sum(bend < band for bend in bends), []).append(band)
    most = max(parts.values(), key=lambda part: sum(sizes[band] for band in part))
    return max(most, key=lambda band: sizes[band])


def _lean_of(placed: Placed, bend: int) -> float:
    """By how much a bend is drawn bent, in radians: above 0 towards the inner side."""
    ways = [direction(placed.surface.bands[band].way) for band in (bend, bend + 1)]
    angle = math.acos(max(-1.0, min(1.0, inner(*ways))))
    return angle * PART_WAY * (-1.0 if placed.folds_out(bend) else 1.0)


def _bent(body: Body, out: Vec, home: int, leans: Mapping[int, float]) -> Placed:
    """A part laid flat, but for some of its bends, that lean so far away from the way `out`; the band `home` stays."""
    flat = body.flattened(home).placed
    bands = [*flat.surface.bands]
    for ahead, others in ((1, range(home + 1, len(bands))), (-1, range(home - 1, -1, -1))):
        lean = 0.0
        for band in others:
            lean += leans.get(min(band, band - ahead), 0.0)
            one, before = bands[band], bands[band - ahead]
            way = plus(times(bands[home].way, math.cos(lean)), times(out, -ahead * math.sin(lean)))
            ends = along(before.at, before.way, before.end_mm - before.begin_mm)
            at = ends if ahead > 0 else along(before.at, way, one.begin_mm - one.end_mm)
            bands[band] = replace(one, at=at, way=way)
    return replace(flat, surface=replace(flat.surface, bands=tuple(bands)))


def _meet(body: Body, name: str) -> Iterator[Pair]:
    """Places of both edges of a seam that come together: its ends and its middle, where they are apart."""
    rows: list[list[BodyLine]] = []
    for line in body.lines:
        if line.kind == "stitch" and line.name == name and not line.is_through:
            rows = [*rows, [line]] if line.is_start else [*rows[:-1], [*rows[-1], line]]
    if len(rows) != 2:
        return
    one, other = ([row[0].start, _middle(row), row[-1].end] for row in rows)
    turned = other[::-1]
    nearer = min(other, turned, key=lambda way: sum(map(math.dist, one, way)))
    yield from ((at, to) for at, to in zip(one, nearer, strict=True) if math.dist(at, to) > BEYOND_MM)


def _middle(row: Sequence[BodyLine]) -> Vec:
    """The point half-way along a row."""
    left = sum(math.dist(line.start, line.end) for line in row) / 2
    for line in row:
        long = math.dist(line.start, line.end)
        if left <= long and long:
            return along(line.start, minus(line.end, line.start), left / long)
        left -= long
    return row[-1].end
