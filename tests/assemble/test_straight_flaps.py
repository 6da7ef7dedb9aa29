"""A messenger's bag whose flap is straight while its billets are sewn on, and that is sewn up in one step."""

from pathlib import Path

import pytest

from docgen.assemble import Copy, TakenApart, UnsureError, inner
from docgen.checks import resolve_build
from docgen.read import read_spec

BUILD = Path(__file__).parents[1] / "bench/slips/builds/messenger-bag.toml"


@pytest.fixture(scope="module")
def apart() -> TakenApart:
    return TakenApart(resolve_build(read_spec(str(BUILD))))


def test_billets_lie_along_a_flap_that_is_straight(apart: TakenApart) -> None:
    """On its grain side, where it was placed: they look the way that the flap does, and lead to its free edge."""
    bodies, _ = apart.heaps(2)
    flap, billet = (bodies[Copy(name)].placed for name in ("flap", "billet"))
    assert inner(flap.out(0), billet.out(0)) == pytest.approx(1)
    foot, off_mm = flap.surface.foot(flap.surface.bands[0], billet.surface.point(billet.anchor))
    assert foot is not None
    assert off_mm == pytest.approx(0, abs=0.01)


def test_six_parts_with_linings_between_are_no_picture(apart: TakenApart) -> None:
    with pytest.raises(UnsureError, match="6 parts come together at once"):
        apart.heaps(5)
