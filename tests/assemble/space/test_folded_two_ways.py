"""A tray folded up of one piece bends two ways, which no surface here does: it is not placed, and why is told. By hand."""

from spec_text import Resolve

from docgen.assemble.space.placed import FOLDS_TWO_WAYS, PLACE_UNTOLD

TRAY = """\
[pieces.tray]
of = "body"
shape = "outline"
points = [
  { at = ["30 mm", "0"], edge = "front" },
  { at = ["130 mm", "0"], edge = "front-right" },
  { at = ["130 mm", "30 mm"], edge = "right-front" },
  { at = ["160 mm", "30 mm"], edge = "right" },
  { at = ["160 mm", "130 mm"] },
  { at = ["130 mm", "130 mm"] },
  { at = ["130 mm", "160 mm"] },
  { at = ["30 mm", "160 mm"] },
  { at = ["30 mm", "130 mm"] },
  { at = ["0", "130 mm"] },
  { at = ["0", "30 mm"] },
  { at = ["30 mm", "30 mm"] },
]
folds = [
  { at = "30 mm from left", open = true, angle = 90 },
  { at = "30 mm from bottom", open = true, angle = 90 },
]
<seam corner: ["tray: front-right", "tray: right-front"]>
<rectangle pad: ["90 mm", "90 mm"]>
<rectangle cover: ["90 mm", "90 mm"]>
<seam round: ["pad: all", "cover: all"]>
"""


def test_why_a_tray_is_not_drawn_is_told(resolve_text: Resolve) -> None:
    level = TRAY.replace("30 mm from bottom", "30 mm from right")
    for text, told in ((TRAY, FOLDS_TWO_WAYS), (level, PLACE_UNTOLD)):
        (tray,) = [one for one in resolve_text(text).space.unplaced if one.copy.part == "tray"]
        assert tray.why == told
