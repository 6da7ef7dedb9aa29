"""Where cards lie on a sheet of paper, as many as it holds, and the marks by which they are cut out.

Cards lie in rows or in columns. Either they touch, in the middle of the paper, with marks round them; or the outer ones
lie at the rim of the paper, where nothing is cut, and what paper is left lies between them and has the marks. These
reach no card, so that every cut needs free paper in its line, or is half-way between two cards. At an end where there is
none, a mark on the cut itself leads the rule, on fronts alone.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise, product
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.shapes import Box, Point
from docgen.pages.care.card_format import CardFormat

CROP_OFF_MM: Final = 1.5
REACH_MM: Final = 5.5
"""How near to a card its marks begin, and how far from it they end."""

ON_CUT_MM: Final = 4.0
"""How long a mark on the side of a card is: what of it the cut leaves stands in the card's margin."""

LEAST_MARK_MM: Final = 2.0
"""A shorter one does not lead a rule."""

FAR_MM: Final = 40.0
"""Of free paper, from which on a second mark at its end gives the cut its direction."""

HALVED_MM: Final = 0.1
"""So near to the middle of the paper a cut is found by halving it."""

SLIT_MM: Final = 0.8
"""Between two cards, from which on a line has room half-way; up to `WIDE_MM` one cut there parts both."""

WIDE_MM: Final = 2.0
SLACK_MM: Final = 1e-6
SPREADS: Final = ((False, False), (True, False), (False, True), (True, True))
"""Along rows and across them, whether cards lie apart."""

Ends = tuple[Point, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPlace:
    """A card on a sheet; turned ones lie on their side."""

    box: Box
    is_turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet of paper, the cards on it in reading order, and the lines to cut and to fold by; `on_cuts` lie on the side of
    a card."""

    width_mm: float
    height_mm: float
    places: tuple[CardPlace, ...]
    cuts: tuple[Ends, ...]
    folds: tuple[Ends, ...] = ()
    on_cuts: tuple[Ends, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Paper:
    """What marks are held against: the paper, what of it is printed, and the cards."""

    wide: float
    high: float
    printed: Box
    boxes: tuple[Box, ...]


def find_sheet(form: CardFormat, wide_mm: float, high_mm: float, margin_mm: float) -> Sheet:
    """The way to lay the most cards that can all be cut out by marks; of several the one nearest to upright cards that
    touch. ValueError when there is none."""
    best: tuple[_Paper, Sheet] | None = None
    printed = Box(margin_mm, margin_mm, wide_mm - margin_mm, high_mm - margin_mm)
    for places in _list_ways(form, Box(0.0, 0.0, wide_mm, high_mm), printed):
        if len(places) <= (len(best[1].places) if best else 0):
            continue
        paper = _Paper(wide=wide_mm, high=high_mm, printed=printed, boxes=tuple(place.box for place in places))
        cuts = _mark_cuts(paper) if all(_is_printed(place.box, form, printed) for place in places) else None
        if cuts is not None:
            folds = tuple(_mark_folds(paper)) if form.is_folded else ()
            best = paper, Sheet(width_mm=wide_mm, height_mm=high_mm, places=places, cuts=cuts, folds=folds)
    if best is None:
        card, sheet = f"{form.width_mm:.1f} x {form.height_mm:.1f} mm", f"{wide_mm:.1f} x {high_mm:.1f} mm"
        raise ValueError(f"no card of {card} fits a sheet of {sheet} with its crop marks")
    taken, found = best
    upright, level = _mark_sides(taken), map(_flip, _mark_sides(_flip_paper(taken)))
    return replace(found, on_cuts=tuple(dict.fromkeys([*upright, *level])))


def _is_printed(box: Box, form: CardFormat, printed: Box) -> bool:
    """Whether the printer reaches all that a card says."""
    off = form.margin_mm
    return (
        box.left + off >= printed.left - SLACK_MM
        and box.bottom + off >= printed.bottom - SLACK_MM
        and box.right - off <= printed.right + SLACK_MM
        and box.top - off <= printed.top + SLACK_MM
    )


def _list_ways(form: CardFormat, paper: Box, printed: Box) -> Iterator[tuple[CardPlace, ...]]:
    """All ways to lay cards in rows or columns, touching before spread, upright rows before turned ones; in each row as
    many as the paper holds, or as the printer reaches."""
    card = form.width_mm, form.height_mm
    for is_spread, room, is_row in product(SPREADS, (paper, printed), (True, False)):
        size, wide, long, high = (
            (card, paper.width, room.width, paper.height)
            if is_row
            else (card[::-1], paper.height, room.height, paper.width)
        )
        for upright, turned in _count_rows(size, high):
            rows = [False] * upright + [True] * turned
            found = tuple(_lay_rows(rows, size, (wide, high), long, is_spread))
            yield _sort(found if is_row else map(_transpose, found))


def _count_rows(card: tuple[float, float], high: float) -> Iterator[tuple[int, int]]:
    """How many rows of upright cards, and how many of turned ones, a height may hold."""
    for upright in range(_count(high, card[1]), -1, -1):
        for turned in range(_count(high - upright * card[1], card[0]), -1, -1):
            if upright or turned:
                yield upright, turned


def _count(length: float, size: float) -> int:
    return int((length + SLACK_MM) // size)


def _lay_rows(
    rows: list[bool], card: tuple[float, float], paper: tuple[float, float], long: float, is_spread: tuple[bool, bool]
) -> Iterator[CardPlace]:
    """The cards of all rows, from the top down; `rows` tells which are of turned cards, `long` how much of the paper's
    width a row may take, `is_spread` whether along them and across them the cards lie apart."""
    heights = [card[0] if is_turned else card[1] for is_turned in rows]
    for is_turned, height, low in zip(rows, heights, _line_up(heights, paper[1], is_spread[1]), strict=True):
        wide = card[1] if is_turned else card[0]
        bottom = paper[1] - low - height
        for left in _line_up([wide] * _count(long, wide), paper[0], is_spread[0]):
            yield CardPlace(box=Box(left, bottom, left + wide, bottom + height), is_turned=is_turned)


def _line_up(sizes: list[float], length: float, is_spread: bool) -> Iterator[float]:
    """Where each begins: touching in the middle of the length, or from its one end to the other."""
    spare = max(0.0, length - sum(sizes))
    gap = spare / (len(sizes) - 1) if is_spread and len(sizes) > 1 else 0.0
    at = 0.0 if is_spread else spare / 2
    for size in sizes:
        yield at
        at += size + gap


def _transpose(place: CardPlace) -> CardPlace:
    """Columns from rows that were laid on the paper turned over its diagonal; what was measured from the top is measured
    from the left."""
    return CardPlace(box=_flip_box(place.box), is_turned=place.is_turned)


def _sort(places: Iterable[CardPlace]) -> tuple[CardPlace, ...]:
    return tuple(sorted(places, key=lambda place: (-round(place.box.top, 3), round(place.box.left, 3))))


def _mark_cuts(paper: _Paper) -> tuple[Ends, ...] | None:
    """The marks of all cuts; None when one of them has none."""
    marks: dict[Ends, None] = {}
    for is_upright in (True, False):
        turned = paper if is_upright else _flip_paper(paper)
        found = _mark_lines(turned)
        if found is None:
            return None
        marks |= dict.fromkeys(ends if is_upright else _flip(ends) for ends in found)
    return tuple(marks)


def _mark_lines(paper: _Paper) -> list[Ends] | None:
    """The marks of upright cuts."""
    marks: list[Ends] = []
    sides = _list_sides(paper)
    slits = _list_slits(sides)
    for low, high in slits:
        marks += _mark_slit((low + high) / 2, paper)
    for x, bottom, top in sides:
        if x < HALVED_MM or x > paper.wide - HALVED_MM:
            continue
        own = [*_mark_ray(x, bottom, -1.0, paper), *_mark_ray(x, top, 1.0, paper)]
        marks += own
        if not own and not _is_in_slit(x, slits) and not _is_marked(x, marks) and abs(x - paper.wide / 2) > HALVED_MM:
            return None
    return marks


def _list_sides(paper: _Paper) -> list[tuple[float, float, float]]:
    """Upright sides of cards, from the left: their place, foot and top."""
    return sorted({(x, box.bottom, box.top) for box in paper.boxes for x in (box.left, box.right)})


def _list_slits(sides: Iterable[tuple[float, float, float]]) -> list[tuple[float, float]]:
    """Between which sides one cut parts two cards."""
    places = sorted({round(x, 6) for x, _, _ in sides})
    return [(low, high) for low, high in pairwise(places) if SLIT_MM <= high - low <= WIDE_MM]


def _is_in_slit(x: float, slits: Iterable[tuple[float, float]]) -> bool:
    return any(min(abs(x - low), abs(x - high)) < SLACK_MM for low, high in slits)


def _mark_sides(paper: _Paper) -> Iterator[Ends]:
    """Marks on an upright side itself, at an end where there is no room for one beyond it: at the rim of the paper, or
    where a card lies across."""
    sides = _list_sides(paper)
    slits = _list_slits(sides)
    for x, bottom, top in sides:
        is_cut = HALVED_MM <= x <= paper.wide - HALVED_MM and not _is_in_slit(x, slits)
        if not is_cut or not paper.printed.left <= x <= paper.printed.right:
            continue
        for y, way, rim in ((bottom, -1.0, paper.printed.bottom), (top, 1.0, paper.printed.top)):
            goes_on = any(
                abs(at - x) < SLACK_MM and -SLACK_MM <= way * ((foot if way > 0 else head) - y) <= WIDE_MM
                for at, foot, head in sides
            )
            if not goes_on and not any(_mark_ray(x, y, way, paper)):
                start = min(y, rim) if way > 0 else max(y, rim)
                yield _order(Point(x, start), Point(x, start - way * ON_CUT_MM))


def _is_marked(x: float, marks: Iterable[Ends]) -> bool:
    """Whether a mark of another card stands in the same line."""
    return any(abs(ends[0].x - x) < SLACK_MM for ends in marks)


def _mark_ray(x: float, y: float, way: float, paper: _Paper) -> Iterator[Ends]:
    """Marks on the free paper beyond one end of a side: near to it, and where that is long, at its far end too. In a
    narrow strip between cards a mark crosses it."""
    free, is_card = _measure_free(x, y, way, paper)
    if is_card and SLIT_MM <= free <= WIDE_MM:
        off, end = free * 0.15, free * 0.85
    else:
        off, end = CROP_OFF_MM, min(REACH_MM, free - CROP_OFF_MM if is_card else free)
        if end - off < LEAST_MARK_MM or not paper.printed.left <= x <= paper.printed.right:
            return
    yield _order(Point(x, y + way * off), Point(x, y + way * end))
    if free > FAR_MM and not is_card:
        yield _order(Point(x, y + way * (free - (REACH_MM - CROP_OFF_MM))), Point(x, y + way * free))


def _measure_free(x: float, y: float, way: float, paper: _Paper) -> tuple[float, bool]:
    """How far the line is free from there on, and whether a card ends it rather than the printer's margin."""
    ahead = [
        max(0.0, way * ((box.bottom if way > 0 else box.top) - y))
        for box in paper.boxes
        if box.left - SLACK_MM <= x <= box.right + SLACK_MM
        and way * ((box.top if way > 0 else box.bottom) - y) > SLACK_MM
    ]
    room = way * ((paper.printed.top if way > 0 else paper.printed.bottom) - y)
    return (min(ahead), True) if ahead and min(ahead) <= room else (room, False)


def _mark_slit(x: float, paper: _Paper) -> Iterator[Ends]:
    """Lines half-way between two cards that nearly touch, at both ends and in the middle of the printed height."""
    long = 2 * REACH_MM
    bottom, top, middle = paper.printed.bottom, paper.printed.top, paper.printed.centre.y
    for low in (bottom, middle - long / 2, top - long):
        yield Point(x, low), Point(x, low + long)


def _order(first: Point, second: Point) -> Ends:
    """The ends rounded and lowest first, so that a mark of two cards is one."""
    low, high = sorted((Point(round(first.x, 6), round(first.y, 6)), Point(round(second.x, 6), round(second.y, 6))))
    return low, high


def _flip_paper(paper: _Paper) -> _Paper:
    """The paper mirrored at its diagonal: upright lines become level ones."""
    return _Paper(
        wide=paper.high, high=paper.wide, printed=_flip_box(paper.printed), boxes=tuple(map(_flip_box, paper.boxes))
    )


def _flip_box(box: Box) -> Box:
    return Box(box.bottom, box.left, box.top, box.right)


def _flip(ends: Ends) -> Ends:
    return Point(ends[0].y, ends[0].x), Point(ends[1].y, ends[1].x)


def _mark_folds(paper: _Paper) -> Iterator[Ends]:
    """Where the middle of the longer sides of each card is."""
    for box in paper.boxes:
        is_upright = box.width >= box.height
        turned, own = (paper, box) if is_upright else (_flip_paper(paper), _flip_box(box))
        x = own.centre.x
        for ends in (*_mark_ray(x, own.bottom, -1.0, turned), *_mark_ray(x, own.top, 1.0, turned)):
            yield ends if is_upright else _flip(ends)
