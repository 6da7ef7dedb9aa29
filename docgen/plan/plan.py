"""The plan: what to cut, what to buy, what to do in which order, and what to tell the customer."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.resolve import Build, Hardware, Material, Seam, Stitch, Strap


@dataclass(frozen=True, slots=True, kw_only=True)
class CutItem:
    """One line of the cutting list: `count` for the whole batch, size of the box round the piece, area of
    one."""

    name: str
    title: str
    count: int
    is_pair: bool
    shape: str
    width_mm: float
    height_mm: float
    area_mm2: float
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapItem:
    """One strap of the cutting list: `count` for the whole batch, area of one."""

    strap: Strap
    count: int
    area_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialPlan:
    """All that is cut from one material: `net_mm2` the pieces, `gross_mm2` with waste; `run_mm` what to buy
    of goods sold by running length (0 for others)."""

    material: Material
    straps: tuple[StrapItem, ...]
    items: tuple[CutItem, ...]
    net_mm2: float
    gross_mm2: float
    run_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadNeed:
    """Thread of one kind for the whole batch: an estimate. `sewn_mm` is the length of all rows of
    stitching."""

    thread_words: str
    needles: tuple[int, ...]
    by: str
    sewn_mm: float
    needle_thread_mm: float
    bobbin_thread_mm: float

    @property
    def total_mm(self) -> float:
        return self.needle_thread_mm + self.bobbin_thread_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareItem:
    """`count` for the whole batch."""

    hardware: Hardware
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SewingJob:
    """One run of stitching in a step: a seam, the joints of a join, or the edges of a strap."""

    title: str
    stitch: Stitch
    parts: tuple[str, ...]
    length_mm: float
    runs: int
    stitches: int
    pitch_mm: float
    stack_mm: float
    rows: int
    seam: Seam | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPiece:
    """A piece shown with a step; `seams` are picked out on it, and its skived bands when `is_skived`."""

    name: str
    seams: tuple[str, ...]
    is_skived: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep:
    """One numbered step with all it needs; `hazards` are ids of docgen.tables.cautions."""

    number: int
    group: str
    do: str
    jobs: tuple[SewingJob, ...]
    lines: tuple[tuple[str, str], ...]
    drawn: tuple[DrawnPiece, ...]
    tools: tuple[str, ...]
    hazards: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything the pages say. `is_proposed` tells that the order of steps is ours, not the spec's; `care` are ids of
    docgen.tables.care."""

    build: Build
    materials: tuple[MaterialPlan, ...]
    threads: tuple[ThreadNeed, ...]
    hardware: tuple[HardwareItem, ...]
    steps: tuple[PlanStep, ...]
    is_proposed: bool
    tools: tuple[str, ...]
    hazards: tuple[str, ...]
    care: tuple[str, ...]
