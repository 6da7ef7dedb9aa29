"""Strength of seams against worked examples of the source."""

import pytest

from docgen.tables.strength import find_thread_strength_n, is_ample, seam_strength_n
from docgen.written.units.table import N_PER_KG, N_PER_LB


# American & Efird, "Stitches per inch - what you should know", pages 32-33: pounds per inch of seam.
@pytest.mark.parametrize(
    ("spi", "thread_lb", "stitch_type", "seam_lb", "tolerance"),
    [
        (10, 4.0, "301", 60, 0.01),
        (10, 4.0, "401", 68, 0.01),
        (6, 2.6, "301", 23.4, 0.01),
        (8, 2.6, "301", 31.2, 0.01),
        (10, 2.6, "301", 39.0, 0.01),
        (12, 2.6, "301", 46.8, 0.01),
        (6, 2.2, "301", 20, 0.5),  # this series is rounded in the source
        (8, 2.2, "301", 26, 0.5),
        (10, 2.2, "301", 33, 0.5),
        (12, 2.2, "301", 40, 0.5),
        (10, 4.0, "saddle stitch", 60, 0.01),  # two legs of a loop as in 301: our reading, no published source
        (10, 4.0, "209", 60, 0.01),
    ],
)
def test_worked_examples_of_the_source(
    spi: int, thread_lb: float, stitch_type: str, seam_lb: float, tolerance: float
) -> None:
    assert seam_strength_n(spi, thread_lb * N_PER_LB, stitch_type) / N_PER_LB == pytest.approx(seam_lb, abs=tolerance)


def test_units_of_force_are_exact() -> None:
    # NIST SP 811 (2008), appendix B.8: 1 lbf = 4.448222 N, 1 kgf = 9.80665 N; one is the other times 0.45359237.
    pound_force = N_PER_KG * 0.45359237
    assert pound_force == pytest.approx(N_PER_LB, rel=1e-12)


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
