"""Tools that work asks for though nobody wrote them down, and the words by which a spec may name them already.

Common practice, no published source.
"""

from docgen.written.units.telling import Show

SKIVING_KNIFE = "skiving knife", ("skiving knife", "skiver", "skiving machine", "splitter", "bell skiver", "knife")
GAUGE = "thickness gauge", ("gauge", "thickness gauge", "calliper", "caliper")
KNIFE = "knife", ("knife", "scalpel", "chisel", "cutter")
MALLET = "mallet", ("mallet", "maul", "hammer", "press", "arbor press")
CLIPS = "clips", ("clip", "clamp", "bulldog clip")
RULE = "steel rule", ("rule", "ruler", "tape measure", "square")
HAND_NEEDLES = "2 hand needles", ("needle", "hand needle", "harness needle")
AWL = "awl", ("awl", "pricking iron", "stitching chisel", "chisel")
IRON = "pricking iron", ("pricking iron", "stitching iron", "stitching chisel", "pricking chisel")
PONY = "stitching pony", ("pony", "stitching pony", "clam", "stitching horse", "vice")
ANVIL = "anvil", ("anvil", "setting base", "press", "arbor press")
NIPPERS = "nippers", ("nippers", "nipper", "end cutter", "end cutters", "pincers", "cutting pliers")
PEEN = "hammer", ("hammer", "peen", "peening hammer")
SCREWDRIVER = "screwdriver", ("screwdriver", "driver", "coin")

MACHINE = "sewing machine", ("sewing machine", "machine")
GROOVER = "groover", ("groover", "gouge", "scorer", "scoring knife")
SPONGE = "sponge and water", ("sponge", "water", "spray bottle")
ROUGHENER = "wire brush", ("wire brush", "sandpaper", "rougher", "rasp")
SNIPS = "knife", ("knife", "scissors", "shears", "snips")
MARKER = "silver pen", ("pen", "silver pen", "pencil", "marker", "awl", "scratch awl")


BARE_PUNCHES = {  # by kind the words for it that do not say which sizes
    "hole punch": ("punch", "punches", "hole punch", "hole punches"),
    "slot punch": ("punch", "punches", "hole punch", "hole punches", "slot punch", "slot punches"),
}
SLOT_STEPS_MM = {"in": 3.175, "mm": 1.0}  # slot punches are sold in eighths of an inch, and in full millimetres
SAME_SLOT_MM = {"in": 0.4, "mm": 0.05}  # differ by less than is told of them


def punch_tool(size: str, slot_mm: float, show: Show) -> str:
    """A punch by its size in words; that of a slot of another length than such punches have is the nearest."""
    if not slot_mm:
        return f"{size} hole punch"
    return f"{size} slot punch" if is_sold_slot(slot_mm, show) else f"slot punch nearest to {size}"


def is_sold_slot(slot_mm: float, show: Show) -> bool:
    """Whether slot punches of that length are sold."""
    step_mm = SLOT_STEPS_MM[show]
    return abs(slot_mm - step_mm * round(slot_mm / step_mm)) <= SAME_SLOT_MM[show]


def setter_tool(kind: str) -> tuple[str, tuple[str, ...]]:
    """The setter of a kind of hardware, and what else sets it."""
    return f"{kind} setter", (f"{kind} setter", "setter", "press", "arbor press", "peen", "hammer")
