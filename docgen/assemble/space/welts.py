"""Welts: a third layer that lies between two panels that are sewn to each other, wherever a seam names it."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from docgen.assemble.assembly import Copy
from docgen.assemble.space.items import Items, Sewing
from docgen.geometry.path import ring_area

LAYERS = 3
WELT_SHARE = 0.6  # of each panel, at most, that a welt is large which is not cut as one of them; our choice
WELT_MM = 30.0  # wide in the mean, at most, along its seams; our choice
ALIKE = 1.02  # times as large at most, of layers of one shape


def find_welts(items: Items) -> Mapping[Copy, frozenset[Copy]]:
    """The copies that lie between two panels, each with these: of three outer parts that are sewn together edge on edge
    the narrow one, else, where all are of one size, the one that every such seam names in the middle; of more those that
    are narrow and named between the first and the last. What lands has its place from that."""
    landed = {lies.copy for lies in items.assembly.lies}
    found: dict[Copy, frozenset[Copy]] = {}
    for sewing in items.sewings:
        sides = [link.copy for link in sewing.links if link.track is not None and not items.of(link.copy).is_inner]
        if len(sides) < LAYERS or len(sides) > len({*sides}) or landed.intersection(sides):
            continue
        several = frozenset(sides[1:-1]) if len(sides) > LAYERS else frozenset()
        for copy in several or sides:
            panels = frozenset((sides[0], sides[-1])) if several else frozenset(sides) - {copy}
            if _lies_between(items, copy, panels, several):
                found[copy] = panels
    return found


def _lies_between(items: Items, copy: Copy, panels: Collection[Copy], several: Collection[Copy]) -> bool:
    seams = [one for one in items.sewings if any(link.copy == copy for link in one.links)]
    outer = {link.copy for one in seams for link in one.links if not items.of(link.copy).is_inner}
    if outer - {copy, *panels, *several} or items.of(copy).folds or items.of(copy).is_ring:
        return False
    own = _area_mm2(items, copy)
    others = [_area_mm2(items, panel) for panel in panels]
    row_mm = sum(link.track.length_mm for one in seams for link in one.links if link.copy == copy and link.track)
    if own < WELT_SHARE * min(others):
        return own < WELT_MM * row_mm
    return (
        not several
        and max(own, *others) < ALIKE * min(own, *others)
        and all(_is_named_between(one, copy) for one in seams)
    )


def _is_named_between(sewing: Sewing, copy: Copy) -> bool:
    """Whether a seam names a copy in the middle of three, or does not tell since it sews two alone."""
    names = [link.copy for link in sewing.links]
    return len(names) < LAYERS or (len(names) == LAYERS and names[1] == copy)


def _area_mm2(items: Items, copy: Copy) -> float:
    return abs(ring_area(items.of(copy).ring))
