"""What to cut, and how much material that takes."""

from __future__ import annotations

from docgen.geometry import outline_box, outline_path, path_area
from docgen.plan.plan import CutItem, HardwareItem, MaterialPlan, StrapItem
from docgen.resolve import Build, Hole, Material, Piece, Strap
from docgen.tables.material import find_gross_mm2
from docgen.units import Show, format_length


def plan_materials(build: Build) -> tuple[MaterialPlan, ...]:
    """One entry per material that something is cut from, in the order of the spec; largest pieces first."""
    plans = [_plan_material(build, material) for material in build.materials]
    return tuple(plan for plan in plans if plan.straps or plan.items)


def _plan_material(build: Build, material: Material) -> MaterialPlan:
    straps = [_strap_item(strap, build.makes) for strap in build.straps if strap.material == material.name]
    items = [_cut_item(piece, build) for piece in build.pieces if piece.material == material.name]
    straps.sort(key=lambda item: -item.strap.cut_length_mm)
    items.sort(key=lambda item: -item.area_mm2)
    net_mm2 = sum(strap.area_mm2 * strap.count for strap in straps) + sum(
        item.area_mm2 * item.count for item in items
    )
    gross_mm2 = find_gross_mm2(net_mm2, material.waste)
    sizes = [(item.width_mm, item.height_mm) for item in items]
    sizes += [(item.strap.width_mm, item.strap.cut_length_mm) for item in straps]
    return MaterialPlan(
        material=material, straps=tuple(straps), items=tuple(items), net_mm2=net_mm2, gross_mm2=gross_mm2,
        run_mm=_run_mm(material, gross_mm2, sizes),
    )  # fmt: skip


def _run_mm(material: Material, gross_mm2: float, sizes: list[tuple[float, float]]) -> float:
    """Running length to buy: by area, and at least what the worst piece takes when it lies as well as it
    can."""
    if not material.roll_width_mm:
        return 0.0
    needed = [min(size) if max(size) <= material.roll_width_mm else max(size) for size in sizes]
    return max([gross_mm2 / material.roll_width_mm, *needed])


def _strap_item(strap: Strap, makes: int) -> StrapItem:
    area_mm2 = path_area(outline_path(strap.piece.outline))
    return StrapItem(strap=strap, count=strap.cut * makes, area_mm2=area_mm2)


def _cut_item(piece: Piece, build: Build) -> CutItem:
    box = outline_box(piece.outline)
    return CutItem(
        name=piece.name, title=piece.title, count=piece.cut * build.makes, is_pair=piece.is_pair,
        shape=piece.shape,
        width_mm=box.width, height_mm=box.height, area_mm2=path_area(outline_path(piece.outline)),
        notes=_notes(piece, build.show),
    )  # fmt: skip


def _notes(piece: Piece, show: Show) -> tuple[str, ...]:
    notes = [
        f"skive {skive.edges} to {skive.to_words}, {format_length(skive.width_mm, show)} wide"
        for skive in piece.skives
    ]
    notes += hole_words(piece.holes, show)
    notes += ["length worked out from its seam"] if piece.is_solved else []
    return (*notes, *([piece.note] if piece.note else []))


def hole_words(holes: tuple[Hole, ...], show: Show) -> list[str]:
    """`4 holes, 3/16 in (4.8 mm)` for each size of punch, smallest first."""
    sizes = sorted({hole.diameter_mm for hole in holes})
    counts = [(size, sum(hole.diameter_mm == size for hole in holes)) for size in sizes]
    return [
        f"{count} {'hole' if count == 1 else 'holes'}, {format_length(size, show)}" for size, count in counts
    ]


def plan_hardware(build: Build) -> tuple[HardwareItem, ...]:
    """Hardware for the whole batch."""
    return tuple(HardwareItem(hardware=item, count=item.count * build.makes) for item in build.hardware)
