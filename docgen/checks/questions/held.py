"""What holds a part that lies on another: a seam that sews it to something else, a pocket folded with its host, or too
narrow for anything, or of cloth with a raw mouth, and a welt sewn by its end."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import along_and_across, is_on, landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS, SIDES, outline_box
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Box
from docgen.resolve import Landing, Piece, Seam, SeamSide, StrapLanding
from docgen.tables.cautions import has_phrase
from docgen.tables.usual import NARROWEST_POCKET_MM

WITHIN_MM: Final = 15.0  # so far within a pocket a fold of its host lies before it is asked about: our choice
BELOW_MM: Final = 2.0  # and so far below its mouth: our choice
MOST: Final = 100  # of more nothing is asked: a stranger's file
WELTS: Final = ("welt", "filler")
SAME_MM: Final = 1.0
ALL_BUT_MOUTH: Final = 3  # so many edges a pocket is sewn by


@question
def ask_landed(subject: Subject) -> Iterator[Question]:
    """What holds the parts that land on others."""
    if sum(len(base.marks.landings) for base in subject.build.pieces) <= MOST:
        for base in subject.build.pieces:
            for landing in base.marks.landings if base.name in subject.specs else ():
                yield from _ask_pocket(subject, base, landing)
        yield from _ask_hosts(subject)
        yield from _ask_raw(subject)
        yield from _ask_unaligned(subject)


def _pocket_side(subject: Subject, base: str, name: str) -> SeamSide | None:
    """The side by which a part is sewn flat on its host along three edges."""
    for seam in subject.build.seams:
        flat = {side.part for side in seam.sides if not side.edges}
        found = [
            side for side in seam.sides if side.part == name and len({*side.edges} & {*SIDES}) == 3 == len(side.edges)
        ]
        if found and base in flat:
            return found[0]
    return None


def _ask_pocket(subject: Subject, base: Piece, landing: Landing) -> Iterator[Question]:
    piece, side = subject.parts.pieces.get(landing.piece), _pocket_side(subject, base.name, landing.piece)
    own = subject.specs.get(landing.piece)
    if piece is None or side is None or own is None or piece.shape != "rectangle":
        return
    mouth = next(edge for edge in SIDES if edge not in side.edges)
    box = path_box(landing.outline)
    is_upright = mouth in SIDES[1::2]
    within = (WITHIN_MM, BELOW_MM) if mouth in ("top", "right") else (BELOW_MM, WITHIN_MM)
    for fold in base.own_folds if not piece.own_folds else ():
        ends = [fold.start, fold.end]
        at = [end.y if is_upright else end.x for end in ends]
        low, high = (box.bottom, box.top) if is_upright else (box.left, box.right)
        if abs(at[0] - at[1]) < SAME_MM and low + within[0] < at[0] < high - within[1]:
            off_mm = abs(at[0] - box.level(mouth))
            off = subject.length(off_mm)
            what = f'a fold of "{base.name}" (line {fold.place.line}) runs across "{piece.name}", {off} below its mouth'
            answer = "look at its place; where the pocket is to bend with it there is nothing to do"
            place = fold.place if off_mm < WITHIN_MM else landing_place(subject.specs[base.name], landing)
            yield Question(place=place, what=what, answer=answer)
    inset_mm = max(one.inset_mm for one in subject.build.stitches)
    across_mm = (box.width if is_upright else box.height) - 2 * inset_mm
    if 0 < across_mm < NARROWEST_POCKET_MM and not (piece.dividers or piece.marks.folds):
        wide, most = map(subject.length, (across_mm, NARROWEST_POCKET_MM))
        what = (
            f'"{piece.name}" is sewn on at three sides, {wide} wide between them; pockets are mostly wider than {most}'
        )
        answer = "look at its size; where a narrow thing goes in there is nothing to do"
        value = own.size[not is_upright] if len(own.size) == 2 else None
        yield Question(place=value.place if value else own.place, what=what, answer=answer)


def _ask_raw(subject: Subject) -> Iterator[Question]:
    """Rectangles of cloth on another part, of which one edge is in sight, and neither sewn, hemmed nor bound."""
    fabrics = {item.name for item in subject.build.materials if item.kind == "fabric"}
    bound = {cut.on for item in subject.build.trimmings for cut in item.cuts}
    for base in subject.build.pieces if fabrics else ():
        around = outline_box(base.outline)
        for landing in base.marks.landings:
            piece, own = subject.parts.pieces.get(landing.piece), subject.specs.get(landing.piece)
            if piece is None or own is None or piece.shape != "rectangle" or piece.material not in fabrics:
                continue
            box = path_box(landing.outline)
            free = [
                edge for edge in SIDES if edge not in subject.edges_sewn(piece.name) and not is_on(box, around, edge)
            ]
            if len(free) == 1 and not (piece.hems or piece.marks.folds or piece.lines or piece.name in bound):
                what = f'the {free[0]} of "{piece.name}", in sight on "{base.name}", is a raw edge of cloth'
                what += _bound_words(subject, piece.name)
                answer = (
                    f'write hems = [{{ edges = "{free[0]}", turn = ... }}]; where it is sealed there is nothing to do'
                )
                yield Question(place=own.of.place if own.of else own.place, what=what, answer=answer)


def _bound_words(subject: Subject, part: str) -> str:
    """Which other edge of a part is bound by a seam of its own, and where that is written."""
    for seam in subject.build.seams:
        side = seam.sides[0]
        if seam.trimmings and len(seam.sides) == 1 and side.part == part and len(side.edges) == 1:
            return f'; the seam "{seam.name}" binds its {side.edges[0]} (line {seam.place_of(side).line})'
    return ""


@question
def ask_same_edges(subject: Subject) -> Iterator[Question]:
    """An edge of a part that two seams sew flat on the same other part; asked at the one that sews fewer edges."""
    seen: dict[tuple[str, int, str, str], tuple[Seam, SeamSide]] = {}
    for seam in subject.build.seams:
        flat = [side.part for side in seam.sides if not side.edges]
        own = [side for side in seam.sides if side.edges and (side.stretch_mm is None or len(side.edges) > 1)]
        for side in own if len(own) == 1 and flat else ():
            for edge in side.edges:
                key = side.part, side.copy, edge, flat[-1]
                before = seen.setdefault(key, (seam, side))
                is_again = before[0] is not seam and before[0].stitch == seam.stitch and side.part != flat[-1]
                if is_again and not _are_apart(subject, before, (seam, side), edge):
                    fewer = min((before, (seam, side)), key=lambda it: len(it[1].edges))
                    other = seam if fewer[0] is before[0] else before[0]
                    what = f'"{fewer[0].name}" sews the {edge} of "{side.part}" on "{flat[-1]}", as "{other.name}" does'
                    answer = "look at both; where two rows are meant there is nothing to do"
                    yield Question(place=fewer[0].place_of(fewer[1]), what=what, answer=answer)
                    return


def _are_apart(subject: Subject, one: tuple[Seam, SeamSide], other: tuple[Seam, SeamSide], edge: str) -> bool:
    """Whether two runs on parts of their edges have their rows along an edge of a piece one after the other."""
    piece = subject.parts.pieces.get(one[1].part)
    if piece is None or edge not in SIDES or one[1].stretch_mm is None or other[1].stretch_mm is None:
        return False
    box = outline_box(piece.sewn_outline)
    rows = [_row_along(piece, seam, box, edge) for seam, _ in (one, other)]
    return all(rows) and (max(rows[0]) <= min(rows[1]) + SAME_MM or max(rows[1]) <= min(rows[0]) + SAME_MM)


def _row_along(piece: Piece, seam: Seam, box: Box, edge: str) -> list[float]:
    """How far along an edge each point lies of what a seam's row has beside it: nearer to it than to that across."""
    lines = [line.path for line in piece.marks.stitch_lines if line.seam == seam.name and line.row == 0]
    is_upright, is_low = edge in ("left", "right"), edge in ("left", "bottom")
    found = []
    for at in (at for path in lines for at in flatten(path)):
        off, along, middle = (at.x, at.y, box.centre.x) if is_upright else (at.y, at.x, box.centre.y)
        if (off < middle) == is_low:
            found.append(along)
    return found


def _ask_hosts(subject: Subject) -> Iterator[Question]:
    """Parts that land on one piece, and that a seam sews flat on another alone, on which they do not lie."""
    hosts: dict[str, set[str]] = {}
    for base in subject.build.pieces:
        for landing in base.marks.landings:
            hosts.setdefault(landing.piece, set()).add(base.name)
    covers = {(name, one.name) for one in subject.build.pieces for name in one.lines}
    bare = {name for name, spec in subject.specs.items() if spec.marks is not None and not spec.marks.value}
    alike = [one for one in subject.build.pieces if one.name not in bare]
    like = {name: {one.name for one in alike if one.model == name} for name in subject.specs}
    mates: dict[str, set[str]] = {}
    for seam in subject.build.seams if len(subject.build.seams) <= MOST else ():
        for side in seam.sides:
            mates.setdefault(side.part, set()).update(one.part for one in seam.sides)
    halves: dict[str, set[tuple[str, str]]] = {}
    for seam in subject.build.seams if mates else ():
        hosts_of = [side.part for side in seam.sides if not side.edges]
        for side in (side for side in seam.sides if len(side.edges) == 1):
            halves.setdefault(side.part, set()).update((host, side.edges[0]) for host in hosts_of)
    for seam in subject.build.seams if mates else ():
        own = [side for side in seam.sides if side.edges]
        flat = [side for side in seam.sides if not side.edges]
        names = {side.part for side in own}
        if len(names) != 1 or not (lies_on := hosts.get(own[0].part)):
            continue
        if len(own) == len(seam.sides) and sum(len(side.edges) for side in own) >= ALL_BUT_MOUTH:
            yield from _ask_alone(seam, lies_on, mates)
        if not flat or flat[0].part in names:
            continue
        sewn = mates[own[0].part]
        across = {ACROSS.get(own[0].edges[0], "")} if len(own) == 1 == len(own[0].edges) else set()
        is_half = {(host, edge) for host in lies_on for edge in across} & halves.get(own[0].part, set())
        here = {side.part for side in flat}
        if (
            lies_on.isdisjoint(here)
            and (is_half or lies_on.isdisjoint(sewn))
            and not any((host, side.part) in covers for host in lies_on for side in flat)
        ):
            host = min(lies_on)
            what = f'"{own[0].part}" lies on "{host}", and "{seam.name}" sews it flat on "{flat[0].part}"'
            answer = (
                f'write "{host}" in its meet, or its place in landings of "{flat[0].part}"; else there is nothing to do'
            )
            if flat[0].part not in like.get(host, set()):
                yield Question(place=seam.place_of(own[0]), what=what, answer=answer)


def _ask_alone(seam: Seam, lies_on: set[str], mates: dict[str, set[str]]) -> Iterator[Question]:
    """A row round a part that lies on another, to which nothing sews it."""
    part, host = seam.sides[0].part, min(lies_on)
    if mates[part] == {part}:
        what = f'"{part}" lies on "{host}", and "{seam.name}" sews it to nothing'
        answer = f'write "{host}" in its meet; where something else holds it there is nothing to do'
        yield Question(place=seam.place_of(seam.sides[0]), what=what, answer=answer)


def _ask_unaligned(subject: Subject) -> Iterator[Question]:
    """Two ends of straps of one name on one piece that lead one way or opposite ways, and lie neither side by side nor in
    line, nor mirrored."""
    for base in subject.build.pieces:
        middle = outline_box(base.outline).centre.x
        found: dict[tuple[str, int], list[StrapLanding]] = {}
        for end in base.strap_landings:
            found.setdefault((end.strap, end.end), []).append(end)
        for ends in found.values():
            if len(ends) == 2:
                (one, other) = ends
                off = abs(one.at.x - other.at.x), abs(one.at.y - other.at.y), abs(one.at.x + other.at.x - 2 * middle)
                if min(off) > SAME_MM:
                    told = [subject.length(mm) for mm in off[:2]]
                    what = (
                        f'two ends of "{one.strap}" on "{base.name}" lie {told[0]} across and {told[1]} up from each '
                    )
                    answer = "measure both again; where they are meant to be unlike there is nothing to do"
                    place = max(one.place, other.place, key=lambda place: place.line)
                    yield Question(place=place, what=f"{what}other", answer=answer)


@question
def ask_welts(subject: Subject) -> Iterator[Question]:
    """Welts by their word that are sewn by a short end alone."""
    for seam in subject.build.seams:
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            if piece is None or piece.shape != "rectangle" or len(side.edges) != 1 or side.edges[0] not in SIDES:
                continue
            box = outline_box(piece.outline)
            words = f"{piece.name} {piece.title}"
            along, across = along_and_across(box, side.edges[0])
            if 2 * along < across and any(has_phrase(words, word) for word in WELTS):
                long, wide = map(subject.length, (across, along))
                what = f'"{piece.name}" is {long} long, and sewn by its {side.edges[0]} alone, {wide}'
                answer = "look at the edge in meet; where its end alone is sewn there is nothing to do"
                yield Question(place=seam.place_of(side), what=what, answer=answer)
