"""Slips made by hand, such as no operator makes: two figures of one line, a part that is left out, a place that is
taken for another."""

from collections.abc import Iterator
from pathlib import Path

from slips.by_hand_later import SLIPS as LATER_SLIPS
from slips.by_hand_short import SLIPS as SHORT_SLIPS
from slips.operators import Slip

KIND = "by hand"

# Build, what stands there, what is written in its place, and what happened. Of words that stand more than once the first
# are meant.
SLIPS: tuple[tuple[str, str, str, str], ...] = (
    ("field-bag", 'seams  = ["gusset-to-front"]', 'seams  = ["gusset-to-back"]', "a step copied, and not changed"),
    ("field-bag", 'straps   = ["handle", "closing"]', 'straps   = ["handle"]', "a strap left out of its step"),
    ("field-bag", 'hardware = ["buckle", "rivet"]', 'hardware = ["rivet"]', "a buckle that no step sets"),
    (
        "field-bag",
        'skives = ["back", "front", "pocket", ',
        'skives = ["back", "pocket", ',
        "a skive left out of its step",
    ),
    ("field-bag", 'through = ["gusset"]', 'through = ["gusset-base"]', "the strip below for the whole gusset"),
    (
        "field-bag",
        'of      = ["gusset-side", "gusset-base", "gusset-side"]',
        'of      = ["gusset-side", "gusset-base"]',
        "one side left out of the gusset",
    ),
    ("field-bag", 'inset = "edge + 5/32 in"', 'inset = "edge - 1/8 in"', "foam under the needle"),
    (
        "field-bag",
        'punch = "1/8 in", long = "1 in" }',
        'punch = "1/8 in", long = "1 in", lies = "across" }',
        "the slot for the tongue across",
    ),
    (
        "field-bag",
        'meet   = ["front: left bottom right", "gusset: right"]',
        'meet   = ["front: left bottom right", "gusset: left"]',
        "both panels on one edge of the gusset",
    ),
    (
        "field-bag",
        '{ at = "centre, 3/8 in from end", punch = "5/32 in" }',
        '{ at = "centre, 1 1/8 in from end", punch = "5/32 in" }',
        "one hole on the other",
    ),
    ("field-bag", 'posts  = ["6 mm", "8 mm", "10 mm", "12 mm"]', 'posts  = ["6 mm"]', "the short rivets only"),
    (
        "field-bag",
        '"5 7/8 in from bottom, 3 1/2 in right of centre"',
        '"5 7/8 in from bottom, 3 1/2 in left of centre"',
        "both tabs on one spot",
    ),
    ("notebook-sleeve", 'pieces = ["back", "front", "tab"]', 'pieces = ["back", "back", "tab"]', "a piece named twice"),
    (
        "bag",
        'seams  = ["front-side", "back-side"]',
        'seams  = ["front-side", "front-side"]',
        "a seam twice for its neighbour",
    ),
    ("bag", 'seams  = ["front-top", "back-top"]', 'seams  = ["front-top"]', "a seam in no step"),
    ("bag", 'hardware = ["ring", "rivet", "buckle"]', 'hardware = ["ring", "rivet"]', "a buckle that no step sets"),
    (
        "bag",
        'folds = [{ at = "middle", around = "ring" }]',
        'folds = [{ at = "middle", around = "rivet" }]',
        "a tab folded round a rivet",
    ),
    (
        "bag",
        'meet   = ["back: left bottom right", "gusset: right"]',
        'meet   = ["back: left bottom right", "gusset: left"]',
        "both panels on one edge of the gusset",
    ),
    (
        "bag",
        'punch = "1/8 in", long = "1 in" }',
        'punch = "1/8 in", long = "1/4 in" }',
        "a slot too short for its tongue",
    ),
    ("bag", 'of      = ["side", "base", "side"]', 'of      = ["side", "base"]', "one side left out of the gusset"),
    (
        "satchel",
        'landings = [{ piece = "flap", at = "centre, 1 in from top" }]',
        'landings = [{ piece = "gusset", at = "centre, 1 in from top" }]',
        "the gusset lands where the flap does",
    ),
    ("satchel", 'meet   = ["flap: top", "back"]', 'meet   = ["flap: top", "front"]', "the flap sewn to the front"),
    ("satchel", 'meet   = ["flap: top", "back"]', 'meet   = ["flap: left", "back"]', "the flap sewn by its side"),
    ("satchel", "count  = 2", "count  = 1", "one stud for two holes"),
    (
        "satchel",
        'pieces   = ["front"]\nhardware = ["stud"]',
        'pieces   = ["gusset"]\nhardware = ["stud"]',
        "studs set in a part that takes none",
    ),
    (
        "wallet",
        '{ piece = "lower-right", at = "0 from right, 0 from bottom" }',
        '{ piece = "lower-right", at = "0 from left, 0 from bottom" }',
        "both lower pockets on one side",
    ),
    ("wallet", 'like   = "lower"\nmirror = true', 'like   = "lower"', "a pocket that is not turned over"),
    (
        "wallet",
        'meet   = ["inside: top", "cover: top"]',
        'meet   = ["inside: left bottom right", "cover: left bottom right"]',
        "a seam copied, and not changed",
    ),
    (
        "duffel",
        'meet   = ["end: edge", "tube: right"]',
        'meet   = ["end: edge", "tube: left"]',
        "both ends on one edge of the body",
    ),
    ("duffel", "count  = 4", "count  = 2", "one rivet for each handle"),
    (
        "duffel",
        'cut      = 2\nwidth    = "1 1/4 in"',
        'cut      = 1\nwidth    = "1 1/4 in"',
        "one handle for two places",
    ),
    ("duffel", 'cut      = 2\nshape    = "circle"', 'cut      = 3\nshape    = "circle"', "a round end too many"),
    (
        "duffel",
        '{ strap = "carry", end = "second", at = "6 1/2 in from end',
        '{ strap = "carry", at = "6 1/2 in from end',
        "one end of a handle landed twice",
    ),
    ("tote", 'hardware = ["rivet"]', "", "rivets that no step sets"),
    ("lead", "number = 2", "number = 1", "one rivet for two holes"),
)


def hand_slips(build: str, text: str) -> Iterator[Slip]:
    """The slips made by hand in this build, where its words still stand there."""
    short = ((f"short: {name}", *rest, "") for name, *rest in (*SHORT_SLIPS, *LATER_SLIPS))
    for name, was, now, what, free in (*((*slip, "") for slip in SLIPS), *short, *_written()):
        if name == build and was in text:
            line = text[: text.index(was)].count("\n") + 1
            lines = tuple(range(line, line + was.count("\n") + 1))
            yield Slip(KIND, what, was, now, text.replace(was, now, 1), lines, free)


def _written() -> Iterator[tuple[str, str, str, str, str]]:
    """Those of the text files beside this one: blocks of what stands there, what is written, and why it may be."""
    for path in sorted(Path(__file__).parent.glob("fresh_*.txt")):
        for block in path.read_text("utf-8").split("\n=== ")[1:]:
            head, _, body = block.partition("\n")
            name, _, what = head.partition(": ")
            was, now, *free = (part.strip("\n") for part in f"\n{body.rstrip()}\n".split("\n---\n"))
            if not now:
                was += "\n"
            yield f"short: {name}", was, now, what, " ".join(free)
