"""Lays -> pages that show where the templates lie: one page a hide, panel or roll. Advice, and never a cutting file."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.lay import LaidSheet, Lay
from docgen.pages.lists.lay_picture import draw_laid, pick_scale
from docgen.pages.looks.words import say, words
from docgen.pages.marks.page import Document, Mark
from docgen.pages.setting.blocks import Beside, Block, Caution, Column, Heading, KeyValues, Paragraph, Table, Together
from docgen.pages.setting.flow import flow_height_mm, flow_pages
from docgen.pages.setting.paging import hold_measures
from docgen.pages.setting.setup import Setup, band_page, make_stamp
from docgen.plan import MaterialPlan, Plan, spoken
from docgen.tables.hides import HIDES, PANEL
from docgen.written.units.telling import Show, format_area, format_bought_run, format_length, format_number

NAME = "cutting-lay"
TABLE_MM = 74.0
GAP_MM = 6.0
LEAST_HIGH_MM = 60.0
UNDER_MM = 110.0  # the table below a picture
MUCH_LARGER = 0.85  # the picture goes above its table where its scale, one to so much, is at most that share

Said = Mapping[str, str]
Laid = tuple[MaterialPlan, Lay]


def lay_out_lays(laid: Sequence[Laid], plan: Plan, setup: Setup) -> Document:
    """The pages of all lays, each sheet of goods on its own; ValueError for none."""
    payload = NAME.upper()
    stamp = make_stamp(plan.build, setup, payload)
    pages = [marks for part, lay in laid for marks in _lay_out_one(part, lay, plan.build.show, setup)]
    return Document(
        name=NAME,
        title=words("documents")[payload],
        pages=tuple(
            band_page(marks, stamp, payload, number, len(pages), setup) for number, marks in enumerate(pages, start=1)
        ),
        is_apart=True,
    )


def _lay_out_one(part: MaterialPlan, lay: Lay, show: Show, setup: Setup) -> Iterator[tuple[Mark, ...]]:
    said = words("lay")
    for first, last in _alike(lay.sheets):
        sheet = lay.sheets[first - 1]
        head = list(_head_blocks(part, lay, (first, last), show, said))
        room_high = setup.frame.height - flow_height_mm(head, setup.frame.width, setup.style) - GAP_MM
        blocks = _picture_blocks(sheet, lay, room_high, show, setup, said)
        yield from flow_pages([*head, *blocks], setup.frame, setup.style)


def _picture_blocks(
    sheet: LaidSheet, lay: Lay, room_high_mm: float, show: Show, setup: Setup, said: Said
) -> tuple[Block, ...]:
    """The picture with its table beside it, or, where that draws it much larger, as with a wide hide, below it."""
    hide, wide = sheet.hide, setup.frame.width
    beside = pick_scale(hide.width_mm, hide.length_mm, wide - TABLE_MM - GAP_MM, max(room_high_mm, LEAST_HIGH_MM))
    facts, rows = _sheet_facts(sheet, beside, show, said), _piece_rows(sheet, lay, said)
    under = Beside((KeyValues(facts, 1),), _pieces_table(rows, said), UNDER_MM)
    left_mm = room_high_mm - flow_height_mm([under], wide, setup.style) - GAP_MM
    above = pick_scale(hide.width_mm, hide.length_mm, wide, left_mm) if left_mm > LEAST_HIGH_MM else math.inf
    if above > MUCH_LARGER * beside:
        table = Together((KeyValues(facts, 1), _pieces_table(rows, said)))
        return (Beside((draw_laid(sheet, beside, setup.style),), table, TABLE_MM),)
    facts = _sheet_facts(sheet, above, show, said)
    return (draw_laid(sheet, above, setup.style), replace(under, left=(KeyValues(facts, 1),)))


def _alike(sheets: Sequence[LaidSheet]) -> Iterator[tuple[int, int]]:
    """First and last number of sheets that follow each other and are cut in the same way."""
    first = 1
    for number, sheet in enumerate(sheets, start=1):
        after = sheets[number] if number < len(sheets) else None
        if after is None or (after.placed, after.hide.outline) != (sheet.placed, sheet.hide.outline):
            yield first, number
            first = number + 1


def _head_blocks(part: MaterialPlan, lay: Lay, numbers: tuple[int, int], show: Show, said: Said) -> Iterator[Block]:
    """What it is and what it is not; on the first page of a material also what the whole takes."""
    number, last = numbers
    which = f"{number} {said['to']} {last}" if last > number else f"{number}"
    is_roll = bool(part.material.roll_width_mm)
    name = _goods_name(part, said)
    sheets = "" if is_roll else f" {which} {said['of']} {len(lay.sheets)}"
    yield Heading(words("documents")[NAME.upper()], 1) if number == 1 else Heading(f"{part.material.title}", 2)
    yield Heading(
        f"{part.material.title}: {name}{sheets}" if number == 1 else f"{name}{sheets}", 2 if number == 1 else 3
    )
    if number > 1:
        return
    has_faults = any(sheet.hide.is_example for sheet in lay.sheets)
    is_hide = any(sheet.hide.is_leather for sheet in lay.sheets)
    has_rows = is_hide and any(one.is_strap for sheet in lay.sheets for one in sheet.placed)
    yield Caution(" ".join(say("lay", "advice")))
    yield Paragraph(
        " ".join(
            (
                *say("lay", "numbers"),
                *say("lay", "hides" if is_hide else "along"),
                *(say("lay", "struck" if any(sheet.struck for sheet in lay.sheets) else "edge") if has_rows else ()),
                *(say("lay", "example") if has_faults else ()),
            )
        )
    )
    yield KeyValues(tuple(_whole_facts(part, lay, show, said)), 3)
    if lay.missing:
        titles = {one.number: one.title for one in lay.parts}
        told = ", ".join(f"{count} × {spoken(titles[at])}" for at, count in lay.missing)
        yield Caution(f"{said['missing']} {told}")


def _goods_name(part: MaterialPlan, said: Said, count: int = 1) -> str:
    goods = part.material.goods
    if goods.is_hide:
        return HIDES[goods.sold].one if count == 1 else HIDES[goods.sold].many
    kind = "panel" if goods.sold == PANEL else "roll" if part.material.roll_width_mm else "hide"
    return said[kind if count == 1 else f"{kind}s"]


def _whole_facts(part: MaterialPlan, lay: Lay, show: Show, said: Said) -> Iterator[tuple[str, str]]:
    """The need by the lay beside the estimate."""
    yield said["pieces"], format_area(lay.net_mm2, show)
    yield said["estimate"], format_area(part.gross_mm2, show)
    if part.material.roll_width_mm:
        yield said["takes"], format_bought_run(max(sheet.used_mm for sheet in lay.sheets), show)
    else:
        taken = sum(sheet.hide.area_mm2 for sheet in lay.sheets)
        yield (
            said["takes"],
            hold_measures(f"{len(lay.sheets)} {_goods_name(part, said, len(lay.sheets))}, {format_area(taken, show)}"),
        )


def _sheet_facts(sheet: LaidSheet, scale: float, show: Show, said: Said) -> tuple[tuple[str, str], ...]:
    facts = [(said["scale"], f"1 : {format_number(scale, 1)}"), (said["area"], format_area(sheet.hide.area_mm2, show))]
    if sheet.rest_mm2:
        facts.append((said["rest"], format_area(sheet.rest_mm2, show)))
    if sheet.struck:
        facts.append((said["struck"], hold_measures(_struck_words(sheet, show, said))))
    return tuple(facts)


def _struck_words(sheet: LaidSheet, show: Show, said: Said) -> str:
    """How far from the backbone the edge is struck, and how long it is."""
    (x, low), (_, high) = sheet.struck
    off_mm = sheet.hide.back_mm - x
    side = said["struck_left" if off_mm >= 0 else "struck_right"]
    return f"{format_length(abs(off_mm), show)} {side}, {format_length(high - low, show)} {said['struck_long']}"


def _piece_rows(sheet: LaidSheet, lay: Lay, said: Said) -> tuple[tuple[str, ...], ...]:
    """What lies on one in the order of cutting: the edge, straps, then as in the cutting list."""
    counts: dict[int, tuple[int, int]] = {}
    for placed in sheet.placed:
        count, mirrored = counts.get(placed.number, (0, 0))
        counts[placed.number] = count + 1, mirrored + placed.is_mirrored
    titles = {part.number: part.title for part in lay.parts}
    rows = tuple(
        (str(number), titles[number], f"{count}" + (f", {mirrored} {said['mirrored']}" if mirrored else ""))
        for number, (count, mirrored) in counts.items()
    )
    if any(placed.is_strap for placed in sheet.placed) and sheet.hide.is_leather:
        rows = (("", said["strike" if sheet.struck else "trim"], ""), *rows)
    return rows


def _pieces_table(rows: tuple[tuple[str, ...], ...], said: Said) -> Table:
    columns = Column(said["number"], 12), Column(said["piece"], 42, tick=False), Column(said["count"], 20)
    return Table(columns, rows)
