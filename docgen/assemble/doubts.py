"""What cannot be as it is written, or holds on nothing: told once, with both numbers and the mend."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.bench import Bench
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Slot, list_hosts
from docgen.geometry.vector import distance
from docgen.problems import Problem, make_caution, make_error
from docgen.written.units.telling import format_length

FITS_MM = 0.05


def find_doubts(goods: Goods, bench: Bench, slots: Mapping[str, Sequence[Slot]]) -> Iterator[Problem]:
    """Pieces too wide for what they are folded round, parts that do not exist, and pieces that nothing holds."""
    yield from _find_wide_folds(goods)
    yield from _find_unknown_lines(goods)
    yield from _find_loose_pieces(goods, bench, slots)


def _find_wide_folds(goods: Goods) -> Iterator[Problem]:
    hardware = {item.name: item for item in goods.build.hardware}
    show = goods.build.show
    for piece in goods.pieces.values():
        for fold in piece.marks.folds:
            item = hardware.get(fold.around)
            wide_mm = distance(fold.start, fold.end)
            if item is not None and item.inside_mm and wide_mm > item.inside_mm + FITS_MM:
                what = (
                    f'"{piece.name}" is {format_length(wide_mm, show)} wide where it goes round the {item.what}, which is '
                    f"{format_length(item.inside_mm, show)} inside"
                )
                mend = f"make it {format_length(item.inside_mm, show)} wide or less there, or take a wider one"
                yield make_error(fold.place, what, mend, "piece-wider-than-fitting", piece.name)


def _find_unknown_lines(goods: Goods) -> Iterator[Problem]:
    for piece in goods.pieces.values():
        for name in piece.lines:
            if name not in goods.pieces and name not in goods.joins:
                what = f'"{piece.name}" lines "{name}", and there is no piece or join of that name'
                yield make_error(piece.place, what, "name pieces and joins behind which it lies", "lines", piece.name)


def _find_loose_pieces(goods: Goods, bench: Bench, slots: Mapping[str, Sequence[Slot]]) -> Iterator[Problem]:
    """Pieces that no seam, join, hardware or landing holds, in a build of more than one part."""
    sewn = {side.part for seam in goods.seams.values() for side in seam.sides}
    through = {
        name for piece in goods.pieces.values() for hole in piece.marks.holes if hole.takes for name in hole.through
    }
    hosts = {slot.host.part for found in slots.values() for slot in found}
    held = {*sewn, *through, *hosts, *slots, *goods.joined_strips, *_divided(goods)}
    if len(goods.counts) == 1:
        return
    for name, piece in goods.pieces.items():
        fixes = any(hole.takes and hole.through for hole in piece.marks.holes)
        if (
            name not in held
            and not fixes
            and not list_hosts(goods, name)
            and not any(f.around for f in piece.marks.folds)
        ):
            what = f'nothing holds "{name}": no seam, join, landing or hardware joins it to another part'
            mend = "name it in a seam, or say where it lands"
            yield make_caution(piece.place, what, mend, "piece-loose", name)


def _divided(goods: Goods) -> set[str]:
    lines = [(piece.name, line.on) for piece in goods.pieces.values() for line in piece.dividers if line.on]
    return {name for pair in lines for name in pair}
