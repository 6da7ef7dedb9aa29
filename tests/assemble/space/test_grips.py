"""Straps that are longer than the way between their holds stand up; those held by their second end lie as those held by
their first; what closes over a flat pouch comes to its stud. By hand, and by scipy's Bessel and Struve functions."""

import math
from collections.abc import Callable
from itertools import pairwise

import pytest
from in_space import at, near, part
from scipy.optimize import brentq
from scipy.special import j0, j1, struve
from short_specs import piece, rivet, seam, step

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.space import Placed, Space

Place = Callable[[str], Space]
Resolve = Callable[[str], Assembled]
SQUARE = 'ends = [{ shape = "square" }, { shape = "square" }]\n'


def strap(name: str, length: int, more: str = "", ends: str = SQUARE) -> str:
    return f'[straps.{name}]\nof = "body"\nwidth = "20 mm"\nfinished = "{length} mm"\n{more}{ends}'


def landings(*ends: str) -> str:
    return "landings = [" + ", ".join(f"{{ {end} }}" for end in ends) + "]\n"


GRIP = landings(
    'strap = "grip", at = "85 mm left of centre, middle", leads = "right", over = "25 mm"',
    'strap = "grip", end = "second", at = "85 mm right of centre, middle", leads = "left", over = "25 mm"',
)


def long_mm(placed: Placed, length_mm: float) -> float:
    bands = placed.surface.bands
    points = [at(placed, 10, mm) for mm in (*(one.begin_mm for one in bands), length_mm)]
    return sum(math.dist(*pair) for pair in pairwise(points))


def test_a_grip_bows_off_its_panel_as_long_as_it_is(place: Place) -> None:
    """180 mm are free over 120: a sine of angles whose chord is J0 of its swing, and whose rise half H0 (Struve) of it."""
    grip = part(place(piece("lid", 300, 200, GRIP) + strap("grip", 230)), "grip")
    swing = brentq(lambda x: j0(x) - 120 / 180, 0, 2.4)
    assert grip.bow_mm == pytest.approx(180 / 2 * struve(0, swing), rel=0.01)
    assert long_mm(grip, 230) == pytest.approx(230, abs=0.01)
    assert [at(grip, 10, mm) for mm in (0, 25, 205, 230)] == [near(x, 100, 0) for x in (65, 90, 210, 235)]
    assert at(grip, 10, 115) == near(150, 100, grip.bow_mm)
    assert min(face_low(grip)) > -1e-6, "nothing of it goes into the panel"


def face_low(placed: Placed) -> list[float]:
    return [z for face in placed.faces for _, _, z in face.corners]


def test_a_strap_no_longer_than_its_way_lies_flat(place: Place) -> None:
    grip = part(place(piece("lid", 300, 200, GRIP) + strap("grip", 170)), "grip")
    assert grip.bow_mm == 0
    assert max(face_low(grip)) < 1e-6


def test_a_strap_that_leads_away_from_its_other_end_comes_round_to_it(place: Place) -> None:
    """Up at the top, down at the bottom: 600 mm are free for 260 between the holds. It turns once round; its chord is J1
    of its swing."""
    ends = landings(
        'strap = "loop", at = "centre, 60 mm from top", leads = "up", over = "30 mm"',
        'strap = "loop", end = "second", at = "centre, 60 mm from bottom", leads = "down", over = "30 mm"',
    )
    loop = part(place(piece("back", 200, 320, ends) + strap("loop", 660)), "loop")
    swing = brentq(lambda x: j1(x) - 260 / 600, 0, 1.84)
    turned = sum(
        math.sin(math.tau * (k + 0.5) / 1000 + swing * math.sin(math.tau * (k + 0.5) / 1000)) for k in range(500)
    )
    assert loop.bow_mm == pytest.approx(turned / 1000 * 600, rel=0.01)
    assert long_mm(loop, 660) == pytest.approx(660, abs=0.01)
    assert min(face_low(loop)) > -1e-6


def test_what_doubles_back_on_itself_is_not_drawn(place: Place) -> None:
    """Both ends lead up, one over the other: how it bends on its way back nothing says."""
    ends = landings(
        'strap = "loop", at = "centre, 60 mm from bottom", over = "30 mm"',
        'strap = "loop", end = "second", at = "centre, 100 mm from top", over = "30 mm"',
    )
    space = place(piece("back", 200, 320, ends) + strap("loop", 400))
    assert [one.why for one in space.unplaced] == [
        "it is longer than the way between what holds it, and nothing says how it stands off there"
    ]


@pytest.mark.parametrize("kind", ["straps", "pieces"])
def test_a_riveted_grip_bows_between_its_posts(place: Place, kind: str) -> None:
    takes = ', takes = "rivet", through = ["grip"]' if kind == "straps" else ""
    spots = ", ".join(
        f'{{ at = "60 mm {side} of centre, middle", punch = "4 mm"{takes} }}' for side in ("left", "right")
    )
    ends = [f'{{ at = "centre, 15 mm from {end}", punch = "4 mm"' for end in ("start", "end")]
    if kind == "straps":
        grip = strap("grip", 230, f"punches = [{ends[0]} }}, {ends[1]} }}]\n")
    else:
        more = ', takes = "rivet", through = ["lid"] }'
        grip = '[pieces.grip]\nof = "body"\nshape = "strip"\nsize = ["20 mm", "230 mm"]\n'
        grip += f"holes = [{ends[0]}{more}, {ends[1]}{more}]\n"
    placed = part(place(piece("lid", 300, 200, f"holes = [{spots}]\n") + grip + rivet(2)), "grip")
    swing = brentq(lambda x: j0(x) - 120 / 200, 0, 2.4)
    assert placed.how == "arches"
    assert placed.bow_mm == pytest.approx(200 / 2 * struve(0, swing), rel=0.01)
    found = sorted(at(placed, 10, mm) for mm in (15, 215))
    assert found == [near(90, 100, 0), near(210, 100, 0)]


def test_a_strap_riveted_near_an_edge_may_lead_over_that_and_is_not_drawn(place: Place) -> None:
    """As the neck of an apron: whether it stands up from the bib or leads over its top nothing says."""
    spots = ", ".join(
        f'{{ at = "60 mm {side} of centre, 20 mm from top", punch = "4 mm", takes = "rivet", through = ["neck"] }}'
        for side in ("left", "right")
    )
    ends = ", ".join(f'{{ at = "centre, 15 mm from {end}", punch = "4 mm" }}' for end in ("start", "end"))
    own = f"punches = [{ends}]\n"
    space = place(piece("bib", 300, 200, f"holes = [{spots}]\n") + strap("neck", 400, own) + rivet(2))
    assert [one.why for one in space.unplaced] == ["nothing that is placed holds it"]


def tongue(end: str, *, deep: bool, far: int = 132) -> str:
    """A pouch whose tongue is sewn on 40 mm under the back's top by one of its ends, 30 mm of it, with a hole 20 mm from
    the other; the stud 40 mm over the front's foot."""
    ends = ['{ shape = "square" }', '{ shape = "rounded" }']
    from_end = "end" if end == "first" else "start"
    own = ", ".join(ends if end == "first" else ends[::-1])
    front = 'holes = [{ at = "centre, 40 mm from bottom", punch = "5 mm", takes = "stud" }]\n'
    back = landings(f'strap = "tongue", end = "{end}", at = "centre, 40 mm from top", over = "30 mm"')
    punched = f'punches = [{{ at = "centre, 20 mm from {from_end}", punch = "5 mm" }}]\n'
    text = piece("front", 150, 110, front) + piece("back", 150, 110, back)
    text += strap("tongue", far, punched, f"ends = [{own}]\n")
    text += '[hardware.stud]\nwhat = "ball stud, 8 mm"\ncount = 1\n'
    if not deep:
        return text + seam("round", "front: left bottom right", "back: left bottom right")
    text += '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    text += seam("one", "front: left bottom right", "wall: left")
    return text + seam("two", "back: left bottom right", "wall: right")


@pytest.mark.parametrize("deep", [False, True])
def test_a_tongue_lies_alike_by_whichever_end_it_is_landed(place: Place, deep: bool) -> None:
    """Its held end on the back's outer side, its free one over the stud, its grain out all the way."""
    length = 174 if deep else 132
    found = []
    for end in ("first", "second"):
        space = place(tongue(end, deep=deep, far=length))
        own, front, back = (part(space, name) for name in ("tongue", "front", "back"))
        spots = [0, 20, 40, length - 20, length]
        spots = [length - mm for mm in spots] if end == "second" else spots
        found.append([tuple(round(x, 3) for x in at(own, 10, mm)) for mm in spots])
        held, free = (own.surface.band_at(mm) for mm in (spots[1], spots[3]))
        assert own.out(held) == near(*back.out(0))
        assert own.out(free) == near(*front.out(0))
        over = sum(a * b for a, b in zip(own.lifts[free], front.out(0), strict=True))
        under = sum(a * b for a, b in zip(front.lifts[0], front.out(0), strict=True))
        assert over > under, "it lies over the front"
        (stud,) = space.metal
        assert math.dist(at(own, 10, spots[3]), stud.at) < 5
    assert found[0] == found[1]


def test_a_closing_tongue_is_open_while_the_pouch_is_made(resolve_text: Resolve) -> None:
    steps = step("Sew on the tongue.", straps="tongue", pieces="back") + step("Sew the pouch.", seams="round")
    apart = TakenApart(resolve_text(tongue("second", deep=False) + steps))
    assert len(apart.closed.bodies) == 3
    (own,) = [body for body in apart.closed.bodies if body.copy == Copy("tongue")]
    assert own.is_folded_over
    for number in (0, 1):
        bodies, (heap,) = apart.heaps(number)
        laid = bodies[Copy("tongue")]
        assert Copy("tongue") in heap.copies
        assert not laid.is_folded_over
        ends = [laid.placed.surface.point(hole.at) for hole in laid.placed.item.holes]
        assert [spot[1] for spot in ends] == [pytest.approx(110 - 40 + 132 - 20)]


def test_a_tongue_straightened_keeps_the_end_that_is_held(resolve_text: Resolve) -> None:
    steps = step("Sew on the tongue.", straps="tongue", pieces="back") + step("Sew the bag.", seams="one two")
    build = resolve_text(tongue("second", deep=True, far=174) + steps)
    apart = TakenApart(build)
    placed = part(build.space, "tongue")
    bodies, _ = apart.heaps(1)
    straight = bodies[Copy("tongue")].placed
    assert at(straight, 10, 174) == near(*at(placed, 10, 174))
    assert len({tuple(round(x, 6) for x in band.way) for band in straight.surface.bands}) == 1


def test_a_strap_that_comes_to_nothing_is_drawn_open(resolve_text: Resolve) -> None:
    """As the lower part of a rucksack's strap: its holes are for a buckle that is not on the bag."""
    rows = 'holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "30 mm" }\n'
    text = (
        tongue("first", deep=True, far=300)
        .replace("punches = ", "# punches = ")
        .replace("[hardware", rows + "[hardware")
    )
    closed = TakenApart(resolve_text(text)).closed
    assert closed.opened == ("tongue",)


def test_a_tongue_too_short_for_its_stud_is_told_as_open(resolve_text: Resolve) -> None:
    """Straight on over the edge of a flat pouch, as what closes on it would not lie flat."""
    closed = TakenApart(resolve_text(tongue("second", deep=False, far=100))).closed
    assert closed.opened == ("tongue",)
    (own,) = [body for body in closed.bodies if body.copy == Copy("tongue")]
    assert not own.is_folded_over


@pytest.mark.parametrize("first", ["upright", "across"])
def test_of_straps_that_cross_the_one_that_lands_first_lies_beneath(place: Place, first: str) -> None:
    """Each held by one end, over its whole length one flat part, whose middle lies beside the crossing."""
    spots = {
        "upright": 'strap = "upright", at = "200 mm from left, 10 mm from bottom", leads = "up", over = "30 mm"',
        "across": 'strap = "across", at = "10 mm from left, 50 mm from bottom", leads = "right", over = "30 mm"',
    }
    order = sorted(spots, key=lambda name: name != first)
    text = piece("panel", 300, 200, landings(*(spots[name] for name in order)))
    space = place(text + strap("upright", 180) + strap("across", 280))
    lower, upper = (part(space, name).lifts[0][2] for name in order)
    assert (lower, upper) == (1, 2)


@pytest.mark.parametrize(("down_mm", "is_drawn"), [(20, True), (100, False)])
def test_a_strap_is_not_bent_edgeways_over_its_own_panel(place: Place, down_mm: int, is_drawn: bool) -> None:
    """Both ends lead up 120 mm from each other: its bow comes 60 mm up, over the top or not."""
    ends = landings(
        f'strap = "grip", at = "60 mm left of centre, {down_mm} mm from top", over = "20 mm"',
        f'strap = "grip", end = "second", at = "60 mm right of centre, {down_mm} mm from top", over = "20 mm"',
    )
    space = place(piece("lid", 300, 200, ends) + strap("grip", 230))
    assert [one.copy.part for one in space.parts] == (["lid", "grip"] if is_drawn else ["lid"])
    assert ["towards the other" in one.why for one in space.unplaced] == ([] if is_drawn else [True])
