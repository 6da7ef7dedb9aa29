"""Hardware in space as small known shapes: caps of what is set in a hole, rings and buckles on a bar. Estimates: a spec
tells the inside and the bar of a ring, and no other size."""

from __future__ import annotations

import math
import re
from typing import Literal

from docgen.assemble.assembly import Copy, Half
from docgen.assemble.space.vectors import Vec, along, inner, minus, outer, times
from docgen.classes import dataclass
from docgen.problems import Place
from docgen.resolve import Hardware
from docgen.tables.hardware import EYELET_OVER_MM

MetalShape = Literal["cap", "D ring", "round ring", "square ring", "buckle", "hook", "bar"]

# Diameter of what is seen of it, mm: common sizes, our choice; an eyelet is so much wider than its hole as the tables say.
CAP_MM = {"rivet": 9.0, "tubular-rivet": 9.0, "copper-rivet": 10.0, "screw-post": 10.0, "snap": 12.5, "other": 10.0}
# How deep a ring or buckle is from its bar to its far side, in its inside widths: as they are drawn, our choice.
DEEP_BY_SHAPE = {"D ring": 0.75, "round ring": 1.0, "square ring": 0.5, "buckle": 0.9, "hook": 1.6, "bar": 0.0}
USUAL_BAR_MM = 3.0
SIDES = 16
TONGUE = 2  # which of the lines of a buckle


@dataclass(frozen=True, slots=True, kw_only=True)
class Metal:
    """A piece of hardware in its place, in `part`. Of what is set in a hole, `at` is where its post goes through, `axis`
    the way its cap looks, and `wide_mm` the cap's diameter; through an eyelet goes a hole of `bore_mm`. A ring, buckle or
    hook hangs with the middle of its bar `at`, in the plane square to `axis`; it goes from there `way`, `deep_mm` inside,
    `wide_mm` wide inside, of a rod as thick as `bar_mm`. `half` says which of a snap it is; `lift` by how many layers a
    picture lifts it, and which way, `tilt` how many times as far its far side; `place` is that of its hole in the spec."""

    hardware: str
    part: Copy
    shape: MetalShape
    at: Vec
    axis: Vec
    way: Vec
    wide_mm: float
    deep_mm: float = 0.0
    bar_mm: float = 0.0
    bore_mm: float = 0.0
    half: Half = ""
    lift: Vec = (0.0, 0.0, 0.0)
    tilt: float = 1.0
    place: Place = Place()

    @property
    def far(self) -> Vec:
        """The middle of its far side, where a strap goes round it."""
        return along(self.at, self.way, self.deep_mm)

    @property
    def outlines(self) -> tuple[tuple[Vec, ...], ...]:
        """What is seen of it as closed lines in its plane: the rim of a cap; the outer and the inner side of the rod, and
        the tongue of a buckle."""
        return tuple(tuple(self._point(x, y) for x, y in ring) for ring in _rings(self))

    def lift_at(self, at: Vec, ring: int = 0) -> Vec:
        """By how many layers a picture lifts a point of one of its lines, and which way: the tongue lies over all that goes
        through."""
        if ring == TONGUE:
            return times(self.lift, self.tilt)
        share = min(max(inner(minus(at, self.at), self.way) / self.deep_mm, 0.0), 1.0) if self.deep_mm else 0.0
        return times(self.lift, 1 + (self.tilt - 1) * share)

    def _point(self, x_mm: float, y_mm: float) -> Vec:
        return along(along(self.at, outer(self.way, self.axis), x_mm), self.way, y_mm)


Ring = list[tuple[float, float]]


def _rings(metal: Metal) -> list[Ring]:
    """Its lines in mm across and along its way, from its middle or its bar on."""
    if metal.shape == "cap":
        turns = [math.tau * k / SIDES for k in range(SIDES)]
        halves_mm = [wide_mm / 2 for wide_mm in (metal.wide_mm, metal.bore_mm) if wide_mm]
        return [[(half_mm * math.cos(turn), half_mm * math.sin(turn)) for turn in turns] for half_mm in halves_mm]
    bar_mm = metal.bar_mm or USUAL_BAR_MM
    rings = [_loop(metal, over_mm) for over_mm in ((bar_mm, 0.0) if metal.deep_mm else (bar_mm / 2,))]
    if metal.shape == "buckle":
        half_mm = bar_mm / 2
        rings.append([(-half_mm, 0.0), (half_mm, 0.0), (half_mm, metal.deep_mm), (-half_mm, metal.deep_mm)])
    return rings


def _loop(metal: Metal, over_mm: float) -> Ring:
    """The inside of a ring or buckle, grown by so much; the middle of its bar lies half a bar below its inside."""
    half_mm, low_mm = metal.wide_mm / 2 + over_mm, -over_mm
    high_mm = metal.deep_mm + over_mm
    if metal.shape in ("buckle", "square ring", "bar"):
        return [(-half_mm, low_mm), (half_mm, low_mm), (half_mm, high_mm), (-half_mm, high_mm)]
    if metal.shape == "D ring":
        turns = [math.pi * k / SIDES for k in range(SIDES + 1)]
        return [(half_mm * math.cos(turn), low_mm + (high_mm - low_mm) * math.sin(turn)) for turn in turns]
    middle_mm, tall_mm = (low_mm + high_mm) / 2, (high_mm - low_mm) / 2
    turns = [math.tau * k / SIDES for k in range(SIDES)]
    return [(half_mm * math.cos(turn), middle_mm + tall_mm * math.sin(turn)) for turn in turns]


def shape_of(item: Hardware) -> MetalShape:
    """The shape of what lies in a fold, by what it is called."""
    words = re.sub(r"[^a-z0-9]+", " ", item.what.lower())
    if item.kind == "buckle":
        return "buckle"
    if item.kind != "ring":
        return "bar" if any(word in words.split() for word in ("bar", "bars", "pin", "rod")) else "hook"
    if "d ring" in words:
        return "D ring"
    return "square ring" if any(word in words for word in ("square", "rectang")) else "round ring"


def cap_mm(item: Hardware, hole_mm: float) -> float:
    """Diameter of what is seen of hardware that is set in a hole."""
    return hole_mm + EYELET_OVER_MM if item.kind == "eyelet" else CAP_MM.get(item.kind, CAP_MM["other"])
