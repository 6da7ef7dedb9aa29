"""The finished article shows what a person who holds it sees, over articles put together at random: which part lies
uppermost at a place of it is looked up in the drawing, by a ray, and held against what was worked out by hand."""

from collections.abc import Callable

import pytest
from random_articles import FAMILIES, Article, Seen
from spec_text import Resolve

from docgen.assemble import Assembled, Body, TakenApart
from docgen.geometry.shapes import Point
from docgen.pages.pictures.article import set_article
from docgen.pages.pictures.drawing import Drawing

SEEDS = 24
LEAST_DRAWN = 0.7  # of the articles of a family, and of the places of those


def is_in_sight(drawing: Drawing, seen: Seen) -> bool | None:
    """Whether any copy of the part has nothing before it at the place; None where it is not drawn."""
    at, found = Point(seen.x, seen.y), list[bool]()
    for place, one in enumerate(drawing.shown):
        if isinstance(one.body, Body) and one.body.copy.part == seen.part:
            band = one.body.placed.surface.band_of(at)
            own = drawing.numbers.get((place, band))
            x, y, near = drawing.flat(one.body.point(at, band), one.shift)
            front = drawing.hider.front_at(x, y, near)
            is_hidden = front is not None and front[0] != own and front[1] > near + drawing.hider.margin(front[0])
            found += [] if own is None else [not is_hidden]
    return any(found) if found else None


def judge(drawings: dict[str, Drawing], seen: Seen) -> bool | None:
    """Whether the pictures show a place as they must; None where they do not tell."""
    if seen.view == "outside":
        both = [is_in_sight(drawings[view], seen) for view in ("front", "behind")]
        return None if None in both else sum(map(bool, both)) == 1
    found = is_in_sight(drawings[seen.view], seen) if seen.view in drawings else None
    return None if found is None else found == seen.is_seen


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.__name__)
def test_what_lies_uppermost_is_seen(family: Callable[[int], Article], resolve_text: Resolve) -> None:
    wrong, told, drawn = list[tuple[int, Seen]](), list[bool](), 0
    for seed in range(SEEDS):
        made = family(seed)
        build = resolve_text(made.text)
        assert isinstance(build, Assembled)
        apart = TakenApart(build)
        article = set_article(apart.closed, build.space.kind, apart.lined)
        if article is None:
            continue
        drawn += 1
        drawings = {"front": article.front, "behind": article.behind}
        drawings |= {"opened": article.inside} if article.inside else {}
        judged = [(seen, judge(drawings, seen)) for seen in made.seen]
        told += [verdict is not None for _, verdict in judged]
        wrong += [(seed, seen) for seen, verdict in judged if verdict is False]
    assert not wrong, "\n".join(map(str, wrong))
    assert drawn >= LEAST_DRAWN * SEEDS
    assert sum(told) >= LEAST_DRAWN * len(told)
