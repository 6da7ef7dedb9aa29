"""Walls round a base whose rows end at their side seams, and a facing ring in the mouth of a wall. Figures by hand."""

import math

import pytest
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart

INSET_MM = 4.0
TWO_WALLS = (
    '<rectangle base: ["300 mm", "120 mm"]>\nround = "45 mm"\n<rectangle front: ["solve", "200 mm"]>\n'
    '[pieces.rear]\nlike = "front"\n'
    '<seam a: ["front: left", "rear: right"]>\nturned = true\n<seam b: ["front: right", "rear: left"]>\nturned = true\n'
    '<seam one: ["base: left bottom right from top 60 mm to top 60 mm", "front: bottom"]>\nturned = true\n'
    '<seam two: ["base: right top left from bottom 60 mm to bottom 60 mm", "rear: bottom"]>\nturned = true\n'
)
RING = (
    '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "190 mm"\n'
    '<strip wall: ["270 mm", "solve"]>\n<join body: ["wall"], 16 mm>\nring = true\n'
    '<strip band: ["60 mm", "solve"]>\n<join collar: ["band"], 16 mm>\nring = true\n'
    '<seam mouth: ["body: right", "collar: right"]>\n<seam foot: ["collar: left", "body"]>\n'
    '<seam base: ["base: edge", "body: left"]>\n'
)
LANDING = 'landings = [{ piece = "band", at = "0 from right, 0 from start", inside = true }]\n<join body'


def test_walls_of_one_body_stand_round_its_base_and_not_on_each_other(resolve_text: Resolve) -> None:
    """Each goes round its own half, from the middle of one end to that of the other, and is 184 mm high over its rows."""
    build = resolve_text(TWO_WALLS)
    assert not [caution for caution in build.cautions if caution.check == "edges-apart"]
    drawn = {body.copy.part: body for body in TakenApart(build).closed.bodies}
    for name, side in (("front", -1), ("rear", 1)):
        corners = [at for face in drawn[name].faces for at in face.corners]
        assert max(abs(z) for _, _, z in corners) == pytest.approx(200 - INSET_MM)
        ys = [y for _, y, _ in corners]
        assert max(ys) - min(ys) == pytest.approx(60 - INSET_MM)
        assert math.copysign(1, sum(ys) / len(ys) - 60) == side
        assert sum(face.grain[1] for face in drawn[name].faces) * side > 0


def test_a_facing_ring_lies_in_the_mouth_where_its_landing_says_so(resolve_text: Resolve) -> None:
    build = resolve_text(RING.replace("<join body", LANDING))
    collar, body = (build.space.part(Copy(name)) for name in ("collar", "body"))
    assert collar is not None
    assert body is not None
    assert (collar.host, collar.level) == (body.copy, -1)
    tops = [max(z for face in one.faces for *_, z in face.corners) for one in (collar, body)]
    assert tops[0] == pytest.approx(tops[1], abs=0.1)


def test_nothing_says_on_which_side_of_a_mouth_a_ring_lies(resolve_text: Resolve) -> None:
    build = resolve_text(RING)
    assert [copy.part for copy in TakenApart(build).withheld] == ["collar"]


def test_a_wall_does_not_lie_on_a_pocket_that_is_laid_on_it(resolve_text: Resolve) -> None:
    """The hem of the mouth is sewn through the pocket: the wall has an edge on that, which lies on the wall."""
    hem = 'hems = [{ edges = "top", turn = "20 mm" }]\n'
    pocket = 'landings = [{ piece = "pocket", at = "centre, 10 mm from top", inside = true }]\n'
    text = TWO_WALLS.replace('"200 mm"]>\n', f'"200 mm"]>\n{hem}').replace(
        'like = "front"\n', f'like = "front"\n{pocket}'
    )
    build = resolve_text(
        f'<rectangle pocket: ["90 mm", "90 mm"]>\n{text}<seam front-mouth: ["front: top", "front"]>\n'
        '<seam mouth: ["rear: top", "pocket", "rear"]>\n'
    )
    hosts = {part.copy.part: part.host for part in build.space.parts}
    assert hosts == dict.fromkeys(("front", "rear"), Copy("base")) | {"base": None, "pocket": Copy("rear")}
