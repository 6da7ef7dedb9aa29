"""When what is sewn face to face is turned right side out: once, after its last seam, with its zip open."""

from pathlib import Path

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import words_of

from docgen.checks import resolve_build
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

TURN = "Turn it right side out; the edges come to lie inside."
OPEN = "Open the zip first: the work is turned through it."
WALL = (
    piece("front", 200, 150)
    + piece("back", 200, 150)
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + seam("one", "front: left bottom right", "wall: left", more="turned = true\n")
    + seam("two", "back: left bottom right", "wall: right", more="turned = true\n")
)
POUCH = Path(__file__).parents[1] / "bench" / "slips" / "builds" / "zip-case.toml"
DO = 'do      = "Open the zip, sew shell and lining face to face, and turn the case."\nseams   = ["shell", "bag"]'


def lines(plan: Plan) -> list[list[str]]:
    return [words_of(told.acts) for told in plan.steps]


def test_a_bag_is_turned_once_after_its_last_seam(resolve_text: Resolve) -> None:
    text = write_out(WALL) + step("Front.", seams="one") + step("Back.", seams="two")
    assert [told.count(TURN) for told in lines(plan_work(resolve_text(text)))] == [0, 1]


@pytest.mark.parametrize(
    ("do", "opened"),
    [
        ("Sew the lining.", 1),
        ("Burnish the open edges and sew the lining.", 1),
        ("Open the zip and sew the lining.", 0),
    ],
)
def test_a_zip_is_opened_before_the_last_seam(tmp_path: Path, do: str, opened: int) -> None:
    text = POUCH.read_text(encoding="utf-8")
    assert text.count(DO) == 1
    apart = f'do = "Sew the shell."\nseams = ["shell"]\n[[steps]]\ndo = "{do}"\nseams = ["bag"]'
    path = tmp_path / "a.toml"
    path.write_text(text.replace(DO, apart), encoding="utf-8")
    found = lines(plan_work(resolve_build(read_spec(path))))
    assert [told.count(TURN) for told in found][2:] == [0, 1]
    assert [told.count(OPEN) for told in found][2:] == [0, opened]
    assert not opened or found[3].index(OPEN) < found[3].index(TURN)


def test_a_lining_by_itself_is_not_turned(resolve_text: Resolve) -> None:
    own = '<fabric cloth: 0.5 mm>\nwidth = "1 m"\n' + piece(
        "lining", 200, 150, 'cut = 2\nlines = ["front", "back"]\n', of="cloth"
    )
    text = (
        WALL + own + seam("bag", "lining 1: left bottom right", "lining 2: left bottom right", more="turned = true\n")
    )
    text = write_out(text) + step("Lining.", seams="bag") + step("Bag.", seams="one two")
    assert [told.count(TURN) for told in lines(plan_work(resolve_text(text)))] == [0, 1]


def test_a_cord_lies_in_the_fold_of_its_piping(resolve_text: Resolve) -> None:
    strip = '[pieces.piping]\nof = "body"\nshape = "strip"\nsize = ["30 mm", "solve"]\nFOLDS'
    text = piece("front", 200, 150) + piece("back", 200, 150) + strip
    text += '[trimmings.cord]\nwhat = "cord, 3 mm"\nkind = "piping-cord"\nthickness = "3 mm"\n'
    text += seam("one", "front: bottom", "piping: left", "cord", "back: bottom", more="turned = true\n")
    text = write_out(text) + step("Sew.", seams="one")
    folds = ('folds = [{ at = "centre" }]\n', "")
    found = [lines(plan_work(resolve_text(text.replace("FOLDS", more))))[0] for more in folds]
    assert [any("lay it in the fold of piping" in line for line in told) for told in found] == [True, False]
    assert all(any("right round a rim its ends butt" in line for line in told) for told in found)


BASED = (
    piece("front", 200, 150)
    + piece("back", 200, 150)
    + piece("base", 200, 80)
    + seam("sides", "front: left", "back: right", more="turned = true\n")
    + seam("other", "front: right", "back: left", more="turned = true\n")
)
RIM = seam("foot", "front: bottom", "base: top", more="turned = true\n")
RIM += seam("back-foot", "back: bottom", "base: bottom", more="turned = true\n")


def test_a_tube_is_turned_once_its_base_is_sewn_in(resolve_text: Resolve) -> None:
    """The base is sewn in while the tube is inside out (common practice, no published source)."""
    text = write_out(BASED + RIM) + step("Sides.", seams="sides other") + step("Base.", seams="foot back-foot")
    assert [told.count(TURN) for told in lines(plan_work(resolve_text(text)))] == [0, 1]


def test_a_tube_that_one_edge_of_a_further_part_is_sewn_to_is_turned_before(resolve_text: Resolve) -> None:
    text = write_out(BASED + RIM[: RIM.index("[seams.back-foot]")])
    text += step("Sides.", seams="sides other") + step("Front to base.", seams="foot")
    assert next(told.count(TURN) for told in lines(plan_work(resolve_text(text)))) == 1


@pytest.mark.parametrize(
    ("words", "turned"),
    [
        ("Turn the bag out through its mouth.", 0),
        ("Turn it right side out.", 0),
        ("Turn the edge out by a hand.", 1),
        ("Turn the top over.", 1),
    ],
)
def test_words_of_a_later_step_turn_what_is_sewn_by_then(resolve_text: Resolve, words: str, turned: int) -> None:
    """What is trimmed once it is sewn is trimmed before it is turned: the words say when."""
    text = write_out(WALL) + step("Sew.", seams="one two") + step("Trim.") + f'pieces = ["front"]\nlast = ["{words}"]\n'
    assert [told.count(TURN) for told in lines(plan_work(resolve_text(text)))] == [turned, 0]


ZIPPED = (
    piece("front", 200, 150)
    + piece("back", 200, 150)
    + '<zip: coil zip, 32 mm, 0.7 mm>\nstops = "15 mm"\n'
    + seam("zip-front", "front: top", "zip: left", more="turned = true\n")
    + seam("zip-back", "back: top", "zip: right", more="turned = true\n")
    + seam("round", "front: left bottom right", "back: left bottom right", more="turned = true\n")
)


@pytest.mark.parametrize(
    ("words", "turned"), [("", 1), (" Turn both away from the zip.", 0), (" Turn the work round.", 1)]
)
def test_words_that_turn_leather_back_off_its_zip_are_enough(resolve_text: Resolve, words: str, turned: int) -> None:
    text = write_out(ZIPPED) + step(f"Sew the zip.{words}", seams="zip-front zip-back") + step("Round.", seams="round")
    assert [told.count(TURN) for told in lines(plan_work(resolve_text(text)))] == [turned, 1]
