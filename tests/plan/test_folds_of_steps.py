"""Which step folds what: of several pieces in hand the one that its words speak of; a mouth that is creased is not folded.
What else a joint and a tab with a buckle ask for is told there.

That an edge is creased by a line struck along it, and that firm leather which water softens is folded damp, is common
practice, no published source; the rest is plain from the work.
"""

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve, write_out
from step_lines import words_of

from docgen.pages.work.acts import tell
from docgen.plan import plan_work

BODY = (
    piece("body", 120, 300, 'folds = [{ at = "100 mm from bottom", open = true, angle = 90 }]\n')
    + hole("centre, 60 mm from top").replace(', takes = "rivet"', "")
    + piece("loop", 30, 120, 'folds = [{ at = "middle" }]\n')
    + 'holes = [\n{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["body"] },\n'
    + '{ at = "centre, 10 mm from top", punch = "4 mm", takes = "rivet" },\n]\n'
    + piece("side", 120, 90)
    + seam("side", "side: bottom", "body: bottom")
    + rivet(1)
)
SEWN = step("Bend the body and sew the side.", seams="side")


@pytest.mark.parametrize(
    ("do", "bent_in"),
    [
        ("Damp the loop, fold it, and rivet it on.", [2]),
        ("Fold the loop backward, rivet it behind the body.", [2]),
        ("Fold the loop and the body, and rivet the loop on.", [1, 2]),
    ],
)
def test_a_bend_is_told_by_the_step_that_speaks_of_its_piece(
    resolve_text: Resolve, do: str, bent_in: list[int]
) -> None:
    plan = plan_work(resolve_text(write_out(BODY) + step(do, pieces="body loop", hardware="rivet") + SEWN))
    told = [[tell(one) for one in made.acts] for made in plan.steps]
    assert [k + 1 for k, lines in enumerate(told) if any(line.startswith("body: ") for line in lines)] == bent_in
    assert any(line.startswith("loop: fold") for line in told[0])


POCKETS = (
    piece("inside", 200, 90, 'folds = [{ at = "centre", open = true, angle = 180 }]\n')
    + piece("shell", 200, 90)
    + seam("round", "inside: left bottom right", "shell: left bottom right")
)


@pytest.mark.parametrize(
    ("do", "bends"),
    [
        ("Crease and paint the mouths.", False),
        ("Crease the top edges.", False),
        ("Crease the inside along its fold.", True),
        ("Crease the fold and burnish the edges.", True),
        ("Crease its edges over the bone.", True),
    ],
)
def test_a_mouth_that_is_creased_is_not_folded(resolve_text: Resolve, do: str, bends: bool) -> None:
    plan = plan_work(resolve_text(write_out(POCKETS) + step(do, pieces="inside") + step("Sew.", seams="round")))
    first, last = ([tell(one) for one in made.acts] for made in plan.steps)
    assert any(line.startswith("inside: bend") for line in first) is bends
    assert any(line.startswith("inside: it bends by itself") for line in last) is not bends


STRIPS = """\
<strip one: ["60 mm", "200 mm"]>
<strip other: ["60 mm", "200 mm"]>
<join wall: ["one", "other"], 20 mm>
"""


@pytest.mark.parametrize("inset", ["4 mm", "6 mm"])
def test_a_row_across_a_joint_is_told_to_end_short_of_the_long_edges(resolve_text: Resolve, inset: str) -> None:
    """It keeps the inset of its stitch from both."""
    wide = f'[stitches.wide]\nby = "machine"\nthread = "Tex 135 bonded nylon"\npitch = "4 mm"\ninset = "{inset}"\n'
    joined = wide + write_out(STRIPS).replace('stitch = "main"', 'stitch = "wide"')
    plan = plan_work(resolve_text(joined + step("Join the strips.", joins="wall")))
    told = words_of(plan.steps[0].acts)
    assert f"Each row ends {inset} short of both long edges." in told


def test_the_tongue_of_a_buckle_goes_through_the_slot_at_its_fold(resolve_text: Resolve) -> None:
    cut = '{ at = "centre, AT mm from top", punch = "4 mm", long = "14 mm" }'
    tab = (
        piece("front", 200, 150, 'landings = [{ piece = "tab", at = "centre, 40 mm from bottom" }]\n')
        + hole("centre, 60 mm from bottom").replace(', takes = "rivet"', "")
        + piece("tab", 20, 80, 'folds = [{ at = "middle", around = "buckle" }]\n')
        + 'holes = [\nCUT,\n{ at = "centre, 20 mm from bottom", punch = "4 mm", takes = "rivet", '
        + 'through = ["front"] },\n]\n'
        + rivet(1)
        + '<hardware buckle: 1, roller buckle>\nbar = "3 mm"\n'
    )
    done = step("Fold the tab and rivet it on.", pieces="front tab", hardware="buckle rivet")
    at_fold, away = (write_out(tab).replace("CUT", cut.replace("AT", at)) + done for at in ("40", "50"))
    words = "round the roller buckle, its tongue through the slot."
    assert any(tell(one).endswith(words) for one in plan_work(resolve_text(at_fold)).steps[0].acts)
    assert not any("tongue" in tell(one) for one in plan_work(resolve_text(away)).steps[0].acts)


DAMPED = piece("body", 120, 300, 'folds = [{ at = "100 mm from bottom", inside = "flesh" }]\n', of="veg")
VEG = 'thickness = "2.8 mm"\ntannage = "vegetable"'
FOLDED = "body: fold on its fold line, 100 mm from the bottom, flesh side in."
MOIST = "body: damp it with a sponge on its fold line, 100 mm from the bottom, then fold it there, flesh side in."


@pytest.mark.parametrize(
    ("goods", "more", "told"),
    [
        (VEG, "", MOIST),
        (VEG.replace("2.8", "2"), "", FOLDED),
        (VEG.replace("vegetable", "chrome"), "", FOLDED),
        (f'{VEG}\nfinish = "waxed"', "", FOLDED),
        (VEG, 'skives = [{ edges = "bottom", width = "110 mm", to = "1.5 mm" }]\n', FOLDED),
        (VEG, 'skives = [{ edges = "bottom", width = "90 mm", to = "1.5 mm" }]\n', MOIST),
    ],
)
def test_firm_leather_that_water_softens_is_folded_damp(
    resolve_text: Resolve, goods: str, more: str, told: str
) -> None:
    """Not what is 2 mm or less there, of another tannage, or keeps water out; the sponge comes with the words."""
    text = f'[materials.veg]\nkind = "leather"\n{goods}\n{DAMPED}{more}'
    (made,) = plan_work(resolve_text(text + step("Fold the body.", pieces="body"))).steps
    lines = words_of(made.acts)
    assert told in lines
    assert ("sponge and water" in made.tools) is (told == MOIST)


def test_what_the_lines_of_a_step_damp_is_not_damped_twice(resolve_text: Resolve) -> None:
    own = 'first = ["Damp the fold."]\n'
    text = f'[materials.veg]\nkind = "leather"\n{VEG}\n{DAMPED}'
    (made,) = plan_work(resolve_text(text + step("Fold the body.", pieces="body") + own)).steps
    assert FOLDED in words_of(made.acts)


POUCH = piece(
    "pouch",
    120,
    240,
    'folds = [{ at = "90 mm from bottom", open = true, angle = 180 }, '
    '{ at = "60 mm from top", open = true, angle = 180 }]\n',
) + "".join(
    seam(edge, f"pouch: {edge} from bottom 90 mm to bottom 0 mm", f"pouch: {edge} from bottom 90 mm to bottom 180 mm")
    for edge in ("left", "right")
)
FOOT, OVER = "on its fold line, 90 mm from the bottom", "on its fold line, 60 mm from the top"


def bends_of(resolve_text: Resolve, *steps: str) -> list[list[str]]:
    """Of every step the folds that it makes, and "sewn" where it sews, in the order of its lines."""
    made = plan_work(resolve_text(write_out(POUCH) + "".join(steps))).steps
    told = [[(line, words) for words in words_of(one.acts) for line in (FOOT, OVER, "Sew ")] for one in made]
    return [[*dict.fromkeys(line for line, words in lines if line in words)] for lines in told]


@pytest.mark.parametrize(
    ("last", "wanted"),
    [
        ("", [FOOT, "Sew ", OVER]),
        ("Burnish both sides.", [FOOT, "Sew ", OVER]),
        ("Burnish both sides, fold the flap over.", [FOOT, "Sew "]),
    ],
)
def test_a_flap_is_bent_once_the_sides_beneath_it_are_sewn(resolve_text: Resolve, last: str, wanted: list[str]) -> None:
    """Bent before, it would lie over both seams; a last line of the maker's that folds it needs no other."""
    sewn = step("Fold the front up and sew both sides.", seams="left right") + (f'last = ["{last}"]\n' if last else "")
    assert bends_of(resolve_text, sewn) == [wanted]


def test_a_flap_is_bent_in_the_step_that_says_so(resolve_text: Resolve) -> None:
    """Before the sides where a step of its own creases both; after them where a later one folds the flap; and once."""
    sewn = step("Fold the front up and sew both sides.", seams="left right")
    creased = step("Crease the pouch along its folds.", pieces="pouch")
    closed = step("Fold the flap over.", pieces="pouch")
    assert bends_of(resolve_text, creased, sewn)[0] == [FOOT, OVER]
    assert bends_of(resolve_text, sewn, closed) == [[FOOT, "Sew "], [OVER]]
