"""What a seam sews together is held before it is sewn, by a line in its place: common practice, no published source."""

from pathlib import Path

import pytest
from step_lines import lines, variant

from docgen.checks import resolve_build
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

SAID, AGAIN = "Hold them together as said above.", "Clip these in the same way."
NOTE = "Clip the notches together first, then the top ends, then work outward."
BUILDS = Path(__file__).parents[1]


def plan_of(path: str) -> Plan:
    return plan_work(resolve_build(read_spec(BUILDS / path)))


def between(told: list[str], first: str, last: str) -> list[str]:
    """The lines from one that begins so to the next that begins so."""
    begin = next(k for k, line in enumerate(told) if line.startswith(first))
    return told[begin : next(k for k, line in enumerate(told) if k > begin and last in line)]


def test_what_a_note_says_of_holding_has_its_place_among_the_lines(tmp_path: Path) -> None:
    told = lines(variant(tmp_path, "bag", (NOTE, NOTE)), 4)
    assert between(told, "Lay left, bottom and right of Front panel", "Sew seam 1").count(SAID) == 1
    assert between(told, "Lay left, bottom and right of Back panel", "Sew seam 2").count(AGAIN) == 1


def test_a_note_that_says_nothing_of_it_leaves_that_to_the_lines(tmp_path: Path) -> None:
    told = lines(variant(tmp_path, "bag", (NOTE, "Work outward from the foot.")), 4)
    held = between(told, "Lay left, bottom and right of Front panel", "Sew seam 1")
    assert SAID not in told
    assert sum(line.startswith("Clip") for line in held) == 1


@pytest.mark.parametrize(
    ("path", "step", "times"),
    [("assemble/builds/glasses.toml", 2, 1), ("bench/slips/builds/boxed-bag.toml", 1, 0)],
    ids=["another copy of the part", "another edge of the same copies"],
)
def test_another_copy_is_clipped_as_the_first_was(path: str, step: int, times: int) -> None:
    """Of two ends each is held before it is sewn in; two panels that are clipped all round stay so for their next edge."""
    told = lines(plan_of(path), step)
    assert sum("Sew seam" in line for line in told) > 1
    assert told.count("Clip the ends first, then between them.") == 1
    assert told.count(AGAIN) == times
