"""Rings of unlike strips whose notches meet those of a panel in more than one way round."""

from collections.abc import Iterator
from itertools import product

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.notches import side_marks
from docgen.geometry.outline import WHOLE
from docgen.problems import name_words
from docgen.resolve import Join, Seam, SeamSide, farthest_mm

TWO = 2  # marks by which a ring may be turned two ways


@question
def ask_ring_notches(subject: Subject) -> Iterator[Question]:
    """Rings that are sewn round a closed edge, which of whose notches meets which is not said; once for each ring."""
    told = set()
    for seam in subject.build.seams:
        round_ = [side for side in seam.sides if side.edges == (WHOLE,) and side.part in subject.parts.pieces]
        for panel, wall in product(round_[:1], seam.sides):
            join = subject.parts.joins.get(wall.part)
            if join is None or not join.is_ring or join.name in told or len({*join.pieces}) < TWO:
                continue
            if _count_ways(subject, seam, panel, wall) >= TWO:
                told.add(join.name)
                strips = name_words(_notched(subject, join, wall))
                edges = " and ".join(notch.edge for notch in subject.parts.pieces[panel.part].marks.notches)
                what = (
                    f'the notches of "{join.name}" meet those of "{panel.part}" in more than one way round: which of '
                )
                what += f"{strips} comes to lie at its {edges} is not said"
                answer = (
                    "leave on both only the notch that is to meet its mate; or look at the picture, where it lies so"
                )
                yield Question(place=seam.place_of(wall), what=what, answer=answer)


def _notched(subject: Subject, join: Join, wall: SeamSide) -> list[str]:
    """The strips of a ring that have notches on the edge that is sewn."""
    strips = subject.parts.strips(join.name)
    return [strip.name for strip in strips if any(notch.edge in wall.edges for notch in strip.marks.notches)]


def _count_ways(subject: Subject, seam: Seam, panel: SeamSide, wall: SeamSide) -> int:
    """In how many ways a ring may be turned so that all its notches meet those of the panel; 1 with fewer than two on
    either."""
    stitch, limit_mm = subject.parts.stitches[seam.stitch], subject.build.limits.notches_meet_mm + seam.eased_mm
    first, other = (side_marks(side, stitch, subject) for side in (panel, wall))
    if min(len(first), len(other)) < TWO:
        return 1
    carried = [mm * seam.length_mm / wall.length_mm for mm in other]
    ways: list[float] = []
    for turn in sorted((one - carried[0]) % seam.length_mm for one in first):
        moved = [mm + turn for mm in carried]
        if farthest_mm(first, moved, seam.length_mm) <= limit_mm and all(abs(turn - one) > limit_mm for one in ways):
            ways.append(turn)
    return len(ways)
