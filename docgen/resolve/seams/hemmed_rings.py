"""Hems of rings that are written by their strip: sewn once the ring is closed, they go over its joints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from docgen.read import Spec
from docgen.resolve.seams.partners import Partners

LONG_EDGES = {"left", "right"}


def name_rings(spec: Spec, partners: Mapping[str, Partners]) -> dict[str, Partners]:
    """The partners of every seam, of a hem of a strip that is a ring by then the ring."""
    rings = {
        join.of[0].value: join.name
        for join in spec.joins
        if join.ring is not None and join.ring.value and len({strip.value for strip in join.of}) == 1
    }
    return {name: _as_ring(spec, name, sides, rings) for name, sides in partners.items()}


def _as_ring(spec: Spec, seam: str, sides: Partners, rings: Mapping[str, str]) -> Partners:
    parts, edges = {side.part for side in sides}, {edge for side in sides for edge in side.edges}
    ring = rings.get(next(iter(parts))) if len(parts) == 1 and len(sides) > 1 else None
    is_whole = edges <= LONG_EDGES and len(edges) == 1 and not any(side.copy or side.ends for side in sides)
    if ring is None or not is_whole:
        return sides
    closed = [k for k, step in enumerate(spec.steps) if any(value.value == ring for value in step.joins)]
    sewn = [k for k, step in enumerate(spec.steps) if any(value.value == seam for value in step.seams)]
    is_later = bool(closed and sewn) and min(closed) <= min(sewn)
    return tuple(replace(side, part=ring) for side in sides) if is_later else sides
