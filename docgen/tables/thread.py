"""Figures for thread and needles: which needle, how thick, how much."""

import math

# Needle (metric size: blade in 1/100 mm) for a thread by its Tex label, on leather. Middle of three published
# trade ranges: V. Desgrange, "Thread for saddle work" (2002), gives Tex 70 90-110, Tex 90 100-110, Tex 135
# 130-150, Tex 210 160-180, Tex 270 200, Tex 350 230, Tex 410 250; the rows for Tex 30 and 45 are common
# practice.
THREAD_TO_NEEDLE = {30: 80, 45: 90, 70: 110, 90: 110, 135: 130, 210: 160, 270: 200, 350: 230, 410: 250}
# A label gives the lower bound of its bracket (American & Efird, "Yarn Size Systems and Conversions"): the
# common three-ply threads are up to 4 % heavier than their label, so a row serves threads up to 5 % above it.
LABEL_MARGIN = 1.05

# Labels of thread in Tex: each stands for what weighs at least as much, up to the next. American & Efird, "Yarn Size
# Systems and Conversions"; 70, and what is above 240, from memory.
TEX_LABELS = (
    *(12, 14, 16, 18, 21, 24, 27, 30, 35, 40, 45, 50, 60, 70),
    *(80, 90, 105, 120, 135, 150, 180, 210, 240, 270, 300, 350, 400),
)
MOST_LABELLED_TEX = 450  # from memory
# V number of bonded nylon and polyester -> denier of the whole thread (three plies). 138 (420 denier x 3) jsrz.com; 69
# (Tex 70) a balloon makers' mailing list, 2002; the others from memory. Each V number is the whole part of 0.11 x
# denier, and the rule for labels gives each label.
V_TO_DENIER = {46: 420, 69: 630, 92: 840, 138: 1260, 207: 1890, 277: 2520, 346: 3150}
# Metric ticket of bonded thread -> V number: tickets are rounded, 3000/140 = 21.4 to 20. 138 jsrz.com, the others from
# memory.
TICKET_TO_V = {60: 46, 40: 69, 30: 92, 20: 138, 13: 207, 10: 277, 8: 346}

# Metric size -> number of the older system. shoemaking.wiki, "Sewing Machine Needle Sizing"; sizes 60 to 110
# also by Nm = (size - 8) x 5 + 60, apparelscience.com, "Needle number system". For 120 the tables differ (19
# or 20).
_METRIC = (60, 65, 70, 75, 80, 85, 90, 95, 100, 105, 110, 120, 125, 130, 140, 160, 180, 200, 230, 250)
NEEDLE_SIZES = dict(zip(_METRIC, range(8, 28), strict=True))
# What others print beside them: 110 as 17 (shoemaking.wiki), 120 as 20 (ukqu.co.uk).
OTHER_NUMBERS = {110: (17,), 120: (20,)}

# Mass of a thread per volume of the round it fills, g/cm3. Nylon 1.14 and polyester 1.38 at a fill of 0.8
# (the fill is our choice, to agree with trade charts); linen from one measured thread (25/3, 198 tex, 0.57
# mm); cotton from memory. A thread whose fibre is not named counts as nylon, the thickest of the usual ones
# for its weight.
THREAD_DENSITY = {"nylon": 0.912, "polyester": 1.104, "linen": 0.776, "cotton": 0.92, "": 0.912}

# Thread at most 40 % of the blade, so that it lies in the long groove. Schmetz dictionary, "Long groove".
MOST_THREAD_IN_BLADE = 0.40

# Lost to bobbin changes, breaks and trimming. American & Efird, "Estimating Thread Consumption": 15 to 20 %.
MACHINE_WASTE = 0.15
# Common practice, no published source: needle and bobbin thread pulled out before and after a machine seam,
# together; and the tail that each of two hand needles needs at the end of a seam.
MACHINE_TAILS_MM = 4 * 100.0
HAND_TAILS_MM = 2 * 150.0


def ticket_tex(ticket: float) -> float:
    """Tex of a metric ticket: 3 x 1000 / ticket. onlineclothingstudy.com, January 2013."""
    return 3000 / ticket


def find_label(tex: float) -> int:
    """The label in Tex of a thread that weighs so much: the lower end of its bracket; the nearest whole number where no
    bracket is known."""
    if not TEX_LABELS[0] <= tex < MOST_LABELLED_TEX:
        return round(tex)
    return max(label for label in TEX_LABELS if label <= tex + 1e-9)


def find_needle(tex: float) -> int | None:
    """The needle (metric size) for a thread on leather: the first row that serves its Tex.

    None when the thread is heavier than any row.
    """
    rows = (needle for label, needle in THREAD_TO_NEEDLE.items() if tex <= label * LABEL_MARGIN)
    return next(rows, None)


def find_least_needle(tex: float, fibre: str, share: float = MOST_THREAD_IN_BLADE) -> float:
    """The thinnest blade in 1/100 mm whose groove takes the thread, filled to the share; no made size."""
    return thread_diameter_mm(tex, fibre) / share * 100


def format_needle(size: int) -> str:
    """ "130/21"; a size without an older number is printed as "Nm 150"."""
    return f"{size}/{NEEDLE_SIZES[size]}" if size in NEEDLE_SIZES else f"Nm {size}"


def thread_diameter_mm(tex: float, fibre: str) -> float:
    """Estimated diameter in mm of a round thread: sqrt(4 tex / (pi density 1000))."""
    return math.sqrt(4 * tex / (math.pi * THREAD_DENSITY.get(fibre, THREAD_DENSITY[""]) * 1000))


def thread_tex(diameter_mm: float, fibre: str) -> float:
    """Estimated Tex of a round thread of this diameter: the other way about."""
    return math.pi * THREAD_DENSITY.get(fibre, THREAD_DENSITY[""]) * 1000 * diameter_mm**2 / 4


def lockstitch_ratio(stack_mm: float, pitch_mm: float) -> float:
    """Thread per length of seam, needle and bobbin together, half each: 2 (1 + T/p).

    Stitch type 301 of ISO 4915. textilecalculations.com, "Calculate amount of sewing thread consumption":
    C = 2 + 2 T S; the term 2 T S also in American & Efird, "Estimating Thread Consumption" (type 401).
    """
    return 2 * (1 + stack_mm / pitch_mm)


def saddle_stitch_ratio(stack_mm: float, pitch_mm: float) -> float:
    """Thread per length of seam sewn by hand with two needles on one thread: 2 (1 + T/p).

    Every hole is passed twice and every stitch lies on both faces, as in a lockstitch. The common practice of
    3 to 4 times the seam, no published source, agrees for usual leather.
    """
    return lockstitch_ratio(stack_mm, pitch_mm)


def machine_thread_mm(
    seam_mm: float,
    stack_mm: float,
    pitch_mm: float,
    *,
    waste: float = MACHINE_WASTE,
    tails_mm: float = MACHINE_TAILS_MM,
) -> float:
    """Thread in mm for one row of lockstitch, needle and bobbin together, with waste and the four tails."""
    return seam_mm * lockstitch_ratio(stack_mm, pitch_mm) * (1 + waste) + tails_mm
