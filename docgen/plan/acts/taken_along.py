"""What a seam takes with it: a zip that lies on an edge, what is eased in, and an opening that it closes."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.plan.act import Act, Told, act
from docgen.plan.acts.places import edge_words
from docgen.plan.acts.turning import ZIP, opened_by
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Seam
from docgen.tables.cautions import has_phrase

LEVEL_MM = 0.5  # by which a side may be longer and lies level all the same


def zip_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """Of a zip that a seam sews to the edge of a piece how it lies there, before anything is laid over it: sewn face to
    face its face meets the outer side, else it looks out beneath the edge, or on it, by so much of its
    tape as is written."""
    zips = {one.name: one for one in work.build.trimmings if one.kind == ZIP}
    for use in (use for use in seam.trimmings if use.name in zips):
        beside = [side for side in seam.sides[max(use.above - 1, 0) : use.above + 1] if side.edges]
        if not beside:
            continue
        goods = zips[use.name]
        near = next((side for side in beside if work.material_of(side.part).kind == "leather"), beside[0])
        values: dict[str, Told] = {"zip": work.goods[goods.name], "part": work.titles[near.part], "tape": use.side}
        values["edges"] = edge_words(work, near)
        if seam.is_turned:
            yield act("zip_face", **values, side=work.outer(near.part))
        else:
            case = "zip_under" if use.above else "zip_on"
            lap = {"lap": work.length(use.lap_mm)} if use.lap_mm else {}
            yield act(f"{case}_by" if lap else case, **values, **lap)


def ease_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """Of each side that is longer than the first by more than nobody sees: how much of it is eased in, and where."""
    first, *others = work.sides(seam)
    for side in others:
        more_mm = side.length_mm - first.length_mm
        if more_mm > LEVEL_MM and (side.part, side.edges) != (first.part, first.edges):
            values = {"part": work.titles[side.part], "first": work.titles[first.part], "length": work.length(more_mm)}
            if seam.ease_span_mm is not None:
                yield act("ease_there", **values, edges=join_words(seam.ease_edges))
            else:
                yield act("ease_all", **values)


def opening_acts(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """Of the seam that closes an opening: the work is turned through that first, and its edges are turned in."""
    open_ = opened_by(work, seam)
    if open_ is None:
        return
    step = work.steps[at]
    if not any(has_phrase(words, "turn") for words in (step.do, step.note, *step.first)):
        yield act("turn_through")
    inset = work.length(work.stitch(open_.stitch).inset_mm)
    yield act("opening_in", inset=inset)
