"""Checks of how a thing goes together: what the assembly is in doubt about."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from docgen.checks.trade.check import Found, Subject, check


def _doubts_of(name: str) -> Callable[[Subject], Iterator[Found]]:
    """What the assembly says under this id."""

    def find(subject: Subject) -> Iterator[Found]:
        doubts = (doubt for doubt in subject.build.assembly.doubts if doubt.check == name)
        yield from ((doubt.place, doubt.what, doubt.mend, doubt.at) for doubt in doubts)

    return find


DOUBTS = {
    "seam-times": ("A seam is sewn no more often than the copies of its sides allow, and how often is plain.", True),
    "seam-copy": ("A seam means copies that are cut, and which is plain where its stack hangs on it.", True),
    "piece-wider-than-fitting": ("A piece is no wider than the fitting it is folded round.", True),
    "copies-left-over": ("Every copy of a piece is sewn by its seams.", False),
    "piece-loose": ("Every piece is held by a seam, a join, a landing or hardware.", False),
}
for _name, (_says, _stops) in DOUBTS.items():
    check(_name, _says, "counted from the spec", stops=_stops, needs_whole=True)(_doubts_of(_name))
