"""What the batch weighs and costs: for the shop only."""

from collections.abc import Iterator, Sequence

from docgen.plan.cost import Cost, CostLine
from docgen.plan.plan import HardwareItem, MaterialPlan, ThreadNeed, TrimmingItem
from docgen.resolve import Build, Price, Weight
from docgen.tables.hides import PANEL
from docgen.written.units.telling import Show, buy_area_mm2, buy_run_mm


def plan_weights(build: Build) -> tuple[Weight, ...]:
    """What each material and kind of hardware weighs in the whole batch, by title."""
    titles = {material.name: material.title for material in build.materials}
    titles |= {item.name: item.what for item in build.hardware}
    return tuple(
        Weight(name=titles.get(weight.name, weight.name), grams=weight.grams * build.makes) for weight in build.weights
    )


def plan_cost(
    build: Build,
    materials: Sequence[MaterialPlan],
    threads: Sequence[ThreadNeed],
    hardware: Sequence[HardwareItem],
    trimmings: Sequence[TrimmingItem],
) -> Cost | None:
    """The cost of the batch; None when no price at all is known."""
    minutes = sum(step.minutes for step in build.steps) * build.makes
    found = [
        *_material_lines(materials, build.show),
        *_thread_lines(build, threads),
        *_hardware_lines(hardware),
        *_trimming_lines(trimmings, build.show),
        *_labour_lines(build, minutes),
    ]
    lines = tuple(line for line in found if isinstance(line, CostLine))
    if not lines and build.costs.labour is None:
        return None
    unpriced = tuple(dict.fromkeys(line for line in found if isinstance(line, str)))
    return Cost(currency=build.costs.currency, lines=lines, unpriced=unpriced, makes=build.makes, minutes=minutes)


def _line(kind: str, what: str, quantity: float, price: Price | None) -> CostLine | str:
    """A line of the sum, or only what has no price."""
    if price is None:
        return what
    return CostLine(kind=kind, what=what, quantity=quantity, price=price)


def _material_lines(materials: Sequence[MaterialPlan], show: Show) -> Iterator[CostLine | str]:
    """Goods by what is bought of them, as the lists say it: what is lost in cutting included, and rounded up. Of hides by
    area that is what they give, since the rest is kept; of panels all of them."""
    for plan in materials:
        material = plan.material
        yield _line("material", material.title, _count_bought(plan, show), material.price if _can_count(plan) else None)


def _can_count(plan: MaterialPlan) -> bool:
    """Whether it is known how many are bought, where the price is for each."""
    price = plan.material.price
    return price is None or price.per != "each" or bool(plan.bought and plan.bought.count)


def _count_bought(plan: MaterialPlan, show: Show) -> float:
    """How much of a material is bought, in the measure of its price: mm2, mm or how many."""
    per = plan.material.price.per if plan.material.price else "area"
    count = plan.bought.count if plan.bought else 0
    if per == "each":
        return count
    if per == "length":
        return buy_run_mm(plan.run_mm, show)
    goods = plan.material.goods
    is_whole = goods.sold == PANEL
    return count * goods.width_mm * goods.length_mm if is_whole else buy_area_mm2(plan.gross_mm2, show)


def _thread_lines(build: Build, threads: Sequence[ThreadNeed]) -> Iterator[CostLine | str]:
    """Thread by what is used of it; a price for each spool by the share of a spool."""
    for need in threads:
        prices = [
            stitch.thread_price
            for stitch in build.stitches
            if (stitch.thread_words, stitch.by) == (need.thread_words, need.by) and stitch.thread_price is not None
        ]
        price = prices[0] if prices else None
        by_length = price is None or price.per == "length"
        yield _line("thread", need.thread_words, need.total_mm if by_length else need.total_mm / need.spool_mm, price)


def _hardware_lines(hardware: Sequence[HardwareItem]) -> Iterator[CostLine | str]:
    for item in hardware:
        yield _line("hardware", item.hardware.what, item.count, item.hardware.price)


def _trimming_lines(trimmings: Sequence[TrimmingItem], show: Show) -> Iterator[CostLine | str]:
    """Goods by length by what is bought of them, the spare included and rounded up; each at a price for each."""
    for item in trimmings:
        price = item.trimming.price
        bought_mm = sum(mm * count for mm, count in item.ready) or buy_run_mm(item.gross_mm, show)
        yield _line("trimming", item.trimming.what, item.count if price and price.per == "each" else bought_mm, price)


def _labour_lines(build: Build, minutes: int) -> Iterator[CostLine | str]:
    if minutes and build.costs.labour is not None:
        yield CostLine(kind="labour", what="", quantity=minutes / 60, price=build.costs.labour)
