"""Hardware in holes that straps have of their own: halves of snaps, rivets that meet their host's, what is left out.

Leather of 2 mm, thin leather of 1 mm; every sum is worked out beside its check.
"""

import math
from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembly, TakenApart, inner
from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.read import read_spec

Put = Callable[[str], Assembly]

FRONT = piece("front", 200, 150, hole("centre, 40 mm from top", "snap"), of="thin")
SNAP = rivet(1, "snap", "snap, line 24")


def strap(punches: str, more: str = "") -> str:
    head = '[straps.s]\ntitle = "Tongue"\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n'
    return f"{head}punches = [{punches}]\n{more}"


def punch(at: str, takes: str = "") -> str:
    return f'{{ at = "centre, {at}", punch = "4 mm"{f", takes = {takes!r}" if takes else ""} }}'


def test_a_strap_that_closes_on_a_piece_has_the_cap_whichever_comes_first(put_together: Put) -> None:
    """1 mm of the front, 2 of the strap; 2 + 1 where that has a second layer."""
    for more, thick_mm in (("", 2), ('doubled = true\nlining = "thin"\n', 3)):
        made = put_together(FRONT + strap(punch("15 mm from end", "snap"), more) + SNAP)
        assert sorted((one.half, one.part, one.count, one.stack.usual_mm) for one in made.fastened) == [
            ("cap", "s", 1, pytest.approx(thick_mm)),
            ("stud", "front", 1, pytest.approx(1)),
        ]


def test_both_halves_in_one_strap_close_it_on_itself(put_together: Put) -> None:
    """The first hole has the cap."""
    made = put_together(strap(punch("15 mm from end", "snap") + ", " + punch("90 mm from end", "snap")) + SNAP)
    assert [(one.part, one.half) for one in made.fastened] == [("s", "cap"), ("s", "stud")]


HOST = 'landings = [{ strap = "s", at = "centre, 50 mm from bottom", leads = "down", over = "40 mm" }]\n'


@pytest.mark.parametrize("own", [hole("centre, 40 mm from bottom"), ""])
def test_what_goes_through_a_strap_and_its_host_is_set_once(resolve_text: Resolve, own: str) -> None:
    """Its hole, 10 mm from the end that lies 50 up, meets that 40 up in the back, or is marked there: 2 + 2 mm."""
    setting = step("Rivet.", pieces="back", straps="s", hardware="rivet")
    text = piece("back", 200, 150, HOST + own) + strap(punch("10 mm from start", "rivet")) + rivet()
    build = resolve_text(text + setting)
    (made,) = build.assembly.fastened
    assert (made.count, made.stack.usual_mm, {*made.stack.parts}) == (1, pytest.approx(4), {"back", "s"})
    carried = [(one.at.x, one.at.y) for one in build.pieces[0].strap_landings[0].holes]
    assert carried == ([] if own else [(100, 40)])


def test_a_half_in_the_end_that_lies_fast_goes_through_no_host(resolve_text: Resolve) -> None:
    text = piece("back", 200, 150, HOST) + FRONT + strap(punch("10 mm from start", "snap")) + SNAP
    build = resolve_text(text)
    assert {one.part: one.stack.usual_mm for one in build.assembly.fastened} == {"s": 2, "front": 1}
    assert build.pieces[0].strap_landings[0].holes == ()


def test_what_closes_a_turned_end_is_counted_there_alone(put_together: Put) -> None:
    """Two holes that lie on each other say it, and so does the end: one rivet, through 2 + 2 mm."""
    ends = 'ends = [{ shape = "turned", back = "42 mm", takes = "rivet" }, { shape = "square" }]\n'
    (made,) = put_together(strap(punch("20 mm from start", "rivet"), ends) + rivet()).fastened
    assert (made.count, made.stack.usual_mm) == (1, pytest.approx(4))


def test_the_step_tells_which_half_goes_where_on_the_strap(resolve_text: Resolve) -> None:
    setting = step("Set.", pieces="front", straps="s", hardware="snap")
    (told,) = plan_work(resolve_text(FRONT + strap(punch("15 mm from end", "snap")) + SNAP + setting)).steps
    values = str([act.values for act in told.acts if act.case == "set"])
    assert [words for words in ("1 snap cap", "1 snap stud", "15 mm", "second end") if words not in values] == []


def test_a_snap_that_a_variant_leaves_out_takes_its_hole_along(resolve_text: Resolve) -> None:
    text = FRONT + strap(f"{punch('15 mm from end', 'snap')}, {punch('40 mm from end')}") + SNAP
    resolve_text(text + '[variants.plain]\nwithout = ["snap"]\n')
    build = resolve_build(read_spec("a.toml"), "plain")
    assert [one.takes for one in build.straps[0].piece.marks.holes] == [""]


def test_a_cap_lies_over_the_grain_of_its_strap_also_while_that_lies_straight(resolve_text: Resolve) -> None:
    """Closed, the tongue lies over the front, and its cap on that; straight, it lies under the back, and its cap farther
    down: the grain of its end looks that way then."""
    lands = 'landings = [{ strap = "s", at = "centre, 40 mm from top", over = "40 mm", stitch = "main" }]\n'
    tongue = strap(punch("120 mm from end", "snap"))
    text = piece("back", 200, 150, lands) + FRONT + tongue + SNAP
    text += seam("round", "front: left bottom right", "back: left bottom right")
    text += step("Set.", pieces="front", straps="s", hardware="snap") + step("Sew on.", pieces="back", straps="s")
    build = resolve_text(text + step("Sew.", seams="round"))
    apart = TakenApart(build)
    bodies, (heap,) = apart.heaps(1)
    ((cap, _),) = (one for one in apart.joined(heap, 1, bodies).metal if one[0].metal.half == "cap")
    placed = bodies[cap.copy].placed
    assert inner(cap.metal.axis, placed.out(0)) == pytest.approx(1)
    assert inner(cap.metal.lift, cap.metal.axis) > inner(placed.lifts[0], cap.metal.axis)


def test_each_half_in_one_strap_is_told_at_its_own_hole(resolve_text: Resolve) -> None:
    setting = step("Set.", straps="s", hardware="snap")
    both = punch("15 mm from end", "snap") + ", " + punch("90 mm from end", "snap")
    (told,) = plan_work(resolve_text(strap(both) + SNAP + setting)).steps
    cap, stud = (str(act.values) for act in told.acts if act.case == "set")
    assert ("15 mm" in cap, "90 mm" in cap) == (True, False)
    assert ("15 mm" in stud, "90 mm" in stud) == (False, True)


@pytest.mark.parametrize("count", [1, 2])
def test_a_ring_in_which_straps_laid_out_end_is_drawn_as_often_as_it_is_there(
    resolve_text: Resolve, count: int
) -> None:
    """Two straps with an end each in one ring, or in a ring of its own: a ring was drawn on each."""
    ends = 'ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "pointed" }]\n'
    straps = "".join(
        f'[straps.{name}]\nof = "body"\nwidth = "20 mm"\nfinished = "{mm} mm"\n{ends}'
        for name, mm in (("a", 300), ("b", 400))
    )
    ring = f'[hardware.ring]\nwhat = "ring"\ncount = {count}\ninside = "25 mm"\nbar = "4 mm"\n'
    closed = TakenApart(resolve_text(straps + ring + step("Make them.", straps="a b", hardware="ring"))).closed
    assert len(closed.bodies) == 2
    assert [one.metal.hardware for one in closed.metal] == ["ring"] * count


@pytest.mark.parametrize(("kept", "behind_mm"), [("", 6), (', keeper = "k"', 18)])
def test_a_ring_behind_a_buckle_lies_behind_the_keeper_too(resolve_text: Resolve, kept: str, behind_mm: float) -> None:
    """Bars of 4 mm, 2 mm between each two things: 2 + 2 + 2 from bar to bar, and 10 + 2 of a keeper between them."""
    ends = f'{{ shape = "turned", back = "60 mm", around = ["buckle", "ring"]{kept} }}, {{ shape = "square" }}'
    text = f'[straps.s]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\nends = [{ends}]\n'
    text += '[straps.k]\nof = "body"\nwidth = "10 mm"\nkeeper-for = "s"\n' if kept else ""
    for name, what in (("buckle", "roller buckle"), ("ring", "D ring")):
        text += f'[hardware.{name}]\nwhat = "{what}"\ncount = 1\ninside = "21 mm"\nbar = "4 mm"\n'
    buckle, ring = (one.at for one in resolve_text(text).space.metal)
    assert math.dist(buckle, ring) == pytest.approx(behind_mm)


LOOP = """\
ends = [
  { shape = "turned", back = "40 mm", around = "ring", takes = "%s", skive = { over = "60 mm", to = "1.2 mm" } },
  { shape = "square" },
]
doubled = true
lining = "thin"
"""
RING = '[hardware.ring]\nwhat = "D ring"\ncount = 1\ninside = "21 mm"\nbar = "2 mm"\n'


@pytest.mark.parametrize(
    ("item", "set_"),
    [
        # The end alone, skived to 1.2 mm; and what it lies back on, 2 + 1 mm: a loop that opens.
        (SNAP, [("cap", 1.2, 1), ("stud", 3.0, 2)]),
        (rivet(1, "snap", "double-cap rivet"), [("", 4.2, 3)]),  # through all three for good
    ],
)
def test_a_snap_closes_a_turned_end_so_that_it_opens(
    put_together: Put, item: str, set_: list[tuple[str, float, int]]
) -> None:
    made = put_together(strap(punch("12 mm from start"), LOOP % "snap") + RING + item)
    found = [(one.half, round(one.stack.usual_mm, 3), len(one.stack.layers)) for one in made.fastened]
    assert (sorted(found), sum(one.items for one in made.fastened)) == (sorted(set_), 1)


def test_halves_of_a_closed_end_are_told_each_with_its_side(resolve_text: Resolve) -> None:
    """Where the layer beneath has no hole it is marked through the one of the end."""
    made = resolve_text(strap(punch("12 mm from start"), LOOP % "snap") + RING + SNAP)
    acts = [one for step in plan_work(made).steps for one in step.acts]
    ends = [dict(one.values)["words"][-1].case for one in acts if one.case == "set"]
    assert (ends, [one.case for one in acts].count("punch_half")) == (["set_end_cap", "set_end_stud"], 1)


def test_a_slot_for_a_tongue_is_cut_out_of_the_second_layer_that_lies_under_it(resolve_text: Resolve) -> None:
    """The lining ends at the fold, in the middle of the slot of 24 mm: 12 mm of it lie there; none without a lining."""
    buckle = '[hardware.buckle]\nwhat = "buckle"\ncount = 1\ninside = "21 mm"\nbar = "3 mm"\ntongue = "3 mm"\n'
    ends = 'ends = [{ shape = "turned", back = "50 mm", around = "buckle", slot = "24 mm" }, { shape = "square" }]\n'
    own = strap("", ends) + 'stitch = "main"\n'
    lined = "".join((own, 'doubled = true\nlining = "thin"\n', buckle))
    found = [
        [
            dict(one.values)["length"]
            for told in plan_work(resolve_text(text)).steps
            for one in told.acts
            if one.case == "slot_layers"
        ]
        for text in (lined, own + buckle)
    ]
    assert found == [["12 mm"], []]
