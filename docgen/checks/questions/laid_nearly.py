"""What lies on another part and does not quite agree with it: corners of two radii over each other, an edge that is
nearly flush, a hole half beneath an edge, a part sewn to one that is far smaller, and what lies nowhere while its like
does."""

import math
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import corner_radii, is_on, landing_place, shape_spec
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import SIDES, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box, Path
from docgen.geometry.vector import transform_point
from docgen.problems import Place
from docgen.read import PieceSpec
from docgen.resolve import Join, Piece, Seam

MOST_ASKED: Final = 200  # of a piece with more marks than that nothing is asked
SAME_MM: Final = 1.0
FLUSH_MM: Final = (3.0, 10.0)  # so far from the edge that its seam names, or less, a part was meant to lie along it
LEAST_APART_MM: Final = 3.0  # radii that differ by less look alike: our choice
RING_GIVES: Final = 0.015  # of its length, that leather stretches over what it goes round: our choice
FAR_LARGER: Final = 6.0  # what is sewn by one edge on another is hardly so many times as long as that: our choice
Sewn = dict[str, list[Seam]]


@question
def ask_laid_nearly(subject: Subject) -> Iterator[Question]:
    """Parts that lie on a piece, and nearly agree with it."""
    landed = {landing.piece for base in subject.build.pieces for landing in base.marks.landings}
    sewn: Sewn = {}
    for seam in subject.build.seams:
        for name in seam.parts:
            sewn.setdefault(name, []).append(seam)
    for base in subject.build.pieces:
        own = subject.specs.get(base.name)
        laid = len(base.marks.landings) + len(base.strap_landings)
        if own is not None and laid > 0 and laid + len(base.marks.holes) <= MOST_ASKED:
            yield from _ask_corners(subject, base)
            yield from _ask_flush(subject, base, own, sewn)
            yield from _ask_half_covered(base)
            yield from _ask_bend(subject, base, own, sewn)
            yield from _ask_siblings(subject, base, sewn, landed)
    yield from _ask_bellows(subject, sewn)


def _ask_corners(subject: Subject, base: Piece) -> Iterator[Question]:
    """Round corners that lie in a round corner of the rectangle beneath, with another radius."""
    if base.shape != "rectangle":
        return
    here = corner_radii(base)
    for landing in base.marks.landings:
        laid = subject.parts.pieces.get(landing.piece)
        if laid is None or laid.shape != "rectangle" or landing.is_over:
            continue
        box, around = path_box(landing.outline), outline_box(base.outline)
        there = corner_radii(laid)
        for name in (name for name in here if name in there and not landing.is_inside):
            up, across = name.split("-")
            is_flush = is_on(box, around, up) and is_on(box, around, across)
            if is_flush and abs(here[name] - there[name]) >= LEAST_APART_MM:
                one, two = map(subject.length, (there[name], here[name]))
                what = f'the {name} corner of "{landing.piece}" is rounded by {one}, and lies in that of "{base.name}", of '
                answer = "write one radius for both; where they are meant to be unlike there is nothing to do"
                yield Question(place=_round_place(subject, landing.piece, name), what=f"{what}{two}", answer=answer)
                break


def _round_place(subject: Subject, name: str, corner: str) -> Place:
    """Where the radius of a corner is written, in the table that gives the shape."""
    own = shape_spec(subject.specs, name)
    radii = {item.name: item.length.place for item in own.round}
    return radii.get(corner, radii.get("", own.place))


def _ask_flush(subject: Subject, base: Piece, own: PieceSpec, sewn: Sewn) -> Iterator[Question]:
    """What is sewn by its edges to the edges of what it lies on, and lies beside the edge that the seam names."""
    around = outline_box(base.outline)
    for landing in base.marks.landings:
        if base.shape != "rectangle" or landing.is_over:
            continue
        box = path_box(landing.outline)
        for seam in sewn.get(landing.piece, ()):
            edges = {one.part: one.edges for one in seam.sides if one.edges}
            for side in (side for side in edges.get(base.name, ()) if side in SIDES and landing.piece in edges):
                off_mm = abs(box.level(side) - around.level(side))
                if FLUSH_MM[0] <= off_mm <= FLUSH_MM[1]:
                    off = subject.length(off_mm)
                    what = f'"{landing.piece}" is sewn to the {side} of "{base.name}", and lies {off} from it'
                    answer = "measure its place again; where it is drawn up to the edge there is nothing to do"
                    yield Question(place=landing_place(own, landing), what=what, answer=answer)


def _ask_bend(subject: Subject, base: Piece, own: PieceSpec, sewn: Sewn) -> Iterator[Question]:
    """Flaps laid half round on a piece that bend as far within its edge as turning them about their stitches moved them."""
    around = outline_box(base.sewn_outline)
    for landing in (one for one in base.marks.landings if one.is_over and one.piece in subject.parts.pieces):
        box = path_box(landing.outline)
        folds = [fold for fold in subject.parts.pieces[landing.piece].marks.folds if fold.is_open]
        middles = [transform_point(fold.middle, landing.move) for fold in folds]
        far = next((side for side in SIDES for at in middles if box.off(at, side) < SAME_MM), "")
        flat = (
            seam
            for seam in sewn.get(landing.piece, ())
            if {base.name} & {one.part for one in seam.sides if not one.edges}
        )
        insets_mm = [subject.inset_mm(seam.stitch) for seam in flat]
        off_mm = abs(around.level(far) - box.level(far)) if far else 0.0
        if any(abs(off_mm - 2 * inset_mm) < SAME_MM < off_mm for inset_mm in insets_mm):
            off = subject.length(off_mm)
            what = f'"{landing.piece}" bends {off} within the {far} edge of "{base.name}": turned half round about its '
            what += "stitches, its own edge lies so much farther in than is written"
            answer = (
                f"take {off} off the figure from the {far} in its at; where it is to bend there, there is nothing to do"
            )
            yield Question(place=landing_place(own, landing), what=what, answer=answer)


def _ask_half_covered(base: Piece) -> Iterator[Question]:
    """Holes of which a part that lands there, or the end of a strap, covers one half, and that it does not share."""
    laid: list[tuple[str, Path]] = [(one.piece, one.outline) for one in base.marks.landings]
    laid += [(one.strap, one.outline) for one in base.strap_landings]
    for name, outline in laid:
        box = path_box(outline)
        for hole in base.marks.holes:
            reach = hole.diameter_mm / 2 - SAME_MM / 2
            if reach <= 0 or not _is_near(box, hole.at, reach) or name in hole.through:
                continue
            rim = [(hole.at.x + x * reach, hole.at.y + y * reach) for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1))]
            covered = sum(is_inside(outline, type(hole.at)(*at)) for at in rim)
            if 0 < covered < len(rim):
                what = f'a hole of "{base.name}" (line {hole.place.line}) lies half beneath the edge of "{name}"'
                answer = "measure both again; where the edge is to lie on the hole there is nothing to do"
                place = next((one.place for one in base.strap_landings if one.strap == name), hole.place)
                yield Question(place=place if place.line else hole.place, what=what, answer=answer)


def _is_near(box: Box, at: tuple[float, float], reach: float) -> bool:
    return box.left - reach <= at[0] <= box.right + reach and box.bottom - reach <= at[1] <= box.top + reach


@question
def ask_larger(subject: Subject) -> Iterator[Question]:
    """Parts sewn by one edge flat on a piece that is far smaller."""
    for seam in subject.build.seams:
        flat = [
            subject.parts.pieces[side.part]
            for side in seam.sides
            if not side.edges and side.part in subject.parts.pieces
        ]
        for side in (side for side in seam.sides if len(side.edges) == 1 and side.part in subject.parts.pieces):
            long = _long_mm(subject.parts.pieces[side.part])
            for host in flat:
                if long > FAR_LARGER * _long_mm(host) and host.name != side.part:
                    one, two = map(subject.length, (long, _long_mm(host)))
                    what = f'"{side.part}", {one} long, is sewn on "{host.name}", which is no longer than {two}'
                    place = subject.size_place(host, is_across=False)
                    yield Question(place=place, what=what, answer="look at the size of both")


def _ask_bellows(subject: Subject, sewn: Sewn) -> Iterator[Question]:
    """A wall that is sewn flat on a piece, and by its other edge to a pocket, of which nothing says where it lies there."""
    landed = {(base.name, landing.piece) for base in subject.build.pieces for landing in base.marks.landings}
    for seam in subject.build.seams:
        flat = [side.part for side in seam.sides if not side.edges and side.part in subject.parts.pieces]
        own = [side for side in seam.sides if side.edges]
        if len(flat) != 1 or len(own) != 1 or flat[0] == own[0].part or (flat[0], own[0].part) in landed:
            continue
        for other in sewn[own[0].part]:
            parted = [side.part for side in other.sides if side.part != own[0].part and len(side.edges) == 3]
            if other is not seam and len(parted) == 1:
                name = parted[0]
                if (flat[0], name) not in landed and name != flat[0]:
                    what = (
                        f'"{own[0].part}" is sewn on "{flat[0]}", and nothing says where "{name}", which it holds, lies'
                    )
                    answer = f'write in landings of "{flat[0]}": {{ piece = "{name}", at = ... }}'
                    yield Question(place=subject.parts.pieces[flat[0]].place, what=what, answer=answer)


@question
def ask_rings(subject: Subject) -> Iterator[Question]:
    """A ring sewn flat round another one that is as long: by the circle, the way round its middle is longer by 2 pi times
    half of both thicknesses."""
    rings = {join.name: join for join in subject.build.joins if join.is_ring}
    thick = {material.name: material.thickness_mm for material in subject.build.materials}
    for seam in subject.build.seams:
        own, under = ([side.part for side in seam.sides if bool(side.edges) == is_own] for is_own in (True, False))
        if len(own) != 1 or len(under) != 1 or own == under or not {*own, *under} <= rings.keys():
            continue
        one, host = rings[own[0]], rings[under[0]]
        over_mm = math.pi * sum(thick[_first(subject, ring).material] for ring in (one, host))
        if over_mm > host.length_mm * RING_GIVES and abs(one.length_mm - host.length_mm) < over_mm / 2:
            by = subject.length(round(over_mm, 1))
            what = f'"{one.name}" is a ring as long as "{host.name}", round which it is sewn: as thick as both are, it '
            what += f"goes round that if it is {by} longer"
            answer = (
                "cut it longer, and name it last in a seam with ease; where it is stretched on there is nothing to do"
            )
            yield Question(place=seam.place, what=what, answer=answer)


def _first(subject: Subject, ring: Join) -> Piece:
    return next(piece for piece in subject.build.pieces if piece.name == ring.pieces[0])


def _long_mm(piece: Piece) -> float:
    box = outline_box(piece.outline)
    return max(box.width, box.height)


def _ask_siblings(subject: Subject, base: Piece, sewn: Sewn, landed: set[str]) -> Iterator[Question]:
    """What is sewn to a piece as another is that lands there, of its size and material, and lands nowhere."""
    beside = {
        side.part
        for seam in sewn.get(base.name, ())
        for side in seam.sides
        if side.edges and side.part in subject.parts.pieces
    }
    landings = [landing.piece for landing in base.marks.landings if landing.piece in beside]
    missed = sorted(beside - landed - {base.name})
    for landing in landings if len(landings) * len(missed) <= MOST_ASKED else ():
        there = subject.parts.pieces[landing]
        for name in missed:
            other = subject.parts.pieces[name]
            if _is_as_large(there, other) and there.material == other.material and not _lies_along(sewn, there, other):
                what = f'"{landing}" lies on "{base.name}", and nothing says where "{name}", as large, lies there'
                answer = f'write in landings of "{base.name}": {{ piece = "{name}", at = ... }}'
                yield Question(place=base.place, what=what, answer=answer)


def _lies_along(sewn: Sewn, one: Piece, other: Piece) -> bool:
    """Whether one of two lines the other, or a seam sews several edges of both to each other: they lie as one."""
    names = {one.name, other.name}
    return bool(names & {*one.lines, *other.lines}) or any(
        len(set.intersection(*({*side.edges} for side in seam.sides if side.part in names))) > 1
        for seam in sewn.get(one.name, ())
        if names <= seam.parts
    )


def _is_as_large(one: Piece, other: Piece) -> bool:
    a, b = outline_box(one.outline), outline_box(other.outline)
    return abs(a.width - b.width) < SAME_MM and abs(a.height - b.height) < SAME_MM
