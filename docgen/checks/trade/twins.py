"""Checks of pieces that are turned over for the other side of a build: each is treated as its model is."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import Place
from docgen.resolve import Seam

ACROSS = {"left": "right", "right": "left"}


@check(
    "twin-sewn-unlike",
    "A piece that is turned over is sewn by the edges that lie across from those of its model.",
    "plain from the work; asked, since both may be meant to open one way",
    needs_whole=True,
)
def find_unlike_twins(subject: Subject) -> Iterator[Found]:
    """Where a piece and the one it is like are each sewn flat on one host by one seam along one edge, left or right."""
    mirrored = {spec.name: spec.like.value for spec in subject.spec.pieces if spec.like and spec.mirror}
    for name, model in mirrored.items():
        own, other = _sewn_flat(subject, name), _sewn_flat(subject, model)
        if len(own) != 1 or len(other) != 1:
            continue
        (seam, edge), (twin, twin_edge) = own[0], other[0]
        wanted = ACROSS.get(twin_edge, twin_edge)
        if seam.name != twin.name and {edge, twin_edge} & {*ACROSS} and edge != wanted:
            what = (
                f'"{name}" is sewn by its {edge} edge, and "{model}", which it is turned over from, by its '
                f"{twin_edge} edge (line {twin.place.line})"
            )
            yield _place(seam, name), what, f'write "{name}: {wanted}", or accept this', seam.name


def _sewn_flat(subject: Subject, name: str) -> list[tuple[Seam, str]]:
    """The seams that sew a piece flat on another by one edge, and that edge."""
    found = []
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.part == name and side.edges]
        if len(sides) == 1 and any(not side.edges and side.part != name for side in seam.sides):
            found.append((seam, " ".join(sides[0].edges)))
    return found


def _place(seam: Seam, name: str) -> Place:
    return next(side.place for side in seam.sides if side.part == name)
