"""Units of blocks and steps -> blocks for `flow_pages` with every page break decided here.

A step stays whole where it fits the rest of the page, or where the next page can take it without leaving more than a
third of this one empty; else it is divided between its units.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import field, replace

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.pages.setting.blocks import Block, Gap, Heading, PageStyle, Rule, Table, Together
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.work.build_step import StepBlocks, Unit, compose_rest, compose_step

EMPTY_SHARE = 1 / 3  # of a page, that may stay empty so that a step stays whole
LEAST_PART_MM = 24.0  # of a divided step, on the page where it ends
LEAST_ROWS = 3  # of a table, on either side of a page break
ROUNDING_MM = 1e-6


@dataclass(slots=True)
class _Pages:
    """Pages so far; the last one is still open, and filled down to `filled_mm`."""

    frame: Box
    style: PageStyle
    pages: list[list[Block]] = field(default_factory=lambda: [[]])
    filled_mm: float = 0.0

    def height(self, blocks: Sequence[Block]) -> float:
        """How far down the open page is filled with these blocks on it."""
        if not self.pages[-1]:
            return flow_height_mm(blocks, self.frame.width, self.style)
        below = flow_height_mm((Rule(), *blocks), self.frame.width, self.style)
        return self.filled_mm + below - self.style.hair_line_mm

    def fits(self, blocks: Sequence[Block]) -> bool:
        return self.height(blocks) <= self.frame.height + ROUNDING_MM

    def add(self, blocks: Sequence[Block]) -> None:
        self.filled_mm = self.height(blocks)
        self.pages[-1].extend(blocks)

    def turn(self) -> None:
        """A fresh page, unless this one is fresh."""
        if self.pages[-1]:
            self.pages.append([])
            self.filled_mm = 0.0


def pack_pages(
    front: Sequence[Unit], steps: Sequence[StepBlocks], frame: Box, style: PageStyle, said: Mapping[str, str]
) -> list[list[Block]]:
    """The blocks of each page, in order. Drawings are small throughout where that saves a page."""
    full = _pack(front, steps, frame, style, said)
    small = _pack(front, [_use_small(step) for step in steps], frame, style, said)
    return small if len(small) < len(full) else full


def _use_small(step: StepBlocks) -> StepBlocks:
    """The second size of its drawing in place of the first."""
    return replace(
        step, drawings=(*step.drawings[1:2], *step.drawings[1:]), beside=(*step.beside[1:2], *step.beside[1:])
    )


def join_pages(pages: Sequence[Sequence[Block]], frame: Box) -> list[Block]:
    """The pages one after the other; a gap as high as a page turns it."""
    return [block for place, page in enumerate(pages) for block in (*([Gap(frame.height)] if place else []), *page)]


def _pack(
    front: Sequence[Unit], steps: Sequence[StepBlocks], frame: Box, style: PageStyle, said: Mapping[str, str]
) -> list[list[Block]]:
    packed = _Pages(frame=frame, style=style)
    for unit in front:
        _add_unit(packed, unit)
    plain = "" if any(step.group for step in steps) else said["steps_title"]
    headings = [_heading(steps, place, plain) for place in range(len(steps))]
    for place, step in enumerate(steps):
        following = place + 1 < len(steps)
        after = (*headings[place + 1], *_whole(steps[place + 1], is_small=True)) if following else ()
        _add_step(packed, step, headings[place], after, said)
    return packed.pages


def _heading(steps: Sequence[StepBlocks], place: int, plain: str) -> Unit:
    """A heading where the group of steps changes; without groups one before the first step."""
    before = steps[place - 1].group if place else ""
    title = steps[place].group if steps[place].group != before else "" if place else plain
    return (Heading(title, 2),) if title else ()


def _whole(step: StepBlocks, *, is_small: bool = False) -> Unit:
    return (Together(compose_step(step, len(step.units), 1 if is_small else 0)),)


def _add_unit(packed: _Pages, unit: Unit) -> None:
    """On this page where it fits, a closing table in part; else on the next one."""
    if packed.fits(unit):
        packed.add(unit)
        return
    *head, last = unit
    if isinstance(last, Table):
        for count in range(len(last.rows) - LEAST_ROWS, LEAST_ROWS - 1, -1):
            if packed.fits((*head, Table(last.columns, last.rows[:count]))):
                packed.add((*head, Table(last.columns, last.rows[:count])))
                packed.turn()
                packed.add((Table(last.columns, last.rows[count:]),))
                return
    packed.turn()
    packed.add(unit)


def _add_step(packed: _Pages, step: StepBlocks, heading: Unit, after: Unit, said: Mapping[str, str]) -> None:
    """Whole, its drawing small where the step after it fits too then; or in parts."""
    full, small = (*heading, *_whole(step)), (*heading, *_whole(step, is_small=True))
    if packed.fits(full) and (packed.fits((*full, *after)) or not packed.fits((*small, *after))):
        packed.add(full)
        return
    if packed.fits(small):
        packed.add(small)
        return
    left_mm = packed.frame.height - packed.filled_mm
    if left_mm > EMPTY_SHARE * packed.frame.height and _add_parts(packed, step, heading, said):
        return
    packed.turn()
    if not packed.fits(small) and _add_parts(packed, step, heading, said):
        return
    packed.add(full if packed.fits((*full, *after)) or not packed.fits((*small, *after)) else small)


def _add_rest(packed: _Pages, step: StepBlocks, count: int, said: Mapping[str, str]) -> None:
    """The units after the first `count` on a fresh page, whole with their drawing where that fits."""
    rest = compose_rest(step, count, said)
    if packed.fits((Together(rest),)):
        packed.add((Together(rest),))
        return
    packed.add(rest[:1])
    for unit in (step.again[count], *step.units[count + 1 :], step.tail):
        _add_unit(packed, unit)


def _add_parts(packed: _Pages, step: StepBlocks, heading: Unit, said: Mapping[str, str]) -> bool:
    """As many units as fit, the rest on the next page; False, and nothing added, when not even one fits."""
    counts = range(step.least_units, len(step.units))
    # Fewer units always fit where more do, so that halving finds the most.
    fitting = bisect_left(counts, True, key=lambda count: not _fit_part(packed, step, heading, count))
    if not fitting:
        return False
    count = counts[fitting - 1]
    packed.add((*heading, Together(_fit_part(packed, step, heading, count))))
    packed.turn()
    _add_rest(packed, step, count, said)
    return True


def _fit_part(packed: _Pages, step: StepBlocks, heading: Unit, count: int) -> Unit:
    """The first so many units with the largest drawing that fits the open page; empty where none does, or where too
    little is left for the next page."""
    rest = [block for unit in step.units[count:] for block in unit]
    if flow_height_mm(rest, packed.frame.width, packed.style) < LEAST_PART_MM:
        return ()
    found = (compose_step(step, count, size) for size in range(3))
    return next((unit for unit in found if packed.fits((*heading, Together(unit)))), ())
