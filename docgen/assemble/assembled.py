"""Build -> Assembled: the layers of its seams, and what follows from them."""

from __future__ import annotations

from dataclasses import fields, replace

from docgen.assemble.assembly import Assembly, unite
from docgen.assemble.divided import carry_dividers
from docgen.assemble.gather import assemble
from docgen.assemble.lined_up import stack_up
from docgen.assemble.mates import meet_holes
from docgen.assemble.room import goes_in_room
from docgen.assemble.runs import sew_to_ends
from docgen.assemble.space import Space, place_parts
from docgen.assemble.ticks import carry_pieces, find_ways, meet_ticks
from docgen.classes import dataclass
from docgen.resolve import Build, Seam, by_name, find_parts
from docgen.told import untold


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled(Build):
    """A build of which is known how it goes together, its seams with their layers, and where all lies when it is done.
    ValueError for other steps than those that it was put together by: they want another assembly, and `put_together`
    makes it."""

    assembly: Assembly = untold()
    space: Space = untold()

    def __post_init__(self) -> None:
        own = () if self.assembly.is_proposed else self.assembly.steps
        if self.assembly.steps and self.steps != own:
            raise ValueError("the steps are not those of the assembly: put the build together again")


def put_together(build: Build) -> Assembled:
    """The build with how it goes together, the stack of every seam, and the needle points that ask for it."""
    assembly = assemble(build)
    build = replace(build, seams=tuple(_lay(seam, assembly) for seam in build.seams))
    build = sew_to_ends(_set_points(build), assembly.runs)
    build = carry_dividers(meet_holes(_judge_held(build, assembly), assembly), assembly)
    space = place_parts(build, assembly)
    build, assembly = _line_up(build, assembly, space)
    met = meet_ticks(build, assembly, space)
    return _add(met, assembly, carry_pieces(space, met))


def _line_up(build: Build, assembly: Assembly, space: Space) -> tuple[Build, Assembly]:
    """Both with the stacks of the seams as their layers lie along them: which end of a side meets which follows from the
    places of its parts."""
    seams = by_name(build.seams)
    long_mm = {name: max(side.length_mm for side in seam.sides) for name, seam in seams.items()}
    sewn = tuple(
        replace(once, stack=stack_up(once, ways, long_mm[once.seam]))
        for once, ways in zip(assembly.sewn, find_ways(build, assembly, space), strict=True)
    )
    assembly = replace(assembly, sewn=sewn)
    return replace(build, seams=tuple(_lay(seam, assembly) for seam in build.seams)), assembly


def _judge_held(build: Build, assembly: Assembly) -> Build:
    """What goes in, held against the room that is worked out, where none is written."""
    room = assembly.room
    if build.inside is not None or room is None:
        return build
    return replace(build, holds=tuple(replace(item, fits=goes_in_room(item.size_mm, room)) for item in build.holds))


def leave_apart(build: Build) -> Assembled:
    """A build that has errors: nothing is known of how it goes together."""
    return _add(build, Assembly(), Space())


def _add(build: Build, assembly: Assembly, space: Space) -> Assembled:
    parts = {item.name: getattr(build, item.name) for item in fields(Build)}
    return Assembled(**parts, assembly=assembly, space=space)


def _lay(seam: Seam, assembly: Assembly) -> Seam:
    """The seam with the layers of all the times that it is sewn; as it is where a partner is missing."""
    stacks = [once.stack for once in assembly.sewn if once.seam == seam.name]
    if not stacks:
        return seam
    stack = unite(stacks)
    return replace(
        seam,
        layers=stack.layers,
        stack_mm=stack.usual_mm,
        thinnest_mm=stack.thinnest_mm,
        thickest_mm=stack.thickest_mm,
        landed=stack.landed,
        at_most=stack.at_most,
    )


def _set_points(build: Build) -> Build:
    """A round needle point for machine stitches that go through no leather."""
    leather = find_leather_stitches(build)
    stitches = tuple(
        replace(stitch, point="round")
        if stitch.by == "machine" and not stitch.is_point_given and stitch.name not in leather
        else stitch
        for stitch in build.stitches
    )
    return replace(build, stitches=stitches)


def find_leather_stitches(build: Build) -> frozenset[str]:
    """Names of the stitches that go through leather anywhere."""
    parts = find_parts(build)
    used = [(seam.stitch, layer.material) for seam in build.seams for layer in seam.layers]
    used += [(join.stitch, strip.material) for join in build.joins for strip in parts.strips(join.name)]
    used += [(strap.stitch, strap.material) for strap in build.straps]
    used += [(end.sewn, strap.material) for strap in build.straps for end in strap.ends]
    used += [(line.stitch, piece.material) for piece in build.pieces for line in piece.dividers]
    used += [(landing.stitch, piece.material) for piece in build.pieces for landing in piece.strap_landings]
    leather = leathers(build)
    return frozenset(stitch for stitch, material in used if stitch and material in leather)


def is_single(build: Assembled, part: str) -> bool:
    """Whether a part is not joined of several strips."""
    return all(len(join.pieces) == 1 for join in build.joins if join.name == part)


def leathers(build: Build) -> frozenset[str]:
    """The names of the materials that are leather."""
    return frozenset(material.name for material in build.materials if material.kind == "leather")
