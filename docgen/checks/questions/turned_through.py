"""What is sewn face to face until nothing is open: it is turned right side out through its zip, and that has to be there,
and long enough."""

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from docgen.assemble import Sewn
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.joining import goes_round
from docgen.geometry.outline import WHOLE
from docgen.resolve import Piece, Seam

# How much of an opening, as round as it goes, what is turned through it fills at most: common practice, no published
# source; our figure.
FILLED: Final = 0.5
GAP_RE: Final = re.compile(
    r"\b(?:gaps?|openings?|unsewn)\b|\b(?:leav\w+|left)\b[^.;]*\bopen\b|\bturn\w*\b[^.;]*\bthrough\b", re.IGNORECASE
)
MOST: Final = 100  # of more seams nothing is asked: a stranger's file


class Edge(NamedTuple):
    """A part, and a seam that sews an edge of it."""

    part: str
    seam: str


@question
def ask_way_out(subject: Subject) -> Iterator[Question]:
    """Two panels that are sewn all round and turned, to one wall or to each other, with no zip or slit to open, or with a
    zip that is too short for what has to go through it."""
    turned = [seam for seam in subject.build.seams if seam.is_turned] if len(subject.build.seams) <= MOST else []
    bodies = _closed(subject, turned)
    for parts, seams in bodies:
        last = max(seams, key=lambda seam: seam.place.line)
        zips = _zips_mm(subject, parts)
        if not zips and not _is_open(subject, parts):
            what = f'"{last.name}" closes all that is open of what is sewn face to face, and no zip or slit is left '
            what += "to turn it through"
            answer = "leave a stretch of it open and close that once it is turned, or name the zip; where it is open "
            answer += "elsewhere there is nothing to do"
            yield Question(place=last.place, what=what, answer=answer)
        elif zips:
            yield from _ask_length(subject, last, max(zips.items(), key=lambda item: item[1]))


@question
def ask_gap(subject: Subject) -> Iterator[Question]:
    """Pieces that turned seams sew to each other by all their edges, as a bag and its lining by their mouth: a zip between
    the two opens the bag, and not what lies between them. Not where the words tell of a gap."""
    seams = {seam.name: seam for seam in subject.build.seams if seam.is_turned}
    if not 0 < len(seams) <= MOST or any(GAP_RE.search(words) for words in _every_word(subject)):
        return
    known = {seam.name for _, found in _closed(subject, [*seams.values()]) for seam in found}
    shut = [one for one in _find_shut(subject, [*seams.values()]) if one.seam not in known]
    last = max((seams[name] for name in {one.seam for one in shut}), key=lambda seam: seam.place.line, default=None)
    if last is not None and not _is_open(subject, {one.part for one in shut}):
        parts = ", ".join(f'"{name}"' for name in dict.fromkeys(one.part for one in shut))
        what = f'{parts} are sewn face to face by all their edges, and "{last.name}" leaves no gap to turn them through'
        answer = (
            "sew a part of an edge alone, or tell in last = [...] of the step where a gap is left and closed by hand"
        )
        yield Question(place=last.place, what=what, answer=f"{answer}; else there is nothing to do")


def _every_word(subject: Subject) -> Iterator[str]:
    for step in subject.build.steps:
        yield from (step.do, *step.first, *step.last)


def _find_shut(subject: Subject, seams: Sequence[Seam]) -> list[Edge]:
    """The edges of those pieces of which each edge is sewn, whole, to an edge of another one of them."""
    pieces = subject.parts.pieces
    met: dict[tuple[str, str], list[Edge]] = {}
    for seam in seams:
        sides = [side for side in seam.sides if side.part in pieces and side.edges and not side.ends]
        for side in sides:
            others = [Edge(other.part, seam.name) for other in sides if other is not side]
            for name in _edges(pieces[side.part]) if WHOLE in side.edges else side.edges:
                met.setdefault((side.part, name), []).extend(others)
    kept, left = {part for part, _ in met}, set[str]()
    while kept != left:
        left = kept
        kept = {
            part
            for part in left
            if all(any(one.part in left for one in met.get((part, name), ())) for name in _edges(pieces[part]))
        }
    return [
        Edge(part, one.seam) for (part, _), found in met.items() if part in kept for one in found if one.part in kept
    ]


def _edges(piece: Piece) -> list[str]:
    return [edge.name for edge in piece.outline.edges if not edge.corner]


def _ask_length(subject: Subject, last: Seam, opening: tuple[str, float]) -> Iterator[Question]:
    """A bag whose walls, laid together across its narrowest way, fill its opening: that is as long again round as it is."""
    room = subject.build.assembly.room
    name, long_mm = opening
    sewn = [one for one in subject.build.assembly.sewn if one.seam == last.name]
    if room is None or room.kind != "box" or not sewn:
        return
    one_mm, other_mm = sorted((room.width_mm, room.height_mm, room.depth_mm))[:2]
    area_mm2 = 2 * (one_mm + other_mm) * _wall_mm(sewn[0])
    least_mm = math.sqrt(math.pi * area_mm2 / FILLED)  # a circle round (2 x length) / pi across
    if long_mm < least_mm:
        long, least = map(subject.length, (long_mm, least_mm))
        what = (
            f'what "{last.name}" closes is turned through "{name}", which opens {long}, and its walls go through about '
        )
        what += f"{least} or more"
        answer = "make the zip longer, or leave a stretch open; where it is soft enough there is nothing to do"
        yield Question(place=last.place, what=what, answer=answer)


def _wall_mm(sewn: Sewn) -> float:
    """Thickness of one wall, with what lines it: half of what lies under the needle."""
    return sewn.stack.usual_mm / 2


def _closed(subject: Subject, turned: list[Seam]) -> list[tuple[set[str], list[Seam]]]:
    """What pairs of turned seams close: the parts of both, of panels sewn all round to one ring, or of a single seam to
    each other."""
    round_ = [(seam, [side for side in seam.sides if side.edges]) for seam in turned]
    found = []
    rings = {join.name for join in subject.build.joins if join.is_ring}
    walled: dict[str, list[Seam]] = {}
    for seam, sides in round_:
        if any(side.ends for side in sides):
            continue
        whole = [side.part for side in sides if goes_round(subject, side)]
        if len(whole) == len(sides) == 2 and whole[0] != whole[1]:
            found.append((set(seam.parts), [seam]))
        for ring in rings & {side.part for side in sides}:
            if set(whole) - {ring}:
                walled.setdefault(ring, []).append(seam)
    both = [(ring, seams) for ring, seams in walled.items() if len(seams) == 2 and _are_apart(ring, seams)]
    return [*found, *((set().union(*(seam.parts for seam in seams)), seams) for _, seams in both)]


def _are_apart(ring: str, seams: list[Seam]) -> bool:
    """Whether two seams sew both long edges of a ring."""
    edges = [{*side.edges} for seam in seams for side in seam.sides if side.part == ring]
    return len(edges) == 2 and edges[0].isdisjoint(edges[1])


def _of(subject: Subject, parts: set[str]) -> set[str]:
    """Parts, and the strips of those that are joins."""
    return parts | {strip for join in subject.build.joins if join.name in parts for strip in join.pieces}


def _zips_mm(subject: Subject, parts: set[str]) -> Mapping[str, float]:
    """By name the zips in these parts or sewn to them, each with how far it opens."""
    names = _of(subject, parts)
    found: dict[str, float] = {}
    for item in (one for one in subject.build.trimmings if one.kind == "zip"):
        sewn = {seam.name for seam in subject.build.seams if any(use.name == item.name for use in seam.trimmings)}
        near = {seam.name for seam in subject.build.seams if seam.parts & names}
        for cut in item.cuts:
            if cut.on in names or sewn & near or item.name in names:
                found[item.name] = max(found.get(item.name, 0.0), cut.between_mm or cut.run_mm)
        if item.name in names:
            found.setdefault(item.name, math.inf)
    return found


def _is_open(subject: Subject, parts: set[str]) -> bool:
    """Whether something is cut in one of these parts through which they may be turned."""
    pieces = [subject.parts.pieces[name] for name in _of(subject, parts) if name in subject.parts.pieces]
    return any(piece.marks.slits or any(hole.long_mm for hole in piece.marks.holes) for piece in pieces)
