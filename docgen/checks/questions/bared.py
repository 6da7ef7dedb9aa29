"""Edges that a seam leaves bare: it sews the lining of a part there and not the part itself, or one copy of a shape
twice and the other not; halves of a snap that no fold lays on each other, pockets far thicker than what bears them, and
what lies inside and shows its flesh side over the edge."""

from collections.abc import Iterator, Sequence
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.halves import pair_snaps
from docgen.geometry.outline import SIDES, outline_box
from docgen.geometry.path import path_box
from docgen.resolve import Hole, Piece, Seam, SeamSide
from docgen.tables.cautions import has_phrase

CLOSED: Final = 3  # edges by which a pocket is sewn on
THICKER: Final = 1.5  # so many times as thick as its panel a pocket is firmer than that: our choice
MOST: Final = 100  # of more seams nothing is asked: a stranger's file
SAME_MM: Final = 1.0
STANDS_OUT_MM: Final = 10.0  # what stands out so far is meant to be seen: our choice


@question
def ask_bared_edges(subject: Subject) -> Iterator[Question]:
    """A seam that sews the edge of a lining to another part, where the same edge of what it lines, as it is called or
    said, is in no seam at all, and other edges of both are sewn together."""
    seams = subject.build.seams if len(subject.build.seams) <= MOST else ()
    models = {piece.name: piece.model for piece in subject.build.pieces}
    for seam in seams:
        for side in seam.sides:
            host = _lined_by(subject, side.part, models)
            bare = {*side.edges} - subject.edges_sewn(host) if host and host not in seam.parts else set()
            is_other = seam.parts - {side.part, host}
            if side.edges and bare == {*side.edges} and is_other and any({host, side.part} <= it.parts for it in seams):
                what = f'"{seam.name}" sews the {" ".join(side.edges)} of "{side.part}", and nothing that of "{host}"'
                answer = (
                    f'write "{host}: {" ".join(side.edges)}" in its meet; where that stays open there is nothing to do'
                )
                yield Question(place=seam.place_of(side), what=what, answer=answer)


def _lined_by(subject: Subject, name: str, models: dict[str, str]) -> str:
    """The one part of the same shape that this one lines, as is said or as it is called."""
    own = subject.parts.pieces.get(name)
    if own is None:
        return ""
    called = name.removesuffix("-lining").removeprefix("lining-")
    host = own.lines[0] if len(own.lines) == 1 else called if called != name else ""
    return host if models.get(host) == models[name] else ""


@question
def ask_sewn_twice(subject: Subject) -> Iterator[Question]:
    """The whole edge of a part that two seams of one stitch sew, where that of its like, of the same goods, is in none."""
    sewn: dict[tuple[str, str], list[tuple[Seam, SeamSide]]] = {}
    for seam in subject.build.seams if len(subject.build.seams) <= MOST else ():
        for side in seam.sides:
            if side.stretch_mm is None and len(side.edges) == 1:
                sewn.setdefault((side.part, side.edges[0]), []).append((seam, side))
    for (part, edge), found in sewn.items():
        piece = subject.parts.pieces.get(part)
        alike = [
            one.name
            for one in subject.build.pieces
            if piece and one.model == piece.model and one.material == piece.material and one is not piece
        ]
        bare = [name for name in alike if edge not in subject.edges_sewn(name) and subject.edges_sewn(name)]
        if piece and piece.cut == 1 and len(found) == 2 and len(bare) == 1 and len({it[0].stitch for it in found}) == 1:
            first, last = found
            what = f'the {edge} of "{part}" is sewn by "{first[0].name}" on line {first[0].place_of(first[1]).line} and by '
            answer = "look at both; where that edge stays open there is nothing to do"
            place = last[0].place_of(last[1])
            yield Question(place=place, what=f'{what}"{last[0].name}", and that of "{bare[0]}" by none', answer=answer)


@question
def ask_flat_halves(subject: Subject) -> Iterator[Question]:
    """Both halves of a snap in one panel of a part that bends: no fold lies between them."""
    for cap, stud in pair_snaps(subject):
        for piece in subject.build.pieces:
            halves = [[hole for hole in piece.marks.holes if hole.takes == item.name] for item in (cap, stud)]
            if (
                len(halves[0]) == len(halves[1]) == 1
                and piece.own_folds
                and _is_one_panel(piece, halves[0] + halves[1])
            ):
                first, last = sorted((halves[0][0], halves[1][0]), key=lambda hole: hole.place.line)
                what = f'"{first.takes}" on line {first.place.line} and "{last.takes}" lie in one panel of "{piece.name}", '
                answer = "look from which side each is measured; where they close otherwise there is nothing to do"
                yield Question(place=last.place, what=f"{what}with no fold between them", answer=answer)


def _is_one_panel(piece: Piece, holes: Sequence[Hole]) -> bool:
    return all(fold.off_mm(holes[0].at) * fold.off_mm(holes[1].at) > 0 for fold in piece.own_folds)


@question
def ask_hidden_pockets(subject: Subject) -> Iterator[Question]:
    """Pockets that are said to lie on the hidden side of a lining, where no hand comes."""
    for base in subject.build.pieces:
        if not (base.lines or has_phrase(f"{base.name} {base.title}", "lining")):
            continue
        for landing in base.marks.landings:
            rows = [
                side
                for seam in subject.build.seams
                if base.name in {one.part for one in seam.sides if not one.edges}
                for side in seam.sides
                if side.part == landing.piece and len({*side.edges} & {*SIDES}) == CLOSED == len(side.edges)
            ]
            own = subject.specs.get(base.name)
            items = [one for one in own.landings if one.piece and one.piece.value == landing.piece] if own else []
            value = next((one.inside for one in items if one.inside), None)
            if landing.is_inside and rows and value is not None:
                what = f'"{landing.piece}" lies on the hidden side of "{base.name}", which is a lining'
                answer = "write inside = false, or leave it out; where it opens to behind there is nothing to do"
                yield Question(place=value.place, what=what, answer=answer)


@question
def ask_thick_pockets(subject: Subject) -> Iterator[Question]:
    """Leather pockets that are sewn flat on leather far thinner than they are."""
    materials = subject.parts.materials
    places = {own.name: own.of.place for own in subject.spec.pieces if own.of}
    for base in subject.build.pieces:
        for name in dict.fromkeys(landing.piece for landing in base.marks.landings):
            piece = subject.parts.pieces.get(name)
            own, host = materials.get(piece.material) if piece else None, materials.get(base.material)
            flat = any(
                base.name in {side.part for side in seam.sides if not side.edges}
                and any(side.part == name and len(side.edges) >= CLOSED for side in seam.sides)
                for seam in subject.build.seams
            )
            is_leather = own and host and own.kind == host.kind == "leather"
            if (
                own
                and host
                and is_leather
                and flat
                and own.thickness_mm > THICKER * host.thickness_mm
                and name in places
            ):
                thick, its = map(subject.length, (own.thickness_mm, host.thickness_mm))
                what = f'"{name}" is {thick} thick, and is sewn flat on "{base.name}" of {its}'
                answer = "look at its material; where it is to be so firm there is nothing to do"
                yield Question(place=places[name], what=what, answer=answer)


@question
def ask_flesh_in_sight(subject: Subject) -> Iterator[Question]:
    """Leather laid on the inside that stands out over the edge there, without a fold or a lining of its own: its flesh
    side is seen from outside."""
    lined = {name for piece in subject.build.pieces for name in piece.lines}
    for seam in subject.build.seams:
        edged = {side.part for side in seam.sides if side.edges}
        lined |= edged if len(edged) > 1 else set()
    for base in subject.build.pieces:
        box = outline_box(base.outline)
        own = subject.specs.get(base.name)
        items = [one for one in own.landings if one.piece] if own else []
        for item, landing in zip(items, base.marks.landings, strict=False):
            piece, lies = subject.parts.pieces.get(landing.piece), path_box(landing.outline)
            material = subject.material(piece) if piece else None
            out_mm = max(box.left - lies.left, lies.right - box.right, box.bottom - lies.bottom, lies.top - box.top)
            is_bare = piece is not None and piece.shows == base.shows == "grain" and not piece.marks.folds
            if not (
                material and material.kind == "leather" and landing.is_inside and is_bare and out_mm > STANDS_OUT_MM
            ):
                continue
            if landing.piece not in lined and item.piece is not None:
                what = f'"{landing.piece}" lies inside "{base.name}", flesh on flesh, and stands out over its edge by '
                what += f"{subject.length(out_mm)}: its flesh side is seen from outside there"
                answer = (
                    f'write shows = "flesh" in "{landing.piece}", and its grain side is; else there is nothing to do'
                )
                yield Question(place=item.piece.place, what=what, answer=answer)
