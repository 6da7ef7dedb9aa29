"""What differs from its like: one end of a handle, one end of a row of holes, one panel beside a spine, one length of a
list, one seam of a step; and figures too small for what they are of."""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from docgen.checks.questions.question import Question, question, rises
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade import Subject
from docgen.geometry.outline import OPPOSITE, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.read import PieceSpec, TrimmingSpec
from docgen.resolve import Fold, Piece
from docgen.tables.usual import MACHINE_BOBBIN_M, MACHINE_SPOOL_M, TURNED_IN_MM

FAR = 3.0  # one end of a row lies so many times farther from its edge than the other: our choice
LEAST_TACKED = 1.75  # so many stitches are sewn back at least, of two some of the length: our choice
SPINE = 2.0  # a spine is so many times narrower than the panels beside it: our choice
NEARLY_MM = (3.0, 10.0)  # panels that differ by so much are meant to be alike, or to be plainly unlike: our choice
LEAST_LIST = 3  # so many lengths and one more make a list with an order: our choice
SAME_MM = 0.5
NEAR_ROW_MM = 1.9  # from its edge mostly no row lies nearer in leather of that thickness: common practice
THICK_MM = 1.9
NEAREST_MM = 1.5  # and in thinner leather: common practice, no published source
FACING: Final = re.compile(r"\bface to face\b", re.IGNORECASE)


@question
def ask_likes(subject: Subject) -> Iterator[Question]:
    """Rows, panels, ends and halves of one piece that differ from their like."""
    measures = {plain_mm(measure.length.value) for measure in subject.spec.measures if measure.length}
    landed = {landing.piece for base in subject.build.pieces for landing in base.marks.landings}
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        if own is not None:
            yield from _ask_rows(subject, piece, own)
            yield from _ask_panels(subject, piece, own, measures) if piece.name not in landed else ()
            yield from _ask_ends(subject, piece, own)
            yield from _ask_other_half(subject, piece)


def _ask_rows(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Rows of holes of which one end lies much nearer to its edge than the other to the edge across from it."""
    box, made = outline_box(piece.outline), piece.spots_by_place if own.hole_rows else {}
    for row in own.hole_rows:
        spots = made.get(row.place, [])
        if row.start is None or row.end is None or len(spots) < 2:
            continue
        for low, high in OPPOSITE:
            ends = (row.start, row.end)
            from_low = [value for value in ends if f"from {low}" in value.value]
            from_high = [value for value in ends if f"from {high}" in value.value]
            if len(from_low) != 1 or len(from_high) != 1:
                continue
            axis = 0 if low == "left" else 1
            first_mm = min(at[axis] for at in spots) - (box.left, box.bottom)[axis]
            last_mm = (box.right, box.top)[axis] - max(at[axis] for at in spots)
            is_far = max(first_mm, last_mm) >= FAR * min(first_mm, last_mm)
            is_near = NEARLY_MM[0] <= abs(first_mm - last_mm) <= NEARLY_MM[1]
            if min(first_mm, last_mm) > 0 and (is_far or is_near):
                one, other = map(subject.length, (first_mm, last_mm))
                what = f'a row of holes in "{piece.name}" ends {one} from its {low}, and {other} from its {high}'
                place = (from_low if first_mm < last_mm else from_high)[0].place
                answer = "look at both figures; where it is meant to lie unevenly there is nothing to do"
                yield Question(place=place, what=what, answer=answer)


def _ask_panels(subject: Subject, piece: Piece, own: PieceSpec, measures: set[float]) -> Iterator[Question]:
    """Two folds with a spine between them, and panels beside it that are nearly as wide as each other; asked at the fold
    of the panel that is no measure of the build, else at the first. Not of a flap or tab that lands on another piece."""
    folds = [fold for fold in piece.marks.folds if fold.is_open and not fold.of_hem]
    if len(folds) != len(own.folds) or len(folds) < 2:
        return
    box = outline_box(piece.outline)
    for axis in (0, 1):
        ranged = sorted(
            (_level(path_box(fold.path), axis), number) for number, fold in enumerate(folds) if _runs(fold, axis)
        )
        low, high = ((box.left, box.right), (box.bottom, box.top))[axis]
        at = [low, *(level for level, _ in ranged), high]
        wide = [after - before for before, after in pairwise(at)]
        for number in range(len(wide) - 2):
            before_mm, spine_mm, after_mm = wide[number : number + 3]
            odd_mm = abs(before_mm - after_mm)
            if SPINE * spine_mm > min(before_mm, after_mm) or not NEARLY_MM[0] <= odd_mm <= NEARLY_MM[1]:
                continue
            is_second = _is_any(before_mm, measures) and not _is_any(after_mm, measures)
            value = own.folds[ranged[number + is_second][1]].at
            one, other = map(subject.length, (before_mm, after_mm))
            what = f'the panels of "{piece.name}" beside its spine are {one} and {other} wide'
            if value is not None:
                answer = "measure both folds again; where they are meant to be unlike there is nothing to do"
                yield Question(place=value.place, what=what, answer=answer)


def _runs(fold: Fold, axis: int) -> bool:
    """Whether a fold runs straight across this axis."""
    return abs(fold.start[axis] - fold.end[axis]) < SAME_MM


def _level(box: Box, axis: int) -> float:
    return (box.left, box.bottom)[axis]


def _is_any(mm: float, measures: set[float]) -> bool:
    return any(abs(mm - one) < SAME_MM for one in measures)


def _ask_ends(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Straps of which both ends are sewn on one piece, each with another stitch; the one that is not its own is asked."""
    for landing in own.landings:
        name = landing.strap.value if landing.strap else ""
        stitches = {end.stitch for end in piece.strap_landings if end.strap == name}
        if landing.stitch is None or name not in subject.parts.straps or len(stitches) != 2 or "" in stitches:
            continue
        usual = subject.parts.straps[name].stitch
        others = stitches - {landing.stitch.value}
        later = [one for one in own.landings if one.strap and one.strap.value == name][-1]
        is_odd = landing.stitch.value != usual if usual in stitches else landing is later
        if is_odd and len(others) == 1:
            what = f'an end of "{name}" is sewn on "{piece.name}" with the stitch "{landing.stitch.value}", and another'
            what += f' with "{next(iter(others))}"'
            answer = "write one stitch for both; where it is meant so there is nothing to do"
            yield Question(place=landing.stitch.place, what=what, answer=answer)


def _ask_other_half(subject: Subject, base: Piece) -> Iterator[Question]:
    """A part that lies on a piece, where its mirror image is sewn to that piece too, and lies nowhere."""
    landed = {landing.piece for one in subject.build.pieces for landing in one.marks.landings}
    sewn = {side.part for seam in subject.build.seams for side in seam.sides if base.name in seam.parts}
    for landing in base.marks.landings:
        for name in sorted(sewn - landed - {base.name}):
            one, other = subject.specs.get(landing.piece), subject.specs.get(name)
            if one is not None and other is not None and (_is_mirrored(one, other) or _is_mirrored(other, one)):
                what = f'"{landing.piece}" lies on "{base.name}", and "{name}", its mirror image, is sewn there and '
                answer = f'write in landings of "{base.name}": {{ piece = "{name}", at = ... }}'
                yield Question(place=base.place, what=f"{what}nothing says where it lies", answer=answer)


def _is_mirrored(one: PieceSpec, other: PieceSpec) -> bool:
    return bool(one.mirror and one.like and one.like.value == other.name)


@question
def ask_linings(subject: Subject) -> Iterator[Question]:
    """Straps whose lining is written, of the very material of the strap, where others are of another."""
    for strap in subject.spec.straps:
        if strap.lining and strap.of and strap.lining.value == strap.of.value:
            what = f'"{strap.name}" is of "{strap.of.value}", and so is the lining that is written for it'
            answer = "look at both names; where both layers are of one leather, doubled = true says so"
            yield Question(place=strap.of.place, what=what, answer=answer)


@question
def ask_ready(subject: Subject) -> Iterator[Question]:
    """A length of goods that are sold ready, of three far from both others; of more, out of its order."""
    for item in subject.spec.trimmings:
        lengths = [plain_mm(one.value) for one in item.ready]
        for number, mm in enumerate(lengths if len(lengths) == LEAST_LIST and not rises(lengths) else ()):
            others = lengths[:number] + lengths[number + 1 :]
            if 0 < FAR * mm < min(others) or mm > FAR * max(others) > 0:
                what = f'"{item.name}" is sold in lengths that rise, but for {item.ready[number].value}'
                yield Question(place=item.ready[number].place, what=what, answer="look at the figure and its unit")
        yield from _ask_order(item)


def _ask_order(item: TrimmingSpec) -> Iterator[Question]:
    """The one length of a list that is out of its order, where the others rise."""
    lengths = [plain_mm(one.value) for one in item.ready]
    odd = [k for k in range(len(lengths)) if rises(lengths[:k] + lengths[k + 1 :])] if len(lengths) > LEAST_LIST else []
    if odd and not rises(lengths) and min(lengths) > 0:
        own = item.ready[odd[-1]]
        what = f'"{item.name}" is sold in lengths that rise, but for {own.value}'
        yield Question(place=own.place, what=what, answer="look at the figure and its unit")


@question
def ask_stitches(subject: Subject) -> Iterator[Question]:
    """Back-tacks shorter than one stitch, and spools for a machine that hold little."""
    for own in subject.spec.stitches:
        stitch = subject.parts.stitches.get(own.name)
        if stitch is None:
            continue
        if own.back_tack and 0 < stitch.back_tack_mm < LEAST_TACKED * stitch.pitch_mm:
            tack, pitch = map(subject.length, (stitch.back_tack_mm, stitch.pitch_mm))
            what = f'"{own.name}" is sewn back over {tack}, and one stitch is {pitch} long'
            answer = (
                "write two stitches or more, or 0 where it is not sewn back; where one holds there is nothing to do"
            )
            yield Question(place=own.back_tack.place, what=what, answer=answer)
        for value, mm, least_m, word in (
            (own.spool, stitch.spool_mm, MACHINE_SPOOL_M, "spool"),
            (own.bobbin, stitch.bobbin_mm, MACHINE_BOBBIN_M, "bobbin"),
        ):
            if value and stitch.by == "machine" and 0 < mm < 1000 * least_m:
                what = f'the {word} of "{own.name}" holds {value.value}, which is little for a machine'
                answer = "look at the figure; where it is so there is nothing to do"
                yield Question(place=value.place, what=what, answer=answer)


@question
def ask_near_rows(subject: Subject) -> Iterator[Question]:
    """Rows nearer to the edge of leather than such leather holds, where no check tells it."""
    thick = {item.name: item.thickness_mm for item in subject.build.materials if item.kind == "leather"}
    parts = {piece.name: piece.material for piece in subject.build.cut}
    for own in subject.spec.stitches:
        stitch = subject.parts.stitches.get(own.name)
        sides = [
            side.part for seam in subject.build.seams if seam.stitch == own.name for side in seam.sides if side.edges
        ]
        straps = [strap.material for strap in subject.build.straps if strap.stitch == own.name]
        layers = [thick.get(name, 0.0) for name in (*(parts.get(part, "") for part in sides), *straps)]
        thick_mm = max(layers, default=0.0)
        near_mm = NEAR_ROW_MM if thick_mm >= THICK_MM else NEAREST_MM
        is_near = stitch and subject.build.limits.stitch_edge_mm <= stitch.inset_mm < near_mm
        if own.inset and stitch and is_near and thick_mm > 0:
            inset, layer = map(subject.length, (stitch.inset_mm, thick_mm))
            what = (
                f'the row of "{own.name}" lies {inset} from the edge of leather {layer} thick, and may tear out of it'
            )
            answer = "look at its inset; where it is to lie so near there is nothing to do"
            yield Question(place=own.inset.place, what=what, answer=answer)


@question
def ask_allowed(subject: Subject) -> Iterator[Question]:
    """Seams that are turned, and leave hardly anything beyond their row."""
    turned = {seam.stitch for seam in subject.build.seams if seam.is_turned}
    for own in subject.spec.stitches:
        stitch = subject.parts.stitches.get(own.name)
        if own.name in turned and own.inset and stitch and 0 < stitch.inset_mm < TURNED_IN_MM:
            inset, least = map(subject.length, (stitch.inset_mm, TURNED_IN_MM))
            what = (
                f'seams with "{own.name}" are turned, and leave {inset} beyond the row; mostly that is {least} or more'
            )
            answer = "look at its inset; where so little is left there is nothing to do"
            yield Question(place=own.inset.place, what=what, answer=answer)


@question
def ask_turned(subject: Subject) -> Iterator[Question]:
    """Seams of a step that sews face to face, of which one is turned, and another along the same edges is not."""
    seams = {seam.name: seam for seam in subject.build.seams}
    for step in subject.build.steps:
        own = [seams[name] for name in step.seams if name in seams] if FACING.search(step.do) else []
        for seam in own:
            edges = [side.edges for side in seam.sides]
            is_odd = not seam.is_turned and any(
                other.is_turned and other.stitch == seam.stitch and [side.edges for side in other.sides] == edges
                for other in own
            )
            if is_odd:
                what = f'the step in line {step.place.line} sews face to face, and "{seam.name}" is not turned'
                answer = "write turned = true; where it stays as it is sewn there is nothing to do"
                yield Question(place=seam.place, what=what, answer=answer)
