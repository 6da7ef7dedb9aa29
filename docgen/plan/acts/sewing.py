"""Seams, joins, dividing lines and ends that are sewn on: how parts lie, how they are held, and the run itself."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble import SPOT_UNTOLD, Event, find_faced, is_caught, is_open_corner
from docgen.geometry.path import end_point, path_box, start_point
from docgen.geometry.vector import distance
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.clear import clear_acts
from docgen.plan.acts.corners import corner_acts
from docgen.plan.acts.flaps import sides_over
from docgen.plan.acts.holding import find_glues, glue_words, hold_acts, is_glued_by_edges, lies_there, press_acts
from docgen.plan.acts.layers import copy_title, layer_acts, linings_at, meeting_faces, met_faces
from docgen.plan.acts.marks_met import joint_acts, ring_mark_acts
from docgen.plan.acts.more_holes import more_hole_acts
from docgen.plan.acts.on_host import stood_off
from docgen.plan.acts.places import UP, box_place, corner, edge_words, ends_of, line_place, mate_words, run_ends
from docgen.plan.acts.shaping import edges_then
from docgen.plan.acts.taken_along import ease_acts, opening_acts
from docgen.plan.acts.turning import is_turned_by_words, is_turned_out_by, is_turned_through_zip
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.plan import SewingJob
from docgen.plan.sewing import number_seams
from docgen.plan.step_words import said_in
from docgen.resolve import Piece, Seam, SeamSide
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import SPRAYED, TAPE
from docgen.tables.thread import format_needle

HELD_RE = r"(?i)\b(?:bast|tack|tap(?:e|ed|ing)\b|clip|clamp|pin(?:s|ned)?\b|hold|held)"  # words that hold what is laid
LONG = {"left", "right"}
ROUND_MM = 0.5  # between the ends of a row that goes all round


def seam_acts(work: Work, at: int, event: Event) -> Iterator[Act]:
    """How the partners lie, what lies between, how they are held; then the run, and turning where nothing follows."""
    seam = work.seams[event.name]
    yield from opening_acts(work, at, seam)
    yield from _untold_spots(work, seam)
    together = [] if lies_there(work, at, seam) else [*_together(work, at, seam)]
    damped = _damped_first(work, at, seam, together)
    yield from (one for one in together if one not in damped)
    yield from ring_mark_acts(work, seam)
    yield from (press_acts if find_glues(work, at) else hold_acts)(work, at, seam)
    yield from layer_acts(work, seam)
    yield from (*_over_acts(work, seam), *_alone_acts(work, seam), *more_hole_acts(work, seam))
    yield from clear_acts(work, at, seam)
    is_turned_out = is_turned_out_by(work, at, seam)
    if is_turned_out and is_turned_through_zip(work, at, seam):
        yield act("open_zip")
    yield from sew_acts(work, at, event)
    if is_turned_out and not is_turned_by_words(work, at, seam):
        yield act("turn_out")


def _untold_spots(work: Work, seam: Seam) -> Iterator[Act]:
    """Of what is sewn flat on a piece that no landing tells where."""
    unplaced = {one.copy.part for one in work.build.space.unplaced if one.why == SPOT_UNTOLD}
    flat = [side.part for side in seam.sides if not side.edges and side.part in work.pieces]
    own = [side.part for side in work.sides(seam) if side.part in unplaced and side.part not in flat]
    if flat and own:
        yield act("spot_untold", part=work.titles[own[0]], host=work.titles[flat[0]])


def damp_first_acts(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """Of a wall that is damped to go round corners, and glued: it is stretched, and dries, before that."""
    for one in _damped_first(work, at, seam, _together(work, at, seam)):
        yield act("corner_damp_first", **dict(one.values))


def _damped_first(work: Work, at: int, seam: Seam, acts: Iterable[Act]) -> list[Act]:
    damped = [one for one in acts if one.case == "corner_damp"]
    return damped if damped and is_glued_by_edges(work, at, seam) else []


def _together(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """Which edges lie on each other, and with which sides together; of what lies between two by its edge one side alone is
    the inner one."""
    taken, bent = set[str](), list[Act]()
    lying = {frozenset((one.host.part, one.copy.part)) for one in work.build.assembly.lies}
    inside = [one for one in work.build.assembly.lies if one.is_inside and not one.is_cover]
    lined = [(one.host.part, one.copy.part) for one in work.build.assembly.lies if one.is_cover]
    on = [(one.host.part, one.copy.part) for one in work.build.assembly.lies if not one.is_cover]
    lying |= {frozenset((host, part)) for host, lining in lined for under, part in on if under == lining}
    for one, other in pairwise(_in_layers(work, _outer_sides(work, seam))):
        values: dict[str, Told] = {
            "one": copy_title(work, seam, one),
            "other": copy_title(work, seam, other),
            "edges": edge_words(work, one),
            "others": mate_words(work, one, other),
        }
        facing = {**values, "others": mate_words(work, one, other, is_facing=True)}
        if one.part == other.part and is_caught(seam, one.part):
            continue  # folded, its halves lie on each other
        if work.is_glued_before(at, one.part, other.part):
            continue
        if is_open_corner(work.build, seam):
            yield act("corner_meets", **values)
        elif other.lap_mm:
            yield act("lap", **values, lap=work.length(other.lap_mm))
        elif find_faced(work.build, seam):
            own, side = work.outer(one.part), work.outer(other.part)
            yield act("face_on_face", **values, own=own, side=side)
        elif frozenset((one.part, other.part)) in lying:
            is_facing = any({lies.host.part, lies.copy.part} == {one.part, other.part} for lies in inside)
            yield act("edges_meet", **(facing if is_facing and len(one.edges) > 1 else values))
        elif seam.is_turned:
            side = work.outer(one.part)
            if one.part == other.part and (work.counts.get(one.part, 1) == 1 or 0 < one.copy == other.copy):
                yield act("face_own", **{name: told for name, told in values.items() if name != "other"}, side=side)
            else:
                yield act("face_to_face", **facing, side=side)
            yield from _new_acts(bent, corner_acts(work, seam, one, other))
        elif faces := meeting_faces(work, seam, one.part, other.part):
            is_taken = not taken.isdisjoint((one.part, other.part))
            linings = [found for side in (one, other) if (found := linings_at(work, seam, side)) and not is_taken]
            if len(linings) > 1:
                yield act("back_to_linings", **facing)
            elif linings:
                yield act("back_to_lining", **facing, lining=join_words(linings[0]))
            else:
                yield act("edges_meet", **values) if is_taken else act("back_to_back", **facing, side=faces)
            taken |= {one.part, other.part}
            yield from joint_acts(work, one, other)
            yield from _new_acts(bent, corner_acts(work, seam, one, other))
        elif met := met_faces(work, seam, one.part, other.part):
            yield act("face_on_face", **values, own=met[0], side=met[1])
            yield from _new_acts(bent, corner_acts(work, seam, one, other))
        else:
            yield act("edges_meet", **values)
            yield from _new_acts(bent, corner_acts(work, seam, one, other))
    yield from _level_acts(work, at, seam)
    yield from ease_acts(work, seam)


def _new_acts(told: list[Act], acts: Iterable[Act]) -> Iterator[Act]:
    """Those that are not told yet: the edge of a wall comes round once, whatever lies on both sides of it."""
    for one in acts:
        if one not in told:
            told.append(one)
            yield one


def _level_acts(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """Of what is sewn on a larger piece and lands nowhere within it: its edges meet that one's."""
    own, flat = work.sides(seam), [side.part for side in seam.sides if not side.edges and side.part in work.pieces]
    if len(own) != 1 or not flat or own[0].part in flat or work.lands_on(seam) is not None:
        return
    host, base = work.pieces[flat[0]], edges_then(work, work.pieces[flat[0]], at)
    marked = stood_off(work, own[0].part, host)
    if marked:
        yield act(
            "stand_on",
            edges=edge_words(work, own[0]),
            one=work.titles[own[0].part],
            side=work.outer(host.name),
            host=work.titles[host.name],
            part=work.titles[marked[0].piece],
            place=box_place(work, host, base, [path_box(landing.outline) for landing in marked]),
        )
        return
    faces = meeting_faces(work, seam, own[0].part, flat[0])
    if faces is not None:
        told = {"one": work.titles[own[0].part], "other": work.titles[flat[0]]}
        yield act("level_on", **told, edges=edge_words(work, own[0]), side=faces)


def _outer_sides(work: Work, seam: Seam) -> list[SeamSide]:
    """Its sides without what lines another of them: a lining lies with its edges level, but where it is sewn face to
    face."""
    sides = work.sides(seam)
    if find_faced(work.build, seam):
        return sides
    parts = {side.part for side in sides}
    linings = {one.copy.part for one in work.build.assembly.lies if one.is_cover and one.host.part in parts}
    return [side for side in sides if side.part not in linings]


def _in_layers(work: Work, sides: Sequence[SeamSide]) -> list[SeamSide]:
    """The sides of a seam as they lie on each other: a welt comes between its two panels, wherever it is named."""
    landed = {lies.copy for lies in work.build.assembly.lies}
    placed = [work.placed(side.part) for side in sides]
    is_welt = [one is not None and one.how == "lies on" and one.level < 0 and one.copy not in landed for one in placed]
    if len(sides) != 3 or sum(is_welt) != 1:
        return [*sides]
    first, last = (side for side, between in zip(sides, is_welt, strict=True) if not between)
    return [first, sides[is_welt.index(True)], last]


def _alone_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """Of what is sewn flat on a piece by a whole edge and stands over it where its row ends."""
    own, flat = (
        work.sides(seam),
        [work.pieces[side.part] for side in seam.sides if side.part in work.pieces and not side.edges],
    )
    for landing in flat[0].marks.landings if len(own) == 1 and flat else ():
        over = sides_over(flat[0], landing) if landing.piece == own[0].part else {}
        if over and landing.is_over and not own[0].stretch_mm:
            yield act("row_alone", part=work.titles[own[0].part], host=work.titles[flat[0].name])


def _over_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """Where what lies on a partner stands beyond the edge that is sewn: the row keeps to the partner's own edge."""
    once = next((one for one in work.build.assembly.sewn if one.seam == seam.name), None)
    landed = once.stack.landed if once is not None else ()
    for side in work.sides(seam):
        host = work.pieces.get(side.part)
        for landing in host.marks.landings if host is not None else ():
            over = {mm for edge, mm in sides_over(host, landing).items() if edge in side.edges} if host else set()
            if landing.piece in landed and over:
                inset_mm = work.stitch(seam.stitch).inset_mm
                far = join_words([*dict.fromkeys(work.length(inset_mm + mm) for mm in sorted(over))])
                values = {"part": work.titles[landing.piece], "host": work.titles[side.part]}
                yield act("row_over", **values, inset=work.length(inset_mm), far=far)


def sew_acts(work: Work, at: int, event: Event) -> Iterator[Act]:
    """A change of thread and needle where one is needed, then each run, by its number in the step."""
    numbers = number_seams([job for _, one in work.events(at) for job in work.jobs_of(one)])
    for job in work.jobs_of(event):
        number = str(numbers[job.seam.name]) if job.seam is not None and job.seam.name in numbers else ""
        title = act("numbered", number=number, title=job.title) if number else job.title
        times = str(job.runs)
        more = act("run_rows", times=times, rows=str(job.rows)) if job.rows > 1 else act("run_times", times=times)
        count = (more,) if job.runs > 1 else ()
        yield _run_act(work, job, {"stitch": _change(work, event, job), "title": title, "runs": count})


def _run_act(work: Work, job: SewingJob, values: Mapping[str, Told]) -> Act:
    """From where to where, as it is drawn on the first partner that is a piece."""
    name = job.seam.name if job.seam is not None else ""
    sides = work.sides(job.seam) if job.seam is not None else []
    lines = [
        (work.pieces[side.part], side, line)
        for side in sides
        if side.part in work.pieces
        for line in work.pieces[side.part].marks.stitch_lines
        if line.seam == name and line.row == 0
    ]
    if not lines and job.is_across:
        return _across_act(work, job, values)
    if not lines:
        return act("sew", **values)
    piece, side, line = lines[0]
    is_ring = any(join.is_ring and join.pieces == (side.part,) for join in work.build.joins)
    spots = start_point(line.path), end_point(line.path)
    if line.path.closed or distance(*spots) < ROUND_MM or (is_ring and any(side.lost_mm)):
        return act("sew_round", **values, start=corner(piece, spots[0]), part=work.titles[piece.name])
    if ends_of(piece) != UP and len(side.edges) == 1 and {*side.edges} <= LONG and side.stretch_mm is None:
        first, last = (act("at_first" if at.y < other.y else "at_last") for at, other in (spots, spots[::-1]))
        edge = edge_words(work, _as_laid(work, job.seam, side))
        return act(
            "sew_from", **values, start=first, end=last, part=act("edge_of", edge=edge, part=work.titles[piece.name])
        )
    start, end = run_ends(work, piece, side, spots)
    begun, ended = dict(start.values), dict(end.values)
    if start.case == end.case == "on_edge" and begun["edge"] == ended["edge"]:
        start, end = (act("off_side", length=one["length"], side=one["side"]) for one in (begun, ended))
        return act("sew_along", **values, edge=begun["edge"], part=work.titles[piece.name], start=start, end=end)
    return act("sew_from", **values, start=start, end=end, part=work.titles[piece.name])


def _as_laid(work: Work, seam: Seam | None, side: SeamSide) -> SeamSide:
    """A side by the edge that lies there: of a lining, right side in sight, the left edge of its host is at its right."""
    hosts = {lies.host.part for lies in work.build.assembly.lies if lies.is_cover and lies.copy.part == side.part}
    sides = seam.sides if seam is not None else ()
    if not any(other.part in hosts and other.edges == side.edges for other in sides):
        return side
    turned = {"left": "right", "right": "left"}
    return replace(side, edges=tuple(turned.get(edge, edge) for edge in side.edges))


def _across_act(work: Work, job: SewingJob, values: Mapping[str, Told]) -> Act:
    """Dividing lines that run alike, from where to where they are drawn."""
    piece = next((work.pieces[part] for part in job.parts if part in work.pieces and work.pieces[part].dividers), None)
    goods = {name for name, what in work.goods.items() if job.title.endswith(f", {what}")}
    lines = [line for line in piece.dividers if line.goods in (goods or {""})] if piece else []
    ways = {abs(line.end.y - line.start.y) > abs(line.end.x - line.start.x) for line in lines}
    if len(ways) != 1:
        return act("sew", **values)
    up = ("at_bottom", "at_top") if piece is None or ends_of(piece) == UP else ("at_first", "at_last")
    (one, other), line = (up if ways.pop() else ("at_left", "at_right")), lines[0]
    is_back = (line.end.y, line.end.x) < (line.start.y, line.start.x)
    start, end = (other, one) if is_back else (one, other)
    return act("sew_across", **values, start=act(start), end=act(end))


def _change(work: Work, event: Event, job: SewingJob) -> Told:
    """What is set up or changed, where the run before was another stitch."""
    before = _job_before(work, event, job)
    if before is None:
        return act("set_up", stitch=job.stitch.name)
    own, other = job.stitch, before.stitch
    if own.thread_words != other.thread_words or own.by != other.by:
        return act("change", stitch=own.name, thread=own.thread_label)
    if (own.needle_nm, own.point) != (other.needle_nm, other.point):
        needle = format_needle(own.needle_nm)
        return act(
            "change_needle", stitch=own.name, needle=needle, point=act(f"point_{own.point}") if own.point else ()
        )
    return act("reset", stitch=own.name) if other.name != own.name else ()


def _job_before(work: Work, event: Event, job: SewingJob) -> SewingJob | None:
    """The run that is sewn before this one, in whatever step."""
    before: SewingJob | None = None
    for one in work.build.assembly.events:
        for other in work.jobs_of(one):
            if one == event and other is job:
                return before
            before = other
    return before


def divider_acts(work: Work, at: int, event: Event) -> Iterator[Act]:
    """Goods by length that are laid on the piece; dividing lines, through what lies on it and the piece beneath that is
    named."""
    piece, step = work.pieces[event.name], work.steps[at]
    laid = {line.goods for line in piece.dividers if line.goods}
    for item in work.build.trimmings:
        if item.name in laid:
            slits = piece.marks.slits if item.kind == "zip" else ()
            way = "lay_between" if any(slit.is_apart for slit in slits) else "lay_behind" if slits else "lay_flat"
            glued = [*_glued_behind(work, at, event, piece, item.name)] if way == "lay_behind" else []
            yield from glued
            yield act(way, part=work.titles[piece.name], goods=work.goods[item.name])
            if not glued and not find_glues(work, at) and not any(re.search(HELD_RE, one) for one in said_in(step)):
                yield act("hold_laid", goods=work.goods[item.name])
    dividing = [line for line in piece.dividers if not line.goods]
    runs = [run for run in work.build.assembly.runs if (run.kind, run.part, run.where) == ("dividers", piece.name, "")]
    over = [part for run in runs for part in run.stack.parts if part in piece.landing_names]
    on = [work.titles[name] for name in dict.fromkeys((*over, *(line.on for line in dividing))) if name]
    places = tuple(dict.fromkeys(line_place(work, piece, line.start, line.end) for line in dividing))
    case = "divide_on" if on else "divide"
    host = {"host": join_words(on)} if on else {}
    if len(dividing) == 1:
        yield act(f"{case}_one", part=work.titles[piece.name], place=places, **host)
    elif dividing:
        yield act(case, part=work.titles[piece.name], count=str(len(dividing)), place=places, **host)
    yield from sew_acts(work, at, event)


def _glued_behind(work: Work, at: int, event: Event, piece: Piece, goods: str) -> Iterator[Act]:
    """What holds a zip behind its slot, of what the step names: tape on the piece, else glue on both, but for a spray."""
    glues = find_glues(work, at)
    tapes = [glue for glue in glues if has_phrase(glue, TAPE)]
    wet = [glue for glue in glues if not any(has_phrase(glue, word) for word in SPRAYED)]
    if tapes or wet:
        inset = work.length(max(job.stitch.inset_mm for job in work.jobs_of(event)))
        told: dict[str, Told] = {"part": work.titles[piece.name], "under": work.inner(piece.name), "inset": inset}
        if tapes:
            yield act("hold_behind", **told, glue=glue_words(tapes))
        else:
            yield act("hold_slot", **told, glue=glue_words(wet), goods=work.goods[goods])


def sewn_on_acts(work: Work, at: int, event: Event) -> Iterator[Act]:
    """The end of a strap that is sewn on to a piece."""
    yield from sew_acts(work, at, event)
