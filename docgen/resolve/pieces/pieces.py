"""Recipes -> pieces: outlines changed, marks placed, landings found."""

from collections.abc import Callable, Mapping, Set
from dataclasses import replace
from itertools import pairwise

from docgen.geometry.folding import mirror_over
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_box, reverse_path, transform_path
from docgen.geometry.shapes import Outline, Path
from docgen.geometry.vector import distance, mirror_x, transform_point
from docgen.read import LandingSpec, PieceSpec
from docgen.resolve.marks import Landing, Marks
from docgen.resolve.moving import Inset
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.brought import bring_landings
from docgen.resolve.pieces.drawings import drawn_marks
from docgen.resolve.pieces.made_up import (
    fold_hems,
    fold_up,
    hem_folds,
    is_alike_turned,
    other_half,
    read_dividers,
    read_hems,
    read_strap_landings,
)
from docgen.resolve.pieces.marks import find_landing, mirror_move, read_marks
from docgen.resolve.pieces.outlines import Recipe, apply_change, has_inset, make_outline, open_piece
from docgen.resolve.pieces.templates import read_template
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import Reader, flag, words
from docgen.tables.defaults import CUT, IS_INSIDE, IS_MIRRORED, IS_PAIR, SHOWS
from docgen.tables.sewing import HOLES_MEET_MM
from docgen.tables.sizes import MOST_CUT

Steps = tuple[Outline, ...]
StepsOf = Callable[[str], Steps | None]


def draw_steps(reader: Reader, recipe: Recipe, solved: Mapping[str, float]) -> Steps | None:
    """How the piece's outline comes about: as first drawn, then after the changes of each spec of its chain. None when
    it cannot be made (noted)."""
    outline = make_outline(reader, recipe, solved)
    steps = [outline]
    for spec in recipe.chain:
        outline = apply_change(reader, recipe, spec, outline) if outline is not None else None
        steps.append(outline)
    made = tuple(step for step in steps if step is not None)
    return made if len(made) == len(steps) else None


def make_pieces(
    reader: Reader, recipes: Mapping[str, Recipe], steps_of: StepsOf, straps: Mapping[str, Strap]
) -> dict[str, Piece]:
    """All pieces whose outline is known, by name."""
    pieces = {}
    # Models first, so that a mistake in a model is noted under its own name.
    for name, recipe in sorted(recipes.items(), key=lambda item: len(item[1].chain)):
        steps = steps_of(name)
        if steps is None:
            continue
        marks = _gather_marks(reader, recipe, steps)
        if recipe.material is not None:
            piece = _make_piece(reader, recipe, steps[-1], marks, recipe.material.value)
            pieces[name] = _make_up(reader, recipe, piece, straps)
    pieces = bring_landings(recipes, pieces, straps)
    landed: dict[str, set[str]] = {}
    turns = {name: sum(flag(spec.mirror, IS_MIRRORED) for spec in recipe.chain) for name, recipe in recipes.items()}
    mirrored = {name for name, times in turns.items() if times % 2}
    return {
        name: _land(reader, recipe.spec, pieces[name], pieces, landed, mirrored)
        for name, recipe in recipes.items()
        if name in pieces
    }


def _gather_marks(reader: Reader, recipe: Recipe, steps: Steps) -> Marks:
    """The marks of the whole chain, as they lie on the piece."""
    marks = drawn_marks(reader, recipe.drawing, recipe.size) if recipe.drawing is not None else Marks()
    for spec, (outline, changed) in zip(recipe.chain, pairwise(steps), strict=True):
        marks = _carry_marks(reader, recipe, spec, marks, outline, changed)
        marks += read_marks(reader, spec, recipe.name, changed)
    return marks


def _carry_marks(
    reader: Reader, recipe: Recipe, spec: PieceSpec, marks: Marks, outline: Outline, changed: Outline
) -> Marks:
    """The model's marks as they lie on the piece that is like it."""
    inset_mm = reader.any_length(spec.inset) if has_inset(recipe, spec) else None
    brings_drawing = recipe.drawing is not None and spec is recipe.size
    keeps = spec.marks.value if spec.marks is not None else not inset_mm or brings_drawing
    if not keeps:
        return Marks()
    if flag(spec.mirror, IS_MIRRORED):
        marks = marks.moved(mirror_move(outline))
    if inset_mm:
        marks = marks.inset(Inset(outline_path(changed), inset_mm))
    # What the model's holes go through has them for that, and takes nothing by itself.
    holes = (replace(hole, takes="", through=()) if recipe.name in hole.through else hole for hole in marks.holes)
    marks = replace(marks, holes=tuple(holes))
    # A skive belongs to the thickness of its leather.
    return replace(marks, skives=()) if spec.of is not None and spec is not recipe.chain[0] else marks


def _make_piece(reader: Reader, recipe: Recipe, outline: Outline, marks: Marks, material: str) -> Piece:
    spec = recipe.spec
    # A number that was not taken (noted) is as good as any: nothing is said of pairs or joins that need another.
    cut = MOST_CUT if "cut" in spec.wrong else spec.cut.value if spec.cut else CUT
    is_pair = flag(spec.pair, IS_PAIR)
    if is_pair and cut % 2 and spec.pair:
        reader.error(spec.pair.place, f"{cut} cannot be cut as pairs", "cut an even number, half of them mirrored")
    template, template_of = read_template(reader, spec)
    return Piece(
        name=spec.name,
        title=words(spec.title, spec.name.replace("-", " ")),
        material=material,
        cut=cut,
        is_pair=is_pair,
        shape=words(recipe.shape.shape),
        outline=outline,
        marks=marks,
        note=words(spec.note),
        place=spec.place,
        is_solved=bool(open_piece(recipe)),
        centre_lines=_centre_lines(recipe),
        least_stretch=_last_words(recipe, "least_stretch"),
        cut_from=_last_words(recipe, "cut_from"),
        template=template,
        template_of=template_of,
        by_length=spec.by_length,
    )


def _make_up(reader: Reader, recipe: Recipe, piece: Piece, straps: Mapping[str, Strap]) -> Piece:
    """The piece with its hems, dividing lines, straps that land on it, and what it lines."""
    spec = recipe.spec
    hems = read_hems(reader, recipe, piece.outline)
    folded = fold_hems(reader, hems, piece.outline) if hems else None
    inset = next((item.inset for item in reversed(recipe.chain) if has_inset(recipe, item)), None)
    made = replace(
        piece,
        hems=hems,
        folded=folded,
        dividers=read_dividers(reader, spec, replace(piece, folded=folded)),
        strap_landings=read_strap_landings(reader, spec, piece.outline, straps),
        lines=tuple(value.value for value in spec.lines),
        lid_of=words(spec.lid_of),
        shows=words(spec.shows, SHOWS),
        model=recipe.size.name,
        like=words(spec.like),
        inset_mm=reader.any_length(inset) or 0.0,
    )
    return made.with_marks(folds=(*piece.marks.folds, *(hem_folds(hems, piece.outline) if folded else ())))


def _centre_lines(recipe: Recipe) -> tuple[str, ...]:
    written = _last_words(recipe, "centre_lines")
    return ("up", "across") if written == "both" else (written,) if written else ()


def _last_words(recipe: Recipe, field: str) -> str:
    """What the piece, else its nearest model, says for a key."""
    written = (words(getattr(spec, field)) for spec in reversed(recipe.chain))
    return next((said for said in written if said), "")


def _lay_inside(reader: Reader, item: LandingSpec, piece: Piece, found: Landing, other: Piece) -> Landing:
    """What lands with its name, and on which side; what lies inside is seen from behind."""
    if not flag(item.inside, IS_INSIDE):
        return replace(found, title=other.title)
    laid = replace(found, title=f"{other.title}, inside", is_inside=True)
    if is_alike_turned(other):
        return laid
    if item.inside and (other.shows != piece.shows or any(fold.is_open for fold in other.own_folds)):
        what = f'"{other.name}" lies inside turned over, and is another shape then'
        mend = (
            "make it alike on both sides, its holes too, or let it land outside; where a seam sews it on by an edge, that "
            "tells its place, its right edge on the left of this one"
        )
        reader.error(item.inside.place, what, mend)
        return laid
    middle = path_box(found.outline).centre.x
    return replace(laid, outline=reverse_path(transform_path(found.outline, mirror_x(middle))), is_turned=True)


def _lies_under(name: str, other: str, landed: Mapping[str, set[str]]) -> bool:
    """Whether a piece lies on another already, or on what lies on that."""
    above, seen = [other], set[str]()
    while above:
        here = above.pop()
        if here == name:
            return True
        above += landed.get(here, set()) - seen
        seen |= landed.get(here, set())
    return False


def _find_folded(reader: Reader, item: LandingSpec, piece: Piece, other: Piece, *, is_mirrored: bool) -> Landing | None:
    """Where a piece lands as it is folded; of one that is folded in its middle the half stays of which a hole meets one of
    what it lands on, else of one that is mirrored the mirrored half."""
    kept, half = fold_up(other), other_half(other) if other.marks.holes else None
    if half is not None and is_mirrored and _is_upright(kept, half):
        kept, half = half, kept
    found = find_landing(reader, item.at, other.name, piece.outline, kept)
    half = half if found is not None and half is not None and not _meets(piece, other, found) else None
    turned = find_landing(reader, item.at, other.name, piece.outline, half) if half else None
    return turned if turned is not None and _meets(piece, other, turned) else found


def _is_upright(half: Path, other: Path) -> bool:
    """Whether the halves of a piece lie side by side, so that mirroring it changes them."""
    one, two = path_box(half).centre, path_box(other).centre
    return abs(one.x - two.x) > abs(one.y - two.y)


def _meets(piece: Piece, other: Piece, landing: Landing) -> bool:
    """Whether a hole of what lands, as it is folded, comes to lie on one of its host."""
    folds = [mirror_over(fold.start, fold.end) for fold in other.own_folds if not fold.is_open]
    spots = [hole.at for hole in other.marks.holes]
    spots += [transform_point(at, fold) for at in spots for fold in folds]
    lying = [at for at in (transform_point(spot, landing.move) for spot in spots) if is_inside(landing.outline, at)]
    return any(distance(hole.at, at) <= HOLES_MEET_MM for hole in piece.marks.holes for at in lying)


def _land(
    reader: Reader,
    spec: PieceSpec,
    piece: Piece,
    pieces: Mapping[str, Piece],
    landed: dict[str, set[str]],
    mirrored: Set[str],
) -> Piece:
    """The piece with what lands on it, some of that mirrored; `landed` is what has landed on which by then, and gets that
    too."""
    landings: list[Landing] = []
    for item in spec.landings:
        other = pieces.get(item.piece.value) if item.piece else None
        if other is not None and other.name == piece.name and item.piece:
            reader.error(item.piece.place, f'"{piece.name}" cannot land on itself', "name another piece")
        elif other is not None and item.piece and _lies_under(piece.name, other.name, landed):
            what = f'"{other.name}" cannot land on "{piece.name}", which lies on it'
            reader.error(item.piece.place, what, "name another piece, here or there")
        elif other is not None:
            landed.setdefault(piece.name, set()).add(other.name)
            found = _find_folded(reader, item, piece, other, is_mirrored=other.name in mirrored)
            landings += [replace(_lay_inside(reader, item, piece, found, other), place=item.place)] if found else []
    return piece.with_marks(landings=tuple(landings))
