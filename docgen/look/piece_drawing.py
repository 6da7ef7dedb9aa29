"""A piece -> its drawing for the screen, with the names by which a spec speaks of it: edges, corners, holes, seams.

Lines are as wide on the screen at any size; what they look like is said in the page's style by the class of each.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from html import escape
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.outline import outline_path
from docgen.geometry.path import (
    box_union,
    boxes_overlap,
    grow_box,
    holds_box,
    path_box,
    path_length,
    point_at,
    transform_path,
)
from docgen.geometry.shapes import Box, Edge, Path, Point
from docgen.geometry.vector import Transform, add, rotation, scale, transform_point, turn_left
from docgen.look.seam_looks import SeamLook
from docgen.resolve import Landing, Piece, StitchLine, StrapLanding, lines_of
from docgen.write import write_path

WIDE_PX: Final = 520.0  # two pieces stand beside each other in a window of 1280 px
WIDEST_PX: Final = 1600.0
LEAST_PX: Final = 70.0
MOST_PER_MM: Final = 4.0
TURNED_FROM: Final = 2.0
"""A piece so many times as high as wide lies on its side."""

TYPE_PX: Final = 12.0
NAME_PX: Final = 8.0
"""From an edge to the middle of its name."""

CORNER_PX: Final = 10.0
SIDE_PX: Final = 6.0
"""From the outline of a part that lands to its name beside it."""

SIGN_PX: Final = 8.0
ROOM_PX: Final = 26.0
HOLES_NAMED: Final = 40
LETTER_SHARE: Final = 0.58
"""Width of a letter to its size, as sans serif faces mostly have it; only to leave out or move what would not fit."""

SIGN_SHARES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
STRAIGHT: Final = Transform()
ON_ITS_SIDE: Final = rotation(-math.pi / 2)


@dataclass(slots=True, kw_only=True)
class Ground:
    """What one piece is drawn on: pixels to the mm, how the piece lies, the looks of the seams by name; `taken` is where
    words and signs stand already."""

    px_per_mm: float
    turn: Transform
    looks: Mapping[str, SeamLook]
    taken: list[Box] = field(default_factory=list)

    def mm(self, px: float) -> float:
        return px / self.px_per_mm

    def put(self, path: Path) -> Path:
        return transform_path(path, self.turn)

    def room(self, at: Point, words: str) -> Box:
        """Of one line of words in the middle of a place."""
        half, high = self.mm(len(words) * TYPE_PX * LETTER_SHARE / 2), self.mm(TYPE_PX / 2)
        return Box(at.x - half, at.y - high, at.x + half, at.y + high)

    def is_free(self, box: Box) -> bool:
        return not any(boxes_overlap(box, other) for other in self.taken)


def lies_on_its_side(piece: Piece) -> bool:
    """Whether the drawing is turned by a quarter to the right, as long pieces are."""
    box = path_box(outline_path(piece.outline))
    return box.height > TURNED_FROM * box.width


def draw_piece_for_look(piece: Piece, looks: Mapping[str, SeamLook]) -> str:
    """The piece as one `svg` element."""
    turn = ON_ITS_SIDE if lies_on_its_side(piece) else STRAIGHT
    own = path_box(transform_path(outline_path(piece.outline), turn))
    ground = Ground(px_per_mm=_pick_scale(own), turn=turn, looks=looks)
    holes = [*_name_holes(piece, ground)]
    inner = "".join([*_draw_lines(piece, ground), *_name_edges(piece, ground), *holes])
    drawn = [path_box(ground.put(line.path)) for line in lines_of(piece)]
    box = grow_box(box_union([own, *drawn]), ground.mm(ROOM_PX))
    wide, high = box.width * ground.px_per_mm, box.height * ground.px_per_mm
    view = f"{box.left:.3f} {-box.top:.3f} {box.width:.3f} {box.height:.3f}"
    return (
        f'<svg width="{wide:.0f}" height="{high:.0f}" viewBox="{view}" role="img" '
        f'aria-label="{escape(piece.title)}">{inner}</svg>'
    )


def _pick_scale(box: Box) -> float:
    """So that the long side fills the column; larger for what would be a thread, never larger than four to the mm."""
    long, short = max(box.width, box.height), max(min(box.width, box.height), 0.1)
    return min(max(WIDE_PX / long, LEAST_PX / short), MOST_PER_MM, WIDEST_PX / long)


def _draw_lines(piece: Piece, ground: Ground) -> Iterator[str]:
    """The outline first, as the ground for all else; the stitches last."""
    *lines, outline = lines_of(piece)
    own = path_box(ground.put(outline.path))
    stitches = [line for line in lines if isinstance(line, StitchLine)]
    landed = [path_box(ground.put(line.path)) for line in lines if isinstance(line, Landing | StrapLanding)]
    for line in (outline, *lines):
        if isinstance(line, StitchLine):
            continue
        told = f"<title>{escape(line.key)}</title>" if line.key else ""
        path = ground.put(line.path)
        yield f'<path class="k-{line.kind}" d="{write_path(path)}">{told}</path>'
        if isinstance(line, Landing | StrapLanding):
            yield from _name_landing(path_box(path), line.title or line.key, own, landed, ground)
    yield from (_draw_stitches(line, ground) for line in stitches)
    yield from (sign for line in stitches if not line.row for sign in _draw_sign(line, ground))


def _name_landing(box: Box, name: str, own: Box, landed: Sequence[Box], ground: Ground) -> Iterator[str]:
    """In its middle, or as near to it, below or above, as nothing else stands there; where it is too narrow for its name
    beside it, below it or above, on the piece, and not on what else lands there."""
    lines = [k * ground.mm(TYPE_PX * 1.2) for k in (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5)]
    size = ground.room(box.centre, name)
    inside = [Point(box.centre.x, box.centre.y - by) for by in lines]
    half, up = (box.width + size.width) / 2 + ground.mm(SIDE_PX), (box.height + size.height) / 2 + ground.mm(SIDE_PX)
    toward = 1 if box.centre.x <= own.centre.x else -1  # the middle of the piece, where no seam is
    level = [at.y for at in inside if abs(at.y - box.centre.y) <= box.height / 2]
    beside = [Point(box.centre.x + way * half, y) for y in level for way in (toward, -toward)]
    beside += [Point(box.centre.x, box.centre.y + way * up) for way in (-1, 1)]
    others = [other for other in landed if not holds_box(other, box)]
    on_it = [at for at in beside if _is_on(own, others, ground.room(at, name))]
    is_wide = box.width >= size.width + ground.mm(SIDE_PX)
    for at in (*inside, *on_it) if is_wide else (*on_it, *inside):
        room = ground.room(at, name)
        if ground.is_free(room):
            ground.taken.append(room)
            yield _text(at, name, ground, "landing")
            return


def _is_on(own: Box, others: Sequence[Box], room: Box) -> bool:
    """Whether words lie on the piece, and on nothing that lands there."""
    return holds_box(own, room) and not any(boxes_overlap(room, other) for other in others)


def _draw_stitches(line: StitchLine, ground: Ground) -> str:
    """A line of stitches in the look of its seam."""
    look = ground.looks[line.seam]
    marked = f'class="seam" data-seam="{look.number}" stroke="{look.colour}" stroke-dasharray="{look.dash}"'
    told = f"<title>{look.number}: {escape(look.title)}</title>"
    return f'<path {marked} d="{write_path(ground.put(line.path))}">{told}</path>'


def _draw_sign(line: StitchLine, ground: Ground) -> Iterator[str]:
    """The number of its seam in a ring on the line, where no other stands."""
    look, path, radius = ground.looks[line.seam], ground.put(line.path), ground.mm(SIGN_PX)
    length_mm = path_length(path)
    spots = [point_at(path, length_mm * share)[0] for share in SIGN_SHARES]
    rooms = [Box(at.x - radius, at.y - radius, at.x + radius, at.y + radius) for at in spots]
    k = next((k for k, room in enumerate(rooms) if ground.is_free(room)), 0)
    at, room = spots[k], rooms[k]
    ground.taken.append(room)
    place = f'cx="{at.x:.3f}" cy="{-at.y:.3f}" r="{radius:.3f}"'
    yield f'<circle class="sign" data-seam="{look.number}" {place} stroke="{look.colour}"/>'
    yield _text(at, str(look.number), ground, "number")


def _name_edges(piece: Piece, ground: Ground) -> Iterator[str]:
    for edge in piece.outline.edges:
        path = ground.put(edge.path)
        length_mm = path_length(path)
        if length_mm:
            at, along = point_at(path, length_mm / 2)
            name = _name_corner if edge.corner else _name_edge
            yield from name(edge, at, along, ground)


def _name_edge(edge: Edge, at: Point, along: Point, ground: Ground) -> Iterator[str]:
    """Outside, along the edge."""
    spot = add(at, scale(turn_left(along), -ground.mm(NAME_PX)))
    yield _text(spot, edge.name, ground, "edge", _upright(math.degrees(math.atan2(along.y, along.x))))


def _name_corner(edge: Edge, at: Point, along: Point, ground: Ground) -> Iterator[str]:
    """Inside, away from the edge; only where no other words are in the way."""
    inward = turn_left(along)
    half = ground.room(at, edge.name).width / 2
    spot = add(at, scale(inward, ground.mm(CORNER_PX)))
    spot = Point(spot.x + math.copysign(half, inward.x), spot.y + inward.y * ground.mm(TYPE_PX))
    room = ground.room(spot, edge.name)
    if ground.is_free(room):
        ground.taken.append(room)
        yield _text(spot, edge.name, ground, "corner")


def _upright(turn_deg: float) -> float:
    """So that it is read from below or from the right."""
    if turn_deg > 90.5:
        return turn_deg - 180
    return turn_deg + 180 if turn_deg <= -89.5 else turn_deg


def _name_holes(piece: Piece, ground: Ground) -> Iterator[str]:
    """The number of each hole, as the list below counts them; no other words stand on it or on the hole."""
    for number, hole in enumerate(piece.marks.holes[:HOLES_NAMED], start=1):
        reach, words = hole.diameter_mm / 2 + ground.mm(8), str(number)
        at = transform_point(hole.at, ground.turn)
        spot = Point(at.x + reach, at.y + reach / 2)
        ground.taken += [path_box(ground.put(hole.path)), ground.room(spot, words)]
        yield _text(spot, words, ground, "hole")


def _text(at: Point, words: str, ground: Ground, kind: str, turn_deg: float = 0.0) -> str:
    x, y, size = f"{at.x:.3f}", f"{-at.y:.3f}", ground.mm(TYPE_PX)
    turn = f' transform="rotate({-turn_deg:.2f} {x} {y})"' if turn_deg else ""
    place = f'x="{x}" y="{y}" font-size="{size:.4f}" dy="{size * 0.35:.4f}"'
    return f'<text class="t-{kind}" {place}{turn}>{escape(words)}</text>'
