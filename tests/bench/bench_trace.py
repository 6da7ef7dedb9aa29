"""How long it takes to tell of a page's picture what it is, against the decoder alone on the same pictures.

Run as `python tests/bench/bench_trace.py`. A few pages of the demo bag, drawn at two resolutions, are traced as
pictures: read from a file, decoded, found in the register and judged. In one folder their version is the current one; in
another it is older, so that both versions are resolved to tell all that changed. The baseline is zxing-cpp on the same
pictures, held in memory. All are timed in turn in one process, after one round to warm up.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from io import BytesIO
from pathlib import Path

import pypdfium2
import zxingcpp
from PIL import Image

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from docgen.checks import resolve_build
from docgen.pages import choices_of, lay_out
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import Build
from docgen.versions.kept.issue import record_version
from docgen.versions.traced.trace import trace
from docgen.write import finish_documents

SPEC = Path(__file__).resolve().parents[2] / "specs" / "field-bag.toml"
RESOLUTIONS_DPI = (100, 200)
PAGES = 4
TIMES = 2


def issue(folder: Path, old: str = "", new: str = "") -> Build:
    """The demo bag, with these words exchanged, as a version in the folder's register."""
    folder.mkdir(exist_ok=True)
    path = folder / SPEC.name
    path.write_text(SPEC.read_text(encoding="utf-8").replace(old, new) if old else SPEC.read_text("utf-8"), "utf-8")
    build = resolve_build(read_spec(path))
    record_version(path, build, "2026-04-01" if old else "2026-03-01")
    return build


def draw_pages(pdf: bytes, dpi: int, folder: Path) -> list[tuple[Path, Image.Image]]:
    """Pages from the whole of the packet, each as a file, and as a grey picture in memory."""
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    pages = []
    for number in range(0, len(document), len(document) // PAGES):
        picture = document[number].render(scale=dpi / 72, grayscale=True).to_pil().convert("L")
        file = folder / f"{dpi}-{number}.png"
        picture.save(file)
        pages.append((file, picture))
    return pages


def judge(pages: list[tuple[Path, Image.Image]], folder: Path, standing: str) -> int:
    """The pages that are told to stand so."""
    return sum(any(found.standing == standing for found in trace(str(file), folder).found) for file, _ in pages)


def decode(pages: list[tuple[Path, Image.Image]]) -> int:
    """The pages on which the decoder alone finds a code."""
    return sum(bool(zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)) for _, picture in pages)


def time_calls(*calls: Callable[[], int]) -> list[tuple[float, int]]:
    """Median seconds of each call, taken in turn, and what it returns."""
    seconds: list[list[float]] = [[] for _ in calls]
    found = [0 for _ in calls]
    for turn in range(TIMES + 1):
        for place, call in enumerate(calls):
            start = time.perf_counter()
            found[place] = call()
            if turn:
                seconds[place].append(time.perf_counter() - start)
    return list(zip((statistics.median(each) for each in seconds), found, strict=True))


def main() -> None:
    with tempfile.TemporaryDirectory() as held:
        current, older, pictures = (Path(held) / name for name in ("current", "older", "pictures"))
        pictures.mkdir()
        build = issue(current)
        packet = lay_out(plan_work(build), choices=choices_of(build.printing), date="2026-03-01")
        pdf = finish_documents(packet, only=("packet",))["packet.pdf"]
        issue(older)
        issue(older, f'version = "{build.version}"', f'version = "{build.version}.1"')
        print(f"{'dpi':>4} {'pages':>6} {'what':>8} {'right':>6} {'s a page':>9} {'ratio':>7}")
        for dpi in RESOLUTIONS_DPI:
            pages = draw_pages(pdf, dpi, pictures)
            names = ("decoder", "current", "older")
            timed = time_calls(
                partial(decode, pages), partial(judge, pages, current, "current"), partial(judge, pages, older, "older")
            )
            for name, (seconds, right) in zip(names, timed, strict=True):
                ratio = seconds / timed[0][0]
                print(
                    f"{dpi:>4} {len(pages):>6} {name:>8} {right:>6} {seconds / len(pages):>9.4f} {ratio:>7.1f}",
                    flush=True,
                )


if __name__ == "__main__":
    main()
