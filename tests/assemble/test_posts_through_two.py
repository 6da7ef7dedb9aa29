"""Posts through two parts that a seam lays on each other, and no landing or lining: their section, and what is drawn of
their step. By hand."""

import pytest
from short_specs import hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, list_beneath, pile_post

STUD = '[hardware.stud]\nwhat = "button stud, 7 mm, screw 5 mm long"\ncount = 1\n'
HOLED = hole("centre, 40 mm from bottom", "stud", ', through = ["inside"]')
SEWN, SET = step("Sew it.", seams="round"), step("Set the stud.", hardware="stud")


def made(resolve_text: Resolve, steps: str, shows: str = "", turned: str = "") -> Assembled:
    build = resolve_text(
        piece("body", 90, 300, HOLED)
        + piece("inside", 90, 300, shows + hole("centre, 40 mm from bottom", "stud"), "thin")
        + seam("round", "body: left bottom right", "inside: left bottom right", more=turned)
        + STUD
        + steps
    )
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize(
    ("shows", "turned", "layers"),
    [('shows = "flesh"\n', "", [("body", "up"), ("inside", "up")]), ("", "turned = true\n", None)],
)
def test_the_part_of_the_post_lies_over_what_is_sewn_to_its_inner_side(
    resolve_text: Resolve, shows: str, turned: str, layers: list[tuple[str, str]] | None
) -> None:
    """What shows its flesh has its grain to the body; which lies on which of what is turned is not told by its seam."""
    build = made(resolve_text, SEWN + SET, shows, turned)
    (one,) = build.assembly.fastened
    pile = pile_post(build, one)
    assert ([(ply.part, ply.grain) for ply in pile] if pile else None) == layers


@pytest.mark.parametrize(("steps", "at", "beneath"), [(SEWN + SET, 1, {"inside"}), (SET + SEWN, 0, set())])
def test_what_is_sewn_behind_it_by_then_is_not_drawn_beside_it(
    resolve_text: Resolve, steps: str, at: int, beneath: set[str]
) -> None:
    assert list_beneath(made(resolve_text, steps, 'shows = "flesh"\n'), at) == beneath
