"""Folds and rows across a piece that changed its size, by their distance from its sides, as they are marked out."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.path import end_point, start_point
from docgen.geometry.shapes import Box, Point
from docgen.resolve import Piece, StitchLine
from docgen.versions.compared.alike import SLACK_MM, is_near, take_pairs, tell_alone
from docgen.versions.compared.changes import Fact

MIDDLE: Final = "middle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A line that runs level with two sides of its piece: `sides_mm` are their names and how far it lies from each;
    `measured` the sides that it may be measured from, or the middle."""

    name: str
    sides_mm: tuple[tuple[str, float], tuple[str, float]]
    measured: tuple[str, ...]

    def from_mm(self, side: str) -> float:
        """Distance from a side; from the middle, with a sign."""
        (_, first_mm), (_, second_mm) = self.sides_mm
        return dict(self.sides_mm).get(side, (first_mm - second_mm) / 2)


def compare_levels(before: Piece, after: Piece) -> list[Fact]:
    """Folds, and on strips the rows across them (of joints, and at their ends), that were added, removed, or lie at
    another distance from the side they are measured from."""
    old, new = list(_list_levels(before)), list(_list_levels(after))
    take_pairs(old, new, _is_kept)
    moved = take_pairs(old, new, lambda level, other: _names_sides(other) == _names_sides(level))
    facts = [_tell_moved(level, other) for level, other in moved]
    return facts + tell_alone((level.name for level in old), (level.name for level in new))


def _names_sides(level: Level) -> tuple[str, str, str]:
    return (level.name, level.sides_mm[0][0], level.sides_mm[1][0])


def _is_kept(before: Level, after: Level) -> bool:
    if _names_sides(before) != _names_sides(after):
        return False
    both = set(before.measured) & set(after.measured) or {side for side, _ in before.sides_mm}
    return any(is_near(before.from_mm(side), after.from_mm(side)) for side in both)


def _tell_moved(before: Level, after: Level) -> Fact:
    """From the side it is measured from now; from the far one, top or right, where that is the middle."""
    side = next((side for side in after.measured if side != MIDDLE), after.sides_mm[1][0])
    return Fact(f"{after.name}, from {side}", before.from_mm(side), after.from_mm(side), "length")


def _list_levels(piece: Piece) -> Iterator[Level]:
    box = outline_box(piece.outline)
    for fold in piece.marks.folds:
        sides_mm = _find_sides(piece, box, fold.start, fold.end)
        if sides_mm is not None:
            near = tuple(side for side, mm in sides_mm if fold.turned_mm and is_near(mm, fold.turned_mm))
            yield Level(name=f"fold {fold.note}".strip(), sides_mm=sides_mm, measured=near or (MIDDLE,))
    if piece.shape == "strip":
        yield from _list_rows(piece, box, piece.marks.stitch_lines)


def _list_rows(piece: Piece, box: Box, lines: Iterable[StitchLine]) -> Iterator[Level]:
    for line in lines:
        start, end = start_point(line.path), end_point(line.path)
        sides_mm = _find_sides(piece, box, start, end) if len(line.path.segments) == 1 else None
        if sides_mm is not None and sides_mm[0][0] == "start":
            side, _ = min(sides_mm, key=lambda item: item[1])
            row = f" row {line.row + 1}" if line.row else ""
            yield Level(name=f"stitch line {line.seam}{row} at the {side}", sides_mm=sides_mm, measured=(side,))


def _find_sides(piece: Piece, box: Box, start: Point, end: Point) -> tuple[tuple[str, float], tuple[str, float]] | None:
    """The sides that a line runs level with, and how far it lies from them, mm; None for a slanting line."""
    low, high = ("start", "end") if piece.shape == "strip" else ("bottom", "top")
    if abs(start.y - end.y) <= SLACK_MM:
        return (low, start.y - box.bottom), (high, box.top - start.y)
    if abs(start.x - end.x) <= SLACK_MM:
        return ("left", start.x - box.left), ("right", box.right - start.x)
    return None


def is_level(piece: Piece, ends: Sequence[Point]) -> bool:
    """Whether a line is told by its distance from the sides."""
    return _find_sides(piece, outline_box(piece.outline), ends[0], ends[1]) is not None
