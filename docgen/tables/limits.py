"""The figures of the tables that a shop may put its own in place of."""

# ruff: noqa: RUF009 - a post over its stack is immutable.

from __future__ import annotations

from dataclasses import dataclass

from docgen.tables.hardware import POST_OVER_STACK_MM
from docgen.tables.material import WASTE_BY_KIND
from docgen.tables.sewing import (
    HOLE_EDGE_DIAMETERS,
    HOLE_TO_STITCH_MM,
    LEAST_AT_FOLD_MM,
    LEAST_TURNED_MM,
    LINING_OVER_MM,
)
from docgen.tables.thread import HAND_TAILS_MM, MACHINE_TAILS_MM, MACHINE_WASTE, MOST_THREAD_IN_BLADE
from docgen.tables.winding import LONGEST_HAND_THREAD_MM
from docgen.told import told

PostOver = tuple[float, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Each figure as the spec or the shop says it, else by the tables (whose sources stand there).

    `needle_share` of the blade that thread may fill; `fold_leather_mm` left at a fold, `fold_beyond_mm` to turn;
    `hole_edge` from a hole's centre to the edge in its diameters, `hole_stitch_mm` from its rim to a stitch line;
    `lining_larger_mm` than its leather; `waste_leather` and `waste_other` shares lost in cutting; `machine_waste` of
    thread; tails for each machine seam and each hand thread; `hand_thread_mm` the longest handy one; `..._over_mm` how
    much longer than the stack a post is, from and to.
    """

    needle_share: float = told("thread in the blade", "share", default=MOST_THREAD_IN_BLADE)
    fold_leather_mm: float = told("leather at a fold", "length", default=LEAST_AT_FOLD_MM)
    fold_beyond_mm: float = told("beyond a fold", "length", default=LEAST_TURNED_MM)
    hole_edge: float = told("hole edge", "number", default=HOLE_EDGE_DIAMETERS)
    hole_stitch_mm: float = told("hole to stitch line", "length", default=HOLE_TO_STITCH_MM)
    lining_larger_mm: float = told("lining over its leather", "length", default=LINING_OVER_MM)
    waste_leather: float = told("waste of hides", "share", default=WASTE_BY_KIND["leather"])
    waste_other: float = told("waste of other goods", "share", default=WASTE_BY_KIND["fabric"])
    machine_waste: float = told("waste of machine thread", "share", default=MACHINE_WASTE)
    machine_tails_mm: float = told("tails at the machine", "length", default=MACHINE_TAILS_MM)
    hand_tails_mm: float = told("tails by hand", "length", default=HAND_TAILS_MM)
    hand_thread_mm: float = told("longest hand thread", "length", default=LONGEST_HAND_THREAD_MM)
    rivet_over_mm: PostOver = told("rivet over", default=POST_OVER_STACK_MM["rivet"])
    tubular_rivet_over_mm: PostOver = told("tubular rivet over", default=POST_OVER_STACK_MM["tubular-rivet"])
    snap_over_mm: PostOver = told("snap over", default=POST_OVER_STACK_MM["snap"])

    def waste(self, kind: str) -> float:
        """The share of a kind of material that is lost in cutting."""
        return self.waste_leather if kind == "leather" else self.waste_other

    def post_over_mm(self, kind: str) -> PostOver | None:
        """By how much the post of a kind of hardware is longer than its stack; None for kinds without a post."""
        own = {"rivet": self.rivet_over_mm, "tubular-rivet": self.tubular_rivet_over_mm, "snap": self.snap_over_mm}
        return own.get(kind) or POST_OVER_STACK_MM.get(kind)
