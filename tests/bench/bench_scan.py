"""Areas of hides from photos made by known perspectives: how far off, how often by more than was told, seconds, memory.

    python tests/bench/bench_scan.py [--photos 24] [--seed 1] [--share 0.25] [--noise 2]

Hides of every kind lie flat on a floor, in light that falls off, with texture and noise, tilted by up to 35 degrees; a
photo is a JPEG of 1,600 by 1,200 pixels. `--share` is the side of the square as a share of the hide's length: the
command asks for a quarter.
"""

import argparse
import random
import resource
import sys
import time
from dataclasses import replace
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1])]

from laid import goods_of  # noqa: E402
from photographed import Camera, photograph, save_jpeg, square  # noqa: E402

from docgen.lay import outline_area, usual_hide  # noqa: E402
from docgen.scan.photo import read_photo, take_pixels  # noqa: E402
from docgen.scan.scan import scan_pixels  # noqa: E402
from docgen.scan.words import ScanRefused  # noqa: E402
from docgen.tables.hides import HIDES  # noqa: E402

TILTS = (0, 5, 10, 20, 30, 35)
LEATHERS = ((120, 72, 40), (60, 40, 30), (200, 160, 120), (30, 30, 34), (150, 60, 40))
FLOORS = ((168, 165, 158), (205, 205, 205), (110, 120, 130))
PALE, WHITE, BLUE = (225, 225, 220), (245, 245, 245), (40, 60, 140)
SIZE = (1600, 1200)
AROUND = 25


def draw_photo(chance: random.Random, share: float, noise: float) -> tuple[str, bytes, float, float]:
    """What it shows in words, the photo, the side of the square, and the true area of the hide."""
    kind, tilt = chance.choice(list(HIDES)), chance.choice(TILTS)
    hide = usual_hide(goods_of(kind), 0)
    wide, long = hide.width_mm, hide.length_mm
    outline = [(x - wide / 2, y - long / 2) for x, y in hide.outline]
    if chance.random() < 0.5:
        outline, wide, long = [(-y, x) for x, y in outline], long, wide
    side = round(max(wide, long) * share)
    card = square(side, (wide / 2 + 0.8 * side + 40, chance.uniform(-long / 4, long / 4)), chance.uniform(-20, 20))
    camera = Camera(
        tilt=tilt,
        towards=chance.uniform(0, 360),
        turn=chance.uniform(-10, 10),
        at=(side / 2, 0.0),
        across_mm=1000.0,
        focal=chance.choice([0.7, 0.8, 1.2]),
        size=SIZE,
    )
    while not is_inside(camera, [*outline, *card]):
        camera = replace(camera, across_mm=camera.across_mm * 1.06)
    leather, floor = chance.choice(LEATHERS), chance.choice(FLOORS)
    floor = PALE if abs(sum(leather) - sum(floor)) < 120 else floor
    things = [(outline, leather), (card, WHITE if sum(floor) < 500 else BLUE)]
    picture = photograph(camera, things, floor, noise=noise, seed=chance.randint(1, 10**6))
    return f"{kind:15} tilt {tilt:2}", save_jpeg(picture), side, outline_area(hide.outline)


def is_inside(camera: Camera, points: list[tuple[float, float]]) -> bool:
    x, y = camera.see(points).T
    return min(x.min(), y.min(), SIZE[0] - x.max(), SIZE[1] - y.max()) > AROUND


def measure(photos: int, seed: int, share: float, noise: float) -> None:
    """Print each photo, then the shares."""
    offs, beyond, refused = [], 0, 0
    for number in range(photos):
        words, photo, side, true = draw_photo(random.Random(seed * 1000 + number), share, noise)
        began = time.process_time()
        try:
            seen = scan_pixels(take_pixels(read_photo(photo, "photo")), side)
        except ScanRefused as error:
            refused += 1
            print(f"  {number:3} {words} refused: {error.what}", flush=True)
            continue
        off, seconds = seen.area_mm2 / true - 1, time.process_time() - began
        offs.append(abs(off))
        beyond += abs(off) > seen.error
        print(f"  {number:3} {words} {off:+.3%}, told {seen.error:.2%}, {seconds:.2f} s", flush=True)
    within = sum(off <= 0.005 for off in offs) / max(1, len(offs))
    print(f"{len(offs)} areas: within 0.5 % in {within:.0%}, at most {max(offs, default=0):.3%} off")
    print(f"off by more than was told in {beyond}, refused {refused}")
    print(f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MiB at most, with what makes the photos")


if __name__ == "__main__":
    reader = argparse.ArgumentParser()
    reader.add_argument("--photos", type=int, default=24)
    reader.add_argument("--seed", type=int, default=1)
    reader.add_argument("--share", type=float, default=0.25)
    reader.add_argument("--noise", type=float, default=2.0)
    measure(**vars(reader.parse_args()))
