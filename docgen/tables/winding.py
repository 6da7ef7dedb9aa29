"""Figures for thread as it is wound and cut: bobbins, spools, and the threads of hand sewing."""

import math

# Grams of thread on a full bobbin of the large size that machines for leather take. Common practice, no published
# source; rounded down, since a bobbin is wound by hand and not quite full. A thread of Tex 135 fills it at 22 m.
BOBBIN_G = 3.0
# Grams of thread on the small spool of the trade: 4 oz for machines, 50 g of waxed thread for the hand; a tenth of a
# machine thread's spool is its bond or finish. Common practice, from memory. A spec says its own by `spool`.
MACHINE_SPOOL_OZ = 4.0
SPOOL_G = {"machine": 0.9 * 28.35 * MACHINE_SPOOL_OZ, "hand": 50.0}
# The longest thread that is handy with a needle at each end: a little over the span of both arms. Common practice,
# no published source.
LONGEST_HAND_THREAD_MM = 2500.0


def find_bobbin_mm(tex: float) -> float:
    """Length of thread on a full bobbin: its grams / tex, tex being grams per 1,000 m (ISO 1144)."""
    return BOBBIN_G / tex * 1e6


def find_spool_mm(tex: float, by: str) -> float:
    """Length of thread on the small spool, for thread sewn by "machine" or "hand"."""
    return SPOOL_G[by] / tex * 1e6


def count_full(need_mm: float, each_mm: float) -> int:
    """How many bobbins or spools of `each_mm` hold `need_mm`; 0 for nothing."""
    return math.ceil(need_mm / each_mm - 1e-9)
