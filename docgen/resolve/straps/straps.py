"""Straps: cut length from the length when worn or made up, holes from the tip, and the piece to cut."""

from collections.abc import Mapping

from docgen.classes import dataclass
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.shapes import Outline, Point
from docgen.problems import Place
from docgen.read import StrapHolesSpec, StrapSpec
from docgen.resolve.goods.values import Material
from docgen.resolve.marks import Fold, Hole, Marks
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.marks import read_hole
from docgen.resolve.pieces.positions import Guide
from docgen.resolve.seams.seam import Stitch
from docgen.resolve.seams.stitch_lines import draw_rows, keep_within
from docgen.resolve.straps.keepers import is_keeper, read_keeper_mm
from docgen.resolve.straps.strap import Ends, Strap
from docgen.resolve.straps.strap_ends import read_ends
from docgen.resolve.straps.strap_outline import shaped_ends_mm, stitch_runs, strap_outline
from docgen.resolve.values import Reader, flag, words
from docgen.tables.defaults import CUT, HOLE_PITCH_MM, IS_DOUBLED, TIP_MM
from docgen.tables.sizes import PUNCH
from docgen.written.units.telling import format_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRow:
    """`tips_mm`: distance of each hole from the tip, the nearest first; `place`: where their number is
    written."""

    tips_mm: tuple[float, ...]
    punch_mm: float
    place: Place

    @property
    def middle_mm(self) -> float:
        return (self.tips_mm[0] + self.tips_mm[-1]) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapLengths:
    """Lengths of one strap in mm; `worn_mm` is shortest, middle, longest, or empty."""

    finished_mm: float
    cut_mm: float
    worn_mm: tuple[float, ...] = ()


def read_straps(reader: Reader, specs: tuple[StrapSpec, ...], parts: Parts) -> dict[str, Strap]:
    """Straps by name, of the goods in `parts`; those that cannot be worked out are noted and left out. Parts with a
    buckle come before those that name them as partner, keepers last."""
    straps: dict[str, Strap] = {}
    by_name = {spec.name: spec for spec in specs}
    for spec in sorted(specs, key=lambda spec: (is_keeper(spec), spec.partner is not None)):
        if not _has_good_partner(reader, spec, by_name):
            continue
        strap = _read_strap(reader, spec, parts, straps)
        if strap is not None:
            straps[spec.name] = strap
    return {spec.name: straps[spec.name] for spec in specs if spec.name in straps}


def _has_good_partner(reader: Reader, spec: StrapSpec, by_name: Mapping[str, StrapSpec]) -> bool:
    """Whether the partner, if any, can be one; when not, it is noted."""
    partner = by_name.get(words(spec.partner))
    if spec.partner is None or partner is None:
        return True
    if partner.partner is not None:
        itself = partner.name == spec.name
        what = "cannot be its own partner" if itself else f'has the partner "{partner.name}", which has one too'
        reader.error(
            spec.partner.place, f'the strap "{spec.name}" {what}', "only the part with the holes names the other"
        )
        return False
    if spec.wears is None and "wears" not in spec.wrong:
        what = f'the strap "{spec.name}" has a partner, and no length that both wear together'
        reader.error(spec.partner.place, what, 'write wears = "44 in", or leave out partner')
        return False
    return True


def _read_strap(reader: Reader, spec: StrapSpec, parts: Parts, straps: Mapping[str, Strap]) -> Strap | None:
    width_mm = reader.length(spec.width)
    material = parts.materials.get(words(spec.of))
    if width_mm is None or material is None:
        return None
    thickness_mm = _read_thickness(reader, spec, material, parts.materials)
    ends = read_ends(reader, spec, material, parts.hardware)
    holes = _read_holes(reader, spec.holes)
    if ends is None or thickness_mm is None or (spec.holes is not None and holes is None) or "holes" in spec.wrong:
        return None
    lengths = _find_lengths(reader, spec, ends, holes, straps, thickness_mm)
    if lengths is None or not _has_room(reader, spec, lengths, width_mm, ends, holes):
        return None
    piece = _make_piece(reader, spec, width_mm, lengths.cut_mm, ends, holes, parts.stitches.get(words(spec.stitch)))
    return Strap(
        name=spec.name,
        title=piece.title,
        material=material.name,
        cut=piece.cut,
        width_mm=width_mm,
        cut_length_mm=lengths.cut_mm,
        finished_mm=lengths.finished_mm,
        worn_mm=lengths.worn_mm,
        hole_tips_mm=holes.tips_mm if holes else (),
        punch_mm=holes.punch_mm if holes else 0.0,
        ends=ends,
        partner=words(spec.partner),
        stitch=words(spec.stitch),
        piece=piece,
        note=words(spec.note),
        thickness_mm=thickness_mm,
        lining=words(spec.lining, material.name) if is_doubled(spec) else "",
        lining_length_mm=lengths.finished_mm if is_doubled(spec) else 0.0,
        keeper_for=words(spec.keeper_for),
    )


def is_doubled(spec: StrapSpec) -> bool:
    """Whether a second layer lies under the strap."""
    return flag(spec.doubled, IS_DOUBLED)


def _read_thickness(
    reader: Reader, spec: StrapSpec, material: Material, materials: Mapping[str, Material]
) -> float | None:
    """Thickness of all layers in mm; None when that of the second is not known (noted)."""
    if not is_doubled(spec):
        if spec.lining is not None:
            what = f'the strap "{spec.name}" has a lining, and is not doubled'
            reader.error(spec.lining.place, what, "write doubled = true, or leave lining out")
        return material.thickness_mm
    lining = materials.get(words(spec.lining, material.name))
    return None if lining is None else material.thickness_mm + lining.thickness_mm


def _read_holes(reader: Reader, spec: StrapHolesSpec | None) -> HoleRow | None:
    if spec is None:
        return None
    pitch_mm = reader.length(spec.pitch) if spec.pitch is not None else HOLE_PITCH_MM
    tip_mm = reader.length(spec.tip) if spec.tip is not None else TIP_MM
    punch_mm = reader.size(spec.punch, PUNCH)
    if spec.count is None or pitch_mm is None or tip_mm is None or punch_mm is None:
        return None
    if spec.count.value > 1 and pitch_mm <= punch_mm:
        place = spec.pitch.place if spec.pitch else spec.place
        what = f"holes of {format_mm(punch_mm)} stand {format_mm(pitch_mm)} apart, and run into each other"
        reader.error(place, what, "use a longer pitch or a smaller punch")
        return None
    tips = tuple(tip_mm + index * pitch_mm for index in range(spec.count.value))
    return HoleRow(tips_mm=tips, punch_mm=punch_mm, place=spec.count.place)


def _find_lengths(
    reader: Reader, spec: StrapSpec, ends: Ends, holes: HoleRow | None, straps: Mapping[str, Strap], thickness_mm: float
) -> StrapLengths | None:
    """All lengths; None when they do not follow from what is written (noted)."""
    if is_keeper(spec):
        keeper = read_keeper_mm(reader, spec, straps, thickness_mm)
        return None if keeper is None else StrapLengths(finished_mm=keeper[0], cut_mm=keeper[1])
    if spec.wears is not None and spec.finished is not None:
        what = f'the strap "{spec.name}" has two lengths'
        reader.error(spec.wears.place, what, "keep wears (at the middle hole) or finished, not both")
        return None
    if holes is not None and ends[1].shape == "turned":
        what = f'the strap "{spec.name}" has its holes at a turned end'
        reader.error(holes.place, what, "the second end carries the holes; turn the first one")
        return None
    if spec.wears is None:
        return _lengths_from_finished(reader, spec, ends)
    return _lengths_from_worn(reader, spec, ends, holes, straps)


def _lengths_from_finished(reader: Reader, spec: StrapSpec, ends: Ends) -> StrapLengths | None:
    if spec.finished is None and not {"finished", "wears"} & set(spec.wrong):
        what = f'the strap "{spec.name}" has no length'
        reader.error(spec.place, what, 'add finished = "10 in", or wears = "44 in" with holes')
    finished_mm = reader.length(spec.finished)
    if finished_mm is None:
        return None
    return StrapLengths(finished_mm=finished_mm, cut_mm=finished_mm + ends[0].takes_mm + ends[1].takes_mm)


def _lengths_from_worn(
    reader: Reader, spec: StrapSpec, ends: Ends, holes: HoleRow | None, straps: Mapping[str, Strap]
) -> StrapLengths | None:
    wears_mm = reader.length(spec.wears)
    if spec.wears is None or wears_mm is None:
        return None
    if holes is None:
        what = f'the strap "{spec.name}" is worn at its middle hole, and has no holes'
        reader.error(spec.wears.place, what, "add holes, or write finished for its length")
        return None
    if len(holes.tips_mm) % 2 == 0:
        what = f"{len(holes.tips_mm)} holes have no middle one"
        reader.error(holes.place, what, "use an odd number of holes", "holes-even", spec.name)
        return None
    partner = straps.get(words(spec.partner))
    if spec.partner is not None and partner is None:
        return None  # the partner has a problem of its own
    partner_mm = partner.finished_mm if partner else 0.0
    if wears_mm <= partner_mm:
        what = f"its partner alone is {format_mm(partner_mm)} long, and both together wear {format_mm(wears_mm)}"
        reader.error(spec.wears.place, what, "make the partner shorter or wears longer")
        return None
    half_mm = (holes.tips_mm[-1] - holes.tips_mm[0]) / 2
    finished_mm = wears_mm - partner_mm + holes.middle_mm
    return StrapLengths(
        finished_mm=finished_mm,
        cut_mm=finished_mm + ends[0].takes_mm,
        worn_mm=(wears_mm - half_mm, wears_mm, wears_mm + half_mm),
    )


def _has_room(
    reader: Reader, spec: StrapSpec, lengths: StrapLengths, width_mm: float, ends: Ends, holes: HoleRow | None
) -> bool:
    """Whether shaped ends and holes fit the strap; when not, it is noted."""
    shaped_mm = shaped_ends_mm(width_mm, ends[0].shape, ends[1].shape)
    if shaped_mm > lengths.cut_mm:
        what = f'the ends of "{spec.name}" take {format_mm(shaped_mm)}, and it is {format_mm(lengths.cut_mm)} long'
        reader.error(spec.place, what, "make it longer or narrower, or its ends square")
        return False
    back_mm = sum(end.back_mm for end in ends if end.shape == "turned")
    if back_mm > lengths.finished_mm and not lengths.worn_mm:
        what = (
            f'the turned ends of "{spec.name}" lie back {format_mm(back_mm)} in all, and it is '
            f"{format_mm(lengths.finished_mm)} long when made up"
        )
        reader.error(spec.finished.place if spec.finished else spec.place, what, "make it longer, or turn back less")
        return False
    if holes is not None and holes.tips_mm[-1] + holes.punch_mm / 2 >= lengths.finished_mm:
        what = (
            f'the last hole of "{spec.name}" lies {format_mm(holes.tips_mm[-1])} from the tip, '
            f"and the strap is {format_mm(lengths.finished_mm)} long when made up"
        )
        reader.error(holes.place, what, "use fewer holes or a longer strap")
        return False
    return True


def _buckle_holes(holes: HoleRow | None, width_mm: float, length_mm: float) -> tuple[Hole, ...]:
    """The row at the second end, the one nearest to the tip first."""
    if holes is None:
        return ()
    middle = len(holes.tips_mm) // 2 if len(holes.tips_mm) % 2 else -1
    return tuple(
        Hole(
            at=Point(width_mm / 2, length_mm - tip),
            diameter_mm=holes.punch_mm,
            place=holes.place,
            is_middle=index == middle,
        )
        for index, tip in enumerate(holes.tips_mm)
    )


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


def _make_piece(
    reader: Reader,
    spec: StrapSpec,
    width_mm: float,
    length_mm: float,
    ends: Ends,
    holes: HoleRow | None,
    stitch: Stitch | None,
) -> Piece:
    outline = strap_outline(width_mm, length_mm, ends[0].shape, ends[1].shape)
    found = (
        [
            draw_rows(reader, outline, run, stitch, spec.name, spec.name, spec.place)
            for run in stitch_runs(ends[0].shape, ends[1].shape, is_doubled=is_doubled(spec))
        ]
        if stitch is not None
        else []
    )
    if stitch is not None and not all(found) and not reader.is_noted(spec.place):
        what = f'the stitch does not fit the strap "{spec.name}", {format_mm(width_mm)} wide'
        reader.error(spec.place, what, "use a smaller inset")
    heights_mm = (ends[0].fold_mm, length_mm - ends[1].fold_mm)
    folds_mm = {which: y for which, y in enumerate(heights_mm) if ends[which].shape == "turned"}
    folds = [Fold(start=Point(0, y), end=Point(width_mm, y), note="turn back here") for y in folds_mm.values()]
    return Piece(
        name=spec.name,
        title=words(spec.title, spec.name.replace("-", " ")),
        material=words(spec.of),
        cut=spec.cut.value if spec.cut else CUT,
        is_pair=False,
        shape="strip",
        outline=outline,
        is_strap=True,
        marks=Marks(
            holes=(*_buckle_holes(holes, width_mm, length_mm), *_further_holes(reader, spec, outline, folds_mm)),
            folds=tuple(folds),
            stitch_lines=tuple(keep_within(line, outline) for lines in found for line in lines),
        ),
        note=words(spec.note),
        place=spec.place,
        least_stretch="up",
    )
