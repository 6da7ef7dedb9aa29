"""Lays: batches by chance proved with shapely, hides said against hides needed, speed, and open sets of irregular pieces.

    python tests/bench/bench_lay.py [--batches 100] [--from 0] [--seed 1] [--beside FOLDER] [--only sets ...]

What a lay says of usual hides, what rows say and what the area says are each held against a lay on other hides of the
same goods: with other faults and of other areas, together as large as the lay says; and of any areas, as they come. Seconds
are of the processor. `--only` is of time, sets, patient (the sets, searched for longer) and batches. The open sets and
their source stand in lay/sets.json. `--beside` names a folder with another engine (`lay.py` with Part, hide_sheet, lay),
which gets the same batches on the same hides.
"""

import argparse
import importlib
import json
import math
import random
import subprocess
import sys
import time
from pathlib import Path
from types import SimpleNamespace

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1])]

from laid import box, draw_batch, find_wrongs, goods_of, make_part, strap  # noqa: E402
from shapely.geometry import Polygon  # noqa: E402

from docgen.lay import Effort, Hide, Lay, Part, lay_boxes, lay_hides, lay_usual, usual_hide  # noqa: E402
from docgen.lay.grid import repeat  # noqa: E402
from docgen.lay.kinds import HIDDEN, SHOWN, STRAPS  # noqa: E402
from docgen.plan.buying import plan_bought  # noqa: E402
from docgen.resolve import Goods  # noqa: E402
from docgen.tables.hides import HIDES  # noqa: E402
from docgen.tables.limits import Limits  # noqa: E402
from docgen.tables.material import WASTE_BY_KIND, find_gross_mm2  # noqa: E402

LIMITS = Limits()
FAULTS = (0.0, 0.01, 0.03)


def say_lay(parts: list[Part], goods: Goods, seed: int) -> tuple[Lay, float]:
    """The lay on usual hides, and its seconds."""
    began = time.process_time()
    lay = lay_usual(parts, LIMITS, goods, seed=seed)
    return lay, time.process_time() - began


def draw_others(goods: Goods, chance: random.Random, said: Lay | None = None) -> list[Hide]:
    """Hides of other areas, with other faults; the first of them, as many as were said, together of the area that was."""
    count = len(said.sheets) if said else 0
    together_mm2 = sum(sheet.hide.area_mm2 for sheet in said.sheets) if said else 0.0
    areas = [chance.uniform(goods.least_mm2, goods.most_mm2) for _ in range(60)]
    for _ in range(20):  # what they are off is spread over those that can still take some of it
        off = (together_mm2 - sum(areas[:count])) / max(1, count)
        areas[:count] = [min(goods.most_mm2, max(goods.least_mm2, area + off)) for area in areas[:count]]
    seed = chance.randint(1, 10**6)
    return [usual_hide(goods, number, area, seed) for number, area in enumerate(areas)]


def lay_on(parts: list[Part], hides: list[Hide]) -> Lay:
    return lay_hides(parts, LIMITS, lambda number: hides[number] if number < len(hides) else None)


def pick_cell_mm(parts: list[Part]) -> float:
    """The cell in which the rows of the other engine, whose widths are rounded up to whole cells, lose least."""

    def lost(cell_mm: float) -> float:
        sides = [(part.count, *Polygon(part.outline).bounds[2:]) for part in parts if part.group == STRAPS]
        strips = [(count * long, wide + LIMITS.knife_gap_mm) for count, wide, long in sides]
        return sum(much * (math.ceil(mm / cell_mm - 1e-7) * cell_mm - mm) for much, mm in strips)

    return min((tenths / 10 for tenths in range(30, 24, -1)), key=lambda cell_mm: (lost(cell_mm), -cell_mm))


def count_beside(folder: str, parts: list[Part], hides: list[Hide]) -> int:
    """Hides that the other engine takes for the same parts on the same hides; 0 where it leaves some over."""
    if folder not in sys.path:
        sys.path.append(folder)
    other = importlib.import_module("lay")
    ways = {"": "free", "up": "along", "across": "across", "nap": "one"}
    needs = {STRAPS: "best", SHOWN: "face", HIDDEN: "hidden"}
    given = [
        other.Part(
            name=part.title,
            pts=list(part.outline),
            area=part.area_mm2,
            count=part.count,
            pair=part.is_pair,
            ways=ways[part.lies],
            need=needs[part.group],
            strap=part.group == STRAPS,
        )
        for part in parts
    ]
    cell_mm = pick_cell_mm(parts)

    def make_sheet(number: int) -> object:
        hide = hides[number]
        told = {
            "outline": list(hide.outline),
            "defects": [list(fault) for fault in hide.faults],
            "poor": [list(poor) for poor in hide.poor],
            "best": list(hide.firm[0]),
            "kind": "hide" if hide.has_edge else "skin",
            "U": hide.width_mm,
            "V": hide.length_mm,
        }
        sheet = other.hide_sheet(told, cell_mm, True)
        if hide.has_edge:  # it knows no trimming of the edge: those cells are closed
            trimmed = repeat((1 << math.ceil(LIMITS.edge_trim_mm / cell_mm)) - 1, sheet.across, sheet.along)
            sheet.maps = {zone: closed | trimmed for zone, closed in sheet.maps.items()}
        return sheet

    found = other.lay(given, make_sheet, cell_mm, gap=LIMITS.knife_gap_mm, has_zones=True, most_sheets=60)
    return 0 if found["left"] else len(found["sheets"])


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
            straps.append(SimpleNamespace(**given, comes_from="firm"))
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


def prove_batches(first: int, batches: int, seed: int, beside: str) -> None:
    """Lays of batches by chance: what shapely finds wrong, who foretold the hides of another lay, and who takes more."""
    wrong = more = fewer = held = 0
    off: dict[str, list[int]] = {f"{name} {how}": [] for how in ("as said", "any") for name in ("area", "rows", "lay")}
    slowest = 0.0
    for number in range(first, first + batches):
        chance = random.Random(seed * 1000 + number)
        kind, parts, goods = draw_case(chance)
        lay, seconds = say_lay(parts, goods, seed)
        slowest = max(slowest, seconds)
        told = {"area": area_says(parts, goods), "rows": rows_say(parts, goods), "lay": len(lay.sheets)}
        line = f"  {number:3} {kind:6} {goods.sold:15} {goods.faults:4.0%} {told}"
        others = {"as said": draw_others(goods, chance, lay), "any": draw_others(goods, chance)}
        for how, hides in others.items():
            other = lay_on(parts, hides)
            for one in (lay, other):
                for words in find_wrongs(one, parts):
                    wrong += 1
                    print(f"  WRONG {number} {goods.sold}: {words}")
            needed = len(other.sheets)
            line += f", {how} {needed}"
            if beside and how == "as said" and not other.missing:
                by_other = count_beside(beside, parts, hides)
                held += 1
                more += 0 < by_other < needed
                fewer += needed < by_other or not by_other
                line += f" (beside {by_other})"
            if not lay.missing and not other.missing:
                for name, count in told.items():
                    if max(count, needed) > 1:
                        off[f"{name} {how}"].append(count - needed)
        print(line, flush=True)
    print(f"{batches} batches, each on three draws of its goods: {wrong} wrong, slowest lay {slowest:.2f} s")
    for name, each in off.items():
        few, right = sum(one < 0 for one in each), sum(one == 0 for one in each)
        spread = ", ".join(f"{one:+} {each.count(one)}" for one in sorted(set(each)))
        shares = f"right {right / max(1, len(each)):.0%}, too few {few / max(1, len(each)):.0%}"
        print(f"  {name:13} of {len(each)} cases of more than one hide: {shares}; said less needed: {spread}")
    if beside:
        print(f"  beside the other engine on {held} cases: fewer hides in {fewer}, more in {more}")


def time_lays(sizes: tuple[tuple[int, float], ...] = ((30, 1.0), (150, 0.42))) -> None:
    """Thirty and a hundred and fifty pieces on sides."""
    chance = random.Random(5)
    for pieces, share in sizes:
        parts = [strap(1, 25.4, 900 * share, pieces // 10), strap(2, 19.0, 500 * share, pieces // 10)]
        count = pieces // 5
        for number, (wide, high) in enumerate(((300, 240), (90, 320), (120, 140), (70, 80)), start=3):
            group = chance.choice([SHOWN, SHOWN, HIDDEN])
            parts.append(make_part(number, box(wide * share, high * share), count, group=group))
        lay, seconds = say_lay(parts, goods_of("side", 0.01), 1)
        count = sum(part.count for part in parts)
        print(f"{count} pieces on {len(lay.sheets)} side(s): {seconds:.2f} s, missing {lay.missing}")


def pack_sets(*, is_patient: bool = False) -> None:
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
        lay = lay_boxes(
            parts, limits, wide_mm, 2.2 * net_mm2 / wide_mm, is_roll=True, effort=Effort(is_patient=is_patient)
        )
        seconds = time.process_time() - began
        (sheet,) = lay.sheets
        density = net_mm2 / (wide_mm * sheet.used_mm)
        wrong = sum(1 for _ in find_wrongs(lay, parts))
        share = density / one["best"]
        how = "patient" if is_patient else "plain"
        print(
            f"{name:9} {how:7} {density:.1%} of the strip, {share:.1%} of the best known, {seconds:.1f} s, {wrong} wrong",
            flush=True,
        )


def measure_one() -> None:
    """What a process takes that makes one lay of thirty pieces, with all that it loads."""
    code = "import bench_lay; bench_lay.time_lays(((30, 1.0),)); bench_lay.tell_memory()"
    print(
        subprocess.run([sys.executable, "-c", code], cwd=HERE, capture_output=True, text=True, check=True).stdout,
        end="",
    )


def tell_memory() -> None:
    """The most that this process had at once; what `resource` tells counts the process that began it as well."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    peak = next(line for line in status.splitlines() if line.startswith("VmHWM"))
    print(f"{int(peak.split()[1]) // 1024} MiB at most in this process, shapely included")


if __name__ == "__main__":
    reader = argparse.ArgumentParser()
    reader.add_argument("--batches", type=int, default=100)
    reader.add_argument("--from", dest="first", type=int, default=0)
    reader.add_argument("--seed", type=int, default=1)
    reader.add_argument("--beside", default="")
    reader.add_argument("--only", nargs="+", default=["time", "sets", "patient", "batches"])
    asked = reader.parse_args()
    if "time" in asked.only:
        time_lays()
        measure_one()
    if "sets" in asked.only:
        pack_sets()
    if "patient" in asked.only:
        pack_sets(is_patient=True)
    if "batches" in asked.only:
        prove_batches(asked.first, asked.batches, asked.seed, asked.beside)
