"""What is measured, pulled and tried on the finished article, and what it must come to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble import Assembled, Kind, Placed, TakenApart, way_of_flap
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Point
from docgen.plan.cutting import join_words
from docgen.plan.names import spoken
from docgen.plan.plan import Finished
from docgen.plan.step_words import worn_words
from docgen.plan.trays import measure_trays
from docgen.resolve import Build, Seam, by_name
from docgen.written.units.telling import format_length, format_short

LEAST_MM = 12.0  # less is no measure of the whole, but how thick it is
SLACK_MM = 0.1
ALIKE_MM = 1.0  # what is round is as wide as deep
ASKEW_MM = 2.0  # so much larger is what is placed by a hair askew: our choice
X, Y, Z = range(3)
WAYS = {
    "standing": (("width", X), ("height", Z), ("depth", Y)),
    "lying": (("width", X), ("height", Y)),
    "tube": (("between_ends", X), ("height", Z), ("over_ends", Y)),
    "on its floor": (("width", X), ("floor_height", Z), ("floor_depth", Y)),
}
ROUND = (("across", X), ("floor_height", Z))
STRAP_CASES = ("strap", "strap_bar", "strap_bars")  # by how many of its ends go round a bar
SHUTS = ("snap",)  # kinds of hardware that are tried; that others are fast, their step says
PANELS = ("begun with", "closes")
ALIKE = 0.99  # the cosine between what looks the same way
Box = tuple[tuple[float, float], ...]
"""The least and the most along x, y and z, mm; nothing of no parts."""


def plan_finished(build: Assembled) -> tuple[Finished, ...]:
    """Outside measures where every piece has its place, lengths of straps, then what is pulled, tried and counted."""
    return (*(tuple(_outside(build)) or measure_trays(build)), *_straps(build), *_pulled(build), *_tried(build))


def _outside(build: Assembled) -> Iterator[Finished]:
    """Of the box round all that is fast, without straps, tabs and what may hang otherwise: by the stitch lines of walls,
    thickness left out. Nothing where a piece has no place, or may lie otherwise and reaches beyond the rest."""
    pieces, straps = ({one.name for one in parts} for parts in (build.pieces, build.straps))
    if build.space.doubtful or build.space.darted or any(one.copy.part in pieces for one in build.space.unplaced):
        return
    parts = [
        one for one in build.space.parts if one.copy.part not in straps and not one.is_inner and one.how != "hangs on"
    ]
    unsure = TakenApart(build).unsure
    doubtful, parts = [one for one in parts if one.copy in unsure], [one for one in parts if one.copy not in unsure]
    stitches = by_name(build.stitches)
    insets_mm = {seam.name: stitches[seam.stitch].inset_mm for seam in build.seams if seam.is_turned}
    box = _box([one for one in parts if not one.is_free], insets_mm)
    if any(one.level >= 0 and not _is_within(_box([one], insets_mm), box) for one in doubtful):
        return
    free = [one for one in parts if one.is_free and not _is_within(_box([one], insets_mm), box)]
    titles = [*dict.fromkeys(spoken(build.part_titles[one.copy.part]) for one in free)]
    without = f", without {join_words(titles)}" if titles else _of_what(build, parts)
    sizes_mm = [high - low for low, high in box]
    panels = [one for one in parts if _is_panel(one)]
    if build.space.kind == "standing" and panels:
        sizes_mm[Y] = _sizes_mm(panels, insets_mm)[Y]  # piping and pockets stand out over the seams
        own_mm = _sizes_mm(panels[:1], insets_mm)
        for axis in (X, Z):  # what closes a wall lies by a hair askew of what that was begun with
            if abs(sizes_mm[axis] - own_mm[axis]) < ASKEW_MM:
                sizes_mm[axis] = own_mm[axis]
    flap = way_of_flap(build.space.parts) if build.space.kind == "standing" else None
    kind = build.space.kind
    if flap is not None and abs(flap[X]) > abs(flap[Y]):  # its front is a side as it is placed, and its panels are ends
        sizes_mm[X], sizes_mm[Y] = sizes_mm[Y], sizes_mm[X]
        kind = "tube"
    zips = dict(_zips_above(build, parts, box)) if box and build.space.kind == "lying" else {}
    for case, size_mm in _sizes(kind, sizes_mm):
        if size_mm >= LEAST_MM:
            above = zips if case == "height" else {}
            untold = [title for title, more_mm in above.items() if more_mm is None]
            words = f", without {join_words([*titles, *untold])}" if untold else without
            size_mm += sum(more_mm for more_mm in above.values() if more_mm is not None)
            due = (("length", format_length(size_mm, build.show)),)
            yield Finished(case=case, values=(("without", words),), due=due)


def _zips_above(build: Assembled, parts: Sequence[Placed], box: Box) -> Iterator[tuple[str, float | None]]:
    """The zips that close the upper or lower edge of what lies flat, folded along their middle there, each with how far it
    stands out beyond that. None where nothing says how far the parts lie over its tapes."""
    stitches = by_name(build.stitches)
    for item in (one for one in build.trimmings if one.kind == "zip"):
        sewn = [(seam, use) for seam in build.seams for use in seam.trimmings if use.name == item.name]
        insets_mm = {seam.name: stitches[seam.stitch].inset_mm for seam, _ in sewn}
        covered = [insets_mm[seam.name] if seam.is_turned else use.lap_mm for seam, use in sewn]
        if {use.side for _, use in sewn} == {"left", "right"} and all(
            any(_is_along(parts, seam, end, insets_mm[seam.name]) for end in box[Y]) for seam, _ in sewn
        ):
            yield (
                spoken(item.what),
                max(item.width_mm / 2 - max(covered), 0.0) if item.width_mm and all(covered) else None,
            )


def _is_along(parts: Sequence[Placed], seam: Seam, end_mm: float, inset_mm: float) -> bool:
    """Whether the rows of a seam lie along an upper or lower end of the whole."""
    lines = [line for one in parts if one.copy.part in seam.parts for line in one.lines]
    points = [at for line in lines if (line.kind, line.name) == ("stitch", seam.name) for at in line.points]
    return bool(points) and all(abs(at[Y] - end_mm) < inset_mm + SLACK_MM for at in points)


def _of_what(build: Assembled, parts: Sequence[Placed]) -> str:
    """Of a part that goes on a strap which is no part of what is measured, as a pad, which it is."""
    roots = {spoken(build.part_titles[one.copy.part]) for one in parts if one.host is None}
    straps = {strap.name for strap in build.straps}
    is_apart = any(one.copy.part in straps for one in build.space.unplaced)
    return f", of {roots.pop()}" if is_apart and len(roots) == 1 and build.space.kind == "lying" else ""


def _sizes(kind: Kind, box_mm: Sequence[float]) -> Iterator[tuple[str, float]]:
    """What is measured, by its case, and how much it is; nothing of no parts, nor of what lies there half open."""
    if not box_mm or (kind == "lying" and box_mm[Z] >= LEAST_MM):
        return
    is_round = kind == "on its floor" and abs(box_mm[X] - box_mm[Y]) < ALIKE_MM
    yield from ((case, box_mm[axis]) for case, axis in (ROUND if is_round else WAYS[kind]))


def _box(parts: Sequence[Placed], insets_mm: Mapping[str, float], *, only_sewn: bool = False) -> Box:
    """Round what is seen of these parts; of one that is bent, without the flap that it goes on as where `only_sewn`."""
    seen = [(one, *sheet) for one in parts for sheet in one.sheets(_seen(one, insets_mm))]
    bands = {one.copy: _sewn_band(one) for one in parts} if only_sewn else {}
    corners = [corner for one, band, corners in seen if bands.get(one.copy, band) == band for corner in corners]
    return tuple((min(along), max(along)) for along in zip(*corners, strict=True))


def _sizes_mm(panels: Sequence[Placed], insets_mm: Mapping[str, float]) -> list[float]:
    """How large panels are together, without the flap of one, mm along x, y and z."""
    return [high - low for low, high in _box(panels, insets_mm, only_sewn=True)]


def _is_panel(placed: Placed) -> bool:
    """Whether it is the first part or closes the room across from it, and looks to the front or back."""
    return placed.how in PANELS and abs(placed.out(_sewn_band(placed))[Y]) > ALIKE


def _sewn_band(placed: Placed) -> int:
    """The band of a part along which most of it is sewn."""
    rows = [path_box(mark.path) for mark in placed.item.marks if mark.kind == "stitch"]
    longest = max(rows, key=lambda box: box.width + box.height, default=placed.item.box)
    return placed.surface.band_of(longest.centre)


def _seen(placed: Placed, insets_mm: Mapping[str, float]) -> tuple[Point, ...]:
    """The outline of a part without what is turned in at seams, which are given with how far in they are sewn."""
    box = placed.item.box
    lines = [
        (path_box(mark.path), insets_mm[mark.name] + SLACK_MM) for mark in placed.item.marks if mark.name in insets_mm
    ]
    left = max((line.left for line, most in lines if line.left - box.left < most), default=box.left)
    right = min((line.right for line, most in lines if box.right - line.right < most), default=box.right)
    bottom = max((line.bottom for line, most in lines if line.bottom - box.bottom < most), default=box.bottom)
    top = min((line.top for line, most in lines if box.top - line.top < most), default=box.top)
    return tuple(Point(min(max(x, left), right), min(max(y, bottom), top)) for x, y in placed.ring)


def _is_within(box: Box, other: Box) -> bool:
    return bool(other) and all(
        low >= least - ALIKE_MM and high <= most + ALIKE_MM
        for (low, high), (least, most) in zip(box, other, strict=True)
    )


def _straps(build: Build) -> Iterator[Finished]:
    """The length of each as made up, or of one with buckle holes as it is worn, tried in each hole; not that of a keeper,
    which is closed to a ring and has no ends then."""
    for strap in (one for one in build.straps if not one.keeper_for):
        title = (("title", spoken(strap.title)),)
        if worn := worn_words(strap, build.show):
            least, middle, most = worn
            holes = str(len(strap.hole_tips_mm) + len(strap.first_tips_mm))
            due = (("length", middle), ("least", least), ("most", most), ("count", holes))
            case = "worn_with" if strap.partner else "worn_bar" if strap.ends[0].rings else "worn"
            yield Finished(case=case, values=title, due=due)
        else:
            bars = sum(bool(end.rings) for end in strap.ends)
            long = format_length(strap.finished_mm, build.show)
            yield Finished(case=STRAP_CASES[bars], values=title, due=(("length", long),))


def _pulled(build: Build) -> Iterator[Finished]:
    for seam in build.seams:
        if seam.load_words:
            yield Finished(case="pull", values=(("title", spoken(seam.title)),), due=(("load", seam.load_words),))


def _tried(build: Build) -> Iterator[Finished]:
    shuts = [f"{item.count} × {item.what}" for item in build.hardware if item.kind in SHUTS]
    if shuts:
        yield Finished(case="hardware_shuts", due=(("count", ", ".join(shuts)),))
    if zips := [spoken(item.what) for item in build.trimmings if item.kind == "zip" and item.cuts]:
        yield Finished(case="zip_runs", due=(("zips", join_words(zips)),))
    for held in build.holds:
        if held.fits:
            size = " × ".join(format_short(mm, build.show) for mm in held.size_mm)
            yield Finished(case="holds", values=(("what", held.what),), due=(("size", size),))
