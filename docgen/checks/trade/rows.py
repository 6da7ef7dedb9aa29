"""Checks of rows of stitches against the pieces they run on: narrow pieces, what lands, back-tacks."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import distance_to_path, is_inside
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Arc, Path, Point
from docgen.geometry.vector import add, scale, subtract, turn_left, unit
from docgen.resolve import Landing, Piece, by_name
from docgen.tables import usual
from docgen.tables.sewing import MORE_BEYOND_LINE_MM
from docgen.written.units.telling import format_mm, format_percent

SPOTS = 96
HELD = 0.8  # share of its inset by which a stitch line holds the edge of what lies under it: our choice
TINY_MM = 1e-6


@check(
    "piece-narrow-for-stitch",
    f"Beyond a stitch line a piece goes on as far as the line lies from its edge, and {format_mm(MORE_BEYOND_LINE_MM)} "
    "more.",
    "plane geometry; the figure is our choice",
    needs_whole=True,
)
def find_narrow_pieces(subject: Subject) -> Iterator[Found]:
    """Leather that is sewn and narrower than two stitch lines; what is folded along its length is passed over. Straps too
    that are sewn along both edges."""
    yield from _narrow_straps(subject)
    seams = {seam.name for seam in subject.build.seams}
    for piece in subject.build.pieces:
        material = subject.material(piece)
        lines = [line for line in piece.marks.stitch_lines if line.seam in seams]
        if material is None or material.kind != "leather" or not lines or piece.marks.folds:
            continue
        box = outline_box(piece.sewn_outline)
        side_mm, inset_mm = min(box.width, box.height), max(subject.inset_mm(line.stitch) for line in lines)
        least_mm = 2 * inset_mm + MORE_BEYOND_LINE_MM
        if side_mm < least_mm - TINY_MM:
            what = (
                f'"{piece.name}" is {subject.length(side_mm)} at its narrowest, and its stitches lie '
                f"{subject.length(inset_mm)} from the edge"
            )
            mend = f"look at both figures: make it {subject.length(least_mm)} or wider, or the inset smaller"
            yield subject.size_place(piece, is_across=side_mm == box.width), what, mend, piece.name


def _narrow_straps(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        own = [line for line in strap.piece.marks.stitch_lines if line.seam == strap.name]
        inset_mm = max((subject.inset_mm(line.stitch) for line in own), default=0.0)
        least_mm = 2 * inset_mm + MORE_BEYOND_LINE_MM
        if own and strap.width_mm < least_mm - TINY_MM:
            what = (
                f'"{strap.name}" is {subject.length(strap.width_mm)} wide, and its stitches lie '
                f"{subject.length(inset_mm)} from each edge"
            )
            mend = f"look at both figures: make it {subject.length(least_mm)} or wider, or the inset smaller"
            yield subject.written_at(subject.spec.straps, strap.name, "width"), what, mend, strap.name


@check(
    "landing-edge-in-row",
    f"A stitch line holds what lands beneath it by {format_percent(HELD)} of its inset or more, or passes beside it.",
    "our choice",
    needs_whole=True,
)
def find_edges_in_rows(subject: Subject) -> Iterator[Found]:
    """What lands where a row of the piece beneath catches it by its very edge. Pieces with a fold or hem are passed over:
    which half lies there is not said."""
    pieces = by_name(subject.build.pieces)
    for spec in subject.spec.pieces:
        base = pieces.get(spec.name)
        items = [item for item in spec.landings if item.piece]
        for item, landing in zip(items, base.marks.landings, strict=False) if base else ():
            piece = pieces.get(landing.piece)
            if base is not None and piece is not None and item.at and not (piece.marks.folds or piece.hems):
                for seam, least_mm in _catching_rows(subject, base, piece, landing):
                    if _is_laid_after(subject, piece, seam):
                        continue
                    what = (
                        f'the stitch line of "{seam}" on "{base.name}" runs less than {subject.length(least_mm)} inside '
                        f'the edge of "{piece.name}", which lands there'
                    )
                    mend = "measure again where it lands: clear of that line, or well under it"
                    yield item.at.place, what, mend, base.name
                    break


def _is_laid_after(subject: Subject, piece: Piece, seam: str) -> bool:
    """Whether a step lays the piece there only after that seam is sewn."""
    events = [(event.kind, event.name) for event in subject.build.assembly.events]
    laid, sewn = ("pieces", piece.name), ("seams", seam)
    return laid in events and sewn in events and events.index(laid) > events.index(sewn)


def _catching_rows(subject: Subject, base: Piece, piece: Piece, landing: Landing) -> Iterator[tuple[str, float]]:
    """Seams of the base, not those of the piece, whose line runs too near within an edge; and how near is too near."""
    own = {line.seam for line in piece.marks.stitch_lines}
    for line in base.marks.stitch_lines:
        if line.seam in own or line.row:
            continue
        caught = [(at, way) for at, way in _spots(line.path) if is_inside(landing.outline, at)]
        least_mm = HELD * subject.inset_mm(line.stitch)
        edge = [at for at, way in caught if _is_by_an_edge(landing.outline, at, way, least_mm - TINY_MM)]
        if len(edge) > len(caught) / 3:
            yield line.seam, least_mm


def _is_by_an_edge(outline: Path, at: Point, way: Point, least_mm: float) -> bool:
    """Whether an edge lies nearer than that beside a line which runs that way: not the one that it crosses."""
    if distance_to_path(outline, at) >= least_mm:
        return False
    side = scale(turn_left(unit(way)), least_mm)
    return not (is_inside(outline, add(at, side)) and is_inside(outline, subtract(at, side)))


def _spots(path: Path) -> list[tuple[Point, Point]]:
    """Places along a line, each with the way that the line runs there."""
    step_mm = path_length(path) / SPOTS
    return list(points_at(path, ((k + 0.5) * step_mm for k in range(SPOTS))))


@check(
    "back-tack-long",
    "What is sewn back over is no longer than its seam or row, nor than {most_tack}.",
    "plane geometry; emilspec.com, MIL-L-24778, 3.7, for half an inch; the most is common practice, no published source",
    needs_whole=True,
)
def find_long_tacks(subject: Subject) -> Iterator[Found]:
    """Once for a stitch that says it, with the shortest seam or row of a strap that it sews."""
    written = {spec.name: spec.back_tack for spec in subject.spec.stitches}
    for stitch in subject.build.stitches:
        lengths = [
            (seam.length_mm, f'seam "{seam.name}"') for seam in subject.build.seams if seam.stitch == stitch.name
        ]
        lengths += [
            (run.length_mm, f'row on "{run.part}"')
            for run in subject.build.assembly.runs
            if run.stitch == stitch.name and run.kind in ("straps", "landings") and run.length_mm
        ]
        shortest_mm, name = min(lengths, default=(0.0, ""))
        value = written[stitch.name]
        is_long = stitch.back_tack_mm > subject.build.limits.most_tack_mm + TINY_MM
        if value is not None and (is_long or (name and stitch.back_tack_mm > shortest_mm + TINY_MM)):
            what = f'the stitch "{stitch.name}" is sewn back over {subject.length(stitch.back_tack_mm)} at each end'
            if name and stitch.back_tack_mm > shortest_mm + TINY_MM:
                what += f", and the {name} is {subject.length(shortest_mm)} long"
            yield value.place, what, "look at back-tack and its unit", stitch.name


@check("round-tiny", f"A corner that is rounded has a radius of {format_mm(usual.LEAST_ROUND_MM)} or more.", PRACTICE)
def find_tiny_rounds(subject: Subject) -> Iterator[Found]:
    """Once for a piece that is not drawn; told at the first corner where a radius is written."""
    specs = {spec.name: spec for spec in subject.spec.pieces}
    for piece in subject.build.pieces:
        spec = specs[piece.name]
        values = [item.length for item in spec.round] + [point.round for point in spec.points if point.round]
        arcs = [one.radius for one in outline_path(piece.outline).segments if isinstance(one, Arc)] if values else []
        radius_mm = min(arcs, default=usual.LEAST_ROUND_MM)
        if radius_mm < usual.LEAST_ROUND_MM - TINY_MM and values[0]:
            what = f'a corner of "{piece.name}" is rounded by {subject.length(radius_mm)}'
            yield values[0].place, what, "look at the figure and its unit, or leave the corner sharp", piece.name
