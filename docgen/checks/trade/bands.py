"""Checks of what is marked along edges: skives where nothing lies over, joints thinned on one side, notches without a
mate."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import combinations

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import end_point, part_of, start_point
from docgen.geometry.run import run_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, distance, subtract, transform_point
from docgen.resolve import Join, Piece, Seam, SeamSide, notch_on_joint, side_words

STRIP_ENDS = (("start", "end"), ("bottom", "top"))
NEAR_MM = 0.1
AT_END_MM = 1.0  # a notch so near to where a part of an edge begins marks that
OVER_EDGE_MM = 1.0
SPOTS = 24


@check("skive-idle", "What is skived along an edge is turned over there, joined or sewn.", PRACTICE, needs_whole=True)
def find_idle_bands(subject: Subject) -> Iterator[Found]:
    """Bands along edges that no seam, join, hem or fold takes up; none of what lands unsewn: it is glued."""
    build = subject.build
    sewn = subject.sewn.keys()
    landed = {landing.piece for base in build.pieces for landing in base.marks.landings} - sewn
    for spec in subject.spec.pieces:
        piece = subject.parts.pieces.get(spec.name)
        if piece is None or piece.name in landed:
            continue
        taken = _taken_edges(subject, piece)
        for item in spec.skives:
            edges = set(item.edges.value.split()) if item.edges else set()
            if item.edges and taken.isdisjoint(edges) and "all" not in edges and "all" not in taken:
                what = f'"{piece.name}" is skived along {item.edges.value}, and nothing is sewn, joined or turned there'
                yield item.edges.place, what, "name the edge that is meant, or leave it out", piece.name


def _taken_edges(subject: Subject, piece: Piece) -> set[str]:
    build = subject.build
    joins = [join.name for join in build.joins if piece.name in join.pieces]
    edges = set(piece.hemmed)
    edges |= {
        edge for seam in build.seams for side in seam.sides if side.part in (piece.name, *joins) for edge in side.edges
    }
    if joins:
        edges |= {edge for ends in STRIP_ENDS for edge in ends}
    if any(not fold.is_open and not fold.of_hem for fold in piece.marks.folds):
        edges.add("all")  # which edges a fold lays on each other is not said
    return edges


@check(
    "joint-skived-once",
    "Where two strips are joined, both ends are skived or neither.",
    PRACTICE,
    needs_whole=True,
    waits_for=("ring-on-open-run",),
)
def find_uneven_joints(subject: Subject) -> Iterator[Found]:
    """Joins of which some strip has fewer thinned ends than it lies in joints, and another strip has some."""
    for join in subject.build.joins:
        found = {name: _skived_ends(subject.parts.pieces[name]) for name in join.pieces}
        lacking = [name for name in found if found[name] < _joints_of(join, name)]
        if any(found.values()) and lacking:
            name = lacking[0]
            what = f'the join "{join.name}" lays skived ends on each other, and "{name}" has {_ends_words(found[name])}'
            spec = subject.piece_spec(name)
            skived = (item.edges.place for item in (spec.skives if spec else ()) if item.edges)
            place = next(skived, subject.parts.pieces[name].place)
            mend = "skive the ends that lie over each other, start and end, or accept this"
            yield place, what, _order_words(join, found) + mend, name


def _order_words(join: Join, found: Mapping[str, int]) -> str:
    """`write of = [...]; else `, where two strips in each other's place would lie in as many joints as they have skived
    ends."""
    for order in other_orders(join):
        turned = replace(join, pieces=order)
        if all(found[name] == _joints_of(turned, name) for name in found):
            return f"{order_words(order)}; else "
    return ""


def other_orders(join: Join) -> Iterator[tuple[str, ...]]:
    """The strips of a join with two unlike ones of them in each other's place."""
    for one, other in combinations(range(len(join.pieces)), 2):
        if join.pieces[one] != join.pieces[other]:
            order = [*join.pieces]
            order[one], order[other] = order[other], order[one]
            yield tuple(order)


def order_words(names: Iterable[str]) -> str:
    """How strips of a join are written in this order."""
    written = ", ".join(f'"{name}"' for name in names)
    return f"write of = [{written}]"


def _ends_words(count: int) -> str:
    return "one skived end" if count else "no skived end"


def _skived_ends(piece: Piece) -> int:
    edges = {edge for skive in piece.marks.skives for edge in skive.edges.split()}
    counts = [len(edges.intersection(ends)) for ends in STRIP_ENDS]
    return 2 if "all" in edges else max(counts)


def _joints_of(join: Join, name: str) -> int:
    """In how many joints a strip lies by its two ends: the most of any place it has in the join."""
    last = len(join.pieces) - 1
    return max(2 if join.is_ring or 0 < k < last else 1 for k, one in enumerate(join.pieces) if one == name)


@check(
    "notch-alone",
    "A notch at a seam has its mate on the other side, where that part has notches.",
    PRACTICE,
    needs_whole=True,
    waits_for=("marks-taken-over", "edge-sewn-again", "edge-in-two-seams", "marked-twice"),
)
def find_lone_notches(subject: Subject) -> Iterator[Found]:
    """Notches on an edge that no seam takes; and seams of which one side has more notches than another that has some."""
    seams = subject.build.seams
    hosts = {side.part for seam in seams for side in seam.sides if not side.edges}  # its notch is for what lies on it
    hosts |= {base.name for base in subject.build.pieces if base.marks.landings}
    joins = subject.build.join_of
    for spec in subject.spec.pieces:
        piece = subject.parts.pieces.get(spec.name)
        for item in spec.notches if piece else ():
            edge = item.on.value if item.on else ""
            names = {spec.name, joins.get(spec.name, spec.name)}
            models = {spec.name} | {
                other.name for other in subject.build.pieces if piece and other.model == piece.model
            }
            if (
                edge
                and spec.name not in hosts
                and not any({edge, "all"} & subject.edges_sewn(name) for name in names | models)
            ):
                what = f'"{spec.name}" has a notch on {edge}, and nothing is sewn there'
                yield item.on.place if item.on else item.place, what, "name the edge that is meant", spec.name
    for seam in seams:
        sides = [side for side in seam.sides if side.edges]
        notches = [_count_notches(subject, side) for side in sides]
        fewest, most = min(notches, default=0), max(notches, default=0)
        if 0 < fewest < most:
            few, many = sides[notches.index(fewest)], sides[notches.index(most)]
            what = f'in the seam "{seam.name}" {side_words(many)} has {most} notches and {side_words(few)} {fewest}'
            yield seam.place, what, "give each its mate, or leave out the one that has none", seam.name
        elif not fewest and most and len(sides) > 1 and (bare := _bare_partner(subject, sides, notches)):
            many = sides[notches.index(most)]
            what = f'in the seam "{seam.name}" {side_words(many)} has a notch, and {side_words(bare)} has none'
            mend = f'give "{bare.part}" its mate there, or accept a mark that is for something else'
            yield seam.place, what, mend, seam.name
    yield from _tell_bare_walls(subject)


def _tell_bare_walls(subject: Subject) -> Iterator[Found]:
    """Leather without any notch, to which seams sew two parts or more that have one there each."""
    bare: dict[str, list[SeamSide]] = {}
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.edges]
        marked = [side for side in sides if _count_notches(subject, side)]
        for side in sides if len(sides) == 2 and len(marked) == 1 else ():
            if side not in marked and not _meets_joint(subject, side, marked[0]):
                bare.setdefault(side.part, []).append(marked[0])
    for name, others in bare.items():
        strips = subject.parts.strips(name)
        is_leather = all(subject.parts.materials[strip.material].kind == "leather" for strip in strips)
        if strips and is_leather and len(others) > 1 and not any(strip.marks.notches for strip in strips):
            words = " and ".join(side_words(side) for side in others)
            what = f'{words} have a notch each where "{name}" is sewn to them, and it has none'
            yield strips[0].place, what, f'give "{name}" their mates, or accept marks for something else', name


def _meets_joint(subject: Subject, wall: SeamSide, side: SeamSide) -> bool:
    """Whether the joint of a wall of two strips is the mate of a notch."""
    join, panel = subject.parts.joins.get(wall.part), subject.parts.pieces.get(side.part)
    return bool(join and panel and notch_on_joint(join, subject.parts.pieces, wall, panel, side))


def _bare_partner(subject: Subject, sides: list[SeamSide], notches: list[int]) -> SeamSide | None:
    """The partner without a notch in this seam that has one elsewhere, or whose mate has its others met; no lining, foam
    or board, and none where some partner has its mate."""
    bare = [side for side, count in zip(sides, notches, strict=True) if not count]
    marked = [side for side in sides if side not in bare]
    if len(marked) > 1:
        return None
    is_matched = any(_is_matched(subject, seam, marked[0].part) for seam in subject.build.seams)
    for side in bare:
        strips = subject.parts.strips(side.part)
        is_leather = all(subject.parts.materials[strip.material].kind == "leather" for strip in strips)
        if is_leather and (is_matched or any(strip.marks.notches for strip in strips)):
            return side
    return None


def _is_matched(subject: Subject, seam: Seam, part: str) -> bool:
    """Whether the notches of a part have their mates in a seam."""
    sides = [side for side in seam.sides if side.edges]
    return part in {side.part for side in sides} and len(sides) > 1 and all(_count_notches(subject, it) for it in sides)


@check(
    "notch-beside",
    "A notch of what lands on a piece points at one of that piece within {notches_meet}, where that has notches.",
    PRACTICE,
    needs_whole=True,
)
def find_notches_beside(subject: Subject) -> Iterator[Found]:
    """Pieces with a landing and notches, none of which lies in line with one of its host; where it is sewn edge to edge
    with another its notches are for that."""
    partners = {
        side.part for seam in subject.build.seams if _is_edge_to_edge(seam) for side in seam.sides if side.edges
    }
    for base in subject.build.pieces:
        for landing in base.marks.landings if base.marks.notches else ():
            piece = subject.parts.pieces.get(landing.piece)
            if piece is None or piece.name in partners:
                continue
            for notch in piece.marks.notches:
                at = transform_point(notch.at, landing.move)
                offs_mm = [abs(cross(notch.inward, subtract(mate.at, at))) for mate in base.marks.notches]
                if min(offs_mm) > subject.build.limits.notches_meet_mm:
                    spec = subject.piece_spec(piece.name)
                    place = next((item.on.place for item in (spec.notches if spec else ()) if item.on), piece.place)
                    what = (
                        f'the notch on {notch.edge} of "{piece.name}" lies {subject.length(min(offs_mm))} beside those of '
                        f'"{base.name}", on which it lands'
                    )
                    yield place, what, "name the edge that is meant, or measure the landing again", piece.name
                    break


def _is_edge_to_edge(seam: Seam) -> bool:
    return sum(bool(side.edges) for side in seam.sides) > 1


def _count_notches(subject: Subject, side: SeamSide) -> int:
    """Those that want a mate: of a part of its edges what lies within that, since where it begins and ends the other part
    does too."""
    if side.part in subject.parts.joins:
        strips = [subject.parts.pieces[name] for name in subject.parts.joins[side.part].pieces]
        return sum(notch.edge in side.edges for strip in strips for notch in strip.marks.notches)
    piece = subject.parts.pieces.get(side.part)
    if piece is None or not piece.marks.notches:
        return 0
    run, ends = run_path(piece.outline, side.edges), tuple[Point, ...]()
    if side.stretch_mm:
        run = part_of(run_path(piece.sewn_outline, side.edges), *side.stretch_mm)
        ends = (start_point(run), end_point(run))
    spots = [notch.at for notch in piece.marks.notches if distance_to_path(run, notch.at) < NEAR_MM]
    return sum(all(distance(at, end) > AT_END_MM for end in ends) for at in spots)
