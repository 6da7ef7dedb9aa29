"""The second layer of a doubled strap is cut, bought, weighed, costed and sewn through; sums done by hand."""

from pathlib import Path

import pytest
from on_paper import texts
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.pages import Choices, choices_of, lay_out, make_csv_tables
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

BELT = write_out("""\
<spec belt: Lined belt, version 1>
show = "mm"
makes = 3
[materials]
hide = { kind = "leather", thickness = "3 mm", density = "1 g/cm3", waste = "0 %", price = "10 per dm2" }
soft = { title = "calf", kind = "leather", thickness = "1 mm", density = "1 g/cm3", waste = "20 %", price = "4 per dm2" }
<stitch main: by machine, Tex 90 bonded nylon, 4 mm, 4 mm>
[straps.belt]
title = "Belt"
of = "hide"
width = "30 mm"
finished = "500 mm"
doubled = true
lining = "soft"
stitch = "main"
cut = 2
ends = [{ shape = "square" }, { shape = "turned", back = "60 mm", around = "ring", takes = "rivet" }]
[hardware]
ring = { what = "ring", count = 2, inside = "32 mm", bar = "4 mm" }
rivet = { what = "rivet", count = 2 }
<step "Make the belt.": straps = ["belt"]>
""")


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    path = tmp_path / "belt.toml"
    path.write_text(BELT, encoding="utf-8")
    return plan_work(resolve_build(read_spec(path)))


def test_it_is_cut_as_long_as_the_finished_strap_and_bought_with_its_waste(plan: Plan) -> None:
    """6 of 30 x 500 mm are 9 dm2; a fifth lost of the whole: 11.25 dm2."""
    soft = plan.materials[1]
    (item,) = soft.straps
    assert (item.title, item.is_lining, item.count, item.length_mm) == ("Belt, second layer", True, 6, 500.0)
    assert (soft.net_mm2, soft.gross_mm2) == pytest.approx((90_000, 112_500))


def test_it_is_weighed_and_costed(plan: Plan) -> None:
    """90 cm3 in three makes weigh 90 g at 1 g/cm3; 11.25 dm2 are bought as 11.3, which at 4 are 45.20."""
    assert {weight.name: weight.grams for weight in plan.weights}["calf"] == pytest.approx(90.0)
    assert plan.cost is not None
    assert {line.what: line.amount for line in plan.cost.lines}["calf"] == pytest.approx(45.2)


def test_it_is_in_the_tables(plan: Plan) -> None:
    straps = next(table for table in make_csv_tables(plan) if table.name == "straps")
    row = dict(zip(straps.headings, straps.rows[1], strict=True))
    assert (row["title"], row["material"], row["count"], row["second layer"]) == (
        "Belt, second layer",
        "calf",
        "6",
        "yes",
    )
    assert (row["width (mm)"], row["cut length (mm)"], row["area of one (dm2)"]) == ("30", "500", "1.5")


def test_it_is_on_the_pages_and_sewn_through(plan: Plan) -> None:
    choices: Choices = choices_of(plan.build.printing)
    documents = {
        document.name: texts(document) for document in lay_out(plan, choices=choices, date="2026-03-04").documents
    }
    cutting = " ".join(documents["cutting-list"])
    assert "Cut from calf" in cutting
    assert "Belt, second" in cutting  # the rest is on its next line
    building = " ".join(documents["build-sheet"])
    assert "second layer of calf, 500 mm long" in building
    assert plan.steps[0].jobs[0].stack_mm == pytest.approx(4.0)
    assert "4 mm thick" in building
