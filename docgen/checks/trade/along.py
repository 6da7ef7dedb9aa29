"""Checks of what lies along an edge that is sewn: folds within a lap, rows beyond a hem, ends of straps that reach out of
what holds them or lead another way than their twin, walls of which one copy stays open."""

from collections import Counter
from collections.abc import Iterator, Sequence

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path, farthest_out_mm
from docgen.geometry.outline import edge_names, edge_path, outline_box, outline_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, scale
from docgen.problems import Place, line_words
from docgen.resolve import Piece, Seam, SeamSide, StrapLanding, side_words

TINY_MM = 1e-6
HEM_BEYOND_MM = 1.0  # what a hem goes on beyond its last row
OVER_EDGE_MM = 1.0
ALIKE_MM = 0.1
LEAST_BEND_DEG = 15
UPRIGHT = {"up", "down"}


@check(
    "fold-within-lap",
    "A fold does not lie where an edge is lapped: the seam holds it flat.",
    "plain from the work",
    needs_whole=True,
)
def find_folds_in_laps(subject: Subject) -> Iterator[Found]:
    """Folds along an edge that a seam lays over another, nearer to it than the lap is wide."""
    for seam in subject.build.seams:
        lap_mm = max(side.lap_mm for side in seam.sides)
        for side in seam.sides if lap_mm else ():
            piece = subject.parts.pieces.get(side.part)
            for fold in piece.marks.folds if piece else ():
                if piece is None or fold.of_hem or not side.edges:
                    continue
                near = [edge for edge in side.edges if _lies_along(piece, edge, (fold.start, fold.end), lap_mm)]
                if near:
                    gap_mm = distance_to_path(edge_path(piece.sewn_outline, near[0]), fold.start)
                    what = (
                        f'a fold of "{piece.name}" lies {subject.length(gap_mm)} from its {near[0]}, and the seam '
                        f'"{seam.name}" laps that edge by {subject.length(lap_mm)} (line {_lap_line(subject, seam)})'
                    )
                    yield fold.place, what, "measure the fold again, or make the lap narrower", piece.name


def _lies_along(piece: Piece, edge: str, spots: Sequence[Point], lap_mm: float) -> bool:
    if edge not in edge_names(piece.sewn_outline):
        return False
    path = edge_path(piece.sewn_outline, edge)
    return all(TINY_MM < distance_to_path(path, at) < lap_mm - TINY_MM for at in spots)


def _lap_line(subject: Subject, seam: Seam) -> int:
    return subject.written_at(subject.spec.seams, seam.name, "lap").line


@check(
    "fold-hardly-bent",
    f"A fold that is open bends by {LEAST_BEND_DEG} degrees or more.",
    "common practice, no published source: less than that leather does by itself",
)
def find_flat_folds(subject: Subject) -> Iterator[Found]:
    for piece in subject.build.pieces:
        for fold in piece.marks.folds:
            if fold.is_open and 0 < fold.angle_deg < LEAST_BEND_DEG:
                what = f'a fold of "{piece.name}" bends by {fold.angle_deg:g} degrees'
                yield fold.place, what, "look at angle: 90 is a right angle, 180 lies back on itself", piece.name


@check("rows-beyond-hem", "All rows that hold a hem lie on what is turned over.", "plane geometry", needs_whole=True)
def find_rows_beyond_hems(subject: Subject) -> Iterator[Found]:
    """Seams of a hemmed edge to its own piece, whose last row lies farther in than the hem reaches, or whose only one
    does."""
    for seam in subject.build.seams:
        flat = {side.part for side in seam.sides if not side.edges}
        stitch = subject.parts.stitches[seam.stitch]
        last_mm = stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            hems = [hem for hem in piece.hems if {*hem.edges} & {*side.edges}] if piece and side.part in flat else []
            deep_mm = min((hem.turned_mm for hem in hems), default=last_mm + HEM_BEYOND_MM)
            if hems and stitch.inset_mm >= deep_mm - TINY_MM:
                what = (
                    f'the row of "{seam.name}" lies {subject.length(stitch.inset_mm)} from the fold of the hem'
                    f'{line_words(subject.place_of(stitch, "inset").line)}, and "{side.part}" is turned over '
                    f"{subject.length(deep_mm)}: it does not go through what is turned"
                )
                turns = (
                    [item.turn for item in spec.hems if item.turn] if (spec := subject.piece_spec(side.part)) else []
                )
                place = turns[0].place if len(turns) == 1 else hems[0].place
                yield place, what, "turn more over, or sew nearer to the fold", side.part
            if stitch.rows > 1 and stitch.inset_mm < deep_mm and last_mm > deep_mm - HEM_BEYOND_MM + TINY_MM:
                what = (
                    f'the last of {stitch.rows} rows of "{seam.name}" lies {subject.length(last_mm)} from the fold of the '
                    f'hem, and "{side.part}" is turned over {subject.length(deep_mm)} (line {hems[0].place.line})'
                )
                place = subject.place_of(stitch, "rows")
                yield place, what, "sew fewer rows, or nearer to each other, or turn more over", side.part


@check(
    "strap-end-over-edge",
    f"What is held of the end of a strap lies within the piece that holds it, within {OVER_EDGE_MM:g} mm.",
    "plane geometry",
    needs_whole=True,
)
def find_ends_over_edges(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: [item for item in spec.landings if item.strap] for spec in subject.spec.pieces}
    for base in subject.build.pieces:
        shape = outline_path(base.outline)
        for end in base.strap_landings:
            item = next((one for one in specs.get(base.name, []) if one.place == end.place), None)
            tip = add(end.at, scale(end.way, end.over_mm))  # what lies beside its middle is told as a landing
            over_mm = farthest_out_mm(shape, [tip]) if not base.marks.folds else 0.0
            if item and item.over and over_mm > OVER_EDGE_MM:
                what = (
                    f'of "{end.strap}" {subject.length(end.over_mm)} are to lie on "{base.name}", and that reaches '
                    f"{subject.length(over_mm)} over its edge (line {end.place.line})"
                )
                yield item.over.place, what, "look at over, at where it lands and at the way it leads", base.name


@check(
    "strap-shorter-than-over",
    "A strap is longer than what of it lies on the part that it is held on.",
    "plain from the figures",
    needs_whole=True,
    gives_way=("strap-short-between",),
)
def find_short_for_over(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: [item for item in spec.landings if item.strap] for spec in subject.spec.pieces}
    told: set[str] = set()
    for base in subject.build.pieces:
        for end in base.strap_landings:
            strap = subject.parts.straps.get(end.strap)
            item = next((one for one in specs.get(base.name, []) if one.place == end.place), None)
            is_short = strap is not None and 0 < strap.finished_mm < end.over_mm - ALIKE_MM
            if strap and item and item.over and is_short and strap.name not in told:
                told.add(strap.name)
                own = next(one for one in subject.spec.straps if one.name == strap.name)
                line = line_words(own.finished.place.line if own.finished else None)
                what = (
                    f'of "{end.strap}" {subject.length(end.over_mm)} are to lie on "{base.name}", and it is '
                    f"{subject.length(strap.finished_mm)} long{line}"
                )
                yield item.over.place, what, "look at both figures and their units", strap.name


@check(
    "twins-lead-unlike",
    "Ends of one strap that are held left and right of a middle, at one height, lead the same way up or down.",
    "plain from the work; asked, since both may be meant",
    needs_whole=True,
)
def find_unlike_leads(subject: Subject) -> Iterator[Found]:
    told: set[Place] = set()
    for base in subject.build.pieces:
        middle_mm = outline_box(base.outline).centre.x
        ends = [end for end in base.strap_landings if end.leads in UPRIGHT]
        for k, end in enumerate(ends):
            twins = [other for other in ends[:k] if _is_twin(end, other, middle_mm)]
            if twins and twins[0].leads != end.leads and end.place not in told:
                told.add(end.place)
                first, last = sorted((twins[0], end), key=lambda one: one.place.line)
                what = (
                    f'the ends of "{end.strap}" on "{base.name}" lie alike left and right of its middle, and one leads '
                    f"{first.leads}, the other {last.leads} (line {first.place.line} and line {last.place.line})"
                )
                yield (
                    last.place,
                    what,
                    f'write leads = "{first.leads}" here, or leads = "{last.leads}" on line {first.place.line}',
                    base.name,
                )
                break


def _is_twin(one: StrapLanding, other: StrapLanding, middle_mm: float) -> bool:
    is_across = abs(one.at.x + other.at.x - 2 * middle_mm) < ALIKE_MM and abs(one.at.y - other.at.y) < ALIKE_MM
    return is_across and one.strap == other.strap and one.at != other.at


@check(
    "wall-copy-open",
    "Of a wall that is cut several times, both long edges are sewn as often as it is cut.",
    "counted",
    needs_whole=True,
)
def find_open_copies(subject: Subject) -> Iterator[Found]:
    """Walls and joins of which one long edge is sewn in every copy and the other in some; told of the partner that is cut
    too seldom. What is said of single copies is passed over."""
    build = subject.build
    times: dict[str, Counter[str]] = {}
    seams: dict[tuple[str, str], tuple[Seam, SeamSide]] = {}
    copied: set[str] = set()
    for seam in build.seams:
        for side in seam.sides:
            copied |= {side.part} if side.copy else set()
            if side.edges in (("left",), ("right",)) and len([one for one in seam.sides if one.edges]) > 1:
                times.setdefault(side.part, Counter())[side.edges[0]] += build.assembly.times(seam.name)
                seams[side.part, side.edges[0]] = seam, side
    for wall, found in times.items():
        cut = subject.counts[wall]
        if wall in copied or cut < 2 or {*found} != {"left", "right"} or sorted(found.values())[-1] != cut:
            continue
        few = min(found, key=found.__getitem__)
        if found[few] < cut:
            seam, side = seams[wall, few]
            others = [one for one in seam.sides if one.part != wall and one.edges]
            partner = min(others, key=lambda one: subject.counts[one.part])
            what = (
                f'{cut} of "{wall}" are cut, and "{seam.name}" sews {side_words(side)} to "{partner.part}" '
                f"{_often(found[few])} (line {seam.place.line}): {cut - found[few]} stays open there"
            )
            mend = f"write cut = {cut}, or accept this"
            yield _cut_place(subject, partner.part), what, mend, partner.part


def _often(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _cut_place(subject: Subject, name: str) -> Place:
    specs = (*subject.spec.pieces, *subject.spec.straps)
    if any(spec.name == name for spec in specs):
        return subject.written_at(specs, name, "cut")
    return next(join.place for join in subject.build.joins if join.name == name)
