"""What is sewn or set in an order that it does not bear: a row through a pocket that is sewn on before, a mouth that is
bound or hemmed when its sides are sewn down, and fittings that come before the strap that holds them is made."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.fittings import find_bare_folds
from docgen.geometry.measure import distance_to_path, is_inside
from docgen.geometry.outline import edge_path
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Path
from docgen.resolve import Landing, Piece, Seam, SeamSide
from docgen.tables.cautions import has_phrase

MOST: Final = 100  # of more seams nothing is asked: a stranger's file
SHARES: Final = (0.3, 0.5, 0.7)  # of a row, where it is looked whether it goes through another part
CLEAR_MM: Final = 8.0  # so far within its edges a row goes through a part, and not along its edge: our choice
BESIDE: Final = {
    "top": ("left", "right"),
    "bottom": ("left", "right"),
    "left": ("top", "bottom"),
    "right": ("top", "bottom"),
}


@question
def ask_order(subject: Subject) -> Iterator[Question]:
    """Seams of steps, in an order by which one goes through what another one holds, or closes what it is to finish."""
    if subject.build.steps and len(subject.build.seams) <= MOST:
        at = {one.seam: one.event for one in reversed(subject.build.assembly.sewn)}
        yield from _ask_through(subject, at)
        yield from _ask_mouths(subject, at)
        yield from _ask_early(subject)


def _flat(seam: Seam) -> tuple[SeamSide, str] | None:
    """The only side of a seam that is sewn by its edges, and the part on which it is sewn flat."""
    own = [side for side in seam.sides if side.edges]
    beneath = [side.part for side in seam.sides if not side.edges]
    return (own[0], beneath[0]) if len(own) == 1 and beneath and own[0].part != beneath[0] else None


def _ask_through(subject: Subject, at: dict[str, int]) -> Iterator[Question]:
    """Rows that sew one part on a piece, within the place of a pocket by its word that an earlier row has sewn on there."""
    flat = {seam.name: found for seam in subject.build.seams if (found := _flat(seam)) and seam.name in at}
    hosts = {piece.name: piece for piece in subject.build.pieces}
    for seam in subject.build.seams:
        side, host = flat.get(seam.name, (None, ""))
        base = hosts.get(host)
        if side is None or base is None:
            continue
        lies = {landing.piece: landing for landing in base.marks.landings}
        rows = [line.path for line in base.marks.stitch_lines if line.seam == seam.name and not line.row]
        before = {
            own.part: name
            for name, (own, on) in flat.items()
            if on == host and own.part != side.part and at[name] < at[seam.name]
        }
        mine = lies.get(side.part)
        for part, name in before.items() if mine and rows else ():
            other = lies.get(part)
            is_pocket = has_phrase(f"{part} {other.title}", "pocket") if other else False
            if other and mine and is_pocket and other.is_inside == mine.is_inside and _goes_through(rows, other):
                what = f'the seam "{seam.name}" sews "{side.part}" to "{host}" through "{part}", which "{name}" '
                what += "holds there by then"
                answer = f'sew "{seam.name}" before "{name}", or look where both land; '
                answer += "where it is meant so there is nothing to do"
                yield Question(place=seam.place_of(side), what=what, answer=answer)
                break


def _goes_through(rows: list[Path], landing: Landing) -> bool:
    """Whether a row lies well within a part, not along its edges."""
    spots = [at for row in rows for at, _ in points_at(row, [share * path_length(row) for share in SHARES])]
    return all(is_inside(landing.outline, at) and distance_to_path(landing.outline, at) > CLEAR_MM for at in spots)


def _ask_mouths(subject: Subject, at: dict[str, int]) -> Iterator[Question]:
    """Edges that are bound or hemmed by a seam of their own, after the edges beside them are sewn flat on a piece."""
    pieces = subject.parts.pieces
    flat = [(seam, found) for seam in subject.build.seams if (found := _flat(seam)) and seam.name in at]
    lines = [run for run in subject.build.assembly.runs if run.kind == "dividers"]
    for seam in subject.build.seams:
        own_sides = [side for side in seam.sides if side.edges]
        side = own_sides[0] if len(own_sides) == 1 else seam.sides[0]
        piece = pieces.get(side.part)
        if (
            piece is None
            or len(side.edges) != 1
            or {one.part for one in seam.sides} != {piece.name}
            or seam.name not in at
        ):
            continue
        (edge,) = side.edges
        does = "binds" if seam.trimmings else "hems" if edge in piece.hemmed else ""
        for other, (own, host) in flat if does else ():
            if own.part == side.part and {*BESIDE.get(edge, ())} <= {*own.edges} and at[other.name] < at[seam.name]:
                what = f'the seam "{seam.name}" {does} the {edge} of "{side.part}", which "{other.name}" has sewn '
                what += f'to "{host}" before'
                answer = f'sew "{seam.name}" before "{other.name}"; where it is meant so there is nothing to do'
                yield Question(place=seam.place_of(side), what=what, answer=answer)
                break
        else:
            sewn = (run for run in lines if does and run.part == piece.name and run.event < at[seam.name])
            if any(True for _ in sewn) and _is_crossed(piece, edge):
                what = (
                    f'the seam "{seam.name}" {does} the {edge} of "{piece.name}", through which its dividing lines are '
                )
                answer = f'sew "{seam.name}" before them; where it is meant so there is nothing to do'
                yield Question(place=seam.place_of(side), what=f"{what}sewn before", answer=answer)


def _is_crossed(piece: Piece, edge: str) -> bool:
    """Whether a dividing line of a piece goes up to one of its edges."""
    path = edge_path(piece.sewn_outline, edge)
    return any(distance_to_path(path, at) < CLEAR_MM for row in piece.dividers for at in (row.start, row.end))


def _ask_early(subject: Subject) -> Iterator[Question]:
    """Fittings that straps alone hold, in a step before the first of these is made; once for a step."""
    straps = subject.build.straps
    made = {
        strap.name: next((k for k, step in enumerate(subject.build.steps) if strap.name in step.straps), -1)
        for strap in straps
    }
    held = {hole.takes for piece in subject.build.pieces for hole in piece.marks.holes}
    held |= {fold.around for piece in subject.build.pieces for fold in piece.marks.folds}
    holders: dict[str, list[str]] = {}
    for strap in straps:
        names = {*(name for end in strap.ends for name in (*end.rings, end.takes))}
        for name in sorted((names | {hole.takes for hole in strap.piece.marks.holes}) - held - {""}):
            holders.setdefault(name, []).append(strap.name)
    bare = find_bare_folds(subject)  # told as that
    for number, step in enumerate(subject.spec.steps[: len(subject.build.steps)]):
        for value in (one for one in step.hardware if one.value not in bare):
            late = min(holders.get(value.value, ()), key=lambda name: made[name], default="")
            again = any(value.value in step.hardware for step in subject.build.steps[made.get(late, 0) :])
            is_meant = step.do is not None and has_phrase(step.do.value, late.replace("-", " ")) and not again
            if late and not is_meant and made[late] > number and min(made[name] for name in holders[value.value]) >= 0:
                what = f'step {number + 1} sets "{value.value}", and "{late}", which holds it, is first made in step '
                answer = "name it in that step, or let that come first; where it is made before there is nothing to do"
                yield Question(place=value.place, what=f"{what}{made[late] + 1}", answer=answer)
                break
