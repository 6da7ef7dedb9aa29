"""A part as it is placed: its outline, folds, holes, and the lines on it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.between_folds import between_folds
from docgen.assemble.space.hem_rings import hem_rings
from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.path import end_point, flatten, part_of, path_length, polyline, start_point
from docgen.geometry.shapes import Box, Outline, Path, Point
from docgen.geometry.vector import Transform, transform_point
from docgen.resolve import Fold, Hole, Piece

AT_FOLD_MM = 1.0  # a row that begins no nearer to the cut end than its fold begins there, and less of one is none


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A line on a part: stitch, fold, slit or joint, with what it belongs to."""

    kind: str
    name: str
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip as it lies in its join."""

    piece: Piece
    move: Transform
    begin_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A part as it is placed: a piece between the folds of its hems, or a join as one strip. Of a strap that is sewn to
    itself `rolled` is the stretch that is round or lies double, by its ring; `inner_rows` are the seams whose row lies on
    the inner side alone."""

    part: str
    outline: Outline
    ring: tuple[Point, ...]
    box: Box
    is_inner: bool
    is_grain_out: bool
    folds: tuple[Fold, ...] = ()
    holes: tuple[Hole, ...] = ()
    strips: tuple[Strip, ...] = ()
    lines: tuple[Mark, ...] = ()
    is_ring: bool = False
    is_mirrored: bool = False
    rolled: tuple[Point, ...] = ()
    inner_rows: frozenset[str] = frozenset()

    def is_grain_in(self, fold: Fold) -> bool:
        """Whether a fold lays its grain side inside."""
        return fold.is_grain_in("grain" if self.is_grain_out else "flesh")

    @property
    def area_mm2(self) -> float:
        return self.box.width * self.box.height

    @property
    def sizes_mm(self) -> tuple[float, float]:
        """The short and the long side of the box round it."""
        low, high = sorted((self.box.width, self.box.height))
        return low, high

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Its lines, without its holes: of a join its stitch lines and joints."""
        return self.lines if self.lines or len(self.strips) > 1 else tuple(_marks(self.strips[0].piece))

    @property
    def hems(self) -> tuple[tuple[Point, ...], ...]:
        """What its hems turn over, as it lies back on it."""
        return tuple(
            tuple(transform_point(at, strip.move) for at in ring)
            for strip in self.strips
            for ring in hem_rings(strip.piece)
        )


def _marks(piece: Piece) -> Iterator[Mark]:
    for line in piece.marks.stitch_lines:
        yield Mark(kind="stitch", name=line.seam, path=between_folds(piece, line.path))
    yield from _turned_rows(piece) if piece.is_strap else ()
    for fold in piece.marks.folds:
        yield Mark(kind="fold", name=fold.around, path=fold.path)
    for slit in piece.marks.slits:
        yield Mark(kind="slit", name="", path=slit.path)


def _turned_rows(strap: Piece) -> Iterator[Mark]:
    """The rows of a strap that begin or end where a turned end lies back on it, on what lies back: they are sewn through
    both layers, from the bend to the cut end."""
    box = outline_box(strap.outline)
    rows = [line for line in strap.marks.stitch_lines if line.seam == strap.name]
    for line in rows:
        long_mm = path_length(line.path)
        for fold in strap.marks.folds:
            is_first = fold.start.y < box.centre.y
            cut_mm = box.bottom if is_first else box.top
            fold_mm = abs(fold.start.y - cut_mm)
            for at, is_start in ((start_point(line.path), True), (end_point(line.path), False)):
                from_cut_mm = abs(at.y - cut_mm)
                deep_mm = min(2 * fold_mm - from_cut_mm, long_mm)
                if (at.y < box.centre.y) == is_first and from_cut_mm > fold_mm - AT_FOLD_MM and deep_mm > AT_FOLD_MM:
                    from_mm = 0.0 if is_start else long_mm - deep_mm
                    there = flatten(part_of(line.path, from_mm, from_mm + deep_mm))
                    yield Mark(kind="stitch", name=line.seam, path=polyline([fold.across(spot) for spot in there]))
