"""DXF of pieces, read back by ezdxf (which also audits the file); areas and kerf by shapely."""

import io
import itertools
import math
from dataclasses import replace

import ezdxf
import ezdxf.bbox
import ezdxf.units
import pytest
from demos import demo_build
from ezdxf import recover
from ezdxf.document import Drawing as Document
from ezdxf.entities import DXFEntity
from ezdxf.enums import TextEntityAlignment
from ezdxf.path import make_path
from odd_pieces import draw, every_piece, odd_build, odd_piece, varied_pieces
from shapely import LineString, Polygon, hausdorff_distance
from shapely import Point as Spot

from docgen.fonts import cap_height_mm, text_width_mm
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_area, path_box
from docgen.geometry.shapes import Arc, Curve, Line, Path, Point
from docgen.pages.drawn.export import LAYERS, Drawing, draw_pieces
from docgen.write.arcs import find_circle, short_arcs
from docgen.write.dxf import list_vertices, plain_text, write_dxf

NEAR_MM = 0.01


def load(content: bytes) -> Document:
    return ezdxf.read(io.StringIO(content.decode("ascii")))


def read_layer(content: bytes, name: str) -> list[DXFEntity]:
    return list(load(content).modelspace().query(f'*[layer=="{name}"]'))


def trace(entity: DXFEntity, drawing: Drawing) -> list[tuple[float, float]]:
    """Points along an entity, in the piece's own coordinates."""
    x, y = drawing.origin
    return [(p.x - x, p.y - y) for p in make_path(entity).flattening(0.0005)]


def check_same(read: Polygon, wanted: Polygon) -> None:
    assert hausdorff_distance(read.exterior, wanted.exterior) < NEAR_MM
    assert read.symmetric_difference(wanted).area < NEAR_MM * wanted.length


def test_file_is_release_2000_without_faults_and_says_its_unit():
    for build, piece in every_piece():
        content = write_dxf(draw(build, piece))
        document = load(content)
        assert document.dxfversion == "AC1015"
        assert document.audit().errors == []
        assert document.audit().fixes == []
        assert "all lengths in mm, at full size" in [t.dxf.text for t in document.modelspace().query("TEXT")]
        assert content.startswith(b"999\n")
        assert b"-0.000000" not in content


def test_importers_read_the_unit_from_the_header():
    """DXF Reference, release 2000, HEADER: $INSUNITS 4 is millimetres, $MEASUREMENT 1 is metric."""
    content = write_dxf(draw(odd_build(), odd_piece()))
    document = load(content)
    assert document.units == ezdxf.units.MM
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    # a file that another program has read and written again is still one of mm
    copy = io.StringIO()
    document.write(copy)
    assert ezdxf.read(io.StringIO(copy.getvalue())).units == ezdxf.units.MM


def test_every_handle_is_given_once_and_lies_below_the_next_free_one():
    lines = write_dxf(draw(demo_build(), demo_build().pieces[0])).decode("ascii").split("\n")
    pairs = list(zip(lines[::2], lines[1::2], strict=False))
    seed = pairs[pairs.index(("9", "$HANDSEED")) + 1]
    handles = [int(value, 16) for code, value in pairs if code in ("5", "105") and (code, value) != seed]
    assert len(handles) == len(set(handles)) > 40
    assert max(handles) < int(seed[1], 16)


def test_layers_are_named_and_coloured_apart():
    document = load(write_dxf(draw(odd_build(), odd_piece())))
    names = [layer.dxf.name for layer in document.layers]
    assert set(LAYERS) <= set(names)
    assert len({document.layers.get(name).color for name in LAYERS}) == len(LAYERS)
    assert {entity.dxf.layer for entity in document.modelspace()} == {"words", "stitch", "holes", "cut"}


def test_outlines_and_their_areas_are_those_of_the_build():
    for build, piece in every_piece():
        drawing = draw(build, piece)
        outline = outline_path(piece.outline)
        read = Polygon(trace(read_layer(write_dxf(drawing), "cut")[-1], drawing))
        check_same(read, Polygon(flatten(outline, 0.001)))
        assert read.area == pytest.approx(path_area(outline), abs=NEAR_MM * read.length)


@pytest.mark.parametrize("kerf_mm", [0.25, 3.0])
def test_kerf_grows_the_outline_as_shapely_does(kerf_mm):
    for build, piece in varied_pieces():
        drawing = draw(build, piece, kerf_mm)
        read = Polygon(trace(read_layer(write_dxf(drawing), "cut")[-1], drawing))
        plain = Polygon(flatten(outline_path(piece.outline), 0.00002))
        check_same(read, plain.buffer(kerf_mm / 2, join_style="mitre", mitre_limit=50))


@pytest.mark.parametrize("kerf_mm", [0.0, 0.3])
def test_holes_are_circles_of_true_place_and_size(kerf_mm):
    count = 0
    for build, piece in every_piece():
        drawing = draw(build, piece, kerf_mm)
        circles = read_layer(write_dxf(drawing), "holes")
        kinds = ["CIRCLE" if hole.slot == Point(0, 0) else "LWPOLYLINE" for hole in piece.marks.holes]
        assert [circle.dxftype() for circle in circles] == kinds
        for circle, hole in zip(circles, piece.marks.holes, strict=True):
            if circle.dxftype() == "LWPOLYLINE":
                box = ezdxf.bbox.extents([circle])
                wide = hole.diameter_mm - kerf_mm
                assert box.size.x == pytest.approx(wide + 2 * abs(hole.slot.x), abs=NEAR_MM)
                assert box.size.y == pytest.approx(wide + 2 * abs(hole.slot.y), abs=NEAR_MM)
                continue
            x, y = drawing.origin
            centre = circle.dxf.center
            assert (centre.x - x, centre.y - y) == pytest.approx(hole.at, abs=NEAR_MM)
            assert 2 * circle.dxf.radius == pytest.approx(hole.diameter_mm - kerf_mm, abs=NEAR_MM)
            count += 1
    assert count > 15


def test_every_line_has_its_box_on_its_layer():
    for build, piece in every_piece():
        drawing = draw(build, piece)
        content = write_dxf(drawing)
        for layer in drawing.layers:
            if layer.name == "words":
                continue
            entities = read_layer(content, layer.name)
            for entity, path in zip(entities, layer.paths, strict=True):
                found, wanted = ezdxf.bbox.extents([entity], fast=False), path_box(path)
                assert tuple(found.extmin)[:2] == pytest.approx((wanted.left, wanted.bottom), abs=NEAR_MM)
                assert tuple(found.extmax)[:2] == pytest.approx((wanted.right, wanted.top), abs=NEAR_MM)


def test_extents_in_the_header_hold_the_drawing():
    for build, piece in every_piece():
        drawing = draw(build, piece)
        document = load(write_dxf(drawing))
        assert tuple(document.header["$EXTMIN"])[:2] == (0, 0)
        assert tuple(document.header["$EXTMAX"])[:2] == pytest.approx((drawing.width_mm, drawing.height_mm), abs=1e-4)
        shapes = [e for e in document.modelspace() if e.dxftype() != "TEXT"]
        box = ezdxf.bbox.extents(shapes, fast=False)
        assert min(box.extmin.x, box.extmin.y) > 4.98
        assert box.extmax.x < drawing.width_mm - 4.98
        assert box.extmax.y < drawing.height_mm - 4.98


def test_lines_and_arcs_stay_what_they_are():
    slit, polyline = read_layer(write_dxf(draw(odd_build(), odd_piece())), "cut")
    assert (slit.dxftype(), polyline.dxftype()) == ("LINE", "LWPOLYLINE")
    assert polyline.closed
    bulges = [bulge for *_, bulge in polyline.get_points()]
    segments = outline_path(odd_piece().outline).segments
    # the roundings that turn by more than a quarter come in two arcs
    arcs = sum(2 if abs(s.sweep) > math.pi / 2 else 1 for s in segments if isinstance(s, Arc))
    assert sum(bulge != 0 for bulge in bulges) == arcs


def test_bulge_is_the_tangent_of_a_quarter_of_the_turn():
    """By definition of group 42; a half circle has the bulge 1, and comes in two quarters."""
    path = Path((Line(Point(0, 0), Point(10, 0)), Arc(Point(10, 5), 5.0, -math.pi / 2, math.pi)))
    (first, second, third, last) = list_vertices(path)
    quarter = math.tan(math.pi / 8)
    assert [v[1] for v in (first, second, third, last)] == pytest.approx([0, quarter, quarter, 0])
    assert last[0] == pytest.approx((10, 10))


def test_curves_become_chords_of_five_thousandths():
    curve = Curve(Point(0, 0), Point(40, 60), Point(80, -60), Point(120, 0))
    chords = [point for point, _ in list_vertices(Path((curve,)))]
    drawn = LineString(chords)
    away = max(drawn.distance(Spot(point)) for point in flatten(Path((curve,)), 0.00005))
    assert 0.0005 < away <= 0.005


def test_repeated_points_are_left_out():
    places = (Point(0, 0), Point(0, 0), Point(5, 0), Point(5, 5), Point(0, 0))
    path = Path(tuple(Line(a, b) for a, b in itertools.pairwise(places)), closed=True)
    assert list_vertices(path) == ((Point(0, 0), 0.0), (Point(5, 0), 0.0), (Point(5, 5), 0.0))


def test_only_a_closed_full_turn_is_a_circle():
    whole = Arc(Point(1, 2), 3.0, 0.0, 2 * math.pi)
    assert find_circle(Path((whole,), closed=True)) == whole
    assert find_circle(Path((whole,))) is None
    assert find_circle(Path((replace(whole, sweep=6.0),), closed=True)) is None
    assert [arc.sweep for arc in short_arcs(Path((whole,)))] == pytest.approx([math.pi / 2] * 4)


def test_texts_are_fitted_to_their_planned_width():
    drawing = draw(odd_build(), odd_piece())
    marks = next(layer for layer in drawing.layers if layer.name == "words").texts
    texts = read_layer(write_dxf(drawing), "words")
    for text, mark in zip(texts, marks, strict=True):
        assert text.plain_text() == mark.text
        assert text.dxf.height == pytest.approx(cap_height_mm(mark.size_mm, mark.face), abs=1e-4)
        length = math.dist(tuple(text.dxf.insert)[:2], tuple(text.dxf.align_point)[:2])
        assert length == pytest.approx(text_width_mm(mark.text, mark.face, mark.size_mm), abs=1e-4)
        assert text.get_align_enum() == TextEntityAlignment.FIT


def test_every_file_carries_version_and_digest_as_text_and_comment():
    build = demo_build()
    line = f"field-bag version 3 {build.digest}"
    for drawing in draw_pieces(build):
        content = write_dxf(drawing)
        assert f"\n999\n{line}\n" in content.decode("ascii")
        assert {f"field-bag {build.digest}", "version 3"} <= {
            text.plain_text() for text in read_layer(content, "words")
        }


def test_text_that_looks_like_commands_stays_text():
    title = "Tab\n0\nLINE\n8\ncut %%c %%%d ^J \\U+0041 \\P é “x” \U0001f45c"
    drawing = draw_pieces(odd_build(title=title))[0]
    plain = draw_pieces(odd_build())[0]
    content = write_dxf(drawing)
    kinds, usual = ([e.dxftype() for e in load(one).modelspace()] for one in (content, write_dxf(plain)))
    assert [kind for kind in kinds if kind != "TEXT"] == [kind for kind in usual if kind != "TEXT"]
    assert kinds.count("TEXT") == sum(len(layer.texts) for layer in drawing.layers)
    # only this way of reading turns \U+XXXX back into letters
    document, auditor = recover.read(io.BytesIO(content))
    assert auditor.errors == []
    read = [text.plain_text() for text in document.modelspace().query("TEXT")]
    assert " ".join(read).startswith("Tab 0 LINE 8 cut % %c % % %d ^J \\U+0041 \\P é “x” ?")


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Back panel", "Back panel"),
        ("50 % off %% %%%%", "50 % off % % % % % %"),
        ("a^b", "a^ b"),
        ("½ in", "\\U+00BD in"),
        ("\\P", "\\U+005CP"),
        ("a\r\nb", "a b"),
        ("", ""),
    ],
)
def test_text_is_written_in_ascii(text, written):
    assert plain_text(text) == written


def test_text_ends_before_what_the_format_takes():
    assert len(plain_text("é" * 200)) == 245
    assert len(plain_text("x" * 300)) <= 255
