"""The finished article shows what a person who holds it sees, over articles put together at random: which part lies
uppermost at a place of it is looked up in the drawing, by a ray, and held against what was worked out by hand. What
nothing bends yet lies flat in the pictures of the steps. DOCGEN_ARTICLES tries so many of each family."""

import os
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from random_articles import FAMILIES, Article, Seen
from random_bodies import BODIES
from spec_text import Resolve

from docgen.assemble import Assembled, Body, TakenApart, UnsureError
from docgen.geometry.shapes import Point
from docgen.pages.pictures.article import set_article
from docgen.pages.pictures.drawing import Drawing

ARTICLES = int(os.environ.get("DOCGEN_ARTICLES", "0"))
TRIED = [*((family, ARTICLES or 24) for family in FAMILIES), *((family, ARTICLES or 8) for family in BODIES)]
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
    if seen.view not in drawings:
        return None
    if seen.twin is not None:
        x, y = seen.twin
        both = [is_in_sight(drawings[seen.view], one) for one in (seen, replace(seen, x=x, y=y))]
        return None if None in both else sum(map(bool, both)) == 1
    found = is_in_sight(drawings[seen.view], seen)
    return (None if seen.is_seen else True) if found is None else found == seen.is_seen


def list_bent_early(apart: TakenApart, made: Article) -> Iterator[tuple[int, str]]:
    """The steps, from 0, with what is drawn bent in them before anything bends it."""
    for step in range(max(made.flat.values(), default=0)):
        try:
            bodies, heaps = apart.heaps(step)
        except UnsureError:
            continue
        drawn = {copy for heap in heaps for copy in heap.copies}
        yield from ((step, one.part) for one in drawn if step < made.flat.get(one.part, 0) and not bodies[one].is_flat)


@pytest.mark.parametrize(("family", "number"), TRIED, ids=[family.__name__ for family, _ in TRIED])
def test_what_lies_uppermost_is_seen(family: Callable[[int], Article], number: int, resolve_text: Resolve) -> None:
    wrong, told, drawn = list[tuple[int, Seen | tuple[int, str]]](), list[bool](), 0
    for seed in range(number):
        made = family(seed)
        build = resolve_text(made.text)
        assert isinstance(build, Assembled)
        apart = TakenApart(build)
        wrong += [(seed, one) for one in list_bent_early(apart, made)]
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
    assert drawn >= LEAST_DRAWN * number
    assert sum(told) >= LEAST_DRAWN * len(told)
