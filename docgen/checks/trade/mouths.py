"""Checks of parts that lie on others: where their open side is, and folds of what they lie on."""

import math
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.outline import ACROSS, SIDES, edge_names, outline_box
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, distance, subtract, unit
from docgen.problems import Place, line_words, name_words
from docgen.resolve import Divider, Fold, Landing, Piece, Seam, SeamSide

FLUSH_MM = 1.0
BEYOND_MM = 5.0  # how far a part reaches on both sides of a fold that it lies across
EVEN_SHARE = 0.95  # a part that reaches so far on either side is meant to lie across

Open = tuple[Seam, SeamSide, Piece, Piece, Landing]


@check(
    "pocket-open-below",
    "What is sewn on along three edges is open at its top, or to a side: not below, nor where its hem is sewn down, nor "
    "to the outside at its host's edge.",
    "plain from the work; what hangs the other way up may be accepted",
    needs_whole=True,
    gives_way=("hem-not-there",),
)
def find_wrong_mouths(subject: Subject) -> Iterator[Found]:
    """Rectangles that a seam sews flat on the piece on which they land, by three edges, with the fourth open."""
    for seam, side, piece, host, landing in pockets(subject):
        mouth = next(name for name in SIDES if name not in side.edges)
        if _is_sewn_there(subject, seam, piece, host, mouth):
            continue
        hems = piece.hemmed
        opens = ""
        if hems & set(side.edges) and mouth not in hems and ("top" not in hems or mouth == "bottom"):
            opens = f"its hem is sewn down, and its {mouth} stays open"
        elif mouth == "bottom":
            opens = "it stays open below"
        elif mouth in ("left", "right") and _is_at_edge(host, landing, mouth):
            opens = f'its {mouth} stays open, at the very edge of "{host.name}"'
        if opens:
            what = f'the seam "{seam.name}" sews "{piece.name}" to "{host.name}" by {" ".join(side.edges)}: {opens}'
            hem = next((hem for hem in piece.hems if mouth == "top" and {*hem.edges} & {*side.edges}), None)
            if hem is not None and hem.place.line:  # what opens above is sewn right
                mend = 'write edges = "top" in that hem, or name the edges that are meant'
                mend += line_words(seam.place_of(side).line)
                yield hem.place, what, mend, seam.name
                continue
            yield seam.place_of(side), what, "name the edges that are meant", seam.name


def pockets(subject: Subject) -> Iterator[Open]:
    """Rectangles without a fold that land, sewn flat there by three edges in one seam."""
    pieces = subject.parts.pieces
    for seam in subject.build.seams:
        flat = {side.part for side in seam.sides if not side.edges}
        for side in seam.sides:
            piece = pieces.get(side.part)
            if piece is None or len(side.edges) != 3 or set(edge_names(piece.sewn_outline)) != {*SIDES}:
                continue
            if piece.marks.folds and not piece.hems:
                continue
            for name in flat & {*pieces}:
                for landing in pieces[name].marks.landings:
                    if landing.piece == piece.name:
                        yield seam, side, piece, pieces[name], landing


def _is_sewn_there(subject: Subject, seam: Seam, piece: Piece, host: Piece, edge: str) -> bool:
    """Whether another seam sews an edge of a piece on the same host: a belt loop is sewn so at both ends."""
    return any(
        side.part == piece.name and edge in side.edges
        for other in subject.build.seams
        if other is not seam and any(flat.part == host.name and not flat.edges for flat in other.sides)
        for side in other.sides
    )


def _is_at_edge(host: Piece, landing: Landing, mouth: str) -> bool:
    """Whether the open side lies at the host's edge, and the side across from it well within."""
    own, base = path_box(landing.outline), outline_box(host.sewn_outline)
    gaps = {"left": own.left - base.left, "right": base.right - own.right}
    return abs(gaps[mouth]) <= FLUSH_MM and gaps[ACROSS[mouth]] > 2 * BEYOND_MM


@check(
    "landing-across-fold",
    "What lies flat on a piece does not lie across one of its folds, unless it goes as far on either side, or folds there "
    "too.",
    "plane geometry; how far is our choice",
    needs_whole=True,
)
def find_folds_covered(subject: Subject) -> Iterator[Found]:
    """Pieces without a fold of their own that land across a fold of their host; once for each landing, and once at the
    fold where it goes across all of several."""
    pieces = subject.parts.pieces
    for base in subject.build.pieces:
        across: dict[Place, list[tuple[str, Found]]] = {}
        spec = subject.piece_spec(base.name)
        places = [item.at.place for item in spec.landings if item.piece and item.at] if spec else []
        for number, landing in enumerate(base.marks.landings):
            piece = pieces.get(landing.piece)
            if piece is None or (piece.marks.folds and not piece.hems) or number >= len(places):
                continue
            for fold in base.marks.folds:
                before_mm, after_mm = _reach(landing, fold)
                if min(before_mm, after_mm) > BEYOND_MM and min(before_mm, after_mm) < EVEN_SHARE * max(
                    before_mm, after_mm
                ):
                    line = line_words(fold.place.line)
                    what = (
                        f'"{piece.name}" lies across a fold of "{base.name}"{line}: it reaches {subject.length(before_mm)} '
                        f"to one side of it and {subject.length(after_mm)} to the other"
                    )
                    found = places[number], what, "measure the fold and the landing again", base.name
                    across.setdefault(fold.place, []).append((piece.name, found))
                    break
        for place, hits in across.items():
            names = [name for name, _ in hits]
            if len({*names}) > 1 and len(hits) == len(base.marks.landings):
                lines = ", ".join(str(found[0].line) for _, found in hits)
                what = f'a fold of "{base.name}" goes across all that lies on it: {name_words(names)} (lines {lines})'
                yield place, what, "measure the fold again", base.name
            else:
                yield from (found for _, found in hits)


def _reach(landing: Landing, fold: Fold) -> tuple[float, float]:
    """How far what lands reaches to either side of a fold; nothing where it lies beside the ends of the fold."""
    way = unit(subtract(fold.end, fold.start))
    points = flatten(landing.outline)
    off = [cross(way, subtract(at, fold.start)) for at in points]
    return max(0.0, max(off)), max(0.0, -min(off))


@check(
    "divider-narrow",
    "Rooms between dividing lines, and beside them, are {narrowest_room} wide or wider.",
    PRACTICE,
    needs_whole=True,
)
def find_narrow_rooms(subject: Subject) -> Iterator[Found]:
    """Once for a piece, at the later line of the narrowest room; what the rows of its seams take at its sides is none."""
    for piece in subject.build.pieces:
        if not piece.dividers or any(line.goods for line in piece.dividers):
            continue
        box = outline_box(piece.sewn_outline)
        is_upright = all(abs(line.start.x - line.end.x) <= abs(line.start.y - line.end.y) for line in piece.dividers)
        sides = (box.left, box.right) if is_upright else (box.bottom, box.top)
        lines = sorted(((_middle(line, is_upright), line) for line in piece.dividers), key=lambda pair: pair[0])
        taken_mm = [_taken_mm(subject, piece, names, is_upright) for names in (("left", "bottom"), ("right", "top"))]
        edges = [sides[0] + taken_mm[0], *(at for at, _ in lines), sides[1] - taken_mm[1]]
        gaps = [b - a for a, b in pairwise(edges)]
        least_mm = min(gaps)
        if least_mm < subject.build.limits.narrowest_room_mm - 1e-6:
            k = gaps.index(least_mm)
            beside = lines[max(0, min(k, len(lines) - 1))][1]
            what = f'a room beside a dividing line of "{piece.name}" is {subject.length(max(0.0, least_mm))} wide'
            yield (
                beside.place if beside.place.line else piece.place,
                what,
                "look at the figure and its unit",
                piece.name,
            )


def _taken_mm(subject: Subject, piece: Piece, names: tuple[str, str], is_upright: bool) -> float:
    """How far in from the side, left or bottom or across from there, the last row of a seam lies; 0 where none is."""
    edge = names[0] if is_upright else names[1]
    stitches = [
        subject.parts.stitches[seam.stitch]
        for seam in subject.build.seams
        for side in seam.sides
        if side.part == piece.name and edge in side.edges and not side.lap_mm
    ]
    return max((one.inset_mm + (one.rows - 1) * one.row_gap_mm for one in stitches), default=0.0)


@check(
    "divider-on-some",
    "Of the dividing lines of a piece all go through the piece beneath, or none.",
    "plain from the work; asked, since one may be sewn before",
    needs_whole=True,
)
def find_dividers_on_some(subject: Subject) -> Iterator[Found]:
    """Pieces whose lines mostly name what lies beneath; told of the first that does not, or names another."""
    for piece in subject.build.pieces:
        lines = [line for line in piece.dividers if not line.goods]
        counts = Counter(line.on for line in lines)
        most, often = counts.most_common(1)[0] if counts else ("", 0)
        odd = next((line for line in lines if line.on != most), None)
        if most and odd and often > len(lines) / 2:
            through = f'goes through "{odd.on}" beneath' if odd.on else "goes through nothing beneath"
            what = f'a dividing line of "{piece.name}" {through}, and the others go through "{most}"'
            yield odd.place, what, f'add on = "{most}" to this line too, or accept this', piece.name


@check(
    "divider-on-elsewhere",
    "A dividing line goes through what its piece lies on, is sewn to, or lies beneath.",
    "plain from the work",
    needs_whole=True,
    gives_way=("divider-on-some",),
)
def find_dividers_on_others(subject: Subject) -> Iterator[Found]:
    """Told of the first line of a piece that names a part beneath with which nothing joins it."""
    for piece in subject.build.pieces:
        beside = {side.part for seam in subject.build.seams for side in seam.sides if piece.name in seam.parts}
        lies = {one.host.part for one in subject.build.assembly.lies if one.copy.part == piece.name}
        lies |= {one.copy.part for one in subject.build.assembly.lies if one.host.part == piece.name}
        joined = {name for join in subject.build.joins if join.name in beside for name in join.pieces}
        odd = next((line for line in piece.dividers if line.on and line.on not in beside | lies | joined), None)
        if odd is not None and beside | lies:
            what = f'a dividing line of "{piece.name}" goes through "{odd.on}", and nothing lays the two on each other'
            known = " or ".join(f'"{name}"' for name in sorted((beside | lies) - {piece.name})[:3])
            yield (
                odd.place,
                what,
                f"name what lies beneath it, as {known}" if known else "name what lies beneath",
                piece.name,
            )


@check(
    "pocket-narrow",
    "Between the stitch lines of what is sewn on by three edges {narrowest_room} stay, and from its open side to the line "
    "across from that.",
    PRACTICE,
    needs_whole=True,
)
def find_narrow_pockets(subject: Subject) -> Iterator[Found]:
    """Pockets and sleeves that nothing goes into, and rows of them that are no deeper; once for pieces like each other, at
    their size."""
    told: set[str] = set()
    for piece in subject.build.pieces:
        lines = [(distance(line.start, line.end), line) for line in piece.dividers if not line.goods]
        short_mm = min((long_mm - subject.inset_mm(line.stitch) for long_mm, line in lines), default=math.inf)
        if short_mm < subject.build.limits.narrowest_room_mm - 1e-6 and piece.model not in told:
            told.add(piece.model)
            what = f'a room beside a dividing line of "{piece.name}" is {subject.length(max(0.0, short_mm))} deep'
            yield subject.size_place(piece, is_across=False), what, "look at the figure and its unit", piece.name
    for seam, side, piece, _, _ in pockets(subject):
        inset_mm = subject.parts.stitches[seam.stitch].inset_mm
        box = outline_box(piece.sewn_outline)
        mouth = next(name for name in SIDES if name not in side.edges)
        is_upright = mouth in ("bottom", "top")
        across_mm, deep_mm = (box.width, box.height) if is_upright else (box.height, box.width)
        for room_mm, is_across in ((across_mm - 2 * inset_mm, is_upright), (deep_mm - inset_mm, not is_upright)):
            if room_mm < subject.build.limits.narrowest_room_mm - 1e-6 and piece.model not in told:
                told.add(piece.model)
                what = (
                    f'inside its stitch lines "{piece.name}" has {subject.length(max(0.0, room_mm))} of room: its stitches '
                    f"lie {subject.length(inset_mm)} from the edge"
                )
                place = subject.size_place(piece, is_across=is_across)
                yield place, what, "look at the figure and its unit", piece.name


@check(
    "hem-deep",
    "A hem takes no more of its piece than stays between it and the edge across.",
    "our choice",
    needs_whole=True,
)
def find_deep_hems(subject: Subject) -> Iterator[Found]:
    """Hems of rectangles and strips; once for a piece."""
    for piece in subject.build.pieces:
        box = outline_box(piece.sewn_outline)
        for hem in piece.hems:
            is_upright = {*hem.edges} & {"top", "bottom", "start", "end"}
            left_mm = box.height if is_upright else box.width
            if piece.shape in ("rectangle", "strip") and hem.depth_mm >= left_mm - 1e-6:
                what = (
                    f'the hem of "{piece.name}" is turned {subject.length(hem.depth_mm)}, and {subject.length(left_mm)} '
                    "of it stay"
                )
                yield hem.place, what, "look at both figures and their units", piece.name
                break


def _middle(line: Divider, is_upright: bool) -> float:
    middle = Point((line.start.x + line.end.x) / 2, (line.start.y + line.end.y) / 2)
    return middle.x if is_upright else middle.y
