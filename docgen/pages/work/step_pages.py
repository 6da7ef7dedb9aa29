"""Units of blocks and steps -> blocks for `flow_pages` with every page break decided here.

A step stays whole where it fits the rest of the page, or where the next page can take it without leaving more than a
share of this one empty; else it is divided between its units, behind the first thing that is done or later, so that no
head stands alone; its drawing goes on with the rest only where that saves a page. The front page is set tight where that
helps. Of all ways that are tried the one with the fewest pages is taken, then with the table of the front page whole,
then with the fewest half empty ones, then with the fewest divided steps, then with the largest drawings. A drawing in
which marks lie on each other gets a size, or a wider column, in which they do not, where that costs no page.
Where much of a page stays empty, the pictures of its whole steps get more room.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from itertools import chain

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.pages.setting.blocks import (
    Block,
    Figure,
    Gap,
    Heading,
    PageStyle,
    Rule,
    Styled,
    Table,
    Together,
    scale_style,
)
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import SPACES
from docgen.pages.work.build_step import StepBlocks, Unit, compose_rest, compose_step

EMPTY_SHARES = (0.99, 1 / 4, 1 / 10)  # of a page, that may stay empty so that a step stays whole
TIGHT_FRONT = 0.6  # of the space between what stands on the front page, where it is set tight
LEAST_PART_MM = 12.0  # of a divided step, on the page where it ends
LEAST_ROWS = 2  # of a table, on either side of a page break
SIZES = 4  # of drawings
PUT_OFF = SIZES  # the drawing stands with the rest of its step
EMPTY_ENOUGH = 0.15  # of a page, that stays empty where pictures get more room
LEAST_LARGER = 1.1  # times as high, that a picture becomes by that
WHOLE_SIZES = 3  # of those beside a whole step; the least is for a part of one
ROUNDING_MM = 1e-6

Widen = Callable[[StepBlocks], StepBlocks | None]


@dataclass(slots=True, kw_only=True)
class Whole:
    """Steps that stand whole, and heights, each worked out once for all the ways in which pages are tried."""

    width_mm: float
    style: PageStyle
    parts: dict[tuple[int, int, int], tuple[StepBlocks, Unit]] = field(default_factory=dict)
    rests_mm: dict[tuple[int, int], tuple[StepBlocks, float]] = field(default_factory=dict)
    heights: dict[tuple[int, bool], tuple[Sequence[Block], float]] = field(default_factory=dict)

    def step(self, step: StepBlocks, size: int) -> Unit:
        return self.part(step, len(step.units), size)

    def part(self, step: StepBlocks, count: int, size: int) -> Unit:
        """The first so many units of a step with a drawing of this size, held together. Steps are known by identity, and
        held, as blocks are."""
        key = id(step), count, size
        if key not in self.parts:
            self.parts[key] = step, (Together(compose_step(step, count, size)),)
        return self.parts[key][1]

    def rest_mm(self, step: StepBlocks, count: int) -> float:
        """How high the units of a step are after so many."""
        key = id(step), count
        if key not in self.rests_mm:
            rest = [block for unit in step.units[count:] for block in unit]
            self.rests_mm[key] = step, flow_height_mm(rest, self.width_mm, step.style)
        return self.rests_mm[key][1]

    def height_mm(self, blocks: Sequence[Block], *, is_below: bool) -> float:
        """How high they stand, alone or below others with a rule between. They are known by identity, and held, so that
        no other takes theirs."""
        key = id(blocks), is_below
        if key not in self.heights:
            drawn = (Rule(), *blocks) if is_below else blocks
            self.heights[key] = blocks, flow_height_mm(drawn, self.width_mm, self.style)
        return self.heights[key][1]


@dataclass(slots=True)
class _Pages:
    """Pages so far; the last one is still open, and filled down to `filled_mm`. Drawings have that `size` or less, and
    no more than that `share` of a page is left empty for a step."""

    frame: Box
    style: PageStyle
    size: int
    share: float
    said: Mapping[str, str]
    whole: Whole
    pages: list[list[Block]] = field(default_factory=lambda: [[]])
    filled_mm: float = 0.0
    divided: int = 0
    is_cut: bool = False  # a table is divided
    is_late_drawn: bool = False  # the drawing of a step that is divided may stand with its rest
    ends_mm: list[float] = field(default_factory=list)  # how far down the closed pages are filled
    # Whole steps: page, place on it, the step, and its blocks.
    entire: list[tuple[int, int, StepBlocks, Unit]] = field(default_factory=list)

    def height(self, blocks: Sequence[Block]) -> float:
        """How far down the open page is filled with these blocks on it."""
        if not self.pages[-1]:
            return self.whole.height_mm(blocks, is_below=False)
        return self.filled_mm + self.whole.height_mm(blocks, is_below=True) - self.style.hair_line_mm

    def fits(self, blocks: Sequence[Block]) -> bool:
        return self.height(blocks) <= self.frame.height + ROUNDING_MM

    def add(self, blocks: Sequence[Block]) -> None:
        self.filled_mm = self.height(blocks)
        self.pages[-1].extend(blocks)

    def turn(self) -> None:
        """A fresh page, unless this one is fresh."""
        if self.pages[-1]:
            self.pages.append([])
            self.ends_mm.append(self.filled_mm)
            self.filled_mm = 0.0

    def left_mm(self) -> float:
        """How much of all pages is empty."""
        return sum(self.frame.height - end_mm for end_mm in (*self.ends_mm, self.filled_mm))

    def count_hollow(self) -> int:
        """The pages before the last of which more than half is empty."""
        return sum(end_mm < self.frame.height / 2 for end_mm in self.ends_mm)

    def add_whole(self, step: StepBlocks, blocks: Unit) -> None:
        self.entire.append((len(self.pages) - 1, len(self.pages[-1]), step, blocks))
        self.add(blocks)


def pack_pages(
    front: Sequence[Unit],
    steps: Sequence[StepBlocks],
    back: Sequence[Unit],
    frame: Box,
    style: PageStyle,
    said: Mapping[str, str],
    widen: Widen,
) -> list[list[Block]]:
    """The blocks of each page, in order: the front, the steps, the back; `widen` gives a step with more room for what is
    drawn."""
    whole = Whole(width_mm=frame.width, style=style)
    ways = [(share, size, False) for share in EMPTY_SHARES for size in range(WHOLE_SIZES)]
    ways += [(share, size, True) for share in EMPTY_SHARES[1:] for size in range(WHOLE_SIZES)]

    def pack(front: Sequence[Unit], steps: Sequence[StepBlocks]) -> _Pages:
        fresh = (
            _Pages(
                frame=frame, style=style, size=size, share=share, said=said, whole=whole, is_late_drawn=is_late_drawn
            )
            for share, size, is_late_drawn in ways
        )
        return min((_pack(front, steps, back, pages) for pages in fresh), key=_worth)

    best = pack(front, steps)
    tight = [*map(_tighten, front)]
    is_whole = best.is_cut and whole.height_mm([*chain(*tight)], is_below=False) <= frame.height
    if is_whole or best.left_mm() > frame.height:
        packed = pack(tight, steps)
        if _worth(packed) < _worth(best):
            best, front = packed, tight
    for place, step in enumerate(steps):
        for clearer in _find_clearer(step, widen):
            tried = [*steps[:place], clearer, *steps[place + 1 :]]
            packed = pack(front, tried)
            if _worth(packed)[:4] <= _worth(best)[:4]:
                best, steps = packed, tried
                break
    _widen_pictures(best, widen)
    return best.pages


def _tighten(unit: Unit) -> Unit:
    """With less space between its blocks."""
    return tuple(
        replace(block, style=scale_style(block.style, SPACES, TIGHT_FRONT)) if isinstance(block, Styled) else block
        for block in unit
    )


def _worth(way: _Pages) -> tuple[int, bool, bool, int, int]:
    """What is wrong with pages, the worst first: the fewer the better."""
    return len(way.pages), way.is_late_drawn, way.is_cut, way.count_hollow(), way.divided


def _find_clearer(step: StepBlocks, widen: Widen) -> Iterator[StepBlocks]:
    """The step with those of its drawings alone that are clearer than others, first in a wider column where they are
    clearer there; none where nothing of it lies on other marks."""
    clashes = [*map(_count_clashes, step.drawings)]
    least = min(clashes, default=0)
    if not max(clashes, default=0):
        return
    wide = widen(step) if least else None
    if wide is not None and (fewest := min(map(_count_clashes, wide.drawings))) < least:
        yield _keep_drawings(wide, fewest)
    if least < max(clashes):
        yield _keep_drawings(step, least)


def _keep_drawings(step: StepBlocks, clashes: int) -> StepBlocks:
    return replace(step, drawings=tuple(one for one in step.drawings if _count_clashes(one) <= clashes))


def _count_clashes(drawing: Sequence[Figure]) -> int:
    return sum(figure.clashes for figure in drawing)


def _widen_pictures(packed: _Pages, widen: Widen) -> None:
    """More room for what is drawn of whole steps, on pages that are empty enough, as long as they take it."""
    left_mm = [packed.frame.height - end_mm for end_mm in (*packed.ends_mm, packed.filled_mm)]
    roomy = {page for page, mm in enumerate(left_mm) if mm >= EMPTY_ENOUGH * packed.frame.height}
    for page, place, step, blocks in packed.entire:
        wide = widen(step) if page in roomy else None
        if wide is None or _drawn_mm(wide) < LEAST_LARGER * _drawn_mm(step):
            continue
        before_mm = packed.whole.height_mm(blocks, is_below=place > 0)
        larger: Unit = (Together(compose_step(wide, len(wide.units), 0)),)
        more_mm = packed.whole.height_mm(larger, is_below=place > 0) - before_mm
        if more_mm <= left_mm[page]:
            packed.pages[page][place : place + len(blocks)] = larger
            left_mm[page] -= more_mm


def _drawn_mm(step: StepBlocks) -> float:
    return sum(figure.height_mm for figure in step.drawings[0])


def join_pages(pages: Sequence[Sequence[Block]], frame: Box) -> list[Block]:
    """The pages one after the other; a gap as high as a page turns it."""
    return [block for place, page in enumerate(pages) for block in (*([Gap(frame.height)] if place else []), *page)]


def _pack(front: Sequence[Unit], steps: Sequence[StepBlocks], back: Sequence[Unit], packed: _Pages) -> _Pages:
    for unit in front:
        _add_unit(packed, unit)
    for step in steps:
        if step is steps[-1]:
            _turn_before_last(packed, step, [block for unit in back for block in unit])
        _add_step(packed, step)
    for unit in back:
        _add_unit(packed, unit)
    return packed


def _turn_before_last(packed: _Pages, step: StepBlocks, back: Sequence[Block]) -> None:
    """The last step goes with what closes the sheet to the next page, where that would stand alone there."""
    whole = next((found for found in _sizes(packed, step) if packed.fits(found)), ())
    both = (*whole, *back)
    fits_alone = packed.whole.height_mm(both, is_below=False) <= packed.frame.height + ROUNDING_MM
    if whole and back and fits_alone and not packed.fits(both):
        packed.turn()


def _add_unit(packed: _Pages, unit: Unit) -> None:
    """On this page where it fits, a closing table in part; else on the next one."""
    if packed.fits(unit):
        packed.add(unit)
        return
    *head, last = unit
    if isinstance(last, Styled) and isinstance(last.blocks[-1], Table):
        table = last.blocks[-1]
        for count in range(len(table.rows) - LEAST_ROWS, LEAST_ROWS - 1, -1):
            again = (Heading(table.carried, 3),) if table.carried else ()
            first, rest = (
                Styled((*before, replace(table, rows=rows)), last.style)
                for before, rows in ((last.blocks[:-1], table.rows[:count]), (again, table.rows[count:]))
            )
            if packed.fits((*head, first)):
                packed.add((*head, first))
                packed.turn()
                packed.add((rest,))
                packed.is_cut = True
                return
    packed.turn()
    packed.add(unit)


def _add_step(packed: _Pages, step: StepBlocks) -> None:
    """Whole, with the largest drawing that fits; or in parts, here or on a fresh page."""
    for _ in range(2):
        whole = next((found for found in _sizes(packed, step) if packed.fits(found)), None)
        if whole is not None:
            packed.add_whole(step, whole)
            return
        left_mm = packed.frame.height - packed.filled_mm
        if left_mm > packed.share * packed.frame.height and _add_parts(packed, step):
            return
        packed.turn()
    packed.add(packed.whole.step(step, WHOLE_SIZES - 1))


def _sizes(packed: _Pages, step: StepBlocks) -> list[Unit]:
    return [packed.whole.step(step, size) for size in range(packed.size, WHOLE_SIZES)]


def _add_parts(packed: _Pages, step: StepBlocks) -> bool:
    """As many units as fit with the drawing, or without it, the rest on the next pages; False, and nothing added, when
    too few fit."""
    drawn = (range(packed.size, SIZES), *([(PUT_OFF,)] if packed.is_late_drawn and step.drawings else []))
    found = next((part for sizes in drawn if (part := _find_part(packed, step, sizes))), None)
    if found is None:
        return False
    count, size = found
    packed.add(packed.whole.part(step, count, size))
    packed.turn()
    packed.divided += 1
    rest = compose_rest(step, count, packed.said, packed.size if size == PUT_OFF else None)
    packed.add((Together(rest),) if packed.fits((Together(rest),)) else rest)
    return True


def _find_part(packed: _Pages, step: StepBlocks, sizes: Sequence[int]) -> tuple[int, int] | None:
    """How many units fit, at most, with the largest of these drawings that does, and which that is; some thing is done in
    them, and enough is left for the next page."""

    def fit(count: int) -> int | None:
        return next((size for size in sizes if packed.fits(packed.whole.part(step, count, size))), None)

    counts = range(step.opening + 1, len(step.units))
    left = bisect_left(counts, True, key=lambda count: packed.whole.rest_mm(step, count) < LEAST_PART_MM)
    # Fewer units always fit where more do, so that halving finds the most.
    fitting = bisect_left(counts[:left], True, key=lambda count: fit(count) is None)
    size = fit(counts[fitting - 1]) if fitting else None
    return None if size is None else (counts[fitting - 1], size)
