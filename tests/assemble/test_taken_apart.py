"""What pictures are drawn from: what a step joins and how it goes on, and what is left out since it may lie otherwise."""

import math

import pytest
from built import BUILDS, built
from demos import demo_plan

from docgen.assemble import Copy, TakenApart, UnsureError
from docgen.cli import main

Names = set[str]


def apart(name: str) -> TakenApart:
    build = demo_plan(name).build
    return TakenApart(build)


def by_hand(name: str) -> TakenApart:
    return TakenApart(built(name).build)


def joined_in(one: TakenApart, step: int) -> list[tuple[Names, list[Names]]]:
    """What stays and what is lifted off it, by parts, of every heap of a step (from 1)."""
    return [
        ({copy.part for copy in heap.base}, [{copy.part for copy in part.copies} for part in heap.moved])
        for heap in one.heaps(step - 1)[1]
    ]


def test_a_step_joins_what_hangs_together_after_it_and_did_not_before() -> None:
    bag = apart("field-bag")
    assert joined_in(bag, 2) == []
    assert joined_in(bag, 3) == [({"front"}, [{"pocket"}])]
    assert joined_in(bag, 4) == [({"front", "pocket"}, [{"buckle-tab"}, {"buckle-tab"}])]
    ((base, moved),) = joined_in(bag, 8)
    assert {"gusset", "gusset-lining"} in (base, *moved)
    assert {"back", "back-lining", "pad"} in (base, *moved)
    ((base, moved),) = joined_in(bag, 11)
    assert "gusset" in base
    assert moved == [{"closing"}, {"closing"}, {"handle"}]


def test_what_goes_on_leads_away_at_right_angles_to_the_face_where_it_lies() -> None:
    """By hand: pockets and tabs come off the front towards the viewer, linings off the flesh side, ring tabs sideways."""
    bag = apart("field-bag")
    ways = {
        one.copies[0]: tuple(round(part, 6) for part in one.way)
        for step in (3, 4, 5, 12)
        for heap in bag.heaps(step - 1)[1]
        for one in heap.moved
    }
    assert ways[Copy("pocket")] == ways[Copy("buckle-tab", 2)] == (0.0, -1.0, 0.0)
    assert ways[Copy("back-lining", 1)] == (0.0, -1.0, 0.0)
    assert ways[Copy("back-lining", 2)] == (0.0, 1.0, 0.0)
    assert {ways[Copy("ring-tab", number)][0] for number in (1, 2)} == {1.0, -1.0}


def test_deeper_layers_go_less_far() -> None:
    (heap, *_) = apart("field-bag").heaps(4)[1]
    ranks = {copy.part: one.rank for one in heap.moved for copy in one.copies}
    assert ranks["pad"] < ranks["back-lining"]


def test_a_flap_in_the_way_lies_open() -> None:
    """As it lies at last it would go through the front on its way."""
    bodies, (heap,) = apart("satchel").heaps(3)
    flap = bodies[Copy("flap")]
    heights = [round(at[2]) for face in flap.faces for at in face.corners]
    assert max(heights) > 300
    assert all(math.isclose(face.corners[0][1], flap.faces[0].corners[0][1], abs_tol=0.01) for face in flap.faces)
    assert {copy.part for one in heap.moved for copy in one.copies} | {copy.part for copy in heap.base} >= {
        "front",
        "gusset",
    }


def test_what_folds_over_others_lies_beyond_them() -> None:
    """Of a closed wallet the cover is outermost on both sides, and the pockets lie between, deepest where written last."""
    wallet = by_hand("wallet").lifted
    heights = {
        placed.copy.part: [round(lift[2]) for lift in placed.lifts] for placed in wallet.parts if len(placed.lifts) == 2
    }
    near, far = (sorted(heights, key=lambda part, k=k: heights[part][k]) for k in (0, 1))  # type: ignore[misc]
    assert near == ["cover", "inside", "upper", "lower"]
    assert far == ["lower", "upper", "inside", "cover"]


def test_what_may_lie_otherwise_is_left_out_with_the_reason() -> None:
    assert [*by_hand("satchel").tell_withheld()] == [
        '"flap": its snap does not come to lie on the other half',
        "what step 3 joins: flap is not drawn",
    ]
    assert "what step 2 joins: welt is not drawn" in by_hand("sheath").tell_withheld()
    with pytest.raises(UnsureError):
        by_hand("sheath").heaps(1)


def test_what_is_sewn_all_round_to_its_like_lies_back_to_back() -> None:
    """A lining of the same outline, sewn edge on edge, is turned over about the way in which it is even."""
    one = by_hand("instrument")
    assert [*one.tell_withheld()] == []
    shoulder, lining = (one.build.space.part(Copy(name)) for name in ("shoulder", "lining"))
    assert shoulder is not None
    assert lining is not None
    assert sum(a * b for a, b in zip(shoulder.out(0), lining.out(0), strict=True)) == pytest.approx(-1)


def test_nothing_is_left_out_where_all_is_told() -> None:
    for name in ("field-bag", "notebook-sleeve", "tote", "wallet", "sheath"):
        assert [*apart(name).tell_withheld()] == []
    assert [*apart("cable-roll").tell_withheld()] == ['"tie": it is goods by length, and how it runs is not drawn']
    told = [*apart("duffel").tell_withheld()]
    assert told == ["what step 1 joins: Tube is closed or joined later, in step 2"]


def test_check_tells_what_is_not_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(BUILDS["sheath"])]) == 0
    told = capsys.readouterr().out
    assert 'not drawn: "welt": nothing says on which side of its seam it lies' in told
    assert "not drawn: what step 2 joins: welt is not drawn" in told
