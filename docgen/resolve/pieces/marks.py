"""Marks as a spec names them -> marks on an outline, and where other pieces land."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from docgen.geometry.inset import skive_band
from docgen.geometry.measure import chords, inside_finder, line_crossing
from docgen.geometry.outline import edge_names, edge_path, outline_box, outline_path
from docgen.geometry.path import boxes_overlap, path_box, path_length, point_at, transform_path
from docgen.geometry.run import run_path
from docgen.geometry.shapes import GeometryError, Outline, Path, Point
from docgen.geometry.spacing import spread_points
from docgen.geometry.vector import distance, dot, mirror_x, subtract, translation, turn_left, unit
from docgen.problems import Place, line_words
from docgen.read import (
    FoldSpec,
    HoleRowSpec,
    HoleSpec,
    NotchSpec,
    PieceSpec,
    SkiveSpec,
    SlitSpec,
    StrapPunchSpec,
    Value,
)
from docgen.resolve.marks import Fold, Hole, Landing, Marks, Notch, Skive, Slit
from docgen.resolve.moving import Move
from docgen.resolve.pieces.positions import (
    FROM,
    NO_FOLDS,
    Guide,
    find_guides,
    find_line,
    find_point,
    has_edge,
    has_edges,
    side_line,
    straight_edge,
)
from docgen.resolve.values import Reader, flag, names, words
from docgen.tables.defaults import FOLD_IS_OPEN, NOTCH_AT, SLOT_LIES
from docgen.tables.sizes import PUNCH, SKIVE_WIDTH
from docgen.written.units.telling import format_mm

RUN_MEND = "name neighbouring edges, in the order they are sewn"
LEAST_SLIT_MM = 0.5
TINY_MM = 1e-6
# Edges of the shapes whose names go with the side when they are mirrored.
UPRIGHT_EDGES = ({"bottom", "right", "top", "left"}, {"start", "right", "end", "left"})


def read_marks(reader: Reader, spec: PieceSpec, piece: str, outline: Outline) -> Marks:
    """All marks that one spec names, placed on the outline of `piece`, which may be like it.

    What cannot be placed is noted and left out.
    """
    holds = inside_finder(outline_path(outline))
    rows = [hole for row in spec.hole_rows for hole in _read_hole_row(reader, row, outline)]
    holes = [hole for item in spec.holes if (hole := read_hole(reader, item, outline)) is not None]
    slits = [slit for item in spec.slits if (slit := _read_slit(reader, item, piece, outline, holds)) is not None]
    notches = [notch for item in spec.notches if (notch := _read_notch(reader, item, outline)) is not None]
    skives = [skive for item in spec.skives if (skive := _read_skive(reader, item, outline)) is not None]
    return Marks(
        holes=tuple(_keep_inside(reader, spec, piece, [*holes, *rows], outline, holds)),
        notches=tuple(notches),
        folds=tuple(fold for item in spec.folds for fold in _read_fold(reader, item, outline)),
        slits=tuple(slits),
        skives=tuple(skives),
    )


def _keep_inside(
    reader: Reader, spec: PieceSpec, piece: str, holes: list[Hole], outline: Outline, holds: Callable[[Point], bool]
) -> list[Hole]:
    """The holes whose centres lie on the leather; the others are noted, where all lie outside at the size of the piece."""
    box = outline_box(outline)
    size = spec.size[box.height < box.width].place if spec.size else None
    large = f"{format_mm(box.width)} x {format_mm(box.height)}"
    are_inside = [holds(hole.at) for hole in holes]
    written = {hole.place for hole in holes}
    if size is not None and len(written) > 1 and not any(are_inside):
        if not reader.is_noted(size):
            what = f'all holes of "{piece}" lie outside it: it is {large}'
            reader.error(size, what, "look at its size and its unit, or measure them again", "hole-outside", piece)
        return []
    told = f"{large}{line_words(size.line if size else None)}{_odd_corner_words(reader, spec)}"
    return [
        hole
        for hole, is_inside in zip(holes, are_inside, strict=True)
        if _is_in_piece(reader, hole.place, "hole", piece, is_inside, f", which is {told}")
    ]


def _odd_corner_words(reader: Reader, spec: PieceSpec) -> str:
    """The lines of the only two corners of an outline of which none lies across from the other, as all others do."""
    read = [(point, [reader.any_length(value) for value in point.at]) for point in spec.points]
    corners = [(point, at[0], at[1]) for point, at in read if len(at) == 2 and at[0] is not None and at[1] is not None]
    if len(corners) < 3 or len(corners) < len(spec.points):
        return ""
    both_mm = min(x for _, x, _ in corners) + max(x for _, x, _ in corners)
    spots = [(x, y) for _, x, y in corners]
    odd = [p for p, x, y in corners if not any(abs(both_mm - x - a) + abs(y - b) < LEAST_SLIT_MM for a, b in spots)]
    return (
        f"; its corners on lines {odd[0].place.line} and {odd[1].place.line} do not stand alike"
        if len(odd) == 2
        else ""
    )


def read_hole(
    reader: Reader, item: HoleSpec | StrapPunchSpec, outline: Outline, folds: Mapping[str, Guide] = NO_FOLDS
) -> Hole | None:
    """One hole placed on an outline; None when it cannot be (noted). `folds` of a strap by the words that name them."""
    at = find_point(reader, item.at, outline, folds)
    punch_mm = reader.size(item.punch, PUNCH)
    if at is None or punch_mm is None:
        return None
    slot = _read_slot(reader, item, punch_mm)
    if slot is None:
        return None
    hole = Hole(at=at, diameter_mm=punch_mm, place=item.at.place if item.at else item.place, slot=slot)
    return replace(hole, takes=words(item.takes), through=names(item.through))


def _read_slot(reader: Reader, item: HoleSpec | StrapPunchSpec, punch_mm: float) -> Point | None:
    """From the middle of an oblong hole to the centre of one end; (0, 0) of a round one; None when wrong (noted)."""
    if item.long is None:
        return Point(0.0, 0.0)
    long_mm = reader.length(item.long)
    if long_mm is None:
        return None
    if long_mm <= punch_mm:
        what = f"an oblong hole {format_mm(long_mm)} long is no longer than its width of {format_mm(punch_mm)}"
        reader.error(item.long.place, what, "make it longer, or leave long out for a round hole")
        return None
    half_mm = (long_mm - punch_mm) / 2
    return Point(half_mm, 0.0) if words(item.lies, SLOT_LIES) == "across" else Point(0.0, half_mm)


def _read_hole_row(reader: Reader, item: HoleRowSpec, outline: Outline) -> list[Hole]:
    start, end = find_point(reader, item.start, outline), find_point(reader, item.end, outline)
    punch_mm = reader.size(item.punch, PUNCH)
    if start is None or end is None or punch_mm is None or item.count is None:
        return []
    gap_mm = distance(start, end) / (item.count.value - 1)
    if gap_mm <= punch_mm:
        what = (
            f"{item.count.value} holes of {format_mm(punch_mm)} stand {format_mm(gap_mm)} apart, and run "
            "into each other"
        )
        reader.error(item.count.place, what, "use fewer holes, a smaller punch or a longer row")
        return []
    points = spread_points(start, end, item.count.value)
    middle = len(points) // 2 if len(points) % 2 else -1
    takes, through = words(item.takes), names(item.through)
    return [
        Hole(at=at, diameter_mm=punch_mm, takes=takes, place=item.place, is_middle=index == middle, through=through)
        for index, at in enumerate(points)
    ]


def _read_slit(
    reader: Reader, item: SlitSpec, piece: str, outline: Outline, holds: Callable[[Point], bool]
) -> Slit | None:
    start, end = find_point(reader, item.start, outline), find_point(reader, item.end, outline)
    if start is None or end is None or item.start is None or item.end is None:
        return None
    if distance(start, end) < LEAST_SLIT_MM:
        reader.error(item.end.place, "this slit begins and ends at one place", "measure one of its ends again")
        return None
    places = ((item.start.place, start), (item.end.place, end))
    good = [_is_in_piece(reader, place, "slit", piece, holds(at)) for place, at in places]
    return Slit(start=start, end=end) if all(good) else None


def _is_in_piece(reader: Reader, place: Place, what: str, piece: str, is_inside: bool, size_words: str = "") -> bool:
    """Whether a point lies on the leather; when not, it is noted, once for all pieces that are like each
    other."""
    if is_inside:
        return True
    if not reader.is_noted(place):
        mend = {"hole": "its centre", "slit": "both its ends"}[what]
        reader.error(
            place,
            f'a {what} lies outside the piece "{piece}"{size_words}',
            f"measure again; {mend} must lie on the leather",
            "hole-outside" if what == "hole" else "",
            piece,
        )
    return False


def _read_notch(reader: Reader, item: NotchSpec, outline: Outline) -> Notch | None:
    if item.on is None:
        return None
    edge = item.on.value
    if not has_edge(reader, item.on.place, edge, outline):
        return None
    path = edge_path(outline, edge)
    along_mm = distance_along(reader, item.at, edge, outline, "the notch is")
    if along_mm is None:
        return None
    if not 0 <= along_mm <= path_length(path) or path_length(path) < TINY_MM:
        place = item.at.place if item.at else item.place
        reader.error(place, f'the notch does not lie on the edge "{edge}"', "measure again along the edge")
        return None
    at, tangent = point_at(path, along_mm)
    return Notch(at=at, inward=turn_left(tangent), edge=edge)


def distance_along(reader: Reader, at: Value[str] | None, edge: str, outline: Outline, what: str) -> float | None:
    """How far along an edge, anticlockwise, the words put a point: its middle where there are none; None where they
    cannot be read (noted, as where `what` lies)."""
    path = edge_path(outline, edge)
    if at is None or at.value == NOTCH_AT:
        return path_length(path) / 2
    match = FROM.match(at.value)
    before, after = neighbours(outline, edge)
    if match is None or match["edge"] not in (before, after):
        sides = " or ".join(f'"2 in from {name}"' for name in dict.fromkeys((before, after)))
        reader.error(at.place, f'cannot tell where on "{edge}" {what}', f'write "middle", or {sides}')
        return None
    length_mm = reader.any_length(Value(value=match["length"], place=at.place))
    if length_mm is None:
        return None
    crossing_mm = _crossing_along(reader, at, edge, match["edge"], outline)
    if crossing_mm is not None:
        return crossing_mm
    return length_mm if match["edge"] == before else path_length(path) - length_mm


def _crossing_along(reader: Reader, at: Value[str], edge: str, other: str, outline: Outline) -> float | None:
    """Distance along a straight edge to where a measure from its straight neighbour crosses it; None when
    either is curved."""
    line, side = straight_edge(outline, edge), side_line(outline, other)
    guides = find_guides(reader, at, outline) if line is not None and side is not None else None
    if line is None or not guides:
        return None
    along = unit(subtract(line.end, line.start))
    crossing = line_crossing(guides[0].point, guides[0].direction, line.start, along)
    return None if crossing is None else dot(subtract(crossing, line.start), along)


def neighbours(outline: Outline, edge: str) -> tuple[str, str]:
    """Names of the edges before and after an edge, anticlockwise, corners passed over."""
    names = edge_names(outline)
    index = names.index(edge)
    return names[index - 1], names[(index + 1) % len(names)]


def _read_fold(reader: Reader, item: FoldSpec, outline: Outline) -> list[Fold]:
    at = item.at
    guide = find_line(reader, at, outline)
    if guide is None or at is None:
        return []
    parts = chords(outline_path(outline), guide.point, guide.direction)
    if not parts:
        reader.error(at.place, "the fold line does not cross the piece", "measure again from the edge")
    turned_mm = guide.from_side_mm if guide.to_side != Point(0, 0) else 0.0
    is_open = flag(item.open, FOLD_IS_OPEN)
    if item.angle is not None and not is_open:
        what = "only an open fold bends by an angle; a closed one lies on itself"
        reader.error(item.angle.place, what, "write open = true, or leave angle out")
    return [
        Fold(
            start=start,
            end=end,
            note=words(item.note, f"round the {words(item.around).replace('-', ' ')}" if item.around else ""),
            turned_mm=turned_mm,
            is_open=is_open,
            angle_deg=float(item.angle.value) if item.angle else 0.0,
            around=words(item.around),
            inside=words(item.inside),
            place=at.place,
        )
        for start, end in parts
    ]


def _read_skive(reader: Reader, item: SkiveSpec, outline: Outline) -> Skive | None:
    width_mm, to_mm = reader.size(item.width, SKIVE_WIDTH), reader.thickness(item.to, zero=True)
    if width_mm is None or to_mm is None or item.edges is None or item.to is None:
        return None
    names = item.edges.value.split()
    if not has_edges(reader, item.edges.place, names, outline):
        return None
    try:
        run_path(outline, names)
    except GeometryError as error:
        reader.error(item.edges.place, f"the skived band cannot run here: {error}", RUN_MEND)
        return None
    try:
        band = skive_band(outline, names, width_mm)
    except GeometryError as error:
        place = item.width.place if item.width else item.place
        reader.error(place, f"the skived band cannot be drawn: {error}", "make the band narrower", "skive-too-wide")
        return None
    return Skive(edges=item.edges.value, band=band, width_mm=width_mm, to_mm=to_mm, to_words=item.to.value)


def mirror_move(outline: Outline) -> Move:
    """How what is marked goes with its piece when that is turned over, left for right, and its box stays where it was."""
    box = path_box(outline_path(outline))
    return Move(mirror_x(box.centre.x), swaps_sides=set(edge_names(outline)) in UPRIGHT_EDGES)


def find_landing(
    reader: Reader, written: Value[str] | None, name: str, outline: Outline, landing: Path
) -> Landing | None:
    """Where another piece, of that shape once it is folded, comes to lie on this one: its nearest sides at the named
    distances; None when unclear (noted)."""
    guides = None if written is None else find_guides(reader, written, outline)
    if written is None or guides is None:
        return None
    box = path_box(landing)
    sides, ends = (box.centre.x, box.right, box.left), (box.centre.y, box.top, box.bottom)
    across = [guide.point.x - sides[round(guide.to_side.x)] for guide in guides if abs(guide.direction.x) < 1e-9]
    up = [guide.point.y - ends[round(guide.to_side.y)] for guide in guides if abs(guide.direction.y) < 1e-9]
    if len(guides) != 2 or len(across) != 1 or len(up) != 1:
        what = f'this does not say where "{name}" lands: it needs one measure each way'
        reader.error(written.place, what, 'write for example "centre, 1 in from bottom"')
        return None
    path = transform_path(landing, translation(across[0], up[0]))
    if not boxes_overlap(path_box(path), path_box(outline_path(outline))):
        reader.error(written.place, f'"{name}" would land beside this piece', "measure again")
        return None
    return Landing(piece=name, outline=path, dx_mm=across[0], dy_mm=up[0])
