"""Pieces for a die maker or a laser: what lies on which layer, the kerf, the words, and what is refused."""

import math
from dataclasses import replace

import pytest
from by_hand import make_piece
from demos import demo_build

from docgen.geometry.outline import Corner, corner_outline, outline_path
from docgen.geometry.path import circle_path, path_box, path_length
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.pages.drawn.export import LAYERS, Drawing, Layer, draw_pieces, file_name
from docgen.pages.marks.moving import text_box
from docgen.problems import Place, SpecRejected, render_problems
from docgen.resolve import Build, Drawn, Fold, Hole, Marks, Slit

SPOT = Place(path="bag.toml", line=7)


def with_piece(**changes: object) -> Build:
    """The demo with one square piece, 100 mm wide."""
    corners = [Corner(Point(*at)) for at in ((0, 0), (100, 0), (100, 100), (0, 100))]
    material = demo_build().materials[0].name
    piece = make_piece("base", corner_outline(corners), material=material, shape="outline", place=SPOT)
    return replace(demo_build(), pieces=(replace(piece, **changes),), straps=())


def layer(drawing: Drawing, name: str) -> Layer:
    return next(layer for layer in drawing.layers if layer.name == name)


def said(drawing: Drawing) -> list[str]:
    return [text.text for text in layer(drawing, "words").texts]


def refuse(build: Build, kerf_mm: float) -> str:
    with pytest.raises(SpecRejected) as refused:
        draw_pieces(build, kerf_mm=kerf_mm)
    return render_problems(refused.value.problems)


@pytest.mark.parametrize("name", ["field-bag", "notebook-sleeve"])
def test_every_piece_and_strap_has_one_drawing_with_all_layers(name):
    build = demo_build(name)
    drawings = draw_pieces(build)
    wanted = [*(piece.name for piece in build.pieces), *(strap.name for strap in build.straps)]
    assert [drawing.name for drawing in drawings] == [f"{build.code}-v{build.version}-{piece}" for piece in wanted]
    assert all(tuple(layer.name for layer in drawing.layers) == LAYERS for drawing in drawings)
    assert all(name.isascii() and name.isalpha() for name in LAYERS)


@pytest.mark.parametrize("kerf_mm", [0.0, 0.2, 3.0])
def test_everything_lies_inside_the_drawing_with_a_margin_of_5_mm(kerf_mm):
    for drawing in draw_pieces(demo_build(), kerf_mm=kerf_mm):
        boxes = [path_box(path) for layer in drawing.layers for path in layer.paths]
        boxes += [text_box(text) for text in layer(drawing, "words").texts]
        assert min(box.left for box in boxes) == pytest.approx(5)
        assert min(box.bottom for box in boxes) == pytest.approx(5)
        assert max(box.right for box in boxes) == pytest.approx(drawing.width_mm - 5)
        assert max(box.top for box in boxes) == pytest.approx(drawing.height_mm - 5)


def test_every_mark_of_a_piece_is_drawn_once():
    build = demo_build()
    for piece, drawing in zip(build.cut, draw_pieces(build), strict=True):
        counts = {layer.name: len(layer.paths) for layer in drawing.layers}
        assert counts == {
            "words": 0,
            "marks": len(piece.marks.drawn)
            + len(piece.marks.folds)
            + len(piece.marks.notches)
            + len(piece.marks.landings)
            + len(piece.strap_landings),
            # the demo's seams share their lines all along or not at all
            "stitch": sum(not line.shared_mm for line in piece.marks.stitch_lines),
            "pricks": sum(len(line.holes_mm) for line in piece.marks.stitch_lines if line.by == "hand"),
            "holes": len(piece.marks.holes),
            "cut": len(piece.marks.slits) + 1,
        }


def test_fold_keeps_its_place_on_the_piece():
    fold = Fold(start=Point(0, 30), end=Point(100, 30))
    (drawing,) = draw_pieces(with_piece(marks=Marks(folds=(fold,))), kerf_mm=0.4)
    box = path_box(layer(drawing, "marks").paths[0])
    x, y = drawing.origin
    assert (box.left, box.right, box.bottom, box.top) == pytest.approx((x, x + 100, y + 30, y + 30))


def test_line_of_a_drawing_is_a_mark_and_not_cut():
    ring = Drawn(name="ring", path=circle_path(Point(50, 50), 20))
    (drawing,) = draw_pieces(with_piece(marks=Marks(drawn=(ring,))), kerf_mm=0.4)
    (path,) = layer(drawing, "marks").paths
    assert path_length(path) == pytest.approx(40 * math.pi)
    assert len(layer(drawing, "cut").paths) == 1


def test_kerf_grows_the_outline_and_shrinks_holes_and_slits():
    """By hand: half of 0.4 mm on each side."""
    build = with_piece(
        marks=Marks(
            holes=(Hole(at=Point(50, 20), diameter_mm=4.0),), slits=(Slit(start=Point(20, 50), end=Point(40, 50)),)
        )
    )
    (drawing,) = draw_pieces(build, kerf_mm=0.4)
    slit, outline = layer(drawing, "cut").paths
    x, y = drawing.origin
    grown = path_box(outline)
    assert (grown.left, grown.bottom) == pytest.approx((x - 0.2, y - 0.2))
    assert (grown.width, grown.height) == pytest.approx((100.4, 100.4))
    assert path_box(layer(drawing, "holes").paths[0]).width == pytest.approx(3.6)
    cut = path_box(slit)
    assert (cut.left, cut.right, cut.bottom, cut.top) == pytest.approx((x + 20.2, x + 39.8, y + 50, y + 50))


def test_without_kerf_the_outline_is_the_piece_with_its_curves():
    corners = [
        Corner(Point(0, 0)),
        Corner(Point(80, 0), handles=(Point(95, 20), Point(60, 30))),
        Corner(Point(80, 50)),
        Corner(Point(0, 50), radius=10),
    ]
    outline = corner_outline(corners)
    (drawing,) = draw_pieces(with_piece(outline=outline))
    drawn = layer(drawing, "cut").paths[-1]
    kinds = [type(segment) for segment in drawn.segments]
    assert kinds == [type(segment) for segment in outline_path(outline).segments]
    assert path_length(drawn) == pytest.approx(path_length(outline_path(outline)))


def test_words_name_the_piece_its_number_material_version_unit_and_kerf():
    build = replace(with_piece(cut=4, is_pair=True), digest="0123456789")
    (drawing,) = draw_pieces(build, kerf_mm=0.15)
    assert said(drawing) == [
        "Base",
        "cut 4: 2 + 2 mirrored",
        "bridle leather, 5 oz (2 mm)",
        "field-bag 0123456789",
        "version 3",
        "all lengths in mm, at full size",
        "cut lines and holes allow for a kerf of 0.15 mm",
    ]
    assert drawing.remarks == (
        "field-bag version 3 0123456789",
        "all lengths in mm, at full size",
        "cut lines and holes allow for a kerf of 0.15 mm",
    )
    assert drawing.title == "Base - Seed collector's field bag"
    (plain,) = draw_pieces(build)
    assert said(plain)[-1] == "no kerf is allowed for"


def test_words_stand_inside_a_large_piece_and_below_a_small_one():
    (large,) = draw_pieces(with_piece())
    inside = path_box(layer(large, "cut").paths[-1])
    for text in layer(large, "words").texts:
        box = text_box(text)
        assert inside.left < box.left < box.right < inside.right
        assert inside.bottom < box.bottom < box.top < inside.top
    corners = [Corner(Point(*at)) for at in ((0, 0), (12, 0), (12, 12), (0, 12))]
    (small,) = draw_pieces(with_piece(outline=corner_outline(corners)))
    lowest = path_box(layer(small, "cut").paths[-1]).bottom
    assert all(text_box(text).top < lowest for text in layer(small, "words").texts)


def test_only_the_pieces_named_are_drawn_in_the_order_of_the_spec():
    drawings = draw_pieces(demo_build(), names=("handle", "front", "front"))
    assert [drawing.name for drawing in drawings] == ["field-bag-v3-front", "field-bag-v3-handle"]


@pytest.mark.parametrize(
    ("code", "version", "name"),
    [
        ("../../etc/x", "1", "etc-x-v1-base"),
        ("a\\b:c", "1/2", "a-b-c-v1-2-base"),
        ("tray\n\0", "é", "tray--v--base"),
        ("..", "..", "v..-base"),
        (".hidden", "1", "hidden-v1-base"),
    ],
)
def test_file_name_cannot_lead_out_of_the_folder(code, version, name):
    build = replace(with_piece(), code=code, version=version)
    assert file_name(build, build.pieces[0]) == name
    assert draw_pieces(build)[0].name == name


def test_holes_and_slits_that_the_kerf_swallows_are_all_told():
    build = with_piece(
        marks=Marks(
            holes=(
                Hole(at=Point(50, 20), diameter_mm=0.4, place=Place(path="bag.toml", line=9, words="0.4 mm")),
                Hole(at=Point(60, 20), diameter_mm=0.5),
                Hole(at=Point(70, 20), diameter_mm=0.6),
            ),
            slits=(Slit(start=Point(20, 50), end=Point(20.3, 50)),),
        )
    )
    assert refuse(build, 0.5) == (
        'bag.toml:7: error: a hole of 0.5 mm in "base" is lost in a kerf of 0.5 mm\n'
        "    mend:    use a smaller kerf or a larger hole\n"
        'bag.toml:7: error: a slit of 0.3 mm in "base" is lost in a kerf of 0.5 mm\n'
        "    mend:    use a smaller kerf or a longer slit\n"
        'bag.toml:9: error: a hole of 0.4 mm in "base" is lost in a kerf of 0.5 mm\n'
        "    written: 0.4 mm\n"
        "    mend:    use a smaller kerf or a larger hole\n"
        "3 errors"
    )


def test_outline_with_a_gap_narrower_than_the_kerf_is_told():
    """A cut 2 mm wide into the square: a kerf of 3 mm fills it."""
    places = ((0, 0), (100, 0), (100, 100), (51, 100), (51, 40), (49, 40), (49, 100), (0, 100))
    build = with_piece(outline=corner_outline([Corner(Point(*at)) for at in places]))
    assert refuse(build, 3.0) == (
        'bag.toml:7: error: the outline of "base" has a place too narrow for a kerf of 3 mm\n'
        "    mend:    use a smaller kerf, or widen the narrowest place of the outline\n"
        "1 error"
    )
    (drawing,) = draw_pieces(build, kerf_mm=1.0)
    assert path_box(layer(drawing, "cut").paths[-1]).width == pytest.approx(101.0)


def test_notch_is_a_line_of_4_mm_into_the_piece():
    build = demo_build()
    piece = next(piece for piece in build.pieces if piece.marks.notches)
    (drawing,) = draw_pieces(build, names=(piece.name,))
    path = layer(drawing, "marks").paths[-1]
    notch = piece.marks.notches[-1]
    start = Point(notch.at.x + drawing.origin.x, notch.at.y + drawing.origin.y)
    assert path_length(path) == pytest.approx(4.0)
    assert distance(path.segments[0].start, start) < 1e-9


def test_words_stand_level_below_a_piece_too_small_for_them() -> None:
    corners = [Corner(Point(*at)) for at in ((0, 0), (12, 0), (12, 12), (0, 12))]
    (drawing,) = draw_pieces(with_piece(outline=corner_outline(corners)))
    (cut,) = layer(drawing, "cut").paths
    texts = layer(drawing, "words").texts
    assert texts
    assert all(text.angle_deg == 0 and text_box(text).top < path_box(cut).bottom for text in texts)
