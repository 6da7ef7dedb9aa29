"""Checks of how much there is of one thing: ranges of thickness, hides, goods by length, hardware, keepers, padding, rows
of holes. Each asks once whether a figure or its unit has slipped."""

import math
import re
from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.resolve import Goods
from docgen.tables import usual
from docgen.tables.hides import DEEPEST, HIDES
from docgen.tables.sewing import LEAST_HAND_PITCH_MM
from docgen.written.units.table import MM2_PER_SQFT
from docgen.written.units.telling import Show, format_mm, format_number, format_pitch

RANGE_RE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:-|–|to)\s*(\d+(?:\.\d+)?)")
MEND = "look at the figure and its unit"
OVERLAP_SHARE = 0.5  # of the way round what a keeper holds


@check(
    "thickness-range-wide",
    f"The thicker end of a range of thickness is at most {usual.MOST_RANGE:g} times the thinner.",
    PRACTICE,
)
def find_wide_ranges(subject: Subject) -> Iterator[Found]:
    for spec in subject.spec.materials:
        found = RANGE_RE.search(spec.thickness.value) if spec.thickness else None
        if spec.thickness and found and float(found[2]) > usual.MOST_RANGE * float(found[1]) + 1e-6:
            what = f'"{spec.name}" is {spec.thickness.value} thick: one end of that is {_times(found)} times the other'
            yield spec.thickness.place, what, "look at both figures: a point or a digit may be missing", spec.name


def _times(found: re.Match[str]) -> str:
    return format_number(float(found[2]) / float(found[1]), 1)


@check(
    "hide-unusual",
    f"A hide is {usual.HIDE_AREA_TIMES[0]:g} to {usual.HIDE_AREA_TIMES[1]:g} times as large as is usual of how it is "
    "sold, and no firmer than it is deep.",
    'weaverleathersupply.com, "Cuts of leather", for sides and whole hides; the others and the times common practice, no '
    "published source",
)
def find_odd_hides(subject: Subject) -> Iterator[Found]:
    """Areas far from what is usual, and firm parts deeper than the hide, where the spec itself says them."""
    specs = {spec.name: spec for spec in subject.spec.materials}
    for material in subject.build.materials:
        goods, spec = material.goods, specs[material.name]
        if not goods.is_hide:
            continue
        kind = HIDES[goods.sold]
        least, most = usual.HIDE_AREA_TIMES
        smallest, largest = least * kind.area_mm2[0], most * kind.area_mm2[1]
        is_odd = goods.least_mm2 < smallest - 1 or goods.most_mm2 > largest + 1
        if spec.area and is_odd:
            said = _area_words(smallest, largest, subject.show)
            what = f'a {kind.one} of "{material.name}" is {spec.area.value}, and one is sold from {said}'
            yield spec.area.place, what, MEND, material.name
        elif spec.firm and goods.firm_mm > _deep_mm(goods) + 1e-6:
            deep = subject.length(_deep_mm(goods))
            what = (
                f'"{material.name}" is firm {subject.length(goods.firm_mm)} deep, and a {kind.one} of it is {deep} deep'
            )
            yield spec.firm.place, what, MEND, material.name


def _deep_mm(goods: Goods) -> float:
    """How deep a hide is from its straight edge: in its middle, by its area and that edge."""
    return max(goods.measured_mm, default=DEEPEST * goods.most_mm2 / goods.edge_mm)


def _area_words(least_mm2: float, most_mm2: float, show: Show) -> str:
    if show == "mm":
        return f"{format_number(least_mm2 / 1e6, 1)} to {format_number(most_mm2 / 1e6, 1)} m2"
    return f"{format_number(least_mm2 / MM2_PER_SQFT, 1)} to {format_number(most_mm2 / MM2_PER_SQFT, 0)} sq ft"


@check(
    "goods-cut-short",
    f"Goods by length are cut {format_mm(usual.SHORTEST_CUT_MM)} long or longer, and no shorter than they are thick.",
    PRACTICE,
)
def find_short_goods(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.trimmings}
    for item in subject.build.trimmings:
        value = specs[item.name].length
        least_mm = max(usual.SHORTEST_CUT_MM, item.thickness_mm)
        if value is not None and 0 < item.written_mm < least_mm - 1e-6:
            what = f'"{item.name}" ({item.what}) is cut {subject.length(item.written_mm)} long'
            yield value.place, what, MEND, item.name


@check(
    "keeper-overlap-long",
    f"The ends of a keeper lie over each other for {format_number(OVERLAP_SHARE, 1)} of the way round or less.",
    "plane geometry; the share is our choice",
)
def find_long_overlaps(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        value = specs[strap.name].overlap
        over_mm = strap.cut_length_mm - strap.finished_mm
        if value is not None and strap.keeper_for and over_mm > OVERLAP_SHARE * strap.finished_mm + 1e-6:
            round_ = subject.length(strap.finished_mm)
            what = (
                f'the ends of the keeper "{strap.name}" lie {value.value} over each other, and it goes {round_} round'
            )
            yield value.place, what, MEND, strap.name


@check(
    "keeper-overlap-short", "The ends of a keeper meet, or lie over each other for {keeper_overlap} or more.", PRACTICE
)
def find_short_overlaps(subject: Subject) -> Iterator[Found]:
    """Less than glue or a stitch holds by; ends that meet are sewn edge to edge."""
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        value = specs[strap.name].overlap
        over_mm = strap.cut_length_mm - strap.finished_mm
        if value is not None and strap.keeper_for and 1e-6 < over_mm < subject.build.limits.keeper_overlap_mm - 1e-6:
            what = f'the ends of the keeper "{strap.name}" lie {subject.length(over_mm)} over each other'
            yield value.place, what, MEND, strap.name


@check("padding-short", "The padding of a strap is longer than it is wide.", PRACTICE)
def find_short_padding(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec.padding for spec in subject.spec.straps}
    for strap in subject.build.straps:
        padding = specs[strap.name]
        if padding and padding.length and 0 < strap.padding_length_mm < strap.padding_width_mm - 1e-6:
            wide = f" (line {padding.width.place.line})" if padding.width else ""
            what = (
                f'the padding of "{strap.name}" is {subject.length(strap.padding_length_mm)} long and '
                f"{subject.length(strap.padding_width_mm)} wide{wide}"
            )
            yield padding.length.place, what, "look at both figures: the one along the strap is the length", strap.name


@check(
    "row-long",
    f"A row for a buckle has at most {usual.MOST_ROW_HOLES} holes.",
    "common practice, no published source: five or seven are usual",
)
def find_long_rows(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        spec = specs[strap.name]
        rows = [(len(strap.hole_tips_mm), spec.holes), (len(strap.first_tips_mm), None)]
        rows += [(0, None), *((end.holes.count.value, end.holes) for end in spec.ends if end.holes and end.holes.count)]
        for count, row in rows:
            if count > usual.MOST_ROW_HOLES and row and row.count:
                what = f'the row of the strap "{strap.name}" has {count} holes'
                yield row.count.place, what, "look at the figure; accept it where so many are meant", strap.name


@check(
    "pitch-too-fine-by-hand",
    f"Stitches sewn by hand in leather are {format_mm(LEAST_HAND_PITCH_MM)} long or longer.",
    'OQLF, Grand dictionnaire terminologique, "griffe a frapper": luxury saddlery 14 to 16 in the French inch of 27.07 mm',
    needs_whole=True,
)
def find_fine_hand_pitches(subject: Subject) -> Iterator[Found]:
    for stitch in subject.build.stitches:
        is_fine = stitch.by == "hand" and stitch.pitch_mm < LEAST_HAND_PITCH_MM - 1e-6
        if is_fine and stitch.name in subject.leather_stitches and not math.isclose(stitch.pitch_mm, 0.0):
            what = f'the stitch "{stitch.name}" of {format_pitch(stitch.pitch_mm)} cuts leather like a postage stamp'
            yield (
                subject.place_of(stitch, "pitch"),
                what,
                f"make it {format_mm(LEAST_HAND_PITCH_MM)} or longer",
                stitch.name,
            )
