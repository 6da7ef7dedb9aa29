"""`docgen trace`"""

from __future__ import annotations

from docgen.calls.asked import TraceCall
from docgen.cli.telling import CANNOT_BE_SAID, DO_NOT_CUT, DONE, NOT_CURRENT, say

TYPE_CHECKING = False
if TYPE_CHECKING:
    from docgen.versions.traced.trace import Trace

ABOUT = """\
Tell which version a page was made from, whether it is the current one, and what changed since.
Of a part's file: all builds that bring it in.
Pictures need the extra packages of docgen[scan]. It ends with 0 for a page of the current version, with 4
for one that is not current, 5 for one not to cut by, 6 where that cannot be said; of several, the worst.

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
    return judge(found)


ENDS = {
    "current": DONE,
    "older": NOT_CURRENT,
    "lost": NOT_CURRENT,
    "lost-other": DO_NOT_CUT,
    "draft-as-issued": NOT_CURRENT,
    "draft-open": NOT_CURRENT,
    "altered": DO_NOT_CUT,
    "draft-before": DO_NOT_CUT,
    "draft-unknown": CANNOT_BE_SAID,
    "unknown": CANNOT_BE_SAID,
}
"""How a code stands -> exit code."""

WORSE = (DONE, NOT_CURRENT, CANNOT_BE_SAID, DO_NOT_CUT)


def judge(found: Trace) -> int:
    """The exit code for what was found: that of the worst page."""
    codes = [ENDS[one.standing] for one in found.found]
    if found.file is not None and not found.file.inside.is_right:
        codes.append(DO_NOT_CUT)
    if found.unread:
        codes.append(CANNOT_BE_SAID)
    return max(codes, key=WORSE.index, default=CANNOT_BE_SAID)
