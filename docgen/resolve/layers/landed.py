"""What lies under a stitch line besides the partners of its seam: pieces that land on a partner."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from docgen.geometry.inset import inset_run
from docgen.geometry.measure import distance_to_path, is_inside
from docgen.geometry.path import path_length, points_at, transform_path
from docgen.geometry.shapes import GeometryError, Path, Point
from docgen.geometry.vector import translation
from docgen.resolve.layers.fittings import move_to_landed
from docgen.resolve.layers.layer import Layer
from docgen.resolve.layers.stack import layers_at, point_mm, sum_layers
from docgen.resolve.marks import Landing
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, SeamSide, Stitch

LOOK_EVERY_MM = 1.0  # along a stitch line; where a landing begins and ends is found to half of it
ON_EDGE_MM = 0.01  # a stitch line along the very edge of a landing does not go through it


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A partner at one point of its stitch line: its own thickness, and that of each piece landed there, in mm."""

    base_mm: float
    landed_mm: Mapping[str, float]

    @property
    def all_mm(self) -> float:
        return self.base_mm + sum(self.landed_mm.values())


def add_landings(seam: Seam, parts: Parts) -> Seam:
    """The seam with what lands under its stitch lines among the layers, and in the stack."""
    if len(seam.layers) != len(seam.sides):
        return seam
    layers: list[Layer] = []
    sums: list[Layer] = []
    landed: list[str] = []
    for side, layer in zip(seam.sides, seam.layers, strict=True):
        spots = _look_along(seam, side, parts)
        names = dict.fromkeys(name for spot in spots for name in spot.landed_mm)
        layers += [layer, *(_landed_layer(name, spots, parts) for name in names)]
        sums.append(_as_layer(layer, [spot.all_mm for spot in spots]) if names else layer)
        landed += max(spots, key=lambda spot: spot.all_mm).landed_mm if names else ()
    return replace(sum_layers(seam, sums), layers=tuple(layers), landed=tuple(dict.fromkeys(landed)))


def _landed_layer(name: str, spots: Iterable[Spot], parts: Parts) -> Layer:
    layer = Layer(part=name, material=parts.pieces[name].material, thickness_mm=0.0)
    return _as_layer(layer, [spot.landed_mm.get(name, 0.0) for spot in spots])


def _as_layer(layer: Layer, found_mm: Iterable[float]) -> Layer:
    """The layer as thick as it was found along the line: mostly, and at its least and most."""
    counts = Counter(round(mm, 6) for mm in found_mm)
    ((usual_mm, _),) = counts.most_common(1)
    return replace(layer, thickness_mm=usual_mm, thinnest_mm=min(counts), thickest_mm=max(counts))


def _look_along(seam: Seam, side: SeamSide, parts: Parts) -> list[Spot]:
    """The spots of one partner, on every row; none where nothing lands on it but partners of the seam."""
    partners = {other.part for other in seam.sides}
    found = []
    for piece in parts.strips(side.part):
        others = [it for it in piece.marks.landings if it.piece not in partners and it.piece in parts.pieces]
        if others:
            lines = [*_lines_on(piece, side, seam, parts)]
            found += [_look(piece, others, at, parts) for line in lines for at in _points_on(line)]
    return found


def _lines_on(piece: Piece, side: SeamSide, seam: Seam, parts: Parts) -> Iterator[Path]:
    """Its own stitch lines; where it lies flat beneath, those of the partners that land on it."""
    stitch = parts.stitches[seam.stitch]
    if side.edges:
        yield from _rows(piece, side.edges, stitch)
        return
    edges = {other.part: other.edges for other in seam.sides if other.edges}
    for landing in piece.marks.landings:
        if landing.piece in edges and landing.piece in parts.pieces:
            move = translation(landing.dx_mm, landing.dy_mm)
            for line in _rows(parts.pieces[landing.piece], edges[landing.piece], stitch):
                yield transform_path(line, move)


def _rows(piece: Piece, edges: tuple[str, ...], stitch: Stitch) -> Iterator[Path]:
    """Each row of the stitch; rows that do not fit are told where the lines are drawn."""
    for row in range(stitch.rows):
        try:
            yield inset_run(piece.outline, edges, stitch.inset_mm + row * stitch.row_gap_mm)
        except GeometryError:
            return


def _points_on(line: Path) -> list[Point]:
    """The middles of equal short parts of a line, so that its very ends, which may lie on an edge, are left out."""
    length_mm = path_length(line)
    count = max(1, math.ceil(length_mm / LOOK_EVERY_MM))
    ends = [length_mm * step / count for step in range(count + 1)]
    return [at for at, _ in points_at(line, ((a + b) / 2 for a, b in pairwise(ends)))]


def _look(piece: Piece, landings: Iterable[Landing], at: Point, parts: Parts) -> Spot:
    landed: dict[str, float] = {}
    for landing in landings:
        if is_inside(landing.outline, at) and distance_to_path(landing.outline, at) > ON_EDGE_MM:
            layers = layers_at(parts.pieces[landing.piece], move_to_landed(at, landing), parts)
            there_mm = sum(layer.thickness_mm for layer in layers)
            landed[landing.piece] = landed.get(landing.piece, 0.0) + there_mm
    return Spot(base_mm=point_mm(piece, at, parts), landed_mm=landed)
