"""Glue is put on where something is to be held, and its wait is told where it is put on. By hand."""

from pathlib import Path

import pytest
from demos import demo_plan
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines, variant

from docgen.plan import PlanStep, plan_work

PANELS = piece("front", 160, 140) + piece("back", 160, 140)
MOUTH = seam("mouth", "front: top")
ROUND = seam("round", "front: left bottom right", "back: left bottom right")
GLUE = 'tools = ["contact cement"]\n'


def make(resolve_text: Resolve, text: str) -> tuple[PlanStep, list[str]]:
    plan = plan_work(resolve_text(PANELS + text))
    return plan.steps[0], [line for line in lines(plan, 1) if "contact cement" in line]


def test_a_row_through_one_layer_takes_no_glue(resolve_text: Resolve) -> None:
    _, told = make(resolve_text, MOUTH + ROUND + step("Sew.", seams="mouth round") + GLUE)
    assert told == ["Put contact cement on both front and back, in a band 4 mm wide along the edges that meet."]


def test_a_row_that_closes_a_fold_takes_some(resolve_text: Resolve) -> None:
    """Two layers of one part are held as well."""
    folded = piece("sleeve", 100, 80, 'folds = [{ at = "centre" }]\n')
    _, told = make(
        resolve_text, folded + seam("side", "sleeve: left", "sleeve: right") + step("Sew.", seams="side") + GLUE
    )
    assert told == ["Put contact cement on the flesh side of sleeve, in a band 4 mm wide along the edges that meet."]


@pytest.mark.parametrize(
    ("do", "waits"),
    [("Sew the row along the mouth.", 0), ("Glue a tape behind the mouth and sew the row.", 1), ("Sew.", 0)],
)
def test_the_wait_of_a_glue_is_told_where_it_is_put_on(resolve_text: Resolve, do: str, waits: int) -> None:
    """A glue among the tools that no line and no word puts on is not waited for."""
    made, told = make(resolve_text, MOUTH + ROUND + step(do, seams="mouth") + GLUE + step("Sew.", seams="round"))
    assert (len(made.waits), told) == (waits, [])


def test_the_wait_of_a_paint_is_told_though_no_line_puts_it_on(resolve_text: Resolve) -> None:
    made, _ = make(resolve_text, ROUND + step("Sew.", seams="round") + 'tools = ["edge paint"]\n')
    assert [goods for goods, _ in made.waits] == ["edge paint"]


@pytest.mark.parametrize(
    ("tools", "between", "hem"),
    [
        ('["contact cement"]', "contact cement", "contact cement dry on both faces"),
        (
            '["contact cement", "double-sided tape"]',
            "contact cement or double-sided tape",
            "contact cement dry on both faces",
        ),
        ('["double-sided tape"]', "double-sided tape", "double-sided tape between"),
    ],
)
def test_of_two_glues_one_is_meant_and_tape_does_not_dry(
    resolve_text: Resolve, tools: str, between: str, hem: str
) -> None:
    hemmed = piece("flap", 160, 80, 'hems = [{ edges = "top", turn = "15 mm" }]\n')
    text = PANELS + hemmed + ROUND + seam("hem", "flap: top", "flap")
    work = step("Turn it and sew.", pieces="flap", seams="hem round") + f"tools = {tools}\n"
    found = lines(plan_work(resolve_text(text + work)), 1)
    assert any(line.startswith(f"Put {between} ") and "front and back" in line for line in found)
    assert any("turn top over" in line and hem in line for line in found)
    assert not any("tape dry" in line for line in found)


@pytest.mark.parametrize(("doubled", "under"), [("doubled = true\n", "second layer"), ("", "flesh side")])
def test_what_lies_on_a_piece_of_a_doubled_strap_is_its_second_layer(
    resolve_text: Resolve, doubled: str, under: str
) -> None:
    """Laid flesh to flesh, it has no flesh side that lies on anything."""
    landing = '{ strap = "grip", at = "centre, 30 mm from top", leads = "up", over = "30 mm", stitch = "main" }'
    text = piece("front", 160, 140, f"landings = [{landing}]\n")
    text += '[straps.grip]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\nstitch = "main"\n' + doubled
    text += 'ends = [{ shape = "square" }, { shape = "rounded" }]\n'
    text += step("Make it.", straps="grip") + step("Sew it on.", pieces="front") + GLUE
    found = lines(plan_work(resolve_text(text)), 2)
    assert f"Put contact cement inside the mark and on the {under} that lies on it." in found


NOTCHED = 'notches = [{ on = "bottom" }]\n'
PRESS = "Press the notch marks together first, then the ends, then between."


@pytest.mark.parametrize(
    ("front", "back", "do", "edges", "told"),
    [
        (NOTCHED, NOTCHED, "Sew.", "left bottom right", [PRESS]),
        (
            NOTCHED,
            NOTCHED,
            "Sew.",
            "all",
            [PRESS.replace("the ends, then between", "half way between them, then all round")],
        ),
        (NOTCHED, "", "Sew.", "left bottom right", []),
        (NOTCHED, NOTCHED, "Sew.", "left right", []),
        (NOTCHED, NOTCHED, "Lay notch on notch and sew.", "left bottom right", []),
    ],
)
def test_what_is_glued_by_its_edges_begins_at_its_notches(
    resolve_text: Resolve, front: str, back: str, do: str, edges: str, told: list[str]
) -> None:
    """As what is clipped does: contact cement takes at once (common practice, no published source)."""
    text = piece("front", 160, 140, front) + piece("back", 160, 140, back)
    own = [seam(f"one-{edge}", f"front: {edge}", f"back: {edge}") for edge in edges.split()]
    own = own if edges == "left right" else [seam("one", f"front: {edges}", f"back: {edges}")]
    names = "one-left one-right" if edges == "left right" else "one"
    found = lines(plan_work(resolve_text(text + "".join(own) + step(do, seams=names) + GLUE)), 1)
    assert [line for line in found if line.startswith("Press the notch")] == told
    if told:
        laid = next(k for k, line in enumerate(found) if "edges level" in line)
        assert laid < found.index(told[0]) < next(k for k, line in enumerate(found) if "Sew " in line)


LINED = piece("lining", 160, 140, 'lines = ["front"]\n', of="thin") + seam("mouth", "front: top", "lining: top")
THIN = '[materials.thin]\nkind = "leather"\nthickness = "0.8 mm"\n'


@pytest.mark.parametrize(
    ("do", "told"),
    [
        ("Glue the lining to the flesh side and sew the top edges.", "contact cement all over the faces that meet"),
        ("Glue the lining into the front, sew the top.", "contact cement all over the faces that meet"),
        ("Glue the lining along its top edge and sew it.", "in a band 4 mm wide along the edges that meet"),
        ("Sew the lining to the front.", "in a band 4 mm wide along the edges that meet"),
    ],
)
def test_a_lining_is_glued_as_the_words_of_its_step_say(resolve_text: Resolve, do: str, told: str) -> None:
    """All over where they say that linings are glued, but for what they say of edges; else where the row comes."""
    _, found = make(resolve_text, THIN + LINED + ROUND + step(do, seams="mouth") + GLUE + step("Sew.", seams="round"))
    assert [told in line for line in found] == [True]


def test_flat_parts_that_are_glued_once_are_neither_glued_nor_laid_again_for_the_next_seam(tmp_path: Path) -> None:
    """Inside and cover of the wallet are laid on each other with glue all round before the first of their two seams; where
    nothing glues them the second seam brings its edges together itself."""
    glued = lines(demo_plan("wallet"), 3)
    assert sum(line.startswith("Put contact cement on ") for line in glued) == 1
    assert sum(line.startswith("Lay ") for line in glued) == 1
    assert any("Sew seam 2" in line for line in glued)
    steps = 'seams = ["round", "top"]\ntools = ["pricking iron 3 mm", "awl", "hand needles"'
    bare = lines(variant(tmp_path, "wallet", (f'{steps}, "contact cement"', steps)), 3)
    assert sum(line.startswith("Lay ") for line in bare) == 2


@pytest.mark.parametrize(
    ("tool", "told"),
    [
        (
            "cement",
            "Put cement on both front and the left tape of coil zip, in a band 10 mm wide along the edges that meet.",
        ),
        (
            "tape 6 mm",
            "Put tape 6 mm between front and the left tape of coil zip, no more than 10 mm from the top edge.",
        ),
    ],
)
def test_glue_goes_on_the_tape_of_a_zip_before_that_is_laid(resolve_text: Resolve, tool: str, told: str) -> None:
    """On both faces, for each of two seams; turned right side out, it is laid face to face as before."""
    text = "<zip: coil zip, 32 mm, 0.6 mm>\n" + PANELS
    for part, tape in (("front", "left"), ("back", "right")):
        text += seam(part, f"{part}: top", f"zip: {tape}", more='lap = "10 mm"\n')
    text += step("Sew the zip.", seams="front back") + f'tools = ["{tool}"]\n'
    found = lines(plan_work(resolve_text(text)), 1)
    glued = [k for k, line in enumerate(found) if line.startswith(f"Put {tool}")]
    laid = [k for k, line in enumerate(found) if line.startswith("Lay coil zip under")]
    assert [found[k] for k in glued] == [told, told.replace("front", "back").replace("left", "right")]
    assert glued[0] < laid[0] < glued[1] < laid[1]
    turned = text.replace('lap = "10 mm"', "turned = true")
    assert not any("tape of coil zip, " in line for line in lines(plan_work(resolve_text(turned)), 1) if tool in line)


@pytest.mark.parametrize(
    ("fold", "more", "told"),
    [
        ("", "", "the flesh side of cover"),
        (', inside = "grain"', "", "cover"),  # which side meets hangs on more than its fold
        ("", "turned = true\n", "cover"),
    ],
)
def test_what_is_sewn_to_itself_is_glued_on_the_side_that_meets(
    resolve_text: Resolve, fold: str, more: str, told: str
) -> None:
    halves = "cover: left from bottom 0 mm to bottom 98 mm", "cover: left from bottom 200 mm to bottom 102 mm"
    text = piece("cover", 150, 200, f'folds = [{{ at = "middle"{fold} }}]\n') + seam("side", *halves, more=more)
    text += step("Fold it, and sew the side.", pieces="cover", seams="side", tools="glue")
    (line,) = (line for line in lines(plan_work(resolve_text(text)), 1) if line.startswith("Put"))
    assert line == f"Put glue on {told}, in a band 4 mm wide along the edges that meet."
