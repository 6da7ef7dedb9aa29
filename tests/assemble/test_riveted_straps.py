"""Straps that are riveted on by two holes alone: which way they lead where these fit both ways round. Figures by hand."""

import math
from collections.abc import Callable

import pytest
from short_specs import piece, rivet, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, inner
from docgen.geometry.shapes import Point
from docgen.plan import plan_work
from docgen.plan.act import act

Resolve = Callable[[str], Assembled]
STRAP = """\
[straps.tie]
of = "body"
width = "20 mm"
finished = "400 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }, { at = "centre, 35 mm from start", punch = "4 mm" }]
"""


def riveted(*from_top_mm: float) -> str:
    holes = ", ".join(
        f'{{ at = "centre, {mm:g} mm from top", punch = "4 mm", takes = "rivet", through = ["tie"] }}'
        for mm in from_top_mm
    )
    return piece("front", 300, 400, f"holes = [{holes}]\n") + STRAP + rivet()


@pytest.mark.parametrize(("from_top_mm", "up"), [((15, 40), True), ((385, 360), False)])
def test_it_leads_over_the_edge_that_is_near(resolve_text: Resolve, from_top_mm: tuple[float, float], up: bool) -> None:
    """Of 400 mm 365 lie beyond the second hole: they lead over the top 15 mm off, or over the foot, not over the panel."""
    tie = resolve_text(riveted(*from_top_mm)).space.part(Copy("tie"))
    assert tie is not None
    ys = [at[1] for face in tie.faces for at in face.corners]
    hole = 400 - from_top_mm[1]
    assert (min(ys), max(ys)) == pytest.approx((hole - 10, hole + 390) if up else (hole - 390, hole + 10))


def test_amid_a_panel_nothing_tells_which_way_it_leads(resolve_text: Resolve) -> None:
    build = resolve_text(riveted(190, 215))
    (told,) = build.space.unplaced
    assert told.copy == Copy("tie")
    assert "no landing says which way it leads" in told.why
    assert act("way_untold", part="tie", host="front") in [
        line for made in plan_work(build).steps for line in made.acts
    ]


FOLDED = """\
folds = [{ at = "200 mm from bottom", open = true, angle = 180 }]
landings = [
  { strap = "tie", at = "150 mm from left, 60 mm from bottom", leads = "down", over = "40 mm" },
]
"""


def test_on_what_is_folded_it_keeps_to_its_own_half_while_that_is_flat(resolve_text: Resolve) -> None:
    """Both halves come to lie on each other: it lies on the lower one, and straight on from that on the bench."""
    text = piece("front", 300, 400, FOLDED) + STRAP
    text += step("Sew the tie on.", straps="tie", pieces="front")
    apart = TakenApart(resolve_text(text))
    body, tie = (apart.flat[Copy(name)] for name in ("front", "tie"))
    starts = body.placed.surface.point(Point(150, 20)), tie.placed.surface.point(Point(10, 40))
    assert math.dist(*starts) < 0.01
    assert {round(inner(face.grain, body.faces[0].grain), 3) for face in tie.faces} == {1.0}, "it is not bent"


PUNCHES = "punches = [" + ", ".join(
    f'{{ at = "centre, 10 mm from {end}", punch = "4 mm" }}' for end in ("start", "end")
)
HANDLE = f"""\
[straps.handle]
of = "body"
cut = 2
width = "20 mm"
finished = "330 mm"
doubled = true
stitch = "main"
ends = [{{ shape = "square" }}, {{ shape = "square" }}]
{PUNCHES}]
"""
HELD = """\
holes = [{ at = "62 mm from top, 70 mm left of centre", punch = "4 mm", takes = "rivet" },
  { at = "62 mm from top, 70 mm right of centre", punch = "4 mm", takes = "rivet" }]
landings = [{ strap = "handle", at = "72 mm from top, 70 mm left of centre", over = "20 mm" },
  { strap = "handle", end = "second", at = "72 mm from top, 70 mm right of centre", over = "20 mm" }]
"""
PANELS = piece("front", 340, 220, HELD) + '[pieces.back]\nlike = "front"\n' + HANDLE + rivet(4)


def find_stacks(build: Assembled) -> list[tuple[str, int, tuple[str, ...], float]]:
    return [(fit.part, fit.count, fit.stack.parts, fit.post_mm) for fit in build.assembly.fastened]


def test_rivets_are_proposed_once_the_straps_are_there_that_have_their_holes(resolve_text: Resolve) -> None:
    """Panels of 2 mm, a handle of two layers: 6 mm of leather, and 2 to 3 mm over it."""
    build = resolve_text(PANELS)
    assert find_stacks(build) == [("front", 2, ("front", "handle"), 8), ("back", 2, ("back", "handle"), 8)]
    *_, setting = plan_work(build).steps
    assert setting.jobs == (), "the handle was sewn where it was made"
    assert "hole punch" not in " ".join(setting.tools)


def test_rivets_before_the_strap_that_they_hold_are_told(resolve_text: Resolve) -> None:
    punch, make = step("Punch.", pieces="front back"), step("Make both handles.", straps="handle")
    set_them = step("Rivet.", pieces="front back", hardware="rivet")
    late = resolve_text(PANELS + punch + set_them + make)
    assert 'step 3 makes the strap "handle", which step 2 rivets already' in [one.what for one in late.cautions]
    early = resolve_text(PANELS + punch + make + set_them)
    assert "steps-out-of-order" not in [one.check for one in early.cautions]
    assert find_stacks(early)[0] == ("front", 2, ("front", "handle"), 8)


def test_a_strap_in_several_steps_is_sewn_in_the_one_that_says_so(resolve_text: Resolve) -> None:
    steps = step("Cut both handles.", straps="handle") + step("Sew both handles.", straps="handle")
    plan = plan_work(
        resolve_text(PANELS + steps + step("Rivet.", pieces="front back", straps="handle", hardware="rivet"))
    )
    assert [[job.title for job in made.jobs] for made in plan.steps] == [[], ["handle, along the edge"], []]


def told(build: Assembled, at: int) -> list[str]:
    return [line.case for line in plan_work(build).steps[at].acts]


def test_the_layers_of_a_strap_without_a_turned_end_are_punched_once(resolve_text: Resolve) -> None:
    tab = HANDLE.replace("cut = 2\n", "").replace('punch = "4 mm" }', 'punch = "4 mm", takes = "rivet" }')
    build = resolve_text(
        piece("front", 340, 220) + tab + rivet(2) + step("Make it.", straps="handle", hardware="rivet")
    )
    assert "punch_layers" in told(build, 0)
    assert "punch_half" not in told(build, 0)


RINGED = """\
<hardware ring: 1, D ring>
bar = "3 mm"
inside = "20 mm"
[straps.grip]
of = "body"
width = "20 mm"
finished = "200 mm"
stitch = "main"
ends = [{ shape = "turned", back = "30 mm", around = ["ring"], takes = "rivet" }, { shape = "square" }]
<hardware rivet: 1, double-cap rivet>
<rectangle tab: ["20 mm", "60 mm"]>
folds = [{ at = "middle", around = "ring" }]
"""


@pytest.mark.parametrize(("early", "order"), [(True, ["turn_end", "sew"]), (False, ["sew", "turn_end"])])
def test_ends_are_turned_before_the_rows_that_go_through_them(
    resolve_text: Resolve, early: bool, order: list[str]
) -> None:
    """Where the ring is there before, the rows go through the turned end, which is turned for that."""
    hang = step("Hang the ring in.", pieces="tab", hardware="ring")
    make = step("Make the grip.", straps="grip", hardware="rivet" if early else "ring rivet")
    build = resolve_text(RINGED + (hang if early else "") + make)
    assert [case for case in told(build, int(early)) if case in order] == order


def test_a_zip_is_sewn_behind_its_window_before_the_pocket_that_closes_that_off(resolve_text: Resolve) -> None:
    zip_goods = "<zip: coil zip, 32 mm, 0.6 mm>\n"
    slot = 'landings = [{ piece = "bag", at = "centre, 20 mm from bottom", inside = true }]\n'
    slot += 'laid = [{ goods = "zip", at = "50 mm from top", stitch = "main", window = "12 mm", clear = "40 mm" }]\n'
    build = resolve_text(
        zip_goods
        + piece("front", 200, 150, slot)
        + piece("bag", 160, 120)
        + seam("bag", "bag: all", "front")
        + step("Sew the zip behind its window, and the bag.", pieces="front bag", trimmings="zip", seams="bag")
    )
    assert [one.kind for one in build.assembly.events if one.kind in ("dividers", "seams")] == ["dividers", "seams"]
