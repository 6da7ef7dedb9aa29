"""Checks of straps by themselves: holes against the width, and two parts that buckle together."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.written.units.telling import format_percent


@check(
    "strap-hole-wide",
    "A hole of a strap's row takes at most {strap_hole} of its width there.",
    PRACTICE,
    needs_whole=True,
)
def find_wide_holes(subject: Subject) -> Iterator[Found]:
    """Once for a strap, by the first hole of each of its rows; one that comes too near to the edges is told as that."""
    most, near_edge = subject.build.limits.strap_hole, 2 * subject.build.limits.hole_edge
    for strap in subject.build.straps:
        holes = strap.piece.marks.holes
        rows = ((1, holes[: len(strap.hole_tips_mm)]), (0, holes[len(strap.hole_tips_mm) : strap.row_holes]))
        for which, row in rows:
            width_mm = strap.end_width_mm(which)
            is_told = row and (row[0].place in subject.odd_punches or row[0].diameter_mm > width_mm / near_edge)
            if row and not is_told and row[0].diameter_mm > most * width_mm + 1e-6:
                what = (
                    f'the holes of the strap "{strap.name}" are {subject.length(row[0].diameter_mm)}, '
                    f"{format_percent(row[0].diameter_mm / width_mm)} of its {subject.length(width_mm)}"
                )
                spec = next(one for one in subject.spec.straps if one.name == strap.name)
                punch = spec.holes.punch if spec.holes and which else None
                yield punch.place if punch else row[0].place, what, "look at punch and width", strap.name
                break


@check(
    "buckled-parts-unlike",
    "Two straps that buckle together are cut from the same goods.",
    "our choice; two kinds that are meant may be accepted",
    needs_whole=True,
)
def find_unlike_partners(subject: Subject) -> Iterator[Found]:
    """Straps that name a partner of another material; told at the one that names the other."""
    for strap in subject.build.straps:
        other = subject.parts.straps.get(strap.partner)
        if other is not None and other.material != strap.material:
            place = subject.written_at(subject.spec.straps, strap.name, "of")
            line = subject.written_at(subject.spec.straps, other.name, "of").line
            what = (
                f'the strap "{strap.name}" is cut from "{strap.material}", and "{other.name}", with which it buckles, from '
                f'"{other.material}" (line {line})'
            )
            yield place, what, "look at both, or accept it where two kinds are meant", strap.name
