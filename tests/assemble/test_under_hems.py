"""A part that a seam catches under a hem: laid before the hem is turned over it, between its layers. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import TakenApart, pile_seam
from docgen.plan import plan_work

HEM = 'hems = [{ edges = "top", turn = "30 mm" }]\n'
LANDING = 'landings = [{ piece = "pocket", at = "centre, 32 mm from top", inside = true }]\n'
BACK = piece("back", 200, 200, HEM + LANDING) + piece("pocket", 120, 100)
LINED = piece("back", 200, 200, HEM) + piece("pocket", 200, 170, 'lines = ["back"]\n')
CAUGHT = seam("mouth", "back: top", "pocket", "back")
FOLDED = step("Fold the mouth.", pieces="back") + step("Sew the pocket in.", seams="mouth")


@pytest.mark.parametrize("pieces", [BACK, LINED])
def test_it_lies_between_the_layers_of_the_hem(resolve_text: Resolve, pieces: str) -> None:
    build = resolve_text(pieces + CAUGHT)
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [(ply.part, ply.grain) for ply in pile] == [("back", "up"), ("pocket", "down"), ("back", "down")]


def test_it_lies_on_the_hem_where_the_seam_names_it_outside(resolve_text: Resolve) -> None:
    build = resolve_text(BACK + seam("mouth", "back: top", "back") + seam("on", "pocket: top", "back"))
    on = next(once for once in build.assembly.sewn if once.seam == "on")
    piles = pile_seam(build, on)
    assert all(pile[0].part == "pocket" for pile in piles)


def test_the_hem_is_turned_over_once_it_is_laid(resolve_text: Resolve) -> None:
    """32 mm from the cut edge, which lies flat until then."""
    build = resolve_text(BACK + CAUGHT + FOLDED)
    assert dict(build.assembly.turning) == {"back": 1}
    plan = plan_work(build)
    assert lines(plan, 1) == [
        "back: crease top along the fold line, and open it again: pocket goes under it before it is turned over for good."
    ]
    told = lines(plan, 2)
    laid = next(k for k, line in enumerate(told) if line.startswith("Lay pocket on the flesh side of back"))
    assert told[laid].endswith("32 mm from the top.")
    assert told[laid + 1] == "back: turn top over to the flesh side by 30 mm and press the fold down."


def test_what_of_it_lies_under_the_hem_is_not_seen_once_that_is_turned(resolve_text: Resolve) -> None:
    """Its top edge lies 2 mm below the fold, the hem's edge 30 mm below it: 28 of 100 mm are covered."""
    (pocket,) = (one for one in TakenApart(resolve_text(BACK + CAUGHT + FOLDED)).bodies if one.copy.part == "pocket")
    heights = [at[1] for at in pocket.placed.ring]
    assert max(heights) - min(heights) == pytest.approx(72)
