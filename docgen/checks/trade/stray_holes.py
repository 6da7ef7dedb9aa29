"""A hole of a strap that meets none where its end lies fast, for one that is wanted there: which it is, and where it is
meant."""

from docgen.assemble import riveted_places
from docgen.checks.trade.check import Subject
from docgen.checks.trade.holes import free_holes
from docgen.geometry.vector import distance
from docgen.resolve import Hole, Strap, StrapLanding
from docgen.tables.sewing import HOLES_MEET_MM
from docgen.written.units.telling import format_short

ENDS = ("start", "end")


def find_stray(subject: Subject, strap: Strap, end: StrapLanding, wanted: Hole) -> tuple[Hole, str] | None:
    """The only hole of a strap that meets none of any piece on which its ends lie, and the place that the wanted hole of
    the piece beneath gives it, as it is written; a hole that is right but from the other end too."""
    landed = [
        (base, other) for base in subject.build.pieces for other in base.strap_landings if other.strap == strap.name
    ]
    idle = [
        hole
        for hole in free_holes(subject, strap.piece)
        if not hole.long_mm
        and not any(
            distance(spot, beneath.at) <= HOLES_MEET_MM
            for base, other in landed
            for spot in riveted_places(strap, other, hole.at)
            for beneath in base.marks.holes
        )
    ]
    off_mm = (wanted.at.x - end.at.x) * end.way.x + (wanted.at.y - end.at.y) * end.way.y
    if len(idle) != 1 or off_mm <= 0:
        return None
    return idle[0], f"{format_short(off_mm, subject.show)} from {ENDS[end.end]}"
