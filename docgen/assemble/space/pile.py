"""What lies where while parts are lifted: how high the uppermost is at a place."""

from __future__ import annotations

from collections.abc import Container, Sequence

from docgen.assemble.space.metal import Metal
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import Sheet, box_round, rooms_meet
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.vectors import Vec, inner, times

NEAR_MM = 0.6  # what lies no farther off lies on it; chords of one curve differ by less
ALIKE = 0.99  # the cosine between faces that lie on each other


class Pile:
    """What lies where, as it is lifted so far; it does not leave this room."""

    def __init__(self) -> None:
        self._sheets: list[tuple[Vec, Vec, Vec, Vec, Placed, int]] = []

    def add(self, placed: Placed, sheets: Sequence[Sheet]) -> None:
        """A part that is lifted, by its flat parts."""
        for band, corners in sheets:
            self._sheets.append((*box_round(corners), placed.surface.normal(band), placed.lifts[band], placed, band))

    def height(self, at: Vec, out: Vec, among: Container[str] | None = None) -> float | None:
        """By how many layers the uppermost part at a point, `among` some where they are named, is lifted the way `out`;
        None where no part lies flat there."""
        x, y, z = at
        found = [
            inner(lift, out)
            for low, high, normal, lift, placed, band in self._sheets
            if (among is None or placed.copy.part in among)
            and low[0] - NEAR_MM <= x <= high[0] + NEAR_MM
            and low[1] - NEAR_MM <= y <= high[1] + NEAR_MM
            and low[2] - NEAR_MM <= z <= high[2] + NEAR_MM
            and abs(inner(normal, out)) > ALIKE
            and _lies_at(placed, band, at)
        ]
        return max(found, default=None)

    def highest(self, places: Sequence[Vec], out: Vec, near_mm: float) -> float | None:
        """The same of whatever lies so near to any of some points."""
        room = box_round(places)
        near = [
            (placed, band, inner(lift, out))
            for its_low, its_high, normal, lift, placed, band in self._sheets
            if rooms_meet((its_low, its_high), room, near_mm) and abs(inner(normal, out)) > ALIKE
        ]
        near.sort(key=lambda one: -one[2])
        return next(
            (up for placed, band, up in near if any(_lies_at(placed, band, at, near_mm) for at in places)), None
        )

    def lift_at(self, metal: Metal, out: Vec, among: Container[str] | None) -> Vec:
        """The lift of hardware the way `out`: half a layer over the uppermost that it goes through, or hangs in."""
        height = self.height(metal.at, out, among)
        return times(out, 0.0 if height is None else height + 0.5)


def _lies_at(placed: Placed, band: int, at: Vec, near_mm: float = NEAR_MM) -> bool:
    own, lift_mm = placed.surface.foot(placed.surface.bands[band], at)
    return own is not None and abs(lift_mm) <= near_mm and is_in_ring(placed.ring, own)
