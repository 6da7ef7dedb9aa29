"""`docgen trace`"""

from docgen.calls.asked import TraceCall
from docgen.cli.telling import DONE, say

ABOUT = """\
Tell which version a page was made from, whether it is the current one, and what changed since.
Of a part's file: all builds that bring it in. Pictures need the extra packages of docgen[scan].

  docgen trace SPEC:FIELD-BAG/3/3E55705F65/PATTERN/4
  docgen trace photo.jpg --in specs --save old-bag.toml
  docgen trace parts/ring-tab.toml        which builds bring in this part
"""
ASKED = TraceCall


def run(asked: TraceCall) -> int:
    """Tell where a page comes from."""
    from docgen.calls.trace import trace_page, trace_part
    from docgen.versions.compared.words import describe_trace

    told = trace_part(asked)
    if told is not None:
        say(told)
        return DONE
    found, saved = trace_page(asked)
    say(describe_trace(found))
    for path in saved:
        say(f"saved {path}")
    return DONE
