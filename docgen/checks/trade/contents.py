"""Check of what has to go in against the room inside."""

import math
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.written.units.telling import Show, format_short


@check("contents-do-not-fit", "What has to go in fits the room inside.", "plane geometry", needs_whole=True)
def find_tight_contents(subject: Subject) -> Iterator[Found]:
    """Each thing by itself, turned as need be; then all of them together, by volume."""
    inside = subject.build.inside
    if inside is None:
        return
    room_mm = (inside.width_mm, inside.height_mm, inside.depth_mm)
    room = _size_words(room_mm, subject.show)
    held = subject.build.holds
    for thing in held:
        if not thing.fits:
            size = _size_words(thing.size_mm, subject.show)
            yield (thing.place, f"{thing.what}, {size}, does not go in: there is room for {room}", MEND, thing.what)
    if all(thing.fits for thing in held) and sum(math.prod(t.size_mm) for t in held) > math.prod(room_mm):
        yield held[0].place, f"what has to go in takes more than the room of {room}, all together", MEND, ""


MEND = "make it larger, or leave something out"


def _size_words(size_mm: tuple[float, float, float], show: Show) -> str:
    return " x ".join(format_short(length_mm, show) for length_mm in size_mm)
