"""Ends of a strap that lie back by then, as they are seen on its outer side: it ends at the fold, with what is in that."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import Assembled, InFold, keeper_on, list_in_fold
from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.shapes import Point
from docgen.plan import DrawnPiece
from docgen.resolve import Piece, Strap, by_name, closing_spots

STRIP_MM = 8.0  # more than any bar is thick
SLID_SHARE = 0.3  # of its length, that a keeper which slides is drawn from the turned end: our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class OnStrap:
    """What is seen of a strap with turned ends: how much is turned back at either (0 where none is), the strip
    next to each fold, which begins and ends on that, what lies in the folds or goes round the strap, by its lines on the
    piece, and where posts close the ends, with what these are."""

    turned_mm: tuple[float, float] = (0.0, 0.0)
    edges: tuple[tuple[Point, ...], ...] = ()
    things: tuple[tuple[InFold, tuple[tuple[Point, ...], ...]], ...] = ()
    posts: tuple[tuple[str, Point], ...] = ()

    @property
    def titles(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(thing.title for thing, _ in self.things))

    @property
    def corners(self) -> tuple[Point, ...]:
        return tuple(at for _, rings in self.things for ring in rings for at in ring)


def find_on_strap(build: Assembled, piece: Piece, drawn: DrawnPiece) -> OnStrap:
    """What is drawn so of a piece; nothing of what is no strap."""
    straps = by_name(build.straps)
    strap = straps.get(piece.name)
    if strap is None:
        return OnStrap()
    found = [(which, thing) for which in drawn.turned for thing in list_in_fold(build, strap, which)]
    home = next(iter(drawn.turned), 0)
    for name in drawn.slid:
        found.append((home, keeper_on(straps[name], strap, home, SLID_SHARE * strap.finished_mm)))
    first, second = (strap.ends[which].fold_mm if which in drawn.turned else 0.0 for which in (0, 1))
    return OnStrap(
        turned_mm=(first, second),
        edges=tuple(_placed(strap, which, _strip(strap, which)) for which in drawn.turned),
        things=tuple((thing, tuple(_placed(strap, which, ring) for ring in thing.outlines)) for which, thing in found),
        posts=tuple((strap.ends[which].takes, at) for which in drawn.turned for at in _list_posts(strap, which)),
    )


def _strip(strap: Strap, which: int) -> tuple[Point, ...]:
    """The strap from its fold in as far as a bar may reach, and back to the fold."""
    half_mm = strap.end_width_mm(which) / 2
    return Point(-half_mm, 0.0), Point(-half_mm, -STRIP_MM), Point(half_mm, -STRIP_MM), Point(half_mm, 0.0)


def _placed(strap: Strap, which: int, ring: tuple[Point, ...]) -> tuple[Point, ...]:
    box, fold_mm = outline_box(strap.piece.outline), strap.ends[which].fold_mm
    if which:
        return tuple(Point(box.centre.x - at.x, box.top - fold_mm + at.y) for at in ring)
    return tuple(Point(box.centre.x + at.x, box.bottom + fold_mm - at.y) for at in ring)


def _list_posts(strap: Strap, which: int) -> Iterator[Point]:
    """Where what closes an end comes out on the outer layer, over the holes of what lies back."""
    end, box = strap.ends[which], outline_box(strap.piece.outline)
    for spot in closing_spots(strap, which)[: end.number]:
        away_mm = 2 * end.fold_mm - spot.y
        yield Point(spot.x, box.top - away_mm if which else box.bottom + away_mm)
