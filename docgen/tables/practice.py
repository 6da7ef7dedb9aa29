"""How leather and cloth are handled at a seam where a spec says nothing else: wetting, snips, what glue holds on.

Common practice, no published source.
"""

DAMP_TANNAGES = ("vegetable", "combination")  # water lets them be formed; chrome-tanned leather is stretched dry
# The most of such leather that is folded dry: the grain of thicker cracks, unless it is oiled or waxed.
DRY_FOLD_MM = 2.0
POOR_GROUNDS = ("waxed", "oiled", "coated")  # finishes that hold water off, and keep a fold from cracking
ROUGH_GROUNDS = ("suede",)  # finishes that glue holds on as they are; any other grain is roughened first
SNIPS_APART_MM = {"in": 6.35, "mm": 6.0}  # of cloth, or what is turned in, round the outside of a corner
SNIPS_OFF_MM = {"in": 1.5875, "mm": 1.5}  # from their ends to the stitch line
NOTCH_DEEP_MM = {"in": 3.175, "mm": 3.0}  # the most that a notch is cut
TAPE = "tape"  # holds on any ground until it is sewn
EDGE_TOOLS = {
    "bevel": "edge beveller",
    "burnish": "edge burnisher",
    "sand": "sandpaper",
    "crease": "edge creaser",
    "dye": "edge dye and dauber",
    "paint": "edge paint and dauber",
}
EDGE_WORK = ("bevel", "burnish", "edge paint")  # words of a step that finishes edges, by themselves,
EDGE_VERBS = ("sand", "smooth", "slick", "finish", "ink", "paint", "dye")  # and with an edge close behind them,
RIM_VERBS = ("smooth", "ink", "paint", "dye")  # or what is one
RIMS = ("mouth", "rim", "top")
WORK_VERBS = (
    "sew",
    "stitch",
    "saddle",
    "glue",
    "cement",
    "stick",
    "tape",
    "lay",
    "punch",
    "cut",
    "skive",
    "crease",
    "fold",
    "turn",
    "bend",
    "rivet",
    "set",
    "fix",
    "fasten",
    "make",
    "mark",
    "join",
    "press",
    "clip",
    "line",
    "close",
    "put",
)  # words with which other work begins, in a step that finishes edges as well
EDGES_BEFORE = ("before",)  # words of a finish that say when
EDGES_FIRST = ("first",)  # of some of its parts
EDGES_WITH = ("with the",)  # of another part
EDGES_AFTER = ("after", "once", "when", "then", "last", "later", *EDGES_WITH)
EDGES_BY_STEPS = ("steps",)
BURNISHED_DAMP = ("damp", "dampened")
BURNISHED_WITH = (*BURNISHED_DAMP, "gum", "wax", "beeswax", "paint", "dye", "oil", "finish", "slicker")
SPRAYED = ("spray", "aerosol")  # words of a glue that no strip along an edge is told for
