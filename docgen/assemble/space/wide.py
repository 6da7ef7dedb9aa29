"""Seams whose edges lie farther apart than leather gives: which of them are told, and what one cause parts as one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.assembly import Copy
from docgen.assemble.space.matched import MEETS_MM
from docgen.assemble.space.placed import Gap
from docgen.assemble.space.scene import Scene, Tie
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import apart
from docgen.geometry.nearest import Stretch
from docgen.geometry.outline import edge_path, next_edges
from docgen.geometry.path import path_length
from docgen.geometry.shapes import Line, Point
from docgen.geometry.vector import cross, distance, subtract, unit
from docgen.problems import Problem, count_words, line_words, make_caution
from docgen.resolve import Piece
from docgen.tables.sewing import EDGES_APART_MM
from docgen.written.units.telling import format_length

ONE_LINE = 0.02  # the sine of the angle between runs that go on in one line
INWARD = 0.5  # the sine of the angle by which a corner leads inward
BORDER_MM = 1.0
MOST_NAMED = 3


def find_apart(scene: Scene, gaps: Sequence[Gap]) -> Iterator[tuple[Problem, tuple[Copy, ...]]]:
    """Runs of a seam that lie farther apart than leather gives, the worst place of each seam; of seams that hang together
    by their parts the worst, with the names of the others."""
    worst: dict[str, Gap] = {}
    open_ones = set(_find_unbent(scene, gaps))
    for gap in gaps:
        if _is_apart(scene, gap) and gap not in open_ones:
            worst[gap.seam] = max(worst.get(gap.seam, gap), gap, key=lambda one: one.over_mm)
    for together in _hang_together([*worst.values()]):
        yield _tell(scene, together), tuple(dict.fromkeys(copy for gap in together for copy in (gap.one, gap.other)))


def find_unbent(scene: Scene, gaps: Sequence[Gap]) -> Iterator[Copy]:
    """Parts that are placed flat and bend when their seams are sewn: nothing is wrong, and where they lie is not known."""
    yield from (copy for gap in _find_unbent(scene, gaps) for copy in (gap.one, gap.other))


def _find_unbent(scene: Scene, gaps: Sequence[Gap]) -> Iterator[Gap]:
    """The gaps that are closed by bends which nothing writes: those of parts that stand on what darts close, or that go on
    round another one, also where two of these meet."""
    darted = {*find_darted(scene, gaps)}
    wide = [gap for gap in gaps if _is_apart(scene, gap)]
    bent = {gap: [*_bends_round(scene, gap, gaps)] for gap in wide}
    round_ones = {copy for copies in bent.values() for copy in copies}
    for gap in wide:
        is_bulged = _is_by_flat(scene, gap, darted) and not _is_across(scene, gap)
        if bent[gap] or is_bulged or {gap.one, gap.other} <= round_ones:
            yield gap


def _is_apart(scene: Scene, gap: Gap) -> bool:
    return gap.over_mm > EDGES_APART_MM and are_sure(scene, gap.one, gap.other) and not _is_dart(scene, gap)


def _hang_together(gaps: Sequence[Gap]) -> list[list[Gap]]:
    """The gaps in heaps that share no part, in each the widest first."""
    heaps: list[list[Gap]] = []
    for gap in gaps:
        near = [heap for heap in heaps if any({gap.one, gap.other} & {one.one, one.other} for one in heap)]
        heaps = [heap for heap in heaps if heap not in near] + [[*(one for heap in near for one in heap), gap]]
    return [sorted(heap, key=lambda one: -one.over_mm) for heap in heaps]


def _tell(scene: Scene, together: Sequence[Gap]) -> Problem:
    show, seams = scene.goods.build.show, scene.goods.seams
    gap, *others = together
    one, other = gap.one.part, gap.other.part
    what = (
        f'the edges of "{one}" and "{other}" do not come together in the seam "{gap.seam}": '
        f"{format_length(gap.along_mm, show)} along it they lie {format_length(gap.apart_mm, show)} apart, and leather "
        f"gives {format_length(EDGES_APART_MM + gap.allowed_mm, show)}"
    )
    if others:
        named = [f'"{each.seam}"{line_words(seams[each.seam].place.line)}' for each in others[:MOST_NAMED]]
        more = count_words(len(others) - MOST_NAMED, "other seam") if len(others) > MOST_NAMED else ""
        what += f"; nor do those of {', '.join(named)}{f' and {more}' if more else ''}"
    shape = f'give "{other}" the shape of "{one}" there, or ' if one != other else ""
    mend = (
        f"look whether the right edge and copy of each are named; else {shape}accept it where the leather is to bulge"
    )
    return make_caution(seams[gap.seam].place, what, mend, "edges-apart", gap.seam)


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


def _is_by_flat(scene: Scene, gap: Gap, darted: set[Copy]) -> bool:
    """Whether one of both, or a part that it has its place by, is closed by darts, and lies flat here: that closes on
    itself, and with what stands on it, otherwise than it is placed."""
    return any(one in darted for copy in (gap.one, gap.other) for one in hosts_of(scene, copy))


def _is_across(scene: Scene, gap: Gap) -> bool:
    """Whether a seam of a part to itself sews one side of a corner that is cut out to a side of another such corner."""
    piece = scene.goods.pieces.get(gap.one.part)
    sides = [side for side in scene.goods.seams[gap.seam].sides if side.edges]
    if piece is None or gap.one != gap.other or len(sides) != 2:
        return False
    corners = [{*pair} for pair in _cut_out(piece)]
    one, two = ({*side.edges} for side in sides)
    own = [corner for corner in corners if corner & one and corner & two]
    return not own and all(any(corner & edges for corner in corners) for edges in (one, two))


def _cut_out(piece: Piece) -> Iterator[tuple[str, str]]:
    """The two edges at each corner of a piece that leads inward."""
    outline = piece.sewn_outline
    for edge, following in next_edges(outline).items():
        before, after = edge_path(outline, edge).segments[-1], edge_path(outline, following).segments[0]
        if isinstance(before, Line) and isinstance(after, Line):
            turn = cross(unit(subtract(before.end, before.start)), unit(subtract(after.end, after.start)))
            if turn < -INWARD:
                yield edge, following


def _bends_round(scene: Scene, gap: Gap, gaps: Sequence[Gap]) -> Iterator[Copy]:
    """Which of both is placed flat, and goes on round the other: another seam of both, which is closed, ends where this
    one begins, and there that part goes on in one line, and the other one not, or not for long."""
    closed = {one.seam for one in gaps if {one.one, one.other} == {gap.one, gap.other} and one.over_mm <= 0}
    ties = [tie for copy in (gap.one, gap.other) for tie in scene.ties_of(copy) if tie.other in (gap.one, gap.other)]
    own = [tie for tie in ties if tie.seam.name == gap.seam]
    beside = [tie for tie in ties if tie.seam.name in closed]
    yield from (
        tie.own for tie in own for next_to in beside if tie.own == next_to.own and _goes_round(scene, tie, next_to)
    )


def _goes_round(scene: Scene, tie: Tie, beside: Tie) -> bool:
    """Whether two seams meet at one place of both parts, where the part goes straight on and its partner has a corner, or
    turns farther on."""
    near_mm = MEETS_MM + sum(scene.goods.stitches[one.seam.stitch].inset_mm for one in (tie, beside))
    apart_mm = near_mm + max((side.lap_mm for side in beside.seam.sides), default=0.0)
    first, second = scene.placed[tie.own].surface, scene.placed[tie.other].surface
    return tie.mine.is_straight and any(
        is_on and not (its_is_on and tie.its.is_straight) and apart(first.point(at), second.point(its_at)) <= apart_mm
        for at, is_on in _meet(tie.mine, beside.mine, near_mm)
        for its_at, its_is_on in _meet(tie.its, beside.its, near_mm)
    )


def _meet(one: Track, other: Track, near_mm: float) -> Iterator[tuple[Point, bool]]:
    """The ends of a run that lie at one of another run, each with whether that goes on in one line there."""
    for first in (one, one.reversed()):
        for second in (other, other.reversed()):
            at, back = first.points[0], second.points[0]
            turn = cross(unit(subtract(first.points[1], at)), unit(subtract(second.points[1], back)))
            if distance(at, back) <= near_mm:
                yield at, abs(turn) < ONE_LINE


def are_sure(scene: Scene, one: Copy, other: Copy) -> bool:
    """Whether two parts lie to each other as only the spec can have them: none of them, nor what they lie on, may turn
    about a line that the other does not turn about too."""
    return _free_hosts(scene, one) == _free_hosts(scene, other)


def _free_hosts(scene: Scene, copy: Copy) -> set[Copy]:
    """The parts that may turn about a line, of a copy and all that it was placed by."""
    return {one for one in hosts_of(scene, copy) if scene.placed[one].is_free}


def hosts_of(scene: Scene, copy: Copy | None) -> Iterator[Copy]:
    """A copy, and all that it was placed by, one by the other."""
    while copy is not None:
        yield copy
        copy = scene.placed[copy].host
