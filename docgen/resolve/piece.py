"""A piece as it is cut: its outline and everything marked on it, in its own coordinates, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, ClassVar, Literal, NamedTuple

from docgen.classes import dataclass
from docgen.geometry.measure import chords
from docgen.geometry.outline import SWAPPED, outline_box, outline_path, transform_outline
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Outline, Path, Point
from docgen.geometry.vector import mirror_x
from docgen.problems import Place
from docgen.resolve.marks import Fold, Hole, Marks, PieceLine
from docgen.resolve.moving import Move
from docgen.tables.defaults import SHOWS
from docgen.told import told, untold


@dataclass(frozen=True, slots=True, kw_only=True)
class Hem:
    """Edges that are turned over by `turned_mm`, twice when `is_double`."""

    edges: tuple[str, ...]
    turned_mm: float
    is_double: bool = False
    place: Place = Place()

    @property
    def depth_mm(self) -> float:
        """From the cut edge to the fold that becomes the edge."""
        return self.turned_mm * (2 if self.is_double else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Divider:
    """A line of stitches across a piece, from edge to edge or from seam to seam, through the piece `on` beneath it where
    one is named, or through `goods` by length that are laid there, and go on beyond its start and its end by `beyond_mm`:
    to the edge, where stitches end at a seam."""

    start: Point
    end: Point
    stitch: str
    on: str = ""
    goods: str = ""
    place: Place = Place()
    beyond_mm: tuple[float, float] = (0.0, 0.0)

    def moved(self, move: Move) -> Divider:
        return replace(self, start=move.point(self.start), end=move.point(self.end))


WAYS = {"up": Point(0.0, 1.0), "down": Point(0.0, -1.0), "left": Point(-1.0, 0.0), "right": Point(1.0, 0.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapLanding:
    """Where an end of a strap, 0 the first or 1 the second, lies fast on this piece: the middle of that end at `at`, from
    there `over_mm` long the way it `leads`; `outline` is the part that lies fast, `title` that of the strap, `stitch` what
    sews it on, `holes` those of it that this piece does not have."""

    kind: ClassVar[str] = "landing"
    strap: str
    end: int
    at: Point
    leads: str
    over_mm: float
    outline: Path
    title: str = ""
    stitch: str = ""
    holes: tuple[Hole, ...] = ()
    place: Place = Place()

    @property
    def key(self) -> str:
        return f"{self.strap}, {'second' if self.end else 'first'} end"

    @property
    def path(self) -> Path:
        return self.outline

    @property
    def way(self) -> Point:
        """The unit vector along which it leads."""
        return WAYS[self.leads]

    def turned_over(self, move: Move) -> StrapLanding:
        """Where it lies when the piece is mirrored: a strap that leads left then leads right."""
        leads = SWAPPED.get(self.leads, self.leads)
        holes = tuple(hole.moved(move) for hole in self.holes)
        return replace(self, at=move.point(self.at), leads=leads, outline=move.path(self.outline), holes=holes)


TemplateWay = Literal["printed", "die", "rule", "kept", "shared"]
_CENTRE_WAYS = {"up": Point(0.0, 1.0), "across": Point(1.0, 0.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece to cut: `cut` counts all of one make, half of them mirrored when `is_pair`. `centre_lines` holds "up"
    and "across"; `least_stretch` is the way the leather must stretch least, "up", "across", or empty;
    `cut_from` the part of a hide it comes from, "firm", "good", "any", or empty.

    `folded` is the outline between the folds of its `hems`, None without any. `lines` are parts behind which it lies,
    as they are written; `model` is the piece whose shape it takes, at `inset_mm`, itself for its own, and `like` the one
    that it says it is like, or empty. `template` says how it is cut, `template_of` by which die, kept template, or other
    piece's template; `also_cuts` are the pieces that are cut by its own besides. Goods by length among the strips of a
    join are `by_length`, and have no template.
    """

    name: str = untold()
    title: str = told("title")
    material: str = told("cut from")
    cut: int = told("number to cut", "count")
    is_pair: bool = told("half of them mirrored")
    shape: str = untold()
    outline: Outline = untold()
    marks: Marks = untold(default=Marks())
    centre_lines: tuple[str, ...] = told("centre lines", default=())
    least_stretch: str = told("least stretch", default="")
    cut_from: str = told("part of the hide", default="")
    note: str = told("note", default="")
    place: Place = untold(default=Place())
    is_strap: bool = untold(default=False)
    by_length: bool = untold(default=False)
    is_solved: bool = untold(default=False)
    hems: tuple[Hem, ...] = untold(default=())
    folded: Outline | None = untold(default=None)
    dividers: tuple[Divider, ...] = untold(default=())
    strap_landings: tuple[StrapLanding, ...] = untold(default=())
    lines: tuple[str, ...] = told("lies behind", default=())
    lid_of: str = told("lid of", default="")
    shows: str = told("side that faces out", default=SHOWS)
    model: str = untold(default="")
    like: str = untold(default="")
    inset_mm: float = untold(default=0.0)
    template: TemplateWay = told("template", default="printed")
    template_of: str = told("die or template", default="")
    also_cuts: tuple[str, ...] = told("template cuts besides", default=())

    @property
    def is_printed(self) -> bool:
        """Whether it has a template of its own on the pattern."""
        return self.template == "printed"

    @property
    def spots_by_place(self) -> dict[Place, list[Point]]:
        """Its holes, mm, by where they are written: those of a row have one place."""
        found: dict[Place, list[Point]] = {}
        for hole in self.marks.holes:
            found.setdefault(hole.place, []).append(hole.at)
        return found

    @property
    def landing_names(self) -> tuple[str, ...]:
        """What lands on it, pieces and straps as they are written, behind them those that a model brings: what comes first
        lies beneath."""
        found = [(one.place, one.piece) for one in self.marks.landings]
        found += [(one.place, one.strap) for one in self.strap_landings]
        found.sort(key=lambda item: (item[0].line < self.place.line, item[0].line, item[0].column))
        return tuple(name for _, name in found)

    @property
    def hemmed(self) -> frozenset[str]:
        """The edges along which it has hems, as they are written: "all" for all round."""
        return frozenset(edge for hem in self.hems for edge in hem.edges)

    @property
    def own_folds(self) -> tuple[Fold, ...]:
        """Its folds without those of its hems."""
        return tuple(fold for fold in self.marks.folds if not fold.of_hem)

    @property
    def bends_over(self) -> bool:
        """Whether it bends over by half a turn in all, at open folds alone whose angles are said."""
        folds = self.own_folds
        return all(fold.is_open and fold.angle_deg for fold in folds) and sum(fold.angle_deg for fold in folds) == 180

    @property
    def is_pleated(self) -> bool:
        """Whether it is folded flat two ways in turn, and lies narrower then than it is cut: what lies inside is the grain
        side at one of its folds, and the flesh side at another."""
        flat = [fold for fold in self.own_folds if not fold.is_open or fold.angle_deg == 180]
        return len({fold.is_grain_in(self.shows) for fold in flat}) > 1

    @property
    def sewn_outline(self) -> Outline:
        """The outline that seams run along: between the folds of its hems."""
        return self.folded or self.outline

    def with_marks(self, **marks: tuple[Any, ...]) -> Piece:
        """The piece with other marks of some kinds, each by its field of `Marks`."""
        return replace(self, marks=replace(self.marks, **marks))

    def turned_over(self) -> Piece:
        """The piece with everything on it mirrored about its upright middle; its edges keep their names."""
        by = mirror_x(outline_box(self.outline).centre.x)
        move = Move(by)
        return replace(
            self,
            outline=transform_outline(self.outline, by),
            folded=self.folded and transform_outline(self.folded, by),
            marks=self.marks.moved(move),
            dividers=tuple(line.moved(move) for line in self.dividers),
            strap_landings=tuple(landing.turned_over(move) for landing in self.strap_landings),
        )


def edge_mm(piece: Piece, edge: str, inset_mm: float, full_mm: float) -> float:
    """Thickness `inset_mm` in from a cut edge: what a skived band leaves there, else the whole."""
    left = [
        skive.to_mm
        for skive in piece.marks.skives
        if inset_mm < skive.width_mm and not {edge, "all"}.isdisjoint(skive.edges.split())
    ]
    return min([full_mm, *left])


class PlainLine(NamedTuple):
    """A line on a piece that is no mark: "centre" through its middle, "cut" for its outline, "landing" for a hole of what
    lands there."""

    kind: str
    key: str
    path: Path


def lines_of(piece: Piece) -> Iterator[PieceLine]:
    """Everything that is drawn on a piece, in the order it is drawn: where straps land on it, its marks, its centre
    lines, its outline."""
    yield from piece.strap_landings
    brought = [(end.key, end.holes) for end in piece.strap_landings]
    brought += [(landing.key, landing.holes) for landing in piece.marks.landings]
    for key, holes in brought:
        yield from (PlainLine("landing", f"{key} hole {k}", hole.path) for k, hole in enumerate(holes, start=1))
    yield from piece.marks
    shape = outline_path(piece.outline)
    for way in piece.centre_lines:
        for start, end in chords(shape, outline_box(piece.outline).centre, _CENTRE_WAYS[way]):
            yield PlainLine("centre", way, polyline((start, end)))
    yield PlainLine("cut", "", shape)
