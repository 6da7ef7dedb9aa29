"""Linings that do not go into what they line: larger than it, as long as a wall within which they lie, and not as high; and
foam over a tab that is folded round a fitting."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import boxes_overlap, path_box, transform_path
from docgen.resolve import Join, Seam

TRIMMED_MM: Final = 10.0  # so much larger what is sewn along the edge is trimmed level with it: our choice
RUCKS: Final = 0.02  # of its length round: so much too long leather rucks, thinner goods are eased in: our choice
LEAST_MM: Final = 5.0  # and so much at least
UNEVEN_MM: Final = 8.0  # so much lower or higher than its wall a lining still hangs well: our choice


@question
def ask_large_leather(subject: Subject) -> Iterator[Question]:
    """Leather that is said to line other leather and is larger; of what is sewn along its edge some is trimmed off."""
    sewn = {frozenset((one.part, two.part)) for seam in subject.build.seams for one in seam.sides for two in seam.sides}
    for piece in subject.build.pieces:
        material = subject.material(piece)
        for name in piece.lines if material and material.kind == "leather" else ():
            lined = subject.parts.pieces.get(name)
            other = subject.material(lined) if lined else None
            if lined is None or other is None or other.kind != "leather":
                continue
            large, small = outline_box(piece.sewn_outline), outline_box(lined.sewn_outline)
            over_mm = max(large.width - small.width, large.height - small.height)
            is_sewn = frozenset((piece.name, name)) in sewn
            if over_mm > (TRIMMED_MM if is_sewn else subject.build.limits.lining_larger_mm):
                what = f'"{piece.name}" is {subject.length(over_mm)} larger than "{name}", which it lines'
                answer = "look at its size, or the sign of its inset; where it is trimmed level there is nothing to do"
                own = subject.piece_spec(piece.name)
                place = own.inset.place if own and own.inset else piece.place
                yield Question(place=place, what=what, answer=answer)
                break


@question
def ask_ring_linings(subject: Subject) -> Iterator[Question]:
    """Linings of walls that close on themselves: leather as long as its wall, within which it lies, and goods that are
    sewn in at both edges and are not as high."""
    rings = [join for join in subject.build.joins if join.is_ring]
    for lining in rings if len(rings) > 1 else ():
        lined = {name for strip in subject.parts.strips(lining.name) for name in strip.lines}
        for wall in rings:
            if wall is not lining and lined & {wall.name, *wall.pieces}:
                yield from _ask_length(subject, lining, wall)
                yield from _ask_height(subject, lining, wall)


def _ask_length(subject: Subject, lining: Join, wall: Join) -> Iterator[Question]:
    strip, outer = subject.parts.strips(lining.name)[0], subject.parts.strips(wall.name)[0]
    goods = [subject.material(one) for one in (strip, outer)]
    if any(one is None or one.kind != "leather" for one in goods):
        return
    less_mm = math.pi * sum(one.thickness_mm for one in goods if one)
    over_mm = lining.length_mm - (wall.length_mm - less_mm)
    if over_mm > max(LEAST_MM, RUCKS * lining.length_mm):
        seam = _between(subject, lining, wall)
        over = subject.length(over_mm)
        what = (
            f'"{lining.name}" is {subject.length(lining.length_mm)} round, and lies inside "{wall.name}", where there are '
            f"{subject.length(wall.length_mm - less_mm)}: it rucks"
        )
        place = seam.place if seam else lining.place
        answer = f"let its ends lie {over} farther over each other" if lining.overlap_mm else f"cut it {over} shorter"
        if seam:
            answer += f', name it first in "{seam.name}", and write ease = "{over_mm:.0f} mm" there'
        yield Question(place=place, what=what, answer=f"{answer}; where it gives so much there is nothing to do")


def _ask_height(subject: Subject, lining: Join, wall: Join) -> Iterator[Question]:
    seams = [seam for seam in subject.build.seams for side in seam.sides if side.part == lining.name and side.edges]
    if _between(subject, lining, wall) is None or len(seams) < 2:
        return
    high = [outline_box(subject.parts.strips(one.name)[0].sewn_outline).width for one in (lining, wall)]
    off_mm = high[0] - high[1]
    if abs(off_mm) > UNEVEN_MM:
        strip = subject.parts.strips(lining.name)[0]
        hem_mm = sum(hem.depth_mm for hem in strip.hems if {*hem.edges} & {"left", "right"})
        is_as = " once its hem is turned" if hem_mm else ""
        one, two = map(subject.length, high)
        what = f'"{strip.name}" is {one} high{is_as}, and "{wall.name}", which it lines, {two}'
        answer = "look at both figures; where it is to hang lower or looser there is nothing to do"
        yield Question(place=subject.size_place(strip, is_across=True), what=what, answer=answer)


@question
def ask_over_tabs(subject: Subject) -> Iterator[Question]:
    """Foam and board laid on the inside over a tab that is folded round a fitting there, without a cut for it; once for a
    piece."""
    stiff = {item.name for item in subject.build.materials if item.kind in ("foam", "board")}
    told: set[str] = set()
    for lies in subject.build.assembly.lies if stiff else ():
        base, pad = (subject.parts.pieces.get(copy.part) for copy in (lies.host, lies.copy))
        if base is None or pad is None or pad.material not in stiff or not lies.is_behind or pad.name in told:
            continue
        box = path_box(transform_path(outline_path(pad.outline), lies.move))
        for landing in base.marks.landings if not (pad.marks.holes or pad.marks.slits) else ():
            tab = subject.parts.pieces.get(landing.piece)
            is_held = tab is not None and landing.is_inside and any(fold.around for fold in tab.own_folds)
            at = [subject.build.assembly.laid_at(base.name, name) for name in (landing.piece, pad.name)]
            if tab and is_held and at[0] < at[1] and boxes_overlap(path_box(landing.outline), box):
                told.add(pad.name)
                what = (
                    f'"{pad.name}" lies over "{tab.name}", folded round "{tab.own_folds[0].around}", on "{base.name}"'
                )
                answer = "cut it out there, by a hole or its outline; where it gives enough there is nothing to do"
                yield Question(place=pad.place, what=what, answer=answer)
                break


def _between(subject: Subject, one: Join, other: Join) -> Seam | None:
    """A seam that sews two joins to each other by their edges."""
    names = {one.name, other.name}
    return next(
        (seam for seam in subject.build.seams if names <= {side.part for side in seam.sides if side.edges}), None
    )
