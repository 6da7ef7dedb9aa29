"""What cannot be as it is written, seen in space: edges that do not come together, folds that cannot bend, parts that go
through each other. Each is told once, where both parts lie where only the spec can have them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.close import face_normal, is_over, to_side
from docgen.assemble.space.placed import Gap, Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import Vec, along, apart, inner, minus
from docgen.geometry.nearest import Stretch
from docgen.geometry.outline import edge_path, next_edges
from docgen.geometry.path import path_length
from docgen.problems import Problem, line_words, make_caution
from docgen.resolve import Piece
from docgen.tables.sewing import EDGES_APART_MM
from docgen.written.units.telling import format_length

OFF_FACE_MM = 0.5  # what lies nearer to a face on either side lies on it
BORDER_MM = 1.0
THROUGH_MM = 2.0  # an edge that goes on so far on both sides of a part goes through it: less is what leather gives


def find_doubts(scene: Scene, gaps: Sequence[Gap]) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """What is doubtful, with the copies that it is about."""
    yield from _find_apart(scene, gaps)
    yield from _find_held_straight(scene)
    yield from _find_crossing(scene)
    yield from _find_low_handles(scene)


def _find_apart(scene: Scene, gaps: Sequence[Gap]) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """Runs of a seam that lie farther apart than leather gives, the worst place of each seam. A part that darts bend closes
    on itself otherwise than it is placed."""
    show, seams = scene.goods.build.show, scene.goods.seams
    worst: dict[str, Gap] = {}
    darted = {*find_darted(scene, gaps)}
    for gap in gaps:
        is_bulged = gap.one == gap.other and gap.one in darted
        if gap.over_mm > EDGES_APART_MM and _are_sure(scene, gap.one, gap.other) and not is_bulged:
            worst[gap.seam] = max(worst.get(gap.seam, gap), gap, key=lambda one: one.over_mm)
    for name, gap in worst.items():
        one, other = gap.one.part, gap.other.part
        what = (
            f'the edges of "{one}" and "{other}" do not come together in the seam "{name}": '
            f"{format_length(gap.along_mm, show)} along it they lie {format_length(gap.apart_mm, show)} apart, and leather "
            f"gives {format_length(EDGES_APART_MM + gap.allowed_mm, show)}"
        )
        mend = (
            f'look whether the right edge and copy of each are named; else give "{other}" the shape of "{one}" there, or '
            "accept it where the leather is to bulge"
        )
        yield make_caution(seams[name].place, what, mend, "edges-apart", name), (gap.one, gap.other)


def find_darted(scene: Scene, gaps: Sequence[Gap]) -> Iterator[Copy]:
    """Copies that a dart bends otherwise than they are placed."""
    yield from (gap.one for gap in gaps if gap.over_mm > EDGES_APART_MM and _is_dart(scene, gap))


def _is_dart(scene: Scene, gap: Gap) -> bool:
    """Whether a seam closes a part on itself from a corner on, along the edges on both sides of it: a dart, the corner of
    a box or of a boxed bag. It closes however the leather bulges, in more ways than the straight bends of a surface."""
    piece = scene.goods.pieces.get(gap.one.part)
    sides = [side for side in scene.goods.seams[gap.seam].sides if side.edges]
    if gap.one != gap.other or piece is None or len(sides) != 2:
        return False
    one, two = (scene.goods.edge_parts(side) for side in sides)
    return _goes_on_from(piece, one, two) or _goes_on_from(piece, two, one)


def _goes_on_from(piece: Piece, one: Mapping[str, Stretch], two: Mapping[str, Stretch]) -> bool:
    """Whether the second of two runs on a piece begins at the very corner at which the first ends."""
    outline = piece.sewn_outline
    ends = [edge for edge, (_, end_mm) in one.items() if end_mm > path_length(edge_path(outline, edge)) - BORDER_MM]
    follows = next_edges(outline)
    return any(two[follows[edge]][0] < BORDER_MM for edge in ends if follows.get(edge) in two)


def _are_sure(scene: Scene, one: Copy, other: Copy) -> bool:
    """Whether two parts lie to each other as only the spec can have them: none of them, nor what they lie on, may turn
    about a line that the other does not turn about too."""
    return _free_hosts(scene, one) == _free_hosts(scene, other)


def _free_hosts(scene: Scene, copy: Copy) -> set[Copy]:
    """The parts that may turn about a line, of a copy and all that it was placed by."""
    return {one for one in _hosts(scene, copy) if scene.placed[one].is_free}


def _hosts(scene: Scene, copy: Copy | None) -> Iterator[Copy]:
    """A copy, and all that it was placed by, one by the other."""
    while copy is not None:
        yield copy
        copy = scene.placed[copy].host


def _find_held_straight(scene: Scene) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """Closed folds that go through a seam along which the other part does not fold."""
    for copy, fold, seam, host in scene.held_straight:
        what = (
            f'"{copy.part}" is folded across the seam "{seam.name}", and "{host.part}" has no fold there: the seam holds '
            "the fold straight"
        )
        mend = f'fold "{host.part}" there too, or write open = true for a fold that only bends'
        yield make_caution(fold.place, what, mend, "fold-held-straight", copy.part), (copy, host)


def _find_low_handles(scene: Scene) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """Handles that no hand goes under, each once; no part's place is in doubt for that."""
    show = scene.goods.build.show
    for name, host, room_mm in dict.fromkeys(
        (copy.part, host.part, round(mm, 1)) for copy, host, mm in scene.low_handles
    ):
        what = (
            f'the handle "{name}" on "{host}" stands {format_length(room_mm, show)} off at its middle, and a hand takes '
            f"{format_length(scene.goods.build.limits.hand_room_mm, show)}"
        )
        place = scene.goods.straps[name].piece.place
        yield (
            make_caution(place, what, "make it longer, or land its ends nearer to each other", "handle-too-low", name),
            (),
        )


def _find_crossing(scene: Scene) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """Parts bent at open folds by angles that are told, and that go through others when they are."""
    for copy, placed in scene.placed.items():
        folds = scene.item(copy).folds
        if len(placed.surface.bands) < 2 or not folds or not all(fold.is_open and fold.angle_deg for fold in folds):
            continue
        for other in scene.placed.values():
            is_beside = (
                other.copy.part in scene.goods.straps
                or other.is_inner
                or other.item.folds
                or copy in _hosts(scene, other.copy)
            )
            if not is_beside and not placed.is_inner and _are_sure(scene, copy, other.copy):
                deep_mm = _through_mm(placed, other)
                if deep_mm > THROUGH_MM:
                    yield _tell_crossing(scene, copy, other.copy, deep_mm), (copy, other.copy)
                    break


def _tell_crossing(scene: Scene, copy: Copy, other: Copy, deep_mm: float) -> Problem:
    fold, piece = scene.item(copy).folds[-1], scene.goods.pieces.get(other.part)
    line = line_words(piece.place.line if piece else None)
    what = (
        f'bent at its folds by the angles that are written, "{copy.part}" goes through "{other.part}", and comes out '
        f"{format_length(deep_mm, scene.goods.build.show)} beyond it"
    )
    mend = f'look at its folds and their angles, and at the size of "{other.part}"{line}'
    return make_caution(fold.place, what, mend, "parts-crossing", copy.part)


def _through_mm(one: Placed, other: Placed) -> float:
    """How far the edges of one part go on beyond the other where they go through it; the shorter of both sides."""
    deep_mm = 0.0
    faces = [(face.corners, face_normal(face.corners)) for face in other.faces]
    for face in one.faces:
        for start, end in pairwise((*face.corners, face.corners[0])):
            for corners, normal in faces:
                deep_mm = max(deep_mm, _beyond(start, end, corners, normal))
    return round(deep_mm, 6)


def _beyond(start: Vec, end: Vec, corners: Sequence[Vec], normal: Vec) -> float:
    before, after = inner(minus(start, corners[0]), normal), inner(minus(end, corners[0]), normal)
    if before * after >= 0 or min(abs(before), abs(after)) < OFF_FACE_MM:
        return 0.0
    at = along(start, minus(end, start), before / (before - after))
    is_through = is_over(corners, normal, at) and not _is_at_border(corners, at)
    return min(apart(at, start), apart(at, end)) if is_through else 0.0


def _is_at_border(corners: Sequence[Vec], at: Vec) -> bool:
    """Whether a point lies at the very edge of a face: what is bent there lies on the edge, and goes through nothing."""
    return any(to_side(start, end, at) < BORDER_MM for start, end in pairwise((*corners, corners[0])))
