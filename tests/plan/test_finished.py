"""Outside measures of the finished article, worked out by hand beside each."""

from collections.abc import Callable
from pathlib import Path

import pytest
from built import built
from demos import demo_plan
from short_specs import seam
from spec_text import HEAD

from docgen.assemble import Assembled
from docgen.checks import resolve_build
from docgen.plan import Plan, plan_work
from docgen.read import read_spec


def measures(plan: Plan) -> dict[str, float]:
    """What is measured outside, by its case, mm."""
    return {
        item.case: _mm(dict(item.due)["length"]) for item in plan.finished if dict(item.values).keys() == {"without"}
    }


def _mm(told: str) -> float:
    """`12 in (304.8 mm)`, or `304.8 mm (12 in)`."""
    return float(next(part.split()[0] for part in told.replace(")", "").split("(") if part.strip().endswith("mm")))


def test_a_turned_seam_takes_its_allowance_off_all_round() -> None:
    """Panels of 220 x 160 mm sewn 4 mm in at both sides and the foot; a gusset of 50 mm sewn 4 mm in on both sides. The
    piping that stands out over the seams is not in the depth from stitch line to stitch line."""
    assert measures(built("crossbody").plan) == {"width": 220 - 8, "height": 160 - 4, "depth": 50 - 8}


def test_a_tube_is_as_long_as_between_the_seams_of_its_ends() -> None:
    """A body 300 mm wide sewn 4 mm in on both sides; ends of 120 mm, 30 mm of their height turned in as a hem."""
    assert measures(built("tote").plan) == {"between_ends": 292, "height": 290, "over_ends": 120}


def test_a_round_article_is_measured_across_its_foot() -> None:
    """A base 160 mm across, and a wall of 220 mm that is sewn to it 4 mm in; the tabs stand over its mouth."""
    assert measures(built("bucket").plan) == {"across": 160, "floor_height": 220 - 4}


def test_what_hangs_free_is_left_out_and_said() -> None:
    plan = demo_plan("satchel")
    told = {item.case: dict(item.values)["without"] for item in plan.finished if "without" in dict(item.values)}
    assert told == dict.fromkeys(("width", "height", "depth"), ", without Flap")
    assert measures(plan)["width"] == pytest.approx(304.8)


def test_a_flap_of_one_piece_with_the_back_is_not_in_the_depth() -> None:
    """A gusset of 1 3/4 in sewn 5/32 in in on both sides; the back bends over it at 1 3/4 in, down to the flap."""
    assert measures(built("hip-pouch").plan) == pytest.approx(
        {"width": 177.8, "height": 127.0, "depth": 36.51}, abs=0.01
    )


def test_what_lies_half_open_has_no_outside_measures() -> None:
    """A folder whose covers stand up from its spine: the box round it is no size of the closed one."""
    assert measures(built("folder").plan) == {}


def test_a_ring_is_measured_between_the_folds_of_its_hems(resolve_text: Callable[[str], Assembled]) -> None:
    """A wall of 170 mm whose mouth is turned over by 20 mm, sewn 4 mm in to a base 100 mm across; its hem may be on either
    side of the strip."""
    for mouth, foot in (("left", "right"), ("right", "left")):
        build = resolve_text(
            '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "100 mm"\n'
            '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["170 mm", "solve"]\n'
            f'hems = [{{ edges = "{mouth}", turn = "20 mm" }}]\n'
            '[joins.tube]\nof = ["wall"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
            + seam("hem", f"wall: {mouth}", "wall")
            + seam("foot", "base: edge", f"tube: {foot}")
        )
        assert measures(plan_work(build)) == {"across": 100, "floor_height": 170 - 20 - 4}


def test_a_keeper_which_is_closed_has_no_ends_to_be_measured_between() -> None:
    measured = [dict(item.values).get("title") for item in demo_plan("belt").finished]
    assert measured == ["Belt"]


def test_the_depth_of_a_box_of_five_pieces_lies_between_the_rows_of_its_ends(tmp_path: Path) -> None:
    """Ends and base of 90 mm, sewn 4 mm in on both sides, edges outward: base and ends reach over the panels by that."""
    text = "".join(
        f'[pieces.{name}]\nof = "body"\nshape = "rectangle"\nsize = ["{wide} mm", "{high} mm"]\n'
        for name, wide, high in (("front", 200, 150), ("end", 90, 150), ("base", 200, 90))
    )
    text = text.replace("[pieces.end]", "[pieces.end]\ncut = 2")
    text += '[pieces.back]\nlike = "front"\n'
    for name, one, other in (
        ("foot-front", "base: top", "front: bottom"),
        ("foot-back", "base: bottom", "back: bottom"),
        ("foot-left", "base: left", "end 1: bottom"),
        ("foot-right", "base: right", "end 2: bottom"),
        ("front-left", "front: left", "end 1: right"),
        ("front-right", "front: right", "end 2: left"),
        ("back-left", "back: right", "end 1: left"),
        ("back-right", "back: left", "end 2: right"),
    ):
        text += seam(name, one, other)
    path = tmp_path / "box.toml"
    path.write_text(HEAD.replace('show = "mm"', 'show = "mm"\nfront = "front"') + text, encoding="utf-8")
    assert measures(plan_work(resolve_build(read_spec(path))))["depth"] == 90 - 8


def test_a_bag_is_as_wide_as_its_panels_also_where_one_is_let_into_a_ring_by_a_hair_askew(
    resolve_text: Callable[[str], Assembled],
) -> None:
    """Two panels of 231 x 143 mm on a ring of two strips, sewn 4 mm in; 60 mm lie between the rows of the strips."""
    panel = 'of = "body"\nshape = "rectangle"\nsize = ["231 mm", "143 mm"]\nround = "22 mm"\n'
    notches = 'notches = [{ on = "bottom" }, { on = "top" }]\n'
    strip = '[pieces.{}]\nof = "body"\nshape = "strip"\nsize = ["68 mm", "{}"]\n'
    strip += 'notches = [{{ on = "left" }}, {{ on = "right" }}]\n'
    build = resolve_text(
        f'[pieces.front]\n{panel}{notches}[pieces.back]\nlike = "front"\nmarks = false\n{notches}'
        + strip.format("over", "300 mm")
        + strip.format("under", "solve")
        + '[joins.ring]\nof = ["under", "over"]\noverlap = "12 mm"\nstitch = "main"\nring = true\n'
        + seam("front", "front: all", "ring: left")
        + seam("back", "back: all", "ring: right")
    )
    assert measures(plan_work(build)) == {"width": 231, "height": 143, "depth": 60}


ZIP = '[trimmings.zip]\nwhat = "coil zip"\nkind = "zip"\n%sthickness = "0.6 mm"\n'
FLAT = ZIP + "<back>\n<bare front>\n" + seam("round", "front: left bottom right", "back: right bottom left")


def zipped(more: str, edges: str = "top") -> str:
    return "".join(
        seam(name, f"{part}: {edges}", f"zip: {tape}", more=more)
        for name, part, tape in (("a", "front", "left"), ("b", "back", "right"))
    )


@pytest.mark.parametrize(
    ("more", "beyond_mm"),
    [('lap = "9 mm"\n', 16 - 9), ("turned = true\n", 16 - 4 - 4)],  # half of 32 mm; turned in by 4 mm, and sewn there
)
def test_half_of_a_zip_stands_out_above_a_flat_pouch(
    resolve_text: Callable[[str], Assembled], more: str, beyond_mm: float
) -> None:
    plan = plan_work(resolve_text(FLAT % 'width = "32 mm"\n' + zipped(more)))
    assert measures(plan) == {"width": 200, "height": 150 + beyond_mm}


@pytest.mark.parametrize(("width", "more"), [("", 'lap = "9 mm"\n'), ('width = "32 mm"\n', "")])
def test_a_height_is_told_without_a_zip_of_which_it_is_not_known_what_shows(
    resolve_text: Callable[[str], Assembled], width: str, more: str
) -> None:
    plan = plan_work(resolve_text(FLAT % width + zipped(more)))
    told = {item.case: dict(item.values)["without"] for item in plan.finished if "without" in dict(item.values)}
    assert told == {"width": "", "height": ", without coil zip"}


@pytest.mark.parametrize(
    ("text", "runs"), [(FLAT % "" + zipped('lap = "9 mm"\n'), ["coil zip"]), (FLAT.removeprefix(ZIP), [])]
)
def test_each_zip_that_is_sewn_in_is_run(resolve_text: Callable[[str], Assembled], text: str, runs: list[str]) -> None:
    plan = plan_work(resolve_text(text))
    assert [dict(item.due)["zips"] for item in plan.finished if item.case == "zip_runs"] == runs
