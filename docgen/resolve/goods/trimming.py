"""Goods by length as the spec gives them: zips, webbing, elastic, cord, binding, bead."""

from docgen.read import Lengths, Text, TrimmingSpec
from docgen.resolve.goods.amounts import parse_run_weight
from docgen.resolve.goods.prices import TRIMMING_PER, read_price
from docgen.resolve.goods.values import Trimming
from docgen.resolve.values import Reader, words
from docgen.tables.defaults import CUT, STOP_MM
from docgen.tables.trimmings import LEAST_RELAXED, MOST_SPARE, SPARE, TRIMMING_KINDS
from docgen.written.units.lengths import parse_percent
from docgen.written.units.telling import format_percent


def read_trimmings(reader: Reader, specs: tuple[TrimmingSpec, ...]) -> dict[str, Trimming]:
    """Goods by length by name, nothing cut of them yet; those that cannot be read are left out (noted)."""
    found = {spec.name: _read_trimming(reader, spec) for spec in specs}
    return {name: item for name, item in found.items() if item is not None}


def _read_trimming(reader: Reader, spec: TrimmingSpec) -> Trimming | None:
    width_mm, thickness_mm = reader.length(spec.width), reader.length(spec.thickness)
    ends_mm, stops_mm = reader.length(spec.ends, zero=True), reader.length(spec.stops, zero=True)
    price = read_price(reader, spec.price, TRIMMING_PER)
    relaxed = _read_share(reader, spec.relaxed, 1.0, (LEAST_RELAXED, 1.0))
    spare = _read_share(reader, spec.spare, SPARE, (0.0, MOST_SPARE))
    written_mm, ready_mm = reader.length(spec.length), _read_ready(reader, spec.ready)
    if spec.what is None or spec.kind is None or thickness_mm is None:
        return None
    _check_kind(reader, spec)
    kind = TRIMMING_KINDS[spec.kind.value]
    return Trimming(
        name=spec.name,
        what=spec.what.value,
        kind=spec.kind.value,
        width_mm=width_mm or 0.0,
        thickness_mm=thickness_mm,
        layers=kind.layers if spec.layers is None else spec.layers.value,
        written_mm=written_mm or 0.0,
        number=spec.cut.value if spec.cut else CUT,
        ends_mm=kind.ends_mm if ends_mm is None else ends_mm,
        stops_mm=0.0 if spec.kind.value != "zip" else STOP_MM if stops_mm is None else stops_mm,
        relaxed=relaxed,
        spare=spare,
        weight_g_mm=reader.amount(spec.weight, parse_run_weight),
        ready_mm=ready_mm,
        price=price,
        finish=words(spec.finish),
        note=words(spec.note),
        place=spec.place,
    )


def _read_share(reader: Reader, value: Text, default: float, within: tuple[float, float]) -> float:
    """A share within limits; the default where none is written, or none that can be meant (noted)."""
    share = reader.read(value, parse_percent)
    if value is None or share is None:
        return default
    least, most = within
    if not least <= share <= most:
        what = (
            f"this comes to {format_percent(share)}, and {format_percent(least)} to {format_percent(most)} can be meant"
        )
        reader.error(value.place, what, "look at the number")
        return default
    return share


def _read_ready(reader: Reader, values: Lengths) -> tuple[float, ...]:
    return tuple(sorted(mm for mm in (reader.length(value) for value in values) if mm is not None))


def _check_kind(reader: Reader, spec: TrimmingSpec) -> None:
    """Keys that belong to another kind, and two that say the same length."""
    kind = words(spec.kind)
    for value, key, owner in ((spec.stops, "stops", "zip"), (spec.relaxed, "relaxed", "elastic")):
        if value is not None and kind != owner:
            reader.error(
                value.place, f'{key} belongs to {_an(owner)}, and "{spec.name}" is {_an(kind)}', f"leave {key} out"
            )
    if spec.length is not None and spec.along:
        what = f'"{spec.name}" has a length and edges that it lies along'
        reader.error(spec.length.place, what, "leave one of them out: the edges give the length")
    if spec.cut is not None and spec.length is None and "length" not in spec.wrong:
        what = f'how many are cut of "{spec.name}" follows from where it is sewn'
        reader.error(spec.cut.place, what, "leave cut out, or write length = ... beside it")


def _an(kind: str) -> str:
    name = kind.replace("-", " ")
    return {"zip": "a zip", "cord": "a cord", "piping-cord": "a piping cord", "bead": "a bead"}.get(kind, name)
