"""What lies open or in the way: a pocket that is held at its foot and one side and not at the other, one that hangs upside
down on the wall of a ring, and eyelets beneath a strap."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.places import landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.mouths import pockets
from docgen.geometry.measure import inside_finder
from docgen.geometry.outline import ACROSS, SIDES, edge_path, outline_box
from docgen.geometry.path import flatten, path_box, path_length, points_at, transform_path
from docgen.geometry.shapes import Box, Path
from docgen.geometry.vector import subtract, undone
from docgen.problems import Place
from docgen.resolve import Join, Landing, Piece, StrapLanding

MOST: Final = 100  # of more landings nothing is asked: a stranger's file
POCKETS: Final = ("pocket", "slot", "sleeve")
EVERY_MM: Final = 2.0
NEAR_MM: Final = 12.0  # a row so near to a side holds it: our choice
ALONG: Final = 0.8  # cosine between a row and the side along which it runs
HELD: Final = 0.25  # so much of a side holds it, as of the head of a T: our choice
OPEN: Final = 0.1
LEAST_OPEN_MM: Final = 10.0  # so much of a side below the mouth of a pocket lets what is in it slide out: our choice
SIDE_MM: Final = 1.0
STEP_MM: Final = 1.0


@question
def ask_open_sides(subject: Subject) -> Iterator[Question]:
    """Pockets whose foot and one side rows go through, and none through the other: what is put in slides out there."""
    found = [
        (base, landing)
        for base in subject.build.pieces
        if base.name in subject.specs
        for landing in base.marks.landings
    ]
    shut: set[str] = set()
    for base, landing in found if len(found) <= MOST else ():
        piece = subject.parts.pieces.get(landing.piece)
        if piece is None or piece.own_folds or landing.is_over or not is_called(piece, POCKETS):
            continue
        rows, place = [*rows_through(subject, base)], landing_place(subject.specs[base.name], landing)
        held = held_sides(rows, landing)
        if piece.model not in shut:
            caught = held_sides(rows_through(subject, base, _sewn_before(subject, base.name, piece.name)), landing)
            asked = [*_ask_shut_mouth(subject, base, piece, landing, caught)]
            shut |= {piece.model} if asked else set()
            yield from asked
        if min(held["left"], held["right"]) >= HELD and max(held["bottom"], held["top"]) < OPEN and _is_upright(piece):
            what = f'rows hold "{piece.name}" on "{base.name}" at both its sides, and none at its foot'
            answer = "look where it lands, and name its foot in a seam; where it is to be open there is nothing to do"
            yield Question(place=place, what=what, answer=answer)
        elif held["bottom"] >= HELD and held["top"] < OPEN:
            loose, fast = sorted(("left", "right"), key=lambda side: held[side])
            if held[loose] < OPEN and held[fast] >= HELD:
                what = f'rows hold "{piece.name}" on "{base.name}" at its foot and its {fast}, and none at its {loose}'
                answer = (
                    f'sew "{piece.name}: {loose}", or lay it under a row; where it is to be open there is nothing to do'
                )
                yield Question(place=_sewn_flat(subject, piece, base) or place, what=what, answer=answer)
            elif held[fast] >= HELD and not piece.marks.holes:
                yield from _ask_along(subject, base, landing, rows)


def _sewn_flat(subject: Subject, piece: Piece, base: Piece) -> Place | None:
    """Where the only edge by which a seam sews a part flat on its host is written; None where there are more."""
    sides = [
        seam.place_of(side)
        for seam in subject.build.seams
        if base.name in {one.part for one in seam.sides if not one.edges}
        for side in seam.sides
        if side.part == piece.name and side.edges
    ]
    return sides[0] if len(sides) == 1 else None


def _ask_shut_mouth(
    subject: Subject, base: Piece, piece: Piece, landing: Landing, held: Mapping[str, float]
) -> Iterator[Question]:
    """A pocket through which the rows of its host go all round, or at its top and a side and not at its foot."""
    if not _is_upright(piece) or base.marks.slits or any(hole.long_mm for hole in base.marks.holes):
        return
    answer, place = "its mouth wants to stay clear of every row", landing_place(subject.specs[base.name], landing)
    if min(held.values()) >= HELD:
        what = f'rows hold "{piece.name}" on "{base.name}" (line {place.line}) at all four sides: nothing goes in'
        answer = f"look at its size and where it lands: {answer}; where it is to be shut there is nothing to do"
        yield Question(place=subject.size_place(piece, is_across=False), what=what, answer=answer)
    elif held["top"] >= HELD and held["bottom"] < OPEN and not (base.own_folds or landing.is_inside):
        fast = max(("left", "right"), key=lambda side: held[side])
        if held[fast] >= HELD:
            what = f'rows hold "{piece.name}" on "{base.name}" at its top and its {fast}, and none at its foot'
            answer = f"look where it lands: {answer}; where it opens below there is nothing to do"
            yield Question(place=place, what=what, answer=answer)


def _ask_along(subject: Subject, base: Piece, landing: Landing, rows: Sequence[Path]) -> Iterator[Question]:
    """The sides of a pocket that is held at its foot and both sides, along which the rows end well below its mouth, or
    leave a stretch farther down."""
    heights = {side: _heights_along(rows, landing, side) for side in ("left", "right")}
    above_mm = {side: its[-1] - its[-2] for side, its in heights.items()}
    below_mm = {side: max(high - low for low, high in pairwise(its[:-1])) for side, its in heights.items()}
    open_mm = {side: max(above_mm[side], below_mm[side]) for side in heights}
    side = max(open_mm, key=lambda name: open_mm[name])
    if open_mm[side] > LEAST_OPEN_MM:
        open_, is_above = subject.length(open_mm[side]), above_mm[side] == open_mm[side]
        what = f'rows hold the {side} of "{landing.piece}" on "{base.name}", and '
        what += f"end about {open_} below its mouth" if is_above else f"leave about {open_} of it open below"
        answer = f'sew "{landing.piece}: {side}" ' + ("up to its mouth" if is_above else "from its foot to its mouth")
        answer += "; where that much is to stay open there is nothing to do"
        yield Question(place=landing_place(subject.specs[base.name], landing), what=what, answer=answer)


def _heights_along(rows: Sequence[Path], landing: Landing, side: str) -> list[float]:
    """The heights of the rows beside a side of what lands, between its lower end, the first, and its upper, the last."""
    box, is_in, shape = path_box(landing.outline), inside_finder(landing.outline), flatten(landing.outline)
    ends = [at.y for at in shape if abs(at.x - box.level(side)) < SIDE_MM]
    heights = [
        at.y
        for row in rows
        if path_box(row).top > box.bottom
        for at, _ in points_at(row, [k * STEP_MM for k in range(int(path_length(row) / STEP_MM) + 1)])
        if abs(at.x - box.level(side)) < NEAR_MM and is_in(at)
    ]
    return [min(ends), *sorted(heights or [min(ends)]), max(ends)]


@question
def ask_upside_down(subject: Subject) -> Iterator[Question]:
    """Rectangles that are sewn by three edges on the wall of a ring, and open to the edge where a base is sewn to that:
    the other edge of the wall stays free, and is its mouth."""
    for ring in (join for join in subject.build.joins if join.is_ring):
        sewn = _sewn_along(subject, ring)
        base_at = next(iter(sewn)) if len(sewn) == 1 else ""
        for seam, side, piece, host, landing in pockets(subject) if base_at else ():
            mouth = next(name for name in SIDES if name not in side.edges)
            if host.name in ring.pieces and _opens_to(piece, landing, mouth) == base_at:
                free = ACROSS[base_at]
                what = f'"{piece.name}" opens to the {base_at} of "{host.name}", where "{sewn[base_at]}" is sewn on'
                what += f", and not to its {free}" + ": it lies inside, turned over" * landing.is_inside
                answer = f"name its edges so that it opens to the {free}; where it is to hang so there is nothing to do"
                yield Question(place=seam.place_of(side), what=what, answer=answer)


def _sewn_along(subject: Subject, ring: Join) -> dict[str, str]:
    """By long edge of the wall of a ring what a seam sews to it there; not rows through the wall alone."""
    own = {ring.name, *ring.pieces}
    return {
        edge: other.part
        for seam in subject.build.seams
        for side in seam.sides
        for edge in {*side.edges} & {*ACROSS}
        for other in seam.sides
        if side.part in own and other.part not in own and other.edges
    }


def _opens_to(piece: Piece, landing: Landing, mouth: str) -> str:
    """The long edge of a wall toward which a piece that lands on it is open; "" where it is open along the wall."""
    edge = transform_path(edge_path(piece.sewn_outline, mouth), landing.move_of_lines)
    off = subtract(path_box(edge).centre, path_box(landing.outline).centre)
    return "" if abs(off.y) > abs(off.x) else "left" if off.x < 0 else "right"


def rows_through(subject: Subject, base: Piece, without: Collection[str] = ()) -> Iterator[Path]:
    """The first rows of the seams that go through a piece: its own, and those of what it lands on."""
    yield from (line.path for line in base.marks.stitch_lines if not line.row and line.seam not in without)
    for host in subject.build.pieces:
        for landing in host.marks.landings:
            if landing.piece == base.name and not (landing.is_over or base.own_folds):
                back = undone(landing.move)
                its = [line for line in host.marks.stitch_lines if not line.row and line.seam not in without]
                yield from (transform_path(line.path, back) for line in its)


def _sewn_before(subject: Subject, base: str, part: str) -> set[str]:
    """The seams that are sewn before a part comes to lie on its host, as those of a pocket beneath a flap."""
    assembly = subject.build.assembly
    laid = next((at for on, it, at in assembly.laid if (on.part, it.part) == (base, part)), 0)
    return {one.seam for one in assembly.sewn} - {one.seam for one in assembly.sewn if one.event >= laid}


def _is_upright(piece: Piece) -> bool:
    """Whether nothing else holds what is in it: no dividing line, hem or hole across it."""
    return not (piece.dividers or piece.hems or piece.marks.holes or piece.marks.slits)


def held_sides(rows: Iterable[Path], landing: Landing) -> dict[str, float]:
    """Along how much of each side of what lands rows go through it, as shares."""
    box = path_box(landing.outline)
    held, is_in = dict.fromkeys(("left", "right", "bottom", "top"), 0.0), inside_finder(landing.outline)
    for row in rows:
        its = path_box(row)
        if its.right < box.left or its.left > box.right or its.top < box.bottom or its.bottom > box.top:
            continue
        count = max(1, round(path_length(row) / EVERY_MM))
        step_mm = path_length(row) / count
        for at, way in points_at(row, [(k + 0.5) * step_mm for k in range(count)]):
            if is_in(at):
                away = {"left": at.x - box.left, "right": box.right - at.x}
                away = away if abs(way.y) > ALONG else {"bottom": at.y - box.bottom, "top": box.top - at.y}
                side = min(away, key=lambda name: away[name])
                long_mm = box.height if abs(way.y) > ALONG else box.width
                held[side] += step_mm / long_mm if away[side] < NEAR_MM else 0.0
    return held


@question
def ask_under_straps(subject: Subject) -> Iterator[Question]:
    """Eyelets that lie where a strap goes on from the place at which it is fastened: cords come out beneath it."""
    eyelets = {item.name for item in subject.build.hardware if item.kind == "eyelet"}
    for piece in subject.build.pieces if eyelets else ():
        for landing in piece.strap_landings:
            way = _way_on(piece, landing)
            under = [
                hole
                for hole in piece.marks.holes
                if hole.takes in eyelets
                and landing.title not in hole.meets
                and way.left < hole.at.x < way.right
                and way.bottom < hole.at.y < way.top
            ]
            if under:
                hole, strap = under[0], landing.strap
                what = f'"{hole.takes}" in "{piece.name}" (line {hole.place.line}) lies under "{strap}", which goes over it'
                answer = "move either along; where the strap goes over it as is meant there is nothing to do"
                yield Question(place=landing.place, what=what, answer=answer)
                break


def _way_on(piece: Piece, landing: StrapLanding) -> Box:
    """From where the end of a strap lies to the edge of the piece over which it leads, as wide as that."""
    box, edges = path_box(landing.outline), outline_box(piece.outline)
    return Box(
        left=edges.left if landing.leads == "left" else box.left,
        bottom=edges.bottom if landing.leads == "down" else box.bottom,
        right=edges.right if landing.leads == "right" else box.right,
        top=edges.top if landing.leads == "up" else box.top,
    )


@question
def ask_caught_hems(subject: Subject) -> Iterator[Question]:
    """Hems of parts that land, under the row of another seam of their host along its edge: sewn in, they need none; and
    beside that seam they would have to end."""
    seams = {seam.name for seam in subject.build.seams if len(seam.parts) > 1}
    landed = [
        (base, mark) for base in subject.build.pieces for mark in base.marks.landings if base.name in subject.specs
    ]
    for base, landing in landed if len(landed) <= MOST else ():
        piece = subject.parts.pieces.get(landing.piece)
        if piece is None or not piece.hems or landing.is_over or landing.is_inside:
            continue
        own = {line.seam for line in piece.marks.stitch_lines}
        rows = [line for line in base.marks.stitch_lines if line.seam in seams - own and not line.row]
        for row in rows:
            held = held_sides([row.path], landing)
            edge = next((side for side in SIDES if side in piece.hemmed and held[side] >= HELD), "")
            if edge:
                what = (
                    f'the hem along the {edge} of "{piece.name}" lies under the row of "{row.seam}", at the edge of '
                    f'"{base.name}"'
                )
                answer = "measure where it lands, clear of that seam; where it is to be sewn in there is nothing to do"
                yield Question(place=landing_place(subject.specs[base.name], landing), what=what, answer=answer)
                break
