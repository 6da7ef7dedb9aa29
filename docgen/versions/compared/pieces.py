"""What changed on one piece, as a maker measures it: size, roundings, outline, holes, the marks on it."""

import math
from collections.abc import Iterable, Sequence
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import end_point, path_area, path_box, start_point
from docgen.geometry.shapes import Arc, Box, Path, Point
from docgen.resolve import Hole, Piece, PieceLine, lines_of
from docgen.versions.compared.alike import SLACK_MM, deviation_mm, is_alike, is_near, move_path, take_pairs, tell_alone
from docgen.versions.compared.changes import Fact, Spot
from docgen.versions.compared.levels import compare_levels, is_level

HALVES: Final = (0.0, 1.0, 0.5)
TOLD_OTHERWISE: Final = frozenset({"hole", "skive", "centre", "cut"})
WHOLE: Final = frozenset({"landing", "stitch", "drawn"})  # told by all of their line, not by its ends
WORDS: Final = {"landing": "landing of", "stitch": "stitch line", "drawn": "drawn line"}
AREA_SLACK_MM2: Final = 500.0
"""Less than this cannot be seen in the areas as they are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frames:
    """The boxes round a piece before and after: a mark may keep its distance from any side, or from the middle."""

    before: Box
    after: Box

    @property
    def is_same_size(self) -> bool:
        return is_near(self.before.width, self.after.width) and is_near(self.before.height, self.after.height)

    def shifts(self) -> Iterable[Point]:
        """Every move that lays one box on the other: by the sides, or by the middles."""
        wider, higher = self.after.width - self.before.width, self.after.height - self.before.height
        left, foot = self.after.left - self.before.left, self.after.bottom - self.before.bottom
        return (Point(left + x * wider, foot + y * higher) for y in HALVES for x in HALVES)

    def off_mm(self, before: Point, after: Point) -> float:
        """How far a point has moved, by the move of the piece that tells least."""
        return min(math.dist((before.x + by.x, before.y + by.y), after) for by in self.shifts())


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark on a piece: what it is, the points that tell its place, and its drawn line."""

    key: str
    places: tuple[Point, ...]
    path: Path | None = None


def frames_of(before: Piece, after: Piece) -> Frames:
    """The boxes round a piece before and after."""
    return Frames(before=outline_box(before.outline), after=outline_box(after.outline))


def compare_piece(before: Piece, after: Piece) -> list[Fact]:
    """Size, roundings, outline, holes and marks; nothing for moves under 0.05 mm."""
    frames = frames_of(before, after)
    return [
        *compare_shape(before, after, frames),
        *compare_holes(before.marks.holes, after.marks.holes, frames),
        *compare_skives(before, after),
        *compare_stitch_holes(before, after, frames),
        *([] if frames.is_same_size else compare_levels(before, after)),
        *(
            fact
            for name, marks, others in _marks(before, after, frames)
            for fact in compare_marks(name, marks, others, frames)
        ),
    ]


def compare_shape(before: Piece, after: Piece, frames: Frames) -> list[Fact]:
    """Width, height, roundings, area; of an equal size also how far the outline moved."""
    old, new = frames.before, frames.after
    up = "length" if after.shape == "strip" else "height"
    facts = [
        Fact(name, was, now, "length")
        for name, was, now in (("width", old.width, new.width), (up, old.height, new.height))
        if not is_near(was, now)
    ]
    roundings = _compare_roundings(before, after)
    facts += roundings
    if frames.is_same_size and not roundings:
        moved = deviation_mm(_laid(outline_path(before.outline), old), _laid(outline_path(after.outline), new))
        if moved > SLACK_MM:
            facts.append(Fact("outline", None, moved, "move"))
    areas = [abs(path_area(outline_path(piece.outline))) for piece in (before, after)]
    if facts and abs(areas[0] - areas[1]) > AREA_SLACK_MM2:
        facts.append(Fact("area", areas[0], areas[1], "area"))
    return facts


def _laid(path: Path, box: Box) -> tuple[Point, ...]:
    return move_path(path, Point(-box.left, -box.bottom))


def _compare_roundings(before: Piece, after: Piece) -> list[Fact]:
    """The radii of corners, by their names; 0 for a sharp one."""
    old, new = _radii(before), _radii(after)
    return [
        Fact(f"rounding {name}", old.get(name, 0.0), new.get(name, 0.0), "length")
        for name in dict.fromkeys((*old, *new))
        if not is_near(old.get(name, 0.0), new.get(name, 0.0))
    ]


def _radii(piece: Piece) -> dict[str, float]:
    return {
        edge.name: edge.path.segments[0].radius
        for edge in piece.outline.edges
        if edge.corner and isinstance(edge.path.segments[0], Arc)
    }


def compare_holes(before: Sequence[Hole], after: Sequence[Hole], frames: Frames) -> list[Fact]:
    """Holes added, removed, moved, made larger or smaller; one that keeps its distance from a side has not moved."""
    old, new = list(before), list(after)
    take_pairs(old, new, lambda a, b: _is_kept(a, b, frames) and _is_equal(a, b))
    pairs = take_pairs(old, new, lambda a, b: _is_kept(a, b, frames))
    pairs += _pair_nearest(old, new, frames)
    facts = [Fact("hole", spot_of(a, frames.before), spot_of(b, frames.after), "hole") for a, b in pairs]
    facts += [Fact("hole", spot_of(a, frames.before), None, "hole") for a in old]
    facts += [Fact("hole", None, spot_of(b, frames.after), "hole") for b in new]
    return facts


def _is_equal(before: Hole, after: Hole) -> bool:
    return (
        is_near(before.diameter_mm, after.diameter_mm)
        and before.takes == after.takes
        and is_alike(before.slot, after.slot)
    )


def _is_kept(before: Hole, after: Hole, frames: Frames) -> bool:
    return frames.off_mm(before.at, after.at) <= SLACK_MM


def _pair_nearest(old: list[Hole], new: list[Hole], frames: Frames) -> list[tuple[Hole, Hole]]:
    """Take out of both lists the pairs of equal holes, nearest first: these have moved."""
    pairs: list[tuple[Hole, Hole]] = []
    while True:
        equal = [(a, i, b, k) for i, a in enumerate(old) for k, b in enumerate(new) if _is_equal(a, b)]
        fits = [(frames.off_mm(a.at, b.at), i, k) for a, i, b, k in equal]
        if not fits:
            return pairs
        _, i, k = min(fits)
        pairs.append((old.pop(i), new.pop(k)))


def spot_of(hole: Hole, box: Box) -> Spot:
    """A hole measured from the left and the top of its piece."""
    return Spot(
        from_left_mm=hole.at.x - box.left,
        from_top_mm=box.top - hole.at.y,
        diameter_mm=hole.diameter_mm,
        takes=hole.takes,
        long_mm=hole.long_mm,
    )


def compare_skives(before: Piece, after: Piece) -> list[Fact]:
    """Bands by the edges they run along: how wide, and how thin."""
    old = {skive.edges: skive for skive in before.marks.skives}
    new = {skive.edges: skive for skive in after.marks.skives}
    facts = []
    for edges in dict.fromkeys((*old, *new)):
        was, now = old.get(edges), new.get(edges)
        if was is None or now is None:
            words = ("skived" if was else "no", "skived" if now else "no")
            facts.append(Fact(f"skive {edges}", words[0], words[1], "words"))
            continue
        if not is_near(was.width_mm, now.width_mm):
            facts.append(Fact(f"skive {edges}, width", was.width_mm, now.width_mm, "length"))
        if was.to_words != now.to_words:
            facts.append(Fact(f"skive {edges}, to", was.to_words, now.to_words, "words"))
    return facts


def compare_stitch_holes(before: Piece, after: Piece, frames: Frames) -> list[Fact]:
    """Stitch lines that lie where they lay and have other holes, by hand, or other ticks, by machine; of those that
    moved that is told already."""
    old = {(line.seam, line.row): line for line in before.marks.stitch_lines}
    facts = []
    for line in after.marks.stitch_lines:
        was = old.get((line.seam, line.row))
        if was is None or not frames.is_same_size:
            continue
        first, second = (Mark(key="", places=(), path=item.path) for item in (was, line))
        if _moved_mm(first, second, frames) > SLACK_MM:
            continue
        is_hand = line.by == "hand"
        old_mm, new_mm = (item.holes_mm if is_hand else item.ticked_mm for item in (was, line))
        name = f"{'holes' if is_hand else 'ticks'} of stitch line {line.seam}"
        if len(old_mm) != len(new_mm):
            facts.append(Fact(name, len(old_mm), len(new_mm), "count"))
            continue
        moved_mm = max((abs(a - b) for a, b in zip(old_mm, new_mm, strict=True)), default=0.0)
        if moved_mm > SLACK_MM:
            facts.append(Fact(name, None, moved_mm, "move"))
    return facts


def _marks(before: Piece, after: Piece, frames: Frames) -> Iterable[tuple[str, tuple[Mark, ...], tuple[Mark, ...]]]:
    """The other kinds of marks, each by its name, before and after; of a piece of another size without the folds that
    are told by their distance from its sides."""
    if not frames.is_same_size:
        before, after = (
            piece.with_marks(folds=tuple(f for f in piece.marks.folds if not is_level(piece, (f.start, f.end))))
            for piece in (before, after)
        )
    old, new = list_marks(before), list_marks(after)
    return ((name, old.get(name, ()), new.get(name, ())) for name in dict.fromkeys((*old, *new)))


def list_marks(piece: Piece) -> dict[str, tuple[Mark, ...]]:
    """The marks of a piece that are told by where they lie, by the words for their kinds."""
    found: dict[str, tuple[Mark, ...]] = {}
    for line in lines_of(piece):
        if line.kind not in TOLD_OTHERWISE:
            name = WORDS.get(line.kind, line.kind)
            found[name] = (*found.get(name, ()), _mark(line))
    return found


def _mark(line: PieceLine) -> Mark:
    if line.kind in WHOLE:
        return Mark(key=line.key, places=_corners(line.path), path=line.path)
    start, end = start_point(line.path), end_point(line.path)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    # a fold goes from side to side, and its ends with them; the length of a notch says nothing
    return Mark(key=line.key, places={"fold": (middle,), "notch": (start,)}.get(line.kind, (middle, start, end)))


def _corners(path: Path) -> tuple[Point, ...]:
    box = path_box(path)
    return (Point(box.left, box.bottom), Point(box.left, box.top), Point(box.right, box.bottom))


def compare_marks(name: str, before: Sequence[Mark], after: Sequence[Mark], frames: Frames) -> list[Fact]:
    """Marks of one kind added, removed or moved. Lines that follow the edges of a piece of another
    size are not told."""
    old, new = list(before), list(after)
    take_pairs(old, new, lambda mark, other: mark.key == other.key and _is_same(mark, other, frames))
    moved = take_pairs(old, new, lambda mark, other: mark.key == other.key)
    facts = [fact for mark, other in moved for fact in _tell_moved(_name_mark(name, mark), mark, other, frames)]
    return facts + tell_alone((_name_mark(name, mark) for mark in old), (_name_mark(name, mark) for mark in new))


def _name_mark(kind: str, mark: Mark) -> str:
    return f"{kind} {mark.key}".strip()


def _is_same(before: Mark, after: Mark, frames: Frames) -> bool:
    if frames.is_same_size and before.path is not None and after.path is not None:
        return _moved_mm(before, after, frames) <= SLACK_MM
    return any(frames.off_mm(a, b) <= SLACK_MM for a, b in zip(before.places, after.places, strict=True))


def _moved_mm(before: Mark, after: Mark, frames: Frames) -> float:
    if before.path is None or after.path is None:
        return frames.off_mm(before.places[0], after.places[0])
    return deviation_mm(_laid(before.path, frames.before), _laid(after.path, frames.after))


def _tell_moved(name: str, before: Mark, after: Mark, frames: Frames) -> list[Fact]:
    if before.path is not None and not frames.is_same_size and not name.startswith("landing"):
        return []
    return [Fact(name, None, _moved_mm(before, after, frames), "move")]
