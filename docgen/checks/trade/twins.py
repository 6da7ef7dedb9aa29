"""Checks of pieces that are turned over for the other side of a build: each is treated as its model is."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import SWAPPED
from docgen.problems import Place, count_words, name_words
from docgen.resolve import Seam


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
        wanted = SWAPPED.get(twin_edge, twin_edge)
        if seam.name != twin.name and {edge, twin_edge} & {*SWAPPED} and edge != wanted:
            what = (
                f'"{name}" is sewn by its {edge} edge, and "{model}", which it is turned over from, by its '
                f"{twin_edge} edge (line {twin.place.line})"
            )
            yield _place(seam, name), what, f'write "{name}: {wanted}", or accept this', seam.name


@check(
    "twin-held-unlike",
    "A piece that is turned over is sewn as often as its model, and lands where that does.",
    "counted; asked, since one side may be made otherwise",
    needs_whole=True,
)
def find_twins_held_unlike(subject: Subject) -> Iterator[Found]:
    """Pieces cut as often as their model, both sewn flat on one host, of which fewer seams sew one than the other, or one
    alone lands there."""
    models = {spec.name: spec.like.value for spec in subject.spec.pieces if spec.like and spec.mirror}
    for pair in models.items():
        parts = [subject.parts.pieces.get(name) for name in pair]
        if (
            None in parts
            or len({part.cut for part in parts if part}) != 1
            or len({part.material for part in parts if part}) != 1
        ):
            continue
        if not any(all(_lies_on(subject, name, base.name) for name in pair) for base in subject.build.pieces):
            continue
        sewn = {name: [seam for seam in subject.build.seams if name in seam.parts] for name in pair}
        few, many = sorted(pair, key=lambda name: len(sewn[name]))
        if len(sewn[few]) != len(sewn[many]):
            names = name_words(seam.name for seam in sewn[many])
            what = (
                f'{count_words(len(sewn[few]), "seam")} of "{few}", and {len(sewn[many])} of "{many}", the same turned '
                f"over: {names}"
            )
            yield sewn[many][-1].place, what, f'look whether one of them is meant for "{few}", or accept this', few
        yield from _tell_landings(subject, pair)


def _tell_landings(subject: Subject, pair: tuple[str, str]) -> Iterator[Found]:
    for base in subject.build.pieces:
        landed = {mark.piece for mark in base.marks.landings}
        flat = [_lies_on(subject, name, base.name) for name in pair]
        if all(flat) and len(landed & {*pair}) == 1:
            (there,) = landed & {*pair}
            other = next(name for name in pair if name != there)
            what = (
                f'"{there}" lands on "{base.name}", and nothing says where "{other}" does, which is turned over from it'
            )
            mend = f'add to landings of "{base.name}": {{ piece = "{other}", at = ... }}'
            yield subject.parts.pieces[other].place, what, mend, other


def _lies_on(subject: Subject, name: str, host: str) -> bool:
    """Whether a seam sews a piece by its edges flat on another."""
    return any(
        any(side.part == name and side.edges for side in seam.sides)
        and any(side.part == host and not side.edges for side in seam.sides)
        for seam in subject.build.seams
    )


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
