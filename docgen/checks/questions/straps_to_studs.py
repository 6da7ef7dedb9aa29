"""Straps over the edge of the panel that holds them, which do not come to the stud or the buckle on the other one."""

from collections.abc import Iterator

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.reach import bars_on, panels_across
from docgen.geometry.measure import is_inside, to_edge
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.shapes import Point
from docgen.resolve import Piece, SeamSide, Strap, StrapLanding
from docgen.tables.cautions import has_phrase

SHORT_MM = 1.0
UPRIGHT = ("up", "down")
MOST = 200  # of more nothing is asked: a stranger's file


@question
def ask_straps_to_studs(subject: Subject) -> Iterator[Question]:
    """Straps held by one end on a panel without folds, with one hole, or a row, near the other."""
    pieces = subject.build.pieces if len(subject.build.pieces) <= MOST else ()
    held = [(base, one) for base in pieces for one in base.strap_landings]
    for base, landing in held:
        strap = subject.parts.straps.get(landing.strap)
        is_alone = sum(one.strap == landing.strap for _, one in held) == 1
        if strap is None or not is_alone or base.own_folds or landing.leads not in UPRIGHT or strap.partner:
            continue
        reach_mm = _reach_mm(strap, landing)
        spots = [*_spots(subject, base, landing, strap)]
        if reach_mm and len(spots) == 1:
            panel, at, what = spots[0]
            up_mm = to_edge(outline_path(base.sewn_outline), landing.at, landing.way)
            down_mm = to_edge(outline_path(panel.sewn_outline), at, landing.way)
            if reach_mm < up_mm + down_mm - SHORT_MM:
                reach, up, down = map(subject.length, (reach_mm, up_mm, down_mm))
                told = (
                    f'"{strap.name}" is {reach} long to the hole that closes it, and {what} is farther away: {up} to '
                )
                told += f'the edge of "{base.name}", and {down} from that of "{panel.name}"'
                answer = (
                    "make it longer, or measure both places again; where it closes otherwise there is nothing to do"
                )
                place = subject.written_at(subject.spec.straps, strap.name, "wears", "finished")
                yield Question(place=place, what=told, answer=answer)


def _reach_mm(strap: Strap, landing: StrapLanding) -> float:
    """How far along a strap, from the end that is held, its hole for a stud lies, or the middle one of its row; 0 where
    that is not plain."""
    if strap.ends[landing.end].shape == "turned" or strap.keeper_for:
        return 0.0
    if strap.worn_mm and not landing.end:
        return sorted(strap.worn_mm)[len(strap.worn_mm) // 2]
    high_mm = outline_box(strap.piece.outline).height
    along = [
        hole.at.y if not landing.end else high_mm - hole.at.y for hole in strap.piece.marks.holes if not hole.takes
    ]
    free = [mm for mm in along if mm > max(landing.over_mm, high_mm / 2)]
    return free[0] if len(free) == 1 and not strap.row_holes else 0.0


def _spots(subject: Subject, base: Piece, landing: StrapLanding, strap: Strap) -> Iterator[tuple[Piece, Point, str]]:
    """Studs, for a strap with a row buckles, on the panels that are sewn to this one, in line with the strap."""
    studs = {item.name for item in subject.build.hardware if has_phrase(f"{item.name} {item.what}", "stud")}
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    beside = {
        side.part
        for seam in subject.build.seams
        if _is_edged(seam.sides, base.name)
        for side in seam.sides
        if side.edges
    }
    beside |= {panel.name for panel, _ in panels_across(subject, base)}
    off_mm = landing.at.x - outline_box(base.sewn_outline).centre.x
    for panel in subject.build.pieces:
        if panel.name not in beside or panel.name == base.name or panel.own_folds:
            continue
        found = [(hole.at, hole.takes) for hole in panel.marks.holes if hole.takes in studs]
        if strap.worn_mm:
            found = [(at, name) for name, at in bars_on(subject, panel, buckles)]
        for at, name in found:
            near_mm = min(abs(at.x - outline_box(panel.sewn_outline).centre.x - way * off_mm) for way in (1.0, -1.0))
            if near_mm <= strap.width_mm / 2 and is_inside(outline_path(panel.sewn_outline), at):
                yield panel, at, f'"{name}"'


def _is_edged(sides: tuple[SeamSide, ...], part: str) -> bool:
    return any(side.part == part and side.edges for side in sides)
