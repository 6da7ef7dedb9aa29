"""Joins: strips sewn end to end into one, with their whole length and the ends that carry a joint."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from docgen.geometry.nearest import Stretch
from docgen.geometry.outline import edge_names, outline_box
from docgen.geometry.path import path_length, points_at
from docgen.geometry.run import run_path
from docgen.geometry.shapes import Outline
from docgen.geometry.vector import distance
from docgen.problems import line_words, lines_words
from docgen.read import JoinSpec
from docgen.resolve.marks import Notch
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece, edge_mm
from docgen.resolve.seams.seam import Join, SeamSide, Stitch
from docgen.resolve.values import Reader, flag, names, words
from docgen.tables.defaults import IS_RING, ROWS
from docgen.written.units.telling import format_mm

WIDTH_TOLERANCE_MM = 0.5
MEETS_MM = 1.0  # a mark so near to the middle is in it
# Edges at the start, the end and the sides of a strip: a standing rectangle will do as well.
STRIP_ENDS = ("start", "end")
RECTANGLE_ENDS = ("bottom", "top")


def read_joins(reader: Reader, specs: tuple[JoinSpec, ...], stitches: Mapping[str, Stitch]) -> dict[str, Join]:
    """Joins by name, their lengths not yet known, each with the rows of its stitch where it says none; those that cannot be
    read are noted and left out."""
    plans, rows_of = {}, {name: stitch.rows for name, stitch in stitches.items()}
    for spec in specs:
        overlap_mm = reader.length(spec.overlap, zero=True)
        if overlap_mm is None or spec.overlap is None or spec.stitch is None or not spec.of:
            continue
        is_ring = flag(spec.ring, IS_RING)
        if len(spec.of) < 2 and not is_ring:
            if "of" in spec.wrong:
                continue
            what = f'the join "{spec.name}" has one strip only'
            mend = "name two or more strips, in order, or write ring = true when it closes on itself"
            reader.error(spec.of[0].place, what, mend)
            continue
        plan = Join(
            name=spec.name,
            title=words(spec.title, spec.name.replace("-", " ")),
            pieces=names(spec.of),
            overlap_mm=overlap_mm,
            stitch=spec.stitch.value,
            rows=spec.rows.value if spec.rows else rows_of.get(spec.stitch.value, ROWS),
            place=spec.place,
            overlap_place=spec.overlap.place,
            is_ring=is_ring,
        )
        plans[spec.name] = replace(plan, over=_read_over(reader, spec, plan))
    return plans


def _read_over(reader: Reader, spec: JoinSpec, join: Join) -> tuple[str, ...]:
    """The strips that lie over both their neighbours; what is none of the join, or lies beside another such, is noted."""
    over = names(spec.over)
    for value in spec.over:
        if value.value not in join.pieces:
            what = f'"{value.value}" is no strip of the join "{spec.name}"'
            reader.error(value.place, what, "name strips that stand in of")
    beside = [one for one, other in join.neighbours if {one, other} <= {*over}]
    if beside and "of" not in spec.wrong:
        what = f'two neighbours of the join "{spec.name}" are to lie over each other: "{beside[0]}" and the next'
        between = f'name in of what lies between, of = ["{beside[0]}", ...]; else leave it out of over'
        reader.error(spec.over[0].place, what, between if len(spec.of) < 2 else "leave one of them out of over")
    return () if beside else tuple(name for name in over if name in join.pieces)


def strip_ends(outline: Outline) -> tuple[str, str] | None:
    """Edges at the start and at the end of a strip; None for what is no strip."""
    names = edge_names(outline)
    if "left" not in names or "right" not in names:
        return None
    return next((ends for ends in (STRIP_ENDS, RECTANGLE_ENDS) if set(ends) <= set(names)), None)


def join_length_mm(plan: Join, outlines: list[Outline]) -> float:
    """Length of all strips together, after their overlaps."""
    return sum(outline_box(outline).height for outline in outlines) - plan.overlap_mm * plan.joints


def from_start(stretch: Stretch, edge: str, length_mm: float) -> Stretch:
    """A part of a long edge as it lies from the start of a strip or join on: the left runs towards the start."""
    begin, end = stretch
    return (length_mm - end, length_mm - begin) if edge == "left" else (begin, end)


def measure_joins(
    reader: Reader, plans: Mapping[str, Join], pieces: Mapping[str, Piece], written: Mapping[str, int]
) -> dict[str, Join]:
    """Joins with their whole length; strips that do not fit each other are noted, with the lines where their sizes are
    `written`."""
    joins = {}
    for plan in plans.values():
        strips = [pieces[name] for name in plan.pieces if name in pieces]
        if not _are_strips(reader, plan, strips) or len(strips) != len(plan.pieces):
            continue
        _check_widths(reader, plan, strips, written)
        _check_overlap(reader, plan, strips)
        length_mm = join_length_mm(plan, [strip.outline for strip in strips])
        joins[plan.name] = replace(plan, width_mm=outline_box(strips[0].outline).width, length_mm=length_mm)
    _check_counts(reader, plans, pieces)
    return joins


def _are_strips(reader: Reader, plan: Join, strips: list[Piece]) -> bool:
    others = dict.fromkeys(strip.name for strip in strips if strip_ends(strip.outline) is None)
    for name in others:
        what = f'"{name}" in the join "{plan.name}" is no strip'
        reader.error(plan.place, what, 'give it shape = "strip" or "rectangle"')
    return not others


FAR_WIDER = 2.0  # times: so unlike strips are meant for other joins, our choice


def _check_widths(reader: Reader, plan: Join, strips: list[Piece], written: Mapping[str, int]) -> None:
    widths = {strip.name: outline_box(strip.outline).width for strip in strips}
    if max(widths.values()) - min(widths.values()) > WIDTH_TOLERANCE_MM:
        told = [f'"{name}" {format_mm(mm)}' for name, mm in widths.items()]
        what = f'the strips of "{plan.name}" are not equally wide: {", ".join(told[:-1])} and {told[-1]}'
        is_far = max(widths.values()) > FAR_WIDER * min(widths.values())
        names = "look at the names in of; else " if is_far else ""
        lines = sorted({line for name in widths if (line := written.get(name, 0))})
        there = f" ({lines_words(lines)})" if lines else ""
        turned = [strip.name for strip in strips if _fits_turned(strip, widths)]
        if len(set(turned)) == 1:
            names = f'are the two sizes of "{turned[0]}" the other way about? else '
        reader.error(plan.place, what, f"{names}give them one width: look at their sizes{there}")


def _fits_turned(strip: Piece, widths: Mapping[str, float]) -> bool:
    """Whether a strip is as long as all others are wide, and wider or narrower than they."""
    box, others = outline_box(strip.outline), [mm for name, mm in widths.items() if name != strip.name]
    same = [abs(box.height - mm) <= WIDTH_TOLERANCE_MM for mm in others]
    return bool(others) and all(same) and all(abs(box.width - mm) > WIDTH_TOLERANCE_MM for mm in others)


def _check_overlap(reader: Reader, plan: Join, strips: list[Piece]) -> None:
    """An outer strip lies over its neighbour once, an inner one twice."""
    for index, strip in enumerate(strips):
        is_end = index in (0, len(strips) - 1) and not plan.is_ring
        takes_mm = plan.overlap_mm * (1 if is_end else 2)
        height_mm = outline_box(strip.outline).height
        if takes_mm >= height_mm and not reader.is_noted(plan.overlap_place):
            is_long = "wide" if strip.by_length else "long"  # goods by length lie across
            what = (
                f'the join "{plan.name}" takes {format_mm(takes_mm)} of "{strip.name}", '
                f"which is {format_mm(height_mm)} {is_long}"
            )
            mend = f'make "{strip.name}" wider{line_words(strip.place.line)}' if strip.by_length else "a longer strip"
            reader.error(plan.overlap_place, what, f"use a smaller overlap, or {mend}")


def _check_counts(reader: Reader, plans: Mapping[str, Join], pieces: Mapping[str, Piece]) -> None:
    """A strip that stands twice in the joins must be cut twice."""
    for name, count in Counter(name for plan in plans.values() for name in plan.pieces).items():
        piece = pieces.get(name)
        if piece is not None and piece.cut < count:
            what = f'the joins take {count} of "{name}" for one make, and {piece.cut} is cut'
            reader.error(piece.place, what, f"write cut = {count}, or name another strip in one of the joins")


def joint_ends(join: Join, pieces: Mapping[str, Piece]) -> dict[str, tuple[str, ...]]:
    """Edges of each strip that carry a joint: the first strip its end, the last its start, others both.

    A strip that is both first and last, and nothing between, is turned round for one of them, so that every
    copy has one joint: at its start, or at its end when only the start is hemmed, as at a mouth, or only the end skived.
    """
    found: dict[str, set[int]] = {name: set() for name in join.pieces}
    for index, name in enumerate(join.pieces):
        found[name] |= {0} if index or join.is_ring else set()
        found[name] |= {1} if index < len(join.pieces) - 1 or join.is_ring else set()
    if turned_strip(join, pieces) is not None:
        found[join.pieces[0]] = {_joined_end(pieces[join.pieces[0]])}
    ends = {name: strip_ends(pieces[name].outline) or STRIP_ENDS for name in found}
    return {name: tuple(ends[name][which] for which in sorted(places)) for name, places in found.items()}


def turned_strip(join: Join, pieces: Mapping[str, Piece]) -> int | None:
    """Which strip of the join, counted from 0, lies turned round, so that both outer copies have their joint at one
    end of the template; None where none has to."""
    if join.is_ring:
        return None
    first, *inner, last = join.pieces
    if first != last or first in inner:
        return None
    return len(join.pieces) - 1 if _joined_end(pieces[first]) else 0


def _joined_end(strip: Piece) -> int:
    """The end that others are sewn to: no hem, before all, else a skive tells it."""
    hemmed = strip.hemmed
    skived = {name for skive in strip.marks.skives for name in skive.edges.split()}
    start, end = strip_ends(strip.outline) or STRIP_ENDS
    if (start in hemmed) != (end in hemmed):
        return 1 if start in hemmed else 0
    return 1 if end in skived and start not in skived else 0


def notch_on_joint(
    join: Join, pieces: Mapping[str, Piece], wall: SeamSide, panel: Piece, side: SeamSide
) -> Notch | None:
    """The notch in the middle of a panel's edges on which the joint of two strips of one length comes to lie, where they
    bear none themselves: the joint is its mate."""
    if join.is_ring or len(join.pieces) != 2 or wall.ends or side.ends:
        return None
    strips = [pieces[name] for name in join.pieces]
    one, other = (outline_box(strip.outline).height for strip in strips)
    if abs(one - other) >= MEETS_MM or any(mark.edge in wall.edges for strip in strips for mark in strip.marks.notches):
        return None
    path = run_path(panel.outline, side.edges)
    ((middle, _),) = points_at(path, [path_length(path) / 2])
    return next((mark for mark in panel.marks.notches if distance(mark.at, middle) < MEETS_MM), None)


def joint_mm(join: Join, parts: Parts) -> float:
    """The thickest joint of a join: two ends over each other. A band narrower than the overlap thins only a part."""
    if not all(name in parts.pieces for name in join.pieces):
        return 0.0
    thick = joint_ends_mm(join, parts)
    return max((thick[first] + thick[second] for first, second in join.neighbours), default=0.0)


def joint_ends_mm(join: Join, parts: Parts) -> dict[str, float]:
    """How thick each strip of a join is at its joints, mm: of two that differ, at the thicker one."""
    ends = joint_ends(join, parts.pieces)
    return {name: max(_end_mm(parts, name, end, join.overlap_mm) for end in found) for name, found in ends.items()}


def _end_mm(parts: Parts, name: str, end: str, overlap_mm: float) -> float:
    piece = parts.pieces[name]
    return edge_mm(piece, end, overlap_mm - 0.5, parts.full_mm(piece))
