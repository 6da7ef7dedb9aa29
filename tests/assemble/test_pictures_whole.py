"""What pictures of steps show, held against what was joined by then and where holes meet, whatever placed it."""

import math
from collections.abc import Iterator

import pytest
from built import BUILDS, built

from docgen.assemble import Assembled, Body, Copy, Heap, TakenApart, UnsureError
from docgen.assemble.apart.bonds import step_of
from docgen.assemble.space.close import distance_to_part

MEETS_MM = 5.0  # holes of one post; layers without thickness lie in one place


def pictures(apart: TakenApart) -> Iterator[tuple[int, dict[Copy, Body], Heap, set[str]]]:
    """Step, bodies, heap, and what is named below, of every picture of a step."""
    for step in range(len(apart.build.assembly.steps)):
        try:
            bodies, heaps = apart.heaps(step)
        except UnsureError:
            continue
        for heap in heaps:
            joined = apart.joined(heap, step, bodies)
            yield step, dict(bodies), heap, {*joined.absent, *joined.hung}


def left_out(build: Assembled) -> Iterator[tuple[int, str]]:
    """Parts that hang on what a picture shows, and are neither in it nor named; of linings nothing is asked."""
    strips = {piece for join in build.joins for piece in join.pieces}
    inner = {one.copy.part for one in build.space.parts if one.is_inner}
    for step, _, heap, named in pictures(TakenApart(build)):
        drawn = {copy.part for copy in heap.copies}
        groups = [group for group in build.assembly.groups_before(step + 1) if not heap.copies.isdisjoint(group)]
        for part in {copy.part for group in groups for copy in group} - drawn - strips - inner:
            if build.part_titles[part] not in named:
                yield step, part


def off_their_holes(build: Assembled) -> Iterator[tuple[int, str, str]]:
    """Parts through which one post goes by then, lifted together, and whose holes lie off the other."""
    for step, bodies, heap, _ in pictures(TakenApart(build)):
        for group in (heap.base, *(one.copies for one in heap.moved)):
            there = [bodies[copy] for copy in group]
            for once in (one for one in build.assembly.fastened if step_of(build, one.event) <= step):
                held = [body for body in there if body.copy.part in once.stack.parts]
                for body in held:
                    own = [hole.at for hole in body.placed.item.holes if hole.takes == once.hardware]
                    spots = [body.placed.surface.point(at) for at in own]
                    for part in {one.copy.part for one in held} - {body.copy.part}:
                        others = [one.placed for one in held if one.copy.part == part]
                        off_mm = [min(distance_to_part(one, at) for one in others) for at in spots]
                        if min(off_mm, default=-math.inf) > MEETS_MM:
                            yield step, body.copy.part, part


@pytest.mark.parametrize("name", BUILDS)
def test_all_that_hangs_there_is_drawn_or_named(name: str) -> None:
    assert [*left_out(built(name).build)] == []


@pytest.mark.parametrize("name", BUILDS)
def test_what_one_post_holds_lies_on_its_holes(name: str) -> None:
    assert [*off_their_holes(built(name).build)] == []
