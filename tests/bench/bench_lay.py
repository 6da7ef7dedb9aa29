"""Lays: batches by chance proved with shapely, hides said against hides needed, speed, and open sets of irregular pieces.

    python tests/bench/bench_lay.py [batches] [seed]

What a lay says of usual hides, what rows say and what the area says are each held against a lay on other hides of the
same goods. Seconds are of the processor. The open sets and their source stand in lay/sets.json.
"""

import json
import math
import random
import resource
import sys
import time
from pathlib import Path
from types import SimpleNamespace

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1])]

from laid import box, draw_batch, find_wrongs, goods_of, make_part, strap  # noqa: E402
from shapely.geometry import Polygon  # noqa: E402

from docgen.lay import Lay, Part, lay_boxes, lay_hides, usual_hide  # noqa: E402
from docgen.lay.kinds import HIDDEN, SHOWN, STRAPS  # noqa: E402
from docgen.plan.buying import plan_bought  # noqa: E402
from docgen.resolve import Goods  # noqa: E402
from docgen.tables.hides import HIDES  # noqa: E402
from docgen.tables.limits import Limits  # noqa: E402
from docgen.tables.material import WASTE_BY_KIND, find_gross_mm2  # noqa: E402

LIMITS = Limits()
FAULTS = (0.0, 0.01, 0.03)


def lay_usual(parts: list[Part], goods: Goods, seed: int) -> tuple[Lay, float]:
    """The lay on hides of their middle area, and its seconds."""
    began = time.process_time()
    lay = lay_hides(parts, LIMITS, lambda number: usual_hide(goods, number, seed=seed))
    return lay, time.process_time() - began


def lay_others(parts: list[Part], goods: Goods, chance: random.Random) -> Lay:
    """The lay on hides of other areas, with other faults."""
    areas = [chance.uniform(goods.least_mm2, goods.most_mm2) for _ in range(60)]
    return lay_hides(parts, LIMITS, lambda number: usual_hide(goods, number, areas[number], chance.randint(1, 10**6)))


def area_says(parts: list[Part], goods: Goods) -> int:
    """Hides by area and the usual waste alone."""
    net_mm2 = sum(part.area_mm2 * part.count for part in parts)
    return math.ceil(find_gross_mm2(net_mm2, WASTE_BY_KIND["leather"]) / goods.middle_mm2)


def rows_say(parts: list[Part], goods: Goods) -> int:
    """Hides as the cutting list buys them where no lay was asked for."""
    straps, items = [], []
    for part in parts:
        wide, high = Polygon(part.outline).bounds[2:]
        if part.group == STRAPS:
            given = {"width_mm": wide, "length_mm": high, "count": part.count, "area_mm2": part.area_mm2}
            straps.append(SimpleNamespace(**given, is_padding=False, is_plain=False))
        else:
            lies, cut_from = part.lies if part.lies in ("up", "across") else "", "any" if part.group == HIDDEN else ""
            piece = SimpleNamespace(least_stretch=lies, cut_from=cut_from, lines=())
            given = {"width_mm": wide, "height_mm": high, "count": part.count, "area_mm2": part.area_mm2}
            items.append(SimpleNamespace(**given, piece=piece))
    net_mm2 = sum(part.area_mm2 * part.count for part in parts)
    gross_mm2 = find_gross_mm2(net_mm2, WASTE_BY_KIND["leather"])
    material = SimpleNamespace(goods=goods, roll_width_mm=0.0)
    bought = plan_bought(material, straps, items, gross_mm2=gross_mm2, run_mm=0.0, limits=LIMITS)  # type: ignore[arg-type]
    return bought.count if bought else 0


def draw_case(chance: random.Random) -> tuple[str, list[Part], Goods]:
    """A batch of bags, or of straps alone, on hides that hold each of its pieces."""
    goods = goods_of(chance.choice(list(HIDES)), chance.choice(FAULTS))
    most_mm = 0.55 * goods.edge_mm
    if chance.random() < 0.3:
        widths = chance.sample([19.0, 25.4, 32.0, 38.0, 45.0], chance.randint(1, 3))
        longest = int(0.8 * goods.edge_mm)
        parts = [
            strap(k, width, chance.randint(300, longest), chance.randint(1, 8) * chance.choice([1, 4, 12]))
            for k, width in enumerate(widths, start=1)
        ]
        return "straps", parts, goods
    times = chance.choice([1, 2, 4])
    parts = [
        make_part(part.number, part.outline, part.count * times, is_pair=part.is_pair, lies=part.lies, group=part.group)
        for part in draw_batch(chance)
        if max(Polygon(part.outline).bounds[2:]) < most_mm
    ]
    return "bags", parts or [make_part(1, box(100.0, 100.0), 4)], goods


def prove_batches(batches: int, seed: int) -> None:
    """Lays of batches by chance: what shapely finds wrong, and who foretold the hides of another lay."""
    wrong = 0
    says: dict[str, list[int]] = {"area": [], "rows": [], "lay": []}
    slowest = 0.0
    for number in range(batches):
        chance = random.Random(seed * 1000 + number)
        kind, parts, goods = draw_case(chance)
        lay, seconds = lay_usual(parts, goods, seed)
        slowest = max(slowest, seconds)
        other = lay_others(parts, goods, chance)
        for one in (lay, other):
            for words in find_wrongs(one, parts):
                wrong += 1
                print(f"  WRONG {number} {goods.sold}: {words}")
        needed = len(other.sheets)
        if lay.missing or other.missing or max(needed, len(lay.sheets)) < 2:
            continue
        told = {"area": area_says(parts, goods), "rows": rows_say(parts, goods), "lay": len(lay.sheets)}
        for name, count in told.items():
            says[name].append(count - needed)
        print(f"  {number:3} {kind:6} {goods.sold:15} {goods.faults:4.0%} needed {needed:3} " + str(told), flush=True)
    print(f"{batches} batches, each on two draws of its goods: {wrong} wrong, slowest lay {slowest:.2f} s")
    for name, off in says.items():
        few, right = sum(each < 0 for each in off), sum(each == 0 for each in off)
        shares = f"right {right / max(1, len(off)):.0%}, too few {few / max(1, len(off)):.0%}"
        print(f"  {name:5} of {len(off)} cases of more than one hide: {shares}")


def time_lays() -> None:
    """Thirty and a hundred and fifty pieces on sides."""
    chance = random.Random(5)
    for pieces, share in ((30, 1.0), (150, 0.42)):
        parts = [strap(1, 25.4, 900 * share, pieces // 10), strap(2, 19.0, 500 * share, pieces // 10)]
        count = pieces // 5
        for number, (wide, high) in enumerate(((300, 240), (90, 320), (120, 140), (70, 80)), start=3):
            group = chance.choice([SHOWN, SHOWN, HIDDEN])
            parts.append(make_part(number, box(wide * share, high * share), count, group=group))
        lay, seconds = lay_usual(parts, goods_of("side", 0.01), 1)
        count = sum(part.count for part in parts)
        print(f"{count} pieces on {len(lay.sheets)} side(s): {seconds:.2f} s, missing {lay.missing}")


def pack_sets() -> None:
    """Open sets: a unit is so many mm that the grid meets it, no room for the knife."""
    held = json.loads((HERE / "lay" / "sets.json").read_text(encoding="utf-8"))
    limits = Limits(knife_gap_mm=0.0)
    for name, one in held["sets"].items():
        unit = {"mao": 1.0, "shapes0": 24.0, "shirts": 20.0, "trousers": 10.0}[name]
        parts = [
            make_part(k, [(y * unit, x * unit) for x, y in shape], count, lies=one["turns"])
            for k, (count, shape) in enumerate(one["items"], start=1)
        ]
        net_mm2 = sum(part.area_mm2 * part.count for part in parts)
        wide_mm = one["width"] * unit
        began = time.process_time()
        lay = lay_boxes(parts, limits, wide_mm, 2.2 * net_mm2 / wide_mm, is_roll=True)
        seconds = time.process_time() - began
        (sheet,) = lay.sheets
        density = net_mm2 / (wide_mm * sheet.used_mm)
        wrong = sum(1 for _ in find_wrongs(lay, parts))
        share = density / one["best"]
        print(f"{name:9} {density:.1%} of the strip, {share:.1%} of the best known, {seconds:.1f} s, {wrong} wrong")


if __name__ == "__main__":
    words = (*sys.argv[1:], *("100", "1")[len(sys.argv) - 1 :])
    time_lays()
    pack_sets()
    prove_batches(int(words[0]), int(words[1]))
    print(f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MiB at most")
