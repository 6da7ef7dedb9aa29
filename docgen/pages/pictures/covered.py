"""What is not seen of a part from the side on which its lining lies."""

from __future__ import annotations

from collections.abc import Container

from docgen.assemble import Body, BodyLine, MetalBody, Vec, inner

ALONG = 0.9  # the cosine between the way in from an edge and the way round a ring, where that closes


def is_outer(body: Body | MetalBody, band: int, eye: Vec) -> bool:
    """Whether the outer side of a body is seen in a band."""
    return not isinstance(body, Body) or inner(body.placed.out(band), eye) >= 0


def is_covered(body: Body | MetalBody, line: BodyLine, beneath: Container[str], eye: Vec, *, is_lined: bool) -> bool:
    """Whether a line is on the outer side alone of what is seen from within: a row that goes through nothing behind it; and
    of what is lined a slit or joint, or where a ring closes."""
    if not isinstance(body, Body) or not line.bands or is_outer(body, line.bands[0], eye):
        return False
    if line.kind == "stitch":
        return line.name in beneath
    return is_lined and (line.kind in ("joint", "slit") or _does_close(body, line))


def _does_close(body: Body, line: BodyLine) -> bool:
    way = body.placed.surface.bands[line.bands[0]].way
    return line.kind == "edge" and body.placed.item.is_ring and abs(inner(line.inward, way)) > ALONG
