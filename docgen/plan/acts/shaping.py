"""What is done to single pieces: skived, punched, slit, hemmed, folded."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence, Set
from dataclasses import replace

from docgen.assemble import Placed, goes_either_way
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import WHOLE, outline_box
from docgen.geometry.shapes import Box
from docgen.geometry.vector import between, distance
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.folds import (
    bends_with,
    grooved_before,
    is_closed_turned,
    is_flap,
    is_folded,
    sewn_in,
    speaks_of_fold,
)
from docgen.plan.acts.holding import find_glues, glue_words
from docgen.plan.acts.layers import counted
from docgen.plan.acts.places import ends_of, line_place
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_edges, join_words, purpose_counts, size_words, slit_words, thin_words
from docgen.plan.step_words import said_in
from docgen.resolve import Fold, Hem, Hole, Piece, Seam, catches, speaks_of_folding
from docgen.tables.adhesives import find_wait
from docgen.tables.cautions import has_phrase
from docgen.tables.implied import is_sold_slot
from docgen.tables.practice import DAMP_TANNAGES, DRY_FOLD_MM, POOR_GROUNDS

PUNCHED_UP = {"leather": "punch", "fabric": "punch_cloth"}  # the sides of board and foam are alike
BEHIND = ("back to back", "lies behind")
LARGER = 1.05  # so many times as large is no lining of that: our choice
AT_FOLD_MM = 3.0  # so near the middle of a fold a slot or a slit is cut for what goes round that
D_RING_RE = r"(?i)\b(?:D|dee)[ -]?rings?\b"
DAMPING = ("damp", "dampen", "moisten", "wet")


def skive_acts(work: Work, names: Sequence[str]) -> list[Act]:
    """Bands of one width and thickness along the same edges together."""
    alike: dict[tuple[str, str, str], dict[str, None]] = {}
    for name in names:
        piece = work.pieces[name]
        told: dict[tuple[str, str], list[str]] = {}
        for skive in piece.marks.skives:
            told.setdefault((thin_words(skive, work.build.show), work.length(skive.width_mm)), []).append(skive.edges)
        for (thin, width), edges in told.items():
            alike.setdefault((join_edges(" ".join(edges)), thin, width), {})[counted(work, name)] = None
    return [
        act("skive_more" if place else "skive", edges=edges, thin=thin, width=width, parts=join_words([*parts]))
        for place, ((edges, thin, width), parts) in enumerate(alike.items())
    ]


def punch_acts(work: Work, at: int, names: Set[str]) -> list[Act]:
    """Holes of those of the pieces that are punched in this step, by the size of the punch; then slits."""
    found: dict[tuple[str, str], list[Act]] = {}
    slits, slots = list[Act](), list[Hole]()
    before: set[str] = set()
    for name in (one for one in work.punched_in(at) if one in names):
        piece, title = work.pieces[name], counted(work, name)
        slots += piece.marks.holes
        mated = _find_mated(work, piece)
        for size, holes in _by_size(piece, work).items():
            told = "; ".join(purpose_counts([_as_punched(hole, mated) for hole in holes], before))
            case = PUNCHED_UP.get(work.material_of(name).kind, "punch_plain")
            found.setdefault((case, size), []).append(act("punch_part", part=title, holes=told))
        before.add(piece.title)
        if words := slit_words(piece, work.build.show):
            slits.append(act("slit", part=title, slits="; ".join(words)))
    cases = [case for case, _ in found]
    punched = [
        act("punch_more" if case in cases[:place] else case, size=size, parts=tuple(parts))
        for place, ((case, size), parts) in enumerate(found.items())
    ]
    return [*punched, *slot_acts(work, at, slots), *slits]


def _as_punched(hole: Hole, mated: Set[str]) -> Hole:
    """A hole that takes hardware without those parts that have none for it: they are punched through it, and it is not for
    them."""
    return replace(hole, meets=tuple(one for one in hole.meets if one in mated)) if hole.takes else hole


def _find_mated(work: Work, piece: Piece) -> frozenset[str]:
    """What the parts are called that have holes for those of a piece which take hardware."""
    if not any(hole.takes for hole in piece.marks.holes):
        return frozenset()
    own = {piece.title, *_joined_as(work, piece.name)}
    mates = [one.name for one in work.build.cut if any(not own.isdisjoint(its.meets) for its in one.marks.holes)]
    return frozenset(title for name in mates for title in (work.called[name], *_joined_as(work, name)))


def _joined_as(work: Work, name: str) -> list[str]:
    """What the joins of a strip are called."""
    return [work.called[join.name] for join in work.build.joins if name in join.pieces]


def slot_acts(work: Work, at: int, holes: Sequence[Hole]) -> Iterator[Act]:
    """How slots are made for which no punch of their length is sold, and the step names none."""
    own = " | ".join(work.steps[at].tools)
    odd = [hole for hole in holes if hole.long_mm and not is_sold_slot(hole.long_mm, work.build.show)]
    odd = [hole for hole in odd if work.length(hole.long_mm) not in own]
    for size in dict.fromkeys(work.punch(hole.diameter_mm) for hole in odd):
        yield act("slot_by_holes", size=size)


def _by_size(piece: Piece, work: Work) -> dict[str, list[Hole]]:
    found: dict[str, list[Hole]] = {}
    for hole in sorted(piece.marks.holes, key=lambda hole: (hole.diameter_mm, hole.long_mm)):
        found.setdefault(size_words(hole, work.build.show), []).append(hole)
    return found


def hem_acts(work: Work, at: int, names: Set[str]) -> list[Act]:
    """Hems of these pieces that are turned in this step, but those that a seam turns over another part; of these where
    the step folds and only a later one turns them, the creases."""
    found, step = [], work.steps[at]
    for piece in (piece for piece in work.build.pieces if piece.hems and piece.name in names):
        under = hems_over(work, piece)
        if (piece.name, at) in work.build.assembly.turning:
            found += [_hem_act(work, piece, hem, at) for hem in piece.hems if hem not in under]
        elif piece.name in work.build.assembly.unturned(at) and piece.name in step.pieces and speaks_of_folding(step):
            for hem in (hem for hem in piece.hems if hem in under):
                edges = act("all_round") if WHOLE in hem.edges else join_words(hem.edges)
                what = join_words([work.titles[name] for name in under[hem]])
                found.append(act("hem_crease", part=counted(work, piece.name), edges=edges, under=what))
    return found


def hem_over_acts(work: Work, at: int, seam: Seam) -> list[Act]:
    """The hems that a seam turns over other parts, once these are laid there: those of its own edges, each by its seam."""
    found, turning = [], dict(work.build.assembly.turning)
    for piece in (work.pieces[name] for name in dict.fromkeys(side.part for side in seam.sides) if name in work.pieces):
        if turning.get(piece.name, at + 1) <= at:
            caught = catches(seam.sides, piece)
            edges = {edge for side in seam.sides if side.part == piece.name for edge in side.edges}
            found += [
                _hem_act(work, piece, hem, at)
                for hem, under in hems_over(work, piece).items()
                if under == caught and (WHOLE in (*hem.edges, *edges) or edges & {*hem.edges})
            ]
    return found


def hems_over(work: Work, piece: Piece) -> dict[Hem, tuple[str, ...]]:
    """The hems of a piece that a seam turns over other parts, with these."""
    found: dict[Hem, tuple[str, ...]] = {}
    for seam in work.build.seams if piece.hems else ():
        under = catches(seam.sides, piece)
        edges = {edge for side in seam.sides if side.part == piece.name for edge in side.edges}
        found |= {hem: under for hem in piece.hems if under and (WHOLE in hem.edges or edges & {*hem.edges})}
    return found


def _hem_act(work: Work, piece: Piece, hem: Hem, at: int) -> Act:
    case = "hem_twice" if hem.is_double else "hem"
    edges = join_words(hem.edges) if WHOLE not in hem.edges else act("all_round")
    under = act("face_flesh" if work.material_of(piece.name).kind == "leather" else "face_wrong")
    values = {"part": counted(work, piece.name), "edges": edges, "turn": work.length(hem.turned_mm), "under": under}
    return act(f"{case}{_held(work, at)}", **values, **_glue(work, at))


def _held(work: Work, at: int) -> str:
    """How a hem is held, as its case ends: with what must dry first, with another glue or tape, or with nothing."""
    glues = find_glues(work, at)
    return "_waits" if any(map(find_wait, glues)) else "_glued" if glues else ""


def _glue(work: Work, at: int) -> dict[str, str]:
    glues = find_glues(work, at)
    return {"glue": glue_words([one for one in glues if find_wait(one)] or glues)} if glues else {}


def edges_then(work: Work, piece: Piece, at: int) -> Box:
    """The box of the edges that a piece has in a step: once its hems are turned it is measured from their folds."""
    is_turned = piece.name not in work.build.assembly.unturned(at)
    return outline_box(piece.sewn_outline if is_turned else piece.outline)


def _is_damped(work: Work, at: int, piece: Piece, fold: Fold) -> bool:
    """Whether a fold is damped before it is made: an open one where the step says so; else firm leather that water
    softens, unless lines of the step's own tell it."""
    step, goods = work.steps[at], work.material_of(piece.name)
    if any(has_phrase(step.do, phrase) for phrase in DAMPING):
        return fold.is_open and not fold.around
    is_told = any(has_phrase(line, phrase) for line in (*step.first, step.note) for phrase in DAMPING)
    is_wetted = goods.kind == "leather" and goods.tannage in DAMP_TANNAGES and goods.finish not in POOR_GROUNDS
    thin = [skive.to_mm for skive in piece.marks.skives if is_inside(skive.band, fold.middle)]
    return is_wetted and not is_told and min([goods.thickness_mm, *thin]) > DRY_FOLD_MM + 1e-6


def fold_acts(work: Work, at: int, names: Set[str], *, is_late: bool = False) -> list[Act]:
    """Folds of these pieces that are made in this step before it sews, or, where it `is_late`, after that."""
    step = work.steps[at]
    sewn = sewn_in(work, at)
    found: dict[Act, dict[Act, None]] = {}  # a line without its place -> its places
    for piece in work.build.pieces:
        is_named = piece.name in names and (piece.name in step.pieces or piece.name in sewn)
        folds = [one for one in piece.marks.folds if is_named and not one.of_hem]
        for fold in folds if not is_late else ():
            if (later := grooved_before(work, at, piece, fold)) is not None:
                groove = act(
                    "groove",
                    part=counted(work, piece.name),
                    inner=_inner_of(work, piece, fold, at),
                    step=str(later + 1),
                )
                found.setdefault(groove, {})
        for fold in folds:
            if not is_folded(work, at, piece, fold) or is_flap(work, at, piece, fold) != is_late:
                continue
            if bends_with(work, at, piece, fold):
                continue
            found.setdefault(_fold_act(work, piece, fold, at), {})[_fold_place(work, piece, fold)] = None
    told = [one for line, places in found.items() for one in _folds_at(line, [*places])]
    is_damp = any("_damp" in one.case for one in told) and not any(has_phrase(line, "dry") for line in said_in(step))
    dried = act("dry_glued" if find_glues(work, at) and not is_late else "dry")
    return [*told, *([dried] if is_damp else [])]


def _folds_at(line: Act, places: Sequence[Act]) -> Iterator[Act]:
    """A line of folds with their places: those as far from as many edges, as the walls of a box are, are told at once."""
    if not places:
        yield line
    lengths: dict[str, list[str]] = {}
    for place in places:
        values = dict(place.values)
        lengths.setdefault(str(values.get("length", "")), []).append(str(values.get("side", "")))
    for length, sides in lengths.items():
        place = act("on_line") if not length else act("on_line_from", length=length, side=sides[0])
        place = act("on_lines_from", length=length, sides=join_words(sides)) if len(sides) > 1 else place
        yield replace(line, values=(*line.values, ("place", place)))


def _fold_act(work: Work, piece: Piece, fold: Fold, at: int) -> Act:
    """The line of a fold, but for where it lies: which side is in where that is told, and what lies in it: of a bend whose
    sides the step sews face to face as it lies for that."""
    case = ("bend" if fold.is_open else "fold") + "_damp" * _is_damped(work, at, piece, fold)
    values: dict[str, Told] = {"part": counted(work, piece.name)}
    placed = work.placed(piece.name)
    if placed is not None and goes_either_way(work.build, placed, fold):
        return act(f"{case}_either", **values)
    values["inner"] = _inner_of(work, piece, fold, at)
    if fold.around:
        tongue = _tongue_slot(work, piece, fold) or _bar_in_fold(work, fold)
        return act(f"{case}_round", **values, what=work.fittings[fold.around], tongue=tongue)
    return act(case, **values)


def _inner_of(work: Work, piece: Piece, fold: Fold, at: int) -> Act:
    """Which side of a piece is in where it folds."""
    placed = work.placed(piece.name)
    is_other = fold.is_grain_in(piece.shows) == (piece.shows == "grain")
    if placed is not None and _bends_with_host(work, placed, fold):
        is_other = True
    if placed is not None and fold.is_open and not fold.around and is_closed_turned(work, fold, piece.name, at):
        is_other = not is_other
    return work.outer(piece.name) if is_other else work.inner(piece.name)


def _tongue_slot(work: Work, piece: Piece, fold: Fold) -> tuple[Act, ...]:
    """That the tongue of a buckle goes through what is cut at its fold, a slot or a slit."""
    kind = next((item.kind for item in work.build.hardware if item.name == fold.around), "")
    slots = [hole.at for hole in piece.marks.holes if hole.long_mm]
    slits = [between(slit.start, slit.end, 0.5) for slit in piece.marks.slits]
    near = [
        what
        for what, spots in (("tongue_slot", slots), ("tongue_slit", slits))
        if any(distance(at, fold.middle) <= AT_FOLD_MM for at in spots)
    ]
    return (act(near[0]),) if near and kind == "buckle" else ()


def _bar_in_fold(work: Work, fold: Fold) -> tuple[Act, ...]:
    """That the straight side of a D ring lies in the fold of a tab, and its bow takes the strap: common practice, no
    published source."""
    what = next((item.what for item in work.build.hardware if item.name == fold.around), "")
    return (act("bar_in_fold"),) if re.search(D_RING_RE, what) else ()


def _bends_with_host(work: Work, placed: Placed, fold: Fold) -> bool:
    """Whether a part lies on the inner side of another that bends with it, as a lining does, and nothing says which of its
    own sides is in: the outer one."""
    host = work.placed(placed.host.part) if placed.host is not None else None
    if fold.inside or host is None or placed.how not in BEHIND or host.copy.part not in work.pieces:
        return False
    own, its = placed.item.box, host.item.box
    if own.width * own.height > LARGER * its.width * its.height:
        return False  # it is the cover of that
    piece = work.pieces[host.copy.part]
    ways = {one.is_grain_in(piece.shows) == (piece.shows == "grain") for one in piece.marks.folds if not one.of_hem}
    return ways == {False} and len(host.surface.bands) == len(placed.surface.bands)


def bends_alone(work: Work, at: int, names: Sequence[str]) -> list[Act]:
    """Of pieces that this step sews first the open folds that no step makes: leather bends there in use."""
    found = []
    for name in names:
        piece = work.pieces.get(name)
        folds = [fold for fold in piece.marks.folds if fold.is_open and not fold.around] if piece else []
        having = [k for k, handled in enumerate(work.handled) if name in handled]
        if piece is None or not folds or any(speaks_of_fold(work, k, piece, folds[0]) for k in having):
            continue
        if at == next((k for k in having if name in sewn_in(work, k)), -1):
            places = tuple(dict.fromkeys(line_place(work, piece, fold.start, fold.end) for fold in folds))
            found.append(act("bends_alone", part=counted(work, name), places=places))
    return found


def _fold_place(work: Work, piece: Piece, fold: Fold) -> Act:
    """From the nearest edge that runs along it; on its line where none does."""
    base, (x, y), (u, v) = outline_box(piece.outline), fold.start, fold.end
    if abs(v - y) < 0.01 * abs(u - x):
        low, high = ends_of(piece)
        gaps = [(low, y - base.bottom), (high, base.top - y)]
    elif abs(u - x) < 0.01 * abs(v - y):
        gaps = [("left", x - base.left), ("right", base.right - x)]
    else:
        return act("on_line")
    side, gap_mm = min(gaps, key=lambda gap: gap[1])
    return act("on_line_from", length=work.length(gap_mm), side=side)
