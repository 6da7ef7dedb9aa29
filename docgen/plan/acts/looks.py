"""On which side of its part lies what of hardware is seen: halves of snaps, knobs of studs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from docgen.assemble import Fastened, find_snap_half
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.work import Work
from docgen.plan.step_words import said_in
from docgen.resolve import Hardware
from docgen.tables.cautions import has_phrase

KNOB_RE = r"(?i)\bstuds?\b"
KNOBS = ("knob", "head")


def half_acts(work: Work, fit: Fastened) -> Iterator[Act]:
    """Which side of its part a half of a snap looks out on, where that follows."""
    found = find_snap_half(work.build, fit)
    if found is None or not found.looks:
        return
    is_one, other = len(fit.stack.layers) == 1, work.titles.get(found.other, "") if found.other != fit.part else ""
    if fit.around:
        yield act(f"set_end_{fit.half}")
        return
    faces: dict[str, Told] = {"side": work.outer(fit.part), "under": work.inner(fit.part)}
    if found.half == "cap":
        yield act("set_cap", **faces) if is_one else act("set_cap_to", part=other) if other else act("set_cap_over")
    elif found.looks == "out":
        yield act("set_stud", **faces) if is_one else act("set_stud_over")
    elif other:
        yield act("set_stud_to", part=other)
    elif is_one:
        yield act("set_stud", side=faces["under"], under=faces["side"])


def knob_acts(work: Work, at: int, item: Hardware, fit: Fastened, layers: Sequence[Act]) -> Iterator[Act]:
    """On which side the knob of a button stud is, where no words of the step speak of it: what is seen of its part, or of
    the outermost of its layers, from outside in."""
    said = any(has_phrase(words, knob) for words in said_in(work.steps[at]) for knob in KNOBS)
    if item.kind != "other" or not re.search(KNOB_RE, item.what) or fit.around or said:
        return
    if len(fit.stack.layers) == 1:
        yield act("set_knob", side=work.outer(fit.part))
    else:
        yield act("set_knob_on", part=layers[0])
