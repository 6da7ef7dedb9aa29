"""Straps that are fast at both ends keep their bow in the picture of a step, and what goes on outside is seen from there.

That a handle sewn on at both ends cannot be drawn lying straight is plain from the work.
"""

from pathlib import Path

import pytest
from short_specs import piece
from spec_text import HEAD, Resolve, write_out

from docgen.assemble import TakenApart
from docgen.assemble.apart.straight import fast_at_both
from docgen.checks import resolve_build
from docgen.pages.pictures.step_drawing import set_scene
from docgen.read import read_spec

BUILDS = Path(__file__).parents[1] / "bench" / "slips" / "builds"
FIRST = '{ strap = "grip", at = "60 mm from left, 50 mm from top", leads = "up", over = "40 mm", stitch = "main" },\n'
SECOND = FIRST.replace('"grip"', '"grip", end = "second"').replace("from left", "from right")
GRIP = '[straps.grip]\nof = "body"\nwidth = "20 mm"\nfinished = "400 mm"\n'
ENDS = 'ends = [{ shape = "square" }, { shape = "square" }]\n'


@pytest.fixture
def head() -> str:
    return HEAD


@pytest.mark.parametrize(("landings", "fast"), [(FIRST + SECOND, {"grip"}), (FIRST, set())])
def test_a_strap_is_fast_at_both_ends_once_both_are_sewn_on(
    resolve_text: Resolve, landings: str, fast: set[str]
) -> None:
    """Made in step 1, sewn on in step 2."""
    build = resolve_text(write_out(piece("front", 240, 200, f"landings = [\n{landings}]\n") + GRIP + ENDS))
    assert [fast_at_both(build, step) for step in (0, 1)] == [set(), fast]


def test_what_is_laid_on_the_outer_side_is_seen_from_there() -> None:
    """Two pockets on the side of a wallet that lies up: from behind they are under it, though all of the row of one is in
    sight there. Of the base of a bag more is seen from behind, and nothing lies on its outside."""
    for name, step, side in (("long-wallet", 2, "front"), ("tube", 3, "behind")):
        apart = TakenApart(resolve_build(read_spec(BUILDS / f"{name}.toml")))
        bodies, (heap,) = apart.heaps(step)
        assert set_scene(bodies, heap, apart.joined(heap, step, bodies)).side == side, name
