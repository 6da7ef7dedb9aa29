"""Seams and joins: partners read, open lengths solved, lengths and stitches matched."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from docgen.geometry import (
    GeometryError,
    Outline,
    edge_names,
    inset_run,
    outline_box,
    path_length,
    stitch_count,
    transform_path,
    translation,
)
from docgen.problems import Place, suggest
from docgen.read import JoinSpec, SeamSpec, Value
from docgen.resolve.build import Join, Material, Piece, Seam, SeamSide, Stitch, StitchLine, Strap
from docgen.resolve.values import Reader, words
from docgen.units import Show, format_length

LENGTH_TOLERANCE_MM = 0.5
GUESS_MM = 1000.0  # any length will do to begin solving from: the seam's length is a straight line in it
_SIDE = re.compile(r"^(?P<part>[a-z0-9-]+)\s*(?::\s*(?P<edges>[a-z0-9 -]+))?$")

OutlineOf = Callable[[str, Mapping[str, float]], Outline | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Partner:
    """One side of a seam as written: part (piece, join or strap) and edges; no edges where it lies flat beneath."""

    part: str
    edges: tuple[str, ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinPlan:
    """A join before its lengths are known."""

    name: str
    title: str
    pieces: tuple[str, ...]
    overlap_mm: float
    stitch: str
    rows: int
    place: Place


def read_joins(reader: Reader, specs: tuple[JoinSpec, ...]) -> dict[str, JoinPlan]:
    """Joins by name; those that cannot be read are noted and left out."""
    plans = {}
    for spec in specs:
        overlap_mm = reader.length(spec.overlap, zero=True)
        if overlap_mm is None or spec.stitch is None or not spec.of:
            continue
        if len(spec.of) < 2:
            reader.error(
                spec.of[0].place,
                f'the join "{spec.name}" has one strip only',
                "name two or more strips, in order",
            )
        plans[spec.name] = JoinPlan(
            name=spec.name, title=words(spec.title, spec.name.replace("-", " ")),
            pieces=tuple(value.value for value in spec.of), overlap_mm=overlap_mm, stitch=spec.stitch.value,
            rows=spec.rows.value if spec.rows else 1, place=spec.place,
        )  # fmt: skip
    return plans


def read_partners(reader: Reader, spec: SeamSpec, parts: Mapping[str, str]) -> tuple[Partner, ...] | None:
    """Partners of one seam; `parts` gives each known name's kind ("piece", "join", "strap"). None when any is wrong."""
    partners = [_read_partner(reader, value, parts) for value in spec.meet]
    good = tuple(partner for partner in partners if partner is not None)
    if len(good) != len(partners):
        return None
    if spec.meet and not any(partner.edges for partner in good):
        reader.error(
            spec.meet[0].place,
            f'the seam "{spec.name}" names no edges',
            'write for example "back: left bottom right"',
        )
        return None
    return good or None


def _read_partner(reader: Reader, value: Value[str], parts: Mapping[str, str]) -> Partner | None:
    match = _SIDE.match(value.value.strip())
    if match is None:
        reader.error(
            value.place,
            "cannot read this partner of the seam",
            'write "piece: edges", for example "back: left bottom right"',
        )
        return None
    if match["part"] not in parts:
        mend = suggest(match["part"], parts) or "name a piece, a join or a strap"
        reader.error(value.place, f'there is no piece, join or strap "{match["part"]}"', mend)
        return None
    return Partner(part=match["part"], edges=tuple((match["edges"] or "").split()), place=value.place)


class Lengths:
    """Lengths of seam sides for given solutions of the open lengths."""

    def __init__(
        self, outline_of: OutlineOf, joins: Mapping[str, JoinPlan], straps: Mapping[str, Strap]
    ) -> None:
        self.outline_of = outline_of
        self.joins = joins
        self.straps = straps

    def side_length(self, partner: Partner, inset_mm: float, solved: Mapping[str, float]) -> float | None:
        """Length along the stitch line in mm; None when the outline is not known. Raises GeometryError."""
        join = self.joins.get(partner.part)
        if join is not None:
            return self._join_length(join, partner, solved)
        strap = self.straps.get(partner.part)
        outline = strap.piece.outline if strap else self.outline_of(partner.part, solved)
        return None if outline is None else path_length(inset_run(outline, partner.edges, inset_mm))

    def _join_length(self, join: JoinPlan, partner: Partner, solved: Mapping[str, float]) -> float | None:
        if partner.edges not in (("left",), ("right",)):
            raise GeometryError('a join of strips has the edges "left" and "right"; name one of them')
        total_mm = -join.overlap_mm * (len(join.pieces) - 1)
        for name in join.pieces:
            outline = self.outline_of(name, solved)
            if outline is None:
                return None
            if "left" not in edge_names(outline):
                raise GeometryError(f'"{name}" is no strip: it has no edge "left"')
            total_mm += outline_box(outline).height
        return total_mm


def solve_lengths(
    reader: Reader,
    seams: Mapping[str, tuple[Partner, ...]],
    insets: Mapping[str, float],
    open_lengths: Mapping[str, tuple[str, Place]],
    lengths: Lengths,
    parts_open: Callable[[str], set[str]],
) -> dict[str, float]:
    """Every open length that a seam fixes, in mm.

    `open_lengths` gives for each piece with "solve" its name and place; `parts_open` the open pieces that a part's
    length hangs on. Rounds go on as long as a seam with exactly one unknown is found; what is left is noted.
    """
    solved: dict[str, float] = {}
    progress = True
    while progress:
        progress = False
        for name, partners in seams.items():
            unknown = {
                piece for partner in partners if partner.edges for piece in parts_open(partner.part)
            } - set(solved)
            if len(unknown) == 1 and name in insets:
                piece = unknown.pop()
                found = _solve_one(
                    reader,
                    name,
                    partners,
                    insets[name],
                    piece,
                    open_lengths[piece][1],
                    solved,
                    lengths,
                    parts_open,
                )
                if found is not None:
                    solved[piece] = found
                    progress = True
    for piece, (_, place) in open_lengths.items():
        if piece not in solved and not any(problem.place == place for problem in reader.problems):
            reader.error(
                place,
                f'nothing fixes the length of "{piece}"',
                "name it in a seam whose other side is known, or write its length",
            )
    return solved


def _solve_one(
    reader: Reader, seam: str, partners: tuple[Partner, ...], inset_mm: float, piece: str, place: Place,
    solved: Mapping[str, float], lengths: Lengths, parts_open: Callable[[str], set[str]],
) -> float | None:  # fmt: skip
    edged = [partner for partner in partners if partner.edges]
    open_sides = [partner for partner in edged if piece in parts_open(partner.part)]
    known = [partner for partner in edged if partner not in open_sides]
    if len(open_sides) != 1 or not known:
        return None
    try:
        target_mm = lengths.side_length(known[0], inset_mm, solved)
        low = lengths.side_length(open_sides[0], inset_mm, {**solved, piece: GUESS_MM})
        high = lengths.side_length(open_sides[0], inset_mm, {**solved, piece: 2 * GUESS_MM})
    except GeometryError:
        return None
    if target_mm is None or low is None or high is None or abs(high - low) < 1e-6:
        return None
    length_mm = GUESS_MM + (target_mm - low) * GUESS_MM / (high - low)
    if length_mm <= 0:
        reader.error(
            place, f'the seam "{seam}" leaves no length for "{piece}": its other strips are {-length_mm:.1f} mm too long already',
            "shorten the other strips, or leave this one out",
        )  # fmt: skip
        return None
    return length_mm


def match_seam(
    reader: Reader, spec: SeamSpec, partners: tuple[Partner, ...], stitch: Stitch, solved: Mapping[str, float],
    lengths: Lengths, stack_mm: float, show: Show,
) -> Seam | None:  # fmt: skip
    """The seam with all sides measured along the stitch line; unequal sides are noted."""
    sides: list[SeamSide] = []
    for partner in partners:
        try:
            length_mm = lengths.side_length(partner, stitch.inset_mm, solved) if partner.edges else 0.0
        except GeometryError as error:
            reader.error(
                partner.place,
                f'the seam "{spec.name}" cannot run here: {error}',
                "name neighbouring edges in order, or a smaller inset",
            )
            return None
        if length_mm is None:
            return None
        sides.append(SeamSide(part=partner.part, edges=partner.edges, length_mm=length_mm))
    edged = [(side, partner) for side, partner in zip(sides, partners, strict=True) if side.edges]
    first = edged[0][0]
    for side, partner in edged[1:]:
        _check_equal(reader, spec.name, first, side, partner.place, show)
    stitches = stitch_count(first.length_mm, stitch.pitch_mm)
    return Seam(
        name=spec.name, title=words(spec.title, spec.name.replace("-", " ")), stitch=stitch.name, sides=tuple(sides),
        length_mm=first.length_mm, stitches=stitches, pitch_mm=first.length_mm / stitches, stack_mm=stack_mm,
    )  # fmt: skip


def _check_equal(
    reader: Reader, seam: str, first: SeamSide, other: SeamSide, place: Place, show: Show
) -> None:
    gap_mm = other.length_mm - first.length_mm
    if abs(gap_mm) <= LENGTH_TOLERANCE_MM:
        return
    reader.error(
        place,
        f'the sides of the seam "{seam}" are not equally long: {side_words(first)} is '
        f"{format_length(first.length_mm, show)}, {side_words(other)} is {format_length(other.length_mm, show)}",
        f"make {side_words(other)} {format_length(abs(gap_mm), show)} {'shorter' if gap_mm > 0 else 'longer'}, "
        'or write "solve" for its length',
    )


def side_words(side: SeamSide) -> str:
    """A seam side as a person would say it."""
    return f"{side.part} {' '.join(side.edges)}".strip()


def measure_joins(
    reader: Reader, plans: Mapping[str, JoinPlan], pieces: Mapping[str, Piece]
) -> dict[str, Join]:
    """Joins with their whole length; strips of unequal width are noted."""
    joins = {}
    for plan in plans.values():
        strips = [pieces[name] for name in plan.pieces if name in pieces]
        if len(strips) != len(plan.pieces) or not strips:
            continue
        boxes = [outline_box(strip.outline) for strip in strips]
        widths = [box.width for box in boxes]
        if max(widths) - min(widths) > LENGTH_TOLERANCE_MM:
            reader.error(
                plan.place,
                f'the strips of "{plan.name}" are not equally wide: {min(widths):.1f} mm and {max(widths):.1f} mm',
                "give them one width",
            )
        shortest = min(box.height for box in boxes)
        if plan.overlap_mm >= shortest:
            reader.error(
                plan.place,
                f'the overlap of "{plan.name}" is longer than its shortest strip',
                "use a smaller overlap",
            )
        joins[plan.name] = Join(
            name=plan.name, title=plan.title, pieces=plan.pieces, overlap_mm=plan.overlap_mm, stitch=plan.stitch,
            rows=plan.rows, width_mm=widths[0],
            length_mm=sum(box.height for box in boxes) - plan.overlap_mm * (len(boxes) - 1),
        )  # fmt: skip
    return joins


def draw_stitch_lines(
    pieces: Mapping[str, Piece],
    seams: tuple[Seam, ...],
    stitches: Mapping[str, Stitch],
    joins: Mapping[str, Join],
) -> dict[str, Piece]:
    """Pieces with the stitch lines of every seam and join that runs on them."""
    lines: dict[str, list[StitchLine]] = {name: [] for name in pieces}
    for seam in seams:
        stitch = stitches[seam.stitch]
        for side in seam.sides:
            names = joins[side.part].pieces if side.part in joins else (side.part,)
            for name in dict.fromkeys(names):
                if side.edges and name in pieces:
                    lines[name] += _rows(pieces[name], side.edges, seam.name, stitch)
    for join in joins.values():
        for name, edges in _joint_edges(join).items():
            lines[name] += _joint_rows(pieces[name], edges, join, stitches[join.stitch])
    drawn = {name: replace(piece, stitch_lines=tuple(lines[name])) for name, piece in pieces.items()}
    return {name: _add_landing_lines(piece, drawn, seams) for name, piece in drawn.items()}


def _rows(piece: Piece, edges: tuple[str, ...], seam: str, stitch: Stitch) -> list[StitchLine]:
    insets = [stitch.inset_mm + row * stitch.row_gap_mm for row in range(stitch.rows)]
    lines = []
    for inset_mm in insets:
        try:
            lines.append(
                StitchLine(seam=seam, stitch=stitch.name, path=inset_run(piece.outline, edges, inset_mm))
            )
        except GeometryError:
            break  # an inner row that no longer fits; the first row was checked with the seam
    return lines


def _joint_edges(join: Join) -> dict[str, tuple[str, ...]]:
    """Which ends of each strip carry a joint: the first strip its end, the last its start, others both."""
    ends: dict[str, set[str]] = {name: set() for name in join.pieces}
    for index, name in enumerate(join.pieces):
        ends[name] |= {"start"} if index else set()
        ends[name] |= {"end"} if index < len(join.pieces) - 1 else set()
    return {name: tuple(sorted(found)) for name, found in ends.items()}


def _joint_rows(piece: Piece, ends: tuple[str, ...], join: Join, stitch: Stitch) -> list[StitchLine]:
    lines = []
    for end in ends:
        if end not in edge_names(piece.outline):
            continue
        for row in range(join.rows):
            share = (row + 1) / (join.rows + 1)
            path = inset_run(piece.outline, (end,), join.overlap_mm * share)
            lines.append(StitchLine(seam=join.name, stitch=stitch.name, path=path))
    return lines


def _add_landing_lines(piece: Piece, pieces: Mapping[str, Piece], seams: tuple[Seam, ...]) -> Piece:
    """Stitch lines of pieces that land on this one, where a seam says that this one lies flat beneath."""
    lines = list(piece.stitch_lines)
    for seam in seams:
        if not any(side.part == piece.name and not side.edges for side in seam.sides):
            continue
        others = {side.part for side in seam.sides if side.edges}
        for landing in piece.landings:
            if landing.piece in others:
                move = translation(landing.dx_mm, landing.dy_mm)
                lines += [
                    replace(line, path=transform_path(line.path, move))
                    for line in pieces[landing.piece].stitch_lines
                    if line.seam == seam.name
                ]
    return replace(piece, stitch_lines=tuple(lines))


def stack_of(
    partners: tuple[Partner, ...], parts: Mapping[str, tuple[str, ...]], materials: Mapping[str, Material]
) -> float:
    """Thickness of all layers of a seam in mm, unskived; `parts` gives the materials of each part (one layer each)."""
    layers = [parts[partner.part] for partner in partners if partner.part in parts]
    return sum(
        max((materials[name].thickness_mm for name in names if name in materials), default=0.0)
        for names in layers
    )
