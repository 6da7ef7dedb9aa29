"""Check of straps that are sewn along their edges, or where an end lies back, and on to a piece on the same line."""

from collections.abc import Iterator, Sequence

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Path
from docgen.problems import line_words
from docgen.resolve import END_NAMES, StitchLine, Strap, StrapLanding, end_names, sewn_on_name

NEAR_MM = 1.5  # two rows so near are one row of holes: our choice
LOOKS = 24
FEW = 3  # stitches of an end that lies back which may be sewn again, as its last ones are to hold them: our choice


@check(
    "rows-on-rows",
    "What is sewn by hand along its edges, or where an end lies back, is not sewn on to a piece by other holes in the same "
    "line.",
    "plain from the work; how near is one line is our choice",
    needs_whole=True,
)
def find_rows_on_rows(subject: Subject) -> Iterator[Found]:
    """Ends of straps sewn on by hand, of which half of that row or more lies on that along their edges, or some stitches
    on that which closes an end; once for a strap."""
    told: set[str] = set()
    for base in subject.build.pieces:
        for end in base.strap_landings:
            strap = subject.parts.straps.get(end.strap)
            if strap is None or not end.stitch or strap.name in told:
                continue
            line = next((it for it in _by_hand(strap) if it.seam == sewn_on_name(strap.name, end.end, base.name)), None)
            found = _find_row(subject, strap, end, line) if line else None
            if found:
                told.add(strap.name)
                what = (
                    f'"{strap.name}" is sewn by hand {found[0]}, and on the same line again where it is sewn on to '
                    f'"{base.name}" over {subject.length(end.over_mm)}: its holes are pricked among those that are there'
                )
                said = "where it is sewn through the holes of the first row, say so in the step, and accept this"
                yield end.place, what, f"{found[1]}; {said}", strap.name


def _by_hand(strap: Strap) -> list[StitchLine]:
    return [line for line in strap.piece.marks.stitch_lines if line.by == "hand"]


def _find_row(subject: Subject, strap: Strap, end: StrapLanding, line: StitchLine) -> tuple[str, str] | None:
    """Which row lies where an end is sewn on, and what clears them."""
    edges, *ends = (
        [it.path for it in _by_hand(strap) if it.seam == name] for name in (strap.name, *end_names(strap.name))
    )
    long_mm = path_length(line.path)
    if edges and _shared_mm(line.path, edges) >= long_mm / 2:
        written = line_words(subject.written_at(subject.spec.straps, strap.name, "stitch").line)
        inset_mm = subject.inset_mm(strap.stitch) + 2 * NEAR_MM
        return f"along its edges{written}", f"give this landing a stitch with an inset of {subject.length(inset_mm)}"
    for which, paths in enumerate(ends):
        few_mm = FEW * subject.parts.stitches[strap.ends[which].sewn].pitch_mm if paths else 0.0
        if paths and _shared_mm(line.path, paths) > few_mm:
            inset_mm = subject.inset_mm(strap.ends[which].sewn) + 2 * NEAR_MM
            words = f"where its {END_NAMES[which]} lies back{line_words(strap.ends[which].place.line)}"
            if which == end.end:
                return words, "leave out sewn, as this stitch closes the end too"
            inset = f"give this landing a stitch with an inset of {subject.length(inset_mm)}"
            return words, f"let less of it lie back, or less of it lie here, or {inset}"
    return None


def _shared_mm(row: Path, others: Sequence[Path]) -> float:
    """How much of a row lies on others."""
    step_mm = path_length(row) / LOOKS
    spots = [at for at, _ in points_at(row, [(k + 0.5) * step_mm for k in range(LOOKS)])]
    return step_mm * sum(any(distance_to_path(path, at) < NEAR_MM for path in others) for at in spots)
