"""What all others of a kind have and one has not: a hole across a fold that meets none, the lining of another part, an
edge that no seam sews, a fold that nothing closes, a strap that no buckle fits."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.folding import mirror_over
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import WHOLE, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import transform_point
from docgen.problems import line_words, name_words
from docgen.read import Value
from docgen.resolve import Fold, Piece, Seam
from docgen.tables.consumables import is_glue

MEETS_MM: Final = 2.0
LEAST_MEET: Final = 2  # so many others meet theirs
LEAST_EDGES: Final = 3  # so many other edges are sewn
LOOSE_MM: Final = 150.0  # shorter parts with a fold are loops and tabs, of which other questions speak: our choice
WIDER: Final = 1.3  # a buckle this much wider than its strap is another's: our choice
WIDER_MM: Final = 5.0
MOST: Final = 200


@question
def ask_folded_holes(subject: Subject) -> Iterator[Question]:
    """The one hole on either side of a closed fold that meets none of the other side, where two and more do."""
    for piece in subject.build.pieces:
        folds = [fold for fold in piece.own_folds if not fold.is_open and not fold.around]
        if len(folds) != 1 or not LEAST_MEET < len(piece.marks.holes) <= MOST:
            continue
        met = near_finder([hole.at for hole in piece.marks.holes], MEETS_MM)
        turned = mirror_over(folds[0].start, folds[0].end)
        within = outline_box(piece.outline)
        folded = [(hole, transform_point(hole.at, turned)) for hole in piece.marks.holes]
        folded = [
            (hole, at) for hole, at in folded if within.left < at.x < within.right and within.bottom < at.y < within.top
        ]
        pairs = [hole for hole, at in folded if met(at)]
        odd = [hole for hole, at in folded if not met(at) and hole.diameter_mm in {one.diameter_mm for one in pairs}]
        heights = {round(abs(folds[0].off_mm(hole.at))) for hole in pairs}
        odd = [hole for hole in odd if round(abs(folds[0].off_mm(hole.at))) in heights]
        if len(odd) == 1 and len(pairs) >= 2 * LEAST_MEET:
            what = f'folded, a hole of "{piece.name}" meets none on the other side, as those in line with it do'
            answer = "look at it, and for one that is left out; where it goes through one layer there is nothing to do"
            yield Question(place=odd[0].place, what=what, answer=answer)


@question
def ask_own_linings(subject: Subject) -> Iterator[Question]:
    """Seams that sew a part to the lining of another, where it has one of its own that they leave out."""
    strips = {join.name: {*join.pieces} for join in subject.build.joins}
    linings = {
        piece.name: {*piece.lines}.union(*(strips.get(name, ()) for name in piece.lines))
        for piece in subject.build.pieces
        if piece.lines
    }
    for seam in subject.build.seams if len(subject.build.seams) <= MOST else ():
        for side in seam.sides if len(seam.parts) == 2 else ():
            host = next(iter(seam.parts - {side.part}))
            own = [name for name, lined in linings.items() if host in lined]
            if side.part in linings and host not in linings[side.part] and len(own) == 1 and host not in linings:
                lined = name_words(sorted(subject.parts.pieces[side.part].lines))
                what = f'"{seam.name}" sews "{host}" to "{side.part}", which lines {lined}'
                answer = f'write "{own[0]}", which lines it; where that one is meant there is nothing to do'
                yield Question(place=seam.place_of(side), what=what, answer=answer)


@question
def ask_loose_hems(subject: Subject) -> Iterator[Question]:
    """The one piece with a hem that no seam sews: of several with hems, or one that seams sew by its other edges."""
    glued = any(is_glue(tool) for step in subject.build.steps for tool in step.tools)
    pieces = [piece for piece in subject.build.pieces if piece.hems]
    held = {piece.name for piece in pieces if subject.edges_sewn(piece.name) & {*piece.hemmed, WHOLE}}
    loose = [piece for piece in pieces if piece.name not in held and piece.model not in held]
    if len(loose) == 1 and (held or subject.edges_sewn(loose[0].name)) and not glued:
        own = subject.specs[loose[0].name].hems if loose[0].name in subject.specs else ()
        what = f'no seam sews the hem of "{loose[0].name}"' + (f', as one does that of "{min(held)}"' if held else "")
        answer = "write a seam along it; where it is glued, name the glue in the step"
        yield Question(place=own[0].place if own else loose[0].place, what=what, answer=answer)


@question
def ask_unjoined(subject: Subject) -> Iterator[Question]:
    """Pieces in no seam, join or place, of the shape and the goods of one that is."""
    build = subject.build
    joins = {name: join.place for join in build.joins for name in join.pieces}
    seams = {side.part: seam.place_of(side) for seam in build.seams for side in seam.sides}
    used = {*joins, *seams, *(landing.piece for base in build.pieces for landing in base.marks.landings)}
    used |= {name for piece in build.cut for hole in piece.marks.holes for name in hole.through}
    straps = {strap.name for strap in build.straps}
    used |= {piece.name for piece in build.pieces if piece.lines or piece.dividers or piece.lid_of}
    for piece in build.pieces:
        likes = [one for one in build.pieces if one.model == piece.model and one.material == piece.material]
        other = next((one.name for one in likes if one.name in joins.keys() | seams.keys()), "")
        is_free = piece.name not in used and not any({*hole.through} - straps for hole in piece.marks.holes)
        if other and is_free:
            what = f'"{piece.name}" is in no seam and no join, and "{other}", which has its shape, is'
            answer = (
                f'write it beside "{other}", or where it lies; where it is fastened otherwise there is nothing to do'
            )
            yield Question(place=joins.get(other) or seams[other], what=what, answer=answer)


@question
def ask_lone_loops(subject: Subject) -> Iterator[Question]:
    """Folded loops that one seam sews to themselves alone, and that lie nowhere."""
    lands = {landing.piece for base in subject.build.pieces for landing in base.marks.landings}
    seams: dict[str, list[Seam]] = {}
    for seam in subject.build.seams:
        for part in {side.part for side in seam.sides}:
            seams.setdefault(part, []).append(seam)
    for piece in subject.build.pieces:
        own = seams.get(piece.name, [])
        is_shut = any(not fold.is_open and not fold.of_hem for fold in piece.marks.folds)
        is_lone = len(own) == 1 and {side.part for side in own[0].sides} == {piece.name}
        is_on_zip = any(step.trimmings and own and own[0].name in step.seams for step in subject.build.steps)
        is_lone &= not piece.marks.holes and not is_on_zip  # folded over the end of goods that its step has in hand
        if is_lone and is_shut and piece.name not in lands and len(subject.build.pieces) > 1:
            what = f'"{own[0].name}" sews "{piece.name}" to itself alone, and nothing else holds it'
            answer = "name in its meet what it is sewn to; where it hangs loose there is nothing to do"
            yield Question(place=own[0].place_of(own[0].sides[0]), what=what, answer=answer)


@question
def ask_unanswered_holes(subject: Subject) -> Iterator[Question]:
    """Holes that take nothing and name a piece which has no hole at all, where what goes through theirs names them."""
    pieces = {piece.name: piece for piece in subject.build.pieces}
    lands = {landing.piece for base in pieces.values() for landing in base.marks.landings}
    for piece in pieces.values():
        into = [one.name for one in pieces.values() for hole in one.marks.holes if piece.name in hole.through]
        for hole in piece.marks.holes:
            named = [name for name in hole.through if name in pieces and not pieces[name].marks.holes]
            if named and into and not hole.takes and not ({*hole.through} & {*into} or named[0] in lands):
                what = f'a hole of "{piece.name}" goes through "{named[0]}", which has none, and "{into[0]}" through '
                answer = f'write through = ["{into[0]}"]; where it is meant so there is nothing to do'
                yield Question(place=hole.place, what=f'{what}"{piece.name}"', answer=answer)


@question
def ask_spare_linings(subject: Subject) -> Iterator[Question]:
    """Linings of which more are cut than of the parts that they are written to line; foam and boards, which may lie in
    halves, of which they are no multiple."""
    cuts = {piece.name: piece.cut for piece in subject.build.pieces}
    stiff = {item.name for item in subject.build.materials if item.kind in ("board", "foam")}
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        there = sum(cuts.get(host, 0) for host in piece.lines)
        is_even = piece.material in stiff and there and piece.cut % there == 0
        if own and own.lines and {*piece.lines} <= cuts.keys() and there < piece.cut and not is_even:
            hosts = " and ".join(f'"{host}"' for host in piece.lines)
            what = f'{piece.cut} of "{piece.name}" are cut, and it lines {hosts} alone, of which there are {there}'
            answer = (
                "look at its cut, and name in lines what else it lies behind; where one is to spare there is nothing "
            )
            is_alone = len(own.lines) == 1 or own.cut is None
            place = own.lines[0].place if is_alone or own.cut is None else own.cut.place
            yield Question(place=place, what=what, answer=f"{answer}to do")
        host = own.lines[0].value if own and len(own.lines) == 1 == len(piece.lines) else ""
        if own and 0 < piece.cut < cuts.get(host, 0) and host in subject.specs:
            cut, its = own.cut, subject.specs[host].cut
            what = f'{piece.cut} of "{piece.name}" {"is" if piece.cut == 1 else "are"} cut{_on_line(piece.name, cut)}, and '
            what += f"{cuts[host]} of what it lines"
            answer = f"look at what it lines{line_words(own.lines[0].place.line)}, or write as many of both; "
            answer += "where some stay without there is nothing to do"
            yield Question(place=its.place if its else own.place, what=what, answer=answer)


def _on_line(name: str, cut: Value[int] | None) -> str:
    return f' ("{name}" on line {cut.place.line})' if cut else ""


@question
def ask_open_feet(subject: Subject) -> Iterator[Question]:
    """Two pieces of one shape of which the foot alone is sewn by nothing."""
    found: dict[str, list[Piece]] = {}
    for piece in subject.build.pieces:
        edges = {edge.name: path_box(edge.path) for edge in piece.outline.edges}
        free = [name for name in edges if name not in subject.edges_sewn(piece.name) | piece.hemmed]
        is_one = len(free) == 1 and len(edges) > LEAST_EDGES and WHOLE not in subject.edges_sewn(piece.name)
        foot = edges[free[0]] if is_one else None
        if foot and is_on(foot, outline_box(piece.outline), "bottom") and foot.height < MEETS_MM:
            found.setdefault(piece.model, []).append(piece)
    for likes in found.values():
        if len(likes) > 1:
            what = f'no seam sews the foot of "{likes[0].name}" and "{likes[1].name}", whose other edges are all sewn'
            answer = "write a seam for it; where it stays open there is nothing to do"
            yield Question(place=likes[0].place, what=what, answer=answer)


@question
def ask_loose_folds(subject: Subject) -> Iterator[Question]:
    """Closed folds in the middle of large pieces, each of whose halves is sewn to another part, and not to the other."""
    for piece in subject.build.pieces:
        folds = [fold for fold in piece.own_folds if not fold.is_open and not fold.around]
        box = outline_box(piece.outline)
        if len(folds) != 1 or max(box.width, box.height) < LOOSE_MM or abs(folds[0].off_mm(box.centre)) > MEETS_MM:
            continue
        ways = [_sides_of(piece, folds[0], seam) for seam in subject.build.seams]
        if {-1} in ways and {1} in ways and not any(len(way) > 1 for way in ways) and not _is_held(piece, folds[0]):
            what = f'the fold of "{piece.name}" is closed, and nothing holds its halves on each other'
            answer = "write open = true in the fold; where they are fixed on each other there is nothing to do"
            yield Question(place=folds[0].place, what=what, answer=answer)


def _sides_of(piece: Piece, fold: Fold, seam: Seam) -> set[int]:
    """On which sides of a fold a seam sews the piece."""
    paths = {edge.name: path_box(edge.path) for edge in piece.outline.edges}
    edges = {edge for side in seam.sides if side.part == piece.name for edge in side.edges}
    found: set[int] = set()
    for box in (paths[edge] for edge in edges if edge in paths):
        off_mm = [fold.off_mm(at) for at in (Point(box.left, box.bottom), Point(box.right, box.top))]
        found |= {1 if mm > 0 else -1 for mm in off_mm if abs(mm) > MEETS_MM}
    return found


def _is_held(piece: Piece, fold: Fold) -> bool:
    """Whether two of its holes meet once it is folded."""
    met = near_finder([hole.at for hole in piece.marks.holes], MEETS_MM)
    turned = mirror_over(fold.start, fold.end)
    return any(met(transform_point(hole.at, turned)) for hole in piece.marks.holes)


@question
def ask_fitting_buckles(subject: Subject) -> Iterator[Question]:
    """The one strap with holes for a tongue, where the buckles are all far wider inside than it is there."""
    build = subject.build
    inside_mm = [item.inside_mm for item in build.hardware if item.kind == "buckle" and item.inside_mm]
    rows = [one for one in build.straps if one.row_holes and not one.partner]
    if len(rows) != 1 or not inside_mm or any(end.rings for end in rows[0].ends):
        return
    strap = rows[0]
    own_mm, least_mm = max(strap.end_width_mm(0), strap.end_width_mm(1)), min(inside_mm)
    if least_mm > max(own_mm * WIDER, own_mm + WIDER_MM):
        own, other = map(subject.length, (own_mm, least_mm))
        places = {one.name: one.width.place for one in subject.spec.straps if one.width}
        what = f'"{strap.name}" is {own} wide, and the buckle it may go through {other} inside'
        answer = "look at both figures; where it goes through something else there is nothing to do"
        yield Question(place=places.get(strap.name, strap.piece.place), what=what, answer=answer)
