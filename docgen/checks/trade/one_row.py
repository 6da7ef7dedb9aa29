"""Check of what one row sews flat on a part: edges that lie on each other there."""

from collections.abc import Iterator
from itertools import islice

from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.sewn import landed_row, landing_words
from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Path
from docgen.resolve import Piece, Seam, SeamSide, side_words

APART_MM = 3.0  # so far rows may lie from each other where both land, and be one: our choice
SPOTS = 24


@check(
    "one-row-apart",
    f"Edges that one seam sews flat on a part land there on each other, within {APART_MM:g} mm.",
    "plane geometry; how far apart is one row is our choice",
    needs_whole=True,
    gives_way=("seam-off-host", "landing-over-edge"),
)
def find_rows_apart(subject: Subject) -> Iterator[Found]:
    """Sides of a seam that land on the part beneath at unlike places, as tiers of pockets at unlike heights; once for a
    seam."""
    for seam in subject.build.seams:
        flat = [subject.parts.pieces.get(side.part) for side in seam.sides if not side.edges]
        found = (one for host in flat if host for one in _tell_apart(subject, seam, host))
        yield from islice(found, 1)


def _tell_apart(subject: Subject, seam: Seam, host: Piece) -> Iterator[Found]:
    rows = [(side, row) for side in seam.sides if side.edges and (row := _row_on(subject, seam, side, host))]
    for other, row in rows[1:]:
        side, first = rows[0]
        apart_mm = _apart_mm(first, row)
        if apart_mm > APART_MM:
            sides = f"{side_words(side)} and {side_words(other)}"
            what = f'the seam "{seam.name}" sews {sides} to "{host.name}" in one row, and where they land these lie '
            what += f"{subject.length(apart_mm)} apart{landing_words(subject, host, subject.parts.pieces[other.part])}"
            mend = f'name "{other.part}" in a seam of its own, or measure again where it lands'
            yield seam.place_of(other), what, mend, seam.name


def _row_on(subject: Subject, seam: Seam, side: SeamSide, host: Piece) -> Path | None:
    """The stitch line of a side where its piece lands on the part, once and flat."""
    piece = subject.parts.pieces.get(side.part)
    landings = [one for one in host.marks.landings if one.piece == side.part]
    if piece is None or len(landings) != 1 or piece.own_folds:
        return None
    return landed_row(piece, side, landings[0], subject.parts.stitches[seam.stitch].inset_mm)


def _apart_mm(one: Path, other: Path) -> float:
    """How far either row lies from the other at most."""
    return max(
        distance_to_path(beneath, at)
        for row, beneath in ((one, other), (other, one))
        for at, _ in points_at(row, [k * path_length(row) / SPOTS for k in range(SPOTS + 1)])
    )
