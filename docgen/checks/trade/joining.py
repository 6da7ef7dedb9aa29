"""Checks of how a thing goes together: what the assembly is in doubt about."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from docgen.checks.trade.check import Found, Subject, check, doubts_of
from docgen.checks.trade.copies import find_empty_landings
from docgen.checks.trade.fittings import find_bare_folds
from docgen.geometry.outline import ACROSS_STRIPS, WHOLE, edge_names, outline_box
from docgen.geometry.path import end_point, start_point
from docgen.geometry.run import run_path
from docgen.geometry.vector import distance
from docgen.problems import Problem, is_are, make_error, name_words
from docgen.resolve import Parts, Seam, SeamSide, side_words
from docgen.written.units.telling import format_mm

TINY_MM = 1e-6
MEETS_MM = 10.0
NAME_ANOTHER = "name another edge of it in one of them, or cut more"
NARROW_MM = 40.0  # piping, binding, welts and tapes are cut narrower, and sewn on before: our choice


DOUBTS = {
    "seam-times": ("A seam is sewn no more often than the copies of its sides allow, and how often is plain.", True),
    "seam-copy": ("A seam means copies that are cut, and which is plain where its stack hangs on it.", True),
    "piece-wider-than-fitting": ("A piece is no wider than the fitting it is folded round.", True),
    "copies-left-over": ("Every copy of a piece is sewn by its seams.", False),
    "piece-loose": ("Every piece is held by a seam, a join, a landing or hardware.", False),
    "strap-unfastened": (
        "Every strap of a thing that has pieces is fastened: by a landing, a seam, a ring or hardware.",
        False,
    ),
    "ends-stay-open": ("What is sewn between two parts that meet beside it is sewn to them at its ends too.", False),
}


def _list_doubts(subject: Subject) -> Iterator[Problem]:
    """Doubts of the assembly; which copy is meant is plain once as many are cut as there are places for them."""
    miscounted = {name: (place, what, mend) for place, what, mend, name in find_empty_landings(subject)}
    few = _find_few_copies(subject)
    bare = find_bare_folds(subject).keys()  # told by the step that sets what should lie in them
    yield from few.values()
    for doubt in subject.build.assembly.doubts:
        if any(f'of "{part}"' in doubt.what and doubt.check == "seam-copy" for part in few):
            continue
        strap = subject.parts.straps.get(doubt.at)
        if doubt.check == "strap-unfastened" and strap and any(bare & {*end.rings} for end in strap.ends):
            continue
        names = [name for name in miscounted if doubt.check == "seam-copy" and f'of "{name}"' in doubt.what]
        if names:
            place, what, mend = miscounted[names[0]]
            yield replace(doubt, place=place, what=f"{what}: which is sewn is not plain", mend=mend)
        else:
            yield (
                _tell_left_over(subject, doubt)
                if doubt.check == "copies-left-over" and doubt.at in subject.specs
                else doubt
            )


def _tell_left_over(subject: Subject, doubt: Problem) -> Problem:
    """Copies that no seam sews, at the line of how many are cut; with a seam that sews by the same edges one part alone, of
    the shape of what the others are sewn to."""
    parts, seams = subject.parts, subject.build.seams
    own = {side.edges for seam in seams for side in seam.sides if side.part == doubt.at and side.edges}
    beside = [side.part for seam in seams if doubt.at in seam.parts for side in seam.sides if side.part in parts.pieces]
    models = {parts.pieces[part].model for part in beside}
    lone = [seam for seam in seams if len(seam.sides) == 1 and seam.sides[0].edges in own]
    meant = [
        one for one in lone if one.sides[0].part in parts.pieces and parts.pieces[one.sides[0].part].model in models
    ]
    mend = doubt.mend
    if len(meant) == 1:
        mend = f'name "{doubt.at}" in the seam "{meant[0].name}" too (line {meant[0].place.line}); else {mend}'
    return replace(doubt, place=subject.written_at(subject.spec.pieces, doubt.at, "cut"), mend=mend)


def _find_few_copies(subject: Subject) -> dict[str, Problem]:
    """Parts of which seams name every copy up to one more than are cut: so many are meant."""
    sides: dict[str, list[SeamSide]] = {}
    for seam in subject.build.seams:
        for side in (side for side in seam.sides if side.copy):
            sides.setdefault(side.part, []).append(side)
    found = {}
    for part, named in sides.items():
        copies, cut = {side.copy for side in named}, subject.counts[part]
        if part in subject.specs and copies == {*range(1, cut + 2)}:
            place = subject.written_at(subject.spec.pieces, part, "cut")
            lines = ", ".join(str(side.place.line) for side in named if side.copy > cut)
            what = (
                f'seams name copy {cut + 1} of "{part}" (line {lines}) beside all others, and {cut} {is_are(cut)} cut'
            )
            found[part] = make_error(place, what, f"write cut = {cut + 1}", "seam-copy", part)
    return found


for _name, (_says, _stops) in DOUBTS.items():
    check(_name, _says, "counted from the spec", stops=_stops, needs_whole=True)(doubts_of(_name, _list_doubts))


@check(
    "edge-in-two-seams",
    "An edge is sewn to no more walls than there are copies of it.",
    "counted; what is narrow, no leather, or small enough to lie on the piece may be sewn on before",
    needs_whole=True,
    gives_way=("edge-sewn-again",),
)
def find_edges_in_two_seams(subject: Subject) -> Iterator[Found]:
    """Seams that each sew another wall or panel to one edge, and more of them than copies; told once for a part."""
    assembly, parts = subject.build.assembly, subject.parts
    counts = Counter(copy.part for copy in assembly.copies)
    for part in dict.fromkeys(side.part for seam in subject.build.seams for side in seam.sides):
        for edge, takings in _takings(subject, part).items():
            seams = {tuple(_walls_at(parts, seam, part)): seam for seam in takings if _walls_at(parts, seam, part)}
            times = sum(assembly.times(seam.name) for seam in seams.values())
            if len(seams) > 1 and times > counts[part]:
                names = name_words(seam.name for seam in seams.values())
                across = ACROSS_STRIPS.get(edge, "")
                own, free, meant = f'the {"edge" if edge == WHOLE else edge} of "{part}"', "", NAME_ANOTHER
                if across and across not in subject.edges_sewn(part):
                    own, free = f'"{part}: {edge}"', f'; "{part}: {across}" in none'
                    meant = f'did you mean "{part}: {across}" in one of them?'
                what = f"{own} is sewn {times} times, in {names}, and there is {counts[part]} of it{free}"
                last = [*seams.values()][-1]
                place = last.place_of(next(side for side in last.sides if side.part == part))
                piece = parts.pieces.get(part)
                if piece is not None and len(edge_names(piece.outline)) < 2 and part in subject.specs:  # no other edge
                    place = subject.written_at(subject.spec.pieces, part, "cut")
                    meant = f"write cut = {times}, or name another part in one of them"
                yield place, what, meant, part
                break


def _takings(subject: Subject, part: str) -> dict[str, list[Seam]]:
    """The seams that take each edge of a part."""
    found: dict[str, list[Seam]] = {}
    for seam in subject.build.seams:
        for side in seam.sides:
            if side.part == part and not side.copy and not side.stretch_mm:
                for edge in side.edges:
                    found.setdefault(edge, []).append(seam)
    return found


def _walls_at(parts: Parts, seam: Seam, part: str) -> list[tuple[str, tuple[str, ...]]]:
    """The other partners of a seam that stand on the part or go on from it, too large to lie on it, and by which edges;
    of a corner that a part makes with itself, its own."""
    width_mm, height_mm = _size(parts, part)
    if seam.is_turned or any(side.lap_mm for side in seam.sides):
        width_mm = height_mm = 0.0  # what is turned out, or laps, goes on from the edge
    others = [side for side in seam.sides if side.edges and side.part != part and side.part not in parts.straps]
    walls = [(side.part, side.edges) for side in others if _is_wall(parts, side.part, width_mm, height_mm)]
    own = [side.edges for side in seam.sides if side.part == part and side.edges]
    is_corner = len(own) == 2 == len(seam.sides) and {*own[0]}.isdisjoint(own[1])
    return [*walls, *((part, edges) for edges in own if is_corner)]


def _is_wall(parts: Parts, name: str, width_mm: float, height_mm: float) -> bool:
    small_mm, large_mm = sorted(_size(parts, name))
    strips = [strip for strip in parts.strips(name) if not strip.by_length]  # a zip among them is part of the wall
    is_leather = all(parts.materials[strip.material].kind == "leather" for strip in strips)
    lies_on = small_mm <= min(width_mm, height_mm) + TINY_MM and large_mm <= max(width_mm, height_mm) + TINY_MM
    return is_leather and small_mm > NARROW_MM and not lies_on


def _size(parts: Parts, name: str) -> tuple[float, float]:
    """Width and height of a piece as it is sewn, or of a join; nothing for a strap."""
    if name in parts.joins:
        return parts.joins[name].width_mm, parts.joins[name].length_mm
    if name not in parts.pieces:
        return 0.0, 0.0
    box = outline_box(parts.pieces[name].sewn_outline)
    return box.width, box.height


@check(
    "round-without-ring",
    "What is sewn to a part all round closes on itself, where it is joined of strips.",
    "plain from the work",
    needs_whole=True,
)
def find_open_rings(subject: Subject) -> Iterator[Found]:
    """Joins that are no ring, of which one whole side goes round the whole edge of a piece; once for a join."""
    joins = {join.name: join for join in subject.build.joins if not join.is_ring}
    told: set[str] = set()
    for seam in subject.build.seams if joins else ():
        round_parts = [side.part for side in seam.sides if goes_round(subject, side)]
        for name in (side.part for side in seam.sides if side.part in joins and side.part not in told):
            if round_parts:
                told.add(name)
                there = f'"{round_parts[0]}" all round (line {seam.place.line})'
                what = f'"{name}" is sewn to {there}, and does not close on itself'
                mend = (
                    f"write ring = true in [joins.{name}], or sew it to fewer edges; accept it where its ends stay open"
                )
                yield joins[name].place, what, mend, name


@check(
    "ring-on-open-run",
    "A join that closes on itself is sewn to what closes too.",
    f"plane geometry: its ends meet, and those of the run lie more than {format_mm(MEETS_MM)} apart; that is our choice",
    needs_whole=True,
)
def find_rings_on_open_runs(subject: Subject) -> Iterator[Found]:
    """Rings of which one whole side is sewn to edges of a flat piece that do not go round it; once for a join."""
    rings = {join.name: join for join in subject.build.joins if join.is_ring}
    told: set[str] = set()
    for seam in subject.build.seams if rings else ():
        for ring in (side for side in seam.sides if side.part in rings and side.edges and not side.stretch_mm):
            open_runs = [side for side in seam.sides if side is not ring and _is_open_run(subject, side)]
            spec = next((one for one in subject.spec.joins if one.name == ring.part), None)
            if open_runs and ring.part not in told and spec is not None and spec.ring is not None:
                told.add(ring.part)
                there = f"{side_words(open_runs[0])} (line {seam.place.line}), which does not close"
                what = f'"{ring.part}" closes on itself, and all of it is sewn to {there}'
                yield spec.ring.place, what, "take ring = true out, or sew it to all edges round", ring.part


def _is_open_run(subject: Subject, side: SeamSide) -> bool:
    """Whether a side is a run of edges of a flat piece, from one place to another."""
    piece = subject.parts.pieces.get(side.part)
    if piece is None or piece.marks.folds or not side.edges or WHOLE in side.edges or goes_round(subject, side):
        return False
    run = run_path(piece.sewn_outline, side.edges)
    return distance(start_point(run), end_point(run)) > MEETS_MM


def goes_round(subject: Subject, side: SeamSide) -> bool:
    """Whether a side of a seam is the whole outline of a piece."""
    piece = subject.parts.pieces.get(side.part)
    return piece is not None and (WHOLE in side.edges or {*edge_names(piece.outline)} <= {*side.edges})
