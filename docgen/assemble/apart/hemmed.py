"""Hems that are turned along walls which are closed to a ring by then."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, group_before, step_of
from docgen.assemble.apart.heaps import Heap, UnsureError
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy, Sewn
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.vectors import inner, minus, times
from docgen.assemble.work_order import is_hem
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.resolve import Join, by_name

UNDER_MM = 1.0  # what reaches no farther under a hem ends at it


@dataclass(frozen=True, slots=True, kw_only=True)
class RingHem:
    """A hem along a ring: its seam, the step (from 0) that sews it, and linings that reach under it and that the seam does
    not take: nothing says whether it is turned over them."""

    seam: str
    step: int
    ring: Copy
    linings: tuple[Copy, ...]


def find_ring_hems(build: Assembled) -> tuple[RingHem, ...]:
    """The hems that are sewn when their wall is a ring already, in the order of the work."""
    seams = by_name(build.seams)
    hems = (once for once in build.assembly.sewn if is_hem(seams[once.seam].sides))
    return tuple(found for once in hems for found in _on_rings(build, once))


def _on_rings(build: Assembled, once: Sewn) -> Iterator[RingHem]:
    parts = once.parts
    closed = {run.part: run.event for run in build.assembly.runs if run.kind == "joins"}
    for join in build.joins:
        rings = [placed for placed in build.space.parts if placed.copy.part == join.name]
        is_closed = join.is_ring and closed.get(join.name, once.event) < once.event
        if is_closed and len(rings) == 1 and not parts.isdisjoint({join.name, *join.pieces}):
            linings = [one for one in build.space.parts if one.how == "lies behind" and one.host == rings[0].copy]
            under = (one.copy for one in linings if one.copy not in once.sides and _is_under(join, rings[0], one))
            step = step_of(build, once.event)
            yield RingHem(seam=once.seam, step=step, ring=rings[0].copy, linings=tuple(under))


def _is_under(join: Join, ring: Placed, lining: Placed) -> bool:
    """Whether a lining reaches under what hems lay back on a ring."""
    box, surface = ring.item.box, ring.surface
    for fold, cut, turned_mm in (
        (box.left, 2 * box.left, box.left),
        (box.right, 2 * box.right - join.width_mm, join.width_mm - box.right),
    ):
        if turned_mm > 0:
            start, end = (surface.point(Point(x, box.bottom), 0) for x in (fold, cut))
            down = times(minus(end, start), 1 / turned_mm)
            reach = (inner(minus(at, start), down) for _, sheet in lining.sheets(lining.ring) for at in sheet)
            if min(reach) < turned_mm - UNDER_MM:
                return True
    return False


def list_hemmed(
    hems: Sequence[RingHem], bodies: Mapping[Copy, Body], bonds: Sequence[Bond], heaps: Sequence[Heap], step: int
) -> Iterator[Heap]:
    """The rings that a step hems with what hangs on them, but those in other heaps of it: nothing is lifted off them."""
    drawn = {copy for heap in heaps for copy in heap.copies}
    for hem in hems:
        if hem.step == step and hem.ring in bodies and hem.ring not in drawn:
            group = next(group for group in group_before([*bodies], bonds, step + 1) if hem.ring in group)
            on_itself = Bond(step=step, one=hem.ring, other=hem.ring, seam=hem.seam)
            drawn |= {*group}
            yield Heap(base=group, moved=(), bonds=(on_itself,))


def tell_untold(hem: RingHem) -> Iterator[str]:
    """What is not drawn since nothing says whether a hem is turned over it."""
    for lining in hem.linings:
        yield (
            f'"{lining.part}" from step {hem.step + 1} on, and the section of "{hem.seam}": nothing says whether the hem '
            f'of "{hem.ring.part}" is turned over "{lining.part}"'
        )


def hold_rows(build: Assembled, untold: Mapping[str, str], step: int) -> None:
    """UnsureError where a step sews a hem, and nothing says where its row lies."""
    for name in build.assembly.steps[step].seams:
        if name in untold:
            raise UnsureError(untold[name])


def hold_hems(build: Assembled, bodies: Mapping[Copy, Body], heaps: Sequence[Heap], step: int) -> None:
    """UnsureError where a step joins parts of which only a later one turns the hem over."""
    unturned, turning = build.assembly.unturned(step), dict(build.assembly.turning)
    copies = {copy for heap in heaps for copy in heap.copies} if unturned else ()
    strips = {strip.piece.name for copy in copies for strip in bodies[copy].placed.item.strips if strip.piece.hems}
    for name in sorted(strips & unturned):
        raise UnsureError(f"the hem of {build.part_titles[name]} is turned over later, in step {turning[name] + 1}")
