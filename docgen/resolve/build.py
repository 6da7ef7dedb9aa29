"""The build: no holes left, every length in mm, every outline there, every seam matched."""

from collections.abc import Iterable
from typing import Literal, Protocol, TypeVar

from docgen.classes import dataclass
from docgen.problems import Place, Problem
from docgen.resolve.goods.printing import Printing
from docgen.resolve.goods.values import (
    Care,
    Costs,
    Hardware,
    Held,
    Inside,
    Machine,
    Material,
    Photo,
    Shop,
    Trimming,
    Weight,
)
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Join, Seam, Stitch
from docgen.resolve.straps.strap import END_NAMES, Strap, end_name, sewn_on_name
from docgen.tables.limits import Limits
from docgen.told import told, told_parts, untold
from docgen.written.units.telling import Show

WorkKind = Literal["pieces", "skives", "joins", "seams", "dividers", "straps", "landings", "hardware"]
WORK_KINDS: tuple[WorkKind, ...] = ("skives", "joins", "seams", "straps", "hardware")


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`timed` is what `order` names, `work` that and then the rest as it is written; pieces, dividing lines ("dividers", by
    their piece) and straps that are sewn on ("landings", by the strap) are in it where `order` names them."""

    do: str = told("do")
    group: str = told("group", default="")
    note: str = told("note", default="")
    minutes: int = told("minutes", "number", default=0)
    pieces: tuple[str, ...] = told("pieces", default=())
    skives: tuple[str, ...] = told("skives", default=())
    joins: tuple[str, ...] = told("joins", default=())
    seams: tuple[str, ...] = told("seams", default=())
    straps: tuple[str, ...] = told("straps", default=())
    hardware: tuple[str, ...] = told("hardware", default=())
    trimmings: tuple[str, ...] = told("trimmings", default=())
    tools: tuple[str, ...] = told("tools", default=())
    first: tuple[str, ...] = told("first lines", default=())
    last: tuple[str, ...] = told("last lines", default=())
    order: tuple[str, ...] = told("order", default=())
    picture: Photo | None = told("picture", default=None)
    work: tuple[tuple[WorkKind, str], ...] = untold(default=())
    timed: tuple[tuple[WorkKind, str], ...] = untold(default=())
    place: Place = untold(default=Place())


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """A caution that the maker accepts, and why."""

    problem: Problem
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """The templates that several variants share: their `variants`, told apart in `words`, the `title` of what they have in
    common, and the `home` in whose folder the pattern is printed."""

    variants: tuple[str, ...]
    title: str
    words: str
    home: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UsedPart:
    """One of the shop's own parts that was brought in: its `name` here, its file, and the digest of that file."""

    name: str = untold()
    file: str = told("file")
    digest: str = told("contents of the file")


class Named(Protocol):
    @property
    def name(self) -> str: ...


N = TypeVar("N", bound=Named)


def by_name(items: Iterable[N]) -> dict[str, N]:
    """The items by their names, in their order."""
    return {item.name: item for item in items}


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Everything known about the build, in mm. `variant` is the variant's name, "" for the spec's own measures;
    `cautions` are printed on the pages they concern, `accepted` are those that the maker accepts; `files` are name and
    bytes of the drawings it was made from; `choices` are axis and code of each choice of a range that it is; `sharing`
    tells with which variants it shares its templates, None for none; `unweighed` hardware and trimmings whose weight is
    not known; `solved_measures` and `solved_pieces` the measures, and the lengths of pieces, that a seam gave, in mm."""

    code: str = told("code")
    title: str = told("title")
    version: str = untold()
    changed: str = untold()
    makes: int = told("makes in a batch", "count")
    show: Show = told("unit shown first")
    digest: str = untold()
    source_name: str = untold()
    source: bytes = untold()
    files: tuple[tuple[str, bytes], ...] = untold(default=())
    variant: str = told("variant", default="")
    choices: tuple[tuple[str, str], ...] = untold(default=())
    sharing: Sharing | None = untold(default=None)
    holds: tuple[Held, ...] = told("holds", default=())
    pieces: tuple[Piece, ...] = told_parts("piece", default=())
    straps: tuple[Strap, ...] = told_parts("strap", default=())
    joins: tuple[Join, ...] = told_parts("join", default=())
    seams: tuple[Seam, ...] = told_parts("seam", default=())
    materials: tuple[Material, ...] = told_parts("material", default=())
    stitches: tuple[Stitch, ...] = told_parts("stitch", default=())
    hardware: tuple[Hardware, ...] = told_parts("hardware", default=())
    used_parts: tuple[UsedPart, ...] = told_parts("shop's part", default=())
    trimmings: tuple[Trimming, ...] = told_parts("trimming", default=())
    steps: tuple[Step, ...] = told_parts("step", default=())
    begun: tuple[Step, ...] = untold(default=())  # of its parts, where the spec has no steps: told of the parts
    care: Care = told_parts("care card", default=Care())
    shop: Shop = told_parts("shop", default=Shop())
    printing: Printing = told_parts("pattern", default=Printing())
    limits: Limits = told_parts("limits", default=Limits())
    machines: tuple[Machine, ...] = told_parts("machine", default=())
    inside: Inside | None = told_parts("inside", default=None)
    costs: Costs = told_parts("costs", default=Costs())
    cautions: tuple[Problem, ...] = untold(default=())
    accepted: tuple[Accepted, ...] = untold(default=())
    weights: tuple[Weight, ...] = untold(default=())
    unweighed: tuple[str, ...] = untold(default=())
    solved_measures: tuple[tuple[str, float], ...] = untold(default=())
    solved_pieces: tuple[tuple[str, float], ...] = untold(default=())
    front: str = told("front", default="")
    picture: Photo | None = told("picture", default=None)

    @property
    def cut(self) -> tuple[Piece, ...]:
        """Everything that is cut and may have a template: pieces, then straps."""
        return tuple(piece for piece in self.laid if not piece.by_length)

    @property
    def laid(self) -> tuple[Piece, ...]:
        """Everything that lies in the build: what is cut, and goods by length among the strips of a join."""
        return (*self.pieces, *(strap.piece for strap in self.straps))

    @property
    def has_pattern(self) -> bool:
        """Whether its templates are printed with it, and not with another variant."""
        return self.sharing is None or self.sharing.home == self.variant

    @property
    def titles(self) -> dict[str, str]:
        """What each named part is called on the pages, by its name in the spec."""
        titles = self.seam_titles | {item.name: item.what for item in self.hardware}
        titles |= {item.name: item.what for item in self.trimmings}
        titles |= {item.name: item.title for item in self.materials}
        return titles | {piece.name: piece.title for piece in self.laid}

    @property
    def join_of(self) -> dict[str, str]:
        """Of each strip that is joined, the join."""
        return {strip: join.name for join in self.joins for strip in join.pieces}

    @property
    def part_titles(self) -> dict[str, str]:
        """The titles of all that may be sewn: joins, pieces, straps."""
        return {join.name: join.title for join in self.joins} | {piece.name: piece.title for piece in self.laid}

    @property
    def seam_titles(self) -> dict[str, str]:
        """The titles of all that stitch lines are named after: straps, joins, seams."""
        titles = {strap.name: strap.title for strap in self.straps} | {join.name: join.title for join in self.joins}
        titles |= {
            end_name(strap.name, which): f"{strap.title}, {words}"
            for strap in self.straps
            for which, words in enumerate(END_NAMES)
        }
        titles |= {
            sewn_on_name(on.strap, on.end, piece.name): f"{titles[end_name(on.strap, on.end)]} on {piece.title}"
            for piece in self.pieces
            for on in piece.strap_landings
        }
        return titles | {seam.name: seam.title for seam in self.seams}

    @property
    def weight_g(self) -> float:
        """Weight of one make in grams, without thread and without what is in `unweighed`."""
        return sum(weight.grams for weight in self.weights)


def find_bed(build: Build, stitch: str) -> str:
    """The bed of the machine that sews a stitch; empty where it is not said, or sewn by hand."""
    machine = next((one.machine for one in build.stitches if one.name == stitch), "")
    return next((one.bed for one in build.machines if one.name == machine), "")
