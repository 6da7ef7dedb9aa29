"""What is measured, pulled and tried on the finished article, and what it must come to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.assemble import Assembled, Placed
from docgen.plan.plan import Finished
from docgen.plan.step_words import worn_words
from docgen.resolve import Build
from docgen.written.units.telling import format_length, format_short

AXES = {"width": 0, "depth": 1, "height": 2}
LEAST_MM = 12.0  # less is no measure of the whole, but how thick it is
WAYS = {"standing": ("width", "height", "depth"), "lying": ("width", "depth")}


def plan_finished(build: Assembled) -> tuple[Finished, ...]:
    """Outside measures where every piece has its place, lengths of straps, then what is pulled, tried and counted."""
    return (*_outside(build), *_straps(build), *_pulled(build), *_tried(build))


def _outside(build: Assembled) -> Iterator[Finished]:
    """Of the box round all that is fast, without straps: by the stitch lines of walls, thickness left out."""
    names, space = {piece.name for piece in build.pieces}, build.space
    missing = [one.copy.part for one in space.unplaced if one.copy.part in names]
    fast = [one for one in space.parts if one.copy.part not in {strap.name for strap in build.straps}]
    if missing or space.doubtful or space.kind not in WAYS or any(one.is_free for one in fast):
        return
    sizes = _box_mm([one for one in fast if not one.is_inner])
    for case in WAYS[space.kind]:
        told = "height" if (space.kind, case) == ("lying", "depth") else case
        if sizes and sizes[AXES[case]] >= LEAST_MM:
            yield Finished(case=told, due=(("length", format_length(sizes[AXES[case]], build.show)),))


def _box_mm(parts: Sequence[Placed]) -> tuple[float, ...]:
    corners = [corner for one in parts for face in one.faces for corner in face.corners]
    return tuple(max(at[k] for at in corners) - min(at[k] for at in corners) for k in range(3)) if corners else ()


def _straps(build: Build) -> Iterator[Finished]:
    """The length of each as made up, or of one with buckle holes as it is worn, tried in each hole."""
    for strap in build.straps:
        title = (("title", strap.title),)
        if worn := worn_words(strap, build.show):
            least, middle, most = worn
            holes = str(len(strap.hole_tips_mm) + len(strap.first_tips_mm))
            due = (("length", middle), ("least", least), ("most", most), ("count", holes))
            yield Finished(case="worn", values=title, due=due)
        else:
            yield Finished(case="strap", values=title, due=(("length", format_length(strap.finished_mm, build.show)),))


def _pulled(build: Build) -> Iterator[Finished]:
    for seam in build.seams:
        if seam.load_words:
            yield Finished(case="pull", values=(("title", seam.title),), due=(("load", seam.load_words),))


def _tried(build: Build) -> Iterator[Finished]:
    if build.hardware:
        told = str(sum(item.count for item in build.hardware))
        yield Finished(case="hardware", due=(("count", told),))
    for held in build.holds:
        if held.fits:
            size = " × ".join(format_short(mm, build.show) for mm in held.size_mm)
            yield Finished(case="holds", values=(("what", held.what),), due=(("size", size),))
