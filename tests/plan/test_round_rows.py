"""A row that closes on itself has no ends: it is clipped in quarters, has as many holes as stitches, and nothing of it is
level at the ends; one strip that closes on itself is laid end over start. By hand; clipping in quarters is common practice,
no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import good, lines

from docgen.plan import plan_work
from docgen.plan.round_rows import is_round
from docgen.resolve import by_name

BASE = '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "150 mm"\n'


SADDLE = '[stitches.saddle]\nby = "hand"\nthread = "Tex 210 waxed polyester"\npitch = "4 mm"\ninset = "4 mm"\n'


def ring(name: str, strip: str) -> str:
    text = f'[pieces.{strip}]\nof = "body"\nshape = "strip"\nsize = ["190 mm", "solve"]\n'
    return text + f'[joins.{name}]\nof = ["{strip}"]\noverlap = "12 mm"\nstitch = "main"\nring = true\n'


BARREL = (
    BASE
    + ring("wall", "wall-strip")
    + ring("bag", "bag-strip")
    + seam("foot", "base: edge", "wall: left")
    + seam("mouth", "wall: right", "bag: right")
    + SADDLE
    + step("Close the rings.", joins="wall bag")
    + step("Sew in the base.", seams="foot")
    + step("Sew the mouth.", seams="mouth")
)
BARREL = BARREL.replace('stitch = "main"', 'stitch = "saddle"')
CLIP = "Mark both in quarters and clip them together there first, then between."
ENDS = "Clip the ends first, then between them."


@pytest.mark.parametrize("number", [2, 3])
def test_a_closed_row_has_no_ends(resolve_text: Resolve, number: int) -> None:
    """A base by its whole edge, and a ring on a ring: pi x (150 - 2 x inset) of wall for both."""
    plan = plan_work(resolve_text(BARREL))
    told = lines(plan, number)
    assert CLIP in told
    assert ENDS not in told
    (level,) = [line for line in good(plan, number) if "stitches are counted" in line]
    assert level.startswith("the edges are level all round, ")
    jobs = [job for one in plan.steps if one.number == number for job in one.jobs]
    assert [(job.holes, job.over_edges) for job in jobs if job.seam] == [(job.stitches, 0) for job in jobs if job.seam]


def test_one_strip_is_laid_end_over_start(resolve_text: Resolve) -> None:
    (wall, bag) = [line for line in lines(plan_work(resolve_text(BARREL)), 1) if "edges in line" in line]
    assert wall == "wall: lay its ends over each other by 12 mm, edges in line: end over start."
    assert bag == "bag: lay its ends over each other by 12 mm, edges in line: end over start."


def test_an_open_row_keeps_its_ends(resolve_text: Resolve) -> None:
    text = piece("front", 200, 150) + piece("back", 200, 150)
    text += seam("sides", "front: left bottom right", "back: left bottom right") + step("Sew.", seams="sides")
    plan = plan_work(resolve_text(text))
    assert ENDS in lines(plan, 1)
    assert any(line.startswith("the ends are level, ") for line in good(plan, 1))


@pytest.mark.parametrize(
    ("edges", "closed"), [("all", True), ("left bottom right top", True), ("left bottom right", False)]
)
def test_what_goes_round(resolve_text: Resolve, edges: str, closed: bool) -> None:
    text = piece("front", 200, 150) + piece("back", 200, 150) + seam("round", f"front: {edges}", f"back: {edges}")
    build = resolve_text(text)
    assert is_round(build, by_name(build.seams)["round"]) == closed


HEM = 'hems = [{ edges = "top", turn = "10 mm" }]\n'


@pytest.mark.parametrize(
    ("hems", "partners", "is_glued"), [(HEM, ("front: top",), False), (HEM, ("front: left", "back: left"), True)]
)
def test_a_hem_is_glued_once(resolve_text: Resolve, hems: str, partners: tuple[str, ...], is_glued: bool) -> None:
    """Turned with glue between, it is not glued once more for its row; what another part meets is."""
    text = piece("front", 200, 150, hems) + piece("back", 200, 140) + seam("row", *partners)
    told = lines(plan_work(resolve_text(text + step("Turn the hem and sew.", seams="row", tools="glue"))), 1)
    assert any(line.startswith("front: turn top over") and "glue" in line for line in told)
    assert any("along the edges that meet" in line for line in told) == is_glued


def test_a_hem_that_is_only_folded_is_glued_for_its_row(resolve_text: Resolve) -> None:
    text = piece("front", 200, 150, HEM) + seam("row", "front: top") + step("Fold the hem.", pieces="front")
    told = lines(plan_work(resolve_text(text + step("Sew it.", seams="row", tools="glue"))), 2)
    assert any("along the edges that meet" in line for line in told)
