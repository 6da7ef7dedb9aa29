"""A body that folds round its foot, with flap, lining and welts in its sides: how its lining and its welts lie. By hand."""

import math
from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.geometry.shapes import Point

Resolve = Callable[[str], Assembled]
FOLDS = """\
folds = [
  { at = "80 mm from bottom", open = true, angle = 180 },
  { at = "160 mm from bottom", open = true, angle = 180 },
]
"""
WELTS = """\
landings = [
  { piece = "welt", at = "0 mm from left, 0 mm from bottom", inside = true },
  { piece = "welt", at = "0 mm from right, 0 mm from bottom", inside = true },
]
"""
LOWER, UPPER = "from bottom 0 mm to bottom 78 mm", "from bottom 82 mm to bottom 160 mm"


def sides(*between: str) -> str:
    return "".join(
        seam(
            edge,
            f"body: {edge} {LOWER}",
            *(one.format(edge=edge, copy=1 + k) for one in between),
            f"body: {edge} {UPPER}",
        )
        for k, edge in enumerate(("left", "right"))
    )


LINED = (
    piece("body", 170, 210, FOLDS)
    + piece("lining", 170, 210, 'lines = ["body"]\n' + FOLDS)
    + seam("mouth", "body: bottom", "lining: bottom")
    + sides(f"lining: {{edge}} {LOWER}", f"lining: {{edge}} {UPPER}")
    + step("Glue the lining in and sew the mouth.", seams="mouth", tools="contact cement")
    + step("Fold it and sew both sides.", seams="left right")
)
BACKED = LINED.replace('lines = ["body"]\n', "")


@pytest.mark.parametrize("text", [LINED, BACKED])
def test_a_section_has_the_flesh_of_a_lining_on_that_of_its_body(resolve_text: Resolve, text: str) -> None:
    """Body and lining are glued flesh to flesh, and folded with the grain of the lining inside: also where it is not
    written to line, that looks down on the half that lies on top, and up on the other."""
    build = resolve_text(text)
    piles = {once.seam: pile_seam(build, once) for once in build.assembly.sewn}
    assert [(ply.part, ply.grain) for ply in piles["mouth"][0]] == [("body", "up"), ("lining", "down")]
    for edge in ("left", "right"):
        (pile,) = piles[edge]
        assert [ply.part for ply in pile] == ["body", "lining", "lining", "body"]
        assert [ply.grain for ply in pile] == ["up", "down", "up", "down"]


WELTED = (
    piece("body", 170, 210, FOLDS + WELTS)
    + piece("welt", 10, 78, "cut = 2\n")
    + sides("welt {copy}: left")
    + step("Fold it, lay the welts between and sew both sides.", seams="left right")
)


def test_a_lining_that_its_body_s_sides_take_in_bends_with_it(resolve_text: Resolve) -> None:
    """Each side names two lines of the lining: each lies on its own half of the body, and none on the other."""
    space = resolve_text(LINED).space
    assert not space.doubts
    assert space.widest_mm < 0.5
    body, lining = (space.part(Copy(name)) for name in ("body", "lining"))
    assert body is not None
    assert lining is not None
    assert (lining.how, lining.host) == ("lies behind", Copy("body"))
    assert lining.surface.bands == body.surface.bands


def test_it_lies_with_its_grain_in_sight(resolve_text: Resolve) -> None:
    """A flap that lies over the body is not taken for what the lining lies on."""
    bodies, heaps = TakenApart(resolve_text(LINED)).heaps(0)
    way = heaps[0].moved[0].way
    for face in bodies[Copy("lining")].faces:
        assert sum(a * b for a, b in zip(face.grain, way, strict=True)) == pytest.approx(1)


def test_welts_come_out_of_a_fold_by_its_sides(resolve_text: Resolve) -> None:
    """Across their seams, to the left and to the right: not through the foot, which is closed, nor through the halves."""
    _, heaps = TakenApart(resolve_text(WELTED)).heaps(0)
    ways = {one.copies[0].number: one.way for one in heaps[0].moved}
    assert {abs(way[0]) for way in ways.values()} == {1.0}
    assert ways[1][0] == -ways[2][0]


@pytest.mark.parametrize(
    ("back_mm", "flap_mm", "sewn", "is_away"),
    [(90, 50, "left right", True), (90, 78, "left right", True), (80, 50, "left right", False), (90, 50, "", False)],
)
def test_the_front_of_a_pouch_of_one_piece_is_what_its_flap_closes_over(
    resolve_text: Resolve, back_mm: int, flap_mm: int, sewn: str, is_away: bool
) -> None:
    """Front 80, back and flap: the widest lies up as they are placed, of two alike the front. What is sewn nowhere has no
    front that a flap tells."""
    folds = FOLDS.replace("160 mm", f"{80 + back_mm} mm")
    body = piece("body", 170, 80 + back_mm + flap_mm, folds)
    closing = step("Fold it and sew both sides.", seams=sewn) if sewn else step("Fold it.", pieces="body")
    apart = TakenApart(resolve_text(body + (sides() if sewn else "") + closing))
    assert apart.is_away == is_away
    back = next(one for one in apart.closed.bodies).placed.out(1)
    assert (back[2] > 0) == (is_away or not sewn)


@pytest.mark.parametrize(("over_mm", "is_away"), [(8, True), (14, True), (20, False)])
def test_the_front_is_what_its_flap_closes_over_also_where_that_bends_twice_at_the_mouth(
    resolve_text: Resolve, over_mm: int, is_away: bool
) -> None:
    """Front 80, back 90, then 8 or 14 mm over the mouth; what is as broad as 20 mm is no mouth of a flat pouch."""
    folds = (80, 170, 170 + over_mm)
    bends = zip(folds, (180, 90, 90), strict=True)
    lines = ", ".join(f'{{ at = "{mm} mm from bottom", open = true, angle = {angle} }}' for mm, angle in bends)
    body = piece("body", 170, 220 + over_mm, f"folds = [{lines}]\n")
    apart = TakenApart(resolve_text(body + sides() + step("Fold it and sew both sides.", seams="left right")))
    assert apart.is_away == is_away


POCKETED = (
    piece("body", 170, 210, FOLDS + 'landings = [{ piece = "pocket", at = "centre, 95 mm from bottom" }]\n')
    + piece("pocket", 80, 50)
    + seam("pocket", "pocket: left bottom right", "body")
    + sides()
)


@pytest.mark.parametrize("is_folded_first", [False, True])
def test_what_is_sewn_on_before_a_body_is_folded_is_drawn_on_it_as_it_lies_flat(
    resolve_text: Resolve, is_folded_first: bool
) -> None:
    """The pocket on the back, 95 mm from the bottom: on the flat body of 210 mm its foot is 95 mm from the one end and
    115 mm from the other; once both sides are sewn the body of 80 mm stays folded."""
    steps = [step("Sew the pocket on.", seams="pocket"), step("Fold it and sew both sides.", seams="left right")]
    apart = TakenApart(resolve_text(POCKETED + "".join(reversed(steps) if is_folded_first else steps)))
    bodies, (heap,) = apart.heaps(1 if is_folded_first else 0)
    body, pocket = (bodies[Copy(name)] for name in ("body", "pocket"))
    assert heap.new == {Copy("body"), Copy("pocket")}
    ways = {tuple(round(at) for at in face.grain) for face in body.faces}
    assert len(ways) == (2 if is_folded_first else 1)
    ends = [body.point(at, body.placed.surface.band_of(at)) for at in (Point(85, 0), Point(85, 210))]
    foot = pocket.point(Point(40, 0), 0)
    assert math.dist(*ends) == pytest.approx(50 if is_folded_first else 210, abs=3)
    assert math.dist(foot, ends[0]) == pytest.approx(65 if is_folded_first else 95, abs=3)
