"""Nothing is said against the builds worked out by hand that is not meant, and all of them is placed but what is told."""

import pytest
from built import BUILDS, built

# Handles held at both ends arch as the hand bends them; hinges have no landing, so that the lid hangs on nothing. Straps
# that are sewn to nothing lie as one lays them.
UNPLACED = {
    "belt": {"belt", "loop"},
    "box": {"hinge", "lid"},
    "duffel": {"carry"},
    "lead": {"lead", "collar", "loop"},
    "tote": {"handle"},
    "watch": {"short", "long", "fixed", "free"},
}


@pytest.mark.parametrize("name", BUILDS)
def test_all_is_placed_but_what_is_told(name: str) -> None:
    space = built(name).space
    assert {one.copy.part for one in space.unplaced} == UNPLACED.get(name, set())
    assert space.doubts == ()


@pytest.mark.parametrize("name", BUILDS)
def test_check_is_silent(name: str) -> None:
    assert [problem.check for problem in built(name).build.cautions] == []
