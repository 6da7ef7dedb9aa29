"""Which layers lie on each other: at seams and joints, where pieces land, and under hardware.

Everything here is worked out from the parts alone, and adds to them what follows from how they lie.
"""

from dataclasses import replace

from docgen.resolve.layers.fittings import find_fittings
from docgen.resolve.layers.landed import add_landings
from docgen.resolve.layers.stack import find_leather_stitches, joint_mm, stack_seam
from docgen.resolve.parts import Parts

__all__ = ["lay_layers"]


def lay_layers(parts: Parts) -> Parts:
    """The parts with the stack of every seam and joint, the needle points that ask for it, and hardware in its place."""
    joins = {name: replace(join, stack_mm=joint_mm(join, parts)) for name, join in parts.joins.items()}
    seams = tuple(add_landings(stack_seam(seam, parts), parts) for seam in parts.seams)
    parts = replace(parts, joins=joins, seams=seams)
    return replace(_set_points(parts), fittings=find_fittings(parts))


def _set_points(parts: Parts) -> Parts:
    """The parts with a round needle point for machine stitches that go through no leather."""
    leather = find_leather_stitches(parts)
    round_ones = {
        name: replace(stitch, point="round")
        for name, stitch in parts.stitches.items()
        if stitch.by == "machine" and not stitch.is_point_given and name not in leather
    }
    return replace(parts, stitches={**parts.stitches, **round_ones})
