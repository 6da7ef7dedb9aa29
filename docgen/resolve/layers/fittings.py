"""Hardware in its place: which layers each goes through, and which post from the drawer fits.

One fitting goes through every hole that lies under it: those of pieces that land here, and the other half of a piece
that is folded over.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from docgen.geometry.measure import is_inside
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.problems import Place
from docgen.resolve.goods.values import Hardware
from docgen.resolve.layers.layer import Fitting, Layer
from docgen.resolve.layers.stack import folded_spots, layers_at, whole_layer
from docgen.resolve.marks import Hole, Landing
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.straps.strap import Strap
from docgen.tables.hardware import choose_post, find_post_mm, find_slack_mm
from docgen.tables.limits import Limits
from docgen.tables.sewing import HOLES_MEET_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Beneath:
    """A piece that another lands on, and how."""

    base: Piece
    landing: Landing


def find_fittings(parts: Parts) -> tuple[Fitting, ...]:
    """Every place that takes hardware, alike ones as one entry with their number for one make."""
    beneath = find_beneath(parts.pieces)
    found = [
        *(fitting for piece in parts.pieces.values() for fitting in _piece_fittings(piece, beneath, parts)),
        *(fitting for strap in parts.straps.values() for fitting in _strap_fittings(strap, parts)),
    ]
    grouped: dict[Fitting, int] = {}
    places: dict[Fitting, Place] = {}
    for fitting in found:
        if fitting.hardware in parts.hardware:
            item = parts.hardware[fitting.hardware]
            made = _choose(replace(fitting, count=0, place=Place()), item, parts.limits)
            places.setdefault(made, fitting.place)
            grouped[made] = grouped.get(made, 0) + fitting.count
    return tuple(replace(made, count=count, place=places[made]) for made, count in grouped.items())


def find_beneath(pieces: Mapping[str, Piece]) -> dict[str, tuple[Beneath, ...]]:
    """For each piece that lands on others: on which."""
    found: dict[str, list[Beneath]] = {}
    for base in pieces.values():
        for landing in base.marks.landings:
            found.setdefault(landing.piece, []).append(Beneath(base=base, landing=landing))
    return {name: tuple(places) for name, places in found.items()}


def move_to_base(at: Point, landing: Landing) -> Point:
    """A point of the piece that lands, on the piece beneath."""
    return Point(at.x + landing.dx_mm, at.y + landing.dy_mm)


def move_to_landed(at: Point, landing: Landing) -> Point:
    """A point of the piece beneath, on the piece that lands."""
    return Point(at.x - landing.dx_mm, at.y - landing.dy_mm)


def _piece_fittings(piece: Piece, beneath: Mapping[str, tuple[Beneath, ...]], parts: Parts) -> Iterator[Fitting]:
    passed: set[int] = set()
    for index, hole in enumerate(piece.marks.holes):
        if not hole.takes or index in passed:
            continue
        for spot in folded_spots(piece, hole.at):
            passed |= {
                other for other, twin in enumerate(piece.marks.holes) if other != index and _meets(twin, hole, spot)
            }
        below = beneath.get(piece.name, ())
        if any(_has_hole(place.base, hole, move_to_base(hole.at, place.landing)) for place in below):
            continue  # told with the piece beneath
        layers = [*layers_at(piece, hole.at, parts), *_landed_layers(piece, hole.at, None, parts)]
        if below:
            at = move_to_base(hole.at, below[0].landing)
            layers += layers_at(below[0].base, at, parts)
            layers += _landed_layers(below[0].base, at, below[0].landing, parts)
        layers += [layer for name in hole.through if (layer := whole_layer(name, parts)) is not None]
        yield _make(hole.takes, piece.name, piece.cut, layers, hole)


def _meets(twin: Hole, hole: Hole, spot: Point) -> bool:
    return twin.takes == hole.takes and distance(twin.at, spot) <= HOLES_MEET_MM


def _has_hole(base: Piece, hole: Hole, at: Point) -> bool:
    return any(_meets(other, hole, at) for other in base.marks.holes)


def _landed_layers(base: Piece, at: Point, but: Landing | None, parts: Parts) -> list[Layer]:
    return [
        layer
        for landing in base.marks.landings
        if landing is not but and landing.piece in parts.pieces and is_inside(landing.outline, at)
        for layer in layers_at(parts.pieces[landing.piece], move_to_landed(at, landing), parts)
    ]


def _strap_fittings(strap: Strap, parts: Parts) -> Iterator[Fitting]:
    """Turned ends: the strap twice, and its lining between."""
    own = Layer(part=strap.name, material=strap.material, thickness_mm=parts.materials[strap.material].thickness_mm)
    lining = [
        Layer(part=strap.name, material=strap.lining, thickness_mm=parts.materials[strap.lining].thickness_mm)
        for _ in range(bool(strap.lining))
    ]
    for end in strap.ends:
        if end.takes:
            made = _make(end.takes, strap.name, strap.cut * end.number, [own, *lining, own], None)
            yield replace(made, place=end.place, around=end.around)


def _make(takes: str, part: str, count: int, layers: list[Layer], hole: Hole | None) -> Fitting:
    made = Fitting(
        hardware=takes,
        part=part,
        count=count,
        layers=tuple(layers),
        stack_mm=sum(layer.thickness_mm for layer in layers),
    )
    return replace(made, place=hole.place) if hole else made


def _choose(fitting: Fitting, item: Hardware, limits: Limits) -> Fitting:
    wanted = find_post_mm(item.kind, fitting.stack_mm, limits.post_over_mm(item.kind))
    if wanted is None:
        return fitting
    least_mm, most_mm = wanted
    post_mm = choose_post(wanted, item.posts_mm, find_slack_mm(item.kind))
    return replace(fitting, post_least_mm=least_mm, post_most_mm=most_mm or 0.0, post_mm=post_mm or 0.0)
