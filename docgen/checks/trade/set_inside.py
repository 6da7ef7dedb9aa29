"""Check of what a setting tool reaches, once the rest is closed."""

from collections.abc import Iterator

from docgen.assemble import Closing, Copy
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import edge_names, edge_path
from docgen.problems import Place
from docgen.resolve import Hole, Piece
from docgen.tables.hardware import KINDS_WITH_ANVIL


@check(
    "setter-cannot-reach",
    "What is set with an anvil behind it, in a part that a body runs round by then, lies within {setter_reach} of an edge "
    "that is still open.",
    PRACTICE,
    needs_whole=True,
)
def find_out_of_setters_reach(subject: Subject) -> Iterator[Found]:
    """Rivets, snaps and eyelets, by the deepest hole of the closed part that takes them; once for part and hardware."""
    assembly = subject.build.assembly
    kinds = {item.name: item.kind for item in subject.build.hardware}
    closing = Closing(subject.build, assembly)
    told: set[tuple[str, str]] = set()
    for one in assembly.fastened:
        if one.event >= len(assembly.events) or kinds[one.hardware] not in KINDS_WITH_ANVIL:
            continue
        for name in _bodies(subject, one.stack.parts):
            key = name, one.hardware
            if key in told or not closing.is_round(Copy(name), one.event):
                continue
            told.add(key)
            free = closing.free_edges(Copy(name), one.event)
            deepest = max(_depths(subject, name, one.hardware, free), key=lambda found: found[0], default=None)
            if deepest is not None and deepest[0] > subject.build.limits.setter_reach_mm + 1e-6:
                step = assembly.events[one.event].step
                what = (
                    f'step {step + 1} sets "{one.hardware}" {subject.length(deepest[0])} inside of "{name}", which is '
                    f"closed by then (line {deepest[1].place.line})"
                )
                yield _place(subject, step, deepest[1]), what, "set it before that is closed", name


def _bodies(subject: Subject, parts: tuple[str, ...]) -> list[str]:
    """The parts of a stack, a strip as the join that it is part of."""
    joins = subject.build.join_of
    return [name for name in dict.fromkeys(joins.get(part, part) for part in parts) if name not in subject.parts.straps]


def _depths(subject: Subject, name: str, hardware: str, free: tuple[str, ...]) -> Iterator[tuple[float, Hole]]:
    """How far the holes of a part that take this, or wait for it, lie from the nearest edge that is still open."""
    pieces: list[Piece] = [*subject.parts.strips(name)] or [subject.parts.pieces[name]]
    for piece in pieces:
        edges = [edge_path(piece.sewn_outline, edge) for edge in free if edge in edge_names(piece.sewn_outline)]
        for hole in piece.marks.holes if edges else ():
            if hole.takes == hardware or (not hole.takes and hole.meets):
                yield min(distance_to_path(edge, hole.at) for edge in edges), hole


def _place(subject: Subject, step: int, hole: Hole) -> Place:
    steps = subject.build.steps
    return steps[step].place if step < len(steps) else hole.place
