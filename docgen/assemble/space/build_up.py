"""Outer parts in their places by their seams: walls, what closes on walls, what goes on or lies back to back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.space.first import anchor_of, is_wall_tie
from docgen.assemble.space.fit import fit_frame
from docgen.assemble.space.lay import BACK_TO_BACK, GOES_ON, SAME_FACE, carry, faced
from docgen.assemble.space.lean import find_lean
from docgen.assemble.space.matched import MEETS_MM, match
from docgen.assemble.space.placed import How
from docgen.assemble.space.pleat import across_of, far_of, find_pleat
from docgen.assemble.space.scene import Scene, Tie, crosses
from docgen.assemble.space.surface import Surface, bend_on, clip, flat, is_in_ring, stand
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import Vec, along, apart, direction, inner, length, minus, times
from docgen.geometry.path import ring_area
from docgen.geometry.shapes import Point
from docgen.geometry.vector import Transform, distance, dot, subtract, transform_point

SAME_SIZE_MM = 3.0
SLACK_MM = 3.0  # what is wider than the room for it by no more is not folded for that
NARROW_MM = 40.0  # welts, bindings and tapes are cut narrower, and lie on what they are sewn to: our choice


def build_up(scene: Scene, copy: Copy) -> bool:
    """Place an outer part whose seams to placed outer parts leave it one place; False where they do not yet."""
    ties = _placed_ties(scene, copy)
    return bool(ties) and (
        _lie_back(scene, copy, ties)
        or close(scene, copy, ties, MEETS_MM)
        or _stand_round(scene, copy, ties)
        or _fold_between(scene, copy, ties)
    )


def _placed_ties(scene: Scene, copy: Copy) -> list[Tie]:
    if scene.item(copy).is_inner or copy in scene.welts:
        return []
    ties = scene.placed_ties(copy)
    return [tie for tie in ties if not scene.placed[tie.other].is_inner and tie.other not in scene.welts]


def run_of(scene: Scene, tie: Tie) -> list[Vec]:
    """The partner's line in space, at the shares at which both are compared, as the copy's own line goes: against the
    partner's where both parts have the same side out, since all lines go anticlockwise on the drawn face."""
    its = _against(scene, tie)
    surface = scene.placed[tie.other].surface
    return [surface.point(at) for at in its.spread(tie.mine.share_marks(its))]


def _against(scene: Scene, tie: Tie) -> Track:
    is_opposite = scene.item(tie.own).is_grain_out == scene.item(tie.other).is_grain_out
    return tie.its.reversed() if is_opposite else tie.its


def _lie_back(scene: Scene, copy: Copy, ties: Sequence[Tie]) -> bool:
    """Two parts with the same line, which is not straight all along, lie back to back, or on each other where only that
    fits."""
    for host in dict.fromkeys(tie.other for tie in ties):
        mine = [tie for tie in ties if tie.other == host]
        if not all(map(_is_as_long, mine)) or _is_one_line([at for tie in mine for at in tie.mine.points]):
            continue
        if _is_next_wall(scene, host, ties):
            continue
        found = _way_back(scene, mine)
        if found is not None:
            one, move = found
            _note_straight(scene, copy, host, mine)
            surface = carry(scene, copy, host, move, _on_host(scene, copy, host, move, one))
            scene.put(copy, "back to back", surface, host, side=-1)
            return True
    return False


def _is_next_wall(scene: Scene, host: Copy, ties: Sequence[Tie]) -> bool:
    """Whether the host stands as a wall along a curve on which the part is to stand too, farther on: they are the walls
    of one body, and do not lie on each other."""
    floors = [tie for tie in ties if is_wall_tie(tie) and tie.other != host]
    its = [(one, tie) for one in floors for tie in scene.placed_ties(host) if tie.other == one.other]
    return scene.placed[host].how == "stands on" and any(
        is_wall_tie(tie) and distance(tie.its.middle, one.its.middle) > MEETS_MM for one, tie in its
    )


def _way_back(scene: Scene, ties: Sequence[Tie]) -> tuple[Tie, Transform] | None:
    """The movement that lays a part on the host of its seams, back to back before on each other, and the first of them as
    its line begins for that; of several, as where it is sewn all round, the one by which its top stays its top."""
    allowed_mm = max(MEETS_MM, *(tie.seam.eased_mm for tie in ties))
    for way in (BACK_TO_BACK, SAME_FACE):
        tries = ((one, *match([one, *ties[1:]], [faced(scene, one, way)])) for one in ties[0].beginnings())
        found = [(one, move) for one, move, off_mm in tries if off_mm <= allowed_mm]
        if found:
            return max(found, key=lambda one: round(one[1].d, 3))
    return None


def _on_host(scene: Scene, copy: Copy, host: Copy, move: Transform, tie: Tie) -> Point | None:
    """Where a part that bends stays flat on its host: at the seam, where its usual place for that lies beside the host."""
    at = transform_point(anchor_of(scene, copy), move)
    return None if is_in_ring(scene.item(host).ring, at) else tie.mine.middle


def _is_as_long(tie: Tie) -> bool:
    """Whether the ends of two lines lie as far apart on the one part as on the other: else the lines differ."""
    mine, its = (distance(line.points[0], line.points[-1]) for line in (tie.mine, tie.its))
    return abs(mine - its) <= MEETS_MM + tie.seam.eased_mm


def _is_one_line(points: Sequence[Point]) -> bool:
    return abs(ring_area(points)) < 0.5


def _note_straight(scene: Scene, copy: Copy, host: Copy, ties: Sequence[Tie]) -> None:
    """Keep closed folds that a seam to a part that is not folded there holds straight: one that other parts hold in its
    shape; what hangs on this one alone folds with it."""
    both = [(copy, host, [(tie.seam, tie.mine, tie.its) for tie in ties])]
    both.append((host, copy, [(tie.seam, tie.its, tie.mine) for tie in ties]))
    for one, other, lines in both:
        if scene.item(one).is_inner or len(scene.outer_partners(other)) < 2:
            continue
        for fold in (fold for fold in scene.item(one).folds if not fold.is_open):
            seams = [(seam, its) for seam, mine, its in lines if crosses(fold, mine)]
            if seams and not any(crosses(its_fold, its) for _, its in seams for its_fold in scene.item(other).folds):
                scene.held_straight.append((one, fold, seams[0][0], other))


def close(scene: Scene, copy: Copy, ties: Sequence[Tie], allowed_mm: float) -> bool:
    """A flat part whose lines all come to lie on those of parts that are placed, no farther off than that."""
    centre = scene.item(copy).box.centre
    ordered = sorted(ties, key=lambda tie: round(_turn_about(centre, tie.mine.middle), 6))
    allowed_mm = max(allowed_mm, *(tie.seam.eased_mm for tie in ties))
    found = []
    for one in ordered[0].beginnings():
        every = [one, *ordered[1:]]
        points = [at for tie in every for at in tie.mine.spread(tie.mine.share_marks(_against(scene, tie)))]
        fitted = fit_frame(points, [at for tie in every for at in run_of(scene, tie)])
        if fitted is not None:
            found.append(fitted)
    if not found:
        return False
    (zero, right, up), off_mm = min(found, key=lambda one: round(one[1], 6))
    if off_mm > allowed_mm:
        return False
    surface = scene.bent(copy, flat(zero, right, up), ties[0].mine.middle)
    scene.put(copy, "closes", surface, ties[0].other)
    return True


def _turn_about(centre: Point, at: Point) -> float:
    return math.atan2(at[1] - centre[1], at[0] - centre[0])


def _stand_round(scene: Scene, copy: Copy, ties: Sequence[Tie]) -> bool:
    """A straight line along a curved one: the part stands there as a wall, away from the outer face of its partner."""
    tie = next((tie for tie in ties if is_wall_tie(tie)), None)
    if tie is None:
        return False
    _stand(scene, copy, tie)
    return True


def _stand(scene: Scene, copy: Copy, tie: Tie) -> None:
    """Away from the outer face of the partner; from its inner one where another wall of this seam stands away from that,
    as on a divider between two walls."""
    is_beyond = _is_walled_within(scene, tie)
    host, its = scene.placed[tie.other], _against(scene, tie)
    its = its.reversed() if is_beyond else its
    scale = tie.mine.length_mm / its.length_mm
    track = [(at * scale, host.surface.point(p)) for at, p in zip(its.at_mm, its.points, strict=True)]
    band = host.surface.band_of(its.middle)
    upright = host.out(band) if is_beyond else times(host.out(band), -1.0)
    lean = find_lean(scene, tie, track, upright) if tie.its.is_straight else None
    surface = stand(tie.mine.points[0], tie.mine.way, track, lean or upright, find_pleat(scene, copy, tie.mine))
    surface = bend_on(surface, scene.bends(copy))
    ring = between_seams(scene, copy, tie.mine)
    scene.put(copy, "stands on", surface, tie.other, ring=ring, is_free=tie.its.is_straight and lean is None)
    scene.move(replace(scene.placed[copy], host_band=band))


def _is_walled_within(scene: Scene, tie: Tie) -> bool:
    """Whether another wall that the same seam sews to a panel stands on the inner side of it, and both lead on to other
    panels: what goes round the foot of a wall lies on that."""
    panel = scene.placed[tie.other]
    walls = [one for one in scene.placed_ties(tie.other) if one.seam is tie.seam and one.other != tie.own]
    walls = (
        [one for one in walls if _leads_on(scene, one.other, tie.other)] if _leads_on(scene, tie.own, tie.other) else []
    )
    band = panel.surface.band_of(tie.its.middle)
    at, out = panel.surface.point(tie.its.middle, band), panel.out(band)
    middles = [scene.placed[one.other].surface.point(_across_from(scene, one)) for one in walls]
    return any(inner(minus(middle, at), out) < -MEETS_MM for middle in middles)


def _leads_on(scene: Scene, wall: Copy, panel: Copy) -> bool:
    """Whether a part stands as a wall along other panels than one, too."""
    others = [ties for other, ties in scene.outer_partners(wall).items() if other != panel]
    return any(is_wall_tie(tie) for ties in others for tie in ties)


def _across_from(scene: Scene, tie: Tie) -> Point:
    """The place on a wall straight across from the middle of the line along which it is sewn to a panel."""
    line = tie.its
    by = far_of(scene, tie.other, line)
    return Point(line.middle.x - line.way.y * by, line.middle.y + line.way.x * by)


def between_seams(scene: Scene, copy: Copy, line: Track) -> list[Point]:
    """What is seen of a wall: from its line to that of the other long seam; what lies beyond is turned on the panels."""
    ring = [*scene.item(copy).ring]
    ring = clip(ring, [across_of(line, at) for at in ring])
    far = far_of(scene, copy, line)
    return clip(ring, [far - across_of(line, at) for at in ring])


def _fold_between(scene: Scene, copy: Copy, ties: Sequence[Tie]) -> bool:
    """A part whose two long sides are sewn to lines that lie nearer together than it is wide: it is folded along its
    middle, or where it has a fold, away from the parts that it is sewn to."""
    straight = [tie for tie in ties if tie.mine.is_straight and tie.its.is_straight]
    for one in straight:
        for other in straight:
            wide_mm = across_of(one.mine, other.mine.middle)
            if other is not one and wide_mm > MEETS_MM and wide_mm - far_of(scene, copy, one.mine) < MEETS_MM:
                surface = _folded(scene, copy, (one, other), wide_mm)
                if surface is not None:
                    side = 1 if all(_is_lapped(tie) and _lap_side(tie) > 0 for tie in (one, other)) else 0
                    scene.put(copy, "folds between", surface, one.other, side=side)
                    return True
    return False


def _folded(scene: Scene, copy: Copy, ties: tuple[Tie, Tie], wide_mm: float) -> Surface | None:
    one, other = ties
    first, second = run_of(scene, one), run_of(scene, other)
    run = direction(minus(first[-1], first[0]))
    ahead_mm = _ahead(one.mine, other.mine.points[-1])
    far = minus(along(second[-1], run, -ahead_mm), first[0])  # from the start of the first line straight to the second
    slip_mm = inner(far, run)
    is_parallel = apart(minus(second[0], second[-1]), minus(first[-1], first[0])) <= MEETS_MM
    if not is_parallel or abs(slip_mm) > MEETS_MM + scene.slip_mm({one.other, other.other}):
        return None
    start, far = along(first[0], run, slip_mm / 2), along(far, run, -slip_mm)
    folds = [across_of(one.mine, fold.start) for fold in scene.item(copy).folds]
    crease_mm = next((at for at in folds if 0 < at < wide_mm), wide_mm / 2)
    if not abs(wide_mm - 2 * crease_mm) - MEETS_MM <= length(far) <= wide_mm - SLACK_MM:
        return None
    legs = crease_mm, wide_mm - crease_mm
    # a tab is caught by one seam and stands out; a gusset, whose edges lie level with those of two panels, goes in
    is_gusset = one.seam.name != other.seam.name and not any(_is_lapped(tie) or tie.seam.is_turned for tie in ties)
    crease = _crease(scene, one, far, legs, run, start, is_gusset=is_gusset)
    track = [(0.0, start), (crease_mm, crease), (wide_mm, along(start, far, 1.0))]
    return stand(one.mine.points[0], Point(-one.mine.way.y, one.mine.way.x), track, times(run, -1.0), ())


def _ahead(line: Track, at: Point) -> float:
    """How far along a straight line, from its start on, a point lies."""
    return dot(line.way, subtract(at, line.points[0]))


def _crease(
    scene: Scene, tie: Tie, far: Vec, legs: tuple[float, float], run: Vec, start: Vec, *, is_gusset: bool
) -> Vec:
    """Where the fold lies: two legs long from both lines, on the side of the partner's inside or away from that."""
    placed = scene.placed[tie.other]
    band = placed.surface.band_of(tie.its.middle)
    out = -1.0 if is_gusset else 1.0
    away = placed.surface.heading(Point(out * tie.its.way.y, -out * tie.its.way.x), band)
    far_mm = length(far)
    across = direction(far) if far_mm > 1e-6 else (0.0, 0.0, 0.0)
    away = minus(away, times(run, inner(away, run)))
    away = direction(minus(away, times(across, inner(away, across))))
    reach = (legs[0] ** 2 - legs[1] ** 2 + far_mm**2) / (2 * far_mm) if far_mm > 1e-6 else 0.0
    return along(along(start, across, reach), away, math.sqrt(max(legs[0] ** 2 - reach**2, 0.0)))


def join_straight(scene: Scene, copy: Copy) -> bool:
    """Straight line to straight line, about which the part may turn: it stands on its partner where others hold it up;
    else it lies back to back with one of its size, on the other where it is narrow, or goes on from its edge."""
    ties = [tie for tie in _placed_ties(scene, copy) if tie.mine.is_straight and tie.its.is_straight]
    if not ties:
        return False
    tie = ties[0]
    is_lapped = _is_lapped(tie)
    if not is_lapped and scene.comes_back(copy, tie.other):
        _lay_back_on(scene, copy, tie)
        return True
    if not is_lapped and _is_held_up(scene, copy, tie):
        _stand(scene, copy, tie)
        return True
    (low, high), (its_low, its_high) = scene.item(copy).sizes_mm, scene.item(tie.other).sizes_mm
    how: How
    if not is_lapped and abs(low - its_low) <= SAME_SIZE_MM and abs(high - its_high) <= SAME_SIZE_MM:
        how, way, side = "back to back", BACK_TO_BACK, -1
    elif not is_lapped and low <= NARROW_MM and high <= its_high + SAME_SIZE_MM:
        how, way, side = "lies on", SAME_FACE, 1
    else:
        how, way, side = "goes on", GOES_ON, _lap_side(tie) if is_lapped else 0
    move, _ = match([tie], (faced(scene, tie, way),))
    anchor = tie.mine.middle
    surface = carry(scene, copy, tie.other, move, anchor)
    scene.put(copy, how, surface, tie.other, side=side, is_free=True, anchor=anchor)
    if is_lapped:
        band = scene.placed[tie.other].surface.band_of(tie.its.middle)
        scene.move(replace(scene.placed[copy], host_band=band))
    return True


def _lay_back_on(scene: Scene, copy: Copy, tie: Tie) -> None:
    """A facing on its partner, edges level: on the inside of that where its landing says so; else it may lie on either
    side."""
    is_inside = any(lies.is_inside for lies in scene.landings_of(copy, tie.other))
    move, _ = match([tie], (faced(scene, tie, BACK_TO_BACK if is_inside else SAME_FACE),))
    surface = carry(scene, copy, tie.other, move, tie.mine.middle)
    how: How = "lies behind" if is_inside else "lies on"
    scene.put(copy, how, surface, tie.other, side=-1 if is_inside else 1, is_free=not is_inside)


def _is_lapped(tie: Tie) -> bool:
    return any(side.lap_mm for side in tie.seam.sides)


def _lap_side(tie: Tie) -> int:
    """On which side of its partner a lapped part lies: the first partner of the seam lies over the others."""
    return 1 if tie.seam.sides[0].part == tie.own.part != tie.other.part else -1


def _is_held_up(scene: Scene, copy: Copy, tie: Tie) -> bool:
    """Whether other parts, themselves sewn to more than this one, are sewn to it."""
    if scene.kind == "on its floor" and scene.placed[tie.other].how == "begun with":
        return True
    others = [other for other in scene.outer_partners(copy) if other != tie.other]
    return any(len(scene.outer_partners(other)) > 1 for other in others)
