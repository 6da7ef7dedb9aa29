"""What the bed of a machine reaches: common practice, no published source. Builds that are sewn as a shop sews them are
silent on every bed, and each thing that a bed cannot get behind is told at its step."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from built import BUILDS
from demos import PATHS
from short_specs import piece, seam, step

from docgen.assemble import Assembled
from docgen.checks import resolve_variants
from docgen.checks.trade import CHECKS
from docgen.problems import Problem
from docgen.read import read_spec
from docgen.tables.sewing import BEDS

Resolve = Callable[[str], Assembled]


def on(bed: str) -> str:
    """Goes on in the table of the stitch: it is sewn on a machine with such a bed."""
    return f'machine = "own"\n[machines.own]\nbed = "{bed}"\n'


def told(build: Assembled) -> list[Problem]:
    return [found for found in build.cautions if found.check in ("bed-cannot-reach", "steps-out-of-order")]


KNOWN = {**PATHS, **{f"{name}, a build": path for name, path in BUILDS.items()}}
RINGS = {"bucket": ["body"], "duffel": ["tube"], "hipbag": ["wall"]}  # what closes to a wide ring has its joint inside


@pytest.mark.parametrize("bed", BEDS)
@pytest.mark.parametrize("name", KNOWN)
def test_demos_starters_and_builds_are_sewn_on_any_bed(
    name: str, bed: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for drawing in KNOWN[name].parent.glob("*.svg"):
        (tmp_path / drawing.name).write_bytes(drawing.read_bytes())
    text = KNOWN[name].read_text(encoding="utf-8")
    text = re.sub(r"(?m)^machine *=.*\n|^by +=.*\n", "", text)
    text = re.sub(r"(?m)^(\[stitches\..*)$", r'\1\nby = "machine"\nmachine = "own"', text)
    monkeypatch.chdir(tmp_path)
    Path("a.toml").write_text(f'{text}\n[machines.own]\nbed = "{bed}"\n', encoding="utf-8")
    wanted = RINGS.get(name.partition(",")[0], []) if bed == "flat" else []
    assert [found.at for found in told(resolve_variants(read_spec("a.toml"))[0])] == wanted


def shut(at: str, height: float) -> str:
    """A pocket sewn on after its front and back are."""
    host = piece("front", 200, 300, f'landings = [{{ piece = "pocket", at = "centre, {at} from top" }}]\n')
    return host + (
        '[pieces.back]\nlike = "front"\nmarks = false\n'
        + piece("pocket", 100, height, of="thin")
        + seam("pocket", "pocket: left bottom right", "front")
        + seam("round", "front: left bottom right", "back: left bottom right")
        + step("Sew round.", seams="round")
        + step("Sew the pocket on.", seams="pocket")
    )


PATCH = piece("patch", 60, 40) + seam("patch", "patch: all", "%s")
TRAY = (
    piece("base", 200, 120)
    + piece("long", 200, 60, "cut = 2\n")
    + piece("short", 120, 60, "cut = 2\n")
    + PATCH
    + seam("front", "long: bottom", "base: bottom")
    + seam("back", "long: bottom", "base: top")
    + seam("left", "short: bottom", "base: left")
    + seam("right", "short: bottom", "base: right")
    + seam("corner", "long: left", "short: right")
    + seam("other", "long: right", "short: left")
)
CORNERS = step("Sew the corners.", seams="corner other")
WALLS = step("Sew the walls on.", seams="front back left right")
ON = step("Sew the patch on.", seams="patch")
TUBE = (
    piece("one", 200, 300)
    + '[pieces.two]\nlike = "one"\n'
    + PATCH % "one"
    + seam("left", "one: left", "two: right")
    + seam("right", "one: right", "two: left")
    + step("Sew the one side.", seams="left")
    + step("Sew the other side.", seams="right")
    + ON
)
GUSSET = (
    piece("front", 200, 150, 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n')
    + '[pieces.back]\nlike = "front"\n[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["60 mm", "solve"]\n'
    + PATCH % "gusset"
    + seam("to-front", "front: left bottom right", "gusset: left")
    + seam("to-back", "back: left bottom right", "gusset: right")
    + step("Sew the front in.", seams="to-front")
    + step("Sew the back in.", seams="to-back")
    + ON
)
COLLAR = (
    '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["%s mm", "400 mm"]\n'
    + '[joins.ring]\nof = ["wall"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
    + step("Close it.", joins="ring")
)
BOXED = WALLS + CORNERS
REACH = {
    "a pocket 220 mm down a closed pouch": (shut("120 mm", 100), "step 2", "before step 1", ("flat",)),
    "one that ends 45 mm from the open top": (shut("5 mm", 40), "", "", ()),
    "one that ends 55 mm from it": (shut("5 mm", 50), "step 2", "before step 1", ("flat",)),
    "a patch on a tube of two": (TUBE, "step 3", "before step 2", ("flat",)),
    "a patch on the wall of a bag": (GUSSET, "step 3", "before step 2", ("flat",)),
    "the floor of a box": (TRAY % "base" + BOXED + ON, "step 3", "before step 2", ("flat", "cylinder")),
    "the wall of a box": (TRAY % "long" + BOXED + ON, "step 3", "before step 2", ("flat",)),
    "a floor whose walls still fold down": (TRAY % "base" + CORNERS.join((WALLS + ON, "")), "", "", ()),
    "a wide ring": (COLLAR % 60, "step 1", "or sew that joint by hand", ("flat",)),
    "a narrow ring": (COLLAR % 40, "", "", ()),
}


@pytest.mark.parametrize("bed", ["", *BEDS])
@pytest.mark.parametrize("name", REACH)
def test_what_a_bed_does_not_reach_is_told_at_its_step(name: str, bed: str, resolve_text: Resolve) -> None:
    text, at, mend, beds = REACH[name]
    found = [one for one in resolve_text((on(bed) if bed else "") + text).cautions if one.check == "bed-cannot-reach"]
    assert len(found) == (bed in beds)
    for problem in found:
        assert problem.what.startswith(f"{at} ")
        assert f'the {bed} bed of "own" does not get behind it' in problem.what
        assert mend in problem.mend
        assert problem.place.line > 0


def test_the_order_of_late_landings_is_told_by_the_bed_where_it_is_said(resolve_text: Resolve) -> None:
    late = shut("120 mm", 100)
    checks = {bed: [one.check for one in told(resolve_text((on(bed) if bed else "") + late))] for bed in ("", *BEDS)}
    assert checks == {"": ["steps-out-of-order"], "flat": ["bed-cannot-reach"], "cylinder": [], "post": []}


def test_what_is_not_told_of_edges_sewn_to_edges_is_explained(resolve_text: Resolve) -> None:
    """A gusset between two panels closes with its corners outside: silent on a flat bed, and the rule says why."""
    closed = GUSSET.replace(ON, "").replace(PATCH % "gusset", "")
    assert told(resolve_text(on("flat") + closed)) == []
    rule = next(one for one in CHECKS if one.id == "bed-cannot-reach")
    assert "Round the corners of a stiff one an arm is handier" in rule.says
