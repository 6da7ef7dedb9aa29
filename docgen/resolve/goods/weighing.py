"""Weight of the finished piece: areas by thickness and density, and the hardware."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.geometry import outline_path, path_area
from docgen.resolve.build import Hardware, Material, Strap, Weight
from docgen.resolve.piece import Piece


def piece_volume_mm3(piece: Piece, thickness_mm: float) -> float:
    """Volume of one piece, less what is skived away; bands that lie over each other count twice."""
    skived = sum(abs(path_area(skive.band)) * max(thickness_mm - skive.to_mm, 0.0) for skive in piece.marks.skives)
    return path_area(outline_path(piece.outline)) * thickness_mm - skived


def weigh(
    pieces: tuple[Piece, ...],
    straps: tuple[Strap, ...],
    materials: Mapping[str, Material],
    hardware: tuple[Hardware, ...],
) -> tuple[tuple[Weight, ...], tuple[str, ...]]:
    """Weight of each material and each kind of hardware in one make, and the hardware whose weight is not said.

    Thread, cement and finish are left out: they are within what the density is out.
    """
    grams: dict[str, float] = dict.fromkeys(materials, 0.0)
    for piece in [*pieces, *(strap.piece for strap in straps)]:
        if piece.material in materials:
            material = materials[piece.material]
            volume_mm3 = piece.cut * piece_volume_mm3(piece, material.thickness_mm)
            grams[material.name] += volume_mm3 * material.density_g_cm3 / 1000
    for strap in straps:
        if strap.lining in materials:
            lining = materials[strap.lining]
            volume_mm3 = strap.cut * strap.width_mm * strap.lining_length_mm * lining.thickness_mm
            grams[lining.name] += volume_mm3 * lining.density_g_cm3 / 1000
    weights = [Weight(name=name, grams=weight) for name, weight in grams.items() if weight > 0]
    weights += [Weight(name=item.name, grams=item.count * item.weight_g) for item in hardware if item.weight_g]
    return tuple(weights), tuple(item.name for item in hardware if not item.weight_g)
