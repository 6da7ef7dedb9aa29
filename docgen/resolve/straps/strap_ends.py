"""Ends of straps: shaped, or turned back round a bar and closed. mm."""

import math
from collections.abc import Mapping

from docgen.read import StrapEndSpec, StrapSpec
from docgen.resolve.goods.values import Hardware, Material
from docgen.resolve.straps.strap import Ends, StrapEnd
from docgen.resolve.values import Reader, where, words
from docgen.tables.defaults import CLOSING_NUMBER


def bar_wrap_mm(bar_mm: float, thickness_mm: float) -> float:
    """Length along the middle of a strap that goes half round a bar: pi (d + t) / 2 (plane geometry)."""
    return math.pi * (bar_mm + thickness_mm) / 2


def read_ends(reader: Reader, spec: StrapSpec, material: Material, hardware: Mapping[str, Hardware]) -> Ends | None:
    if not spec.ends:
        if "ends" in spec.wrong:
            return None
        square = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)
        return square, square
    ends = [_read_end(reader, spec, end, material, hardware) for end in spec.ends]
    if len(ends) != 2 or ends[0] is None or ends[1] is None:
        return None
    return ends[0], ends[1]


def _read_end(
    reader: Reader, spec: StrapSpec, end: StrapEndSpec, material: Material, hardware: Mapping[str, Hardware]
) -> StrapEnd | None:
    if end.shape is None:
        return None
    shape = end.shape.value
    if shape != "turned":
        for key in ("back", "around", "takes", "number"):
            place = where(getattr(end, key))
            if place is not None:
                what = f'"{key}" belongs to a turned end, and this one is {shape}'
                reader.error(place, what, 'write shape = "turned", or leave it out')
        return StrapEnd(shape=shape, back_mm=0.0, around="", takes_mm=0.0)
    if end.number is not None and end.takes is None:
        what = '"number" counts hardware, and none is named'
        reader.error(end.number.place, what, "add takes = the name of hardware")
    back_mm = reader.length(end.back)
    if end.back is None and "ends" not in spec.wrong:
        reader.error(end.shape.place, "a turned end does not say how far it lies back", 'add back = "2 in"')
    if back_mm is None:
        return None
    ring = hardware.get(words(end.around))
    wrap_mm = bar_wrap_mm(ring.bar_mm if ring else 0.0, material.thickness_mm)
    number = (end.number.value if end.number else CLOSING_NUMBER) if end.takes else 0
    return StrapEnd(
        shape=shape,
        back_mm=back_mm,
        around=words(end.around),
        takes_mm=back_mm + wrap_mm,
        takes=words(end.takes),
        number=number,
        place=end.place,
    )
