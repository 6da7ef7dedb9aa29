"""Linings that a step glues in and a later one sews: they are drawn at the first. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import TakenApart
from docgen.pages.pictures.step_drawing import set_scene

TIN = (
    '[pieces.end]\nof = "body"\ncut = 2\nshape = "circle"\ndiameter = "120 mm"\n'
    '[pieces.lining]\nof = "cloth"\ncut = 2\nlike = "end"\nlines = ["end"]\n'
    '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["200 mm", "solve"]\n'
    '[joins.tube]\nof = ["wall"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
    + seam("left", "lining 1: edge", "end 1: edge", "tube: left")
    + seam("right", "lining 2: edge", "end 2: edge", "tube: right")
)
GLUE = step("Glue the linings behind the ends.", pieces="end lining", tools="contact cement")
CLOSE = step("Close the wall.", joins="tube") + step("Sew the ends in.", seams="left right")


def test_a_lining_that_a_later_seam_holds_is_drawn_where_it_is_glued(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(TIN + GLUE + CLOSE))
    _, heaps = apart.heaps(0)
    assert {copy.part for heap in heaps for copy in heap.new} == {"end", "lining"}
    (late,) = apart.heaps(2)[1]
    assert {tuple(sorted(copy.part for copy in one.copies)) for one in late.moved} == {("end", "lining")}


def test_it_is_drawn_at_its_seam_where_nothing_glues_it_before(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(TIN + CLOSE))
    assert apart.heaps(0)[1] == []
    assert {copy.part for heap in apart.heaps(1)[1] for copy in heap.new} == {"end", "lining", "tube"}


def test_a_lining_with_a_pocket_on_it_stays_between_what_a_step_takes_apart(resolve_text: Resolve) -> None:
    """Sewn in with the wall: it was lifted past that, out before the bag."""
    text = (
        piece("front", 200, 150)
        + piece("back", 200, 300)
        + piece(
            "lining", 200, 150, 'lines = ["back"]\nlandings = [{ piece = "slip", at = "centre, middle" }]\n', "cloth"
        )
        + piece("slip", 100, 60)
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
        + seam("on", "slip: left bottom right", "lining")
        + seam(
            "round",
            "back: left bottom right from bottom 150 mm to bottom 150 mm",
            "lining: left bottom right",
            "wall: left",
        )
        + seam("last", "front: left bottom right", "wall: right")
        + step("Sew the pocket on.", seams="on")
        + step("Sew the wall in.", seams="round")
        + step("Sew the front in.", seams="last")
    )
    apart = TakenApart(resolve_text(text))
    bodies, (heap,) = apart.heaps(1)
    shown = set_scene(bodies, heap, apart.joined(heap, 1, bodies)).drawing.shown
    (way,) = {tuple(round(x, 6) for x in one.way) for one in heap.moved}
    far = {one.body.copy.part: sum(a * b for a, b in zip(one.shift, way, strict=True)) for one in shown}
    assert far["back"] == 0 < far["lining"] == far["slip"] < far["wall"]


def test_a_board_without_its_host_lies_behind_what_it_is_said_to_be_like(resolve_text: Resolve) -> None:
    """The base has the lid's shape, and its board the base's: it was laid on the lid."""
    text = piece("lid", 200, 120) + '[pieces.base]\nlike = "lid"\n'
    text += '[pieces.board]\nof = "pad"\nlike = "base"\ninset = "10 mm"\n'
    text += step("Glue the board in.", pieces="lid base board", tools="contact cement")
    (lies,) = resolve_text(text).assembly.lies
    assert (lies.copy.part, lies.host.part) == ("board", "base")


def test_linings_of_a_wall_closed_in_rings_lie_once_and_where_their_seams_sew_them(resolve_text: Resolve) -> None:
    """Lid of 2 mm, wall of 2, its lining of 0.5 at that edge: the strips were laid besides their rings, and the upper
    ring under the lower seam."""
    text = piece("lid", 200, 120) + '[pieces.base]\nlike = "lid"\n'
    for name, wide, of, more in (
        ("wall", 100, "body", ""),
        ("high", 40, "cloth", 'lines = ["tube"]\n'),
        ("low", 40, "cloth", 'lines = ["tube"]\n'),
    ):
        text += f'[pieces.{name}]\nof = "{of}"\nshape = "strip"\nsize = ["{wide} mm", "solve"]\n{more}'
    for name, strip in (("tube", "wall"), ("high-ring", "high"), ("low-ring", "low")):
        text += f'[joins.{name}]\nof = ["{strip}"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
    text += seam("up", "lid: all", "tube: left", "high-ring: left")
    text += seam("down", "base: all", "tube: right", "low-ring: right")
    text += step("Close.", joins="tube") + step("Close the linings.", pieces="high low", joins="high-ring low-ring")
    assembly = resolve_text(text + step("Sew.", seams="up down")).assembly
    assert {lies.copy.part for lies in assembly.lies} == {"high-ring", "low-ring"}
    assert [assembly.stack(name).usual_mm for name in ("up", "down")] == pytest.approx([4.5, 4.5])
    assert not any(assembly.stack(name).landed for name in ("up", "down"))


@pytest.mark.parametrize(("lands", "sewn", "lines"), [(True, "", False), (False, "", True), (True, "mat: all", True)])
def test_what_is_as_large_as_another_piece_lines_it_unless_it_lands_elsewhere(
    resolve_text: Resolve, lands: bool, sewn: str, lines: bool
) -> None:
    """Cloth as large as a pad, which is written to lie in the middle of a tray and is sewn to the pad in no seam."""
    on_tray = 'landings = [{ piece = "mat", at = "centre, middle" }]\n' if lands else ""
    text = (
        piece("tray", 200, 150, on_tray)
        + piece("pad", 100, 80)
        + piece("mat", 100, 80, of="cloth")
        + piece("cover", 100, 80)
        + seam("round", "pad: all", "cover: all", *([sewn] if sewn else []))
        + step("Glue the mat in.", pieces="tray mat pad", tools="contact cement")
        + step("Sew round.", seams="round")
    )
    build = resolve_text(text)
    hosts = {lies.host.part for lies in build.assembly.lies if lies.copy.part == "mat"}
    assert ("pad" in hosts) == lines
    assert ("tray" in hosts) == lands
