"""What one figure or name leaves in doubt: a line or fold out of its order, a handle of a curve behind its beginning, a
hole in what is turned over, a flap sewn on by its round edge."""

import math
import re
from collections import Counter
from collections.abc import Iterator
from itertools import groupby, pairwise

from docgen.assemble import laid_places
from docgen.checks.questions.question import Question, question, rises
from docgen.checks.trade import Subject
from docgen.geometry.measure import is_inside
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import ACROSS, ACROSS_STRIPS, corner_names, outline_box, outline_path
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Curve, Point
from docgen.geometry.vector import cross, dot, subtract
from docgen.problems import Place
from docgen.read import PieceSpec, Value
from docgen.resolve import Piece

FAR_RE = r"from (left|right|top|bottom|start|end)\b"
LEAST_IN_ORDER = 4
LEAST_LEFT_MM = 0.3  # a skive that leaves less is pared for gilding or binding: common practice, no published source
SKEW = 0.02  # so much of their length two lines part and are still in one row
BEHIND = 0.25  # of the way from end to end of a curve
MEETS_MM = 1.0


@question
def ask_single_figures(subject: Subject) -> Iterator[Question]:
    """What one figure of a piece leaves in doubt beside its others."""
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        if own is not None:
            yield from _ask_order(piece, own)
            yield from _ask_handles(piece, own)
            yield from _ask_turned_in(subject, piece)
            yield from _ask_skives(piece, own)
            yield from _ask_thin(subject, piece, own)
            yield from _ask_rows(own, piece)


def _ask_order(piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """The one dividing line, or open fold, of a row that is not written in its order along the piece."""
    lines = [line for line in piece.dividers if not line.goods]
    folds = [fold for fold in piece.marks.folds if not fold.of_hem]
    for row, items, words in ((lines, own.dividers, "dividing lines"), (folds, own.folds, "folds")):
        ends = [(line.start, line.end) for line in row]
        if len(row) < LEAST_IN_ORDER or len(row) != len(items) or not _are_parallel(ends):
            continue
        if len([*groupby(_side(item.at) for item in items)]) > 2:
            continue  # written from both sides in turn
        way = subtract(ends[0][1], ends[0][0])
        at_mm = [(start.x * way.y - start.y * way.x) / math.hypot(*way) for start, _ in ends]
        if sum(before > after for before, after in pairwise(at_mm)) > (len(at_mm) - 1) / 2:
            at_mm = [-mm for mm in at_mm]
        odd = [k for k in range(len(at_mm)) if rises(at_mm[:k] + at_mm[k + 1 :])] if not rises(at_mm) else []
        if odd:
            at = items[min(odd, key=lambda k: _spread(at_mm[:k] + at_mm[k + 1 :]))].at
            what = f'the {words} of "{piece.name}" stand in their order but for this one'
            yield Question(place=at.place if at else own.place, what=what, answer="measure it again")


def _spread(figures: list[float]) -> float:
    """How uneven the gaps between figures are."""
    gaps = [other - one for one, other in pairwise(figures)]
    return max(gaps) - min(gaps)


def _side(at: Value[str] | None) -> str:
    found = re.search(FAR_RE, at.value) if at else None
    return found[1] if found else ""


def _are_parallel(ends: list[tuple[Point, Point]]) -> bool:
    way = subtract(ends[0][1], ends[0][0])
    return all(abs(cross(way, subtract(end, start))) <= SKEW * dot(way, way) for start, end in ends)


def _ask_handles(piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """A handle of a curve that lies far behind where the curve begins or ends."""
    curves = [point for point in own.points if point.curve]
    segments = [one for one in outline_path(piece.outline).segments if isinstance(one, Curve)]
    if len(curves) != len(segments):
        return
    for point, curve in zip(curves, segments, strict=True):
        way = subtract(curve.end, curve.start)
        shares = [
            dot(subtract(at, curve.start), way) / (dot(way, way) or 1.0) for at in (curve.handle_1, curve.handle_2)
        ]
        if point.curve and (
            shares[0] < -BEHIND or shares[1] > 1 + BEHIND or shares[1] < -BEHIND or shares[0] > 1 + BEHIND
        ):
            what = (
                f'a handle of this curve of "{piece.name}" lies beyond its ends, so that the edge turns back on itself'
            )
            yield Question(place=point.curve[0].place, what=what, answer="look at its four figures")


def _ask_turned_in(subject: Subject, piece: Piece) -> Iterator[Question]:
    """Holes in what a hem turns over, with none on the other side of its fold: they come to lie inside."""
    if piece.folded is None or not any(fold.of_hem for fold in piece.marks.folds):
        return
    kept, whole = outline_path(piece.sewn_outline), outline_path(piece.outline)
    folds = [fold for fold in piece.marks.folds if fold.of_hem]
    near = near_finder([hole.at for hole in piece.marks.holes], MEETS_MM)
    for hole in piece.marks.holes:
        is_turned = is_inside(whole, hole.at) and not is_inside(kept, hole.at)
        if is_turned and not any(near(fold.across(hole.at)) for fold in folds):
            off_mm = min(abs(fold.off_mm(hole.at)) for fold in folds)
            what = (
                f'a hole of "{piece.name}" lies {subject.length(off_mm)} beyond the fold of its hem, in what is '
                "turned over: it comes to lie inside"
            )
            yield Question(
                place=hole.place, what=what, answer="measure it from the fold; it is right if it is meant there"
            )


def _ask_thin(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Skives that leave hardly anything to sew."""
    for skive, item in zip(piece.marks.skives, own.skives, strict=False):
        if item.to and 0 < skive.to_mm < LEAST_LEFT_MM:
            left, least = map(subject.length, (skive.to_mm, LEAST_LEFT_MM))
            what = f'"{piece.name}" is skived to {left}; what is sewn is mostly left {least} or more'
            answer = "look at the figure and its unit; where it is pared to nothing there is nothing to do"
            yield Question(place=item.to.place, what=what, answer=answer)


def _ask_skives(piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Skives of a piece that is hemmed, none of which lies along a hem."""
    hemmed = piece.hemmed
    banded = {edge for skive in piece.marks.skives for edge in skive.edges.split()}
    if hemmed and banded and not banded & {*hemmed, "all"} and "all" not in hemmed and own.skives:
        item = own.skives[-1]
        thin, turned = " ".join(sorted(banded)), " ".join(sorted(hemmed))
        what = f'"{piece.name}" is skived along {thin}, and turned over along {turned}'
        answer = "name the edge that is turned over; where another edge is to be thin it is right as it is"
        yield Question(place=item.edges.place if item.edges else own.place, what=what, answer=answer)


def _ask_rows(own: PieceSpec, piece: Piece) -> Iterator[Question]:
    """Rows of holes whose two ends are measured from opposite sides, and lie on one half of the piece all the same."""
    made = piece.spots_by_place if own.hole_rows else {}
    for row in own.hole_rows:
        if not (row.start and row.end):
            continue
        sides = [set(re.findall(FAR_RE, at.value)) for at in (row.start, row.end)]
        for first, last in ACROSS_STRIPS.items():
            if first in sides[0] - sides[1] and last in sides[1] - sides[0]:
                yield from _ask_half(piece, row.end, made.get(row.place, []), first)


def _ask_half(piece: Piece, value: Value[str], spots: list[Point], side: str) -> Iterator[Question]:
    axis = 0 if side in ("left", "right") else 1
    middle = outline_box(piece.outline).centre[axis]
    if len(spots) > 1 and len({at[axis] > middle for at in spots}) == 1:
        what = f'a row of holes in "{piece.name}" is measured from both ends, and lies on one half of it'
        yield Question(place=value.place, what=what, answer="look from which end its last hole is measured")


@question
def ask_round_edges(subject: Subject) -> Iterator[Question]:
    """A rectangle sewn flat on another by one edge with both its corners rounded, the edge across from it square."""
    for seam in subject.build.seams:
        flat = any(not side.edges for side in seam.sides)
        for side in seam.sides if flat else ():
            piece = subject.parts.pieces.get(side.part)
            if piece is None or piece.shape != "rectangle" or len(side.edges) != 1 or side.stretch_mm:
                continue
            edge = side.edges[0]
            rounded = corner_names(piece.outline)
            own = [name for name in rounded if edge in name.split("-")]
            across = [name for name in rounded if ACROSS.get(edge) in name.split("-")]
            if len(own) == 2 and not across and not _fills_host(subject, piece):
                square = f"its {ACROSS[edge]} is square"
                what = f'"{side.part}" is sewn on by its {edge}, where its corners are round, and {square}'
                answer = "look which edge is sewn; it is right as it is where the square one is to hang"
                yield Question(place=side.place, what=what, answer=answer)


def _fills_host(subject: Subject, piece: Piece) -> bool:
    """Whether a piece lands from edge to edge of another one, as a card pocket does, whose sides a later seam holds."""
    landed = (
        (path_box(it.outline), outline_box(base.outline))
        for base in subject.build.pieces
        for it in base.marks.landings
        if it.piece == piece.name
    )
    return any(abs(box.left - host.left) + abs(box.right - host.right) < 2 * MEETS_MM for box, host in landed)


@question
def ask_insides(subject: Subject) -> Iterator[Question]:
    """Of several parts of one kind that lie on parts of one kind, one alone outside, or one alone inside."""
    lands: dict[tuple[str, str], list[tuple[bool, Place, str, str]]] = {}
    materials = {piece.name: piece.material for piece in subject.build.pieces}
    for base in subject.build.pieces:
        own = subject.specs.get(base.name)
        items = [item for item in own.landings if item.piece and item.at] if own else []
        if len(items) == 1 == len(base.marks.landings) and items[0].at:
            landing = base.marks.landings[0]
            key = base.material, materials.get(landing.piece, "")
            if key[0] != key[1]:
                lands.setdefault(key, []).append((landing.is_inside, items[0].at.place, landing.piece, base.name))
    for found in lands.values():
        inside = [one for one in found if one[0]]
        if len(found) == 2 and len(inside) == 1:
            out = next(one for one in found if not one[0])
            what = f'"{inside[0][2]}" lies inside "{inside[0][3]}", and "{out[2]}" outside "{out[3]}"'
            answer = "write inside = true where it lies on the hidden side; else it is right as it is"
            yield Question(place=out[1], what=what, answer=answer)


@question
def ask_cords(subject: Subject) -> Iterator[Question]:
    """Cords of a length of their own that their two ends, knotted or sewn in, take nearly whole."""
    written = {item.name: item.length for item in subject.spec.trimmings}
    for item in subject.build.trimmings:
        value = written.get(item.name)
        if item.kind == "cord" and value and 0 < item.written_mm < 4 * item.ends_mm:
            what = (
                f'"{item.name}" is {subject.length(item.written_mm)} long, and its ends take '
                f"{subject.length(2 * item.ends_mm)}"
            )
            yield Question(
                place=value.place, what=what, answer="look at its length; write ends = ... where they take less"
            )


@question
def ask_hemmed(subject: Subject) -> Iterator[Question]:
    """A long side that its own hem turns over and sews, sewn to another part besides; the side across from it is free."""
    sewn = {
        (strip.name, edge)
        for seam in subject.build.seams
        for side in seam.sides
        for strip in subject.parts.strips(side.part)
        for edge in side.edges
    }
    hems = {
        (side.part, edge)
        for seam in subject.build.seams
        for side in seam.sides
        for edge in side.edges
        if any(other.part == side.part and not other.edges for other in seam.sides)
    }
    for seam in subject.build.seams:
        for side in seam.sides if len([one for one in seam.sides if one.edges]) > 1 else ():
            for strip in subject.parts.strips(side.part):
                edge = side.edges[0] if len(side.edges) == 1 else ""
                hemmed = strip.hemmed
                if edge in hemmed and (strip.name, edge) in hems and (strip.name, ACROSS.get(edge, "")) not in sewn:
                    what = f'the {edge} of "{strip.name}" is turned over and sewn, and sewn in here'
                    what += f"; its {ACROSS.get(edge)} stays free"
                    answer = "look which edge is meant; it is right as it is where the hem is sewn in"
                    yield Question(place=side.place, what=what, answer=answer)


@question
def ask_idle_pairs(subject: Subject) -> Iterator[Question]:
    """Pairs of holes of a folded part that more posts would go through than do."""
    places: dict[str, Place] = {}
    posts: Counter[str] = Counter()
    for piece in subject.build.pieces:
        for hole in piece.marks.holes:
            places |= dict.fromkeys(hole.through, hole.place)
            posts.update(dict.fromkeys(hole.through, piece.cut))
    for name, count in posts.items():
        part = subject.parts.pieces.get(name)
        folds = [fold for fold in part.marks.folds if not fold.is_open and not fold.of_hem] if part else []
        holes = [hole for hole in part.marks.holes if not hole.long_mm and not hole.takes] if part else []
        if part is None or len(folds) != 1 or len(holes) % 2 or len(holes) // 2 * part.cut <= count:
            continue
        near = near_finder([hole.at for hole in holes], MEETS_MM)
        if all(near(laid_places(part, hole.at)[-1]) for hole in holes):
            pairs = len(holes) // 2 * part.cut
            what = f'"{name}" has {pairs} pairs of holes when folded, and posts go through {count}'
            answer = (
                "look whether a hole is left out in what it is riveted to; it is right as it is where one is to spare"
            )
            yield Question(place=places[name], what=what, answer=answer)
