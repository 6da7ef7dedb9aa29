"""What a helper must know at the bench beyond names: where a part stands over, from which edge a row is measured, where
glue goes on both parts, how edges go round corners, what is punched once folded; and that layers add up.

That vegetable-tanned leather is stretched damp and chrome-tanned dry, that cloth is snipped short of its stitch line, that
glue wants a rough ground and clips do not reach into a panel, is common practice, no published source. All figures here are
sums of what the specs say.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from demos import PATHS, demo_build, demo_plan, with_steps
from short_specs import piece, step
from spec_text import Resolve
from step_lines import good, lines, variant

from docgen.assemble import Assembled, Stack
from docgen.checks import resolve_build
from docgen.pages.work.acts import tell
from docgen.plan import plan_work
from docgen.plan.acts.places import _part_end
from docgen.read import read_spec


def test_a_flap_over_the_edge_is_laid_by_figures_and_stands_over_at_the_sides() -> None:
    """The satchel: sewn 1 in + 3/16 in below the top, its own edge 1 in + 2 x 3/16 in; 12 1/4 in on 12 in: 1/8 in over."""
    plan = demo_plan("satchel")
    assert (
        "Back panel grain side up: lay Flap on it, that side up too, turned half round, its free end beyond the top edge: "
        "its own top edge lies 1 3/8 in from there, its stitch line 1 3/16 in; 1/8 in over at left and right."
    ) in lines(plan, 3)
    assert "Flap stands 1/8 in over at left and right of Back panel" in good(plan, 3)
    assert not any("the ends are level" in told for told in good(plan, 3))


def test_a_row_under_what_stands_over_is_told_from_both_edges() -> None:
    """3/16 in from the edge of the back, 3/16 + 1/8 = 5/16 in from that of the flap; only of the seam that goes there."""
    told = [line for line in lines(demo_plan("satchel"), 4) if line.startswith("The row keeps ")]
    assert told == [
        "The row keeps 3/16 in from the edge of Back panel all along: 5/16 in from that of Flap, which stands over it."
    ]


def test_glue_is_told_for_both_parts_in_strips_that_lie_on_each_other() -> None:
    """It is laid dry and marked first, and pressed down once the glue is dry."""
    told = lines(demo_plan("satchel"), 3)
    at = told.index(
        "Put contact cement on the flesh side of Flap, in a band 3/16 in wide along the top edge (from 5/16 in off "
        "the right to 5/16 in off the left), and on a strip from 1 3/16 in to 1 3/8 in below the top edge of Back panel."
    )
    assert told[at - 2].startswith("Back panel grain side up: lay Flap")
    assert told[at - 1].startswith("Mark round it, take it off")
    assert told[at + 1] == (
        "Wait 15 to 120 min, until dry to the touch (see the tin), then press Flap down where marked; rub off glue that "
        "shows."
    )
    assert not any("its ends lie beyond" in line for line in told)


def test_a_row_that_goes_beyond_what_it_is_sewn_to_is_told(tmp_path: Path) -> None:
    plan = variant(tmp_path, "satchel", ("flap: top from right 5/16 in to left 5/16 in", "flap: top"))
    told = "The row goes from edge to edge of Flap: its ends lie beyond Back panel."
    assert [told in lines(plan, 3), told in lines(demo_plan("satchel"), 3)] == [True, False]


@pytest.mark.parametrize(("finish", "is_rough"), [("oiled", True), ("waxed", True), ("plain", True), ("suede", False)])
def test_a_grain_is_roughened_where_it_is_glued_and_a_nap_is_not(
    tmp_path: Path, finish: str, *, is_rough: bool
) -> None:
    """Common practice, no published source."""
    plan = variant(tmp_path, "satchel", ('"oiled"', f'"{finish}"'))
    rough = "Mark round it, take it off, and roughen the grain inside the mark, where it is glued."
    assert (rough in lines(plan, 3)) == is_rough
    assert ("Mark round it, and take it off." in lines(plan, 3)) != is_rough
    assert ("wire brush" in plan.steps[2].tools) == is_rough


def test_a_fold_that_makes_itself_is_told_once_in_a_step() -> None:
    """The cover of the wallet is sewn by two seams of one step, and here no step folds it."""
    build = demo_build("wallet")
    plan = plan_work(with_steps(build, build.steps[:-1]))
    assert sum("it bends by itself" in line for line in lines(plan, 3)) == 1


def test_each_part_is_marked_and_glue_waits_each_time_that_it_is_put_on() -> None:
    """Two pockets of the wallet are glued one after the other: the wait is told in full once."""
    told = lines(demo_plan("wallet"), 2)
    assert told.count("Mark round each, take them off, and roughen the grain inside the marks, where it is glued.") == 2
    assert (
        "Put contact cement on the faces of Left upper pocket, Left lower pocket and Inside that meet, in a band "
        "3 mm wide along the right edge of Left upper pocket."
    ) in told
    assert [line for line in told if line.startswith("Wait ")] == [
        f"Wait {wait}, then press first {side} upper pocket, then {side} lower pocket down where marked; rub off "
        "glue that shows."
        for wait, side in (("15 to 120 min, until dry to the touch (see the tin)", "Left"), ("as before", "Right"))
    ]


def test_what_is_sewn_flat_with_its_edges_level_is_laid_by_them_and_not_marked() -> None:
    """The front of the sleeve is lower than its back, which lies flat beneath; its sides and foot level with it."""
    told = lines(demo_plan("sleeve"), 3)
    assert told[:3] == [
        "Put contact cement on both Front and Back, in a band 4 mm wide along the edges that meet.",
        "Wait 15 to 120 min, until dry to the touch (see the tin).",
        "Lay Front on Back, flesh sides together, left, bottom and right level and outside.",
    ]
    assert "silver pen" not in demo_plan("sleeve").steps[2].tools
    assert any("Mark round it" in line for line in lines(demo_plan("sleeve"), 2)), "its card pocket lands within it"


def test_what_is_sewn_flat_with_its_edges_level_is_clipped(tmp_path: Path) -> None:
    plan = variant(tmp_path, "sleeve", (', "contact cement"]\nnote', "]\nnote"))
    assert lines(plan, 3)[:2] == [
        "Lay Front on Back, flesh sides together, left, bottom and right level and outside.",
        "Clip the ends first, then between them.",
    ]


def test_tape_is_put_on_as_it_is(tmp_path: Path) -> None:
    plan = variant(tmp_path, "satchel", ('"contact cement"', '"double-sided tape"'))
    told = lines(plan, 3)
    assert not any("oughen" in line or line.startswith(("Wait ", "Mark round")) for line in told)
    put = "Put double-sided tape on the flesh side of Flap, no more than 3/16 in from the top edge "
    assert f"{put}(from 5/16 in off the right to 5/16 in off the left)." in told


def test_what_clips_do_not_reach_is_held_otherwise(tmp_path: Path) -> None:
    plan = variant(tmp_path, "satchel", ('tools = ["contact cement"]\n', ""))
    assert "Hold Flap on Back panel so that it cannot shift; clips do not reach it." in lines(plan, 3)
    assert "clips" not in plan.steps[2].tools
    assert "clips" in plan.steps[3].tools


@pytest.mark.parametrize(
    ("tannage", "told", "tool"),
    [
        (
            "vegetable",
            "Gusset: damp the edge with a sponge and stretch it round each corner: there it is 9/32 in short.",
            1,
        ),
        ("chrome", "Gusset: stretch the edge, dry, round each corner: there it is 9/32 in short.", 0),
    ],
)
def test_how_an_edge_is_stretched_follows_from_the_tannage(tmp_path: Path, tannage: str, told: str, tool: int) -> None:
    """Round a quarter circle it is short by pi / 2 x 3/16 = 0.29 in (plane geometry)."""
    plan = variant(tmp_path, "satchel", ('"vegetable"', f'"{tannage}"'))
    assert lines(plan, 4).count(told) == 2
    assert plan.steps[3].tools.count("sponge and water") == tool


def test_cloth_behind_a_wall_is_snipped_short_of_the_stitch_line() -> None:
    told = "Gusset lining: snip the edge there every 1/4 in, no nearer than 1/16 in to the stitch line."
    assert [told in lines(demo_plan("field-bag"), step) for step in (7, 8, 9)] == [False, True, True]
    assert not any("snip" in line for line in lines(demo_plan("satchel"), 4))  # it has no lining


def test_a_copper_rivet_is_told_by_its_burr(tmp_path: Path) -> None:
    """Which side has the head, how much of the post is left to peen, and what does it; no other rivet has a burr."""
    told = "Heads in sight, burrs on the other side: nip each post 1.5 to 2 mm above its burr, then peen it down."
    plan = demo_plan("lead")
    assert [lines(plan, 2).count(told), lines(demo_plan("field-bag"), 12).count(told)] == [1, 0]
    assert {"nippers", "hammer"} <= {*plan.steps[1].tools}
    capped = variant(tmp_path, "lead", ("copper rivet with burr", "double-cap rivet"))
    assert told not in lines(capped, 2)
    assert {"nippers", "hammer"}.isdisjoint(capped.steps[1].tools)


def test_folds_are_damped_where_the_step_says_so(tmp_path: Path) -> None:
    """A fold that no step makes is told to bend by itself, in the step that first sews the piece."""
    assert lines(demo_plan("satchel"), 3)[0] == (
        "Flap: damp it with a sponge on its fold line, 1 3/8 in from the top, then bend it there, flesh side in."
    )
    plan = variant(tmp_path, "satchel", ("Damp the folds of the flap and bend them, then glue", "Glue"))
    assert lines(plan, 3)[0] == (
        "Flap: it bends by itself, 1 3/8 in from the top, 4 3/8 in from the top: make no crease."
    )


def test_a_hole_in_one_half_is_punched_on_through_the_other() -> None:
    """The buckle tabs have a hole in one half alone; the rivet goes through both. Before they lie on the front: there the
    punch would go through that."""
    told = lines(demo_plan("field-bag"), 4)
    assert told[0].startswith("2 × Buckle tab: fold on its fold line")
    assert told[1] == "Once folded, punch on through the layer beneath, 5/32 in."
    assert told[2].startswith("Lay 2 × Buckle tab on the grain side of Front panel, the half with the holes outside")
    assert told[3:] == [
        "Set 2 rivets in Front panel, through both layers of Buckle tab, Front panel, 3 layers, 6 mm, post 8 mm."
    ]


def test_overlaps_are_marked_before_they_are_roughened_and_laid_down_once_the_glue_is_dry() -> None:
    """Which strip is the lower one is told first: it is another at either joint."""
    told = lines(demo_plan("field-bag"), 6)
    assert told[:4] == [
        "Gusset: mark overlaps of 1/2 in: start of Gusset side over start of Gusset base, end of Gusset base over start of "
        "Gusset side.",
        "Roughen the grain of the lower end in each overlap.",
        "Put contact cement on both faces of each overlap.",
        "Wait 15 to 120 min, until dry to the touch (see the tin), then lay the ends down, edges in line.",
    ]


def test_one_overlap_is_told_as_one() -> None:
    """The wall of the bucket is one strip closed to a ring; the gusset of the demo bag has two joints."""
    told = [line for k in (1, 2, 3) for line in lines(demo_plan("bucket"), k)]
    assert "Roughen the grain of the lower end in the overlap." in told
    assert "Put contact cement on both faces of the overlap." in told
    assert not any("each overlap" in line for line in told)


def test_the_second_of_two_walls_is_clipped_too_and_what_lies_there_already_is_not() -> None:
    """The gusset of the satchel is clipped to front and back; the lining of the demo's gusset lies there by both edges."""
    satchel, demo = lines(demo_plan("satchel"), 4), lines(demo_plan("field-bag"), 7)
    first = satchel.index("Clip the notch marks together first, then the ends, then between.")
    again = satchel.index("Clip these in the same way.")
    assert first < satchel.index("Sew seam 1 from top left to top right of Front panel.") < again
    assert again < satchel.index("Sew seam 2 from top left to top right of Back panel.")
    assert "Clip the ends first, then between them." in demo
    assert "Clip these in the same way." not in demo


def test_a_second_size_of_punch_is_marked_as_the_first() -> None:
    told = lines(demo_plan("satchel"), 1)
    assert (
        told[0]
        == "Grain side up, mark the centres through the template; punch 5/32 in (4 mm): Front panel (2, for stud)."
    )
    assert told[1] == "Likewise, punch 3/16 in (4.8 mm): Flap (2)."


def test_overlaps_are_laid_at_once_on_tape_and_clipped_where_nothing_is_glued(tmp_path: Path) -> None:
    tape = lines(variant(tmp_path, "field-bag", ('"contact cement"', '"double-sided tape"')), 6)
    bare = lines(variant(tmp_path, "field-bag", ('tools  = ["contact cement"]', 'tools  = ["clips"]')), 6)
    laid = "Gusset: lay the strips over each other by 1/2 in, edges in line: start of Gusset side over start of Gusset base"
    assert tape[0] == "Put double-sided tape on one face of each overlap, clear of the stitch line."
    assert tape[1].startswith(laid)
    assert bare[0].startswith(laid)
    assert bare[1] == "Clip the ends first, then between them."


def test_where_foam_gives_the_right_post_is_told_by_what_stands_out() -> None:
    """2 + 2 + 2 + 3 + 0.6 = 9.6 mm wants a post of 11.6 to 12.6 mm, with the foam pressed flat 6.6 mm one of 8.6 to 9.6 mm,
    for which 10 mm will do: a rivet's post is 2 to 3 mm longer than its stack (common practice, no published source)."""
    plan = demo_plan("field-bag")
    assert lines(plan, 11)[-1].endswith(
        "5 layers, 9.6 mm, post 10 or 12 mm: the one that stands 2 to 3 mm out, 0.5 mm more or less, with the foam "
        "pressed flat."
    )
    (rivet,) = (item for item in plan.hardware if item.hardware.name == "rivet")
    assert (rivet.posts, rivet.tried) == (((6.0, 6), (8.0, 2), (10.0, 2), (12.0, 4)), ((10.0, 4),))
    others = [told for number in (4, 10, 12) for told in lines(plan, number) if "post" in told]
    assert len(others) == 4
    assert not any("foam" in told for told in others)


def test_a_post_is_said_to_be_tried_where_the_drawer_has_none_for_foam_that_is_pressed_flat(tmp_path: Path) -> None:
    plan = variant(tmp_path, "field-bag", ('"8 mm", "10 mm", "12 mm"]', '"8 mm", "12 mm"]'))
    assert lines(plan, 11)[-1].endswith("post 12 mm, foam unsqueezed: try on scrap.")
    assert all(item.tried == () for item in plan.hardware)
    (told,) = (item for item in plan.build.cautions if item.check == "post-length" and "foam" in item.what)
    assert told.what == (
        '"rivet" goes through foam at "back", 9.6 mm in all: once that is flat the post of 12 mm is too long, and '
        "one of 8.6 mm to 9.6 mm is needed"
    )


def test_of_several_parts_it_is_told_how_many_go_into_each() -> None:
    told = lines(demo_plan("field-bag"), 12)
    assert (
        "2 × Ring tab: holes on holes, on the grain side of Gusset, the half with the holes outside, fold towards the near "
        "end."
    ) in told
    assert any(
        line.startswith("Set 2 rivets, 1 in each Ring tab, through both layers of Ring tab, Gusset") for line in told
    )
    takes = [tell(one) for one in demo_plan("field-bag").steps[11].takes]
    assert "Gusset (from step 11)" in takes, "what the tabs are riveted to is at hand"


def test_own_lines_stand_first_and_last_and_bring_their_hazards() -> None:
    build = demo_build("field-bag")
    first, *rest = build.steps
    own = replace(first, first=("Warm the heat gun.",), last=("Sort the offcuts.",))
    plan = plan_work(with_steps(build, (own, *rest)))
    told = lines(plan, 1)
    assert (told[0], told[-1]) == ("Warm the heat gun.", "Sort the offcuts.")
    assert told[1:-1] == lines(demo_plan("field-bag"), 1)
    assert "heat" in plan.steps[0].hazards
    assert "heat" not in demo_plan("field-bag").steps[0].hazards


def _stacks(build: Assembled) -> Iterator[Stack]:
    yield from (one.stack for one in build.assembly.sewn)
    yield from (one.stack for one in build.assembly.fastened)


@pytest.mark.parametrize("name", sorted(PATHS))
def test_layers_as_printed_add_up_to_the_sum_as_printed(name: str) -> None:
    """To a tenth of a mm each, as a gauge shows them: 2.2 + 2.2 + 2.2 is 6.6."""
    for stack in _stacks(demo_build(name)):
        told = [round(layer.thickness_mm, 1) for layer in stack.layers]
        if sum(layer.thickness_mm for layer in stack.layers) == pytest.approx(stack.usual_mm):
            assert round(sum(told), 1) == round(stack.usual_mm, 1)


def test_ounces_count_in_tenths_of_a_mm_and_mm_as_they_are_written(tmp_path: Path) -> None:
    """5.5 oz of 1/64 in (ASTM D1814) are 2.183 mm."""
    for written, thick_mm in (("5-6 oz", 2.2), ("2.25 mm", 2.25)):
        plan = variant(tmp_path, "satchel", ('"5 oz"', f'"{written}"'))
        assert plan.build.materials[0].thickness_mm == pytest.approx(thick_mm)


@pytest.mark.parametrize(
    ("end", "where", "also"),
    [
        ("bottom 80 mm", "80 mm from the bottom", ""),
        ("top 120 mm", "120 mm from the top", ""),
        ("top 120 mm", "120 mm from the top", 'round = { top-left = "50 mm", top-right = "50 mm" }'),
    ],
)
def test_a_row_that_begins_along_an_edge_is_told_by_how_far_along(
    tmp_path: Path, end: str, where: str, also: str
) -> None:
    """The front reaches 80 of the 200 mm up the back: neither at a corner nor at the lower end of an edge. Corners of half
    the width leave the top edge no length."""
    path = tmp_path / "a.toml"
    path.write_text(MID_EDGE.replace("END", end).replace("ALSO", also), encoding="utf-8")
    (told,) = (line for line in lines(plan_work(resolve_build(read_spec(path))), 1) if "Sew" in line)
    assert told.endswith(f"from the left edge, {where} edge, to the right edge, {where} edge, of back.")


MID_EDGE = """
[spec]
code = "mid-edge"
title = "Pocket"
version = "1"
show = "mm"
[materials.side]
title = "side"
kind = "leather"
thickness = "2 mm"
[stitches.main]
by = "hand"
thread = "0.8 mm waxed polyester"
pitch = "4 mm"
inset = "4 mm"
[pieces.back]
of = "side"
shape = "rectangle"
size = ["100 mm", "200 mm"]
ALSO
[pieces.front]
of = "side"
shape = "rectangle"
size = ["100 mm", "80 mm"]
[seams.pocket]
stitch = "main"
meet = ["back: left bottom right from END to END", "front: left bottom right"]
[[steps]]
do = "Sew the front to the back."
seams = ["pocket"]
"""


def test_a_row_along_a_part_of_one_edge_is_told_by_how_far_off_its_ends_it_begins() -> None:
    """The flap of the satchel is sewn along its top, but for 5/16 in at either side."""
    told = lines(demo_plan("satchel"), 3)
    along = "along the top edge of Flap, from 5/16 in off the right to 5/16 in off the left."
    assert f"Set up stitch main. Sew Flap to back {along}" in told


def test_a_step_that_smooths_edges_has_the_tools_by_which_its_leather_is_finished() -> None:
    """The sleeve is burnished, and its first step smooths a mouth and a top; that of the satchel says itself how."""
    sleeve, satchel = demo_plan("sleeve"), demo_plan("satchel")
    assert sleeve.steps[0].tools[-2:] == ("edge burnisher", "sponge and water")
    assert satchel.steps[0].tools.count("edge burnisher") == 1
    assert "edge burnisher" not in satchel.steps[1].tools


@pytest.mark.parametrize(("glue", "taped"), [("double-sided tape", True), ("contact cement", False), ("knife", False)])
def test_tape_holds_the_zip_behind_its_slot(resolve_text: Resolve, glue: str, *, taped: bool) -> None:
    text = "<zip: coil zip, 32 mm, 0.6 mm>\n" + piece(
        "pocket",
        200,
        120,
        'laid = [{ goods = "zip", at = "centre", stitch = "main", window = "10 mm", clear = "30 mm" }]\n',
    )
    plan = plan_work(resolve_text(text + step("Sew the zip.", pieces="pocket").rstrip() + f'\ntools = ["{glue}"]\n'))
    told = lines(plan, 1)
    put = "Put double-sided tape on the flesh side of pocket beside the slot, no more than 4 mm from it."
    assert (put in told) is taped
    assert any("behind the slot, its face in the slot" in line for line in told)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ("right 5/16 in", "5/16 in off the right"),
        ("mouth 0 mm", "the mouth"),
        ("top 0.5 mm", "0.5 mm off the top"),
        ("left", "the left"),
        ("flap-low", "flap-low"),  # a corner
    ],
)
def test_where_a_part_of_an_edge_ends_is_said_in_running_words(told: str, words: str) -> None:
    assert _part_end(told) == words
