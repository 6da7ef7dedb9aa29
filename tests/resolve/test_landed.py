"""What lands under a seam: its stack by hand, and once more by shapely."""

import pytest
from shapely.geometry import LineString, box
from spec_text import Resolve, Tell, write_out

from docgen.plan import plan_work
from docgen.resolve import Build

MACHINE = write_out("""\
[machines.flatbed]
lifts = "5 mm"
<stitch own: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
machine = "flatbed"
""")
POCKET = write_out("""\
[materials.thin]
title = "lining calf"
kind = "leather"
thickness = "1.5 mm"
<rectangle pocket of thin: ["{size}", "80 mm"]>
<rectangle front: ["200 mm", "150 mm"]>
[pieces.back]
like = "front"
landings = [{{ piece = "pocket", at = "{at}" }}]
""")
SEAM = '[seams.s]\nstitch = "{stitch}"\nmeet = ["back: {edges}", "front: {edges}"]\n'


def bag(size: str, at: str, edges: str = "bottom", stitch: str = "own") -> str:
    return MACHINE + POCKET.format(size=size, at=at) + SEAM.format(stitch=stitch, edges=edges)


def stack(build: Build) -> tuple[float, float, float]:
    (seam,) = build.seams
    return seam.thinnest_mm, seam.stack_mm, seam.thickest_mm


def test_a_pocket_flush_on_the_bottom_is_at_the_seams_thickest_place(resolve_text: Resolve, cautions: Tell) -> None:
    text = bag("80 mm", "centre, 0 from bottom")
    build = resolve_text(text)
    assert stack(build) == pytest.approx((4, 4, 5.5))
    assert [layer.part for layer in build.seams[0].layers] == ["back", "pocket", "front"]
    (scrap,) = plan_work(build).scraps
    assert (scrap.stack_mm, scrap.materials.count("lining calf")) == (pytest.approx(5.5), 1)
    told = cautions(text)
    assert 'the seam "s" is 5.5 mm thick at its thickest, where "pocket" lies under it, and "flatbed" sews' in told
    assert "stack-beyond-machine, at s" in told


def test_a_pocket_clear_of_the_seam_adds_nothing(resolve_text: Resolve, cautions: Tell) -> None:
    for up in ("10 mm", "4 mm"):  # on the very line its edge is not sewn through
        build = resolve_text(bag("80 mm", f"centre, {up} from bottom"))
        assert stack(build) == pytest.approx((4, 4, 4))
        assert [layer.part for layer in build.seams[0].layers] == ["back", "front"]
    assert "stack-beyond-machine" not in cautions(bag("80 mm", "centre, 10 mm from bottom"))


def test_a_pocket_as_wide_as_the_seam_counts_everywhere(resolve_text: Resolve) -> None:
    assert stack(resolve_text(bag("200 mm", "centre, 0 from bottom"))) == pytest.approx((5.5, 5.5, 5.5))


def test_a_pocket_under_most_of_the_seam_is_its_usual_stack(resolve_text: Resolve) -> None:
    assert stack(resolve_text(bag("150 mm", "centre, 0 from bottom"))) == pytest.approx((4, 5.5, 5.5))


def test_an_inner_row_may_meet_what_the_outer_one_misses(resolve_text: Resolve) -> None:
    rows = MACHINE.replace('inset = "4 mm"\n', 'inset = "4 mm"\nrows = 2\nrow-gap = "5 mm"\n')
    text = bag("80 mm", "centre, 7 mm from bottom").replace(MACHINE, rows)
    assert stack(resolve_text(text)) == pytest.approx((4, 4, 5.5))


def test_a_skived_edge_of_the_pocket_adds_what_is_left_of_it(resolve_text: Resolve) -> None:
    skive = 'skives = [{ edges = "bottom", width = "10 mm", to = "0.6 mm" }]\n'
    text = bag("80 mm", "centre, 0 from bottom").replace('"80 mm", "80 mm"]\n', f'"80 mm", "80 mm"]\n{skive}')
    assert stack(resolve_text(text)) == pytest.approx((4, 4, 4.6))


def test_the_partner_itself_is_as_thin_there_as_its_skive_leaves_it(resolve_text: Resolve) -> None:
    skive = 'skives = [{ edges = "bottom", width = "10 mm", to = "1 mm" }]\n'
    text = bag("80 mm", "centre, 0 from bottom", "left bottom right") + "[care]\n"
    text = text.replace('[pieces.back]\nlike = "front"\n', f'[pieces.back]\nlike = "front"\n{skive}')
    # 2 + 2 at the sides; 1 + 1.5 + 2 over the pocket, and 1 + 2 beside it.
    assert stack(resolve_text(text)) == pytest.approx((3, 4, 4.5))


def test_a_partner_that_lands_is_counted_once(resolve_text: Resolve) -> None:
    text = MACHINE + POCKET.format(size="80 mm", at="centre, 0 from bottom")
    sewn = '[seams.s]\nstitch = "main"\nmeet = ["pocket: left bottom right", "back"]\n'
    build = resolve_text(text + sewn)
    assert stack(build) == pytest.approx((3.5, 3.5, 3.5))


def test_what_else_lands_beneath_a_sewn_on_pocket_counts(resolve_text: Resolve) -> None:
    text = MACHINE + POCKET.format(size="80 mm", at="centre, 20 mm from bottom").replace(
        "landings = [", 'landings = [{ piece = "patch", at = "centre, 10 mm from bottom" }, '
    )
    patch = '[pieces.patch]\nof = "body"\nshape = "rectangle"\nsize = ["30 mm", "30 mm"]\n'
    sewn = '[seams.s]\nstitch = "main"\nmeet = ["pocket: left bottom right", "back"]\n'
    assert stack(resolve_text(text + patch + sewn)) == pytest.approx((3.5, 3.5, 5.5))


@pytest.mark.parametrize("across", [-60, 0, 30, 70, 90, 130, 190])
@pytest.mark.parametrize("up", [-30, 3, 8, 120])
def test_shapely_finds_the_same_thickest_place(resolve_text: Resolve, across: int, up: int) -> None:
    at = f"{across} mm from left, {up} mm from bottom"
    (seam,) = resolve_text(bag("80 mm", at, "left bottom right", stitch="main")).seams
    line = LineString([(4, 150), (4, 4), (196, 4), (196, 150)])
    under = line.intersection(box(across, up, across + 80, up + 80)).length
    assert seam.thickest_mm == pytest.approx(5.5 if under > 0.01 else 4)
    assert seam.stack_mm == pytest.approx(5.5 if under > line.length / 2 else 4)


def test_two_pockets_in_different_places_are_not_laid_on_each_other(resolve_text: Resolve) -> None:
    text = bag("50 mm", "0 from left, 0 from bottom").replace(
        "landings = [", 'landings = [{ piece = "patch", at = "0 from right, 0 from bottom" }, '
    )
    patch = '[pieces.patch]\nof = "body"\nshape = "rectangle"\nsize = ["30 mm", "30 mm"]\n'
    build = resolve_text(text + patch)
    (seam,) = build.seams
    assert stack(build) == pytest.approx((4, 4, 6))
    assert seam.landed == ("patch",)
    (scrap,) = plan_work(build).scraps
    assert scrap.materials.count("lining calf") == 0
