"""Pieces that are like others: shape, size, mirror, inset, and which marks come along."""

from collections.abc import Callable

import pytest
from built import piece_of
from spec_text import Resolve, write_out

from docgen.geometry.outline import edge_names, edge_path, outline_box
from docgen.geometry.path import path_box, start_point
from docgen.resolve import Build, Marks, Piece

MODEL = write_out("""\
<rectangle model: ["200 mm", "150 mm"]>
round = { bottom-left = "30 mm" }
holes = [{ at = "50.8 mm from left, 1 in from top", punch = "3 mm" }]
notches = [{ on = "left", at = "40 mm from top" }]
folds = [{ at = "20 mm from left" }]
slits = [{ start = "60 mm from left, middle", end = "80 mm from left, middle" }]
skives = [{ edges = "left bottom", width = "10 mm", to = "1 mm" }]
""")


@pytest.fixture
def like(resolve_text: Resolve) -> Callable[[str], Piece]:
    """The piece "b", with these lines, beside the model."""
    return lambda lines: piece_of(resolve_text(MODEL + "[pieces.b]\n" + lines), "b")


def test_a_mirrored_piece_has_its_marks_and_edge_names_on_the_other_side(like) -> None:
    mirrored = like('like = "model"\nmirror = true\n')
    (notch,) = mirrored.marks.notches
    assert notch.edge == "right"
    assert notch.at == pytest.approx((200, 110))
    assert notch.inward == pytest.approx((-1, 0))
    assert mirrored.marks.folds[0].start.x == pytest.approx(180)
    assert sorted((mirrored.marks.slits[0].start.x, mirrored.marks.slits[0].end.x)) == pytest.approx([120, 140])
    assert mirrored.marks.skives[0].edges == "right bottom"
    assert path_box(mirrored.marks.skives[0].band).right == pytest.approx(200)
    assert start_point(edge_path(mirrored.outline, "left")).x == pytest.approx(0)


def test_the_edges_of_a_mirrored_outline_keep_their_names(resolve_text: Resolve) -> None:
    build = resolve_text(
        """\
[pieces.a]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["80 mm", "0"], edge = "right" },
  { at = ["60 mm", "60 mm"], edge = "left" },
]
notches = [{ on = "left" }]
skives = [{ edges = "left", width = "5 mm", to = "1 mm" }]
[pieces.b]
like = "a"
mirror = true
"""
    )
    mirrored = piece_of(build, "b")
    assert mirrored.marks.notches[0].edge == "left"
    assert mirrored.marks.skives[0].edges == "left"
    left = path_box(edge_path(mirrored.outline, "left"))
    assert left.left - 1e-9 <= mirrored.marks.notches[0].at.x <= left.right + 1e-9


@pytest.mark.parametrize(
    ("shape", "edges", "of_like"),
    [
        ("rectangle", "left", {"right": 90}),
        ("rectangle", "top", {"top": 50}),
        ("strip", "left", {"right": 90}),
        ("strip", "start", {"start": 10}),
    ],
)
def test_a_hem_is_turned_over_on_the_other_side_of_a_mirrored_piece(
    resolve_text: Resolve, shape: str, edges: str, of_like: dict[str, float]
) -> None:
    """Of a piece 100 by 60 mm whose edge is turned over by 10 mm; of one turned over twice it is where it was."""
    hemmed = f'hems = [{{ edges = "{edges}", turn = "10 mm" }}]'
    build = resolve_text(
        write_out(f'<{shape} a: ["100 mm", "60 mm"]>\n{hemmed}\n')
        + '[pieces.b]\nlike = "a"\nmirror = true\n[pieces.c]\nlike = "b"\nmirror = true\n'
    )
    for name, folds in (("b", of_like), ("c", {edges: {"left": 10, "top": 50, "start": 10}[edges]})):
        piece = piece_of(build, name)
        assert [hem.edges for hem in piece.hems] == [tuple(folds)]
        (fold,) = [fold for fold in piece.marks.folds if fold.of_hem]
        assert (fold.start.x if edges == "left" else fold.start.y) == pytest.approx(*folds.values())


def test_a_hem_of_a_mirrored_outline_stays_with_the_edge_of_its_name(resolve_text: Resolve) -> None:
    """Its straight left edge, 80 mm from the right one, then lies on the right."""
    corners = ('"0", "0"', '"80 mm", "0"', '"60 mm", "60 mm"')
    points = f"""[{", ".join(f"{{ at = [{at}] }}" for at in corners)}, {{ at = ["0", "60 mm"], edge = "left" }}]"""
    build = resolve_text(
        f"""\
[pieces.a]
of = "body"
shape = "outline"
points = {points}
hems = [{{ edges = "left", turn = "8 mm" }}]
[pieces.b]
like = "a"
mirror = true
"""
    )
    (hem,) = piece_of(build, "b").hems
    assert hem.edges == ("left",)
    (fold,) = piece_of(build, "b").marks.folds
    assert (fold.start.x, fold.end.x) == pytest.approx((72, 72))


def test_an_inset_piece_leaves_the_marks_behind(like) -> None:
    small = like('like = "model"\ninset = "10 mm"\n')
    assert small.marks == Marks()
    assert (outline_box(small.outline).width, outline_box(small.outline).height) == pytest.approx((180, 130))


def test_an_inset_piece_with_marks_keeps_the_holes_where_they_lie_on_the_model(like) -> None:
    small = like('like = "model"\ninset = "10 mm"\nmarks = true\n')
    assert small.marks.holes[0].at == pytest.approx((50.8, 124.6))
    assert small.marks.notches[0].at == pytest.approx((10, 110))
    assert small.marks.folds == small.marks.skives == ()


def test_a_hole_that_no_longer_lies_on_the_smaller_piece_stays_behind(resolve_text: Resolve) -> None:
    build = resolve_text(
        MODEL.replace("50.8 mm from left", "5 mm from left")
        + '[pieces.b]\nlike = "model"\ninset = "10 mm"\nmarks = true\n'
    )
    assert piece_of(build, "b").marks.holes == ()


def test_mirror_and_inset_go_together(like) -> None:
    piece = like('like = "model"\nmirror = true\ninset = "10 mm"\nmarks = true\n')
    assert piece.marks.holes[0].at == pytest.approx((149.2, 124.6))
    assert piece.marks.notches[0].at == pytest.approx((190, 110))
    assert piece.marks.notches[0].edge == "right"
    assert "bottom-right" in {edge.name for edge in piece.outline.edges if edge.corner}


def test_a_negative_inset_makes_the_piece_larger(like) -> None:
    box = outline_box(like('like = "model"\ninset = "-5 mm"\n').outline)
    assert (box.width, box.height) == pytest.approx((210, 160))


def test_a_size_of_its_own_takes_the_place_of_the_models_and_moves_its_marks(like) -> None:
    wide = like('like = "model"\nsize = ["300 mm", "100 mm"]\n')
    assert (outline_box(wide.outline).width, outline_box(wide.outline).height) == pytest.approx((300, 100))
    assert wide.marks.holes[0].at == pytest.approx((50.8, 74.6))


def test_a_size_written_after_an_inset_stands_as_written(resolve_text: Resolve) -> None:
    build = resolve_text(
        MODEL + '[pieces.pad]\nlike = "model"\ninset = "10 mm"\n[pieces.b]\nlike = "pad"\nsize = ["100 mm", "80 mm"]\n'
    )
    box = outline_box(piece_of(build, "b").outline)
    assert (box.width, box.height) == pytest.approx((100, 80))


def test_a_round_of_its_own_takes_the_place_of_the_models(like) -> None:
    piece = like('like = "model"\nround = { top-right = "20 mm" }\n')
    assert [edge.name for edge in piece.outline.edges if edge.corner] == ["top-right"]


def test_marks_can_be_left_behind(like) -> None:
    piece = like('like = "model"\nmarks = false\nholes = [{ at = "centre, middle", punch = "5 mm" }]\n')
    assert [hole.diameter_mm for hole in piece.marks.holes] == [5.0]
    assert piece.marks.notches == piece.marks.folds == piece.marks.slits == piece.marks.skives == ()


def test_a_piece_of_another_material_leaves_the_skives_behind(like) -> None:
    piece = like('like = "model"\nof = "thin"\n[materials.thin]\nkind = "fabric"\nthickness = "0.5 mm"\n')
    assert piece.marks.skives == ()
    assert len(piece.marks.holes) == 1


def test_the_material_comes_from_the_model_and_count_and_title_do_not(resolve_text: Resolve) -> None:
    build = resolve_text(
        MODEL.replace('of = "body"', 'of = "body"\ncut = 4\npair = true\ntitle = "Model"')
        + '[pieces.my-like]\nlike = "model"\n'
    )
    piece = piece_of(build, "my-like")
    assert (piece.material, piece.cut, piece.is_pair, piece.title) == ("body", 1, False, "my like")
    assert piece_of(build, "model").is_pair


def test_shapes_stand_on_their_lower_left_corner(resolve_text: Resolve) -> None:
    build = resolve_text(
        MODEL + '[pieces.round]\nof = "body"\nshape = "circle"\ndiameter = "4 in"\n'
        '[pieces.strip]\nof = "body"\nshape = "strip"\nsize = ["1 in", "10 in"]\n'
    )
    for name, size in (("model", (200, 150)), ("round", (101.6, 101.6)), ("strip", (25.4, 254))):
        box = outline_box(piece_of(build, name).outline)
        assert (box.left, box.bottom) == pytest.approx((0, 0))
        assert (box.right, box.top) == pytest.approx(size)
    assert edge_names(piece_of(build, "strip").outline) == ("start", "right", "end", "left")


HANDLED = write_out("""\
[pieces.front]
of = "body"
shape = "rectangle"
size = ["300 mm", "200 mm"]
landings = [
  { strap = "handle", at = "80 mm from left, 40 mm from top", leads = "up" },
  { strap = "handle", end = "second", at = "100 mm from right, 40 mm from top", leads = "right" },
]
[pieces.back]
like = "front"
%s
<strap handle of body: 20 mm>
finished = "400 mm"
cut = %d
""")


def ends_of(build: Build, name: str) -> list[tuple[int, float, float, str]]:
    piece = next(piece for piece in build.pieces if piece.name == name)
    return [(one.end, round(one.at.x, 6), round(one.at.y, 6), one.leads) for one in piece.strap_landings]


FRONT_ENDS = [(0, 80, 160, "up"), (1, 200, 160, "right")]


@pytest.mark.parametrize(
    ("more", "cut", "back"),
    [
        ("", 2, FRONT_ENDS),
        ("", 1, []),
        ("marks = false", 2, []),
        ("mirror = true", 2, [(0, 220, 160, "up"), (1, 100, 160, "left")]),
        ('inset = "3 mm"', 2, []),
        ("cut = 2", 2, []),
        ("cut = 2", 3, FRONT_ENDS),
        ('landings = [{ strap = "handle", at = "centre, 50 mm from top" }]', 2, [(0, 150, 150, "up")]),
    ],
)
def test_a_strap_lands_on_what_is_like_its_place_where_there_is_one_for_each(
    resolve_text: Resolve, more: str, cut: int, back: list[tuple[int, float, float, str]]
) -> None:
    """Of a handle for each of two panels both ends land on both; turned over they lie as far from the other side, of a
    panel 300 mm wide."""
    build = resolve_text(HANDLED % (more, cut))
    assert ends_of(build, "front") == FRONT_ENDS
    assert ends_of(build, "back") == back


def test_what_the_holes_of_a_model_go_through_has_them_for_that(resolve_text: Resolve) -> None:
    given = """\
<hardware foot: 4, foot>
<rectangle base: ["200 mm", "150 mm"]>
holes = [
  { at = "20 mm from left, middle", punch = "5 mm", takes = "foot", through = ["board"] },
  { at = "20 mm from right, middle", punch = "5 mm", takes = "foot" },
]
[pieces.board]
like = "base"
lines = ["base"]
"""
    build = resolve_text(write_out(given))
    holes = piece_of(build, "board").marks.holes
    assert [(hole.takes, hole.through) for hole in holes] == [("", ()), ("foot", ())]
    assert [hole.through for hole in piece_of(build, "base").marks.holes] == [("board",), ()]
