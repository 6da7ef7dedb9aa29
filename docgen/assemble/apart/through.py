"""Rows of stitches: by which step each is there, where it is said to begin, and those that show on what lies on the parts
of a seam, since the needle goes through that too."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import CHORD_MM, Body, Row
from docgen.assemble.apart.bonds import step_of
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy, Run
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.turned_out import lie_in
from docgen.geometry.path import flatten
from docgen.resolve import by_name, divider_name

ON_MM = 0.6  # what lies no farther off lies on it, as layers without thickness do
LEAST_MM = 0.5  # a shorter stretch of a row is no stitch


def find_through(build: Assembled) -> Mapping[Copy, Sequence[Row]]:
    """The copies that lie in the way of seams of others, each with the rows that show on it. Of a panel across the inside
    only the allowance may lie there."""
    found: dict[Copy, list[Row]] = {}
    parts = {placed.copy: placed for placed in build.space.parts if not placed.is_inner}
    for once in build.assembly.sewn:
        beside = {*once.stack.parts} - once.parts
        sides = [parts[side] for side in once.sides if side in parts]
        for on in (placed for placed in parts.values() if placed.copy.part in beside):
            is_across = on.how == "back to back" and not any(
                layer.part == on.copy.part and layer.least_mm for layer in once.stack.layers
            )
            for host in sides if not is_across else ():
                if on.host == host.copy:
                    found.setdefault(on.copy, []).extend(_carry(host, on, once.seam))
    return found


def list_rows(build: Assembled) -> Iterator[tuple[str, int]]:
    """The names that rows of stitches bear on parts, each with the step (from 0) that sews it."""
    for once in build.assembly.sewn:
        yield once.seam, step_of(build, once.event)
    for run in build.assembly.runs:
        yield name_of_row(run), step_of(build, run.event)


def name_of_row(run: Run) -> str:
    """The name that stitching which is no seam bears on its parts."""
    return divider_name(run.part) if run.kind == "dividers" else run.line or run.part


def find_flanged(build: Assembled, bodies: Sequence[Body]) -> Mapping[Copy, frozenset[str]]:
    """The copies on which the edge of a wall lies, turned out along a seam, and these seams: its outer side is seen there,
    and not theirs."""
    known, found = {body.copy: body for body in bodies}, dict[Copy, set[str]]()
    seams = by_name(build.seams)
    for once in build.assembly.sewn:
        sides = [] if seams[once.seam].is_turned else [known[side] for side in once.sides if side in known]
        is_wall = [any(line.is_edge and line.name == once.seam for line in body.lines) for body in sides]
        for body in (body for body, own in zip(sides, is_wall, strict=True) if not own and any(is_wall)):
            found.setdefault(body.copy, set()).add(once.seam)
    return {copy: frozenset(names) for copy, names in found.items()}


def find_elsewhere(build: Assembled, lost: Container[Copy] = ()) -> Mapping[Copy, frozenset[str]]:
    """The copies of which a seam sews others of the same part alone, and those on which it sews flat what is `lost`, each
    with these seams: no row of them is drawn there."""
    sewn: dict[str, set[Copy]] = {}
    for once in build.assembly.sewn:
        sewn.setdefault(once.seam, set()).update(once.sides)
    found: dict[Copy, set[str]] = {}
    for seam, sides in sewn.items():
        parts = {side.part for side in sides}
        for copy in (one for one in build.assembly.copies if one.part in parts and one not in sides):
            found.setdefault(copy, set()).add(seam)
    flat = {(seam.name, side.part) for seam in build.seams for side in seam.sides if not side.edges}
    for once in build.assembly.sewn:
        for side in once.sides if any(one in lost for one in once.sides) else ():
            if (once.seam, side.part) in flat:
                found.setdefault(side, set()).add(once.seam)
    return {copy: frozenset(seams) for copy, seams in found.items()}


def find_begun(build: Assembled, drawn: frozenset[Copy], copies: frozenset[Copy], step: int) -> Mapping[str, Copy]:
    """The seams that a step (from 0) sews on some copies, of those that are drawn, each with the one on which its row is
    said to begin: the first partner that is a piece."""
    pieces = {piece.name for piece in build.pieces}
    found: dict[str, Copy] = {}
    for once in build.assembly.sewn:
        sides = sorted(
            drawn.intersection(once.sides), key=lambda side: (side.part not in pieces, once.sides.index(side))
        )
        if sides and step_of(build, once.event) == step and copies.issuperset(sides):
            found.setdefault(once.seam, sides[0])
    for run in build.assembly.runs:
        if run.kind == "landings" and step_of(build, run.event) == step and Copy(run.part) in copies:
            found.setdefault(run.line or run.part, Copy(run.part))
    return found


def _carry(host: Placed, on: Placed, seam: str) -> Iterator[Row]:
    """The row of the host where the other part lies on it."""
    faces = [*on.surface.rings(on.ring)]
    is_alike = on.surface.bands == host.surface.bands  # halves of what is folded lie in one place
    for mark in host.item.marks:
        if mark.kind == "stitch" and mark.name == seam:
            for band, start, end in host.surface.split(flatten(mark.path, CHORD_MM)):
                ends = host.surface.point(start, band), host.surface.point(end, band)
                for number, ring in faces if not is_alike else [face for face in faces if face[0] == band]:
                    yield from ((seam, number, *leg) for leg in lie_in(on, number, ring, ends))
