"""Goods by length in seams and along edges: which seam has which, and what is cut for each run."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.geometry.outline import strip_outline
from docgen.geometry.path import path_length
from docgen.geometry.run import run_path
from docgen.geometry.shapes import GeometryError
from docgen.geometry.vector import distance
from docgen.problems import Place, has_errors, suggest
from docgen.read import PieceSpec, SeamSpec, Spec, StepSpec, Value
from docgen.resolve.goods.values import Trimming, TrimmingCut
from docgen.resolve.parts import Parts
from docgen.resolve.pieces.marks import RUN_MEND
from docgen.resolve.pieces.positions import has_edges
from docgen.resolve.seams.lengths import JOIN_SIDES, LENGTH_TOLERANCE_MM
from docgen.resolve.seams.partners import Notches, find_stretch, name_notches, read_partner
from docgen.resolve.seams.seam import Join, Seam, SeamSide, SeamTrimming
from docgen.resolve.seams.zip_room import find_caught, find_crossed
from docgen.resolve.values import Reader
from docgen.tables.trimmings import TRIMMING_KINDS
from docgen.written.units.telling import format_mm

ZIP_SIDES = ("left", "right")
ZIP_ENDS = ("start", "end", "top", "bottom")  # as somebody may call them


def split_meet(spec: SeamSpec, trimmings: Collection[str]) -> tuple[SeamSpec, tuple[Value[str], ...]]:
    """The seam without the goods by length among its partners, and these."""
    sewn = tuple(value for value in spec.meet if part_name(value) in trimmings)
    return replace(spec, meet=tuple(value for value in spec.meet if value not in sewn)), sewn


def part_name(value: Value[str]) -> str:
    """What a partner of a seam is, without the edges or the side by which it is sewn."""
    return value.value.partition(":")[0].strip()


def read_seam_trimmings(reader: Reader, spec: SeamSpec, trimmings: Mapping[str, Trimming]) -> tuple[SeamTrimming, ...]:
    """The goods by length of one seam; what cannot be one is noted."""
    found = []
    for index, value in enumerate(spec.meet):
        item = trimmings.get(part_name(value))
        if item is None:
            continue
        above = sum(part_name(other) not in trimmings for other in spec.meet[:index])
        side = value.value.partition(":")[2].strip()
        if _is_side_right(reader, value, item, side):
            lap_mm = (reader.length(spec.lap, zero=True) or 0.0) if item.kind == "zip" else 0.0
            found.append(SeamTrimming(name=item.name, side=side, above=above, lap_mm=lap_mm, place=value.place))
    return tuple(found)


def _is_side_right(reader: Reader, value: Value[str], item: Trimming, side: str) -> bool:
    if item.kind == "zip" and side not in ZIP_SIDES:
        what = f'the zip "{item.name}" has two tapes, and each is sewn for itself'
        mend = f'write "{item.name}: left" here and "{item.name}: right" in the other seam'
        near = suggest(side, ZIP_SIDES)
        if near:
            mend = f'{near} write "{item.name}: left" in one seam and "{item.name}: right" in the other'
        elif side in ZIP_ENDS:
            mend = (
                f'write "{item.name}: left" or "{item.name}: right" where a long side of it is meant; else leave it out: '
                f'what goes over its end is sewn to itself, by a step with trimmings = ["{item.name}"]'
            )
        reader.error(value.place, what, mend)
        return False
    if item.kind != "zip" and side:
        what = f'"{item.name}" runs all along the seam, and has no edges of its own'
        reader.error(value.place, what, f'write "{item.name}" alone')
        return False
    return True


def measure_trimmings(reader: Reader, spec: Spec, parts: Parts) -> Parts:
    """The parts with all that is cut of the goods by length; what has no length is noted. Where there are other errors,
    they may be what hides its edges."""
    along = {} if has_errors(reader.problems) else {item.name: item.along for item in spec.trimmings}
    notches = name_notches(spec.pieces)
    found = {}
    said = {item.name for item in spec.trimmings if item.ends is not None}
    for name, item in parts.trimmings.items():
        cuts = [*_cuts(reader, item, along.get(name), parts, notches, spec.steps)]
        if TRIMMING_KINDS[item.kind].is_at_edge and name not in said:
            cuts = [_level_ends(item, cut, parts, spec.steps) for cut in cuts]
        found[name] = replace(item, cuts=tuple(_ready(reader, item, cut, spec.pieces) for cut in cuts))
    return replace(parts, trimmings=found)


def _cuts(
    reader: Reader,
    item: Trimming,
    along: tuple[Value[str], ...] | None,
    parts: Parts,
    notches: Notches,
    steps: Sequence[StepSpec],
) -> Iterator[TrimmingCut]:
    seams = [seam for seam in parts.seams if any(use.name == item.name for use in seam.trimmings)]
    joins = [join for join in parts.joins.values() if item.name in join.pieces]
    crossed = find_crossed(seams, parts, steps) if item.kind == "zip" else (0.0, 0.0)
    if item.written_mm:
        yield replace(_written(item, seams, joins), crossed_mm=crossed)
    elif item.kind == "zip" and seams:
        whole = _zip_between(reader, item, seams)
        yield replace(whole, between_mm=max(whole.between_mm - sum(crossed), 0.0), crossed_mm=crossed)
    else:
        for seam in seams:
            run_mm = _seam_run_mm(reader, item, seam, parts)
            yield _cut(item, run_mm, where=seam.title, seams=(seam.name,))
    for join in joins if not item.written_mm else ():
        cut = _cut(item, join.width_mm, where=join.title, count=_count(join, item, parts))
        clear_mm = cut.between_mm - _crossed_mm(join, parts) if cut.between_mm else 0.0
        yield replace(cut, joins=(join.name,), between_mm=max(clear_mm, 0.0))
    for value in along or ():
        yield from _along(reader, item, value, parts, notches)
    laid = () if item.written_mm else tuple(_laid(item, parts))
    yield from laid
    if along == () and not seams and not item.written_mm and not laid and not joins:
        what = f'nothing gives the length of "{item.name}"'
        reader.error(item.place, what, "name it in a seam, or in laid of a piece, write along = [...] or a length")


def _level_ends(item: Trimming, cut: TrimmingCut, parts: Parts, steps: Sequence[StepSpec]) -> TrimmingCut:
    """The cut without what is added at ends that later seams catch."""
    own = [seam for seam in parts.seams if seam.name in cut.seams]
    caught = sum(find_caught(own[0], parts, steps)) if len(own) == 1 and not item.written_mm else 0
    return replace(cut, caught=caught, length_mm=cut.length_mm - caught * item.ends_mm) if caught else cut


def _cut(item: Trimming, run_mm: float, where: str, seams: tuple[str, ...] = (), count: int = 0) -> TrimmingCut:
    """A run, the ends added; of elastic the length before it is stretched, of a zip between its stops besides."""
    between_mm = run_mm - 2 * item.stops_mm if item.kind == "zip" else 0.0
    length_mm = run_mm * item.relaxed + 2 * item.ends_mm
    return TrimmingCut(run_mm=run_mm, length_mm=length_mm, where=where, seams=seams, count=count, between_mm=between_mm)


def _crossed_mm(join: Join, parts: Parts) -> float:
    """How much of the width of a join lies outside the stitch lines along its long edges, where no stop may be."""
    insets: dict[str, float] = {}
    for seam in parts.seams:
        inset_mm = parts.stitches[seam.stitch].inset_mm
        for edge in (edge for side in seam.sides if side.part == join.name for edge in side.edges):
            insets[edge] = max(insets.get(edge, 0.0), inset_mm)
    return sum(insets.values())


def _count(join: Join, item: Trimming, parts: Parts) -> int:
    """How many of the goods lie in all copies of a join."""
    taken = Counter(join.pieces)
    copies = [parts.pieces[name].cut // taken[name] for name in taken if name != item.name and name in parts.pieces]
    return max(min(copies, default=1), 1) * taken[item.name]


def _written(item: Trimming, seams: list[Seam], joins: list[Join]) -> TrimmingCut:
    """A length as the spec gives it: of a zip between its stops, in the middle of what it is sewn along; of other goods as
    it is cut."""
    is_zip = item.kind == "zip"
    whole_mm = item.written_mm + 2 * item.stops_mm
    return TrimmingCut(
        run_mm=max([whole_mm, *(seam.length_mm for seam in seams)]) if is_zip else whole_mm,
        length_mm=whole_mm + 2 * item.ends_mm if is_zip else item.written_mm,
        count=item.number,
        where=", ".join([*(seam.title for seam in seams), *(join.title for join in joins)]),
        joins=tuple(join.name for join in joins),
        between_mm=item.written_mm if is_zip else 0.0,
    )


def _zip_between(reader: Reader, item: Trimming, seams: list[Seam]) -> TrimmingCut:
    """One zip for all seams of its two tapes, which must run equally far."""
    first = seams[0]
    for seam in seams[1:]:
        if abs(seam.length_mm - first.length_mm) > LENGTH_TOLERANCE_MM:
            what = (
                f'the tapes of the zip "{item.name}" are sewn along {format_mm(first.length_mm)} in "{first.name}" and '
                f'{format_mm(seam.length_mm)} in "{seam.name}"'
            )
            place = next(use.place for use in seam.trimmings if use.name == item.name)
            reader.error(place, what, "make the edges equally long, or sew it along a part of one")
    if first.length_mm <= 2 * item.stops_mm:
        what = f'the stops of the zip "{item.name}" leave nothing of its run of {format_mm(first.length_mm)}'
        reader.error(item.place, what, "write a smaller distance for stops")
    where = ", ".join(seam.title for seam in seams)
    return _cut(item, first.length_mm, where=where, seams=tuple(seam.name for seam in seams))


def _seam_run_mm(reader: Reader, item: Trimming, seam: Seam, parts: Parts) -> float:
    """Along the stitch line; of a binding along the cut edge of the first partner, which it goes round."""
    first = next(side for side in seam.sides if side.edges)
    if not TRIMMING_KINDS[item.kind].is_at_edge:
        return seam.length_mm
    if first.stretch_mm:
        return first.stretch_mm[1] - first.stretch_mm[0]
    partner = replace(first, place=seam.place)
    return _edge_mm(reader, item, partner, parts, {}) or seam.length_mm


def _laid(item: Trimming, parts: Parts) -> Iterator[TrimmingCut]:
    """One cut for each time that it is laid flat on a piece, as often as that is cut."""
    for piece in parts.pieces.values():
        lines = [line for line in piece.dividers if line.goods == item.name]
        for line in lines[::2]:  # two lines of stitches for each
            cut = _cut(item, distance(line.start, line.end), where=piece.title, count=piece.cut)
            yield replace(cut, on=piece.name)


def _along(reader: Reader, item: Trimming, value: Value[str], parts: Parts, notches: Notches) -> Iterator[TrimmingCut]:
    """One cut along edges, as often as the piece is cut; nothing where they cannot be read (noted)."""
    known = [*parts.pieces, *parts.joins, *parts.straps]
    partner = read_partner(reader, value, known)
    if partner is None:
        return
    if not partner.edges:
        reader.error(value.place, f'"{item.name}" lies along edges, and none is named', f'write "{partner.part}: left"')
        return
    run_mm = _edge_mm(reader, item, partner, parts, notches)
    if run_mm is None:
        return
    part = parts.pieces.get(partner.part) or (
        parts.straps[partner.part].piece if partner.part in parts.straps else None
    )
    title = part.title if part else parts.joins[partner.part].title
    yield _cut(item, run_mm, where=f"{title}: {partner.edge_words}", count=part.cut if part else 1)


def _edge_mm(reader: Reader, item: Trimming, partner: SeamSide, parts: Parts, notches: Notches) -> float | None:
    """Length along the cut edge; None where it cannot run there (noted)."""
    if partner.part in parts.joins:
        join = parts.joins[partner.part]
        if len(partner.edges) == 1 and partner.edges[0] in JOIN_SIDES:
            whole = strip_outline(join.width_mm, join.length_mm)
            stretch = find_stretch(reader, partner, whole, {}) if partner.ends else (0.0, join.length_mm)
            return None if stretch is None else stretch[1] - stretch[0]
        what = 'strips joined end to end have the edges "left" and "right"'
        _refuse(reader, item, partner.place, what, "name one of them")
        return None
    strap, piece = parts.straps.get(partner.part), parts.pieces.get(partner.part)
    outline = strap.piece.outline if strap else piece.sewn_outline if piece else None
    if outline is None:  # it could not be made, which is noted where it is written
        return None
    if not has_edges(reader, partner.place, partner.edges, outline):
        return None
    try:
        whole_mm = path_length(run_path(outline, partner.edges))
        stretch = find_stretch(reader, partner, outline, notches) if partner.ends else (0.0, whole_mm)
        return None if stretch is None else stretch[1] - stretch[0]
    except GeometryError as error:
        _refuse(reader, item, partner.place, str(error), RUN_MEND)
        return None


def _refuse(reader: Reader, item: Trimming, place: Place, what: str, mend: str) -> None:
    reader.error(place, f'"{item.name}" cannot run here: {what}', mend)


def _ready(reader: Reader, item: Trimming, cut: TrimmingCut, pieces: Sequence[PieceSpec]) -> TrimmingCut:
    """The cut with the shortest length that is sold and will do; where none will, it is noted, with what is left clear
    beside goods that are laid on a piece."""
    if not item.ready_mm:
        return cut
    wanted_mm = cut.between_mm or cut.length_mm
    enough = [mm for mm in item.ready_mm if mm >= wanted_mm - LENGTH_TOLERANCE_MM]
    if not enough:
        between = " between its stops" if cut.between_mm else ""
        what = f'"{item.name}" is wanted {format_mm(wanted_mm)} long{between}'
        what += f", and is sold up to {format_mm(item.ready_mm[-1])}"
        mend = "name a longer one in ready, or leave ready out to take it from the roll"
        clear = next(
            (laid.clear for piece in pieces if piece.name == cut.on for laid in piece.laid if laid.clear), None
        )
        if clear is not None:
            mend = f'look at clear of "{cut.on}" (line {clear.place.line}); else {mend}'
        reader.error(item.place, what, mend)
        return cut
    return replace(cut, ready_mm=enough[0])
