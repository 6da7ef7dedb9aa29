"""Rows of hems in doubt: they leave much of what is turned over loose, or miss the lining that the hem is turned over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble.assembled import Assembled
from docgen.assemble.goods import Goods
from docgen.classes import dataclass
from docgen.geometry.outline import WHOLE, outline_box
from docgen.resolve import Hem, Piece, Seam, SeamSide, Step, by_name
from docgen.tables.cautions import has_phrase
from docgen.tables.consumables import is_glue
from docgen.written.units.telling import format_length

LOOSE_MM = 15.0  # of a turned edge beyond its last row, that nothing else holds: our choice
LOOSE_TWICE_MM = 10.0  # of one that is turned twice, and is to be sewn along its inner fold: our choice
GLUED = ("glue", "glued", "cement", "cemented")


@dataclass(frozen=True, slots=True, kw_only=True)
class HemRow:
    """The row of a seam that holds a hem, in doubt: `first_mm` and `last_mm` from the fold, what is turned over; a lining
    that misses it, and how far from the fold that ends where both begin at the edge across."""

    seam: Seam
    side: SeamSide
    first_mm: float
    last_mm: float
    turned_mm: float
    lining: str = ""
    ends_mm: float = 0.0

    def tell(self, build: Assembled) -> str:
        """What is in doubt, in words."""
        first, last = (format_length(mm, build.show) for mm in (self.first_mm, self.last_mm))
        if self.lining:
            ends = format_length(self.ends_mm, build.show)
            return (
                f'"{self.seam.name}" lies {first} from the fold of "{self.side.part}", and "{self.lining}" under the hem '
                f"ends {ends} from it"
            )
        loose = format_length(self.turned_mm - self.last_mm, build.show)
        return (
            f'"{self.seam.name}" holds the hem of "{self.side.part}" {last} from its fold, and {loose} of what is turned '
            "over hang loose beyond it"
        )


def find_hem_rows(build: Assembled) -> tuple[HemRow, ...]:
    """The rows of hems that are in doubt, in the order of the work."""
    if not any(piece.hems for piece in build.pieces):
        return ()
    goods, seams = Goods(build), by_name(build.seams)
    found: dict[str, HemRow] = {}
    for once in build.assembly.sewn:
        for row in _rows_of(goods, seams[once.seam]):
            step = build.assembly.events[once.event].step
            steps = build.assembly.steps[step : step + 1]
            turned = [at for piece, at in build.assembly.turning if piece == row.side.part]
            steps += tuple(build.assembly.steps[at] for at in turned)
            if row.lining or not any(map(_is_glued, steps)):
                found.setdefault(once.seam, row)
    return tuple(found.values())


def _is_glued(step: Step) -> bool:
    """Whether a step glues for good: tape only holds until it is sewn."""
    tools = (tool for tool in step.tools if is_glue(tool) and not has_phrase(tool, "tape"))
    return any(tools) or any(has_phrase(step.do, phrase) for phrase in GLUED)


def _rows_of(goods: Goods, seam: Seam) -> Iterator[HemRow]:
    stitch = goods.stitches[seam.stitch]
    first_mm, last_mm = stitch.inset_mm, stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm
    beneath = [side.part for side in seam.sides if not side.edges]
    for side in (side for side in seam.sides if side.edges):
        piece = goods.pieces.get(side.part)
        linings = [part for part in beneath if part in goods.pieces and goods.covers(part, side.part)]
        if piece is None or not (linings or side.part in beneath):
            continue
        for hem in (hem for hem in piece.hems if WHOLE in hem.edges or {*side.edges} <= {*hem.edges}):
            row = HemRow(seam=seam, side=side, first_mm=first_mm, last_mm=last_mm, turned_mm=hem.turned_mm)
            for part in linings:
                ends_mm = _short_mm(piece, hem, goods.pieces[part])
                if ends_mm / 2 > first_mm:  # however it is laid, one of its ends is as far off
                    yield replace(row, lining=part, ends_mm=ends_mm)
            if hem.turned_mm - last_mm >= (LOOSE_TWICE_MM if hem.is_double else LOOSE_MM):
                yield row


def _short_mm(piece: Piece, hem: Hem, lining: Piece) -> float:
    """How much shorter a lining is than its piece, square to the fold of a hem."""
    fold = next((fold for fold in piece.marks.folds if fold.of_hem and fold.place == hem.place), None)
    if fold is None or WHOLE in hem.edges:
        return 0.0
    is_level = abs(fold.end.x - fold.start.x) > abs(fold.end.y - fold.start.y)
    boxes = [outline_box(one.sewn_outline) for one in (piece, lining)]
    sizes = [box.height if is_level else box.width for box in boxes]
    return max(sizes[0] - sizes[1], 0.0)
