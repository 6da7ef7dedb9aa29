"""What hangs on a part by one straight row and by nothing else, as a flap or a hanging pocket: it is folded back out of the
way of a needle or a post that comes well beside that row."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import Bench, Lying
from docgen.assemble.goods import Goods
from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import end_point, path_length, points_at, start_point
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import distance

LIFT_MM = 12.0  # nearer to its row a part is not held clear of foot and tool: our choice
CAUGHT_MM = 12.0  # a row no farther in from an edge of a part is meant to hold that: our choice
LOOKS = 40  # places along a row at which that is looked at
STRAIGHT_MM = 0.5
MATE_MM = 3.0  # from a hole of its own a post is meant for it


def is_lifted(goods: Goods, bench: Bench, host: Copy, item: Lying, at: Point) -> bool:
    """Whether what lies on a host is folded back from a point of that: not where a post goes through by its edge, or by a
    hole of its own."""
    rows = find_hinge(goods, bench, host, item)
    if not rows or _is_near(rows, at) or _is_caught(goods, item, at):
        return False
    own = item.to_own(at)
    return not any(distance(hole.at, own) < MATE_MM for hole in goods.pieces[item.copy.part].marks.holes)


def is_lifted_all_along(goods: Goods, bench: Bench, host: Copy, item: Lying, rows: Sequence[Path]) -> bool:
    """Whether what lies on a host is folded back while rows are sewn on that: not where one comes near the row by which
    it hangs, or runs along its edge for more than half of what crosses it, and so holds it."""
    hinges = find_hinge(goods, bench, host, item)
    shares = [(k + 0.5) / LOOKS for k in range(LOOKS)] if hinges else []
    points = [at for row in rows for at, _ in points_at(row, [share * path_length(row) for share in shares])]
    over = [at for at in points if item.outline is not None and goods.is_within(item.outline, at)]
    if not over or any(_is_near(hinges, at) for at in over):
        return False
    return 2 * sum(_is_caught(goods, item, at) for at in over) <= len(over)


def _is_near(rows: Sequence[Path], at: Point) -> bool:
    return any(distance_to_path(row, at) < LIFT_MM for row in rows)


def _is_caught(goods: Goods, item: Lying, at: Point) -> bool:
    return goods.is_on_rim(goods.outline(goods.pieces[item.copy.part]), item.to_own(at), CAUGHT_MM)


def find_hinge(goods: Goods, bench: Bench, host: Copy, item: Lying) -> tuple[Path, ...]:
    """The straight rows of the one seam by which a part hangs on its host, as they run on that; none where it is held
    otherwise besides."""
    if item.is_cover or item.outline is None or {host.part, item.copy.part} - goods.pieces.keys():
        return ()
    key = host, item.copy
    if key not in bench.hinges:
        bench.hinges[key] = _find_hinge(goods, bench, host, item.copy)
    return bench.hinges[key]


def _find_hinge(goods: Goods, bench: Bench, host: Copy, copy: Copy) -> tuple[Path, ...]:
    hanging = _hang_together(bench, host, copy)
    held = [name for name, copies in bench.bonds if host in copies and not hanging.isdisjoint(copies)]
    if len({*held}) != 1 or held[0] not in goods.seams:
        return ()
    seam = goods.seams[held[0]]
    own = {one.part for one in hanging}
    if any(len(side.edges) > 1 for side in seam.sides if side.part in own):
        return ()
    rows = tuple(line.path for line in goods.pieces[host.part].marks.stitch_lines if line.seam == seam.name)
    return rows if all(map(_is_straight, rows)) else ()


def _hang_together(bench: Bench, host: Copy, copy: Copy) -> set[Copy]:
    """A copy with all that hangs together with it otherwise than by the host."""
    found, waiting = {copy}, [copy]
    while waiting:
        one = waiting.pop()
        more = {other for _, copies in bench.bonds if one in copies and host not in copies for other in copies} - found
        found |= more
        waiting += more
    return found


def _is_straight(row: Path) -> bool:
    return not row.closed and path_length(row) - distance(start_point(row), end_point(row)) < STRAIGHT_MM
