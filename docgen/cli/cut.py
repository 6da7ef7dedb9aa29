"""`docgen cut`"""

from __future__ import annotations

from docgen.calls.asked import CutCall
from docgen.cli.make import describe_outcome
from docgen.cli.telling import DONE, say

ABOUT = """\
Write one cutting list by material over several specs, with all their variants: what they take
together, and what to buy for all of them. Each line names its build.

  docgen cut field-bag.toml market-bag.toml --makes 4
  docgen cut satchel.toml belt.toml --csv --out out/spring

Materials are reckoned together where title, kind, thickness and how they are sold are the same.
"""
ASKED = CutCall


def run(asked: CutCall) -> int:
    """Write the list, and tell where."""
    from docgen.calls.cut import cut_specs

    say(describe_outcome(cut_specs(asked)))
    return DONE
