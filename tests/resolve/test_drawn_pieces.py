"""Pieces from drawings: edges between named points or sharp corners, holes and marks, like, mirror and inset."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest
from shapely.geometry import LinearRing
from shapely.geometry import Point as GeometryPoint
from spec_text import write_out

from docgen.checks import resolve_build, resolve_variants
from docgen.cli import main
from docgen.geometry.outline import edge_names, edge_path, outline_box
from docgen.geometry.path import path_area, path_length, point_at, polyline, start_point
from docgen.geometry.shapes import Arc, Line, Point
from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec
from docgen.resolve import Build, Piece
from docgen.resolve.pieces.drawings import _nearest

SPECS = Path(__file__).parents[2] / "specs"
HEAD = write_out("""\
<spec roll: Roll, version 1>
<leather body: 4 oz>
""")
# A board 60 x 40 mm with the upper right corner rounded by 10 mm; drawn clockwise from the middle of its foot.
DRAWING = """\
<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">
  <path id="board" d="M50 60H20V20H70A10 10 0 0 1 80 30V60z"/>
  <circle id="eye" cx="30" cy="30" r="2"/>
  <path id="crease" d="M40 20V60"/>
</svg>
"""
PIECE = '[pieces.a]\nof = "body"\nshape = "drawing"\nfile = "a.svg"\nelement = "board"\n'
Make = Callable[[str], Build]


@pytest.fixture
def make(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Make:
    monkeypatch.chdir(tmp_path)
    Path("a.svg").write_text(DRAWING)

    def make_build(text: str) -> Build:
        Path("a.toml").write_text(HEAD + text)
        return resolve_build(read_spec("a.toml"))

    return make_build


def told(make: Make, text: str) -> list[str]:
    with pytest.raises(SpecRejected) as caught:
        make(text)
    return [render_problem(problem) for problem in caught.value.problems]


def first(make: Make, text: str) -> Piece:
    return make(text).pieces[0]


def test_a_point_that_is_wrong_is_told_without_what_follows_from_it(make: Make) -> None:
    wrong = 'corners = [{ at = ["0", "0"], edge = "foot" }, { at = ["28 mm", "10 mm"], edge = "side" }]\n'
    (only,) = told(make, PIECE + wrong + 'notches = [{ on = "side" }]\n')
    assert "corners" in only.partition("\n")[0] or "28 mm" in only


def test_without_corners_edges_run_between_the_sharp_ones(make: Make) -> None:
    outline = first(make, PIECE).outline
    assert edge_names(outline) == ("edge-1", "edge-2", "edge-3")
    # the foot is drawn in two halves and comes out as one straight line
    assert edge_path(outline, "edge-1").segments == (Line((0, 0), (60, 0)),)
    rounded = edge_path(outline, "edge-2").segments
    assert [type(segment) for segment in rounded] == [Line, Arc, Line]
    assert path_length(edge_path(outline, "edge-2")) == pytest.approx(30 + 5 * math.pi + 50)
    assert sum(path_area(edge.path) for edge in outline.edges) > 0


def test_named_corners_cut_the_outline_where_they_lie(make: Make) -> None:
    corners = """corners = [
  { at = ["60 mm", "30 mm"], name = "b", edge = "round" },
  { at = ["50.3 mm", "40.2 mm"], name = "c" },
  { at = ["15 mm", "-0.2 mm"], name = "a", edge = "foot" },
]
"""
    outline = first(make, PIECE + corners).outline
    assert edge_names(outline) == ("round", "edge-2", "foot")
    assert [start_point(edge.path) for edge in outline.edges] == [
        pytest.approx((60, 30)),
        pytest.approx((50, 40)),
        pytest.approx((15, 0), abs=1e-5),
    ]
    assert path_length(edge_path(outline, "round")) == pytest.approx(5 * math.pi)
    assert path_length(edge_path(outline, "foot")) == pytest.approx(45 + 30, abs=1e-5)


def test_one_corner_gives_one_edge_all_round(make: Make) -> None:
    outline = first(make, PIECE + 'corners = [{ at = ["0", "20 mm"], edge = "rim" }]\n').outline
    (edge,) = outline.edges
    assert (edge.name, edge.path.closed) == ("rim", True)
    assert start_point(edge.path) == pytest.approx((0, 20), abs=1e-5)
    assert path_area(edge.path) == pytest.approx(2400 - 100 + 25 * math.pi)


def test_an_outline_without_sharp_corners_is_one_edge(make: Make) -> None:
    Path("a.svg").write_text('<svg width="90mm" viewBox="0 0 90 90"><ellipse id="board" rx="20" ry="10"/></svg>')
    (edge,) = first(make, PIECE).outline.edges
    assert (edge.name, edge.path.closed) == ("edge-1", True)
    assert path_area(edge.path) == pytest.approx(200 * math.pi, rel=1e-5)


def test_circles_become_holes_and_lines_are_drawn(make: Make) -> None:
    piece = first(make, PIECE)
    assert [(hole.at, hole.diameter_mm) for hole in piece.marks.holes] == [(pytest.approx((10, 30)), pytest.approx(4))]
    assert [(line.name, line.path.segments) for line in piece.marks.drawn] == [("crease", (Line((20, 40), (20, 0)),))]
    assert piece.shape == "drawing"


def test_a_mirrored_like_takes_outline_holes_and_lines_along(make: Make) -> None:
    piece = make(PIECE + '[pieces.b]\nlike = "a"\nmirror = true\n').pieces[1]
    assert piece.marks.holes[0].at == pytest.approx((50, 30))
    assert start_point(piece.marks.drawn[0].path) == pytest.approx((40, 40))
    assert edge_names(piece.outline) == ("edge-1", "edge-3", "edge-2")


def test_an_inset_like_leaves_marks_behind_unless_they_are_asked_for(make: Make) -> None:
    text = '[pieces.b]\nlike = "a"\ninset = "2 mm"\n[pieces.c]\nlike = "b"\nmarks = true\n'
    text += '[pieces.d]\nlike = "a"\ninset = "2 mm"\nmarks = true\n'
    _, b, c, d = make(PIECE + text).pieces
    assert (b.marks.holes, b.marks.drawn, c.marks.drawn) == ((), (), ())
    assert outline_box(b.outline).width == pytest.approx(56)
    # the crease reaches the old edge, so that it no longer lies inside
    assert (len(d.marks.holes), d.marks.drawn) == (1, ())


def test_a_drawing_grown_by_its_own_inset_keeps_its_marks(make: Make) -> None:
    piece = first(make, PIECE + 'inset = "-2 mm"\n')
    assert outline_box(piece.outline).width == pytest.approx(64)
    assert (len(piece.marks.holes), len(piece.marks.drawn)) == (1, 1)


def test_seams_and_notches_use_the_edges_of_a_drawing(make: Make) -> None:
    text = PIECE + 'notches = [{ on = "edge-1", at = "20 mm from edge-3" }]\n'
    piece = first(make, text)
    assert piece.marks.notches[0].at == pytest.approx((20, 0))
    assert piece.marks.notches[0].inward == pytest.approx((0, 1))


def test_the_build_carries_the_drawing(make: Make) -> None:
    assert make(PIECE).files == (("a.svg", DRAWING.encode()),)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            PIECE + 'corners = [{ at = ["0", "0"] }, { at = ["57 mm", "0.6 mm"], name = "heel" }]\n',
            'a.toml:13: error: the corner "heel" lies 1/32 in (0.6 mm) from the drawn outline\n    written: "57 mm"\n'
            '    mend:    did you mean at = ["60 mm", "0 mm"]? that is the nearest corner',
        ),
        (
            PIECE + 'corners = [{ at = ["28 mm", "10 mm"] }]\n',
            'a.toml:13: error: corner no. 1 lies 13/32 in (10 mm) from the drawn outline\n    written: "28 mm"\n'
            '    mend:    did you mean at = ["0 mm", "0 mm"]? that is the nearest corner',
        ),
        (
            PIECE + 'corners = [{ at = ["0", "0"] }, { at = ["0.1 mm", "0.1 mm"] }]\n',
            "a.toml:13: error: two corners lie on the same point of the outline\n"
            '    written: { at = ["0.1 mm", "0.1 mm"] }\n    mend:    take one of them out',
        ),
        (
            PIECE + 'corners = [{ at = ["0", "0"], edge = "foot" }, { at = ["60 mm", "0"], edge = "foot" }]\n',
            'a.toml:13: error: two edges are called "foot"\n    written: "foot"\n'
            "    mend:    give one of them another name",
        ),
        (
            PIECE + 'corners = [{ at = ["0", "0"], edge = "all" }]\n',
            'a.toml:13: error: the name "all" means the whole outline\n    written: "all"\n'
            "    mend:    give the edge another name",
        ),
        (
            '[pieces.a]\nof = "body"\nshape = "drawing"\n',
            'a.toml:8: error: the piece "a" has no file\n    written: [pieces.a]\n'
            '    mend:    add file = "NAME.svg", a drawing beside the spec',
        ),
        (
            '[pieces.a]\nof = "body"\nshape = "rectangle"\nsize = ["1 in", "1 in"]\nfile = "a.svg"\n',
            'a.toml:12: error: "file" has no meaning for the shape "rectangle" of "a"\n    written: "a.svg"\n'
            '    mend:    leave it out, or write shape = "drawing"',
        ),
        (
            PIECE.replace("a.svg", "b.svg"),
            'a.toml:11: error: there is no drawing "b.svg" beside the spec\n    written: "b.svg"\n'
            "    mend:    check its name; it lies in the spec's folder",
        ),
    ],
)
def test_what_is_wrong_with_a_drawn_piece_is_told_once(make: Make, text: str, message: str) -> None:
    errors = [words for words in told(make, text) if ": error: " in words]
    assert errors == [message]


# ---- drawings in no real units ---------------------------------------------

UNSCALED = '<svg><path id="board" d="M0 0H60V40H0z"/></svg>'
SCALED = '[measures]\nunit = "1 mm"\n' + PIECE + 'scale = "{scale}"\n'


def width(piece: Piece) -> float:
    return outline_box(piece.outline).width


@pytest.mark.parametrize(("scale", "wide"), [("1/96 in", 60 * 25.4 / 96), ("unit * 2", 120.0), ("0.5 mm", 30.0)])
def test_a_drawing_without_units_takes_its_size_from_scale(make: Make, scale: str, wide: float) -> None:
    Path("a.svg").write_text(UNSCALED)
    assert width(first(make, SCALED.format(scale=scale))) == pytest.approx(wide)


def test_a_scale_that_is_a_measure_follows_the_variant(make: Make) -> None:
    """60 units are 60 mm in the spec's own measures, and 75 mm where a variant makes the unit 1 1/4 mm."""
    Path("a.svg").write_text(UNSCALED)
    make(SCALED.format(scale="unit") + '[variants.large.measures]\nunit = "1.25 mm"\n')
    own, large = (resolve_build(read_spec("a.toml"), name) for name in ("", "large"))
    assert (width(own.pieces[0]), width(large.pieces[0])) == (pytest.approx(60), pytest.approx(75))


def test_a_scale_that_a_variant_spoils_is_told_of_the_variant(make: Make) -> None:
    Path("a.svg").write_text(UNSCALED)
    make(SCALED.format(scale="unit") + '[variants.vast.measures]\nunit = "9 m"\n')
    with pytest.raises(SpecRejected) as caught:
        resolve_variants(read_spec("a.toml"))
    (problem,) = caught.value.problems
    assert problem.what.startswith('in the variant "vast": the outline "board" in "a.svg" is too large')


def test_a_scale_that_a_seam_solves_sizes_the_drawing(make: Make) -> None:
    """The left side of the board, 40 units, has to be as long as a strip of 100 mm: 1 unit is 2.5 mm."""
    Path("a.svg").write_text(UNSCALED)
    text = SCALED.format(scale="unit").replace('"1 mm"', '"solve"')
    text += write_out("""\
<strip strip: ["20 mm", "100 mm"]>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
<seam s: ["a: edge-4", "strip: left"]>
""")
    build = make(text)
    assert build.solved_measures == (("unit", pytest.approx(2.5)),)
    assert width(build.pieces[0]) == pytest.approx(150)


@pytest.mark.parametrize(
    ("scale", "what"),
    [
        ("1 furlongish", '"furlongish" is not a unit known here'),
        ("3 kg", "kg"),
        ("unit * kg", 'unknown measure "kg"'),
        ("0 mm", "this comes to 0 mm"),
        ("-1 mm", "this comes to -1/32 in (-1 mm)"),
        ("none", 'unknown measure "none"'),
        ("1e9 mm", ""),
        ("unit * unit", "this comes to an area, not a length"),
    ],
)
def test_a_scale_that_cannot_be_meant_is_one_problem_at_its_line(make: Make, scale: str, what: str) -> None:
    Path("a.svg").write_text(UNSCALED)
    errors = [words for words in told(make, SCALED.format(scale=scale)) if ": error: " in words]
    assert len(errors) == 1
    assert errors[0].startswith("a.toml:15: error: ")
    assert what in errors[0]


def test_a_scale_beside_real_units_is_one_too_many(make: Make) -> None:
    (error,) = told(make, SCALED.format(scale="unit"))
    assert 'error: "a.svg" says itself how large it is: one unit is 1 mm' in error


def test_the_cable_roll_comes_out_as_drawn() -> None:
    build = resolve_build(read_spec(SPECS / "cable-roll.toml"))
    body = build.pieces[0]
    assert build.cautions == ()
    assert edge_names(body.outline) == ("foot", "right", "flap", "right-above", "top", "side")
    assert [hole.diameter_mm for hole in body.marks.holes] == [pytest.approx(5), pytest.approx(5)]
    assert [line.name for line in body.marks.drawn] == ["flap-fold"]
    assert build.seams[0].length_mm == pytest.approx(2 * (80 - 4) + 256 - 2 * 4)  # up to the mouth at both sides


# ---- hardware in drawn holes, edges by name --------------------------------

RIVET = '[hardware.rivet]\nwhat = "rivet"\ncount = 1\nposts = ["6 mm", "8 mm"]\nhole = "4 mm"\n'


@pytest.mark.parametrize("which", ['element = "eye"', 'punch = "4 mm"', ""])
def test_a_drawn_hole_takes_its_hardware_by_id_by_size_or_alone(make: Make, which: str) -> None:
    """The circle has a radius of 2 mm; a rivet through it and the same leather once more, 4 oz or 1.6 mm each."""
    takes = 'takes = "rivet", through = ["tab"]'
    piece = f"{PIECE}drawn-holes = [{{ {', '.join(filter(None, (which, takes)))} }}]\n"
    build = make(piece + write_out('<rectangle tab: ["20 mm", "20 mm"]>\n') + RIVET)
    (hole,) = build.pieces[0].marks.holes
    assert (hole.takes, hole.through, hole.diameter_mm) == ("rivet", ("tab",), pytest.approx(4))
    (fitting,) = build.assembly.fastened
    assert (fitting.part, fitting.count) == ("a", 1)
    assert fitting.stack.thickest_mm == pytest.approx(2 * build.materials[0].thickness_mm)
    assert [caution.check for caution in build.cautions] == ["hole-not-in-partner"]  # the tab has none yet


@pytest.mark.parametrize(
    ("holes", "message"),
    [
        (
            '{ element = "ear", takes = "rivet" }',
            "a.toml:13: error: no circle in the drawing is meant by this\n"
            '    written: { element = "ear", takes = "rivet" }\n'
            '    mend:    drawn are "eye" of 5/32 in (4 mm)',
        ),
        (
            '{ punch = "5 mm", takes = "rivet" }',
            "a.toml:13: error: no circle in the drawing is meant by this\n"
            '    written: { punch = "5 mm", takes = "rivet" }\n'
            '    mend:    drawn are "eye" of 5/32 in (4 mm)',
        ),
        (
            '{ takes = "rivet" }, { element = "eye", takes = "rivet" }',
            "a.toml:13: error: a drawn hole of 5/32 in (4 mm) has its rivet already\n"
            '    written: { element = "eye", takes = "rivet" }\n    mend:    name the circle by its id, with element',
        ),
    ],
)
def test_a_drawn_hole_that_is_not_meant_is_told(make: Make, holes: str, message: str) -> None:
    assert told(make, f"{PIECE}drawn-holes = [{holes}]\n{RIVET}") == [message]


def test_drawn_holes_belong_to_a_drawing(make: Make) -> None:
    text = (
        f'{write_out("<rectangle a: [`1 in`, `1 in`]>").replace("`", chr(34))}\ndrawn-holes = [{{ takes = "rivet" }}]\n'
    )
    (message,) = told(make, text + RIVET)
    assert '"drawn-holes" has no meaning for the shape "rectangle" of "a"' in message


def test_check_names_the_edges_of_a_drawing_with_where_they_lie(make: Make, capsys: pytest.CaptureFixture[str]) -> None:
    """60 x 40 mm, the upper right corner rounded by 10 mm: the last edge goes over it, 30 + 10 pi / 2 + 50 = 95.7 mm."""
    make(PIECE)
    assert main(["check", "a.toml"]) == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0] == 'edge of "a": edge-1, bottom, 2 3/8 in (60 mm), from 0 mm across, 0 mm up to 60 mm across, 0 mm up'
    assert 'edge of "a": edge-2, upper right, 3 25/32 in (95.7 mm), from 60 mm across, 0 mm up' in out[1]
    assert all("ask: " in line or line.startswith("    answer:") for line in out[3:-1])
    assert out[-1] == "no problems; 1 question asked above"
    make(PIECE + 'corners = [{ at = ["0", "0"], edge = "foot" }, { at = ["60 mm", "0"], edge = "rest" }]\n')
    assert main(["check", "a.toml"]) == 0
    assert "edge of" not in capsys.readouterr().out


def test_an_edge_that_is_not_there_is_answered_with_where_the_others_lie(make: Make) -> None:
    (message,) = told(make, PIECE + 'notches = [{ on = "mouth" }]\n')
    assert message.endswith("mend:    edges here: edge-1 (bottom), edge-2 (upper right), edge-3 (left)")


@pytest.mark.parametrize(
    "at", [(x, y) for x in (-9.5, 11.3, 44.1, 151.7, 309.2) for y in (-8.1, 5.9, 31.4, 121.3, 187.2)]
)
def test_the_nearest_place_of_an_outline_is_that_of_shapely(at) -> None:
    corners = [(0, 0), (300, 0), (300, 12), (40, 20), (60, 180), (30, 180), (0, 60)]
    ring = polyline([Point(*corner) for corner in corners], closed=True)
    along_mm, off_mm = _nearest(ring, Point(*at))
    assert off_mm == pytest.approx(LinearRing(corners).distance(GeometryPoint(at)), abs=1e-4)
    assert math.dist(point_at(ring, along_mm)[0], at) == pytest.approx(off_mm, abs=1e-6)
