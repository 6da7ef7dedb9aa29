"""How sheets, time and file size grow with the number of pieces, and time with the number of holes.

Run as `python tests/bench/bench_growth.py`. Made-up bags of 10 to 300 pieces, of sizes as in a bag, with holes and a
seam here and there; everything is printed also per piece, so that growth faster than the pieces' number shows. Then one
piece with rows of 1,000 to 50,000 holes.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from docgen import build_documents

COUNTS = (10, 30, 100, 300)
HOLES = (1_000, 10_000, 50_000)
HOLES_APART_MM = 1.8
DATE = "2026-03-31"
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
    """A spec of one piece with so many holes, in rows of 100 or more; few enough of them fit one sheet."""
    long = 500 if count > 10_000 else 100
    rows = count // long
    wide, high = (number * HOLES_APART_MM + 20 for number in (long, rows))
    parts = [f'{HEAD}[pieces.plate]\nof = "hide"\nshape = "rectangle"\nsize = ["{wide} mm", "{high} mm"]\n']
    for row in range(rows):
        up = f"{12 + row * HOLES_APART_MM:.1f} mm from bottom"
        parts.append(
            f'[[pieces.plate.hole-rows]]\nstart = "12 mm from left, {up}"\nend = "12 mm from right, {up}"\n'
            f'count = {long}\npunch = "1 mm"\n'
        )
    return "".join(parts)


def time_holes() -> None:
    print("holes   processor seconds")
    for count in HOLES:
        with tempfile.TemporaryDirectory() as folder:
            spec = Path(folder) / "holes.toml"
            spec.write_text(make_holes(count), encoding="utf-8")
            start = time.process_time()
            build_documents(spec, Path(folder) / "out", date=DATE)
            print(f"{count:<7} {time.process_time() - start:.2f}", flush=True)


def main() -> None:
    print("pieces  sheets  per piece  bound   joins   seconds  per piece  KiB     per piece")
    for count in COUNTS:
        with tempfile.TemporaryDirectory() as folder:
            spec = Path(folder) / "grown.toml"
            spec.write_text(make_spec(count), encoding="utf-8")
            start = time.perf_counter()
            outcome = build_documents(spec, Path(folder) / "out", date=DATE)
            seconds = time.perf_counter() - start
            size = (Path(folder) / "out" / "packet.pdf").stat().st_size / 1024
        assert outcome.count is not None
        sheets, joins, bound = outcome.count.sheets, outcome.count.joins, outcome.count.bound
        print(
            f"{count:<7} {sheets:<7} {sheets / count:<10.3f} {bound:<7} {joins:<7}"
            f" {seconds:<8.2f} {seconds / count:<10.4f}"
            f" {size:<7.0f} {size / count:.2f}",
            flush=True,
        )
    time_holes()


if __name__ == "__main__":
    main()
