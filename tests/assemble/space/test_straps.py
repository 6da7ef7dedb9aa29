"""Straps, rings and what is set: their lines by hand, by numpy and by scipy's integral of the curve."""

import math
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from built import BUILDS, built
from demos import PATHS, demo_build
from in_space import at, meetings, near, part
from scipy.integrate import quad
from short_specs import piece, rivet, seam

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.space import Placed, Space

Resolve = Callable[[str], Assembled]
INCH = 25.4
SQUARE = 'ends = [{ shape = "square" }, { shape = "square" }]\n'
RING = '[hardware.ring]\nwhat = "D ring, 20 mm"\ncount = {count}\ninside = "20 mm"\nbar = "4 mm"\n'


@pytest.fixture(scope="module")
def bag() -> tuple[Assembled, Space]:
    build = demo_build("field-bag")
    assert isinstance(build, Assembled)
    return build, TakenApart(build).lifted


def strap(name: str, length: int, more: str = SQUARE) -> str:
    return f'[straps.{name}]\nof = "body"\nwidth = "20 mm"\nfinished = "{length} mm"\n{more}'


def landings(*ends: str) -> str:
    return "landings = [" + ", ".join(f"{{ {end} }}" for end in ends) + "]\n"


def middle_line(placed: Placed, build: Assembled) -> "np.ndarray[tuple[int, int], np.dtype[np.float64]]":
    """Points along the middle of a strap, at the ends of its bands."""
    (own,) = [one for one in build.straps if one.name == placed.copy.part]
    bands = placed.surface.bands
    return np.array([at(placed, own.width_mm / 2, mm) for mm in (*(b.begin_mm for b in bands), bands[-1].end_mm)])


def line_mm(points: "np.ndarray[tuple[int, int], np.dtype[np.float64]]") -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def everything() -> list[Assembled]:
    demos = [demo_build(name) for name in PATHS]
    return [*(one for one in demos if isinstance(one, Assembled)), *(built(name).build for name in BUILDS)]


def test_every_strap_is_as_long_in_space_as_it_is_cut() -> None:
    found = 0
    for build in everything():
        for placed in build.space.parts:
            own = next((one for one in build.straps if one.name == placed.copy.part), None)
            if own is not None:
                found += 1
                assert line_mm(middle_line(placed, build)) == pytest.approx(own.cut_length_mm, abs=0.01)
    assert found > 25


def test_all_hardware_of_every_build_has_its_place() -> None:
    for build in everything():
        space = build.space
        if build.code == "hipbag":
            continue  # its belt closes on itself, and is not placed
        assert space.unset == ()
        for item in build.hardware:
            placed = [one for one in space.metal if one.hardware == item.name and one.half != "stud"]
            assert len(placed) == item.count, (build.code, item.name)


def test_a_handle_arches_over_the_edge_as_long_as_it_is(bag: tuple[Assembled, Space]) -> None:
    """The demo's: 14 in, 1 3/4 in of each end lie fast 7 in apart, 10 1/2 in are free. They begin 1 in under the edge
    (2 3/4 less 1 3/4). By scipy: the arms of a cubic curve over 7 in that is 10 1/2 long; its top is 3/4 of an arm up."""
    build, space = bag
    handle = part(space, "handle")
    low, high = 0.0, 20.0

    def long(arm: float) -> float:
        return float(
            quad(lambda t: math.hypot(7 * 6 * t * (1 - t), 3 * arm * (1 - 2 * t)), 0, 1)[0]  # of (3t^2-2t^3, 3t-3t^2)
        )

    for _ in range(60):
        low, high = ((low + high) / 2, high) if long((low + high) / 2) < 10.5 else (low, (low + high) / 2)
    top = max(middle_line(handle, build)[:, 2])
    assert top == pytest.approx((9.25 - 1 + 0.75 * low) * INCH, abs=0.5)
    assert (handle.how, handle.is_free) == ("arches", True)
    back = part(space, "back")
    for own_mm, x in ((0.5, -3.5), (1.25, -3.5), (14 - 1.25, 3.5), (14 - 0.5, 3.5)):
        up = 9.25 - 2.75 + (own_mm if own_mm < 7 else 14 - own_mm)
        assert at(handle, 7 / 16 * INCH, own_mm * INCH) == near(*at(back, (6 + x) * INCH, up * INCH))
    assert {round(float(handle.out(k)[1]), 6) for k in range(len(handle.surface.bands))} == {1.0}


def test_two_parts_of_a_shoulder_strap_meet_at_the_middle_hole(bag: tuple[Assembled, Space]) -> None:
    """44 in from ring to ring; and a quarter turn round each of three bars, pi (d + t) / 4 with t of 5 oz, 2.0 mm."""
    build, space = bag
    buckled, holed = part(space, "shoulder-buckle"), part(space, "shoulder")
    one, other = (next(s for s in build.straps if s.name == name) for name in ("shoulder-buckle", "shoulder"))
    hole_mm = other.cut_length_mm - 3.5 * INCH - 3 * INCH  # the fourth of seven holes
    bar_mm = one.cut_length_mm - one.ends[1].fold_mm
    wide = INCH / 2
    assert at(holed, wide, hole_mm) == pytest.approx(at(buckled, wide, bar_mm), abs=0.001)
    turns = math.pi / 4 * sum(bar + 2.0 for bar in (4, 4, 3))
    parts = middle_line(holed, build), middle_line(buckled, build)
    whole = (
        line_mm(parts[0]) - other.ends[0].fold_mm - 6.5 * INCH + line_mm(parts[1]) - sum(e.fold_mm for e in one.ends)
    )
    assert whole == pytest.approx(44 * INCH + turns, abs=0.01)
    rings = [metal for metal in space.metal if metal.hardware == "ring"]
    ends = {at(buckled, wide, one.ends[0].fold_mm), at(holed, wide, other.ends[0].fold_mm)}
    assert all(min(math.dist(ring.far, end) for end in ends) < 0.001 for ring in rings)
    assert {ring.part.part for ring in rings} == {"ring-tab"}
    (meeting,) = [one for one in space.buckled if one.takes == "buckle"]
    assert meeting.apart_mm < 0.001


def test_a_closing_strap_goes_round_to_its_buckle(bag: tuple[Assembled, Space]) -> None:
    """2 3/4 in up the back, over the top by what the wall is wide between its seams, the rest down the front."""
    build, space = bag
    closing = part(space, "closing")
    bands = closing.surface.bands
    up_mm, over_mm = 2.75 * INCH, (3.5 - 2 * 5 / 32) * INCH
    whole_mm = next(one.cut_length_mm for one in build.straps if one.name == "closing")
    assert [band.end_mm - band.begin_mm for band in bands] == pytest.approx(
        [up_mm, over_mm, whole_mm - up_mm - over_mm]
    )
    assert [band.way for band in bands] == [near(0, 0, 1), near(0, -1, 0), near(0, 0, -1)]
    assert [closing.out(k) for k in range(3)] == [near(0, 1, 0), near(0, 0, 1), near(0, -1, 0)]
    assert (closing.how, closing.is_free) == ("leads from", True)
    down = 9.25 - (5 + 7 / 8 + 3 - 1.25)  # from the edge to the fold of the tab that holds the buckle
    off = 8 - (2.75 + 3.5 - 5 / 16 + down)  # of the middle hole; the one before it is 3/4 in nearer to the first end
    off_mm = [one.apart_mm for one in space.buckled if one.takes == "small-buckle"]
    assert off_mm == pytest.approx([min(abs(off), abs(off - 0.75)) * INCH] * 2, abs=0.001)
    assert max(closing.lifts[2]) <= 0
    assert min(closing.lifts[2]) < min(part(space, "buckle-tab").lifts[0]), "it lies over the tab"


def test_what_is_set_lies_on_the_uppermost_layer(bag: tuple[Assembled, Space]) -> None:
    """The handle lies on the closing strap, and that on the back: two layers, and half a one for the cap."""
    _, space = bag
    caps = [one for one in space.metal if one.hardware == "rivet" and one.part == Copy("back")]
    assert len(caps) == 4
    assert all((one.shape, one.axis, one.lift) == ("cap", near(0, 1, 0), near(0, 2.5, 0)) for one in caps)
    back = part(space, "back")
    assert sorted(one.at for one in caps) == [
        near(*spot)
        for spot in sorted(at(back, (6 + x) * INCH, (9.25 - y) * INCH) for x in (-3.5, 3.5) for y in (1.5, 2.25))
    ]
    for one in caps:
        (rim,) = one.outlines
        assert [math.dist(point, one.at) for point in rim] == pytest.approx([4.5] * len(rim))


def test_a_ring_hangs_in_its_fold(bag: tuple[Assembled, Space]) -> None:
    """A D ring of 26 mm inside on a bar of 4 mm: its outer side is wider by two bars."""
    _, space = bag
    ring = next(one for one in space.metal if one.hardware == "ring")
    tab = part(space, "ring-tab", ring.part.number)
    assert ring.at == near(*at(tab, 0.75 * INCH, 1.25 * INCH))
    outer, inner = (np.array(line) for line in ring.outlines)
    assert [np.ptp(line, axis=0).max() for line in (outer, inner)] == pytest.approx([26 + 8, 26], abs=1e-6)
    assert ring.shape == "D ring"
    assert ring.way == near(0, 0, 1)


def test_a_strap_that_nothing_turns_goes_straight_on(place: Callable[[str], Space]) -> None:
    text = piece("a", 80, 160, landings('strap = "loop", at = "20 mm from top, 30 mm from left", over = "20 mm"'))
    loop = part(place(text + strap("loop", 200)), "loop")
    assert at(loop, 0, 200) == near(20, 140 + 200, 0)
    assert at(loop, 20, 0) == near(40, 140, 0)


def test_an_end_that_is_turned_lies_back_behind_its_strap(place: Callable[[str], Space]) -> None:
    """A ring of 4 mm bar in the second end, 30 mm back, leather of 2 mm: cut 200 + 30 + 3 pi, the fold half of the turn
    beyond the 200. The cut end comes to lie that much and 30 mm back from there."""
    ends = 'ends = [{ shape = "square" }, { shape = "turned", back = "30 mm", around = "ring" }]\n'
    text = piece("a", 80, 160, landings('strap = "tie", at = "20 mm from top, 30 mm from left", over = "20 mm"'))
    space = place(text + strap("tie", 200, ends) + RING.format(count=1))
    tie, half_mm = part(space, "tie"), 3 * math.pi / 2
    assert at(tie, 10, 200 + half_mm) == near(30, 140 + 200 + half_mm, 0)
    assert at(tie, 10, 230 + 2 * half_mm) == near(30, 140 + 170, 0)
    (ring,) = space.metal
    assert (ring.part, ring.at, ring.way) == (Copy("tie"), near(30, 340 + half_mm, 0), near(0, 1, 0))
    assert tie.lifts[-1][2] < tie.lifts[-2][2]


def test_a_strap_between_two_sides_goes_up_before_it_turns_over(place: Callable[[str], Space]) -> None:
    """Held on both sides of a wall, 40 mm under its ends: it clears them, and comes down the other side turned over."""
    sides = landings(
        'strap = "carry", at = "40 mm from end, centre", over = "20 mm"',
        'strap = "carry", end = "second", at = "40 mm from start, centre", leads = "down", over = "20 mm"',
    )
    text = (
        piece("back", 200, 150)
        + '[pieces.front]\nlike = "back"\n'
        + f'[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["60 mm", "solve"]\n{sides}'
        + seam("one", "back: left bottom right", "wall: left")
        + seam("two", "front: left bottom right", "wall: right")
    )
    space = place(text + strap("carry", 700))
    carry, wall = part(space, "carry"), part(space, "wall")
    top = max(z for face in wall.faces for _, _, z in face.corners)
    starts, ends = at(carry, 10, 40), at(carry, 10, 660)
    assert starts[2] == pytest.approx(top)
    assert (ends[2], abs(starts[0] - ends[0])) == pytest.approx((top, 200 - 2 * 4))
    assert at(carry, 0, 350)[2] == pytest.approx(at(carry, 20, 350)[2]), "it lies across the bag at its top"
    outs = [carry.out(k) for k in range(len(carry.surface.bands))]
    assert outs[0][0] == pytest.approx(-outs[-1][0])
    assert max(out[2] for out in outs) > 0.95


def test_a_strap_shorter_than_its_way_is_told_so(place: Callable[[str], Space]) -> None:
    ends = landings(
        'strap = "handle", at = "20 mm from top, 20 mm from left", over = "20 mm"',
        'strap = "handle", end = "second", at = "20 mm from top, 20 mm from right", over = "20 mm"',
    )
    space = place(piece("a", 280, 160, ends) + strap("handle", 275))
    assert [(one.copy.part, one.why) for one in space.unplaced] == [
        ("handle", "it is shorter than the way between what holds it")
    ]


def test_a_strap_sewn_to_two_faces_twists_evenly(resolve_text: Resolve) -> None:
    """Up at one end, to the right at the other: the strap leaves both as it lies there, and turns between."""
    ends = landings(
        'strap = "handle", at = "20 mm from top, 30 mm from left", over = "20 mm"',
        'strap = "handle", end = "second", at = "30 mm from right, 60 mm from bottom", leads = "right", over = "20 mm"',
    )
    build = resolve_text(piece("a", 280, 160, ends) + strap("handle", 500))
    handle = part(build.space, "handle")
    first, last = handle.surface.asides[0], handle.surface.asides[-1]
    assert first == near(-1, 0, 0)
    assert last == near(0, -1, 0)
    points = middle_line(handle, build)
    ways = [(to - one) / np.linalg.norm(to - one) for one, to in pairwise(points)]
    for (before, after), aside in zip(pairwise(ways), handle.surface.asides[1:-1], strict=True):
        assert np.linalg.norm(aside) == pytest.approx(1)
        assert np.dot(aside, before + after) == pytest.approx(0, abs=1e-6)


TAB = (
    '[pieces.tab]\nof = "body"\nshape = "rectangle"\nsize = ["18 mm", "60 mm"]\n'
    'folds = [{ at = "middle", around = "ring" }]\n'
    'holes = [{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["a"] }]\n'
)
TURNED = '{ shape = "turned", back = "30 mm", around = "ring" }'
HOLED = 'holes = [{ at = "centre, 15 mm from top", punch = "4 mm" }]\n'


def test_a_strap_with_both_ends_in_one_ring_is_a_loop(place: Callable[[str], Space]) -> None:
    text = piece("a", 100, 100, HOLED) + TAB + strap("wrist", 300, f"ends = [{TURNED}, {TURNED}]\n")
    space = place(text + rivet() + RING.format(count=1))
    wrist, (ring,) = part(space, "wrist"), [one for one in space.metal if one.shape == "D ring"]
    fold_mm = 15 + 3 * math.pi / 4 + 15 + 3 * math.pi / 4
    assert at(wrist, 10, fold_mm) == pytest.approx(ring.far, abs=1e-6)
    far = max(math.dist(at(wrist, 10, fold_mm + mm), ring.far) for mm in range(0, 300, 5))
    assert 100 < far < 150, "out and back"


def test_a_strap_that_only_a_ring_holds_is_told_so(place: Callable[[str], Space]) -> None:
    text = piece("a", 100, 100, HOLED) + TAB + strap("tail", 300, f'ends = [{TURNED}, {{ shape = "square" }}]\n')
    space = place(text + rivet() + RING.format(count=1))
    assert [one.why for one in space.unplaced] == ["only a ring holds it, and it hangs from that as it likes"]


def test_a_belt_beside_pieces_is_told_to_close_on_itself() -> None:
    (belt,) = [one for one in built("hipbag").space.unplaced if one.copy.part == "belt"]
    assert belt.why == "it closes on itself, and where it lies then hangs on who wears it"


def test_a_hook_goes_into_a_ring_that_a_piece_holds(place: Callable[[str], Space]) -> None:
    """A hook of 20 mm inside is taken to reach 1.6 times that."""
    ends = ", ".join([TURNED.replace('"ring"', '"hook"')] * 2)
    text = piece("a", 100, 100, HOLED) + TAB + strap("lead", 300, f"ends = [{ends}]\n") + rivet()
    hook = '[hardware.hook]\nwhat = "swivel hook"\ncount = 2\ninside = "20 mm"\nbar = "4 mm"\n'
    space = place(text + RING.format(count=1) + hook)
    assert [one.why for one in space.unplaced] == ["only a ring holds it, and it hangs from that as it likes"]
    assert [(one.hardware, one.count, one.why) for one in space.unset] == [("hook", 2, "what takes it is not placed")]
    two = text.replace("[pieces.tab]", "[pieces.tab]\ncut = 2").replace(
        HOLED,
        'holes = [{ at = "20 mm from left, 15 mm from top", punch = "4 mm" }, '
        '{ at = "20 mm from right, 15 mm from top", punch = "4 mm" }]\n',
    )
    space = place(two.replace("count = 1", "count = 2", 1) + RING.format(count=2) + hook)
    assert space.unplaced == ()
    rings = [one for one in space.metal if one.hardware == "ring"]
    hooks = [one for one in space.metal if one.hardware == "hook"]
    assert sorted(min(math.dist(one.at, ring.far) for ring in rings) for one in hooks) == pytest.approx([32, 32])


def test_hardware_that_nothing_takes_has_no_place(place: Callable[[str], Space]) -> None:
    space = place(piece("a", 100, 100) + RING.format(count=1))
    assert [(one.hardware, one.count, one.why) for one in space.unset] == [
        ("ring", 1, "no hole, fold or strap end takes it")
    ]
    tail = strap("tail", 300, f'ends = [{TURNED}, {{ shape = "square" }}]\n')
    stray = '[hardware.stray]\nwhat = "D ring, 25 mm"\ncount = 1\ninside = "25 mm"\nbar = "4 mm"\n'
    space = place(piece("a", 100, 100, HOLED) + TAB + tail + rivet() + RING.format(count=1) + stray)
    assert [one.copy.part for one in space.unplaced] == ["tail"], "which takes the ring alone"
    assert [(one.hardware, one.count, one.why) for one in space.unset] == [
        ("stray", 1, "no hole, fold or strap end takes it")
    ]


def test_hardware_that_is_counted_too_high_is_not_said_to_be_taken_by_nothing(place: Callable[[str], Space]) -> None:
    """A tab takes one ring: the second is told as too many, by a caution."""
    for count in (1, 2):
        space = place(piece("a", 100, 100, HOLED) + TAB + rivet() + RING.format(count=count))
        assert [one.hardware for one in space.metal if one.hardware == "ring"] == ["ring"]
        assert space.unset == ()


def test_a_lid_on_straps_lies_over_the_box() -> None:
    """Base 200 by 120, walls 60 high, stitched 4 mm in: the back stands 4 mm in from the base's edge, and is 56 high over
    the seam. The lid is 204 by 124; its edge lies on that of the back, its middle over that of the box. Both holes of a
    hinge are 10 mm from their edges, and lie 20 mm apart on it."""
    space = built("box").space
    lid, back = part(space, "lid"), part(space, "back")
    assert lid.out(0) == near(0, 0, 1)
    corners = np.array([at(lid, x, y) for x in (0, 204) for y in (0, 124)])
    assert corners[:, 2] == pytest.approx([56] * 4)
    assert np.ptp(corners, axis=0) == pytest.approx([204, 124, 0], abs=1e-6)
    depth = at(back, 0, 60)[1]
    assert corners[:, 1].max() == pytest.approx(depth)
    walls = [at(part(space, "back"), x, 60)[0] for x in (0, 200)]
    assert corners[:, 0].mean() == pytest.approx(np.mean(walls))
    hinges = [one for one in meetings(space) if one.host == "hinge"]
    assert len(hinges) == 4
    assert max(one.apart_mm for one in hinges) == pytest.approx(0, abs=1e-6)
    assert [one.how for one in space.parts if one.copy.part == "hinge"] == ["hinges"] * 2


def test_straps_alone_are_laid_out_in_line() -> None:
    """Starter `strap`: the part with the buckle, and from there on the other one, its middle hole on the bar."""
    build = demo_build("strap")
    assert isinstance(build, Assembled)
    space = build.space
    assert {one.how for one in space.parts} == {"laid out"}
    assert all(abs(z) < 1e-6 for one in space.parts for face in one.faces for _, _, z in face.corners)
    (meeting,) = space.buckled
    assert (meeting.part, meeting.host, meeting.apart_mm) == (Copy("holed"), Copy("buckled"), near_zero())
    assert [(one.copy.part, one.why) for one in space.unplaced] == [
        ("keeper", "it is a keeper held in a fold, and its way round the strap is not drawn")
    ]


def near_zero() -> object:
    return pytest.approx(0, abs=1e-5)


def test_handles_of_a_duffel_stand_up() -> None:
    space = built("duffel").space
    carries = [one for one in space.parts if one.copy.part == "carry"]
    walls = [z for one in space.parts if one.copy.part == "tube" for face in one.faces for _, _, z in face.corners]
    for one in carries:
        heights = [z for face in one.faces for _, _, z in face.corners]
        assert max(heights) > max(walls) - 60
        assert min(heights) > (min(walls) + max(walls)) / 2 - 60


def test_a_snap_has_both_halves_in_their_own_pieces() -> None:
    space = built("satchel").space
    halves = {(one.part.part, one.half) for one in space.metal if one.hardware == "snap"}
    assert halves == {("flap", "cap"), ("pocket", "stud")}


def test_a_floor_is_turned_with_its_front_to_the_viewer(place: Callable[[str], Space]) -> None:
    """What is sewn to the bottom of a floor stands in front; a wall that is named the front does in its place."""
    text = piece("base", 200, 120) + piece("long", 200, 60, "cut = 2\n") + piece("short", 120, 60, "cut = 2\n")
    for name, (one, edge) in {
        "a": ("long 1", "bottom"),
        "b": ("short 1", "right"),
        "c": ("long 2", "top"),
        "d": ("short 2", "left"),
    }.items():
        text += seam(name, f"{one}: bottom", f"base: {edge}")
    for name, (one, other) in {
        "e": ("long 1", "short 1"),
        "f": ("short 1", "long 2"),
        "g": ("long 2", "short 2"),
        "h": ("short 2", "long 1"),
    }.items():
        text += seam(name, f"{one}: left", f"{other}: right")
    space = place(text)
    assert part(space, "long", 1).out(0) == near(0, -1, 0)
    assert part(space, "long", 2).out(0) == near(0, 1, 0)


@pytest.mark.parametrize(("ways", "how"), [(("right", "left"), "leads from"), (("left", "right"), "arches")])
def test_two_parts_that_lead_away_from_each_other_go_round_what_is_rolled_up(
    resolve_text: Resolve, ways: tuple[str, str], how: str
) -> None:
    """On one plate, the buckle right of the part with the holes: each leads on straight, over nothing that is known. Turned
    towards each other they are buckled in a bow over the plate, as a grip is."""
    right, left = ways
    plate = landings(
        f'strap = "chape", at = "160 mm from left, 50 mm from bottom", leads = "{right}", over = "30 mm", stitch = "main"',
        f'strap = "wrap", at = "40 mm from left, 50 mm from bottom", leads = "{left}", over = "30 mm", stitch = "main"',
    )
    turned = 'ends = [{ shape = "square" }, { shape = "turned", back = "35 mm", around = "buckle", sewn = "main" }]\n'
    holes = 'partner = "chape"\nholes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "50 mm" }\n'
    build = resolve_text(
        piece("plate", 200, 100, plate)
        + '[hardware.buckle]\nwhat = "bar buckle, 20 mm"\ncount = 1\ninside = "21 mm"\nbar = "3 mm"\ntongue = "3 mm"\n'
        + strap("chape", 90, turned)
        + strap("wrap", 420, holes + 'ends = [{ shape = "square" }, { shape = "pointed" }]\n').replace(
            'finished = "420', 'wears = "420'
        )
    )
    placed = [one for one in build.space.parts if one.copy.part in ("chape", "wrap")]
    assert {one.how for one in placed} == {how}
    assert all(bool(one.bow_mm) == (how == "arches") for one in placed if one.copy.part == "wrap")
