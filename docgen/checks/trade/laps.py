"""Checks of skived bands against what they are for: the lap of a join, a hem."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.problems import Place
from docgen.resolve import Piece, Skive
from docgen.tables.sewing import SKIVE_SHORT_MM
from docgen.written.units.telling import format_mm


@check(
    "skive-misses-lap",
    f"A band skived for a lap or hem is as wide as that, within {format_mm(SKIVE_SHORT_MM)}, and at most {{skive_beyond}} "
    "wider.",
    PRACTICE,
    needs_whole=True,
)
def find_odd_bands(subject: Subject) -> Iterator[Found]:
    """Of each band that is written, the first that misses; of pieces like each other, once."""
    told: set[Place] = set()
    most_mm = subject.build.limits.skive_beyond_mm
    for piece in subject.build.pieces:
        for skive, over_mm, where, line in _for_laps(subject, piece):
            is_right = over_mm - SKIVE_SHORT_MM - 1e-6 <= skive.width_mm <= over_mm + most_mm + 1e-6
            place = _place(subject, piece, skive)
            if not is_right and place not in told:
                told.add(place)
                short = "leaves a step there" if skive.width_mm < over_mm else "thins what is not covered"
                what = (
                    f'the band along "{skive.edges}" of "{piece.name}" is {subject.length(skive.width_mm)} wide, and '
                    f"{where} {subject.length(over_mm)}{f' (line {line})' if line else ''}: it {short}"
                )
                yield place, what, "look at both figures: the band is as wide as the lap, or a little wider", piece.name


def _for_laps(subject: Subject, piece: Piece) -> Iterator[tuple[Skive, float, str, int]]:
    """Bands with how wide the lap or hem at their edges is, what that is, and its line. An edge at which both are is
    passed over."""
    joins = [join for join in subject.build.joins if piece.name in join.pieces and join.overlap_mm > 0]
    for skive in piece.marks.skives:
        edges = set(skive.edges.split())
        hems = [hem for hem in piece.hems if edges & set(hem.edges)]
        if hems and edges <= set(hems[0].edges):
            yield skive, hems[0].depth_mm, "its hem is turned", hems[0].place.line
        elif joins and not hems and edges <= {"start", "end"}:
            join = joins[0]
            yield skive, join.overlap_mm, f'the strips of "{join.name}" lie over each other', join.overlap_place.line


def _place(subject: Subject, piece: Piece, skive: Skive) -> Place:
    specs = {spec.name: spec for spec in subject.spec.pieces}
    for name in (piece.name, piece.model):
        for item in specs[name].skives if name in specs else ():
            if item.edges and item.width and item.edges.value == skive.edges:
                return item.width.place
    return piece.place
