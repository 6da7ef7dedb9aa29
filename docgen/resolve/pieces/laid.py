"""Goods by length that are laid flat on a piece and sewn along both edges: their stitching, and the slot over a zip."""

from dataclasses import replace

from docgen.geometry.measure import chords
from docgen.geometry.outline import outline_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, distance, scale, subtract, turn_left, unit
from docgen.read import LaidSpec, Spec, Value
from docgen.resolve.goods.values import Trimming
from docgen.resolve.marks import Slit
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Divider, Piece
from docgen.resolve.pieces.made_up import from_foot
from docgen.resolve.pieces.positions import find_line
from docgen.resolve.values import Reader
from docgen.tables.defaults import LAID_CLEAR_MM
from docgen.tables.sewing import LEAST_TAPE_MM
from docgen.written.units.telling import format_mm

LEAST_RUN_MM = 10.0  # what is shorter is a slip
LEAST_WINDOW_MM = 3.0  # the teeth of the narrowest zips, closed: common practice, no published source


def lay_goods(reader: Reader, spec: Spec, parts: Parts) -> Parts:
    """The parts with what is laid on their pieces; what does not fit is noted and left out."""
    pieces = dict(parts.pieces)
    for item in spec.pieces:
        for laid in item.laid:
            if item.name in pieces:
                wide = next((one.width for one in spec.trimmings if laid.goods and one.name == laid.goods.value), None)
                pieces[item.name] = _lay(reader, laid, pieces[item.name], parts, wide)
    return replace(parts, pieces=pieces)


def _lay(reader: Reader, laid: LaidSpec, piece: Piece, parts: Parts, wide: Value[str] | None) -> Piece:
    item = parts.trimmings.get(laid.goods.value) if laid.goods else None
    stitch = parts.stitches.get(laid.stitch.value) if laid.stitch else None
    ends = _find_ends(reader, laid, piece)
    if item is None or stitch is None or ends is None or laid.at is None:
        return piece
    window_mm = reader.length(laid.window) or 0.0
    half_mm = window_mm / 2 + stitch.inset_mm if window_mm else item.width_mm / 2 - stitch.inset_mm
    if not _does_fit(reader, laid, item, wide, half_mm, stitch.inset_mm):
        return piece
    aside = scale(turn_left(unit(subtract(ends[1], ends[0]))), half_mm)
    lines = tuple(
        Divider(start=add(ends[0], by), end=add(ends[1], by), stitch=stitch.name, goods=item.name, place=laid.at.place)
        for by in (aside, scale(aside, -1))
    )
    is_apart = not reader.length(laid.clear, zero=True)
    slits = _cut_window(ends, window_mm, is_apart=is_apart) if window_mm else ()
    marked = piece.with_marks(slits=(*piece.marks.slits, *slits))
    return replace(marked, dividers=(*piece.dividers, *lines))


def _find_ends(reader: Reader, laid: LaidSpec, piece: Piece) -> tuple[Point, Point] | None:
    """Both ends of the run, along the middle of the goods, measured from the cut edges and between the folds of hems; None
    where it cannot lie there (noted)."""
    clear_mm = reader.length(laid.clear, zero=True) or LAID_CLEAR_MM
    guide = find_line(reader, laid.at, piece.outline)
    if guide is None or laid.at is None:
        return None
    found = chords(outline_path(piece.sewn_outline), guide.point, guide.direction)
    if not found:
        reader.error(laid.at.place, "this line does not cross the piece", "measure again from the edge")
        return None
    start, end = sorted(max(found, key=lambda ends: distance(*ends)), key=from_foot)
    along = unit(subtract(end, start))
    run_mm = distance(start, end) - 2 * clear_mm
    if run_mm < LEAST_RUN_MM:
        what = f"the piece is {format_mm(distance(start, end))} across here, which leaves {format_mm(max(run_mm, 0.0))}"
        reader.error(
            laid.clear.place if laid.clear else laid.at.place, what, "write less for clear, or lay it elsewhere"
        )
        return None
    return add(start, scale(along, clear_mm)), subtract(end, scale(along, clear_mm))


def _does_fit(
    reader: Reader, laid: LaidSpec, item: Trimming, wide: Value[str] | None, half_mm: float, inset_mm: float
) -> bool:
    """Whether both stitch lines go through the goods; where not, it is noted, with the line of their width."""
    at = laid.at.place if laid.at else laid.place
    if laid.window is not None and item.kind != "zip":
        reader.error(
            laid.window.place,
            f'a window is cut over a zip, and "{item.name}" is none',
            "name a zip, or leave window out",
        )
    elif not item.width_mm:
        reader.error(at, f'"{item.name}" is laid flat, and its width is not said', "write its width")
    elif half_mm <= 0 or half_mm > item.width_mm / 2 - LEAST_TAPE_MM:
        what = (
            f'"{item.name}" is {format_mm(item.width_mm)} wide, and stitches {format_mm(inset_mm)} in from '
            f"{'the window' if laid.window else 'its edges'} do not hold it"
        )
        mend = "make the window or the inset of the stitch smaller" if laid.window else "use a stitch with less inset"
        if wide is not None:
            mend = f'look at the width of "{item.name}" (line {wide.place.line}); else {mend}'
        reader.error(laid.window.place if laid.window else at, what, mend)
    elif laid.window is not None and 2 * (half_mm - inset_mm) < LEAST_WINDOW_MM:
        what = f"a window of {format_mm(2 * (half_mm - inset_mm))} is narrower than the teeth of a zip"
        reader.error(laid.window.place, what, f"make it {format_mm(LEAST_WINDOW_MM)} wide or wider")
    else:
        return True
    return False


def _cut_window(ends: tuple[Point, Point], window_mm: float, *, is_apart: bool) -> tuple[Slit, ...]:
    """The four cuts of the slot; the two long ones where it goes from edge to edge, and leaves two strips."""
    aside = scale(turn_left(unit(subtract(ends[1], ends[0]))), window_mm / 2)
    corners = (subtract(ends[0], aside), subtract(ends[1], aside), add(ends[1], aside), add(ends[0], aside))
    sides = (0, 2) if is_apart else range(4)
    return tuple(Slit(start=corners[k], end=corners[(k + 1) % 4], is_apart=is_apart) for k in sides)
