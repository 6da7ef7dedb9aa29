"""Batches made by chance from a seed, the goods they are laid on, and what shapely finds wrong in a lay."""

import random
from collections.abc import Callable, Iterator
from itertools import pairwise

from shapely.geometry import LineString, Polygon

from docgen.lay import Hide, LaidSheet, Lay, Part, usual_hide
from docgen.lay.kinds import ANY, FIRM, GOOD, HIDDEN, SHOWN, STRAPS
from docgen.resolve import Goods
from docgen.tables.hides import HIDES

NEAR_MM2 = 1e-3


def make_part(number: int, outline: list[tuple[float, float]], count: int = 1, **more: object) -> Part:
    """A part of the cutting list with this outline in mm."""
    zone = {STRAPS: FIRM, SHOWN: GOOD, HIDDEN: ANY}[more.get("group", SHOWN)]  # type: ignore[index]
    given = {"title": f"part {number}", "area_mm2": Polygon(outline).area, "zone": zone, **more}
    return Part(number=number, outline=tuple(outline), count=count, **given)  # type: ignore[arg-type]


def box(width_mm: float, height_mm: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)]


def strap(number: int, width_mm: float, length_mm: float, count: int = 1) -> Part:
    return make_part(number, box(width_mm, length_mm), count, lies="up", group=STRAPS)


def goods_of(sold: str, faults: float = 0.0) -> Goods:
    """Hides of a kind as they usually are."""
    kind = HIDES[sold]
    least, most = kind.area_mm2
    return Goods(sold=sold, least_mm2=least, most_mm2=most, edge_mm=kind.edge_mm, firm_mm=kind.firm_mm, faults=faults)


def draw_batch(chance: random.Random) -> list[Part]:
    """Straps of some widths, and pieces of some shapes; hidden ones and pairs among them."""
    makes = chance.choice([1, 1, 2, 4])
    parts = []
    for number in range(1, chance.randint(1, 3) + 1):
        width = chance.choice([19.0, 22.0, 25.4, 32.0, 38.0])
        parts.append(strap(number, width, chance.randint(250, 850), chance.randint(1, 3) * makes))
    for number in range(len(parts) + 1, len(parts) + chance.randint(3, 8)):
        wide, high = chance.randint(40, 330), chance.randint(40, 380)
        shapes = (
            box(wide, high),
            [(0, 0), (wide, 0), (wide * 0.9, high * 0.8), (wide * 0.5, high), (wide * 0.1, high * 0.8)],
            [(0, 0), (wide, 0), (wide, high * 0.3), (wide * 0.4, high * 0.4), (wide * 0.3, high), (0, high)],
        )
        count = chance.choice([1, 2, 2]) * makes
        parts.append(
            make_part(
                number,
                chance.choice(shapes),
                count,
                is_pair=count % 2 == 0 and chance.random() < 0.4,
                lies=chance.choice(["", "", "up", "across"]),
                group=chance.choice([SHOWN, SHOWN, SHOWN, HIDDEN]),
            )
        )
    return parts


def draw_hides(chance: random.Random) -> tuple[Goods, Callable[[int], Hide]]:
    """Hides of some kind and share of faults, each of an area of its own."""
    goods = goods_of(chance.choice(list(HIDES)), chance.choice([0.0, 0.01, 0.03]))
    areas = [chance.uniform(goods.least_mm2, goods.most_mm2) for _ in range(60)]
    seed = chance.randint(0, 9999)
    return goods, lambda number: usual_hide(goods, number, areas[number], seed)


def find_wrongs(lay: Lay, parts: list[Part]) -> Iterator[str]:
    """All that shapely finds wrong: outside, on a fault, in the belly, not firm, too near, mixed rows, lost pieces."""
    known = {part.number: part for part in parts}
    counts = dict(lay.missing)
    for sheet in lay.sheets:
        hide = Polygon(sheet.hide.outline)
        placed = [(known[one.number], one, Polygon(one.outline)) for one in sheet.placed]
        for part, one, shape in placed:
            counts[part.number] = counts.get(part.number, 0) + 1
            yield from _wrongs_of(part, shape, hide, sheet.hide, lay.trim_mm)
            mirror = -1 if one.is_mirrored else 1
            turned = _turn_of(part, one.outline, mirror)
            if turned is None or turned not in {"up": (0, 180), "across": (90, 270), "nap": (0,)}.get(
                part.lies, range(360)
            ):
                yield f"{part.title} lies turned by {turned}"
        for k, (part, _, shape) in enumerate(placed):
            for other, _, beside in placed[:k]:
                if shape.distance(beside) < lay.gap_mm - 1e-6:
                    yield f"{part.title} and {other.title} lie {shape.distance(beside):.3f} mm apart"
        if sheet.hide.is_leather:
            yield from _mixed_rows(placed)
            yield from _across_struck(sheet, placed)
    if counts != {part.number: part.count for part in parts}:
        yield f"counted {counts}"


def _wrongs_of(part: Part, shape: Polygon, hide: Polygon, kind: Hide, trim_mm: float) -> Iterator[str]:
    if abs(shape.area - Polygon(part.outline).area) > NEAR_MM2:
        yield f"{part.title} has another area"
    if shape.difference(hide).area > NEAR_MM2:
        yield f"{part.title} lies outside"
    if any(shape.intersection(Polygon(fault)).area > NEAR_MM2 for fault in kind.faults):
        yield f"{part.title} lies on a fault"
    if part.group != HIDDEN and any(shape.intersection(Polygon(poor)).area > NEAR_MM2 for poor in kind.poor):
        yield f"{part.title} lies in the belly"
    if part.group == STRAPS and kind.firm and shape.difference(Polygon(kind.firm[0])).area > NEAR_MM2:
        yield f"{part.title} is not firm"
    if kind.has_edge and shape.bounds[0] < trim_mm - 1e-6:
        yield f"{part.title} lies on what is trimmed"


def _turn_of(part: Part, outline: tuple[tuple[float, float], ...], mirror: int) -> int | None:
    """By which quarter turn the outline came to lie so; None where it was bent."""
    drawn = [(mirror * x, y) for x, y in part.outline]
    drawn = drawn[::-1] if mirror < 0 else drawn
    legs = [(x - drawn[0][0], y - drawn[0][1]) for x, y in drawn]
    found = [(x - outline[0][0], y - outline[0][1]) for x, y in outline]
    for turn, (cos, sin) in {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}.items():
        if all(
            abs(x * cos - y * sin - u) < 1e-6 and abs(x * sin + y * cos - v) < 1e-6
            for (x, y), (u, v) in zip(legs, found, strict=True)
        ):
            return turn
    return None


def _across_struck(sheet: LaidSheet, placed: list[tuple[Part, object, Polygon]]) -> Iterator[str]:
    """A hide without a straight edge has one struck where its rows begin: as long as they are, and through no piece."""
    lefts = [shape.bounds[0] for part, _, shape in placed if part.group == STRAPS]
    if sheet.hide.has_edge or not lefts:
        if sheet.struck:
            yield "an edge is struck where there is one, or nothing that asks for it"
        return
    (x, low), (_, high) = sheet.struck
    if abs(x - min(lefts)) > 1e-6:
        yield f"the edge is struck at {x:.1f}, and rows begin at {min(lefts):.1f}"
    edge = LineString([(x, low), (x, high)])
    for part, _, shape in placed:
        if shape.buffer(-1e-6).intersects(edge):
            yield f"{part.title} lies across the struck edge"


def _mixed_rows(placed: list[tuple[Part, object, Polygon]]) -> Iterator[str]:
    """Rows of straps that lie beside each other must not overlap across: each is one strip of one width."""
    strips = sorted({shape.bounds[0::2] for part, _, shape in placed if part.group == STRAPS})
    for (left, right), (after, end) in pairwise(strips):
        if after < right - 1e-6:
            yield f"rows from {left:.1f} to {right:.1f} and from {after:.1f} to {end:.1f} are mixed"
