"""Checks of shapes against each other: pieces that lie face to face, linings, strips against the stretch."""

from collections.abc import Iterator, Sequence

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.checks.trade.facing import swap_words
from docgen.geometry.folding import mirror_over
from docgen.geometry.measure import distance_to_path, farthest_out_mm
from docgen.geometry.outline import WHOLE, edge_names, edge_path, outline_box, outline_path
from docgen.geometry.path import flatten, transform_path
from docgen.geometry.shapes import Outline, Path, Point
from docgen.geometry.vector import distance, mirror_x, translation
from docgen.problems import line_words
from docgen.resolve import Piece
from docgen.tables.sewing import LEAST_HEM_SKIVED_MM, LONG_STRIP
from docgen.tables.usual import WIDEST_STRAP_MM

UNEVEN_MM = 3.0
SAME_SIZE_MM = 3.0


@check(
    "pair-not-mirrored",
    "Of two pieces of one uneven shape that are sewn edge on edge one is turned over.",
    "plain from the work; asked, since both may be meant to face one way",
    needs_whole=True,
)
def find_same_handed(subject: Subject) -> Iterator[Found]:
    """Leather that shows its grain, sewn along two edges or more to a piece that is cut by the same shape; once for a
    pair."""
    pieces = subject.parts.pieces
    told: set[frozenset[str]] = set()
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.edges]
        both = [pieces[side.part] for side in sides if side.part in pieces]
        if len(sides) != 2 or len(both) != 2 or {*sides[0].edges} != {*sides[1].edges} or len({*sides[0].edges}) < 2:
            continue
        one, other = both
        is_one_template = one is other and (one.cut < 2 or one.is_pair)
        kinds = [material.kind if (material := subject.material(piece)) else "" for piece in both]
        key = frozenset((one.name, other.name))
        if key in told or is_one_template or kinds != ["leather", "leather"] or one.shows != other.shows or one.is_pair:
            continue
        is_uneven = _is_uneven(one.outline) and not _is_turned_endwise(one.outline, sides[0].edges)
        if _is_alike(one.outline, other.outline) and is_uneven:
            told.add(key)
            last = max(both, key=lambda piece: piece.place.line)
            names = f'"{one.name}" and "{other.name}" are' if one is not other else f'both of "{one.name}" are'
            what = f'{names} of one uneven shape and sewn to each other by "{seam.name}", and neither is turned over'
            mend = "write mirror = true" if one is not other else "write pair = true"
            side = next(side for side in sides if side.part == last.name)
            swapped = swap_words(side)
            if one is not other and {*swapped.split(" from ")[0].split()} != {*side.edges}:
                mend = f'name "{last.name}: {swapped}" in that seam, and {mend}'
            lines = [
                own.round[0].length.place.line for it in both if (own := subject.piece_spec(it.name)) and own.round
            ]
            corners = f", look which corners are round{line_words(lines[0])}" if lines else ""
            yield last.place, what, f"{mend}{corners}, or accept it where both face one way", last.name


def _is_alike(one: Outline, other: Outline) -> bool:
    first, second = (flatten(_at_zero(outline)) for outline in (one, other))
    return len(first) == len(second) and all(distance(a, b) < UNEVEN_MM for a, b in zip(first, second, strict=True))


def _is_uneven(outline: Outline) -> bool:
    """Whether a shape is another when it is turned over about its upright middle."""
    path = _at_zero(outline)
    return farthest_out_mm(path, flatten(transform_path(path, mirror_x(0.0)))) > UNEVEN_MM


def _is_turned_endwise(outline: Outline, edges: Sequence[str]) -> bool:
    """Whether a shape, and what is sewn of it, are the same turned over about its level middle, as a tab that is round at
    one end: two of one template lie flesh to flesh then."""
    centre, whole = outline_box(outline).centre, outline_path(outline)
    over = mirror_over(centre, Point(centre.x + 1.0, centre.y))
    sewn = [edge_path(outline, name) for name in (edge_names(outline) if WHOLE in edges else edges)]
    spots = [at for path in sewn for at in flatten(transform_path(path, over))]
    is_even = farthest_out_mm(whole, flatten(transform_path(whole, over))) <= UNEVEN_MM
    return is_even and all(min(distance_to_path(path, at) for path in sewn) <= UNEVEN_MM for at in spots)


def _at_zero(outline: Outline) -> Path:
    """The shape with the middle of its box at nothing."""
    centre = outline_box(outline).centre
    return transform_path(outline_path(outline), translation(-centre.x, -centre.y))


@check(
    "lining-other-shape",
    "A lining has the shape of what it lines: it comes out nowhere by more than {lining_larger} over what it is larger.",
    "plane geometry",
    needs_whole=True,
)
def find_other_linings(subject: Subject) -> Iterator[Found]:
    """Cloth behind leather of its size; once for a lining. What is larger all over is told as that."""
    told: set[str] = set()
    for lies in subject.build.assembly.lies if subject.build.assembly else ():
        lining, leather = (subject.parts.pieces.get(copy.part) for copy in (lies.copy, lies.host))
        if (
            not lies.is_cover
            or lining is None
            or leather is None
            or lining.name in told
            or lining.model == leather.model
        ):
            continue
        kinds = [material.kind if (material := subject.material(piece)) else "" for piece in (lining, leather)]
        small, large = (outline_box(piece.sewn_outline) for piece in (leather, lining))
        is_of_size = abs(small.width - large.width) <= SAME_SIZE_MM and abs(small.height - large.height) <= SAME_SIZE_MM
        if kinds != ["fabric", "leather"] or not is_of_size:
            continue
        out_mm = _out_mm(leather, lining)
        if out_mm > subject.build.limits.lining_larger_mm + SAME_SIZE_MM:
            told.add(lining.name)
            what = (
                f'the lining "{lining.name}" comes out {subject.length(out_mm)} beyond "{leather.name}", which it lines: '
                "it is as large, and their corners differ"
            )
            mend = f'write like = "{leather.name}" in place of its size, or give it the same corners'
            yield lining.place, what, mend, lining.name


def _out_mm(leather: Piece, lining: Piece) -> float:
    shape, under = _at_zero(leather.sewn_outline), _at_zero(lining.sewn_outline)
    ways = (under, transform_path(under, mirror_x(0.0)))
    return min(farthest_out_mm(shape, flatten(way)) for way in ways)


@check(
    "stretch-across",
    f"A piece up to {WIDEST_STRAP_MM:g} mm wide, and {LONG_STRIP:g} times as long or longer, stretches least along it.",
    "weaverleathersupply.com, glossary, and fineleatherworking.com: straps are cut parallel to the backbone",
    needs_whole=True,
)
def find_stretched_strips(subject: Subject) -> Iterator[Found]:
    for spec in subject.spec.pieces:
        piece, value = subject.parts.pieces.get(spec.name), spec.least_stretch
        material = subject.material(piece) if piece else None
        if piece is None or value is None or material is None or material.kind != "leather":
            continue
        box = outline_box(piece.outline)
        long = "up" if box.height > box.width else "across"
        short_mm, long_mm = sorted((box.width, box.height))
        if value.value != long and long_mm >= LONG_STRIP * short_mm and short_mm <= WIDEST_STRAP_MM:
            what = (
                f'"{piece.name}" is {subject.length(box.width)} by {subject.length(box.height)}, and stretches least over '
                "its width: it grows longer in use"
            )
            yield value.place, what, f'write least-stretch = "{long}", or leave it out', piece.name


@check(
    "hem-unskived",
    f"Where other edges are skived, what is turned over is skived too, from {LEAST_HEM_SKIVED_MM:g} mm of leather on.",
    PRACTICE,
    needs_whole=True,
)
def find_thick_hems(subject: Subject) -> Iterator[Found]:
    """Hems of leather without a band along them, in a build that skives other pieces; once for a piece."""
    if not any(piece.marks.skives for piece in subject.build.pieces):
        return
    for piece in subject.build.pieces:
        material = subject.material(piece)
        if material is None or material.kind != "leather" or material.thickness_mm < LEAST_HEM_SKIVED_MM:
            continue
        banded = {edge for skive in piece.marks.skives for edge in skive.edges.split()}
        bare = [hem for hem in piece.hems if banded.isdisjoint({*hem.edges, "all"})]
        if bare:
            what = (
                f'the {" ".join(bare[0].edges)} of "{piece.name}" is turned over at its full thickness, and other edges of '
                "this build are skived"
            )
            place = bare[0].place if bare[0].place.line else piece.place
            yield place, what, f'add to "{piece.name}" a skive along that edge, or accept it', piece.name
