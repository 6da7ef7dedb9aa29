"""How a material is sold: what the spec says, else the shop's own file by the name of the goods, else what is usual."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from docgen.read import GOODS_KEYS, GoodsSpec, MaterialSpec, ShopFile, Spec
from docgen.resolve.goods.amounts import parse_areas
from docgen.resolve.goods.prices import plain_name
from docgen.resolve.goods.values import Goods
from docgen.resolve.values import Reader, flag, where, words
from docgen.tables import defaults
from docgen.tables.hides import HIDES, LEAST_MEASURED, MEASURED_EVERY_MM, PANEL, ROLL
from docgen.written.units.telling import format_mm

ONLY_FOR = {
    "area": ("hides", tuple(HIDES)),
    "edge": ("hides", tuple(HIDES)),
    "firm": ("hides", tuple(HIDES)),
    "faults": ("hides", tuple(HIDES)),
    "measured": ("hides", tuple(HIDES)),
    "size": ("panels", (PANEL,)),
    "width": ("goods from the roll", (ROLL,)),
}


def add_shop_goods(spec: Spec, shop: ShopFile | None) -> Spec:
    """The spec with what the shop's file says of its goods, by their name, title or title without colour."""
    if shop is None or not shop.goods:
        return spec
    return replace(spec, materials=tuple(_add(item, shop.goods) for item in spec.materials))


def _add(material: MaterialSpec, goods: Iterable[GoodsSpec]) -> MaterialSpec:
    """What a material leaves out, unless it is sold in another way."""
    names = {plain_name(name) for name in (material.name, words(material.title))}
    found = next((item for item in goods if plain_name(item.name) in names), None)
    sold = words(material.sold, ROLL if material.width else "")
    if found is None or (sold and words(found.sold, ROLL if found.width else sold) != sold):
        return material
    missing = {key: getattr(found, key) for key in ("sold", *GOODS_KEYS) if not getattr(material, key)}
    if material.measured:
        missing["drawn"] = None
    return replace(material, **missing, wrong=(*material.wrong, *found.wrong))


def read_goods(reader: Reader, spec: GoodsSpec, kind: str) -> Goods:
    """How goods of a kind are sold; what cannot be meant is noted."""
    sold = words(spec.sold, ROLL if spec.width else "")
    area = reader.read(spec.area, parse_areas)
    size_mm = tuple(mm for value in spec.size if (mm := reader.length(value)) is not None)
    width_mm, has_nap = reader.length(spec.width), flag(spec.nap, defaults.HAS_NAP)
    edge_mm, firm_mm = reader.length(spec.edge), reader.length(spec.firm)
    faults = reader.percent(spec.faults, spec.drawn.faults_share if spec.drawn else 0.0)
    _refuse(reader, spec, sold, kind)
    if sold not in HIDES:
        width, length = size_mm if len(size_mm) == 2 else (0.0, 0.0)
        sold = "" if sold == PANEL and not size_mm else sold
        return Goods(sold=sold, width_mm=width_mm or width, length_mm=length, has_nap=has_nap)
    usual = HIDES[sold]
    measured_mm = _read_measured(reader, spec)
    if measured_mm:
        by_tape_mm2 = (sum(measured_mm) - (measured_mm[0] + measured_mm[-1]) / 2) * MEASURED_EVERY_MM
        area = area or (by_tape_mm2, by_tape_mm2)
        edge_mm = edge_mm or (len(measured_mm) - 1) * MEASURED_EVERY_MM
    if spec.drawn:
        area, edge_mm = area or (spec.drawn.area_mm2,) * 2, edge_mm or spec.drawn.back_mm
        firm_mm = firm_mm or spec.drawn.firm_mm(has_edge=usual.has_edge)
    least, most = area or usual.area_mm2
    scale = usual.scale((least + most) / 2)
    return Goods(
        sold=sold,
        least_mm2=least,
        most_mm2=most,
        edge_mm=edge_mm or usual.edge_mm * scale,
        firm_mm=firm_mm or usual.firm_mm * scale,
        faults=faults,
        measured_mm=measured_mm,
        drawn=spec.drawn,
        has_nap=has_nap,
    )


def _read_measured(reader: Reader, spec: GoodsSpec) -> tuple[float, ...]:
    """The widths of a hide by the tape, in mm; none where too few can be read (noted)."""
    found = tuple(mm for value in spec.measured if (mm := reader.length(value, zero=True)) is not None)
    if len(found) == len(spec.measured) and 0 < len(found) < LEAST_MEASURED:
        every = format_mm(MEASURED_EVERY_MM)
        mend = f"measure across at the tail and every {every} up to the neck, {LEAST_MEASURED} times or more"
        reader.error(spec.measured[0].place, "so few widths tell no outline", mend)
        return ()
    return found if len(found) == len(spec.measured) else ()


def _refuse(reader: Reader, spec: GoodsSpec, sold: str, kind: str) -> None:
    """Note keys that say nothing of goods sold so, and those without which they are not known."""
    if spec.sold is not None and sold in HIDES and kind not in ("leather", ""):
        what = f"{kind} is not sold as a {HIDES[sold].one}"
        reader.error(spec.sold.place, what, f'write sold = "{ROLL}" or "{PANEL}", or make it leather')
        return
    for key, needs in ((PANEL, "size"), (ROLL, "width")):
        if spec.sold is not None and sold == key and not getattr(spec, needs) and needs not in spec.wrong:
            like = 'size = ["24 in", "36 in"]' if key == PANEL else 'width = "54 in"'
            reader.error(spec.sold.place, f'"{needs}" is missing of goods sold as a {key}', f"add {like}")
    for key, what, mend in () if "sold" in spec.wrong else _out_of_place(spec, sold):
        place = where(getattr(spec, key))
        if place is not None:
            reader.error(place, what, mend)


def _out_of_place(spec: GoodsSpec, sold: str) -> Iterator[tuple[str, str, str]]:
    for key, (goods, kinds) in ONLY_FOR.items():
        if getattr(spec, key) and sold not in kinds:
            told = (
                f"these are sold as a {HIDES[sold].one if sold in HIDES else sold}"
                if sold
                else "it is not said how these are"
            )
            mend = f"leave {key} out, or say how they are sold: sold = " + " or ".join(f'"{name}"' for name in kinds)
            yield key, f"{key} is said of {goods}, and {told}", mend
