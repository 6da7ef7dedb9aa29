"""Layers that lie on each other, each as thick as skiving leaves it there: of seams, joints, and at a point."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from docgen.geometry.measure import is_inside
from docgen.geometry.outline import edge_names, edge_path, outline_path
from docgen.geometry.path import path_length
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, dot, scale, subtract, turn_left, unit
from docgen.resolve.layers.layer import Layer
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.positions import WHOLE
from docgen.resolve.seams.joins import joint_ends
from docgen.resolve.seams.seam import Join, Seam, SeamSide
from docgen.tables.strength import seam_strength_n


def stack_seam(seam: Seam, parts: Parts) -> Seam:
    """The seam with its layers, their stack, and what the thread carries."""
    stitch = parts.stitches[seam.stitch]
    found = [_seam_layer(side, stitch.inset_mm, parts) for side in seam.sides]
    layers = tuple(layer for layer in found if layer is not None)
    strength_n = seam_strength_n(seam.stitches * stitch.rows, stitch.thread_strength_n, stitch.type)
    return replace(sum_layers(seam, layers), layers=layers, strength_n=strength_n)


def sum_layers(seam: Seam, layers: Iterable[Layer]) -> Seam:
    """The seam with the sum of these layers as its stack: mostly, and at its thinnest and thickest place."""
    listed = tuple(layers)
    return replace(
        seam,
        stack_mm=sum(layer.thickness_mm for layer in listed),
        thinnest_mm=sum(layer.least_mm for layer in listed),
        thickest_mm=sum(layer.most_mm for layer in listed),
    )


def whole_layer(name: str, parts: Parts) -> Layer | None:
    """A part as one layer, unskived; None when there is no such part."""
    if name in parts.straps:
        strap = parts.straps[name]
        return Layer(part=name, material=strap.material, thickness_mm=strap.thickness_mm)
    strips = parts.strips(name)
    if not strips:
        return None
    thickest = max(strips, key=parts.full_mm)
    return Layer(part=name, material=thickest.material, thickness_mm=parts.full_mm(thickest))


def _seam_layer(side: SeamSide, inset_mm: float, parts: Parts) -> Layer | None:
    """One partner of a seam as a layer: as thick as it is along most of its stitch line."""
    whole = whole_layer(side.part, parts)
    if whole is None or not side.edges or side.part in parts.straps:
        return whole
    join = parts.joins.get(side.part)
    strips = [parts.pieces[name] for name in (join.pieces if join else (side.part,)) if name in parts.pieces]
    runs = [run for strip in strips for run in _edge_runs(strip, side.edges, inset_mm, parts.full_mm(strip))]
    thicknesses = [thickness_mm for _, thickness_mm in runs]
    usual = max(set(thicknesses), key=lambda mm: sum(run for run, thick in runs if thick == mm))
    thicknesses += [joint_mm(join, parts)] if join else []
    return replace(whole, thickness_mm=usual, thinnest_mm=min(thicknesses), thickest_mm=max(thicknesses))


def _edge_runs(piece: Piece, edges: Iterable[str], inset_mm: float, full_mm: float) -> list[tuple[float, float]]:
    """Length and thickness of each edge, `inset_mm` in from it."""
    names = edge_names(piece.outline) if WHOLE in edges else [*edges]
    return [(path_length(edge_path(piece.outline, name)), edge_mm(piece, name, inset_mm, full_mm)) for name in names]


def edge_mm(piece: Piece, edge: str, inset_mm: float, full_mm: float) -> float:
    """Thickness `inset_mm` in from an edge: what a skived band leaves there, else the whole."""
    left = [
        skive.to_mm
        for skive in piece.marks.skives
        if inset_mm < skive.width_mm and not {edge, WHOLE}.isdisjoint(skive.edges.split())
    ]
    return min([full_mm, *left])


def joint_mm(join: Join, parts: Parts) -> float:
    """The thickest joint of a join: two ends over each other. A band narrower than the overlap thins only a part."""
    if not all(name in parts.pieces for name in join.pieces):
        return 0.0
    ends = joint_ends(join, parts.pieces)
    thick = {
        name: max(_end_mm(parts.pieces[name], end, join.overlap_mm, parts) for end in found)
        for name, found in ends.items()
    }
    pairs = pairwise((*join.pieces, *(join.pieces[:1] if join.is_ring else ())))
    return max((thick[first] + thick[second] for first, second in pairs), default=0.0)


def _end_mm(strip: Piece, end: str, overlap_mm: float, parts: Parts) -> float:
    return edge_mm(strip, end, overlap_mm - 0.5, parts.full_mm(strip))


def layers_at(piece: Piece, at: Point, parts: Parts) -> tuple[Layer, ...]:
    """The layers of one piece at a point: itself, and what of it is folded over onto that point."""
    spots = [at, *folded_spots(piece, at)]
    return tuple(
        Layer(part=piece.name, material=piece.material, thickness_mm=point_mm(piece, spot, parts)) for spot in spots
    )


def folded_spots(piece: Piece, at: Point) -> tuple[Point, ...]:
    """Points of the piece that come to lie on `at` when each of its folds is turned right over."""
    spots = (_mirror(at, fold.start, fold.end) for fold in piece.marks.folds if not fold.is_open)
    return tuple(spot for spot in spots if is_inside(outline_path(piece.outline), spot))


def _mirror(at: Point, start: Point, end: Point) -> Point:
    across = turn_left(unit(subtract(end, start)))
    return add(at, scale(across, -2 * dot(subtract(at, start), across)))


def point_mm(piece: Piece, at: Point, parts: Parts) -> float:
    """Thickness of a piece at a point, after skiving."""
    left = [skive.to_mm for skive in piece.marks.skives if is_inside(skive.band, at)]
    return min([parts.full_mm(piece), *left])


def find_leather_stitches(parts: Parts) -> frozenset[str]:
    """Names of the stitches that go through leather anywhere."""
    used = [(seam.stitch, layer.material) for seam in parts.seams for layer in seam.layers]
    used += [(join.stitch, strip.material) for join in parts.joins.values() for strip in parts.strips(join.name)]
    used += [(strap.stitch, strap.material) for strap in parts.straps.values()]
    leather = {name for name, material in parts.materials.items() if material.kind == "leather"}
    return frozenset(stitch for stitch, material in used if stitch and material in leather)
