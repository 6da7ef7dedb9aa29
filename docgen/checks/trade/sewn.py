"""Checks of seams against where parts lie: a hem that is not there, an edge beside its host, the same edges twice, foam
under the needle."""

from collections.abc import Iterator, Mapping

from docgen.assemble import stands_off
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.checks.trade.padding import tell_sewn_padding
from docgen.geometry.measure import farthest_out_mm
from docgen.geometry.nearest import inset_stretch
from docgen.geometry.outline import SIDES, WHOLE, outline_box, outline_path
from docgen.geometry.path import path_length, points_at, transform_path
from docgen.geometry.shapes import GeometryError, Path
from docgen.read import PieceSpec
from docgen.resolve import Landing, Piece, Seam, SeamSide, side_words

OVER_EDGE_MM = 1.0
SPOTS = 24
SMALLER = "look at both sizes, or say with a landing how it lies"
NARROW_MM = 40.0
TINY_MM = 1e-6
SAME_SIZE_MM = 3.0  # what differs less lies edge on edge


@check(
    "seam-off-host",
    "The edge that is sewn flat on a part lies on it, where it is said how it lands.",
    "plane geometry",
    needs_whole=True,
    gives_way=("landing-over-edge",),
)
def find_seams_off_host(subject: Subject) -> Iterator[Found]:
    """Pieces with a place on the part that a seam sews them to, whose stitch line runs beside it there; and pieces that
    land elsewhere than where their seam says."""
    told: set[str] = set()
    for seam in subject.build.seams:
        flat = [
            subject.parts.pieces[side.part]
            for side in seam.sides
            if not side.edges and side.part in subject.parts.pieces
        ]
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            if piece is not None and side.edges and flat and side.part not in {host.name for host in flat}:
                yield from _tell_off_host(subject, seam, side, piece, flat)
                siblings = [] if piece.model in told else [*_tell_off_sibling(subject, seam, side, piece, flat)]
                told |= {piece.model} if siblings else set()
                yield from siblings
                yield from _tell_larger(subject, seam, side, piece, flat)


def _tell_larger(subject: Subject, seam: Seam, side: SeamSide, piece: Piece, flat: list[Piece]) -> Iterator[Found]:
    """A run that is longer than the part it is sewn flat on is long, where no landing says how it lies."""
    if piece.marks.folds or any(base.marks.folds or _is_landed(subject, piece, base) for base in flat):
        return
    hosts = {one.host.part for one in subject.build.assembly.lies if one.is_cover and one.copy.part == piece.name}
    if any(other.edges == side.edges and other.part in hosts for other in seam.sides):
        return  # it lies so on what it lines
    base = max(flat, key=lambda one: max(_sides_mm(one)))
    long_mm = max((path_length(line.path) for line in piece.marks.stitch_lines if line.seam == seam.name), default=0.0)
    if (
        len(side.edges) == 1
        and side.edges[0] not in (WHOLE, "edge")
        and long_mm > max(_sides_mm(base)) + OVER_EDGE_MM
        and not base.is_strap
    ):
        what = (
            f'{side_words(side)} is sewn {subject.length(long_mm)} long on "{base.name}", which is '
            f"{subject.length(max(_sides_mm(base)))} at its longest (line {base.place.line})"
        )
        yield subject.size_place(piece, is_across=side.edges[0] in ("top", "bottom")), what, SMALLER, seam.name


def _is_landed(subject: Subject, piece: Piece, base: Piece) -> bool:
    """Whether a place on a part tells how another lies on it: its own, or that of what it goes round as a wall."""
    seams, landings = subject.build.seams, base.marks.landings
    return any(piece.name in (it.piece, stands_off(seams, it.piece, base.name)) for it in landings)


def _sides_mm(piece: Piece) -> tuple[float, float]:
    box = outline_box(piece.sewn_outline)
    return box.width, box.height


def _tell_off_host(subject: Subject, seam: Seam, side: SeamSide, piece: Piece, flat: list[Piece]) -> Iterator[Found]:
    hosts = [base for base in subject.build.pieces if any(it.piece == piece.name for it in base.marks.landings)]
    here = [base for base in hosts if base in flat]
    if hosts and not here and all(base.material for base in flat):
        if any(
            subject.lies_behind(host.name, base.name) or host.model == base.model for host in hosts for base in flat
        ):
            return
        what = f'the seam "{seam.name}" sews "{piece.name}" to "{flat[0].name}", and it lands on "{hosts[0].name}"'
        yield (seam.place_of(side), what, f'name "{hosts[0].name}" in the seam, or move the landing', seam.name)
    inset_mm = subject.parts.stitches[seam.stitch].inset_mm
    for base in here:
        landings = [it for it in base.marks.landings if it.piece == piece.name]
        shape = outline_path(base.outline)
        over_mm = max(_over_mm(shape, piece, side, it, inset_mm) for it in landings)
        if over_mm > OVER_EDGE_MM:
            what = (
                f'the seam "{seam.name}" sews {side_words(side)} to "{base.name}", and where "{piece.name}" lands its '
                f"line runs {subject.length(over_mm)} beside it{landing_words(subject, base, piece)}"
            )
            is_across = side.edges[0] in ("top", "bottom")
            wide_mm, room_mm = (_sides_mm(one)[0 if is_across else 1] for one in (piece, base))
            if len(side.edges) == 1 and side.edges[0] in SIDES and wide_mm > room_mm + 2 * OVER_EDGE_MM:
                what += f': it is {subject.length(wide_mm)} along there, and "{base.name}" {subject.length(room_mm)}'
                yield subject.size_place(piece, is_across=is_across), what, "look at both sizes", seam.name
                continue
            yield (seam.place_of(side), what, "name the edge that lies on it, or measure the landing again", seam.name)


def landing_words(subject: Subject, base: Piece, piece: Piece) -> str:
    """` (line 12)`, where it is written that a piece lands there."""
    spec = subject.piece_spec(base.name)
    lines = [
        it.at.place.line
        for it in (spec.landings if spec else ())
        if it.at and it.piece and it.piece.value == piece.name
    ]
    return f" (line {lines[0]})" if lines else ""


def _tell_off_sibling(subject: Subject, seam: Seam, side: SeamSide, piece: Piece, flat: list[Piece]) -> Iterator[Found]:
    """Where the seam sews a piece through another that lands on the same host, once each: beside that one."""
    inset_mm = subject.parts.stitches[seam.stitch].inset_mm
    for base in subject.build.pieces:
        own = [it for it in base.marks.landings if it.piece == piece.name]
        for other in flat:
            there = [it for it in base.marks.landings if it.piece == other.name]
            if len(own) != 1 or len(there) != 1 or other.marks.folds:
                continue
            over_mm = _over_mm(there[0].outline, piece, side, own[0], inset_mm)
            if over_mm > OVER_EDGE_MM:
                what = (
                    f'the seam "{seam.name}" sews {side_words(side)} through "{other.name}", and where both land on '
                    f'"{base.name}" its line runs {subject.length(over_mm)} beside that (lines {piece.place.line} and '
                    f"{other.place.line})"
                )
                mend = "look at both sizes, and measure again where both land"
                yield seam.place_of(side), what, mend, seam.name


def _over_mm(shape: Path, piece: Piece, side: SeamSide, landing: Landing, inset_mm: float) -> float:
    """How far the stitch line of a side leaves the shape on which the piece lands."""
    row = landed_row(piece, side, landing, inset_mm)
    if row is None:
        return 0.0
    step_mm = path_length(row) / SPOTS
    return farthest_out_mm(shape, [at for at, _ in points_at(row, ((k + 0.5) * step_mm for k in range(SPOTS)))])


def landed_row(piece: Piece, side: SeamSide, landing: Landing, inset_mm: float) -> Path | None:
    """The stitch line of a side where its piece lands; None of what is folded on itself or pleated, and where none runs."""
    if _is_folded(piece) or piece.is_pleated:
        return None
    try:
        path = inset_stretch(piece.sewn_outline, side.edges, inset_mm, side.stretch_mm)
    except GeometryError:
        return None
    return transform_path(path, landing.move_of_lines)


@check(
    "seam-twice",
    "No two seams of one stitch sew the same edges to each other.",
    "counted; a second row is said in the stitch",
    needs_whole=True,
)
def find_repeated_seams(subject: Subject) -> Iterator[Found]:
    """Seams of one stitch that name the same edges of the same parts, more often than there are copies."""
    build = subject.build
    seen: dict[tuple[str, frozenset[tuple[object, ...]]], Seam] = {}
    for seam in build.seams:
        sides = ((side, tuple(round(mm, 1) for mm in side.stretch_mm or ())) for side in seam.sides)
        key = seam.stitch, frozenset((one.part, tuple(sorted(one.edges)), one.copy, part) for one, part in sides)
        first = seen.setdefault(key, seam)
        fewest = min(subject.counts[side.part] for side in seam.sides)
        if first is not seam and build.assembly.times(first.name) + build.assembly.times(seam.name) > fewest:
            words = " to ".join(side_words(side) for side in seam.sides)
            what = f'the seams "{first.name}" and "{seam.name}" both sew {words}'
            yield seam.place, what, "name the part or the edge that is meant in one of them", seam.name


@check("foam-under-needle", "Foam ends beside the stitch line.", PRACTICE, needs_whole=True)
def find_sewn_foam(subject: Subject) -> Iterator[Found]:
    """Seams whose needle goes through foam; once for a piece of foam."""
    materials = subject.parts.materials
    told: set[str] = set()
    for once in subject.build.assembly.sewn:
        seam = next(seam for seam in subject.build.seams if seam.name == once.seam)
        for layer in once.stack.layers:
            strips = subject.parts.strips(layer.part)
            piece = subject.parts.pieces.get(layer.part) or next(iter(strips), None)
            if piece is not None and materials[layer.material].kind == "foam" and layer.part not in told:
                told.add(layer.part)
                what = (
                    f'the seam "{once.seam}" goes through the foam of "{layer.part}": it is crushed, and the seam gives'
                )
                inset = subject.length(subject.parts.stitches[seam.stitch].inset_mm)
                mend = f"cut it smaller, by more than the {inset} of the stitch line (inset = ...), or accept this"
                place = subject.written_at(subject.spec.pieces, piece.name, "inset")
                yield place, what, mend, layer.part
    yield from tell_sewn_padding(subject)


@check("board-in-allowance", "Board and foam lie clear of seams that are turned.", "plane geometry", needs_whole=True)
def find_boards_in_allowances(subject: Subject) -> Iterator[Found]:
    """Board and foam of the shape of a part that is sewn face to face and turned, larger than what is left between its
    stitch lines: it would be sewn in, or not go in; once for a piece."""
    specs = {spec.name: spec for spec in subject.spec.pieces}
    for piece in subject.build.pieces:
        material = subject.material(piece)
        if material is None or material.kind not in ("board", "foam") or not specs[piece.name].inset:
            continue
        model = specs[piece.name].like
        for seam in subject.build.seams:
            stitch = subject.parts.stitches[seam.stitch]
            is_sewn = any(model and side.part == model.value and side.edges for side in seam.sides)
            own = piece.name in seam.parts
            if seam.is_turned and is_sewn and not own and -TINY_MM < piece.inset_mm < stitch.inset_mm - TINY_MM:
                what = (
                    f'"{piece.name}" is {subject.length(piece.inset_mm)} smaller all round than "{_model(specs, piece)}", '
                    f'and the seam "{seam.name}" is turned {subject.length(stitch.inset_mm)} from the edge (line '
                    f"{subject.place_of(stitch, 'inset').line}): it does not lie between its stitch lines"
                )
                inset = specs[piece.name].inset
                place = inset.place if inset else piece.place
                yield place, what, f"make inset {subject.length(stitch.inset_mm)} or more", piece.name
                break


def _model(specs: Mapping[str, PieceSpec], piece: Piece) -> str:
    like = specs[piece.name].like
    return like.value if like else ""


@check(
    "seam-nowhere", "What is sewn flat on a larger part has its place there.", "plain from the work", needs_whole=True
)
def find_seams_without_place(subject: Subject) -> Iterator[Found]:
    """Pieces that are sewn flat on one that is larger both ways, or by one edge alone, and no landing tells where."""
    build, pieces = subject.build, subject.parts.pieces
    landed = {landing.piece for base in build.pieces for landing in base.marks.landings}
    told: set[tuple[str, str]] = set()
    for seam in build.seams:
        sides = [side for side in seam.sides if side.edges]
        hosts = [pieces[side.part] for side in seam.sides if not side.edges and side.part in pieces]
        for host in hosts if len(sides) == 1 else ():
            piece = pieces.get(sides[0].part)
            if piece is None or piece is host or piece.name in landed or subject.lies_behind(host.name, piece.name):
                continue
            if _hangs_on_landed(subject, host, piece) or (host.name, piece.name) in told:
                continue
            if not _lies_along(subject, piece, host) and (_is_larger(host, piece) or len(sides[0].edges) == 1):
                what = (
                    f'the seam "{seam.name}" sews "{piece.name}" flat on "{host.name}", and nothing says where it lands'
                )
                mend = f'add to "{host.name}": landings = [{{ piece = "{piece.name}", at = ... }}]'
                told.add((host.name, piece.name))
                yield seam.place_of(sides[0]), what, mend, seam.name


def _hangs_on_landed(subject: Subject, host: Piece, piece: Piece) -> bool:
    """Whether the piece is sewn to one whose place on the host is said, as a bellows to its pocket."""
    there = {landing.piece for landing in host.marks.landings}
    edged = ({side.part for side in seam.sides if side.edges} for seam in subject.build.seams)
    return any(piece.name in parts and parts & there for parts in edged)


def _is_larger(host: Piece, piece: Piece) -> bool:
    one, other = outline_box(host.sewn_outline), outline_box(piece.sewn_outline)
    return one.width > other.width + SAME_SIZE_MM and one.height > other.height + SAME_SIZE_MM


def _lies_along(subject: Subject, piece: Piece, host: Piece) -> bool:
    """Whether it is narrow and lies along its host's edge; a loop that is sewn by either of its short ends does not."""
    box = outline_box(piece.sewn_outline)
    short = {"top", "bottom", "start", "end"} if box.height > box.width else {"left", "right"}
    ends = {
        side.edges[0]
        for seam in subject.build.seams
        if any(side.part == host.name and not side.edges for side in seam.sides)
        for side in seam.sides
        if side.part == piece.name and len(side.edges) == 1
    }
    return _is_narrow(piece) and not (len(ends) == 2 and ends <= short)


def _is_narrow(piece: Piece) -> bool:
    """Whether it is a welt, a binding or a tape, which lies along an edge."""
    box = outline_box(piece.sewn_outline)
    return min(box.width, box.height) <= NARROW_MM


def _is_folded(piece: Piece) -> bool:
    """Whether a fold lays the piece on itself; the folds of hems are told by the hem."""
    return any(not fold.is_open and not fold.of_hem for fold in piece.marks.folds)


@check("divider-on-itself", "A dividing line goes through the piece beneath.", "plain from the work", needs_whole=True)
def find_dividers_on_themselves(subject: Subject) -> Iterator[Found]:
    for spec in subject.spec.pieces:
        for item in spec.dividers:
            if item.on and item.on.value == spec.name:
                what = f'the dividing line of "{spec.name}" goes through "{spec.name}" itself'
                yield item.on.place, what, "name the piece beneath, or leave on = ... out", spec.name


@check(
    "turned-once",
    "Both edges of one wall are sewn face to face and turned, or neither.",
    "plain from the work; a wall that shows one edge may be accepted",
    needs_whole=True,
)
def find_half_turned(subject: Subject) -> Iterator[Found]:
    """Two seams of one stitch along the left and the right edge of one wall, one of them turned. A mouth that is sewn to
    its lining or a facing, once the foot is turned, is another."""
    build = subject.build
    by_wall: dict[str, list[Seam]] = {}
    for seam in build.seams:
        for side in seam.sides:
            if side.edges in (("left",), ("right",)) and len(seam.sides) > 1 and not seam.trimmings:
                by_wall.setdefault(side.part, []).append(seam)
    told: set[str] = set()
    for wall, seams in by_wall.items():
        turned = [seam for seam in seams if seam.is_turned]
        plain = [seam for seam in seams if not seam.is_turned and seam.stitch in {one.stitch for one in turned}]
        plain = [seam for seam in plain if not _is_mouth(subject, seam, wall) or _is_mouth(subject, turned[0], wall)]
        alike = [seam for seam in plain if _walls_alike(seam, turned[0], wall)] if len(turned) == 1 or plain else []
        if turned and alike and alike[0].name not in told:
            told.add(alike[0].name)
            what = f'the seam "{turned[0].name}" of "{wall}" is turned, and "{alike[0].name}" is not'
            yield alike[0].place, what, "write turned = true in both, or in neither", alike[0].name


def _is_mouth(subject: Subject, seam: Seam, wall: str) -> bool:
    """Whether a seam sews other walls alone to a wall, strips or what lines it: no base and no panel."""
    others = [side.part for side in seam.sides if side.part != wall]
    pieces = [subject.parts.pieces.get(name) for name in others]
    return bool(others) and all(one is None or one.shape == "strip" or wall in (*one.lines, one.like) for one in pieces)


def _walls_alike(seam: Seam, other: Seam, wall: str) -> bool:
    """Whether two seams sew edges of one kind to a wall: runs as long as each other."""
    one, two = (next(side for side in each.sides if side.part == wall) for each in (seam, other))
    return one.edges != two.edges and abs(seam.length_mm - other.length_mm) <= SAME_SIZE_MM


@check(
    "wall-not-closed",
    "A wall that is sewn all round a base closes on itself: as a ring, or by its two ends.",
    "plain from the work",
    needs_whole=True,
    gives_way=("round-without-ring",),
)
def find_open_walls(subject: Subject) -> Iterator[Found]:
    """Joins and strips along the whole edge of a circle, whose ends nothing sews."""
    build, pieces = subject.build, subject.parts.pieces
    rings = {join.name for join in build.joins if join.is_ring}
    ended = {side.part for seam in build.seams for side in seam.sides if {*side.edges} & {"start", "end"}}
    lapped = {strip for name in rings for strip in subject.parts.joins[name].pieces}
    told: set[str] = set()
    for seam in build.seams:
        bases = [
            side for side in seam.sides if side.part in pieces and pieces[side.part].shape == "circle" and side.edges
        ]
        for side in seam.sides if bases else ():
            is_wall = side.edges in (("left",), ("right",)) and not _is_narrow_part(subject, side.part)
            is_whole = side.stretch_mm is None  # what is left of a wall beyond its seam closes over it as a flap
            if is_wall and is_whole and side.part not in rings | ended | lapped | told:
                told.add(side.part)
                joins = {join.name: join.place for join in build.joins}
                place = joins.get(side.part) or (pieces[side.part].place if side.part in pieces else seam.place)
                what = f'"{side.part}" is sewn round "{bases[0].part}", and its ends are joined to nothing'
                mend = "write ring = true in its join" if side.part in joins else "join it to a ring, or sew its ends"
                yield place, what, mend, side.part


def _is_narrow_part(subject: Subject, name: str) -> bool:
    join, piece = subject.parts.joins.get(name), subject.parts.pieces.get(name)
    return join.width_mm <= NARROW_MM if join else piece is not None and _is_narrow(piece)
