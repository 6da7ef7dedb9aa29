"""Where a ring begins on the closed edge that it is sewn round: it begins nowhere there, and is turned until its match
marks meet those of the edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble.goods import Goods
from docgen.assemble.space.items import Link, Sewing
from docgen.assemble.space.track import Track
from docgen.geometry.vector import distance
from docgen.resolve import Piece, marks_along, turn_to_meet

LOOK_MM = 1.0  # how near on a row the place of a notch is looked for
DEEP_MM = 25.0  # a row farther in than this has none of its notches beside it


def turn_ring(goods: Goods, sewing: Sewing) -> Sewing:
    """A seam with the lines of its closed edges begun where its ring does; as it is where no marks tell, or they meet."""
    edged = [link for link in sewing.links if link.track]
    rings = [link for link in edged if link.copy.part in goods.joins and goods.joins[link.copy.part].is_ring]
    closed = [link for link in edged if link.track and link.track.is_closed and link.copy.part in goods.pieces]
    if len(rings) != 1 or not closed:
        return sewing
    join = goods.joins[rings[0].copy.part]
    edges = next(side.edges for side in sewing.seam.sides if side.part == join.name)
    marks = [*marks_along(join, edges, goods.pieces)]
    # Its line runs anticlockwise as those of the pieces do, down its left: they go round against each other.
    shares = [(mm if edges == ("left",) else join.length_mm - mm) / join.length_mm for mm in marks]
    turns = (_turn_of(goods.pieces[link.copy.part], link.track, shares) for link in closed)
    turn = next((turn for turn in turns if turn), 0.0)
    if not turn:
        return sewing
    return replace(sewing, links=tuple(_begin(link, turn) if link in closed else link for link in sewing.links))


def _begin(link: Link, turn: float) -> Link:
    track = link.track
    return replace(link, track=track.begun_at(turn * track.length_mm)) if track else link


def _turn_of(piece: Piece, track: Track | None, shares: Sequence[float]) -> float:
    """How far along a closed row marks at these shares of it are moved on to meet its notches, as a share of it."""
    if track is None:
        return 0.0
    own = [*_notches_on(piece, track)]
    turn_mm, _ = turn_to_meet(own, [share * track.length_mm for share in shares], track.length_mm)
    return turn_mm / track.length_mm


def _notches_on(piece: Piece, track: Track) -> Iterator[float]:
    """How far along a closed row the notches beside it lie."""
    looks = [track.length_mm * k / count for count in [round(track.length_mm / LOOK_MM)] for k in range(count)]
    spots = [(track.point(mm), mm) for mm in looks] if piece.marks.notches else []
    for notch in piece.marks.notches:
        off_mm, at_mm = min((distance(notch.at, spot), mm) for spot, mm in spots)
        if off_mm < DEEP_MM:
            yield at_mm
