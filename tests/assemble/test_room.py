"""The room inside, worked out from the pieces: plane geometry, each figure by hand beside it."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest
from demos import demo_build
from short_specs import piece, seam

from docgen.assemble import Assembled, Room, goes_in_room, room_words
from docgen.calls.outside import check_builds
from docgen.checks import resolve_variants
from docgen.read import read_spec

Resolve = Callable[[str], Assembled]
ROUND = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'
BOX = (
    piece("front", 220, 160, ROUND)
    + '[pieces.back]\nlike = "front"\n[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + seam("to-front", "front: left bottom right", "gusset: left")
    + seam("to-back", "back: left bottom right", "gusset: right")
)
LINED = (
    '[pieces.lining]\nlike = "front"\nof = "cloth"\ncut = 2\n'
    '[pieces.pad]\nlike = "front"\nof = "pad"\ncut = 2\ninset = "8 mm"\n'
    '[pieces.gusset-lining]\nof = "cloth"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + seam("lining", "gusset: left", "gusset-lining: left")
)
FACED = BOX.replace('"front: left bottom right", ', '"front: left bottom right", "facing: left bottom right", ')
FACED = FACED.replace('"back: left bottom right", ', '"back: left bottom right", "behind: left bottom right", ')
FACINGS = FACED + (
    '[pieces.facing]\nlike = "front"\nof = "thin"\nmarks = false\n'
    '[pieces.behind]\nlike = "front"\nof = "thin"\nmarks = false\n'
)
STRIPS = (
    piece("front", 220, 160, ROUND)
    + '[pieces.back]\nlike = "front"\n[pieces.side]\nof = "body"\ncut = 2\nshape = "strip"\nsize = ["50 mm", "150 mm"]\n'
    + '[pieces.base]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + '[joins.gusset]\nof = ["side", "base", "side"]\noverlap = "12 mm"\nstitch = "main"\n'
    + seam("to-front", "front: left bottom right", "gusset: left", "cloth: left")
    + seam("to-back", "back: left bottom right", "gusset: right", "cloth: right")
    + '[pieces.cloth]\nof = "cloth"\nlines = ["gusset"]\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
)
PADDED = '[pieces.pad]\nof = "pad"\nshape = "strip"\nsize = ["30 mm", "100 mm"]\ncut = COUNT\nlines = ["STRIP"]\n'
POUCH = (
    piece("front", 160, 100, ROUND)
    + piece("back", 160, 100, ROUND)
    + seam("round", "front: left bottom right", "back: left bottom right")
)
LANDED = (
    piece("back", 160, 180, 'landings = [{ piece = "front", at = "0 from left, 0 from bottom" }]\n')
    + piece("front", 160, 100)
    + seam("round", "front: left bottom right", "back")
)
FOLDED = 'folds = [{ at = "105 mm from bottom", open = true, angle = 180 }]\n[pieces.front]'
BUCKET = (
    '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "160 mm"\n'
    '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["220 mm", "solve"]\n'
    '[joins.body]\nof = ["wall"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
    + seam("foot", "base: all", "body: left")
)
DUFFEL = BUCKET + '[pieces.end]\nlike = "base"\n' + seam("other", "end: all", "body: right")
WEDGE = (
    'shape = "outline"\npoints = [{ at = ["0", "100 mm"], edge = "left" }, { at = ["70 mm", "0"], edge = "foot" }, '
    '{ at = ["91 mm", "0"], edge = "right" }, { at = ["161 mm", "100 mm"], edge = "top" }]\n'
)
ODD = f'[pieces.one]\nof = "body"\n{WEDGE}[pieces.two]\nlike = "one"\n' + seam(
    "round", "one: left foot right", "two: left foot right"
)
COVER = piece("cover", 330, 180) + seam("cover", "cover: right", "back: left")
# Stitches lie 4 mm in. Leather is 2 mm thick, the thin one 1 mm, and bends at the stitches, cloth 0.5 mm, foam 3 mm.
ROOMS = {
    "a bag on a gusset": (BOX, "box", (220 - 8, 160 - 4, 50 - 8)),
    "lined and padded": (BOX + LINED, "box", (220 - 8 - 2 * 0.5, 160 - 4 - 0.5, 50 - 8 - 2 * (0.5 + 3))),
    "a facing sewn in along either panel": (FACINGS, "box", (220 - 8, 160 - 4, 50 - 8 - 2 * 1)),
    "one of them written to line its panel": (
        FACINGS + 'lines = ["back"]\n',
        "box",
        (220 - 8, 160 - 4, 50 - 8 - 2 * 1),
    ),
    "lined strips, foam in the sides": (
        STRIPS + PADDED.replace("COUNT", "2").replace("STRIP", "side"),
        "box",
        (220 - 8 - 2 * 3.5, 160 - 4 - 0.5, 50 - 8),
    ),
    "lined strips, foam in the base": (
        STRIPS + PADDED.replace("COUNT", "1").replace("STRIP", "base"),
        "box",
        (220 - 8 - 2 * 0.5, 160 - 4 - 3.5, 50 - 8),
    ),
    "a pouch": (POUCH, "pouch", (160 - 8, 100 - 4, 0)),
    "a panel that lands on one as wide": (LANDED, "pouch", (160 - 8, 100 - 4, 0)),
    "up to the fold of its flap": (LANDED.replace("[pieces.front]", FOLDED), "pouch", (160 - 8, 105 - 4, 0)),
    "a bucket": (BUCKET, "round", (160 - 8, 220 - 4, 160 - 8)),
    "a bucket by the edge of its base": (
        BUCKET.replace("base: all", "base: edge"),
        "round",
        (160 - 8, 220 - 4, 160 - 8),
    ),
    "a duffel with two round ends": (DUFFEL, "round", (160 - 8, 220 - 8, 160 - 8)),
}

PAD = (
    piece("front", 160, 100, 'round = "20 mm"\n')
    + '[pieces.back]\nlike = "front"\n'
    + seam("pad", "front: left bottom right top", "back: left bottom right top")
)


@pytest.mark.parametrize("name", ROOMS)
def test_the_room_is_that_between_the_stitches(name: str, resolve_text: Resolve) -> None:
    text, kind, size_mm = ROOMS[name]
    room = resolve_text(text).assembly.room
    assert room is not None
    assert room.kind == kind
    assert (room.width_mm, room.height_mm, room.depth_mm) == pytest.approx(size_mm, abs=1e-6)


def test_what_does_not_follow_is_not_guessed(resolve_text: Resolve) -> None:
    """A wedge has no one width; a pad is sewn up but for one rounded corner; a panel alone, a strap and a box without a
    wall of one piece have no room that follows."""
    assert resolve_text(ODD).assembly.room is None
    assert resolve_text(piece("front", 200, 100)).assembly.room is None
    assert resolve_text(LANDED + COVER).assembly.room is None
    assert demo_build("cable-roll").assembly.room is None
    assert resolve_text(PAD).assembly.room is None
    assert demo_build("strap").assembly.room is None


def test_the_demos(resolve_text: Resolve) -> None:
    """Field bag, in inches: 12 - 2 x 5/32 wide, 9 1/4 - 5/32 high, 3 1/2 - 2 x 5/32 deep, less lining 0.6 and foam 3 mm.
    The sleeve is 162 mm wide, and its back goes on to the fold of its flap at 214 mm."""
    bag, sleeve = demo_build("field-bag").assembly.room, demo_build("notebook-sleeve").assembly.room
    assert bag is not None
    assert sleeve is not None
    wanted = ((12 - 10 / 32) * 25.4 - 1.2, (9.25 - 5 / 32) * 25.4 - 0.6, (3.5 - 10 / 32) * 25.4 - 2 * 3.6)
    assert (bag.width_mm, bag.height_mm, bag.depth_mm) == pytest.approx(wanted)
    assert (sleeve.kind, sleeve.width_mm, sleeve.height_mm) == ("pouch", pytest.approx(154), pytest.approx(210))


def test_a_check_tells_the_room_where_the_spec_says_none(resolve_text: Resolve) -> None:
    build = resolve_text(BOX)
    assert build.assembly.room is not None
    told = dict(check_builds((build, demo_build("field-bag"))).worked_out)
    assert told["room inside, by estimate"] == room_words(build.assembly.room, build.show)
    assert demo_build("field-bag").inside is not None
    assert "room inside, by estimate" not in dict(check_builds((demo_build("field-bag"),)).worked_out)


SLEEVES = (
    piece("cover", 330, 180)
    + piece("flap", 80, 180, "cut = 2\n")
    + seam("left", "flap 1: bottom left top", "cover: bottom left top from left 80 mm to left 80 mm")
    + seam("right", "flap 2: bottom right top", "cover: bottom right top from right 80 mm to right 80 mm")
)
ROW = 'dividers = [{ at = "centre", on = "back", stitch = "main" }]\n'


@pytest.mark.parametrize(
    ("text", "is_told"),
    [
        (POUCH, True),
        (LANDED, True),
        (LANDED.replace("[pieces.front]\n", f"[pieces.front]\n{ROW}"), False),  # pockets of a roll
        (SLEEVES, False),
        (SLEEVES[: SLEEVES.index("[seams.right]")], True),
    ],
)
def test_of_pockets_of_a_roll_and_sleeves_of_a_cover_no_room_is_told(
    resolve_text: Resolve, text: str, is_told: bool
) -> None:
    build = resolve_text(text)
    assert build.assembly.room is not None  # what goes in is held against it
    assert ("room inside, by estimate" in dict(check_builds((build,)).worked_out)) == is_told


def room(kind: str, *size_mm: float) -> Room:
    return Room(kind=kind, width_mm=size_mm[0], height_mm=size_mm[1], depth_mm=size_mm[2], parts=())  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("held", "inside", "fits"),
    [
        ((40, 150, 200), room("box", 212, 156, 42), True),
        ((43, 150, 200), room("box", 212, 156, 42), False),
        ((140, 90, 12), room("pouch", 152, 96, 0), True),  # 140 + 12: half the way round is 152
        ((140, 90, 13), room("pouch", 152, 96, 0), False),
        ((90, 140, 12), room("pouch", 152, 96, 0), True),  # turned
        ((90, 120, 200), room("round", 150, 216, 150), True),  # the diagonal of 90 and 120 is 150
        ((91, 120, 200), room("round", 150, 216, 150), False),
        ((90, 120, 217), room("round", 150, 216, 150), False),
        ((149, 149, 200), room("round", 150, 216, 150), True),  # round itself
    ],
)
def test_what_goes_in(held: tuple[float, float, float], inside: Room, fits: bool) -> None:
    assert goes_in_room(held, inside) == fits


INSIDE = '[inside]\nwidth = "{} mm"\nheight = "{} mm"\ndepth = "{} mm"\n'
HELD = '[[holds]]\nwhat = "book"\nsize = ["{} mm", "{} mm", "{} mm"]\n'


def checks(build: Assembled) -> list[str]:
    return [one.check for one in build.cautions if one.check in ("contents-do-not-fit", "inside-contradicts")]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (BOX + INSIDE.format(212, 156, 42), []),
        (BOX + INSIDE.format(215, 159, 45), []),
        (BOX + INSIDE.format(215.5, 156, 42), ["inside-contradicts"]),
        (BOX + INSIDE.format(212, 156, 31), ["inside-contradicts"]),  # 0.74 of the depth
        (BOX + INSIDE.format(170, 130, 32), []),
        (BOX + HELD.format(212, 156, 42), []),
        (BOX + HELD.format(213, 156, 42), ["contents-do-not-fit"]),
        (POUCH + INSIDE.format(152, 96, 10), []),
        (POUCH + INSIDE.format(160, 96, 10), ["inside-contradicts"]),
        (POUCH + INSIDE.format(152, 96, 20) + HELD.format(140, 90, 15), []),  # 155 of 152 and the 3 that it may be out
        (POUCH + INSIDE.format(152, 96, 20) + HELD.format(140, 90, 16), ["contents-do-not-fit"]),
        (POUCH + HELD.format(140, 90, 13), ["contents-do-not-fit"]),
        (BUCKET + HELD.format(100, 114, 216), []),  # a diagonal of 151.6
        (BUCKET + HELD.format(100, 115, 216), ["contents-do-not-fit"]),  # 152.4
    ],
)
def test_what_is_written_is_held_against_it(text: str, found: list[str], resolve_text: Resolve) -> None:
    assert checks(resolve_text(text)) == found
    assert math.hypot(100, 114) < 152 < math.hypot(100, 115)


ACCEPTED = '[[accept]]\ncheck = "thickness-unusual"\nat = "pad"\nreason = "measured"\n'


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (
            BOX + INSIDE.format(212, 156, 42) + HELD.format(213, 156, 42),
            ["contents-do-not-fit"],
        ),  # a room that is written
        (BOX + LINED + HELD.format(213, 156, 42), []),  # one that hangs on the foam
        (BOX + LINED + ACCEPTED + HELD.format(213, 156, 42), ["contents-do-not-fit"]),
        (BOX + HELD.format(213, 156, 42), ["contents-do-not-fit"]),  # no part is of the foam
        (BOX + HELD.format(212, 156, 42), []),
    ],
)
def test_an_odd_thickness_hides_no_more_than_hangs_on_it(
    text: str, found: list[str], head: str, resolve_text: Resolve
) -> None:
    """Foam of 16 mm, where it is sold thinner."""
    resolve_text(BOX)
    odd = head.replace('"3 mm"', '"16 mm"')
    assert odd != head
    Path("a.toml").write_text(odd + text, encoding="utf-8")
    (build,) = resolve_variants(read_spec("a.toml"))
    assert checks(build) == found
    assert any(one.check == "thickness-unusual" for one in (*build.cautions, *(it.problem for it in build.accepted)))


def test_each_variant_has_its_own_room(resolve_text: Resolve) -> None:
    """The book goes into the larger one only: 212 and 182 mm between the stitches."""
    resolve_text(BOX)
    head = Path("a.toml").read_text(encoding="utf-8").removesuffix(BOX)
    text = '[measures]\nw = "220 mm"\n' + BOX.replace('"220 mm"', '"w"') + HELD.format(200, 100, 20)
    text += '[variants.small]\nmeasures = { w = "190 mm" }\n[variants.large]\nmeasures = { w = "220 mm" }\n'
    Path("a.toml").write_text(head + text, encoding="utf-8")
    small, large = resolve_variants(read_spec("a.toml"))
    assert (checks(small), checks(large)) == (["contents-do-not-fit"], [])


def test_a_cover_takes_what_is_as_thick_as_its_spine(put_together) -> None:
    """Sleeves of 95 x 200 mm, sewn 4 in by three sides: 192 mm high, 149 to the fold, and 24 between both folds."""
    folds = ", ".join(f'{{ at = "12 mm {side} of centre", open = true, angle = 90 }}' for side in ("left", "right"))
    text = piece("cover", 330, 200, f"folds = [{folds}]\n") + piece("one", 95, 200) + piece("other", 95, 200)
    text += seam("left", "cover: top left bottom from right 235 mm to right 235 mm", "one: bottom right top")
    text += seam("right", "cover: bottom right top from left 235 mm to left 235 mm", "other: top left bottom")
    room = put_together(text).room
    assert (room.kind, room.width_mm, room.height_mm, room.depth_mm) == ("box", *map(pytest.approx, (192, 149, 24)))
    assert room.closes, "on what is thinner as well"


def test_no_room_is_told_of_a_pocket_that_hangs_in_something(put_together) -> None:
    text = piece("panel", 300, 300, 'landings = [{ piece = "back", at = "centre, 0 mm from top", inside = true }]\n')
    text += piece("back", 200, 150) + piece("front", 200, 150)
    text += seam("round", "front: left bottom right", "back: right bottom left") + seam("mouth", "back: top", "panel")
    assert put_together(text).room is None
    assert put_together(text.replace(", inside = true", "")).room is not None


def test_no_room_is_told_of_two_panels_sewn_to_each_other_all_round(put_together) -> None:
    text = piece("outside", 200, 95) + piece("lining", 200, 95)
    text += seam("round", "lining: left bottom right", "outside: left bottom right")
    assert put_together(text).room is not None
    assert put_together(text + seam("top", "lining: top", "outside: top")).room is None
    part = seam("top", "lining: top from left 60 mm to right 0 mm", "outside: top from left 60 mm to right 0 mm")
    assert put_together(text + part).room is not None
