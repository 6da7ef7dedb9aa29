"""Parts with folds that run across each other, as those of a tray, and those whose corners are sewn as of a boxed bag. Such
a part is placed as if it bent at those of one way alone, or not: it is drawn as long as it lies flat, and no longer."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, group_before
from docgen.assemble.apart.boxes import find_boxes
from docgen.assemble.apart.heaps import UnsureError
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import FOLDS_TWO_WAYS, Placed
from docgen.assemble.space.scene import do_cross

DARTED = "its corners are sewn as those of a box, and it is drawn flat, until then alone"


def folds_two_ways(placed: Placed) -> bool:
    return do_cross(placed.item.folds)


def list_flat_alone(bodies: Iterable[Body], darted: Collection[Copy]) -> list[Copy]:
    """The copies with such folds, those that are `darted`, and what lies on them; hosts come before what lies on them."""
    found: list[Copy] = []
    for body in bodies:
        if folds_two_ways(body.placed) or body.copy in darted or body.placed.host in found:
            found.append(body.copy)
    return found


def hold_flat(
    bonds: Sequence[Bond], folded: Collection[Copy], bodies: Sequence[Body], step: int, darted: Collection[Copy]
) -> None:
    """UnsureError where a step joins something to what hangs together with such a part, once that is held folded."""
    gone = {body.copy for body in bodies if folds_two_ways(body.placed) or body.copy in darted}.intersection(folded)
    for group in group_before([body.copy for body in bodies], bonds, step + 1) if gone else ():
        held = gone.intersection(group)
        if held and any(bond.step == step and bond.one in group for bond in bonds):
            raise UnsureError(FOLDS_TWO_WAYS if held.isdisjoint(darted) else DARTED)


def tell_two_ways(build: Assembled, bodies: Iterable[Body]) -> Iterator[str]:
    """What of them is not drawn, and why, in words, once for each reason."""
    darted, boxes = build.space.darted, {one.copy for one in find_boxes(build)}
    found = [body for body in bodies if folds_two_ways(body.placed) or body.copy in darted]
    found = [body for body in found if body.copy not in boxes]
    for why in (FOLDS_TWO_WAYS, DARTED):
        parts = dict.fromkeys(f'"{body.copy.part}"' for body in found if (body.copy in darted) == (why == DARTED))
        if parts:
            yield f"{', '.join(parts)}: {why}"
