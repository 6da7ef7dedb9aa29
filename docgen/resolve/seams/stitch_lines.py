"""Stitch lines on the pieces: of every seam, of every joint, and of the pieces that land on others."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace

from docgen.geometry.inset import inset_run
from docgen.geometry.measure import crossings, distance_to_path
from docgen.geometry.nearest import Stretch, inset_stretch
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.overlap import shared_stretches
from docgen.geometry.path import end_point, part_of, path_length, points_at, reverse_path, start_point, transform_path
from docgen.geometry.shapes import GeometryError, Line, Outline, Path
from docgen.geometry.spacing import corner_distances, space_stitches
from docgen.geometry.vector import add, distance, scale, subtract, unit
from docgen.problems import Place
from docgen.read import Spec
from docgen.resolve.marks import StitchLine
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Divider, Piece
from docgen.resolve.seams.folded import fold_down
from docgen.resolve.seams.joins import from_start, joint_ends
from docgen.resolve.seams.over_edge import lay_over
from docgen.resolve.seams.seam import Join, Seam, SeamSide, Stitch, joint_gap_mm, spread_over
from docgen.resolve.seams.strip_holes import EdgeHoles, holes_on_strips, sewn_part, tick_every_ten
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import Reader
from docgen.written.units.telling import format_mm

SAME_TICK_MM = 0.2
EDGE_CLEAR_MM = 0.6  # a hole nearer to the edge than this leaves no leather beside the thread


def draw_stitch_lines(reader: Reader, spec: Spec, parts: Parts) -> Parts:
    """The parts with the stitch lines of every seam and join on the pieces they run on; rows that do not fit are
    noted."""
    lines: dict[str, list[StitchLine]] = {name: [] for name in parts.pieces}
    on_strips = holes_on_strips(parts.seams, parts.joins, parts.pieces)
    places = {stitch.name: stitch.rows.place if stitch.rows else stitch.place for stitch in spec.stitches}
    for seam in parts.seams:
        for side in (side for side in seam.sides if side.edges):
            for piece in parts.strips(side.part):
                on_strip = on_strips.get((piece.name, side.edges[0], seam.name), EdgeHoles())
                rows = _draw_side(reader, parts, seam, side, piece, places[seam.stitch], on_strip)
                lines[piece.name] += [keep_within(line, _outline_under(piece, side)) for line in rows]
    for join in parts.joins.values():
        if join.stitch in parts.stitches:
            for name, ends in joint_ends(join, parts.pieces).items():
                lines[name] += _joint_rows(parts.pieces[name], ends, join, parts.stitches[join.stitch])
    sewn = {seam.name for seam in parts.seams}
    divided = {
        name: _end_dividers(piece, [line.path for line in lines[name] if line.seam in sewn])
        for name, piece in parts.pieces.items()
    }
    drawn = {
        name: piece.with_marks(stitch_lines=(*lines[name], *_divider_lines(piece, parts)))
        for name, piece in divided.items()
    }
    landed = {
        name: _add_landing_lines(lay_over(piece, drawn, parts.seams), drawn, parts.seams)
        for name, piece in drawn.items()
    }
    straps = {name: _sew_strap(reader, strap, parts, places) for name, strap in parts.straps.items()}
    return replace(parts, pieces={name: tell_apart(piece) for name, piece in landed.items()}, straps=straps)


def _draw_side(
    reader: Reader, parts: Parts, seam: Seam, side: SeamSide, piece: Piece, place: Place, on_strip: EdgeHoles
) -> list[StitchLine]:
    """The rows of one side of a seam on a piece; on a strip of a join the holes that fall on it."""
    stitch = _lap_stitch(parts.stitches[seam.stitch], side.lap_mm)
    given = (
        reader,
        _outline_under(piece, side),
        side.edges,
        stitch,
        seam.name,
        piece.name,
        place,
        seam.holes_on(side.length_mm),
    )
    if side.part not in parts.joins:
        return draw_rows(*given, side.stretch_mm, side.lost_mm)
    if side.stretch_mm is None:
        return [_from_start(replace(line, **asdict(on_strip))) for line in draw_rows(*given)]
    sewn = sewn_part(parts.joins[side.part], side, piece.name, parts.pieces)
    if sewn is None:
        return []
    holes = on_strip.moved(-sewn[0])
    stretch_mm = from_start(sewn, side.edges[0], outline_box(piece.outline).height)
    return [_from_start(replace(line, **asdict(holes))) for line in draw_rows(*given, stretch_mm)]


def _outline_under(piece: Piece, side: SeamSide) -> Outline:
    """What a side of a seam runs along: between the folds of its hems, or along the cut edge."""
    return piece.outline if side.is_unturned else piece.sewn_outline


def _sew_strap(reader: Reader, strap: Strap, parts: Parts, places: Mapping[str, Place]) -> Strap:
    """The strap with the lines of the seams that take its edges, besides its own stitching."""
    lines: list[StitchLine] = []
    for seam in parts.seams:
        stitch, outline = parts.stitches[seam.stitch], strap.piece.outline
        for side in seam.sides:
            if side.part == strap.name and side.edges and not (strap.stitch and seam.name == strap.name):
                given = _lap_stitch(stitch, side.lap_mm), seam.name, strap.name, places[seam.stitch]
                holes_mm = seam.holes_on(side.length_mm)
                rows = draw_rows(reader, outline, side.edges, *given, holes_mm, side.stretch_mm)
                lines += (keep_within(line, outline) for line in rows)
    if not lines:
        return strap
    own = strap.piece.marks.stitch_lines
    return replace(strap, piece=tell_apart(strap.piece.with_marks(stitch_lines=(*own, *lines))))


def tell_apart(piece: Piece) -> Piece:
    """The piece with its stitch lines counted where they lie on each other, all along or for a part."""
    told: list[StitchLine] = []
    for line in piece.marks.stitch_lines:
        shared_mm = shared_stretches(line.path, (other.path for other in told))
        met = [at for at, other in enumerate(told) if shared_mm and shared_stretches(line.path, (other.path,))]
        turn = next((told[at].turn for at in met if _has_same_ticks(line, told[at])), None)
        if turn is None and met:
            for at in met:
                told[at] = replace(told[at], turn=told[at].turn or 1)
            taken = {told[at].turn for at in met}
            turn = next(turn for turn in range(1, len(told) + 2) if turn not in taken)
        told.append(replace(line, turn=turn or 0, shared_mm=shared_mm))
    return piece.with_marks(stitch_lines=tuple(told))


def _has_same_ticks(line: StitchLine, other: StitchLine) -> bool:
    """Whether what is drawn on two lines falls together, so that nobody need tell it apart."""
    if line.by != other.by:
        return False
    first, second = (
        [at for at, _ in points_at(each.path, each.holes_mm if each.by == "hand" else each.ticked_mm)]
        for each in (line, other)
    )
    return len(first) == len(second) and all(
        any(distance(at, its) < SAME_TICK_MM for its in (second[k], second[-1 - k])) for k, at in enumerate(first)
    )


def _lap_stitch(stitch: Stitch, lap_mm: float) -> Stitch:
    """The stitch as its rows lie on a piece that is lapped over: the first is farthest from that piece's edge."""
    return replace(stitch, inset_mm=lap_mm - stitch.inset_mm, row_gap_mm=-stitch.row_gap_mm) if lap_mm else stitch


def _end_dividers(piece: Piece, seams: Sequence[Path]) -> Piece:
    """The piece with its dividing lines ended at the outermost stitch line of a seam that they meet; where an edge is not
    sewn they run to it."""
    return replace(piece, dividers=tuple(_end_divider(line, seams) for line in piece.dividers))


def _end_divider(line: Divider, seams: Sequence[Path]) -> Divider:
    length_mm = distance(line.start, line.end)
    met = [at for path in seams for at in crossings(path, line.start, line.end)]
    first = min((at for at in met if at < length_mm / 2), default=0.0)
    last = max((at for at in met if at >= length_mm / 2), default=length_mm)
    along = unit(subtract(line.end, line.start))
    start, end = (add(line.start, scale(along, mm)) for mm in (first, last))
    return replace(line, start=start, end=end, beyond_mm=(first, length_mm - last))


def divider_name(piece: str) -> str:
    """What the dividing lines of a piece go by among stitch lines: no seam can be called so."""
    return f"{piece} dividers"


def _divider_lines(piece: Piece, parts: Parts) -> list[StitchLine]:
    """The lines of stitches that divide a piece; a stitch that is not there was noted."""
    paths = [(line.stitch, Path((Line(line.start, line.end),))) for line in piece.dividers]
    return [
        keep_within(lay_stitches(divider_name(piece.name), parts.stitches[stitch], path, 0, None), piece.sewn_outline)
        for stitch, path in paths
        if stitch in parts.stitches
    ]


def keep_within(line: StitchLine, outline: Outline) -> StitchLine:
    """The line without the holes of a hand stitch that would break out of the edge where it begins or ends: there the
    thread goes over the edge."""
    if line.by != "hand" or line.path.closed or not line.holes_mm:
        return line
    edge = outline_path(outline)
    ends = {line.holes_mm[0], line.holes_mm[-1]}
    out = {
        at
        for at, (point, _) in zip(ends, points_at(line.path, ends), strict=True)
        if distance_to_path(edge, point) < EDGE_CLEAR_MM
    }
    return replace(line, holes_mm=tuple(at for at in line.holes_mm if at not in out))


def _from_start(line: StitchLine) -> StitchLine:
    """The line along a strip's long edge, run from the strip's start as its holes are measured."""
    is_down = start_point(line.path).y > end_point(line.path).y
    return replace(line, path=reverse_path(line.path)) if is_down else line


def draw_rows(
    reader: Reader,
    outline: Outline,
    edges: tuple[str, ...],
    stitch: Stitch,
    seam: str,
    part: str,
    place: Place,
    holes_mm: tuple[float, ...] | None = None,
    stretch_mm: Stretch | None = None,
    lost_mm: tuple[float, float] = (0.0, 0.0),
) -> list[StitchLine]:
    """One line for each row of the stitch, from the edge inward. The first was measured with its seam; an
    inner one that does not fit is noted. `holes_mm` are the seam's holes along its first row, carried to every row in
    proportion; without them each row is spaced for itself. Of a row nothing is drawn that is lost at its ends."""
    lines = []
    for row in range(stitch.rows):
        inset_mm = stitch.inset_mm + row * stitch.row_gap_mm
        try:
            path = inset_stretch(outline, edges, inset_mm, stretch_mm)
            if any(lost_mm):
                path = part_of(path, lost_mm[0], path_length(path) - lost_mm[1])
            lines.append(lay_stitches(seam, stitch, path, row, holes_mm))
        except GeometryError as error:
            if row and not reader.is_noted(place):
                what = (
                    f'row {row + 1} of "{seam}", {format_mm(inset_mm)} from the edge, does not fit on "{part}": {error}'
                )
                reader.error(place, what, "use fewer rows, or a smaller row-gap")
            break
    return lines


def _joint_rows(piece: Piece, ends: tuple[str, ...], join: Join, stitch: Stitch) -> list[StitchLine]:
    lines = []
    for end in ends:
        for row in range(join.rows):
            inset_mm = joint_gap_mm(join) * (row + 1)
            try:
                path = inset_run(piece.outline, (end,), inset_mm)
            except GeometryError:
                break  # an overlap that does not fit its strip was noted with the join
            path = _keep_clear(path, stitch.inset_mm)
            lines.append(lay_stitches(join.name, stitch, path, row, None))
    return lines


def lay_stitches(seam: str, stitch: Stitch, path: Path, row: int, holes_mm: tuple[float, ...] | None) -> StitchLine:
    """A stitch line along a path; its holes are the given ones carried over, else spaced at about the pitch."""
    holes = spread_holes(path, holes_mm, stitch)
    return StitchLine(
        seam=seam, stitch=stitch.name, path=path, by=stitch.by, row=row, holes_mm=holes, ticked_mm=tick_every_ten(holes)
    )


def spread_holes(path: Path, holes_mm: tuple[float, ...] | None, stitch: Stitch) -> tuple[float, ...]:
    """Holes along a path: given ones in proportion to its length, else spaced at about the pitch."""
    length_mm = path_length(path)
    if holes_mm is None:
        return space_stitches(length_mm, corner_distances(path), stitch.pitch_mm, is_fixed=bool(stitch.iron))
    return spread_over(holes_mm, length_mm)


def _keep_clear(path: Path, inset_mm: float) -> Path:
    """The line without what lies nearer to the strip's sides than the inset, as the settings count its
    stitches."""
    length_mm = path_length(path)
    return part_of(path, inset_mm, length_mm - inset_mm) if length_mm > 2 * inset_mm else path


def _add_landing_lines(piece: Piece, pieces: Mapping[str, Piece], seams: tuple[Seam, ...]) -> Piece:
    """Stitch lines of pieces that land on this one, where a seam says that this one lies flat beneath, or a dividing line
    that it is sewn on this one."""
    lines = list(piece.marks.stitch_lines)
    beneath = [seam for seam in seams if any(side.part == piece.name and not side.edges for side in seam.sides)]
    for landing in piece.marks.landings:
        other = pieces[landing.piece]
        sewn = {seam.name for seam in beneath if any(side.part == other.name and side.edges for side in seam.sides)}
        starts = {(divider_name(other.name), line.start) for line in other.dividers if line.on == piece.name}
        own = [
            _go_on(replace(line, path=transform_path(fold_down(line.path, other), landing.move_of_lines)), piece)
            for line in other.marks.stitch_lines
            if line.seam in sewn or (line.seam, start_point(line.path)) in starts
        ]
        for line in own:  # both ends of what is folded between them lie on one line
            lines += [] if any(_lie_alike(line, known) for known in lines) else [line]
    return piece.with_marks(stitch_lines=tuple(lines))


def _go_on(line: StitchLine, base: Piece) -> StitchLine:
    """A line of what lies on a piece as it is on that: where the last stitch goes over the edge of the part above, it comes
    down through a hole here."""
    if line.by != "hand" or line.path.closed or not line.holes_mm:
        return line
    inner = [at for at in line.holes_mm if SAME_TICK_MM < at < path_length(line.path) - SAME_TICK_MM]
    return keep_within(replace(line, holes_mm=(0.0, *inner, path_length(line.path))), base.sewn_outline)


def _lie_alike(line: StitchLine, other: StitchLine) -> bool:
    """Whether two lines of one seam lie on each other."""
    ends = start_point(line.path), end_point(line.path), start_point(other.path), end_point(other.path)
    is_same = distance(ends[0], ends[2]) + distance(ends[1], ends[3]) < SAME_TICK_MM
    is_turned = distance(ends[0], ends[3]) + distance(ends[1], ends[2]) < SAME_TICK_MM
    alike = abs(path_length(line.path) - path_length(other.path)) < SAME_TICK_MM
    return line.seam == other.seam and line.row == other.row and alike and (is_same or is_turned)
