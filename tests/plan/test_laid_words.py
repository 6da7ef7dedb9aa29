"""What lies over what, told alike on all pages: linings where they are glued, foam of its own size by figures, a flap that
is lapped over a back above that wherever a later seam goes through both; rings, zips and skived bands by their own words.

Sums and order follow from the specs; that tape is stuck to one of two faces is common practice, no published source.
"""

from functools import cache
from pathlib import Path

import pytest
from demos import demo_plan
from step_lines import good, lines, words_of

from docgen.assemble import Assembled, pile_run, pile_seam
from docgen.checks import resolve_variants
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

BENCH = Path(__file__).parents[1] / "bench" / "slips" / "builds"


@cache
def bench_build(name: str) -> Assembled:
    return resolve_variants(read_spec(BENCH / f"{name}.toml"))[0]


@cache
def bench_plan(name: str) -> Plan:
    return plan_work(bench_build(name))


def test_foam_of_its_own_size_is_laid_by_figures() -> None:
    """11 x 7 1/2 in on 13 x 10 in: (13 - 11) / 2 = 1 in at the sides, (10 - 7 1/2) / 2 = 1 1/4 in above and below."""
    assert lines(bench_plan("messenger-bag"), 5)[2] == (
        "Lay back foam on the flesh side of back: 1 in from left and right, 1 1/4 in from top and bottom."
    )


def test_linings_are_laid_by_the_step_that_glues_them_and_not_again_where_they_are_sewn() -> None:
    """Front and back are of one shape: each has the lining that is sewn to it."""
    plan = bench_plan("messenger-bag")
    assert lines(plan, 5)[3:] == [
        "Lay back lining on the flesh side of back, its right side in sight, edges level.",
        "Lay front lining on the flesh side of front, its right side in sight, edges level.",
    ]
    assert not any(line.startswith(("Lay back lining", "Lay front lining")) for line in lines(plan, 6))
    assert "front (from step 3)" in words_of(plan.steps[4].takes)


def test_partners_of_a_seam_are_told_past_their_linings() -> None:
    told = lines(bench_plan("messenger-bag"), 6)
    for part, side in (("front", "left"), ("back", "right")):
        assert (
            f"Lay left, bottom and right of {part} on the {side} long edge of gusset, {part} lining between, edges level "
            "and outside."
        ) in told
    assert not any(line.startswith("Edges level: ") for line in told)


@pytest.mark.parametrize(
    ("name", "seam", "parts"),
    [("messenger-bag", "back", ["flap", "back", "back-lining", "rim"]), ("rucksack", "back", ["lid", "back", "wall"])],
)
def test_what_is_lapped_over_a_partner_lies_above_it_in_later_seams(name: str, seam: str, parts: list[str]) -> None:
    build = bench_build(name)
    once = next(one for one in build.assembly.sewn if one.seam == seam)
    (pile,) = pile_seam(build, once)
    assert [ply.part for ply in pile] == parts
    assert [ply.is_partial for ply in pile] == [True] + [False] * (len(parts) - 1)
    assert {ply.grain for ply in pile[:2]} == {"up"}


def test_a_flap_lapped_through_a_glued_lining_is_under_later_seams_too() -> None:
    """Flap 2.2 mm, back 2.2, lining 0.4, gusset 2.2: at most 7 mm. Where the gusset has a joint, of 2 x 1.2 mm, no flap
    lies."""
    stack = bench_build("messenger-bag").assembly.stack("back")
    assert (round(stack.thinnest_mm, 6), round(stack.thickest_mm, 6)) == (4.8, 7.0)
    assert round(bench_build("messenger-bag").assembly.stack("flap").usual_mm, 6) == 4.8


def test_a_ring_is_measured_round_and_a_zip_stands_over_its_strips() -> None:
    plan = demo_plan("duffel")
    assert good(plan, 2)[0] == "Tube measures 30 1/4 in all round"
    told = lines(plan, 2)
    assert "Put double-sided tape on one face of each overlap, clear of the stitch line." in told
    assert any(
        "lay the strips over each other by 1/2 in, coil zip over by 31/32 in at each end: " in one for one in told
    )
    assert good(demo_plan("field-bag"), 6)[0].endswith(" from end to end")


def test_an_edge_that_is_the_only_one_of_its_piece_is_told_all_round() -> None:
    assert lines(demo_plan("duffel"), 3)[0].startswith("Lay the edge all round of Round end on the left long edge of ")


def test_a_place_that_no_page_tells_is_not_guessed(tmp_path: Path) -> None:
    """The tab goes on the gusset by a hole that the gusset's template lacks: it is asked, then punched through; once the
    template has the hole, that is punched where the strip is first worked."""
    plan = bench_plan("messenger-bag")
    told = lines(plan, 2)
    asked = (
        "Where dee tab goes on gusset, and whether both its layers lie outside, is not told: stop and ask before you "
        "punch."
    )
    assert told[told.index(asked) + 1] == "Punch on through gusset, 1/8 in."
    assert words_of(plan.steps[1].takes)[0] == "gusset (from step 1)"
    assert not any("punch" in line for line in lines(plan, 1))
    text = (BENCH / "messenger-bag.toml").read_text(encoding="utf-8")
    band = "[pieces.band]\n"
    hole = 'holes = [{ at = "1 1/2 in from start, centre", punch = "1/8 in", through = ["dee-tab"] }]\n'
    path = tmp_path / "a.toml"
    path.write_text(text.replace(band, band + hole), encoding="utf-8")
    answered = plan_work(resolve_variants(read_spec(path))[0])
    assert not {asked, "Punch on through gusset, 1/8 in."} & {*lines(answered, 2)}
    assert (
        "Grain side up, mark the centres through the template; punch 1/8 in (3.2 mm): 2 × band (1, for dee tab)."
    ) in lines(answered, 1)
    assert "holes open from side to side: 2" in good(answered, 1)
    assert {"1/8 in hole punch", "mallet"} <= {*answered.steps[0].tools}


def test_a_joint_in_the_middle_lies_on_the_middle_notch_of_both_panels(tmp_path: Path) -> None:
    """Two strips of one length and a notch in the middle of both panels: the joint is the only mark of the wall. Of one
    that bears notches itself nothing is said, as those are told."""
    told = [line for line in lines(bench_plan("messenger-bag"), 6) if "joint" in line]
    assert told == [
        f"The middle of the joint of gusset lies on the notch in the bottom of {part}: lay it there first, then the ends."
        for part in ("front", "back")
    ]
    text = (BENCH / "messenger-bag.toml").read_text(encoding="utf-8")
    path = tmp_path / "a.toml"
    path.write_text(text.replace('notches      = [{ on = "bottom" }]\n', ""), encoding="utf-8")
    bare = lines(plan_work(resolve_variants(read_spec(path))[0]), 6)
    assert [line for line in bare if "joint" in line] == told[:1], "the notch of the front is left"


def test_the_thinner_place_of_a_turned_end_is_nearest_the_cut_end() -> None:
    """3.4 mm on 3.4, and at the cut end 3.4 on the 2 mm to which it is skived."""
    told = [line for line in lines(bench_plan("messenger-bag"), 4) if line.startswith("Set ")]
    assert told == [
        "Set 2 rivets in shoulder at the swivel hook, farther from the cut end, 2 layers, 6.8 mm, post 9 mm.",
        "Set 2 rivets in shoulder at the swivel hook, nearest the cut end, 2 layers, 5.4 mm, post 8 mm.",
    ]
    bag = demo_plan("bag")
    riveted = [line for step in bag.steps for line in lines(bag, step.number) if line.startswith("Set ")]
    assert riveted
    assert not any("the cut end" in line for line in riveted), "all are of one thickness"


def test_the_holes_of_what_no_step_names_are_punched_where_it_is_first_worked() -> None:
    """The bucket's wall is only skived, joined and sewn: its two holes, and two in each of two tabs."""
    assert any(line.endswith("Wall (2).") for line in lines(demo_plan("bucket"), 1))
    assert "holes open from side to side: 6" in good(demo_plan("bucket"), 1)


def test_an_end_is_not_riveted_before_its_strap_is_made() -> None:
    """The apron's step 4 has rivets and rings for its tabs; the cross straps are made in step 5, which has rivets too."""
    plan = bench_plan("apron")
    assert not any("Cross strap" in line for line in lines(plan, 4))
    assert lines(plan, 5)[-1] == "Set 2 rivets in Cross strap at the D ring, 2 layers, 2.8 mm, post 5 mm."
    assert [good(plan, step) for step in (4, 5)] == [["none turns by hand, 2 set"]] * 2


def test_the_places_of_rivets_are_those_that_go_through_what_is_told() -> None:
    """Six holes of the backpack's back take rivets: four go through the shoulder straps, two through the foot straps."""
    told = [line for line in lines(bench_plan("backpack"), 3) if line.startswith("Set ") and " in Back, " in line]
    assert told == [
        "Set 4 rivets in Back, 3 1/2 in from left and right, 2 in and 3 in from top, through Shoulder strap, Back, 2 "
        "layers, 4 mm, post 6 mm.",
        "Set 2 rivets in Back, 1 1/2 in from left and right, 2 in from bottom, through Foot strap with buckle, Back, 2 "
        "layers, 4 mm, post 6 mm.",
    ]


def test_straps_that_are_riveted_are_taken_in_hand() -> None:
    takes = words_of(bench_plan("dog-harness").steps[3].takes)
    assert takes[:3] == ["Back plate (from step 1)", "Breast strap (from step 2)", '"Girth, hole part" (from step 3)']


def test_which_side_a_riveted_strap_lies_on_is_not_guessed() -> None:
    told = "Whether neck lies outside or inside on apron is not told: stop and ask before you set it."
    assert told in lines(bench_plan("bench-apron"), 2)
    assert not any("outside or inside" in line for line in lines(bench_plan("backpack"), 3)), "it has landings"


def test_what_is_glued_with_no_place_is_neither_marked_nor_pressed_down() -> None:
    told = lines(bench_plan("hatchet-mask"), 3)
    assert 'Where "Welt, straight part" lies on Back is not told: stop and ask before you sew.' in told
    assert told[0].startswith('Put contact cement on both "Welt, straight part" and Back, ')
    assert not any("ark round it" in line or "where marked" in line for line in told)


def test_what_lies_between_two_others_is_told_and_glued_with_them() -> None:
    told = lines(bench_plan("card-sleeve"), 2)
    assert told[0] == (
        "Put contact cement on front pocket, middle and back pocket, in a band 3.5 mm wide along the edges that meet."
    )
    assert "Under the awl, from the top: front pocket; middle; back pocket." in told


def test_a_piece_bends_by_itself_once_in_a_step_and_a_row_for_its_looks_is_not_clipped() -> None:
    folds = [line for line in lines(bench_plan("ledger-cover"), 1) if "bends by itself" in line]
    assert len(folds) == 1
    assert not any(line.startswith("Clip ") for line in lines(bench_plan("cuff"), 2))


def test_the_second_layer_of_a_strap_is_glued_before_it_is_laid() -> None:
    told = lines(bench_plan("bass-strap"), 1)
    at = told.index("Put contact cement on the faces of Shoulder part that meet.")
    assert told[at + 1].startswith("Wait 15 to 120 min")
    assert told[at + 2].startswith("Shoulder part: second layer of garment leather, ")
    assert told[at + 2].endswith("; flesh sides together, edges level.")


def test_a_lining_that_lies_within_the_edges_is_told_with_the_side_in_sight() -> None:
    told = lines(bench_plan("box-case"), 1)
    assert (
        told[-1] == "Lay lid lining on the flesh side of lid, its right side in sight, 4 mm within its edges all round."
    )


def test_alike_parts_lie_as_those_of_them_that_lie_beside_each_other() -> None:
    """Two panels and two gussets are sewn to a tube, both hemmed at the mouth: hems lie inside, at one end of the seam."""
    build = bench_build("market-tote")
    once = next(one for one in build.assembly.sewn if one.seam == "left")
    (pile,) = pile_seam(build, once)
    assert [(ply.part, ply.grain, ply.is_partial) for ply in pile] == [
        ("panel", "up", False),
        ("panel", "down", True),
        ("gusset", "up", True),
        ("gusset", "down", False),
    ]
    together = "Lay the left edge of panel on the right edge of gusset, flesh sides together, edges level and outside."
    assert together in lines(bench_plan("market-tote"), 3)


def test_an_end_of_two_layers_lies_flesh_to_flesh_on_what_it_is_sewn_to() -> None:
    build = bench_build("market-tote")
    pile = pile_run(build, next(run for run in build.assembly.runs if run.kind == "landings"))
    assert [(ply.part, ply.grain, ply.is_partial) for ply in pile or ()] == [
        ("handle", "up", False),
        ("handle", "down", False),
        ("panel", "up", False),
        ("panel", "down", True),  # the hem of the mouth
    ]


def test_of_three_partners_the_middle_one_lies_between_either_side_up() -> None:
    build = bench_build("card-sleeve")
    (pile,) = pile_seam(build, next(one for one in build.assembly.sewn if one.seam == "round"))
    assert [(ply.part, ply.grain) for ply in pile] == [("front-pocket", "up"), ("middle", ""), ("back-pocket", "down")]


def test_the_hem_of_what_lies_there_is_a_layer_of_its_own() -> None:
    """Pockets of 1.2 mm, hemmed at 0.6, lie on the liner at either end: the hem between, its grain side to the liner."""
    build = bench_build("music-folder")
    piles = pile_seam(build, next(one for one in build.assembly.sewn if one.seam == "all"))
    for pile in piles:
        *outer, hem, pocket = pile
        assert [ply.part for ply in outer] == ["shell", "liner"]
        assert (hem.thickness_mm, hem.grain, pocket.thickness_mm, pocket.grain) == (0.6, "up", 1.2, "down")
    assert {pile[-1].part for pile in piles} == {"pocket-l", "pocket-r"}


def test_two_copies_of_one_part_are_a_layer_each() -> None:
    """Two linings of one shape are sewn to each other along their left edges."""
    build = bench_build("boxed-bag")
    (pile,) = pile_seam(build, next(one for one in build.assembly.sewn if one.seam == "lining-left"))
    assert [(ply.part, ply.thickness_mm, ply.is_leather) for ply in pile] == [("lining", 0.4, False)] * 2


def test_an_iron_is_struck_and_an_end_of_a_strap_is_skived_with_a_knife() -> None:
    """The wallet names irons alone; the rein names a knife, and its skived ends are gauged besides."""
    assert "mallet" in demo_plan("wallet").steps[1].tools
    assert {"skiving knife", "thickness gauge"} <= {*bench_plan("bridle-reins").steps[0].tools}
