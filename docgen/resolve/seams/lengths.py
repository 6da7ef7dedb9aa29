"""What the sides of seams are measured on: outlines, joins and straps, for any solution of the open lengths."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from docgen.classes import dataclass
from docgen.geometry.nearest import Stretch, inset_stretch
from docgen.geometry.outline import edge_names, outline_box, strip_outline
from docgen.geometry.path import path_length
from docgen.geometry.run import run_path
from docgen.geometry.shapes import GeometryError, Outline, Path
from docgen.geometry.spacing import corner_distances
from docgen.problems import line_words
from docgen.resolve.pieces.marks import RUN_MEND
from docgen.resolve.pieces.positions import has_edges
from docgen.resolve.seams.folded import Folded, folded_stretch
from docgen.resolve.seams.joins import join_length_mm, strip_ends
from docgen.resolve.seams.partners import Notches, find_stretch, narrow_words, other_edges
from docgen.resolve.seams.seam import INSET_CHECK, Join, SeamSide, side_words
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import Reader
from docgen.written.units.telling import Show, format_length

LENGTH_TOLERANCE_MM = 0.5
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
    landed: Mapping[str, Mapping[str, str]]  # piece -> the pieces on which it lands, and where, as written

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
