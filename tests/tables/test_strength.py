"""Strength of seams and threads."""

import pytest

from docgen.tables.strength import find_thread_strength_n, is_ample, seam_strength_n
from docgen.written.units.table import N_PER_LB


@pytest.mark.parametrize("stitch_type", ["saddle stitch", "209"])
def test_two_legs_of_a_loop_by_hand_carry_what_they_do_in_301(stitch_type: str) -> None:
    """Our reading, no published source; the examples of the source itself are in whole/test_worked_examples.py."""
    assert seam_strength_n(10, 4.0 * N_PER_LB, stitch_type) / N_PER_LB == pytest.approx(60, abs=0.01)


@pytest.mark.parametrize(
    ("tex", "fibre", "lb"),
    [
        (45, "nylon", 7),  # this and the other nylons from memory but 210; of two figures the lower
        (70, "nylon", 11),
        (90, "nylon", 14),
        (135, "nylon", 22),
        (140, "nylon", 22),
        (210, "nylon", 32),  # jsrz.com says 35, charts from memory 32
        (270, "nylon", 42),
        (350, "nylon", 52),
        (70, "polyester", 11),  # thethreadexchange.com
        (135, "polyester", 20.8),  # jsrz.com
    ],
)
def test_a_thread_has_the_strength_of_its_label(tex: float, fibre: str, lb: float) -> None:
    assert find_thread_strength_n(tex, fibre) == pytest.approx(lb * N_PER_LB)


@pytest.mark.parametrize(("tex", "fibre"), [(135, "linen"), (135, ""), (120, "nylon"), (45, "polyester")])
def test_a_thread_without_a_figure_has_none(tex: float, fibre: str) -> None:
    assert find_thread_strength_n(tex, fibre) == 0.0


def test_bonded_nylon_of_tex_90_is_above_its_specification() -> None:
    # Ford WSS-M15H51-B2, "Thread, nylon, four ply, Tex 90": at least 54 N.
    assert find_thread_strength_n(90, "nylon") >= 54


@pytest.mark.parametrize(("load_n", "is_so"), [(1.0, True), (9.9, True), (10.1, False), (50.0, False), (1000.0, False)])
def test_thread_of_a_hundred_newtons_is_ample_up_to_a_tenth_of_that(load_n: float, is_so: bool) -> None:
    assert is_ample(100.0, load_n) is is_so  # ten times: our choice, no published source
