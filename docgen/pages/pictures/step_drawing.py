"""A step -> its picture: what is joined in place, lifted apart along the way it goes on; new parts wide, earlier ones
fine, the seam picked out, with the place where it begins and the way it goes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cache

from docgen.assemble import Body, Bond, Copy, Folding, Heap, Joined, Moved, Vec, inner, is_in_ring, plus
from docgen.classes import dataclass
from docgen.fonts import ascent_mm, wrap_text
from docgen.geometry.shapes import Point
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import text_lines
from docgen.pages.pictures.article import view_of
from docgen.pages.pictures.detail import LARGER, ON_PAPER_MM, best_view, find_small, find_window, lift_mm
from docgen.pages.pictures.drawing import NOWHERE, Drawing, Shown
from docgen.pages.pictures.figure import has_long_word, is_one_sided, make_figure, scale_for
from docgen.pages.pictures.leaders import LEADING, THIN_MM, Named, find_unseen
from docgen.pages.pictures.legs import is_beyond
from docgen.pages.pictures.rows import Row
from docgen.pages.pictures.shifts import NO_FARTHER, shift_all
from docgen.pages.pictures.view import Side, View, half_turned
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.plan import spoken

DETAIL_WIDE_MM = 24.0
TITLE_GAP_MM = 0.5  # under its name
DETAIL_SHARE = 0.8  # of the height of a picture, for what is small in it
EVERY_MM, PLACES = 10.0, (12, 120)  # along a band it is looked up so often, at least and at most, what it lies over
WELL_SEEN = 0.7  # of a seam, that is enough of it
ALONG = 0.1  # of a way, at most so much leads off a face along which it goes
UNBEGUN_WORTH = 0.6  # of a view, where the beginning of its seam is out of sight
FARTHER = (2.0, 3.0, 4.0)  # times as far, at most: our choice
SAME_POST_MM = 15.0  # holes of one post, as they are lifted off each other


@dataclass(frozen=True, slots=True, kw_only=True)
class StepScene:
    """What is drawn of one heap, from where it is seen, the names of parts, of those that are not drawn, and of those that
    are `hung` in its rings; what is the same where others are joined in the same way; a part that is small in it, drawn
    once more at a larger scale."""

    side: Side
    drawing: Drawing = field(hash=False)
    named: tuple[Named, ...]
    absent: tuple[str, ...] = ()
    hung: tuple[str, ...] = ()
    is_turned: bool = False
    folding: Folding | None = None
    likeness: tuple[object, ...] = ()
    detail: Drawing | None = field(default=None, hash=False)
    detailed: str = ""


def set_scene(bodies: Mapping[Copy, Body], heap: Heap, joined: Joined) -> StepScene:
    """How a heap is drawn, with what is known of it: from where what goes on comes nearer, of what is sewn lying back to
    back from the side of what its seam has on top, unless from the other side more is seen of what is sewn."""
    eye = view_of(joined.kind, "front", is_away=joined.is_away).eye
    toward = sum(
        inner(_comes_by(bodies, heap, one), eye) * (-1 if _is_host(bodies, heap, one) else 1) for one in heap.moved
    )
    tops = [*_find_tops(bodies, heap)] if joined.kind == "lying" else []
    toward = sum(inner(top, eye) for top in tops) if tops else toward
    toward = inner(heap.folding.inside, eye) if heap.folding else toward
    first: Side = "front" if toward >= -1e-6 else "behind"
    scene = _set_scene(bodies, heap, joined, first)
    is_badly_seen = bool(scene.drawing.rows) and min(map(_worth, scene.drawing.rows)) < WELL_SEEN
    is_begun = all(row.is_begun for row in scene.drawing.rows)
    is_badly_seen = is_badly_seen and not heap.folding and not (tops and is_begun) and not _lies_outside(bodies, heap)
    is_hung = any(bond.is_hung for bond in heap.bonds)
    is_lifted = heap.moved or (heap.handled and not heap.folding)
    hidden = _count_hidden(scene) if is_badly_seen or is_hung or is_lifted else 0
    if is_badly_seen or hidden:
        other = _set_scene(bodies, heap, joined, "behind" if first == "front" else "front")
        told = ((scene, hidden), (other, _count_hidden(other)))
        scene, hidden = max(told, key=lambda one: round(sum(map(_worth, one[0].drawing.rows)) - one[1], 2))
        scene = _bring_out(scene, bodies, heap, joined) if hidden else scene
    return _add_detail(scene, bodies, heap, joined)


def _find_tops(bodies: Mapping[Copy, Body], heap: Heap) -> Iterator[Vec]:
    """The ways that the outer sides look of what seams have on top of another part, to which it lies back to back."""
    for bond in heap.bonds:
        top, under = bodies[bond.one].placed, bodies[bond.other].placed
        is_back = any(
            one.how == "back to back" and one.host == other.copy for one, other in ((top, under), (under, top))
        )
        if bond.seam and is_back:
            yield top.out(bodies[bond.one].held_band)


def _comes_by(bodies: Mapping[Copy, Body], heap: Heap, one: Moved) -> Vec:
    """The way by which something is lifted off; where that leads along the outer sides on which it lies, the way that
    these look: along them it comes from neither side."""
    guests = (bodies[copy].placed for copy in one.copies if copy in bodies)
    outs = [
        bodies[guest.host].placed.out(bodies[guest.host].held_band)
        for guest in guests
        if guest.host in heap.base and guest.level > 0 and not guest.is_inner
    ]
    is_along = bool(outs) and all(abs(inner(one.way, out)) < ALONG for out in outs)
    return outs[0] if is_along else one.way


def _lies_outside(bodies: Mapping[Copy, Body], heap: Heap) -> bool:
    """Whether all that goes on comes to lie on the outer side of what stays: from the other side nothing tells that."""
    base = {*heap.base}
    guests = [body.placed for one in heap.moved for copy in one.copies if (body := bodies.get(copy)) is not None]
    on = [one for one in guests if one.host in base]
    return bool(on) and all(one.level > 0 and not one.is_inner for one in on)


def _count_hidden(scene: StepScene) -> int:
    """Of how many names of a picture nothing is seen."""
    return len(_find_hidden(scene))


def _find_hidden(scene: StepScene) -> list[Named]:
    drawing = scene.drawing
    return find_unseen(drawing.glance(drawing.scale_for(*ON_PAPER_MM)), scene.named, THIN_MM)


def _bring_out(scene: StepScene, bodies: Mapping[Copy, Body], heap: Heap, joined: Joined) -> StepScene:
    """The scene with what is lifted off to behind a part that hides it from either side, as what comes on both sides of a
    panel, lifted so far that it is seen; as it is where no way is far enough."""
    owners = {owner for hidden, _ in _find_hidden(scene) for owner in hidden}
    gone = {scene.drawing.shown[owner].body.copy for owner in owners}
    away = frozenset(
        copy
        for one in heap.moved
        if inner(one.way, scene.drawing.view.eye) < 0 and not gone.isdisjoint(one.copies)
        for copy in one.copies
    )
    for times_as_far in FARTHER if away else ():
        found = _set_scene(bodies, heap, joined, scene.side, dict.fromkeys(away, times_as_far))
        if _count_hidden(found) < len(_find_hidden(scene)):
            return found
    return scene


def _is_host(bodies: Mapping[Copy, Body], heap: Heap, one: Moved) -> bool:
    """Whether what is lifted is what the rest lies on, which stays in its place as the larger part."""
    pairs = ((pair.one, pair.other) for pair in heap.bonds)
    mixed = [pair for pair in pairs if (pair[0] in one.copies) != (pair[1] in one.copies)]
    return any(
        bodies[guest].placed.host == host and bodies[guest].placed.level > 0
        for host, guest in (pair if pair[0] in one.copies else pair[::-1] for pair in mixed)
    )


def _add_detail(scene: StepScene, bodies: Mapping[Copy, Body], heap: Heap, joined: Joined) -> StepScene:
    """The scene with a drawing of a part that is too small in it, framed there; without where that would not be larger, or
    what it goes under hides it."""
    small = find_small(bodies, heap, scene.drawing)
    if small is None:
        return scene
    view = best_view(small, scene.drawing.view)
    shown, links = _show(bodies, heap, joined, view, lift_mm(small))
    detail = Drawing(
        shown, view, links, joined.picked, window=find_window(small, shown, view), unmarked=joined.unmarked
    )
    own = tuple(k for k, one in enumerate(shown) if one.body is small.body)
    if find_unseen(detail.glance(detail.scale_for(*ON_PAPER_MM)), [(own, small.body.title)], THIN_MM):
        return scene
    if detail.scale_for(*ON_PAPER_MM) < LARGER * scene.drawing.scale_for(*ON_PAPER_MM):
        return scene
    frame = find_window(small, [one for one in scene.drawing.shown if one.shift != NOWHERE], scene.drawing.view)
    scene.drawing.framed = (frame,)
    _share_starts(scene.drawing, detail, small.body)
    return replace(scene, detail=detail, detailed=small.body.title)


def _share_starts(drawing: Drawing, detail: Drawing, small: Body) -> None:
    """Where the rows of a small part begin is marked where it is larger, and nowhere else; but not of one that runs on from
    beyond the frame of that."""
    own = {line.name for line in small.lines if line.kind == "stitch"}
    begun = [row for row in detail.rows if row.is_begun and row.seam in own and not _is_beyond(detail, row.at)]
    larger = {row.seam for row in begun}
    drawing.unmarked |= larger
    detail.unmarked |= {row.seam for row in detail.rows} - larger


def _is_beyond(drawing: Drawing, at: Point) -> bool:
    """Whether a place of the view lies outside the frame of a drawing."""
    x, y = at
    return drawing.window is not None and is_beyond(drawing.window, (x, y, 0.0), (x, y, 0.0))


def _worth(row: Row) -> float:
    """How well a seam is seen: the share of its length, nearly enough being enough, and where it begins."""
    return min(row.share, WELL_SEEN) * (1.0 if row.is_begun else UNBEGUN_WORTH)


def _set_scene(
    bodies: Mapping[Copy, Body], heap: Heap, joined: Joined, side: Side, farther: Mapping[Copy, float] = NO_FARTHER
) -> StepScene:
    """The scene from one side; some copies are lifted so many times as `farther` off."""
    view = view_of(joined.kind, side, is_away=joined.is_away)
    if heap.folding and inner(heap.folding.stands, view.eye) > 0:
        view = half_turned(view)  # what stands up would hide the rest
    shown, links = _show(bodies, heap, joined, view, farther=farther)
    new = [(k, one.body.title) for k, one in enumerate(shown) if one.is_new and isinstance(one.body, Body)]
    titles = dict.fromkeys(title for _, title in new)
    named = tuple((tuple(k for k, other in new if other == title), title) for title in titles)
    return StepScene(
        side=side,
        drawing=Drawing(shown, view, links, joined.picked, unmarked=joined.unmarked),
        named=named,
        absent=joined.absent,
        hung=joined.hung,
        is_turned=joined.is_turned,
        folding=heap.folding,
        likeness=joined.likeness,
    )


def _show(
    bodies: Mapping[Copy, Body],
    heap: Heap,
    joined: Joined,
    view: View,
    gap_mm: float | None = None,
    farther: Mapping[Copy, float] = NO_FARTHER,
) -> tuple[tuple[Shown, ...], tuple[tuple[Vec, Vec], ...]]:
    """The parts of a heap as they are lifted, and the links between them; `gap_mm` where they are lifted so far."""
    shifts = shift_all(bodies, heap, view, gap_mm, farther)
    order = [copy for copy in bodies if copy in shifts and _is_shown(bodies, copy, heap, joined)]
    shown = tuple(
        Shown(
            body=bodies[copy],
            shift=shifts[copy],
            is_new=copy in heap.new,
            seams=joined.sewn,
            picked=frozenset(joined.picked),
            is_hatched=joined.lined.is_hatched(bodies[copy]),
            covered=joined.lined.bare(bodies[copy]),
            beneath=joined.lined.hidden_rows(copy) - joined.picked.keys(),
            shut=joined.lined.shut_holes(bodies[copy]),
            flanged=joined.flanged.get(copy, frozenset()),
        )
        for copy in order
    )
    shown += tuple(
        Shown(body=one, shift=shifts[one.copy], is_new=is_new) for one, is_new in joined.metal if one.copy in shifts
    )
    links = tuple(
        (plus(at, shifts[pair.one]), plus(at, shifts[pair.other]))
        for pair in heap.bonds
        if shifts[pair.one] != shifts[pair.other]
        for at in _meet(bodies, pair)
    )
    return shown, (*links, *(heap.folding.meets if heap.folding else ()))


def _is_shown(bodies: Mapping[Copy, Body], copy: Copy, heap: Heap, joined: Joined) -> bool:
    """What lines a part is drawn when it is put in, and not after that, unless it is foam or a board that nothing lines;
    what lies on a lining, as a pocket, is drawn with that, and on what it lines; what lies beneath one is not."""
    placed = bodies[copy].placed
    if copy in joined.lined.buried and copy not in heap.new:
        return False
    if not placed.is_inner or copy in heap.new:
        return True
    host = bodies[placed.host] if placed.host in heap.copies and placed.host is not None else None
    if host is None or placed.how != "lies on":
        return False
    if host.placed.is_inner:
        lined = bodies.get(host.placed.host) if host.placed.host is not None else None
        return placed.level > 0 and (host.copy in heap.new or (lined is not None and not lined.placed.is_inner))
    beside = (bodies[one].placed for one in heap.copies)
    behind = (one for one in beside if one.how == "lies behind" and one.host == host.copy and one.copy not in heap.new)
    return not any(one.level * placed.level > 0 for one in behind)


def _meet(bodies: Mapping[Copy, Body], pair: Bond) -> list[Vec]:
    """Places where two parts come together: ends and middle of the seam, else the hole of a post, else the middle of where
    the second is held."""
    for copy in (pair.other, pair.one):
        line = [leg for leg in bodies[copy].lines if leg.kind == "stitch" and leg.name == pair.seam and pair.seam]
        if line:
            picks = [line[0].start, line[len(line) // 2].start, line[-1].end]
            return list(dict.fromkeys(picks))
    own, its = bodies[pair.other], bodies[pair.one]
    posts = [(math.dist(hole.middle, other.middle), hole.middle) for hole in own.holes for other in its.holes]
    near, at = min(posts, default=(math.inf, (0.0, 0.0, 0.0)))
    if near < SAME_POST_MM:
        return [at]
    if over := [at for at in _places(own) if _is_over(its, at)]:
        return [over[len(over) // 2]]
    there = [*_places(its)]
    return [min(_places(own), key=lambda at: min(round(math.dist(at, to), 3) for to in there))]


def _places(body: Body) -> Iterator[Vec]:
    """Points along the middle of each band, from its beginning to its end."""
    for face in body.faces:
        band = body.placed.surface.bands[face.band]
        count = len(face.corners)
        middle = Point(sum(at.x for at in face.ring) / count, sum(at.y for at in face.ring) / count)
        along_mm = body.placed.surface.measure(middle)[0]
        reach = [body.placed.surface.measure(at)[0] for at in face.ring]
        low, high = max(min(reach), band.begin_mm if face.band else min(reach)), max(reach)
        count = min(max(round((high - low) / EVERY_MM), PLACES[0]), PLACES[1])
        for k in range(count):
            by = low + (high - low) * (k + 0.5) / count - along_mm
            way = body.placed.surface.along
            yield body.point(Point(middle.x + way.x * by, middle.y + way.y * by), face.band)


def _is_over(host: Body, at: Vec) -> bool:
    """Whether a point lies over a part, no farther off than layers lie apart."""
    for band in host.placed.surface.bands:
        foot, lift_mm = host.placed.surface.foot(band, at)
        if foot is not None and abs(lift_mm) < SAME_POST_MM and is_in_ring(host.placed.ring, foot):
            return True
    return False


def step_drawers(
    scenes: Sequence[StepScene], wide_mm: float, style: PageStyle, numbers: Mapping[str, int], *, is_roomy: bool = False
) -> Sequence[Callable[[float], Figure]]:
    """What draws the heaps of a step for a room so high, each as large as that lets it be: of those that are joined in the
    same way the first, and the names of the others. Where there `is_roomy` space below, a side on which no name stands is
    for the picture too."""
    groups: dict[tuple[object, ...], list[StepScene]] = {}
    for scene in scenes:
        groups.setdefault(scene.likeness, []).append(scene)
    return [_drawer(alike, wide_mm, style, numbers, is_roomy=is_roomy) for alike in groups.values()]


def _drawer(
    alike: Sequence[StepScene], wide_mm: float, style: PageStyle, numbers: Mapping[str, int], *, is_roomy: bool
) -> Callable[[float], Figure]:
    """That it is seen from behind, what is joined in the same way, and what is not drawn, is told below."""
    said, scene = words("pictures"), alike[0]
    drawing = scene.drawing
    known = {title for _, title in scene.named}
    others = dict.fromkeys(title for other in alike[1:] for _, title in other.named if title not in known)
    told = [*_tell_view(scene), *([f"{said['likewise']}: {', '.join(map(spoken, others))}"] if others else [])]
    told += [said["turned"]] if scene.is_turned else []
    told += (
        [said["unbegun"]] if any(not row.is_begun and row.seam not in drawing.unmarked for row in drawing.rows) else []
    )
    told += [f"{said['hung']}: {', '.join(map(spoken, scene.hung))}"] if scene.hung else []
    told += [f"{said['not_drawn']}: {', '.join(map(spoken, scene.absent))}"] if scene.absent else []

    detail = scene.detail
    room_mm = wide_mm if detail is None else wide_mm - DETAIL_WIDE_MM - style.gutter_mm
    named = [one for one in scene.named if one[1] != scene.detailed]  # it bears its name where it is larger
    columns = 1 if detail is not None or has_long_word(named, room_mm, style) else 2
    if is_roomy and columns == 2 and is_one_sided(drawing, named, (room_mm, room_mm), style, THIN_MM):
        columns = 1

    @cache
    def draw_at(scale: float, high_mm: float) -> Figure:
        figure, lost = make_figure(
            drawing, named, room_mm, scale, style, "; ".join(told), numbers, THIN_MM, columns=columns
        )
        unseen = f"; {said['unseen']}: {', '.join(title for _, title in lost)}" if lost and not scene.folding else ""
        figure = replace(figure, caption=(figure.caption + unseen).removeprefix("; "))
        return figure if detail is None else _set_beside(figure, scene, wide_mm, high_mm, style, numbers)

    def draw(high_mm: float) -> Figure:
        scale = scale_for(drawing, named, (room_mm, high_mm), style, columns)
        return draw_at(
            scale, 0.0 if detail is None else high_mm
        )  # what is as wide as the room is alike for all heights

    return draw


def _tell_view(scene: StepScene) -> list[str]:
    """From where it is seen, or that it is folded part way."""
    said, folding = words("pictures"), scene.folding
    if folding is not None:
        return [said["part_way"], *([said["edges_meet"]] if folding.meets else [])]
    return [said["from_behind"]] if scene.side == "behind" else []


def _set_beside(
    figure: Figure, scene: StepScene, wide_mm: float, high_mm: float, style: PageStyle, numbers: Mapping[str, int]
) -> Figure:
    """A picture with what is small in it at its right, larger, and named."""
    detail, title = scene.detail or scene.drawing, scene.detailed
    scale = scale_for(detail, (), (DETAIL_WIDE_MM, DETAIL_SHARE * high_mm), style)
    larger, _ = make_figure(detail, (), DETAIL_WIDE_MM, scale, style, numbers=numbers)
    size = style.label_type_mm
    lines = wrap_text(title, "regular", size, DETAIL_WIDE_MM)
    foot = len(lines) * size * LEADING + TITLE_GAP_MM
    tall, left = max(figure.height_mm, larger.height_mm + foot), wide_mm - DETAIL_WIDE_MM
    marks = (
        *place_marks(figure.marks, 0.0, (tall - figure.height_mm) / 2),
        *place_marks(larger.marks, left, tall - larger.height_mm),
        *text_lines(lines, left, tall - larger.height_mm - ascent_mm(size), size * LEADING, size),
    )
    kinds = tuple(sorted({*figure.kinds, *larger.kinds}))
    return Figure(wide_mm, tall, marks, figure.caption, kinds, figure.clashes)
