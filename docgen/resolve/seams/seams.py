"""Seams: partners read, open lengths solved, sides measured along the stitch line and matched."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from docgen.geometry.spacing import find_spans, space_stitches
from docgen.read import SeamSpec
from docgen.resolve.goods.amounts import parse_load
from docgen.resolve.seams.lengths import LENGTH_TOLERANCE_MM, Lengths
from docgen.resolve.seams.partners import Partners, tell_ends, usual_title
from docgen.resolve.seams.seam import Seam, SeamSide, Stitch
from docgen.resolve.seams.unequal import check_equal, look_first
from docgen.resolve.values import Reader, flag, words
from docgen.tables.defaults import EASE_MM, IS_TURNED
from docgen.written.units.telling import Show, format_mm


def match_seam(
    spec: SeamSpec, partners: Partners, stitch: Stitch, solved: Mapping[str, float], lengths: Lengths, show: Show
) -> Seam | None:
    """The seam with all sides measured along the stitch line, its layers not yet known; unequal sides are noted."""
    ease_mm = (lengths.reader.length(spec.ease, zero=True) if spec.ease else EASE_MM) or 0.0
    load_n = lengths.reader.amount(spec.load, parse_load)
    if not _laps_enough(lengths.reader, spec, stitch):
        return None
    measured = [_measure_side(spec.name, partner, stitch, solved, lengths) for partner in partners]
    known = [item for item in measured if item is not None]
    if len(known) < len(measured):
        return None
    sides = [side for side, _ in known]
    first, *others = (side for side in sides if side.edges)
    turned = {side.place: len(turns) for side, turns in known}
    flat = [side.part for side in sides if not side.edges]
    for side in others:
        find_meant = partial(lengths.find_meant, first, side, stitch.inset_mm, solved)
        find_else = partial(look_first, lengths, (first, side), turned, solved, flat)
        check_equal(lengths, spec.name, first, side, ease_mm, show, find_meant, find_else)
    stops = [*_match_turns(known, first)]
    holes = space_stitches(first.length_mm, stops, stitch.pitch_mm, is_fixed=bool(stitch.iron))
    stitches = len(holes) - 1
    return Seam(
        name=spec.name,
        title=words(spec.title, usual_title(spec.name, sides)),
        stitch=stitch.name,
        sides=tuple(tell_ends(lengths.reader, _share_holes(side, first, stitches), show) for side in sides),
        length_mm=first.length_mm,
        stitches=stitches,
        pitch_mm=first.length_mm / stitches,
        stack_mm=0.0,
        holes_mm=holes,
        spans_mm=find_spans(first.length_mm, stops, stitch.pitch_mm),
        ease_mm=ease_mm,
        load_n=load_n,
        load_words=words(spec.load),
        place=spec.place,
        times=spec.times.value if spec.times else 0,
        is_turned=flag(spec.turned, IS_TURNED),
        ease_span_mm=_ease_span_mm(lengths, spec, first, stitch.inset_mm, solved),
        ease_edges=tuple(spec.ease_at.value.split()) if spec.ease_at else (),
        eased_mm=max([0.0, *(side.length_mm - first.length_mm for side in others)]) if ease_mm else 0.0,
    )


def _match_turns(known: Sequence[tuple[SeamSide, tuple[float, ...]]], first: SeamSide) -> Iterator[float]:
    """How far along the first side a hole lies at a sharp corner: at its own, and in proportion at those of a side that has
    another number of them."""
    own = next(turns for side, turns in known if side is first)
    yield from own
    for side, turns in known:
        if side is not first and len(turns) != len(own):
            yield from (turn * first.length_mm / side.length_mm for turn in turns)


def _laps_enough(reader: Reader, spec: SeamSpec, stitch: Stitch) -> bool:
    """Whether every row of a lapped seam goes through both layers; when not, it is noted."""
    lap_mm = reader.length(spec.lap, zero=True) or 0.0
    last_mm = stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm
    if spec.lap is None or not 0 < lap_mm <= last_mm:
        return True
    row = f"row {stitch.rows} of its stitch" if stitch.rows > 1 else "its stitch"
    what = f'the seam "{spec.name}" laps {format_mm(lap_mm)}, and {row} lies {format_mm(last_mm)} from the edge'
    reader.error(spec.lap.place, what, "lap farther over, or sew nearer to the edge")
    return False


def _ease_span_mm(
    lengths: Lengths, spec: SeamSpec, first: SeamSide, inset_mm: float, solved: Mapping[str, float]
) -> tuple[float, float] | None:
    """From where to where along the first side the others are eased in; None for the whole, or when wrong (noted)."""
    if spec.ease_at is None:
        return None
    wanted, edges = spec.ease_at.value.split(), first.edges
    begin = next((k for k in range(len(edges)) if edges[k : k + len(wanted)] == tuple(wanted)), None)
    if first.ends:
        what = f'the seam "{spec.name}" runs along a part of an edge, and the rest is eased in all along it'
        lengths.reader.error(spec.ease_at.place, what, "leave ease-at out")
        return None
    if begin is None or spec.ease is None:
        what = f'"{spec.ease_at.value}" is no part of the first side of the seam "{spec.name}", {" ".join(edges)}'
        mend = "name neighbouring edges of it, in its order" if spec.ease else "write ease = ... beside it"
        lengths.reader.error(spec.ease_at.place, what if begin is None else "nothing is eased in here", mend)
        return None
    before, after = edges[:begin], edges[begin + len(wanted) :]
    ends = [
        lengths.side_length(spec.name, replace(first, edges=part), inset_mm, solved) if part else 0.0
        for part in (before, after)
    ]
    return None if None in ends else (ends[0] or 0.0, first.length_mm - (ends[1] or 0.0))


def _measure_side(
    seam: str, partner: SeamSide, stitch: Stitch, solved: Mapping[str, float], lengths: Lengths
) -> tuple[SeamSide, tuple[float, ...]] | None:
    """One side along its stitch line, and how far along it turns sharply; None when it cannot be measured (noted)."""
    if not partner.edges:
        return partner, ()
    length_mm = lengths.side_length(seam, partner, stitch.inset_mm, solved)
    if length_mm is None:
        return None
    turns = lengths.side_corners(partner, stitch.inset_mm, solved)
    stitches = len(space_stitches(length_mm, turns, stitch.pitch_mm)) - 1
    stretch_mm = lengths.find_stretch(partner, solved)
    return replace(partner, length_mm=length_mm, stitches=stitches, stretch_mm=stretch_mm), turns


def _share_holes(side: SeamSide, first: SeamSide, stitches: int) -> SeamSide:
    """A side as long as the first is sewn through the seam's own holes; one that is eased in tells what fills it."""
    is_equal = abs(side.length_mm - first.length_mm) <= LENGTH_TOLERANCE_MM
    return replace(side, stitches=stitches) if side.edges and is_equal else side
