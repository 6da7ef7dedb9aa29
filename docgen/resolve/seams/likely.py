"""Which one word of a spec is likely the slip where the sides of a seam are unequal: each that stands in what the seam
hangs on is changed for a word that agrees with its neighbours, and the sides of all seams are measured again. Where one
change alone makes all of them equal, it is told in place of what the sides lack."""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import chain, islice

from docgen.classes import dataclass
from docgen.geometry.outline import RECTANGLE_EDGES, STRIP_EDGES, WHOLE
from docgen.problems import Place, Problem
from docgen.read import HemSpec, PieceSpec, PointSpec, SeamSpec, Spec, Value
from docgen.resolve.pieces.left_outside import NO_CROSS
from docgen.resolve.seams.partners import read_partner
from docgen.resolve.seams.seam import SeamSide
from docgen.resolve.values import OPEN, Reader, list_part_names, names, words

CHECK = "unequal-partners"
STRIPS = "the joins take "  # while a join takes more strips than are cut, its length is not what is meant
LOST = "nothing fixes the length of "
ASKED = "did you mean "
TURNED = "write size = "
MOST_PLACES = 3
HALF = 2  # corners of a rectangle
SWAPPED = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
EXACT_MM = 0.05  # what is meant fits better than within the tolerance
MOST_TRIED, MOST_MEASURED = (
    80,
    6000,
)  # specs that are measured again, and pieces and seams in all of them: a stranger's file
_NAMED = r'"([^"]+)"'
_MOUTH = r": .*\btop\b"
_NAME = r"[a-z][a-z0-9-]*"
_ENDS = r"(?P<head>.*\sfrom\s+)(?P<begin>\S.*?)(?P<to>\s+to\s+)(?P<end>\S.*)"

FindGap = Callable[[Spec], float | None]
"""The most by which sides of a seam of a spec are unequal, in mm; None for too much, or where more is wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One word of a spec changed: where, what is asked or said of it, and the spec with it; `frees` where it leaves an edge
    to another seam that sews it too, for one that none has; `as_mate` where it takes the edges of its mate of one shape."""

    place: Place
    mend: str
    spec: Spec
    frees: bool = False
    as_mate: bool = False


def blame_likely(spec: Spec, problems: list[Problem], find_gap: FindGap) -> list[Problem]:
    """The problems, those of seams with unequal sides told as one where one changed word would mend them all."""
    unequal = [problem for problem in problems if problem.check == CHECK]
    if not unequal:
        return problems
    if any(problem.what.startswith(STRIPS) for problem in problems):
        lost = [one for one in problems if one.what.startswith(LOST)]
        rest = [one for one in problems if one not in unequal and one not in lost]
        if len(lost) == 1:
            meant = re.findall(_NAMED, lost[0].what)[0]
            return [_instead_of_strip(spec, one, meant) if one.what.startswith(STRIPS) else one for one in rest]
        return rest
    opened = {value.place for piece in spec.pieces for value in piece.size if value.value.strip() == OPEN}
    lost = [one for one in problems if one.place in opened and one.what.startswith(LOST)]
    others = [one for one in problems if one.severity == "error" and one not in unequal and one not in lost]
    if sum(NO_CROSS not in one.what for one in others) > 1 or any(one in spec.problems for one in others):
        return problems  # lines that do not cross their piece may hang on its size
    most = min(MOST_TRIED, MOST_MEASURED // (len(spec.pieces) + len(spec.seams)))
    changes = islice(_list_changes(spec, {problem.at for problem in unequal}), most)
    tried = [(change, gap_mm) for change in changes if (gap_mm := find_gap(change.spec)) is not None]
    exact = [change for change, gap_mm in tried if gap_mm <= EXACT_MM]
    found = [change for change in exact if change.mend.startswith(TURNED)] or exact
    found = [change for change in found if change.frees] or [change for change in found if change.as_mate] or found
    found = found or [
        change for change, _ in tried if not change.mend.startswith(TURNED)
    ]  # nearly square, it fits nearly
    if not found or len({change.place for change in found}) > MOST_PLACES:
        return problems
    copied = Counter(words(piece.like) for piece in spec.pieces)
    lines = {value.place.line: copied[piece.name] for piece in spec.pieces for value in piece.size}
    # what others are like is the likelier to be right, and a mouth to stay open
    found.sort(key=lambda change: (lines.get(change.place.line, 0), re.search(_MOUTH, change.mend) is not None))
    first = unequal[0]
    usual = first.mend.split("? else ")[-1]
    mend = _tell_ways(found) + (f"; else {usual}" if len(unequal) == 1 else "")
    rest = [problem for problem in problems if problem not in unequal and problem not in (*lost, *others)]
    return [*rest, replace(first, place=found[0].place, mend=mend.replace("?;", "?"))]


def _instead_of_strip(spec: Spec, problem: Problem, meant: str) -> Problem:
    """A strip that joins take too often, told where it stands for the one that is in none."""
    part = re.findall(_NAMED, problem.what)[0]
    places = [value.place for join in spec.joins for value in join.of if value.value == part]
    what = f'{problem.what}; "{meant}" is in none'
    mend = f'did you mean "{meant}" in one of these places? else {problem.mend}'
    return replace(problem, place=places[-1], what=what, mend=mend) if places else problem


def _tell_ways(found: list[Change]) -> str:
    """One way after the other, each that stands elsewhere than the first with its line."""
    told = {}
    for change in found:
        there = f" on line {change.place.line}" if change.place != found[0].place else ""
        told[change.mend] = change.mend.rstrip("?") + there
    ways = list(told.values())
    further = [way.removeprefix(ASKED) if ways[0].startswith(ASKED) else way for way in ways[1:]]
    return ", or ".join([ways[0], *further]) + ("?" if ways[0].startswith(ASKED) else "")


def _list_changes(spec: Spec, seams: set[str]) -> Iterator[Change]:
    """What may be meant instead, the likeliest first: of the partners, then of the pieces."""
    sides = _read_sides(spec)
    near = {side.part for name in seams for side in sides.get(name, ())}
    beside = [name for name in sides if name not in seams and near & {side.part for side in sides[name]}]
    wide = near | {side.part for name in beside for side in sides[name]}
    joined = {name for join in spec.joins if join.name in wide for name in names(join.of)}
    models = {words(piece.like) for piece in spec.pieces if piece.name in wide | joined}
    pieces = [piece for piece in spec.pieces if piece.name in wide | joined | models]
    by_seam = [seam for name in (*seams, *beside) for seam in spec.seams if seam.name == name]
    return chain(
        *(_change_edges(spec, seam, sides) for seam in by_seam if seam.name in seams),
        *(_follow_mate(spec, seam, sides) for seam in by_seam if seam.name in seams),
        *(_add_edge(spec, seam, sides) for seam in by_seam),
        *(_change_ends(spec, seam) for seam in by_seam),
        *(_change_part(spec, seam, sides) for seam in by_seam if seam.name in seams),
        *(_change_model(spec, piece, sides) for piece in pieces),
        *(_change_turned(spec, piece) for piece in pieces),
        *(_change_round(spec, piece) for piece in pieces),
        *(_change_hems(spec, piece, pieces) for piece in pieces),
        *(_change_points(spec, piece, pieces) for piece in pieces),
        *(_change_name(spec, piece) for piece in pieces),
    )


def _read_sides(spec: Spec) -> Mapping[str, tuple[SeamSide, ...]]:
    """The sides of every seam as written, by its name."""
    known, silent = {*list_part_names(spec), *(one.name for one in spec.trimmings)}, Reader({}, [])
    read = {seam.name: [read_partner(silent, value, known) for value in seam.meet] for seam in spec.seams}
    return {name: tuple(side for side in found if side is not None) for name, found in read.items()}


def _change_ends(spec: Spec, seam: SeamSpec) -> Iterator[Change]:
    """A part of a run of edges that ends otherwise than it begins; both of its ends from the other side, or by another
    measure."""
    measures = [item.name for item in spec.measures if item.length.value.strip() != OPEN]
    for value in seam.meet:
        match = re.fullmatch(_ENDS, value.value.strip())
        if match is not None and match["begin"] != match["end"]:
            for one in (match["begin"], match["end"]):
                written = f"{match['head']}{one}{match['to']}{one}"
                if one.split()[0] == (match["end"] if one == match["begin"] else match["begin"]).split()[0]:
                    yield _meant(spec, seam, value, written)
        elif match is not None:
            side, _, rest = match["begin"].partition(" ")
            others = [f"{SWAPPED[side]} {rest}"] if side in SWAPPED else []
            for used in (one for one in re.findall(_NAME, rest) if one in measures):
                others += [f"{side} {_in_place(rest, used, other)}" for other in measures if other != used]
            for one in others:
                yield _meant(spec, seam, value, f"{match['head']}{one}{match['to']}{one}")


def _in_place(written: str, used: str, other: str) -> str:
    """The words with one measure in place of another."""
    return re.sub(rf"(?<![\w-]){re.escape(used)}(?![\w-])", other, written)


def _change_edges(spec: Spec, seam: SeamSpec, sides: Mapping[str, tuple[SeamSide, ...]]) -> Iterator[Change]:
    """A partner that is sewn by an edge of another seam of its own, for one that no seam has."""
    pieces = {piece.name: piece for piece in spec.pieces}
    for value in seam.meet:
        part, _, written = value.value.partition(":")
        name, edges = part.split()[0], written.split()
        taken = _count_sewn(sides, name)
        free = [edge for edge in _edges_of(pieces, name) if edge not in taken]
        for at in range(len(edges) if "from" not in edges else 0):
            for edge in free:
                change = _meant(spec, seam, value, f"{part}: {' '.join([*edges[:at], edge, *edges[at + 1 :]])}")
                yield replace(change, frees=taken[edges[at]] > 1)


def _follow_mate(spec: Spec, seam: SeamSpec, sides: Mapping[str, tuple[SeamSide, ...]]) -> Iterator[Change]:
    """A partner that is sewn by other edges than its mate of the same shape, where copies are left that no seam sews by
    those: as a lining by the top of each of two panels."""
    pieces = {piece.name: piece for piece in spec.pieces}
    models = {name: words(piece.like) or name for name, piece in pieces.items()}
    for value in seam.meet:
        part, _, written = value.value.partition(":")
        name, taken = part.split()[0], _count_sewn(sides, part.split()[0])
        cut = pieces[name].cut if name in pieces else None
        for mate in sides.get(seam.name, ()) if cut and written.strip() else ():
            is_alike = mate.part != name and models.get(mate.part) == models[name] and mate.ends is None
            is_other = mate.edges and mate.edges != tuple(written.split())
            if is_alike and is_other and cut and all(taken[edge] < cut.value for edge in mate.edges):
                change = _meant(spec, seam, value, f"{part}: {' '.join(mate.edges)}")
                yield replace(change, as_mate=True)


def _add_edge(spec: Spec, seam: SeamSpec, sides: Mapping[str, tuple[SeamSide, ...]]) -> Iterator[Change]:
    """A partner without an edge beside its own that no seam has, and that others of the spec are sewn by."""
    pieces, runs = {piece.name: piece for piece in spec.pieces}, {side.edges for one in sides.values() for side in one}
    for value in seam.meet:
        part, _, written = value.value.partition(":")
        name, edges = part.split()[0], written.split()
        taken = _count_sewn(sides, name)
        for edge in _edges_of(pieces, name) if len(edges) > 1 and "from" not in edges else ():
            for run in ([edge, *edges], [*edges, edge]):
                if edge not in taken and tuple(run) in runs:
                    yield _meant(spec, seam, value, f"{part}: {' '.join(run)}")


def _count_sewn(sides: Mapping[str, tuple[SeamSide, ...]], name: str) -> Counter[str]:
    """How often seams sew each edge of a part."""
    return Counter(edge for found in sides.values() for side in found if side.part == name for edge in side.edges)


def _edges_of(pieces: Mapping[str, PieceSpec], name: str) -> tuple[str, ...]:
    """The edges that a piece has, or its model; none where they hang on a drawing."""
    piece, seen = pieces.get(name), {name}
    while piece is not None and piece.like is not None and piece.like.value not in seen:
        seen.add(piece.like.value)
        piece = pieces.get(piece.like.value)
    shape = words(piece.shape) if piece is not None else ""
    named = tuple(words(point.edge) for point in piece.points) if piece is not None and shape == "outline" else ()
    return {"rectangle": RECTANGLE_EDGES, "strip": STRIP_EDGES}.get(shape, named)


def _change_part(spec: Spec, seam: SeamSpec, sides: Mapping[str, tuple[SeamSide, ...]]) -> Iterator[Change]:
    """A partner that another seam sews too, where a part that could stand there is in none."""
    sewn = [side.part for found in sides.values() for side in found if side.edges]
    strips = {name for join in spec.joins for name in names(join.of)}
    idle = [one.name for one in (*spec.joins, *spec.pieces) if one.name not in sewn and one.name not in strips]
    for value in seam.meet:
        part = value.value.split(":")[0].split()[0]
        if ":" in value.value and sewn.count(part) > 1:
            for name in idle:
                for edge in ("", *(("left", "right") if name not in {one.name for one in spec.pieces} else ())):
                    rest = f": {edge}" if edge else ":" + value.value.split(":")[1]
                    yield _meant(spec, seam, value, name + rest)


def _meant(spec: Spec, seam: SeamSpec, value: Value[str], written: str) -> Change:
    meet = tuple(replace(one, value=written) if one is value else one for one in seam.meet)
    changed = tuple(replace(one, meet=meet) if one is seam else one for one in spec.seams)
    return Change(place=value.place, mend=f'did you mean "{written}"?', spec=replace(spec, seams=changed))


def _change_model(spec: Spec, piece: PieceSpec, sides: Mapping[str, tuple[SeamSide, ...]]) -> Iterator[Change]:
    """A piece that is like another than what it is sewn to by the same edges, or what that is like: by several of its
    edges, by one in two seams to two parts of that shape."""
    if piece.like is None:
        return
    models = {one.name: words(one.like) or one.name for one in spec.pieces}
    met: dict[str, set[str]] = {}
    meant: dict[str, None] = {}
    for found in sides.values():
        own = next((side.edges for side in found if side.part == piece.name), ())
        mates = {side.part for side in found} - {piece.name}
        beside = [it for it in sides.values() if own and it is not found and mates & {side.part for side in it}]
        for side in chain(found, *beside):
            if side.edges == own and side.part in models:
                alike = met.setdefault(models[side.part], set())
                alike.add(side.part)
                if len(own) > 1 or WHOLE in own or len(alike) > 1:
                    meant[models[side.part]] = None
    for name in meant:
        if name not in (piece.name, piece.like.value):
            other = replace(piece, like=replace(piece.like, value=name))
            yield _changed(spec, piece, other, piece.like.place, f'write like = "{name}"')


def _change_turned(spec: Spec, piece: PieceSpec) -> Iterator[Change]:
    """A size whose width and height stand in each other's place."""
    if len(piece.size) == HALF and OPEN not in (one.value.strip() for one in piece.size):
        wide, tall = piece.size
        mend = f'{TURNED}["{tall.value}", "{wide.value}"]'
        yield _changed(spec, piece, replace(piece, size=(tall, wide)), wide.place, mend)


def _change_round(spec: Spec, piece: PieceSpec) -> Iterator[Change]:
    """A corner rounded otherwise than the one beside it; one alone, and two that nobody rounds without others."""
    for one in piece.round:
        for other in piece.round:
            if one.name and other.name and one.length.value != other.length.value:
                changed = replace(one, length=replace(one.length, value=other.length.value))
                corners = tuple(changed if corner is one else corner for corner in piece.round)
                mend = f'write {one.name} = "{other.length.value}" for "{piece.name}", as at its {other.name}'
                yield _changed(spec, piece, replace(piece, round=corners), one.length.place, mend)
    if len(piece.round) == 1 and piece.round[0].name:
        (one,) = piece.round
        up, _, across = one.name.partition("-")
        twin = replace(one, name=f"{up}-{SWAPPED.get(across, across)}")
        mend = f'write {twin.name} = "{one.length.value}" too for "{piece.name}"'
        yield _changed(spec, piece, replace(piece, round=(one, twin)), one.length.place, mend)
    yield from _turn_corners(spec, piece)
    rounded = [one.name for one in piece.round]
    are_aslant = len(rounded) == HALF and {*rounded[0].split("-")}.isdisjoint(rounded[1].split("-"))
    for one in piece.round if are_aslant else ():
        up, _, across = one.name.partition("-")
        for name in (f"{SWAPPED.get(up, up)}-{across}", f"{up}-{SWAPPED.get(across, across)}"):
            if name in rounded:
                continue
            corners = tuple(replace(corner, name=name) if corner is one else corner for corner in piece.round)
            mend = f'write {name} in place of {one.name} for "{piece.name}"'
            yield _changed(spec, piece, replace(piece, round=corners), one.length.place, mend)


def _turn_corners(spec: Spec, piece: PieceSpec) -> Iterator[Change]:
    """Both corners of one edge rounded, for those of the edge across from it as on another piece; not of a model."""
    ups = {one.name.partition("-")[0] for one in piece.round}
    if len(piece.round) == HALF and len(ups) == 1 and ups < {*SWAPPED}:
        (up,) = ups
        corners = tuple(replace(one, name=one.name.replace(up, SWAPPED[up])) for one in piece.round)
        names = {one.name for one in corners}
        alike = any(
            names <= {it.name for it in one.round} or {it.name for it in one.round} == {""} for one in spec.pieces
        )
        if alike and all(words(one.like) != piece.name for one in spec.pieces):
            told = [" and ".join(one.name for one in found) for found in (corners, piece.round)]
            mend = f'write {told[0]} in place of {told[1]} for "{piece.name}"'
            yield _changed(spec, piece, replace(piece, round=corners), piece.round[0].length.place, mend)


def _change_hems(spec: Spec, piece: PieceSpec, pieces: list[PieceSpec]) -> Iterator[Change]:
    """A hem turned otherwise than that of the same edge of a piece that is sewn beside it."""
    for at, hem in enumerate(piece.hems):
        for other in (one for item in pieces if item is not piece for one in item.hems):
            is_same = words(hem.edges) == words(other.edges)
            if is_same and _hem_words(hem) != _hem_words(other) and other.turn is not None and hem.turn is not None:
                turn = replace(hem.turn, value=other.turn.value)
                changed = replace(hem, turn=turn, double=other.double)
                hems = (*piece.hems[:at], changed, *piece.hems[at + 1 :])
                mend = f'hem the {words(hem.edges)} of "{piece.name}" as that of the others: {_hem_words(other)}'
                yield _changed(spec, piece, replace(piece, hems=hems), hem.place, mend)


def _hem_words(hem: HemSpec) -> str:
    return f'turn = "{words(hem.turn)}"' + (", double = true" if hem.double is not None and hem.double.value else "")


def _change_points(spec: Spec, piece: PieceSpec, pieces: list[PieceSpec]) -> Iterator[Change]:
    """A corner of an outline that stands as no other of it, where others of it or of a partner's stand."""
    for at, point in enumerate(piece.points):
        for axis, value in enumerate(point.at):
            alike = [one.at[axis].value for one in piece.points if one is not point and len(one.at) == len(point.at)]
            there = [one.points[at].at[axis].value for one in pieces if one is not piece and at < len(one.points)]
            for other in dict.fromkeys([*there, *alike]):
                if other != value.value and alike.count(value.value) == 0:
                    yield _changed(spec, piece, _moved(piece, at, axis, other), value.place, f'did you mean "{other}"?')


def _moved(piece: PieceSpec, at: int, axis: int, written: str) -> PieceSpec:
    point: PointSpec = piece.points[at]
    values = tuple(replace(one, value=written) if index == axis else one for index, one in enumerate(point.at))
    return replace(piece, points=(*piece.points[:at], replace(point, at=values), *piece.points[at + 1 :]))


def _change_name(spec: Spec, piece: PieceSpec) -> Iterator[Change]:
    """A measure in a size for another measure."""
    for at, value in enumerate(piece.size):
        others = [item.name for item in spec.measures if item.length.value.strip() != OPEN]
        for used in dict.fromkeys(one for one in re.findall(_NAME, value.value) if one in others):
            for other in others:
                if other != used:
                    written = _in_place(value.value, used, other)
                    sizes = tuple(
                        replace(one, value=written) if index == at else one for index, one in enumerate(piece.size)
                    )
                    yield _changed(spec, piece, replace(piece, size=sizes), value.place, f'did you mean "{written}"?')


def _changed(spec: Spec, piece: PieceSpec, other: PieceSpec, place: Place, mend: str) -> Change:
    pieces = tuple(other if one is piece else one for one in spec.pieces)
    return Change(place=place, mend=mend, spec=replace(spec, pieces=pieces))
