"""How much room there is: between dividing lines, by the words of [inside], between two panels, and between the rows by
which the sleeves of a cover are sewn."""

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.measure import line_crossing
from docgen.geometry.outline import OPPOSITE, outline_box
from docgen.geometry.vector import dot, subtract
from docgen.resolve import Divider, Piece, Seam

SAME_MM: Final = 1.0
LEAST_ALIKE: Final = 3  # so many rooms as wide as each other tell how wide the others are meant
WIDER: Final = 3.0  # one at an end that is so many times as wide is what is left: our choice
OUT_MM: Final = 2.0
DEEP: Final = 2.0  # so many times as deep as it is wide or high is no bag but a barrel: our choice
MOST: Final = 60
SPINE: Final = 2  # folds of a cover that closes like a book
CLOSED: Final = 3  # sides of a sleeve that are sewn


@question
def ask_crossing(subject: Subject) -> Iterator[Question]:
    """Dividing lines of one piece that go across each other: no thing goes past them."""
    for piece in subject.build.pieces:
        rows = [line for line in piece.dividers if not line.goods]
        for one, other in combinations(rows[:MOST], 2):
            if _cross(one, other):
                what = f'two dividing lines of "{piece.name}" go across each other'
                place = max((one.place, other.place), key=lambda at: (at.line, at.column))
                answer = "look from which edge each is measured; where it is quilted there is nothing to do"
                yield Question(place=place, what=what, answer=answer)
                break


def _cross(one: Divider, other: Divider) -> bool:
    at = line_crossing(one.start, subtract(one.end, one.start), other.start, subtract(other.end, other.start))
    return at is not None and all(
        dot(subtract(at, line.start), subtract(at, line.end)) < -(OUT_MM**2) for line in (one, other)
    )


@question
def ask_rows(subject: Subject) -> Iterator[Question]:
    """Rows of rooms as wide as each other, the last of which is far wider; and what goes in that is wider than all but
    that, or longer than what the row is sewn on."""
    for piece in subject.build.pieces:
        levels = _levels(piece)
        gaps = [b - a for a, b in pairwise(levels)]
        usual_mm, times = Counter(round(gap, 1) for gap in gaps).most_common(1)[0] if gaps else (0.0, 0)
        if times < LEAST_ALIKE:
            continue
        last, line = max((gaps[0], piece.dividers[0]), (gaps[-1], piece.dividers[-1]), key=lambda pair: pair[0])
        if last > WIDER * usual_mm and usual_mm > 0:
            wide, usual = map(subject.length, (last, usual_mm))
            what = f'a room at the end of "{piece.name}" is {wide} wide, and the others {usual}'
            answer = "look at the figure of the lines; where it is meant to be so wide there is nothing to do"
            yield Question(place=line.place, what=what, answer=answer)
        host = subject.parts.pieces.get(piece.dividers[0].on)
        long_mm = outline_box(host.outline).height if host else 0.0
        for spec in subject.spec.holds:
            thing = next((one for one in subject.build.holds if one.place == spec.place), None)
            if thing is None or not spec.size or max(gaps) > WIDER * usual_mm:
                continue
            _, wide_mm, tall_mm = sorted(thing.size_mm)
            if host and tall_mm > long_mm + OUT_MM:
                told, own = map(subject.length, (tall_mm, long_mm))
                what = f'{thing.what} is {told} long, and "{host.name}", on which "{piece.name}" is sewn, {own} high'
                answer = "look at both figures; where it stands over there is nothing to do"
                yield Question(place=spec.size[0].place, what=what, answer=answer)
            elif wide_mm > max(gaps) + OUT_MM:
                told, own = map(subject.length, (wide_mm, max(gaps)))
                what = f'{thing.what} is {told} across, and the widest room of "{piece.name}" {own}'
                answer = "look at both figures; where it goes elsewhere there is nothing to do"
                yield Question(place=spec.size[0].place, what=what, answer=answer)


def _levels(piece: Piece) -> list[float]:
    """Where a row of upright dividing lines and the edges beside it stand, from left to right; none of other lines."""
    lines = piece.dividers
    if len(lines) < LEAST_ALIKE or any(abs(line.start.x - line.end.x) > SAME_MM for line in lines):
        return []
    box = outline_box(piece.sewn_outline)
    return [box.left, *sorted(line.start.x for line in lines), box.right]


@question
def ask_inside(subject: Subject) -> Iterator[Question]:
    """A height inside that no piece has."""
    inside, own = subject.build.inside, subject.spec.inside
    heights = {piece.name: outline_box(piece.outline).height for piece in subject.build.pieces}
    if inside is None or own is None or own.height is None or not heights:
        return
    tallest = max(heights, key=lambda name: heights[name])
    told = {caution.check for caution in subject.build.cautions}
    is_told = not told.isdisjoint({"inside-larger-than-parts", "inside-contradicts"})
    if inside.height_mm > heights[tallest] + OUT_MM and not is_told:
        mm, most = map(subject.length, (inside.height_mm, heights[tallest]))
        what = f'[inside] is {mm} high, and no piece is: the highest is "{tallest}", {most}'
        answer = "look at the figure and its signs; where pieces lie on their side there is nothing to do"
        yield Question(place=own.height.place, what=what, answer=answer)


@question
def ask_depth(subject: Subject) -> Iterator[Question]:
    """A strip between two panels that makes a bag far deeper than it is wide or high."""
    room = subject.build.assembly.room
    if room is None or room.kind != "box" or room.depth_mm <= DEEP * max(room.width_mm, room.height_mm):
        return
    strips = [piece for piece in subject.build.pieces if piece.shape == "strip" and piece.name in subject.specs]
    walls = [one for one in strips if outline_box(one.outline).width >= room.depth_mm]
    for wall in walls[:1]:
        what = f'with "{wall.name}" the bag is {subject.length(room.depth_mm)} deep inside, more than twice what '
        what += "it is wide or high"
        answer = "look at its width and its unit; where it is to be so deep there is nothing to do"
        yield Question(place=subject.size_place(wall, is_across=True), what=what, answer=answer)


@question
def ask_sleeves(subject: Subject) -> Iterator[Question]:
    """Sleeves of a flat cover, sewn on three sides: between two of their rows there is less room than what goes in is high,
    or [inside] says, though the sleeve as cut is no lower than that."""
    own, inside = subject.spec.inside, subject.build.inside
    sized = {spec.place: spec.size for spec in subject.spec.holds}
    things = [
        (value, mm, f"{one.what} is {subject.length(mm)} one way")
        for one in subject.build.holds
        for mm, value in zip(one.size_mm, sized.get(one.place) or (), strict=False)
    ]
    if own and inside:
        ways = [(own.width, inside.width_mm), (own.height, inside.height_mm)]
        things += [(value, mm, f"[inside] says {subject.length(mm)}") for value, mm in ways if value]
    for piece in subject.build.pieces if things else ():
        for (low, high), rows in _rows_of_sleeve(subject, piece):
            box = outline_box(piece.sewn_outline)
            cut_mm = box.width if low == "left" else box.height
            clear_mm = cut_mm - sum(subject.inset_mm(seam.stitch) for seam in rows)
            tight = next((thing for thing in things if clear_mm + SAME_MM / 2 < thing[1] <= cut_mm + SAME_MM / 2), None)
            if tight is not None:
                what = f'{tight[2]}, and between the rows at {low} and {high} of "{piece.name}" there are '
                what += f"{subject.length(clear_mm)}"
                answer = (
                    f'add both insets of the rows to the size of "{piece.name}" and of what it is sewn to; where it '
                )
                answer += "goes in the other way there is nothing to do"
                yield Question(place=tight[0].place, what=what, answer=answer)
                return


def _rows_of_sleeve(subject: Subject, piece: Piece) -> Iterator[tuple[tuple[str, str], tuple[Seam, Seam]]]:
    """The two opposite edges of a flat piece that are sewn, with one beside them, to the edges of a cover, and the seams
    there."""
    by_edge: dict[str, Seam] = {}
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.part == piece.name and side.edges]
        covers = [subject.parts.pieces.get(side.part) for side in seam.sides if side.part != piece.name and side.edges]
        if sides and any(one and len(one.own_folds) == SPINE and one.bends_over for one in covers):
            by_edge |= {edge: seam for side in sides for edge in side.edges}
    if len(by_edge) == CLOSED and not piece.own_folds:
        for low, high in OPPOSITE:
            if low in by_edge and high in by_edge:
                yield (low, high), (by_edge[low], by_edge[high])
