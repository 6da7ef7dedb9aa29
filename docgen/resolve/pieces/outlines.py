"""Piece specs -> outlines: shapes from sizes, models followed through `like`, mirror and inset.

A size may be "solve": its length is then looked up in `solved`, by the name of the piece that says so.
"""

from collections.abc import Mapping
from dataclasses import replace

from docgen.classes import dataclass
from docgen.geometry.inset import inset_outline
from docgen.geometry.outline import (
    CORNERS,
    Corner,
    circle_outline,
    corner_outline,
    mirror_outline,
    rectangle_outline,
    strip_outline,
)
from docgen.geometry.shapes import GeometryError, Outline, Point, RoundedCurveError
from docgen.problems import Place, line_words, suggest
from docgen.read import Drawing, NamedLength, PieceSpec, PointSpec, Sketch, Value
from docgen.resolve.pieces.drawings import draw_sketches, make_drawn_outline
from docgen.resolve.values import OPEN, Reader, flag, where, words
from docgen.tables.defaults import CORNER_RADIUS_MM, IS_MIRRORED


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A piece with its model followed: which spec gives shape and size, and the changes on top, first one
    first."""

    name: str
    spec: PieceSpec
    shape: PieceSpec  # gives kind of shape
    size: PieceSpec  # gives size, diameter, points or drawing
    round: PieceSpec  # gives corner radii
    chain: tuple[PieceSpec, ...]  # from the first model to the piece itself
    material: Value[str] | None
    drawing: Drawing | None = None

    @property
    def owner(self) -> PieceSpec:
        """The spec nearest to the piece that gives some of its shape: what cannot be drawn is noted under
        its name, once for all pieces that are like it."""
        return max((self.shape, self.size, self.round), key=self.chain.index)


# Keys that give a size -> the shapes they belong to.
_KEY_SHAPES = {
    "size": ("rectangle", "strip"),
    "diameter": ("circle",),
    "points": ("outline",),
    "round": ("rectangle", "strip"),
    "file": ("drawing",),
    "element": ("drawing",),
    "scale": ("drawing",),
    "corners": ("drawing",),
    "drawn_holes": ("drawing",),
}


def find_recipes(
    reader: Reader, pieces: tuple[PieceSpec, ...], sketches: tuple[tuple[str, Sketch], ...] = ()
) -> dict[str, Recipe]:
    """Recipes of all pieces that have a shape, by name; pieces without one are noted and left out.

    `sketches`: the drawings, by the name of the piece that names them.
    """
    by_name = {piece.name: piece for piece in pieces}
    drawings = draw_sketches(reader, pieces, sketches)
    circles: set[frozenset[str]] = set()
    recipes = {}
    for piece in pieces:
        chain = _follow_models(reader, piece, by_name, circles)
        recipe = _make_recipe(reader, piece, chain) if chain else None
        if recipe is not None:
            recipes[piece.name] = replace(recipe, drawing=drawings.get(recipe.size.name))
    return recipes


def _follow_models(
    reader: Reader, piece: PieceSpec, by_name: Mapping[str, PieceSpec], circles: set[frozenset[str]]
) -> tuple[PieceSpec, ...]:
    """The piece behind its models, first model first; empty when they go round in a circle (noted once)."""
    chain = [piece]
    while (model := chain[-1].like) is not None:
        names = [spec.name for spec in chain]
        if model.value in names:
            circle = names[names.index(model.value) :]
            if frozenset(circle) not in circles:
                circles.add(frozenset(circle))
                what = f"pieces are like each other in a circle: {' -> '.join([*circle, model.value])}"
                reader.error(model.place, what, "give one of them a shape of its own")
            return ()
        if model.value not in by_name:
            return ()
        chain.append(by_name[model.value])
    return tuple(reversed(chain))


def _make_recipe(reader: Reader, piece: PieceSpec, chain: tuple[PieceSpec, ...]) -> Recipe | None:
    shape = _last(chain, "shape")
    material = next((spec.of for spec in reversed(chain) if spec.of is not None), None)
    is_model = len(chain) == 1 and "like" not in piece.wrong  # what a model lacks is noted there, not in its likes
    if material is None and is_model and "of" not in piece.wrong:
        reader.error(piece.place, f'the piece "{piece.name}" has no material', "add of = the name of a material")
    if shape is None:
        if is_model and "shape" not in piece.wrong:
            what = f'the piece "{piece.name}" has no shape'
            reader.error(piece.place, what, 'add shape = "rectangle" and a size, or like = another piece')
        return None
    kind = words(shape.shape)
    _check_keys(reader, piece, kind)
    sized = _last(chain, {"circle": "diameter", "outline": "points", "drawing": "file"}.get(kind, "size"))
    return Recipe(
        name=piece.name,
        spec=piece,
        shape=shape,
        size=sized or shape,
        round=_last(chain, "round") or shape,
        chain=chain,
        material=material,
    )


def _check_keys(reader: Reader, piece: PieceSpec, kind: str) -> None:
    """Sizes that the shape has no use for are noted: nothing that is written is passed over in silence."""
    for key, fitting in _KEY_SHAPES.items():
        place = where(getattr(piece, key))
        if place is not None and kind not in fitting:
            shapes = " or ".join(f'"{shape}"' for shape in fitting)
            what = f'"{key.replace("_", "-")}" has no meaning for the shape "{kind}" of "{piece.name}"'
            reader.error(place, what, f"leave it out, or write shape = {shapes}")


def _last(chain: tuple[PieceSpec, ...], field: str) -> PieceSpec | None:
    return next((spec for spec in reversed(chain) if getattr(spec, field)), None)


def _is_wrong(recipe: Recipe, key: str) -> bool:
    """True when the key was written and could not be read, which has been noted already."""
    return any(key in spec.wrong for spec in recipe.chain)


def open_piece(recipe: Recipe) -> str:
    """Name of the piece whose "solve" this one's length hangs on; empty when its size is known."""
    return recipe.size.name if is_upright(recipe) and any(map(is_open, recipe.size.size)) else ""


def is_upright(recipe: Recipe) -> bool:
    """True for a rectangle or a strip, whose lengths may be open."""
    return words(recipe.shape.shape) in CORNERS


def is_open(value: Value[str]) -> bool:
    """True for a size that a seam has to give."""
    return value.value.strip() == OPEN


def make_outline(reader: Reader, recipe: Recipe, solved: Mapping[str, float]) -> Outline | None:
    """The shape as first drawn, before mirror and inset; None when it cannot be made (noted)."""
    makers = {"circle": _make_circle, "outline": _make_polygon, "drawing": _make_drawn}
    kind = words(recipe.shape.shape)
    spoilt = _is_spoilt(recipe)
    try:
        made = makers[kind](reader, recipe) if kind in makers else _make_box(reader, recipe, kind, solved)
    except GeometryError as error:
        if not spoilt:
            further_line = recipe.round.round[0].length.place.line if recipe.round.round else None
            place = _short_side(recipe, reader, solved) or recipe.owner.place
            if place.line == further_line and recipe.size.size:
                further_line = recipe.size.size[0].place.line
            reader.error(
                place,
                f'the piece "{recipe.owner.name}" cannot be drawn: {error}',
                "take round away at that corner, or draw it into the curve"
                if isinstance(error, RoundedCurveError)
                else f"check its sizes and corners{line_words(further_line)}",
            )
        return None
    return None if spoilt else made


def _short_side(recipe: Recipe, reader: Reader, solved: Mapping[str, float]) -> Place | None:
    """Where the shorter side of a rectangle or strip is written, which its corners do not leave room for; the radius where
    the longer one does not either."""
    if not is_upright(recipe) or len(recipe.size.size) != 2:
        return None
    sides = [solved.get(recipe.size.name) if is_open(one) else reader.any_length(one) for one in recipe.size.size]
    known = [(mm, value.place) for mm, value in zip(sides, recipe.size.size, strict=True) if mm is not None]
    radii = [(reader.any_length(one.length) or 0.0, one.length.place) for one in recipe.round.round]
    most_mm, there = max(radii, key=lambda radius: radius[0], default=(0.0, None))
    if len(known) == 2 and 2 * most_mm > max(mm for mm, _ in known) and recipe.round is recipe.owner:
        return there  # on neither side is there room for it
    return min(known, key=lambda side: side[0])[1] if len(known) == 2 and recipe.size is recipe.owner else None


def _is_spoilt(recipe: Recipe) -> bool:
    """True when a part of the shape was written and could not be read (noted), so that the piece is another than
    the one that is meant: its seams and marks would only seem wrong."""
    givers = {
        "shape": recipe.shape,
        "size": recipe.size,
        "diameter": recipe.size,
        "round": recipe.round,
        "mirror": recipe.chain[0],
        "inset": recipe.chain[0],
    }
    return any(key in spec.wrong for key, giver in givers.items() for spec in recipe.chain[recipe.chain.index(giver) :])


def _make_box(reader: Reader, recipe: Recipe, kind: str, solved: Mapping[str, float]) -> Outline | None:
    sizes = recipe.size.size
    radii = read_radii(reader, recipe.round.round, CORNERS[kind])
    if len(sizes) != 2:
        _report_no_size(reader, recipe, "size", 'add size = ["width", "height"]')
        return None
    if all(map(is_open, sizes)):
        what = f'both sizes of "{recipe.size.name}" are "{OPEN}"; a seam gives one length only'
        reader.error(sizes[1].place, what, "write one of them")
        return None
    sides = [solved.get(recipe.size.name) if is_open(value) else reader.length(value) for value in sizes]
    if sides[0] is None or sides[1] is None or radii is None:
        return None
    make = rectangle_outline if kind == "rectangle" else strip_outline
    return make(sides[0], sides[1], radii)


def _report_no_size(reader: Reader, recipe: Recipe, key: str, mend: str) -> None:
    if not _is_wrong(recipe, key):
        reader.error(recipe.shape.place, f'the piece "{recipe.shape.name}" has no {key}', mend)


def read_radii(reader: Reader, written: tuple[NamedLength, ...], corners: tuple[str, ...]) -> dict[str, float] | None:
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
    if recipe.size.diameter is None:
        _report_no_size(reader, recipe, "diameter", 'add diameter = "3 in"')
    diameter_mm = reader.length(recipe.size.diameter)
    return None if diameter_mm is None else circle_outline(diameter_mm)


def _make_polygon(reader: Reader, recipe: Recipe) -> Outline | None:
    if not recipe.size.points:
        _report_no_size(reader, recipe, "points", 'add points = [{ at = ["0", "0"] }, ...]')
        return None
    corners = [_read_corner(reader, point) for point in recipe.size.points]
    if _is_wrong(recipe, "points"):
        return None
    known = [corner for corner in corners if corner is not None]
    return corner_outline(known) if len(known) == len(corners) else None


def _make_drawn(reader: Reader, recipe: Recipe) -> Outline | None:
    if recipe.size.file is None:
        _report_no_size(reader, recipe, "file", 'add file = "NAME.svg", a drawing beside the spec')
    if recipe.drawing is None or _is_wrong(recipe, "corners"):
        return None
    corners = _last(recipe.chain, "corners")
    return make_drawn_outline(reader, recipe.drawing, corners.corners if corners else ())


def _read_corner(reader: Reader, point: PointSpec) -> Corner | None:
    at = [reader.any_length(value) for value in point.at]
    curve = [reader.any_length(value) for value in point.curve]
    radius_mm = reader.length(point.round, zero=True) if point.round is not None else CORNER_RADIUS_MM
    numbers = [number for number in [*at, *curve] if number is not None]
    if len(at) != 2 or len(numbers) != len(at) + len(curve) or radius_mm is None:
        return None
    handles = (Point(*numbers[2:4]), Point(*numbers[4:6])) if len(curve) == 4 else None
    return Corner(
        at=Point(numbers[0], numbers[1]),
        name=words(point.name),
        radius=radius_mm,
        edge=words(point.edge),
        handles=handles,
    )


def has_inset(recipe: Recipe, spec: PieceSpec) -> bool:
    """True when the inset of a spec in the chain holds for the piece: a size written after it stands as
    written."""
    return spec.inset is not None and recipe.chain.index(spec) >= recipe.chain.index(recipe.size)


def apply_change(reader: Reader, recipe: Recipe, spec: PieceSpec, outline: Outline) -> Outline | None:
    """The outline after one spec's own mirror and inset; None when the inset cannot be made (noted)."""
    if flag(spec.mirror, IS_MIRRORED):
        outline = mirror_outline(outline)
    if spec.inset is None or not has_inset(recipe, spec):
        return outline
    inset_mm = reader.any_length(spec.inset)
    if inset_mm is None:
        return None
    try:
        return inset_outline(outline, inset_mm)
    except GeometryError as error:
        reader.error(spec.inset.place, f'"{spec.name}" cannot be that much smaller: {error}', "use a smaller inset")
        return None
