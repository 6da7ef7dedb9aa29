"""How each seam is told from the others on the page: a number, a colour and dashes, the same on every piece."""

from collections.abc import Iterable
from typing import Final

from docgen.classes import dataclass
from docgen.resolve import Build

COLOURS: Final = ("#0072b2", "#b34e00", "#007a5e", "#a33c7d", "#5b3b99", "#8a5a00", "#c1121f", "#33658a")
"""Dark enough for white ground (at least 4.5 to 1, WCAG 2.1, 1.4.3); number and dashes tell seams apart without them."""

DASHES: Final = ("7 4", "12 4 3 4", "3 3", "12 4", "9 3 2 3 2 3")


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamLook:
    """`dash` is in pixels of the screen."""

    name: str
    number: int
    title: str
    colour: str
    dash: str


def list_seam_looks(build: Build) -> tuple[SeamLook, ...]:
    """A look for everything that has a stitch line on a piece, in the order of the spec."""
    drawn = {line.seam for piece in build.cut for line in piece.marks.stitch_lines}
    titles = build.seam_titles
    return tuple(_number((name, titles.get(name, name)) for name in [*_in_order(titles, drawn)]))


def _in_order(titles: Iterable[str], drawn: set[str]) -> list[str]:
    known = [name for name in titles if name in drawn]
    return [*known, *sorted(drawn.difference(known))]


def _number(names: Iterable[tuple[str, str]]) -> Iterable[SeamLook]:
    for k, (name, title) in enumerate(names):
        colour, dash = COLOURS[k % len(COLOURS)], DASHES[k % len(DASHES)]
        yield SeamLook(name=name, number=k + 1, title=title, colour=colour, dash=dash)
