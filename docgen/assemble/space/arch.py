"""The line of a strap between two places that hold it: an arch as long as the strap is, and how the strap turns along it.

A cubic curve (Bezier) leaves both places the way the strap leads there, with arms of one length, found so that the
curve, as chords, is as long as the strap. A strap has weight and springs: its true line hangs on both, and is not known.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.vectors import TINY, Vec, along, apart, direction, inner, length, minus, outer, plus, times
from docgen.classes import dataclass

CHORDS = 16
FITS_MM = 0.5  # a strap that is shorter than its way by no more reaches
EXACT_MM = 1e-6
ALIKE = 0.999  # the cosine between ways that are one
MOST_ASIDE = 1.4  # times the way ahead, to the other hold
MOST_SWING = 2.4048  # rad, where the ends of a bow come together: the first zero of the Bessel function J0
MOST_LOOP = 1.8412  # rad, where the ends of a loop lie farthest apart: the first greatest value of J1
MOST_ROUNDS = 60
TURNS_BACK = 1e-9  # one and the cosine between two directions, where one is the other turned round


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A place that holds an end of a strap: it leaves at a point, by unit vectors `way` along it and `out` from its outer
    face. `lying` is the line of what lies fast before that point, from the cut end on; none of it at a ring. `clear_mm`
    is how far it goes straight on before it may turn over what is behind it, `order` its place among what lands on the
    `host`, in whose `band` it lands. Of a ring it tells whether a hook of the strap goes into that, and may be taken out
    again."""

    at: Vec
    way: Vec
    out: Vec
    host: Copy | None = None
    lying: tuple[Vec, ...] = ()
    order: int = 0
    is_ring: bool = False
    is_hooked: bool = False
    band: int | None = None

    @property
    def lying_mm(self) -> float:
        """How much of the strap lies fast."""
        return line_mm((*self.lying, self.at))


def find_arch(start: Hold, finish: Hold, length_mm: float, legs: tuple[float, float]) -> tuple[Vec, ...] | None:
    """The line from one hold to the other, so long, the first and the last of it straight for as long as `legs` say; None
    where the way is longer."""
    first, last = (along(hold.at, hold.way, leg) for hold, leg in zip((start, finish), legs, strict=True))
    free_mm = length_mm - sum(legs)
    if free_mm < apart(first, last) - FITS_MM:
        return None
    bow = stand_up(start, finish, free_mm) if sum(legs) == 0 and _lie_on_one_face(start, finish) else None
    points = [start.at, *(bow or _bow(first, start.way, last, finish.way, free_mm)), finish.at]
    return tuple(at for k, at in enumerate(points) if k == 0 or apart(at, points[k - 1]) > EXACT_MM)


def _lie_on_one_face(start: Hold, finish: Hold) -> bool:
    """Whether a strap lies on one face at both ends, and leads from them in opposite ways on about one line: what it is
    longer than the way stands up off that face."""
    if inner(start.way, finish.way) > -ALIKE or inner(start.out, finish.out) < ALIKE:
        return False
    far = minus(finish.at, start.at)
    ahead, up = inner(far, start.way), inner(far, start.out)
    return abs(up) < FITS_MM and length(far) <= abs(ahead) * MOST_ASIDE


def stand_up(start: Hold, finish: Hold, length_mm: float) -> list[Vec] | None:
    """A bow off the face between two holds at which the strap lies flat. Where it leads from each towards the other, it
    stands as a strip does that is pushed together: its angle to the face is a sine of the way along it, the first mode of
    a strut held at both ends (Timoshenko and Gere, Theory of Elastic Stability, 1961, 2.2). Where it leads away from the
    other, it turns once round besides. How much it swings is found by halving, so that the chords are as long as the strap
    and reach across; None where a loop so short does not."""
    far = minus(finish.at, start.at)
    ahead = inner(far, start.way)
    aside = along(far, start.way, -ahead)
    run_mm = math.sqrt(max(length_mm * length_mm - inner(aside, aside), 0.0))
    count = CHORDS if ahead > 0 else 2 * CHORDS
    turns = [math.tau * (k + 0.5) / count for k in range(count)]

    def angles(swing: float) -> list[float]:
        return [(turn if ahead < 0 else 0.0) + swing * math.sin(turn) for turn in turns]

    low, high = 0.0, MOST_SWING if ahead > 0 else MOST_LOOP
    if ahead < 0 and sum(map(math.cos, angles(high))) * run_mm / count > ahead:
        return None
    for _ in range(MOST_ROUNDS):
        swing = (low + high) / 2
        is_far = sum(map(math.cos, angles(swing))) * run_mm / count > ahead
        low, high = (swing, high) if is_far else (low, swing)
    step_mm, points = run_mm / count, [start.at]
    for angle in angles(low):
        on = along(times(start.way, math.cos(angle) * step_mm), start.out, math.sin(angle) * step_mm)
        points.append(along(plus(points[-1], on), aside, 1 / count))
    return points


def _bow(first: Vec, way: Vec, last: Vec, its_way: Vec, length_mm: float) -> list[Vec]:
    """A curve between two points, so long: its arms between bounds by the rule of false position, in the Illinois way
    (Dowell and Jarratt, BIT 11, 1971)."""
    if length_mm <= apart(first, last) + EXACT_MM:
        return [first, last]

    def curve(arm_mm: float) -> list[Vec]:
        return _curve(first, along(first, way, arm_mm), along(last, its_way, arm_mm), last)

    low, high, side = 0.0, length_mm, 0
    low_off, high_off = apart(first, last) - length_mm, line_mm(curve(high)) - length_mm
    for _ in range(MOST_ROUNDS):
        arm_mm = low - low_off * (high - low) / (high_off - low_off)
        points = curve(arm_mm)
        off = line_mm(points) - length_mm
        if abs(off) < EXACT_MM:
            break
        if off < 0:
            low, low_off, high_off = arm_mm, off, high_off / 2 if side < 0 else high_off
        else:
            high, high_off, low_off = arm_mm, off, low_off / 2 if side > 0 else low_off
        side = -1 if off < 0 else 1
    return points


def _weights(t: float) -> tuple[float, float, float, float]:
    u = 1 - t
    return u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t


WEIGHTS = tuple(_weights(k / CHORDS) for k in range(CHORDS + 1))


def _curve(a: Vec, b: Vec, c: Vec, d: Vec) -> list[Vec]:
    """Points of a cubic curve by its four."""
    (ax, ay, az), (bx, by, bz), (cx, cy, cz), (dx, dy, dz) = a, b, c, d
    return [
        (e * ax + f * bx + g * cx + h * dx, e * ay + f * by + g * cy + h * dy, e * az + f * bz + g * cz + h * dz)
        for e, f, g, h in WEIGHTS
    ]


def line_mm(points: Sequence[Vec]) -> float:
    """How long a line of chords is."""
    return sum(map(math.dist, points, points[1:]))


def cut_line(points: Sequence[Vec], begin_mm: float, end_mm: float) -> tuple[Vec, ...]:
    """The part of a line of chords between two distances along it; beyond its end it goes straight on."""
    found: list[Vec] = []
    done = 0.0
    legs = [*pairwise(points)]
    for k, (at, to) in enumerate(legs):
        long = apart(at, to)
        reach = done + long if k < len(legs) - 1 else math.inf
        if long > TINY and begin_mm < reach and end_mm > done:
            way = times(minus(to, at), 1 / long)
            if not found:
                found.append(along(at, way, max(begin_mm - done, 0.0)))
            found.append(along(at, way, min(end_mm, reach) - done))
        done += long
    return tuple(found)


def find_asides(
    points: Sequence[Vec], out: Vec, its_out: Vec | None = None, lying_mm: tuple[float, float] = (0.0, 0.0)
) -> list[Vec]:
    """What each mm across a strap is at every point of its line: its outer face looks `out` at the first, is carried along
    with no more turning than the line asks for, and where it is to look `its_out` at the last, twists evenly on the way
    between what lies flat at its ends.
    """
    ways = [direction(minus(to, at)) for at, to in pairwise(points)]
    tangents = [ways[0], *(_between(one, other) for one, other in pairwise(ways)), ways[-1]]
    found = [direction(outer(out, tangents[0]))]
    for before, after in pairwise(tangents):
        turned = 1 + inner(before, after)
        carried = (
            along(found[-1], plus(before, after), -inner(found[-1], after) / turned)
            if turned > TURNS_BACK
            else found[-1]
        )
        found.append(direction(carried))
    if its_out is None:
        return found
    wanted = direction(outer(its_out, tangents[-1]))
    turn = math.atan2(inner(outer(found[-1], wanted), tangents[-1]), inner(found[-1], wanted))
    if abs(turn) < EXACT_MM:
        return found
    begin, free_mm, done = lying_mm[0], line_mm(points) - sum(lying_mm), [0.0]
    for at, to in pairwise(points):
        done.append(done[-1] + apart(at, to))
    shares = (min(max((at - begin) / free_mm, 0.0), 1.0) for at in done)
    return [_twist(one, way, turn * share) for one, way, share in zip(found, tangents, shares, strict=True)]


def _between(one: Vec, other: Vec) -> Vec:
    """The direction between two; the first of them where the other leads back."""
    return direction(plus(one, other)) if 1 + inner(one, other) > TURNS_BACK else one


def _twist(aside: Vec, way: Vec, turn: float) -> Vec:
    """A vector at right angles to a direction, turned about it."""
    return plus(times(aside, math.cos(turn)), times(outer(way, aside), math.sin(turn)))
