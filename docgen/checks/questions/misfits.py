"""What does not go with what it is for: a lining of another shape, or far smaller, a split as thick as its leather, eyelets
for a cord at the edge that is sewn, a tab riveted across the edge of a lap, and variants that are choices of two axes with
one choice each."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS, SIDES, outline_box
from docgen.geometry.shapes import Box
from docgen.resolve import Piece
from docgen.tables.cautions import has_phrase

SMALLER_MM: Final = 40.0  # a round lining is hardly so much smaller across than what it lines: our choice
LEAST_ROW: Final = 3
NEAR: Final = 0.3  # of a piece: a row of eyelets so near to an edge is for that
SPLIT: Final = "split"
IN_MIDDLE_MM: Final = 2.0  # what is riveted so near to the middle of a lap is meant to lie over the joint: our choice


@question
def ask_round_linings(subject: Subject) -> Iterator[Question]:
    """Circles that line what is none, where another piece is one, and such as are far smaller than the circle they line."""
    circles = {piece.name for piece in subject.build.pieces if piece.shape == "circle"}
    for piece in subject.build.pieces if circles else ():
        own = subject.specs.get(piece.name)
        for value in own.lines if own and piece.name in circles else ():
            host = subject.parts.pieces.get(value.value)
            others = sorted(circles - {piece.name})
            if host is not None and host.name not in circles and others:
                what = f'"{piece.name}" is a circle, and lines "{host.name}", which is none; "{others[0]}" is one'
                answer = f'write lines = ["{others[0]}"]; where it is meant so there is nothing to do'
                yield Question(place=value.place, what=what, answer=answer)
            elif host is not None and own and own.diameter and host.name in circles:
                least_mm, most_mm = (outline_box(one.outline).width for one in (piece, host))
                if most_mm - least_mm > SMALLER_MM:
                    less, most = map(subject.length, (least_mm, most_mm))
                    what = f'"{piece.name}" is {less} across, and "{host.name}", which it lines, {most}'
                    place = subject.written_at(subject.spec.pieces, host.name, "diameter")
                    answer = "look at both figures; where it is to be so much smaller there is nothing to do"
                    yield Question(place=place, what=what, answer=answer)


@question
def ask_splits(subject: Subject) -> Iterator[Question]:
    """A split that is as thick as the leather of the same words, or thicker."""
    titles = {item.title.lower(): item for item in subject.build.materials if not has_phrase(item.title, SPLIT)}
    for own in subject.spec.materials:
        item = subject.parts.materials.get(own.name)
        if item is None or own.thickness is None or not has_phrase(item.title, SPLIT):
            continue
        whole = titles.get(item.title.lower().replace(SPLIT, "").strip(" ,"))
        if whole is not None and item.thickness_mm >= whole.thickness_mm > 0:
            thick, other = map(subject.length, (item.thickness_mm, whole.thickness_mm))
            what = f'"{own.name}", a split, is {thick} thick, and "{whole.name}", of the same words, {other}'
            answer = "look at both figures; where it is split from a thicker hide there is nothing to do"
            yield Question(place=own.thickness.place, what=what, answer=answer)


@question
def ask_eyelet_rows(subject: Subject) -> Iterator[Question]:
    """Eyelets in a row along an edge that is sewn to another part, where the one across from it is open, and a cord goes
    through them."""
    eyelets = {item.name for item in subject.build.hardware if item.kind == "eyelet"}
    joins = subject.build.join_of
    is_drawn = any(item.kind == "cord" for item in subject.build.trimmings)
    for piece in subject.build.pieces if eyelets and is_drawn else ():
        holes = [hole for hole in piece.marks.holes if hole.takes in eyelets]
        sewn = subject.edges_sewn(piece.name) | subject.edges_sewn(joins.get(piece.name, ""))
        edge = _edge_of(piece, [hole.at for hole in holes]) if len(holes) >= LEAST_ROW else ""
        if edge in sewn and ACROSS[edge] not in sewn:
            what = f'the eyelets of "{piece.name}" lie along its {edge}, which is sewn, and its {ACROSS[edge]} is open'
            names = (piece.name, joins.get(piece.name))
            lines = [
                side.place.line
                for it in subject.build.seams
                for side in it.sides
                if side.part in names and edge in side.edges
            ]
            answer = (
                f"measure them from {ACROSS[edge]}, or sew that edge in place of its {edge} (line {min(lines)}); where "
            )
            answer += "the cord goes round there there is nothing to do"
            yield Question(place=holes[0].place, what=what, answer=answer)


def _edge_of(piece: Piece, spots: list[tuple[float, float]]) -> str:
    """The side along which a row of holes runs, near to it; nothing where it runs along none."""
    box = outline_box(piece.outline)
    for axis, sides in ((0, ("left", "right")), (1, ("bottom", "top"))):
        levels = [at[axis] for at in spots]
        if max(levels) - min(levels) < 1.0:
            long_mm = box.width if axis == 0 else box.height
            off = {side: abs(_level(box, side) - levels[0]) for side in sides}
            near = min(off, key=lambda side: off[side])
            return near if off[near] < NEAR * long_mm else ""
    return ""


def _level(box: Box, side: str) -> float:
    assert side in SIDES
    return box.level(side)


@question
def ask_lone_choices(subject: Subject) -> Iterator[Question]:
    """Variants of several axes, each of which has one choice alone: all of them are made as one."""
    axes = Counter(own.axis.value for own in subject.spec.variants if own.axis)
    last = subject.spec.variants[-1] if len(axes) > 1 and {*axes.values()} == {1} else None
    if last is not None and last.axis and all(own.axis for own in subject.spec.variants):
        names = [own.name for own in subject.spec.variants]
        what = f"each axis has one choice alone, and all are made as one: {'-'.join(names)}"
        answer = f'write axis = "{next(iter(axes))}" for all of them; where one is to be made there is nothing to do'
        yield Question(place=last.axis.place, what=what, answer=answer)


@question
def ask_beside_joints(subject: Subject) -> Iterator[Question]:
    """What is riveted on a strip of a join so near to its end that it lies across the edge of the lap, and not in its
    middle; once for a strip."""
    for join in subject.build.joins if subject.build.hardware else ():
        for strip in subject.parts.strips(join.name) if join.overlap_mm else ():
            for hole in strip.marks.holes:
                part = next((subject.parts.pieces[one] for one in hole.through if one in subject.parts.pieces), None)
                if part is None or not hole.takes:
                    continue
                box, own = outline_box(strip.outline), outline_box(part.outline)
                half_mm, lap_mm = min(own.width, own.height) / 2, join.overlap_mm
                off_mm = min(hole.at.y - box.bottom, box.top - hole.at.y)
                if abs(off_mm - lap_mm) < half_mm - 1e-6 and abs(off_mm - lap_mm / 2) > IN_MIDDLE_MM:
                    off, lap = map(subject.length, (off_mm, lap_mm))
                    what = (
                        f'"{part.name}" is riveted {off} from the end of "{strip.name}", across the edge of its lap of '
                    )
                    answer = "measure the hole again, clear of the joint or in its middle; else there is nothing to do"
                    yield Question(place=hole.place, what=what + lap, answer=answer)
                    break
