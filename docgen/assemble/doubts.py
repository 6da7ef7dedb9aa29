"""What cannot be as it is written, or holds on nothing: told once, with both numbers and the mend."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.assembly import Sewn
from docgen.assemble.bench import Bench
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Slot, list_hosts, step_parts
from docgen.assemble.loose import find_loose_straps, find_open_ends
from docgen.geometry.vector import distance
from docgen.problems import Problem, line_words, make_caution, make_error
from docgen.resolve import Step
from docgen.tables.consumables import is_glue
from docgen.written.units.telling import format_length

FITS_MM = 0.05
# What a step begins with that has single parts in hand, and words of one that holds them together all the same.
PREPARES = frozenset({"bevel", "burnish", "cut", "dye", "edge", "mark", "punch", "skive", "smooth"})
HOLDS = frozenset({"cement", "clip", "fold", "glue", "lace", "lay", "nail", "sew", "slip", "stick", "tape", "tie"})


def find_doubts(
    goods: Goods, bench: Bench, slots: Mapping[str, Sequence[Slot]], sewn: Sequence[Sewn]
) -> Iterator[Problem]:
    """Pieces too wide for what they are folded round, what nothing holds, and what stays open."""
    yield from _find_wide_folds(goods)
    yield from _find_loose_pieces(goods, bench, slots)
    yield from find_loose_straps(goods)
    yield from find_open_ends(goods, sewn)


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
                wide, high = goods.size_mm(piece.name)
                if piece.shape in ("rectangle", "strip") and (wide + high - wide_mm) <= item.inside_mm + FITS_MM:
                    other = "middle" if abs(fold.start.x - fold.end.x) < abs(fold.start.y - fold.end.y) else "centre"
                    line = line_words(piece.place.line)
                    mend = f'did you mean "{other}"? or are its two sizes{line} the other way about?'
                yield make_error(fold.place, what, mend, "piece-wider-than-fitting", piece.name)


def _find_loose_pieces(goods: Goods, bench: Bench, slots: Mapping[str, Sequence[Slot]]) -> Iterator[Problem]:
    """Pieces that no seam, join, hardware, landing or step holds, in a build of which anything is joined. What no step
    names at all is told by another check."""
    steps = goods.build.steps
    named = {name for step in steps for name in step_parts(goods, step)}
    held = _held(goods, slots)
    for name, piece in goods.pieces.items():
        if name not in held and not list_hosts(goods, name) and (name in named or not steps):
            what = f'nothing holds "{name}": no seam, join, landing or hardware joins it to another part'
            mend = "name it in a seam, or say where it lands"
            yield make_caution(piece.place, what, mend, "piece-loose", name)


def _held(goods: Goods, slots: Mapping[str, Sequence[Slot]]) -> set[str]:
    """Pieces that something joins to another part; all of them where nothing is joined, as of a set of coasters."""
    sewn = {side.part for seam in goods.seams.values() for side in seam.sides}
    holes = [(name, hole) for name, piece in goods.pieces.items() for hole in piece.marks.holes]
    riveted = {part for name, hole in holes if hole.takes and hole.through for part in (name, *hole.through)}
    if not (sewn or riveted or goods.joins):
        return {*goods.pieces}
    hosts = {slot.host.part for found in slots.values() for slot in found}
    folded = {name for name, piece in goods.pieces.items() if any(fold.around for fold in piece.marks.folds)}
    together = [set(step_parts(goods, step)) for step in goods.build.steps if not _only_prepares(step)]
    glued = {name for parts in together if len(parts) > 1 for name in parts}
    return {*sewn, *riveted, *hosts, *slots, *folded, *glued, *goods.joined_strips, *_divided(goods)}


def _only_prepares(step: Step) -> bool:
    """Whether a step does nothing but cut, punch or finish single parts."""
    is_joining = step.seams or step.joins or step.hardware or step.straps or any(is_glue(tool) for tool in step.tools)
    words = [word.lower() for line in (step.do, *step.first, *step.last) for word in re.findall("[A-Za-z]+", line)]
    return bool(words) and words[0] in PREPARES and not is_joining and HOLDS.isdisjoint(words)


def _divided(goods: Goods) -> set[str]:
    lines = [(piece.name, line.on) for piece in goods.pieces.values() for line in piece.dividers if line.on]
    return {name for pair in lines for name in pair}
