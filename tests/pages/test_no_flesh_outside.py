"""Of a bag that is turned right side out no flesh is seen on its outside: only through its mouth, over the walls before it.

Straight below what is hatched there is grain then: the wall over whose mouth one looks in. Held against the areas of
shapely, over the bags of the builds that are sewn so.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from finished_article import article_of
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union
from short_specs import SHOPPER, SHOPPER_FOOT, SHOPPER_SEWN, SHOPPER_SIDES
from spec_text import Resolve, write_out

from docgen.assemble import Assembled, TakenApart
from docgen.checks import resolve_build
from docgen.pages.pictures.drawing import Drawing
from docgen.read import read_spec

ROOT = Path(__file__).parents[2]
TURNED = [
    *(ROOT / "docgen/starters" / name for name in ("crossbody.toml",)),
    *(ROOT / "tests/bench/slips/builds" / name for name in ("box-case.toml", "duffel.toml", "wash-bag.toml")),
]
SCALE = 0.3  # about that of a sheet
BAG = SHOPPER.replace("HIGH", "300") + SHOPPER_SIDES + SHOPPER_FOOT


def bare(drawing: Drawing) -> Iterator[tuple[float, float]]:
    """The middles of hatching with no grain below, on paper."""
    drawn = drawing.draw(SCALE)
    rings = [
        [drawn.frame.put(x, y) for x, y, _ in flats]
        for flats, cosine in zip(drawing.flats, drawing.cosines, strict=True)
        if cosine > 0
    ]
    grain = unary_union([Polygon(ring).buffer(0.01) for ring in rings])
    for kind, start, end in drawn.legs:
        middle = (start.x + end.x) / 2, (start.y + end.y) / 2
        if kind.startswith("hatch") and not LineString([middle, (middle[0], -1)]).intersects(grain):
            yield middle


def views(build: Assembled) -> tuple[Drawing, Drawing]:
    article = article_of(TakenApart(build))
    return article.front, article.behind


@pytest.mark.parametrize("path", TURNED, ids=lambda path: path.stem)
def test_no_flesh_is_seen_outside_of_a_turned_bag(path: Path) -> None:
    for view in views(resolve_build(read_spec(str(path)))):
        assert [*bare(view)] == []


def test_nor_beside_the_side_seams_of_two_walls_round_a_base(resolve_text: Resolve) -> None:
    """A layer of one wall over the other stood out there, all the way down."""
    build = resolve_text(BAG + SHOPPER_SEWN)
    assert isinstance(build, Assembled)
    for view in views(build):
        assert any(kind == "hatch" for kind, _, _ in view.draw(SCALE).legs)
        assert [*bare(view)] == []


def test_flesh_is_found_on_the_outside_of_what_is_not_turned(resolve_text: Resolve) -> None:
    """The same walls by seams that stand out: the edges beyond their rows show flesh."""
    build = resolve_text(write_out(BAG).replace("turned = true\n", "") + SHOPPER_SEWN)
    assert isinstance(build, Assembled)
    assert any(True for view in views(build) for _ in bare(view))
