"""What the shapes of a build leave in doubt: an outline that is even but for one corner, one corner round of two that are
sewn, copies of one hand, a row of pockets with a gap, a pocket that is open at a side."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from math import dist

from docgen.checks.questions.places import shape_spec
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.lids import folded_box_mm
from docgen.geometry.outline import CORNERS, WHOLE, corner_names, outline_box, outline_path
from docgen.geometry.segment import segment_start
from docgen.geometry.shapes import Curve, Point, Segment
from docgen.problems import Place
from docgen.read import PieceSpec, PointSpec
from docgen.resolve import Piece
from docgen.tables.cautions import has_phrase

EVEN_MM = 0.5  # corners that are mirrored within it are even
MOST_CORNERS = 60
SAME_MM = 1.0
NEAR_EVEN_MM = 10.0  # two corners that are so nearly even are meant to be, of however few: our choice
LEAST_EVEN = 4  # so many others that have their like
SAME_GAP_MM = 1.0
LEAST_GAPS = 4
MANY_EVEN = 8  # so many corners are even before one more is missed: our choice
NEIGHBOURS = ({"left", "bottom"}, {"right", "bottom"})


@question
def ask_outlines(subject: Subject) -> Iterator[Question]:
    """Outlines of points, of which all but two corners, or two handles of curves, have their like across the middle."""
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        is_handed = piece.is_pair or any(
            one.like and one.like.value == piece.name and one.mirror for one in subject.spec.pieces
        )
        if own is None or not own.points or is_handed:
            continue
        path = outline_path(piece.outline)
        corners = [segment_start(segment) for segment in path.segments]
        middle_mm = _middle_mm(corners)
        is_even = True
        handles = [
            at for segment in path.segments if isinstance(segment, Curve) for at in (segment.handle_1, segment.handle_2)
        ]
        for points, called in ((corners, "corners"), (handles, "curves")):
            odd = [at for at in points if not any(_is_across(at, other, middle_mm) for other in points)]
            evens = len(points) - len(odd)
            if len(odd) == 2 and (evens >= LEAST_EVEN or (called == "curves" and (evens >= 2 or is_even))):
                first, second = (_at_words(subject, at) + _line_words(own, piece, at) for at in odd)
                what = f'"{piece.name}" is even left and right of its middle but for two {called}: {first} and {second}'
                answer = "look at both; where they are meant to be uneven there is nothing to do"
                yield Question(place=_near_place(own, piece, odd), what=what, answer=answer)
                break
            if called == "corners" and len(odd) == 1 and evens >= MANY_EVEN:
                first = _at_words(subject, odd[0]) + _line_words(own, piece, odd[0])
                what = f'{evens} corners of "{piece.name}" are even left and right of its middle, and one is alone: {first}'
                answer = "look whether a corner is missing; where it is meant to be uneven there is nothing to do"
                yield Question(place=_near_place(own, piece, odd), what=what, answer=answer)
                break
            if called == "corners" and len(odd) == 2 and SAME_MM < _off_mm(odd, middle_mm) <= NEAR_EVEN_MM:
                first, second = (_at_words(subject, at) for at in odd)
                off = subject.length(_off_mm(odd, middle_mm))
                what = f'two corners of "{piece.name}" are even left and right but for {off}: {first} and {second}'
                answer = "look at both; where they are meant to be uneven there is nothing to do"
                yield Question(place=_near_place(own, piece, odd), what=what, answer=answer)
                break
            is_even = is_even and not odd and evens >= LEAST_EVEN


def _middle_mm(corners: Sequence[Point]) -> float:
    """The upright line about which most corners of one height lie even; that of all where none do."""
    middles = Counter(
        round((one.x + other.x) / 2, 2)
        for one, other in combinations(corners[:MOST_CORNERS], 2)
        if abs(one.y - other.y) < EVEN_MM
    )
    xs = [at.x for at in corners]
    whole = round((min(xs) + max(xs)) / 2, 2)
    return max(middles, key=lambda mm: (middles[mm], mm == whole)) if middles else whole


def _off_mm(odd: list[Point], middle_mm: float) -> float:
    """How far a corner lies from where the other would be, turned over about the middle."""
    one, other = odd
    return dist((2 * middle_mm - one.x, one.y), other)


def _is_across(one: Point, other: Point, middle_mm: float) -> bool:
    return dist((2 * middle_mm - one.x, one.y), other) < EVEN_MM


def _at_words(subject: Subject, at: Point) -> str:
    return f"{subject.length(at.x)} across, {subject.length(at.y)} up"


def _written(own: PieceSpec, piece: Piece, spots: Sequence[Point]) -> list[tuple[PointSpec, Point]]:
    """The points of the outline as they are written that give these."""
    paths = {edge.name: edge.path for edge in piece.outline.edges}
    names = [point.edge.value if point.edge else f"edge-{k}" for k, point in enumerate(own.points, 1)]
    return [
        (point, at)
        for name, point in zip(names, own.points, strict=True)
        for at in spots
        if name in paths and any(_is_of(segment, at) for segment in paths[name].segments)
    ]


def _line_words(own: PieceSpec, piece: Piece, at: Point) -> str:
    """On which line a point is written, behind the name of its edge."""
    found = _written(own, piece, [at])
    point = found[0][0] if found else None
    return f' ("{point.edge.value}" on line {point.place.line})' if point and point.edge else ""


def _near_place(own: PieceSpec, piece: Piece, odd: list[Point]) -> Place:
    """Where one of two corners is written: the one beyond all others, or with fewer figures, else the later; the table of
    the piece where that is not plain."""
    paths = {edge.name: edge.path for edge in piece.outline.edges}
    found = _written(own, piece, odd)
    if not found:
        return own.place
    corners = [segment_start(segment) for path in paths.values() for segment in path.segments]
    far = [point for point, at in found if _is_beyond(at, [one for one in corners if one != at])]
    if len(far) == 1:
        return far[0].place
    figures = [sum(word.isdigit() for value in point.at + point.curve for word in value.value) for point, _ in found]
    least = min(figures)
    return found[figures.index(least)][0].place if max(figures) > least else found[-1][0].place


def _is_beyond(at: Point, others: list[Point]) -> bool:
    xs, ys = [one.x for one in others], [one.y for one in others]
    return not (min(xs) <= at.x <= max(xs) and min(ys) <= at.y <= max(ys))


def _is_of(segment: Segment, at: Point) -> bool:
    return at == segment_start(segment) or (isinstance(segment, Curve) and at in (segment.handle_1, segment.handle_2))


@question
def ask_pairs(subject: Subject) -> Iterator[Question]:
    """Uneven pieces that are cut several times and all of one hand, where one of the same shape is cut in pairs."""
    pairs = {piece.model: piece for piece in subject.build.pieces if piece.is_pair}
    for piece in subject.build.pieces:
        twin = pairs.get(piece.model)
        if twin is None or piece.is_pair or piece.cut != twin.cut or not _is_uneven(piece):
            continue
        what = f'all {piece.cut} of "{piece.name}" are cut one way round, and half of "{twin.name}" the other'
        answer = "write pair = true, where one of each hand is meant"
        yield Question(place=_cut_place(subject, piece.name, piece.place), what=what, answer=answer)


def _is_uneven(piece: Piece) -> bool:
    middle_mm = outline_box(piece.outline).centre.x
    corners = [segment_start(segment) for segment in outline_path(piece.outline).segments]
    return any(not any(_is_across(at, other, middle_mm) for other in corners) for at in corners)


@question
def ask_gaps(subject: Subject) -> Iterator[Question]:
    """Rows of dividing lines that stand evenly but for one place, where one is left out."""
    for piece in subject.build.pieces:
        lines, is_whole = [line for line in piece.dividers if not line.goods], False
        across = sorted((line.start.x + line.end.x) / 2 for line in lines)
        if any(abs(line.start.x - line.end.x) > abs(line.start.y - line.end.y) for line in lines):
            across = sorted((line.start.y + line.end.y) / 2 for line in lines)
        elif len(lines) == LEAST_GAPS:  # so few tell it with the rooms at both ends
            box = outline_box(piece.sewn_outline)
            across, is_whole = [box.left, *across, box.right], True
        gaps = [after - before for before, after in pairwise(across)]
        usual = min(gaps, default=0.0)
        wide = [gap for gap in gaps if abs(gap - 2 * usual) <= SAME_GAP_MM]
        even = [gap for gap in gaps if abs(gap - usual) <= SAME_GAP_MM]
        is_end = is_whole and wide[:1] in (gaps[:1], gaps[-1:])  # the room at an end may be as wide as is left
        if len(wide) == 1 and len(even) == len(gaps) - 1 and len(gaps) >= LEAST_GAPS and not is_end:
            one, other = map(subject.length, (usual, wide[0]))
            later = sorted(lines, key=lambda line: line.place.line)
            place = later[min(gaps.index(wide[0]) + (0 if is_whole else 1), len(later) - 1)].place
            what = f'the dividing lines of "{piece.name}" stand {one} apart, and two of them {other}'
            answer = "add the line that is left out; where one room is to be twice as wide there is nothing to do"
            yield Question(place=place, what=what, answer=answer)


def _cut_place(subject: Subject, name: str, otherwise: Place) -> Place:
    """Where it says how many are cut."""
    counts = {piece.name: piece.cut for piece in subject.spec.pieces} | {
        strap.name: strap.cut for strap in subject.spec.straps
    }
    count = counts.get(name)
    return count.place if count else otherwise


@question
def ask_mouths(subject: Subject) -> Iterator[Question]:
    """Rectangles that land on a larger part and are sewn flat on it by their foot and one side alone."""
    landed = {it.piece for base in subject.build.pieces for it in base.marks.landings}
    for seam in subject.build.seams:
        flat = [side for side in seam.sides if not side.edges]
        for side in seam.sides if flat else ():
            piece = subject.parts.pieces.get(side.part)
            is_so = piece is not None and piece.shape == "rectangle" and side.part in landed
            is_host = any(base.part == side.part for base in flat)
            if is_so and not is_host and {*side.edges} in NEIGHBOURS and _open(piece, subject.edges_sewn(side.part)):
                words = " and ".join(side.edges)
                what = f'"{side.part}" is sewn on by its {words} alone, and stays open above and at one side'
                answer = "name the third edge in the seam; where it is to stay open there is nothing to do"
                yield Question(place=seam.place_of(side), what=what, answer=answer)


def _open(piece: Piece | None, sewn: frozenset[str]) -> bool:
    """Whether nothing else is sewn along its third edge; hems lie on the piece itself."""
    hemmed = piece.hemmed if piece else frozenset()
    return sewn - hemmed in NEIGHBOURS


@question
def ask_handles(subject: Subject) -> Iterator[Question]:
    """Straps of which both ends land on one piece that is cut more often than they are."""
    for base in subject.build.pieces:
        ends: dict[str, set[int]] = {}
        for end in base.strap_landings:
            ends.setdefault(end.strap, set()).add(end.end)
        for name, held in ends.items():
            strap = subject.parts.straps[name]
            if len(held) == 2 and strap.cut < base.cut and not base.is_pair:
                what = f'{base.cut} of "{base.name}" are cut, each with the places of "{name}", of which {strap.cut} is'
                answer = f"write cut = {base.cut} for it; where only one of them bears it there is nothing to do"
                yield Question(place=_cut_place(subject, name, strap.piece.place), what=what, answer=answer)


@question
def ask_lids(subject: Subject) -> Iterator[Question]:
    """A lid by its words that is folded up of one piece, beside one other that is: whether it goes over that."""
    boxes = [piece for piece in subject.build.pieces if folded_box_mm(piece) is not None]
    for lid in (piece for piece in boxes if has_phrase(f"{piece.name} {piece.title}", "lid") and not piece.lid_of):
        others = [piece for piece in boxes if piece is not lid]
        if len(others) == 1:
            what = f'nothing says whether "{lid.name}" goes over "{others[0].name}" as its loose lid'
            answer = f'write lid-of = "{others[0].name}" in it, and its room is checked; else there is nothing to do'
            yield Question(place=lid.place, what=what, answer=answer)


@question
def ask_lone_corners(subject: Subject) -> Iterator[Question]:
    """Rectangles that seams sew round two corners of one edge, of which one is round and the other square; once for a
    shape."""
    told: set[str] = set()
    for seam in subject.build.seams:
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            if piece is None or piece.shape != "rectangle" or piece.model in told or len(side.edges) not in (1, 3):
                continue
            rounded = {*corner_names(piece.outline)}
            foot = side.edges[1] if len(side.edges) == 3 else "bottom" if side.edges == (WHOLE,) else ""
            pair = {name for name in CORNERS["rectangle"] if foot in name.split("-")}
            own = shape_spec(subject.specs, piece.name)
            if len(pair & rounded) == 1 and own.round:
                told.add(piece.model)
                (round_,), (square,) = pair & rounded, pair - rounded
                stray = sorted(rounded - pair) if len(rounded) == 2 else []
                what = f'"{piece.name}" is sewn round its corners at {foot}, {round_} round and {square} square'
                if stray:
                    what += f", and is round at {stray[0]} too"
                place = next((it.length.place for it in own.round if it.name == (stray or [round_])[0]), own.place)
                answer = f"write {square} = ... in round{f' in place of {stray[0]}' if stray else ''}; "
                yield Question(place=place, what=what, answer=answer + "where it is meant so there is nothing to do")
