"""Spec -> Build: every length in mm, every outline there, open lengths solved, seams matched.

Only what is exported here may be used by later phases. `resolve_build` raises SpecRejected with all problems
of the spec, those of reading included; cautions travel in the build.
"""

from __future__ import annotations

from dataclasses import replace

from docgen.problems import Place, Problem, SpecRejected, has_errors, suggest
from docgen.read import Spec
from docgen.resolve.accepting import accept_cautions, check_accepts
from docgen.resolve.build import (
    WORK_KINDS,
    Accepted,
    Build,
    Care,
    CarePart,
    Costs,
    Fitting,
    Hardware,
    Held,
    Inside,
    Join,
    Layer,
    Machine,
    Material,
    Price,
    Printing,
    Seam,
    SeamSide,
    Shop,
    Step,
    Stitch,
    Strap,
    StrapEnd,
    Weight,
    WorkKind,
)
from docgen.resolve.checks import Subject, run_checks
from docgen.resolve.goods.contents import read_holds, read_inside
from docgen.resolve.goods.fittings import find_fittings
from docgen.resolve.goods.parts import (
    head_words,
    read_care,
    read_hardware,
    read_machines,
    read_materials,
    read_shop,
    read_steps,
    read_stitches,
)
from docgen.resolve.goods.prices import price_build, read_costs
from docgen.resolve.goods.printing import (
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
from docgen.resolve.goods.weighing import weigh
from docgen.resolve.limits import add_shop_limits, read_limits
from docgen.resolve.open_measure import find_open_measures, set_measure, solve_measure
from docgen.resolve.piece import (
    Divider,
    Drawn,
    Fold,
    Hem,
    Hole,
    Landing,
    Notch,
    Piece,
    Skive,
    Slit,
    StitchLine,
    StrapLanding,
)
from docgen.resolve.pieces.outlines import find_recipes
from docgen.resolve.seams.joins import measure_joins, read_joins
from docgen.resolve.seams.landed import add_landings
from docgen.resolve.seams.sew import prepare_sewing, sew
from docgen.resolve.seams.stack import Parts, find_leather_stitches, joint_mm, stack_seams
from docgen.resolve.seams.stitch_lines import draw_stitch_lines
from docgen.resolve.sequence import closes, find_punching, side_pieces
from docgen.resolve.straps.straps import read_straps
from docgen.resolve.values import Reader, read_measures, words
from docgen.resolve.variants import check_variants, pick_variant, resolve_each

__all__ = [
    "MOST_CORRECTION",
    "SQUARE_MM",
    "WORK_KINDS",
    "Accepted",
    "Build",
    "Care",
    "CarePart",
    "Costs",
    "Divider",
    "Drawn",
    "Fitting",
    "Fold",
    "Hardware",
    "Held",
    "Hem",
    "Hole",
    "Inside",
    "Join",
    "Landing",
    "Layer",
    "Machine",
    "Material",
    "Notch",
    "Piece",
    "Price",
    "Printer",
    "Printing",
    "Seam",
    "SeamSide",
    "Shop",
    "ShopSettings",
    "Skive",
    "Slit",
    "Step",
    "Stitch",
    "StitchLine",
    "Strap",
    "StrapEnd",
    "StrapLanding",
    "Weight",
    "WorkKind",
    "add_shop_limits",
    "check_join_overlap",
    "check_margin",
    "check_overlap",
    "closes",
    "find_punching",
    "parse_measured",
    "price_build",
    "resolve_build",
    "resolve_shop_file",
    "resolve_variants",
    "side_pieces",
]


def resolve_build(spec: Spec, variant: str = "") -> Build:
    """The build that a spec describes, or a variant of it. Raises SpecRejected with every problem found, when any is
    an error, and ValueError for a variant that is not there."""
    if spec.unread:
        raise SpecRejected(spec.problems)  # all that names what stands there would seem wrong
    problems: list[Problem] = [*spec.problems, *check_variants(spec), *check_accepts(spec.accept)]
    spec, solved = _solve_measures(pick_variant(spec, variant), problems)
    reader = read_measures(spec.measures, problems)
    build = _resolve(reader, spec)
    if build is None or has_errors(problems):
        raise SpecRejected(problems)
    cautions, accepted = accept_cautions(spec.accept, problems)
    return replace(build, cautions=cautions, accepted=accepted, variant=variant, solved_measures=solved)


def _solve_measures(spec: Spec, problems: list[Problem]) -> tuple[Spec, tuple[tuple[str, float], ...]]:
    """The spec with the measure that a seam gives, and its value; what keeps it from being found is noted."""
    wanted = find_open_measures(spec)
    if not wanted:
        return spec, ()
    value_mm, problem = solve_measure(spec)
    problems += [problem] if problem else []
    if value_mm is None:
        return spec, ()
    return set_measure(spec, value_mm), ((wanted[0].name, value_mm),)


def resolve_variants(spec: Spec) -> tuple[Build, ...]:
    """Every variant of a spec; of one without variants the build alone. Raises SpecRejected as `resolve_build` does, with
    the problems of all variants in one go."""
    return resolve_each(spec, resolve_build)


def _resolve(reader: Reader, spec: Spec) -> Build | None:
    code, title, version, changed, show, makes = head_words(spec)
    limits = read_limits(reader, spec.limits)
    materials = read_materials(reader, spec.materials, limits)
    stitches = read_stitches(reader, spec.stitches)
    hardware = read_hardware(reader, spec.hardware)
    straps = read_straps(reader, spec.straps, materials, hardware, stitches)
    recipes = find_recipes(reader, spec.pieces, spec.drawings)
    joins = read_joins(reader, spec.joins)
    taken_twice = _check_names(reader, spec)
    sewing = prepare_sewing(reader, spec, recipes, joins, straps, stitches, taken_twice)
    pieces, seams = sew(reader, spec, recipes, sewing, show)
    measured = measure_joins(reader, joins, pieces)
    parts = Parts(pieces=pieces, joins=measured, straps=straps, materials=materials)
    measured = {name: replace(join, stack_mm=joint_mm(join, parts)) for name, join in measured.items()}
    seams = add_landings(stack_seams(seams, stitches, parts), stitches, parts)
    pieces = draw_stitch_lines(reader, pieces, seams, stitches, measured, _row_places(spec))
    if not spec.pieces and not spec.straps and not has_errors(reader.problems):
        reader.error(Place(path=spec.path), "the spec has no pieces and no straps", "add a [pieces.NAME] table")
    _check_through(reader, spec, parts)
    weights, unweighed = weigh(tuple(pieces.values()), tuple(straps.values()), materials, tuple(hardware.values()))
    inside = read_inside(reader, spec.inside)
    build = Build(
        code=code,
        title=title,
        version=version,
        changed=changed,
        show=show,
        makes=makes,
        digest=spec.digest,
        source_name=spec.path.replace("\\", "/").rsplit("/", 1)[-1],
        source=spec.source,
        shop=read_shop(spec.shop, spec.mark),
        printing=read_printing(reader, spec.pattern),
        materials=tuple(materials.values()),
        stitches=tuple(stitches.values()),
        pieces=tuple(pieces.values()),
        joins=tuple(measured.values()),
        seams=seams,
        straps=tuple(straps.values()),
        hardware=tuple(hardware.values()),
        steps=read_steps(spec.steps),
        care=read_care(reader, spec.care),
        cautions=(),
        files=spec.files,
        machines=read_machines(reader, spec.machines),
        limits=limits,
        fittings=find_fittings(hardware, parts, limits),
        inside=inside,
        holds=read_holds(reader, spec.holds, spec.inside, inside),
        weights=weights,
        unweighed=unweighed,
        costs=read_costs(reader, spec.costs),
        front=words(spec.spec.front) if spec.spec else "",
    )
    build = _set_points(build, parts)
    _check_open_measures(reader, spec)
    run_checks(Subject(spec=spec, build=build, parts=parts), reader.problems)
    return build


def _check_open_measures(reader: Reader, spec: Spec) -> None:
    """A measure that nothing fixes; while there are other errors they may be what hides its seam."""
    for item in find_open_measures(spec):
        if not has_errors(reader.problems):
            what = f'nothing fixes the measure "{item.name}"'
            reader.error(item.length.place, what, "let one side of a seam hang on it, or write a length")


def _set_points(build: Build, parts: Parts) -> Build:
    """The build with a round needle point for machine stitches that go through no leather."""
    leather = find_leather_stitches(build.seams, build.joins, build.straps, parts)
    return replace(
        build,
        stitches=tuple(
            replace(stitch, point="round")
            if stitch.by == "machine" and not stitch.is_point_given and stitch.name not in leather
            else stitch
            for stitch in build.stitches
        ),
    )


def _check_through(reader: Reader, spec: Spec, parts: Parts) -> None:
    """Parts that hardware is said to go through, and that are not there."""
    known = [entry.name for entries in (spec.pieces, spec.joins, spec.straps) for entry in entries]
    for piece in parts.pieces.values():
        for hole in piece.holes:
            for name in hole.through:
                if name not in known and not reader.is_noted(hole.place):
                    mend = suggest(name, known) or "name a piece, a join or a strap"
                    reader.error(hole.place, f'there is no piece, join or strap "{name}"', mend)


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
