"""What cannot be as it is written, seen in space: edges that do not come together, folds that cannot bend, parts that go
through each other. Each is told once, where both parts lie where only the spec can have them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.close import face_normal, is_over, to_side
from docgen.assemble.space.placed import Gap, Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import Vec, along, apart, inner, minus
from docgen.assemble.space.wide import are_sure, find_apart, hosts_of
from docgen.problems import Problem, line_words, make_caution
from docgen.written.units.telling import format_length

OFF_FACE_MM = 0.5  # what lies nearer to a face on either side lies on it
BORDER_MM = 1.0
THROUGH_MM = 2.0  # an edge that goes on so far on both sides of a part goes through it: less is what leather gives


def find_doubts(scene: Scene, gaps: Sequence[Gap]) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """What is doubtful, with the copies that it is about."""
    yield from find_apart(scene, gaps)
    yield from _find_held_straight(scene)
    yield from _find_crossing(scene)
    yield from _find_low_handles(scene)


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
    """Parts bent at open folds by angles that are told, and that go through others when they are; not at those along a
    wall, which goes round what it is sewn to."""
    for copy, placed in scene.placed.items():
        folds = scene.item(copy).folds if not placed.surface.pleat else ()
        if len(placed.surface.bands) < 2 or not folds or not all(fold.is_open and fold.angle_deg for fold in folds):
            continue
        for other in scene.placed.values():
            is_beside = (
                other.copy.part in scene.goods.straps
                or other.is_inner
                or other.item.folds
                or copy in hosts_of(scene, other.copy)
            )
            if not is_beside and not placed.is_inner and are_sure(scene, copy, other.copy):
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
