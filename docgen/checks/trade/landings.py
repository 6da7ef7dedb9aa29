"""Checks of pieces that land on others: that they lie on them."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import farthest_out_mm, is_inside
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import flatten, grow_box, holds_box, path_box, path_length, points_at, transform_path
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import add, cross, dot, mirror_x, scale, subtract, transform_point, turn_left, undone
from docgen.problems import line_words, name_words
from docgen.read import PieceSpec
from docgen.resolve import Landing, Piece, sewn_on_name
from docgen.written.units.telling import format_mm

# What a landing may reach over an edge without being told, in mm: cutting is no finer. Our choice.
OVER_EDGE_MM = 0.5
STRAP_OVER_MM = 2.0  # of a strap beside an edge, which is no cut line: our choice
STEPS_ALONG = 8
OVER_MEND = "measure again where it lands, {corners}or make it smaller; accept this if it is to hang over"
STEPS = 200
BEND_MM = 10.0  # how far a fold may lie from the edge it goes round: our choice


@check(
    "landing-over-edge",
    f"A piece lies within the one it lands on, within {format_mm(OVER_EDGE_MM)}.",
    "plane geometry; the half millimetre is our choice",
    needs_whole=True,
)
def find_overhangs(subject: Subject) -> Iterator[Found]:
    """Pieces that reach over the edge of the one they land on. One with a fold may be folded round that edge, where all
    that lies on one side of the fold has its place there, and is passed over."""
    for spec in subject.spec.pieces:
        base = subject.parts.pieces.get(spec.name)
        if base is None:
            continue
        shape = outline_path(base.outline)
        for item, landing in zip((it for it in spec.landings if it.piece), base.marks.landings, strict=False):
            landed = subject.parts.pieces.get(landing.piece)
            over_mm = 0.0 if landed is None else _over_mm(shape, landing.outline)
            if landed is not None and over_mm > OVER_EDGE_MM and _is_folded_round(shape, landed, landing):
                continue
            if over_mm > OVER_EDGE_MM and item.at is not None:
                what = (
                    f'"{landing.piece}" reaches {subject.length(over_mm)} over the edge of '
                    f'"{base.name}", on which it lands'
                )
                if landed is not None and outline_box(landed.outline).width > outline_box(base.outline).width:
                    line = line_words(subject.size_place(landed, is_across=True).line)
                    what += f" and which is narrower than it is{line}"
                corners = _corner_mend(subject, base, landed, landing) if landed else ""
                mend = _turned_mend(subject, spec, shape, landing) + OVER_MEND.format(corners=corners)
                yield item.at.place, what, mend, base.name
        yield from _tell_straps(subject, base, shape)


def _corner_mend(subject: Subject, base: Piece, landed: Piece, landing: Landing) -> str:
    """What mends a piece that lies within the box of its host, and reaches beyond a corner that is round alone."""
    own = subject.piece_spec(landed.name)
    if (
        own is None
        or not own.round
        or not holds_box(grow_box(outline_box(base.outline), OVER_EDGE_MM), path_box(landing.outline))
    ):
        return ""
    line = line_words(own.round[0].length.place.line)
    return f'or round the corners of "{landed.name}" that lie at those of "{base.name}" as they are{line}, '


def _turned_mend(subject: Subject, spec: PieceSpec, shape: Path, landing: Landing) -> str:
    """What mends a piece like another that would lie within, were it turned over."""
    piece = subject.parts.pieces[landing.piece]
    own = subject.piece_spec(piece.name)
    if own is None or own.like is None or (own.mirror and own.mirror.value):
        return ""
    middle = path_box(landing.outline).centre.x
    mirrored = transform_path(landing.outline, mirror_x(middle))
    if _over_mm(shape, mirrored) > OVER_EDGE_MM:
        return ""
    like = f'which is like "{own.like.value}" (line {own.like.place.line})'
    return f"write mirror = true in [pieces.{piece.name}], {like}; else "


def _tell_straps(subject: Subject, base: Piece, shape: Path) -> Iterator[Found]:
    """Ends of straps that reach over an edge beside them, where they lie fast; the edge ahead is the one they go over.
    One that is a little wider than its narrow host is held as that."""
    told: set[str] = set()
    for end in base.strap_landings:
        across = turn_left(end.way)
        off = [abs(dot(subtract(at, end.at), across)) for at in flatten(end.outline)]
        half_mm = max(off, default=0.0)
        steps = [add(end.at, scale(end.way, end.over_mm * k / STEPS_ALONG)) for k in range(1, STEPS_ALONG)]
        sides = [
            [add(at, scale(across, hand * half_mm)) for at in steps if is_inside(shape, at)] for hand in (1.0, -1.0)
        ]
        overs = [farthest_out_mm(shape, side) if side else 0.0 for side in sides]
        if max(overs) > STRAP_OVER_MM and min(overs) <= OVER_EDGE_MM and end.strap not in told:
            told.add(end.strap)
            what = (
                f'"{end.strap}" reaches {subject.length(max(overs))} over the edge of "{base.name}", beside where it lies '
                f"fast: it is {subject.length(2 * half_mm)} wide"
            )
            yield end.place, what, OVER_MEND.format(corners=""), base.name


def _is_folded_round(shape: Path, landed: Piece, landing: Landing) -> bool:
    """Whether a fold of what lands leaves one side of it within the host, but for what its bend takes; a flap that lies
    half round goes over the edge by what it is."""
    if landing.is_over:
        return True
    for fold in landed.marks.folds:
        along = subtract(fold.end, fold.start)
        for way in (1.0, -1.0):
            side = [
                at
                for at in flatten(landing.outline)
                if way * cross(along, subtract(_back(landing, at), fold.start)) > 0
            ]
            if not fold.of_hem and farthest_out_mm(shape, side) <= BEND_MM:
                return True
    return False


def _back(landing: Landing, at: Point) -> Point:
    return transform_point(at, undone(landing.move))


def _over_mm(shape: Path, outline: Path) -> float:
    """How far the one outline reaches out of the other, mm; judged at its corners and at many points between."""
    step_mm = path_length(outline) / STEPS
    spots = [*flatten(outline), *(at for at, _ in points_at(outline, (k * step_mm for k in range(STEPS))))]
    return farthest_out_mm(shape, spots)


@check(
    "step-without-host",
    "A step that sews straps on, and says on which pieces, names one that they land on.",
    "plain from the spec",
    needs_whole=True,
)
def find_steps_without_host(subject: Subject) -> Iterator[Found]:
    """Steps that make, set and sew nothing else, and whose pieces take no end of the straps that they sew on."""
    hosts: dict[str, list[str]] = {}
    for piece in subject.build.pieces:
        for end in piece.strap_landings:
            if end.stitch:
                hosts.setdefault(sewn_on_name(end.strap, end.end, piece.name), []).append(piece.name)
    for at, step in enumerate(subject.build.steps):
        sewn = [event.name for event in subject.build.assembly.events if event.step == at and event.kind == "landings"]
        there = list(dict.fromkeys(name for one in sewn for name in hosts.get(one, ())))
        if there and step.pieces and not (step.seams or step.hardware or {*there} & {*step.pieces}):
            names, straps = (name_words(found) for found in (there, step.straps))
            own = name_words(step.pieces)
            what = f"step {at + 1} sews {straps or 'straps'} on {names}, and has {own} in hand"
            yield step.place, what, f"name {names} in its pieces", there[0]


@check(
    "step-without-its-part",
    "A step that puts in what one piece alone is folded round has that in hand, where it says which pieces it has.",
    "plain from the spec",
    needs_whole=True,
)
def find_steps_without_part(subject: Subject) -> Iterator[Found]:
    """Fittings that one piece and no strap goes round, set in one step alone, which names other pieces; once for a step."""
    around: dict[str, set[str]] = {}
    for piece in subject.build.pieces:
        for fold in piece.marks.folds:
            around.setdefault(fold.around, set()).add(piece.name)
    steps, strapped = subject.build.steps, {end.around for strap in subject.build.straps for end in strap.ends}
    for at, step in enumerate(steps):
        for item in step.hardware if step.pieces and not (step.seams or step.joins or step.straps) else ():
            parts = around.get(item, set())
            is_once = sum(item in one.hardware for one in steps) == 1
            if len(parts) == 1 and is_once and item not in strapped and parts.isdisjoint(step.pieces):
                (part,) = parts
                named = name_words(step.pieces)
                what = f'step {at + 1} puts in "{item}", round which "{part}" goes, and has {named} in hand'
                written = [one.place for one in subject.spec.steps[at].pieces] if at < len(subject.spec.steps) else []
                yield (written or [step.place])[0], what, f'name "{part}" in its pieces', part
                break
