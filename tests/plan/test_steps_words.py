"""What a step handles in words: hardware in its place, folds and slits, straps whose ends are alike."""

from dataclasses import replace

import pytest
from by_hand import SQUARE, make_hardware, make_strap
from step_lines import words_of

from docgen.assemble import Fastened, Stack
from docgen.geometry.shapes import Point
from docgen.plan import plan_work
from docgen.problems import Place
from docgen.resolve import Fold, Hole, Layer, Slit, Step, Strap, StrapEnd

RIVET = make_hardware("rivet", "double-cap rivet", 6, posts_mm=(6.0,), kind="rivet")
TURNED = StrapEnd(shape="turned", back_mm=40.0, around="", takes_mm=50.0)


@pytest.fixture
def lines(make_build):
    """What is laid out and done in one step, or in the first of several."""

    def tell_first(*steps: Step, **fields: object) -> list[str]:
        step = plan_work(make_build(**fields, steps=steps)).steps[0]
        return words_of((*step.takes, *step.acts))

    return tell_first


def test_hardware_is_counted_for_one_make(lines) -> None:
    step = Step(do="Set.", hardware=("rivet",))
    assert lines(step, hardware=(RIVET,)) == ["6 × double-cap rivet"]
    assert lines(step, hardware=(RIVET,), makes=12) == ["6 × double-cap rivet"]


def test_hardware_is_told_where_it_goes_with_its_post_in_the_step_that_sets_it(lines, make_piece) -> None:
    def fastened(part: str, count: int, mm: float, **more: object) -> Fastened:
        layers = (Layer(part=part, material="body", thickness_mm=mm),) if part == "back" else ()
        stack = Stack(layers=layers, usual_mm=mm, thinnest_mm=mm, thickest_mm=mm)
        return Fastened(hardware="rivet", part=part, count=count, stack=stack, **{"event": 2, **more})

    pieces = tuple(make_piece(name, 100, 50) for name in ("back", "tab", "base"))
    # What is done: the back (0) and the tab (1) are handled, rivets set (2), and in the second step again (3).
    first = Step(do="Set.", hardware=("rivet",), pieces=("back", "tab"))
    built = {
        "hardware": (RIVET,),
        "pieces": pieces,
        "fastened": (fastened("back", 4, 4.0, post_mm=6.0), fastened("tab", 2, 8.0), fastened("base", 1, 8.0, event=3)),
    }
    assert lines(first, Step(do="Set the rest.", hardware=("rivet",)), **built) == [
        "Back",
        "Tab",
        "6 × double-cap rivet",
        "Set 4 rivets in Back, 4 mm of leather, post 6 mm.",
        "Set 2 rivets in Tab, 8 mm of leather.",
    ]


def test_of_hardware_of_several_steps_each_tells_its_own(lines, make_piece) -> None:
    stack = Stack(layers=(), usual_mm=4.0, thinnest_mm=4.0, thickest_mm=4.0)
    fits = tuple(Fastened(hardware="rivet", part="back", count=n, stack=stack, event=k) for k, n in ((1, 4), (2, 2)))
    steps = (Step(do="Set.", hardware=("rivet",), pieces=("back",)), Step(do="Set the rest.", hardware=("rivet",)))
    found = lines(*steps, hardware=(RIVET,), pieces=(make_piece("back", 100, 50),), fastened=fits)
    assert found[1] == "4 × double-cap rivet (of 6)"


def test_the_halves_of_a_snap_are_told_apart(lines, make_piece) -> None:
    """Each goes through its own piece of 2 mm, on a post that is 3 mm over it or more (docgen.tables.hardware)."""
    snap = replace(RIVET, what="line 20 snap", kind="snap", count=1, posts_mm=(5.0,))
    hole = Hole(at=Point(50, 25), diameter_mm=4, takes="rivet")
    pieces = (
        make_piece("flap", 100, 50, holes=(replace(hole, through=("front",)),)),
        make_piece("front", 100, 50, holes=(hole,)),
    )
    step = Step(do="Set.", hardware=("rivet",), pieces=("flap", "front"))
    middle = "in the middle between left and right, in the middle between top and bottom"
    assert lines(step, hardware=(snap,), pieces=pieces)[-2:] == [
        f"Set 1 snap cap in Flap, {middle}, 2 mm of leather, post 5 mm, cap on the grain side, socket on the flesh side.",
        f"Set 1 snap stud in Front, {middle}, 2 mm of leather, post 5 mm.",
    ]


def test_the_halves_of_two_snaps_in_a_piece_are_told_with_both_their_places(lines, make_piece) -> None:
    """Each hole is written on a line of its own."""
    snap = replace(RIVET, what="line 20 snap", kind="snap", count=2, posts_mm=(5.0,))
    pieces = tuple(
        make_piece(
            name,
            100,
            50,
            holes=tuple(
                Hole(at=Point(x, 25), diameter_mm=4, takes="rivet", through=through, place=Place(line=line + x))
                for x in (20, 80)
            ),
        )
        for name, through, line in (("flap", ("front",), 100), ("front", (), 200))
    )
    step = Step(do="Set.", hardware=("rivet",), pieces=("flap", "front"))
    where = "20 mm from left and right, in the middle between top and bottom"
    found = lines(step, hardware=(snap,), pieces=pieces)[-2:]
    assert [line.split(", 2 mm of")[0] for line in found] == [
        f"Set 2 snap caps in Flap, {where}",
        f"Set 2 snap studs in Front, {where}",
    ]


@pytest.mark.parametrize(
    ("count", "place"),
    [(4, "9 mm from left and right, 24 mm from bottom and top"), (2, "9 mm from left, 24 mm from bottom and top")],
)
def test_snaps_that_pinch_the_corners_of_a_tray_are_told_with_the_places_of_all(
    lines, make_piece, count: int, place: str
) -> None:
    """Each corner has the cap at its side edge and the stud at its upper or lower one, on a line of its own in the spec."""
    snap = replace(RIVET, what="line 16 snap", kind="snap", count=count, posts_mm=(4.0, 5.0))
    corners = [(x, y) for x in (False, True) for y in (False, True)][:count]
    spots = [spot for corner in corners for spot in ((corner, 9, 24), (corner, 24, 9))]
    holes = tuple(
        Hole(
            at=Point(100 - x if is_right else x, 80 - y if is_top else y),
            diameter_mm=4,
            takes="rivet",
            place=Place(line=10 + k),
        )
        for k, ((is_right, is_top), x, y) in enumerate(spots)
    )
    pieces = (make_piece("tray", 100, 80, holes=holes),)
    cap, stud = lines(Step(do="Set.", hardware=("rivet",), pieces=("tray",)), hardware=(snap,), pieces=pieces)[-2:]
    assert cap.split(", 2 mm of")[0] == f"Set {count} snap caps in Tray, {place}"
    other = place.replace("9 mm", "x mm").replace("24 mm", "9 mm").replace("x mm", "24 mm")
    assert stud.split(", 2 mm of")[0] == f"Set {count} snap studs in Tray, {other}"


def test_the_end_of_a_strap_is_turned_and_riveted_where_its_ring_is_set(lines, strap: Strap) -> None:
    """The two straps are 2 mm thick, so that a turned end is 4 mm. No strap is turned before it is made."""
    ring = replace(RIVET, name="ring", what="D ring, 1 in", kind="ring", posts_mm=())
    ends = tuple(replace(TURNED, around=around, takes="rivet", number=1) for around in ("ring", "buckle"))
    built = {
        "hardware": (replace(RIVET, posts_mm=()), replace(ring, name="buckle", what="buckle"), ring),
        "straps": (replace(strap, ends=ends),),
    }
    making = Step(do="Make.", straps=("belt",), hardware=("buckle", "rivet"))
    hanging = Step(do="Hang.", hardware=("ring", "rivet"))
    made, late = lines(making, hanging, **built), lines(hanging, making, **built)
    at_buckle = "Set 2 rivets in Belt at the buckle, 2 layers, 4 mm."
    at_ring = "Set 2 rivets in Belt at the D ring, 2 layers, 4 mm."
    assert (made.count(at_buckle), made.count(at_ring)) == (1, 0)
    assert (late.count(at_buckle), late.count(at_ring)) == (0, 0)
    turned = "Belt, second end: turn back round the buckle, flesh side in; fold 45 mm from the cut end."
    assert made.index(turned) < made.index(at_buckle)


def test_what_a_strap_turns_round_stands_clear_of_the_fold(lines, strap: Strap) -> None:
    """The size of a ring is said beside another size of it alone, in brackets, and its note never."""
    ring = replace(RIVET, name="ring", what="D ring, 1 in, for the belt")
    turned = replace(strap, ends=(replace(TURNED, around="ring"), SQUARE))
    other = replace(ring, name="other", what="D ring, 3/4 in")
    for hardware, told in (((ring,), "D ring"), ((ring, other), "D ring (1 in)")):
        found = lines(Step(do="Make it.", straps=("belt",)), straps=(turned,), hardware=hardware)
        assert f"Belt, first end: turn back round the {told}, flesh side in; fold 45 mm from the cut end." in found


def test_slits_are_counted_by_their_length(lines, make_piece) -> None:
    slits = tuple(Slit(start=Point(20, 20), end=Point(20 + long, 20)) for long in (19, 19, 10))
    piece = make_piece("tab", 100, 50, cut=2, slits=slits)
    assert lines(Step(do="Cut the slits.", pieces=("tab",)), pieces=(piece,)) == [
        "2 × Tab",
        "2 × Tab: cut 2 slits, 19 mm (3/4 in) long; cut 1 slit, 10 mm (13/32 in) long.",
    ]


def test_four_slits_that_close_are_a_window_that_is_cut_out(lines, make_piece) -> None:
    corners = [Point(20, 20), Point(90, 20), Point(90, 30), Point(20, 30)]
    slits = tuple(Slit(start=corners[k], end=corners[k - 3]) for k in range(4))
    piece = make_piece("tab", 100, 50, slits=slits)
    told = "Tab: cut out a window, 70 mm (2 3/4 in) × 10 mm (13/32 in)."
    assert lines(Step(do="Cut the window.", pieces=("tab",)), pieces=(piece,)) == ["Tab", told]


@pytest.mark.parametrize("do", ["Fold the pocket.", "Turn the top under.", "Crease the folds."])
def test_folds_are_told_in_a_step_that_folds(lines, make_piece, do: str) -> None:
    folds = (
        Fold(start=Point(0, 87.3), end=Point(100, 87.3), turned_mm=12.7),
        Fold(start=Point(40, 0), end=Point(40, 100), is_open=True),
        Fold(start=Point(40, 0), end=Point(40, 100), is_open=True),
        Fold(start=Point(0, 20), end=Point(30, 0)),
    )
    pieces = (make_piece("pocket", 100, 100, folds=folds),)
    assert lines(Step(do=do, pieces=("pocket",)), pieces=pieces) == [
        "Pocket",
        "Pocket: fold on its fold line, 12.7 mm from the top, flesh side in.",
        "Pocket: fold on its fold line, flesh side in.",
        "Pocket: bend on its fold line, 40 mm from the left, flesh side in.",
    ]
    assert lines(Step(do="Smooth it.", pieces=("pocket",)), pieces=pieces) == ["Pocket"]


@pytest.fixture
def strap(make_piece) -> Strap:
    return make_strap(make_piece("belt", 20, 400, shape="strip", is_strap=True), cut=2)


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ((SQUARE, SQUARE), ["2 × Belt: both ends square."]),
        ((SQUARE, replace(SQUARE, shape="pointed")), ["2 × Belt: first end square; second end pointed."]),
        (
            (TURNED, TURNED),
            [
                "2 × Belt: both ends to be turned.",
                "Belt, both ends: turn back, flesh side in; fold 45 mm from the cut end.",
            ],
        ),
        (
            (TURNED, replace(SQUARE, shape="rounded")),
            [
                "2 × Belt: first end to be turned; second end rounded.",
                "Belt, first end: turn back, flesh side in; fold 45 mm from the cut end.",
            ],
        ),
    ],
)
def test_ends_of_a_strap_take_one_line_where_they_can(lines, strap: Strap, ends, told: list[str]) -> None:
    found = lines(Step(do="Make it.", straps=("belt",)), straps=(replace(strap, ends=ends),))
    assert found == ["2 × Belt", *told]
