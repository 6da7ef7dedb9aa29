"""Whole builds of kinds that the demos do not have: their figures worked out by hand, layers and thread included."""

import math
from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step

from docgen.assemble import Assembly, Stack, assemble
from docgen.geometry.outline import outline_box
from docgen.resolve import Build

Resolve = Callable[[str], Build]


def range_of(stack: Stack) -> tuple[float, float, float]:
    return stack.thinnest_mm, stack.usual_mm, stack.thickest_mm


def height_mm(build: Build, name: str) -> float:
    return outline_box(next(piece for piece in build.pieces if piece.name == name).outline).height


def posts(made: Assembly) -> list[tuple[str, int, float]]:
    return [(one.part, one.count, round(one.stack.usual_mm, 6)) for one in made.fastened]


BUCKET = (
    '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "160 mm"\n'
    '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["220 mm", "solve"]\nskives = [\n'
    '  { edges = "start", width = "15 mm", to = "1.2 mm" },\n  { edges = "end", width = "15 mm", to = "1.2 mm" },\n]\n'
    '[joins.body]\nof = ["wall"]\noverlap = "12 mm"\nring = true\nstitch = "main"\nrows = 2\n'
    + piece("tab", 25, 80, 'cut = 2\nfolds = [{ at = "middle", around = "ring" }]\n')
    + hole("centre, 12 mm from bottom", more=', through = ["body"]')
    + '[hardware.ring]\nwhat = "D ring"\ncount = 2\ninside = "26 mm"\nbar = "4 mm"\n'
    + rivet(2)
    + seam("foot", "base: all", "body: left")
    + step("Sew the wall to a ring.", joins="body")
    + step("Sew the base in.", seams="foot")
    + step("Rivet the tabs.", pieces="tab", hardware="ring rivet")
)


def test_a_bucket_on_a_round_base(resolve_text: Resolve) -> None:
    build = resolve_text(BUCKET)
    made = assemble(build)
    round_mm = math.pi * (160 - 2 * 4)  # along the stitch line, 4 mm in
    assert build.seams[0].length_mm == pytest.approx(round_mm)
    assert height_mm(build, "wall") == pytest.approx(round_mm + 12)
    assert build.seams[0].stitches == round(round_mm / 4)
    (joint,) = made.runs
    assert (joint.runs, joint.length_mm, joint.stitches) == (1, pytest.approx(220 - 8), 53)
    assert joint.stack.usual_mm == pytest.approx(1.2 + 1.2), "both ends are skived to 1.2 over more than the overlap"
    assert range_of(made.stack("foot")) == pytest.approx((4, 4, 2 + 2.4)), "base 2, wall 2; where its ends lie, 2.4"
    assert posts(made) == [("tab", 2, 6.0)], "the tab twice, and the wall"
    assert made.times("foot") == 1
    assert [len(group) for group in made.groups_before(3)] == [4], "wall, base and both tabs"
    assert made.doubts == ()


WALLET = (
    piece("cover", 200, 90, 'folds = [{ at = "centre", open = true, angle = 180 }]\n', of="thin")
    + '[pieces.inside]\nlike = "cover"\nmarks = false\nlandings = [\n'
    + '  { piece = "upper", at = "0 from left, 0 from bottom" },\n'
    + '  { piece = "lower", at = "0 from left, 0 from bottom" },\n]\n'
    + piece("lower", 95, 60, of="thin")
    + piece("upper", 95, 80, of="thin")
    + seam("upper", "upper: bottom", "inside")
    + seam("lower", "lower: bottom", "inside")
    + seam("round", "inside: left bottom right", "cover: left bottom right")
    + step("Sew the upper pocket down at its foot.", seams="upper")
    + step("Sew the lower one.", seams="lower")
    + step("Sew round.", seams="round")
)


def test_a_folded_wallet_with_stacked_pockets(resolve_text: Resolve) -> None:
    build = resolve_text(WALLET)
    made = assemble(build)
    assert range_of(made.stack("upper")) == pytest.approx((2, 2, 2)), (
        "pocket and inside, 1 mm each; the lower comes later"
    )
    assert range_of(made.stack("lower")) == pytest.approx((3, 3, 3)), "the upper pocket lies beneath it all along"
    # Round: 86 + 192 + 86 mm. 4 mm thick along the lower pocket (its side 56, its foot 91), 3 along 20 mm of the upper
    # one above it, and 2 along the 197 mm that are left.
    assert build.seams[2].length_mm == pytest.approx(364)
    assert range_of(made.stack("round")) == pytest.approx((2, 2, 4))
    assert made.stack("round").landed == ("upper", "lower")
    assert [made.times(name) for name in ("upper", "lower", "round")] == [1, 1, 1]
    assert [one.seam for one in made.sewn] == ["upper", "lower", "round"]
    assert [len(group) for group in made.groups_before(1)] == [2]
    assert [len(group) for group in made.groups_before(3)] == [4]
    assert made.doubts == ()


SHEATH = (
    '[pieces.front]\nof = "body"\nshape = "rectangle"\nsize = ["50 mm", "160 mm"]\n'
    + '[pieces.back]\nlike = "front"\n'
    + piece("welt", 12, 160)
    + piece(
        "loop",
        40,
        120,
        'folds = [{ at = "middle" }]\n' + hole("centre, 15 mm from bottom", more=', through = ["back"]'),
    )
    + rivet(2, what="copper rivet")
    + seam("welt", "welt: right", "back: right")
    + seam("edge", "front: right", "back: right")
    + step("Rivet the loop.", pieces="loop back", hardware="rivet")
    + step("Sew the welt to the back.", seams="welt")
    + step("Sew the front on.", seams="edge")
)


def test_a_sheath_with_a_welt(resolve_text: Resolve) -> None:
    build = resolve_text(SHEATH)
    made = assemble(build)
    assert range_of(made.stack("welt")) == pytest.approx((4, 4, 4))
    assert range_of(made.stack("edge")) == pytest.approx((6, 6, 6)), "the welt lies between front and back"
    assert [layer.part for layer in made.stack("edge").layers] == ["front", "back", "welt"]
    assert [seam.stitches for seam in build.seams] == [40, 40], "160 mm in stitches of 4"
    assert posts(made) == [("loop", 1, 6.0)], "the loop twice, and the back; front and welt are not on yet"
    assert [made.times(name) for name in ("welt", "edge")] == [1, 1]
    assert [len(group) for group in made.groups_before(1)] == [2]
    assert [len(group) for group in made.groups_before(2)] == [3]
    assert [len(group) for group in made.groups_before(3)] == [4]
    late = assemble(
        resolve_text(
            SHEATH[: SHEATH.index("[[steps]]")]
            + step("Sew the welt to the back.", seams="welt")
            + step("Sew the front on.", seams="edge")
            + step("Rivet the loop.", pieces="loop back", hardware="rivet")
        )
    )
    assert posts(late) == [("loop", 1, 6.0)], "a rivet behind the welt goes through no more"


TOTE = (
    piece(
        "panel",
        360,
        320,
        'cut = 2\nhems = [{ edges = "top", turn = "30 mm" }]\n'
        'skives = [{ edges = "top", width = "40 mm", to = "1 mm" }]\n',
    )
    + '[pieces.base]\nof = "body"\nshape = "rectangle"\nsize = ["360 mm", "120 mm"]\n'
    + '[straps.handle]\nof = "body"\ncut = 2\nwidth = "25 mm"\nfinished = "500 mm"\nstitch = "main"\n'
    + seam("hem", "panel: top", "panel")
    + seam("front", "panel: bottom", "base: top")
    + seam("back", "panel: bottom", "base: bottom")
    + seam("side", "panel: left", "panel: right", more='lap = "15 mm"\n')
    + step("Hem both.", seams="hem")
    + step("Sew the handles.", straps="handle")
    + step("Sew the panels to the base.", seams="front back")
    + step("Lap the sides.", seams="side")
)


def test_an_open_tote_on_a_base(resolve_text: Resolve) -> None:
    build = resolve_text(TOTE)
    made = assemble(build)
    lengths = {seam.name: seam.length_mm for seam in build.seams}
    assert lengths["side"] == pytest.approx(320 - 30), "from the fold of the hem down"
    assert lengths["front"] == pytest.approx(360)
    assert {name: made.times(name) for name in lengths} == {"hem": 2, "front": 1, "back": 1, "side": 2}
    copies = [tuple(copy.number for copy in once.sides) for once in made.sewn if once.seam == "side"]
    assert copies == [(1, 2), (2, 1)], "each side joins both panels"
    hem = made.stack("hem")
    assert hem.usual_mm == pytest.approx(1 + 1), "skived to 1 mm where it is turned over, and beneath"
    # Of each panel: 1 + 1 mm for 10 mm below the fold, where the band still is, 2 + 1 for 20 mm, then 2.
    assert range_of(made.stack("side")) == pytest.approx((4, 4, 6))
    assert made.doubts == ()
    (run,) = made.runs
    assert (run.runs, run.length_mm, run.stitches) == (4, pytest.approx(500), 125)
    assert run.stack.usual_mm == pytest.approx(2)
    sewn_mm = sum(lengths[name] * made.times(name) for name in lengths)
    assert sewn_mm == pytest.approx(2 * 360 + 2 * 360 + 2 * 290)


CROSSBODY = (
    piece("front", 220, 160, 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n', of="thin")
    + '[pieces.back]\nlike = "front"\n'
    + '[pieces.lining]\nlike = "front"\nof = "cloth"\ncut = 2\n'
    + '[pieces.pipe]\nof = "thin"\ncut = 2\nshape = "strip"\nsize = ["16 mm", "solve"]\nfolds = [{ at = "centre" }]\n'
    + '[pieces.gusset]\nof = "thin"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + seam("pipe-front", "front: left bottom right", "pipe: left")
    + seam("pipe-back", "back: left bottom right", "pipe: left")
    + seam("mouth-front", "front: top", "lining: top")
    + seam("mouth-back", "back: top", "lining: top")
    + seam("round-front", "front: left bottom right", "gusset: left", more="turned = true\n")
    + seam("round-back", "back: left bottom right", "gusset: right", more="turned = true\n")
    + step("Pipe both panels.", seams="pipe-front pipe-back")
    + step("Line the front.", seams="mouth-front")
    + step("Sew the gusset in, face to face, and turn.", seams="round-front round-back")
    + step("Line the back.", seams="mouth-back")
)


def test_a_crossbody_with_piping_and_a_turned_seam(resolve_text: Resolve) -> None:
    build = resolve_text(CROSSBODY)
    made = assemble(build)
    # Two sides of 140 mm, two quarters of a circle of 20 less 4 mm, and 180 mm of foot.
    run_mm = 2 * 140 + math.pi * 16 + 180
    assert [seam.length_mm for seam in build.seams][:2] == pytest.approx([run_mm, run_mm])
    assert height_mm(build, "pipe") == pytest.approx(run_mm)
    assert height_mm(build, "gusset") == pytest.approx(run_mm)
    assert range_of(made.stack("pipe-front")) == pytest.approx((3, 3, 3)), "panel 1, piping 1 + 1"
    assert range_of(made.stack("mouth-front")) == pytest.approx((1.5, 1.5, 1.5))
    assert range_of(made.stack("round-front")) == pytest.approx((4.5, 4.5, 4.5)), "panel, lining, piping twice, gusset"
    assert range_of(made.stack("round-back")) == pytest.approx((4, 4, 4)), "its lining comes in later"
    assert made.stack("round-front").landed == ("lining", "pipe")
    assert [once.sides[1].number for once in made.sewn[:2]] == [1, 2], "each panel has its own piping"
    assert all(made.times(seam.name) == 1 for seam in build.seams)
    assert [seam.name for seam in build.seams if seam.is_turned] == ["round-front", "round-back"]
    assert made.doubts == ()


HINGED = "".join(
    f'  {{ at = "40 mm from {side}, 10 mm from top", punch = "4 mm", takes = "rivet", through = ["hinge"] }},\n'
    for side in ("left", "right")
)
BOX = (
    piece("base", 200, 120)
    + piece("long", 200, 60, "cut = 2\n")
    + piece("short", 120, 60, "cut = 2\n")
    + piece("lid", 204, 124, f"holes = [\n{HINGED}]\n")
    + '[straps.hinge]\nof = "thin"\ncut = 2\nwidth = "15 mm"\nfinished = "60 mm"\n'
    + seam("front", "long: bottom", "base: bottom")
    + seam("back", "long: bottom", "base: top")
    + seam("left", "short: bottom", "base: left")
    + seam("right", "short: bottom", "base: right")
    + seam("corner", "long: left", "short: right")
    + seam("other", "long: right", "short: left")
    + rivet(2)
)


def test_a_box_with_a_lid(resolve_text: Resolve) -> None:
    build = resolve_text(BOX)
    made = assemble(build)
    assert {seam.name: made.times(seam.name) for seam in build.seams} == {
        "front": 1,
        "back": 1,
        "left": 1,
        "right": 1,
        "corner": 2,
        "other": 2,
    }
    sides = {
        name: [tuple(copy.number for copy in once.sides) for once in made.sewn if once.seam == name]
        for name in ("front", "back", "left", "right", "corner", "other")
    }
    assert (sides["front"], sides["back"]) == ([(1, 1)], [(2, 1)])
    assert (sides["left"], sides["right"]) == ([(1, 1)], [(2, 1)])
    assert {*sides["corner"], *sides["other"]} == {(1, 1), (1, 2), (2, 1), (2, 2)}, (
        "each wall meets both its neighbours"
    )
    assert all(range_of(made.stack(seam.name)) == pytest.approx((4, 4, 4)) for seam in build.seams)
    sewn_mm = sum(seam.length_mm * made.times(seam.name) for seam in build.seams)
    assert sewn_mm == pytest.approx(2 * 200 + 2 * 120 + 4 * 60)
    assert posts(made) == [("lid", 2, 3.0)], "the lid 2, a hinge 1"
    assert made.is_proposed
    assert made.doubts == ()


SATCHEL = (
    piece("front", 300, 220, 'landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]\n')
    + piece("pocket", 160, 120, hole("centre, 20 mm from top", "snap"), of="thin")
    + '[pieces.bellows]\nof = "thin"\nshape = "strip"\nsize = ["30 mm", "solve"]\n'
    + 'folds = [{ at = "centre", open = true, angle = 90 }]\n'
    + '[pieces.back]\nlike = "front"\nmarks = false\nlandings = [{ piece = "flap", at = "centre, 10 mm from top" }]\n'
    + piece("flap", 290, 200, hole("centre, 20 mm from bottom", "snap", ', through = ["pocket"]'))
    + '[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["80 mm", "solve"]\n'
    + '[pieces.lining]\nlike = "front"\nof = "cloth"\ncut = 2\nmarks = false\n'
    + rivet(1, "snap", "snap, line 24")
    + seam("bellows-pocket", "pocket: left bottom right", "bellows: left")
    + seam("bellows-front", "bellows: right", "front")
    + seam("flap", "flap: top", "back")
    + seam("mouth", "front: top", "lining: top")
    + seam("back-mouth", "back: top", "lining: top")
    + seam("front", "front: left bottom right", "gusset: left")
    + seam("back", "back: left bottom right", "gusset: right")
    + step("Bellows to the pocket, then the stud.", seams="bellows-pocket", pieces="pocket", hardware="snap")
    + step("Sew the bellows to the front.", seams="bellows-front")
    + step("Sew the flap on, set the cap.", seams="flap", pieces="flap", hardware="snap")
    + step("Line both.", seams="mouth back-mouth")
    + step("Sew the gusset in.", seams="front back")
)


def test_a_satchel_with_flap_and_bellows_pocket(resolve_text: Resolve) -> None:
    build = resolve_text(SATCHEL)
    made = assemble(build)
    lengths = {seam.name: seam.length_mm for seam in build.seams}
    assert lengths["bellows-pocket"] == pytest.approx(2 * 116 + 152)
    assert lengths["bellows-front"] == pytest.approx(2 * 116 + 152)
    assert lengths["front"] == pytest.approx(2 * 216 + 292)
    assert height_mm(build, "gusset") == pytest.approx(724)
    assert range_of(made.stack("bellows-pocket")) == pytest.approx((2, 2, 2))
    assert range_of(made.stack("bellows-front")) == pytest.approx((3, 3, 3)), "bellows 1, front 2; no pocket there"
    assert range_of(made.stack("flap")) == pytest.approx((4, 4, 4))
    assert range_of(made.stack("mouth")) == pytest.approx((2.5, 2.5, 2.5))
    # The flap lies over the top edge of the back from 10 mm below it, 5 mm in from both sides: the seam along the
    # sides, 4 mm in, passes beside it.
    assert range_of(made.stack("front")) == pytest.approx((4.5, 4.5, 4.5))
    assert range_of(made.stack("back")) == pytest.approx((4.5, 4.5, 4.5))
    assert [(one.part, one.half, one.stack.usual_mm) for one in made.fastened] == [
        ("pocket", "stud", 1),
        ("flap", "cap", 2),
    ]
    assert all(made.times(name) == 1 for name in lengths)
    assert made.doubts == ()
