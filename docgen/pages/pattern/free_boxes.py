"""The largest free boxes of a room: where something fits best, and what is left once it is there.

A room's box and all that lies in it reach the gap farther to the right and up than they are, so that what touches here
is the gap apart on paper.
"""

from collections.abc import Iterable

FreeBox = tuple[float, float, float, float]  # left, bottom, right, top
Found = tuple[float, float, bool, float, float]  # smaller and larger gap that is left, is turned, left, bottom
LEAST_FREE_MM = 5.0  # free boxes narrower or lower are given up
HAIR_MM = 1e-9


def find_spot(
    room: list[FreeBox], wide: float, high: float, ways: Iterable[bool] = (False, True), best: Found | None = None
) -> Found | None:
    """The bottom left of that free box which leaves the smallest gap, where that is smaller than what was found before;
    else what was found before."""
    for is_turned in ways:
        if is_turned:
            wide, high = high, wide
        for left, bottom, right, top in room:
            across, up = right - left - wide, top - bottom - high
            if across < -HAIR_MM or up < -HAIR_MM:
                continue
            found = (across, up, is_turned, left, bottom) if across < up else (up, across, is_turned, left, bottom)
            if best is None or found < best:
                best = found
    return best


def take_box(room: list[FreeBox], taken: FreeBox) -> list[FreeBox]:
    """The largest free boxes that are left when one box is taken out."""
    left, bottom, right, top = taken
    kept: list[FreeBox] = []
    cut: list[FreeBox] = []
    for box in room:
        west, south, east, north = box
        if west >= right or east <= left or south >= top or north <= bottom:
            kept.append(box)
            continue
        if left - west > LEAST_FREE_MM:
            cut.append((west, south, left, north))
        if east - right > LEAST_FREE_MM:
            cut.append((right, south, east, north))
        if bottom - south > LEAST_FREE_MM:
            cut.append((west, south, east, bottom))
        if north - top > LEAST_FREE_MM:
            cut.append((west, top, east, north))
    for west, south, east, north in sorted(cut, key=_largest_first):
        for a, b, c, d in kept:
            if a <= west and b <= south and c >= east and d >= north:
                break
        else:
            kept.append((west, south, east, north))
    return kept


def _largest_first(box: FreeBox) -> tuple[float, FreeBox]:
    left, bottom, right, top = box
    return (left - right) * (top - bottom), box
