"""Checks of straps: width against fittings, turned ends, tip."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.resolve.checks.check import Found, Subject
from docgen.tables.sewing import LEAST_TIP_WIDTHS
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
