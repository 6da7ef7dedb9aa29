"""Steps out of order by the model: what was told falsely is silent, what is wrong still fires."""

from collections.abc import Callable
from pathlib import Path

import pytest
from short_specs import hole, piece, rivet, seam, step

from docgen.assemble import assemble, find_disorder
from docgen.checks import resolve_build
from docgen.read import read_spec
from docgen.resolve import Build

Resolve = Callable[[str], Build]
ROOT = Path(__file__).parents[2]
SPECS = sorted([*(ROOT / "specs").glob("*.toml"), *(ROOT / "docgen" / "starters").glob("*.toml")])


def told(build: Build) -> list[str]:
    return [what for _, what, _, _ in find_disorder(build, assemble(build))]


BAG = piece("front", 200, 150) + piece("back", 200, 150)
ROUND = seam("round", "front: left bottom right", "back: left bottom right")


def test_a_rivet_set_in_several_steps_is_set_where_its_piece_is_named(resolve_text: Resolve) -> None:
    """The first step that sets rivets makes a strap; the holes of the tab are punched after that, and before its own."""
    strap = '[straps.handle]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n'
    strap += 'ends = [{ shape = "turned", back = "30 mm", takes = "rivet" }, { shape = "square" }]\n'
    bag = BAG + ROUND + strap + piece("tab", 40, 60, hole("centre, middle", more=', through = ["back"]')) + rivet(2)
    steps = step("Rivet the handle.", straps="handle", hardware="rivet") + step("Punch the tab.", pieces="tab")
    steps += step("Rivet the tab.", pieces="tab", hardware="rivet") + step("Sew.", seams="round")
    assert told(resolve_text(bag + steps)) == []


def test_a_hem_that_names_its_piece_twice_sews_nothing_on_to_it(resolve_text: Resolve) -> None:
    """Closed on three sides of four in the first step, hemmed in the second: nothing is sewn on to what is closed."""
    bag = BAG + ROUND + seam("hem", "front: top", "front")
    assert told(resolve_text(bag + step("Sew.", seams="round") + step("Hem.", seams="hem"))) == []


def test_a_lining_that_lies_flat_in_a_later_seam_is_no_host(resolve_text: Resolve) -> None:
    lining = '[pieces.lining]\nlike = "front"\nof = "cloth"\n'
    bag = piece("front", 200, 150) + piece("back", 200, 150) + lining
    bag += seam("in", "lining: left bottom right", "front")
    bag += seam("round", "front: left bottom right", "back: left bottom right", "lining")
    assert told(resolve_text(bag + step("Line.", seams="in") + step("Sew.", seams="round"))) == []


def test_piping_that_lies_flat_in_a_later_seam_is_no_host(resolve_text: Resolve) -> None:
    bag = BAG + piece("pipe", 20, 480, of="thin") + piece("side", 60, 480)
    bag += seam("pipe", "pipe: left", "side: left") + seam(
        "round", "front: left bottom right", "back: left bottom right", "pipe"
    )
    assert told(resolve_text(bag + step("Pipe.", seams="pipe") + step("Sew.", seams="round"))) == []


LATE = {
    "skived": (
        piece("front", 200, 150, 'skives = [{ edges = "left", width = "10 mm", to = "1 mm" }]\n')
        + piece("back", 200, 150)
        + ROUND,
        step("Sew.", seams="round") + step("Skive.", skives="front"),
        'step 2 skives "front", which step 1 sews already',
    ),
    "punched": (
        BAG.replace("[pieces.back]", hole("centre, middle") + "[pieces.back]") + rivet() + ROUND,
        step("Sew.", seams="round") + step("Punch.", pieces="front") + step("Set.", hardware="rivet"),
        'step 2 punches "front", which step 1 closes in already',
    ),
    "set": (
        BAG.replace("[pieces.back]", hole("centre, middle") + "[pieces.back]") + rivet() + ROUND,
        step("Set.", hardware="rivet") + step("Punch.", pieces="front") + step("Sew.", seams="round"),
        'step 2 punches "front", and step 1 sets "rivet" in it already',
    ),
    "sewn on": (
        BAG + piece("pocket", 80, 60) + ROUND + seam("on", "pocket: left bottom right", "front"),
        step("Sew.", seams="round") + step("Pocket.", seams="on"),
        'step 2 sews "pocket" on to "front", which step 1 closes in already',
    ),
    "cut, another part beside it": (
        BAG + ROUND,
        step("Sew.", seams="round") + step("Cut the front, and glue it on the back.", pieces="back front"),
        'step 2 cuts "front", which step 1 has in hand already',
    ),
    "cut": (
        BAG + ROUND,
        step("Sew.", seams="round") + step("Cut the front.", pieces="front"),
        'step 2 cuts "front", which step 1 has in hand already',
    ),
}


@pytest.mark.parametrize("case", LATE)
def test_what_comes_too_late_is_told(resolve_text: Resolve, case: str) -> None:
    bag, steps, what = LATE[case]
    assert told(resolve_text(bag + steps)) == [what]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_orders_of_all_demos_and_starters_are_silent(path: Path) -> None:
    assert told(resolve_build(read_spec(path))) == []
