"""A zip in a window is sewn before the bag of its pocket is laid behind it, which is glued by its rim alone; and such a zip
opens no way through which work is turned. By hand: that order is common practice, no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import assemble, find_disorder
from docgen.plan import plan_work

ZIP = "<zip: coil zip, 30 mm, 0.6 mm>\n"
LAID = 'laid = [{ goods = "zip", at = "60 mm from top", stitch = "main", window = "10 mm", clear = "30 mm" }]\n'
OPEN = "Open the zip first: the work is turned through it."


def bag(from_top: str = "40 mm", more: str = "inside = true") -> str:
    """A bag 80 mm high behind a zip whose window lies from 55 to 65 mm, and its rows from 52 to 68 mm from the top."""
    return f'landings = [{{ piece = "bag", at = "centre, {from_top} from top", {more} }}]\n'


def front(landing: str) -> str:
    return ZIP + piece("front", 200, 150, LAID + landing) + piece("bag", 170, 80)


def layers_of_row(resolve_text: Resolve, text: str) -> list[list[str]]:
    runs = resolve_text(text).assembly.runs
    return [[layer.part for layer in run.stack.layers] for run in runs if run.kind == "dividers"]


ONE = step("Sew the zip, and lay the bag behind it.", pieces="front bag", trimmings="zip", tools="glue")
BAG_FIRST = 'order = ["bag", "zip"]\n'


def test_the_bag_is_laid_behind_a_zip_that_is_sewn(resolve_text: Resolve) -> None:
    text = front(bag()) + ONE
    told = lines(plan_work(resolve_text(text)), 1)
    sewn = next(k for k, line in enumerate(told) if "Sew front, coil zip" in line)
    (glued,) = (k for k, line in enumerate(told) if "along its rim" in line)
    laid = next(k for k, line in enumerate(told) if line.startswith("Lay bag on"))
    assert sewn < glued < laid
    assert not any("all over" in line for line in told)
    assert layers_of_row(resolve_text, text) == [["front", "zip"]]


@pytest.mark.parametrize("landing", [bag("71 mm"), bag(more="inside = false")])
def test_what_lies_clear_of_the_zip_or_outside_is_laid_as_before(resolve_text: Resolve, landing: str) -> None:
    """Its top edge 71 mm from that of the front is 3 mm below the lower row."""
    told = lines(plan_work(resolve_text(front(landing) + ONE)), 1)
    laid = next(k for k, line in enumerate(told) if "bag on" in line or "lay bag" in line.lower())
    assert laid < next(k for k, line in enumerate(told) if "Sew front, coil zip" in line)
    assert not any("along its rim" in line for line in told)


@pytest.mark.parametrize(
    ("steps", "what"),
    [
        (ONE, []),
        (ONE + BAG_FIRST, ['step 1 lays "bag" over the window of "front" before it sews "zip" there']),
        (
            step("Glue the bag behind the front.", pieces="front bag") + step("Sew the zip.", trimmings="zip"),
            ['step 2 sews "zip" behind the window of "front", which step 1 closes with "bag" already'],
        ),
        (step("Sew the zip.", trimmings="zip") + step("Glue the bag behind the front.", pieces="front bag"), []),
    ],
)
def test_a_bag_before_its_zip_is_told(resolve_text: Resolve, steps: str, what: list[str]) -> None:
    build = resolve_text(front(bag()) + steps)
    assert [one for _, one, _, _ in find_disorder(build, assemble(build))] == what


BODY = (
    piece("back", 200, 150)
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + step("Sew the zip.", pieces="front bag", trimmings="zip")
    + step("Sew the bag face to face.", seams="one two")
)
ROUND = "left bottom right top"


@pytest.mark.parametrize(
    ("landing", "edges", "is_opened"),
    [
        ("", ROUND, True),  # its one way in is the zip
        ("", "left bottom right", False),  # its mouth is open
        (bag(), ROUND, False),  # the zip is that of a pocket
    ],
)
def test_work_is_turned_through_a_zip_that_is_its_way_in(
    resolve_text: Resolve, landing: str, edges: str, is_opened: bool
) -> None:
    text = front(landing) + BODY
    text = text.replace('pieces = ["front", "bag"]', 'pieces = ["front"]') if not landing else text
    text += seam("one", f"front: {edges}", "wall: left", more="turned = true\n")
    text += seam("two", f"back: {edges}", "wall: right", more="turned = true\n")
    told = [line for number in (1, 2) for line in lines(plan_work(resolve_text(text)), number)]
    assert (OPEN in told) == is_opened


BOTH = (
    "Put contact cement on the flesh side of front, in a band 4 mm wide along the slot, and on the face of coil zip where "
    "that lies on it: none on the teeth."
)
BASTED = (
    "Hold coil zip there with basting or narrow tape, so that it cannot shift under the needle: clips do not reach it."
)
TAPED = "Put basting tape on the flesh side of front beside the slot, no more than 4 mm from it."
WAIT = "Wait 15 to 120 min, until dry to the touch (see the tin)."


@pytest.mark.parametrize(
    ("tool", "words", "before", "after"),
    [
        ("contact cement", "Sew the zip.", [BOTH, WAIT], []),
        ("basting tape", "Sew the zip.", [TAPED], []),
        ("spray adhesive", "Sew the zip.", [], []),  # what it is for is not known: it is told with what it holds
        ("", "Sew the zip.", [], [BASTED]),
        ("", "Baste the zip, and sew it.", [], []),  # the maker says it
    ],
)
def test_a_zip_behind_its_slot_is_held_until_it_is_sewn_from_one_end_to_the_other(
    resolve_text: Resolve, tool: str, words: str, before: list[str], after: list[str]
) -> None:
    """Clips reach no row that lies 60 mm in from every edge: common practice, no published source."""
    text = front("") + step(words, pieces="front", trimmings="zip") + (f'tools = ["{tool}"]\n' if tool else "")
    told = lines(plan_work(resolve_text(text)), 1)
    at = next(k for k, line in enumerate(told) if "behind the slot" in line)
    assert [line for line in told[:at] if line.startswith(("Put", "Wait"))] == before
    assert told[at + 1 : -1] == after
    assert told[-1].endswith("Sew front, coil zip, 2 times from the left to the right.")
