"""What is bought is rounded up, told in the other unit as near as that is enough, and a float's last bits do not count."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.written.units.telling import buy_area_mm2, buy_run_mm, format_bought_area, format_bought_run, round_up


@pytest.mark.parametrize(
    ("value", "places", "up"),
    [(0.762, 2, 0.77), (0.77, 2, 0.77), (0.1 + 0.2, 1, 0.3), (0.0151, 2, 0.016), (0.0, 2, 0.0), (12.0, 1, 12.0)],
)
def test_numbers_go_up(value: float, places: int, up: float) -> None:
    assert round_up(value, places) == pytest.approx(up)


@pytest.mark.parametrize(
    ("mm", "show", "said"),
    [
        (762.0, "mm", "0.77 m (0.84 yd)"),
        (762.0, "in", "0.84 yd (0.77 m)"),
        (254.0, "mm", "0.26 m (0.28 yd)"),
        (914.4, "in", "1 yd (0.92 m)"),
        (1594.0, "in", "1.75 yd (1.6 m)"),
    ],
)
def test_a_length_to_buy_is_never_less(mm: float, show: str, said: str) -> None:
    assert format_bought_run(mm, show) == said


def test_an_area_to_buy_is_never_less() -> None:
    assert format_bought_area(5.001 * 92903.04, "in") == "5.01 sq ft (46.5 dm²)"
    assert format_bought_area(46.51 * 10000, "mm") == "46.6 dm² (5.02 sq ft)"


@given(st.floats(1, 1e6), st.sampled_from(["in", "mm"]))
def test_bought_is_at_least_what_is_needed_and_hardly_more(mm: float, show: str) -> None:
    assert mm - 1e-2 <= buy_run_mm(mm, show) <= mm + 10
    assert mm - 1e-2 <= buy_area_mm2(mm, show) <= mm + 1000
