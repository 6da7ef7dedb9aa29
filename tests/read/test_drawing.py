"""Drawings beside the spec: what comes out of good ones, and how wrong ones are told, whole."""

import io
import math
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG
from svgelements import Path as OtherPath

from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import path_area, path_box, path_length
from docgen.geometry.shapes import Arc, Curve, Line, Point
from docgen.problems import render_problem
from docgen.read import Spec
from docgen.read.svg.drawing import Drawing, draw_sketch, parse_drawing
from docgen.read.svg.svg_file import DrawingError, read_file

DRAWINGS = Path(__file__).with_name("drawings")
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">'
SQUARE = '<path id="body" d="M10 10h50v40h-50z"/>'


def draw(inside: str, element_id: str | None = "body", scale_mm: float | None = None, head: str = HEAD) -> Drawing:
    return parse_drawing(f"{head}{inside}</svg>".encode(), "a.svg", element_id, scale_mm)


def read_drawing(folder: Path, file: str, element_id: str | None = None) -> Drawing:
    """A file in the folder, opened as the reader of specs opens it."""
    return parse_drawing(read_file(folder, file), file, element_id, None)


def refuse(source: str | bytes, element_id: str | None = "body", scale_mm: float | None = None) -> str:
    """The whole message; a text is put into a drawing 100 mm wide unless it begins with <."""
    if isinstance(source, str):
        source = (source if source.startswith(("<?", "<!", "<svg")) else f"{HEAD}{source[1:]}</svg>").encode()
    with pytest.raises(DrawingError) as caught:
        parse_drawing(source, "a.svg", element_id, scale_mm)
    return f"{caught.value.what}\n{caught.value.mend}"


def refuse_inside(inside: str, element_id: str | None = "body") -> str:
    return refuse(f"{HEAD}{inside}</svg>", element_id)


def tell(what: str, mend: str) -> str:
    """A message of two lines; the name of the file stands for an @."""
    return what.replace("@", '"a.svg"') + f"\n{mend}"


# ---- what is read ----------------------------------------------------------


def test_the_lower_left_is_at_nought_and_y_goes_up() -> None:
    drawing = draw('<path id="body" d="M10 10h50v40h-30l-20-10z"/>')
    assert [segment.start for segment in drawing.outline.segments if isinstance(segment, Line)] == [
        (0, 40),
        (0, 10),
        (20, 0),
        (50, 0),
        (50, 40),
    ]
    assert drawing.outline.closed
    assert path_area(drawing.outline) == pytest.approx(50 * 40 - 100)


def test_an_outline_drawn_the_other_way_round_runs_anticlockwise_too() -> None:
    drawing = draw('<path id="body" d="M10 10v40h50v-40z"/>')
    assert path_area(drawing.outline) == pytest.approx(2000)


@pytest.mark.parametrize(
    ("size", "side_mm"),
    [
        ('width="100mm" height="100mm"', 50),
        ('width="10cm"', 50),
        ('height="4in"', 50.8),
        ('width="72pt" height="72pt"', 12.7),
        ('width="6pc"', 12.7),
        ('width=" 400Q "', 50),
        ('width="200mm" height="100mm"', 50),
        ('width="200mm" height="100mm" preserveAspectRatio="xMidYMid slice"', 100),
        ('width="100mm" height="100.001mm" preserveAspectRatio="none"', 50),
        ('width="1e2mm" height="100%"', 50),
    ],
)
def test_real_units_give_the_size(size: str, side_mm: float) -> None:
    drawing = draw('<rect id="body" width="50" height="50"/>', head=f'<svg {size} viewBox="5 6 100 100">')
    assert path_box(drawing.outline).width == pytest.approx(side_mm)


def test_a_drawing_without_real_units_takes_the_scale_of_the_spec() -> None:
    head = '<svg width="300px" height="300" viewBox="0 0 100 100">'
    drawing = draw('<rect id="body" width="96" height="50"/>', scale_mm=25.4 / 96, head=head)
    assert path_box(drawing.outline).width == pytest.approx(25.4)


def test_lengths_with_units_of_their_own_count_96_to_the_inch() -> None:
    drawing = draw('<rect id="body" width="1in" height="10px"/>', scale_mm=1, head="<svg>")
    assert path_box(drawing.outline).width == pytest.approx(96)


def test_circles_inside_become_holes_and_other_lines_marks() -> None:
    drawing = draw(
        SQUARE + '<circle id="a" cx="20" cy="20" r="2"/>'
        '<path id="b" d="M28 30a2 2 0 1 0 4 0a2 2 0 1 0-4 0z"/>'
        # a circle of four curves, as programs write one that was converted to a path
        '<path id="c" d="M43 30c0 1.657-1.343 3-3 3s-3-1.343-3-3 1.343-3 3-3 3 1.343 3 3z"/>'
        '<ellipse id="d" cx="50" cy="40" rx="3" ry="2"/><rect id="e" x="45" y="15" width="5" height="5"/>'
        '<path id="f" d="M10 30h15"/><circle cx="90" cy="90" r="2"/>'
    )
    assert drawing.holes == (
        (pytest.approx((10, 30)), pytest.approx(4), "a"),
        (pytest.approx((20, 20)), pytest.approx(4), "b"),
        (pytest.approx((30, 20), abs=0.01), pytest.approx(6, abs=0.01), "c"),
    )
    assert [name for name, _ in drawing.marks] == ["d", "e", "f"]
    assert drawing.marks[2][1].segments == (Line(Point(0, 20), Point(15, 20)),)


def test_a_group_gives_its_largest_closed_line_and_what_lies_in_it() -> None:
    group = f'<g id="piece"><circle id="eye" cx="30" cy="30" r="2"/>{SQUARE}</g><path id="far" d="M0 0h3"/>'
    drawing = draw(group, "piece")
    assert path_area(drawing.outline) == pytest.approx(2000)
    assert [name for *_, name in drawing.holes] == ["eye"]
    assert drawing.marks == ()


def test_the_only_closed_line_needs_no_name() -> None:
    assert path_area(draw(SQUARE, None).outline) == pytest.approx(2000)


def test_lines_outside_the_named_outline_belong_to_other_pieces() -> None:
    drawing = draw(SQUARE + '<path id="other" d="M70 10h20v20h-20z"/>')
    assert drawing.marks == ()


def test_the_inside_of_a_combined_path_becomes_a_hole() -> None:
    drawing = draw('<path id="body" d="M10 10h50v40h-50zM28 30a2 2 0 1 0 4 0a2 2 0 1 0-4 0z"/>')
    assert drawing.holes == ((pytest.approx((20, 20)), pytest.approx(4), "body"),)


@pytest.mark.parametrize(
    "hidden",
    [
        '<g display="none"><text>x</text><path d="M20 20h5"/></g>',
        '<path style="fill:none;display:none" d="M20 20h5"/>',
        '<g visibility="hidden"><path d="M20 20h5"/></g>',
        '<style>.off, .away {visibility: hidden}</style><path class="on away" d="M20 20h5"/>',
        '<defs><path d="M20 20h5"/><use href="#body"/></defs><title>use</title>',
        '<clipPath><path d="M20 20h5"/></clipPath>',
        '<e:grid xmlns:e="urn:example"><e:use/></e:grid>',
    ],
)
def test_what_is_not_seen_is_not_read(hidden: str) -> None:
    assert draw(SQUARE + hidden).marks == ()


def test_what_a_hidden_group_shows_again_is_seen() -> None:
    drawing = draw(SQUARE + '<g visibility="hidden"><path id="m" visibility="visible" d="M20 20h5"/></g>')
    assert [name for name, _ in drawing.marks] == ["m"]


def test_arcs_of_circles_stay_arcs_through_turned_groups() -> None:
    drawing = draw(
        '<g transform="rotate(30) scale(2)"><g transform="translate(9 4)">'
        '<path id="body" d="M10 10h20a5 5 0 0 1 5 5v10h-25z"/></g></g>'
    )
    arcs = [segment for segment in drawing.outline.segments if isinstance(segment, Arc)]
    assert [arc.radius for arc in arcs] == [pytest.approx(10)]
    assert path_area(drawing.outline) == pytest.approx(4 * (25 * 15 - 25 + 25 * math.pi / 4))


def other_outline(file: str, name: str) -> OtherPath:
    """The element as svgelements 1.9 reads it, in mm: 25.4 px to the inch makes its px millimetres."""
    source = (DRAWINGS / file).read_text(encoding="utf-8")
    (found,) = [element for element in SVG.parse(io.StringIO(source), ppi=25.4).elements() if element.id == name]
    return abs(OtherPath(found))


@pytest.mark.parametrize(
    ("file", "name"),
    [
        ("front.svg", "front-edge"),
        ("shapes.svg", "plain"),
        ("shapes.svg", "rounded"),
        ("shapes.svg", "pill"),
        ("shapes.svg", "disc"),
        ("shapes.svg", "egg"),
        ("shapes.svg", "kite"),
        ("shapes.svg", "turned"),
    ],
)
def test_outlines_agree_with_another_reader(file: str, name: str) -> None:
    ours = read_drawing(DRAWINGS, file, name).outline
    other = other_outline(file, name)
    points = [(point.x, point.y) for s in other for point in [s.point(k / 40) for k in range(41)] if s.start]
    left, low = min(x for x, _ in points), max(y for _, y in points)
    box = path_box(ours)
    # our box is exact, theirs is that of 40 points a segment
    assert (max(x for x, _ in points) - left, low - min(y for _, y in points)) == pytest.approx(
        (box.width, box.height), abs=0.05
    )
    far = [distance_to_path(ours, Point(x - other_left(other), other_low(other) - y)) for x, y in points]
    assert max(far) < 0.01
    assert path_length(ours) == pytest.approx(other.length(error=1e-7), abs=0.01)


def other_left(other: OtherPath) -> float:
    return float(other.bbox()[0])


def other_low(other: OtherPath) -> float:
    return float(other.bbox()[3])


def test_a_slanted_circle_lies_where_its_points_are_moved_to() -> None:
    drawing = read_drawing(DRAWINGS, "shapes.svg", "slanted").outline
    assert all(isinstance(segment, Curve) for segment in drawing.segments)
    unit = 127 / 254  # 360 pt over 254 units
    lean = math.tan(math.radians(20))
    turns = [2 * math.pi * k / 90 for k in range(90)]
    places = [(18 * math.cos(t), 1.5 * 18 * math.sin(t)) for t in turns]
    centre = path_box(drawing).centre
    far = [distance_to_path(drawing, Point(centre.x + unit * (x + lean * y), centre.y - unit * y)) for x, y in places]
    assert max(far) < 0.005


def test_marks_and_holes_of_a_drawing_come_with_it() -> None:
    drawing = read_drawing(DRAWINGS, "front.svg", "front-edge")
    assert [name for *_, name in drawing.holes] == ["rivet-1", "rivet-2"]
    assert [name for name, _ in drawing.marks] == ["badge", "crease"]
    unit = 25.4 * 8 / 800 * 0.9
    assert [size for _, size, _ in drawing.holes] == [pytest.approx(16 * unit), pytest.approx(16 * unit)]
    (one, _, _), (other, _, _) = drawing.holes
    assert math.dist(one, other) == pytest.approx(88 * unit)


# ---- what is refused -------------------------------------------------------

ANEW = "draw it anew, or save it again"
CLOSE = "close the path in the drawing program"
ONE_PATH = "draw the outline as one closed path"
NAME_ONE = "name one of them with element, or put each piece in a group of its own"
CONVERT = "convert it to a path, hide it, or move it to another group"
UNLINK = "unlink the clone in the drawing program"
PLAIN = "save it again as plain SVG in the drawing program"
NO_DOCTYPE = "save it again as plain SVG, or take out the line that begins with <!DOCTYPE"
SET_SIZE = 'set the page in mm or inches in the drawing program, or add scale = "1 mm" for one drawing unit'


@pytest.mark.parametrize(
    ("inside", "what", "mend"),
    [
        (
            '<path id="body" d="M10 10h50v40h-47"/>',
            'the outline "body" in @ is open: its ends lie 40.1 mm apart',
            CLOSE,
        ),
        (
            '<path id="body" d="M10 10L50 50V10L10 50z"/>',
            'the outline "body" in @ crosses or touches itself near (20.0, 20.0) mm',
            "measured from the lower left of the outline; draw it as one line that does not cross itself",
        ),
        ('<path id="body" d="M10 10h50h-50z"/>', 'the outline "body" in @ has no area', ONE_PATH),
        (
            '<path id="body" d="M10 10h20v20h-20zM50 10h20v20h-20z"/>',
            'there are several outlines in @: "body" and "body" lie side by side',
            NAME_ONE,
        ),
        (
            SQUARE + '<path id="fold" d="M5 30h70"/>',
            '"fold" in @ lies partly outside the outline "body"',
            "end it at the outline, or move it to another group",
        ),
        ('<text id="body">back</text>', '"body" in @ is text, which is not a path', CONVERT),
        (SQUARE + '<use id="u" href="#body"/>', '"u" in @ is a clone', UNLINK),
        ('<g id="body"><use id="u" href="#body"/></g>', '"u" in @ is a clone', UNLINK),
        (
            SQUARE + '<image id="i" href="file:///etc/hosts"/>',
            '"i" in @ is a picture',
            "trace it to a path, or take it out",
        ),
        (SQUARE + '<foreignObject id="o"/>', '"o" in @ is an object of another kind', "take it out"),
        (SQUARE + '<script id="s">1</script>', '"s" in @ is a script', "take it out"),
        (SQUARE + '<svg id="s"/>', '"s" in @ is a drawing inside the drawing', "ungroup it"),
        (SQUARE * 2, '2 things in @ have the id "body"', "give each an id of its own"),
        (f"<defs>{SQUARE}</defs>", '"body" in @ is not drawn', "name a path or a group of the drawing"),
        (f'<g style="display: none">{SQUARE}</g>', '"body" in @ is hidden', "show it in the drawing program, and save"),
        ('<g id="body"/>', 'there is no line in the group "body" in @', ONE_PATH),
        ('<path id="body"/>', 'there is no line in "body" in @', ONE_PATH),
        (
            '<path id="body" d="M10 NaNh50v40z"/>',
            '"body" in @ cannot be read: a number is missing at character 5',
            ANEW,
        ),
        (
            '<rect id="body" width="NaN" height="5"/>',
            '"body" in @ cannot be read: its width cannot be read: "NaN"',
            ANEW,
        ),
        ('<rect id="body" width="-5" height="5"/>', '"body" in @ cannot be read: its width is below 0', ANEW),
        (
            '<polygon id="body" points="1 2 3"/>',
            '"body" in @ cannot be read: its points have a figure too many or too few',
            ANEW,
        ),
        (
            '<path id="body" transform="scale(NaN)" d="M10 10h50v40z"/>',
            '"body" in @ cannot be read: a number is missing at character 1',
            ANEW,
        ),
        (
            '<g style="transform: rotate(3deg)"><path id="body" d="M10 10h50v40z"/></g>',
            '"body" in @ cannot be read: it is moved by a style; ungroup it, so that the transform is applied',
            ANEW,
        ),
        (
            '<path id="body" d="M0 0' + "h.1v.1" * 1500 + 'V0z"/>',
            'the outline "body" in @ has 3,002 nodes; at most 2,000 are allowed',
            "simplify the path in the drawing program",
        ),
        (
            '<path id="body" d="M0 0' + "h1" * 20001 + 'z"/>',
            '"body" in @ cannot be read: the path has more than 20,000 segments',
            ANEW,
        ),
        (
            SQUARE + ('<path d="M0 0' + "h1" * 15000 + '"/>') * 2,
            "the drawing in @ has more than 20,000 segments",
            "simplify its paths, or put each piece in a group of its own",
        ),
        (
            SQUARE + '<path d="M1 1h1"/>' * 500,
            "the drawing in @ has more than 500 lines",
            "put each piece in a group of its own",
        ),
        (
            '<path id="body" d="M0 0H20000V10z"/>',
            'the outline "body" in @ is too large: 20,000 x 10 mm',
            "check the units of the drawing",
        ),
        (
            '<path id="body" d="M0 0H5e8V10z"/>',
            '"body" in @ is too large or too far away',
            "check the units of the drawing",
        ),
    ],
)
def test_a_wrong_drawing_is_told_with_file_and_id(inside: str, what: str, mend: str) -> None:
    assert refuse_inside(inside) == tell(what, mend)


@pytest.mark.parametrize(
    ("inside", "element_id", "what", "mend"),
    [
        (
            '<path id="body" d="M10 10h50v40h-50"/>',
            None,
            'the outline "body" in @ is open: its ends lie 40 mm apart',
            CLOSE,
        ),
        (
            SQUARE + '<path id="b2" d="M70 10h20v20h-20z"/>',
            None,
            'there are several outlines in @: "body" and "b2" lie side by side',
            NAME_ONE,
        ),
        (SQUARE, "bodi", 'nothing in @ has the id "bodi"', 'did you mean "body"?'),
        (SQUARE, "x", 'nothing in @ has the id "x"', 'it has "body"'),
        ("<path/>", "x", 'nothing in @ has the id "x"', "give the outline an id in the drawing program"),
        ("", None, "there is no line in @", ONE_PATH),
    ],
)
def test_an_outline_that_is_not_named_well_is_told(inside: str, element_id: str | None, what: str, mend: str) -> None:
    assert refuse_inside(inside, element_id) == tell(what, mend)


@pytest.mark.parametrize(
    ("source", "what", "mend"),
    [
        (
            '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://example.org/x.dtd"><svg/>',
            "@ has a document type (DOCTYPE), which is not read",
            NO_DOCTYPE,
        ),
        (
            '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]><svg id="&b;"/>',
            "@ has a document type (DOCTYPE), which is not read",
            NO_DOCTYPE,
        ),
        (
            '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hosts">]><svg>&a;</svg>',
            "@ has a document type (DOCTYPE), which is not read",
            NO_DOCTYPE,
        ),
        (
            '<?xml-stylesheet href="http://example.org/x.css"?><svg/>',
            "@ has an instruction <?xml-stylesheet, which is not followed",
            "take that line out, or save it again as plain SVG",
        ),
        ("<svg>\n<g></svg>", "@ is broken at line 2: mismatched tag", PLAIN),
        ("<svg>&bomb;</svg>", "@ is broken at line 1: undefined entity", PLAIN),
        (b"", "@ is broken at line 1: no element found", PLAIN),
        ("<?xml version='1.0'?><html/>", "@ is not an SVG drawing", PLAIN),
        (b"\x1f\x8b\x08", "@ is packed (SVGZ)", "save it as plain SVG"),
        (
            b'<?xml version="1.0" encoding="shift_jis"?><svg/>',
            "@ is in an encoding that cannot be read",
            "save it as UTF-8",
        ),
        ("<svg>" + "<g>" * 50, "@ has groups nested more than 50 deep", "ungroup what is in it"),
        ("<svg>" + "<g/>" * 20000, "@ has more than 20,000 elements", "keep only the pieces in it"),
        (
            '<svg width="300" height="200px" viewBox="0 0 300 200"/>',
            "@ does not say how large it is in mm or inches",
            SET_SIZE,
        ),
        ('<svg width="300mm" height="200mm"/>', "@ does not say how large it is in mm or inches", SET_SIZE),
        (
            '<svg width="300mm" height="100mm" viewBox="0 0 300 200" preserveAspectRatio="none"/>',
            "@ is stretched: its width and height do not go with its viewBox",
            "take out preserveAspectRatio, or set the page to the size of the drawing",
        ),
        (
            '<svg width="300mm" viewBox="0 0 0 200"/>',
            'the viewBox of @ cannot be read: "0 0 0 200"',
            "save it again as plain SVG",
        ),
        ('<svg width="1e12mm" viewBox="0 0 1 1"/>', "one unit of @ would be 1e+12 mm", "check its page size, or scale"),
    ],
)
def test_a_file_that_is_no_plain_svg_is_told(source: str | bytes, what: str, mend: str) -> None:
    assert refuse(source) == tell(what, mend)


@pytest.mark.parametrize("width", ["-200mm", "1e400mm", "20em", "200,5mm", "0mm", "mm"])
def test_a_side_of_the_page_that_cannot_be_read_is_told(width: str) -> None:
    for other in ('height="100mm"', 'height="100"', ""):
        assert refuse(f'<svg width="{width}" {other} viewBox="0 0 200 100">{SQUARE}</svg>') == (
            f'the width of "a.svg" cannot be read: "{width}"\n'
            "set both sides of the page in mm or inches in the drawing program"
        )


@pytest.mark.parametrize("width", ["200px", "200"])
def test_a_side_in_px_beside_one_in_mm_is_told(width: str) -> None:
    assert refuse(f'<svg width="{width}" height="100mm" viewBox="0 0 200 100">{SQUARE}</svg>') == (
        f'the width of "a.svg" is "{width}", and its other side is in real units\n'
        "set both sides of the page in mm or inches in the drawing program"
    )


def test_a_scale_beside_real_units_is_one_too_many() -> None:
    assert refuse(f"{HEAD}{SQUARE}</svg>", scale_mm=2.0) == (
        '"a.svg" says itself how large it is: one unit is 1 mm\nleave out scale'
    )


def refuse_file(folder: Path, file: str) -> str:
    with pytest.raises(DrawingError) as caught:
        read_drawing(folder, file)
    return f"{caught.value.what}\n{caught.value.mend}"


COPY = "copy the drawing beside the spec and write its name alone"


@pytest.mark.parametrize(
    ("file", "message"),
    [
        ("../a.svg", f'"../a.svg" lies outside the spec\'s folder\n{COPY}'),
        ("in/../../a.svg", f'"in/../../a.svg" lies outside the spec\'s folder\n{COPY}'),
        ("/etc/a.svg", f'"/etc/a.svg" lies outside the spec\'s folder\n{COPY}'),
        ("C:\\a.svg", f'"C:\\a.svg" lies outside the spec\'s folder\n{COPY}'),
        ("..\\a.svg", f'"..\\a.svg" lies outside the spec\'s folder\n{COPY}'),
        ("in\\a.svg", '"in\\a.svg" is no name of a file\nwrite folder/name.svg, with plain strokes'),
        ("a.ai", '"a.ai" is not an SVG file\nsave the drawing as plain SVG'),
        ("b.svg", 'there is no drawing "b.svg" beside the spec\ncheck its name; it lies in the spec\'s folder'),
        ("folder.svg", '"folder.svg" is not an ordinary file\nname an SVG file'),
        ("pipe.svg", '"pipe.svg" is not an ordinary file\nname an SVG file'),
        ("link.svg", '"link.svg" leads out of the spec\'s folder\ncopy the drawing itself beside the spec'),
        (
            "loop.svg",
            '"loop.svg" cannot be read: too many levels of symbolic links\ncheck the file, and who may read it',
        ),
        ("large.svg", '"large.svg" is larger than 5 MiB\nkeep only the pieces in it, and no pictures'),
    ],
)
def test_only_an_ordinary_file_in_the_folder_of_the_spec_is_opened(tmp_path: Path, file: str, message: str) -> None:
    home = tmp_path / "home"
    (home / "folder.svg").mkdir(parents=True)
    (tmp_path / "a.svg").write_text(f"{HEAD}{SQUARE}</svg>")
    (home / "link.svg").symlink_to(tmp_path / "a.svg")
    (home / "loop.svg").symlink_to("loop.svg")
    os.mkfifo(home / "pipe.svg")
    (home / "large.svg").write_bytes(b" " * (5 * 1024 * 1024 + 1))
    assert refuse_file(home, file) == message


def test_a_drawing_in_a_folder_below_and_a_link_inside_are_opened(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "a.svg").write_text(f"{HEAD}{SQUARE}</svg>")
    (tmp_path / "b.SVG").symlink_to("in/a.svg")
    assert read_drawing(tmp_path, "in/a.svg", "body") == read_drawing(tmp_path, "b.SVG", "body")


@pytest.mark.parametrize(
    ("inside", "what"),
    [
        (SQUARE + '<path d="M20 20' + "c9 9 9 -9 0 0" * 19000 + '"/>', "has too many nodes"),
        ('<path id="body" d="M0 0' + "c99 99 -99 99 1 1" * 1900 + 'z"/>', "is too large"),
        (f'<rect id="body" height="1" width="{"1" * 400000}x"/>', "its width cannot be read"),
    ],
    ids=["marks", "scribble", "digits"],
)
def test_a_file_made_to_be_slow_is_refused(inside: str, what: str) -> None:
    with pytest.raises(DrawingError, match=what):
        draw(inside, "body")


@pytest.mark.parametrize(
    "inside",
    [
        '<g id="body" transform="' + "rotate(1)" * 360 * 140 + '"><path d="M0 0h50v40h-50z"/></g>',
        f"<style>{'{' * 400000}</style>{SQUARE}",
        '<g style="' + "a:b;" * 100000 + f'">{"<path/>" * 15000}{SQUARE}</g>',
    ],
    ids=["transforms", "styles", "rules"],
)
def test_a_file_made_to_be_slow_is_read(inside: str) -> None:
    box = path_box(draw(inside, "body").outline)
    assert (box.width, box.height) == pytest.approx((50, 40), abs=1e-6)


# ---- in a spec -------------------------------------------------------------


def test_a_spec_carries_its_drawings_and_their_bytes(read_small: Callable[[str], Spec], tmp_path: Path) -> None:
    source = f"{HEAD}{SQUARE}</svg>".encode()
    (tmp_path / "b.svg").write_bytes(source)
    text = '[pieces.a]\nof = "body"\nshape = "drawing"\nfile = "b.svg"\nelement = "body"\n'
    spec = read_small(text + text.replace("pieces.a", "pieces.c"))
    assert spec.problems == ()
    assert spec.files == (("b.svg", source),)
    assert [name for name, _ in spec.drawings] == ["a", "c"]
    assert path_area(draw_sketch(spec.drawings[0][1], None).outline) == pytest.approx(2000)


def test_the_digest_changes_with_the_drawing(read_small: Callable[[str], Spec], tmp_path: Path) -> None:
    text = '[pieces.a]\nof = "body"\nshape = "drawing"\nfile = "b.svg"\n'
    digests = set()
    for size in ("10", "20", "10"):
        (tmp_path / "b.svg").write_text(f'{HEAD}<rect width="{size}" height="9"/></svg>')
        digests.add(read_small(text).digest)
    assert len(digests) == 2


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (
            'file = "c.svg"',
            'a.toml:11: error: there is no drawing "c.svg" beside the spec\n    written: "c.svg"\n'
            "    mend:    check its name; it lies in the spec's folder",
        ),
        (
            'file = "b.svg"\nelement = "edge"',
            'a.toml:12: error: nothing in "b.svg" has the id "edge"\n    written: "edge"\n    mend:    it has "body"',
        ),
    ],
)
def test_a_wrong_drawing_is_told_at_the_line_that_names_it(
    read_small: Callable[[str], Spec], tmp_path: Path, lines: str, message: str
) -> None:
    (tmp_path / "b.svg").write_text(f"{HEAD}{SQUARE}</svg>")
    spec = read_small(f'[pieces.a]\nof = "body"\nshape = "drawing"\n{lines}\n')
    assert [render_problem(problem) for problem in spec.problems] == [message]
    assert spec.pieces[0].wrong == ("file",)
    assert spec.drawings == ()


def test_all_drawings_together_have_a_most(read_small: Callable[[str], Spec], tmp_path: Path) -> None:
    filler = f"<!--{'x' * (4_900 * 1024)}-->"
    text = ""
    for name in "pqrstu":
        (tmp_path / f"{name}.svg").write_text(f"{HEAD}{SQUARE}{filler}</svg>")
        text += f'[pieces.{name}]\nof = "body"\nshape = "drawing"\nfile = "{name}.svg"\n'
    assert [problem.what for problem in read_small(text).problems] == [
        "the drawings and pictures of this spec are larger than 20 MiB"
    ] * 2


SCRAPS = st.sampled_from(
    ["-", "e", "9999", "NaN", "1e9", "0", " ", "z", "A", "M", '"', "<", "rotate(", ")", "scale(1e-4)", ".", "<g>", "%"]
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 900), SCRAPS), min_size=1, max_size=4))
def test_a_damaged_drawing_is_read_or_refused_and_never_crashes(scraps: list[tuple[int, str]]) -> None:
    text = (DRAWINGS / "front.svg").read_text(encoding="utf-8")
    for at, scrap in scraps:
        text = text[:at] + scrap + text[at + 1 :]
    try:
        drawing = parse_drawing(text.encode(), "a.svg", "front-edge", None)
    except DrawingError as error:
        told = error
    else:
        assert drawing.outline.closed
        assert path_area(drawing.outline) > 0
        return
    assert told.what
    assert told.mend
