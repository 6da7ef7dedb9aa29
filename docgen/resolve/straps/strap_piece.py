"""The piece that a strap is cut as: its outline, holes, folds and stitch lines. mm."""

from collections.abc import Callable, Iterator, Mapping

from docgen.geometry.inset import skive_band
from docgen.geometry.measure import distance_to_path, is_inside
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import end_point, part_of, path_length, polyline, start_point
from docgen.geometry.shapes import GeometryError, Outline, Point
from docgen.problems import line_words
from docgen.read import StrapSpec
from docgen.resolve.marks import Fold, Hole, Landing, Marks, Skive, StitchLine
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.marks import read_hole
from docgen.resolve.pieces.positions import Guide
from docgen.resolve.pieces.templates import read_template
from docgen.resolve.seams.seam import INSET_CHECK, Stitch
from docgen.resolve.seams.stitch_lines import draw_rows, keep_within, lay_stitches
from docgen.resolve.straps.strap import END_NAMES, Ends, StrapEnd, end_name
from docgen.resolve.straps.strap_lengths import HoleRow, Rows, is_doubled
from docgen.resolve.straps.strap_outline import stitch_runs, strap_outline
from docgen.resolve.values import Reader, words
from docgen.tables.defaults import CUT
from docgen.written.units.telling import format_mm

STEP_MM = 0.5


def make_piece(
    reader: Reader, spec: StrapSpec, width_mm: float, length_mm: float, ends: Ends, rows: Rows, parts: Parts
) -> Piece:
    """A strap as it is cut; marks that do not fit are noted and left out."""
    outline = strap_outline(width_mm, length_mm, ends)
    heights_mm = (ends[0].fold_mm, length_mm - ends[1].fold_mm)
    folds_mm = {which: y for which, y in enumerate(heights_mm) if ends[which].shape == "turned"}
    folds = [_fold(width_mm, ends[which], END_NAMES[which], y) for which, y in folds_mm.items()]
    further = _further_holes(reader, spec, outline, folds_mm)
    template, template_of = read_template(reader, spec)
    return Piece(
        name=spec.name,
        title=words(spec.title, spec.name.replace("-", " ")),
        material=words(spec.of),
        cut=spec.cut.value if spec.cut else CUT,
        is_pair=False,
        shape="strip",
        outline=outline,
        is_strap=True,
        template=template,
        template_of=template_of,
        marks=Marks(
            skives=tuple(_skives(reader, ends, outline)),
            holes=(
                *_row_holes(rows[1], width_mm, lambda tip_mm: length_mm - tip_mm),
                *_row_holes(rows[0], width_mm, lambda tip_mm: tip_mm),
                *further,
                *_slots(ends, folds_mm, width_mm, further),
            ),
            folds=tuple(folds),
            stitch_lines=(
                *_edge_lines(reader, spec, ends, outline, parts.stitches.get(words(spec.stitch))),
                *_end_lines(reader, spec, ends, width_mm, length_mm, parts),
            ),
        ),
        note=words(spec.note),
        place=spec.place,
        least_stretch="up",
    )


def clear_of_ends_mm(piece: Piece, ends: Ends, width_mm: float, clear_mm: float) -> float:
    """How far from what lies back at both ends padding of that width has to stay, so that its corners lie within the
    strap, and so far from its edge. To STEP_MM, on the safe side."""
    path, box = outline_path(piece.outline), outline_box(piece.outline)

    def is_clear(up_mm: float) -> bool:
        corners = (Point(box.centre.x + way * width_mm / 2, up_mm) for way in (-1, 1))
        gaps_mm = (distance_to_path(path, at) * (1 if is_inside(path, at) else -1) for at in corners)
        return all(gap_mm > clear_mm - STEP_MM / 100 for gap_mm in gaps_mm)

    found = []
    for which, end in enumerate(ends):
        base_mm = end.fold_mm + end.back_mm
        steps = (clear_mm + k * STEP_MM for k in range(int(box.height / 2 / STEP_MM)))
        spots = ((step, base_mm + step if not which else box.height - base_mm - step) for step in steps)
        found.append(next((step for step, up_mm in spots if is_clear(up_mm)), box.height / 2))
    return max(found)


def lay_padding(piece: Piece, ends: Ends, width_mm: float, length_mm: float) -> Piece:
    """The strap with the outline of its padding: across in the middle, and midway between what lies back at both ends."""
    box = outline_box(piece.outline)
    low_mm, high_mm = (end.fold_mm + end.back_mm for end in ends)
    middle = Point(box.centre.x, (low_mm + box.height - high_mm) / 2)
    left, right = middle.x - width_mm / 2, middle.x + width_mm / 2
    foot, top = middle.y - length_mm / 2, middle.y + length_mm / 2
    corners = (Point(left, foot), Point(right, foot), Point(right, top), Point(left, top))
    name = f"{piece.name} padding"  # no piece can be called so
    outline = polyline(corners, closed=True)
    return piece.with_marks(landings=(Landing(piece=name, outline=outline, dx_mm=left, dy_mm=foot, title="padding"),))


def _fold(width_mm: float, end: StrapEnd, name: str, y: float) -> Fold:
    """Where an end is turned back, with what goes into the fold."""
    side_mm = (width_mm - (end.taper.width_mm if end.taper else width_mm)) / 2
    rings = " and ".join(ring.replace("-", " ") for ring in end.rings)
    note = f"{name} round the {rings}" if rings else f"turn back the {name} here"
    return Fold(start=Point(side_mm, y), end=Point(width_mm - side_mm, y), note=note)


def _skives(reader: Reader, ends: Ends, outline: Outline) -> Iterator[Skive]:
    for end, edge in zip(ends, ("start", "end"), strict=True):
        if end.skive is None:
            continue
        over_mm = end.skive.over_mm
        try:
            band = skive_band(outline, [edge], over_mm)
        except GeometryError as error:
            what = f"the skived end cannot be drawn: {error}"
            turned = next((one for one in ends if one is not end and one.shape == "turned" and not one.skive), None)
            is_other = end.shape != "turned" and turned is not None
            other = (
                f"write it at the end that is turned{line_words(turned.place.line)}, or " if is_other and turned else ""
            )
            reader.error(end.skive.place, what, f"{other}skive less of it")
            continue
        yield Skive(edges=edge, band=band, width_mm=over_mm, to_mm=end.skive.to_mm, to_words=end.skive.to_words)


def _row_holes(row: HoleRow | None, width_mm: float, up: Callable[[float], float]) -> tuple[Hole, ...]:
    """A row of holes, the one nearest to its tip first; `up` tells how high one lies that is so far from the tip."""
    if row is None:
        return ()
    middle = len(row.tips_mm) // 2 if len(row.tips_mm) % 2 else -1
    return tuple(
        Hole(at=Point(width_mm / 2, up(tip_mm)), diameter_mm=row.punch_mm, place=row.punch, is_middle=index == middle)
        for index, tip_mm in enumerate(row.tips_mm)
    )


def _slots(ends: Ends, folds_mm: Mapping[int, float], width_mm: float, further: tuple[Hole, ...]) -> Iterator[Hole]:
    """The slots for tongues, their middles at the folds; none where punches have an oblong hole at that fold."""
    for which, y in folds_mm.items():
        end = ends[which]
        half_mm = (end.slot_long_mm - end.slot_wide_mm) / 2
        is_there = any(hole.long_mm and abs(hole.at.y - y) < end.slot_long_mm / 2 for hole in further)
        if end.slot_long_mm and not is_there:
            at, slot = Point(width_mm / 2, y), Point(0.0, half_mm)
            yield Hole(at=at, diameter_mm=end.slot_wide_mm, slot=slot, place=end.place)


def _edge_lines(
    reader: Reader, spec: StrapSpec, ends: Ends, outline: Outline, stitch: Stitch | None
) -> Iterator[StitchLine]:
    """The strap's own stitching, up to where a turned end that is sewn for itself comes to lie."""
    if stitch is None:
        return
    box = outline_box(outline)
    found = [
        draw_rows(reader, outline, run, stitch, spec.name, spec.name, spec.place)
        for run in stitch_runs(ends[0].shape, ends[1].shape, is_doubled=is_doubled(spec))
    ]
    if not all(found) and not reader.is_noted(spec.place):
        what = f'the stitch does not fit the strap "{spec.name}", {format_mm(box.width)} wide'
        reader.error(spec.place, what, "use a smaller inset", INSET_CHECK, stitch.name)
    for line in (_shorten(line, ends, stitch, box.height) for lines in found for line in lines):
        if line is not None:
            yield keep_within(line, outline)


def _shorten(line: StitchLine, ends: Ends, stitch: Stitch, length_mm: float) -> StitchLine | None:
    """The line without what lies under and in the turned ends that are sewn for themselves; None where nothing is left."""
    cut_mm = [2 * end.fold_mm if end.sewn else 0.0 for end in ends]
    if not any(cut_mm):
        return line
    first_mm, last_mm = (
        cut_mm[0 if at.y < length_mm / 2 else 1] for at in (start_point(line.path), end_point(line.path))
    )
    until_mm = path_length(line.path) - last_mm
    if until_mm - first_mm < stitch.pitch_mm:
        return None
    return lay_stitches(line.seam, stitch, part_of(line.path, first_mm, until_mm), line.row, None)


def _name_folds(folds: Mapping[int, float]) -> dict[str, Guide]:
    """Lines across a strap by the words of a position; `folds` are their heights in mm by end, first (0) or second
    (1)."""
    names = ("at the fold",) if len(folds) == 1 else ("at the first fold", "at the second fold")
    lines = [Guide(Point(0, folds[which]), Point(1, 0), Point(0, 0)) for which in sorted(folds)]
    return dict(zip(names, lines, strict=False))


def _further_holes(reader: Reader, spec: StrapSpec, outline: Outline, folds: Mapping[int, float]) -> tuple[Hole, ...]:
    """Holes beside the row, measured on the strap as it is cut, or from its folds."""
    lines = _name_folds(folds)
    found = [hole for item in spec.punches if (hole := read_hole(reader, item, outline, lines)) is not None]
    inside = tuple(hole for hole in found if is_inside(outline_path(outline), hole.at))
    for hole in found:
        if hole not in inside:
            what = f'a hole lies outside the strap "{spec.name}"'
            reader.error(hole.place, what, "measure again; the hole's centre must lie on the leather")
    return inside


def _end_lines(
    reader: Reader, spec: StrapSpec, ends: Ends, width_mm: float, length_mm: float, parts: Parts
) -> Iterator[StitchLine]:
    """The stitching that closes turned ends: along both long edges of what lies back, and on what it comes to lie on."""
    for which, end in enumerate(ends):
        stitch = parts.stitches.get(end.sewn)
        if stitch is None:
            continue
        own_mm = end.taper.width_mm if end.taper else width_mm
        deep_mm = stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm
        if end.back_mm - stitch.inset_mm < stitch.pitch_mm or deep_mm >= own_mm / 2:
            what = (
                f'the stitch "{stitch.name}" does not fit the turned end of "{spec.name}", {format_mm(own_mm)} wide, that '
                f"lies back {format_mm(end.back_mm)}"
            )
            reader.error(end.place, what, "use a smaller inset, or turn back more", INSET_CHECK, stitch.name)
            continue
        for row in range(stitch.rows):
            side_mm = own_mm / 2 - stitch.inset_mm - row * stitch.row_gap_mm
            for x in (width_mm / 2 - side_mm, width_mm / 2 + side_mm):
                for from_mm, to_mm in ((stitch.inset_mm, end.back_mm), _beneath(end, stitch.inset_mm)):
                    ys = (length_mm - from_mm, length_mm - to_mm) if which else (from_mm, to_mm)
                    path = polyline([Point(x, y) for y in ys])
                    yield lay_stitches(end_name(spec.name, which), stitch, path, row, None)


def _beneath(end: StrapEnd, from_mm: float) -> tuple[float, float]:
    """Where the same stitching goes through the layer beneath: mirrored about the fold."""
    return 2 * end.fold_mm - from_mm, 2 * end.fold_mm - end.back_mm
