"""A photo -> what is seen on it: the outline of one hide in mm, the square beside it, and how sure that is."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from docgen.scan.floor import EVERYWHERE, find_floor
from docgen.scan.hide import check_clear, trace_patch
from docgen.scan.photo import Pixels, soften
from docgen.scan.shapes import Points, area_of, find_patches, touches_rim
from docgen.scan.square import (
    LEAST_SIDE,
    Quad,
    could_be_square,
    cross_sides,
    find_plane,
    fit_quad,
    rectify,
    stand_upright,
)
from docgen.scan.words import ScanRefused

SEEN: Final = 5.0
"""What differs from the floor by so many times its noise is something else."""

LEAST_HIDE: Final = 0.04
LEAST_PATCH: Final = 2e-4
MOST_PATCHES: Final = 60
MOST_ERROR: Final = 0.03
EDGE_PIXELS: Final = 0.06
LEAST_ERROR: Final = 0.002
"""How far the edge itself may be misjudged, and what is told at least; both our choice."""

ON_THE_FLOOR: Final = "a flat square of card or board, of another colour than the floor, beside the hide"


@dataclass(frozen=True, slots=True)
class Seen:
    """Outlines in mm on the floor, y up; `error` is the share of the area by which it may be wrong, an estimate, and
    `plane` takes pixels there."""

    hide: Points
    square: Points
    error: float
    plane: npt.NDArray[np.float64]

    @property
    def area_mm2(self) -> float:
        return area_of(self.hide)

    @property
    def length_mm(self) -> float:
        """How long the hide is up and down the picture, or across it where that is more."""
        return float(np.ptp(self.hide, axis=0).max())


def scan_pixels(pixels: Pixels, side_mm: float) -> Seen:
    """What is seen on a photo that is open. Raises ScanRefused."""
    floor = find_floor(pixels)
    off = soften(((pixels - floor.within(EVERYWHERE, EVERYWHERE)) ** 2).sum(axis=2), 2)
    high, wide = off.shape
    patches = find_patches(off > (SEEN * floor.noise) ** 2, round(LEAST_PATCH * high * wide))
    if len(patches) > MOST_PATCHES:
        what = f"more than {MOST_PATCHES} things lie on the floor, or it has a pattern"
        raise ScanRefused(what, "clear it, or lay a plain cloth under the hide")
    large = [patch for patch in patches if patch.size >= LEAST_HIDE * high * wide]
    if not large:
        what = "no hide is seen on the floor: nothing large differs from it"
        raise ScanRefused(what, "lay it on a floor or cloth of another colour, and fill the picture with it")
    if touches_rim(large[0], off.shape):
        what = "the hide reaches the edge of the picture, or the floor is not of one colour"
        raise ScanRefused(what, "stand back until floor is seen all round the hide, or lay a plain cloth under it")
    line, _ = trace_patch(pixels, floor, large[0], is_card=False)
    check_clear(pixels, floor, line, "the hide")
    quads = []
    for patch in patches:
        if patch is not large[0] and not touches_rim(patch, off.shape):
            quad = fit_quad(*trace_patch(pixels, floor, patch, is_card=True))
            if quad is not None:
                quads.append(quad)
    quad = _only_square(quads)
    plane = find_plane(quad.corners, side_mm)
    if not could_be_square(plane, (high, wide)):
        raise ScanRefused("what lies beside the hide has four sides and is no square", f"lay {ON_THE_FLOOR}")
    error = _estimate_error(quad, line, side_mm)
    if error > MOST_ERROR:
        what = f"the square is seen too small or too aslant: the area would be known to {error:.0%} only"
        raise ScanRefused(what, "lay a larger square nearer to the middle of the hide, and hold the camera over it")
    plane = stand_upright(plane, line.mean(axis=0))
    return Seen(rectify(plane, line), rectify(plane, quad.corners), error, plane)


def _only_square(quads: list[Quad]) -> Quad:
    if not quads:
        raise ScanRefused("no square is seen beside the hide", f"lay {ON_THE_FLOOR}, wholly in the picture")
    if len(quads) > 1:
        raise ScanRefused(f"{len(quads)} squares are seen beside the hide", "leave only one in the picture")
    (quad,) = quads
    if quad.sides.min() < LEAST_SIDE:
        what = f"the square is only {quad.sides.min():.0f} pixels wide in the picture"
        raise ScanRefused(what, "lay a larger one, or take a sharper picture")
    return quad


def _estimate_error(quad: Quad, line: Points, side_mm: float) -> float:
    """How far the area may be wrong: each side of the square is moved and turned by twice as much as its points tell,
    and the edge of the hide by what it may be misjudged. A lens that bends straight lines is not in it."""

    def area(middles: Points, ways: Points) -> float:
        return area_of(rectify(find_plane(cross_sides(middles, ways), side_mm), line))

    known, squared = area(quad.middles, quad.ways), 0.0
    for k in range(4):
        sure = quad.off[k] / math.sqrt(quad.counts[k])
        nx, ny = -quad.ways[k][1], quad.ways[k][0]
        middles, ways = quad.middles.copy(), quad.ways.copy()
        middles[k] += sure * np.array([nx, ny])
        ways[k] += sure * math.sqrt(12) / quad.reaches[k] * np.array([nx, ny])
        for moved in ((middles, quad.ways), (quad.middles, ways)):
            squared += (area(*moved) / known - 1) ** 2
    around = float(np.hypot(*(np.roll(line, -1, axis=0) - line).T).sum())
    return LEAST_ERROR + 2 * math.sqrt(squared) + EDGE_PIXELS * around / area_of(line)
