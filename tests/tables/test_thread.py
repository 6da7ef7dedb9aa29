import math

import pytest

from docgen.tables.thread import (
    NEEDLE_SIZES,
    TEX_LABELS,
    THREAD_TO_NEEDLE,
    TICKET_TO_V,
    V_TO_DENIER,
    find_label,
    find_least_needle,
    find_needle,
    format_needle,
    machine_thread_mm,
    saddle_stitch_ratio,
    thread_diameter_mm,
    ticket_tex,
)


def test_saddle_stitch_lies_within_common_practice():
    # Common practice, no published source: 3 to 4 times the seam.
    assert 3 <= saddle_stitch_ratio(3.0, 3.85) <= 4


def test_thread_to_cut_counts_waste_and_tails():
    # 1000 x 2 (1 + 3/3) = 4000; by machine 15 % on top (American & Efird, "Estimating Thread Consumption") and four
    # tails of 100 (common practice, no published source).
    assert machine_thread_mm(1000, 3.0, 3.0) == pytest.approx(5000.0)


def test_needle_prints_both_numbers_where_there_are_two():
    assert format_needle(130) == "130/21"
    assert format_needle(150) == "Nm 150"


@pytest.mark.parametrize(
    ("tex", "least", "most"),
    [(70, 90, 110), (90, 100, 110), (135, 130, 150), (210, 160, 180), (270, 200, 200), (350, 230, 230)],
)
def test_needle_for_thread_lies_within_the_published_range(tex, least, most):
    # V. Desgrange, "Thread for saddle work" (2002).
    needle = find_needle(tex)
    assert needle is not None
    assert least <= needle <= most


@pytest.mark.parametrize(
    ("tex", "needle"),
    [(5, 80), (45, 90), (46.7, 90), (60, 110), (93.3, 110), (140.0, 130), (142, 160), (420, 250), (500, None)],
)
def test_needle_is_that_of_the_first_row_that_serves_the_thread(tex, needle):
    assert find_needle(tex) == needle


def test_every_needle_in_the_table_takes_its_thread_by_the_40_percent_rule():
    # Schmetz dictionary, "Long groove": thread at most 40 % of the blade; nylon.
    for tex, needle in THREAD_TO_NEEDLE.items():
        assert needle in NEEDLE_SIZES
        assert find_least_needle(tex, "nylon") <= needle, tex


def test_thread_diameter_agrees_with_the_estimate_and_the_solid_rod():
    # Nylon 0.0374 sqrt(tex), polyester 0.0340 sqrt(tex); a solid rod of Tex 135 is 0.388 mm (nylon), 0.353
    # (polyester).
    assert thread_diameter_mm(140.0, "nylon") == pytest.approx(0.44, abs=0.005)
    assert thread_diameter_mm(100.0, "nylon") == pytest.approx(0.374, abs=0.001)
    assert thread_diameter_mm(100.0, "polyester") == pytest.approx(0.340, abs=0.001)
    assert thread_diameter_mm(135.0, "nylon") > math.sqrt(4 * 135 / (math.pi * 1140)) == pytest.approx(0.388, abs=0.001)
    assert thread_diameter_mm(135.0, "polyester") > 0.353


def test_linen_diameter_agrees_with_one_measured_thread():
    # Linen hand thread 25/3, 198 tex: 0.57 mm.
    assert thread_diameter_mm(198.0, "linen") == pytest.approx(0.57, abs=0.005)


def test_cotton_thread_is_a_little_thinner_than_linen_of_its_weight():
    # From memory: cotton fills its round at 0.92 g/cm3. sqrt(4 x 100 / (pi x 920)) = 0.372 mm, by hand.
    assert thread_diameter_mm(100.0, "cotton") == pytest.approx(0.372, abs=0.0005)
    assert thread_diameter_mm(100.0, "polyester") < thread_diameter_mm(100.0, "cotton")
    assert thread_diameter_mm(100.0, "cotton") < thread_diameter_mm(100.0, "linen")


def test_thread_without_a_fibre_counts_as_nylon():
    assert thread_diameter_mm(135.0, "") == thread_diameter_mm(135.0, "nylon")


@pytest.mark.parametrize(
    ("tex", "label"),
    [(105, 105), (110, 105), (119.99, 105), (120, 120), (46.7, 45), (13.9, 12), (239, 210), (410, 400)],
)
def test_label_is_the_lower_end_of_the_bracket(tex, label):
    # American & Efird, "Yarn Size Systems and Conversions": 105 to 119.99 g/km is "Tex 105".
    assert find_label(tex) == label


def test_outside_the_brackets_a_thread_is_labelled_with_its_whole_number():
    assert [find_label(tex) for tex in (9.6, 500.2, 1000)] == [10, 500, 1000]


def test_labels_of_bonded_thread_follow_from_their_denier():
    # Makers' labels of V46 to V346: Tex 45, 70, 90, 135, 210, 270, 350; V is the whole part of 0.11 x denier.
    assert [find_label(denier / 9) for denier in V_TO_DENIER.values()] == [45, 70, 90, 135, 210, 270, 350]
    assert all(int(0.11 * denier + 1e-9) == v for v, denier in V_TO_DENIER.items())


def test_tickets_of_bonded_thread_are_rounded_down_by_less_than_a_sixth():
    for ticket, v in TICKET_TO_V.items():
        assert ticket <= ticket_tex(V_TO_DENIER[v] / 9) < ticket * 7 / 6


def test_labels_rise():
    assert list(TEX_LABELS) == sorted(set(TEX_LABELS))
