"""Ends of straps: shaped, or turned back round a bar and closed. mm."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from docgen.read import StrapEndSpec, StrapSkiveSpec, StrapSpec
from docgen.resolve.goods.values import Hardware, Material
from docgen.resolve.straps.strap import Ends, StrapEnd, Taper, Thinned
from docgen.resolve.straps.strap_outline import SQUARE
from docgen.resolve.values import Reader, names, where, words
from docgen.tables.defaults import CLOSING_NUMBER
from docgen.tables.hardware import HOLE_BY_KIND_MM
from docgen.tables.sewing import SLOT_OVER_TONGUE_MM
from docgen.tables.sizes import SKIVE_WIDTH
from docgen.written.units.telling import format_mm

TURNED_KEYS = ("back", "loop", "around", "keeper", "slot", "takes", "number", "sewn")


def bar_wrap_mm(bar_mm: float, thickness_mm: float) -> float:
    """Length along the middle of a strap that goes half round a bar: pi (d + t) / 2 (plane geometry)."""
    return math.pi * (bar_mm + thickness_mm) / 2


def slot_long_mm(bar_mm: float, tongue_mm: float, thickness_mm: float) -> float:
    """Length of the slot for the tongue of a buckle, along the middle of the strap.

    The tongue is bent to an eye round the bar, bar + 2 tongue across, and swings half round with it: the strap is open for
    half of the way round that eye, pi (d + 2 w + t) / 2 (plane geometry). For bars to 5 mm and tongues to 4 mm this comes
    to the usual 20 to 28 mm; that slots are so long is common practice, no published source.
    """
    return bar_wrap_mm(bar_mm + 2 * tongue_mm, thickness_mm)


def read_ends(
    reader: Reader, spec: StrapSpec, material: Material, hardware: Mapping[str, Hardware], width_mm: float
) -> Ends | None:
    """Both ends of a strap; None when one is wrong (noted)."""
    if not spec.ends:
        if "ends" in spec.wrong:
            return None
        return SQUARE, SQUARE
    read = [_read_end(reader, spec, end, material, hardware) for end in spec.ends]
    ends = [
        end and _add_taper(reader, spec, written, end, width_mm) for end, written in zip(read, spec.ends, strict=True)
    ]
    if len(ends) != 2 or ends[0] is None or ends[1] is None:
        return None
    return ends[0], ends[1]


def _read_end(
    reader: Reader, spec: StrapSpec, end: StrapEndSpec, material: Material, hardware: Mapping[str, Hardware]
) -> StrapEnd | None:
    if end.shape is None:
        return None
    skive = _read_skive(reader, end.skive, material) if end.skive else None
    if end.skive is not None and skive is None:
        return None
    if end.shape.value == "turned":
        return _read_turned(reader, spec, end, skive, material, hardware)
    for key in TURNED_KEYS:
        place = where(getattr(end, key))
        if place is not None:
            what = f'"{key}" belongs to a turned end, and this one is {end.shape.value}'
            reader.error(place, what, 'write shape = "turned", or leave it out')
    return StrapEnd(shape=end.shape.value, back_mm=0.0, around="", takes_mm=0.0, skive=skive, place=end.place)


def _add_taper(reader: Reader, strap: StrapSpec, spec: StrapEndSpec, end: StrapEnd, width_mm: float) -> StrapEnd | None:
    """The end with its own width; None when that is wrong (noted)."""
    is_whole = "ends" not in strap.wrong
    if spec.width is None:
        extra = spec.taper or spec.straight
        if extra is not None and is_whole:
            reader.error(extra.place, "this end does not say to which width it tapers", 'add width = "3/4 in"')
        return None if extra else end
    own_mm, long_mm = reader.length(spec.width), reader.length(spec.taper)
    straight_mm = reader.length(spec.straight, zero=True) if spec.straight else end.back_mm + end.apart_mm
    if spec.taper is None and is_whole:
        what = "this end has a width of its own, and does not say over how long a way it comes to the strap's"
        reader.error(spec.width.place, what, 'add taper = "4 in"')
    if own_mm is None or long_mm is None or straight_mm is None:
        return None
    if own_mm >= width_mm:
        what = f"this end is {format_mm(own_mm)} wide, and the strap {format_mm(width_mm)}"
        reader.error(spec.width.place, what, "width of the strap is that where it is widest; leave it out at this end")
        return None
    return replace(end, taper=Taper(width_mm=own_mm, straight_mm=end.takes_mm + straight_mm, long_mm=long_mm))


def _read_skive(reader: Reader, spec: StrapSkiveSpec, material: Material) -> Thinned | None:
    over_mm, to_mm = reader.size(spec.over, SKIVE_WIDTH), reader.thickness(spec.to)
    if over_mm is None or to_mm is None or spec.to is None:
        return None
    if to_mm > material.thickness_mm:
        what = f"this end is to be skived to {format_mm(to_mm)}, and is {format_mm(material.thickness_mm)} thick"
        mend = f'write the thickness that is left, or look at that of "{material.name}", {material.thickness_words}'
        reader.error(spec.to.place, what, mend)
        return None
    return Thinned(over_mm=over_mm, to_mm=to_mm, to_words=spec.to.value, place=spec.place)


def _read_turned(
    reader: Reader,
    spec: StrapSpec,
    end: StrapEndSpec,
    skive: Thinned | None,
    material: Material,
    hardware: Mapping[str, Hardware],
) -> StrapEnd | None:
    assert end.shape is not None
    if end.number is not None and end.takes is None:
        what = '"number" counts hardware, and none is named'
        reader.error(end.number.place, what, "add takes = the name of hardware")
    back_mm = reader.length(end.back)
    if end.back is None and "ends" not in spec.wrong:
        is_holed = spec.holes is not None and end is spec.ends[-1] and not end.around
        pointed = 'write shape = "pointed" where the holes of this strap lie here, or ' if is_holed else ""
        what = "a turned end does not say how far it lies back"
        reader.error(end.shape.place, what, f'{pointed}add back = "2 in"')
    loop_mm = 0.0 if end.loop is None else reader.length(end.loop, zero=True)
    rings = [hardware[name] for name in names(end.around) if name in hardware]
    is_whole = len(rings) == len(end.around) and "ends" not in spec.wrong
    # A skive that reaches into the bend is taken to thin all of it.
    bent_mm = skive.to_mm if skive and skive.over_mm > (back_mm or 0.0) else material.thickness_mm
    slot = _read_slot(reader, end, rings, bent_mm) if is_whole else None
    if back_mm is None or loop_mm is None or slot is None:
        return None
    apart_mm = loop_mm + sum(ring.bar_mm for ring in rings[1:])
    return StrapEnd(
        shape="turned",
        back_mm=back_mm,
        around=rings[0].name if rings else "",
        further=tuple(ring.name for ring in rings[1:]),
        loop_mm=loop_mm,
        apart_mm=apart_mm,
        takes_mm=back_mm + apart_mm + bar_wrap_mm(rings[0].bar_mm if rings else 0.0, bent_mm),
        keeper=words(end.keeper),
        slot_long_mm=slot[0],
        slot_wide_mm=slot[1],
        takes=words(end.takes),
        number=(end.number.value if end.number else CLOSING_NUMBER) if end.takes else 0,
        sewn=words(end.sewn),
        skive=skive,
        place=end.place,
    )


def _read_slot(
    reader: Reader, end: StrapEndSpec, rings: Sequence[Hardware], bent_mm: float
) -> tuple[float, float] | None:
    """Length and width of the slot for a tongue in leather so thick at the bend, 0 and 0 where there is none; None when
    wrong (noted)."""
    inner = next((ring for ring in rings[1:] if ring.tongue_mm), None)
    if inner is not None:
        what = f"the tongue of the {inner.what} comes through at the fold, and something else lies there"
        reader.error(
            end.around[0].place, what, f'name "{inner.name}" first: what is named first lies at the fold itself'
        )
        return None
    tongue_mm = rings[0].tongue_mm if rings else 0.0
    long_mm = reader.length(end.slot)
    if end.slot is None:
        usual_mm = slot_long_mm(rings[0].bar_mm, tongue_mm, bent_mm) if tongue_mm else 0.0
        return usual_mm, tongue_mm + SLOT_OVER_TONGUE_MM if tongue_mm else 0.0
    if not tongue_mm:
        what = "a slot is as wide as its tongue asks for, and what this end goes round has none"
        mend = (
            f'add tongue = "4 mm" to [hardware.{rings[0].name}]'
            if rings and rings[0].kind not in HOLE_BY_KIND_MM
            else "name a buckle with a tongue in around"
        )
        reader.error(end.slot.place, what, f"{mend}, or put an oblong hole into punches")
        return None
    wide_mm = tongue_mm + SLOT_OVER_TONGUE_MM
    if long_mm is not None and long_mm <= wide_mm:
        what = f"a slot {format_mm(long_mm)} long is no longer than its width of {format_mm(wide_mm)}"
        reader.error(end.slot.place, what, "make it longer, or leave it out: then it is reckoned")
        return None
    return None if long_mm is None else (long_mm, wide_mm)
