"""When cut edges are finished: told at the step, in the words of the material. Common practice, no published source."""

from dataclasses import replace
from pathlib import Path

import pytest
from demos import demo_plan
from short_specs import BELT, BUCKLE, KEEPER, piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines, variant

from docgen.plan import plan_work
from docgen.plan.acts.spoken_edges import speaks_of_edges


def test_edges_are_finished_before_they_are_covered_where_nothing_else_says_when(tmp_path: Path) -> None:
    """The flap lies on the back; front and gusset are free until they are sewn. A step that burnishes tells it itself."""
    told = "Flap: finish the cut edges before they are covered (bevelled and burnished)."
    free = "Front panel, Back panel and Gusset: now finish the cut edges (bevelled and burnished)."
    plain = ("burnished, see the steps", "burnished")
    silent = (
        ("Bevel and burnish the tops", "Look at the tops"),
        ("Bevel and burnish both seams", "Look at both seams"),
    )
    plan = variant(tmp_path, "satchel", plain, *silent)
    assert [line for number in range(1, 5) for line in lines(plan, number) if "cut edges" in line] == [told, free]
    assert told in lines(plan, 3)
    assert {"edge beveller", "edge burnisher"} <= {*plan.steps[2].tools}
    called = variant(tmp_path, "satchel", plain, *silent, ("edge burnisher", "wooden burnisher"))
    assert "edge burnisher" not in {tool for each in called.steps for tool in each.tools}
    assert "wooden burnisher" in called.steps[2].tools
    for edits in ((plain,), silent):
        assert told not in lines(variant(tmp_path, "satchel", *edits), 3)


def test_a_finish_that_says_once_sewn_is_told_with_the_last_seam_of_each_piece() -> None:
    """Its tabs are riveted alone, never sewn: they are finished before they are folded for that."""
    told = "now finish the cut edges (bevelled and burnished)."
    found = [(k, line) for k in range(1, len(demo_plan("bag").steps) + 1) for line in lines(demo_plan("bag"), k)]
    assert [(k, line) for k, line in found if line.endswith(told)] == [
        (4, f"Front panel, Back panel, Gusset side and Gusset base: {told}"),
        (5, f"Strap tab: {told}"),
    ]
    assert lines(demo_plan("bag"), 5)[1].startswith("2 × Strap tab: fold on its fold line")
    assert "edge beveller" in demo_plan("bag").steps[3].tools


def test_a_finish_with_a_part_before_and_a_rest_after_is_told_at_both(tmp_path: Path) -> None:
    how = "burnished: the mouth before it is sewn, the rest once it is."
    edit = ('"Smooth the mouth of the front and the top of the card pocket."', '"Lay out all pieces."')
    found = lines(variant(tmp_path, "sleeve", edit), 3)
    assert not any("edges" in line for line in lines(demo_plan("sleeve"), 3)[:-1] if how[:-1] in line)
    assert found[0] == f"Front: now finish the cut edges that come before sewing ({how[:-1]})."
    assert found[-1] == "Back and Front: now finish the other cut edges (burnished)."


@pytest.mark.parametrize(
    ("finish", "early", "late"),
    [
        ("burnished: pocket tops before, the rest once sewn", ["Coin pocket"], ["Back, front and flap"]),
        (
            "burnished: tops before, the rest once sewn",
            ["Coin pocket", "flap", "Back and front"],
            ["Back, front and flap"],
        ),
    ],
)
def test_what_comes_before_is_told_of_the_parts_that_the_finish_names(
    resolve_text: Resolve, finish: str, early: list[str], late: list[str]
) -> None:
    text = POUCH + "".join(step("Sew.", seams=name) for name in ("pocket", "flap", "round"))
    build = resolve_text(text)
    plan = plan_work(replace(build, materials=tuple(replace(one, edges=finish) for one in build.materials)))
    told = [line for k in (1, 2, 3) for line in lines(plan, k) if "cut edges" in line]
    parts = [line.partition(":")[0] for line in told if "before sewing (" in line]
    assert sorted({one for line in parts for one in line.split(" and ")}) == sorted(
        {one for line in early for one in line.split(" and ")}
    )
    assert [line.partition(":")[0] for line in told if "now finish the other" in line][-1:] == late


def test_the_rest_of_what_lies_level_with_its_host_comes_when_both_are_sewn() -> None:
    """The pockets of the wallet are caught with the inside all round; nothing but their tops is done before."""
    steps = [[line for line in lines(demo_plan("wallet"), k) if "cut edges" in line] for k in (1, 2, 3)]
    pockets = "Left upper pocket, Left lower pocket, Right upper pocket and Right lower pocket"
    assert steps == [[], [], [f"Cover, Inside, {pockets}: now finish the other cut edges (burnished)."]]


@pytest.mark.parametrize(
    ("do", "speaks"),
    [
        ("Crease and paint the mouths of all pockets.", True),
        ("Paint all edges.", True),
        ("Smooth the upper edges of all pockets.", True),
        ("Smooth the leather with the bone folder.", False),
        ("Finish the two long edges.", True),
        ("Paint the pattern on the front.", False),
        ("Finish the top seam.", False),
    ],
)
def test_words_speak_of_edges(do: str, speaks: bool) -> None:
    assert speaks_of_edges(do) == speaks


@pytest.mark.parametrize(
    ("finish", "told"),
    [
        ("burnished", "belt: finish the cut edges before an end is turned (burnished)."),
        ("burnished before the buckle goes on", "belt; loop: now finish the cut edges (burnished)."),
        ("dyed, see the steps", None),
        ("left as cut", None),
    ],
)
def test_a_strap_is_finished_before_its_end_is_turned(resolve_text: Resolve, finish: str, told: str | None) -> None:
    build = resolve_text(
        write_out(BELT + BUCKLE + KEEPER) + step("Make it.", straps="belt loop", hardware="buckle rivet")
    )
    leather = tuple(replace(one, edges=finish) if one.name == "body" else one for one in build.materials)
    found = lines(plan_work(replace(build, materials=leather)), 1)
    turned = next(k for k, line in enumerate(found) if "turn back" in line)
    assert [line for line in found[:turned] if line.startswith("belt") and "cut edges" in line] == [told] * bool(told)
    assert not any("cut edges" in line for line in found[turned:] if line.startswith("belt"))


def test_a_step_that_is_called_after_the_finish_tells_it_of_the_straps_that_it_makes(tmp_path: Path) -> None:
    """Straps that are shaped one after the other in one line; nothing where a line of the step speaks of it."""
    own = 'first    = ["Once cut, bevel and burnish both, and those of step 11 too."]\n'
    told = [
        [line for line in lines(plan, 10) if "cut edges" in line]
        for plan in (variant(tmp_path, "field-bag", (own, "")), demo_plan("field-bag"))
    ]
    both = "Buckle strap; Hole strap"
    how = "bevelled on both sides and burnished damp"
    assert told == [[f"{both}: finish the cut edges before an end is turned ({how})."], []]


@pytest.mark.parametrize(("finish", "tools"), [("burnished", 1), ("burnished with wax", 0), ("painted", 0)])
def test_water_is_among_the_tools_of_a_step_that_burnishes_with_it(tmp_path: Path, finish: str, tools: int) -> None:
    plan = variant(tmp_path, "sleeve", ('"burnished: the mouth before it is sewn, the rest once it is"', f'"{finish}"'))
    assert plan.steps[2].tools.count("sponge and water") == tools


@pytest.mark.parametrize(("doubled", "order"), [("doubled = true\n", ["Sew", "now"]), ("", ["now", "Sew"])])
def test_two_layers_are_sewn_before_their_edge_is_finished(
    resolve_text: Resolve, doubled: str, order: list[str]
) -> None:
    """Loose layers have no edge that can be bevelled or burnished."""
    text = '[straps.grip]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\nstitch = "main"\n' + doubled
    text += 'ends = [{ shape = "square" }, { shape = "square" }]\n' + step("Make.", straps="grip")
    build = resolve_text(write_out(text))
    leather = tuple(replace(one, edges="burnished") for one in build.materials)
    plan = plan_work(replace(build, materials=leather))
    told = [line for line in lines(plan, 1) if "Sew" in line or "now finish the cut edges" in line]
    assert [word in line for word, line in zip(order, told, strict=True)] == [True, True]


POUCH = (
    piece("back", 120, 140, 'title = "Back"\nlandings = [{ piece = "flap", at = "0 from left, 20 mm from bottom" }]\n')
    + piece("front", 120, 140, 'landings = [{ piece = "pocket", at = "20 mm from left, 20 mm from bottom" }]\n')
    + piece("pocket", 80, 60, 'title = "Coin pocket"\n')
    + piece("flap", 120, 90)
    + seam("pocket", "pocket: left bottom right", "front")
    + seam("flap", "flap: bottom", "back")
    + seam("round", "front: left bottom right", "back: left bottom right")
)
FINISHED = {
    1: "Coin pocket: finish the cut edges before they are covered (bevelled).",
    2: "flap: finish the cut edges before they are covered (bevelled).",
    3: "Back and front: now finish the cut edges (bevelled).",
}


@pytest.mark.parametrize(
    ("do", "untold", "more"),
    [
        (["Sew the pocket on.", "Sew the flap on.", "Sew."], [], {}),
        # It names the pocket: the others are told, and so is this at the step that is called after it.
        (["Burnish the mouth of the pocket, then sew it on the front.", "Sew the flap on.", "Sew."], [], {}),
        (["Sew the pocket on.", "Sew the flap on.", "Sew."], [1], {"first": "Burnish-the-pocket."}),
        # What names no part speaks of what the step has in hand; at the end of the work of all but what is covered by then.
        (["Sew the pocket on.", "Sew the flap on.", "Sew, and look.", "Burnish."], [3], {}),
        (["Cut, and burnish the flap.", "Sew the flap on.", "Sew."], [2], {}),
    ],
)
def test_words_about_edges_spare_the_parts_that_they_mean(
    resolve_text: Resolve, do: list[str], untold: list[int], more: dict[str, str]
) -> None:
    """One line about the edges of one part does not take the others' away."""
    text = POUCH + "".join(
        step(words, seams=name, **(more if name == "pocket" else {}))
        for words, name in zip(do[:3], ("pocket", "flap", "round"), strict=True)
    )
    text += "".join(step(words, pieces="front") for words in do[3:])
    build = resolve_text(text)
    leather = tuple(replace(one, edges="bevelled") for one in build.materials)
    plan = plan_work(replace(build, materials=leather))
    found = {k: line for k in range(1, len(do) + 1) for line in lines(plan, k) if "cut edges" in line}
    assert found == {k: line for k, line in FINISHED.items() if k not in untold}


def test_the_edges_of_a_partner_are_named_in_the_order_of_those_on_which_they_lie(resolve_text: Resolve) -> None:
    """A corner of a cover, flesh to flesh with a panel: left lies on right, and foot on foot, however they are written."""
    text = piece("panel", 100, 80) + piece("cover", 100, 80)
    for written in ("bottom right", "right bottom"):
        side = seam("side", "panel: left bottom", f"cover: {written}") + step("Sew.", seams="side")
        found = lines(plan_work(resolve_text(text + side)), 1)
        assert any(line.startswith("Lay left and bottom of panel on right and bottom of cover, ") for line in found)


@pytest.mark.parametrize(("tools", "told"), [('["edge burnisher"]', 1), ('["awl"]', 0)])
def test_a_strap_whose_step_names_the_tools_for_its_edges_is_finished_there(
    resolve_text: Resolve, tools: str, told: int
) -> None:
    """The finish leaves it to the steps; the last one speaks of the seams alone, in which no strap is."""
    text = (
        piece("back", 200, 150)
        + piece("front", 200, 150)
        + seam("round", "front: left bottom right", "back: left bottom right")
        + '[straps.grip]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n'
        + step("Make the grip.", straps="grip").rstrip()
        + f"\ntools = {tools}\n"
        + step("Sew, then burnish the seam.", seams="round")
    )
    build = resolve_text(text)
    by_steps = tuple(replace(one, edges="burnished, see the steps") for one in build.materials)
    plan = plan_work(replace(build, materials=by_steps))
    assert sum(line == "grip: now finish the cut edges (burnished)." for line in lines(plan, 1)) == told
