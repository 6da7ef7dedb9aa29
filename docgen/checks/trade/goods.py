"""Checks of pieces and straps against the hides and panels that they are cut from."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.problems import line_words
from docgen.resolve import Goods, Material, Strap
from docgen.tables.hides import DEEPEST, HIDES, PANEL
from docgen.written.units.telling import format_areas

SOLVED = '"solve"'
SLACK_MM = 1e-6
MOST_AREA_TIMES = 2.0
FAR_TIMES = 1.5  # so many times as long as any of its goods, a piece has a slip in its figure: our choice


@check(
    "longer-than-goods",
    "A strap is no longer than the straight edge of the hide, or than the panel, that it is cut from.",
    "plain from the goods; usual edges by docgen.tables.hides",
    stops=True,
)
def find_long_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap, with what is longest of it from goods whose size is known."""
    for strap in subject.build.straps:
        for name, length_mm in _layers(strap):
            material = subject.parts.materials.get(name)
            goods = material.goods if material else Goods()
            most_mm = goods.edge_mm if goods.is_hide else max(goods.width_mm, goods.length_mm)
            if (goods.is_hide or goods.sold == PANEL) and length_mm > most_mm + SLACK_MM:
                what = (
                    f'the strap "{strap.name}" is cut {subject.length(length_mm)} long, and {_edge_words(goods)} of '
                    f'"{name}" is {subject.length(most_mm)}'
                )
                mend = "join it from two lengths, or take longer goods and write how long they are"
                least_mm = min(strap.hole_tips_mm, default=0.0)
                if length_mm > subject.build.limits.hide_strap_mm:
                    mend = f"look at its length and its unit; else {mend}"
                if least_mm > subject.build.limits.longest_tip_mm:
                    line = line_words(subject.written_at(subject.spec.straps, strap.name, "holes").line)
                    mend = f"look at the tip of {subject.length(least_mm)}{line}; else {mend}"
                yield subject.written_at(subject.spec.straps, strap.name, "finished", "wears"), what, mend, strap.name
                break


def _layers(strap: Strap) -> Iterator[tuple[str, float]]:
    """What is cut for a strap: of which material, how long."""
    yield strap.material, strap.cut_length_mm
    if strap.lining:
        yield strap.lining, strap.lining_length_mm
    if strap.padding:
        yield strap.padding, strap.padding_length_mm


def _edge_words(goods: Goods) -> str:
    return "the straight edge" if goods.is_hide else "the longer side of a panel"


@check(
    "larger-than-goods",
    "A piece comes out of the hide or the panel that it is cut from.",
    "plain from the goods; how deep a hide is in the middle by docgen.tables.hides, our choice",
    stops=True,
)
def find_large_pieces(subject: Subject) -> Iterator[Found]:
    """Once for a piece that fits in no way in which it may lie, and those like it of the same goods."""
    told: set[tuple[str, str]] = set()
    for piece in subject.build.pieces:
        material = subject.material(piece)
        if material is None or not (material.goods.is_hide or material.goods.sold == PANEL):
            continue
        box, goods = outline_box(piece.outline), material.goods
        lies = piece.least_stretch or ("up" if goods.has_nap else "")
        ways = {"up": (box.width, box.height), "across": (box.height, box.width)}
        across_mm, along_mm = _room(goods)
        allowed = [ways[lies]] if lies else list(ways.values())
        is_told = (piece.model, material.name) in told
        if not any(a <= across_mm + SLACK_MM and b <= along_mm + SLACK_MM for a, b in allowed) and not is_told:
            told |= {(name, material.name) for name in (piece.name, piece.model) if name}
            what = (
                f'"{piece.name}" is {subject.length(box.width)} by {subject.length(box.height)}, and '
                f"{_goods_words(material)} is {subject.length(across_mm)} by {subject.length(along_mm)}"
            )
            turn = "turn it where the nap may lie the other way; " if goods.has_nap else ""
            turn = "leave out least-stretch, so that it may be turned; " if piece.least_stretch else turn
            mend = f"{turn}cut it from two pieces, or take larger goods"
            if max(box.width, box.height) > FAR_TIMES * max(across_mm, along_mm):
                mend = f"look at the figure and its unit; else {mend}"
            place = subject.size_place(piece, is_across=box.width > box.height)
            sides = [side for seam in subject.build.seams if piece.name in seam.parts for side in seam.sides]
            givers = [subject.parts.pieces[side.part] for side in sides if side.part in subject.parts.pieces]
            giver = next((one for one in givers if one.name != piece.name), None)
            if place.words == SOLVED and giver is not None:
                line = subject.size_place(giver, is_across=False).line
                mend = f'look at the size of "{giver.name}", which gives its length{line_words(line)}; else {mend}'
            yield place, what, mend, piece.name


@check(
    "area-range-wide",
    f"Hides of one kind differ in area: the largest is at most {MOST_AREA_TIMES:g} times the smallest.",
    "our choice: sides are sold as 20 to 25 sq ft, or 22 to 26",
)
def find_wide_ranges(subject: Subject) -> Iterator[Found]:
    for material in subject.build.materials:
        goods = material.goods
        if goods.is_hide and goods.most_mm2 > MOST_AREA_TIMES * goods.least_mm2 + SLACK_MM:
            areas = format_areas(goods.least_mm2, goods.most_mm2, subject.show)
            what = f'a {HIDES[goods.sold].one} of "{material.name}" is {areas}'
            place = subject.written_at(subject.spec.materials, material.name, "area")
            yield place, what, "look at both figures", material.name


def _room(goods: Goods) -> tuple[float, float]:
    """How wide and long the goods are at most, across and along the grain or backbone."""
    if goods.is_hide:
        return DEEPEST * goods.most_mm2 / goods.edge_mm, goods.edge_mm
    return goods.width_mm, goods.length_mm


def _goods_words(material: Material) -> str:
    goods = material.goods
    if goods.is_hide:
        return f'the largest {HIDES[goods.sold].one} of "{material.name}"'
    return f'a panel of "{material.name}"'
