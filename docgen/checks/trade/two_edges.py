"""Checks of parts that are sewn flat on another: by which edges, and on what."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import ACROSS, outline_box, outline_path
from docgen.geometry.path import flatten
from docgen.resolve import Piece, Seam, SeamSide

CLEAR_MM = 10.0  # nearer to the edge, a seam along that holds it too: our choice
SAME_SIZE_MM = 1.0


@check(
    "held-by-one-corner",
    "A part that two seams sew on, each by one edge, is sewn by edges across from each other.",
    "plain from the work; a loop that is sewn by edges beside each other is shut at one end",
    needs_whole=True,
)
def find_parts_on_one_corner(subject: Subject) -> Iterator[Found]:
    """Rectangles that lie flat on one host by two seams of their own, one edge each, and nowhere else."""
    for piece in subject.build.pieces:
        if piece.shape != "rectangle" or piece.marks.folds or piece.marks.holes:
            continue
        found = [(seam, side) for seam in subject.build.seams for side in seam.sides if side.part == piece.name]
        if len(found) != 2 or not all(len(side.edges) == 1 and side.edges[0] in ACROSS for _, side in found):
            continue
        (first, one), (second, other) = found
        hosts = [_hosts(*pair) for pair in found]
        is_flat = hosts[0] == hosts[1] != set()
        if is_flat and other.edges[0] not in (one.edges[0], ACROSS[one.edges[0]]) and _is_clear(subject, piece.name):
            what = (
                f'"{piece.name}" is sewn on by its {one.edges[0]} (line {first.place.line}) and by its {other.edges[0]}, '
                "which meet at one corner"
            )
            mend = f'write "{piece.name}: {ACROSS[one.edges[0]]}", or accept it where it is to stand open there'
            yield second.place_of(other), what, mend, piece.name


def _hosts(seam: Seam, own: SeamSide) -> set[str]:
    """What a part lies flat on in a seam that sews nothing else; nothing where it is sewn edge to edge."""
    others = [side for side in seam.sides if side is not own]
    return set() if any(side.edges for side in others) else {side.part for side in others}


def _is_clear(subject: Subject, name: str) -> bool:
    """Whether it lands clear of the edges of its hosts, so that no other seam holds it."""
    landed = [(base, mark) for base in subject.build.pieces for mark in base.marks.landings if mark.piece == name]
    return bool(landed) and all(
        distance_to_path(outline_path(base.outline), at) > CLEAR_MM
        for base, mark in landed
        for at in flatten(mark.outline)
    )


@check(
    "seam-beside-host",
    "What lands on one part is sewn flat on that, or on what lies with it there.",
    "plain from the work",
    needs_whole=True,
)
def find_seams_beside_hosts(subject: Subject) -> Iterator[Found]:
    """Pieces that land on one part, sewn flat by a seam of their edges on another that lands there too and is no larger;
    once for a piece."""
    pieces = subject.parts.pieces
    hosts: dict[str, set[str]] = {}
    for base in subject.build.pieces:
        for mark in base.marks.landings:
            hosts.setdefault(mark.piece, set()).add(base.name)
    for name, bases in hosts.items():
        seams = [seam for seam in subject.build.seams if any(side.part == name and side.edges for side in seam.sides)]
        flat = {side.part for seam in seams for side in seam.sides if not side.edges and side.part != name}
        beside = [part for part in flat if part in pieces and hosts.get(part, set()) & bases]
        if (
            flat
            and flat.isdisjoint(bases)
            and len(beside) == len(flat) == 1
            and not _holds_whole(pieces[beside[0]], pieces[name])
        ):
            host = min(bases)
            seam = next(seam for seam in seams if any(side.part == beside[0] for side in seam.sides))
            what = f'the seam "{seam.name}" sews "{name}" on "{beside[0]}", and it lands on "{host}", larger than that'
            place = next(side.place for side in seam.sides if side.part == beside[0])
            yield place if place.line else seam.place, what, f'write "{host}" in place of "{beside[0]}"', seam.name


def _holds_whole(host: Piece, piece: Piece) -> bool:
    one, other = outline_box(host.sewn_outline), outline_box(piece.sewn_outline)
    return one.width >= other.width - SAME_SIZE_MM and one.height >= other.height - SAME_SIZE_MM


@check(
    "pocket-sewn-shut",
    "The hem of a pocket is sewn to itself, and not to what the pocket is sewn on.",
    "plain from the work",
    needs_whole=True,
)
def find_shut_pockets(subject: Subject) -> Iterator[Found]:
    """Hemmed edges that a seam sews flat on a part on which another seam sews the other edges."""
    for piece in subject.build.pieces:
        hemmed = piece.hemmed
        for seam in subject.build.seams if hemmed else ():
            own = [side for side in seam.sides if side.part == piece.name and side.edges]
            flat = [side for side in seam.sides if not side.edges and side.part != piece.name]
            if (
                len(own) == 1
                and {*own[0].edges} <= hemmed
                and flat
                and _is_sewn_on(subject, piece.name, seam, flat[0].part)
            ):
                what = f'the seam "{seam.name}" sews the hem of "{piece.name}" to "{flat[0].part}", and shuts it'
                place = seam.place_of(flat[0])
                yield place, what, f'write "{piece.name}" in place of "{flat[0].part}"', seam.name


def _is_sewn_on(subject: Subject, name: str, but: Seam, host: str) -> bool:
    """Whether another seam sews more than one edge of a piece flat on that host."""
    return any(
        any(side.part == name and len(side.edges) > 1 for side in seam.sides)
        and any(side.part == host and not side.edges for side in seam.sides)
        for seam in subject.build.seams
        if seam is not but
    )
