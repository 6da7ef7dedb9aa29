"""A proposed order: what one panel holds goes on while that is flat, what is caught comes before what closes over it, and
what hangs in a fold before that is closed; and in any order what lies in a fold is made before it."""

from collections.abc import Callable

from short_specs import piece, rivet, seam, step

from docgen.assemble import Assembled
from docgen.plan import plan_work
from docgen.plan.act import act

Resolve = Callable[[str], Assembled]
SQUARE = 'ends = [{ shape = "square" }, { shape = "square" }]\n'


def strap(name: str, long_mm: int, more: str = "", ends: str = SQUARE) -> str:
    return f'[straps.{name}]\nof = "body"\nwidth = "20 mm"\nfinished = "{long_mm} mm"\n{more}{ends}'


CLASP = (
    'landings = [{ strap = "clasp", at = "centre, 60 mm from top", leads = "up", over = "30 mm", stitch = "main" }]\n'
)
SNAP = '[hardware.snap]\nwhat = "line 20 snap"\ncount = 1\nhole = "3.5 mm"\nposts = ["4 mm", "5 mm", "6 mm"]\n'
CASE = (
    piece("front", 200, 150, 'holes = [{ at = "centre, 40 mm from bottom", punch = "3.5 mm", takes = "snap" }]\n')
    + piece("back", 200, 150, CLASP)
    + strap("clasp", 260, 'punches = [{ at = "centre, 15 mm from end", punch = "3.5 mm", takes = "snap" }]\n')
    + SNAP
    + seam("round", "front: left bottom right", "back: left bottom right")
    + piece("tab", 30, 80, 'folds = [{ at = "middle", around = "ring" }]\n')
    + '[hardware.ring]\nwhat = "D ring, 30 mm"\ncount = 1\n'
    + seam("tab", "back: left from bottom 90 mm to bottom 120 mm", "tab: bottom", "tab: top")
)


def works(build: Assembled) -> list[str]:
    events, count = build.assembly.events, len(build.assembly.steps)
    return [event.name for event in events if event.step < count and event.kind not in ("pieces", "straps", "skives")]


def test_a_strap_a_snap_and_a_tab_are_on_before_the_case_is_closed(resolve_text: Resolve) -> None:
    build = resolve_text(CASE)
    assert works(build) == ["clasp first end on back", "snap", "tab", "ring", "round"]
    steps = plan_work(build).steps
    assert [one.do for one in steps if not (one.acts or one.jobs)] == [], "no step is empty"
    clasps = [drawn.is_punched for one in steps for drawn in one.drawn if drawn.name == "clasp"]
    assert clasps == [True, False, False], "its hole is made where it is cut, not where the snap is set"
    assert all(one.stack.parts in (("front",), ("clasp",)) for one in build.assembly.fastened)


def test_what_is_lined_waits_for_its_lining(resolve_text: Resolve) -> None:
    build = resolve_text(CASE + piece("lining", 200, 150, 'lines = ["front"]\n'))
    assert works(build)[-1] == "snap"


def test_a_buckle_comes_with_the_rivet_that_closes_its_strap(resolve_text: Resolve) -> None:
    """Two straps take one each: neither step that makes them takes both."""
    turned = 'ends = [{ shape = "turned", back = "40 mm", around = "buckle", takes = "rivet" }, { shape = "square" }]\n'
    punch = 'punches = [{ at = "centre, 25 mm from start", punch = "4 mm" }]\n'
    buckles = '[hardware.buckle]\nwhat = "roller buckle"\ncount = 2\ninside = "21 mm"\nbar = "3 mm"\n'
    both = strap("one", 200, punch, turned) + strap("two", 240, punch, turned)
    steps = resolve_text(piece("front", 200, 150) + both + rivet(2) + buckles).assembly.steps
    assert [(made.straps, made.hardware) for made in steps if made.straps or made.hardware] == [
        (("one",), ()),
        (("two",), ()),
        ((), ("rivet", "buckle")),
    ]


def test_a_step_takes_as_many_buckles_as_its_straps_turn_round(resolve_text: Resolve) -> None:
    """Where a later step rivets them, too: of two one for each strap."""
    turned = 'ends = [{ shape = "turned", back = "40 mm", around = "buckle", takes = "rivet" }, { shape = "square" }]\n'
    punch = 'punches = [{ at = "centre, 25 mm from start", punch = "4 mm" }]\n'
    text = piece("front", 200, 150) + strap("one", 200, punch, turned) + strap("two", 240, punch, turned) + rivet(2)
    text += '[hardware.buckle]\nwhat = "roller buckle"\ncount = 2\ninside = "21 mm"\nbar = "3 mm"\n'
    text += step("Make one.", straps="one", hardware="buckle") + step("Make two.", straps="two", hardware="buckle")
    first, second, _ = plan_work(resolve_text(text + step("Rivet both.", hardware="rivet"))).steps
    told = act("hardware_of", count="1", what="roller buckle", all="2")
    assert told in first.takes
    assert told in second.takes


def test_dividing_lines_are_sewn_once_the_pocket_lies_there(resolve_text: Resolve) -> None:
    """Its hem is its first seam, and the pocket lies on nothing then."""
    more = 'hems = [{ edges = "top", turn = "10 mm" }]\ndividers = [{ at = "centre", stitch = "main", on = "back" }]\n'
    back = 'landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]\n'
    text = piece("back", 200, 150, back) + piece("pocket", 120, 90, more)
    text += seam("hem", "pocket: top", "pocket") + seam("on", "pocket: left bottom right", "back")
    assert works(resolve_text(text)) == ["hem", "on", "pocket"]


def test_a_keeper_is_made_before_the_fold_that_holds_it(resolve_text: Resolve) -> None:
    turned = (
        'ends = [{ shape = "turned", back = "40 mm", around = "buckle", keeper = "fixed" }, { shape = "square" }]\n'
    )
    text = piece("front", 200, 150) + strap("belt", 400, 'stitch = "main"\n', turned)
    text += '[straps.fixed]\nof = "body"\nwidth = "12 mm"\nkeeper-for = "belt"\n'
    text += '[hardware.buckle]\nwhat = "buckle"\ncount = 1\ninside = "21 mm"\nbar = "3 mm"\n'
    build = resolve_text(text + step("Make the belt.", straps="belt fixed", hardware="buckle"))
    assert [event.name for event in build.assembly.events if event.kind == "straps"] == ["fixed", "belt"]


def turned(name: str, *meet: str) -> str:
    return seam(name, *meet) + "turned = true\n"


def turning(build: Assembled) -> list[str]:
    return [made.do for made in plan_work(build).steps if act("turn_out") in made.acts]


def test_a_bag_is_turned_once_its_last_seam_is_sewn(resolve_text: Resolve) -> None:
    edges = ("left", "bottom", "right")
    text = piece("front", 200, 150) + piece("back", 200, 150)
    text += "".join(turned(edge, f"front: {edge}", f"back: {edge}") for edge in edges)
    assert turning(resolve_text(text)) == ["Sew: right."]


def test_a_flap_is_turned_before_it_is_sewn_in(resolve_text: Resolve) -> None:
    text = piece("front", 200, 150) + piece("flap", 150, 80) + piece("cover", 150, 80)
    text += turned("round", "flap: left bottom right", "cover: left bottom right")
    text += turned("in", "front: top from left 25 mm to left 175 mm", "flap: top", "cover: top")
    assert turning(resolve_text(text)) == ["Sew: round.", "Sew: in."]


def test_a_ring_comes_with_the_rivet_that_closes_its_tab(resolve_text: Resolve) -> None:
    own = (
        'folds = [{ at = "middle", around = "ring" }]\nholes = [{ at = "centre, 12 mm from bottom", punch = "4 mm" }]\n'
    )
    taken = 'holes = [{ at = "centre, 30 mm from top", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] }]\n'
    text = piece("front", 200, 150, taken) + piece("tab", 30, 80, own) + rivet()
    steps = resolve_text(text + '[hardware.ring]\nwhat = "D ring, 30 mm"\ncount = 1\n').assembly.steps
    assert [made.hardware for made in steps if made.hardware] == [("rivet", "ring")]
