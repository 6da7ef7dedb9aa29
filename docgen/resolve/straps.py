"""Straps: cut length from the length when worn or made up, holes from the tip, and the outline to cut."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from docgen.geometry import Arc, Edge, GeometryError, Line, Outline, Path, Point, inset_run
from docgen.read import StrapEndSpec, StrapHolesSpec, StrapSpec
from docgen.resolve.build import Fold, Hardware, Hole, Material, Piece, Stitch, StitchLine, Strap, StrapEnd
from docgen.resolve.values import Reader, words

INCH_MM = 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRow:
    """`tips_mm`: distance of each hole from the tip, the nearest first."""

    tips_mm: tuple[float, ...]
    pitch_mm: float
    punch_mm: float

    @property
    def middle_mm(self) -> float:
        return (self.tips_mm[0] + self.tips_mm[-1]) / 2


def bar_wrap_mm(bar_mm: float, thickness_mm: float) -> float:
    """Length along the middle of a strap that goes half round a bar: pi (d + t) / 2 (plane geometry)."""
    return math.pi * (bar_mm + thickness_mm) / 2


def read_straps(
    reader: Reader,
    specs: tuple[StrapSpec, ...],
    materials: Mapping[str, Material],
    hardware: Mapping[str, Hardware],
    stitches: Mapping[str, Stitch],
) -> dict[str, Strap]:
    """Straps by name; those that cannot be worked out are noted and left out. Parts with a buckle come before those
    that name them as partner."""
    straps: dict[str, Strap] = {}
    for spec in sorted(specs, key=lambda spec: spec.partner is not None):
        strap = _read_strap(reader, spec, materials, hardware, stitches, straps)
        if strap is not None:
            straps[spec.name] = strap
    return {spec.name: straps[spec.name] for spec in specs if spec.name in straps}


def _read_strap(
    reader: Reader, spec: StrapSpec, materials: Mapping[str, Material], hardware: Mapping[str, Hardware],
    stitches: Mapping[str, Stitch], straps: Mapping[str, Strap],
) -> Strap | None:  # fmt: skip
    width_mm = reader.length(spec.width)
    material = materials.get(words(spec.of))
    if width_mm is None or material is None:
        return None
    ends = _read_ends(reader, spec, material, hardware)
    holes = _read_holes(reader, spec.holes)
    if ends is None or (spec.holes is not None and holes is None):
        return None
    lengths = _find_lengths(reader, spec, ends, holes, straps)
    if lengths is None:
        return None
    finished_mm, cut_mm, worn_mm = lengths
    stitch = stitches.get(words(spec.stitch))
    piece = _make_piece(reader, spec, width_mm, cut_mm, ends, holes, stitch)
    if piece is None:
        return None
    return Strap(
        name=spec.name, title=piece.title, material=material.name, cut=piece.cut, width_mm=width_mm,
        cut_length_mm=cut_mm, finished_mm=finished_mm, worn_mm=worn_mm, hole_tips_mm=holes.tips_mm if holes else (),
        punch_mm=holes.punch_mm if holes else 0.0, ends=ends, partner=words(spec.partner), stitch=words(spec.stitch),
        piece=piece, note=words(spec.note),
    )  # fmt: skip


def _read_ends(
    reader: Reader, spec: StrapSpec, material: Material, hardware: Mapping[str, Hardware]
) -> tuple[StrapEnd, StrapEnd] | None:
    if not spec.ends:
        if "ends" in spec.wrong:
            return None
        square = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)
        return square, square
    ends = [_read_end(reader, end, material, hardware) for end in spec.ends]
    if len(ends) != 2 or ends[0] is None or ends[1] is None:
        return None
    return ends[0], ends[1]


def _read_end(
    reader: Reader, end: StrapEndSpec, material: Material, hardware: Mapping[str, Hardware]
) -> StrapEnd | None:
    if end.shape is None:
        return None
    shape = end.shape.value
    if shape != "turned":
        for extra, key in ((end.back, "back"), (end.around, "around")):
            if extra is not None:
                reader.error(
                    extra.place,
                    f'"{key}" belongs to a turned end, and this one is {shape}',
                    'write shape = "turned", or leave it out',
                )
        return StrapEnd(shape=shape, back_mm=0.0, around="", takes_mm=0.0)
    back_mm = reader.length(end.back)
    if end.back is None:
        reader.error(end.shape.place, "a turned end does not say how far it lies back", 'add back = "2 in"')
    if back_mm is None:
        return None
    ring = hardware.get(words(end.around))
    wrap_mm = bar_wrap_mm(ring.bar_mm if ring else 0.0, material.thickness_mm)
    return StrapEnd(shape=shape, back_mm=back_mm, around=words(end.around), takes_mm=back_mm + wrap_mm)


def _read_holes(reader: Reader, spec: StrapHolesSpec | None) -> HoleRow | None:
    if spec is None:
        return None
    pitch_mm = reader.length(spec.pitch) if spec.pitch is not None else INCH_MM
    tip_mm = reader.length(spec.tip) if spec.tip is not None else 3 * INCH_MM
    punch_mm = reader.length(spec.punch)
    if spec.count is None or pitch_mm is None or tip_mm is None or punch_mm is None:
        return None
    tips = tuple(tip_mm + index * pitch_mm for index in range(spec.count.value))
    return HoleRow(tips_mm=tips, pitch_mm=pitch_mm, punch_mm=punch_mm)


def _find_lengths(
    reader: Reader,
    spec: StrapSpec,
    ends: tuple[StrapEnd, StrapEnd],
    holes: HoleRow | None,
    straps: Mapping[str, Strap],
) -> tuple[float, float, tuple[float, ...]] | None:
    """Finished length, cut length, and worn lengths (shortest, middle, longest), all in mm."""
    if spec.wears is not None and spec.finished is not None:
        reader.error(
            spec.wears.place,
            f'the strap "{spec.name}" has two lengths',
            "keep wears (at the middle hole) or finished, not both",
        )
        return None
    if spec.wears is None:
        return _lengths_from_finished(reader, spec, ends)
    return _lengths_from_worn(reader, spec, ends, holes, straps)


def _lengths_from_finished(
    reader: Reader, spec: StrapSpec, ends: tuple[StrapEnd, StrapEnd]
) -> tuple[float, float, tuple[float, ...]] | None:
    finished_mm = reader.length(spec.finished)
    if spec.finished is None and not {"finished", "wears"} & set(spec.wrong):
        reader.error(
            spec.place,
            f'the strap "{spec.name}" has no length',
            'add finished = "10 in", or wears = "44 in" with holes',
        )
    if finished_mm is None:
        return None
    return finished_mm, finished_mm + ends[0].takes_mm + ends[1].takes_mm, ()


def _lengths_from_worn(
    reader: Reader,
    spec: StrapSpec,
    ends: tuple[StrapEnd, StrapEnd],
    holes: HoleRow | None,
    straps: Mapping[str, Strap],
) -> tuple[float, float, tuple[float, ...]] | None:
    wears_mm = reader.length(spec.wears)
    if spec.wears is None or wears_mm is None:
        return None
    if holes is None:
        if spec.holes is None and "holes" not in spec.wrong:
            reader.error(
                spec.wears.place,
                f'the strap "{spec.name}" is worn at its middle hole, and has no holes',
                "add holes, or write finished for its length",
            )
        return None
    if len(holes.tips_mm) % 2 == 0:
        place = spec.holes.count.place if spec.holes and spec.holes.count else spec.place
        reader.error(place, f"{len(holes.tips_mm)} holes have no middle one", "use an odd number of holes")
        return None
    if ends[1].shape == "turned":
        reader.error(
            spec.place,
            f'the strap "{spec.name}" has its holes at a turned end',
            "the second end carries the holes; turn the first one",
        )
        return None
    partner_mm = 0.0
    if spec.partner is not None:
        partner = straps.get(spec.partner.value)
        if partner is None:
            return None
        partner_mm = partner.finished_mm
    own_mm = wears_mm - partner_mm
    if own_mm <= 0:
        reader.error(
            spec.wears.place,
            f"its partner alone is {partner_mm:.1f} mm long, and both together wear {wears_mm:.1f} mm",
            "make the partner shorter or wears longer",
        )
        return None
    half_mm = (holes.tips_mm[-1] - holes.tips_mm[0]) / 2
    finished_mm = own_mm + holes.middle_mm
    return finished_mm, finished_mm + ends[0].takes_mm, (wears_mm - half_mm, wears_mm, wears_mm + half_mm)


def _make_piece(
    reader: Reader, spec: StrapSpec, width_mm: float, length_mm: float, ends: tuple[StrapEnd, StrapEnd],
    holes: HoleRow | None, stitch: Stitch | None,
) -> Piece | None:  # fmt: skip
    if holes is not None and holes.tips_mm[-1] >= length_mm:
        reader.error(
            spec.place,
            f'the holes of "{spec.name}" do not fit its length of {length_mm:.1f} mm',
            "use fewer holes or a longer strap",
        )
        return None
    outline = strap_outline(width_mm, length_mm, ends[0].shape, ends[1].shape)
    middle = width_mm / 2
    lines: tuple[StitchLine, ...] = ()
    if stitch is not None:
        try:
            lines = tuple(
                StitchLine(
                    seam=spec.name, stitch=stitch.name, path=inset_run(outline, (edge,), stitch.inset_mm)
                )
                for edge in ("left", "right")
            )
        except GeometryError as error:
            reader.error(
                spec.place, f'the stitch does not fit the strap "{spec.name}": {error}', "use a smaller inset"
            )
    folds = [
        Fold(start=Point(0, y), end=Point(width_mm, y), note="turn back here")
        for end, y in ((ends[0], ends[0].takes_mm), (ends[1], length_mm - ends[1].takes_mm))
        if end.shape == "turned"
    ]
    return Piece(
        name=spec.name, title=words(spec.title, spec.name.replace("-", " ")), material=words(spec.of),
        cut=spec.cut.value if spec.cut else 1, is_pair=False, shape="strip", outline=outline, is_strap=True,
        holes=tuple(
            Hole(at=Point(middle, length_mm - tip), diameter_mm=holes.punch_mm, place=spec.place)
            for tip in holes.tips_mm
        ) if holes else (),
        folds=tuple(folds), stitch_lines=lines, note=words(spec.note), place=spec.place,
    )  # fmt: skip


def strap_outline(width_mm: float, length_mm: float, first: str, second: str) -> Outline:
    """A standing strap, start at the bottom: edges start, right, end, left. A pointed end comes to a point at half the
    width from its shoulders; a rounded one is a half circle; square and turned ends are cut square."""
    low = width_mm / 2 if first in ("pointed", "rounded") else 0.0
    high = length_mm - (width_mm / 2 if second in ("pointed", "rounded") else 0.0)
    return Outline(
        (
            Edge("start", _end_path(first, Point(0, low), Point(width_mm, low), -1.0)),
            Edge("right", Path((Line(Point(width_mm, low), Point(width_mm, high)),))),
            Edge("end", _end_path(second, Point(width_mm, high), Point(0, high), 1.0)),
            Edge("left", Path((Line(Point(0, high), Point(0, low)),))),
        )
    )


def _end_path(shape: str, begin: Point, end: Point, outward: float) -> Path:
    middle = Point((begin.x + end.x) / 2, begin.y)
    radius = abs(end.x - begin.x) / 2
    if shape == "pointed":
        tip = Point(middle.x, middle.y + outward * radius)
        return Path((Line(begin, tip), Line(tip, end)))
    if shape == "rounded":
        return Path((Arc(middle, radius, math.pi if outward < 0 else 0.0, math.pi),))
    return Path((Line(begin, end),))
