"""Cut edges that are finished before they lie on leather, where no edge tool reaches, and nothing else says when."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Strap, side_pieces
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import EDGE_TOOLS, EDGE_WORK, TIMED_EDGES


def piece_edge_acts(work: Work, at: int) -> Iterator[Act]:
    """The pieces that a step sews flat on something else."""
    names: list[str] = []
    for seam in (work.seams[event.name] for _, event in work.events(at) if event.kind == "seams"):
        flat = {side.part for side in seam.sides if not side.edges}
        own = [side for side in work.sides(seam) if side.part not in flat]
        names += [name for side in own for name in side_pieces(work.build, side)] if flat and not seam.is_turned else []
    yield from _finish(work, names, "edges_first")


def strap_edge_acts(work: Work, strap: Strap) -> Iterator[Act]:
    """A strap, before an end of it is turned."""
    if any(end.shape == "turned" for end in strap.ends):
        yield from _finish(work, [strap.name], "edges_unturned")


def edge_tools(acts: Iterable[Act]) -> Iterator[str]:
    """What the edges of these lines are finished with."""
    told = " ".join(str(dict(one.values)["edges"]) for one in acts if one.case in ("edges_first", "edges_unturned"))
    yield from (tool for verb, tool in EDGE_TOOLS.items() if verb in told.lower())


def _finish(work: Work, names: Iterable[str], case: str) -> Iterator[Act]:
    """One line for each finish; none where a step or the finish itself speaks of it."""
    lines = " ".join(line for step in work.steps for line in (step.do, *step.first, *step.last)).lower()
    if any(verb in lines for verb in EDGE_WORK):
        return
    found: dict[str, dict[str, None]] = {}
    for name in names:
        told = work.material_of(name).edges.removesuffix(".")
        is_finished = any(verb in told.lower() for verb in EDGE_TOOLS)
        if is_finished and not any(has_phrase(told, word) for word in TIMED_EDGES):
            found.setdefault(told, {})[work.titles[name]] = None
    yield from (act(case, parts=join_words([*titles]), edges=told) for told, titles in found.items())
