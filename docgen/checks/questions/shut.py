"""Pockets that are sewn shut where they lie: all round, or by their mouth."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.lost_digits import POCKETS
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES, WHOLE
from docgen.resolve import Piece, Seam
from docgen.tables.cautions import has_phrase

MOST: Final = 200
MOUTH: Final = "mouth"


@question
def ask_shut(subject: Subject) -> Iterator[Question]:
    """Pieces that are pockets or belt loops by their word and are sewn flat on what they land on by all their edges, with
    no zip, slit or hole anywhere in either; and edges called mouth that are sewn flat on that."""
    pieces = subject.parts.pieces
    landed = {(landing.piece, base.name) for base in subject.build.pieces for landing in base.marks.landings}
    zips = {item.name for item in subject.build.trimmings if item.kind == "zip"}
    for seam in subject.build.seams[:MOST]:
        own = [side for side in seam.sides if side.edges]
        hosts = [side.part for side in seam.sides if not side.edges]
        piece = pieces.get(own[0].part) if len(own) == 1 and hosts else None
        if piece is None or not any((piece.name, host) in landed for host in hosts):
            continue
        side, answer = own[0], "name the edges that are closed; where it is meant so there is nothing to do"
        if MOUTH in side.edges:
            what = f'the seam "{seam.name}" sews the mouth of "{piece.name}" to "{hosts[0]}"'
            yield Question(place=seam.place_of(side), what=what, answer=answer)
        elif _is_pocket(piece) and _is_all(seam, side.edges) and not _is_zipped(subject, piece, zips):
            if any(_is_open(pieces.get(name)) for name in (piece.name, *(() if _is_loop(piece) else hosts))):
                continue
            what = f'the seam "{seam.name}" sews "{piece.name}" to "{hosts[0]}" all round, and nothing opens into it'
            yield Question(place=seam.place_of(side), what=what, answer=answer)


def _is_zipped(subject: Subject, piece: Piece, zips: set[str]) -> bool:
    seams = [seam for seam in subject.build.seams if piece.name in seam.parts]
    return not zips.isdisjoint(use.name for seam in seams for use in seam.trimmings)


def _is_all(seam: Seam, edges: tuple[str, ...]) -> bool:
    return not any(side.ends for side in seam.sides) and (edges == (WHOLE,) or {*SIDES} <= {*edges})


def _is_pocket(piece: Piece) -> bool:
    return _is_loop(piece) or is_called(piece, POCKETS)


def _is_loop(piece: Piece) -> bool:
    return has_phrase(piece.title, "belt loop")


def _is_open(piece: Piece | None) -> bool:
    """Whether something is cut in a piece through which a hand or a card may go."""
    return piece is None or bool(piece.marks.slits or any(it.long_mm for it in piece.marks.holes))
