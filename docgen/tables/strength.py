"""What thread carries: breaking strengths, and the estimate for a seam.

An estimate that the thread limits: leather can tear along its holes first. It is no rated load.
"""

from collections.abc import Iterable

from docgen.written.units.table import N_PER_LB

# Fibre -> Tex label -> typical breaking strength in lb; the lower figure where sources give two. Bonded nylon: 210
# from jsrz.com, the others from memory, 90 held up by the Ford specification WSS-M15H51-B2 (at least 54 N). Polyester:
# 70 thethreadexchange.com, 135 and 210 jsrz.com. What is not listed has no figure: a spec names its own.
THREAD_TO_LB: dict[str, dict[int, float]] = {
    "nylon": {45: 7.0, 70: 11.0, 90: 14.0, 135: 22.0, 210: 32.0, 270: 42.0, 350: 52.0},
    "polyester": {70: 11.0, 135: 20.8},
}

# Stitch type -> strength of a seam per stitch, in strengths of its thread: two legs of a loop. American & Efird,
# "Stitches per inch - what you should know", pages 32-33, for 301 and 401, on woven fabric. A saddle stitch has two
# legs as well and counts as 301: our reading, no published source.
LOOP_FACTOR = {"301": 1.5, "401": 1.7, "209": 1.5, "saddle stitch": 1.5}
STRENGTH_CAUTION = "An estimate that the thread limits: leather can tear along its holes first. It is no rated load."

# Above so many times the load the thread is not what gives: figures of thread alone then say nothing of the make. Our
# choice, no published source; ten leaves room for worn thread, few stitches that pull at a time, and soft leather.
THREAD_AMPLE_TIMES = 10.0
AMPLE_CAUTION = "No rated load: {first} will give first."
HELD_BY = {
    "rivet": "rivets",
    "tubular-rivet": "rivets",
    "copper-rivet": "rivets",
    "screw-post": "screw posts",
    "snap": "snaps",
    "ring": "rings",
    "buckle": "buckles",
}
"""Kind of hardware -> what a load may hang on besides a seam."""


def find_thread_strength_n(tex: float, fibre: str) -> float:
    """Typical breaking strength of a thread in newtons, by its Tex label; 0 where no figure is known. A thread up to 5 %
    above a label has its figure."""
    rows = THREAD_TO_LB.get(fibre, {})
    found = [lb for label, lb in rows.items() if label <= tex <= label * 1.05]
    return found[0] * N_PER_LB if found else 0.0


def is_ample(strength_n: float, load_n: float) -> bool:
    """Whether the thread holds so much more than the load that other parts give before it."""
    return strength_n >= THREAD_AMPLE_TIMES * load_n


def tell_first_to_give(kinds: Iterable[str], has_straps: bool) -> str:
    """What gives before ample thread does: the leather, hardware of these `kinds`, straps."""
    held = dict.fromkeys(HELD_BY[kind] for kind in kinds if kind in HELD_BY)
    parts = ["leather", *held, *(["straps"] if has_straps else [])]
    before, last = ", ".join(parts[:-1]), parts[-1]
    return AMPLE_CAUTION.format(first=f"{before} or {last}" if before else last)


def seam_strength_n(stitches: float, thread_n: float, stitch_type: str) -> float:
    """Thread-limited estimate of what a row of so many stitches carries: stitches x thread strength x loop factor.

    `thread_n` is the strength of the weaker thread, which governs. American & Efird, "Stitches per inch", pages 32-33.
    """
    return stitches * thread_n * LOOP_FACTOR.get(stitch_type, LOOP_FACTOR["301"])
