"""Check of match marks: those of seam partners must meet when the seam is sewn."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import starmap
from typing import NamedTuple

from docgen.checks.trade.bands import order_words, other_orders
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.nearest import inset_stretch
from docgen.geometry.path import part_of, path_length, points_at
from docgen.geometry.run import is_whole, run_path
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import add, distance, scale
from docgen.problems import Place, lines_words
from docgen.resolve import Seam, SeamSide, Stitch, by_name, from_start, marks_along, side_words, turn_to_meet

NEAR_MM = 0.1  # how finely a notch is found along its stitch line
STRIDE_MM = 3.0
MOST_LINES = 3  # more are not told


@check(
    "notches-apart",
    "Match marks of partners meet within {notches_meet}.",
    PRACTICE,
    needs_whole=True,
    waits_for=("strips-left-over", "ring-on-open-run"),
)
def find_notches_apart(subject: Subject) -> Iterator[Found]:
    """Of each seam its first side and the others; strips of a join that would have them meet in another order are told at
    that alone, and once."""
    stitches, told = by_name(subject.build.stitches), set[Place]()
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.edges]
        marks = [side_marks(side, stitches[seam.stitch], subject) for side in sides]
        for side, found in zip(sides[1:], marks[1:], strict=True):
            if _is_turned_to_meet(subject, seam, side, marks[0], found):
                continue
            gap_mm, one_mm, other_mm = _worst_gap(seam, marks[0], side, found)
            if gap_mm > subject.build.limits.notches_meet_mm + seam.eased_mm:
                what = (
                    f'in the seam "{seam.name}" the notches of {side_words(sides[0])} and {side_words(side)} lie '
                    f"{subject.length(gap_mm)} apart: {subject.length(one_mm)} and {subject.length(other_mm)} from where "
                    "it begins"
                )
                place, mend = _find_order(subject, seam, sides[0], side, marks[0], found) or (seam.place, "")
                if not mend:
                    mend = f"measure both again from one end of the seam{_lines_words(subject, sides[0], side)}"
                elif place in told:
                    continue
                told.add(place)
                yield place, what, mend, seam.name


def _find_order(
    subject: Subject, seam: Seam, first: SeamSide, side: SeamSide, here: list[float], there: list[float]
) -> tuple[Place, str] | None:
    """Two strips of a join that, each in the other's place, would bring its notches to those of the other side: where its
    strips are written, and how."""
    specs = {it.name: it for it in subject.spec.joins}
    for one, known in ((first, there), (side, here)):
        join, spec = subject.parts.joins.get(one.part), specs.get(one.part)
        if join is None or spec is None or one.stretch_mm:
            continue
        for order in other_orders(join):
            laid = [*marks_along(replace(join, pieces=order), one.edges, subject.parts.pieces)]
            if laid and known and _worst_gap(seam, known, one, laid).apart_mm <= subject.build.limits.notches_meet_mm:
                return spec.of[0].place, f"{order_words(order)}, by which they meet; else measure both again"
    return None


def _lines_words(subject: Subject, *sides: SeamSide) -> str:
    """` (lines 65 and 74)`, where the notches stand that lie on the edges that are sewn: of a join those of its strips, of
    a piece without any those of what it is like."""
    lines = []
    for side in sides:
        for strip in subject.parts.strips(side.part):
            model = subject.piece_spec(strip.model)
            spec = subject.piece_spec(strip.name)
            notches = (spec.notches if spec else ()) or (model.notches if model else ())
            lines += [it.on.place.line for it in notches if it.on and it.on.value in side.edges][:1]
    told = sorted(dict.fromkeys(lines))
    return f" ({lines_words(told)})" if 0 < len(told) <= MOST_LINES else ""


def _is_turned_to_meet(subject: Subject, seam: Seam, side: SeamSide, first: list[float], other: list[float]) -> bool:
    """Whether a ring that is sewn round a closed edge begins nowhere there, and can be turned until all meets."""
    joins = [subject.parts.joins.get(one.part) for one in (*seam.sides[:1], side)]
    pieces = subject.parts.pieces
    edged = [(pieces[one.part].outline, one.edges) for one in seam.sides if one.part in pieces]
    if not any(join is not None and join.is_ring for join in joins) or not any(starmap(is_whole, edged)):
        return False
    carried = [mm * seam.length_mm / side.length_mm for mm in other]
    ways = (carried, [seam.length_mm - mm for mm in carried])
    gap_mm = min(turn_to_meet(first, way, seam.length_mm)[1] for way in ways)
    return gap_mm <= subject.build.limits.notches_meet_mm + seam.eased_mm


class _Gap(NamedTuple):
    """How far two notches lie apart, and where each lies along the seam: of its first side, and of another."""

    apart_mm: float
    first_mm: float
    other_mm: float


def _worst_gap(seam: Seam, first: list[float], side: SeamSide, other: list[float]) -> _Gap:
    """The farthest that a notch of the side with fewer lies from one of the other, laid the better way round; 0 where
    one side has none."""
    if not first or not other:
        return _Gap(0.0, 0.0, 0.0)
    carried = [mm * seam.length_mm / side.length_mm for mm in other]
    turned = [seam.length_mm - mm for mm in carried]
    return min(_gap(first, carried), _gap(first, turned))


def _gap(first: list[float], other: list[float]) -> _Gap:
    if len(first) > len(other):
        gaps = ((abs(one - mm), one, mm) for mm in other for one in [_nearest_of(first, mm)])
    else:
        gaps = ((abs(mm - two), mm, two) for mm in first for two in [_nearest_of(other, mm)])
    return _Gap(*max(gaps))


def _nearest_of(figures: list[float], mm: float) -> float:
    return min((abs(one - mm), one) for one in figures)[1]


def side_marks(side: SeamSide, stitch: Stitch, subject: Subject) -> list[float]:
    """Distances of the notches along the stitch line of a side, which runs between the folds of its hems."""
    parts = subject.parts
    if side.part in parts.joins:
        return _join_marks(side, subject)
    piece = parts.pieces.get(side.part)
    if piece is None or not piece.marks.notches:
        return []
    run = run_path(piece.outline, side.edges)
    if side.stretch_mm:
        run = part_of(run_path(piece.sewn_outline, side.edges), *side.stretch_mm)
    marks = [notch for notch in piece.marks.notches if distance_to_path(run, notch.at) < NEAR_MM]
    path = inset_stretch(piece.sewn_outline, side.edges, stitch.inset_mm, side.stretch_mm) if marks else run
    at_mm = (_nearest_along(path, add(notch.at, scale(notch.inward, stitch.inset_mm))) for notch in marks)
    return [mm - side.lost_mm[0] for mm in at_mm]


def _join_marks(side: SeamSide, subject: Subject) -> list[float]:
    """Along strips laid end to end; the edge is its left or right."""
    join = subject.parts.joins[side.part]
    marks = [*marks_along(join, side.edges, subject.parts.pieces)]
    if side.stretch_mm is None:
        return marks
    begin_mm, end_mm = from_start(side.stretch_mm, side.edges[0], join.length_mm)
    return [mark - begin_mm for mark in marks if begin_mm <= mark <= end_mm]


def _nearest_along(path: Path, at: Point) -> float:
    """Distance along the path of its point nearest to `at`: looked for in strides, then in small steps."""
    length_mm = path_length(path)
    near_mm = _nearest_step(path, at, 0.0, length_mm, STRIDE_MM)
    return _nearest_step(path, at, max(near_mm - STRIDE_MM, 0.0), min(near_mm + STRIDE_MM, length_mm), NEAR_MM)


def _nearest_step(path: Path, at: Point, start_mm: float, end_mm: float, step_mm: float) -> float:
    count = max(int((end_mm - start_mm) / step_mm), 1)
    steps = [start_mm + (end_mm - start_mm) * step / count for step in range(count + 1)]
    gaps = [distance(point, at) for point, _ in points_at(path, steps)]
    return steps[gaps.index(min(gaps))]
