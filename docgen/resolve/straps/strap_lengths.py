"""Lengths of a strap: from what is made up or worn to what is cut, and whether ends and holes have room. mm."""

from collections.abc import Mapping
from itertools import pairwise

from docgen.classes import dataclass
from docgen.problems import Place
from docgen.read import StrapHolesSpec, StrapSpec
from docgen.resolve.straps.keepers import is_keeper, read_keeper_mm
from docgen.resolve.straps.strap import Ends, Strap
from docgen.resolve.straps.strap_outline import end_length_mm
from docgen.resolve.values import Reader, flag, words
from docgen.tables.defaults import HOLE_PITCH_MM, IS_DOUBLED, TIP_MM
from docgen.tables.sizes import PUNCH
from docgen.written.units.telling import format_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRow:
    """`tips_mm`: distance of each hole from the tip, the nearest first; `place`: where their number is
    written."""

    tips_mm: tuple[float, ...]
    punch_mm: float
    place: Place
    punch: Place  # where its size is written

    @property
    def middle_mm(self) -> float:
        return (self.tips_mm[0] + self.tips_mm[-1]) / 2


SHORT_STRAP = 10.0  # widths: a strap with a row of holes is hardly as short; our choice
TURNED_MENDS = (
    "the first end carries these holes; leave it flat, or move them to the other end",
    "the second end carries the holes; turn the first one",
)
Rows = tuple[HoleRow | None, HoleRow | None]
"""Rows of holes at the first and second end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapLengths:
    """Lengths of one strap in mm; `worn_mm` is shortest, middle, longest, or empty."""

    finished_mm: float
    cut_mm: float
    worn_mm: tuple[float, ...] = ()


def is_doubled(spec: StrapSpec) -> bool:
    """Whether a second layer lies under the strap."""
    return flag(spec.doubled, IS_DOUBLED)


def read_rows(reader: Reader, spec: StrapSpec) -> Rows | None:
    """The rows of holes at both ends; None when one is wrong (noted)."""
    own = [end.holes for end in spec.ends] if len(spec.ends) == 2 else [None, None]
    if own[1] is not None and spec.holes is not None:
        what = f'the second end of the strap "{spec.name}" has two rows of holes'
        reader.error(own[1].place, what, "write them once: as holes of the strap, or of that end")
        return None
    rows = (own[0], own[1] or spec.holes)
    read = (_read_holes(reader, rows[0]), _read_holes(reader, rows[1]))
    is_good = all((row is None) == (found is None) for row, found in zip(rows, read, strict=True))
    return read if is_good and "holes" not in spec.wrong else None


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
    return HoleRow(tips_mm=tips, punch_mm=punch_mm, place=spec.count.place, punch=(spec.punch or spec.count).place)


def find_lengths(
    reader: Reader, spec: StrapSpec, ends: Ends, rows: Rows, straps: Mapping[str, Strap], thickness_mm: float
) -> StrapLengths | None:
    """All lengths; None when they do not follow from what is written (noted)."""
    if is_keeper(spec):
        keeper = read_keeper_mm(reader, spec, straps, thickness_mm)
        return None if keeper is None else StrapLengths(finished_mm=keeper[0], cut_mm=keeper[1])
    if spec.wears is not None and spec.finished is not None:
        what = f'the strap "{spec.name}" has two lengths'
        reader.error(spec.wears.place, what, "keep wears (at the middle hole) or finished, not both")
        return None
    for row, end, mend in zip(rows, ends, TURNED_MENDS, strict=True):
        if row is not None and end.shape == "turned":
            what = f'the strap "{spec.name}" has its holes at a turned end'
            reader.error(row.place, what, mend)
            return None
    if spec.wears is None:
        return _lengths_from_finished(reader, spec, ends)
    return _lengths_from_worn(reader, spec, ends, rows, straps)


def _lengths_from_finished(reader: Reader, spec: StrapSpec, ends: Ends) -> StrapLengths | None:
    if spec.finished is None and not {"finished", "wears"} & set(spec.wrong):
        what = f'the strap "{spec.name}" has no length'
        reader.error(spec.place, what, 'add finished = "10 in", or wears = "44 in" with holes')
    finished_mm = reader.length(spec.finished)
    if finished_mm is None:
        return None
    return StrapLengths(finished_mm=finished_mm, cut_mm=finished_mm + ends[0].takes_mm + ends[1].takes_mm)


def _lengths_from_worn(
    reader: Reader, spec: StrapSpec, ends: Ends, rows: Rows, straps: Mapping[str, Strap]
) -> StrapLengths | None:
    wears_mm = reader.length(spec.wears)
    if spec.wears is None or wears_mm is None:
        return None
    first, holes = rows
    if holes is None:
        what = f'the strap "{spec.name}" is worn at its middle hole, and has no holes'
        reader.error(spec.wears.place, what, "add holes, or write finished for its length")
        return None
    for row in (found for found in rows if found is not None and len(found.tips_mm) % 2 == 0):
        what = f"{len(row.tips_mm)} holes have no middle one"
        reader.error(row.place, what, "use an odd number of holes", "holes-even", spec.name)
        return None
    partner = straps.get(words(spec.partner))
    if spec.partner is not None and partner is None:
        return None  # the partner has a problem of its own
    partner_mm = partner.finished_mm if partner else 0.0
    if wears_mm <= partner_mm:
        what = f"its partner alone is {format_mm(partner_mm)} long, and both together wear {format_mm(wears_mm)}"
        reader.error(spec.wears.place, what, "make the partner shorter or wears longer")
        return None
    half_mm = sum((row.tips_mm[-1] - row.tips_mm[0]) / 2 for row in (holes, first) if row is not None)
    finished_mm = wears_mm - partner_mm + holes.middle_mm + (first.middle_mm if first else 0.0)
    return StrapLengths(
        finished_mm=finished_mm,
        cut_mm=finished_mm + ends[0].takes_mm,
        worn_mm=(wears_mm - half_mm, wears_mm, wears_mm + half_mm),
    )


def has_room(reader: Reader, spec: StrapSpec, lengths: StrapLengths, width_mm: float, ends: Ends, rows: Rows) -> bool:
    """Whether ends and holes fit the strap; when not, it is noted."""
    shaped_mm = sum(max(end_length_mm(end, width_mm), end.takes_mm) for end in ends)
    if shaped_mm > lengths.cut_mm:
        what = f'the ends of "{spec.name}" take {format_mm(shaped_mm)}, and it is {format_mm(lengths.cut_mm)} long'
        mend = "let them taper over less" if any(end.taper for end in ends) else "make it narrower, or its ends square"
        reader.error(spec.place, what, f"make it longer, or {mend}".replace(", or make it", " or"))
        return False
    back_mm = sum(end.back_mm for end in ends if end.shape == "turned")
    if back_mm > lengths.finished_mm and not lengths.worn_mm:
        what = (
            f'the turned ends of "{spec.name}" lie back {format_mm(back_mm)} in all, and it is '
            f"{format_mm(lengths.finished_mm)} long when made up"
        )
        reader.error(spec.finished.place if spec.finished else spec.place, what, "make it longer, or turn back less")
        return False
    return _have_room(reader, spec, lengths, width_mm, rows)


def _have_room(reader: Reader, spec: StrapSpec, lengths: StrapLengths, width_mm: float, rows: Rows) -> bool:
    """Whether the rows of holes fit, one after the other; when not, it is noted: of a strap that is hardly longer than
    wide at its length."""
    found = [row for row in rows if row is not None]
    taken_mm = sum(row.tips_mm[-1] + row.punch_mm / 2 for row in found)
    if not found or taken_mm < lengths.finished_mm:
        return True
    long = f"the strap is {format_mm(lengths.finished_mm)} long when made up"
    what = f'the last hole of "{spec.name}" lies {format_mm(found[-1].tips_mm[-1])} from the tip, and {long}'
    pitch_mm = max((b - a for row in found for a, b in pairwise(row.tips_mm)), default=0.0)
    mend = "use fewer holes or a longer strap"
    if pitch_mm:
        mend = f"use fewer holes than {len(found[-1].tips_mm)}, {format_mm(pitch_mm)} apart, a shorter pitch"
        mend += ", or a longer strap"
    if len(found) == 2:
        mend = "use fewer holes or a longer strap"
        what = f'the rows of holes at both ends of "{spec.name}" run into each other: {long}'
    length = spec.wears or spec.finished
    if length is not None and lengths.finished_mm < SHORT_STRAP * width_mm:
        reader.error(
            length.place, f"{what} (line {found[-1].place.line})", "look at its length and its unit, or use fewer holes"
        )
    else:
        reader.error(found[-1].place, what, mend)
    return False
