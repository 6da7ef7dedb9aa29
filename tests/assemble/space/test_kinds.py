"""Builds of many kinds, each placed at first sight: all parts are, every seam closes, and no check of places speaks."""

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from short_specs import piece, seam
from spec_text import write_out

from docgen.assemble import Assembled
from docgen.checks import resolve_build
from docgen.checks.trade.places import SEEN
from docgen.read import read_spec

Resolve = Callable[[str], Assembled]
HEAD = write_out("""\
<spec bag: Bag, version 1>
<leather body: 2 mm>
<fabric cloth: 0.5 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
""")
ROUND = 'round = { bottom-left = "25 mm", bottom-right = "25 mm" }\n'
BENT = "left bottom right"


def strip(name: str, width: int, more: str = "", of: str = "body") -> str:
    return f'[pieces.{name}]\nof = "{of}"\nshape = "strip"\nsize = ["{width} mm", "solve"]\n{more}'


def ring(name: str, of: str) -> str:
    return f'[joins.{name}]\nof = ["{of}"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'


def like(name: str, model: str = "front", more: str = "marks = false\n") -> str:
    return f'[pieces.{name}]\nlike = "{model}"\n{more}'


def outline(name: str, *corners: str, more: str = "") -> str:
    return f'[pieces.{name}]\nof = "body"\nshape = "outline"\npoints = [{", ".join(corners)}]\n{more}'


def corner(x: int, y: int, edge: str, more: str = "") -> str:
    return f'{{ at = ["{x} mm", "{y} mm"], edge = "{edge}"{more} }}'


def open_folds(*places: str) -> str:
    folds = ", ".join(
        f'{{ at = "{place}", open = true, angle = {angle} }}' for place, angle in (p.split("|") for p in places)
    )
    return f"folds = [{folds}]\n"


ROUND_END = '[pieces.end]\nof = "body"\ncut = 2\nshape = "circle"\ndiameter = "250 mm"\n'
SIDES = (
    piece("side", 60, 160, "cut = 2\n")
    + piece("base", 220, 60)
    + seam("fb", "base: bottom", "front: bottom")
    + seam("bb", "base: top", "back: bottom")
    + seam("s1", "front: left", "side 1: right")
    + seam("s2", "front: right", "side 2: left")
    + seam("s3", "back: right", "side 1: left")
    + seam("s4", "back: left", "side 2: right")
)
MESSENGER = (
    piece("front", 300, 220, 'landings = [{ piece = "pocket", at = "centre, 40 mm from bottom" }]\n' + ROUND)
    + piece("pocket", 220, 140, ROUND)
    + strip("wall", 90)
    + piece("flap", 300, 290, open_folds("40 mm from top|90", "125 mm from top|90"))
    + seam("p", f"pocket: {BENT}", "front")
    + seam("a", f"front: {BENT}", "wall: left")
    + seam("b", f"back: {BENT}", "wall: right")
)
FLAP_LANDS = 'marks = false\nlandings = [{ piece = "flap", at = "centre, 20 mm from top" }]\n'
KINDS = {
    "a duffel with round ends": ROUND_END
    + '[pieces.tube]\nof = "body"\nshape = "strip"\nsize = ["500 mm", "solve"]\n'
    + ring("body", "tube")
    + seam("l", "end 1: all", "body: left")
    + seam("r", "end 2: all", "body: right"),
    "a duffel with square ends": piece("end", 260, 180, 'cut = 2\nround = "30 mm"\n')
    + strip("tube", 500)
    + ring("body", "tube")
    + seam("l", "end 1: all", "body: left")
    + seam("r", "end 2: all", "body: right"),
    "a wall of two halves": piece("front", 240, 180, "cut = 2\n" + ROUND)
    + strip("half", 70, "cut = 2\n")
    + '[joins.wall]\nof = ["half", "half"]\noverlap = "12 mm"\nstitch = "main"\n'
    + seam("a", f"front 1: {BENT}", "wall: left")
    + seam("b", f"front 2: {BENT}", "wall: right"),
    "three panels and two walls": piece("front", 220, 160, ROUND)
    + like("mid")
    + like("back")
    + strip("one", 40)
    + strip("two", 50)
    + seam("a", f"front: {BENT}", "one: left")
    + seam("b", f"mid: {BENT}", "one: right")
    + seam("c", f"mid: {BENT}", "two: left")
    + seam("d", f"back: {BENT}", "two: right"),
    "sides named from inside": piece("front", 220, 160)
    + like("back")
    + SIDES
    + seam("e1", "base: left", "side 1: bottom")
    + seam("e2", "base: right", "side 2: bottom"),
    "sides named from outside": piece("front", 220, 160)
    + like("back")
    + SIDES
    + seam("e1", "base: right", "side 1: bottom")
    + seam("e2", "base: left", "side 2: bottom"),
    "a clutch folded in three": outline(
        "body",
        corner(0, 0, "mouth"),
        corner(230, 0, "r1"),
        corner(230, 130, "r2"),
        corner(230, 260, "r3"),
        corner(230, 340, "tip"),
        corner(0, 340, "l3"),
        corner(0, 260, "l2"),
        corner(0, 130, "l1"),
        more=open_folds("130 mm from bottom|180", "260 mm from bottom|180"),
    )
    + seam("l", "body: l1", "body: l2")
    + seam("r", "body: r1", "body: r2"),
    "a lined pouch, turned": piece("front", 340, 300, "cut = 2\n")
    + piece("lining", 340, 300, "cut = 2\n", of="cloth")
    + seam("r", f"front 1: {BENT}", f"front 2: {BENT}", more="turned = true\n")
    + seam("lr", f"lining 1: {BENT}", f"lining 2: {BENT}")
    + seam("m1", "front 1: top", "lining 1: top")
    + seam("m2", "front 2: top", "lining 2: top"),
    "an arch of two curved sides": outline(
        "side",
        corner(0, 0, "flat"),
        corner(160, 0, "arch", ', curve = ["160 mm", "110 mm", "0", "110 mm"]'),
        more="cut = 2\n",
    )
    + strip("top", 90)
    + piece("floor", 160, 90)
    + seam("a", "side 1: arch", "top: left")
    + seam("b", "side 2: arch", "top: right")
    + seam("c", "side 1: flat", "floor: bottom")
    + seam("d", "side 2: flat", "floor: top"),
    "a wall of three pieces sewn corner to corner": piece("front", 240, 180)
    + like("back")
    + piece("wl", 70, 180)
    + piece("wr", 70, 180)
    + piece("wb", 70, 240)
    + seam("a", "front: left", "wl: left")
    + seam("b", "front: bottom", "wb: left")
    + seam("c", "front: right", "wr: left")
    + seam("d", "back: left", "wr: right")
    + seam("e", "back: bottom", "wb: right")
    + seam("f", "back: right", "wl: right")
    + seam("g", "wl: bottom", "wb: bottom")
    + seam("h", "wr: bottom", "wb: top"),
    "a flap sewn to the top edge": MESSENGER + like("back") + seam("f", "flap: top", "back: top"),
    "a flap sewn flat below the top edge": MESSENGER + like("back", more=FLAP_LANDS) + seam("f", "flap: top", "back"),
    "a pocket with two pleats": piece("front", 300, 220, 'landings = [{ piece = "pocket", at = "centre, middle" }]\n')
    + piece("pocket", 160, 120, ROUND)
    + strip("wall", 48, 'folds = [{ at = "16 mm from left", open = true }, { at = "32 mm from left", open = true }]\n')
    + seam("x", f"pocket: {BENT}", "wall: left")
    + seam("y", "wall: right", "front"),
    "a cover with a spine": piece(
        "cover",
        320,
        220,
        open_folds("150 mm from left|90", "170 mm from left|90")
        + 'landings = [\n{ piece = "one", at = "0 from left, 0 from bottom" },\n'
        + '{ piece = "two", at = "0 from right, 0 from bottom" },\n]\n',
    )
    + piece("one", 60, 220)
    + piece("two", 60, 220)
    + seam("l", "one: top left bottom", "cover")
    + seam("r", "two: top right bottom", "cover"),
    "a wall that is eased in": piece("front", 200, 150, ROUND)
    + like("back")
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "470 mm"]\n'
    + seam("a", f"front: {BENT}", "wall: left", more='ease = "6 mm"\n')
    + seam("b", f"back: {BENT}", "wall: right", more='ease = "6 mm"\n'),
}


@pytest.mark.parametrize("kind", KINDS)
def test_a_build_is_placed_whole_and_closes(resolve_text: Resolve, kind: str) -> None:
    build = resolve_text(KINDS[kind])
    space = build.space
    assert space.unplaced == ()
    assert [gap for gap in space.gaps if gap.over_mm > 0.5] == []
    assert {problem.check for problem in build.cautions} & {*SEEN} == set()
    assert space.doubtful == ()


def test_what_is_joined_to_nothing_that_is_placed_is_told_so(resolve_text: Resolve) -> None:
    text = piece("front", 200, 150) + like("back") + seam("a", f"front: {BENT}", f"back: {BENT}")
    text += piece("lid", 90, 40) + piece("rim", 90, 40) + seam("b", "lid: top", "rim: top")
    space = resolve_text(text).space
    assert {(one.copy.part, one.why) for one in space.unplaced} == {
        ("lid", "nothing joins it to the parts that are placed"),
        ("rim", "nothing joins it to the parts that are placed"),
    }


def test_a_bag_of_fabric_with_a_leather_base_is_placed(resolve_text: Resolve) -> None:
    """Body and sides of fabric are its walls, where leather lies on their outside; its lining stays behind them."""
    text = strip("wall", 300, 'landings = [{ piece = "base", at = "centre, middle" }]\n', of="cloth")
    text += piece("base", 300, 200) + piece("side", 110, 250, 'of = "cloth"\ncut = 2\n').replace('of = "body"\n', "", 1)
    text += strip("inside", 300, 'lines = ["wall"]\n', of="cloth") + like("side-inside", "side", "cut = 2\n")
    text += seam("front", "base: top", "wall") + seam("foot", "base: bottom", "wall")
    for name, edge in (("a", "left"), ("b", "right")):
        text += seam(name, f"side: {BENT}", f"wall: {edge}") + seam(
            f"{name}2", f"side-inside: {BENT}", f"inside: {edge}"
        )
    text += seam("m", "wall: start", "inside: start") + seam("n", "side: top", "side-inside: top")
    space = resolve_text(text).space
    assert space.unplaced == ()
    inner = {one.copy.part: one.is_inner for one in space.parts}
    assert inner == {"wall": False, "base": False, "side": False, "inside": True, "side-inside": True}


BAGS = st.tuples(
    st.integers(120, 400), st.integers(100, 350), st.integers(8, 45), st.integers(30, 140), st.booleans(), st.booleans()
)


@settings(max_examples=25, deadline=None)
@given(BAGS)
def test_random_bags_close(bag: tuple[int, int, int, int, bool, bool]) -> None:
    """Panels with a wall, lined or not, of one strip or of two: the second panel lies as far off as the wall is wide
    between its seams, and every wall stands where the panel's stitch line has turned."""
    width, height, radius, depth, is_lined, is_joined = bag
    text = piece("front", width, height, f'round = {{ bottom-left = "{radius} mm", bottom-right = "{radius} mm" }}\n')
    text += like("back") + strip("wall" if not is_joined else "half", depth, "cut = 2\n" if is_joined else "")
    if is_joined:
        text += '[joins.wall]\nof = ["half", "half"]\noverlap = "12 mm"\nstitch = "main"\n'
    text += seam("a", f"front: {BENT}", "wall: left") + seam("b", f"back: {BENT}", "wall: right")
    if is_lined:
        text += '[pieces.lining]\nlike = "front"\nof = "cloth"\ncut = 2\nmarks = false\n'
        text += seam("m", "front: top", "lining: top") + seam("n", "back: top", "lining: top")
    with TemporaryDirectory() as folder:
        path = Path(folder) / "a.toml"
        path.write_text(HEAD + text, encoding="utf-8")
        space = resolve_build(read_spec(path)).space
    assert space.unplaced == ()
    assert space.widest_mm < 0.5
    front, back = (next(one for one in space.parts if one.copy.part == name) for name in ("front", "back"))
    deep = [abs(back.surface.point(at)[1] - front.surface.point(at)[1]) for at in front.ring]
    assert deep == pytest.approx([depth - 8] * len(deep), abs=1e-6)
