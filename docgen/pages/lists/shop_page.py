"""Plan -> the shop's own page: what the batch weighs and costs. It never goes to a customer."""

import re
from collections.abc import Mapping
from dataclasses import replace

from docgen.pages.looks.words import words
from docgen.pages.marks.page import Document
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Block, Caution, Column, Heading, KeyValues, Paragraph, Table
from docgen.pages.setting.paging import head_blocks, page_blocks, picture_beside
from docgen.pages.setting.setup import Setup
from docgen.plan import Cost, CostLine, Plan
from docgen.written.units.table import G_PER_OUNCE, G_PER_POUND
from docgen.written.units.telling import (
    Show,
    format_both,
    format_bought_area,
    format_bought_run,
    format_fine,
    format_number,
    format_run,
)

NAME = "shop-page"

Said = Mapping[str, str]


def lay_out_shop_page(plan: Plan, setup: Setup, pictures: Pictures | None = None) -> Document | None:
    """The page with weight and cost, and with the finished article small at its head where there are `pictures`; None
    where no price is known."""
    if plan.cost is None:
        return None
    said, show = words("shop_page"), plan.build.show
    blocks = [
        *picture_beside(head_blocks(NAME, plan, setup), pictures.small(setup.style) if pictures else None),
        Caution(said["only"]),
        *_cost_blocks(plan.cost, show, said),
        *_weight_blocks(plan, show, said),
    ]
    return replace(page_blocks(blocks, NAME, plan, setup), is_apart=True)


def _cost_blocks(cost: Cost, show: Show, said: Said) -> list[Block]:
    columns = (
        Column(said["what"], 62),
        Column(said["quantity"], 44),
        Column(said["price"], 44),
        Column(said["sum"], 26, align="end"),
    )
    rows = tuple(_cost_row(line, cost, show, said) for line in cost.lines)
    facts = (
        (said["each"], format_money(cost.each, cost.currency)),
        (said["total"], format_money(cost.total, cost.currency)),
    )
    total = (said["weight_sum"], "", "", format_money(cost.total, cost.currency))
    table = Table(columns, rows, total, f"{said['cost_title']}, {said['continued']}")
    return [
        Heading(said["cost_title"], 2),
        Paragraph(said["basis"]),
        table,
        *([KeyValues(facts, 4)] if cost.makes > 1 else []),
        *_left_out(cost, said),
    ]


def _left_out(cost: Cost, said: Said) -> list[Block]:
    """What the sum leaves out, so that it is not taken for the whole."""
    has_labour = any(line.kind == "labour" for line in cost.lines)
    unpriced = [Paragraph(f"{said['unpriced']} {'; '.join(cost.unpriced)}.")] if cost.unpriced else []
    return [*unpriced, *([] if has_labour else [Paragraph(said["no_labour"])])]


def _cost_row(line: CostLine, cost: Cost, show: Show, said: Said) -> tuple[str, ...]:
    return (
        line.what or said["labour"],
        quantity_words(line, show, said),
        price_words(line.price.words),
        format_money(line.charged, cost.currency),
    )


def price_words(words_of: str) -> str:
    """A price as it is written, with its hundredths: `14.00 per yd` beside `11.50 per side`."""
    found = re.match(r"(\d+)(?:\.(\d))?(?= |$)", words_of)
    return f"{found[1]}.{found[2] or '0'}0{words_of[found.end() :]}" if found else words_of


def quantity_words(line: CostLine, show: Show, said: Said) -> str:
    """How much of it, in the kind of unit it is paid by."""
    if line.kind == "material" and line.price.per == "area":
        return format_bought_area(line.quantity, show)
    if line.kind in ("material", "trimming") and line.price.per == "length":
        return format_bought_run(line.quantity, show)
    if line.price.per == "length":
        return format_run(line.quantity, show)
    if line.price.per == "hour":
        hours, minutes = divmod(round(line.quantity * 60), 60)
        parts = ([f"{hours} {said['hours']}"] if hours else []) + ([f"{minutes} {said['minutes']}"] if minutes else [])
        return " ".join(parts)
    number = format_number(line.quantity, 3)
    return f"{number} {said['spools']}" if line.kind == "thread" else number


def format_money(amount: float, currency: str) -> str:
    """ "12.50 crowns"; only the number where no currency is named."""
    return f"{amount + 1e-9:.2f} {currency}".strip()


def format_weight(grams: float, show: Show, largest_g: float = 0.0) -> str:
    """ "2.6 lb (1.18 kg)", "3.5 oz (100 g)", or the other way about; `largest_g`, in g, is what decides the units,
    so that a column has the same ones throughout."""
    largest_g = max(grams, largest_g)
    metric = f"{format_fine(grams / 1000, 2)} kg" if largest_g >= 1000 else f"{format_fine(grams, 0)} g"
    if largest_g >= G_PER_POUND:
        return format_both(f"{format_fine(grams / G_PER_POUND, 2)} lb", metric, show)
    return format_both(f"{format_fine(grams / G_PER_OUNCE, 1)} oz", metric, show)


def _weight_blocks(plan: Plan, show: Show, said: Said) -> list[Block]:
    """Weights of the batch and of one make; nothing where none is known."""
    if not plan.weights:
        return []
    columns = (
        Column(said["what"], 80),
        Column(said["weight_each"], 48, align="end"),
        Column(said["weight_all"], 48, align="end"),
    )
    rows = tuple(_weight_row(weight.name, weight.grams, plan, show) for weight in plan.weights)
    total = _weight_row(said["weight_sum"], plan.grams, plan, show)
    left_out = _unweighed(plan, said)
    heading = Heading(said["weight_title"], 2)
    table = Table(columns, rows, total, f"{said['weight_title']}, {said['continued']}")
    return [heading, table, *left_out]


def _weight_row(name: str, grams: float, plan: Plan, show: Show) -> tuple[str, ...]:
    makes = plan.build.makes
    return (name, format_weight(grams / makes, show, plan.grams / makes), format_weight(grams, show, plan.grams))


def _unweighed(plan: Plan, said: Said) -> list[Block]:
    titles = {item.hardware.name: item.hardware.what for item in plan.hardware}
    titles |= {item.trimming.name: item.trimming.what for item in plan.trimmings}
    names = [titles.get(name, name) for name in plan.build.unweighed]
    return [Paragraph(f"{said['unweighed']} {'; '.join(names)}.")] if names else []
