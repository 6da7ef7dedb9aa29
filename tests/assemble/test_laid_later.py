"""What lies under a needle when: a pocket from the step that glues it, an end of a strap on its own panel, a caught tab."""

from short_specs import piece, rivet, seam, step
from spec_text import Resolve, write_out
from step_lines import words_of

from docgen.assemble import Assembled, pile_run, pile_seam
from docgen.plan import plan_work

FACE = """\
landings = [
  { piece = "upper", at = "0 from left, 30 mm from bottom" },
  { piece = "lower", at = "0 from left, 0 from bottom" },
]
"""
HANDLE = """\
[straps.handle]
of = "body"
cut = 2
width = "20 mm"
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""
ENDS = """\
landings = [
  { strap = "handle", at = "50 mm from left, 30 mm from top", over = "25 mm", stitch = "main" },
  { strap = "handle", at = "50 mm from right, 30 mm from top", end = "second", over = "25 mm", stitch = "main" },
]
"""
TAB = """\
<hardware ring: 1, D ring>
bar = "3 mm"
"""


def test_a_pocket_lies_there_from_the_step_that_glues_it_on(resolve_text: Resolve) -> None:
    """All are burnished together first; the lower pocket comes over the foot of the upper one only after that is sewn."""
    made = resolve_text(
        piece("face", 100, 120, FACE)
        + piece("upper", 100, 80)
        + piece("lower", 100, 80)
        + seam("foot", "upper: bottom", "face")
        + step("Burnish the mouths.", pieces="face upper lower")
        + step("Sew the foot of the upper pocket.", seams="foot")
        + step("Glue the lower pocket over it.", pieces="lower")
    )
    (once,) = made.assembly.sewn
    assert [layer.part for layer in once.stack.layers] == ["upper", "face"]
    assert [lies.copy.part for lies in made.assembly.lies] == ["upper", "lower"]


def test_a_dividing_line_goes_through_what_lies_between(resolve_text: Resolve) -> None:
    """The upper pocket is sewn on before; the lower one, divided in the middle, covers its foot and more: 3 x 2 mm."""
    line = 'dividers = [{ at = "centre", stitch = "main", on = "face" }]\n'
    made = resolve_text(
        piece("face", 100, 120, FACE)
        + piece("upper", 100, 80)
        + piece("lower", 100, 80, line)
        + seam("foot", "upper: bottom", "face")
        + step("Sew the foot of the upper pocket.", seams="foot")
        + step("Glue the lower pocket over it and divide it.", pieces="lower face")
    )
    (run,) = [run for run in made.assembly.runs if run.kind == "dividers"]
    assert ([layer.part for layer in run.stack.layers], run.stack.usual_mm) == (["lower", "upper", "face"], 6)


CORNERS = """\
holes = [{ at = "10 mm from left, 60 mm from bottom", punch = "4 mm", takes = "rivet" },
  { at = "89 mm from left, 100 mm from bottom", punch = "4 mm", takes = "rivet" },
  { at = "60 mm from left, 100 mm from bottom", punch = "4 mm", takes = "rivet" }]
landings = [{ piece = "pocket", at = "0 from left, 0 from bottom" },
  { strap = "loop", at = "99 mm from left, 100 mm from bottom", leads = "left" },
  { strap = "loop", end = "second", at = "50 mm from left, 100 mm from bottom", leads = "right" }]
"""
LOOP = """\
[straps.loop]
of = "body"
width = "20 mm"
finished = "70 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }, { at = "centre, 10 mm from end", punch = "4 mm" }]
"""


def test_rivets_wait_for_what_has_its_holes_there(resolve_text: Resolve) -> None:
    """The first step rivets the loop on, which is written behind its rivets; the corner of the pocket comes with the
    pocket, though its hole says only that something comes there."""
    made = resolve_text(
        piece("back", 100, 120, CORNERS)
        + piece("pocket", 100, 70, 'holes = [{ at = "10 mm from left, 10 mm from top", punch = "4 mm" }]\n')
        + LOOP
        + seam("round", "pocket: left bottom right", "back")
        + rivet(3)
        + step("Rivet the loop on.", pieces="back", hardware="rivet", straps="loop")
        + step("Sew the pocket on, then rivet its corner.", pieces="pocket back", seams="round", hardware="rivet")
    )
    found = [(one.count, [layer.part for layer in one.stack.layers]) for one in made.assembly.fastened]
    assert found == [(2, ["back", "loop"]), (1, ["back", "pocket"])]
    told = words_of(plan_work(made).steps[0].acts)
    assert [line[:11] for line in told[1:]] == [
        "loop: both ",
        "loop, first",
        "loop, secon",
        "loop is lon",
        "Set 2 rivet",
    ]


def test_ends_of_both_handles_lie_on_their_own_panels(resolve_text: Resolve) -> None:
    panels = piece("front", 200, 150, ENDS) + piece("back", 200, 150, ENDS)
    made = resolve_text(panels + HANDLE + step("Sew on the handles.", pieces="front back", straps="handle"))
    piles = [pile_run(made, run) for run in made.assembly.runs if run.kind == "landings"]
    told = sorted([ply.part for ply in pile or ()] for pile in piles)
    assert told == [["handle", "back"]] * 2 + [["handle", "front"]] * 2


def test_a_folded_tab_that_a_turned_seam_catches_is_not_turned_with_it(resolve_text: Resolve) -> None:
    """Its halves stay flesh to flesh round the ring, grain out on both sides."""
    tab = piece("tab", 70, 15, 'folds = [{ at = "centre", around = "ring" }]\n')
    made = resolve_text(
        piece("back", 200, 150)
        + tab
        + write_out(TAB)
        + seam("tab", "tab: left", "tab: right", "back: left from top 20 mm to top 35 mm", more="turned = true\n")
        + step("Fold the tab round its ring and sew it on.", pieces="back tab", seams="tab", hardware="ring")
    )
    (pile,) = pile_seam(made, made.assembly.sewn[0])
    assert [(ply.part, ply.grain) for ply in pile][:2] == [("tab", "up"), ("tab", "down")]


def test_a_lining_of_the_one_strip_of_a_ring_lies_behind_the_ring(resolve_text: Resolve) -> None:
    """It names the strip, which the step that lays it closes."""
    text = (
        piece("strip", 60, 400)
        + '[pieces.lining]\nlike = "strip"\nof = "cloth"\nmarks = false\nlines = ["strip"]\n'
        + '[joins.tube]\nof = ["strip"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
        + '[[steps]]\ndo = "Glue in the lining and close the tube."\npieces = ["strip", "lining"]\njoins = ["tube"]\n'
        + 'tools = ["contact cement"]\n'
    )
    lies = resolve_text(text).assembly.lies
    assert [(one.host.part, one.copy.part, one.is_cover) for one in lies] == [("tube", "lining", True)]


def told(made: Assembled, at: int = 0) -> list[str]:
    return words_of(plan_work(made).steps[at].acts)


def glued(do: str, **keys: str) -> str:
    return step(do, **keys) + 'tools = ["contact cement"]\n'


def test_what_is_lapped_is_glued_over_all_of_the_lap_and_its_grain_roughened(resolve_text: Resolve) -> None:
    text = (
        piece("flap", 100, 80) + piece("back", 100, 120) + seam("on", "flap: top", "back: top", more='lap = "20 mm"\n')
    )
    text += glued("Sew the flap on.", seams="on")
    line = "Put contact cement on both flap and back, in a band 20 mm wide along the edges that meet."
    assert told(resolve_text(text))[:2] == ["Roughen the grain of back where flap laps over it.", line]
    napped = text.replace(
        "[pieces.flap]", '[materials.nap]\nkind = "leather"\nthickness = "2 mm"\nfinish = "suede"\n[pieces.flap]'
    )
    napped = napped.replace('[pieces.back]\nof = "body"', '[pieces.back]\nof = "nap"')
    assert told(resolve_text(napped))[0] == line


def test_linings_of_what_closes_on_itself_are_glued_to_each_other(resolve_text: Resolve) -> None:
    half = "{0}: left from bottom 0 mm to bottom 60 mm", "{0}: left from bottom 120 mm to bottom 60 mm"
    text = piece("body", 100, 120, 'folds = [{ at = "60 mm from bottom", open = true, angle = 180 }]\n')
    text += '[materials.silk]\nkind = "fabric"\nthickness = "0.5 mm"\n'
    text += '[pieces.lining]\nlike = "body"\nof = "silk"\nmarks = false\nlines = ["body"]\n'
    text += seam("mouth", "body: bottom", "lining: bottom") + seam("side", *(one.format("body") for one in half))
    text += glued("Glue the lining on and sew the mouth.", pieces="lining", seams="mouth")
    made = resolve_text(text + glued("Fold it and sew the side.", seams="side"))
    glue = [line for line in told(made, 1) if "contact cement on" in line]
    assert glue == ["Put contact cement on lining, in a band 4 mm wide along the edges that meet."]


def test_glue_for_a_turned_end_is_told(resolve_text: Resolve) -> None:
    lead = HANDLE.replace("cut = 2\n", "").replace(
        '{ shape = "square" }, {', '{ shape = "turned", back = "40 mm", sewn = "main" }, {'
    )
    assert "Put contact cement on the faces of handle that meet." in told(
        resolve_text(piece("face", 100, 120) + lead + glued("Make it.", straps="handle"))
    )


def test_foam_that_lands_on_the_strip_of_a_ring_is_laid_there_alone(resolve_text: Resolve) -> None:
    text = (
        piece("strip", 60, 400, 'landings = [{ piece = "foam", at = "centre, middle", inside = true }]\n')
        + piece("foam", 40, 300, 'lines = ["strip"]\n', of="pad")
        + '[joins.tube]\nof = ["strip"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
        + '[[steps]]\ndo = "Glue in the foam and close the tube."\npieces = ["strip", "foam"]\njoins = ["tube"]\n'
        + 'tools = ["contact cement"]\n'
    )
    lies = resolve_text(text).assembly.lies
    assert [(one.host.part, one.copy.part) for one in lies] == [("strip", "foam")]
