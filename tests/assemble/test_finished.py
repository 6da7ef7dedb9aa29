"""What cannot lie as it would be drawn is left out of the finished article, and check says so; all by hand."""

from dataclasses import replace
from pathlib import Path

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Body, Copy, TakenApart
from docgen.assemble.apart.finished import SCANTY, find_wrong, finish, is_scanty
from docgen.checks import resolve_build
from docgen.pages.pictures.article import set_article
from docgen.read import read_spec

BUILDS = Path(__file__).parent / "builds"
ROUND = "left bottom right"
POCKET = (
    piece("front", 200, 150, 'landings = [{ piece = "pocket", at = "centre, middle" }]\n')
    + piece("pocket", 100, 80, 'landings = [{ piece = "badge", at = "centre, middle" }]\n')
    + piece("badge", 30, 30)
    + seam("pocket", f"pocket: {ROUND}", "front")
    + seam("badge", f"badge: {ROUND} top", "pocket")
    + step("Sew them on.", seams="pocket badge")
)
SIDES = ("grain", "flesh")


def sunk(body: Body) -> Body:
    """The same, as many layers behind its host as it lies over it."""
    lifts = tuple((-x, -y, -z) for x, y, z in body.placed.lifts)
    return body.with_place(replace(body.placed, lifts=lifts))


def bodies_of(build: Assembled) -> dict[Copy, Body]:
    return {body.copy: body for body in TakenApart(build).bodies}


def test_a_pocket_on_the_other_side_goes_with_what_is_on_it(resolve_text: Resolve) -> None:
    """It is sewn on the outer side of the front."""
    build = resolve_text(POCKET)
    bodies, pocket = bodies_of(build), Copy("pocket")
    assert find_wrong(build, bodies) == {}
    wrong = {**bodies, pocket: sunk(bodies[pocket])}
    why = 'it would lie on the other side of "front"'
    assert find_wrong(build, wrong) == {pocket: why, Copy("badge"): why}
    assert finish(build, wrong, []).bodies.keys() == {Copy("front")}


def test_a_pocket_that_is_sewn_on_inside_lies_there(resolve_text: Resolve) -> None:
    build = resolve_text(POCKET.replace('"centre, middle" }]', '"centre, middle", inside = true }]', 1))
    bodies, pocket = bodies_of(build), Copy("pocket")
    assert find_wrong(build, bodies) == {}
    assert pocket in find_wrong(build, {**bodies, pocket: sunk(bodies[pocket])})


def test_a_pocket_with_its_other_side_out_than_in_its_section(resolve_text: Resolve) -> None:
    """The section has its grain side up; placed as one that shows its flesh side it would be drawn with that out."""
    grain, flesh = (
        resolve_text(POCKET.replace("[pieces.badge]", f'shows = "{side}"\n[pieces.badge]')) for side in SIDES
    )
    pocket = Copy("pocket")
    bodies = {**bodies_of(grain), pocket: bodies_of(flesh)[pocket]}
    assert find_wrong(grain, bodies)[pocket] == 'it would lie otherwise than in the section of "pocket"'
    assert find_wrong(flesh, bodies_of(flesh)) == {}


def test_two_copies_do_not_lie_in_one_place(resolve_text: Resolve) -> None:
    """Two tabs 60 mm apart; where the second one lies as the first does, neither is sure."""
    places = (f'{{ piece = "tab", at = "{mm} mm from left, middle" }}' for mm in (20, 80))
    two = f"landings = [{', '.join(places)}]\n"
    build = resolve_text(
        piece("front", 200, 150, two) + piece("tab", 30, 40, "cut = 2\n") + seam("tab", "tab: top", "front")
    )
    bodies = bodies_of(build)
    first, second = Copy("tab"), Copy("tab", 2)
    assert {first, second} < bodies.keys()
    assert find_wrong(build, bodies) == {}
    there = bodies[second].with_place(replace(bodies[first].placed, copy=second))
    assert find_wrong(build, {**bodies, second: there}).keys() == {first, second}


def test_copies_that_are_sewn_on_each_other_lie_in_one_place(resolve_text: Resolve) -> None:
    build = resolve_text(
        piece("sole", 80, 200, "cut = 2\n")
        + seam("round", f"sole 1: {ROUND}", f"sole 2: {ROUND}", more="turned = true\n")
    )
    bodies = bodies_of(build)
    assert len(bodies) == 2
    assert find_wrong(build, bodies) == {}


@pytest.mark.parametrize("path", sorted(BUILDS.glob("*.toml")), ids=lambda path: path.stem)
def test_nothing_of_whole_builds_is_wrong(path: Path) -> None:
    assert TakenApart(resolve_build(read_spec(path))).finished.wrong == {}


def test_check_tells_what_is_wrong_once(resolve_text: Resolve, monkeypatch: pytest.MonkeyPatch) -> None:
    apart = TakenApart(resolve_text(POCKET))
    monkeypatch.setattr(
        "docgen.assemble.apart.finished.find_wrong", lambda *_: {Copy("badge"): "it would be upside down"}
    )
    assert [line for line in apart.tell_withheld() if "badge" in line] == ['"badge": it would be upside down']
    assert apart.closed.absent == ("badge",)


PANELS = (
    piece("front", 200, 150)
    + piece("back", 200, 150)
    + piece("lining", 200, 150, 'lines = ["front"]\n')
    + seam("sides", f"front: {ROUND}", f"back: {ROUND}", more="turned = true\n")
)


@pytest.mark.parametrize(
    ("text", "drawn", "is_little"),
    [
        (POCKET, ["front"], False),
        (POCKET, ["pocket", "badge"], True),
        (PANELS, ["front"], False),
        (PANELS, ["lining"], True),
    ],
    ids=["30,000 of 38,900 mm2", "8,900 of them", "one of two panels", "a lining does not count"],
)
def test_less_than_half_of_it_is_no_finished_article(
    resolve_text: Resolve, text: str, drawn: list[str], is_little: bool
) -> None:
    assert is_scanty(resolve_text(text), [Copy(part) for part in drawn]) == is_little


def test_what_is_no_finished_article_is_not_drawn_and_told(
    resolve_text: Resolve, monkeypatch: pytest.MonkeyPatch
) -> None:
    wrong = {Copy("front"): "it would hang in the air"}
    monkeypatch.setattr("docgen.assemble.apart.finished.find_wrong", lambda *_: wrong)
    apart = TakenApart(resolve_text(POCKET))
    assert [*apart.tell_withheld()] == ['"front": it would hang in the air', SCANTY]
    assert set_article(apart.closed, "lying", apart.lined) is None
