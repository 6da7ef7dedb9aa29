"""Spec -> Build: every length in mm, every outline there, open lengths solved, seams matched.

Only what is exported here may be used by later phases. `resolve_build` raises SpecRejected with all problems of the
spec, those of reading included; cautions travel in the build.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from docgen.geometry import Outline
from docgen.problems import Place, Problem, SpecRejected, has_errors, sort_problems
from docgen.read import Spec
from docgen.resolve.agree import check_piece, check_stitch, check_strap, check_use
from docgen.resolve.build import (
    Build,
    Care,
    Fold,
    Hardware,
    Hole,
    Join,
    Landing,
    Material,
    Notch,
    Piece,
    Printing,
    Seam,
    SeamSide,
    Shop,
    Skive,
    Slit,
    Step,
    Stitch,
    StitchLine,
    Strap,
    StrapEnd,
)
from docgen.resolve.outlines import OPEN, Recipe, find_recipes, open_piece
from docgen.resolve.parts import (
    head_words,
    read_care,
    read_hardware,
    read_materials,
    read_printing,
    read_shop,
    read_steps,
    read_stitches,
)
from docgen.resolve.pieces import make_final_outline, make_pieces
from docgen.resolve.seams import (
    JoinPlan,
    Lengths,
    OutlineOf,
    draw_stitch_lines,
    match_seam,
    measure_joins,
    read_joins,
    read_partners,
    solve_lengths,
    stack_of,
)
from docgen.resolve.straps import read_straps
from docgen.resolve.values import Reader, read_measures
from docgen.units import Show

__all__ = [
    "Build", "Care", "Fold", "Hardware", "Hole", "Join", "Landing", "Material", "Notch", "Piece", "Printing", "Seam",
    "SeamSide", "Shop", "Skive", "Slit", "Step", "Stitch", "StitchLine", "Strap", "StrapEnd", "resolve_build",
]  # fmt: skip


def resolve_build(spec: Spec) -> Build:
    """The build that a spec describes. Raises SpecRejected with every problem found, when any is an error."""
    problems: list[Problem] = list(spec.problems)
    reader = read_measures(spec.measures, problems)
    build = _resolve(reader, spec)
    if build is None or has_errors(problems):
        raise SpecRejected(problems)
    return replace(build, cautions=sort_problems(problems))


def _resolve(reader: Reader, spec: Spec) -> Build | None:
    code, title, version, changed, show, makes = head_words(spec)
    materials = read_materials(reader, spec.materials)
    stitches = read_stitches(reader, spec.stitches)
    hardware = read_hardware(reader, spec.hardware)
    straps = read_straps(reader, spec.straps, materials, hardware, stitches)
    recipes = find_recipes(reader, spec.pieces)
    joins = read_joins(reader, spec.joins)
    _check_names(reader, spec)
    pieces, seams = _sew(reader, spec, recipes, joins, straps, stitches, materials, show)
    measured = measure_joins(reader, joins, pieces)
    pieces = draw_stitch_lines(pieces, seams, stitches, measured)
    if not spec.pieces and not spec.straps:
        reader.error(
            Place(path=spec.path), "the spec has no pieces and no straps", "add a [pieces.NAME] table"
        )
    build = Build(
        code=code, title=title, version=version, changed=changed, show=show, makes=makes, digest=spec.digest,
        source_name=spec.path.replace("\\", "/").rsplit("/", 1)[-1], source=spec.source, shop=read_shop(spec.shop),
        printing=read_printing(reader, spec.pattern), materials=tuple(materials.values()),
        stitches=tuple(stitches.values()), pieces=tuple(pieces.values()), joins=tuple(measured.values()), seams=seams,
        straps=tuple(straps.values()), hardware=tuple(hardware.values()), steps=read_steps(spec.steps),
        care=read_care(spec.care), cautions=(),
    )  # fmt: skip
    _agree(reader, spec, build)
    return build


def _check_names(reader: Reader, spec: Spec) -> None:
    """A seam names its partners by one word, so pieces, joins and straps share one list of names."""
    seen: dict[str, str] = {}
    for kind, entries in (("piece", spec.pieces), ("join", spec.joins), ("strap", spec.straps)):
        for entry in entries:
            if entry.name in seen:
                reader.error(
                    entry.place,
                    f'a {seen[entry.name]} is called "{entry.name}" already',
                    f"give the {kind} another name",
                )
            seen.setdefault(entry.name, kind)


def _sew(
    reader: Reader, spec: Spec, recipes: Mapping[str, Recipe], joins: Mapping[str, JoinPlan],
    straps: Mapping[str, Strap], stitches: Mapping[str, Stitch], materials: Mapping[str, Material], show: Show,
) -> tuple[dict[str, Piece], tuple[Seam, ...]]:  # fmt: skip
    kinds = {
        **{p.name: "piece" for p in spec.pieces},
        **{j.name: "join" for j in spec.joins},
        **{s.name: "strap" for s in spec.straps},
    }
    partners = {
        seam.name: found
        for seam in spec.seams
        if (found := read_partners(reader, seam, kinds)) is not None and "meet" not in seam.wrong
    }
    lengths = Lengths(_outline_source(reader, recipes), joins, straps)
    insets = {
        seam.name: stitches[seam.stitch.value].inset_mm
        for seam in spec.seams
        if seam.stitch is not None and seam.stitch.value in stitches
    }
    solved = solve_lengths(
        reader,
        partners,
        insets,
        _open_lengths(recipes),
        lengths,
        lambda part: _parts_open(part, recipes, joins),
    )
    pieces = make_pieces(reader, recipes, solved)
    layers = _layers(pieces, joins, straps)
    seams = []
    for seam in spec.seams:
        if seam.name in partners and seam.name in insets and seam.stitch is not None:
            stack_mm = stack_of(partners[seam.name], layers, materials)
            found_seam = match_seam(
                reader,
                seam,
                partners[seam.name],
                stitches[seam.stitch.value],
                solved,
                lengths,
                stack_mm,
                show,
            )
            seams += [found_seam] if found_seam is not None else []
    return pieces, tuple(seams)


def _outline_source(reader: Reader, recipes: Mapping[str, Recipe]) -> OutlineOf:
    known: dict[tuple[str, float | None], Outline | None] = {}

    def outline_of(name: str, solved: Mapping[str, float]) -> Outline | None:
        recipe = recipes.get(name)
        if recipe is None:
            return None
        length_mm = solved.get(open_piece(recipe)) if open_piece(recipe) else None
        if (name, length_mm) not in known:
            known[name, length_mm] = make_final_outline(reader, recipe, solved)
        return known[name, length_mm]

    return outline_of


def _open_lengths(recipes: Mapping[str, Recipe]) -> dict[str, tuple[str, Place]]:
    return {
        name: (name, value.place)
        for name, recipe in recipes.items()
        for value in recipe.size.size
        if open_piece(recipe) == name and value.value.strip() == OPEN
    }


def _parts_open(part: str, recipes: Mapping[str, Recipe], joins: Mapping[str, JoinPlan]) -> set[str]:
    names = joins[part].pieces if part in joins else (part,)
    return {open_piece(recipes[name]) for name in names if name in recipes and open_piece(recipes[name])}


def _layers(
    pieces: Mapping[str, Piece], joins: Mapping[str, JoinPlan], straps: Mapping[str, Strap]
) -> dict[str, tuple[str, ...]]:
    layers = {name: (piece.material,) for name, piece in pieces.items()}
    layers |= {name: (strap.material,) for name, strap in straps.items()}
    return layers | {
        name: tuple(pieces[strip].material for strip in join.pieces if strip in pieces)
        for name, join in joins.items()
    }


def _agree(reader: Reader, spec: Spec, build: Build) -> None:
    materials = {material.name: material for material in build.materials}
    pieces = {piece.name: piece for piece in build.pieces}
    straps = {strap.name: strap for strap in build.straps}
    hardware = {item.name: item for item in build.hardware}
    places = {stitch.name: stitch.needle.place if stitch.needle else stitch.place for stitch in spec.stitches}
    for piece in build.pieces:
        if piece.material in materials:
            reader.problems.extend(check_piece(piece, materials[piece.material], build.show))
    for stitch in build.stitches:
        reader.problems.extend(check_stitch(stitch, places[stitch.name]))
    for strap in build.straps:
        reader.problems.extend(check_strap(strap, hardware, build.show))
    reader.problems.extend(check_use(spec, pieces, straps, build.seams))
