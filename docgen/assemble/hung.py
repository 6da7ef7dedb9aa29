"""What earlier seams have sewn to the edges of a seam: layers under its needle that are no partner's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import Bench, Bundle
from docgen.assemble.goods import Goods, overlap_mm
from docgen.classes import dataclass
from docgen.geometry.nearest import Stretch, distance_on_run, stretch_by_edge
from docgen.resolve import Layer, SeamSide

Named = tuple[Copy, Layer]
Range = tuple[float, float, float]
NOTHING = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """Layers that hang on a side of a seam, each by itself, and their sum: at least, mostly, at most. Of `bits` each is
    from where to where along the side the same of them hang, as shares of it."""

    layers: tuple[Named, ...] = ()
    range_mm: Range = NOTHING
    bits: tuple[tuple[Stretch, tuple[Layer | None, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A bit of an edge along which the same hangs everywhere, and the sum of that; of all that hangs somewhere, in its
    order, what hangs here."""

    edge: str
    part: Stretch
    range_mm: Range = NOTHING
    here: tuple[Layer | None, ...] = ()

    @property
    def length_mm(self) -> float:
        return self.part[1] - self.part[0]


def find_hung(
    goods: Goods, bench: Bench, side: SeamSide, copy: Copy, taken: Iterable[Copy], edged: Collection[Copy]
) -> Hung:
    """What hangs on a side, and is neither partner nor lies there already. What hangs on a part of it only is nothing at
    its thinnest; the sums are of what hangs on one place. Partners that are `edged` are sewn by edges of theirs."""
    bundles = bench.bundles_at(copy, side.edges) if side.edges else []
    if not bundles:
        return Hung()
    known = set(taken)
    held = [_parts_of(goods, bundle, copy) for bundle in bundles]
    bits = _cut_up(goods.edge_parts(side), held)
    found: list[Named] = []
    for bundle, parts in zip(bundles, held, strict=True):
        is_there = [parts is None or overlap_mm(bit.part, parts.get(bit.edge, (0.0, 0.0))) > 0 for bit in bits]
        share = _share(bits, is_there)
        fresh = [
            (one, layer) for one, layer in list_borne(goods, bundle, copy, edged) if one not in known and share > 0
        ]
        known |= {one for one, _ in fresh}
        found += [(one, _thin_out(layer, share)) for one, layer in fresh]
        bits = [_add(bit, fresh, is_here=there) for bit, there in zip(bits, is_there, strict=True)]
    shares = _along(goods, side, bits)
    return Hung(
        layers=tuple(found),
        range_mm=_sum_up(bits),
        bits=tuple((share, bit.here) for share, bit in zip(shares, bits, strict=True)),
    )


def list_borne(goods: Goods, bundle: Bundle, copy: Copy, edged: Collection[Copy]) -> Iterator[Named]:
    """What a seam has sewn to a partner of a later one, without the tape of a zip that lies beside another of these: it is
    one layer, however many parts its seam goes through."""
    partners = [(at, one) for at, (one, _) in enumerate(bundle.layers) if one == copy or one in edged]
    for k, named in enumerate(bundle.layers):
        is_tape = bool(partners) and goods.is_zip(named[0].part)
        if not is_tape or min(partners, key=lambda partner: abs(partner[0] - k))[1] == copy:
            yield named


def _along(goods: Goods, side: SeamSide, bits: Sequence[Bit]) -> list[Stretch]:
    """From where to where along a side each bit lies, in the direction of its line, as shares of it: along a join from its
    start on."""
    if side.part in goods.straps:
        return [(0.0, 1.0) for _ in bits]
    outline = goods.sewn_outline(side.part)
    ends = [sorted(distance_on_run(outline, side.edges, bit.edge, along_mm) for along_mm in bit.part) for bit in bits]
    low, high = min(begin for begin, _ in ends), max(end for _, end in ends)
    shares = [((begin - low) / (high - low or 1.0), (end - low) / (high - low or 1.0)) for begin, end in ends]
    is_down = side.part in goods.joins and side.edges[0] == "left"
    return [(1 - end, 1 - begin) for begin, end in shares] if is_down else shares


def _parts_of(goods: Goods, bundle: Bundle, copy: Copy) -> dict[str, Stretch] | None:
    """What a bundle takes of each edge; None for all of a strap."""
    if copy.part in goods.straps:
        return None
    return dict(bundle.parts) or stretch_by_edge(goods.sewn_outline(copy.part), bundle.edges, None)


def _cut_up(own: dict[str, Stretch], held: Sequence[dict[str, Stretch] | None]) -> list[Bit]:
    """The edges of a side, cut wherever something begins or ends; one bit for a part that is no piece."""
    bits = []
    for edge, (begin, end) in own.items():
        ends = {at for parts in held if parts for at in parts.get(edge, ()) if begin < at < end}
        bits += [Bit(edge=edge, part=part) for part in pairwise(sorted({begin, end, *ends}))]
    return bits or [Bit(edge="", part=(0.0, 1.0))]


def _share(bits: Sequence[Bit], is_there: Sequence[bool]) -> float:
    there_mm = sum(bit.length_mm for bit, there in zip(bits, is_there, strict=True) if there)
    return there_mm / (sum(bit.length_mm for bit in bits) or 1.0)


def _add(bit: Bit, fresh: Sequence[Named], *, is_here: bool) -> Bit:
    if not is_here:
        return replace(bit, here=bit.here + (None,) * len(fresh))
    low, usual, high = bit.range_mm
    return replace(
        bit,
        here=(*bit.here, *(layer for _, layer in fresh)),
        range_mm=(
            low + sum(layer.least_mm for _, layer in fresh),
            usual + sum(layer.thickness_mm for _, layer in fresh),
            high + sum(layer.most_mm for _, layer in fresh),
        ),
    )


def _sum_up(bits: Sequence[Bit]) -> Range:
    shares: Counter[float] = Counter()
    for bit in bits:
        shares[round(bit.range_mm[1], 6)] += bit.length_mm  # type: ignore[assignment]
    usual_mm = max(shares, key=lambda mm: (shares[mm], -mm))
    return min(bit.range_mm[0] for bit in bits), usual_mm, max(bit.range_mm[2] for bit in bits)


def _thin_out(layer: Layer, share: float) -> Layer:
    if share > 1 - 1e-6:
        return layer
    return replace(
        layer, thickness_mm=layer.thickness_mm if share > 0.5 else 0.0, thinnest_mm=0.0, thickest_mm=layer.most_mm
    )
