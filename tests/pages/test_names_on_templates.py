"""Names and marks on templates: clear of what stands beside them, and whole on the sheet that shows them. The distances are
our choice."""

import math
from collections.abc import Iterator
from itertools import combinations, pairwise

import pytest
from by_hand import make_piece
from demos import PATHS, demo_build

from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_box, rectangle_outline
from docgen.geometry.path import box_path, boxes_overlap, end_point, grow_box, points_at, start_point
from docgen.geometry.shapes import Box, Point
from docgen.pages import draw_piece, load_pattern_style
from docgen.pages.drawn.labels import LabelLine, label_size, set_label
from docgen.pages.marks.moving import mark_box, place_marks
from docgen.pages.marks.page import ClipMark, Mark, PathMark, TextMark
from docgen.pages.pattern.grid import Placed
from docgen.pages.pattern.piece_template import (
    LEADER_GAP_MM,
    Template,
    finish_template,
    keep_ends_whole,
    label_marks,
    make_template,
    reach_words,
    turn_names,
)
from docgen.pages.pattern.sheets import LEAST_APART_MM, _choose_match, _further_shares, _match_shares
from docgen.pages.pattern.upright import stand_label
from docgen.resolve import Hole, Landing, Piece, by_name

STYLE = load_pattern_style()
SHEET_MM = (190.0, 270.0)
ENDS = ("first end", "second end")


def template_of(name: str, part: str, most_mm: tuple[float, float] = SHEET_MM) -> Template:
    build = demo_build(name)
    return make_template(build, by_name(build.cut)[part], STYLE, most_mm)


def words_in(marks: tuple[Mark, ...]) -> list[TextMark]:
    return [mark for mark in marks if isinstance(mark, TextMark)]


def straps() -> Iterator[tuple[str, str]]:
    for name in PATHS:
        yield from ((name, strap.name) for strap in demo_build(name).straps)


@pytest.mark.parametrize(("name", "part"), [*straps()])
def test_no_words_on_a_strap_touch_each_other(name: str, part: str) -> None:
    """Names of ends and sizes of punches, drawn whole: 0.35 mm between the boxes of their letters at least."""
    marks = make_template(demo_build(name), by_name(demo_build(name).cut)[part], STYLE, SHEET_MM, is_whole=True).marks
    for one, other in combinations(words_in(marks), 2):
        assert not boxes_overlap(grow_box(mark_box(one), 0.35), mark_box(other)), (one.text, other.text)


@pytest.mark.parametrize("part", ["strap-a", "strap-b"])
def test_a_broken_strap_is_named_at_both_ends(part: str) -> None:
    build = demo_build("bag")
    part = {"strap-a": build.straps[0].name, "strap-b": build.straps[1].name}[part]
    template = template_of("bag", part)
    title = by_name(build.cut)[part].title
    told = " ".join(mark.text for mark in words_in(template.marks))
    assert template.is_broken
    assert told.count(title) == 2
    assert all(told.count(end) == 1 for end in ENDS)


def lines_of_names(template: Template, *, is_turned: bool) -> list[list[TextMark]]:
    """The lines of the names of both ends as they stand on the sheet, from the first to the last: those that run along the
    strap from left to right once it is turned, and else upward."""
    template = turn_names(template) if is_turned else template
    names, here = [], []
    for mark in words_in(place_marks(template.standing, 0.0, 0.0, is_turned=is_turned)):
        here.append(mark)
        if mark.text.endswith(ENDS):
            names, here = [*names, here], []
    assert not here
    return names


def broken_straps() -> Iterator[tuple[str, str]]:
    yield from (strap for strap in straps() if template_of(*strap).is_broken)


@pytest.mark.parametrize("is_turned", [False, True])
@pytest.mark.parametrize(("name", "part"), [*broken_straps()])
def test_the_lines_of_a_name_stand_together_in_the_order_of_reading(name: str, part: str, is_turned: bool) -> None:
    """Each below the one before, seen along the words, by 1.25 of the type from line to line."""
    template = template_of(name, part)
    ends = lines_of_names(template, is_turned=is_turned)
    title = template.piece.title
    assert {" ".join(mark.text for mark in lines) for lines in ends} == {f"{title}, {end}" for end in ENDS}
    for lines in ends:
        for one, below in pairwise(lines):
            assert one.angle_deg == below.angle_deg
            turn = math.radians(one.angle_deg)
            down = (below.x_mm - one.x_mm) * math.sin(turn) - (below.y_mm - one.y_mm) * math.cos(turn)
            along = (below.x_mm - one.x_mm) * math.cos(turn) + (below.y_mm - one.y_mm) * math.sin(turn)
            assert (down, along) == pytest.approx((1.25 * one.size_mm, 0.0))


def test_names_stand_on_their_heads_where_the_turn_is_not_told() -> None:
    """The silent twin: the lines of the duffel's handle, which lies on letter paper, turned each by itself."""
    template = template_of("duffel", "carry")
    told = words_in(place_marks(turn_names(template).standing, 0.0, 0.0, is_turned=True))
    untold = words_in(place_marks(template.standing, 0.0, 0.0, is_turned=True))
    assert told[0].y_mm > told[1].y_mm
    assert untold[0].y_mm < untold[1].y_mm


def is_across(mark: PathMark, piece: Piece) -> bool:
    """Whether a line runs from edge to edge of a strap, as its folds do."""
    box = mark_box(mark)
    return box.height < 1.0 and box.width > 0.9 * outline_box(piece.outline).width


@pytest.mark.parametrize("is_turned", [False, True])
@pytest.mark.parametrize(("name", "part"), [*broken_straps()])
def test_names_of_shown_ends_keep_off_folds_and_what_else_is_written(name: str, part: str, is_turned: bool) -> None:
    """0.6 mm of white at least round each line of letters."""
    template = turn_names(template_of(name, part)) if is_turned else template_of(name, part)
    clips = [mark for mark in template.marks if isinstance(mark, ClipMark)]
    assert len(clips) == 2
    drawn = [other for clip in clips for other in clip.marks if boxes_overlap(mark_box(other), clip.box)]
    sizes = [other for other in drawn if isinstance(other, TextMark)]
    folds = [other for other in drawn if isinstance(other, PathMark) and is_across(other, template.piece)]
    assert len(folds) >= len(template.piece.marks.folds)
    for mark in template.standing:
        room = grow_box(mark_box(mark), 0.6)
        assert not any(boxes_overlap(room, mark_box(other)) for other in (*sizes, *folds)), mark.text


def test_names_of_what_lands_keep_off_the_holes_of_a_row() -> None:
    """The strips of the wallet's inside have 30 mm free: 1.3 mm of white at least between a name and a hole of 0.9 mm."""
    piece = by_name(demo_build("wallet").pieces)["inside"]
    names = words_in(draw_piece(piece, STYLE, "mm"))
    assert len(names) == 4
    rows = (line for line in piece.marks.stitch_lines if line.by == "hand")
    holes = [at for line in rows for at, _ in points_at(line.path, line.holes_mm)]
    for mark in names:
        room = grow_box(mark_box(mark), 1.3)
        assert not any(boxes_overlap(room, Box(x - 0.45, y - 0.45, x + 0.45, y + 0.45)) for x, y in holes), mark.text


def test_a_label_stands_outside_of_what_lands_where_there_is_room() -> None:
    """The back of the sleeve, with its card pocket in the middle; on the front of the field bag there is room for it only
    among what lands there."""
    template = template_of("sleeve", "back")
    shapes = [landing.outline for landing in template.piece.marks.landings]
    dx, dy = template.offset
    for mark in label_marks(template, (), is_turned=False):
        centre = mark_box(mark).centre
        assert not any(is_inside(shape, Point(centre.x - dx, centre.y - dy)) for shape in shapes)
    assert label_marks(template_of("field-bag", "front"), (), is_turned=False)


def test_the_name_of_an_end_is_set_off_a_strip_where_sheets_meet() -> None:
    """The body of the duffel: a strip of 10 mm laid through the name of its end; one laid elsewhere moves nothing."""
    template = template_of("duffel", "body")
    assert {mark.text for mark in template.ends} == {"start", "end"}
    box = next(mark_box(mark) for mark in template.ends if mark.text == "end")
    across = Box(0, box.centre.y - 5, template.width_mm, box.centre.y + 5)
    moved = keep_ends_whole(template, (across,))
    names = [mark for mark in words_in(moved) if mark.text in ("start", "end")]
    assert len(names) == 2
    assert not any(boxes_overlap(mark_box(mark), across) for mark in names)
    assert keep_ends_whole(template, (Box(0, 300, template.width_mm, 310),)) == template.marks


def test_a_match_mark_goes_farther_along_its_join_before_it_lies_on_a_cut() -> None:
    """All is cut up to 150 mm along a join of 200 mm: clear of that are the spots beyond, and none of the nearer ones."""

    def count(box: Box) -> int:
        return 20 if box.left < 150 and box.right > 0 else 0

    near, further = ([Point(200 * at, 0.0) for at in shares(0.2)] for shares in (_match_shares, _further_shares))
    assert max(at.x for at in near) < 150 < max(at.x for at in further)
    assert _choose_match("1a", near, further, is_upright=False, count=count).at.x > 150
    assert _choose_match("1a", near, [], is_upright=False, count=count).at.x < 150
    assert _choose_match("1a", near, further, is_upright=False, count=lambda box: 0).at == near[0]
    assert LEAST_APART_MM > 2 * 5.0  # the white round either of two marks


def test_a_leader_goes_on_to_the_words_at_its_level() -> None:
    """A wide line over a narrow one, 60 mm and some 5 mm: at the level of the first it ends at the label, at that of the
    second it goes on to the word; from the right as from the left."""
    lines = (LabelLine(text="a line as wide as the whole label", size_mm=4.0), LabelLine(text="one", size_mm=4.0))
    width_mm, height_mm = label_size(lines)
    label = set_label(lines, Box(100.0, 50.0, 100.0 + width_mm, 50.0 + height_mm), 0.0)
    wide, narrow = (mark_box(mark) for mark in label)
    for at, way in ((100.0 - LEADER_GAP_MM, -1), (100.0 + width_mm + LEADER_GAP_MM, 1)):
        assert [*reach_words(Point(at, wide.centre.y), label)] == []
        (line,) = reach_words(Point(at, narrow.centre.y), label)
        word = narrow.left if way < 0 else narrow.right
        assert end_point(line.path).x == pytest.approx(word + way * LEADER_GAP_MM)
        assert start_point(line.path) == Point(at, narrow.centre.y)


def test_the_leader_of_a_belt_loop_reaches_its_words() -> None:
    """The belt loop of the sheath: no more than 2 mm of white between the line and the words at its level."""
    template = template_of("sheath", "loop")
    box = Box(100.0, 100.0, 100.0 + template.width_mm, 100.0 + template.height_mm)
    stood = stand_label(template, Placed(name="loop", box=box, is_turned=False), Box(0.0, 0.0, 400.0, 400.0), ())
    assert stood is not None
    words = [mark_box(mark) for mark in words_in(stood[1])]
    ends = [end_point(mark.path) for mark in stood[1] if isinstance(mark, PathMark)]
    leader = mark_box(stood[0])
    end = ends[0] if ends else Point(leader.right + box.left, leader.centre.y + box.bottom)
    near = min(words, key=lambda one: abs(one.centre.y - end.y))
    assert min(abs(near.left - end.x), abs(near.right - end.x)) <= 2 * LEADER_GAP_MM


def tops(template: Template, taken: tuple[Box, ...] = (), *, is_turned: bool) -> list[TextMark]:
    told, label = finish_template(template, taken, is_turned=is_turned)
    return [mark for mark in words_in((*told.marks, *label)) if mark.text == "top"]


@pytest.mark.parametrize(
    ("name", "part", "is_turned", "is_named"),
    [
        ("field-bag", "buckle-tab", True, True),  # it lies on its side, its label beside it upright
        ("field-bag", "buckle-tab", False, False),
        ("field-bag", "pocket", True, False),  # its label inside is turned with it
        ("field-bag", "gusset-side", True, False),  # both its ends are named
    ],
)
def test_the_top_is_named_where_a_label_does_not_read_as_its_piece_stands(
    name: str, part: str, is_turned: bool, is_named: bool
) -> None:
    template = template_of(name, part)
    found = tops(template, is_turned=is_turned)
    assert len(found) == is_named
    box, offset = outline_box(template.piece.outline), template.offset
    for mark in found:
        own = mark_box(mark)
        assert mark.angle_deg == 0.0
        assert box.centre.y < own.bottom - offset.y
        assert own.top - offset.y < box.top
        others = [one for one in words_in(template.marks) if boxes_overlap(mark_box(one), own)]
        assert not others


def test_the_top_is_named_clear_of_where_sheets_meet_and_left_out_where_nothing_is_free() -> None:
    template = template_of("field-bag", "buckle-tab")
    (own,) = tops(template, is_turned=True)
    box = mark_box(own)
    across = Box(0, box.bottom, template.width_mm, box.top)
    (moved,) = tops(template, (across,), is_turned=True)
    assert not boxes_overlap(mark_box(moved), across)
    assert not tops(template, (Box(0, 0, template.width_mm, template.height_mm),), is_turned=True)


def apart_mm(one: TextMark, other: TextMark) -> float:
    """How much white is between words on one line; of those that are on none, infinite."""
    own, its = mark_box(one), mark_box(other)
    on_one_line = own.bottom < its.top and its.bottom < own.top
    return max(its.left - own.right, own.left - its.right) if on_one_line else math.inf


@pytest.mark.parametrize(("name", "part"), [("bucket", "tab"), ("crossbody", "tab"), ("field-bag", "buckle-tab")])
def test_top_is_not_read_on_to_the_size_of_a_punch(name: str, part: str) -> None:
    """On the ring tab of the bucket it stood 1.2 mm before the words "4 mm"."""
    template = template_of(name, part)
    (top,) = tops(template, is_turned=True)
    sizes = [mark for mark in words_in(template.marks) if mark.text[0].isdecimal()]
    assert sizes
    assert all(apart_mm(top, size) > 3.9 for size in sizes)


@pytest.mark.parametrize(("wide_mm", "is_apart"), [(110.0, True), (36.0, True), (27.0, False)])
def test_the_name_of_what_lands_is_not_read_on_from_the_size_of_a_punch(wide_mm: float, is_apart: bool) -> None:
    """A strip of 9 mm on a panel, with a hole in it: its name stands on the line of the words "4 mm", 4 mm from them at
    least, and nearer only where it would not be named."""
    landed = Landing(
        piece="welt", outline=box_path(Box(2.0, 60.0, 2.0 + wide_mm, 69.0)), dx_mm=0.0, dy_mm=0.0, title="Welt"
    )
    hole = Hole(at=Point(7.0, 64.5), diameter_mm=4.0)
    outline = rectangle_outline(120.0, 90.0)
    panel = make_piece("panel", outline, material="leather", shape="rectangle", holes=(hole,), landings=(landed,))
    size, name = sorted(words_in(draw_piece(panel, STYLE, "mm")), key=lambda mark: mark_box(mark).left)
    assert (size.text, name.text) == ("4 mm", "Welt")
    assert (apart_mm(name, size) > 3.9) == is_apart
    assert apart_mm(name, size) > 0.3
