"""What lies on a piece and leaves a doubt: an end that leads over the whole of it, twins of which one lies within, one
that hides another, a narrow strip outside a seam, a pocket that is open at a side where it lies; and a long strip that
is sewn by one side."""

import re
from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from docgen.checks.questions.places import ALONG_MM, along_and_across, is_on, landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.fast import BACK
from docgen.geometry.outline import ACROSS, SIDES, WHOLE, outline_box
from docgen.geometry.path import grow_box, holds_box, path_box
from docgen.geometry.shapes import Box
from docgen.read import PieceSpec
from docgen.resolve import Piece, Seam, SeamSide, StrapLanding
from docgen.tables.consumables import is_glue

AMID_MM = 5.0  # so far from the edges of another part lies what lies amid it: our choice
NARROW_MM = 26.0  # a welt or a filler is no wider: our choice
LONG_IN_WIDTHS = 4.0  # so long a piece is held at both sides, or at its end: our choice
FARTHER_MM = 10.0  # by so much more foam is shorter one way than the other, if it is not meant to lie in the middle
HANGS_RE = r"(?i)\b(hook|clip|clasp|carabiner|split ring|key ring)s?\b"
FARTHER = 2.0  # an end that leads away so many times farther than to the edge behind it


@question
def ask_laid_on(subject: Subject) -> Iterator[Question]:
    """Parts and ends of straps that lie on a piece, by what else lies there."""
    for base in subject.build.pieces:
        yield from _ask_ways(subject, base)
        yield from _ask_amid(subject, base)
        own = subject.specs.get(base.name)
        if own is not None and len(own.landings) == len(base.marks.landings) + len(base.strap_landings):
            yield from _ask_twins(base, own)
            yield from _ask_hidden(subject, base)
            yield from _ask_odd(subject, base)
            yield from _ask_within(subject, base, own)
            yield from _ask_strips(subject, base, own)
            yield from _ask_open(subject, base, own)
    yield from _ask_long(subject)


def _ask_ways(subject: Subject, base: Piece) -> Iterator[Question]:
    """Ends of straps that lead to the farther edge of what they lie on. One of which the other end, or the partner, lies
    there goes to that; ends of copies that all lead so are meant."""
    box = outline_box(base.outline)
    ends = base.strap_landings
    partners = {name: strap.partner for name, strap in subject.parts.straps.items() if strap.partner}
    partners |= {other: name for name, other in partners.items()}
    ways = Counter((end.strap, end.end, end.leads) for end in ends)
    told = {caution.at for caution in subject.build.cautions if caution.check == "strap-end-unheld"}
    for end in ends:
        ahead_mm, behind_mm = _to_edge(box, end.at, end.leads), _to_edge(box, end.at, BACK[end.leads])
        is_alone = ways[end.strap, end.end, end.leads] == 1 and not any(
            other.strap == partners.get(end.strap) or (other.strap == end.strap and other.end != end.end)
            for other in ends
        )
        is_free = _holds_buckle(subject, end, ahead_mm) or _hangs_on(subject, end) or base.name in told
        if is_alone and ahead_mm > FARTHER * behind_mm > 0 and not is_free:
            far, near = map(subject.length, (ahead_mm, behind_mm))
            what = f'"{end.strap}" leads {end.leads} over {far} of "{base.name}", and the edge behind it is {near} off'
            answer = "look at its place and at leads; where it is to lie across there is nothing to do"
            yield Question(place=end.place, what=what, answer=answer)


def _hangs_on(subject: Subject, end: StrapLanding) -> bool:
    """Whether the other end of a strap is turned round a hook, a clip or a key ring, so that it hangs free."""
    rings = {*subject.parts.straps[end.strap].ends[1 - end.end].rings}
    return any(item.name in rings and re.search(HANGS_RE, item.what) for item in subject.build.hardware)


def _holds_buckle(subject: Subject, end: StrapLanding, ahead_mm: float) -> bool:
    """Whether the other end of a strap is turned round a buckle, and it comes nowhere near the edge: a buckle piece."""
    strap = subject.parts.straps[end.strap]
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    return strap.finished_mm < ahead_mm / 2 and not buckles.isdisjoint(strap.ends[1 - end.end].rings)


def _to_edge(box: Box, at: tuple[float, float], way: str) -> float:
    across, up = at
    return {"left": across - box.left, "right": box.right - across, "up": box.top - up, "down": up - box.bottom}[way]


def _ask_amid(subject: Subject, base: Piece) -> Iterator[Question]:
    """Foam shorter than what it lines, of which no place is told, where a fold of that would run through it: without a
    place it lies in the middle."""
    foams = {material.name for material in subject.build.materials if material.kind == "foam"}
    folds = base.own_folds
    around = outline_box(base.outline)
    for cover in subject.build.pieces if folds else ():
        is_told = any(landing.piece == cover.name for landing in base.marks.landings)
        if cover.material not in foams or base.name not in cover.lines or cover.name not in subject.specs or is_told:
            continue
        box = outline_box(cover.outline)
        free = {"x": (around.width - box.width) / 2, "y": (around.height - box.height) / 2}
        for axis, other in (("x", "y"), ("y", "x")):
            middle, half = getattr(around.centre, axis), (box.width if axis == "x" else box.height) / 2
            through = (
                abs(getattr(end, axis) - middle) < half - ALONG_MM for fold in folds for end in (fold.start, fold.end)
            )
            if free[axis] > free[other] + FARTHER_MM and all(through):
                what = (
                    f'nothing says where "{cover.name}" lies behind "{base.name}": in the middle, '
                    f"{subject.length(free[axis])} from both edges, it lies across the fold"
                )
                answer = f'write {{ piece = "{cover.name}", at = ..., inside = true }} in landings of "{base.name}"'
                yield Question(place=subject.specs[cover.name].place, what=what, answer=answer)


def _ask_twins(base: Piece, own: PieceSpec) -> Iterator[Question]:
    """Pieces of one size on one piece, of which one lies within and the other without."""
    for one, other in combinations(base.marks.landings, 2):
        if one.is_inside != other.is_inside and _is_of_one_size(path_box(one.outline), path_box(other.outline)):
            within, without = (one, other) if one.is_inside else (other, one)
            what = (
                f'"{within.piece}" lies on the inside of "{base.name}", and "{without.piece}", as large, on the outside'
            )
            answer = "write inside = true for both, or for none; where it is meant so there is nothing to do"
            yield Question(place=landing_place(own, without), what=what, answer=answer)


def _is_of_one_size(one: Box, other: Box) -> bool:
    return abs(one.width - other.width) <= ALONG_MM and abs(one.height - other.height) <= ALONG_MM


def _ask_hidden(subject: Subject, base: Piece) -> Iterator[Question]:
    """Pieces that lie over each other on one side and are of one size, as a row of pockets in steps is not; or of which the
    one beneath, with two edges in line, is no larger any way."""
    for one, other in combinations(base.marks.landings, 2):
        own = subject.specs.get(one.piece)
        if own is not None and one.piece != other.piece and one.is_inside == other.is_inside:
            beneath, above = path_box(one.outline), path_box(other.outline)
            shared = sum(is_on(beneath, above, side) for side in SIDES)
            if shared == len(SIDES) or (shared == len(SIDES) - 1 and holds_box(above, beneath)):
                what = f'"{other.piece}" lies on "{base.name}" just over "{one.piece}", and hides all of it'
                answer = "look at the size of both; where they are meant to be alike there is nothing to do"
                if shared == len(SIDES) and base.name in subject.specs:
                    lines = [landing_place(subject.specs[base.name], it).line for it in (one, other)]
                    where = f"where they land (lines {lines[0]} and {lines[1]})"
                    answer = f"look {where}, and at the size of both; where they are meant so there is nothing to do"
                place = own.like.place if own.like else own.size[-1].place if own.size else own.place
                yield Question(place=place, what=what, answer=answer)
                break


def _ask_odd(subject: Subject, base: Piece) -> Iterator[Question]:
    """Of three rectangles and more that lie in one corner of a piece, the one that is far narrower than the others, which
    are as wide as each other."""
    corners: dict[tuple[bool, float, float], list[tuple[str, float]]] = {}
    for landing in base.marks.landings:
        box = path_box(landing.outline)
        for x in (box.left, box.right):
            corners.setdefault((landing.is_inside, round(x, 1), round(box.bottom, 1)), []).append(
                (landing.piece, box.width)
            )
    for found in corners.values():
        name, least = min(found, key=lambda it: it[1])
        others = [wide for one, wide in found if one != name]
        own = subject.specs.get(name)
        if (
            len(others) > 1
            and max(others) - min(others) <= ALONG_MM
            and FARTHER * least < min(others)
            and own
            and own.size
        ):
            one, two = map(subject.length, (least, others[0]))
            what = f'"{name}" is {one} wide, and the others in its corner of "{base.name}" are {two}'
            answer = "look at its size; where it is meant so there is nothing to do"
            yield Question(place=own.size[0].place, what=what, answer=answer)


def _ask_within(subject: Subject, base: Piece, own: PieceSpec) -> Iterator[Question]:
    """What lands amid the place of another part, clear of its edges, where both are sewn flat on the piece, not the one on
    the other; pockets in steps share an edge."""
    flat = {
        side.part
        for seam in subject.build.seams
        for side in seam.sides
        if side.edges and any(other.part == base.name and not other.edges for other in seam.sides)
    }
    landings = [(one, path_box(one.outline)) for one in base.marks.landings if one.piece in flat]
    for number, (other, box) in enumerate(landings):
        for landing, its_box in landings[number + 1 :]:
            if landing.is_inside == other.is_inside and holds_box(box, grow_box(its_box, AMID_MM)):
                what = (
                    f'"{landing.piece}" lies within "{other.piece}" on "{base.name}", and the seams of both go through '
                    f'"{base.name}"'
                )
                answer = f'measure it again, or write it in landings of "{other.piece}" where it lies on that'
                yield Question(place=landing_place(own, landing), what=what, answer=answer)
                return


def _ask_strips(subject: Subject, base: Piece, own: PieceSpec) -> Iterator[Question]:
    """Narrow pieces outside on a piece, in no seam themselves, along an edge by which that is sewn to another."""
    box = outline_box(base.outline)
    for landing in base.marks.landings:
        laid = path_box(landing.outline)
        long = SIDES[0::2] if laid.height > laid.width else SIDES[1::2]
        is_narrow = min(laid.width, laid.height) <= NARROW_MM and landing.piece not in subject.sewn
        along = [side for side in long if is_on(laid, box, side) and side in _sides_sewn(subject, base.name)]
        if is_narrow and along and not landing.is_inside:
            what = (
                f'"{landing.piece}" lies on the outside of "{base.name}", along its sewn {along[0]}, and is in no seam'
            )
            answer = "write inside = true where it lies between; on the outside, name the seam that goes through it"
            yield Question(place=landing_place(own, landing), what=what, answer=answer)


def _ask_open(subject: Subject, base: Piece, own: PieceSpec) -> Iterator[Question]:
    """Rectangles that are held by their foot and one side where they lie: by their own seam, by the seams of the edges
    that they lie on, and by those of what lies over them."""
    laid = [(landing, path_box(landing.outline)) for landing in base.marks.landings if not landing.is_over]
    around = outline_box(base.outline)
    for landing, box in laid:
        mine = _sides_sewn(subject, landing.piece)
        piece = subject.parts.pieces.get(landing.piece)
        if piece is None or piece.shape != "rectangle" or not mine:
            continue
        edges = [(around, _sides_sewn(subject, base.name))]
        edges += [(other, _sides_sewn(subject, it.piece)) for it, other in laid if it is not landing]
        held = {side for side in SIDES for it, by in edges if side in by and is_on(box, it, side)} | mine
        if held in ({"left", "bottom"}, {"right", "bottom"}) and mine != held:
            words = " and ".join(side for side in SIDES if side in held)
            what = f'"{landing.piece}" is held by its {words} alone where it lies on "{base.name}"'
            again = [side for side in held - {"bottom"} & mine if is_on(box, around, side) and side in edges[0][1]]
            found = _flat_seam(subject, landing.piece, base.name, again[0]) if again else None
            if found:
                across = f"{landing.piece}: {ACROSS[again[0]]}"
                what = f'"{found[0].name}" sews "{landing.piece}" by its {again[0]}, at the edge of "{base.name}", '
                what += f"which is sewn besides, and its {ACROSS[again[0]]} stays open"
                answer = f'write "{across}"; where it is to stay open there is nothing to do'
                yield Question(place=found[0].place_of(found[1]), what=what, answer=answer)
                continue
            answer = "look at its place; where it is to stay open at the other side there is nothing to do"
            yield Question(place=landing_place(own, landing), what=what, answer=answer)


def _flat_seam(subject: Subject, part: str, host: str, edge: str) -> tuple[Seam, SeamSide] | None:
    """The seam that sews this edge of a part flat on its host, and no other of it."""
    for seam in subject.build.seams:
        own = [side for side in seam.sides if side.part == part and side.edges == (edge,)]
        if own and any(side.part == host and not side.edges for side in seam.sides):
            return seam, own[0]
    return None


def _sides_sewn(subject: Subject, part: str) -> frozenset[str]:
    """The edges of a part that are in a seam; all sides where one goes all round."""
    edges = subject.edges_sewn(part)
    return edges - {WHOLE} | {*SIDES} if WHOLE in edges else edges


def _ask_long(subject: Subject) -> Iterator[Question]:
    """Long narrow rectangles that are sewn flat by one long side alone, of which nothing tells how they lie: no place, and
    no step that glues them."""
    laid = {landing.piece for base in subject.build.pieces for landing in base.marks.landings}
    glued = {
        name
        for step in subject.build.steps
        if any(is_glue(tool) for tool in step.tools)
        for name in (
            *step.pieces,
            *(side.part for seam in subject.build.seams if seam.name in step.seams for side in seam.sides),
        )
    }
    for seam in subject.build.seams:
        side = seam.sides[0]
        piece = subject.parts.pieces.get(side.part)
        is_flat = len(seam.sides) == 2 and not seam.sides[1].edges
        is_told = side.part in laid | glued or len(_sides_sewn(subject, side.part)) != 1
        if piece is None or piece.shape != "rectangle" or is_told or not is_flat:
            continue
        box = outline_box(piece.outline)
        long, across = along_and_across(box, side.edges[0])
        if long >= LONG_IN_WIDTHS * across:
            told, wide = map(subject.length, (long, across))
            what = f'"{side.part}", {wide} wide, is sewn on by its {side.edges[0]} alone, {told} long: the rest hangs loose'
            answer = "look at the edge in meet; where it is to hang from there there is nothing to do"
            yield Question(place=seam.place_of(side), what=what, answer=answer)
