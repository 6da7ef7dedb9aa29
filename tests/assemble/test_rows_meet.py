"""Rows as they are drawn: those of the partners of a seam lie on each other, however the parts are read and placed."""

import math
from collections.abc import Callable, Iterator, Sequence

import pytest
from built import BUILDS, built
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Body, Copy, TakenApart, Vec
from docgen.assemble.space.close import distance_to_part, to_side

MEET_MM = 5.0  # a chord of a round wall, what is eased, and three layers of 1.6 mm
Resolve = Callable[[str], Assembled]


def rows(body: Body, name: str) -> list[tuple[Vec, Vec]]:
    return [(line.start, line.end) for line in body.lines if (line.kind, line.name) == ("stitch", name)]


def off_mm(at: Vec, legs: Sequence[tuple[Vec, Vec]], flat: Sequence[Body]) -> float:
    near = [to_side(start, end, at) for start, end in legs]
    return min([*near, *(distance_to_part(body.placed, at) for body in flat)], default=math.inf)


def parted(build: Assembled) -> Iterator[tuple[str, Copy, float]]:
    """The rows on placed parts that lie farther than that from all others of their seam, with how far."""
    bodies = {body.copy: body for body in TakenApart(build).bodies}
    for once in build.assembly.sewn:
        sides = [bodies[copy] for copy in dict.fromkeys(once.sides) if copy in bodies]
        for body in sides if len(sides) == len({*once.sides}) > 1 else ():
            names = {one.copy.part for one in sides if one is not body}
            others = [one for one in bodies.values() if one is not body and one.copy.part in names]
            legs = [leg for one in others for leg in rows(one, once.seam)]
            flat = [one for one in others if not rows(one, once.seam)]
            far = [off_mm(start, legs, flat) for start, _ in rows(body, once.seam)]
            if far and max(far) > MEET_MM:
                yield once.seam, body.copy, max(far)


@pytest.mark.parametrize("name", BUILDS)
def test_rows_of_partners_lie_on_each_other(name: str) -> None:
    assert [*parted(built(name).build)] == []


def test_the_second_of_a_pair_has_its_rows_on_its_own_edges(resolve_text: Resolve) -> None:
    """Both pockets are rounded at the outer corners of the cover, and open toward its middle: the second is mirrored."""
    pocket = piece(
        "pocket", 120, 200, 'cut = 2\npair = true\nround = { top-left = "12 mm", bottom-left = "12 mm" }\n', "thin"
    )
    build = resolve_text(
        piece("cover", 400, 200, 'round = "12 mm"\n')
        + pocket
        + seam("left", "cover: top left bottom from left 120 mm to left 120 mm", "pocket 1: top left bottom")
        + seam("right", "cover: bottom right top from right 120 mm to right 120 mm", "pocket 2: bottom left top")
        + step("Sew the pockets on.", seams="left right")
    )
    assert [*parted(build)] == []
    second = next(body for body in TakenApart(build).bodies if body.copy == Copy("pocket", 2))
    across = [x for leg in rows(second, "right") for x, _, _ in leg]
    assert (min(across), max(across)) == pytest.approx((400 - 120, 400 - 4)), "its row runs along its outer edge"
