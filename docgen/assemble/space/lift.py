"""How parts without thickness are told apart in a picture: by how many layers, and which way, each flat part is lifted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.space.first import anchor_of
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import Vec, along, inner, times

NOWHERE: Vec = (0.0, 0.0, 0.0)
TURNED_BACK = -0.999  # the cosine between the faces of two bands that lie on each other


def lift_all(scene: Scene) -> None:
    """Give every placed part the layers by which each of its bands is lifted; hosts come before what lies on them."""
    for copy, placed in scene.placed.items():
        scene.placed[copy] = replace(placed, lifts=tuple(_lift_bands(scene, copy, placed)))


def _lift_bands(scene: Scene, copy: Copy, placed: Placed) -> Iterator[Vec]:
    host = scene.placed[placed.host] if placed.host else None
    bands = range(len(placed.surface.bands))
    if host is not None and placed.surface.bands == host.surface.bands:  # bends with its host
        yield from (along(host.lifts[band], host.out(band), placed.level) for band in bands)
        return
    if placed.how == "leads from":
        yield from (times(placed.out(band), placed.level) for band in bands)
        return
    home = placed.surface.band_at(placed.surface.measure(anchor_of(scene, copy))[0])
    base = _lift_home(scene, copy, host, placed) if host is not None else NOWHERE
    turns = [*_turns(placed)]
    folded = sum(turns)
    side = 1 if placed.level > 0 else 0
    for band in bands:
        between = turns[min(band, home) : max(band, home)]
        lying = sum(between) if placed.is_grain_out else -sum(between)
        yield along(base, placed.out(home), side * folded - lying)


def _lift_home(scene: Scene, copy: Copy, host: Placed, placed: Placed) -> Vec:
    """What its host's layers and its own level lift the band that stays where it is."""
    at = placed.surface.point(anchor_of(scene, copy))
    feet = [host.surface.foot(band, at) for band in host.surface.bands]
    near = [k for k, (own, lift_mm) in enumerate(feet) if own is not None and abs(lift_mm) < 1.0]
    band = near[0] if near else 0
    return along(host.lifts[band], host.out(band), placed.level)


def _turns(placed: Placed) -> Iterator[int]:
    """For every bend whether the part lies back on itself beyond it."""
    for band in range(len(placed.surface.bands) - 1):
        yield int(inner(placed.surface.normal(band), placed.surface.normal(band + 1)) < TURNED_BACK)
