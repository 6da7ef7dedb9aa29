"""SVG of pieces, read back: shapes by svgelements, text by Python's XML reader; areas and kerf by shapely."""

import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from io import BytesIO

import pytest
import svgelements
from demos import demo_build
from odd_pieces import draw, every_piece, odd_build, odd_piece, varied_pieces
from shapely import LineString, Polygon, hausdorff_distance

from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_area
from docgen.geometry.shapes import Arc, Line, Path, Point
from docgen.pages.drawn.export import LAYERS, Drawing, Layer, draw_pieces
from docgen.write.svg import path_data, write_svg

SVG = "{http://www.w3.org/2000/svg}"
NEAR_MM = 0.01
HOSTILE = "</title><script>alert(1)</script><!-- & ]]> \" ' \x00\x1b\n&lt; é"


def read_groups(content: bytes) -> dict[str, list[svgelements.Shape]]:
    """Shapes by the id of their group, in mm; 25.4 to the inch makes a unit of the picture a mm."""
    picture = svgelements.SVG.parse(BytesIO(content), ppi=25.4)
    groups = {}
    for group in picture:
        if isinstance(group, svgelements.Group):
            groups[group.id] = [shape for shape in group if isinstance(shape, svgelements.Shape)]
    return groups


def trace(shape: svgelements.Shape, drawing: Drawing) -> list[tuple[float, float]]:
    """Points along a shape, in the piece's own coordinates."""
    path = svgelements.Path(shape)
    points = [path.first_point]
    for segment in path:
        count = 1 if isinstance(segment, (svgelements.Line, svgelements.Close, svgelements.Move)) else 300
        points += [segment.point((k + 1) / count) for k in range(count) if segment.start is not None]
    x, y = drawing.origin
    return [(point.x - x, drawing.height_mm - point.y - y) for point in points]


def check_same(read: Polygon, wanted: Polygon) -> None:
    assert hausdorff_distance(read.exterior, wanted.exterior) < NEAR_MM
    assert read.symmetric_difference(wanted).area < NEAR_MM * wanted.length
    assert read.area == pytest.approx(wanted.area, abs=NEAR_MM * wanted.length)


def test_outlines_and_their_areas_are_those_of_the_build():
    for build, piece in every_piece():
        drawing = draw(build, piece)
        outline = outline_path(piece.outline)
        read = Polygon(trace(read_groups(write_svg(drawing))["cut"][-1], drawing))
        check_same(read, Polygon(flatten(outline, 0.001)))
        assert read.area == pytest.approx(path_area(outline), abs=NEAR_MM * read.length)


@pytest.mark.parametrize("kerf_mm", [0.1, 1.0, 3.0])
def test_kerf_grows_the_outline_as_shapely_does(kerf_mm):
    for build, piece in varied_pieces():
        drawing = draw(build, piece, kerf_mm)
        read = Polygon(trace(read_groups(write_svg(drawing))["cut"][-1], drawing))
        plain = Polygon(flatten(outline_path(piece.outline), 0.00002))
        wanted = plain.buffer(kerf_mm / 2, join_style="mitre", mitre_limit=50)
        check_same(read, wanted)


@pytest.mark.parametrize("kerf_mm", [0.0, 0.3])
def test_holes_are_circles_of_true_place_and_size(kerf_mm):
    count = 0
    for build, piece in every_piece():
        drawing = draw(build, piece, kerf_mm)
        circles = read_groups(write_svg(drawing))["holes"]
        assert len(circles) == len(piece.marks.holes)
        for circle, hole in zip(circles, piece.marks.holes, strict=True):
            if hole.slot != Point(0, 0):
                box = circle.bbox()
                wide = hole.diameter_mm - kerf_mm
                assert box[2] - box[0] == pytest.approx(wide + 2 * abs(hole.slot.x), abs=NEAR_MM)
                assert box[3] - box[1] == pytest.approx(wide + 2 * abs(hole.slot.y), abs=NEAR_MM)
                continue
            assert isinstance(circle, svgelements.Circle)
            x, y = drawing.origin
            assert (circle.cx - x, drawing.height_mm - circle.cy - y) == pytest.approx(hole.at, abs=NEAR_MM)
            assert 2 * circle.implicit_r == pytest.approx(hole.diameter_mm - kerf_mm, abs=NEAR_MM)
            count += 1
    assert count > 15


def test_stitch_lines_slits_and_marks_lie_where_the_build_has_them():
    for build, piece in every_piece():
        drawing = draw(build, piece)
        groups = read_groups(write_svg(drawing))
        for name in ("stitch", "marks", "cut"):
            layer = next(layer for layer in drawing.layers if layer.name == name)
            for shape, path in zip(groups[name], layer.paths, strict=True):
                moved = [(p.x - drawing.origin.x, p.y - drawing.origin.y) for p in flatten(path, 0.001)]
                read, wanted = LineString(trace(shape, drawing)), LineString(moved)
                assert hausdorff_distance(read, wanted, densify=0.1) < NEAR_MM
                assert read.length == pytest.approx(wanted.length, abs=2 * NEAR_MM)


def test_layers_are_groups_with_id_and_title_in_the_order_of_work():
    root = ElementTree.fromstring(write_svg(draw(odd_build(), odd_piece())))
    groups = root.findall(f"{SVG}g")
    assert [group.get("id") for group in groups] == list(LAYERS)
    assert [group.findtext(f"{SVG}title") for group in groups] == [
        "words",
        "marks: folds, notches, drawn lines, where other pieces land",
        "stitch lines",
        "holes of stitches by hand",
        "holes to punch or cut",
        "cut",
    ]
    assert len({group.get("stroke") for group in groups}) == len(groups)


def test_size_is_told_in_mm_and_one_unit_is_one_mm():
    for build, piece in every_piece():
        drawing = draw(build, piece)
        root = ElementTree.fromstring(write_svg(drawing))
        width, height = root.get("width"), root.get("height")
        assert width.endswith("mm")
        assert height.endswith("mm")
        assert root.get("viewBox") == f"0 0 {width[:-2]} {height[:-2]}"
        assert float(width[:-2]) == pytest.approx(drawing.width_mm, abs=1e-4)
        assert float(height[:-2]) == pytest.approx(drawing.height_mm, abs=1e-4)
        assert root.get("version") == "1.1"


def test_lines_arcs_and_curves_stay_what_they_are():
    drawing = draw(odd_build(), odd_piece())
    path = svgelements.Path(read_groups(write_svg(drawing))["cut"][-1])
    kinds = [type(segment).__name__ for segment in path]
    # the first rounding turns by more than a quarter, so it comes in two arcs
    segments = outline_path(odd_piece().outline).segments
    arcs = sum(2 if abs(s.sweep) > 1.5708 else 1 for s in segments if isinstance(s, Arc))
    assert kinds.count("Arc") == arcs
    assert kinds.count("CubicBezier") == 1
    assert kinds.count("Line") == sum(isinstance(s, Line) for s in segments)
    assert all(arc.rx == pytest.approx(arc.ry) for arc in path if isinstance(arc, svgelements.Arc))


def test_path_data_is_written_as_the_standard_says():
    """SVG 1.1, 8.3: y counts down, and sweep 0 turns against the clock."""
    path = Path((Line(Point(0, 0), Point(10, 0)), Arc(Point(10, 5), 5.0, -1.5707963267948966, 3.141592653589793)))
    assert path_data(path, 20.0) == "M0 20 L10 20 A5 5 0 0 0 15 15 A5 5 0 0 0 10 10"
    clockwise = Path((Arc(Point(0, 0), 2.0, 0.0, -1.5707963267948966),))
    assert path_data(clockwise, 0.0) == "M2 0 A2 2 0 0 1 0 2"


def test_round_piece_is_a_circle():
    build = demo_build("notebook-sleeve")
    piece = next(piece for piece in build.pieces if piece.shape == "circle")
    (circle,) = read_groups(write_svg(draw(build, piece)))["cut"]
    assert isinstance(circle, svgelements.Circle)
    assert 3.141592653589793 * circle.implicit_r**2 == pytest.approx(path_area(outline_path(piece.outline)), abs=0.01)


def test_every_file_carries_version_and_digest_as_text():
    build = demo_build()
    line = f"field-bag version 3 {build.digest}"
    for drawing in draw_pieces(build):
        content = write_svg(drawing)
        assert content.startswith(b'<?xml version="1.0" encoding="UTF-8"?>\n<svg ')  # XML 1.0, 2.8
        root = ElementTree.fromstring(content)
        assert root.findtext(f"{SVG}desc").startswith(f"{line}; all lengths in mm, at full size; ")
        assert {f"field-bag {build.digest}", "version 3"} <= {text.text for text in root.iter(f"{SVG}text")}


def test_text_that_looks_like_markup_stays_text():
    build = odd_build(title=HOSTILE)
    content = write_svg(draw_pieces(replace(build, title=HOSTILE, code=HOSTILE))[0])
    root = ElementTree.fromstring(content)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags == {"svg", "title", "desc", "g", "path", "circle", "text"}
    clean = "</title><script>alert(1)</script><!-- & ]]> \" ' &lt; é"
    assert clean in [text.text for text in root.iter(f"{SVG}text")]
    assert root.findtext(f"{SVG}desc").startswith(clean)


def test_layer_with_a_name_of_its_own_is_black():
    drawing = draw(odd_build(), odd_piece())
    other = replace(drawing, layers=(Layer(name='a"<b', title="A", paths=drawing.layers[-1].paths),))
    group = ElementTree.fromstring(write_svg(other)).find(f"{SVG}g")
    assert (group.get("id"), group.get("stroke")) == ('a"<b', "#000000")
