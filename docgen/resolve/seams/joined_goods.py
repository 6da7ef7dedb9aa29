"""Goods by length among the strips of a join: a zip lies across it, its tapes over the ends of its neighbours.

Each is a strip of the width of the join and as long as the goods are wide, cut off the roll and not by a template, so that
all that is done with strips is done with it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from docgen.problems import Problem, make_error
from docgen.read import JoinSpec, MaterialSpec, PieceSpec, Spec, TrimmingSpec, Value
from docgen.resolve.values import words
from docgen.tables.defaults import CUT
from docgen.tables.trimmings import TRIMMING_KINDS


def lay_goods_in_joins(spec: Spec, problems: list[Problem]) -> Spec:
    """The spec with a strip for each of the goods by length that its joins name; what cannot be one is noted."""
    pieces = {piece.name: piece for piece in spec.pieces}
    goods = {item.name: item for item in spec.trimmings if item.name not in pieces}
    taken = dict.fromkeys(value.value for join in spec.joins for value in join.of if value.value in goods)
    strips = [_make_strip(spec.joins, pieces, goods[name], problems) for name in taken]
    good = [strip for strip in strips if strip is not None]
    if not good:
        return spec
    return replace(
        spec,
        pieces=(*spec.pieces, *(strip for strip, _ in good)),
        materials=(*spec.materials, *(material for _, material in good)),
    )


def _make_strip(
    joins: tuple[JoinSpec, ...], pieces: Mapping[str, PieceSpec], item: TrimmingSpec, problems: list[Problem]
) -> tuple[PieceSpec, MaterialSpec] | None:
    """The strip, and what it is of; None where the goods cannot be one (noted), or are wrong in themselves (noted)."""
    of = [join for join in joins if item.name in (value.value for value in join.of)]
    place = next(value.place for value in of[0].of if value.value == item.name)
    neighbour = next((pieces[value.value] for value in of[0].of if value.value in pieces), None)
    if item.kind is None or item.what is None or item.thickness is None:
        return None
    if not TRIMMING_KINDS[item.kind.value].is_flat:
        what = f'"{item.name}" is no tape, and cannot be a strip of the join "{of[0].name}"'
        problems.append(make_error(place, what, "name a zip, webbing, elastic or binding, or name it in a seam"))
    elif item.width is None:
        if "width" not in item.wrong:
            what = f'"{item.name}" lies across the join "{of[0].name}", and its width is not said'
            problems.append(make_error(item.place, what, 'add width = "32 mm", of a zip across both tapes, closed'))
    elif neighbour is None:
        what = f'the join "{of[0].name}" has nothing that "{item.name}" is sewn to'
        problems.append(make_error(place, what, "name the strips on both sides of it, in order"))
    elif size := _size_of(neighbour, pieces):
        count = sum(_count(join, pieces, item.name) for join in of)
        return _strip(item, item.what, size[0], item.width, count), _material(item, item.what)
    return None


def _size_of(piece: PieceSpec, pieces: Mapping[str, PieceSpec]) -> tuple[Value[str], ...]:
    """The size of a piece, or of the one that it is like; nothing where there is none."""
    for _ in pieces:
        if piece.size or piece.like is None or piece.like.value not in pieces:
            break
        piece = pieces[piece.like.value]
    return piece.size


def _count(join: JoinSpec, pieces: Mapping[str, PieceSpec], name: str) -> int:
    """How many of the goods lie in all copies of a join: as many as its other strips suffice for."""
    listed = [value.value for value in join.of]

    def copies() -> Iterator[int]:
        for strip in set(listed) & pieces.keys():
            cut = pieces[strip].cut
            yield (cut.value if cut else CUT) // listed.count(strip)

    return max(min(copies(), default=1), 1) * listed.count(name)


def _strip(item: TrimmingSpec, what: Value[str], across: Value[str], width: Value[str], count: int) -> PieceSpec:
    return PieceSpec(
        name=item.name,
        place=item.place,
        title=what,
        of=replace(what, value=_material_name(item)),
        cut=Value(value=count, place=item.place),
        shape=replace(what, value="strip"),
        size=(across, width),
        by_length=True,
    )


def _material(item: TrimmingSpec, what: Value[str]) -> MaterialSpec:
    return MaterialSpec(
        name=_material_name(item),
        place=item.place,
        title=what,
        kind=replace(what, value="fabric"),
        thickness=item.thickness,
        by_length=True,
    )


def _material_name(item: TrimmingSpec) -> str:
    """No name that a spec can say, so that it is none of its own."""
    return f"{words(item.what)} by length"
