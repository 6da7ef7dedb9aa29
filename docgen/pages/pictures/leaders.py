"""Names of parts beside a drawing, and leaders from them to the parts: straight, none across another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from docgen.classes import dataclass
from docgen.fonts import cap_height_mm, text_width_mm, wrap_text
from docgen.geometry.measure import cut_to_box
from docgen.geometry.path import circle_path, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.pictures.drawing import Drawn, Spot
from docgen.pages.pictures.starts import legs_of_starts
from docgen.pages.setting.blocks import PageStyle

LEADING = 1.15
GAP_MM = 1.2  # between two names, and from a name to its leader
DOT_MM = 0.45  # radius of the dot at the end of a leader
INSIDE_MM = 1.2  # from the outline of a part to the dot on it, where it has the room
AROUND_MM = 0.9  # of a dot, where nothing of another part begins
KEPT_MM = 0.7  # from a dot or leader to holes, and to the dot and arrow where a seam begins
LEAST_INSIDE_MM = 0.5  # where a part may be named in another drawing too
SAME_MM = 0.05  # in the measure of space, that faces lie in one place: a name needs its own part in sight
THIN_MM = 0.08  # where it may not
PLACES = (5, 17)  # across and up, at which a place for a dot is looked for; the more where the fewer find none
MOST_FACES = 3  # of a part, the largest that are seen
MOST_ROUNDS = 20

Named = tuple[tuple[int, ...], str]
"""Parts of a drawing by their numbers, and the name that they bear."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A name in lines, the place on its part, and the height of its middle beside the drawing."""

    lines: tuple[str, ...]
    at: Point
    high_mm: float
    middle: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """What the dot at the end of a leader is taken for, or runs into: dots and arrows where seams begin, and holes."""

    starts: tuple[tuple[Point, Point], ...]
    holes: tuple[Point, ...]

    def is_clear(self, at: Point, side: float) -> bool:
        """Whether a dot keeps clear of all of them, and a leader straight to a side of those of seams."""
        by = DOT_MM + KEPT_MM
        if any(abs(hole.x - at.x) < by and abs(hole.y - at.y) < by for hole in self.holes):
            return False
        dot = Box(at.x - by, at.y - by, at.x + by, at.y + by)
        way = Box(min(at.x, side), at.y - KEPT_MM, max(at.x, side), at.y + KEPT_MM)
        return not any(cut_to_box(*leg, box) for leg in self.starts for box in (dot, way))


def _find_marked(drawn: Drawn) -> Marked:
    holes = tuple(start for kind, start, _ in drawn.legs if kind.endswith("hole"))
    return Marked(starts=tuple(legs_of_starts(drawn.starts)), holes=holes)


def _find_best(drawn: Drawn, owners: Sequence[int], is_left: bool, least_mm: float, marked: Marked) -> Point | None:
    """A place on one of these parts that is seen, well inside of it, as near to its side of the drawing as can be, clear of
    what is marked there where any is; None where nothing of them is seen."""
    side = 0.0 if is_left else drawn.wide_mm
    found = _rank(drawn, (spot for owner in owners for spot in _list_places(drawn, owner)), side, least_mm)
    if not found:
        return None
    well_mm = min(found[0][0], LEAST_INSIDE_MM)

    def find_clear(places: Iterable[tuple[float, Point]]) -> Point | None:
        return next((at for in_mm, at in places if in_mm >= well_mm and marked.is_clear(at, side)), None)

    if clear := find_clear(found):
        return clear
    fine = (spot for owner in owners for spot in _find_places(drawn, owner, PLACES[-1:]))
    return find_clear(_rank(drawn, fine, side, well_mm)) or found[0][1]


def _rank(drawn: Drawn, spots: Iterable[Spot], side: float, least_mm: float) -> list[tuple[float, Point]]:
    """Those that lie so far inside, with how far, the best first."""
    scale = drawn.frame.scale
    found = [(spot[2] * scale, drawn.frame.put(*spot[:2])) for spot in spots if _is_fit(drawn, spot, least_mm)]
    return sorted(found, key=lambda place: (-min(place[0], INSIDE_MM), round(abs(place[1].x - side), 3), place[1]))


def _is_fit(drawn: Drawn, spot: Spot, least_mm: float) -> bool:
    """Whether a place lies so far inside of its part, and in the drawing."""
    x, y, inside = spot
    return inside * drawn.frame.scale > least_mm and drawn.frame.put(x, y).y <= drawn.high_mm


def find_unseen(drawn: Drawn, named: Sequence[Named], least_mm: float = LEAST_INSIDE_MM) -> list[Named]:
    """The names of which no place so far inside of a part of theirs is seen."""
    return [
        (owners, text)
        for owners, text in named
        if not any(_is_fit(drawn, spot, least_mm) for owner in owners for spot in _find_places(drawn, owner))
    ]


def _list_places(drawn: Drawn, owner: int) -> Sequence[Spot]:
    """Places in the largest faces of a part that are seen, each with its distance from the outline; found once."""
    if owner not in drawn.spots:
        drawn.spots[owner] = [*_find_places(drawn, owner)]
    return drawn.spots[owner]


def _find_places(drawn: Drawn, owner: int, counts: Sequence[int] = PLACES) -> Iterator[Spot]:
    top = drawn.frame.bottom + drawn.high_mm / drawn.frame.scale
    own = [number for number, its in enumerate(drawn.owners) if its == owner and number not in drawn.lined]
    numbers = [number for number in own if _is_in(drawn, number, top)]
    numbers.sort(key=lambda number: -round(_size(drawn, number), 3))
    numbers = [number for number in numbers[:MOST_FACES] if not drawn.hider.is_hidden(number, own, SAME_MM)]
    for count in counts:
        found = False
        for number in numbers:
            for spot in _places(drawn, number, owner, count):
                found = True
                yield spot
        if found:
            return


def _is_in(drawn: Drawn, number: int, top: float) -> bool:
    """Whether the middle of a face lies below a height."""
    side = drawn.hider.sides[number]
    return side is not None and (side.bottom + side.top) / 2 < top


def _size(drawn: Drawn, number: int) -> float:
    side = drawn.hider.sides[number]
    return (side.right - side.left) * (side.top - side.bottom) if side else 0.0


def _places(drawn: Drawn, number: int, owner: int, count: int) -> Iterator[Spot]:
    side = drawn.hider.sides[number]
    assert side is not None
    wide, high = side.right - side.left, side.top - side.bottom
    for i in range(count):
        for j in range(count):
            x, y = side.left + wide * (i + 0.5) / count, side.bottom + high * (j + 0.5) / count
            inside = side.depth_at(x, y)
            if inside <= 0:
                continue
            if _is_seen(drawn, number, owner, x, y):
                by = AROUND_MM / drawn.frame.scale
                is_clear = all(_is_seen(drawn, number, owner, x + by * k, y + by * k / 2) for k in (-1, 1))
                yield x, y, inside if is_clear else min(inside, LEAST_INSIDE_MM * 1.01 / drawn.frame.scale)


def _is_seen(drawn: Drawn, number: int, owner: int, x: float, y: float) -> bool:
    """Whether nothing hides a face at a place."""
    side = drawn.hider.sides[number]
    assert side is not None
    front = drawn.hider.front_at(x, y, side.near(x, y) + SAME_MM)
    return front is None or drawn.owners[front[0]] == owner


def set_labels(
    drawn: Drawn, named: Sequence[Named], room_mm: float, least_mm: float, style: PageStyle, columns: int = 2
) -> tuple[list[Label], list[Label], list[Named]]:
    """The names left and right of a drawing, of one column all on the side where leaders are shorter, in columns so wide at
    most, each by the parts that bear it; and those of which no place so far inside is seen."""
    sides: tuple[list[Label], list[Label]] = ([], [])
    seen: list[tuple[str, list[Point], list[float]]] = []
    lost: list[Named] = []
    marked = _find_marked(drawn)
    for owners, text in named:
        places = (_find_best(drawn, owners, is_left, least_mm, marked) for is_left in (True, False))
        found = [place for place in places if place is not None]
        if len(found) < 2:
            lost.append((owners, text))
        else:
            seen.append((text, found, [found[0].x, drawn.wide_mm - found[1].x]))
    near = min((0, 1), key=lambda k: (round(sum(reach[k] for _, _, reach in seen), 2), k))
    wraps = [wrap_text(text, "regular", style.label_type_mm, room_mm) for text, _, _ in seen]
    highs = [len(lines) * style.label_type_mm * LEADING + GAP_MM for lines in wraps]
    reaches = [reach for _, _, reach in seen]
    chosen = [near] * len(seen) if columns == 1 else _share(highs, reaches, drawn.high_mm)
    for (_, found, _), lines, high, which in zip(seen, wraps, highs, chosen, strict=True):
        sides[which].append(Label(lines=lines, at=found[which], high_mm=high))
    return _untangle(sides[0], 0.0, drawn), _untangle(sides[1], drawn.wide_mm, drawn), lost


def _share(highs: Sequence[float], reaches: Sequence[Sequence[float]], room_mm: float) -> list[int]:
    """On which side of a drawing each name stands, 0 for the left: where its leader is shorter, while there is room; then
    two of them change places as long as that makes leaders shorter, and no column higher."""
    chosen: list[int] = []
    filled = [0.0, 0.0]
    for high, reach in zip(highs, reaches, strict=True):
        full = [filled[k] + high > max(room_mm, filled[1 - k] + high) for k in (0, 1)]
        chosen.append(min((0, 1), key=lambda k: (full[k], round(reach[k], 2), k)))
        filled[chosen[-1]] += high
    most_mm = max(room_mm, *filled)
    for _ in range(MOST_ROUNDS):
        pairs = [(i, j) for i, j in combinations(range(len(highs)), 2) if chosen[i] != chosen[j]]
        pairs = [pair for pair in pairs if _gain(reaches, chosen, pair) > GAP_MM]
        pairs = [(i, j) for i, j in pairs if max(_exchanged(highs, filled, chosen, i, j)) <= most_mm]
        if not pairs:
            break
        i, j = max(pairs, key=lambda pair: round(_gain(reaches, chosen, pair), 2))
        filled = _exchanged(highs, filled, chosen, i, j)
        chosen[i], chosen[j] = chosen[j], chosen[i]
    return chosen


def _exchanged(highs: Sequence[float], filled: Sequence[float], chosen: Sequence[int], i: int, j: int) -> list[float]:
    """How high both columns are when two names change places."""
    more_mm = highs[j] - highs[i]
    return [filled[k] + (more_mm if k == chosen[i] else -more_mm) for k in (0, 1)]


def _gain(reaches: Sequence[Sequence[float]], chosen: Sequence[int], pair: tuple[int, int]) -> float:
    """How much shorter the leaders of two names are when these change sides."""
    return sum(reaches[k][chosen[k]] - reaches[k][1 - chosen[k]] for k in pair)


def _untangle(labels: list[Label], x: float, drawn: Drawn) -> list[Label]:
    """The labels of one side from the top down, in the order in which their leaders are shortest: then none of them cross
    (by the triangle inequality)."""
    order = sorted(labels, key=lambda label: (-label.at.y, label.at.x))
    best = _stack(order, drawn.high_mm)
    for _ in range(MOST_ROUNDS):
        is_better = False
        for i, j in combinations(range(len(order)), 2):
            tried = [*order]
            tried[i], tried[j] = tried[j], tried[i]
            other = _stack(tried, drawn.high_mm)
            if _reach(other, x) < _reach(best, x) - 1e-6:
                order, best, is_better = tried, other, True
        if not is_better:
            break
    return best


def _reach(labels: Sequence[Label], x: float) -> float:
    return sum(math.dist((x, label.middle), label.at) for label in labels)


def _stack(labels: Sequence[Label], high_mm: float) -> list[Label]:
    """Each level with its place where the others leave the room, and all within the height as far as they fit."""
    tops: list[float] = []
    free = max(high_mm, sum(label.high_mm for label in labels))
    for label in labels:
        tops.append(min(free, label.at.y + label.high_mm / 2))
        free = tops[-1] - label.high_mm
    low = min(0.0, high_mm - sum(label.high_mm for label in labels))
    for k in range(len(labels) - 1, -1, -1):
        tops[k] = max(tops[k], low + labels[k].high_mm)
        low = tops[k]
    return [replace(label, middle=top - label.high_mm / 2) for label, top in zip(labels, tops, strict=True)]


def draw_labels(labels: Sequence[Label], x: float, is_left: bool, style: PageStyle) -> Iterator[Mark]:
    """Names that end at `x`, or begin there, each with its leader and a dot on its part."""
    size, hand = style.label_type_mm, -1.0 if is_left else 1.0
    for label in labels:
        begin = Point(x - hand * (GAP_MM - 0.4), label.middle)
        yield PathMark(path=polyline((begin, label.at)), stroke=Stroke(style.fine_line_mm))
        yield PathMark(path=circle_path(label.at, DOT_MM), fill=0.0)
        first = label.middle + (len(label.lines) - 1) / 2 * size * LEADING - cap_height_mm(size) / 2
        for row, line in enumerate(label.lines):
            y = first - row * size * LEADING
            yield TextMark(x_mm=x, y_mm=y, text=line, size_mm=size, anchor="end" if is_left else "start")


def labels_width_mm(texts: Sequence[str], most_mm: float, style: PageStyle) -> float:
    """How wide a column of these names is, wrapped to at most so much."""
    lines = (line for text in texts for line in wrap_text(text, "regular", style.label_type_mm, most_mm))
    return max((text_width_mm(line, "regular", style.label_type_mm) for line in lines), default=0.0)


def over_and_under_mm(labels: Sequence[Label], high_mm: float) -> tuple[float, float]:
    """How far labels reach below and above a drawing of that height."""
    low = min((label.middle - label.high_mm / 2 for label in labels), default=0.0)
    top = max((label.middle + label.high_mm / 2 for label in labels), default=high_mm)
    return max(-low, 0.0), max(top - high_mm, 0.0)
