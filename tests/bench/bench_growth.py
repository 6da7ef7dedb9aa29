"""How processor, time and memory grow with what a spec holds: holes, pieces, variants, orders.

Run as `python tests/bench/bench_growth.py [OLDER]`, where OLDER is a checkout of an older state whose time for the
variants is printed beside. The bars: 10,000 holes at most 2 times the time of 1,000, 300 pieces at most 3.3 times that
of 100, 5,000 orders under 150 MiB. Made-up bags, each made by a cold process; what is twice or three times as
much of the same is printed as a ratio.
"""

import sys
import tempfile
from pathlib import Path
from random import Random

from cold import ROOT, Cost, run_cold

DATE = "2026-03-31"
SPEC = "specs/field-bag.toml"
HEAD = """\
[spec]
code = "grown"
title = "Grown bag"
version = "1"
[materials.hide]
kind = "leather"
thickness = "4 oz"
[stitches.main]
by = "hand"
thread = "Tex 180 waxed polyester"
pitch = "4 mm"
inset = "4 mm"
"""


def make_spec(count: int) -> str:
    """A spec of so many pieces, two of every ten larger than a sheet; every fifth is sewn to the one before."""
    random = Random(count)
    parts = [HEAD]
    width = height = 0
    for number in range(count):
        large = number % 10 < 2
        is_sewn = number % 5 == 4
        if not is_sewn:
            width = random.randint(220, 320) if large else random.randint(40, 180)
            height = random.randint(210, 300) if large else random.randint(40, 200)
        parts.append(
            f'[pieces.p{number}]\nof = "hide"\nshape = "rectangle"\nsize = ["{width} mm", "{height} mm"]\n'
            'holes = [{ at = "centre, 12 mm from top", punch = "4 mm" }]\n'
        )
        if is_sewn:
            parts.append(f'[seams.s{number}]\nstitch = "main"\nmeet = ["p{number}: bottom", "p{number - 1}: bottom"]\n')
    return "".join(parts)


def make_holes(count: int) -> str:
    """A panel with so many holes, in rows of a hundred, to let air through."""
    rows = count // 100
    panel = f'[pieces.panel]\nof = "hide"\nshape = "rectangle"\nsize = ["620 mm", "{20 + 3 * rows} mm"]\n'
    row = '[[pieces.panel.hole-rows]]\nstart = "10 mm from left, {0} mm from top"\n'
    row += 'end = "10 mm from right, {0} mm from top"\ncount = 100\npunch = "1.5 mm"\n'
    return HEAD + panel + "".join(row.format(10 + 3 * number) for number in range(rows))


def make_meeting(count: int) -> str:
    """Two such panels, one landing on the other with every hole on one of its own."""
    panel = make_holes(count).removeprefix(HEAD)
    landing = 'landings = [{ piece = "upper", at = "centre, 0.01 mm from bottom" }]\n'
    lower = panel.replace('of = "hide"\n', f'of = "hide"\n{landing}')
    return HEAD + lower + panel.replace("pieces.panel", "pieces.upper")


def make_variants(count: int, root: Path = ROOT) -> str:
    """The demo bag in so many widths."""
    widths = (f'[variants.v{number}]\nmeasures = {{ width = "{11 + number / 10} in" }}\n' for number in range(count))
    return (root / SPEC).read_text(encoding="utf-8") + "".join(widths)


def make_orders(count: int) -> str:
    rows = (f"Customer {number},A-{number:05}\n" for number in range(count))
    return "name,serial\n" + "".join(rows)


def make_packet(folder: Path, spec: str, *more: str, cores: int | None = None, root: Path = ROOT) -> Cost:
    path = folder / "grown.toml"
    path.write_text(spec, encoding="utf-8")
    command = [sys.executable, "-m", "docgen", "make", str(path), "--out", str(folder / "out"), "--date", DATE, *more]
    return run_cold(command, cores, root)


def tell(what: str, cost: Cost) -> None:
    print(f"{what:24} cpu {cost.cpu_s:6.2f} s  wall {cost.wall_s:6.2f} s  {cost.peak_mib:4.0f} MiB", flush=True)


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_packet(folder, make_holes(100))  # compiles what is not compiled yet
        for what, make, counts in (
            ("holes", make_holes, (1000, 10_000)),
            ("holes that meet", make_meeting, (1000, 10_000)),
            ("pieces", make_spec, (10, 30, 100, 300)),
        ):
            costs = [make_packet(folder, make(count)) for count in counts]
            for count, cost in zip(counts, costs, strict=True):
                tell(f"{count} {what}", cost)
            print(f"{counts[-1]} / {counts[-2]} {what}: cpu {costs[-1].cpu_s / costs[-2].cpu_s:.2f}")
        sides = [make_packet(folder, make_variants(20), cores=cores) for cores in (1, 2)]
        for cores, cost in enumerate(sides, start=1):
            tell(f"20 variants, cores: {cores}", cost)
        print(f"2 cores / 1 core: wall {sides[1].wall_s / sides[0].wall_s:.2f}")
        if len(sys.argv) > 1:
            root = Path(sys.argv[1])
            older = make_packet(folder, make_variants(20, root), cores=2, root=root)
            tell("20 variants, older state", older)
            print(f"now / older: wall {sides[1].wall_s / older.wall_s:.2f}, cpu {sides[1].cpu_s / older.cpu_s:.2f}")
        orders = folder / "orders.csv"
        orders.write_text(make_orders(5000), encoding="utf-8")
        tell("5000 orders", make_packet(folder, (ROOT / SPEC).read_text(encoding="utf-8"), "--orders", str(orders)))


if __name__ == "__main__":
    main()
