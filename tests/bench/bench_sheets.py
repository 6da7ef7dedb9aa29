"""How many sheets and joins the pattern takes through the whole program, tags and labels as printed, beside the bound.

Run as `python tests/bench/bench_sheets.py`. The demos and a satchel on letter and A4, then twenty random bags of 20 to
30 pieces; the CPU is that of the whole run, in seconds.
"""

import sys
import tempfile
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from docgen import build_documents
from docgen.pages.marks.page import SheetCount

ROOT = Path(__file__).resolve().parents[2]
DATE = "2026-03-31"
PAPERS = ("letter", "a4")
SPECS = (*sorted((ROOT / "specs").glob("*.toml")), ROOT / "tests" / "pages" / "satchel.toml")
HEAD = """\
[spec]
code = "random-bag"
title = "Random bag"
version = "1"
[materials.hide]
kind = "leather"
thickness = "2 mm"
"""
Sizes = list[tuple[str, float, float]]


def random_sizes(number: int) -> Sizes:
    """20 to 30 pieces of a bag, (name, width, height) in mm: two to six larger than a sheet, the others small, some
    long and narrow."""
    random = Random(number)
    bag = [(f"panel-{i}", random.uniform(215, 330), random.uniform(205, 300)) for i in range(random.randint(2, 4))]
    bag += [(f"strip-{i}", random.uniform(45, 95), random.uniform(300, 780)) for i in range(random.randint(0, 2))]
    while len(bag) < random.randint(20, 30):
        i = len(bag)
        if random.random() < 0.3:
            bag.append((f"band-{i}", random.uniform(20, 50), random.uniform(120, 255)))
        else:
            bag.append((f"part-{i}", random.uniform(25, 150), random.uniform(30, 180)))
    return bag


def make_spec(sizes: Sizes) -> str:
    """A spec of rectangles of these sizes, to a tenth of a millimetre."""
    parts = [
        f'[pieces.{name}]\nof = "hide"\nshape = "rectangle"\nsize = ["{width:.1f} mm", "{height:.1f} mm"]\n'
        for name, width, height in sizes
    ]
    return HEAD + "".join(parts)


def count_sheets(spec: Path, paper: str) -> SheetCount:
    """Sheets and joins of the pattern as it is printed on this paper."""
    with tempfile.TemporaryDirectory() as folder:
        count = build_documents(spec, folder, paper=paper, date=DATE, only=["pattern"]).count
    assert count is not None
    return count


def count_bag(number: int) -> SheetCount:
    """The same of a random bag, on letter or A4 in turn."""
    with tempfile.TemporaryDirectory() as folder:
        spec = Path(folder) / "bag.toml"
        spec.write_text(make_spec(random_sizes(number)), encoding="utf-8")
        return count_sheets(spec, PAPERS[(number + 1) % 2])


def main() -> None:
    print("spec                    paper   sheets  joins  bound  CPU s")
    for spec in SPECS:
        for paper in PAPERS:
            start = time.process_time()
            count = count_sheets(spec, paper)
            spent = time.process_time() - start
            print(f"{spec.stem:<23} {paper:<7} {count.sheets:<7} {count.joins:<6} {count.bound:<6} {spent:.2f}")
    start = time.process_time()
    counts = [count_bag(number) for number in range(20)]
    spent = time.process_time() - start
    sheets, joins, bound = (sum(getattr(count, name) for count in counts) for name in ("sheets", "joins", "bound"))
    print(f"twenty random bags      both    {sheets:<7} {joins:<6} {bound:<6} {spent:.2f}")
    print(f"sheets of the twenty are {sheets / bound:.3f} x the bound")


if __name__ == "__main__":
    main()
