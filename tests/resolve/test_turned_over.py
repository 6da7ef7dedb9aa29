"""A piece turned over: every mark on it at the place that a hand-drawn mirror gives."""

from dataclasses import fields, replace

import pytest

from docgen.geometry.outline import outline_box, outline_path, rectangle_outline
from docgen.geometry.path import box_path, path_area, path_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.resolve import (
    Divider,
    Drawn,
    Fold,
    Hem,
    Hole,
    Landing,
    Marks,
    Notch,
    Piece,
    Skive,
    Slit,
    StitchLine,
    StrapLanding,
)

# 100 mm wide, 60 mm high, so that x becomes 100 - x.
PIECE = Piece(
    name="flap",
    title="Flap",
    material="hide",
    cut=1,
    is_pair=False,
    shape="rectangle",
    outline=rectangle_outline(100.0, 60.0, {"bottom-left": 10.0}),
    marks=Marks(
        holes=(Hole(at=Point(20.0, 15.0), diameter_mm=4.0, takes="rivet", slot=Point(3.0, 1.0), is_middle=True),),
        notches=(Notch(at=Point(0.0, 40.0), inward=Point(1.0, 0.0), edge="left"),),
        folds=(Fold(start=Point(30.0, 0.0), end=Point(35.0, 60.0), note="back"),),
        slits=(Slit(start=Point(10.0, 10.0), end=Point(12.0, 30.0)),),
        skives=(Skive(edges="left", band=box_path(Box(0, 0, 12, 60)), width_mm=12.0, to_mm=0.8, to_words="2 oz"),),
        landings=(Landing(piece="pocket", outline=box_path(Box(5, 5, 45, 25)), dx_mm=5.0, dy_mm=5.0),),
        stitch_lines=(
            StitchLine(
                seam="round", stitch="s", path=polyline((Point(4.0, 56.0), Point(4.0, 4.0))), holes_mm=(0.0, 52.0)
            ),
        ),
        drawn=(Drawn(name="vine", path=polyline((Point(60.0, 10.0), Point(70.0, 20.0)))),),
    ),
    centre_lines=("up",),
    least_stretch="up",
    note="n",
    is_strap=True,
    by_length=True,
    is_solved=True,
    hems=(Hem(edges=("top",), turned_mm=8.0),),
    folded=rectangle_outline(100.0, 52.0, {"bottom-left": 10.0}),
    dividers=(Divider(start=Point(25.0, 0.0), end=Point(25.0, 52.0), stitch="s"),),
    strap_landings=(
        StrapLanding(
            strap="handle",
            end=1,
            at=Point(20.0, 30.0),
            leads="left",
            over_mm=15.0,
            outline=box_path(Box(5, 25, 20, 35)),
        ),
    ),
    lines=("front",),
    shows="flesh",
    model="back",
    lid_of="box",
    inset_mm=3.0,
)
KEPT = (
    "name title material cut is_pair shape note place is_strap is_solved centre_lines least_stretch cut_from hems lines "
    "shows model like inset_mm template template_of also_cuts by_length lid_of"
)
MOVED = ("folded", "dividers", "strap_landings")


def test_every_field_of_a_piece_is_known_here() -> None:
    # A kind of mark that is added to Marks must be mirrored, and must be shown to be so below.
    assert {field.name for field in fields(Piece)} == {"outline", "marks", *MOVED, *KEPT.split()}
    assert all(getattr(PIECE.marks, field.name) for field in fields(Marks))


def test_outline_is_mirrored_and_stays_anticlockwise() -> None:
    turned = PIECE.turned_over()
    assert outline_box(turned.outline) == outline_box(PIECE.outline) == Box(0.0, 0.0, 100.0, 60.0)
    area = path_area(outline_path(turned.outline))
    assert area == pytest.approx(path_area(outline_path(PIECE.outline)))
    assert area > 0
    # The one round corner is 10 mm wide at the left before, at the right after.
    boxes = {edge.name: path_box(edge.path) for edge in turned.outline.edges}
    box = boxes["bottom-left"]
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((90.0, 0.0, 100.0, 10.0))


def test_every_mark_lies_where_its_mirror_image_does() -> None:
    turned = PIECE.turned_over()
    assert turned.marks.holes == (replace(PIECE.marks.holes[0], at=Point(80.0, 15.0), slot=Point(-3.0, 1.0)),)
    assert turned.marks.notches == (Notch(at=Point(100.0, 40.0), inward=Point(-1.0, 0.0), edge="left"),)
    assert turned.marks.folds == (Fold(start=Point(70.0, 0.0), end=Point(65.0, 60.0), note="back"),)
    assert turned.marks.slits == (Slit(start=Point(90.0, 10.0), end=Point(88.0, 30.0)),)
    assert path_box(turned.marks.skives[0].band) == Box(88.0, 0.0, 100.0, 60.0)
    assert path_box(turned.marks.landings[0].outline) == Box(55.0, 5.0, 95.0, 25.0)
    assert turned.marks.stitch_lines[0].path == polyline((Point(96.0, 56.0), Point(96.0, 4.0)))
    assert turned.marks.stitch_lines[0].holes_mm == (0.0, 52.0)
    assert turned.marks.drawn[0].path == polyline((Point(40.0, 10.0), Point(30.0, 20.0)))


def test_what_it_is_made_up_with_lies_where_its_mirror_image_does() -> None:
    turned = PIECE.turned_over()
    assert turned.folded is not None
    assert outline_box(turned.folded) == Box(0.0, 0.0, 100.0, 52.0)
    boxes = {edge.name: path_box(edge.path) for edge in turned.folded.edges}
    assert boxes["bottom-left"].left == pytest.approx(90.0)
    assert [(line.start, line.end) for line in turned.dividers] == [(Point(75.0, 0.0), Point(75.0, 52.0))]
    (landing,) = turned.strap_landings
    assert (landing.at, landing.leads, landing.end) == (Point(80.0, 30.0), "right", 1)
    assert path_box(landing.outline) == Box(80.0, 25.0, 95.0, 35.0)


def test_landing_moves_the_other_piece_turned_over_to_the_same_place() -> None:
    # The pocket, 40 mm wide from (0, 0), looks the same turned over: moved by dx it must reach 55 to 95 mm.
    (landing,) = PIECE.turned_over().marks.landings
    assert (landing.dx_mm, landing.dy_mm) == (55.0, 5.0)


def test_turned_over_twice_is_the_piece_itself() -> None:
    again = PIECE.turned_over().turned_over()
    assert all(
        getattr(again, name) == getattr(PIECE, name) for name in ("marks", "dividers", "strap_landings", *KEPT.split())
    )
    assert outline_box(again.outline) == outline_box(PIECE.outline)


@pytest.mark.parametrize("name", KEPT.split())
def test_what_is_no_place_stays(name: str) -> None:
    assert getattr(PIECE.turned_over(), name) == getattr(PIECE, name)


@pytest.mark.parametrize(("leads", "way"), [("up", (0, 1)), ("down", (0, -1)), ("left", (-1, 0)), ("right", (1, 0))])
def test_a_strap_leads_along_the_axis_of_that_name(leads: str, way: tuple[int, int]) -> None:
    assert tuple(replace(PIECE.strap_landings[0], leads=leads).way) == way
