"""Check of the order of the steps."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import find_disorder
from docgen.checks.trade.check import Found, Subject, check


@check(
    "steps-out-of-order",
    "Steps stand in an order in which they can be done.",
    "plain from the work; what counts as closed in is our choice",
    needs_whole=True,
    gives_way=("marks-taken-over",),
)
def find_late_work(subject: Subject) -> Iterator[Found]:
    """What the spec's own steps do too late, at the place of each step."""
    return find_disorder(subject.build, subject.build.assembly) if subject.build.steps else iter(())
