"""Whole builds, as specs that a shop might write, put together and planned; and thread worked out from the formula.

A lockstitch takes 2 (1 + T/p) of its length, needle and bobbin together (textilecalculations.com, "Calculate amount of
sewing thread consumption": C = 2 + 2 T S); 15 % are lost (American & Efird, "Estimating Thread Consumption": 15 to 20 %).
400 mm of tails and back-tacks of 1/2 in at both ends are common practice, no published source.
"""

from functools import cache, cached_property
from pathlib import Path

from docgen.assemble import Assembled, Assembly, Fastened, Run, Stack
from docgen.assemble.space import Space
from docgen.checks import resolve_variants
from docgen.plan import CutItem, MaterialPlan, Plan, StrapItem, ThreadNeed, plan_work
from docgen.read import read_spec
from docgen.resolve import Build, Piece, Seam, Strap, by_name

FOLDER = Path(__file__).parent / "assemble" / "builds"
BUILDS = {path.stem: path for path in sorted(FOLDER.glob("*.toml"))}
Range = tuple[float, float, float]


class Built:
    """A build with what tests ask of it."""

    def __init__(self, build: Assembled) -> None:
        self.build: Assembled = build
        self.made: Assembly = build.assembly
        self.space: Space = build.space

    @cached_property
    def plan(self) -> Plan:
        return plan_work(self.build)

    def seam(self, name: str) -> Seam:
        return next(seam for seam in self.build.seams if seam.name == name)

    def range_of(self, seam: str) -> Range:
        """Layers under the needle: at the thinnest place, mostly, at the thickest."""
        return range_of(self.made.stack(seam))

    def run(self, part: str) -> Run:
        return next(run for run in self.made.runs if run.part == part)

    def posts(self) -> list[tuple[str, int, float, float]]:
        """Of each place with hardware: the part, how many, the layers in mm, the post chosen."""
        return [post_of(one) for one in self.made.fastened]

    def goods(self, name: str) -> MaterialPlan:
        return next(goods for goods in self.plan.materials if goods.material.name == name)

    def cut(self, name: str) -> tuple[int, float, float]:
        """How many are cut for the batch, width and height."""
        item = self._item(name)
        return item.count, item.width_mm, item.height_mm

    def _item(self, name: str) -> CutItem:
        return next(item for goods in self.plan.materials for item in goods.items if item.name == name)

    def strap(self, name: str) -> StrapItem:
        return next(item for goods in self.plan.materials for item in goods.straps if item.strap.name == name)

    @property
    def thread(self) -> ThreadNeed:
        (need,) = self.plan.threads
        return need


def piece_of(build: Build, name: str) -> Piece:
    return by_name(build.pieces)[name]


def strap_of(build: Build, name: str) -> Strap:
    return by_name(build.straps)[name]


def range_of(stack: Stack) -> Range:
    return stack.thinnest_mm, stack.usual_mm, stack.thickest_mm


def post_of(one: Fastened) -> tuple[str, int, float, float]:
    return one.part, one.count, round(one.stack.usual_mm, 6), one.post_mm


@cache
def built(name: str, variant: int = 0) -> Built:
    """One of the builds; of one with variants the first, or the one meant."""
    return Built(resolve_variants(read_spec(BUILDS[name]))[variant])


def by_machine(length_mm: float, stitches: int, layers_mm: float) -> float:
    """Thread of one row sewn by machine, needle and bobbin together, in mm."""
    return (length_mm + 2 * 12.7) * 2 * (1 + layers_mm * stitches / length_mm) * 1.15 + 400


def by_hand(length_mm: float, stitches: int, layers_mm: float, back_tack_mm: float) -> float:
    """One thread sewn by hand with two needles, in mm: each hole is passed twice, as in a lockstitch; 300 mm for both
    tails are common practice, no published source."""
    return (length_mm + 2 * back_tack_mm) * 2 * (1 + layers_mm * stitches / length_mm) + 300
