"""Checks of skived bands against what they are for: the lap of a join, a hem."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.problems import Place, line_words
from docgen.resolve import Piece, Skive
from docgen.tables.sewing import LEAST_HEM_SKIVED_MM, SKIVE_SHORT_MM
from docgen.written.units.telling import format_mm


@check(
    "skive-misses-lap",
    f"A band skived for a lap or hem is as wide as that, within {format_mm(SKIVE_SHORT_MM)}, and at most {{skive_beyond}} "
    "wider.",
    PRACTICE,
    needs_whole=True,
    gives_way=("fold-allowance",),
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
                    f"{where} {subject.length(over_mm)}{line_words(line)}: it {short}"
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


@check(
    "skive-beside-hem",
    f"A piece that is turned over at one edge and skived at another is skived where it is turned, under "
    f"{LEAST_HEM_SKIVED_MM:g} mm of leather too.",
    PRACTICE,
    needs_whole=True,
)
def find_skives_beside_hems(subject: Subject) -> Iterator[Found]:
    """Thin leather with a hem that has no band, and a band along an edge at which nothing is turned or lapped; thicker
    leather is told by its hem. Once for a piece."""
    lapped = {side.part for seam in subject.build.seams for side in seam.sides if side.lap_mm}
    lapped |= {strip for join in subject.build.joins for strip in join.pieces}
    for piece in subject.build.pieces:
        material = subject.material(piece)
        is_thin = material is not None and material.kind == "leather" and material.thickness_mm < LEAST_HEM_SKIVED_MM
        turned = piece.hemmed
        banded = {edge for skive in piece.marks.skives for edge in skive.edges.split()}
        bare = [hem for hem in piece.hems if banded.isdisjoint({*hem.edges, "all"})]
        beside = [skive for skive in piece.marks.skives if turned.isdisjoint(skive.edges.split())]
        if is_thin and bare and beside and piece.name not in lapped:
            skive, hemmed = beside[0], " ".join(bare[0].edges)
            what = f'"{piece.name}" is skived along its {skive.edges}, and turned over along its {hemmed}, unskived'
            mend = f'write edges = "{hemmed}", or accept it where both are meant'
            yield _edges_place(subject, piece, skive), what, mend, piece.name


def _edges_place(subject: Subject, piece: Piece, skive: Skive) -> Place:
    spec = subject.piece_spec(piece.name)
    found = [
        item.edges.place for item in (spec.skives if spec else ()) if item.edges and item.edges.value == skive.edges
    ]
    return found[0] if found else piece.place
