"""Nothing is said against the builds worked out by hand that is not meant, and all of them is placed but what is told."""

import pytest
from built import BUILDS, built

# A keeper slides along its strap, and a belt that closes on itself hangs on nothing.
UNPLACED = {"belt": {"loop"}, "lead": {"loop"}, "watch": {"fixed", "free"}, "hipbag": {"belt"}}
UNSET = {"hipbag": {"buckle"}}


@pytest.mark.parametrize("name", BUILDS)
def test_all_is_placed_but_what_is_told(name: str) -> None:
    space = built(name).space
    assert {one.copy.part for one in space.unplaced} == UNPLACED.get(name, set())
    assert {one.hardware for one in space.unset} == UNSET.get(name, set())
    assert space.doubts == ()


@pytest.mark.parametrize("name", BUILDS)
def test_check_is_silent(name: str) -> None:
    assert [problem.check for problem in built(name).build.cautions] == []
