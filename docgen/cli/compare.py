"""`docgen compare`"""

from docgen.calls.asked import CompareCall
from docgen.cli.telling import DONE, say

ABOUT = """\
Tell what changed from A to B in pieces, seams, holes and steps; which templates must be cut again,
and which pages printed again. Each is a spec, the number of an issued version, or a PDF from docgen.

  docgen compare 2 field-bag.toml
  docgen compare old/packet.pdf field-bag.toml
"""
ASKED = CompareCall


def run(asked: CompareCall) -> int:
    """Tell what changed."""
    from docgen.calls.compare import compare_versions
    from docgen.versions.compared.words import describe_comparison

    say("\n\n".join(map(describe_comparison, compare_versions(asked))))
    return DONE
