"""What a step handles in words: hardware in its place, folds and slits, straps whose ends are alike."""

import re
from dataclasses import replace

import pytest
from by_hand import SQUARE, make_hardware, make_strap

from docgen.assemble import Fastened, Stack
from docgen.geometry.shapes import Point
from docgen.plan import plan_work
from docgen.resolve import Fold, Hole, Layer, Slit, Step, Strap, StrapEnd

RIVET = make_hardware("rivet", "double-cap rivet", 6, posts_mm=(6.0,), kind="rivet")
TURNED = StrapEnd(shape="turned", back_mm=40.0, around="", takes_mm=50.0)


@pytest.fixture
def lines(make_build):
    """Words of one step, or of the first of several."""

    def tell(*steps: Step, **fields: object) -> list[tuple[str, str]]:
        step = plan_work(make_build(**fields, steps=steps)).steps[0]
        return [*step.lines, *step.hardware]

    return tell


def test_hardware_is_counted_for_one_make_and_for_the_batch(lines) -> None:
    step = Step(do="Set.", hardware=("rivet",))
    assert lines(step, hardware=(RIVET,)) == [("double-cap rivet", "6 for each make")]
    assert lines(step, hardware=(RIVET,), makes=12) == [("double-cap rivet", "6 for each make, 72 for the batch")]


def test_hardware_of_several_steps_names_them_all(lines) -> None:
    steps = [Step(do=f"Set {n}.", hardware=("rivet",) if n != 2 else ()) for n in (1, 2, 3, 4)]
    assert lines(*steps, hardware=(RIVET,)) == [("double-cap rivet", "6 for each make, in steps 1, 3 and 4 together")]


@pytest.mark.parametrize("setting", [(1, 2), (2, 3), (1, 3, 5), (4, 5)])
def test_the_steps_named_together_are_those_that_bear_these_numbers(make_build, setting: tuple[int, ...]) -> None:
    steps = tuple(Step(do=f"Set {n}.", hardware=("rivet",) if n in setting else ()) for n in range(1, 6))
    plan = plan_work(make_build(hardware=(RIVET,), steps=steps))
    told = {step.number: words for step in plan.steps for _, words in step.hardware}
    assert tuple(told) == setting
    for words in told.values():
        assert tuple(map(int, re.findall(r"\d+", words.partition(", in steps ")[2]))) == setting
    assert [step.do for step in plan.steps if step.number in setting] == [f"Set {n}." for n in setting]


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
    assert lines(first, Step(do="Set the rest.", hardware=("rivet",)), **built)[1:] == [
        ("double-cap rivet", "Back: 4 rivets through 4 mm of leather, post 6 mm"),
        ("double-cap rivet", "Tab: 2 rivets through 8 mm"),
    ]


def test_the_halves_of_a_snap_are_told_apart(lines, make_piece) -> None:
    """Each goes through its own piece of 2 mm, on a post that is 3 mm over it or more (docgen.tables.hardware)."""
    snap = replace(RIVET, what="line 20 snap", kind="snap", count=1, posts_mm=(5.0,))
    hole = Hole(at=Point(50, 25), diameter_mm=4, takes="rivet")
    pieces = (
        make_piece("flap", 100, 50, holes=(replace(hole, through=("front",)),)),
        make_piece("front", 100, 50, holes=(hole,)),
    )
    step = Step(do="Set.", hardware=("rivet",), pieces=("flap", "front"))
    assert lines(step, hardware=(snap,), pieces=pieces)[-2:] == [
        ("line 20 snap", "Flap: 1 snap cap through 2 mm of leather, post 5 mm"),
        ("line 20 snap", "Front: 1 snap stud through 2 mm of leather, post 5 mm"),
    ]


def test_the_end_of_a_strap_is_riveted_where_its_ring_is_set(lines, strap: Strap) -> None:
    """The two straps are 2 mm thick, so that a turned end is 4 mm."""
    ring = replace(RIVET, name="ring", what="D ring, 1 in", kind="ring", posts_mm=())
    ends = tuple(replace(TURNED, around=around, takes="rivet", number=1) for around in ("ring", "buckle"))
    built = {
        "hardware": (replace(RIVET, posts_mm=()), replace(ring, name="buckle"), ring),
        "straps": (replace(strap, ends=ends),),
    }
    making = Step(do="Make.", straps=("belt",), hardware=("buckle", "rivet"))
    hanging = Step(do="Hang.", hardware=("ring", "rivet"))
    told = ("double-cap rivet", "Belt: 2 rivets through 4 mm of leather")
    assert lines(making, hanging, **built).count(told) == 1
    assert lines(hanging, making, **built).count(told) == 1
    assert lines(making, **built).count(("double-cap rivet", "Belt: 4 rivets through 4 mm of leather")) == 1


def test_what_a_strap_turns_round_stands_clear_of_the_fold(lines, strap: Strap) -> None:
    ring = replace(RIVET, name="ring", what="D ring, 1 in")
    turned = replace(strap, ends=(replace(TURNED, around="ring"), SQUARE))
    found = lines(Step(do="Make it.", straps=("belt",)), straps=(turned,), hardware=(ring,))
    words = "first end: turn back 40 mm (1 9/16 in) round the D ring (1 in); fold 45 mm (1 25/32 in) from the cut end"
    assert found[1][1] == words


def test_slits_are_counted_by_their_length(lines, make_piece) -> None:
    slits = tuple(Slit(start=Point(20, 20), end=Point(20 + long, 20)) for long in (19, 19, 10))
    piece = make_piece("tab", 100, 50, cut=2, slits=slits)
    assert lines(Step(do="Cut the slits.", pieces=("tab",)), pieces=(piece,)) == [
        ("Tab, 2 for each make", "cut 2 slits, 19 mm (3/4 in) long"),
        ("Tab, 2 for each make", "cut 1 slit, 10 mm (13/32 in) long"),
    ]


@pytest.mark.parametrize("do", ["Fold the pocket.", "Turn the top under.", "Crease the folds."])
def test_folds_are_told_in_a_step_that_folds(lines, make_piece, do: str) -> None:
    folds = (
        Fold(start=Point(0, 90), end=Point(100, 90), note="glue down", turned_mm=12.7),
        Fold(start=Point(0, 50), end=Point(100, 50)),
        Fold(start=Point(0, 40), end=Point(100, 40)),
    )
    pieces = (make_piece("pocket", 100, 100, folds=folds),)
    assert lines(Step(do=do, pieces=("pocket",)), pieces=pieces) == [
        ("Pocket", "fold 12.7 mm (1/2 in) from the edge: glue down"),
        ("Pocket", "fold on the dashed line"),
    ]
    assert lines(Step(do="Smooth it.", pieces=("pocket",)), pieces=pieces) == []


@pytest.fixture
def strap(make_piece) -> Strap:
    return make_strap(make_piece("belt", 20, 400, shape="strip", is_strap=True), cut=2)


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ((SQUARE, SQUARE), ["ends: both square"]),
        ((SQUARE, replace(SQUARE, shape="pointed")), ["ends: square, pointed"]),
        ((TURNED, TURNED), ["both ends: turn back 40 mm (1 9/16 in); fold 45 mm (1 25/32 in) from the cut end"]),
        (
            (TURNED, replace(SQUARE, shape="rounded")),
            ["first end: turn back 40 mm (1 9/16 in); fold 45 mm (1 25/32 in) from the cut end", "second end: rounded"],
        ),
    ],
)
def test_ends_of_a_strap_take_one_line_where_they_can(lines, strap: Strap, ends, told: list[str]) -> None:
    found = lines(Step(do="Make it.", straps=("belt",)), straps=(replace(strap, ends=ends),))
    assert found == [
        ("Belt, 2 for each make", "cut 20 mm (25/32 in) wide, 400 mm (15 3/4 in) long"),
        *(("Belt, 2 for each make", words) for words in told),
    ]
