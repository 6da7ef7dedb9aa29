"""A piece as it is cut: its outline and everything marked on it, in its own coordinates, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from docgen.geometry.measure import chords
from docgen.geometry.outline import outline_box, outline_path, transform_outline
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Outline, Path, Point
from docgen.geometry.vector import mirror_x
from docgen.problems import Place
from docgen.resolve.marks import Marks, Move, PieceLine
from docgen.told import told, untold

_WAYS = {"up": Point(0.0, 1.0), "across": Point(1.0, 0.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece to cut: `cut` counts all of one make, half of them mirrored when `is_pair`. `centre_lines` holds "up"
    and "across"; `least_stretch` is the way the leather must stretch least, "up", "across", or empty."""

    name: str = untold()
    title: str = told("title")
    material: str = told("cut from")
    cut: int = told("number to cut", "count")
    is_pair: bool = told("half of them mirrored")
    shape: str = untold()
    outline: Outline = untold()
    marks: Marks = untold(default=Marks())
    centre_lines: tuple[str, ...] = told("centre lines", default=())
    least_stretch: str = told("least stretch", default="")
    note: str = told("note", default="")
    place: Place = untold(default=Place())
    is_strap: bool = untold(default=False)
    is_solved: bool = untold(default=False)

    def with_marks(self, **marks: tuple[Any, ...]) -> Piece:
        """The piece with other marks of some kinds, each by its field of `Marks`."""
        return replace(self, marks=replace(self.marks, **marks))

    def turned_over(self) -> Piece:
        """The piece with everything on it mirrored about its upright middle; its edges keep their names."""
        move = mirror_x(outline_box(self.outline).centre.x)
        return replace(self, outline=transform_outline(self.outline, move), marks=self.marks.moved(Move(move)))


class PlainLine(NamedTuple):
    """A line on a piece that is no mark: "centre" through its middle, "cut" for its outline."""

    kind: str
    key: str
    path: Path


def lines_of(piece: Piece) -> Iterator[PieceLine]:
    """Everything that is drawn on a piece, in the order it is drawn: its marks, its centre lines, its outline."""
    yield from piece.marks
    shape = outline_path(piece.outline)
    for way in piece.centre_lines:
        for start, end in chords(shape, outline_box(piece.outline).centre, _WAYS[way]):
            yield PlainLine("centre", way, polyline((start, end)))
    yield PlainLine("cut", "", shape)
