"""Tables for a spreadsheet: the same numbers as the plan, in the unit of their headings."""

import math
from dataclasses import replace

import pytest
from demos import unpriced_build

from docgen.pages import make_csv_tables
from docgen.pages.marks.page import CsvTable
from docgen.plan import Plan, plan_work
from docgen.resolve import Costs, Price

DM2_PER_SQFT = 9.290304  # 1 ft = 3.048 dm, exact
NUMBER_HEADS = ("(mm)", "(in)", "(dm2)", "(sq ft)", "(m)", "(yd)")


def make_plan(name: str = "field-bag", makes: int = 1) -> Plan:
    return plan_work(replace(unpriced_build(name), makes=makes))


def priced(name: str = "field-bag", makes: int = 12, currency: str = "crowns") -> Plan:
    build = unpriced_build(name)
    price = Price(amount=10.0 / 92903.04, per="area", words="10 per sq ft")
    first = replace(build.materials[0], price=price)
    costs = Costs(currency=currency)
    return plan_work(replace(build, makes=makes, materials=(first, *build.materials[1:]), costs=costs))


def find(plan: Plan, name: str) -> CsvTable:
    return next(table for table in make_csv_tables(plan) if table.name == name)


def columns(table: CsvTable, heading: str) -> list[str]:
    return [row[table.headings.index(heading)] for row in table.rows]


def test_there_is_a_table_for_each_list_and_one_of_costs_with_prices() -> None:
    names = ["pieces", "straps", "materials", "hardware", "thread"]
    assert [table.name for table in make_csv_tables(make_plan())] == names
    assert [table.name for table in make_csv_tables(priced())] == [*names, "cost"]


@pytest.mark.parametrize("name", ["field-bag", "notebook-sleeve"])
def test_every_row_has_a_cell_for_each_heading_and_numbers_are_plain(name: str) -> None:
    for table in make_csv_tables(priced(name)):
        assert len(set(table.headings)) == len(table.headings)
        for row in table.rows:
            assert len(row) == len(table.headings)
            for heading, cell in zip(table.headings, row, strict=True):
                if heading.endswith(NUMBER_HEADS) and cell:
                    assert float(cell) >= 0
                    assert set(cell) <= set("0123456789.")


@pytest.mark.parametrize("makes", [1, 12])
def test_areas_of_pieces_and_straps_add_up_to_the_material(makes: int) -> None:
    plan = make_plan(makes=makes)
    materials = find(plan, "materials")
    for row in materials.rows:
        title, net = row[1], float(row[materials.headings.index("pieces together (dm2)")])
        total = 0.0
        for name in ("pieces", "straps"):
            table = find(plan, name)
            place, at = table.headings.index("area of all (dm2)"), table.headings.index("material")
            total += sum(float(cells[place]) for cells in table.rows if cells[at] == title)
        assert total == pytest.approx(net, abs=0.002 * len(plan.build.pieces))


def test_both_units_say_the_same() -> None:
    """1 in = 25.4 mm, 1 sq ft = 9.290304 dm2, 1 yd = 0.9144 m, all exact."""
    factors = {("mm", "in"): 25.4, ("dm2", "sq ft"): DM2_PER_SQFT, ("m", "yd"): 0.9144}
    seen = set()
    for table in make_csv_tables(make_plan()):
        for (metric, imperial), factor in factors.items():
            for heading in table.headings:
                if not heading.endswith(f"({metric})") or "1/100" in heading:
                    continue
                other = heading.replace(f"({metric})", f"({imperial})")
                for one, two in zip(columns(table, heading), columns(table, other), strict=True):
                    assert (one == "") == (two == "")
                    if one:
                        assert float(one) == pytest.approx(float(two) * factor, rel=2e-3, abs=6e-3)
                        seen.add((metric, imperial))
    assert seen == set(factors)


def test_pieces_stand_in_the_order_of_cutting() -> None:
    table = find(make_plan(), "pieces")
    groups = columns(table, "cut as")
    assert [*dict.fromkeys(groups)] == ["panels", "small", "under"]
    assert groups == sorted(groups, key=["panels", "small", "under"].index)
    assert columns(table, "order") == [str(place + 1) for place in range(len(groups))]


def test_hardware_is_split_by_post() -> None:
    plan = make_plan()
    rivet = next(item for item in plan.hardware if item.hardware.name == "rivet")
    split = replace(rivet, posts=((6.0, 8), (8.0, 6)), tried=((6.0, 2),))
    table = find(replace(plan, hardware=(split,)), "hardware")
    rows = [row for row in table.rows if row[0] == "rivet"]
    assert [(row[2], row[3], row[-1]) for row in rows] == [("8", "6", ""), ("6", "8", ""), ("2", "6", "to try")]


def test_costs_end_with_the_batch_and_one_make() -> None:
    plan = priced()
    assert plan.cost is not None
    table = find(plan, "cost")
    assert table.headings[-1] == "sum (crowns)"
    batch, each = table.rows[-2:]
    assert (batch[0], batch[2], each[0]) == ("batch", "12", "one make")
    # 10 a square foot: the sum is ten times the area bought, which is rounded up to a hundredth.
    bought = math.ceil(plan.materials[0].gross_mm2 / 92903.04 * 100) / 100
    assert float(batch[-1]) == pytest.approx(10 * bought, abs=0.006)
    assert float(each[-1]) == pytest.approx(float(batch[-1]) / 12, abs=0.006)
    assert "no price is named" in [row[0] for row in table.rows]


@pytest.mark.parametrize(("currency", "named"), [("crowns", "sum (crowns)"), ("", "sum (money)")])
def test_what_is_summed_is_named_with_its_currency_where_there_is_one(currency: str, named: str) -> None:
    assert find(priced(currency=currency), "cost").headings[-1] == named
