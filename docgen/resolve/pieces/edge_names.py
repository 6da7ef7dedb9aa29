"""Names of edges that are misspelt where they are given: told there, once, and read as the rest of the spec writes them."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from docgen.problems import is_misspelt
from docgen.read import PieceSpec, Spec, Value
from docgen.resolve.values import Reader

NAME_RE = re.compile(r"[a-z][a-z0-9-]*")


def mend_edge_names(reader: Reader, spec: Spec) -> Spec:
    """The spec with the names of edges as they are asked for, where a letter is lost in the one place that gives them."""
    asked = _list_asked(spec)
    return replace(spec, pieces=tuple(_mend(reader, piece, asked.get(piece.name, {})) for piece in spec.pieces))


def _mend(reader: Reader, piece: PieceSpec, asked: dict[str, Value[str]]) -> PieceSpec:
    given_at = [*(point.edge for point in piece.points), *(corner.edge for corner in piece.corners)]
    named = [edge for edge in given_at if edge]
    given = {edge.value for edge in named}
    found = {}
    for edge in named:
        near = [name for name in asked if name not in given and is_misspelt(name, edge.value)]
        if edge.value not in asked and len(near) == 1 and len(near[0]) > len(edge.value):
            found[edge.value] = near[0]
            line = asked[near[0]].place.line
            used = f'"{near[0]}" where it is used (line {line})'
            what = f'an edge of "{piece.name}" is called "{edge.value}" here, and {used}'
            reader.error(edge.place, what, f'write edge = "{near[0]}"')
    if not found:
        return piece
    return replace(
        piece,
        points=tuple(replace(point, edge=_named(point.edge, found)) for point in piece.points),
        corners=tuple(replace(corner, edge=_named(corner.edge, found)) for corner in piece.corners),
    )


def _named(edge: Value[str] | None, found: Mapping[str, str]) -> Value[str] | None:
    return replace(edge, value=found.get(edge.value, edge.value)) if edge else None


def _list_asked(spec: Spec) -> dict[str, dict[str, Value[str]]]:
    """Piece that gives the names of its edges -> names that are asked of it or of its likes, and where first."""
    pieces = {piece.name: piece for piece in spec.pieces}
    found: dict[str, dict[str, Value[str]]] = {}
    for name, value in _list_uses(spec):
        for _ in pieces:  # likes that go round in a circle are told elsewhere
            piece = pieces.get(name)
            if piece is None or piece.points or piece.corners or piece.like is None:
                break
            name = piece.like.value
        words = value.value.partition(":")[2] or value.value
        for word in NAME_RE.findall(words):
            found.setdefault(name, {}).setdefault(word, value)
    return found


def _list_uses(spec: Spec) -> Iterator[tuple[str, Value[str]]]:
    """Every value that may name edges of a piece, with that."""
    for seam in spec.seams:
        yield from ((side.value.partition(":")[0].split(" ")[0], side) for side in seam.meet if ":" in side.value)
    for piece in spec.pieces:
        found = [
            *(hem.edges for hem in piece.hems),
            *(skive.edges for skive in piece.skives),
            *(notch.on for notch in piece.notches),
            *(hole.at for hole in piece.holes),
            *(landing.at for landing in piece.landings),
            *(fold.at for fold in piece.folds),
            *(divider.at for divider in piece.dividers),
        ]
        yield from ((piece.name, value) for value in found if value)
