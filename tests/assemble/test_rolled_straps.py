"""Straps whose long edges are sewn to each other: round a core, or double. Figures by hand."""

import math

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.geometry.path import flatten
from docgen.pages.pictures.pictures import Pictures

CORE = '[trimmings.core]\nwhat = "cord"\nkind = "cord"\nthickness = "{mm} mm"\nlength = "240 mm"\n'
HANDLE = """\
[straps.handle]
of = "body"
cut = 2
width = "40 mm"
finished = "360 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""
LANDINGS = """\
landings = [
  { strap = "handle", end = "first", at = "50 mm left of centre, 60 mm from top", over = "60 mm" },
  { strap = "handle", end = "second", at = "50 mm right of centre, 60 mm from top", over = "60 mm" },
]
"""
ROLL = seam("roll", "handle: left from start 60 mm to end 60 mm", "handle: right from start 60 mm to end 60 mm")
BAG = (
    piece("front", 300, 200, LANDINGS)
    + '[pieces.back]\nlike = "front"\n'
    + HANDLE
    + ROLL
    + seam("bag", "front: left bottom right", "back: left bottom right")
    + step("Roll.", straps="handle", seams="roll")
    + step("Handles.", pieces="front back")
    + step("Bag.", seams="bag")
)


def width_at(build: Assembled, along_mm: float) -> float:
    """How wide a strap is drawn so far along it."""
    placed = build.space.part(Copy("handle", 1))
    assert placed is not None
    xs = [at.x for at in placed.ring if abs(at.y - along_mm) < 0.5]
    return max(xs) - min(xs)


@pytest.mark.parametrize(
    ("core_mm", "wide_mm"), [(8, 32 / math.pi + 2), (3, 20), (None, 20)], ids=["round", "too thin a core", "no core"]
)
def test_it_is_as_wide_as_it_is_then(resolve_text: Resolve, core_mm: int | None, wide_mm: float) -> None:
    """40 mm less 2 x 4 mm go round a core of 8 mm in the middle of leather of 2 mm (31.4 mm): 12.2 mm outside. Round less
    than that they do not go close, and lie double, half as wide. Its ends stay as they are cut."""
    build = resolve_text(BAG + (CORE.format(mm=core_mm) if core_mm else ""))
    for along_mm, wide in ((0, 40), (60, 40), (60 + wide_mm, wide_mm), (300 - wide_mm, wide_mm), (360, 40)):
        assert width_at(build, along_mm) == pytest.approx(wide, abs=0.01), along_mm


def test_one_row_is_seen_of_it_on_its_inner_side_alone(resolve_text: Resolve) -> None:
    """Round, it is closed on the side that looks to the bag, in its middle: 20 mm from either edge as it is cut."""
    alone = BAG.replace("cut = 2", "cut = 1").replace('like = "front"', 'like = "front"\nmarks = false')
    build = resolve_text(alone + CORE.format(mm=8))
    placed = build.space.part(Copy("handle", 1))
    assert placed is not None
    rows = [mark for mark in placed.item.marks if mark.name == "roll"]
    assert [{round(at.x, 6) for at in flatten(mark.path)} for mark in rows] == [{20.0}]
    article = Pictures(build)._article
    assert article is not None
    place, shown = next((k, one) for k, one in enumerate(article.front.shown) if one.body.copy == Copy("handle", 1))
    lines = [line for line in shown.body.lines if line.name == "roll"]
    assert lines
    assert not any(article.front.seen(place, shown, line)[2] for line in lines)
    assert any(article.behind.seen(place, shown, line)[2] for line in lines)


def test_each_is_sewn_to_itself_flesh_to_flesh(resolve_text: Resolve) -> None:
    build = resolve_text(BAG + CORE.format(mm=8))
    sewn = [once for once in build.assembly.sewn if once.seam == "roll"]
    assert [once.sides for once in sewn] == [(Copy("handle", k), Copy("handle", k)) for k in (1, 2)]
    for once in sewn:
        (pile,) = pile_seam(build, once)
        assert [(ply.part, ply.grain) for ply in pile] == [("handle", "up"), ("handle", "down")]


def test_a_panel_that_is_cut_twice_is_sewn_to_the_other_one(resolve_text: Resolve) -> None:
    """Left to right, two panels come to a ring."""
    text = piece("side", 100, 100, "cut = 2\n") + seam("s", "side: left", "side: right") + step("Sew.", seams="s")
    build = resolve_text(text)
    assert {len({*once.sides}) for once in build.assembly.sewn} == {2}


def test_what_is_round_has_no_flesh_side_in_sight(resolve_text: Resolve) -> None:
    build = resolve_text(BAG + CORE.format(mm=8))
    body = next(body for body in TakenApart(build).bodies if body.copy == Copy("handle", 1))
    assert [{min(at.y for at in ring), max(at.y for at in ring)} for ring in body.plain] == [{60.0, 300.0}]
