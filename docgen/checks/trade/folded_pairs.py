"""Checks of holes on either side of a closed fold, which come to lie on each other, and of parts folded round a post."""

from collections.abc import Iterator, Sequence

from docgen.assemble import laid_places
from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.folding import mirror_over
from docgen.geometry.measure import is_inside
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import edge_path, outline_box, outline_path
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, distance, transform_point
from docgen.problems import line_words, name_words
from docgen.resolve import Fold, Hole, Piece
from docgen.written.units.telling import format_mm

UNEVEN_MM = 3.0  # what one end of a folded tab may be longer than the other: our choice
ENDS_ALONG, ENDS_BESIDE = ("top", "bottom", "start", "end"), ("left", "right")
LEAST_HOLES = 4  # so many tell where their fold is meant
FOLDED_MM = 2.0  # what two holes that a fold lays on each other may miss by


@check(
    "folded-hole-alone",
    f"Holes that a closed fold lays on each other meet, within {format_mm(FOLDED_MM)}.",
    "plane geometry; what leather gives is our choice",
    needs_whole=True,
    gives_way=("marks-askew", "marked-twice", "hole-on-fold", "hole-outside"),
)
def find_alone_when_folded(subject: Subject) -> Iterator[Found]:
    """Pieces with one closed fold that a post goes through twice: holes that meet none once it is folded."""
    twice = {name for _, name in _through_twice(subject)}
    for piece in subject.build.pieces:
        fold = _only_fold(piece)
        if fold is None:
            continue
        lone = _lone(piece, _free_round(piece))
        if piece.name not in twice and not _are_meant(fold, lone):
            continue
        if middle := _meant_fold(piece, fold, lone):
            what = (
                f'folded here, holes of "{piece.name}" miss those of the other half, and at its middle all would meet'
            )
            yield fold.place, what, f'write at = "{middle}"', piece.name
            continue
        shape = outline_path(piece.outline)
        on_it = [one for one in lone if is_inside(shape, laid_places(piece, one.at)[-1])] or lone
        hole = next((one for one in on_it if not one.takes), on_it[0]) if lone else None
        at = laid_places(piece, hole.at)[-1] if hole else None
        if hole and at and is_inside(shape, at):
            others = [
                one for one in lone if one is not hole and (fold.off_mm(one.at) > 0) != (fold.off_mm(hole.at) > 0)
            ]
            near = min(others, key=lambda one: distance(one.at, at), default=None)
            there = f"{subject.length(distance(near.at, at))} from that" if near else "on no hole"
            line = f" (line {near.place.line})" if near else ""
            what = f'folded, a hole of "{piece.name}" comes to lie {there} of the other half{line}'
            mend = (
                f"measure both again from the fold{line_words(fold.place.line)}"
                if near
                else "punch the other half there too, or leave it out"
            )
            yield hole.place, what, mend, piece.name


@check(
    "through-twice-flat",
    "What a post goes through twice is folded there, or cut twice.",
    "plain from the work",
    needs_whole=True,
)
def find_flat_but_twice(subject: Subject) -> Iterator[Found]:
    for hole, name in _through_twice(subject):
        piece = subject.parts.pieces.get(name)
        if piece is not None and piece.cut == 1 and not piece.marks.folds:
            what = f'"{hole.takes}" goes through "{name}" twice, and "{name}" has no fold'
            yield hole.place, what, f'write folds = [{{ at = ... }}] for "{name}", or name it once', name


@check(
    "through-once-folded",
    "A post goes twice through a part that a closed fold lays on itself there.",
    "plain from the work",
    needs_whole=True,
)
def find_folded_but_once(subject: Subject) -> Iterator[Found]:
    """Only of a part whose holes the fold lays on each other, none of which takes the post itself."""
    doubled = {piece.name for piece in subject.build.pieces if _lies_doubled(piece)}
    for piece in subject.build.pieces:
        for hole in piece.marks.holes:
            for name in dict.fromkeys(hole.through) if hole.takes else ():
                if name in doubled and hole.through.count(name) == 1:
                    what = (
                        f'"{hole.takes}" goes through "{name}" once, and its fold lays holes on each other: it lies twice '
                        "under the post"
                    )
                    yield hole.place, what, f'name "{name}" twice in through', name


@check(
    "fold-missing",
    "What has its holes alike on both halves, and only those of one half go through another part, is folded.",
    "plain from the work; what lies flat may be accepted",
    needs_whole=True,
)
def find_missing_folds(subject: Subject) -> Iterator[Found]:
    """Rectangles and strips without a closed fold whose holes for one fitting are mirrored about their middle, and of
    which one half names another part, the other none."""
    landed = {landing.piece for base in subject.build.pieces for landing in base.marks.landings}
    for piece in subject.build.pieces:
        holes = [hole for hole in piece.marks.holes if not hole.long_mm]
        is_one = len({hole.takes for hole in holes}) == 1 and bool(holes[0].takes)
        if _only_fold(piece) or piece.shape not in ("rectangle", "strip") or not is_one or piece.name in landed:
            continue
        middle = outline_box(piece.outline).centre
        for axis, words in (("y", "above and below"), ("x", "left and right of")):
            if _is_folded_there(holes, middle, axis):
                parts = name_words(dict.fromkeys(holes[0].through + holes[-1].through))
                what = (
                    f'the holes of "{piece.name}" for "{holes[0].takes}" lie alike {words} its middle, and those of one '
                    f"half go through {parts}: it seems to be folded, and has no fold"
                )
                yield (
                    piece.place,
                    what,
                    'write folds = [{ at = "middle" }], or what the other half goes through',
                    piece.name,
                )
                break


@check(
    "fold-between-parts",
    "A closed fold lays no holes on each other that go through different parts.",
    "plain from the work",
    needs_whole=True,
)
def find_folds_between(subject: Subject) -> Iterator[Found]:
    """Pieces with a closed fold whose halves are set to two parts, each by holes that the other half has too: a hinge."""
    for piece in subject.build.pieces:
        fold = _only_fold(piece)
        holes = [hole for hole in piece.marks.holes if hole.takes and hole.through]
        if fold is None or fold.around or len({frozenset(hole.through) for hole in holes}) < 2:
            continue
        turned = mirror_over(fold.start, fold.end)
        meets = (
            (one, other)
            for one in holes
            for other in holes
            if distance(transform_point(one.at, turned), other.at) <= FOLDED_MM
        )
        apart = next(((one, other) for one, other in meets if {*one.through}.isdisjoint(other.through)), None)
        if apart:
            one, other = (hole.through[0] for hole in apart)
            lines = " and ".join(f"line {hole.place.line}" for hole in apart)
            what = (
                f'the fold of "{piece.name}" lays its halves fast on each other, and one is set to "{one}", the other to '
                f'"{other}" ({lines})'
            )
            yield fold.place, what, "write open = true in its fold, or name one part in through of both", piece.name


def _is_folded_there(holes: Sequence[Hole], middle: Point, axis: str) -> bool:
    """Whether each hole that goes through another part has one that does not where a fold in the middle would lay it."""
    through = [hole.at for hole in holes if hole.through]
    bare = [hole.at for hole in holes if not hole.through]
    turned = [Point(at.x, 2 * middle.y - at.y) if axis == "y" else Point(2 * middle.x - at.x, at.y) for at in through]
    find = near_finder(bare, FOLDED_MM)
    sides = {getattr(at, axis) > getattr(middle, axis) for at in through}
    return 0 < len(through) == len(bare) and len(sides) == 1 and all(find(at) for at in turned)


@check(
    "halves-uneven",
    f"What is folded round a fitting and sewn by one end has both halves as long, within {format_mm(UNEVEN_MM)}.",
    "common practice, no published source",
    needs_whole=True,
)
def find_uneven_halves(subject: Subject) -> Iterator[Found]:
    """Rectangles and strips without holes that are folded once, and in one seam by one end alone: between edges its row
    goes through the other end as well, and sewn flat that does not reach over it."""
    for piece in subject.build.pieces:
        fold = _only_fold(piece)
        sides = [(seam, side) for seam in subject.build.seams for side in seam.sides if side.part == piece.name]
        is_plain = piece.shape in ("rectangle", "strip") and not piece.marks.holes and len(sides) == 1
        if fold is None or not fold.around or not is_plain or len(sides[0][1].edges) != 1:
            continue
        ((seam, side),) = sides
        edge = side.edges[0]
        is_up = abs(fold.start.x - fold.end.x) < abs(fold.start.y - fold.end.y)
        sewn_mm = max(abs(fold.off_mm(at)) for at in flatten(edge_path(piece.outline, edge)))
        box = outline_box(piece.outline)
        other_mm = (box.width if is_up else box.height) - sewn_mm
        off_mm = abs(sewn_mm - other_mm) if all(it.edges for it in seam.sides) else other_mm - sewn_mm
        if edge in (ENDS_BESIDE if is_up else ENDS_ALONG) and off_mm > UNEVEN_MM:
            one, other = map(subject.length, (sewn_mm, other_mm))
            what = (
                f'"{piece.name}" is folded round "{fold.around}", and is sewn by its {edge}, {one} from the fold; the '
                f"other half is {other} long"
            )
            middle = subject.length((sewn_mm + other_mm) / 2)
            yield (
                fold.place,
                what,
                f"fold it in the middle, {middle} from either end, or measure again from which",
                piece.name,
            )


def _through_twice(subject: Subject) -> Iterator[tuple[Hole, str]]:
    for piece in subject.build.pieces:
        for hole in piece.marks.holes:
            yield from ((hole, name) for name in dict.fromkeys(hole.through) if hole.through.count(name) > 1)


def _meant_fold(piece: Piece, fold: Fold, lone: Sequence[Hole]) -> str:
    """How the line across the middle of a piece is written, where that would lay every hole on another, and its fold, which
    runs beside that, does not."""
    centre, holes = outline_box(piece.outline).centre, _free_round(piece)
    is_up = abs(fold.start.x - fold.end.x) < abs(fold.start.y - fold.end.y)
    shift = Point(centre.x - fold.start.x, 0.0) if is_up else Point(0.0, centre.y - fold.start.y)
    is_straight = fold.start.x == fold.end.x or fold.start.y == fold.end.y
    if not lone or len(holes) < LEAST_HOLES or not is_straight or max(abs(shift.x), abs(shift.y)) < FOLDED_MM:
        return ""
    met = near_finder([hole.at for hole in holes], FOLDED_MM)
    turned = mirror_over(add(fold.start, shift), add(fold.end, shift))
    return ("centre" if is_up else "middle") if all(met(transform_point(hole.at, turned)) for hole in holes) else ""


def _only_fold(piece: Piece) -> Fold | None:
    folds = [fold for fold in piece.marks.folds if not fold.is_open and not fold.of_hem]
    return folds[0] if len(folds) == 1 else None


def _free_round(piece: Piece) -> list[Hole]:
    """Round holes that do not lie on the fold itself."""
    return [
        hole
        for hole in piece.marks.holes
        if not hole.long_mm and distance(hole.at, laid_places(piece, hole.at)[-1]) > 2 * hole.diameter_mm
    ]


def _lone(piece: Piece, holes: Sequence[Hole]) -> list[Hole]:
    """Those of some holes that its fold lays on no other hole."""
    every = piece.marks.holes
    near = near_finder([hole.at for hole in every], FOLDED_MM)
    return [hole for hole in holes if all(every[k] is hole for k in near(laid_places(piece, hole.at)[-1]))]


def _lies_doubled(piece: Piece) -> bool:
    """Whether one closed fold lays every round hole of a piece on another, and none of them takes a post itself."""
    own = _free_round(piece) if _only_fold(piece) is not None else []
    return bool(own) and not any(hole.takes for hole in own) and not _lone(piece, own)


def _are_meant(fold: Fold, lone: Sequence[Hole]) -> bool:
    """Whether holes without a mate are as many on one side of the fold, where they take hardware that goes through the
    piece alone, as on the other, where they take none."""
    taking = [hole for hole in lone if hole.takes and not hole.through]
    bare = [hole for hole in lone if not hole.takes]
    sides = [{fold.off_mm(hole.at) > 0 for hole in holes} for holes in (taking, bare)]
    return len(taking) == len(bare) > 0 and all(len(side) == 1 for side in sides) and sides[0] != sides[1]
