"""Holes that lie on each other through the layers: what each meets, and what a host lacks. Places by hand, in mm."""

from collections.abc import Callable

import pytest
from demos import demo_build
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.resolve import Build, Hole, Piece, by_name

IN_MM = 25.4
TAB = piece("tab", 20, 60, 'folds = [{ at = "20 mm from top" }]\n' + hole("centre, 10 mm from bottom"), of="thin")
FRONT = piece("front", 200, 150, 'landings = [{ piece = "tab", at = "centre, 20 mm from bottom" }]\n%s')
BARE = 'holes = [{ at = "centre, 40 mm from bottom", punch = "4 mm" }]\n'
SET = rivet() + step("Rivet.", pieces="tab front", hardware="rivet")


def piece_of(build: Build, name: str) -> Piece:
    return {piece.name: piece for piece in build.cut}[name]


def landed_holes(build: Build, name: str) -> list[tuple[float, float]]:
    (landing,) = piece_of(build, name).marks.landings
    return [(hole.at.x, hole.at.y) for hole in landing.holes]


def test_a_hole_that_the_host_lacks_is_marked_where_the_tab_brings_it(resolve_text: Resolve) -> None:
    """The tab is 20 wide in the middle of 200, 20 up; folded 20 from its top it is 40 high. Its hole is 10 up: 30."""
    build = resolve_text(FRONT % "" + TAB + SET)
    (landing,) = piece_of(build, "front").marks.landings
    assert path_box(landing.outline) == Box(90, 20, 110, 60)
    assert landed_holes(build, "front") == [(100, 30)]
    assert piece_of(build, "tab").marks.holes[0].meets == ()


def test_a_hole_that_the_host_has_names_its_mate_and_is_named(resolve_text: Resolve) -> None:
    build = resolve_text(FRONT % hole("centre, 30 mm from bottom") + TAB + SET)
    assert landed_holes(build, "front") == []
    assert piece_of(build, "tab").marks.holes[0].meets == ("front",)
    assert piece_of(build, "front").marks.holes[0].meets == ("tab",)


def test_a_rivet_set_before_the_pocket_is_sewn_on_asks_for_no_hole_beneath(resolve_text: Resolve) -> None:
    pocket = piece("tab", 80, 60, hole("centre, middle"), of="thin")
    first = step("Rivet.", pieces="tab", hardware="rivet") + step("Sew.", seams="on")
    text = FRONT % "" + pocket + rivet() + seam("on", "tab: left bottom right", "front")
    assert landed_holes(resolve_text(text + first), "front") == []
    late = step("Sew.", seams="on") + step("Rivet.", pieces="tab", hardware="rivet")
    assert landed_holes(resolve_text(text + late), "front") == [(100, 50)]


def test_a_snap_goes_through_its_own_piece_alone(resolve_text: Resolve) -> None:
    pocket = piece("tab", 80, 60, hole("centre, middle", "snap"), of="thin")
    text = FRONT % "" + pocket + rivet(1, "snap", "snap, line 24") + seam("on", "tab: left bottom right", "front")
    assert landed_holes(resolve_text(text), "front") == []


@pytest.mark.parametrize(("sewn", "lacks"), [(False, [(100.0, 60.0)]), (True, [])])
def test_the_end_of_a_strap_brings_its_holes_unless_it_is_sewn(
    resolve_text: Resolve, sewn: bool, lacks: list[tuple[float, float]]
) -> None:
    """Held 70 from the foot: a hole 10 from the end of a strap that leads down lies at 60."""
    strap = '[straps.pull]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n'
    strap += 'punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }]\n'
    place = 'landings = [{ strap = "pull", at = "centre, 70 mm from bottom", leads = "down", over = "30 mm" }]\n'
    text = piece("front", 200, 150, place) + strap + (seam("on", "pull: left", "front") if sewn else "")
    (end,) = piece_of(resolve_text(text), "front").strap_landings
    assert [(round(hole.at.x, 6), round(hole.at.y, 6)) for hole in end.holes] == lacks


def test_each_hole_of_the_field_bag_that_hardware_goes_through_names_its_mate() -> None:
    """The tab's hole is 2 in from the top of 3 in, so 1 in up; it lands 5 7/8 in up: 6 7/8 in, 3 1/2 in off the middle."""
    build = demo_build("field-bag")
    front, tab = piece_of(build, "front"), piece_of(build, "buckle-tab")
    box = outline_box(front.outline)
    spots = [((hole.at.x - box.centre.x) / IN_MM, (hole.at.y - box.bottom) / IN_MM) for hole in front.marks.holes]
    assert spots == [pytest.approx((-3.5, 6.875)), pytest.approx((3.5, 6.875))]
    assert {hole.meets for hole in front.marks.holes} == {("Buckle tab",)}
    assert {hole.meets for hole in tab.marks.holes} == {("Front panel",)}
    assert {hole.meets for hole in piece_of(build, "back").marks.holes} == {("Closing strap", "Handle")}
    assert meets(build, "handle", lambda hole: hole.diameter_mm > 3.5) == {("Back panel", "Closing strap")}
    assert meets(build, "closing", lambda hole: hole.diameter_mm > 3.5) == {("Back panel", "Handle")}
    assert meets(build, "closing", lambda hole: hole.diameter_mm < 3.5) == {()}
    assert meets(build, "gusset-side", lambda hole: True) == {("Ring tab",)}
    assert meets(build, "ring-tab", lambda hole: True) == {("Gusset",)}
    assert not any(landing.holes for piece in build.pieces for landing in piece.marks.landings)


def meets(build: Build, name: str, is_meant: Callable[[Hole], bool]) -> set[tuple[str, ...]]:
    return {hole.meets for hole in piece_of(build, name).marks.holes if is_meant(hole)}


def test_what_lands_on_the_field_bag_is_as_it_is_folded() -> None:
    """The tab of 3 in, folded 1 1/4 in from its top: 1 3/4 in high, 3/4 in wide. The pocket of 4 3/4 in, its top turned by
    1/2 in: 4 1/4 in. The handle ends in a half circle of 7/8 in, so that its corners lie on no leather."""
    build = demo_build("field-bag")
    sizes = [
        (landing.piece, path_box(landing.outline).width / IN_MM, path_box(landing.outline).height / IN_MM)
        for landing in piece_of(build, "front").marks.landings
    ]
    assert sizes == [
        ("pocket", pytest.approx(8), pytest.approx(4.25)),
        ("buckle-tab", pytest.approx(0.75), pytest.approx(1.75)),
        ("buckle-tab", pytest.approx(0.75), pytest.approx(1.75)),
    ]
    ends = {end.strap: end for end in piece_of(build, "back").strap_landings}
    widths = by_name(build.straps)
    for name, is_square in (("closing", True), ("handle", False)):
        end, half_mm = ends[name], widths[name].width_mm / 2
        corner = end.at._replace(x=end.at.x - half_mm + 0.2, y=end.at.y + 0.2)
        assert is_inside(end.outline, corner) is is_square
        assert path_box(end.outline).height == pytest.approx(1.75 * IN_MM)


def test_a_base_and_what_it_lies_on_that_both_take_the_feet_are_one_place(resolve_text: Resolve) -> None:
    """Each left it to the other to tell where the four are set."""
    own = ", ".join(f'{{ at = "{x} mm from left, middle", punch = "4 mm", takes = "foot"{{0}} }}' for x in (20, 80))
    base = piece("base", 100, 40, "holes = [" + own.replace("{0}", ', through = ["floor"]') + "]\n", of="thin")
    floor = own.replace("{0}", "").replace("20 mm from left", "70 mm from left").replace("80 mm", "130 mm")
    landing = 'landings = [{ piece = "base", at = "centre, middle", inside = true }]\n'
    build = resolve_text(
        piece("floor", 200, 100, f"holes = [{floor}]\n" + landing)
        + base
        + seam("on", "base: all", "floor")
        + rivet(2, "foot", "base stud")
        + step("Sew on the base and screw in the feet.", seams="on", hardware="foot")
    )
    assert isinstance(build, Assembled)
    (foot,) = build.assembly.fastened
    assert (foot.part, foot.count, foot.stack.parts) == ("base", 2, ("floor", "base"))


def test_a_bridge_goes_through_its_host_only_where_it_says_so(resolve_text: Resolve) -> None:
    """A bridge over two bags, laid flat, reaches over the whole back of one; its far end is riveted to the other alone."""
    near, far = (f'"centre, {end} mm from {side}"' for end, side in ((20, "bottom"), (20, "top")))
    holes = ", ".join(
        f'{{ at = {at}, punch = "4 mm", takes = "rivet", through = ["{name}"] }}'
        for at, name in ((near, "left"), (far, "right"))
    )
    left = 'landings = [{ piece = "bridge", at = "centre, 20 mm from bottom" }]\n' + BARE
    text = piece("left", 200, 360, left) + piece("right", 200, 360, BARE)
    text += piece("bridge", 100, 300, f"holes = [{holes}]\n") + rivet(2)
    build = resolve_text(text + step("Rivet.", pieces="left right bridge", hardware="rivet"))
    assert landed_holes(build, "left") == []
    assert isinstance(build, Assembled)
    parts = sorted(sorted(layer.part for layer in one.stack.layers) for one in build.assembly.fastened)
    assert parts == [["bridge", "left"], ["bridge", "right"]]


def test_a_row_of_three_goes_with_a_row_of_three_and_not_with_the_hole_of_another_strip(resolve_text: Resolve) -> None:
    """The tab's own hole meets the tab that lands there; the bridge names the panel three times, whose row is as long."""
    row = 'hole-rows = [{ start = "10 mm from left, 20 mm from top", end = "10 mm from right, 20 mm from top"%s }]\n'
    takes = ', count = 3, punch = "4 mm", takes = "rivet", through = ["front"]'
    front = FRONT % (hole("centre, 30 mm from bottom") + row % ', count = 3, punch = "4 mm"')
    build = resolve_text(front + TAB + piece("bridge", 200, 100, row % takes) + rivet(4))
    assert [one.meets for one in piece_of(build, "front").marks.holes] == [("tab",), *[("bridge",)] * 3]
