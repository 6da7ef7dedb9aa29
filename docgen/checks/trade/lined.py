"""Checks of linings: as many as there are parts that they line."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.resolve import Piece


@check("lining-short", "There is a lining for every part that it is said to line.", "counted", needs_whole=True)
def find_few_linings(subject: Subject) -> Iterator[Found]:
    """Cloth and thin leather that no seam holds, of the shape of another piece or named to lie behind some; foam and
    board stiffen some of them only."""
    sewn = {side.part for seam in subject.build.seams for side in seam.sides}
    for piece in subject.build.pieces:
        material = subject.material(piece)
        lined = _lined_by(subject, piece)
        if not lined or material is None or material.kind != "fabric" or piece.name in sewn:
            continue
        need, cut = sum(subject.counts[name] for name in lined), subject.counts[piece.name]
        if cut < need:
            names = " and ".join(f'"{name}"' for name in lined)
            are = "is" if cut == 1 else "are"
            what = f'{cut} of the lining "{piece.name}" {are} cut, and it lines {names}, {need} in all'
            place = subject.written_at(subject.spec.pieces, piece.name, "cut", "like")
            yield place, what, f"write cut = {need}", piece.name


def _lined_by(subject: Subject, piece: Piece) -> list[str]:
    """The parts that a piece lies behind: those it names, else its model in leather."""
    if piece.lines:
        return [name for name in dict.fromkeys(piece.lines) if subject.counts[name]]
    spec = subject.piece_spec(piece.name)
    model = spec.like.value if spec and spec.like else ""
    other = subject.parts.pieces.get(model)
    material = subject.material(other) if other else None
    return [model] if material is not None and material.kind == "leather" else []
