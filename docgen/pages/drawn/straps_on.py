"""How a strap goes on whose end lies fast on a piece: to its other end there, to its own end, or as far as a break line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, cross, distance, dot, scale, subtract, turn_left
from docgen.resolve import Strap, StrapLanding

RUN_ON_MM = 4.0  # on paper, beyond what lies fast: our choice
BREAK_OVER_MM = 1.2  # on paper, of a break line beyond what it breaks off
LAP_MM = 0.4  # on paper, over the line where what lies fast ends
AGAINST = -0.99  # the cosine between ends that lead to each other
ON_LINE_MM = 1.0  # how far they may miss each other


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapOn:
    """An end that lies fast, and what goes on of the strap: `rest_mm` of it are left, or as much as is between it and the
    other end, where that lies on the piece too and leads towards it (`is_held`)."""

    landing: StrapLanding
    width_mm: float
    rest_mm: float
    is_held: bool

    @property
    def start(self) -> Point:
        """The middle of the strap where it comes to be free."""
        return add(self.landing.at, scale(self.landing.way, self.landing.over_mm))

    def is_broken_at(self, scale_to: float) -> bool:
        return not self.is_held and self.rest_mm > RUN_ON_MM * scale_to

    def run_mm(self, scale_to: float) -> float:
        return RUN_ON_MM * scale_to if self.is_broken_at(scale_to) else self.rest_mm

    def corners_at(self, scale_to: float) -> tuple[Point, Point, Point, Point]:
        """From where it is free, and a little before, along one side, over its end and back along the other."""
        way, aside = self.landing.way, scale(turn_left(self.landing.way), self.width_mm / 2)
        start, end = (add(self.start, scale(way, mm)) for mm in (-LAP_MM * scale_to, self.run_mm(scale_to)))
        return add(start, aside), add(end, aside), subtract(end, aside), subtract(start, aside)


def find_straps_on(landings: Sequence[StrapLanding], straps: Mapping[str, Strap]) -> Iterator[StrapOn]:
    """What is drawn of straps beyond their landings, those given: between two ends once."""
    for one in landings:
        strap = straps[one.strap]
        other = next((other for other in landings if _leads_to(one, other)), None)
        if other is None:
            rest_mm = max(strap.cut_length_mm - one.over_mm, 0.0)
            yield StrapOn(landing=one, width_mm=strap.width_mm, rest_mm=rest_mm, is_held=False)
        elif one.end < other.end:
            rest_mm = max(distance(one.at, other.at) - one.over_mm - other.over_mm, 0.0)
            yield StrapOn(landing=one, width_mm=strap.width_mm, rest_mm=rest_mm, is_held=True)


def _leads_to(one: StrapLanding, other: StrapLanding) -> bool:
    between = subtract(other.at, one.at)
    is_ahead = dot(between, one.way) > 0 and abs(cross(between, one.way)) < ON_LINE_MM
    return other.strap == one.strap and other.end != one.end and is_ahead and dot(one.way, other.way) < AGAINST


def break_points(start: Point, end: Point) -> tuple[Point, ...]:
    """A break line on paper from one corner to the other and a little beyond: straight, with one zigzag in its middle."""
    long = distance(start, end) or 1.0
    across = scale(subtract(end, start), 1 / long)
    ahead, middle, jag = turn_left(across), scale(add(start, end), 0.5), min(1.0, long / 4)
    return (
        subtract(start, scale(across, BREAK_OVER_MM)),
        subtract(middle, scale(across, jag)),
        add(subtract(middle, scale(across, jag / 3)), scale(ahead, 0.8)),
        subtract(add(middle, scale(across, jag / 3)), scale(ahead, 0.8)),
        add(middle, scale(across, jag)),
        add(end, scale(across, BREAK_OVER_MM)),
    )
