"""What putting a build together and placing its parts cost, in milliseconds of processor time, the best of seven.

Run as `python tests/bench/bench_space.py`. The bar: both together at most 15 ms for the demo bag on a machine where
`bench_packet` draws the bare packet in 0.3 s.
"""

import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from docgen.assemble import assemble, place_parts
from docgen.checks import resolve_build
from docgen.read import read_spec

ROOT = Path(__file__).resolve().parents[2]
TIMES = 7


def spend(work: Callable[[], object]) -> float:
    """Milliseconds of processor time."""
    spent = []
    for _ in range(TIMES):
        begun = time.process_time()
        work()
        spent.append(time.process_time() - begun)
    return 1000 * min(spent)


def main() -> None:
    for path in sorted((*ROOT.glob("specs/*.toml"), *ROOT.glob("docgen/starters/*.toml"))):
        build = resolve_build(read_spec(path))
        space = build.space
        joined, placed = spend(partial(assemble, build)), spend(partial(place_parts, build, build.assembly))
        counts = f"{len(space.parts)} placed, {len(space.unplaced)} not, widest gap {space.widest_mm:.3f} mm"
        print(f"{path.stem:16s} assemble {joined:5.1f} ms, place {placed:5.1f} ms; {counts}")


if __name__ == "__main__":
    main()
