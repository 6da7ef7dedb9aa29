"""Spec -> Build in steps of one direction: each takes what is known so far, and gives it back with more in it.

A further step goes into `grow_build`, between those that make what it needs and those that use what it finds.
"""

from dataclasses import replace
from typing import Any, Final

from docgen.problems import Place, has_errors
from docgen.read import HeadSpec, PieceSpec, Spec, make_digest
from docgen.resolve.build import Build, UsedPart, by_name
from docgen.resolve.goods.contents import read_holds, read_inside
from docgen.resolve.goods.parts import (
    read_care,
    read_hardware,
    read_machines,
    read_materials,
    read_photos,
    read_shop,
    read_steps,
    read_stitches,
)
from docgen.resolve.goods.prices import read_costs
from docgen.resolve.goods.printing import read_printing
from docgen.resolve.goods.trimming import read_trimmings
from docgen.resolve.goods.weighing import weigh
from docgen.resolve.goods.work import sewn_besides
from docgen.resolve.limits import read_limits
from docgen.resolve.parts import Parts
from docgen.resolve.pieces.edge_names import mend_edge_names
from docgen.resolve.pieces.laid import lay_goods
from docgen.resolve.pieces.templates import settle_templates
from docgen.resolve.seams.facings import line_by_facings
from docgen.resolve.seams.folded_along import fold_along
from docgen.resolve.seams.joins import joint_mm
from docgen.resolve.seams.sew import prepare_sewing, sew
from docgen.resolve.seams.shared_holes import share_holes
from docgen.resolve.seams.stitch_lines import draw_stitch_lines
from docgen.resolve.seams.trimmed import measure_trimmings
from docgen.resolve.straps.sewn_on import sew_straps_on
from docgen.resolve.straps.straps import read_straps
from docgen.resolve.values import Reader, find_open_measures, list_part_names, read_show, refuse_part, words
from docgen.tables.defaults import MAKES
from docgen.tables.strength import seam_strength_n

NAMED: Final = ("materials", "stitches", "hardware", "trimmings", "straps", "pieces", "joins")
"""What a build lists, and its parts hold by name."""


def grow_build(reader: Reader, spec: Spec) -> Build:
    """The build of a spec; it is whole only when the reader has noted no error."""
    spec = mend_edge_names(reader, spec)
    parts = read_goods(reader, spec)
    parts = sew(reader, spec, prepare_sewing(reader, spec, parts, _check_names(reader, spec)), parts)
    if not has_errors(reader.problems):
        parts = share_holes(parts, lambda sewn: draw_stitch_lines(reader, spec, sewn))
    parts = fold_along(line_by_facings(_finish_sewing(parts)))
    parts = measure_trimmings(reader, spec, lay_goods(reader, spec, parts))
    parts = sew_straps_on(reader, draw_stitch_lines(reader, spec, parts))
    parts = settle_templates(reader, spec, parts)
    _check_parts(reader, spec, parts)
    return fill_build(read_head(reader, spec), parts)


def _finish_sewing(parts: Parts) -> Parts:
    """The parts with the thickness of every joint, and what the thread of each seam carries."""
    joins = {name: replace(join, stack_mm=joint_mm(join, parts)) for name, join in parts.joins.items()}
    stitches = ((seam, parts.stitches[seam.stitch]) for seam in parts.seams)
    strengths = (seam_strength_n(seam.stitches * s.rows, s.thread_strength_n, s.type) for seam, s in stitches)
    seams = tuple(replace(seam, strength_n=newtons) for seam, newtons in zip(parts.seams, strengths, strict=True))
    return replace(parts, joins=joins, seams=seams)


def read_goods(reader: Reader, spec: Spec) -> Parts:
    """What is bought, how it is sewn, and the straps."""
    limits = read_limits(reader, spec.limits)
    parts = Parts(
        limits=limits,
        materials=read_materials(reader, spec.materials, limits),
        stitches=read_stitches(reader, spec.stitches, spec.irons),
        hardware=read_hardware(reader, spec.hardware),
        trimmings=read_trimmings(reader, spec.trimmings),
    )
    return replace(parts, straps=read_straps(reader, spec.straps, parts))


def read_head(reader: Reader, spec: Spec) -> Build:
    """All that the spec says of the build besides its parts."""
    head = spec.spec or HeadSpec()
    inside = read_inside(reader, spec.inside)
    photos, gone = read_photos(spec), {name for _, name in spec.left_out}
    return Build(
        code=words(head.code),
        title=words(head.title),
        version=words(head.version),
        changed=words(head.changed),
        show=read_show(spec),
        makes=head.makes.value if head.makes else MAKES,
        digest=spec.digest,
        source_name=spec.path.replace("\\", "/").rsplit("/", 1)[-1],
        source=spec.source,
        files=spec.files,
        used_parts=_list_used(spec),
        shop=read_shop(spec.shop, spec.mark),
        printing=read_printing(reader, spec.pattern),
        steps=read_steps(reader, spec.steps, photos, gone, sewn_besides(spec)),
        begun=read_steps(reader, spec.begun, photos, gone, sewn_besides(spec)),
        picture=photos.get(words(head.picture)),
        care=read_care(reader, spec.care),
        machines=read_machines(reader, spec.machines),
        inside=inside,
        holds=read_holds(reader, spec.holds, inside),
        costs=read_costs(reader, spec.costs),
        front=words(head.front),
    )


def _list_used(spec: Spec) -> tuple[UsedPart, ...]:
    files = dict(spec.files)
    return tuple(UsedPart(name=name, file=file, digest=make_digest(files[file], ())) for name, file in spec.brought)


def fill_build(build: Build, parts: Parts) -> Build:
    """The build with these parts in it, and what they weigh."""
    weights, unweighed = weigh(parts)
    named: dict[str, Any] = {kind: tuple(getattr(parts, kind).values()) for kind in NAMED}
    solved = tuple(parts.solved.items())
    return replace(
        build,
        limits=parts.limits,
        seams=parts.seams,
        solved_pieces=solved,
        weights=weights,
        unweighed=unweighed,
        **named,
    )


def find_parts(build: Build) -> Parts:
    """The parts of a build by name again."""
    named: dict[str, Any] = {kind: by_name(getattr(build, kind)) for kind in NAMED}
    return Parts(limits=build.limits, seams=build.seams, **named)


def _check_parts(reader: Reader, spec: Spec, parts: Parts) -> None:
    """A spec of nothing, parts that are named and not there, and a measure that nothing fixes: while there are other
    errors they may be what hides its seam."""
    if not spec.pieces and not spec.straps and not has_errors(reader.problems):
        reader.error(Place(path=spec.path), "the spec has no pieces and no straps", "add a [pieces.NAME] table")
    _check_through(reader, spec, parts)
    for item in find_open_measures(spec):
        if not has_errors(reader.problems):
            what = f'nothing fixes the measure "{item.name}"'
            reader.error(item.length.place, what, "let one side of a seam hang on it, or write a length")


def _check_through(reader: Reader, spec: Spec, parts: Parts) -> None:
    """Parts that hardware is said to go through, or that a piece is said to line, and that are not there."""
    known = list_part_names(spec)
    for item in spec.pieces:
        for value in item.lines:
            if value.value not in known:
                refuse_part(reader, value.place, value.value, known)
    for piece in (*parts.pieces.values(), *(strap.piece for strap in parts.straps.values())):
        for hole in piece.marks.holes:
            for name in hole.through:
                if name not in known and not reader.is_noted(hole.place):
                    refuse_part(reader, hole.place, name, known)


def _check_names(reader: Reader, spec: Spec) -> set[str]:
    """Names that are taken twice (noted): a seam names its partners by one word, so that pieces, joins, straps and
    trimmings share one list of names."""
    seen: dict[str, str] = {}
    twice = set()
    named = (("piece", spec.pieces), ("join", spec.joins), ("strap", spec.straps), ("trimming", spec.trimmings))
    for kind, entries in named:
        for entry in entries:
            if isinstance(entry, PieceSpec) and entry.by_length:
                continue  # a strip of goods that have the name themselves
            if entry.name in seen:
                twice.add(entry.name)
                what = f'a {seen[entry.name]} is called "{entry.name}" already'
                reader.error(entry.place, what, f"give the {kind} another name")
            seen.setdefault(entry.name, kind)
    return twice
