"""Small drawings: one scale, everything inside, seams, skives and holes picked out, long pieces broken."""

import math
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from demos import PATHS, demo_plan

from docgen.fonts import text_width_mm
from docgen.geometry.path import path_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.small_drawing import LEAST_HOLE_MM, READABLE_ROOM_MM, SLIT_LINE_MM, key_words, small_drawer
from docgen.pages.drawn.small_seams import SEAM_LINE_MM, STITCH_DOT_MM
from docgen.pages.drawn.small_sketch import CELL_GAP_MM, arrange_sketches, make_sketches
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import ClipMark, PathMark, TextMark
from docgen.pages.setting.blocks import Figure
from docgen.plan import DrawnPiece, Plan
from docgen.resolve import Drawn, Hole, Slit, StitchLine

STYLE = load_page_style()


def draw(*drawn: DrawnPiece, plan: Plan | None = None, width: float = 66.0, height: float = 80.0) -> Figure:
    figure = small_drawer(plan or demo_plan(), drawn, width, STYLE, {})(height)
    assert figure is not None
    return figure


def item(name: str, *seams: str, is_skived: bool = False, is_punched: bool = False) -> DrawnPiece:
    return DrawnPiece(name=name, seams=seams, is_skived=is_skived, is_punched=is_punched)


def paths(figure: Figure) -> list[PathMark]:
    inner = [m for mark in figure.marks if isinstance(mark, ClipMark) for m in mark.marks]
    return [m for m in (*inner, *figure.marks) if isinstance(m, PathMark)]


def names(figure: Figure) -> list[str]:
    return [mark.text for mark in figure.marks if isinstance(mark, TextMark)]


def check_inside(figure: Figure) -> None:
    """Nothing outside the figure, no names over shapes."""
    shapes = [mark.box for mark in figure.marks if isinstance(mark, ClipMark)]
    for box in shapes:
        assert box.left >= -1e-9
        assert box.bottom >= -1e-9
        assert box.right <= figure.width_mm + 1e-9
        assert box.top <= figure.height_mm + 1e-9
    for mark in figure.marks:
        if isinstance(mark, TextMark):
            right = mark.x_mm + text_width_mm(mark.text, mark.face, mark.size_mm)
            assert mark.x_mm >= 0
            assert right <= figure.width_mm + 1e-9
            assert mark.y_mm >= 0
            drawn = Box(mark.x_mm, mark.y_mm, right, mark.y_mm + 0.6 * mark.size_mm)
            assert not any(
                a.left + 1.2 < drawn.right
                and drawn.left < a.right - 1.2
                and a.bottom < drawn.top
                and drawn.bottom < a.top
                for a in shapes
            )


def test_nothing_to_draw_is_none() -> None:
    assert small_drawer(demo_plan(), (), 66.0, STYLE, {})(80.0) is None
    assert small_drawer(demo_plan(), (item("no-such-piece"),), 66.0, STYLE, {})(80.0) is None


def test_every_step_of_the_demo_stays_inside_at_both_heights_and_shows() -> None:
    """0.12 mm is the least line an office printer draws whole (common practice, no published source)."""
    for step in demo_plan().steps:
        for height in (44.0, 90.0):
            figure = draw(*step.drawn, height=height)
            assert figure.width_mm == 66.0
            assert figure.height_mm <= max(height, READABLE_ROOM_MM)
            check_inside(figure)
            assert "more not drawn" not in figure.caption
            assert all(m.stroke is None or m.stroke.width_mm >= 0.12 for m in paths(figure))


def test_drawing_is_to_the_scale_it_says() -> None:
    """The back panel is 12 in wide: 304.8 mm at 1:5 are 60.96 mm."""
    figure = draw(item("back"))
    assert figure.caption.startswith("about 1:5")
    outline = max((path_box(mark.path) for mark in paths(figure)), key=lambda box: box.width)
    assert outline.width == pytest.approx(304.8 / 5, abs=1e-6)
    assert outline.height == pytest.approx(234.95 / 5, abs=1e-6)


def test_a_seam_is_thick_with_a_dot_and_an_arrow() -> None:
    plain, sewn = draw(item("back")), draw(item("back", "gusset-to-back"))
    thick = [mark for mark in paths(sewn) if mark.stroke and mark.stroke.width_mm == SEAM_LINE_MM]
    filled = [mark for mark in paths(sewn) if mark.fill == 0.0]
    assert len(thick) == 1
    assert len(filled) == 2
    assert "seam" in key_words({*sewn.kinds})
    assert not [mark for mark in paths(plain) if mark.fill == 0.0]
    assert "seam" not in key_words({*plain.kinds})


def test_a_strip_of_a_join_has_no_beginning() -> None:
    figure = draw(item("gusset-side", "gusset-to-back"))
    assert [mark for mark in paths(figure) if mark.stroke and mark.stroke.width_mm == SEAM_LINE_MM]
    assert not [mark for mark in paths(figure) if mark.fill == 0.0]
    assert "dot" not in key_words({*figure.kinds})


def test_a_broken_piece_shows_its_arrow_where_it_is_drawn() -> None:
    figure = draw(item("gusset-lining", "lining-to-gusset-back"))
    assert "zigzags" in key_words({*figure.kinds})
    assert "go with the arrow" in key_words({*figure.kinds})
    parts = [mark for mark in figure.marks if isinstance(mark, ClipMark)]
    shown = [
        box
        for part in parts
        for mark in part.marks
        if isinstance(mark, PathMark)
        and mark.fill == 0.0
        and len(mark.path.segments) == 3
        and part.box.left <= (box := path_box(mark.path)).left + part.dx_mm
        and box.right + part.dx_mm <= part.box.right
    ]
    assert len(shown) == 1


def test_seams_are_numbered_where_they_begin_those_of_one_place_together() -> None:
    drawn = (item("back", "back-top"), item("back-lining", "back-top", "front-top"))
    figure = small_drawer(demo_plan(), drawn, 66.0, STYLE, {"back-top": 1, "front-top": 2})(80.0)
    assert figure is not None
    told = [mark.text for mark in figure.marks if isinstance(mark, TextMark) and mark.face == "bold"]
    assert told == ["1", "1, 2"]


def test_skived_bands_are_hatched_only_when_asked() -> None:
    bare, hatched = draw(item("pocket")), draw(item("pocket", is_skived=True))
    assert len(paths(hatched)) > len(paths(bare)) + 10
    assert "hatched: skive" in key_words({*hatched.kinds})
    assert "hatched" not in key_words({*bare.kinds})


def test_holes_that_are_made_in_the_step_are_black() -> None:
    bare, picked = draw(item("back")), draw(item("back", is_punched=True))
    black = [path_box(mark.path) for mark in paths(picked) if mark.fill == 0.0]
    assert len(black) == len([mark for mark in paths(bare) if mark.fill == 1.0]) == 4
    assert not [mark for mark in paths(picked) if mark.fill == 1.0]
    assert len(paths(picked)) == len(paths(bare))
    assert all(box.width >= 1.6 - 1e-9 for box in black)
    assert (picked.caption, key_words({*picked.kinds})) == ("about 1:5", "black: make these holes")


@pytest.mark.parametrize("is_punched", [True, False])
@pytest.mark.parametrize("apart_mm", [6.0, 25.0])
def test_two_holes_beside_each_other_stay_two(is_punched: bool, apart_mm: float) -> None:
    """At 1:5 dots of 1.6 mm would lie on each other 6 mm apart; never smaller than they are, 4 / 5 mm."""
    holes = tuple(Hole(at=Point(100 + x, 100), diameter_mm=4.0) for x in (0, apart_mm))
    figure = draw(item("back", is_punched=is_punched), plan=change_back(holes=holes))
    one, other = (path_box(mark.path) for mark in paths(figure) if mark.fill == (0.0 if is_punched else 1.0))
    assert abs(one.left - other.left) > one.width > 4 / 5 - 1e-9


def test_an_oblong_hole_is_drawn_to_scale() -> None:
    """6 mm wide and 20 mm from centre to centre: 26 mm long, and 26 / 5 = 5.2 mm at 1:5."""
    plan = change_back(holes=(Hole(at=Point(100, 100), diameter_mm=6.0, slot=Point(10.0, 0.0)),))
    (drawn,) = [path_box(mark.path) for mark in paths(draw(item("back"), plan=plan)) if mark.fill == 1.0]
    assert (drawn.width, drawn.height) == pytest.approx((5.2, 1.2))


def test_a_narrow_oblong_hole_is_widened_so_that_it_shows() -> None:
    plan = change_back(holes=(Hole(at=Point(100, 100), diameter_mm=2.0, slot=Point(10.0, 0.0)),))
    (drawn,) = [path_box(mark.path) for mark in paths(draw(item("back"), plan=plan)) if mark.fill == 1.0]
    assert (drawn.width, drawn.height) == pytest.approx((4 + 2 * LEAST_HOLE_MM, 2 * LEAST_HOLE_MM))


def change_back(**marks: tuple[object, ...]) -> Plan:
    """The demo's plan with another back panel, 304.8 mm wide: 1:5 when it is drawn alone."""
    plan = demo_plan()
    back = next(piece for piece in plan.build.pieces if piece.name == "back")
    return replace(plan, build=replace(plan.build, pieces=(back.with_marks(**marks),)))


@pytest.mark.parametrize(("gap_mm", "shown"), [(6.0, 41), (5.9, 0)])
def test_holes_of_a_hand_stitch_are_drawn_where_they_stand_apart(gap_mm: float, shown: int) -> None:
    """At 1:5 holes 6 mm apart are 1.2 mm apart on the paper; nearer ones would run together."""
    path = polyline((Point(10, 100), Point(290, 100)))
    holes = tuple(gap_mm * place for place in range(41))
    line = StitchLine(seam="by-hand", stitch="main", path=path, holes_mm=holes, by="hand")
    figure = draw(item("back", "by-hand"), plan=change_back(stitch_lines=(line,), holes=()))
    boxes = [path_box(mark.path) for mark in paths(figure) if mark.fill == 0.0]
    dots = sorted(box.centre.x for box in boxes if box.width == pytest.approx(2 * STITCH_DOT_MM))
    assert len(dots) == shown
    assert [after - before for before, after in pairwise(dots)] == pytest.approx([1.2] * max(shown - 1, 0))
    thick = [mark for mark in paths(figure) if mark.stroke and mark.stroke.width_mm == SEAM_LINE_MM]
    assert len(thick) == (0 if shown else 1)
    key = key_words({*figure.kinds})
    assert ("dots: every stitch hole" in key, "thick: seam" in key) == (bool(shown), not shown)


def test_lines_of_a_drawing_are_drawn_fine_at_scale() -> None:
    drawn = Drawn(name="heart", path=polyline((Point(50, 50), Point(150, 100))))
    figure = draw(item("back"), plan=change_back(drawn=(drawn,)))
    boxes = [path_box(m.path) for m in paths(figure) if m.stroke and m.stroke.width_mm == STYLE.hair_line_mm]
    assert [(box.width, box.height) for box in boxes] == [pytest.approx((20, 10))]
    assert "fine: line from the drawing" in key_words({*figure.kinds})
    assert "fine" not in key_words({*draw(item("back")).kinds})


def test_the_key_tells_every_kind_of_line() -> None:
    figure = draw(item("pocket", "pocket-to-front", is_skived=True), item("shoulder", is_punched=True), item("front"))
    assert figure.caption == "about 1:8"
    assert key_words({*figure.kinds}) == (
        "thick: seam; begin at the dot, go with the arrow; black: make these holes; hatched: skive; "
        "long dashes: fold; two zigzags: middle left out"
    )


def test_long_straps_lie_down_broken_with_all_their_holes() -> None:
    """987 mm of strap, 25.4 mm wide, would be a hair line whole."""
    figure = draw(item("shoulder"))
    parts = [mark for mark in figure.marks if isinstance(mark, ClipMark)]
    assert len(parts) == 2
    assert parts[0].box.right < parts[1].box.left
    assert "middle left out" in key_words({*figure.kinds})
    assert parts[0].box.height > 25.4 / 7
    moved = parts[1]
    holes = [path_box(m.path).centre.x + moved.dx_mm for m in moved.marks if isinstance(m, PathMark) and m.fill == 1.0]
    assert len(holes) == 9, "the row and the two rivet holes of the other end"
    assert len([x for x in holes if moved.box.left < x < moved.box.right]) == 7


def test_a_piece_named_twice_is_drawn_once_with_both_seams() -> None:
    figure = draw(item("back", "back-top"), item("back", "gusset-to-back"))
    assert names(figure) == ["Back panel"]
    assert len([m for m in paths(figure) if m.stroke and m.stroke.width_mm == SEAM_LINE_MM]) == 2


@pytest.mark.parametrize("title", ["W" * 200, "<b>&amp;</b>", "many words " * 30])
def test_long_names_are_shortened_and_stay_inside(title: str) -> None:
    plan = demo_plan()
    pieces = tuple(replace(piece, title=title) for piece in plan.build.pieces)
    plan = replace(plan, build=replace(plan.build, pieces=pieces))
    figure = draw(item("back"), item("pocket"), item("ring-tab"), plan=plan, height=90.0)
    check_inside(figure)
    assert len(names(figure)) <= 9
    if len(title) < 20:
        assert "".join(names(figure)) == title * 3


def test_more_pieces_than_fit_are_counted() -> None:
    plan = demo_plan()
    many = tuple(replace(plan.build.pieces[0], name=f"p{n}") for n in range(60))
    plan = replace(plan, build=replace(plan.build, pieces=many))
    figure = draw(*(item(piece.name) for piece in many), plan=plan)
    check_inside(figure)
    left_out = 60 - names(figure).count("Back panel")
    assert left_out > 0
    assert figure.caption.endswith(f"{left_out} more not drawn")


def test_pieces_in_a_row_stand_apart_with_their_names() -> None:
    plan = demo_plan()
    sketches = make_sketches(plan, tuple(item(piece.name) for piece in plan.build.cut))
    arranged = arrange_sketches(sketches, 10.0, 180.0, STYLE)
    assert arranged is not None
    beside = [(one, other) for one, other in pairwise(arranged[0]) if one.y == other.y]
    assert len(beside) > 3
    for one, other in beside:
        named = max(text_width_mm(line, "regular", STYLE.label_type_mm) for line in one.lines)
        assert one.x + max(named, one.sketch.width_at(10.0)) + CELL_GAP_MM <= other.x + 1e-6


def test_what_is_smaller_than_the_dots_of_its_holes_is_drawn_larger_and_says_so() -> None:
    """A tab 19 mm wide beside a back of 300 mm: 0.8 mm at 1:25, under dots of 1.6 mm; whether it is punched or not. At 1:6
    it is 3.2 mm wide and keeps the scale of all."""
    for is_punched, scale_to, own_to in ((True, 25, 4), (False, 25, 4), (False, 6, 6)):
        both = tuple(item(name, is_punched=is_punched) for name in ("back", "buckle-tab"))
        arranged = arrange_sketches(make_sketches(demo_plan(), both), scale_to, 66.0, STYLE)
        assert arranged is not None
        cells, _ = arranged
        assert [cell.scale_to for cell in cells] == [scale_to, own_to]
        assert ("1:4" in " ".join(cells[1].lines)) == (own_to == 4)


def test_a_drawing_takes_more_room_where_it_could_not_be_read_in_less() -> None:
    """In 20 mm all four would be dots."""
    both = tuple(item(name, is_punched=True) for name in ("back", "front", "buckle-tab", "ring-tab"))
    low, high = (draw(*both, height=height) for height in (20.0, 60.0))
    assert 20.0 < low.height_mm <= high.height_mm <= 60.0
    assert largest_mm(low) >= 14.0


def test_no_drawing_is_so_small_that_its_numbers_cover_it() -> None:
    """Names in two rows left 4 mm for four pieces at 1:200; where not all find room for their size, some are left out."""
    plan = demo_plan()
    panel = replace(next(piece for piece in plan.build.pieces if piece.name == "back"), title="Left back with flap")
    many = tuple(replace(panel, name=f"p{n}") for n in range(40))
    plan = replace(plan, build=replace(plan.build, pieces=many))
    few, crowd = (draw(*(item(piece.name) for piece in many[:count]), plan=plan, height=30.0) for count in (4, 40))
    assert largest_mm(few) >= 14.0
    assert "not drawn" not in few.caption
    assert largest_mm(crowd) >= 7.0
    assert "not drawn" in crowd.caption


def largest_mm(figure: Figure) -> float:
    return max(max(box.width, box.height) for box in (path_box(mark.path) for mark in paths(figure)))


def test_a_piece_that_is_shown_twice_is_one_sketch_with_all_that_is_picked_out() -> None:
    plan = demo_plan()
    name = plan.build.cut[0].name
    (sketch,) = make_sketches(
        plan, (item(name, "a", is_punched=True), item(name, "b", is_skived=True), item("nowhere"))
    )
    assert sketch.drawn == item(name, "a", "b", is_skived=True, is_punched=True)


def test_the_heads_of_what_a_step_sets_are_drawn_at_their_holes() -> None:
    """The studs of the satchel, in the panel that only gets them: at their holes, wider than these, and in the key."""
    plan = demo_plan("satchel")
    step = plan.steps[1]
    figure = draw(*step.drawn, plan=plan)
    assert figure.kinds == ("set",)
    assert key_words({*figure.kinds}) == "thick rings: set here"
    thick = [mark for mark in paths(figure) if mark.stroke and mark.stroke.width_mm == STYLE.thick_line_mm]
    front = next(piece for piece in plan.build.pieces if piece.name == "front")
    scale = float(figure.caption.partition(":")[2])
    assert len(thick) == len(front.marks.holes) == 2
    for mark, hole in zip(thick, front.marks.holes, strict=True):
        found = path_box(mark.path)
        assert found.width > hole.diameter_mm / scale + 1
        assert math.isclose(found.centre.y, hole.at.y / scale, abs_tol=0.05)


@pytest.mark.parametrize(("is_punched", "drawn_mm"), [(True, 0.8 + 0.9), (False, 0.55 + 0.9)])
def test_a_slit_that_leads_out_of_a_hole_is_seen_beyond_its_dot(is_punched: bool, drawn_mm: float) -> None:
    """6 mm out of the middle of a hole are 1.2 mm at 1:5, and its dot is drawn 0.8 mm wide from there; a slit of 20 mm that
    is free stays 4 mm."""
    slits = (Slit(start=Point(100, 40), end=Point(100, 46)), Slit(start=Point(40, 100), end=Point(60, 100)))
    plan = change_back(holes=(Hole(at=Point(100, 40), diameter_mm=4),), slits=slits)
    marks = paths(draw(item("back", is_punched=is_punched), plan=plan))
    boxes = [path_box(mark.path) for mark in marks if mark.stroke and mark.stroke.width_mm == SLIT_LINE_MM]
    assert [max(box.width, box.height) for box in boxes] == pytest.approx([drawn_mm, 4.0])


def test_numbers_of_seams_stand_clear_of_each_other_and_of_dots() -> None:
    """Of every step of all demos and starters, where there are several on one piece."""
    seen = 0
    for name in PATHS:
        plan = demo_plan(name)
        for step in plan.steps:
            numbers = {seam: k for k, seam in enumerate(dict.fromkeys(s for one in step.drawn for s in one.seams), 1)}
            for one in step.drawn if len(numbers) > 1 else ():
                figure = small_drawer(plan, (one,), 66.0, STYLE, numbers)(60.0)
                texts = [m for m in figure.marks if isinstance(m, TextMark) and m.face == "bold"] if figure else []
                boxes = [_box_of(mark) for mark in texts]
                seen += len(boxes) > 1
                assert not any(_overlap(a, b) for a, b in combinations(boxes, 2)), (name, one.name)
    assert seen


def _box_of(mark: TextMark) -> Box:
    half = text_width_mm(mark.text, mark.face, mark.size_mm) / 2
    return Box(mark.x_mm - half, mark.y_mm, mark.x_mm + half, mark.y_mm + 0.7 * mark.size_mm)


def _overlap(one: Box, other: Box) -> bool:
    across = min(one.right, other.right) - max(one.left, other.left)
    return across > 0.1 and min(one.top, other.top) - max(one.bottom, other.bottom) > 0.1
