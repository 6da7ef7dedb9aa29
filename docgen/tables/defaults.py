"""What counts where a spec says nothing: each default once, for what is made of it and for what is told of it.

All are common practice, no published source, or our choice, unless a line names one. Those that a shop may set for all
its specs stand in `limits`; what hangs on another table stands there.
"""

from typing import Final

# The build and its batch.
SHOW: Final = "in"
MAKES = 1
CUT = 1
IS_MADE = True  # of a range, all that its choices give
IS_PAIR = False
IS_MIRRORED = False
IS_RULED = False
CORNER_RADIUS_MM = 0.0
LAID_CLEAR_MM = 0.0
STOP_MM = 5.0  # from the end of a zip's run to its stop, so that the slider clears the next seam
# Sewing.
MACHINE_TYPE = "301"
ROWS = 1
ROW_GAP_MM = 3.175
IS_RING = False
IS_INSIDE = False
IS_TURNED = False
EASE_MM = 0.0
BACK_TACK_MM = 12.7  # the stitch-securing clause of MIL-L-24778, 3.7
# Leather, and marks on it.
FINISH = "plain"
HAS_NAP = False
SLOT_LIES = "up"
FOLD_IS_OPEN = False
HEM_IS_DOUBLE = False
NOTCH_AT = "middle"
SHOWS = "grain"
STRAP_END = "first"
STRAP_LEADS = "up"
STRAP_OVER_MM = 25.4  # how much of a strap's end is held where it lands
# Straps.
HOLE_PITCH_MM = 25.4
TIP_MM = 76.2
CLOSING_NUMBER = 1
IS_DOUBLED = False
KEEPER_LAYERS = 3  # the turned end twice and the tip
HELD_KEEPER_LAYERS = 2  # the strap and the tip: what is turned back lies outside it
KEEPER_OVERLAP_MM = 12.7
# The care card; those of a card with a fold or of a bank card's size always have two sides.
CARD = "A6"
TWO_SIDED_CARDS = ("ID-1", "A5 folded")
CARD_SIDES = 1
TURN: Final = "long"
IS_INSTEAD = False  # the shop's words follow those of the card
LANGUAGE = "en"
# How a pattern is printed.
PAPER = "letter"
MARGIN_MM = 6.35  # clears the edge that common home printers cannot print on
OVERLAP_MM = 9.525
JOIN: Final = "trim"
HAS_FULL_STRAPS = False
