"""Builds of three further kinds, written from README and `docgen keys` alone: an apron, a quiver, a bottle sling. Their
figures worked out by hand."""

import math
from pathlib import Path

import pytest
from built import Built, range_of, strap_of

from docgen.checks import resolve_build
from docgen.read import read_spec

FURTHER = Path(__file__).parent / "further"


def built(name):
    return Built(resolve_build(read_spec(FURTHER / f"{name}.toml")))


def test_an_apron_with_a_divided_pocket_and_a_neck_strap_in_two_parts() -> None:
    found = built("apron")
    # 160 - 15 down both sides, corners of 15 mm with stitches 11 mm round, 320 - 30 along the foot.
    pocket_mm = 2 * 145 + math.pi * 11 + 290
    assert found.seam("pocket").length_mm == pytest.approx(pocket_mm)
    divider = found.run("pocket")
    assert (divider.runs, divider.length_mm, divider.stitches) == (1, pytest.approx(160 - 4), 39)
    assert range_of(divider.stack) == pytest.approx((3.2, 3.2, 3.2))
    # 50 mm back, and half round a bar of 3 mm in leather of 2.5 mm.
    assert strap_of(found.build, "stay").cut_length_mm == pytest.approx(150 + 50 + math.pi * 5.5 / 2)
    # 500 mm worn, less the 150 of the other part; three holes beyond the middle one, and 50 mm to the tip.
    assert strap_of(found.build, "neck").cut_length_mm == pytest.approx(350 + 75 + 50)
    assert [fit.stack.usual_mm for fit in found.made.fastened if fit.hardware == "rivet"] == pytest.approx([4.1] * 3)
    assert sum(fit.count for fit in found.made.fastened if fit.hardware == "rivet") == 4
    assert found.build.cautions == ()


def test_a_quiver_of_one_ring_with_a_sling() -> None:
    found = built("quiver")
    round_mm = math.pi * (110 - 2 * 5)
    assert found.seam("foot").length_mm == pytest.approx(round_mm)
    assert found.cut("tube") == pytest.approx((1, 520, round_mm + 14))
    joint = found.run("body")
    assert (joint.runs, joint.length_mm) == (1, pytest.approx(520 - 10))
    assert range_of(joint.stack) == pytest.approx((2.8, 2.8, 2.8)), "both ends are skived to 1.4 mm"
    # The rounded end: 30 mm of both edges, and a half circle of 15 mm, 5 mm in from the strap of 40.
    sewn_on = [run for run in found.made.runs if run.kind == "landings"]
    assert [run.length_mm for run in sewn_on] == [pytest.approx(60 + math.pi * 15)] * 2
    (rim,) = found.plan.trimmings
    # Round the rim at the cut edge: once round, for the strip closes on itself; 15 mm more at each end.
    assert [cut.length_mm for cut, _ in rim.cuts] == [pytest.approx(round_mm + 30)]
    assert [item.problem.at for item in found.build.accepted] == ["tube"]


def test_a_bottle_sling_riveted_to_two_rings() -> None:
    found = built("bottle")
    assert found.seam("foot").length_mm == pytest.approx(math.pi * 75)
    assert found.cut("wall") == pytest.approx((1, 60, math.pi * 75 + 12))
    assert strap_of(found.build, "upright").cut_length_mm == pytest.approx(150 + 40 + math.pi * 5 / 2)
    keeper = strap_of(found.build, "loops-keeper")
    assert keeper.cut_length_mm == pytest.approx(2 * (20 + 4) + math.pi * 1 + 2 + 12), "1 mm of leather, 2 of room"
    assert {fit.stack.usual_mm for fit in found.made.fastened if fit.hardware == "rivet"} == {4.0}
    assert sum(fit.count for fit in found.made.fastened if fit.hardware == "rivet") == 8
    assert found.build.cautions == ()
