"""Hardware in its place: what is set in holes and in the ends of straps, and what lies in their folds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy, Half
from docgen.assemble.space.holds import make_metal
from docgen.assemble.space.in_folds import behind_mm
from docgen.assemble.space.metal import Metal, cap_mm
from docgen.assemble.space.placed import ALIKE, NOT_TAKEN, OTHER_HALF, Placed, Unset
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import along, apart, direction, inner
from docgen.geometry.nearby import near_finder
from docgen.geometry.shapes import Point
from docgen.resolve import Build, Hardware, Strap, by_name, closing_spots
from docgen.tables.hardware import count_spares

LOOK_MM = 0.5  # so far from a fold a strap has left it
SAME_PLACE_MM = 1.5  # holes that lie no farther apart are there for one and the same thing


def set_metal(scene: Scene, hung: Sequence[Metal]) -> tuple[Metal, ...]:
    """All hardware that has a place: what hangs in the folds of pieces, in those of straps, and what is set."""
    found = [*hung]
    found += _of_folds(scene, hung)
    posts = {(one.hardware, one.part) for one in scene.assembly.fastened}
    every = [*found, *_of_holes(scene), *_of_ends(scene)]
    find = near_finder([one.at for one in every], SAME_PLACE_MM)
    kept = {*range(len(found))}
    for number, one in enumerate(every[len(found) :], start=len(found)):
        others = [every[k] for k in find(one.at) if k in kept]
        if not any(_is_same(one, other) and not _are_two(one, other, posts) for other in others):
            kept.add(number)
    return tuple(every[number] for number in sorted(kept))


def _are_two(one: Metal, other: Metal, posts: Collection[tuple[str, str]]) -> bool:
    """Whether each of two is set in a part for itself, of which one looks away from the other: the panels of a flat pouch
    have their holes in one place."""
    own = {(metal.hardware, metal.part.part) for metal in (one, other)}
    return len(own) > 1 and own <= {*posts} and inner(one.axis, other.axis) < -ALIKE


def _is_same(one: Metal, other: Metal) -> bool:
    """Whether two in one place are one: both halves of a snap are there, each in its own piece."""
    is_alike = one.hardware == other.hardware and one.shape == other.shape and one.half == other.half
    return is_alike and (not one.half or one.part == other.part)


def _of_holes(scene: Scene) -> Iterator[Metal]:
    """What is set in the holes of pieces; a snap goes through no lining besides."""
    hardware = by_name(scene.goods.build.hardware)
    halves = {(one.hardware, one.part, one.place): one.half for one in scene.assembly.fastened}
    of_part = {(one.hardware, one.part): one.half for one in scene.assembly.fastened}
    for copy, placed in scene.placed.items():
        for hole in (hole for hole in placed.item.holes if hole.takes in hardware):
            item, own = hardware[hole.takes], (hole.takes, copy.part)
            if item.kind != "snap" or own in of_part:
                half = halves.get((*own, hole.place), of_part.get(own, ""))
                yield replace(_cap(item, copy, placed, hole.at, hole.diameter_mm, half), place=hole.place)


def _cap(item: Hardware, copy: Copy, placed: Placed, at: Point, hole_mm: float, half: Half = "") -> Metal:
    band = placed.surface.band_of(at)
    return Metal(
        hardware=item.name,
        part=copy,
        shape="cap",
        at=placed.surface.point(at, band),
        axis=placed.out(band),
        way=direction(placed.surface.heading(Point(0.0, 1.0), band)),
        wide_mm=cap_mm(item, hole_mm),
        bore_mm=hole_mm if item.kind == "eyelet" else 0.0,
        half=half,
    )


def _straps(scene: Scene) -> Iterator[tuple[Copy, Placed, Strap]]:
    for copy, placed in scene.placed.items():
        if copy.part in scene.goods.straps:
            yield copy, placed, scene.goods.straps[copy.part]


def _along_mm(strap: Strap, which: int, from_end_mm: float) -> float:
    """So far from an end, as a distance from the first one."""
    return strap.cut_length_mm - from_end_mm if which else from_end_mm


def _of_ends(scene: Scene) -> Iterator[Metal]:
    """What closes the turned ends of straps, on the outer one of both layers."""
    hardware = by_name(scene.goods.build.hardware)
    for copy, placed, strap in _straps(scene):
        for which, end in enumerate(strap.ends):
            spots = closing_spots(strap, which) if end.takes in hardware else []
            for spot in spots[: end.number]:
                at = Point(spot.x, _along_mm(strap, which, 2 * end.fold_mm - spot.y))
                yield _cap(hardware[end.takes], copy, placed, at, 0.0)


def _of_folds(scene: Scene, hung: Sequence[Metal]) -> Iterator[Metal]:
    """What straps bring in their folds: not the rings of pieces that they turn round."""
    hardware = by_name(scene.goods.build.hardware)
    for copy, placed, strap in _straps(scene):
        for which, end in enumerate(strap.ends):
            fold_mm = _along_mm(strap, which, end.fold_mm)
            main_mm = _along_mm(strap, which, end.fold_mm + LOOK_MM)
            band = placed.surface.band_of(Point(0.0, main_mm))
            at = placed.surface.point(Point(strap.width_mm / 2, fold_mm), band)
            way = placed.surface.heading(Point(0.0, 1.0 if which else -1.0), band)
            out, along_way = placed.out(band), direction(way)
            for name in end.rings:
                is_held = any(one.hardware == name and apart(one.far, at) <= SAME_PLACE_MM for one in hung)
                if name in hardware and not is_held:
                    item = hardware[name]
                    wide_mm = item.inside_mm or strap.end_width_mm(which)
                    if name == end.rings[0]:
                        yield make_metal(item, copy, wide_mm, at=at, axis=out, way=along_way)
                    else:
                        inside = along(at, along_way, -behind_mm(scene.goods.build, end, name))
                        yield make_metal(item, copy, wide_mm, at=inside, axis=along_way, way=out)


def find_unset(scene: Scene, metal: Sequence[Metal]) -> Iterator[Unset]:
    """Hardware that has no place, beyond the spares of its kind; what is only counted too high has one."""
    there = Counter(one.hardware for one in metal if one.half != "stud")
    lone = _lone_snaps(scene.goods.build, scene.assembly)
    for item in scene.goods.build.hardware:
        count = item.count - there[item.name]
        if count > count_spares(item.kind, there[item.name]):
            if _is_taken(scene, item.name):
                yield Unset(hardware=item.name, count=count, why="what takes it is not placed")
            elif not there[item.name]:
                yield Unset(hardware=item.name, count=count, why=NOT_TAKEN)
        elif item in lone:
            yield Unset(hardware=item.name, count=item.count, why=OTHER_HALF)


def _lone_snaps(build: Build, assembly: Assembly) -> list[Hardware]:
    """The snap of which no hole takes the other half; where cap and stud are hardware of their own each has its own."""
    alone = {one.hardware for one in assembly.fastened if not one.half}
    found = [item for item in build.hardware if item.kind == "snap" and item.name in alone]
    return found if len(found) == 1 else []


def _is_taken(scene: Scene, name: str) -> bool:
    """Whether a part that is not placed takes it."""
    goods = scene.goods
    pieces = {piece.name for piece in goods.cut.values() if any(hole.takes == name for hole in piece.marks.holes)}
    pieces |= {piece.name for piece in goods.pieces.values() if any(fold.around == name for fold in piece.marks.folds)}
    straps = {strap.name for strap in goods.straps.values() for end in strap.ends if name in (end.takes, *end.rings)}
    copies = [copy for part in pieces | straps for copy in goods.copies(part)]
    return any(copy not in scene.placed and copy.part not in goods.joined_strips for copy in copies)
