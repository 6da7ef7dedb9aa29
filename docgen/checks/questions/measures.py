"""What figures of a build leave in doubt: a measure of a variant far from the others', foam that fills little of its
strap, an odd row of eyelets on a cord; and a seam that leaves out what its neighbour sews."""

import math
import re
from collections.abc import Iterator
from itertools import permutations

from docgen.checks.questions.question import Question, question
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade import Subject
from docgen.geometry.outline import edge_names
from docgen.read import Value, VariantSpec
from docgen.resolve import Seam, Trimming
from docgen.tables.usual import CALLED_MM

SIZES = frozenset({"small", "large", "short", "long", "narrow", "wide", "slim", "tall", "mini", "maxi"})
SHARES = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4, "double": 2.0, "twice": 2.0}
SHARE_RE = re.compile(r"(?:(?P<times>\d+(?:\.\d+)?) \* )?[a-z][a-z0-9-]*(?: / (?P<by>[1-9]\d*))?")
FAR = 3.0  # a variant is hardly so many times as large as the build, or as small: our choice
FILLED = 0.5  # of the width of its strap that foam takes or more: our choice
LEAST_ROW = 5  # so many eyelets in a row are for a cord
LEAST_LACED = 3  # and so many bare holes, where no other row is
ALSO_SEWN = 2  # so many parts in both seams make a third one missed


@question
def ask_variants(subject: Subject) -> Iterator[Question]:
    """Measures of a variant that are many times those of the build; figures alone, no sums. Of several that are, the one
    of the build is asked."""
    own = {measure.name: measure.length for measure in subject.spec.measures if measure.length}
    found: dict[str, list[tuple[str, Value[str]]]] = {}
    for variant in subject.spec.variants:
        for measure in variant.measures:
            if measure.length is None or measure.name not in own:
                continue
            mm, usual_mm = plain_mm(measure.length.value), plain_mm(own[measure.name].value)
            if min(mm, usual_mm) > 0 and max(mm, usual_mm) >= FAR * min(mm, usual_mm):
                found.setdefault(measure.name, []).append((variant.name, measure.length))
    answer = "look at both figures and their units; where it is meant so there is nothing to do"
    for name, far in found.items():
        variants = " and ".join(f'{length.value} in "{variant}"' for variant, length in far)
        where = far[0][1] if len(far) == 1 else own[name]
        what = f'"{name}" is {variants}, and {own[name].value} in [measures]'
        yield Question(place=where.place, what=what, answer=answer)


@question
def ask_named(subject: Subject) -> Iterator[Question]:
    """Measures called by a thing that is hardly so small or so large; figures alone, no sums."""
    tables = [subject.spec.measures, *(variant.measures for variant in subject.spec.variants)]
    for measure in (item for table in tables for item in table if item.length):
        least_mm, most_mm = CALLED_MM.get(measure.name, (0.0, math.inf))
        mm = plain_mm(measure.length.value) if measure.length else 0.0
        if mm > 0 and not least_mm <= mm <= most_mm and measure.length:
            told, least, most = map(subject.length, (mm, least_mm, most_mm))
            what = f'"{measure.name}" is {told}, and what is called so mostly {least} to {most}'
            answer = "look at the figure and its unit; where it means something else there is nothing to do"
            yield Question(place=measure.length.place, what=what, answer=answer)


@question
def ask_shares(subject: Subject) -> Iterator[Question]:
    """Measures called a half, a third or a quarter, or twice something, that are another share of a measure."""
    for measure in subject.spec.measures:
        shares = [share for word, share in SHARES.items() if word in measure.name.split("-")]
        written = SHARE_RE.fullmatch(measure.length.value.strip())
        if len(shares) == 1 and written:
            times = float(written["times"] or 1) / float(written["by"] or 1)
            if times != shares[0] and (written["times"] or written["by"]):
                what = f'"{measure.name}" is written "{measure.length.value}"'
                answer = "look at the figure; where it means something else there is nothing to do"
                yield Question(place=measure.length.place, what=what, answer=answer)


@question
def ask_sizes(subject: Subject) -> Iterator[Question]:
    """Variants called by a size, of which nothing says what is other, where another of their axis has other measures."""
    for variant in subject.spec.variants:
        says = (variant.measures, variant.materials, variant.stitches, variant.hardware, variant.pieces, variant.straps)
        others = [
            other.name
            for other in subject.spec.variants
            if other is not variant and other.measures and _axis(other) == _axis(variant)
        ]
        if variant.name in SIZES and not any(says) and not variant.without and others:
            what = f'nothing says what is other in "{variant.name}", and "{others[0]}" has measures of its own'
            answer = "write measures = { ... } in it; where it is the build as it stands there is nothing to do"
            yield Question(place=variant.place, what=what, answer=answer)


def _axis(variant: VariantSpec) -> str:
    return variant.axis.value if variant.axis else ""


@question
def ask_padding(subject: Subject) -> Iterator[Question]:
    """Foam that fills little of its strap."""
    for own in subject.spec.straps:
        strap = subject.parts.straps.get(own.name)
        if strap is None or own.padding is None or own.padding.width is None:
            continue
        if 0 < strap.padding_width_mm < FILLED * strap.width_mm:
            foam, wide = map(subject.length, (strap.padding_width_mm, strap.width_mm))
            what = f'the foam of "{own.name}" is {foam} wide, and the strap {wide}'
            answer = "look at both figures; where a narrow rib is meant there is nothing to do"
            yield Question(place=own.padding.width.place, what=what, answer=answer)


@question
def ask_tapers(subject: Subject) -> Iterator[Question]:
    """Ends of straps that come to another width on so short a way that either edge slants by more than 45 degrees."""
    for own in subject.spec.straps:
        strap = subject.parts.straps.get(own.name)
        for end, written in zip(strap.ends, own.ends, strict=False) if strap else ():
            aside_mm = abs(strap.width_mm - end.taper.width_mm) / 2 if strap and end.taper else 0.0
            if end.taper and written.taper and 0 < end.taper.long_mm < aside_mm:
                long, wide = map(subject.length, (end.taper.long_mm, 2 * aside_mm))
                what = f'"{own.name}" becomes {wide} wider or narrower on a way of {long}'
                answer = "look at taper and its unit; where it is to be cut in steps there is nothing to do"
                yield Question(place=written.taper.place, what=what, answer=answer)


@question
def ask_cords(subject: Subject) -> Iterator[Question]:
    """Rows of eyelets of an odd number, where there is a cord: drawn through them all, its ends come out on either side."""
    cords = [
        item for item in subject.build.trimmings if item.kind == "cord" and not any(cut.seams for cut in item.cuts)
    ]
    eyelets = {item.name for item in subject.build.hardware if item.kind == "eyelet"}
    yield from _ask_laced(subject, cords)
    for piece in subject.spec.pieces if cords else ():
        rows = [row for row in piece.hole_rows if row.takes and row.takes.value in eyelets]
        for count in (row.count for row in rows if row.count):
            if count.value >= LEAST_ROW and count.value % 2:
                what = (
                    f'the row of "{piece.name}" has {count.value} eyelets, and "{cords[0].name}" drawn through them all'
                )
                what += " has one end inside and one outside"
                answer = "write an even count, so that both come out on one side; else there is nothing to do"
                yield Question(place=count.place, what=what, answer=answer)


def _ask_laced(subject: Subject, cords: list[Trimming]) -> Iterator[Question]:
    """The one row of bare holes of a build with one cord, which is odd: a cord that is laced through it ends unevenly."""
    rows = [(piece, row) for piece in subject.spec.pieces for row in piece.hole_rows if not row.takes]
    if len(cords) == 1 == len(rows) and not any(piece.like for piece in subject.spec.pieces):
        piece, row = rows[0]
        if row.count and row.count.value >= LEAST_LACED and row.count.value % 2:
            what = (
                f'the row of "{piece.name}" has {row.count.value} holes, and "{cords[0].name}" drawn through them all'
            )
            what += " has one end inside and one outside"
            answer = "write an even count, so that both come out on one side; else there is nothing to do"
            yield Question(place=row.count.place, what=what, answer=answer)


def _is_pocket(subject: Subject, seam: Seam, name: str) -> bool:
    """Whether a part lies outermost in a seam and lines nothing: at its free edge it is open, as the inside of a wallet."""
    is_lining = any(lies.is_cover and lies.copy.part == name for lies in subject.build.assembly.lies)
    return not is_lining and name in (seam.sides[0].part, seam.sides[-1].part)


@question
def ask_partners(subject: Subject) -> Iterator[Question]:
    """Seams that sew some parts of another seam to each other, and leave out one with the same edges, which are sewn to
    nothing: a welt or lining that is forgotten along one edge."""
    for few, many in permutations(subject.build.seams, 2):
        names = {side.part for side in few.sides if side.edges}
        gone = [side.part for side in many.sides if side.edges and side.part not in names]
        shared = [side for side in few.sides if side.edges and side.part in many.parts]
        if (
            len(gone) != 1
            or len(shared) < ALSO_SEWN
            or len({(side.part, side.copy) for side in shared}) < len(shared)  # a part that is closed on itself
            or len(shared) < len(many.sides) - 1
            or gone[0] not in subject.parts.pieces
            or _is_pocket(subject, many, gone[0])
        ):
            continue
        known = {*edge_names(subject.parts.pieces[gone[0]].sewn_outline)}
        free = [edge for edge in shared[0].edges if edge in known and edge not in subject.edges_sewn(gone[0])]
        if free and len(free) == len(shared[0].edges):
            what = f'the seam "{few.name}" leaves out "{gone[0]}", which "{many.name}" sews between the same parts'
            answer = f'write "{gone[0]}: {" ".join(free)}" in its meet; where it ends there is nothing to do'
            yield Question(place=few.place_of(shared[0]), what=what, answer=answer)
