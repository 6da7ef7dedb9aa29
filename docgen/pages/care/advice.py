"""Advice set in one or more rooms: type as large as it fits, the least important left out where room is short."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from docgen.classes import dataclass
from docgen.fonts import ascent_mm, descent_mm, text_width_mm, wrap_text
from docgen.geometry.shapes import Box
from docgen.pages.care.care_words import Advice
from docgen.pages.marks.page import TextMark, text_lines
from docgen.written.units.table import MM_PER_POINT

LEADING: Final = 1.28
LEAST_GAP_MM: Final = 1.2
AFTER_HEADING_EM: Final = 0.5
STEP_PT: Final = 0.25
LEAST_PT: Final = 7.0
"""No text of a card is smaller."""

MOST_BOUND: Final = (14, 8)
"""Letters of the last two words of a text together, and of the last one, up to which they stay on one line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """Advice divided over rooms, in order, at one type size."""

    size_mm: float
    rooms: tuple[tuple[Advice, ...], ...]


def choose_setting(
    listed: Sequence[Advice], rooms: Sequence[Box], largest_pt: float, ease_pt: float, most: int
) -> Setting | None:
    """At most `most` pieces of advice beside the shop's words, as many as the rooms hold at `ease_pt`.

    They stand in the largest type that fits them; None where what must stay does not fit at 7 pt.
    """
    kept = list(listed)
    while True:
        spare = max(kept, key=lambda advice: advice.rank, default=None)
        setting = (
            divide(kept, rooms, ease_pt * MM_PER_POINT) if sum(not advice.own for advice in kept) <= most else None
        )
        if setting is not None or spare is None or not spare.rank:
            break
        kept.remove(spare)
    steps = round((largest_pt - LEAST_PT) / STEP_PT)
    sizes = [(largest_pt - step * STEP_PT) * MM_PER_POINT for step in range(steps + 1)]
    return next((found for size in sizes if (found := divide(kept, rooms, size))), None)


def divide(listed: Sequence[Advice], rooms: Sequence[Box], size_mm: float) -> Setting | None:
    """Advice over the rooms in order, each whole in one of them and all about equally full; None when they are full."""
    divided = tuple(_fill(listed, rooms, size_mm))
    if sum(map(len, divided)) < len(listed):
        return None
    if len(rooms) == 2:
        divided = _balance(listed, rooms, size_mm, len(divided[0]))
    return Setting(size_mm=size_mm, rooms=divided)


def _fill(listed: Sequence[Advice], rooms: Sequence[Box], size_mm: float) -> list[tuple[Advice, ...]]:
    rest = list(listed)
    filled = []
    for room in rooms:
        count = 0
        while count < len(rest) and _fullness(rest[: count + 1], room, size_mm) <= 1:
            count += 1
        filled.append(tuple(rest[:count]))
        rest = rest[count:]
    return filled


def _balance(
    listed: Sequence[Advice], rooms: Sequence[Box], size_mm: float, most: int
) -> tuple[tuple[Advice, ...], ...]:
    """The division of two rooms whose fuller one is least full; `most` is what the first can take."""

    def fuller(count: int) -> float:
        return max(_fullness(listed[:count], rooms[0], size_mm), _fullness(listed[count:], rooms[1], size_mm))

    best = min(range(most + 1), key=fuller)
    return tuple(listed[:best]), tuple(listed[best:])


def _fullness(listed: Sequence[Advice], room: Box, size_mm: float) -> float:
    return height_mm(listed, room.width, size_mm) / max(room.height, 1e-6)


def height_mm(listed: Sequence[Advice], width_mm: float, size_mm: float) -> float:
    """Height of the advice with the least gaps."""
    lines = sum(1 + len(_break_lines(advice, size_mm, width_mm)[1]) for advice in listed)
    return lines * size_mm * LEADING + LEAST_GAP_MM * max(0, len(listed) - 1)


def draw_setting(setting: Setting, rooms: Sequence[Box], gap_mm: float) -> tuple[tuple[TextMark, ...], ...]:
    """The marks of each room, from its top; what is left goes between the paragraphs, up to `gap_mm`."""
    return tuple(
        tuple(_draw_room(listed, room, setting.size_mm, gap_mm))
        for listed, room in zip(setting.rooms, rooms, strict=True)
    )


def _draw_room(listed: Sequence[Advice], room: Box, size_mm: float, most_gap_mm: float) -> list[TextMark]:
    spare = room.height - height_mm(listed, room.width, size_mm)
    gap = min(most_gap_mm, LEAST_GAP_MM + spare / max(1, len(listed) - 1))
    marks: list[TextMark] = []
    y = room.top
    for advice in listed:
        first, rest = _break_lines(advice, size_mm, room.width)
        indent = _heading_width(advice, size_mm)
        marks += draw_lines((advice.heading,) if advice.heading else (), "bold", size_mm, room.left, y)[0]
        marks += draw_lines((first,) if first else (), "regular", size_mm, room.left + indent, y)[0]
        drawn, y = draw_lines(rest, "regular", size_mm, room.left, y - size_mm * LEADING)
        marks += drawn
        y -= gap
    return marks


def draw_lines(
    lines: Sequence[str], face: str, size_mm: float, left: float, top: float, grey: float = 0.0
) -> tuple[tuple[TextMark, ...], float]:
    """Lines from the top down, and where the last one ends."""
    marks = text_lines(lines, left, baseline(top, size_mm), size_mm * LEADING, size_mm, face, grey)
    return marks, top - len(lines) * size_mm * LEADING


def baseline(top: float, size_mm: float, row: int = 0) -> float:
    """Height of the baseline of a line, each in the middle of its own strip."""
    inside = ascent_mm(size_mm) + descent_mm(size_mm)
    return top - row * size_mm * LEADING - (size_mm * LEADING - inside) / 2 - ascent_mm(size_mm)


def _heading_width(advice: Advice, size_mm: float) -> float:
    """How far a heading pushes its text to the right."""
    if not advice.heading:
        return 0.0
    return text_width_mm(advice.heading, "bold", size_mm) + AFTER_HEADING_EM * size_mm


@lru_cache(maxsize=1024)
def _break_lines(advice: Advice, size_mm: float, width_mm: float) -> tuple[str, tuple[str, ...]]:
    """What stands beside the heading (nothing, where no word fits there), and the lines below it; kept, since many
    divisions are tried."""
    loose = _bind_last(advice.text).split(" ")
    room = width_mm - _heading_width(advice, size_mm)
    fitting = 0
    while fitting < len(loose) and text_width_mm(" ".join(loose[: fitting + 1]), "regular", size_mm) <= room:
        fitting += 1
    rest = " ".join(loose[fitting:])
    return " ".join(loose[:fitting]), wrap_text(rest, "regular", size_mm, width_mm)


def _bind_last(text: str) -> str:
    """The text with its last two words held together, when they are short: "7 in" is not divided."""
    before, _, last = text.rpartition(" ")
    both, alone = MOST_BOUND
    short = len(last) <= alone and len(last) + len(before.rpartition(" ")[2]) <= both
    return f"{before}\u00a0{last}" if before and short else text


def letters_over(listed: Sequence[Advice], rooms: Sequence[Box]) -> int:
    """How many letters of the shop's own words, to the next ten, must go so that what must stay fits in 7 pt."""
    must = [advice for advice in listed if not advice.rank]
    least = LEAST_PT * MM_PER_POINT
    low, high = 0, -(-sum(advice.own_letters for advice in must) // 10)
    while low < high:
        middle = (low + high) // 2
        if divide(_cut(must, 10 * middle), rooms, least) is None:
            low = middle + 1
        else:
            high = middle
    return 10 * low


def _cut(listed: Sequence[Advice], letters: int) -> list[Advice]:
    """The advice with so many letters less, taken from the end of the longest own words first; what has lost all of
    its own words goes."""
    shorter = dict(enumerate(listed))
    for index, advice in sorted(shorter.items(), key=lambda item: -item[1].own_letters):
        cut = min(letters, advice.own_letters)
        letters -= cut
        if cut and cut == advice.own_letters:
            del shorter[index]
        else:
            shorter[index] = replace(advice, text=advice.text[: len(advice.text) - cut])
    return list(shorter.values())
