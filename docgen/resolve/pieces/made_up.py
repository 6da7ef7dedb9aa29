"""How a piece is made up: hems turned over, lines of stitches that divide it, straps that land on it, what it lines."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.geometry.folding import fold_over, mirror_over
from docgen.geometry.measure import chords, distance_to_path, is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_area, reverse_path, transform_path
from docgen.geometry.shapes import GeometryError, Outline, Path, Point
from docgen.geometry.turning import turn_edges
from docgen.geometry.vector import distance
from docgen.problems import has_errors
from docgen.read import HemSpec, LandingSpec, PieceSpec
from docgen.resolve.marks import Fold
from docgen.resolve.piece import Divider, Hem, Piece, StrapLanding
from docgen.resolve.pieces.marks import mirror_move
from docgen.resolve.pieces.outlines import Recipe, has_inset
from docgen.resolve.pieces.positions import find_line, find_point, has_edges, straight_edge
from docgen.resolve.straps.strap import Strap
from docgen.resolve.straps.strap_outline import lying_outline, onto_piece
from docgen.resolve.values import Reader, flag, words
from docgen.tables.defaults import HEM_IS_DOUBLE, IS_MIRRORED, STRAP_END, STRAP_LEADS, STRAP_OVER_MM

ALIKE_MM = 0.1  # what differs less is one shape


def read_hems(reader: Reader, recipe: Recipe, outline: Outline) -> tuple[Hem, ...]:
    """The hems of a piece, those of its model too where its marks come along and the leather is the same: on the other
    edge where it is turned over."""
    found: list[Hem] = []
    for spec in recipe.chain:
        is_same = spec is recipe.chain[0] or not (spec.of or has_inset(recipe, spec))
        if not is_same or (spec.marks is not None and not spec.marks.value):
            found = []
        if found and flag(spec.mirror, IS_MIRRORED):
            move = mirror_move(outline)
            found = [replace(hem, edges=tuple(map(move.edges, hem.edges))) for hem in found]
        found += [hem for item in spec.hems if (hem := _read_hem(reader, item, outline)) is not None]
    return tuple(found)


def _read_hem(reader: Reader, spec: HemSpec, outline: Outline) -> Hem | None:
    turned_mm = reader.length(spec.turn)
    if spec.edges is None or turned_mm is None:
        return None
    names = tuple(spec.edges.value.split())
    if reader.is_noted(spec.edges.place) or not has_edges(reader, spec.edges.place, names, outline):
        return None
    return Hem(edges=names, turned_mm=turned_mm, is_double=flag(spec.double, HEM_IS_DOUBLE), place=spec.edges.place)


def fold_hems(reader: Reader, hems: Sequence[Hem], outline: Outline) -> Outline | None:
    """The outline between the folds of its hems; None when one cannot be turned (noted)."""
    for hem in hems:
        try:
            outline = turn_edges(outline, hem.edges, hem.depth_mm)
        except GeometryError as error:
            if not reader.is_noted(hem.place):
                reader.error(
                    hem.place,
                    f"this hem cannot be turned: {error}",
                    "a hem begins and ends with a straight edge, or goes all round; turn less, or name other edges",
                )
            return None
    return outline


def hem_folds(hems: Sequence[Hem], outline: Outline) -> Iterator[Fold]:
    """The straight folds of the hems of an outline, as they are marked on the piece: of a double one both."""
    for hem in hems:
        for count in (1, 2) if hem.is_double else (1,):
            turned_mm = count * hem.turned_mm
            turned = turn_edges(outline, hem.edges, turned_mm)
            for name in hem.edges:
                line = straight_edge(turned, name)
                if line is not None:
                    note = "hem, turned twice" if hem.is_double else "hem"
                    yield Fold(
                        start=line.start, end=line.end, note=note, turned_mm=turned_mm, of_hem=True, place=hem.place
                    )
        outline = turned


def fold_up(piece: Piece) -> Path:
    """The outline of a piece as it is when it lands: its hems turned, its closed folds folded."""
    shape = outline_path(piece.sewn_outline)
    for fold in piece.marks.folds:
        if not fold.is_open and not fold.of_hem:
            shape = fold_over(shape, fold.start, fold.end)
    return shape


def other_half(piece: Piece) -> Path | None:
    """What `fold_up` lays beneath of a piece that is folded once, in its middle: which of its halves stays is a matter of
    where it lands. None of any other."""
    folds = [fold for fold in piece.marks.folds if not fold.is_open and not fold.of_hem]
    kept, whole = fold_up(piece), outline_path(piece.sewn_outline)
    if len(folds) != 1 or abs(2 * path_area(kept) - path_area(whole)) > ALIKE_MM:
        return None
    return reverse_path(transform_path(kept, mirror_over(folds[0].start, folds[0].end)))


def is_alike_turned(piece: Piece) -> bool:
    """Whether a piece is the same turned over about its upright middle: its outline as it lands, and its holes."""
    turned = piece.turned_over()
    shape = fold_up(piece)
    spots = [hole.at for hole in piece.marks.holes]
    return all(distance_to_path(shape, at) < ALIKE_MM for at in flatten(fold_up(turned))) and all(
        any(distance(hole.at, at) < ALIKE_MM for at in spots) for hole in turned.marks.holes
    )


def read_dividers(reader: Reader, spec: PieceSpec, piece: Piece) -> tuple[Divider, ...]:
    """Lines of stitches right across the piece, between the folds of its hems and measured from its cut edges, as all marks
    are; on another part as it is folded."""
    outline = piece.sewn_outline
    found = []
    for item in spec.dividers:
        guide = find_line(reader, item.at, piece.outline)
        if guide is None or item.at is None or item.stitch is None:
            continue
        shape = fold_up(piece) if item.on else outline_path(outline)
        parts = chords(shape, guide.point, guide.direction)
        if not parts:
            reader.error(item.at.place, "the dividing line does not cross the piece", "measure again from the edge")
        found += [
            Divider(
                start=min(ends, key=from_foot),
                end=max(ends, key=from_foot),
                stitch=item.stitch.value,
                on=words(item.on),
                place=item.at.place,
            )
            for ends in parts
        ]
    return tuple(found)


def from_foot(at: Point) -> tuple[float, float]:
    """All lines run the same way: up, or from left to right."""
    return round(at.y, 6), at.x


def read_strap_landings(
    reader: Reader, spec: PieceSpec, outline: Outline, straps: Mapping[str, Strap]
) -> tuple[StrapLanding, ...]:
    """Ends of straps that lie fast on the piece."""
    found = [
        _read_strap_landing(reader, item, outline, straps) for item in spec.landings if _is_for_strap(reader, item)
    ]
    return tuple(landing for landing in found if landing is not None)


def _is_for_strap(reader: Reader, item: LandingSpec) -> bool:
    """Whether a strap lands; a landing of both or of neither is noted, and so is what only a strap has."""
    if (item.piece is None) == (item.strap is None):
        what = "this landing names a piece and a strap" if item.piece else "this landing names nothing that lands"
        is_told = item.piece is None and has_errors(reader.problems)  # a name that is wrong is told where it stands
        if not is_told and not reader.is_noted(item.place):
            reader.error(item.place, what, "write piece = ..., or strap = ...")
        return False
    extra = next((value for value in (item.end, item.leads, item.over, item.stitch) if value is not None), None)
    if item.strap is None and extra is not None:
        reader.error(extra.place, "only a strap is held by an end", "leave it out, or write strap in place of piece")
    if item.strap is not None and item.inside is not None:
        reader.error(item.inside.place, "the end of a strap lies on the side that shows", "leave it out")
    return item.strap is not None


def _read_strap_landing(
    reader: Reader, item: LandingSpec, outline: Outline, straps: Mapping[str, Strap]
) -> StrapLanding | None:
    at = find_point(reader, item.at, outline)
    over_mm = reader.length(item.over) if item.over is not None else STRAP_OVER_MM
    strap = straps.get(words(item.strap))
    if at is None or over_mm is None or strap is None or item.at is None:
        return None
    if not is_inside(outline_path(outline), at):
        what = f'the end of "{strap.name}" would land beside this piece'
        reader.error(item.at.place, what, "measure again; the middle of the end must lie on the leather")
        return None
    leads = words(item.leads, STRAP_LEADS)
    end = 1 if words(item.end, STRAP_END) == "second" else 0
    return StrapLanding(
        strap=strap.name,
        title=strap.title,
        end=end,
        at=at,
        leads=leads,
        over_mm=over_mm,
        outline=_lay_end(strap, end, over_mm, at, leads),
        stitch=words(item.stitch),
        place=item.place,
    )


def _lay_end(strap: Strap, end: int, over_mm: float, at: Point, leads: str) -> Path:
    """The end of a strap that lies fast, in the shape it has there: a turned end is square."""
    path = outline_path(lying_outline(strap, end, over_mm))
    return transform_path(path, onto_piece(strap, end, at, leads))
