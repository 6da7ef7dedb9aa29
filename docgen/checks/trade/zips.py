"""Checks of zips: one of which a side hangs on nothing, and what is laid too near to an edge that is sewn."""

from collections.abc import Iterator, Set

from docgen.assemble import leathers
from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import SWAPPED, WHOLE, edge_names, edge_path, outline_box
from docgen.geometry.shapes import Point
from docgen.problems import Place, line_words, lines_words, name_words
from docgen.resolve import Piece, Seam, SeamSide, SeamTrimming


@check(
    "laid-beyond-seam",
    "What is laid on a piece is sewn farther in than the seams of its edges.",
    "plane geometry",
    needs_whole=True,
)
def find_laid_beyond_seams(subject: Subject) -> Iterator[Found]:
    """Goods one row of which lies nearer to an edge than the row of the seam that sews this edge; once for each."""
    for piece in subject.build.pieces:
        inset_mm = _sewn_in_mm(subject, piece)
        told: set[Place] = set()
        for row in piece.dividers:
            middle = Point((row.start.x + row.end.x) / 2, (row.start.y + row.end.y) / 2)
            gaps = [
                (distance_to_path(edge_path(piece.outline, edge), middle) - mm, mm) for edge, mm in inset_mm.items()
            ]
            off_mm, mm = min(gaps, default=(1.0, 0.0))
            if row.goods and off_mm < 0 and row.place not in told:
                told.add(row.place)
                box = outline_box(piece.outline)
                what = (
                    f'a row of "{row.goods}" on "{piece.name}" lies {subject.length(max(off_mm + mm, 0.0))} from an edge '
                    f"that is sewn {subject.length(mm)} in; it is {subject.length(min(box.width, box.height))} across"
                )
                own = subject.piece_spec(piece.name)
                what += line_words(own.size[0].place.line if own and own.size else None)
                yield row.place, what, "make the piece wider, or the window smaller", piece.name


def _sewn_in_mm(subject: Subject, piece: Piece) -> dict[str, float]:
    """How far in each edge of a piece is sewn, by its own seams and those of its join."""
    names = {piece.name, *(join.name for join in subject.build.joins if piece.name in join.pieces)}
    known, found = {*edge_names(piece.outline)}, dict[str, float]()
    for seam in subject.build.seams:
        for side in seam.sides:
            for edge in side.edges if side.part in names and not side.lap_mm else ():
                if edge in known:
                    found[edge] = max(found.get(edge, 0.0), subject.parts.stitches[seam.stitch].inset_mm)
    return found


@check("zip-side-loose", "Both sides of a zip are sewn in where one is.", "counted", needs_whole=True)
def find_loose_zip_sides(subject: Subject) -> Iterator[Found]:
    """Zips of which one seam names one side, and none the other; by joins they are held otherwise."""
    for item in subject.build.trimmings:
        uses = [use for seam in subject.build.seams for use in seam.trimmings if use.name == item.name]
        is_joined = any(cut.joins for cut in item.cuts)
        if item.kind == "zip" and len(uses) == 1 and item.number == 1 and uses[0].side in SWAPPED and not is_joined:
            side = uses[0].side
            what = f'the {side} side of "{item.name}" is sewn in, and no seam takes the {SWAPPED[side]}'
            yield uses[0].place, what, f'write "{item.name}: {SWAPPED[side]}" in the seam of the other edge', item.name


@check(
    "zip-sides-unlike",
    "Both sides of a zip are sewn to as many layers.",
    "plain from the work; asked, since one side may be bare",
    needs_whole=True,
)
def find_unlike_zip_sides(subject: Subject) -> Iterator[Found]:
    """Zips sewn in by two seams, one of which sews fewer parts than the other and lacks one of those, or all leather."""
    for item in subject.build.trimmings:
        seams = [seam for seam in subject.build.seams if any(use.name == item.name for use in seam.trimmings)]
        if item.kind != "zip" or len(seams) != 2:
            continue
        few, many = sorted(seams, key=lambda seam: len(seam.sides))
        parts = [seam.parts for seam in (few, many)]
        lacks = name_words(sorted(parts[1] - parts[0]))
        if parts[0] < parts[1]:
            what = f'the seam "{many.name}" sews {lacks} to "{item.name}" too, and "{few.name}" does not'
            mend = f'name {lacks} in the meet of "{few.name}", or accept it where that is meant'
            yield few.sides[0].place, what, mend, few.name
        elif parts[0] and not _is_leather(subject, parts[0]) and _is_leather(subject, parts[1]):
            own = name_words(sorted(parts[0]))
            what = f'the seam "{many.name}" sews {lacks} to "{item.name}", and "{few.name}" nothing but {own}'
            mend = f'name the other part in the meet of "{few.name}", or accept it where one side is meant to be bare'
            yield few.sides[0].place, what, mend, few.name


def _is_leather(subject: Subject, names: Set[str]) -> bool:
    """Whether one of these parts is of leather."""
    pieces, leather = subject.parts.pieces, leathers(subject.build)
    return any(name in pieces and pieces[name].material in leather for name in names)


@check(
    "zip-covered",
    "Between the edges that a joint lays over a zip, or its rows, {zip_teeth} of it stay free for its teeth.",
    "common practice, no published source: a zip is called by the width of its closed teeth, no. 3 and up",
    needs_whole=True,
)
def find_covered_zips(subject: Subject) -> Iterator[Found]:
    """Zips among the strips of a join, which lays as much over either edge; and those of which two seams sew a side."""
    zips = {item.name: item for item in subject.build.trimmings if item.kind == "zip"}
    for join in subject.build.joins:
        for name in dict.fromkeys(one for one in join.pieces if one in zips):
            free_mm = zips[name].width_mm - 2 * join.overlap_mm
            if free_mm < subject.build.limits.zip_teeth_mm - 1e-6:
                wide, over, free = map(subject.length, (zips[name].width_mm, join.overlap_mm, max(free_mm, 0.0)))
                what = f'"{name}" is {wide} wide, and the join "{join.name}" lays {over} over either edge: {free} stay free'
                yield join.overlap_place, what, "look at the width of the zip and at the overlap", join.name
    for item in zips.values():
        uses = {use.side: (use, one) for one in subject.build.seams for use in one.trimmings if use.name == item.name}
        covers = [_cover(subject, use, seam) for side, (use, seam) in uses.items() if side in SWAPPED]
        free_mm = item.width_mm - sum(mm for mm, _, _ in covers)
        if item.width_mm and len(covers) == len(SWAPPED) and free_mm < subject.build.limits.zip_teeth_mm - 1e-6:
            rows, lies = " and ".join(subject.length(mm) for mm, _, _ in covers), "its rows lie"
            mend = "look at the width of the zip and at the insets of its seams"
            if any(is_lapped for _, is_lapped, _ in covers):
                lies, mend = "what laps over it reaches", "look at the width of the zip and at what its seams lap"
            what = (
                f'"{item.name}" is {subject.length(item.width_mm)} wide, and {lies} {rows} in from its edges: '
                f"{subject.length(max(free_mm, 0.0))} stay free between them"
            )
            lines = lines_words(sorted({line for _, _, line in covers}))
            place = subject.written_at(subject.spec.trimmings, item.name, "width")
            yield place, what, f"{mend} ({lines})", item.name


def _cover(subject: Subject, use: SeamTrimming, seam: Seam) -> tuple[float, bool, int]:
    """How far in from the edge of a zip lies what a seam lays over it, or its row; whether it laps, and in which line that
    is written."""
    if use.lap_mm and not seam.is_turned:
        return use.lap_mm, True, seam.place.line
    stitch = subject.parts.stitches[seam.stitch]
    return stitch.inset_mm, False, subject.place_of(stitch, "inset").line


@check("zip-shut", "Edges that a zip joins are not sewn to each other.", "plain from the work", needs_whole=True)
def find_shut_zips(subject: Subject) -> Iterator[Found]:
    """Seams without a zip that sew, edge to edge, what the two sides of one are sewn to."""
    for item in (one for one in subject.build.trimmings if one.kind == "zip"):
        beside: dict[str, set[tuple[str, str]]] = {}
        for seam in subject.build.seams:
            for use in (use for use in seam.trimmings if use.name == item.name):
                beside.setdefault(use.side, set()).update(*(_run(subject, side) for side in seam.sides))
        for seam in subject.build.seams if len(beside) > 1 else ():
            runs = [run for side in seam.sides if (run := _run(subject, side))]
            met = [run & edges for edges in beside.values() for run in runs if run & edges]
            is_shut = (
                len(runs) > 1
                and len(set().union(*met)) > 1
                and all(any(run & edges for run in runs) for edges in beside.values())
            )
            if is_shut and all(use.name != item.name for use in seam.trimmings):
                told = " and ".join(f'the {edge} of "{part}"' for part, edge in sorted(set().union(*met))[:2])
                what = f'the seam "{seam.name}" sews {told} to each other, and "{item.name}" lies between them'
                yield seam.place, what, "take that edge out of it", seam.name


def _run(subject: Subject, side: SeamSide) -> set[tuple[str, str]]:
    """The whole edges that a side sews, each with its part."""
    piece = subject.parts.pieces.get(side.part)
    every = WHOLE in side.edges and piece is not None
    edges = edge_names(piece.outline) if piece is not None and every else side.edges
    return set() if side.ends else {(side.part, edge) for edge in edges}


@check(
    "zip-stops-sewn",
    "The stops of a zip lie inside the rows that cross its ends.",
    "plain from the work: a needle breaks on a stop, and a slider comes off a zip that is cut there",
    needs_whole=True,
)
def find_sewn_stops(subject: Subject) -> Iterator[Found]:
    """Zips of a written length between whose stops rows of other seams are sewn across the tapes."""
    for item in subject.build.trimmings:
        names = {seam.name for seam in subject.build.seams for use in seam.trimmings if use.name == item.name}
        lengths = [seam.length_mm for seam in subject.build.seams if seam.name in names]
        for cut in item.cuts if item.kind == "zip" and item.written_mm else ():
            room_mm = min(lengths, default=0.0) - sum(cut.crossed_mm)
            if sum(cut.crossed_mm) and cut.between_mm > room_mm + 1e-6:
                between, room, spare = map(subject.length, (cut.between_mm, room_mm, item.stops_mm))
                what = f'"{item.name}" is {between} between its stops, and the rows across its ends leave {room} of it'
                spec = next(one for one in subject.spec.trimmings if one.name == item.name)
                mend = (
                    f"take a zip of {subject.length(room_mm - 2 * item.stops_mm)} or less: {spare} clear of either row"
                )
                yield spec.length.place if spec.length else item.place, what, mend, item.name
