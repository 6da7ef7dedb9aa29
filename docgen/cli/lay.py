"""`docgen lay`"""

from __future__ import annotations

from docgen.calls.asked import LayCall
from docgen.cli.make import describe_outcome
from docgen.cli.telling import DONE, say

ABOUT = """\
Write pages that show where the templates of one or several specs lie on hides, panels or a roll, one
page each, with the numbers of the cutting list. They are advice to look at beside the hide, and no
cutting file.

  docgen lay satchel.toml --makes 4
  docgen lay satchel.toml belt.toml --goods "bridle leather"
  docgen lay satchel.toml --hide monday.svg tuesday.svg

Goods are as the specs or the shop's file say they are sold. A drawing of a hide, at full size and its
grain side up, has the ids hide (its outline), backbone (a line from tail to neck), and where there are
any fault-1, fault-2, ..., best (what is firm) and hidden-1, ... (belly and shanks). docgen scan makes
one from a photo.
"""
ASKED = LayCall


def run(asked: LayCall) -> int:
    """Write the pages, and tell where."""
    from docgen.calls.lay import lay_specs

    say(describe_outcome(lay_specs(asked)))
    return DONE
