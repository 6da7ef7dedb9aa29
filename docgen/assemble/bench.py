"""The bench: what hangs together so far, what lies on what, and what has been sewn to each edge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from itertools import combinations

from docgen.assemble.assembly import Copy
from docgen.assemble.goods import meets
from docgen.classes import dataclass
from docgen.geometry.nearest import Stretch
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import Transform, transform_point, undone
from docgen.resolve import Layer

EVERY = 0  # the number of a copy that stands for all of a part: strips of a join share their template


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """A part that lies on another: in `outline`, moved so from its own place, or all over (None). A lining (`is_cover`)
    lies behind it, from `inset_mm` in from its edge on; what `is_inside` lies on the side that does not show."""

    copy: Copy
    outline: Path | None = None
    move: Transform = Transform()
    inset_mm: float = 0.0
    is_cover: bool = False
    is_inside: bool = False

    def to_own(self, at: Point) -> Point:
        """A point of the part beneath, on the part that lies on it."""
        return transform_point(at, undone(self.move))


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """What was sewn along edges of a copy: layers with the copy of each. Of a seam that is turned right side out its
    allowances, `turned_mm` wide, lie back from it; 0 of any other. Of a lapped one its partners lie on each other for
    `lap_mm` from their edges. Goods by length that bind an edge lie `bound_mm` in from it, the tape of a zip `taped_mm`.
    `parts` is what it takes of each edge, empty where it takes them whole."""

    edges: tuple[str, ...]
    layers: tuple[tuple[Copy, Layer], ...]
    turned_mm: float = 0.0
    lap_mm: float = 0.0
    bound_mm: float = 0.0
    taped_mm: float = 0.0
    parts: Mapping[str, Stretch] = field(default_factory=dict)

    @property
    def wide_mm(self) -> float:
        """How far in from an edge its layers lie where it is lapped, bound or sewn to a zip; 0 of any other."""
        return self.lap_mm or self.bound_mm or self.taped_mm

    @property
    def band_mm(self) -> Stretch:
        """From where to where, in from an edge, its layers lie on a part besides at the seam itself."""
        wide_mm = self.wide_mm
        return (-1.0, wide_mm) if wide_mm else (self.turned_mm, 2 * self.turned_mm)


class Bench:
    """State of the work while the events are gone through; it does not leave the phase."""

    def __init__(self) -> None:
        self._lying: dict[Copy, list[Lying]] = {}
        self._tapes: dict[str, list[Lying]] = {}
        self._bundles: dict[Copy, list[Bundle]] = {}
        self._uses: Counter[tuple[Copy, str]] = Counter()
        self._head: dict[Copy, Copy] = {}
        self._pairs: set[frozenset[Copy]] = set()
        self.bonds: list[
            tuple[str, frozenset[Copy]]
        ] = []  # what each seam holds together, and what glue or a post does
        self.hinges: dict[tuple[Copy, Copy], tuple[Path, ...]] = {}  # as `hanging` finds them between two bonds

    def lay(self, host: Copy, lying: Lying) -> None:
        """From now on a part lies on the host."""
        if lying not in self.lying_on(host):
            self._lying.setdefault(host, []).append(lying)
        self.unite((host, lying.copy))
        if not self.is_sewn(host, lying.copy):
            self._hold("", (host, lying.copy))

    def lying_on(self, host: Copy) -> list[Lying]:
        """What lies on a copy, in the order in which it came there; of one that stands for all what lies on the first."""
        other = Copy(host.part, EVERY if host.number else 1)
        there = [*self._lying.get(host, ()), *self._lying.get(other, ())]
        return [*there, *self.tapes_on(host.part)]

    def tape(self, part: str, lying: Lying) -> None:
        """From now on goods by length lie on all copies of a piece."""
        self._tapes.setdefault(part, []).append(lying)

    def tapes_on(self, part: str) -> list[Lying]:
        """The goods by length that lie on a piece."""
        return self._tapes.get(part, [])

    def all_lying(self) -> Iterator[tuple[Copy, Lying]]:
        """Everything that lies on something, host by host."""
        yield from ((host, lying) for host, found in self._lying.items() for lying in found)

    def under(self, copy: Copy) -> Iterator[tuple[Copy, Lying]]:
        """What a copy lies on, and how."""
        for host, found in self._lying.items():
            yield from ((host, lying) for lying in found if lying.copy == copy)

    def bind(self, copy: Copy, bundle: Bundle) -> None:
        """From now on these layers hang on edges of a copy."""
        self._bundles.setdefault(copy, []).append(bundle)
        self._uses.update((copy, edge) for edge in bundle.edges)

    def bundles_at(self, copy: Copy, edges: Sequence[str]) -> list[Bundle]:
        """What hangs on any of these edges."""
        return [bundle for bundle in self._bundles.get(copy, ()) if meets(bundle.edges, edges)]

    def wide_at(self, copy: Copy, taken: Collection[Copy]) -> list[Bundle]:
        """Seams of a copy that are lapped, bound, sewn to a zip, or turned; not turned ones with one of the copies taken,
        which is counted, or still lies face to face with it."""
        return [
            bundle
            for bundle in self._bundles.get(copy, ())
            if bundle.wide_mm or (bundle.turned_mm and all(one == copy or one not in taken for one, _ in bundle.layers))
        ]

    def lies_at_both(self, over: Copy, one: Copy, other: Copy) -> bool:
        """Whether a copy is lapped to two others by edges of its own that are not the same, as a base is to two panels."""
        mine, its = ({*self._laps(over, under)} for under in (one, other))
        return bool(mine and its) and mine.isdisjoint(its)

    def _laps(self, over: Copy, under: Copy) -> Iterator[tuple[str, Stretch]]:
        """The edges of a copy by which lapped seams sew it to another, each with what of it they take."""
        for bundle in self._bundles.get(over, ()):
            if bundle.lap_mm and any(copy == under for copy, _ in bundle.layers):
                yield from ((edge, bundle.parts.get(edge, (0.0, 0.0))) for edge in bundle.edges)

    def covers(self, copy: Copy) -> bool:
        """Whether a lining lies behind something already."""
        return any(lying.is_cover for _, lying in self.under(copy))

    def uses(self, copy: Copy, edges: Iterable[str]) -> int:
        """How often these edges have been sewn, the one most sewn."""
        return max((self._uses[copy, edge] for edge in edges), default=0)

    def all_uses(self, copy: Copy) -> int:
        """How often any edge of a copy has been sewn."""
        return sum(count for (one, _), count in self._uses.items() if one == copy)

    def unite(self, copies: Iterable[Copy]) -> None:
        """From now on these hang together."""
        heads = [self._find(copy) for copy in copies]
        self._head.update(dict.fromkeys(heads[1:], heads[0]))

    def pin(self, copies: Sequence[Copy]) -> None:
        """From now on a post holds these together."""
        self.unite(copies)
        self._hold("", copies)

    def sew(self, seam: str, copies: Sequence[Copy]) -> None:
        """From now on a seam sews these to each other."""
        self._hold(seam, copies)
        self._pairs |= {frozenset(pair) for pair in combinations(copies, 2)}
        self.unite(copies)

    def _hold(self, seam: str, copies: Iterable[Copy]) -> None:
        self.bonds.append((seam, frozenset(copies)))
        self.hinges.clear()

    def is_sewn(self, one: Copy, other: Copy) -> bool:
        """Whether a seam has both as its sides."""
        return frozenset((one, other)) in self._pairs

    def groups(self, copies: Iterable[Copy]) -> tuple[tuple[Copy, ...], ...]:
        """Copies that hang together, single ones left out."""
        found: dict[Copy, list[Copy]] = {}
        for copy in copies:
            found.setdefault(self._find(copy), []).append(copy)
        return tuple(tuple(group) for group in found.values() if len(group) > 1)

    def _find(self, copy: Copy) -> Copy:
        while (head := self._head.get(copy, copy)) != copy:
            copy = head
        return copy
