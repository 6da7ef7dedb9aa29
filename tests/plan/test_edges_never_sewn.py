"""Edges that no seam takes are finished all the same: of a strap that is only riveted, of a base on which others are sewn.

That an edge which shows is finished, and before its ends are turned where no seam comes to it, is common practice, no
published source.
"""

from dataclasses import replace

import pytest
from short_specs import BELT, BUCKLE, SEWN_BELT, piece, seam, step
from spec_text import Resolve, write_out
from step_lines import words_of

from docgen.plan import plan_work

LATE = "bevelled and burnished once they are sewn"
BASE = piece("base", 200, 150, 'landings = [{ piece = "pocket", at = "centre, middle" }]\n') + piece("pocket", 80, 60)
ON_BASE = BASE + seam("pocket", "pocket: left bottom right", "base")
ON = step("Lay the pocket on the base and stitch it.", seams="pocket")


def told(resolve_text: Resolve, text: str, finish: str) -> list[list[str]]:
    build = resolve_text(write_out(text))
    plan = plan_work(replace(build, materials=tuple(replace(one, edges=finish) for one in build.materials)))
    return [words_of(one.acts) for one in plan.steps]


@pytest.mark.parametrize(
    ("strap", "finish", "before"),
    [
        (BELT, LATE, "turn back"),
        (BELT, "bevelled and burnished", "turn back"),
        (SEWN_BELT % "", "bevelled and burnished before they are sewn", "Sew "),
    ],
)
def test_a_strap_is_finished_before_what_takes_its_edges_away(
    resolve_text: Resolve, strap: str, finish: str, before: str
) -> None:
    (lines,) = told(resolve_text, BUCKLE + strap + step("Make it.", straps="belt", hardware="buckle rivet"), finish)
    (edges,) = (k for k, line in enumerate(lines) if "finish the cut edges" in line)
    assert edges < next(k for k, line in enumerate(lines) if before in line)


def test_a_strap_that_is_sewn_along_is_finished_after_that_where_its_finish_says_so(resolve_text: Resolve) -> None:
    text = BUCKLE + SEWN_BELT % "" + step("Make it.", straps="belt", hardware="buckle")
    (lines,) = told(resolve_text, text, LATE)
    (edges,) = (k for k, line in enumerate(lines) if "finish the cut edges" in line)
    assert edges > next(k for k, line in enumerate(lines) if "Sew " in line)


@pytest.mark.parametrize(
    ("finish", "is_first"), [(LATE, False), ("burnished", False), ("burnished before they are sewn", True)]
)
def test_a_base_is_finished_with_what_is_sewn_on_it(resolve_text: Resolve, finish: str, is_first: bool) -> None:
    (lines,) = told(resolve_text, ON_BASE + ON, finish)
    edges = [k for k, line in enumerate(lines) if "finish the cut edges" in line and "base" in line]
    assert len(edges) == 1
    assert (edges[0] < next(k for k, line in enumerate(lines) if "Sew " in line)) == is_first


@pytest.mark.parametrize("finish", [LATE, "burnished"])
def test_a_base_whose_edges_are_sewn_later_waits_for_that(resolve_text: Resolve, finish: str) -> None:
    text = ON_BASE + piece("front", 200, 150) + seam("round", "front: left bottom right", "base: left bottom right")
    first, last = told(resolve_text, text + ON + step("Sew it.", seams="round"), finish)
    assert not any("base" in line for line in first if "finish the cut edges" in line)
    assert sum("base" in line for line in last if "finish the cut edges" in line) == 1
