"""A part that is folded and sewn to itself, with what lies on its halves and between them. By hand, in mm."""

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, pile_post, pile_seam
from docgen.pages.work.acts import tell
from docgen.plan import plan_work

# A body of 100 by 162, folded round its foot with a bend 12 long in the middle, and a lining behind all of it.
FOLD = 'folds = [{{ at = "75 mm from bottom", open = true, angle = 180{} }}]\n'
LINING = '[pieces.lining]\nof = "thin"\nlike = "body"\nmarks = false\nlines = ["body"]\n'
LOW, HIGH = "body: left from bottom 0 to bottom 69 mm", "body: left from bottom 81 mm to bottom 150 mm"
WELT = '[pieces.welt]\nof = "body"\nshape = "strip"\nsize = ["10 mm", "69 mm"]\n'
GLUED = step("Glue in the lining.", pieces="body lining")


def layers_of(build: object) -> list[tuple[str, str]]:
    assert isinstance(build, Assembled)
    (once,) = build.assembly.sewn
    (pile,) = pile_seam(build, once)
    return [(ply.part, ply.grain) for ply in pile]


def test_each_half_has_its_lining_and_the_welt_lies_between(resolve_text: Resolve) -> None:
    body = piece("body", 100, 162, FOLD.format(""))
    build = resolve_text(
        body + LINING + WELT + seam("side", LOW, "welt: left", HIGH) + GLUED + step("Sew.", seams="side")
    )
    assert layers_of(build) == [("body", "up"), ("lining", "down"), ("welt", ""), ("lining", "up"), ("body", "down")]


@pytest.mark.parametrize(
    ("inside", "turned", "layers"),
    [
        ("", False, [("body", "up"), ("lining", "down"), ("lining", "up"), ("body", "down")]),
        ("", True, [("lining", "up"), ("body", "down"), ("body", "up"), ("lining", "down")]),
        ("grain", False, [("lining", "up"), ("body", "down"), ("body", "up"), ("lining", "down")]),
    ],
)
def test_the_way_of_the_fold_and_turning_tell_what_lies_inside(
    resolve_text: Resolve, inside: str, turned: bool, layers: list[tuple[str, str]]
) -> None:
    """What folds with its grain inside lies as what is sewn face to face and turned."""
    body = piece("body", 100, 162, FOLD.format(f', inside = "{inside}"' if inside else ""))
    sewn = seam("side", LOW, HIGH, more="turned = true\n" if turned else "")
    assert layers_of(resolve_text(body + LINING + sewn + GLUED + step("Sew.", seams="side"))) == layers


def test_a_lining_that_is_sewn_in_as_well_is_counted_once(resolve_text: Resolve) -> None:
    body = piece("body", 100, 162, FOLD.format(""))
    both = [side.replace("body", "lining") for side in (LOW, HIGH)]
    build = resolve_text(body + LINING + seam("side", LOW, *both, HIGH) + GLUED + step("Sew.", seams="side"))
    assert layers_of(build) == [("body", "up"), ("lining", "down"), ("lining", "up"), ("body", "down")]


@pytest.mark.parametrize("named", ["tab", "back"])
def test_a_lined_tab_that_is_folded_has_its_lining_twice_inside(resolve_text: Resolve, named: str) -> None:
    """Riveted on a back of 2.0: tab of 2.0 and lining of 1.0 twice, whichever of them names the other."""
    takes = ', takes = "rivet"' if named == "tab" else ""
    own = ", ".join(f'{{ at = "centre, 12 mm from {end}", punch = "4 mm"{takes} }}' for end in ("bottom", "top"))
    tab = f'folds = [{{ at = "middle" }}]\nholes = [{own}]\n'
    back = hole("50 mm from left, 30 mm from top", more=', through = ["tab", "tab"]') if named == "back" else ""
    back = back or 'landings = [{ piece = "tab", at = "50 mm from left, 30 mm from top" }]\n'
    build = resolve_text(
        piece("back", 200, 150, back)
        + piece("tab", 20, 80, tab)
        + '[pieces.lining]\nof = "thin"\nlike = "tab"\nmarks = false\nlines = ["tab"]\n'
        + rivet()
        + step("Glue in the lining.", pieces="tab lining")
        + step("Rivet.", pieces="tab back", hardware="rivet")
    )
    assert isinstance(build, Assembled)
    (post,) = build.assembly.fastened
    assert post.stack.usual_mm == pytest.approx(8.0)
    layers = [(ply.part, ply.grain) for ply in pile_post(build, post) or ()]
    assert layers == [("tab", "up"), ("lining", "down"), ("lining", "up"), ("tab", "down"), ("back", "up")]


def test_a_doubled_strap_is_two_layers_under_its_rivet(resolve_text: Resolve) -> None:
    """Flesh to flesh, 2.0 and 2.0, on a back of 2.0: what lies on that is the grain of its second layer."""
    ends = 'ends = [{ shape = "square" }, { shape = "square" }]\n'
    punches = 'punches = [{ at = "centre, 15 mm from start", punch = "4 mm" }]\n'
    landing = 'landings = [{ strap = "grip", at = "centre, 40 mm from top", leads = "up", over = "40 mm" }]\n'
    build = resolve_text(
        piece("back", 200, 150, landing + hole("centre, 25 mm from top"))
        + '[straps.grip]\nof = "body"\ndoubled = true\nwidth = "20 mm"\nfinished = "200 mm"\nstitch = "main"\n'
        + ends
        + punches
        + rivet()
        + step("Rivet.", straps="grip", pieces="back", hardware="rivet")
    )
    assert isinstance(build, Assembled)
    (post,) = build.assembly.fastened
    found = [(ply.part, ply.thickness_mm, ply.grain) for ply in pile_post(build, post) or ()]
    assert found == [("grip", 2.0, "up"), ("grip", 2.0, "down"), ("back", 2.0, "up")]
    (told,) = [tell(one) for one in plan_work(build).steps[0].acts if "Set 1" in tell(one)]
    assert "3 layers" in told.replace("\u00a0", " ")


@pytest.mark.parametrize(("turned", "side"), [(False, "flesh"), (True, "grain")])
def test_a_bend_is_told_as_it_lies_while_its_sides_are_sewn(resolve_text: Resolve, turned: bool, side: str) -> None:
    sewn = seam("side", LOW, HIGH, more="turned = true\n" if turned else "")
    build = resolve_text(piece("body", 100, 162, FOLD.format("")) + sewn + step("Fold and sew.", seams="side"))
    told = [tell(one) for one in plan_work(build).steps[0].acts]
    assert [one.rsplit(", ", 1)[1] for one in told if "bend on" in one] == [f"{side} side in."]
