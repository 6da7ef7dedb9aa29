"""What is too small for what goes round it or stands on it: round corners beside a turned seam that lies farther in, and
straps narrower than the caps that are set in them."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.sizes_said import said_size
from docgen.checks.trade import Subject
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import WHOLE, outline_path
from docgen.geometry.shapes import Arc, Edge, Outline
from docgen.problems import line_words
from docgen.resolve import Hole, SeamSide, Strap, from_end_mm

CAP_RE: Final = re.compile(r"\bcap\b", re.IGNORECASE)
CAPPED: Final = frozenset({"snap", "rivet", "tubular-rivet"})
TINY_MM: Final = 1e-6


@question
def ask_round_corners(subject: Subject) -> Iterator[Question]:
    """Corners that a turned seam goes round, rounded by less than it lies in; once for pieces of one shape."""
    told = set()
    for seam in subject.build.seams:
        inset_mm = subject.parts.stitches[seam.stitch].inset_mm if seam.is_turned else 0.0
        for side in seam.sides if seam.is_turned else ():
            piece = subject.parts.pieces.get(side.part)
            radii = [*_radii_mm(piece.sewn_outline, side)] if piece is not None else []
            small = [(edge, mm) for edge, mm in radii if mm < inset_mm - TINY_MM]
            if piece is not None and small and piece.model not in told:
                told.add(piece.model)
                edge, radius_mm = small[0]
                line = line_words(subject.place_of(subject.parts.stitches[seam.stitch], "inset").line)
                what = f'the corner {edge.name} of "{piece.name}" is rounded by {subject.length(radius_mm)}, and '
                what += f'"{seam.name}" is sewn {subject.length(inset_mm)} from the edge{line}: turned, it is not round'
                answer = "round it by more than that; where the corner is to be sharp there is nothing to do"
                own = subject.piece_spec(piece.name)
                place = own.round[0].length.place if own and own.round else piece.place
                yield Question(place=place, what=what, answer=answer)


def _radii_mm(outline: Outline, side: SeamSide) -> Iterator[tuple[Edge, float]]:
    """The round corners that a side of a seam goes past, each with its radius."""
    edges = outline.edges
    for k, edge in enumerate(edges):
        beside = {edges[k - 1].name, edges[(k + 1) % len(edges)].name}
        arcs = [segment for segment in edge.path.segments if isinstance(segment, Arc) and segment.sweep > 0]
        if edge.corner and arcs and (side.edges == (WHOLE,) or beside <= {*side.edges}):
            yield edge, min(arc.radius for arc in arcs)


@question
def ask_wide_caps(subject: Subject) -> Iterator[Question]:
    """Caps whose size their words give, set in a strap nearer to its edge than half of that; once for a strap."""
    sizes_mm = {
        item.name: said_size(item.what)[1]
        for item in subject.build.hardware
        if item.kind in CAPPED and CAP_RE.search(item.what)
    }
    for strap in subject.build.straps if any(sizes_mm.values()) else ():
        outline = outline_path(strap.piece.outline)
        for hole in strap.piece.marks.holes[strap.row_holes :]:
            name = _set_in(strap, hole)
            beside_mm = distance_to_path(outline, hole.at)
            if sizes_mm.get(name, 0.0) / 2 > beside_mm + TINY_MM:
                cap, wide = subject.length(sizes_mm[name]), subject.length(2 * beside_mm)
                what = f'the cap of "{name}" is {cap} across, and "{strap.name}" leaves {wide} for it at this hole'
                answer = (
                    "take a smaller one, or make the strap wider; where it may stand over the edge there is nothing "
                )
                yield Question(place=hole.place, what=what, answer=f"{answer}to do")
                break


def _set_in(strap: Strap, hole: Hole) -> str:
    """What a hole of a strap takes: of one that closes a turned end what that names."""
    closes = (end.takes for which, end in enumerate(strap.ends) if from_end_mm(strap, which, hole.at) < 2 * end.fold_mm)
    return hole.takes or next((name for name in closes if name), "")
