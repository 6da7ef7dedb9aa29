"""Check of hardware against pockets and zips that lie over its hole by the time it is set."""

from collections.abc import Iterator
from typing import Final

from docgen.assemble import Fastened
from docgen.checks.called import is_called
from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import line_words
from docgen.resolve import Piece

POCKETS: Final = ("pocket", "slot")


@check(
    "post-through-pocket",
    "No hardware of what lies beneath goes through a pocket that has no hole for it, or through a zip.",
    "plain from the work; one that is meant may be accepted",
    needs_whole=True,
    gives_way=("hole-covered",),
)
def find_nailed_pockets(subject: Subject) -> Iterator[Found]:
    """Hardware whose post meets a zip, or a pocket without a hole there that its own hole does not name, once each."""
    zips = {item.name for item in subject.build.trimmings if item.kind == "zip"}
    zipped = {piece.name for piece in subject.build.pieces if any(line.goods in zips for line in piece.dividers)}
    pockets = {piece.name: piece for piece in subject.build.pieces if piece.name in zipped or is_called(piece, POCKETS)}
    told = set()
    for fit in subject.build.assembly.fastened if pockets or zips else ():
        over = next((name for name in fit.stack.parts if _is_shut_by(subject, fit, pockets.get(name))), "")
        through = next((name for name in fit.stack.parts if name in zips), "")
        if (over or through) and fit.place not in told:
            told.add(fit.place)
            line = line_words(pockets[over].place.line) if over else ""
            met = [f'"{over}"{line}, which lies over it and has no hole there'] if over else []
            met += [f'the zip "{through}"'] if through else []
            what = f'"{fit.hardware}" in "{fit.part}" goes through {", and through ".join(met)}: it is nailed shut'
            mend = "measure again where both lie, set it before that is laid over it, or punch both where that is meant"
            yield fit.place, what, mend, fit.part


def _is_shut_by(subject: Subject, fit: Fastened, over: Piece | None) -> bool:
    """Whether a pocket lies on what hardware is set in, where nothing says that this is to go through it."""
    host = subject.parts.pieces.get(fit.part)
    if host is None or over is None or over.name == fit.part:
        return False
    named = {name for hole in host.marks.holes if hole.takes == fit.hardware for name in hole.through}
    return over.name not in named and not any(host.title in hole.meets for hole in over.marks.holes)
