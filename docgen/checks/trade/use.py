"""Checks of what is written and never used: usually a name that was changed in one place only."""

import re
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from pathlib import Path

from docgen.checks.trade.check import Found, Subject, check
from docgen.read import MaterialSpec, NamedLength, Spec
from docgen.tables.care import METAL_ADVICE, find_care

MEASURE_RE = re.compile(r"[a-z][a-z0-9-]*")
PROSE_RE = re.compile(
    r"\s*(title|changed|what|do|group|note|reason|extra|repair|load|text|finish|colour|code|name)\s*=\s*\""
)


@check("measure-idle", "Every measure is used.", "counted", needs_whole=True)
def find_idle_measures(subject: Subject) -> Iterator[Found]:
    """Measures whose name stands in no length of the spec, nor in that of a measure that is used."""
    read = cache(_read_names)
    for item in subject.spec.measures:
        if not any(name in told for name, told in _texts(subject.spec, item, read)):
            what = f'nothing is as long as the measure "{item.name}"'
            yield item.length.place, what, "use its name where it is meant, or take it out", item.name


def _texts(
    spec: Spec, item: NamedLength, read: Callable[[bytes], Sequence[tuple[int, set[str]]]]
) -> Iterator[tuple[str, set[str]]]:
    """The measure as it is called in the spec, with all names in lengths there; one of a part also in the part's file."""
    files = dict(spec.files)
    sources = [(item.name, spec.path, spec.source)]
    sources += [
        (item.name.removeprefix(f"{prefix}-"), str(Path(spec.path).parent / file), files[file])
        for prefix, file in spec.brought
        if item.name.startswith(f"{prefix}-")
    ]
    for name, path, source in sources:
        own = item.length.place.line if item.length.place.path == path else 0
        yield name, {found for line, names in read(source) if line != own for found in names}


def _read_names(source: bytes) -> list[tuple[int, set[str]]]:
    """The lines that hold something in quotes, but for prose, with the names in it."""
    lines = (line.partition(" #")[0] for line in source.decode("utf-8", "replace").splitlines())
    quoted = (
        (k, line.split('"')[1::2]) for k, line in enumerate(lines, start=1) if '"' in line and not PROSE_RE.match(line)
    )
    return [(k, {name for part in parts for name in MEASURE_RE.findall(part)}) for k, parts in quoted]


@check("machine-idle", "Something is sewn on every machine.", "counted", needs_whole=True)
def find_idle_machines(subject: Subject) -> Iterator[Found]:
    used = {stitch.machine.value for stitch in subject.spec.stitches if stitch.machine}
    for machine in subject.spec.machines:
        if machine.name not in used:
            what = f'no stitch is sewn on "{machine.name}"'
            yield machine.place, what, f'write machine = "{machine.name}" in a stitch, or take it out', machine.name


@check(
    "material-idle", "Something is cut from every material.", "counted", needs_whole=True, waits_for=("lining-of-foam",)
)
def find_idle_materials(subject: Subject) -> Iterator[Found]:
    spec = subject.spec
    values = [*(p.of for p in spec.pieces), *(s.of for s in spec.straps), *(s.lining for s in spec.straps)]
    values += [strap.padding.of for strap in spec.straps if strap.padding]
    used = {value.value for value in values if value}
    for material in spec.materials:
        if material.name not in used:
            what = f'no piece or strap is cut from "{material.name}"'
            yield material.place, what, f"{_likely_use(spec, material)}use it, or take it out", material.name


def _likely_use(spec: Spec, material: MaterialSpec) -> str:
    """`name it in of on line 9; else `, where padding is of no foam and this is one, or a lining of leather and this is
    cloth."""
    kinds = {one.name: one.kind.value for one in spec.materials if one.kind}
    values = {
        "foam": [strap.padding.of for strap in spec.straps if strap.padding],
        "fabric": [piece.of for piece in spec.pieces if piece.lines],
    }
    kind = kinds.get(material.name, "")
    odd = [value for value in values.get(kind, ()) if value and kinds.get(value.value) != kind]
    return f"name it in of on line {odd[0].place.line}; else " if len(odd) == 1 else ""


@check(
    "care-idle",
    "Care advice that the shop words is for a leather, finish or metal of the build.",
    "counted",
    needs_whole=True,
)
def find_idle_advice(subject: Subject) -> Iterator[Found]:
    """Advice by its id for what the build has not; of metals where every item of hardware says its finish."""
    build = subject.build
    materials = [(item.kind, item.tannage, item.finish) for item in build.materials]
    metals = [item.finish for item in build.hardware]
    wanted = {*find_care(materials, metals, has_load=True)}
    for part in subject.spec.care.parts if subject.spec.care else ():
        is_known = all(metals) or (part.id and part.id.value not in METAL_ADVICE)
        if part.id and part.id.value not in wanted and is_known:
            what = f'the care advice "{part.id.value}" has words of the shop, and nothing here is of that kind'
            yield part.id.place, what, "write the id that is meant, or put the words into extra", part.id.value


@check("stitch-idle", "Something is sewn with every stitch.", "counted", needs_whole=True)
def find_idle_stitches(subject: Subject) -> Iterator[Found]:
    spec = subject.spec
    stitches = [
        *(seam.stitch for seam in spec.seams),
        *(join.stitch for join in spec.joins),
        *(strap.stitch for strap in spec.straps),
        *(end.sewn for strap in spec.straps for end in strap.ends),
        *(divider.stitch for piece in spec.pieces for divider in piece.dividers),
        *(laid.stitch for piece in spec.pieces for laid in piece.laid),
        *(landing.stitch for piece in spec.pieces for landing in piece.landings),
    ]
    sewn = {stitch.value for stitch in stitches if stitch}
    for stitch in spec.stitches:
        if stitch.name not in sewn:
            what = f'nothing is sewn with the stitch "{stitch.name}"'
            yield stitch.place, what, "use it, or take it out", stitch.name


@check(
    "work-in-no-step",
    "Every join, seam and strap is made in a step, and goods by length are cut in one.",
    "counted",
    needs_whole=True,
    gives_way=("seam-twice",),
)
def find_unmade_work(subject: Subject) -> Iterator[Found]:
    """Joins, seams, straps and goods by length that no step speaks of, once the steps are written by hand; what a seam
    sews is cut with it."""
    spec = subject.spec
    seams = {value.value for step in spec.steps for value in step.seams}
    joins = {value.value for step in spec.steps for value in step.joins}
    straps = {value.value for step in spec.steps for value in step.straps}
    for kind, entries, told in (
        ("join", spec.joins, joins),
        ("seam", spec.seams, seams),
        ("strap", spec.straps, straps),
    ):
        for entry in entries if spec.steps else ():
            if entry.name not in told:
                what = f'no step makes the {kind} "{entry.name}"'
                yield entry.place, what, f'write {kind}s = ["{entry.name}"] in a step', entry.name
    cut = {value.value for step in spec.steps for value in step.trimmings}
    cut |= {use.name for seam in subject.build.seams for use in seam.trimmings}
    cut |= {strip for join in subject.build.joins for strip in join.pieces}
    cut |= {laid.goods.value for piece in spec.pieces for laid in piece.laid if laid.goods}
    for item in spec.trimmings if spec.steps else ():
        if item.name not in cut:
            what = f'no step cuts "{item.name}"'
            yield item.place, what, f'write trimmings = ["{item.name}"] in a step', item.name


@check(
    "piece-in-no-step",
    "Every piece is handled in a step.",
    "counted",
    needs_whole=True,
    gives_way=("step-without-its-part",),
    waits_for=("edge-sewn-again",),
)
def find_idle_pieces(subject: Subject) -> Iterator[Found]:
    """Pieces that no step handles, skives or sews, once the steps are written by hand."""
    build = subject.build
    if not build.steps:
        return
    handled = {name for step in build.steps for name in (*step.pieces, *step.skives)}
    joined = {join.name: join.pieces for join in build.joins}
    made = {name for step in build.steps for name in (*step.joins, *step.seams)}
    handled |= {name for join in build.joins if join.name in made for name in join.pieces}
    for seam in build.seams:
        if seam.name in made:
            handled |= {name for side in seam.sides for name in joined.get(side.part, (side.part,))}
    sewn_anywhere = {
        name for seam in build.seams for side in seam.sides for name in joined.get(side.part, (side.part,))
    }
    for piece in build.pieces:
        if piece.name not in handled | sewn_anywhere:
            what = f'no step handles the piece "{piece.name}"'
            yield piece.place, what, f'write pieces = ["{piece.name}"] in a step', piece.name
