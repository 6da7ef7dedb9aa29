"""Plan -> cutting list: what to cut from each material in the order of cutting, and what to buy."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.pages.drawn.tiny_drawing import draw_tiny_piece
from docgen.pages.lists.supply_list import hardware_blocks, supply_blocks, thread_blocks, trimming_blocks
from docgen.pages.lists.tally import draw_tally
from docgen.pages.looks.block_order import arrange, find_order
from docgen.pages.looks.words import say, words
from docgen.pages.marks.page import Document
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Block, Caution, Column, Figure, Heading, KeyValues, Table, Together
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import (
    accepted_blocks,
    finding_words,
    head_blocks,
    hold_measures,
    page_blocks,
    paragraph,
    picture_beside,
)
from docgen.pages.setting.setup import Setup
from docgen.plan import (
    Bought,
    CutItem,
    MaterialPlan,
    Plan,
    StraightEdge,
    StrapItem,
    join_words,
    purpose_words,
    skive_notes,
    taper_words,
)
from docgen.resolve import Marks, Material
from docgen.tables.cautions import HAZARDS
from docgen.tables.hides import HIDES, PANEL, ROLL
from docgen.tables.practice import NOTCH_DEEP_MM
from docgen.written.units.telling import (
    Show,
    format_about_area,
    format_area,
    format_areas,
    format_bought_area,
    format_bought_run,
    format_length,
    format_number,
    format_run,
    format_short_area,
    format_slot,
    format_thickness,
)

NAME = "cutting-list"
JOINT_NAME = "joint-cutting-list"

DRAWING_HIGH_MM = 13.0
# Shares of the width: drawing, title, number and boxes, size, area, notes.
SHARES = (15.0, 26.0, 14.0, 41.5, 22.5, 58.0)
SPACES_MM = {"cell_pad_mm": 0.5, "block_gap_mm": 2.2, "heading_gap_mm": 4.5, "subheading_gap_mm": 3.6}
TIMES = "\u00a0×\u00a0"
NAME_OF_WORDS = "cutting_list"  # the table of its sentences
GROUPS = ("panels", "small", "under")
MOST_BESIDE = 3  # facts beside each other; more go into two rows

Said = Mapping[str, str]
Row = tuple[str | Figure, ...]


def lay_out_cutting_list(plan: Plan, setup: Setup, name: str = NAME, pictures: Pictures | None = None) -> Document:
    """The pages of the cutting list, or of the one for all variants together; nothing in it can fail, since the plan
    has no holes. With `pictures` the finished article stands small at its head."""
    said, show = words("cutting"), plan.build.show
    setup = replace(setup, style=setup.style.closer(SPACES_MM))
    head = (*head_blocks(name, plan, setup), *_joined_blocks(plan, said))
    blocks: dict[str, Sequence[Block]] = {
        **_set_head(head, _how_blocks(plan), pictures.small(setup.style) if pictures else None, setup),
        "blade": (_blade_caution(),),
        "cautions": _caution_blocks(plan, said),
        "accepted": accepted_blocks(plan.build),
        "materials": [block for material in plan.materials for block in _material_blocks(material, show, setup, said)],
        "hardware": hardware_blocks(plan.hardware, said),
        "trimmings": trimming_blocks(plan.trimmings, show, said),
        "thread": thread_blocks(plan.threads, show, said),
        "supplies": supply_blocks(plan, said),
    }
    return page_blocks(arrange("cutting_list", blocks), name, plan, setup)


def _set_head(
    head: tuple[Block, ...], how: tuple[Block, ...], picture: Figure | None, setup: Setup
) -> dict[str, Sequence[Block]]:
    """The head beside the picture, and with it how to read the list, where that follows and is lower so."""
    apart, joined = picture_beside(head, picture), picture_beside((*head, *how), picture)
    wide, style = setup.frame.width, setup.style
    is_lower = flow_height_mm(joined, wide, style) < flow_height_mm((*apart, *how), wide, style)
    if find_order("cutting_list")[:2] == ("head", "how") and is_lower:
        return {"head": joined}
    return {"head": apart, "how": how}


def _how_blocks(plan: Plan) -> tuple[Block, ...]:
    """How to read the list, in which order to cut, and what is done with notches."""
    items = [item for goods in plan.materials for item in goods.items]
    has_straps = any(material.straps for material in plan.materials)
    has_arrows = has_straps or any(item.piece.least_stretch for item in items)
    lines = [*say(NAME_OF_WORDS, "read"), *(say(NAME_OF_WORDS, "arrows") if has_arrows else ())]
    lines += _order_words(plan, has_straps=has_straps)
    if any(item.piece.marks.notches for item in items):
        lines += say(NAME_OF_WORDS, "notches", deep=format_length(NOTCH_DEEP_MM[plan.build.show], plan.build.show))
    return paragraph(lines)


def _order_words(plan: Plan, *, has_straps: bool) -> tuple[str, ...]:
    """The order of cutting, of what there is to cut."""
    groups = {item.group for goods in plan.materials for item in goods.items}
    if len(groups) + has_straps < 2:
        return ()
    kinds = dict.fromkeys(
        goods.material.kind for goods in plan.materials if any(item.group == "under" for item in goods.items)
    )
    more = {
        "small": " ".join(say(NAME_OF_WORDS, "order_small")) if "small" in groups else "",
        "under": " ".join(say(NAME_OF_WORDS, "order_under", kinds=join_words([*kinds]))) if kinds else "",
    }
    if not has_straps:
        return say(NAME_OF_WORDS, "order_pieces", **more)
    large = " ".join(say(NAME_OF_WORDS, "order_large")) if "panels" in groups else ""
    return say(NAME_OF_WORDS, "order_straps", large=large, **more)


def _joined_blocks(plan: Plan, said: Said) -> list[Block]:
    """How many of each variant, where the list is for several."""
    counts = ", ".join(f"{makes}{TIMES}{variant}" for variant, makes in plan.joined)
    return [KeyValues(((said[plan.joined_by], counts),), 1)] if counts else []


def _blade_caution() -> Block:
    title, sentence = HAZARDS["blade"]
    return Caution(f"{title}: {sentence}")


def _caution_blocks(plan: Plan, said: Said) -> list[Block]:
    """What reading the spec found risky."""
    cautions = [Caution(hold_measures(finding_words(item, plan.build))) for item in plan.build.cautions]
    return [Heading(said["cautions"], 3), *cautions] if cautions else []


def _material_blocks(plan: MaterialPlan, show: Show, setup: Setup, said: Said) -> list[Block]:
    """The material, then a table for each group in the order of cutting, then what to buy."""
    head: tuple[Block, ...] = (
        Heading(f"{said['from']} {plan.material.title}", 2),
        KeyValues(_material_facts(plan.material, show, said), 4),
    )
    groups: list[tuple[str, str, tuple[Block, ...], Table]] = []
    if plan.straps:
        edge = _edge_blocks(plan.edge, show, said) if plan.material.kind == "leather" else ()
        is_padding = all(item.is_padding for item in plan.straps)
        other = said["straps_padding" if is_padding else "straps_other"]
        leather = said["straps_struck" if plan.material.goods.is_struck else "straps"]
        title = leather if plan.material.kind == "leather" else other
        groups.append((title, said["straps_short"], edge, _strap_table(plan.straps, show, setup, said)))
    for group in GROUPS:
        items = [item for item in plan.items if item.group == group]
        if items:
            table = _piece_table(items, show, setup, said)
            groups.append((said[group], said[f"{group}_short"], (), table))
    blocks: list[Block] = []
    source = f"{said['from']} {plan.material.title}"
    for title, short, facts, table in groups:
        # The head of a material, kept together with a heading, stays with the table that follows.
        carried = "" if head else f"{source}, {said['continued']}"
        blocks += [
            Together((*head, Heading(title, 3, carried), *facts)),
            replace(table, carried=f"{source}, {short}, {said['continued']}"),
        ]
        head = ()
    return [*blocks, *_buy_blocks(plan, show, said)]


def _material_facts(material: Material, show: Show, said: Said) -> tuple[tuple[str, str], ...]:
    facts = (
        (said["kind"], material.kind),
        (said["thickness"], format_thickness(material.thickness_mm, material.kind, show, material.thickness_words)),
        (said["roll"], format_length(material.roll_width_mm, show) if material.roll_width_mm else ""),
        (said["tannage"], material.tannage),
        (said["finish"], material.finish),
        (said["note"], material.note),
    )
    return tuple(fact for fact in facts if fact[1])


def _edge_blocks(edge: StraightEdge | None, show: Show, said: Said) -> tuple[Block, ...]:
    """What the straps take of the straight edge."""
    if edge is None:
        return ()
    count, widths = f"{edge.count} {said['row' if edge.count == 1 else 'rows']}", [row.width_mm for row in edge.rows]
    each = "\n".join(f"{row.rows} {said['of']} {format_length(row.width_mm, show)}" for row in edge.rows)
    rows = f"{count}:\n{each}" if len(widths) > 1 else f"{count} {said['of']} {format_length(widths[0], show)}"
    facts = (
        (said["edge_least"], format_length(edge.least_mm, show)),
        (said["edge_rows"], hold_measures(rows)),
        (said["edge_depth"], format_length(edge.depth_mm, show)),
        (said["edge_total"], format_run(edge.total_mm, show)),
    )
    return (KeyValues(facts, 4),)


def _columns(said: Said, first: str, size: str, rows: Sequence[Row]) -> tuple[Column, ...]:
    """The same columns in all tables, so that they stand below each other; where nothing is noted that has no heading."""
    notes = said["notes"] if any(row[-1] for row in rows) else ""
    titles = ("", said[first], said["number"], said[size], said["area"], notes)
    return tuple(Column(title, share) for title, share in zip(titles, SHARES, strict=True))


def column_width_mm(place: int, setup: Setup) -> float:
    """Width of a column of the lists of straps and pieces."""
    room = setup.frame.width - setup.style.gutter_mm * (len(SHARES) - 1)
    return SHARES[place] * room / sum(SHARES)


def _strap_table(straps: Sequence[StrapItem], show: Show, setup: Setup, said: Said) -> Table:
    rows = tuple(_strap_row(item, show, setup, said) for item in straps)
    return Table(_columns(said, "strap", "size_strap", rows), rows)


def _strap_row(item: StrapItem, show: Show, setup: Setup, said: Said) -> Row:
    strap = item.strap
    # A second layer and padding are cut plain: turned and punched is only the strap itself.
    piece = replace(strap.piece, marks=Marks()) if item.is_plain else strap.piece
    return (
        draw_tiny_piece(piece, column_width_mm(0, setup), DRAWING_HIGH_MM, setup.style),
        item.title,
        draw_tally(item.count, column_width_mm(2, setup), setup.style),
        _size_words(item.width_mm, item.length_mm, show),
        _area_words(item, show, said),
        hold_measures("\n".join(strap_notes(item, show, said))),
    )


def strap_notes(item: StrapItem, show: Show, said: Said) -> list[str]:
    """The row of holes for the buckle, the others, and the spec's note; nothing for a second layer, which is punched
    with the first."""
    if item.is_plain:
        return []
    count = item.strap.row_holes
    row = [f"{said['hole_row']} {words}" for words in purpose_words(item.strap.piece.marks.holes[:count], show)]
    others = purpose_words(item.strap.piece.marks.holes[count:], show)
    further = [f"{said['further']} {words}" for words in others] if count else others
    made = [*skive_notes(item.strap.piece.marks.skives, show), *taper_words(item.strap, show)]
    return [*item.notes, *made, *row, *further, *([item.strap.note] if item.strap.note else [])]


def _piece_table(items: Sequence[CutItem], show: Show, setup: Setup, said: Said) -> Table:
    rows = tuple(_piece_row(item, show, setup, said) for item in items)
    return Table(_columns(said, "piece", "size_piece", rows), rows)


def _piece_row(item: CutItem, show: Show, setup: Setup, said: Said) -> Row:
    if item.shape == "circle":
        size = f"{format_length(item.width_mm, show)} {said['across']}"
    else:
        size = _size_words(item.width_mm, item.height_mm, show)
    return (
        draw_tiny_piece(item.piece, column_width_mm(0, setup), DRAWING_HIGH_MM, setup.style),
        item.title,
        draw_tally(item.count, column_width_mm(2, setup), setup.style),
        size,
        _area_words(item, show, said),
        hold_measures("\n".join(piece_notes(item, said))),
    )


def piece_notes(item: CutItem, said: Said) -> list[str]:
    """Of pairs, how many are cut mirrored; then what the plan notes."""
    mirrored = f"{item.mirrored} {said['of']} {item.count} {said['mirrored']}"
    return [*([mirrored] if item.is_pair else []), *item.notes]


def _size_words(width_mm: float, length_mm: float, show: Show) -> str:
    return hold_measures(f"{format_length(width_mm, show)}\n×\u00a0{format_length(length_mm, show)}")


def _area_words(item: CutItem | StrapItem, show: Show, said: Said) -> str:
    """The area of one, and below it of all, in the unit to show; the sum below the lists has both."""
    each, every = (format_short_area(area, show) for area in (item.area_mm2, item.all_mm2))
    return hold_measures(each if item.count == 1 else f"{each}\n{said['all']} {every}")


def _buy_blocks(plan: MaterialPlan, show: Show, said: Said) -> list[Block]:
    """Sum, waste and what to buy, kept together."""
    material = plan.material
    lost = said["lost_hide"] if material.kind == "leather" else said["lost_other"]
    facts = [
        (said["net"], format_area(plan.net_mm2, show)),
        (said["waste"], f"{format_number(material.waste * 100, 1)} % {lost}"),
        *(_bought_facts(plan, plan.bought, show, said) if plan.bought else ()),
    ]
    if plan.bought is None:
        facts.append((said["buy_area_alone"], format_bought_area(plan.gross_mm2, show)))
    columns = min(len(facts), MOST_BESIDE)
    return [Together((Heading(f"{said['buy']}: {material.title}", 3), KeyValues(tuple(facts), columns)))]


def _bought_facts(plan: MaterialPlan, bought: Bought, show: Show, said: Said) -> Iterator[tuple[str, str]]:
    """What is bought of goods whose size is known, what decides it, and what will be left."""
    if bought.goods.sold == ROLL:
        yield said["buy_area"], format_bought_area(plan.gross_mm2, show)
        yield said["buy_run"], format_bought_run(plan.run_mm, show)
    else:
        yield said["takes"], format_area(plan.gross_mm2, show)
        yield said["buy_goods"], hold_measures(bought_words(bought, show))
    yield said["decides"], said[f"decides_{bought.decides}"]
    yield said["left" if bought.goods.sold != ROLL else "left_beside"], format_about_area(bought.left_mm2, show)


def bought_words(bought: Bought, show: Show) -> str:
    """`2 sides of 22 to 26 sq ft (204 to 242 dm²), together 48 sq ft (446 dm²) or more`, `9 panels of 24 × 36 in (610 ×
    914 mm)`."""
    goods, count, said = bought.goods, bought.count, words("cutting")
    if goods.sold == PANEL:
        name = said["panel"] if count == 1 else said["panels_sold"]
        return f"{count} {name} {said['of']} {format_slot(goods.width_mm, goods.length_mm, show)}"
    name = HIDES[goods.sold].one if count == 1 else HIDES[goods.sold].many
    areas = format_areas(goods.least_mm2, goods.most_mm2, show).replace(" to ", "\u00a0to\u00a0")
    told = f"{count} {name} {said['of']} {areas}"
    together = f", {said['together']} {format_area(bought.together_mm2, show)} {said['or_more']}"
    return told + (together if bought.together_mm2 else "")
