"""Kinds of hardware, posts and densities. The figures are common practice, no published source, or from memory."""

import pytest

from docgen.tables.hardware import (
    HARDWARE_KINDS,
    POST_OVER_STACK_MM,
    choose_post,
    find_kind,
    find_post_mm,
    find_slack_mm,
    miss_post,
)
from docgen.tables.material import find_density


@pytest.mark.parametrize(
    ("what", "kind"),
    [
        ("double-cap rivet, 9 mm cap", "rivet"),
        ("tubular rivets", "tubular-rivet"),
        ("swivel snap hook, 20 mm", "other"),
        ("single-cap rivet", "tubular-rivet"),
        ("copper rivet and burr, no. 9", "copper-rivet"),
        ("screw post, 1/4 in", "screw-post"),
        ("line 24 snap", "snap"),
        ("D ring, 1 in", "ring"),
        ("roller buckle, 1 in", "buckle"),
        ("eyelet no. 500", "eyelet"),
        ("button stud, 8 mm", "other"),
        ("drawstring", "other"),
    ],
)
def test_the_words_tell_the_kind(what: str, kind: str) -> None:
    assert find_kind(what) == kind
    assert kind in HARDWARE_KINDS


@pytest.mark.parametrize(
    ("kind", "stack_mm", "wanted"),
    [
        ("rivet", 4.0, (6.0, 7.0)),
        ("tubular-rivet", 4.0, (7.0, 8.0)),
        ("copper-rivet", 4.0, (6.5, None)),
        ("screw-post", 6.0, (5.5, 6.0)),
        ("snap", 2.0, (4.0, 5.0)),
        ("ring", 4.0, None),
    ],
)
def test_the_post_follows_from_the_stack(kind: str, stack_mm: float, wanted: tuple[float, float | None] | None) -> None:
    assert find_post_mm(kind, stack_mm) == wanted


@pytest.mark.parametrize(
    ("wanted", "posts", "chosen"),
    [
        ((6.0, 7.0), (6.0, 8.0, 10.0), 6.0),
        ((6.0, 7.0), (7.0, 6.4), 6.4),
        ((6.0, 7.0), (5.5,), 5.5),
        ((6.0, 7.0), (5.4, 7.6), None),
        ((6.0, 7.0), (), None),
        ((6.5, None), (5.0, 12.0, 20.0), 12.0),
        ((6.5, None), (5.0,), None),
    ],
)
def test_the_post_from_the_drawer_is_the_nearest_that_will_do(
    wanted: tuple[float, float | None], posts: tuple[float, ...], chosen: float | None
) -> None:
    assert choose_post(wanted, posts) == chosen


@pytest.mark.parametrize(
    ("posts", "chosen"),
    [
        ((5.0, 6.5, 8.0, 10.0), None),  # 6.6 to 7.1 is wanted, and nothing gives under a screw
        ((10.0,), None),
        ((6.3,), None),
        ((6.6, 7.2), 6.6),
        ((7.1,), 7.1),
        ((5.0, 7.0, 8.0), 7.0),
    ],
)
def test_a_screw_post_is_the_stack_or_up_to_half_a_millimetre_less(
    posts: tuple[float, ...], chosen: float | None
) -> None:
    """Common practice: the post is as long as the stack, or up to 0.5 mm shorter."""
    wanted = find_post_mm("screw-post", 7.1)
    assert wanted == pytest.approx((6.6, 7.1))
    assert choose_post(wanted, posts, find_slack_mm("screw-post")) == chosen
    assert (chosen is None) == all(miss_post(wanted, post, find_slack_mm("screw-post")) for post in posts)


def test_posts_two_millimetres_apart_serve_every_stack_of_a_rivet() -> None:
    posts = tuple(float(length) for length in range(4, 21, 2))
    for tenth in range(20, 150):
        wanted = find_post_mm("rivet", tenth / 10)
        assert wanted is not None
        assert choose_post(wanted, posts) is not None


def test_every_kind_with_a_post_is_a_kind() -> None:
    assert set(POST_OVER_STACK_MM) <= set(HARDWARE_KINDS)


@pytest.mark.parametrize(
    ("kind", "tannage", "finish", "g_cm3"),
    [
        # All from memory: leather from 0.86, dry vegetable, to 1.0, filled with wax or oil; chrome is looser. The finish
        # decides before the tannage, the tannage before the kind.
        ("leather", "vegetable", "waxed", 1.0),
        ("leather", "chrome", "oiled", 1.0),
        ("leather", "chrome", "coated", 0.9),
        ("leather", "vegetable", "plain", 0.86),
        ("leather", "chrome", "plain", 0.8),
        ("leather", "", "plain", 0.86),
        ("fabric", "", "", 0.6),
        ("foam", "", "", 0.1),
        ("board", "", "", 0.8),
        ("fabric", "chrome", "waxed", 0.6),
    ],
)
def test_density_goes_by_finish_then_tannage_then_kind(kind: str, tannage: str, finish: str, g_cm3: float) -> None:
    assert find_density(kind, tannage, finish) == g_cm3


def test_two_millimetres_of_dry_leather_weigh_what_is_said_of_it() -> None:
    # From memory: 2 mm at 0.86 g/cm3 is 1.72 kg per square metre, 0.160 kg per square foot.
    grams_per_m2 = 1e6 * 2 * find_density("leather", "vegetable", "plain") / 1000
    assert grams_per_m2 == pytest.approx(1720)
    assert grams_per_m2 * 0.09290304 == pytest.approx(160, abs=0.5)
