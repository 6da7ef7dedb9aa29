"""The outline of the largest thing on the floor, between pixels, and whether it stands out enough to be trusted."""

from typing import Final

import numpy as np
import numpy.typing as npt

from docgen.scan.floor import EVERYWHERE, Ground, Mask, fit_ground
from docgen.scan.photo import Pixels, soften
from docgen.scan.shapes import Patch, Points, fill_patch, find_patches, trace_edge
from docgen.scan.words import ScanRefused

NEAR: Final = 12
"""Pixels round a patch in which its edge is looked for."""

INSIDE: Final = 6
"""So many pixels within its edge a thing has its own colour."""

LEAST_INNER: Final = 200
FULL: Final = 250.0
"""A pixel that is so bright may be brighter than a picture can show."""

MOST_FULL: Final = 0.02
BARELY: Final = 0.9
HALF: Final = 0.5

LEAST_CONTRAST: Final = 15.0
"""Of 255, in all three colours together: what leather and floor must differ by to be told apart."""

LEAST_CLEAR: Final = 2.5
"""How many times the noise of both that is."""

SECTORS: Final = 60
ASIDE: Final = 7.0
MOST_UNCLEAR: Final = 0.02


def trace_patch(pixels: Pixels, floor: Ground, patch: Patch, *, is_card: bool) -> tuple[Points, Points]:
    """The line round a patch, where a pixel is as much of its own colour as of the floor's, in the two ways of
    `trace_edge`. A card is of one colour all over."""
    rows, columns = _frame(patch, pixels.shape)
    part, ground = pixels[rows, columns], floor.within(rows, columns)
    rough = fill_patch(patch, rows, columns)
    inner = _shrink(rough, INSIDE)
    inner_most = inner if inner.sum() > LEAST_INNER else rough
    own = fit_ground(part, inner_most).within(EVERYWHERE, EVERYWHERE)
    apart = (_brighten(own, part, ground, inner_most) if is_card else own) - ground
    share = ((part - ground) * apart).sum(axis=2) / np.maximum((apart * apart).sum(axis=2), 1.0)
    share = np.where(_grow(rough, NEAR), np.clip(share, -1.0, 2.0), 0.0).astype(np.float32)
    mask = (share >= HALF) | inner
    mask[[0, -1], :] = mask[:, [0, -1]] = False
    whole = find_patches(mask, 1)[0]
    alone = fill_patch(whole, slice(0, mask.shape[0]), slice(0, mask.shape[1]))
    corner = np.array([columns.start, rows.start])
    line, covered = trace_edge(alone, share, HALF)
    return line + corner, covered + corner


def _brighten(own: Pixels, part: Pixels, ground: Pixels, mask: Mask) -> Pixels:
    """The colour of a card that is too bright for the picture, as it would be: in one light with the floor, it is as many
    times as bright as the floor everywhere; at least as many as where the light just suffices to fill a pixel. A line by
    the colour that is shown bends outwards to where the light is."""
    found = own.copy()
    for k in range(own.shape[2]):
        full = mask & (part[..., k] >= FULL)
        if full.sum() > MOST_FULL * mask.sum():
            found[..., k] = np.maximum(
                own[..., k], ground[..., k] * np.quantile(part[..., k][full] / ground[..., k][full], BARELY)
            )
    return found


def _frame(patch: Patch, shape: tuple[int, ...]) -> tuple[slice, slice]:
    """The rows and columns of the picture round a patch."""
    rows, first, last = patch.runs.T
    beyond = NEAR + 2
    return (
        slice(max(0, int(rows.min()) - beyond), min(shape[0], int(rows.max()) + beyond + 1)),
        slice(max(0, int(first.min()) - beyond), min(shape[1], int(last.max()) + beyond)),
    )


def _shrink(mask: Mask, by: int) -> Mask:
    return soften(mask.astype(np.float32), by) > 1 - 1e-3


def _grow(mask: Mask, by: int) -> Mask:
    return soften(mask.astype(np.float32), by) > 1e-3


def check_clear(pixels: Pixels, floor: Ground, line: Points, what: str) -> None:
    """Raise ScanRefused where what lies within a line does not stand out from the floor, on a part of its way or all."""
    ways = np.roll(line, -5, axis=0) - np.roll(line, 5, axis=0)
    ways /= np.maximum(np.hypot(*ways.T), 1e-9)[:, None]
    aside = ASIDE * np.stack([-ways[:, 1], ways[:, 0]], axis=1)  # clockwise with y down: to the right is inside
    inside, outside = (_look_up(pixels, line + side) for side in (aside, -aside))
    expected = floor.at(line[:, 1], line[:, 0])
    unclear = 0.0
    for part_in, part_out, part_floor in zip(
        *(np.array_split(values, SECTORS) for values in (inside, outside, expected)), strict=True
    ):
        apart = float(np.linalg.norm(part_in.mean(axis=0) - part_out.mean(axis=0)))
        noise = float(np.sqrt(((part_out - part_floor) ** 2).sum(axis=1).mean() + part_in.var(axis=0).sum()))
        if apart < LEAST_CONTRAST or apart < LEAST_CLEAR * noise:
            unclear += 1 / SECTORS
    if unclear > MOST_UNCLEAR:
        said = f"over {unclear:.0%} of its edge {what} hardly differs from the floor"
        raise ScanRefused(said, "lay it on a floor or cloth of another colour, without shadows")


def _look_up(pixels: Pixels, points: Points) -> npt.NDArray[np.float64]:
    high, wide = pixels.shape[:2]
    rows = np.clip(np.rint(points[:, 1]).astype(int), 0, high - 1)
    columns = np.clip(np.rint(points[:, 0]).astype(int), 0, wide - 1)
    found: npt.NDArray[np.float64] = pixels[rows, columns].astype(np.float64)
    return found
