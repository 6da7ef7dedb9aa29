"""Plans of variants -> one plan of what they take together."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from docgen.plan.cutting import sum_material
from docgen.plan.plan import (
    Cost,
    CutItem,
    HandThread,
    HardwareItem,
    MaterialPlan,
    Plan,
    StrapItem,
    Supply,
    ThreadNeed,
    TrimmingItem,
)
from docgen.plan.supplies import plan_needles
from docgen.resolve import Marks, Material, Piece, Price, TrimmingCut, Weight
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
        hardware=tuple(_join_hardware(plans)),
        trimmings=tuple(_join_trimmings(plans)),
        supplies=_join_supplies(plans),
        weights=_join_weights(plans),
        cost=_join_costs(plans, makes),
        joined=tuple((plan.build.variant, plan.build.makes) for plan in plans),
    )


def _join_materials(plans: Sequence[Plan]) -> tuple[MaterialPlan, ...]:
    """Each material once; one whose thickness is another in a variant is another material."""
    found: dict[Material, list[tuple[str, MaterialPlan]]] = {}
    for plan in plans:
        for material in plan.materials:
            found.setdefault(material.material, []).append((plan.build.variant, material))
    return tuple(_join_material(material, parts) for material, parts in found.items())


def _join_material(material: Material, parts: Sequence[tuple[str, MaterialPlan]]) -> MaterialPlan:
    straps = [(variant, item) for variant, part in parts for item in part.straps]
    items = [(variant, item) for variant, part in parts for item in part.items]
    return sum_material(
        material,
        tuple(_join_alike(alike, names) for alike, names in _group(straps, _strap_key, lambda item: item.title)),
        tuple(_join_alike(alike, names) for alike, names in _group(items, _item_key, lambda item: item.name)),
    )


def _join_alike(alike: Sequence[Cut], names: Sequence[str]) -> Cut:
    title = _name_variants(alike[0].title, names)
    return replace(alike[0], title=title, count=sum(item.count for item in alike))


def _item_key(item: CutItem) -> object:
    return item.name, item.piece.outline, _worked(item.piece), item.notes


def _strap_key(item: StrapItem) -> object:
    return (
        item.title,
        item.strap.name,
        item.strap.piece.outline,
        _worked(item.strap.piece),
        item.width_mm,
        item.length_mm,
    )


def _worked(piece: Piece) -> Marks:
    """What is punched, cut, folded and skived: pieces that differ in it are cut by templates of their own."""
    return replace(piece.marks, stitch_lines=(), landings=())


def _group(
    items: Sequence[tuple[str, Item]], key: Callable[[Item], object], name: Callable[[Item], str]
) -> Iterator[tuple[list[Item], list[str]]]:
    """Items that are alike, with the variants to name, none where all of that name are alike."""
    found: dict[object, list[tuple[str, Item]]] = {}
    for variant, item in items:
        found.setdefault(key(item), []).append((variant, item))
    names = [name(item) for _, item in items]
    for group in found.values():
        alike = [item for _, item in group]
        is_all = len(group) == names.count(name(alike[0])) and len(group) > 1
        yield alike, [] if is_all else [variant for variant, _ in group]


def _name_variants(title: str, variants: Sequence[str]) -> str:
    """The title, with the variants it is for."""
    return f"{title} ({', '.join(variants)})" if variants else title


def _join_threads(plans: Sequence[Plan]) -> tuple[ThreadNeed, ...]:
    found: dict[tuple[str, str], list[tuple[str, ThreadNeed]]] = {}
    for plan in plans:
        for need in plan.threads:
            found.setdefault((need.thread_words, need.by), []).append((plan.build.variant, need))
    return tuple(_join_thread(needs) for needs in found.values())


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
        hand=tuple(_name_hand(cut, variant) for variant, need in needs for cut in need.hand),
    )


def _name_hand(cut: HandThread, variant: str) -> HandThread:
    return replace(cut, title=f"{cut.title} ({variant})")


def _join_hardware(plans: Sequence[Plan]) -> Iterator[HardwareItem]:
    """Each kind once; one of another size in a variant is bought apart."""
    items = [(plan.build.variant, item) for plan in plans for item in plan.hardware]
    for alike, names in _group(items, lambda item: replace(item.hardware, count=0), lambda item: item.hardware.name):
        hardware = alike[0].hardware
        yield HardwareItem(
            hardware=replace(hardware, what=_name_variants(hardware.what, names)),
            count=sum(item.count for item in alike),
            posts=_join_posts(alike),
        )


def _join_trimmings(plans: Sequence[Plan]) -> Iterator[TrimmingItem]:
    """Each kind once, with every length that any variant cuts of it; one that is other in a variant is bought apart."""
    items = [(plan.build.variant, item) for plan in plans for item in plan.trimmings]
    for alike, names in _group(items, lambda item: replace(item.trimming, cuts=()), lambda item: item.trimming.name):
        counts: dict[TrimmingCut, int] = {}
        for cut, count in (entry for item in alike for entry in item.cuts):
            counts[cut] = counts.get(cut, 0) + count
        what = _name_variants(alike[0].trimming.what, names)
        yield TrimmingItem(trimming=replace(alike[0].trimming, what=what), cuts=tuple(counts.items()))


def _join_posts(items: Iterable[HardwareItem]) -> tuple[tuple[float, int], ...]:
    counts: dict[float, int] = {}
    for item in items:
        for post_mm, count in item.posts:
            counts[post_mm] = counts.get(post_mm, 0) + count
    return tuple(sorted(counts.items(), key=lambda entry: (entry[0] == 0.0, entry[0])))


def _join_supplies(plans: Sequence[Plan]) -> tuple[Supply, ...]:
    return tuple(dict.fromkeys(supply for plan in plans for supply in plan.supplies))


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
    lines: dict[tuple[str, str, Price], float] = {}
    for cost in costs:
        for line in cost.lines:
            key = (line.kind, line.what, line.price)
            lines[key] = lines.get(key, 0.0) + line.quantity
    known = {(line.kind, line.what, line.price): line for cost in costs for line in cost.lines}
    return replace(
        costs[0],
        lines=tuple(replace(known[key], quantity=quantity) for key, quantity in lines.items()),
        unpriced=tuple(dict.fromkeys(name for cost in costs for name in cost.unpriced)),
        makes=makes,
        minutes=sum(cost.minutes for cost in costs),
    )
