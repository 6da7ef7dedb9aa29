"""Part of an edge in a seam: lengths by hand, the stitch line against shapely, layers where two parts meet or not."""

import math

import pytest
from shapely.geometry import LineString
from spec_text import Resolve

from docgen.geometry.nearest import inset_stretch, nearest_along, stretch_by_edge
from docgen.geometry.outline import circle_outline, outline_path, rectangle_outline
from docgen.geometry.path import flatten, part_of, path_length, point_at
from docgen.geometry.run import run_path
from docgen.geometry.shapes import Arc, Curve, Line, Path, Point
from docgen.geometry.vector import distance
from docgen.resolve import Build, Seam, StitchLine
from docgen.versions.compared.differences import list_changes

BAG = "<back>\n<front>\n"


def seam_of(build: Build, name: str = "s") -> Seam:
    return next(seam for seam in build.seams if seam.name == name)


def line_of(build: Build, piece: str, seam: str = "s") -> StitchLine:
    found = next(item for item in build.pieces if item.name == piece)
    return next(line for line in found.marks.stitch_lines if line.seam == seam)


@pytest.mark.parametrize(
    ("part", "length_mm", "x", "ys"),
    [
        ("left from top 2 in to bottom", 150 - 50.8, 4, (0, 99.2)),
        ("left from 2 in from top to bottom", 150 - 50.8, 4, (0, 99.2)),
        ("left from bottom to 2 in from top", 150 - 50.8, 4, (0, 99.2)),
        ("left from middle to bottom 20 mm", 55, 4, (20, 75)),
        ("right from bottom 10 mm to top 10 mm", 130, 196, (10, 140)),
        ("left from notch high to notch low", 60, 4, (40, 100)),
        ("left from top to the notch low", 110, 4, (40, 150)),
    ],
)
def test_a_part_of_a_straight_edge_is_as_long_as_it_is_measured(
    resolve_text: Resolve, part: str, length_mm: float, x: float, ys: tuple[float, float]
) -> None:
    """On a rectangle of 200 x 150 mm; the line lies 4 mm in."""
    notches = (
        'notches = [{ on = "left", name = "low", at = "40 mm from bottom" }, '
        '{ on = "left", name = "high", at = "50 mm from top" }]\n'
    )
    build = resolve_text(f'<back>\n{notches}<front>\n<seam s: ["back: {part}", "front: {part}"]>\n')
    assert seam_of(build).length_mm == pytest.approx(length_mm)
    ends = [point_at(line_of(build, "front").path, mm)[0] for mm in (0, math.inf)]
    assert [end.x for end in ends] == pytest.approx([x, x])
    assert sorted(end.y for end in ends) == pytest.approx(sorted(ys))


def test_a_part_of_a_run_takes_the_corners_between(resolve_text: Resolve) -> None:
    """110 mm down, a corner of 20 mm (16 mm on the stitch line), 160 mm across, the other corner, 100 mm up."""
    rounds = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'
    part = "left bottom right from top 20 mm to top 30 mm"
    build = resolve_text(f'<back>\n{rounds}<front>\n<seam s: ["back: {part}", "front: {part}"]>\n')
    assert seam_of(build).length_mm == pytest.approx(110 + 16 * math.pi + 160 + 100)


LIP = (
    'shape = "outline"\npoints = [\n'
    '  {{ at = ["0 mm", "0 mm"], edge = "foot" }}, {{ at = ["200 mm", "0 mm"], edge = "right" }},\n'
    '  {{ at = ["200 mm", "150 mm"], edge = "lip", round = "{0} mm" }},\n'
    '  {{ at = ["0 mm", "150 mm"], edge = "left", round = "{0} mm" }},\n]\n'
)


@pytest.mark.parametrize("radius_mm", [99.9, 100.0])
@pytest.mark.parametrize(
    ("shape", "beside", "foot"),
    [('round = {{ top-left = "{0} mm", top-right = "{0} mm" }}\n', "top", "bottom"), (LIP, "lip", "foot")],
)
def test_a_part_is_measured_from_an_edge_also_where_its_corners_leave_that_no_length(
    resolve_text: Resolve, radius_mm: float, shape: str, beside: str, foot: str
) -> None:
    """On 200 x 150 mm, both upper corners rounded by half the width: 30 mm are left 120 mm below the edge between them."""
    part = f"left from {beside} 120 mm to {foot}"
    notch = f'notches = [{{ on = "right", at = "110 mm from {beside}" }}]\n'
    table = '[pieces.back]\nof = "body"' if shape == LIP else "<back>"
    back = f"{table}\n{shape.format(radius_mm)}{notch}"
    build = resolve_text(f'{back}[pieces.front]\nlike = "back"\n<seam s: ["back: {part}", "front: {part}"]>\n')
    assert seam_of(build).length_mm == pytest.approx(30)
    ends = [point_at(line_of(build, "front").path, mm)[0].y for mm in (0, math.inf)]
    assert sorted(ends) == pytest.approx([0, 30])
    assert [notch.at for notch in build.pieces[0].marks.notches] == [pytest.approx((200, 40))]


def test_an_open_length_is_solved_by_part_of_an_edge(resolve_text: Resolve) -> None:
    """A strip whose right edge, but for 30 mm, meets 150 mm of the back."""
    strip = '<strip wall: ["40 mm", "solve"]>\n<seam s: ["back: left", "wall: left from start 30 mm to end"]>\n'
    build = resolve_text(f"<back>\n{strip}")
    wall = next(piece for piece in build.pieces if piece.name == "wall")
    assert max(at.y for at in flatten(outline_path(wall.outline))) == pytest.approx(180)


def test_parts_that_do_not_meet_do_not_lie_on_each_other(resolve_text: Resolve) -> None:
    """Tab and flap are sewn to two parts of one edge, all 2 mm thick; where the second takes 20 mm of the first's part, it
    is thicker there, and as thick as elsewhere at its thinnest."""
    text = BAG + (
        '<rectangle tab: ["20 mm", "50 mm"]>\n<rectangle flap: ["20 mm", "60 mm"]>\n'
        '<seam one: ["back: left from top to top 50 mm", "tab: left"]>\n'
        '<seam s: ["back: left from top 50 mm to top 110 mm", "flap: left"]>\n'
    )
    assert seam_of(resolve_text(text)).thickest_mm == pytest.approx(4)
    build = resolve_text(text, ("top 50 mm to top 110 mm", "top 30 mm to top 90 mm"))
    assert (seam_of(build).thinnest_mm, seam_of(build).thickest_mm) == pytest.approx((4, 6))


def test_two_parts_of_one_edge_are_each_sewn_on_every_copy(resolve_text: Resolve) -> None:
    """A back that is cut twice has each of its two parts sewn twice; a whole edge in two seams would share them out."""
    tabs = '<rectangle tab: ["20 mm", "50 mm"]>\ncut = 2\n<rectangle flap: ["20 mm", "60 mm"]>\ncut = 2\n'
    text = (
        f"<back>\ncut = 2\n{tabs}"
        '<seam one: ["back: left from top to top 50 mm", "tab: left"]>\n'
        '<seam two: ["back: left from top 50 mm to top 110 mm", "flap: left"]>\n'
    )
    build = resolve_text(text)
    assert [build.assembly.times(name) for name in ("one", "two")] == [2, 2]


def test_a_comparison_and_a_list_tell_the_part(resolve_text: Resolve) -> None:
    text = BAG + '<seam s: ["back: left from top 20 mm to bottom", "front: left from top 20 mm to bottom"]>\n'
    before = resolve_text(text)
    after = resolve_text(text.replace("top 20 mm", "top 30 mm"))
    (change,) = [item for item in list_changes(before, after) if item.part == "seam"]
    meets = next(fact for fact in change.facts if fact.name == "meets")
    assert meets.after == "back: left from top 30 mm to bottom, front: left from top 30 mm to bottom"


def test_goods_by_length_run_along_the_part(resolve_text: Resolve) -> None:
    """100 mm of edge, and 15 mm at each end."""
    tape = '[trimmings.t]\nwhat = "tape"\nkind = "binding"\nthickness = "0.4 mm"\n'
    part = "left from top 20 mm to bottom 30 mm"
    seam = f'<seam s: ["t", "back: {part}", "front: {part}"]>\n'
    assert resolve_text(BAG + tape + seam).trimmings[0].cuts[0].length_mm == pytest.approx(130)
    along = resolve_text(BAG + tape + f'along = ["back: {part}"]\n').trimmings[0].cuts[0]
    assert (along.length_mm, along.where) == (pytest.approx(130), f"back: {part}")


def test_the_nearest_point_of_a_path_is_that_of_shapely() -> None:
    """Lines, an arc and a curve, held against shapely's distance to a fine polyline."""
    arc = Arc(Point(50, 20), 20, -math.pi / 2, math.pi / 2)
    path = Path(
        (Line(Point(0, 0), Point(50, 0)), arc, Curve(Point(70, 20), Point(70, 60), Point(40, 60), Point(40, 90)))
    )
    drawn = LineString(flatten(path, 0.0005))
    for k in range(40):
        at = Point(-10 + 2.3 * k, 80 - 2.7 * k)
        found = point_at(path, nearest_along(path, at))[0]
        assert distance(found, at) == pytest.approx(drawn.distance(shapely_point(at)), abs=0.005)


def shapely_point(at: Point):
    from shapely.geometry import Point as ShapelyPoint

    return ShapelyPoint(at.x, at.y)


@pytest.mark.parametrize("names", [("left", "bottom", "right"), ("right", "bottom", "left"), ("bottom",)])
def test_a_part_lies_square_beside_its_ends(names: tuple[str, ...]) -> None:
    """Both ends of the line are as far from the ends of the part as the inset, and no point of the edge is nearer."""
    outline = rectangle_outline(200, 150, {"bottom-left": 20, "bottom-right": 30})
    run = run_path(outline, names)
    stretch = 0.2 * path_length(run), 0.7 * path_length(run)
    line = inset_stretch(outline, names, 4.0, stretch)
    edge = LineString(flatten(part_of(run, *stretch), 0.0005))
    assert LineString(flatten(line, 0.0005)).hausdorff_distance(edge) == pytest.approx(4.0, abs=0.01)
    parts = stretch_by_edge(outline, names, stretch)
    arcs = [end - begin for begin, end in parts.values()]
    assert sum(arcs) <= stretch[1] - stretch[0] + 1e-9


def test_a_circle_has_no_part_to_name(messages) -> None:
    told = messages(
        '<circle>\ndiameter = "80 mm"\n[pieces.b]\nlike = "a"\n<seam s: ["a: edge from top to bottom", "b: edge"]>\n'
    )
    assert "a part of an edge needs the edge by its name" in told
    assert path_length(run_path(circle_outline(80), ("edge",))) == pytest.approx(80 * math.pi)


def test_the_stitch_line_is_drawn_on_the_part_alone(resolve_text: Resolve) -> None:
    part = "left from top 60 mm to bottom 60 mm"
    build = resolve_text(BAG + f'<seam s: ["back: {part}", "front: {part}"]>\n')
    assert path_length(line_of(build, "back").path) == pytest.approx(30)


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("left from top 2 in to bottom", "left from top 2 in to bottom"),
        ("left from top low to bottom 2 * low", "left from top 15 mm to bottom 30 mm"),
        ("left from low + 1 mm from top to bottom", "left from 16 mm from top to bottom"),
        ("left from middle to bottom main.inset", "left from middle to bottom 4 mm"),
    ],
)
def test_pages_tell_lengths_where_a_part_of_an_edge_is_said_by_measures(
    resolve_text: Resolve, written: str, told: str
) -> None:
    seam = seam_of(
        resolve_text(
            f'[measures]\nlow = "15 mm"\n{BAG}[seams.s]\nstitch = "main"\nmeet = ["back: {written}", "front"]\n'
        )
    )
    assert seam.sides[0].edge_words == told


JOINED = """\
<strip one: ["30 mm", "100 mm"]>
<strip two: ["30 mm", "100 mm"]>
<strip three: ["30 mm", "100 mm"]>
<join wall: ["one", "two", "three"], 10 mm>
<rectangle a: ["200 mm", "170 mm"]>
<rectangle b: ["200 mm", "60 mm"]>
"""
WHOLE_MM = 3 * 100 - 2 * 10


def rows_of(build: Build, seam: str) -> dict[str, tuple[float, float, list[float]]]:
    """For each strip: from where to where the line runs, and how high its holes lie, from its own start."""
    found = {}
    for piece in build.pieces:
        for line in piece.marks.stitch_lines:
            if line.seam == seam and piece.name in ("one", "two", "three"):
                ends = sorted(point_at(line.path, mm)[0].y for mm in (0, math.inf))
                found[piece.name] = (*ends, sorted(point_at(line.path, mm)[0].y for mm in line.holes_mm))
    return found


@pytest.mark.parametrize("edge", ["left", "right"])
def test_a_part_of_a_join_goes_over_its_strips(edge: str, resolve_text: Resolve) -> None:
    """Strips of 100 mm begin at 0, 90 and 180 mm of 280. From 50 to 220 mm (60 mm before the end): 50 to 100 of the first,
    0 to 100 of the second, 0 to 40 of the third."""
    build = resolve_text(JOINED + f'<seam s: ["a: left", "wall: {edge} from start 50 mm to end 60 mm"]>\n')
    seam = seam_of(build)
    assert seam.length_mm == pytest.approx(170)
    rows = rows_of(build, "s")
    assert {name: (low, high) for name, (low, high, _) in rows.items()} == {
        "one": pytest.approx((50, 100)),
        "two": pytest.approx((0, 100)),
        "three": pytest.approx((0, 40)),
    }
    begun = {"one": 0, "two": 90, "three": 180}
    for name, (_, _, holes) in rows.items():
        wanted = [50 + hole - begun[name] for hole in seam.holes_mm]
        assert holes == pytest.approx([mm for mm in wanted if -1e-6 <= mm <= 100 + 1e-6])


def test_two_seams_share_the_edge_of_a_join(resolve_text: Resolve) -> None:
    """Layers: leather of 2 mm each, two at a joint (90 to 100 mm); up to 60 mm no joint lies under the needle, and no
    partner of the one hangs under the other."""
    parts = (
        '"b: right", "wall: left from start to start 60 mm"',
        '"a: left", "wall: left from end 40 mm to start 70 mm"',
    )
    build = resolve_text(JOINED + "".join(f"<seam s{k}: [{part}]>\n" for k, part in enumerate(parts)))
    seams = {seam.name: seam for seam in build.seams}
    assert (seams["s0"].length_mm, seams["s1"].length_mm) == pytest.approx((60, WHOLE_MM - 40 - 70))
    assert (seams["s0"].thinnest_mm, seams["s0"].thickest_mm) == pytest.approx((4, 4))
    assert (seams["s1"].thinnest_mm, seams["s1"].thickest_mm) == pytest.approx((4, 6))
    assert set(rows_of(build, "s0")) == {"one"}
    assert not {caution.check for caution in build.cautions} & {"edge-taken-twice", "seam-on-edge-twice"}


def test_a_part_of_a_join_solves_one_of_its_strips(resolve_text: Resolve) -> None:
    """All but 30 mm of the whole is sewn along 400 mm: 280 - 100 + open - 30 = 400."""
    text = JOINED.replace('two: ["30 mm", "100 mm"]', 'two: ["30 mm", "solve"]').replace("170 mm", "400 mm")
    build = resolve_text(text + '<seam s: ["a: left", "wall: left from start 30 mm to end"]>\n')
    two = next(piece for piece in build.pieces if piece.name == "two")
    assert two.outline.edges[1].path.segments[0].end.y == pytest.approx(400 + 30 - (WHOLE_MM - 100))


def test_goods_lie_along_a_part_of_a_join(resolve_text: Resolve) -> None:
    """150 mm of its edge, and 15 mm over at both ends: common practice, no published source."""
    tape = '[trimmings.tape]\nwhat = "tape"\nkind = "binding"\nthickness = "0.4 mm"\n'
    tape += 'along = ["wall: right from start 50 mm to end 80 mm"]\n'
    build = resolve_text(JOINED + tape)
    assert build.trimmings[0].cuts[0].length_mm == pytest.approx(150 + 30)
