"""Small parts of a step, once more at a larger scale, from where they are seen best: with what lies round them alone."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from docgen.assemble import Body, BodyFace, BodyLine, Copy, Heap, Vec, inner, plus, size_mm
from docgen.classes import dataclass
from docgen.pages.pictures.drawing import Drawing, Shown, Window
from docgen.pages.pictures.view import View, corner

ON_PAPER_MM = (60.0, 55.0)  # the room of a picture, by which it is told what is small in it
LEAST_MM2 = 25.0  # on paper: a part of which no face is so large is shown once more, larger
LARGER = 1.6  # times the first, at least, or it is not worth the room
MARGIN = 0.35  # of the size of what is shown, round it
CORNERS = (corner("front"), corner("behind"))
END_IN_WIDTHS = 3.0  # so much of a strap is its end: our choice
LIFT_SHARE = 0.8  # of the size of a part, by which it is lifted


@dataclass(frozen=True, slots=True, kw_only=True)
class Small:
    """A part that is small in a picture, and the way on which it is lifted."""

    body: Body
    way: Vec


def find_small(bodies: Mapping[Copy, Body], heap: Heap, drawing: Drawing) -> Small | None:
    """The part that a step brings, and that is too small in its picture to see how it lies: of several the one that is
    seen best. None where none is."""
    scale = drawing.scale_for(*ON_PAPER_MM)
    hung = {bond.other for bond in heap.bonds if bond.is_hung}
    found = [
        Small(body=bodies[copy], way=one.way)
        for one in heap.moved
        for copy in one.copies
        if copy in heap.new and bodies[copy].is_leather and copy not in hung
    ]
    small = [one for one in found if _largest(one, drawing.view) * scale * scale < LEAST_MM2]
    views = (drawing.view, *CORNERS)
    return max(small, key=lambda one: round(max(_worth(one, view) for view in views), 1), default=None)


def _largest(small: Small, view: View) -> float:
    return max((_on_paper(face, view) for face in small.body.faces), default=0.0)


def _worth(small: Small, view: View) -> float:
    """How large it is in a view from the side to which it is lifted; nothing from the other."""
    return _largest(small, view) if inner(small.way, view.eye) > 0 else 0.0


def _on_paper(face: BodyFace, view: View) -> float:
    flat = [view.flat(at) for at in face.corners]
    return abs(sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(flat, (*flat[1:], flat[0]), strict=True))) / 2


def best_view(small: Small, first: View) -> View:
    """From where its faces look largest; the view of the picture unless another is much better."""
    best = max(CORNERS, key=lambda view: round(_worth(small, view), 1))
    return best if _worth(small, best) > LARGER * _worth(small, first) else first


def find_window(small: Small, shown: Sequence[Shown], view: View) -> Window:
    """The box round the part as it is lifted and as it will lie, with its hardware; of a strap that is sewn on round the
    row that holds it, of another one round the end that is held."""
    mine = [one for one in shown if one.body.copy == small.body.copy]
    points = [
        view.flat(plus(at, shift))
        for one in mine
        for at in _held_of(one) or [at for line in _sewn_of(one) or one.body.lines for at in (line.start, line.end)]
        for shift in ((0.0, 0.0, 0.0), one.shift)
    ]
    xs, ys = [x for x, _, _ in points], [y for _, y, _ in points]
    by = MARGIN * max(max(xs) - min(xs), max(ys) - min(ys))
    return min(xs) - by, max(xs) + by, min(ys) - by, max(ys) + by


def _sewn_of(one: Shown) -> list[BodyLine]:
    """The row by which a strap is sewn on in a picture; none of any other part."""
    strap = one.body if isinstance(one.body, Body) and one.body.is_strap else None
    return [line for line in strap.lines if line.kind == "stitch" and line.name in one.picked] if strap else []


def _held_of(one: Shown) -> list[Vec]:
    """The corners of the end by which a strap is held, where no row of the picture sews it on; none of any other part."""
    strap = one.body if isinstance(one.body, Body) and one.body.is_strap else None
    if strap is None or _sewn_of(one):
        return []
    middle = strap.placed.surface.point(strap.placed.anchor, strap.held_band)
    near_mm = END_IN_WIDTHS * strap.wide_mm / 2
    return [at for face in strap.faces for at in face.corners if math.dist(at, middle) <= near_mm]


def lift_mm(small: Small) -> float:
    """How far it is lifted, to be told from what it goes on: a strap by its end."""
    long_mm = size_mm([small.body])
    return LIFT_SHARE * (min(long_mm, END_IN_WIDTHS * small.body.wide_mm) if small.body.is_strap else long_mm)
