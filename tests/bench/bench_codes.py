"""How many page codes of the demo bag are read from pictures of its pages, as a phone or a scanner might take them.

Run it from the project's folder: python tests/bench/bench_codes.py
It prints one rate for each resolution, turn and kind of picture, by docgen's own reading; and of two unlike readers how
many pages they read at 150 dpi and on photos of the whole page. pypdfium2 draws the pages, pillow and numpy spoil them.
"""

import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image, ImageFilter

from docgen.checks import resolve_build
from docgen.pages import choices_of, lay_out
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.versions.traced.scan import read_codes
from docgen.write.finish import finish_files

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from photos import DRAWN_DPI, LARGE, SMALL, read_by_opencv, read_by_zxing, take_photo

SPEC = Path(__file__).resolve().parents[2] / "specs" / "field-bag.toml"
RESOLUTIONS_DPI = (50, 60, 75, 100, 150, 200)
TURNS_DEG = (0, 3, 90, 180)

Picture = Image.Image


def add_noise(picture: Picture) -> Picture:
    """Noise with a deviation of 30 of 255, the same every time."""
    noise = np.random.default_rng(7).normal(0.0, 30.0, (picture.height, picture.width))
    return Image.fromarray(np.clip(np.asarray(picture, dtype=float) + noise, 0, 255).astype(np.uint8))


def fade(picture: Picture) -> Picture:
    """Dull light: black becomes a dark grey, white a light one, darker from one side to the other."""
    light = np.linspace(0.55, 0.95, picture.width)
    return Image.fromarray((70 + np.asarray(picture, dtype=float) * 0.5 * light).astype(np.uint8))


def squeeze(picture: Picture) -> Picture:
    """JPEG at quality 50."""
    held = BytesIO()
    picture.save(held, format="JPEG", quality=50)
    return Image.open(held).convert("L")


def blur(picture: Picture) -> Picture:
    """A little out of focus: a Gaussian of one pixel."""
    return picture.filter(ImageFilter.GaussianBlur(1.0))


KINDS: dict[str, Callable[[Picture], Picture]] = {
    "plain": lambda picture: picture,
    "noisy": add_noise,
    "grey": fade,
    "jpeg 50": squeeze,
    "blurred": blur,
}


def make_packet(paper: str = "letter") -> tuple[bytes, tuple[str, ...]]:
    """The demo's packet as a PDF, as a draft whose codes are longest, and what the code of each page says."""
    build = resolve_build(read_spec(SPEC))
    packet = lay_out(
        plan_work(build), choices=replace(choices_of(build.printing), paper=paper), date="2026-03-31", is_draft=True
    )
    bound = [document for document in packet.documents if document.name != "shop-page"]
    payloads = tuple(page.payload for document in bound for page in document.pages)
    return finish_files(packet, ["packet"], lambda words: None)["packet"], payloads


def draw_pages(pdf: bytes, dpi: int, places: Iterable[int] | None = None) -> list[Picture]:
    """Every page, or those at these places, as a grey picture."""
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    chosen = range(len(document)) if places is None else places
    return [document[at].render(scale=dpi / 72, grayscale=True).to_pil().convert("L") for at in chosen]


def count_read(
    pages: list[Picture], payloads: tuple[str, ...], turn_deg: float, spoil: Callable[[Picture], Picture]
) -> int:
    """The pages whose own code is read."""
    turned = (page.rotate(turn_deg, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC) for page in pages)
    return sum(payload in read_codes(spoil(page)) for page, payload in zip(turned, payloads, strict=True))


def count_photos(paper: str) -> None:
    """For each way of taking a picture: readings by zxing-cpp and by OpenCV, and how many pages OpenCV reads at all."""
    pdf, payloads = make_packet(paper)
    readings: dict[str, list[tuple[int, int]]] = {"150 dpi": [], "12 megapixels": [], "2000 wide": []}
    for at, payload in enumerate(payloads):
        (flat,), (page,) = draw_pages(pdf, 150, [at]), draw_pages(pdf, DRAWN_DPI, [at])
        taken = [flat], [take_photo(page, LARGE)], [take_photo(page, camera) for camera in SMALL]
        for kind, pictures in zip(readings, taken, strict=True):
            found = [sum(payload in read(picture) for picture in pictures) for read in (read_by_zxing, read_by_opencv)]
            readings[kind].append((found[0], found[1]))
    for kind, counts in readings.items():
        by_zxing, by_opencv = (sum(count) for count in zip(*counts, strict=True))
        once = sum(count > 0 for _, count in counts)
        of = len(payloads) * (len(SMALL) if kind == "2000 wide" else 1)
        print(
            f"{paper:>6} {kind:>13}: zxing-cpp {by_zxing} and OpenCV {by_opencv} of {of}, {once} of {len(payloads)} pages"
        )


def main() -> None:
    for paper in ("letter", "a4"):
        count_photos(paper)
    pdf, payloads = make_packet()
    print(f"{len(payloads)} pages; pages whose code is read")
    print(f"{'dpi':>4} {'turn':>5} " + " ".join(f"{kind:>9}" for kind in KINDS))
    for dpi in RESOLUTIONS_DPI:
        pages = draw_pages(pdf, dpi)
        for turn in TURNS_DEG:
            rates = (count_read(pages, payloads, turn, spoil) / len(payloads) for spoil in KINDS.values())
            print(f"{dpi:>4} {turn:>5} " + " ".join(f"{rate:>8.0%} " for rate in rates), flush=True)


if __name__ == "__main__":
    main()
