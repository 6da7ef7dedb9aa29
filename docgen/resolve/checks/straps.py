"""Checks of straps: width against fittings, turned ends, tip."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from docgen.resolve.checks.check import Found, Subject
from docgen.tables.hardware import HOLE_BY_KIND_MM
from docgen.tables.sewing import (
    HOLE_EDGE_DIAMETERS,
    HOLES_BETWEEN_MM,
    LEAST_TIP_WIDTHS,
    LEAST_WIDTH_IN_FITTING,
)
from docgen.units import format_length


def find_wide_straps(subject: Subject) -> Iterator[Found]:
    hardware = {item.name: item for item in subject.build.hardware}
    for strap in subject.build.straps:
        for end in strap.ends:
            ring = hardware.get(end.around)
            if ring is not None and 0 < ring.inside_mm < strap.width_mm:
                what = (
                    f'the strap "{strap.name}" is {format_length(strap.width_mm, subject.show)} wide, and {ring.what} '
                    f"takes only {format_length(ring.inside_mm, subject.show)}"
                )
                yield strap.piece.place, what, "cut the strap narrower, or use a wider fitting", strap.name


def find_narrow_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap, with the widest fitting that it turns round."""
    hardware = {item.name: item for item in subject.build.hardware}
    for strap in subject.build.straps:
        rings = [hardware[end.around] for end in strap.ends if end.around in hardware]
        widest = max(rings, key=lambda ring: ring.inside_mm, default=None)
        if widest is not None and strap.width_mm < LEAST_WIDTH_IN_FITTING * widest.inside_mm - 1e-6:
            what = (
                f'the strap "{strap.name}" is {format_length(strap.width_mm, subject.show)} wide, less than half of '
                f"what {widest.what} takes, {format_length(widest.inside_mm, subject.show)}"
            )
            yield strap.piece.place, what, "cut the strap wider, or use a narrower fitting", strap.name


def find_riveted_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap: narrower than the hole of what closes its end, and the leather beside it."""
    hardware = {item.name: item for item in subject.build.hardware}
    for strap in subject.build.straps:
        items = [hardware[end.takes] for end in strap.ends if end.takes in hardware]
        hole_mm = max(
            (item.hole_mm or HOLE_BY_KIND_MM.get(item.kind, (0.0, 0.0))[0] for item in items), default=0.0
        )
        least_mm = 2 * HOLE_EDGE_DIAMETERS * hole_mm
        if strap.width_mm < least_mm - 1e-6:
            what = (
                f'the strap "{strap.name}" is {format_length(strap.width_mm, subject.show)} wide, and its ends are '
                f"closed through holes of {format_length(hole_mm, subject.show)}"
            )
            mend = f"cut it {format_length(least_mm, subject.show)} wide or wider"
            yield strap.piece.place, what, mend, strap.name


def find_close_holes(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        gaps = [far - near - strap.punch_mm for near, far in pairwise(strap.hole_tips_mm)]
        if gaps and min(gaps) < HOLES_BETWEEN_MM - 1e-6:
            left = format_length(min(gaps), subject.show)
            what = f'{left} of leather stay between the holes of the strap "{strap.name}"'
            mend = f"leave {format_length(HOLES_BETWEEN_MM, subject.show)} or more: a longer pitch, or a smaller punch"
            yield strap.piece.holes[0].place, what, mend, strap.name


def find_short_turns(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        for end in strap.ends:
            if end.shape == "turned" and end.back_mm < strap.width_mm:
                what = (
                    f'the strap "{strap.name}" turns back only {format_length(end.back_mm, subject.show)}, less than '
                    "its width"
                )
                mend = "turn back at least the width of the strap, so that stitches or rivets find room"
                yield strap.piece.place, what, mend, strap.name


def find_short_tips(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        least_mm = LEAST_TIP_WIDTHS * strap.width_mm
        if strap.hole_tips_mm and strap.hole_tips_mm[0] < least_mm - 1e-6:
            left_mm = strap.hole_tips_mm[0]
            what = f'the strap "{strap.name}" ends {format_length(left_mm, subject.show)} after its last hole'
            mend = (
                f"leave {format_length(least_mm, subject.show)} or more, so that the tip stays in its keeper"
            )
            yield strap.piece.holes[0].place, what, mend, strap.name


def find_bars_unknown(subject: Subject) -> Iterator[Found]:
    """Turned ends round hardware whose bar the spec does not give: it goes into the cut length."""
    hardware = {item.name: item for item in subject.build.hardware}
    for strap in subject.build.straps:
        for end in strap.ends:
            ring = hardware.get(end.around)
            if ring is not None and not ring.bar_mm:
                what = (
                    f'the strap "{strap.name}" turns round the {ring.what}, and the thickness of its bar is not given: '
                    "the strap is cut too short by half the way round it"
                )
                yield (
                    end.place,
                    what,
                    f'measure the bar and add it to [hardware.{ring.name}]: bar = "4 mm"',
                    strap.name,
                )
