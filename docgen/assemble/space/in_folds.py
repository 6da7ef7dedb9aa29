"""What lies in the fold of a strap's turned end, as it is seen from above: where it is, and how large it is drawn."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.assembly import Copy
from docgen.assemble.space.holds import make_metal
from docgen.assemble.space.metal import USUAL_BAR_MM
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.resolve import Build, Hardware, Strap, StrapEnd, by_name

BESIDE_MM = 2.0  # between one thing and the next in one fold: our choice
BEYOND, FAR = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class InFold:
    """One thing in the fold of an end by its title: its lines, in mm across from the middle of the strap and out from the
    fold; what `is_over` goes round the strap behind that, and is seen on it."""

    title: str
    outlines: tuple[tuple[Point, ...], ...]
    is_over: bool


def behind_mm(build: Build, end: StrapEnd, name: str) -> float:
    """How far from the fold what lies deeper in it lies, as close as all comes: one bar beside the other, and a keeper
    beside the first, so that the tip finds it right behind the buckle (common practice, no published source); but no
    deeper than the end lies back. Its bow goes round the outer layer."""
    hardware, keeper = by_name(build.hardware), by_name(build.straps).get(end.keeper)
    before = end.rings[: end.rings.index(name)]
    bars_mm = [_bar_mm(hardware[one]) for one in (*before, name) if one in hardware]
    kept_mm = keeper.width_mm + BESIDE_MM if keeper else 0.0
    far_mm = bars_mm[0] / 2 + kept_mm + sum(bars_mm[1:-1]) + bars_mm[-1] / 2 + BESIDE_MM * len(before)
    return min(far_mm, end.back_mm - bars_mm[-1] / 2)


def list_in_fold(build: Build, strap: Strap, which: int) -> Iterator[InFold]:
    """What lies in the fold of an end, first (0) or second (1): what it turns round, what lies behind that, a keeper."""
    hardware, end = by_name(build.hardware), strap.ends[which]
    for name in (name for name in end.rings if name in hardware):
        item = hardware[name]
        wide_mm = item.inside_mm or strap.end_width_mm(which)
        if name == end.rings[0]:
            metal = make_metal(item, Copy(strap.name), wide_mm, at=(0.0, 0.0, 0.0), axis=BEYOND, way=FAR)
            rings = tuple(tuple(Point(x, y) for x, y, _ in ring) for ring in metal.outlines)
            yield InFold(title=_name_of(item), outlines=rings, is_over=False)
        else:
            bar_mm, far_mm = _bar_mm(item), behind_mm(build, end, name)
            yield InFold(
                title=_name_of(item),
                outlines=(_across(wide_mm + 2 * bar_mm, far_mm - bar_mm / 2, bar_mm),),
                is_over=True,
            )
    keeper = by_name(build.straps).get(end.keeper)
    if keeper is not None:
        first = next((_bar_mm(hardware[name]) for name in end.rings if name in hardware), 0.0)
        yield keeper_on(keeper, strap, which, first / 2 + BESIDE_MM)


def keeper_on(keeper: Strap, strap: Strap, which: int, from_mm: float) -> InFold:
    """A keeper round a strap, so far from the fold of that end."""
    wide_mm = strap.end_width_mm(which) + 2 * keeper.thickness_mm
    return InFold(title=keeper.title, outlines=(_across(wide_mm, from_mm, keeper.width_mm),), is_over=True)


def _name_of(item: Hardware) -> str:
    """What it is, without its size."""
    return item.what.partition(", ")[0]


def _bar_mm(item: Hardware) -> float:
    return item.bar_mm or USUAL_BAR_MM


def _across(wide_mm: float, from_mm: float, long_mm: float) -> tuple[Point, ...]:
    """A rectangle across a strap, so far from the fold on."""
    half_mm = wide_mm / 2
    return (
        Point(-half_mm, -from_mm),
        Point(half_mm, -from_mm),
        Point(half_mm, -from_mm - long_mm),
        Point(-half_mm, -from_mm - long_mm),
    )
