"""Straps that land on a model, and on the pieces that are like it, where there is one cut for each of them."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from docgen.geometry.outline import outline_box
from docgen.geometry.vector import mirror_x
from docgen.resolve.moving import Move
from docgen.resolve.piece import Piece, StrapLanding
from docgen.resolve.pieces.outlines import Recipe, has_inset
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import flag
from docgen.tables.defaults import IS_MIRRORED


def bring_landings(
    recipes: Mapping[str, Recipe], pieces: Mapping[str, Piece], straps: Mapping[str, Strap]
) -> dict[str, Piece]:
    """The pieces, each with the ends of straps that land on its model as marks do; of a strap that is not cut for all
    none."""
    brought = {name: tuple(_from_models(recipes[name], piece, pieces)) for name, piece in pieces.items()}
    places: Counter[tuple[str, int]] = Counter()
    for name, piece in pieces.items():
        for one in (*piece.strap_landings, *brought[name]):
            places[one.strap, one.end] += piece.cut
    short = {strap for (strap, _), count in places.items() if strap not in straps or straps[strap].cut < count}
    return {
        name: replace(
            piece, strap_landings=(*piece.strap_landings, *(one for one in brought[name] if one.strap not in short))
        )
        for name, piece in pieces.items()
    }


def _from_models(recipe: Recipe, piece: Piece, pieces: Mapping[str, Piece]) -> Iterator[StrapLanding]:
    """What lands on the models of a piece where their marks come along, as it lies on the piece; not what it says
    itself."""
    own = {one.strap for one in piece.strap_landings}
    for index, model in enumerate(recipe.chain[:-1]):
        after = recipe.chain[index + 1 :]
        keeps = all(spec.marks is None or spec.marks.value for spec in after)
        if model.name not in pieces or not keeps or any(has_inset(recipe, spec) for spec in after):
            continue
        is_turned = sum(flag(spec.mirror, IS_MIRRORED) for spec in after) % 2 == 1
        move = Move(mirror_x(outline_box(piece.outline).centre.x))
        for one in pieces[model.name].strap_landings:
            if one.strap not in own:
                yield one.turned_over(move) if is_turned else one
