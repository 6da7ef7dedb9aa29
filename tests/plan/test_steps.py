"""The work in order, from builds made by hand: settings, words, drawings and cautions of each step."""

from dataclasses import replace

import pytest
from by_hand import make_hardware, make_strap
from step_lines import words_of

from docgen.geometry.outline import rectangle_outline
from docgen.geometry.shapes import Point
from docgen.plan import DrawnPiece, plan_work
from docgen.problems import Place, make_caution
from docgen.resolve import Hole, Skive, Step, Strap, StrapEnd, end_name

BAND = rectangle_outline(1, 1).edges[0].path
SKIVE = Skive(edges="left", band=BAND, width_mm=12.7, to_mm=1.2, to_words="3 oz")
PUNCHED = "Grain side up, mark the centres through the template; punch 4 mm (5/32 in): Back (1)."
HOLE = Hole(at=Point(50, 25), diameter_mm=4.0)
RING = make_hardware("ring", "D ring", 2, finish="nickel-plated", inside_mm=26, bar_mm=4)


@pytest.fixture
def strap(make_piece) -> Strap:
    return make_strap(
        make_piece("belt", 25.4, 1000, shape="strip", is_strap=True),
        finished_mm=950,
        worn_mm=(800, 850, 900),
        hole_tips_mm=(76.2, 101.6, 127),
        punch_mm=4.0,
        ends=(
            StrapEnd(shape="turned", back_mm=40.0, around="ring", takes_mm=50.0),
            StrapEnd(shape="pointed", back_mm=0.0, around="", takes_mm=0.0),
        ),
    )


@pytest.fixture
def build(make_build, make_piece, make_seam, make_join, strap):
    pieces = (
        make_piece("back", 200, 150, skives=(SKIVE,), holes=(HOLE,)),
        make_piece("side", 60, 100, shape="strip", cut=2),
    )
    return make_build(
        pieces=pieces,
        joins=(make_join("gusset", "side", "side"),),
        seams=(make_seam("round", 400, "back", "gusset"),),
        straps=(strap,),
        hardware=(RING,),
    )


def test_without_steps_an_order_is_proposed(build) -> None:
    plan = plan_work(build)
    assert plan.is_proposed
    assert [(step.number, step.group, step.do) for step in plan.steps] == [
        (1, "Prepare", "Skive the edges marked on the pattern."),
        (2, "Prepare", "Punch the holes marked on the pattern."),
        (3, "Joins and linings", "Sew the strips of Gusset end to end."),
        (4, "Assemble", "Sew: Round."),
        (5, "Straps", "Make the strap: Belt."),
    ]
    assert [step.tools for step in plan.steps] == [
        ("skiving knife", "thickness gauge"),
        ("mallet", "4 mm hole punch", "silver pen"),  # punches by their sizes alone, where holes tell them
        ("sewing machine", "clips", "steel rule"),
        ("sewing machine", "clips"),
        ("strap cutter", "hole punch", "mallet", "steel rule"),
    ]
    assert [step.hazards for step in plan.steps] == [
        ("blade",),
        ("punch", "hammer"),
        ("needle",),
        ("needle",),
        ("blade", "punch", "hammer", "nickel"),
    ]
    assert plan.tools == (
        *("skiving knife", "thickness gauge", "mallet", "4 mm hole punch", "silver pen"),
        *("sewing machine", "clips", "steel rule", "strap cutter", "hole punch"),
    )


def test_what_is_not_there_is_not_proposed(make_build, make_piece) -> None:
    plan = plan_work(make_build(pieces=(make_piece("a", 10, 10),)))
    assert plan.steps == ()
    assert plan.hazards == ("blade",)


def test_written_steps_stand_as_written(make_build, build) -> None:
    steps = (
        Step(
            do="Sew the gusset.",
            group="Gusset",
            joins=("gusset",),
            seams=("round",),
            tools=("contact cement",),
            note="Clip it first.",
        ),
        Step(do="Rest."),
    )
    plan = plan_work(make_build(**{**fields(build), "steps": steps}))
    assert not plan.is_proposed
    first, second = plan.steps
    assert (first.number, first.group, first.do, first.note) == (1, "Gusset", "Sew the gusset.", "Clip it first.")
    assert [(job.title, job.runs) for job in first.jobs] == [("Gusset, joint", 1), ("Round", 1)]
    assert first.hazards == ("punch", "hammer", "needle", "solvent"), "no step names the back, which has a hole"
    assert (second.jobs, second.takes, second.acts, second.good) == ((), (), (), ())
    assert (second.drawn, second.hazards, second.tools) == ((), (), ())


def fields(build) -> dict[str, object]:
    names = ("pieces", "joins", "seams", "straps", "hardware")
    return {name: getattr(build, name) for name in names}


def only_step(make_build, build, **step):
    (found,) = plan_work(make_build(**{**fields(build), "steps": (Step(**{"do": "Do it.", **step}),)})).steps
    return found


def test_a_step_tells_what_to_skive_and_punch_and_set(make_build, build) -> None:
    step = only_step(make_build, build, skives=("back",), pieces=("back",), hardware=("ring",))
    assert words_of(step.takes) == ["Back", "2 × D ring"]
    assert words_of(step.acts) == [
        "Flesh side up: skive left level to 1.2 mm (3 oz) over 12.7 mm: Back.",
        "Grain side up, mark the centres through the template; punch 4 mm (5/32 in): Back (1).",
    ]
    assert words_of(step.good) == [
        "the gauge reads 1.2 mm (3 oz) all over the skive",
        "holes open from side to side: 1",
    ]


def test_a_step_tells_how_a_strap_is_made(make_build, build) -> None:
    """The fold lies at 40 + (50 - 40) / 2 = 45 mm: in the middle of what goes round the bar."""
    step = only_step(make_build, build, straps=("belt",))
    assert words_of(step.acts) == [
        "Belt: first end to be turned; second end pointed; punch 3 holes of 4 mm, from 76.2 mm to 127 mm from the tip.",
        "Belt, first end: turn back round the D ring, flesh side in; fold 45 mm from the cut end.",
    ]
    assert words_of(step.good) == ["Belt measures 1000 mm flat"]


def test_one_hole_is_told_in_the_singular(make_build, build, strap) -> None:
    square = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)
    plain = replace(strap, hole_tips_mm=(76.2,), worn_mm=(), ends=(square, square))
    (step,) = plan_work(make_build(straps=(plain,), steps=(Step(do="Cut.", straps=("belt",)),))).steps
    assert words_of(step.acts) == ["Belt: both ends square; punch 1 hole of 4 mm, 76.2 mm from the tip."]


def test_a_step_shows_the_pieces_it_speaks_of_with_their_runs(make_build, build) -> None:
    step = only_step(make_build, build, skives=("back",), seams=("round",), joins=("gusset",), straps=("belt",))
    assert step.drawn == (
        DrawnPiece(name="back", seams=("round",), is_skived=True, is_punched=True),
        DrawnPiece(name="side", seams=("gusset", "round"), is_skived=False),
        DrawnPiece(name="belt", seams=("belt",), is_skived=False, is_punched=True),
    )


def test_a_seam_by_hand_calls_for_the_awls_caution(make_build, build, main) -> None:
    by_hand = replace(main, by="hand", type="saddle stitch")
    steps = (Step(do="Sew.", seams=("round",)),)
    plan = plan_work(make_build(**{**fields(build), "steps": steps, "stitches": (by_hand,)}))
    assert plan.steps[0].hazards == ("punch", "hammer", "awl"), "of the hole in the back, and of the seam"


def test_tools_of_all_steps_stand_once_in_their_order(make_build, build) -> None:
    steps = (Step(do="A.", tools=("mallet", "awl")), Step(do="B.", tools=("awl", "knife")))
    plan = plan_work(make_build(**{**fields(build), "steps": steps}))
    assert plan.tools == ("mallet", "awl", "knife")
    assert plan.hazards == ("blade", "hammer", "awl")


def test_care_follows_from_what_is_used(make_build, build, body) -> None:
    suede = replace(body, name="spare", finish="suede")
    plan = plan_work(make_build(**{**fields(build), "materials": (body, suede)}))
    assert "clean-waxed" in plan.care
    assert "clean-suede" not in plan.care


def test_hardware_that_is_struck_calls_for_its_caution_where_no_tool_is_named(make_build, build) -> None:
    ring = only_step(make_build, build, hardware=("ring",))
    rivet = replace(RING, name="ring", what="rivet", kind="rivet", finish="")
    struck = only_step(make_build, replace(build, hardware=(rivet,)), hardware=("ring",))
    with_tool = only_step(make_build, replace(build, hardware=(rivet,)), hardware=("ring",), tools=("rivet setter",))
    assert (ring.hazards, struck.hazards, with_tool.hazards) == (("nickel",), ("hammer",), ("hammer",))


@pytest.mark.parametrize(
    ("do", "hazards"),
    [
        ("Press its other edges under.", ()),
        ("Press it flat, and press down the fold.", ()),
        ("Set it in the press.", ("press",)),
        ("Use the arbor press on it.", ("press",)),
    ],
)
def test_what_is_pressed_by_hand_is_no_press(make_build, build, do: str, hazards: tuple[str, ...]) -> None:
    assert only_step(make_build, build, do=do).hazards == hazards


@pytest.mark.parametrize(("tool", "hazards"), [("iron", ("heat",)), ("steam iron", ("heat",)), ("bone folder", ())])
def test_an_iron_for_cloth_is_hot(make_build, build, tool: str, hazards: tuple[str, ...]) -> None:
    assert only_step(make_build, build, tools=(tool,)).hazards == hazards


def test_hazards_stand_in_one_order_whatever_the_tools(make_build, build) -> None:
    step = only_step(make_build, build, skives=("back",), tools=("lighter", "spray adhesive", "arbor press", "mallet"))
    assert step.hazards == ("blade", "punch", "hammer", "press", "spray", "heat")


def test_glue_among_the_tools_says_how_long_it_waits(make_build, build) -> None:
    step = only_step(make_build, build, do="Cement it.", tools=("solvent contact cement", "bone folder", "edge paint"))
    assert step.waits == (
        ("solvent contact cement", "15 to 30 min, until dry to the touch"),
        ("edge paint", "30 to 120 min, before the next coat (see the tin)"),
    )


def test_glues_that_wait_alike_are_told_together(make_build, build) -> None:
    step = only_step(make_build, build, tools=("thick edge paint", "awl", "thin edge paint"))
    assert [tools for tools, _ in step.waits] == ["thick edge paint, thin edge paint"]


def test_a_step_takes_its_time_from_the_spec(make_build, build) -> None:
    assert only_step(make_build, build, minutes=25).minutes == 25
    assert only_step(make_build, build).minutes == 0


def test_cautions_stand_at_the_step_they_are_about(make_build, build) -> None:
    here, there = Place(path="a.toml", line=7), Place(path="a.toml", line=9)
    late = make_caution(here, "step 1 skives it too late", "skive it before")
    other = make_caution(there, "something else")
    steps = (Step(do="A.", place=here), Step(do="B.", place=Place(path="a.toml", line=8)))
    plan = plan_work(make_build(**{**fields(build), "steps": steps, "cautions": (late, other)}))
    assert [step.cautions for step in plan.steps] == [(late,), ()]


def test_holes_are_told_and_shown_only_in_the_step_that_makes_them(make_build, build) -> None:
    steps = (
        Step(do="Bevel the edges.", pieces=("back",)),
        Step(do="Punch.", pieces=("back",)),
        Step(do="Set the ring.", pieces=("back",), hardware=("ring",)),
    )
    found = plan_work(make_build(**{**fields(build), "steps": steps})).steps
    assert [words_of(step.acts) for step in found] == [[], [PUNCHED], []]
    assert words_of(found[2].takes) == ["Back (from step 2)", "2 × D ring"]
    assert [step.drawn[0].is_punched for step in found] == [False, True, False]


def test_holes_that_no_step_speaks_of_are_made_where_the_piece_is_first_named(make_build, build) -> None:
    steps = (Step(do="Bevel.", pieces=("back",)), Step(do="Burnish.", pieces=("back",)))
    first, second = plan_work(make_build(**{**fields(build), "steps": steps})).steps
    assert words_of(first.acts) == [PUNCHED]
    assert words_of(second.acts) == []


def test_a_strap_is_shown_with_its_own_stitching_and_that_of_its_ends(make_build, build, handle) -> None:
    sewn = replace(handle.ends[0], shape="turned", sewn="main")
    second = replace(
        handle, name="tab", title="Tab", piece=replace(handle.piece, name="tab"), ends=(sewn, handle.ends[1])
    )
    both = replace(build, straps=(handle, second))
    (shown,) = only_step(make_build, both, straps=("tab",)).drawn
    assert set(shown.seams) == {"tab", end_name("tab", 0)}


def test_hardware_alone_is_shown_in_what_takes_it(make_build, build) -> None:
    assert [item.name for item in only_step(make_build, build, hardware=("ring",)).drawn] == ["belt"]
