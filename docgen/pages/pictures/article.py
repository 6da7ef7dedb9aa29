"""The finished article, from the front and from behind, with the names of its parts."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from docgen.assemble import Closed, Copy, Kind
from docgen.pages.looks.words import words
from docgen.pages.pictures.drawing import Drawing, Shown
from docgen.pages.pictures.figure import make_figure, scale_for
from docgen.pages.pictures.leaders import THIN_MM
from docgen.pages.pictures.view import Side, View, dimetric, isometric
from docgen.pages.setting.blocks import Figure, PageStyle

HIGH_MM = 56.0
FRONT_SHARE = 0.65  # of the width: it bears most names


SIDES: Final[tuple[Side, Side]] = ("front", "behind")


def view_of(kind: Kind, side: Side) -> View:
    """What lies is seen isometrically, what stands with its front nearly true."""
    return isometric(side) if kind == "lying" else dimetric(side)


def draw_article(
    closed: Closed, kind: Kind, lined: Collection[Copy], width_mm: float, style: PageStyle
) -> tuple[Figure, Figure] | None:
    """Front and back side by side; None where nothing is to be drawn. A part is named where it is seen first. `lined` are
    copies that something lies behind."""
    outer = [body for body in closed.bodies if not body.placed.is_inner]
    if not outer:
        return None
    said = words("pictures")
    shown = [
        *(Shown(body=body, is_hatched=body.is_leather and body.copy not in lined) for body in outer),
        *(Shown(body=one) for one in closed.metal),
    ]
    titles = dict.fromkeys(body.title for body in outer)
    named = [(tuple(k for k, body in enumerate(outer) if body.title == title), title) for title in titles]
    front_mm = (width_mm - style.gutter_mm) * FRONT_SHARE
    behind_mm = width_mm - style.gutter_mm - front_mm
    front, behind = (Drawing(shown, view_of(kind, side)) for side in SIDES)
    scale = min(scale_for(front, named, (front_mm, HIGH_MM), style), scale_for(behind, (), (behind_mm, HIGH_MM), style))
    first, lost = make_figure(front, named, front_mm, scale, style, said["from_front"])
    _, unseen = make_figure(behind, lost, behind_mm, scale, style, least_mm=THIN_MM)
    left = [one for one in lost if one not in unseen]
    room = scale_for(behind, left, (behind_mm, HIGH_MM), style)
    notes = [
        f"{said[key]}: {', '.join(titles)}"
        for key, titles in (("open", closed.opened), ("not_drawn", closed.absent))
        if titles
    ]
    told = "; ".join([said["from_behind"], *notes])
    second, _ = make_figure(behind, left, behind_mm, min(scale, room), style, told, least_mm=THIN_MM)
    return first, second
