"""Which side of its part each half of a snap looks out on: a cap is seen from outside, its socket lies behind it, and the
stud looks to the socket. Common practice, no published source."""

from pathlib import Path

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.assemble import Looks
from docgen.checks import resolve_build
from docgen.pages.pictures.stack_drawing import ends_of_post
from docgen.pages.pictures.stacks import Through
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

BUILDS = Path(__file__).parents[1] / "assemble" / "builds"
CAP, STUD = "cap on the grain side, socket on the flesh side", "stud on the grain side, its post from the flesh side"


HALVES = (("20 mm from top", CAP), ("40 mm from bottom", STUD))


def set_lines(plan: Plan) -> list[str]:
    return [
        line for told in plan.steps for line in lines(plan, told.number) if "snap" in line and line.startswith("Set ")
    ]


@pytest.mark.parametrize("name", ["glasses", "hip-pouch"])
def test_halves_are_told_by_the_sides_that_they_look_out_on(name: str) -> None:
    """A flap that folds over on its own body; halves of one name, and each of its own."""
    told = set_lines(plan_work(resolve_build(read_spec(BUILDS / f"{name}.toml"))))
    assert sum(line.endswith(f", {CAP}.") for line in told) == 1
    assert sum(line.endswith(f", {STUD}.") for line in told) == 1


@pytest.mark.parametrize(
    ("form", "looks", "shapes"),
    [("cap", "out", (1, 2)), ("stud", "out", (2, 1)), ("stud", "in", (1, 2)), ("stud", "", (1, 1)), ("", "", (1, 1))],
)
def test_a_section_draws_what_half_a_snap_has_on_either_side(form: str, looks: Looks, shapes: tuple[int, int]) -> None:
    """Above and below: a head; two sides of a socket; a knob on its rim; a rim alone."""
    through = Through(across_mm=4.0, hardware="snap", form=form, looks=looks)
    assert tuple(len([*ends_of_post(through, 0.0, 0.0, 8.0, way)]) for way in (1, -1)) == shapes


def test_a_stud_inside_a_mouth_looks_to_the_other_panel(resolve_text: Resolve) -> None:
    """Two panels that lie on each other, closed by a snap between them."""
    hole = 'holes = [{{ at = "20 mm from top, centre", punch = "4 mm", takes = "snap"{} }}]\n'
    text = piece("front", 200, 150, hole.format(', through = ["back"]')) + piece("back", 200, 150, hole.format(""))
    text += '[hardware.snap]\nwhat = "snap, 12 mm"\ncount = 1\nposts = ["5 mm"]\n'
    text += seam("round", "front: left bottom right", "back: left bottom right")
    build = resolve_text(write_out(text) + step("Set.", hardware="snap") + step("Sew.", seams="round"))
    assert set_lines(plan_work(build)) == [
        f"Set 1 snap cap in front, 2 mm of leather, post 5 mm, {CAP}.",
        "Set 1 snap stud in back, 2 mm of leather, post 5 mm, stud towards front, its post from the other side.",
    ]


@pytest.mark.parametrize("is_flap_first", [False, True])
def test_the_cap_is_in_the_flap_of_what_is_folded_up_and_sewn_to_itself(
    resolve_text: Resolve, is_flap_first: bool
) -> None:
    """Whichever hole is written first: a cap in the front, beneath the flap, closes nothing."""
    at = ["centre, 40 mm from bottom", "centre, 20 mm from top"]
    holes = ", ".join(
        f'{{ at = "{one}", punch = "4 mm", takes = "snap" }}' for one in at[:: -1 if is_flap_first else 1]
    )
    bent = ", ".join(f'{{ at = "{one}", open = true, angle = 180 }}' for one in ("75 mm from bottom", "58 mm from top"))
    text = piece("body", 170, 210, f"holes = [{holes}]\nfolds = [{bent}]\n")
    text += '[hardware.snap]\nwhat = "snap, 12 mm"\ncount = 1\n'
    for edge in ("left", "right"):
        text += seam(
            edge, f"body: {edge} from bottom 71 mm to bottom 0", f"body: {edge} from bottom 79 mm to bottom 150 mm"
        )
    build = resolve_text(text + step("Set.", hardware="snap") + step("Fold it and sew.", seams="left right"))
    told = [
        (place in line, line.endswith(f"{half}.")) for line in set_lines(plan_work(build)) for place, half in HALVES
    ]
    assert sorted(told) == [(False, False)] * 2 + [(True, True)] * 2


OTHER = '{ at = "centre, middle", punch = "4 mm", takes = "other" }'
SNAPS = {"snap": 8, "other": 12}


@pytest.mark.parametrize(
    ("stud", "looks"), [("24 mm from left, 9 mm from top", "in"), ("9 mm from left, 50 mm from top", "")]
)
def test_a_stud_that_pinches_the_corner_of_a_tray_looks_to_the_socket(
    resolve_text: Resolve, stud: str, looks: str
) -> None:
    """Folded along its diagonal, the corner lays one flesh side on the other, and the cap is seen on the grain side; a stud
    that is not mirrored about it, as one of a corner that is lapped, is left open. By hand, on paper. Another snap, of
    which the words say how wide its cap is too, does not close on it."""
    folds = ", ".join(f'{{ at = "30 mm from {edge}", open = true, angle = 90 }}' for edge in ("left", "top"))
    holes = ", ".join(
        f'{{ at = "{at}", punch = "4 mm", takes = "snap" }}' for at in ("9 mm from left, 24 mm from top", stud)
    )
    text = piece("tray", 170, 130, f"holes = [{holes}]\nfolds = [{folds}]\n")
    text += "".join(piece(name, 90, 90, f"holes = [{OTHER}]\n") for name in ("front", "back"))
    text += "".join(f'[hardware.{name}]\nwhat = "snap, {mm} mm cap"\ncount = 1\n' for name, mm in SNAPS.items())
    told = set_lines(plan_work(resolve_text(text + step("Set.", hardware="snap") + step("Set.", hardware="other"))))[:2]
    pinched = ", stud on the flesh side, its post from the grain side."
    assert [line.endswith(pinched) for line in told] == [False, looks == "in"]
    assert told[0].endswith(f", {CAP}.")
