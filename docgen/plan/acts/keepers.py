"""Keepers: how far their ends lie over each other, in which fold they are held, and when one is slid on."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.plan.act import Act, act
from docgen.plan.acts.holding import find_glues
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import END_NAMES, Strap
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import TAPE

LEVEL_MM = 0.05


def keeper_acts(work: Work, at: int, keeper: Strap) -> Iterator[Act]:
    """How the ends of a keeper come to lie, and what holds them: what laps is glued first, where a step has glue."""
    if not keeper.keeper_for:
        return
    over_mm = keeper.cut_length_mm - keeper.finished_mm
    is_glued = any(not has_phrase(glue, TAPE) for glue in find_glues(work, at))
    laps = "keeper_laps_glued" if is_glued else "keeper_laps"
    lap = act(laps, length=work.length(over_mm)) if over_mm > LEVEL_MM else act("keeper_meets")
    folds = [
        act("keeper_fold", part=work.titles[strap.name], end=join_words([END_NAMES[which] for which in ends]))
        for strap in work.build.straps
        if (ends := [which for which, end in enumerate(strap.ends) if end.keeper == keeper.name])
    ]
    yield act("keeper_held" if folds else "keeper_loose", part=work.titles[keeper.name], lap=lap, folds=tuple(folds))


def slide_acts(work: Work, at: int, keeper: Strap) -> Iterator[Act]:
    """A keeper that is slid on what it holds."""
    if work.slides_on(at, keeper.name):
        yield act("keeper_slid", part=work.titles[keeper.name], strap=work.titles[keeper.keeper_for])
