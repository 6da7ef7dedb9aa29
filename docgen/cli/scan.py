"""`docgen scan`"""

from __future__ import annotations

from docgen.calls.asked import ScanCall
from docgen.cli.telling import DONE, say

ABOUT = """\
Draw the outline of a hide at full size from a photo of it, made flat by a square of known size that
lies beside it. Needs the extra packages of docgen[scan].

  docgen scan monday.jpg --square "40 cm" --backbone left --to monday.svg
  docgen lay satchel.toml --hide monday.svg

Lay the hide flat, grain side up, on a plain floor of another colour, without shadows; beside it a flat
square of card or board, its side a quarter of the hide's length or more. Take the photo from as high as
you can, hide and square whole in it, with floor all round. --backbone is the side of the picture that
the straight edge of a side or butt lies to; the middle for a whole hide or skin. Look at the drawing
before you cut: the photo lies behind the outline; move its points, and draw faults round what is
bad, as docgen lay --help says.
"""
ASKED = ScanCall


def run(asked: ScanCall) -> int:
    """Write the drawing, and tell what was measured."""
    from docgen.calls.scan import scan_hide

    done = scan_hide(asked)
    say(f"wrote {done.path}: {done.words}")
    say("look at it, correct it, and draw faults, belly and shanks: what is not drawn is laid on. Then:")
    say(f"  docgen lay SPEC --hide {done.path}")
    return DONE
