"""What of a part lies under the hem that a seam turns over it, and is not seen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.apart.bonds import step_of
from docgen.assemble.apart.laid_flat import band_under
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed, Space
from docgen.assemble.space.surface import clip
from docgen.geometry.outline import WHOLE, outline_box
from docgen.geometry.shapes import Point
from docgen.resolve import Fold, Hem, Piece, Seam, by_name, catches

Covered = tuple[int, tuple[Point, ...]]
"""The step (from 0) that turns a hem over a part, and what of its outline is seen then."""


def find_hemmed(build: Assembled, lifted: Space) -> Mapping[Copy, Covered]:
    """The parts that lie on the inner side of a hemmed piece and are caught under its hem."""
    seams, pieces, found = by_name(build.seams), by_name(build.pieces), dict[Copy, Covered]()
    for once in build.assembly.sewn:
        for host in (lifted.part(side) for side in once.sides if side.part in pieces):
            under = catches(seams[once.seam].sides, pieces[host.copy.part]) if host is not None else ()
            for placed in (lifted.part(side) for side in once.sides if side.part in under):
                if host is not None and placed is not None and placed.host == host.copy and placed.level < 0:
                    ring = _seen(pieces[host.copy.part], seams[once.seam], host, placed)
                    found[placed.copy] = step_of(build, once.event), ring
    return found


def _seen(piece: Piece, seam: Seam, host: Placed, placed: Placed) -> tuple[Point, ...]:
    """The outline of a part without what lies under the hem of its host along that seam."""
    ring: Sequence[Point] = placed.ring
    middle = outline_box(piece.sewn_outline).centre
    for fold, hem in _hems_of(piece, seam):
        hand = math.copysign(1.0, fold.off_mm(middle))
        ring = clip(ring, [hand * fold.off_mm(_on_host(host, placed, at)) - hem.turned_mm for at in ring])
    return tuple(ring)


def _hems_of(piece: Piece, seam: Seam) -> Iterator[tuple[Fold, Hem]]:
    """The hems that a seam sews down on their piece, each with the fold that becomes the edge."""
    edges = {edge for side in seam.sides if side.part == piece.name for edge in side.edges}
    for hem in (hem for hem in piece.hems if WHOLE in hem.edges or edges & {*hem.edges}):
        folds = (fold for fold in piece.marks.folds if fold.of_hem and fold.place == hem.place)
        yield from ((fold, hem) for fold in folds if fold.turned_mm >= hem.depth_mm)


def _on_host(host: Placed, placed: Placed, at: Point) -> Point:
    """Where a point of a part lies on its host, both flat there."""
    band = host.surface.bands[band_under(host, placed)]
    return host.surface.foot_in_plane(band, placed.surface.point(at))[0]
