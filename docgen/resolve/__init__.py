"""Spec -> Build: every length in mm, every outline there, open lengths solved, seams matched.

Only what is exported here may be used by later phases. `resolve_build` raises SpecRejected with all problems
of the spec, those of reading included; cautions travel in the build.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from docgen.geometry import Outline
from docgen.problems import Place, Problem, SpecRejected, has_errors, sort_problems
from docgen.read import Spec
from docgen.resolve.agree import check_holes, check_piece, check_stitch, check_strap, check_use
from docgen.resolve.build import (
    Build,
    Care,
    CarePart,
    Drawn,
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
from docgen.resolve.joins import JoinPlan, measure_joins, read_joins
from docgen.resolve.outlines import Recipe, find_recipes, is_open, open_piece
from docgen.resolve.parts import (
    head_words,
    read_care,
    read_hardware,
    read_materials,
    read_shop,
    read_steps,
    read_stitches,
)
from docgen.resolve.pieces import make_final_outline, make_pieces
from docgen.resolve.printing import (
    MOST_CORRECTION,
    SQUARE_MM,
    Printer,
    ShopSettings,
    check_join_overlap,
    check_margin,
    check_overlap,
    parse_measured,
    read_printing,
    resolve_shop_file,
)
from docgen.resolve.seams import (
    Lengths,
    OpenLengths,
    OutlineOf,
    Partner,
    match_seam,
    read_partners,
    solve_lengths,
    stack_of,
)
from docgen.resolve.stitch_lines import draw_stitch_lines
from docgen.resolve.straps import read_straps
from docgen.resolve.values import Reader, read_measures
from docgen.units import Show

__all__ = [
    "MOST_CORRECTION", "SQUARE_MM", "Build", "Care", "CarePart", "Drawn", "Fold", "Hardware", "Hole", "Join",
    "Landing", "Material", "Notch", "Piece", "Printer", "Printing", "Seam", "SeamSide", "Shop", "ShopSettings",
    "Skive", "Slit", "Step", "Stitch", "StitchLine", "Strap", "StrapEnd", "check_join_overlap", "check_margin",
    "check_overlap", "parse_measured", "resolve_build", "resolve_shop_file",
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
    recipes = find_recipes(reader, spec.pieces, spec.drawings)
    joins = read_joins(reader, spec.joins)
    taken_twice = _check_names(reader, spec)
    pieces, seams = _sew(reader, spec, recipes, joins, straps, stitches, materials, show, taken_twice)
    measured = measure_joins(reader, joins, pieces)
    pieces = draw_stitch_lines(reader, pieces, seams, stitches, measured, _row_places(spec))
    if not spec.pieces and not spec.straps and not has_errors(reader.problems):
        reader.error(
            Place(path=spec.path), "the spec has no pieces and no straps", "add a [pieces.NAME] table"
        )
    build = Build(
        code=code, title=title, version=version, changed=changed, show=show, makes=makes, digest=spec.digest,
        source_name=spec.path.replace("\\", "/").rsplit("/", 1)[-1], source=spec.source,
        shop=read_shop(spec.shop),
        printing=read_printing(reader, spec.pattern), materials=tuple(materials.values()),
        stitches=tuple(stitches.values()), pieces=tuple(pieces.values()), joins=tuple(measured.values()),
        seams=seams,
        straps=tuple(straps.values()), hardware=tuple(hardware.values()), steps=read_steps(spec.steps),
        care=read_care(reader, spec.care), cautions=(), files=spec.files,
    )  # fmt: skip
    _agree(reader, spec, build)
    return build


def _row_places(spec: Spec) -> dict[str, Place]:
    return {stitch.name: stitch.rows.place if stitch.rows else stitch.place for stitch in spec.stitches}


def _check_names(reader: Reader, spec: Spec) -> set[str]:
    """Names that are taken twice (noted): a seam names its partners by one word, so that pieces, joins and
    straps share one list of names."""
    seen: dict[str, str] = {}
    twice = set()
    for kind, entries in (("piece", spec.pieces), ("join", spec.joins), ("strap", spec.straps)):
        for entry in entries:
            if entry.name in seen:
                twice.add(entry.name)
                reader.error(
                    entry.place,
                    f'a {seen[entry.name]} is called "{entry.name}" already',
                    f"give the {kind} another name",
                )
            seen.setdefault(entry.name, kind)
    return twice


def _sew(
    reader: Reader, spec: Spec, recipes: Mapping[str, Recipe], joins: Mapping[str, JoinPlan],
    straps: Mapping[str, Strap], stitches: Mapping[str, Stitch], materials: Mapping[str, Material],
    show: Show,
    taken_twice: set[str],
) -> tuple[dict[str, Piece], tuple[Seam, ...]]:  # fmt: skip
    """The pieces, their open lengths solved by the seams, and the seams."""
    partners = _read_all_partners(reader, spec, taken_twice)
    lengths = Lengths(reader=reader, outline_of=_outline_source(reader, recipes), joins=joins, straps=straps)
    sewn = {
        seam.name: stitches[seam.stitch.value]
        for seam in spec.seams
        if partners[seam.name] and seam.stitch is not None and seam.stitch.value in stitches
    }
    wanted = OpenLengths(
        places=_open_places(recipes), parts_open=lambda part: _parts_open(part, recipes, joins)
    )
    insets = {name: stitch.inset_mm for name, stitch in sewn.items()}
    solved = solve_lengths(reader, partners, insets, wanted, lengths)
    pieces = make_pieces(reader, recipes, solved)
    layers = _layers(pieces, joins, straps)
    seams = [
        match_seam(
            reader, seam, partners[seam.name], sewn[seam.name], solved, lengths,
            stack_of(partners[seam.name], layers, materials), show,
        )
        for seam in spec.seams
        if seam.name in sewn
    ]  # fmt: skip
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
        name: () if any(partner.part in taken_twice for partner in found) else found
        for name, found in partners.items()
    }


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
    hardware = {item.name: item for item in build.hardware}
    places = {stitch.name: stitch.needle.place if stitch.needle else stitch.place for stitch in spec.stitches}
    cut = [*build.pieces, *(strap.piece for strap in build.straps)]
    for piece in cut:
        if piece.material in materials:
            reader.problems.extend(check_piece(piece, materials[piece.material], build.show))
    reader.problems.extend(check_holes(cut, build.show))
    for stitch in build.stitches:
        reader.problems.extend(check_stitch(stitch, places[stitch.name]))
    for strap in build.straps:
        reader.problems.extend(check_strap(strap, hardware, build.show))
    if not has_errors(reader.problems):
        reader.problems.extend(check_use(spec))
