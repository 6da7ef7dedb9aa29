"""Plans of variants -> one plan of what they take together."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from docgen.plan.cost import Cost
from docgen.plan.cutting import sum_material
from docgen.plan.plan import (
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
from docgen.resolve import Build, Marks, Material, Piece, Price, TrimmingCut, Weight, name_findings, tell_variants
from docgen.tables.winding import count_full

ALL, OTHERS = "each", "each of the other"
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
    cautions = name_findings([plan.build for plan in plans])
    accepted = tuple(dict.fromkeys(item for plan in plans for item in plan.build.accepted))
    build = replace(
        first.build,
        title=title,
        variant="",
        makes=makes,
        cautions=cautions,
        accepted=accepted,
        choices=(),
        sharing=None,
    )
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
        joined=tuple(_count_makes(plans)),
    )


def _count_makes(plans: Sequence[Plan]) -> Iterator[tuple[str, int]]:
    """How many are made of each variant; of the choices of a range those of one number are told together."""
    builds = [plan.build for plan in plans]
    if not all(build.choices for build in builds):
        yield from ((build.variant, build.makes) for build in builds)
        return
    known = {build.variant: build.choices for build in builds}
    numbers = Counter(build.makes for build in builds)
    usual = numbers.most_common(1)[0][0]
    for makes in (*(number for number in numbers if number != usual), usual):
        alike = [build.variant for build in builds if build.makes == makes]
        if makes == usual:
            yield ALL if len(numbers) == 1 else f"{OTHERS} {len(alike)}", makes
        else:
            yield tell_variants(alike, known), makes


def _join_materials(plans: Sequence[Plan]) -> tuple[MaterialPlan, ...]:
    """Each material once; one that is other in a variant is another material, and says of which where it has the same
    title."""
    parts = [(plan.build, part) for plan in plans for part in plan.materials]
    groups = list(_group(parts, lambda part: part.material, lambda part: part.material.title))
    found: dict[Material, list[tuple[Build, MaterialPlan]]] = {}
    for build, part in parts:
        found.setdefault(part.material, []).append((build, part))
    return tuple(_join_material(alike[0].material, names, found[alike[0].material]) for alike, names in groups)


def _join_material(material: Material, names: str, parts: Sequence[tuple[Build, MaterialPlan]]) -> MaterialPlan:
    straps = [(build, item) for build, part in parts for item in part.straps]
    items = [(build, item) for build, part in parts for item in part.items]
    return sum_material(
        replace(material, title=_name_variants(material.title, names)),
        tuple(_join_alike(alike, told) for alike, told in _group(straps, _strap_key, lambda item: item.title)),
        tuple(_join_alike(alike, told) for alike, told in _group(items, _item_key, lambda item: item.name)),
        parts[0][0].limits,
    )


def _join_alike(alike: Sequence[Cut], names: str) -> Cut:
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
    items: Sequence[tuple[Build, Item]], key: Callable[[Item], object], name: Callable[[Item], str]
) -> Iterator[tuple[list[Item], str]]:
    """Items that are alike, with the variants to name; "" where all of that name are alike."""
    found: dict[object, list[tuple[Build, Item]]] = {}
    for build, item in items:
        found.setdefault(key(item), []).append((build, item))
    known = {build.variant: build.choices for build, _ in items}
    names = [name(item) for _, item in items]
    for group in found.values():
        alike = [item for _, item in group]
        is_all = len(group) == names.count(name(alike[0])) and len(group) > 1
        variants = list(dict.fromkeys(build.variant for build, _ in group))
        yield alike, "" if is_all else tell_variants(variants, known)


def _name_variants(title: str, variants: str) -> str:
    """The title, with the variants it is for."""
    return f"{title} ({variants})" if variants else title


def _join_threads(plans: Sequence[Plan]) -> tuple[ThreadNeed, ...]:
    found: dict[tuple[str, str], list[tuple[Build, ThreadNeed]]] = {}
    for plan in plans:
        for need in plan.threads:
            found.setdefault((need.thread_words, need.by), []).append((plan.build, need))
    return tuple(_join_thread(needs) for needs in found.values())


def _join_thread(needs: Sequence[tuple[Build, ThreadNeed]]) -> ThreadNeed:
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
        hand=tuple(_join_hand([(build, cut) for build, need in needs for cut in need.hand])),
    )


def _join_hand(cuts: Sequence[tuple[Build, HandThread]]) -> Iterator[HandThread]:
    """Threads of one job and length are one line."""
    for alike, names in _group(cuts, lambda cut: (cut.title, cut.length_mm), lambda cut: cut.title):
        count = sum(cut.count for cut in alike)
        yield replace(alike[0], title=_name_variants(alike[0].title, names), count=count)


def _join_hardware(plans: Sequence[Plan]) -> Iterator[HardwareItem]:
    """Each kind once; one of another size in a variant is bought apart."""
    items = [(plan.build, item) for plan in plans for item in plan.hardware]
    for alike, names in _group(items, lambda item: replace(item.hardware, count=0), lambda item: item.hardware.name):
        hardware = alike[0].hardware
        yield HardwareItem(
            hardware=replace(hardware, what=_name_variants(hardware.what, names)),
            count=sum(item.count for item in alike),
            posts=_join_posts(item.posts for item in alike),
            tried=_join_posts(item.tried for item in alike),
            wanted=max(item.wanted for item in alike),
            studs=_join_posts(item.studs for item in alike),
        )


def _join_trimmings(plans: Sequence[Plan]) -> Iterator[TrimmingItem]:
    """Each kind once, with every length that any variant cuts of it; one that is other in a variant is bought apart."""
    items = [(plan.build, item) for plan in plans for item in plan.trimmings]
    for alike, names in _group(items, lambda item: replace(item.trimming, cuts=()), lambda item: item.trimming.name):
        counts: dict[TrimmingCut, int] = {}
        for cut, count in (entry for item in alike for entry in item.cuts):
            counts[cut] = counts.get(cut, 0) + count
        what = _name_variants(alike[0].trimming.what, names)
        yield TrimmingItem(trimming=replace(alike[0].trimming, what=what), cuts=tuple(counts.items()))


def _join_posts(items: Iterable[tuple[tuple[float, int], ...]]) -> tuple[tuple[float, int], ...]:
    counts: dict[float, int] = {}
    for posts in items:
        for post_mm, count in posts:
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
