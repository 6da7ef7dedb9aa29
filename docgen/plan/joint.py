"""Plans of variants -> one plan of what they take together."""

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from docgen.plan.cutting import sum_material
from docgen.plan.plan import Cost, CutItem, HardwareItem, MaterialPlan, Plan, StrapItem, ThreadNeed
from docgen.plan.supplies import plan_needles
from docgen.resolve import Weight
from docgen.tables.winding import count_full

Item = TypeVar("Item")
Cut = TypeVar("Cut", CutItem, StrapItem)


def join_plans(plans: Sequence[Plan], title: str) -> Plan:
    """One plan for all variants, for the cutting list: sums of material, thread, hardware, weight and cost.

    Pieces that are the same in several variants are one line; others carry the name of their variant. The rest (steps,
    cautions) is that of the first plan. `title` is the title of the build without a variant. ValueError for no plans.
    """
    if not plans:
        raise ValueError("there are no plans to join")
    first = plans[0]
    makes = sum(plan.build.makes for plan in plans)
    cautions = tuple(dict.fromkeys(caution for plan in plans for caution in plan.build.cautions))
    accepted = tuple(dict.fromkeys(item for plan in plans for item in plan.build.accepted))
    build = replace(first.build, title=title, variant="", makes=makes, cautions=cautions, accepted=accepted)
    threads = _join_threads(plans)
    return replace(
        first,
        build=build,
        materials=_join_materials(plans),
        threads=threads,
        needles=plan_needles(threads, first.steps),
        hardware=_join_hardware(plans),
        supplies=tuple(dict.fromkeys(supply for plan in plans for supply in plan.supplies)),
        weights=_join_weights(plans),
        cost=_join_costs(plans, makes),
        joined=tuple((plan.build.variant, plan.build.makes) for plan in plans),
    )


def _gather(pairs: Iterable[tuple[Hashable, Item]]) -> list[list[Item]]:
    """What has the same key, together, in the order in which the keys came first."""
    found: dict[Hashable, list[Item]] = {}
    for key, item in pairs:
        found.setdefault(key, []).append(item)
    return list(found.values())


def _join_materials(plans: Sequence[Plan]) -> tuple[MaterialPlan, ...]:
    """Each material once; one whose thickness is another in a variant is another material."""
    parts = ((part.material, (plan.build.variant, part)) for plan in plans for part in plan.materials)
    return tuple(_join_material(group) for group in _gather(parts))


def _join_material(parts: Sequence[tuple[str, MaterialPlan]]) -> MaterialPlan:
    straps = [(variant, item) for variant, part in parts for item in part.straps]
    items = [(variant, item) for variant, part in parts for item in part.items]
    return sum_material(
        parts[0][1].material,
        _join_alike(straps, lambda item: (item.title, item.strap.name, item.strap.piece.outline, item.length_mm)),
        _join_alike(items, lambda item: (item.name, item.piece.outline, item.notes)),
    )


def _join_alike(items: Sequence[tuple[str, Cut]], tell: Callable[[Cut], tuple[Hashable, ...]]) -> tuple[Cut, ...]:
    """Those alike in several variants as one; `tell` gives the name, by which the others are told apart, and what else
    makes them alike."""
    names = [tell(item)[0] for _, item in items]
    joined: list[Cut] = []
    for group in _gather((tell(pair[1]), pair) for pair in items):
        first = group[0][1]
        is_all = len(group) == names.count(tell(first)[0])
        title = _name_variants(first.title, [variant for variant, _ in group], is_all)
        joined.append(replace(first, title=title, count=sum(item.count for _, item in group)))
    return tuple(joined)


def _name_variants(title: str, variants: Sequence[str], is_all: bool) -> str:
    """The title, with the variants it is for unless all have the same."""
    return title if is_all and len(variants) > 1 else f"{title} ({', '.join(variants)})"


def _join_threads(plans: Sequence[Plan]) -> tuple[ThreadNeed, ...]:
    needs = (((need.thread_words, need.by), (plan.build.variant, need)) for plan in plans for need in plan.threads)
    return tuple(_join_thread(group) for group in _gather(needs))


def _join_thread(needs: Sequence[tuple[str, ThreadNeed]]) -> ThreadNeed:
    first = needs[0][1]
    needle_mm = sum(need.needle_thread_mm for _, need in needs)
    bobbin_mm = sum(need.bobbin_thread_mm for _, need in needs)
    return replace(
        first,
        needles=tuple(sorted({size for _, need in needs for size in need.needles})),
        sewn_mm=sum(need.sewn_mm for _, need in needs),
        needle_thread_mm=needle_mm,
        bobbin_thread_mm=bobbin_mm,
        bobbins=count_full(bobbin_mm, first.bobbin_mm),
        spools=count_full(needle_mm + bobbin_mm, first.spool_mm),
        hand=tuple(replace(cut, title=f"{cut.title} ({variant})") for variant, need in needs for cut in need.hand),
    )


def _join_hardware(plans: Sequence[Plan]) -> tuple[HardwareItem, ...]:
    groups = _gather((item.hardware.name, item) for plan in plans for item in plan.hardware)
    return tuple(
        replace(items[0], count=sum(item.count for item in items), posts=_join_posts(items)) for items in groups
    )


def _join_posts(items: Iterable[HardwareItem]) -> tuple[tuple[float, int], ...]:
    counts: Counter[float] = Counter()
    for item in items:
        counts.update(dict(item.posts))
    return tuple(sorted(counts.items(), key=lambda entry: (entry[0] == 0.0, entry[0])))


def _join_weights(plans: Sequence[Plan]) -> tuple[Weight, ...]:
    grams: dict[str, float] = {}
    for plan in plans:
        for weight in plan.weights:
            grams[weight.name] = grams.get(weight.name, 0.0) + weight.grams
    return tuple(Weight(name=name, grams=weight) for name, weight in grams.items())


def _join_costs(plans: Sequence[Plan], makes: int) -> Cost | None:
    costs = [plan.cost for plan in plans if plan.cost is not None]
    if not costs:
        return None
    groups = _gather(((line.kind, line.what, line.price), line) for cost in costs for line in cost.lines)
    return replace(
        costs[0],
        lines=tuple(replace(lines[-1], quantity=sum(line.quantity for line in lines)) for lines in groups),
        unpriced=tuple(dict.fromkeys(name for cost in costs for name in cost.unpriced)),
        makes=makes,
        minutes=sum(cost.minutes for cost in costs),
    )
