"""Whole stitches of a pricking iron: how many, which are adjusted, and which length would come out whole."""

import math
from collections.abc import Sequence

from docgen.geometry.spacing import WHOLE_MM, adjust_span, stitch_count
from docgen.written.units.telling import format_mm


def iron_words(spans_mm: Sequence[float], pitch_mm: float, *, are_corners: bool = True) -> list[str]:
    """What the iron does along a run of stitching, span by span from corner to corner, or to where another row ends on it,
    alike ones once."""
    told = [_span_words(span_mm, pitch_mm) for span_mm in spans_mm]
    counts = {words: told.count(words) for words in told}
    if len(told) == 1:
        return told
    return [
        f"{_span_names(told, words)} {'between corners' if are_corners else 'of the row'}: {words}" for words in counts
    ]


def _span_names(told: Sequence[str], words: str) -> str:
    """`parts 1 and 3`: they are counted from where the seam begins."""
    places = [str(place) for place, other in enumerate(told, start=1) if other == words]
    listed = " and ".join(filter(None, (", ".join(places[:-1]), places[-1])))
    return f"{'part' if len(places) == 1 else 'parts'} {listed}"


def _span_words(span_mm: float, pitch_mm: float) -> str:
    """`87 stitches, 83 whole, then 4 of 3.9 mm at its end; 2.7 mm longer gives 88 whole stitches, 1.3 mm shorter gives
    87`."""
    count = stitch_count(span_mm, pitch_mm)
    last, step_mm = adjust_span(span_mm, pitch_mm)
    if not last:
        return f"{count} whole {_stitches(count)}"
    more = math.ceil(span_mm / pitch_mm - WHOLE_MM / pitch_mm)
    longer = f"{format_mm(more * pitch_mm - span_mm)} longer gives {more} whole {_stitches(more)}"
    less = more - 1
    shorter = f", {format_mm(span_mm - less * pitch_mm)} shorter gives {less}" if less else ""
    adjusted = f"then {last} of {format_mm(step_mm, 2)} at its end"
    return f"{count} {_stitches(count)}, {count - last} whole, {adjusted}; {longer}{shorter}"


def _stitches(count: int) -> str:
    return "stitch" if count == 1 else "stitches"
