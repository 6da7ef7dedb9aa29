"""The seams of a spec: their partners read, the pieces made with open lengths solved, the sides matched."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from docgen.geometry import Outline
from docgen.problems import Place
from docgen.read import Spec
from docgen.resolve.build import Seam, Stitch, Strap
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.made_up import fold_hems, read_hems
from docgen.resolve.pieces.outlines import Recipe, has_inset, is_open, open_piece
from docgen.resolve.pieces.pieces import make_final_outline, make_pieces
from docgen.resolve.seams.joins import JoinPlan
from docgen.resolve.seams.seams import (
    Lengths,
    OpenLengths,
    OutlineOf,
    Partner,
    match_seam,
    read_partners,
    solve_lengths,
)
from docgen.resolve.values import Reader
from docgen.written.units import Show


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewing:
    """What the seams of a spec need: partners and stitch of each, and what their sides are measured on."""

    partners: Mapping[str, tuple[Partner, ...]]
    sewn: Mapping[str, Stitch]
    wanted: OpenLengths
    lengths: Lengths

    def solve(self, reader: Reader) -> dict[str, float]:
        """Every open length of a piece that a seam fixes, in mm."""
        insets = {name: stitch.inset_mm for name, stitch in self.sewn.items()}
        return solve_lengths(reader, self.partners, insets, self.wanted, self.lengths)


def prepare_sewing(
    reader: Reader,
    spec: Spec,
    recipes: Mapping[str, Recipe],
    joins: Mapping[str, JoinPlan],
    straps: Mapping[str, Strap],
    stitches: Mapping[str, Stitch],
    taken_twice: set[str],
) -> Sewing:
    """Partners read; seams with a partner or stitch that cannot be read are noted and left out."""
    partners = _read_all_partners(reader, spec, taken_twice)
    models = {name: recipe.size.name for name, recipe in recipes.items() if recipe.size.name != name}
    linings = frozenset(name for name in models if any(has_inset(recipes[name], s) for s in recipes[name].chain))
    lengths = Lengths(
        reader=reader,
        outline_of=_outline_source(reader, recipes),
        joins=joins,
        straps=straps,
        models=models,
        linings=linings,
    )
    sewn = {
        seam.name: stitches[seam.stitch.value]
        for seam in spec.seams
        if partners[seam.name] and seam.stitch is not None and seam.stitch.value in stitches
    }
    wanted = OpenLengths(places=_open_places(recipes), parts_open=lambda part: _parts_open(part, recipes, joins))
    return Sewing(partners=partners, sewn=sewn, wanted=wanted, lengths=lengths)


def sew(
    reader: Reader, spec: Spec, recipes: Mapping[str, Recipe], sewing: Sewing, show: Show
) -> tuple[dict[str, Piece], tuple[Seam, ...]]:
    """The pieces, their open lengths solved by the seams, and the seams."""
    solved = sewing.solve(reader)
    pieces = make_pieces(reader, recipes, solved, sewing.lengths.straps)
    seams = [
        match_seam(reader, seam, sewing.partners[seam.name], sewing.sewn[seam.name], solved, sewing.lengths, show)
        for seam in spec.seams
        if seam.name in sewing.sewn
    ]
    return pieces, tuple(seam for seam in seams if seam is not None)


def _read_all_partners(reader: Reader, spec: Spec, taken_twice: set[str]) -> dict[str, tuple[Partner, ...]]:
    """Partners of every seam, by its name; empty where they cannot be read (noted)."""
    kinds = {
        **{p.name: "piece" for p in spec.pieces},
        **{j.name: "join" for j in spec.joins},
        **{s.name: "strap" for s in spec.straps},
    }
    partners = {seam.name: read_partners(reader, seam, kinds) or () for seam in spec.seams}
    return {
        name: () if any(partner.part in taken_twice for partner in found) else found for name, found in partners.items()
    }


def _outline_source(reader: Reader, recipes: Mapping[str, Recipe]) -> OutlineOf:
    known: dict[tuple[str, float | None], Outline | None] = {}

    def outline_of(name: str, solved: Mapping[str, float]) -> Outline | None:
        recipe = recipes.get(name)
        if recipe is None:
            return None
        length_mm = solved.get(open_piece(recipe)) if open_piece(recipe) else None
        if (name, length_mm) not in known:
            made = make_final_outline(reader, recipe, solved)
            hems = read_hems(reader, recipe, made) if made else ()
            known[name, length_mm] = fold_hems(reader, hems, made) if made and hems else made
        return known[name, length_mm]

    return outline_of


def _open_places(recipes: Mapping[str, Recipe]) -> dict[str, Place]:
    """Where each open length is written, by the name of its piece."""
    return {
        open_piece(recipe): value.place
        for recipe in recipes.values()
        for value in recipe.size.size
        if open_piece(recipe) and is_open(value)
    }


def _parts_open(part: str, recipes: Mapping[str, Recipe], joins: Mapping[str, JoinPlan]) -> set[str]:
    names = joins[part].pieces if part in joins else (part,)
    return {open_piece(recipes[name]) for name in names if name in recipes and open_piece(recipes[name])}
