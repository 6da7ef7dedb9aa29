"""Cost and weight of a batch, against sums done by hand."""

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

import pytest
from by_hand import CLOTH, make_hardware
from hypothesis import given
from hypothesis import strategies as st

from docgen.plan import Cost, CostLine, plan_work
from docgen.resolve import Costs, Price, Step, Weight

RING = make_hardware("ring", "D ring", 2, price=Price(amount=0.75, per="each", words="0.75 each"))
BY_AREA = Price(amount=12.0 / 92903.04, per="area", words="12 per sq ft")
BY_LENGTH = Price(amount=9.0 / 1000, per="length", words="9 per m")
ROLL = replace(CLOTH, waste=0.0, roll_width_mm=1000.0, price=BY_LENGTH)


def test_a_batch_costs_its_leather_cloth_thread_hardware_and_work(
    make_build, make_piece, make_seam, body, main
) -> None:
    """Leather: 3 sq ft and a quarter lost are 4, bought as 37.2 dm2, at 12 for 9.290304: 48.05.
    Cloth: 3 pieces of 1 m x 0.5 m on a roll of 1 m are
    1.5 m at 9: 13.50. Thread: 3 x 2.332 m at 0.10 a metre: 0.6996. Rings: 6 at 0.75: 4.50. Work: 3 x 50 min = 2.5 h
    at 24: 60. Together, the thread charged as 0.70, 126.75; one make a third of it."""
    leather = replace(body, price=BY_AREA)
    stitch = replace(main, thread_price=Price(amount=0.10 / 1000, per="length", words="0.10 per m"))
    build = make_build(
        makes=3,
        materials=(leather, ROLL),
        stitches=(stitch,),
        hardware=(RING,),
        pieces=(make_piece("a", 304.8, 304.8), make_piece("b", 1000, 500, material="cloth")),
        seams=(make_seam("side", 400, "a", "b"),),
        steps=(Step(do="Cut.", minutes=20), Step(do="Sew.", minutes=30)),
        costs=Costs(currency="crowns", labour=Price(amount=24.0, per="hour", words="24 per hour")),
    )
    cost = plan_work(build).cost
    assert cost is not None
    assert [(line.kind, line.what, line.amount) for line in cost.lines] == [
        ("material", "bridle leather", pytest.approx(37.2 / 9.290304 * 12)),
        ("material", "canvas", pytest.approx(13.5)),
        ("thread", "Tex 135 bonded nylon", pytest.approx(0.6996)),
        ("hardware", "D ring", pytest.approx(4.5)),
        ("labour", "", pytest.approx(60.0)),
    ]
    assert cost.total == pytest.approx(126.75)
    assert cost.each == pytest.approx(126.75 / 3)
    assert (cost.currency, cost.unpriced, cost.minutes, cost.makes) == ("crowns", (), 150, 3)


def test_a_spool_is_charged_by_the_share_that_is_used(make_build, make_seam, main) -> None:
    """2.332 m of a spool of 23.32 m at 30: 3."""
    stitch = replace(main, spool_mm=23320.0, thread_price=Price(amount=30.0, per="each", words="30 each"))
    cost = plan_work(make_build(stitches=(stitch,), seams=(make_seam("side", 400, "a", "b"),))).cost
    assert cost is not None
    assert cost.total == pytest.approx(3.0)


def test_what_has_no_price_is_named(make_build, make_piece, make_seam) -> None:
    build = make_build(pieces=(make_piece("a", 100, 100),), seams=(make_seam("side", 400, "a", "b"),), hardware=(RING,))
    cost = plan_work(build).cost
    assert cost is not None
    assert cost.unpriced == ("bridle leather", "Tex 135 bonded nylon")
    assert cost.total == pytest.approx(1.5)


def test_weights_are_those_of_the_batch_by_title(make_build) -> None:
    build = make_build(
        makes=4, hardware=(RING,), weights=(Weight(name="body", grams=250.0), Weight(name="ring", grams=20.0))
    )
    found = plan_work(build).weights
    assert found == (Weight(name="bridle leather", grams=1000.0), Weight(name="D ring", grams=80.0))


@given(st.lists(st.tuples(st.floats(0, 1e6), st.floats(0, 1e3)), max_size=20), st.integers(1, 1000))
def test_totals_are_the_sum_of_the_lines(lines: list[tuple[float, float]], makes: int) -> None:
    cost = Cost(
        currency="",
        unpriced=(),
        makes=makes,
        minutes=0,
        lines=tuple(
            CostLine(kind="material", what="x", quantity=quantity, price=Price(amount=amount, per="each", words=""))
            for quantity, amount in lines
        ),
    )
    exact = sum(quantity * amount for quantity, amount in lines)
    assert cost.total == pytest.approx(exact, abs=0.005 * len(lines) + 1e-6)
    assert cost.total == pytest.approx(sum(float(f"{line.charged:.2f}") for line in cost.lines))
    assert cost.each * makes == pytest.approx(cost.total)


@given(st.integers(1, 5000), st.integers(1, 50000))
def test_a_line_is_charged_to_a_hundredth_halves_up_as_they_are_written(tenths: int, hundredths: int) -> None:
    """Against decimal fractions: 0.1 x 10.05 is 1.005, and charged as 1.01."""
    price = Price(amount=hundredths / 100, per="each", words="")
    line = CostLine(kind="material", what="x", quantity=tenths / 10, price=price)
    exact = Decimal(tenths) / 10 * Decimal(hundredths) / 100
    assert f"{line.charged:.2f}" == str(exact.quantize(Decimal("0.01"), ROUND_HALF_UP))
