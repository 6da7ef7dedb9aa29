"""Joints: holes that stand evenly all round a ring but over its joint, and rows of a joint far nearer to the ends of its
strips than the same stitch lies from an edge."""

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.resolve import Hole, Join, joint_gap_mm

LEAST_HOLES: Final = 4
EVEN_MM: Final = 0.5  # a row whose gaps differ by less is even
NARROWER: Final = 0.88  # pitches: a gap over the joint that is narrower is no even one; our choice
WIDER: Final = 1.9  # nor is one nearly so wide: a hole lacks there; between them holes are kept clear of the joint
WIDEST: Final = 2.5  # a gap wider still is left free on purpose
NEARER: Final = 0.6  # of its inset: our choice
NEAR_MM: Final = 3.0  # rows farther in hold whatever they are elsewhere: our choice


@question
def ask_gaps_over_joints(subject: Subject) -> Iterator[Question]:
    """Rows of one hardware at one height of a ring; what leaves more than two gaps free is not meant to go all round."""
    for ring in (join for join in subject.build.joins if join.is_ring):
        for row in _rows(subject, ring):
            levels = [level for level, _ in row]
            gaps = [high - low for low, high in pairwise(levels)]
            pitch_mm, over_mm = gaps[0], ring.length_mm - levels[-1] + levels[0]
            is_even = max(gaps) - min(gaps) < EVEN_MM
            share = over_mm / pitch_mm if pitch_mm else 1.0
            if is_even and (share < NARROWER or WIDER < share < WIDEST):
                pitch, over, whole = map(subject.length, (pitch_mm, over_mm, ring.length_mm))
                hole = row[-1][1]
                what = (
                    f'{len(row)} holes for "{hole.takes}" stand {pitch} apart round "{ring.name}", and the last and the '
                    f"first {over}: it is {whole} round"
                )
                even = subject.length(ring.length_mm / len(row))
                answer = (
                    f"put them {even} apart, half of that from the joint; where it is meant so there is nothing to do"
                )
                yield Question(place=hole.place, what=what, answer=answer)


def _rows(subject: Subject, ring: Join) -> Iterator[list[tuple[float, Hole]]]:
    """Holes of one hardware at one height of a ring, each with how far round it stands, in order."""
    found: dict[tuple[str, float], list[tuple[float, Hole]]] = defaultdict(list)
    begun_mm = 0.0
    for strip in subject.parts.strips(ring.name):
        box = outline_box(strip.outline)
        for hole in strip.marks.holes:
            if hole.takes:
                found[hole.takes, round(hole.at.x - box.left, 1)].append((begun_mm + hole.at.y - box.bottom, hole))
        begun_mm += box.height - ring.overlap_mm
    yield from (sorted(row, key=lambda it: it[0]) for row in found.values() if len(row) >= LEAST_HOLES)


@question
def ask_joint_rows(subject: Subject) -> Iterator[Question]:
    """Joints of several rows, which share the overlap, in leather; once for a join."""
    stitches = subject.parts.stitches
    for join in subject.build.joins:
        strips = subject.parts.strips(join.name)
        inset_mm, gap_mm = subject.inset_mm(join.stitch), joint_gap_mm(join)
        is_leather = all((it := subject.material(strip)) and it.kind == "leather" for strip in strips)
        if join.stitch in stitches and join.rows > 1 and is_leather and gap_mm < min(NEAR_MM, NEARER * inset_mm):
            gap, inset, lap = map(subject.length, (gap_mm, inset_mm, join.overlap_mm))
            what = (
                f'the {join.rows} rows of "{join.name}" share an overlap of {lap}, and lie {gap} from its ends; elsewhere '
                f'"{join.stitch}" lies {inset} from an edge'
            )
            answer = "look at overlap, or sew fewer rows; where they are to lie so near there is nothing to do"
            yield Question(place=join.overlap_place, what=what, answer=answer)
