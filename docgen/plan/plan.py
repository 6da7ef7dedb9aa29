"""The plan: what to cut, what to buy, what to do in which order, and what to tell the customer."""

from typing import Literal

from docgen.assemble import Assembled
from docgen.classes import dataclass
from docgen.plan.act import Act
from docgen.plan.cost import Cost
from docgen.plan.straight_edge import StraightEdge
from docgen.problems import Problem
from docgen.resolve import (
    Goods,
    Hardware,
    Layer,
    Material,
    Photo,
    Piece,
    Seam,
    Stitch,
    Strap,
    Trimming,
    TrimmingCut,
    Weight,
)

CutGroup = Literal["panels", "small", "under"]
Decider = Literal["straps", "piece", "area", "rows", "lay"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutItem:
    """One line of the cutting list: `count` for the whole batch, size of the box round the piece, area of
    one. `group` is when it is cut: large leather, small leather, then lining, foam and board ("under")."""

    name: str
    title: str
    piece: Piece
    group: CutGroup
    count: int
    is_pair: bool
    shape: str
    width_mm: float
    height_mm: float
    area_mm2: float
    notes: tuple[str, ...]

    @property
    def mirrored(self) -> int:
        """How many of them are cut mirrored."""
        return self.count // 2 if self.is_pair else 0

    @property
    def all_mm2(self) -> float:
        return self.area_mm2 * self.count


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapItem:
    """One strap of the cutting list: `count` for the whole batch, area of one. `is_lining`: the second layer of a
    doubled strap; `is_padding`: what lies between the two."""

    strap: Strap
    title: str
    count: int
    width_mm: float
    length_mm: float
    area_mm2: float
    is_lining: bool = False
    is_padding: bool = False
    notes: tuple[str, ...] = ()

    @property
    def is_plain(self) -> bool:
        """Cut plain: turned and punched is only the strap itself."""
        return self.is_lining or self.is_padding

    @property
    def comes_from(self) -> str:
        """The part of a hide that it is taken from, "firm", "good" or "any": what lies under another layer, and what goes
        round a turned end, need not be firm."""
        own = self.strap.cut_from or ("any" if self.strap.keeper_for else "firm")
        return "any" if self.is_plain else own

    @property
    def all_mm2(self) -> float:
        return self.area_mm2 * self.count


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """What is bought of goods whose size is known: `count` hides or panels, and what decides it: "straps", "piece" (the
    large ones), "area", "rows" of pieces, or a "lay". `left_mm2` is not cut into; of a roll it is what lies beside the
    pieces. From a roll `count` is 0, and the plan of the material has the length. `laid_mm2` is the area of the hides of a
    lay together, 0 without one."""

    goods: Goods
    count: int
    decides: Decider
    left_mm2: float
    laid_mm2: float = 0.0

    @property
    def together_mm2(self) -> float:
        """The area of several hides that differ in theirs: so much was reckoned with. 0 of any other goods."""
        differ = self.goods.is_hide and self.count > 1 and self.goods.most_mm2 > self.goods.least_mm2
        return (self.laid_mm2 or self.count * self.goods.middle_mm2) if differ else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialPlan:
    """All that is cut from one material: `net_mm2` the pieces, `gross_mm2` with waste; `run_mm` what is needed
    of goods sold by running length (0 for others); `edge` None without straps. What is bought is rounded up from these:
    docgen.written.units.buy_run_mm, buy_area_mm2. `bought` is None where it is not known how the goods are sold."""

    material: Material
    edge: StraightEdge | None
    straps: tuple[StrapItem, ...]
    items: tuple[CutItem, ...]
    net_mm2: float
    gross_mm2: float
    run_mm: float
    bought: Bought | None = None

    @property
    def pieces(self) -> int:
        return sum(item.count for item in self.items)

    @property
    def strips(self) -> int:
        """Straps and their linings."""
        return sum(item.count for item in self.straps)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandThread:
    """Threads to cut for one job of hand sewing, all of one length, for the whole batch."""

    title: str
    count: int
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadNeed:
    """Thread of one kind for the whole batch: an estimate. `sewn_mm` is the length of all rows of stitching; `hand`
    the threads to cut. `bobbin_mm` and `spool_mm` are what one holds; the spools hold the wound thread as well."""

    thread_words: str
    tex: float
    by: str
    needles: tuple[int, ...]
    sewn_mm: float
    needle_thread_mm: float
    bobbin_thread_mm: float
    bobbin_mm: float
    bobbins: int
    spool_mm: float
    spools: int
    hand: tuple[HandThread, ...]

    @property
    def total_mm(self) -> float:
        return self.needle_thread_mm + self.bobbin_thread_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Needles:
    """Needles to have at hand for sewing `by` "machine", all sizes, with the points they need by the stitches, or "hand"
    (none: two of them take the thread), and the numbers of the steps that sew so."""

    by: str
    sizes: tuple[int, ...]
    points: tuple[tuple[int, str], ...] = ()
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareItem:
    """`count` for the whole batch; `posts` are post length in mm (0: none chosen) and how many of it, where posts
    are chosen by the leather they go through; of snaps those of their caps, and `studs` those of their other halves. Not
    in the count are `tried`, shorter posts in mm and how many of each, where foam gives; and `wanted` spares (of each
    post), where none is counted."""

    hardware: Hardware
    count: int
    posts: tuple[tuple[float, int], ...] = ()
    tried: tuple[tuple[float, int], ...] = ()
    wanted: int = 0
    studs: tuple[tuple[float, int], ...] = ()

    @property
    def has_other_studs(self) -> bool:
        """Whether the studs of snaps take other posts than their caps."""
        return bool(self.studs) and self.studs != tuple(post for post in self.posts if post[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimmingItem:
    """Goods by length for the whole batch: each length that is cut of them, with how many of it; `step` is the first that
    names them, 0 where none does."""

    trimming: Trimming
    cuts: tuple[tuple[TrimmingCut, int], ...]
    step: int = 0

    @property
    def count(self) -> int:
        """How many are cut."""
        return sum(count for _, count in self.cuts)

    @property
    def net_mm(self) -> float:
        """All that is cut, end to end."""
        return sum(cut.length_mm * count for cut, count in self.cuts)

    @property
    def gross_mm(self) -> float:
        """From the roll, with the spare."""
        return self.net_mm * (1 + self.trimming.spare)

    @property
    def ready(self) -> tuple[tuple[float, int], ...]:
        """How many of each length in which they are sold, shortest first; empty where they come from the roll."""
        counts: dict[float, int] = {}
        for cut, count in self.cuts:
            if cut.ready_mm:
                counts[cut.ready_mm] = counts.get(cut.ready_mm, 0) + count
        return tuple(sorted(counts.items()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Goods that are used up, as a step's tools name them, and the numbers of the steps that take them."""

    what: str
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SewingJob:
    """One run of stitching in a step: a seam, the joints of a join, the edges of a strap, or lines across a
    piece (`is_across`). `line` is the name of its stitch lines where that is neither the seam's nor the part's.

    `inset_mm` is how far its first row lies in from the edge, at a joint from the end of the strip, and `row_gap_mm` how
    far its rows are apart.

    `stack_range_mm` is the stack at its thinnest and its thickest place, `layers` are what it is made of.

    By hand also the `holes` to prick for one run, at how many of its ends the thread goes `over_edges`, and the threads to
    cut for one make, those of all rows and runs: `hand_threads` of `hand_thread_mm` each. At a machine the four are 0.
    `spans_mm` are the lengths between the ends and sharp corners of one run; not `are_corners` where rows end on it."""

    title: str
    stitch: Stitch
    parts: tuple[str, ...]
    length_mm: float
    runs: int
    stitches: int
    pitch_mm: float
    stack_mm: float
    rows: int
    stack_range_mm: tuple[float, float] = (0.0, 0.0)
    layers: tuple[Layer, ...] = ()
    seam: Seam | None = None
    holes: int = 0
    over_edges: int = 0
    hand_threads: int = 0
    hand_thread_mm: float = 0.0
    is_across: bool = False
    line: str = ""
    spans_mm: tuple[float, ...] = ()
    are_corners: bool = True
    row_gap_mm: float = 0.0
    inset_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scrap:
    """Offcuts to try one stitch on: the materials from the top down, by title, how thick they are together, and the
    seam, join or strap they stand for."""

    stitch: Stitch
    title: str
    materials: tuple[str, ...]
    stack_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPiece:
    """A piece shown with a step; `seams` are picked out on it, its skived bands when `is_skived`, its holes and slits
    when `is_punched`, and the heads of the hardware that is `set` in its holes; what is `laid` on its face lies there
    since an earlier step. Of a strap the ends that are `turned` by then, and the keepers that are `slid` on it."""

    name: str
    seams: tuple[str, ...]
    is_skived: bool
    is_punched: bool = False
    set: tuple[str, ...] = ()
    laid: tuple[str, ...] = ()
    turned: tuple[int, ...] = ()
    slid: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep:
    """One numbered step with all it needs: `takes` is what is laid out for it, `acts` what is done, line by line, `good`
    what can be measured or seen afterwards; `tools` all that it takes, those too that follow from the work; `hazards` are
    ids of docgen.tables.cautions. `waits` are a glue or paint and how long it takes; `minutes` is for one make, 0 where
    it is not known; `cautions` are the build's at this step."""

    number: int
    group: str
    do: str
    jobs: tuple[SewingJob, ...]
    takes: tuple[Act, ...]
    acts: tuple[Act, ...]
    good: tuple[Act, ...]
    drawn: tuple[DrawnPiece, ...]
    tools: tuple[str, ...]
    hazards: tuple[str, ...]
    note: str
    waits: tuple[tuple[str, str], ...] = ()
    minutes: int = 0
    cautions: tuple[Problem, ...] = ()
    picture: Photo | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """One thing to check on the finished article: its `case` in [finished] and [finished_due] of layouts/sentences.toml,
    with what is put in."""

    case: str
    values: tuple[tuple[str, str], ...] = ()
    due: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything the pages say. `is_proposed` tells that the order of steps is ours, not the spec's; `care` are ids of
    docgen.tables.care. `weights` and `cost` are of the whole batch and for the shop only; `cost` is None where no price
    is named. A plan of several variants, or of the builds of several specs, names each in
    `joined`, with its number of makes."""

    build: Assembled
    materials: tuple[MaterialPlan, ...]
    scraps: tuple[Scrap, ...]
    threads: tuple[ThreadNeed, ...]
    needles: tuple[Needles, ...]
    hardware: tuple[HardwareItem, ...]
    trimmings: tuple[TrimmingItem, ...]
    supplies: tuple[Supply, ...]
    steps: tuple[PlanStep, ...]
    is_proposed: bool
    tools: tuple[str, ...]
    hazards: tuple[str, ...]
    care: tuple[str, ...]
    finished: tuple[Finished, ...] = ()
    weights: tuple[Weight, ...] = ()
    cost: Cost | None = None
    joined: tuple[tuple[str, int], ...] = ()
    joined_by: Literal["variants", "builds"] = "variants"

    @property
    def minutes(self) -> int:
        """The time of all steps for one make; 0 unless every step says its own."""
        minutes = [step.minutes for step in self.steps]
        return sum(minutes) if all(minutes) else 0

    @property
    def grams(self) -> float:
        """What is known of the weight of the batch."""
        return sum(weight.grams for weight in self.weights)
