"""Piece specs -> outlines: shapes from sizes, models followed through `like`, mirror and inset.

A size may be "solve": its length is then looked up in `solved`, by the name of the piece that says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from docgen.geometry import (
    Corner,
    GeometryError,
    Outline,
    Point,
    circle_outline,
    corner_outline,
    inset_outline,
    mirror_outline,
    rectangle_outline,
    strip_outline,
)
from docgen.problems import suggest
from docgen.read import NamedLength, PieceSpec, PointSpec, Value
from docgen.resolve.values import Reader, words

OPEN = "solve"
_CORNERS = {
    "rectangle": ("bottom-left", "bottom-right", "top-right", "top-left"),
    "strip": ("start-left", "start-right", "end-right", "end-left"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A piece with its model followed: which spec gives shape and size, and the changes on top, first one first."""

    name: str
    spec: PieceSpec
    shape: PieceSpec  # gives kind of shape
    size: PieceSpec  # gives size, diameter or points
    round: PieceSpec  # gives corner radii
    chain: tuple[PieceSpec, ...]  # from the first model to the piece itself
    material: Value[str] | None


def find_recipes(reader: Reader, pieces: tuple[PieceSpec, ...]) -> dict[str, Recipe]:
    """Recipes of all pieces that have a shape, by name; pieces without one are noted and left out."""
    by_name = {piece.name: piece for piece in pieces}
    recipes = {}
    for piece in pieces:
        chain = _follow_models(reader, piece, by_name)
        recipe = _make_recipe(reader, piece, chain) if chain else None
        if recipe is not None:
            recipes[piece.name] = recipe
    return recipes


def _follow_models(
    reader: Reader, piece: PieceSpec, by_name: Mapping[str, PieceSpec]
) -> tuple[PieceSpec, ...]:
    chain = [piece]
    while (model := chain[0].like) is not None:
        if model.value in {spec.name for spec in chain}:
            names = " -> ".join([spec.name for spec in reversed(chain)] + [model.value])
            reader.error(
                model.place,
                f"pieces are like each other in a circle: {names}",
                "give one of them a shape of its own",
            )
            return ()
        chain.insert(0, by_name[model.value])
    return tuple(chain)


def _make_recipe(reader: Reader, piece: PieceSpec, chain: tuple[PieceSpec, ...]) -> Recipe | None:
    shape = _last(chain, "shape")
    material = next((spec.of for spec in reversed(chain) if spec.of is not None), None)
    if shape is None:
        if len(chain) == 1 and "shape" not in piece.wrong:
            reader.error(
                piece.place,
                f'the piece "{piece.name}" has no shape',
                'add shape = "rectangle" and a size, or like = another piece',
            )
        return None
    if material is None and not any("of" in spec.wrong for spec in chain):
        reader.error(
            piece.place, f'the piece "{piece.name}" has no material', "add of = the name of a material"
        )
    kind = words(shape.shape)
    sized = _last(chain, {"circle": "diameter", "outline": "points"}.get(kind, "size"))
    return Recipe(
        name=piece.name, spec=piece, shape=shape, size=sized or shape, round=_last(chain, "round") or shape,
        chain=chain, material=material,
    )  # fmt: skip


def _last(chain: tuple[PieceSpec, ...], field: str) -> PieceSpec | None:
    return next((spec for spec in reversed(chain) if getattr(spec, field)), None)


def _is_wrong(recipe: Recipe, key: str) -> bool:
    """True when the key was written and could not be read, which has been noted already."""
    return any(key in spec.wrong for spec in recipe.chain)


def open_piece(recipe: Recipe) -> str:
    """Name of the piece whose "solve" this one's length hangs on; empty when its size is known."""
    return recipe.size.name if any(value.value.strip() == OPEN for value in recipe.size.size) else ""


def make_outline(reader: Reader, recipe: Recipe, solved: Mapping[str, float]) -> Outline | None:
    """The shape as first drawn, before mirror and inset; None when it cannot be made (noted)."""
    makers = {"circle": _make_circle, "outline": _make_polygon}
    kind = words(recipe.shape.shape)
    try:
        if kind in makers:
            return makers[kind](reader, recipe)
        return _make_box(reader, recipe, kind, solved)
    except GeometryError as error:
        reader.error(
            recipe.size.place,
            f'the piece "{recipe.name}" cannot be drawn: {error}',
            "check its sizes and corners",
        )
        return None


def _make_box(reader: Reader, recipe: Recipe, kind: str, solved: Mapping[str, float]) -> Outline | None:
    if len(recipe.size.size) != 2:
        if not _is_wrong(recipe, "size"):
            reader.error(
                recipe.spec.place, f'the piece "{recipe.name}" has no size', 'add size = ["width", "height"]'
            )
        return None
    sides = [
        solved.get(recipe.size.name) if value.value.strip() == OPEN else reader.length(value)
        for value in recipe.size.size
    ]
    radii = read_radii(reader, recipe.round.round, _CORNERS[kind])
    if sides[0] is None or sides[1] is None or radii is None:
        return None
    make = rectangle_outline if kind == "rectangle" else strip_outline
    return make(sides[0], sides[1], radii)


def read_radii(
    reader: Reader, written: tuple[NamedLength, ...], corners: tuple[str, ...]
) -> dict[str, float] | None:
    """Radius of each corner that has one; None when any cannot be read (noted)."""
    radii: dict[str, float] = {}
    good = True
    for item in written:
        if item.name and item.name not in corners:
            mend = suggest(item.name, corners) or "corners here: " + ", ".join(corners)
            reader.error(item.length.place, f'there is no corner "{item.name}" on this piece', mend)
            good = False
            continue
        radius_mm = reader.length(item.length, zero=True)
        if radius_mm is None:
            good = False
        elif radius_mm > 0:
            radii.update(dict.fromkeys([item.name] if item.name else corners, radius_mm))
    return radii if good else None


def _make_circle(reader: Reader, recipe: Recipe) -> Outline | None:
    diameter_mm = reader.length(recipe.size.diameter)
    if recipe.size.diameter is None and not _is_wrong(recipe, "diameter"):
        reader.error(recipe.spec.place, f'the piece "{recipe.name}" has no diameter', 'add diameter = "3 in"')
    return None if diameter_mm is None else circle_outline(diameter_mm)


def _make_polygon(reader: Reader, recipe: Recipe) -> Outline | None:
    if not recipe.size.points and not _is_wrong(recipe, "points"):
        reader.error(
            recipe.spec.place,
            f'the piece "{recipe.name}" has no points',
            'add points = [{ at = ["0", "0"] }, ...]',
        )
        return None
    corners = [_read_corner(reader, point) for point in recipe.size.points]
    if _is_wrong(recipe, "points"):
        return None
    known = [corner for corner in corners if corner is not None]
    return corner_outline(known) if len(known) == len(corners) else None


def _read_corner(reader: Reader, point: PointSpec) -> Corner | None:
    at = [reader.any_length(value) for value in point.at]
    curve = [reader.any_length(value) for value in point.curve]
    radius_mm = reader.length(point.round, zero=True) if point.round is not None else 0.0
    numbers = [number for number in [*at, *curve] if number is not None]
    if len(at) != 2 or len(numbers) != len(at) + len(curve) or radius_mm is None:
        return None
    handles = (Point(*numbers[2:4]), Point(*numbers[4:6])) if len(curve) == 4 else None
    return Corner(
        at=Point(numbers[0], numbers[1]), name=point.name.value if point.name else "", radius=radius_mm,
        edge=point.edge.value if point.edge else "", handles=handles,
    )  # fmt: skip


def change_outline(reader: Reader, recipe: Recipe, outline: Outline) -> Outline | None:
    """The outline after the mirrors and insets of the whole chain."""
    changed: Outline | None = outline
    for spec in recipe.chain:
        if changed is not None:
            changed = apply_change(reader, spec, changed)
    return changed


def apply_change(reader: Reader, spec: PieceSpec, outline: Outline) -> Outline | None:
    """The outline after one piece's own mirror and inset; None when the inset cannot be made (noted)."""
    if spec.mirror is not None and spec.mirror.value:
        outline = mirror_outline(outline)
    if spec.inset is None:
        return outline
    inset_mm = reader.any_length(spec.inset)
    if inset_mm is None:
        return None
    if inset_mm == 0:
        return outline
    try:
        return inset_outline(outline, inset_mm)
    except GeometryError as error:
        reader.error(
            spec.inset.place, f'"{spec.name}" cannot be that much smaller: {error}', "use a smaller inset"
        )
        return None
