"""Seams: partners read, open lengths solved, sides measured along the stitch line and matched."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from docgen.classes import dataclass
from docgen.geometry.nearest import Stretch, inset_stretch
from docgen.geometry.outline import edge_names, outline_box, strip_outline
from docgen.geometry.path import path_length
from docgen.geometry.run import run_path
from docgen.geometry.shapes import GeometryError, Outline, Path
from docgen.geometry.spacing import corner_distances, find_spans, space_stitches
from docgen.problems import Place, count_words, is_are, line_words
from docgen.read import SeamSpec
from docgen.resolve.goods.amounts import parse_load
from docgen.resolve.pieces.marks import RUN_MEND
from docgen.resolve.pieces.positions import has_edges
from docgen.resolve.seams.folded import Folded, folded_stretch
from docgen.resolve.seams.joins import join_length_mm, strip_ends
from docgen.resolve.seams.partners import (
    Notches,
    Partners,
    find_stretch,
    narrow_words,
    other_edges,
    tell_ends,
    usual_title,
)
from docgen.resolve.seams.seam import INSET_CHECK, Join, Seam, SeamSide, Stitch, side_words
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import Reader, flag, words
from docgen.tables.defaults import EASE_MM, IS_TURNED
from docgen.written.units.telling import Show, format_length, format_mm

LENGTH_TOLERANCE_MM = 0.5
MOST_EASE = 0.03  # share of a side that leather lets itself be eased in: common practice, no published source
NEARLY = 0.05  # share of a side that its corners, or another inset, make it longer: our choice
JOIN_SIDES = ("left", "right")

OutlineOf = Callable[[str, Mapping[str, float]], Outline | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """What seam sides are measured on, for any solution of the open lengths."""

    reader: Reader
    outline_of: OutlineOf
    cut_of: OutlineOf  # with what hems turn over
    joins: Mapping[str, Join]
    straps: Mapping[str, Strap]
    models: Mapping[str, str]  # piece -> the one whose size it takes
    linings: frozenset[str]  # pieces that are smaller than their model all round
    opened: frozenset[str]  # parts of which a seam gives the length
    # such a part -> another of its seams, and the part that gives its length there
    given: Mapping[str, tuple[str, str]]
    solvable: frozenset[str]  # parts of which a length may be "solve", and that one seam alone takes
    notches: Notches
    folded: Folded
    written: Mapping[str, int]  # piece -> the line of its size
    insets: Mapping[str, float]  # stitch -> how far from the edge it is sewn, mm

    def mend_unequal(self, first: SeamSide, other: SeamSide, show: Show) -> str:
        """What would make the other side as long as the first: a change that can be made where it is written."""
        inner = next((side.part for side in (other, first) if side.part in self.linings), "")
        if inner:
            return (
                f'name "{inner}" without edges, meet = [..., "{inner}"], so that it lies beneath: it is an inset of '
                f'"{self.models[inner]}", and its edges are shorter or longer by that'
            )
        change = self.change_words(first, other, show)
        if len(givers := dict.fromkeys(self._giver_words(side.part) for side in (other, first))) == 2 and all(givers):
            return f"look at the size of {', and at that of '.join(givers)}"
        if other.part in self.models and not other.ends:
            model = self.models[other.part]
            if self.models.get(first.part, first.part) == model and first.edges != other.edges:
                return "look at the edges that are named: both parts have one shape"
            can_solve = first.part != model and model in self.solvable
            solve = f', or write "solve" for the length of "{model}"' if can_solve else ""
            return f'make "{model}", which {other.part} is like, {change}{solve}'
        solve = ', or write "solve" for its length' if other.part in self.solvable else ""
        return f"make {side_words(other)} {change}{solve}"

    def _giver_words(self, part: str) -> str:
        """The part that gives the length of an open one, with the line of its size, and the seam by which it does."""
        if part not in self.opened or part not in self.given:
            return ""
        seam, giver = self.given[part]
        line = line_words(self.written.get(giver, self.written.get(self.models.get(giver, giver))))
        return f'"{giver}"{line}, which gives the length of "{part}" by the seam "{seam}"'

    def rest_of(self, part: str) -> tuple[str, ...]:
        """The strips of a join, each once; a part that is none by itself."""
        return tuple(dict.fromkeys(self.joins[part].pieces)) if part in self.joins else (part,)

    def change_words(self, first: SeamSide, other: SeamSide, show: Show) -> str:
        """By how much the other side would be shorter or longer."""
        gap_mm = other.length_mm - first.length_mm
        return f"{format_length(abs(gap_mm), show)} {'shorter' if gap_mm > 0 else 'longer'}"

    def side_length(self, seam: str, partner: SeamSide, inset_mm: float, solved: Mapping[str, float]) -> float | None:
        """Length along the stitch line in mm; None when the outline is not known, or no seam can run there
        (noted)."""
        if partner.part in self.joins:
            return self._join_length(self.joins[partner.part], seam, partner, solved)
        outline = self.find_outline(partner, solved)
        if outline is None or not has_edges(self.reader, partner.place, partner.edges, outline):
            return None
        try:
            run_path(outline, partner.edges)
        except GeometryError as error:
            self._refuse(seam, partner, str(error), RUN_MEND)
            return None
        try:
            line = self._find_line(partner, outline, inset_mm)
        except GeometryError as error:
            self._refuse_inset(seam, partner, str(error), outline, inset_mm)
            return None
        return None if line is None else path_length(line) - sum(partner.lost_mm)

    def find_meant(
        self, one: SeamSide, other: SeamSide, inset_mm: float, solved: Mapping[str, float]
    ) -> SeamSide | None:
        """The one way in which two sides are equally long once an edge of either is another one, or there is one more."""
        found = []
        for side, length_mm in ((one, other.length_mm), (other, one.length_mm)):
            outline = None if side.part in self.joins or side.ends else self.find_outline(side, solved)
            for edges in other_edges(side.edges, edge_names(outline) if outline else ()):
                changed = replace(side, edges=edges)
                try:
                    line = outline and self._find_line(changed, outline, inset_mm)
                except GeometryError:
                    continue
                if line and abs(path_length(line) - sum(side.lost_mm) - length_mm) <= LENGTH_TOLERANCE_MM:
                    found.append(changed)
        return found[0] if len({(side.part, frozenset(side.edges)) for side in found}) == 1 else None

    def _find_line(self, partner: SeamSide, outline: Outline, inset_mm: float) -> Path | None:
        """The stitch line of a side; None where the part of its edge that is meant cannot be found (noted)."""
        stretch = self._find_stretch(partner, outline)
        if partner.ends and stretch is None:
            return None
        return inset_stretch(outline, partner.edges, partner.line_mm(inset_mm), stretch)

    def find_stretch(self, partner: SeamSide, solved: Mapping[str, float]) -> Stretch | None:
        """The part of its edges that a measured side takes; None for the whole."""
        if not partner.ends and partner.place not in self.folded:
            return None
        outline = self.find_outline(partner, solved)
        return None if outline is None else self._find_stretch(partner, outline)

    def _find_stretch(self, partner: SeamSide, outline: Outline) -> Stretch | None:
        if partner.place in self.folded:
            return folded_stretch(self.reader, self.folded[partner.place], outline, partner.edges)
        return find_stretch(self.reader, partner, outline, self.notches) if partner.ends else None

    def side_corners(self, partner: SeamSide, inset_mm: float, solved: Mapping[str, float]) -> tuple[float, ...]:
        """Distances along a measured side at which it turns sharply; none on a join of strips."""
        if partner.part in self.joins:
            return ()
        outline = self.find_outline(partner, solved)
        line = None if outline is None else self._find_line(partner, outline, inset_mm)
        return () if line is None else corner_distances(line)

    def find_outline(self, side: SeamSide, solved: Mapping[str, float]) -> Outline | None:
        """What a side runs along; None where it is not known for these lengths."""
        if side.part in self.joins:
            return self._join_outline(self.joins[side.part], solved)
        own = self.straps.get(side.part)
        return own.piece.outline if own else (self.cut_of if side.is_unturned else self.outline_of)(side.part, solved)

    def _join_length(self, join: Join, seam: str, partner: SeamSide, solved: Mapping[str, float]) -> float | None:
        if len(partner.edges) != 1 or partner.edges[0] not in JOIN_SIDES:
            what = 'strips joined end to end have the edges "left" and "right"'
            ends = (
                f'; of a cut end name its strip, like "{join.pieces[0]}: end"'
                if {"start", "end"} & {*partner.edges}
                else ""
            )
            self._refuse(seam, partner, what, f"name one of them{ends}")
            return None
        outline = self._join_outline(join, solved)
        if outline is None or not partner.ends:
            return None if outline is None else outline_box(outline).height
        if any("notch" in words_of for words_of in partner.ends):
            if not self.reader.is_noted(partner.place):
                what = f'"{join.name}" is joined of strips, and has no notches of its own'
                self._refuse(
                    seam, partner, what, f'measure along it, like "{join.name}: left from start 2 in to end 3 in"'
                )
            return None
        stretch = self._find_stretch(partner, outline)
        return None if stretch is None else stretch[1] - stretch[0]

    def _join_outline(self, join: Join, solved: Mapping[str, float]) -> Outline | None:
        """All its strips as one; None where one of them is not known."""
        outlines = [self.outline_of(name, solved) for name in join.pieces]
        known = [outline for outline in outlines if outline is not None and strip_ends(outline)]
        if not known or len(known) < len(outlines):
            return None
        length_mm = join_length_mm(join, known)
        return strip_outline(outline_box(known[0]).width, length_mm) if length_mm > 0 else None

    def _refuse_inset(self, seam: str, partner: SeamSide, what: str, outline: Outline, inset_mm: float) -> None:
        """Noted once for a seam: all its sides have the same inset. A piece that has no room for it is told as narrow."""
        head = f'the stitch line of the seam "{seam}" does not fit: '
        line = self.written.get(self.models.get(partner.part, partner.part))
        narrow = narrow_words(partner.part, outline, inset_mm, line)
        mend = f"{'make it wider, or ' if narrow else ''}give its stitch a smaller inset"
        if not any(problem.what.startswith(head) for problem in self.reader.problems):
            self.reader.error(partner.place, head + (narrow or what), mend, INSET_CHECK)

    def _refuse(self, seam: str, partner: SeamSide, what: str, mend: str) -> None:
        self.reader.error(partner.place, f'the seam "{seam}" cannot run here: {what}', mend)


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
    for side in others:
        find_meant = partial(lengths.find_meant, first, side, stitch.inset_mm, solved)
        find_else = partial(_look_first, lengths, (first, side), turned, solved)
        _check_equal(lengths, spec.name, first, side, ease_mm, show, find_meant, find_else)
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


def _check_equal(
    lengths: Lengths,
    seam: str,
    first: SeamSide,
    other: SeamSide,
    ease_mm: float,
    show: Show,
    find_meant: Callable[[], SeamSide | None],
    find_else: Callable[[], str],
) -> None:
    """Only the other side may be longer, by the ease. Told with the lines where both sizes are written."""
    gap_mm = other.length_mm - first.length_mm
    if -LENGTH_TOLERANCE_MM <= gap_mm <= ease_mm + LENGTH_TOLERANCE_MM:
        return
    meant, can_ease = find_meant(), 0 < gap_mm <= MOST_EASE * first.length_mm
    is_near = abs(gap_mm) <= NEARLY * first.length_mm
    if other.part in lengths.opened and not meant and first.part not in lengths.opened:
        first, other = other, first  # what another seam gives cannot be changed here
    change = lengths.change_words(first, other, show)
    told = (problem.mend for problem in lengths.reader.problems if problem.check == "unequal-partners")
    model = lengths.models.get(other.part, other.part)
    same = (f"make {other.part} ", f"make {model} ", f'make "{model}", which ')
    if any(words in mend and change in mend for mend in told for words in same):
        return  # one length that is wrong in two seams
    eased = f", and {format_length(ease_mm, show)} may be eased in" if ease_mm and gap_mm > 0 else ""
    lengths.reader.error(
        meant.place if meant else other.place,
        f'the sides of the seam "{seam}" are not equally long: {_measured_words(lengths, first, show)}, '
        f"{_measured_words(lengths, other, show)}{eased}",
        (f'did you mean "{meant.part}: {" ".join(meant.edges)}"? else ' if meant else find_else() * is_near)
        + lengths.mend_unequal(first, other, show)
        + (f', or ease it in with ease = "{math.ceil(gap_mm)} mm"' if can_ease else ""),
        "unequal-partners",
        seam,
    )


def _look_first(
    lengths: Lengths, sides: tuple[SeamSide, SeamSide], turned: Mapping[Place, int], solved: Mapping[str, float]
) -> str:
    """What may be the cause that two sides are not equally long: corners that are square along one alone, or a stitch,
    where another seam gives the length of one of them and another stitch would make them equal."""
    one, other = sides
    if len(one.edges) == len(other.edges) > 1 and turned[one.place] != turned[other.place]:
        square, round_ = sorted(sides, key=lambda side: -turned[side.place])
        what = (
            f'{count_words(turned[square.place], "corner")} of "{square.part}" along it {is_are(turned[square.place])}'
        )
        return f'look at the corners of both: {what} square, and {turned[round_.place] or "none"} of "{round_.part}"; else '
    if {one.part, other.part}.isdisjoint(lengths.opened):
        return ""
    quiet = replace(lengths, reader=replace(lengths.reader, problems=[]))
    for stitch, inset_mm in lengths.insets.items():
        found = [quiet.side_length("", side, inset_mm, solved) for side in sides]
        if None not in found and abs((found[0] or 0.0) - (found[1] or 0.0)) <= LENGTH_TOLERANCE_MM:
            return f'sew it with the stitch "{stitch}", {format_mm(inset_mm)} from the edge, by which they are equal; else '
    return ""


def _measured_words(lengths: Lengths, side: SeamSide, show: Show) -> str:
    ends = {0: "", 1: " to the row of the seam beside it", 2: " between the rows of the seams beside it"}
    told = f"{side_words(side)} is {format_length(side.length_mm, show)}{ends[sum(mm > 0 for mm in side.lost_mm)]}, "
    told += f"{side.stitches} stitches"
    return told + line_words(lengths.written.get(lengths.models.get(side.part, side.part)))
