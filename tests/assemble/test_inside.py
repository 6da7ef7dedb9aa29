"""What lands on the side that does not show: a welt, a pocket on the flesh side, a patch behind rivets."""

from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step
from step_lines import words_of

from docgen.assemble import Assembled, Copy, TakenApart, UnsureError, pile_seam
from docgen.plan import plan_work
from docgen.problems import SpecRejected

Resolve = Callable[[str], Assembled]

INSIDE = 'landings = [{ piece = "welt", at = "0 mm from right, 0 mm from top", inside = true }]\n'
SHEATH = (
    piece("front", 50, 160)
    + piece("back", 50, 160, INSIDE)
    + piece("welt", 10, 140)
    + seam("round", "front: left bottom right", "back: left bottom right")
    + step("Glue the welt in.", pieces="welt back")
    + step("Sew round.", seams="round")
)


def test_a_welt_is_between_both_sides_where_it_reaches(resolve_text: Resolve) -> None:
    """2 mm of front and 2 mm of back, and 2 mm of welt along 140 of 160 mm of one side."""
    build = resolve_text(SHEATH)
    stack = build.assembly.stack("round")
    assert (stack.thinnest_mm, stack.thickest_mm) == (4.0, 6.0)
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [(ply.part, ply.grain) for ply in pile] == [("front", "up"), ("welt", "up"), ("back", "down")]


def test_it_lies_within_the_back_with_its_own_grain_in_sight(resolve_text: Resolve) -> None:
    space = resolve_text(SHEATH).space
    back, welt = (space.part(Copy(name)) for name in ("back", "welt"))
    assert back is not None
    assert welt is not None
    assert (welt.host, welt.level) == (Copy("back"), -1)
    assert sum(a * b for a, b in zip(welt.out(0), back.out(0), strict=True)) == pytest.approx(-1)
    corners = [at for face in welt.faces for at in face.corners]
    mine = [at for face in back.faces for at in face.corners]
    assert max(at[1] for at in corners) == pytest.approx(max(at[1] for at in mine))  # level with the top of the back
    assert max(at[1] for at in corners) - min(at[1] for at in corners) == pytest.approx(140)
    right = {round(at[0], 6) for at in corners}
    assert max(right) - min(right) == pytest.approx(10)
    assert right & {round(at[0], 6) for at in mine}, "and with one of its sides"


def test_the_step_says_on_which_side_and_where(resolve_text: Resolve) -> None:
    told = words_of(plan_work(resolve_text(SHEATH)).steps[0].acts)
    assert (
        "Lay welt on the flesh side of back, grain side up, upright: its left edge level with the right edge of back, "
        "top edges level."
    ) in told


def test_a_patch_behind_a_rivet_is_one_of_its_layers(resolve_text: Resolve) -> None:
    """2 mm of panel, 2 mm of tab outside and 1 mm of patch inside: 5 mm; the tab is told first, then the panel, then
    what lies behind it."""
    tab, patch = '{ piece = "tab", at = "centre, middle" }', '{ piece = "patch", at = "centre, middle", inside = true }'
    spec = (
        piece("panel", 100, 100, f"landings = [{tab}, {patch}]\n" + hole("centre, middle"))
        + piece("tab", 20, 20, hole("centre, middle"))
        + piece("patch", 30, 30, hole("centre, middle"), of="thin")
        + rivet()
        + step("Rivet.", pieces="tab patch panel", hardware="rivet")
    )
    plan = plan_work(resolve_text(spec))
    assert [fit.stack.usual_mm for fit in plan.build.assembly.fastened] == [5.0]
    told = " ".join(words_of(plan.steps[0].acts))
    assert "through tab, panel, patch, 3 layers, 5 mm" in told


def test_the_pattern_marks_it_with_its_side(resolve_text: Resolve) -> None:
    back = next(one for one in resolve_text(SHEATH).pieces if one.name == "back")
    (landing,) = back.marks.landings
    assert (landing.title, landing.is_inside) == ("welt, inside", True)
    assert (landing.dx_mm, landing.dy_mm) == (40, 20)


def test_two_parts_may_lie_on_each_other_from_both_sides(resolve_text: Resolve) -> None:
    """On one side they would cross: told as that. From both sides they do not."""
    one, two = (
        '{ piece = "one", at = "20 mm from left, middle" }',
        'piece = "two", at = "35 mm from left, 50 mm from bottom"',
    )
    parts = piece("one", 30, 30) + piece("two", 30, 30) + step("Glue.", pieces="one two panel")
    ids = []
    for side in ("", ", inside = true"):
        build = resolve_text(piece("panel", 100, 100, f"landings = [{one}, {{ {two}{side} }}]\n") + parts)
        ids.append({problem.check for problem in build.cautions})
    assert ["landings-cross" in found for found in ids] == [True, False]


def rejected(resolve_text: Resolve, text: str) -> str:
    with pytest.raises(SpecRejected) as caught:
        resolve_text(text)
    return "\n".join(f"{problem.what} -> {problem.mend}" for problem in caught.value.problems)


PATCHED = piece(
    "panel",
    100,
    100,
    'landings = [{ piece = "patch", at = "20 mm from left, middle", inside = true }]\n'
    + hole("41 mm from left, middle"),
)


def test_what_is_another_shape_turned_over_lies_inside_as_it_is_seen_there(resolve_text: Resolve) -> None:
    """A patch of 30 mm from 20 to 50 mm of its panel: a hole 9 mm from its left comes to lie on the one 41 mm from the
    panel's left, not on 29."""
    patch = piece("patch", 30, 30, hole("9 mm from left, middle"))
    build = resolve_text(PATCHED + patch + rivet() + step("Rivet.", pieces="patch panel", hardware="rivet"))
    assert {problem.check for problem in build.cautions}.isdisjoint({"hole-without-mate", "hole-beside-landing"})
    assert [fit.stack.usual_mm for fit in build.assembly.fastened] == [4.0]
    placed = [build.space.part(Copy(name)) for name in ("panel", "patch")]
    spots = [one.surface.point(one.item.holes[0].at) for one in placed if one is not None]
    assert spots[0] == pytest.approx(spots[1], abs=0.01)
    panel = PATCHED.replace(hole("41 mm from left, middle"), hole("29 mm from left, middle"))
    build = resolve_text(panel + patch + rivet() + step("Rivet.", pieces="patch panel", hardware="rivet"))
    assert not {problem.check for problem in build.cautions}.isdisjoint({"hole-without-mate", "hole-beside-landing"})


ROUNDED = (
    piece(
        "back",
        100,
        140,
        'round = { bottom-left = "40 mm" }\nlandings = [{ piece = "lining", at = "centre, middle", inside = true }]\n',
    )
    + '[pieces.lining]\nlike = "back"\nmarks = false\n'
    + '[pieces.front]\nlike = "back"\nmirror = true\nmarks = false\n'
    + seam("round", "back: left bottom right", "front: right bottom left")
    + step("Glue the lining in.", pieces="lining back", tools="contact cement")
    + step("Sew round.", seams="round")
)


def test_an_uneven_lining_is_cut_turned_over_to_lie_inside(resolve_text: Resolve) -> None:
    """Its round corner is then behind that of the panel; cut as the panel is it stands out over that, by the corner of a
    square beyond a round one of 40 mm: 40 * (2 ** 0.5 - 1) = 16.6 mm."""
    cut = ROUNDED.replace('like = "back"\nmarks', 'like = "back"\nmirror = true\nmarks', 1)
    assert [one for one in resolve_text(cut).cautions if one.check == "landing-over-edge"] == []
    (told,) = [one for one in resolve_text(ROUNDED).cautions if one.check == "landing-over-edge"]
    assert "16.6 mm" in told.what
    assert told.mend.startswith("write mirror = true in [pieces.lining]")


def test_what_is_another_shape_turned_over_does_not_lie_inside_where_it_bends(resolve_text: Resolve) -> None:
    """An open fold 6 mm off the middle: which side of it lies on the panel is not known."""
    patch = piece(
        "patch", 30, 30, 'folds = [{ at = "9 mm from left", open = true }]\n' + hole("9 mm from left, middle")
    )
    text = PATCHED + patch + rivet() + step("Rivet.", pieces="patch panel", hardware="rivet")
    assert '"patch" lies inside turned over, and is another shape then -> make it alike on both sides' in rejected(
        resolve_text, text
    )


def test_a_strap_does_not_lie_inside(resolve_text: Resolve) -> None:
    text = (
        piece("panel", 100, 100, 'landings = [{ strap = "tie", at = "centre, 80 mm from bottom", inside = true }]\n')
        + '[straps.tie]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\n'
        + step("Sew.", pieces="panel", straps="tie")
    )
    assert "the end of a strap lies on the side that shows" in rejected(resolve_text, text)


def test_dividing_lines_of_what_lies_inside_are_turned_over_with_it(resolve_text: Resolve) -> None:
    """A line 20 mm from the left of a pocket of 100 mm that lies grain up on the flesh side, from 30 to 130 mm of the
    back: 20 mm short of the 130."""
    inside = 'landings = [{ piece = "row", at = "30 mm from left, 0 mm from bottom", inside = true }]\n'
    text = (
        piece("back", 200, 160, inside)
        + piece("row", 100, 60, 'dividers = [{ at = "20 mm from left", stitch = "main", on = "back" }]\n')
        + seam("round", "row: left bottom right", "back")
        + step("Sew the row on.", seams="round")
    )
    build = resolve_text(text)
    back, row = ({one.name: one for one in build.pieces}[name] for name in ("back", "row"))
    lines = [next(one for one in own.marks.stitch_lines if one.seam == "row dividers") for own in (back, row)]
    assert [line.path.segments[0].start.x for line in lines] == pytest.approx([110, 20])
    assert len([one for one in back.marks.stitch_lines if one.seam == "round"]) == 1
    placed = [build.space.part(Copy(name)) for name in ("back", "row")]
    ends = [
        one.surface.point(line.path.segments[0].start)
        for one, line in zip(placed, lines, strict=True)
        if one is not None
    ]
    assert ends[0] == pytest.approx(ends[1], abs=0.01), "one row through both"


@pytest.mark.parametrize(
    ("order", "side"), [(("cover: right", "strip: left"), -1), (("strip: left", "cover: right"), 1)]
)
def test_of_a_lapped_seam_the_first_partner_lies_over_the_other(
    resolve_text: Resolve, order: tuple[str, str], side: int
) -> None:
    """A strip on the edge of a cover, 8 mm of it under that or over it, and it comes on from there."""
    text = piece("cover", 200, 160) + piece("strip", 60, 160) + seam("lap", *order, more='lap = "8 mm"\n')
    build = resolve_text(text + step("Sew the strip on.", seams="lap"))
    apart = TakenApart(build)
    cover, strip = ({body.copy: body for body in apart.bodies}[Copy(name)].placed for name in ("cover", "strip"))
    layers = sum((a - b) * c for a, b, c in zip(strip.lifts[0], cover.lifts[0], cover.out(0), strict=True))
    assert layers == pytest.approx(side), "by one layer"
    (moved,) = apart.heaps(0)[1][0].moved
    assert abs(sum(a * b for a, b in zip(moved.way, cover.out(0), strict=True))) == pytest.approx(1)


SEVERAL = (
    piece("front", 100, 160)
    + '[pieces.back]\nlike = "front"\n'
    + piece("welt", 10, 160, "cut = 2\n")
    + seam("side", "front: left", "welt 1: left", "welt 2: left", "back: right")
    + seam("foot", "front: bottom", "back: bottom")
    + step("Sew all together.", seams="side foot")
)


def test_several_welts_lie_on_each_other_between_their_panels(resolve_text: Resolve) -> None:
    """Named between front and back, they are two layers there, and none of them lies outside; a picture of all that comes
    together at once would lift them past each other."""
    apart = TakenApart(resolve_text(SEVERAL))
    layers = {body.copy: body.placed.lifts[0] for body in apart.bodies}
    front = next(body.placed for body in apart.bodies if body.copy == Copy("front"))
    heights = [
        round(sum(a * b for a, b in zip(layers[copy], front.out(0), strict=True)))
        for copy in (Copy("front"), Copy("welt", 1), Copy("welt", 2), Copy("back"))
    ]
    assert heights == [0, -1, -2, -3]
    with pytest.raises(UnsureError, match="several welts"):
        apart.heaps(0)
