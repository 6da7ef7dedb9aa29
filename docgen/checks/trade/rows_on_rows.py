"""Check of straps that are sewn along their edges, and on to a piece on the same line."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import path_length, points_at
from docgen.problems import line_words
from docgen.resolve import Piece, StrapLanding, sewn_on_name

NEAR_MM = 1.5  # two rows so near are one row of holes: our choice
LOOKS = 24


@check(
    "rows-on-rows",
    "What is sewn by hand along its edges is not sewn on to a piece by other holes in the same line.",
    "plain from the work; how near is one line is our choice",
    needs_whole=True,
)
def find_rows_on_rows(subject: Subject) -> Iterator[Found]:
    """Ends of straps sewn on by hand, of which half of that row or more lies on their own; once for a strap."""
    told: set[str] = set()
    for base in subject.build.pieces:
        for end in base.strap_landings:
            strap = subject.parts.straps.get(end.strap)
            if strap is None or not end.stitch or strap.name in told or not _runs_on(strap.piece, base, end):
                continue
            told.add(strap.name)
            strap_inset_mm = subject.inset_mm(strap.stitch)
            line = line_words(subject.written_at(subject.spec.straps, strap.name, "stitch").line)
            what = (
                f'"{strap.name}" is sewn by hand along its edges{line}, and on the same line again where it is sewn on to '
                f'"{base.name}" over {subject.length(end.over_mm)}: its holes are pricked among those that are there'
            )
            mend = (
                f"give this landing a stitch with an inset of {subject.length(strap_inset_mm + 2 * NEAR_MM)}; where it is "
                "sewn through the holes of the first row, say so in the step, and accept this"
            )
            yield end.place, what, mend, strap.name


def _runs_on(strap: Piece, base: Piece, end: StrapLanding) -> bool:
    """Whether half of the row that sews an end on lies on the row along the edges of its strap, or more."""
    lines = strap.marks.stitch_lines
    name = sewn_on_name(end.strap, end.end, base.name)
    own = [line.path for line in lines if line.seam == end.strap and line.by == "hand"]
    for line in (line for line in lines if line.seam == name and line.by == "hand" and own):
        step_mm = path_length(line.path) / LOOKS
        spots = [at for at, _ in points_at(line.path, [(k + 0.5) * step_mm for k in range(LOOKS)])]
        near = sum(any(distance_to_path(path, at) < NEAR_MM for path in own) for at in spots)
        if near >= LOOKS / 2:
            return True
    return False
