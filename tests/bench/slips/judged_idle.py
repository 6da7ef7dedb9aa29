"""Slips after which the same is made: by what is done and cut, not by what is written."""

import re
import tomllib
from collections.abc import Iterator
from typing import Any

from slips.operators import Slip
from slips.scalars import table_lines

HANDLING = {"group", "do", "skives", "pieces", "tools", "note", "minutes"}
WORDS_ONLY_RE = re.compile(r"^(Burnish|Smooth|Crease|Bevel)\b")
NOUGHT_RE = re.compile(r"(?<![\d./])0 (?:in|mm)\b")
PITCH_RE = re.compile(r"^(\d+(?:\.\d+)?) (per inch|mm)$")
SAME_PITCH = 0.02
LISTS = {"skives", "joins", "seams", "straps", "hardware", "trimmings"}


def is_still_work(slip: Slip) -> bool:
    """Whether a step of which the list of pieces is gone has something else in hand; of other slips always."""
    if not slip.was.startswith("pieces"):
        return True
    steps = [start for start, _, head in table_lines(slip.text) if head == "[[steps]]" and start < slip.lines[0]]
    return bool(tomllib.loads(slip.text)["steps"][len(steps) - 1].keys() & LISTS) if steps else True


def of_units(slip: Slip) -> Iterator[str]:
    """Figures that say the same in either unit."""
    if slip.kind == "a length in the other unit":
        if NOUGHT_RE.sub("0", slip.was) == NOUGHT_RE.sub("0", slip.now):
            yield "nought is nought in every unit"
        pitches = [PITCH_RE.match(words.strip('"')) for words in (slip.was, slip.now)]
        found = [float(it[1]) if it[2] == "mm" else 25.4 / float(it[1]) for it in pitches if it]
        if len(found) == 2 and abs(found[0] - found[1]) <= SAME_PITCH * found[0]:
            yield "the same stitch, but for two hundredths of it"


def of_steps(data: dict[str, Any], slip: Slip) -> Iterator[str]:
    """A step that is gone."""
    if not data.get("steps"):
        yield "no steps are written any more: an order is proposed, and the sheet says so"
    gone = tomllib.loads(slip.gone)["steps"][0] if slip.gone else {}
    handled = [
        one for step in data.get("steps", ()) for key in ("pieces", "straps", "joins") for one in step.get(key, ())
    ]
    handled += [name for step in data.get("steps", ()) for name in _sewn(data, step)]
    parts = {*gone.get("pieces", ()), *gone.get("straps", ())}
    if gone.get("do", "").startswith("Punch") and parts and parts <= {*handled} and not gone.get("hardware"):
        yield "holes that the sheet has punched in the next step that has their part in hand"
    if WORDS_ONLY_RE.match(gone.get("do", "")) and gone.keys() <= HANDLING - {"skives"}:
        yield "edges smoothed or a fold creased, on which nothing hangs"


def _sewn(data: dict[str, Any], step: dict[str, Any]) -> set[str]:
    seams = data.get("seams", {})
    sides = [side for seam in step.get("seams", []) for side in seams.get(seam, {}).get("meet", ())]
    return {side.split(":")[0].split()[0] for side in sides}
