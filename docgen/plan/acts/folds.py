"""Which step makes a fold of a piece, and whether before it sews or after."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from docgen.geometry.path import flatten
from docgen.geometry.vector import Transform, transform_point
from docgen.plan.acts.work import Work
from docgen.resolve import Fold, Piece, folding_words, only_grooves, speaks_of_folding
from docgen.tables.cautions import has_phrase

FLAP = "flap"
BEYOND_MM = 1.0  # of a fold, from which a row lies on that side
SAME_MM = 2.0  # apart at most, folds of two parts that lie on each other are one bend: our choice


def is_folded(work: Work, at: int, piece: Piece, fold: Fold) -> bool:
    """Whether a step that has a piece in hand makes a fold of it: the first of those that take what lies in it; else each
    that speaks of folding, of a flap that speaks of it, else the first; else, of a fold that closes, the first that does
    more than punch or skive."""
    having = [k for k, step in enumerate(work.steps) if piece.name in step.pieces or piece.name in sewn_in(work, k)]
    taking = [k for k in having if fold.around in work.steps[k].hardware]
    speaking = _speaking(work, having, piece, fold)
    if any(is_flap(work, k, piece, fold) for k in speaking):
        speaking = [k for k in speaking if has_phrase(work.steps[k].do, FLAP)][:1] or speaking[:1]
    fixing = [] if fold.is_open or taking or speaking else [k for k in having if _is_fixed(work, k, piece.name)]
    return at in (taking[:1] or speaking or fixing[:1])


def _speaking(work: Work, having: Iterable[int], piece: Piece, fold: Fold) -> list[int]:
    """The steps that speak of a fold of a piece; not those that only groove it where a later one bends it."""
    found = [k for k in having if speaks_of_fold(work, k, piece, fold) and not _is_sewn_shut(work, k, piece, fold)]
    return [k for k in found if not only_grooves(work.steps[k]) or k == found[-1]]


def grooved_before(work: Work, at: int, piece: Piece, fold: Fold) -> int | None:
    """The step (from 0) that bends a fold which this one only grooves."""
    having = [k for k, step in enumerate(work.steps) if piece.name in step.pieces or piece.name in sewn_in(work, k)]
    if at not in having or fold.around or not only_grooves(work.steps[at]) or not speaks_of_fold(work, at, piece, fold):
        return None
    return next((k for k in _speaking(work, having, piece, fold) if k > at), None)


def speaks_of_fold(work: Work, at: int, piece: Piece, fold: Fold) -> bool:
    """Whether a step that has a piece in hand speaks of its fold: of an open one not where it closes those of another
    piece that it has in hand, and does not name this one as far as it speaks of folding."""
    step = work.steps[at]
    if not speaks_of_folding(step) or not fold.is_open:
        return speaks_of_folding(step)
    others = [work.pieces[name] for name in step.pieces if name != piece.name and name in work.pieces]
    is_other = any(not one.is_open and not one.of_hem for other in others for one in other.marks.folds)
    words = (piece.name, *re.findall(r"\w{4,}", piece.title.lower()))
    return not is_other or any(has_phrase(folding_words(step), word) for word in words)


def _is_fixed(work: Work, at: int, name: str) -> bool:
    """Whether a step sews the edges of a piece, lays it on something or sets metal through it."""
    events = [index for index, _ in work.events(at)]
    laid = {lies.copy.part for index in events for lies in work.lays_at(index)}
    through = {part for fit in work.build.assembly.fastened if fit.event in events for part in fit.stack.parts}
    return name in sewn_in(work, at) | laid | through


def is_flap(work: Work, at: int, piece: Piece, fold: Fold) -> bool:
    """Whether a step sews a piece together across some fold of it, and neither that step nor a later one across this open
    one, as that of a flap: bent before, it lies in the way of the needle."""
    if not fold.is_open or fold.around:
        return False
    now = {*work.steps[at].seams}
    later = now.union(*(step.seams for step in work.steps[at:]))
    others = [one for one in piece.marks.folds if one is not fold and not one.of_hem]
    is_sewn_up = any(_is_crossed(work, one, piece.name, now) for one in others)
    return is_sewn_up and not _is_crossed(work, fold, piece.name, later)


def _is_sewn_shut(work: Work, at: int, piece: Piece, fold: Fold) -> bool:
    """Whether what lies on both sides of an open fold is sewn to each other before a step."""
    own = {one.name for one in work.build.seams if [side.part for side in one.sides].count(piece.name) > 1}
    before = {name for step in work.steps[:at] for name in step.seams if name in own}
    return fold.is_open and _is_crossed(work, fold, piece.name, before)


def is_closed_turned(work: Work, fold: Fold, name: str, at: int) -> bool:
    """Whether a step sews edges on both sides of a fold to each other, and nothing else, by a seam that is turned right
    side out."""
    seams = {one.name for one in work.build.seams if one.is_turned and one.parts == {name} and len(one.sides) > 1}
    return _lies_across(work, fold, name, seams & {*work.steps[at].seams})


def _is_crossed(work: Work, fold: Fold, name: str, seams: Iterable[str]) -> bool:
    """Whether one of these seams sews what lies on the one side of a fold, and what lies on the other, to something or to
    each other."""
    return any(_lies_across(work, fold, name, {seam}) for seam in seams)


def _lies_across(work: Work, fold: Fold, name: str, seams: set[str]) -> bool:
    placed = work.placed(name)
    rows = [mark.path for mark in placed.item.marks if mark.kind == "stitch" and mark.name in seams] if placed else []
    off = [fold.off_mm(at) for row in rows for at in flatten(row)]
    return bool(off) and min(off) < -BEYOND_MM and max(off) > BEYOND_MM


def bends_with(work: Work, at: int, piece: Piece, fold: Fold) -> bool:
    """Whether a lining, or what has the shape of another piece, is fast on that by an earlier step, and that is folded
    there in this one: it bends with it."""
    for host, move in _fast_on(work, at, piece):
        ends = [transform_point(end, move) for end in (fold.start, fold.end)]
        is_there = host.name in work.steps[at].pieces or host.name in sewn_in(work, at)
        made = [one for one in host.marks.folds if not one.of_hem and is_there and is_folded(work, at, host, one)]
        if any(max(abs(one.off_mm(end)) for end in ends) < SAME_MM for one in made):
            return True
    return False


def _fast_on(work: Work, at: int, piece: Piece) -> Iterator[tuple[Piece, Transform]]:
    """What a piece is fast on before a step, each with the move on to it."""
    for index, event in enumerate(work.build.assembly.events):
        for lies in work.lays_at(index) if event.step < at else ():
            if lies.is_cover and lies.copy.part == piece.name and lies.host.part in work.pieces:
                yield work.pieces[lies.host.part], lies.move
    model = work.pieces.get(piece.model)
    sewn = (work.seams[name].parts for step in work.steps[:at] for name in step.seams)
    if model is not None and model is not piece and any({piece.name, model.name} <= parts for parts in sewn):
        yield model, Transform()


def sewn_in(work: Work, at: int) -> set[str]:
    """The pieces that a step sews."""
    return {name for seam in work.steps[at].seams for name in work.sewn_pieces(work.seams[seam])}
