"""Parts with folds that run across each other, as those of a tray. Such a part is placed as if it bent at those of one way
alone: it is drawn as long as it lies flat, and no longer."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond
from docgen.assemble.apart.heaps import UnsureError
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import is_parallel

FOLDS_TWO_WAYS = "its folds run two ways, as those of a tray, and it is drawn flat alone"


def folds_two_ways(placed: Placed) -> bool:
    return not all(is_parallel(fold, placed.item.folds[0]) for fold in placed.item.folds)


def list_flat_alone(bodies: Iterable[Body]) -> list[Copy]:
    """The copies with such folds, and what lies on them; hosts come before what lies on them."""
    found: list[Copy] = []
    for body in bodies:
        if folds_two_ways(body.placed) or body.placed.host in found:
            found.append(body.copy)
    return found


def hold_flat(bonds: Iterable[Bond], folded: Collection[Copy], bodies: Iterable[Body], step: int) -> None:
    """UnsureError where a step joins something to such a part once it is held folded."""
    gone = {*folded} & {*list_flat_alone(bodies)}
    if any(bond.step == step and not gone.isdisjoint((bond.one, bond.other)) for bond in bonds):
        raise UnsureError(FOLDS_TWO_WAYS)


def tell_two_ways(bodies: Iterable[Body]) -> Iterator[str]:
    """What of them is not drawn, and why, in words, once for a part."""
    for part in dict.fromkeys(body.copy.part for body in bodies if folds_two_ways(body.placed)):
        yield f'"{part}": {FOLDS_TWO_WAYS}'
