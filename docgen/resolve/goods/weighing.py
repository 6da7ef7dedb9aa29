"""Weight of the finished piece: areas by thickness and density, and the hardware."""

from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_area
from docgen.resolve.goods.values import Weight
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece


def piece_volume_mm3(piece: Piece, thickness_mm: float) -> float:
    """Volume of one piece, less what is skived away; bands that lie over each other count twice."""
    skived = sum(abs(path_area(skive.band)) * max(thickness_mm - skive.to_mm, 0.0) for skive in piece.marks.skives)
    return path_area(outline_path(piece.outline)) * thickness_mm - skived


def weigh(parts: Parts) -> tuple[tuple[Weight, ...], tuple[str, ...]]:
    """Weight of each material, each kind of hardware and all goods by length in one make, these as they are cut; and what
    is left out: hardware and goods by length whose weight is not said.

    Thread, cement and finish are left out: they are within what the density is out.
    """
    grams: dict[str, float] = dict.fromkeys(parts.materials, 0.0)

    def add(name: str, volume_mm3: float) -> None:
        grams[name] += volume_mm3 * parts.materials[name].density_g_cm3 / 1000

    for piece in (*parts.pieces.values(), *(strap.piece for strap in parts.straps.values())):
        if piece.material in parts.materials:
            add(piece.material, piece.cut * piece_volume_mm3(piece, parts.full_mm(piece)))
    for strap in parts.straps.values():
        if strap.lining in parts.materials:
            thickness_mm = parts.materials[strap.lining].thickness_mm
            add(strap.lining, strap.cut * strap.lining_area_mm2 * thickness_mm)
        if strap.padding in parts.materials:
            area_mm2 = strap.padding_width_mm * strap.padding_length_mm
            add(strap.padding, strap.cut * area_mm2 * parts.materials[strap.padding].thickness_mm)
    hardware = parts.hardware.values()
    weights = [Weight(name=name, grams=weight) for name, weight in grams.items() if weight > 0]
    weights += [Weight(name=item.name, grams=item.count * item.weight_g) for item in hardware if item.weight_g]
    for item in parts.trimmings.values():
        grams_cut = item.weight_g_mm * sum(cut.count * cut.length_mm for cut in item.cuts)
        weights += [Weight(name=item.name, grams=grams_cut)] if grams_cut else []
    unweighed = [item.name for item in hardware if not item.weight_g]
    unweighed += [item.name for item in parts.trimmings.values() if not item.weight_g_mm]
    return tuple(weights), tuple(unweighed)
