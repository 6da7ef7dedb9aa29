"""Linings that the words of a step glue: all over, not along a row alone."""

from __future__ import annotations

import re

from docgen.assemble import Lies
from docgen.plan.acts.work import Work
from docgen.resolve import Seam

LININGS_RE = (
    r"(?i)\bglue (?:(?:the|all|both|each|its|their|in) ){0,2}linings?\b"
    r"(?!(?:(?! and )[^.,;])*\b(?:along|edges?|rim)\b)"
)  # not where the words say that it is glued along its edges


def lined_all_over(work: Work, at: int, seam: Seam) -> list[str]:
    """A part and its lining, where a seam sews these two alone, and the words of its step say that linings are glued."""
    if len(seam.parts) != 2 or not re.search(LININGS_RE, work.steps[at].do):
        return []
    names = {one for name in seam.parts for one in (name, *_joins_of(work, name))}
    pairs = ([lies.host.part, lies.copy.part] for lies in work.build.assembly.lies if lies.is_cover)
    return next((pair for pair in pairs if names >= {*pair}), [])


def sews_lining(work: Work, seam: Seam, lies: Lies) -> bool:
    """Whether a seam sews a lining to what it lines, or to a strip of that, by an edge of both: it is glued along that."""
    parts = {side.part for side in seam.sides if side.edges}
    return lies.copy.part in parts and not parts.isdisjoint((lies.host.part, *work.strips(lies.host.part)))


def _joins_of(work: Work, name: str) -> list[str]:
    return [one.name for one in work.build.joins if name in one.pieces]
