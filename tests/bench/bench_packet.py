"""How long the whole packet of the demo bag takes, against a bare reportlab script that draws as much.

Run as `python tests/bench/bench_packet.py`. Both are timed in turn in one process, after one run to warm up; the
bare script knows no shop, no layout and no placing: it prints as many pages, lines, curves, holes, words and codes.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from docgen import build_documents
from docgen.geometry import Arc, Curve, boxes_overlap
from docgen.pages import choices_of, lay_out
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import ClipMark, CodeMark, Mark, Packet, PathMark, TextMark
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import resolve_build

SPEC = Path(__file__).resolve().parents[2] / "specs" / "field-bag.toml"
DATE = "2026-03-31"
TIMES = 7
MM = 72 / 25.4


def list_marks(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    """Every mark that shows; of a drawing in a window those that lie in it."""
    for mark in marks:
        if isinstance(mark, ClipMark):
            for inner in list_marks(mark.marks):
                box = mark_box(inner)
                moved = type(box)(
                    box.left + mark.dx_mm, box.bottom + mark.dy_mm, box.right + mark.dx_mm, box.top + mark.dy_mm
                )
                if boxes_overlap(moved, mark.box):
                    yield inner
        else:
            yield mark


def count_marks(packet: Packet) -> list[tuple[Counter[str], list[str]]]:
    """For each page: how many lines, curves, holes (closed circles), words and paths; and what its codes say."""
    pages = []
    for document in packet.documents:
        for page in document.pages:
            count: Counter[str] = Counter()
            codes = []
            for mark in list_marks(page.marks):
                if isinstance(mark, CodeMark):
                    codes.append(mark.payload)
                elif isinstance(mark, TextMark):
                    count["words"] += 1
                elif isinstance(mark, PathMark):
                    count["paths"] += 1
                    arcs = sum(isinstance(segment, (Arc, Curve)) for segment in mark.path.segments)
                    is_hole = arcs == len(mark.path.segments) and mark.path.closed
                    count["holes" if is_hole else "curves"] += 1 if is_hole else arcs
                    count["lines"] += len(mark.path.segments) - arcs
            pages.append((count, codes))
    return pages


def draw_bare(pages: list[tuple[Counter[str], list[str]]]) -> bytes:
    """The same amount of ink with reportlab and qrcode alone, in one file."""
    from qrcode.constants import ERROR_CORRECT_M
    from qrcode.main import QRCode
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(BytesIO(), pageCompression=1, invariant=1, pagesize=(612, 792))
    matrices: dict[str, list[list[bool]]] = {}
    for count, codes in pages:
        canvas.setFont("Helvetica", 8)
        for number in range(count["words"]):
            canvas.drawString(40 + number % 7 * 70, 40 + number % 97 * 7, "bridle leather, 5 oz")
        for number in range(count["holes"]):
            canvas.circle(50 + number % 50 * 10, 60 + number % 60 * 10, 5)
        for number in range(count["curves"]):
            canvas.bezier(50, 50 + number, 80, 90, 100, 120, 140, 50 + number)
        for number in range(count["lines"]):
            canvas.line(30, 30 + number % 700, 500, 31 + number % 700)
        for payload in codes:
            if payload not in matrices:
                symbol = QRCode(error_correction=ERROR_CORRECT_M, border=0)
                symbol.add_data(payload)
                symbol.make(fit=True)
                matrices[payload] = symbol.modules
            path = canvas.beginPath()
            for y, row in enumerate(matrices[payload]):
                for x, dark in enumerate(row):
                    if dark:
                        path.rect(450 + x * 1.5, 30 + y * 1.5, 1.5, 1.5)
            canvas.drawPath(path, stroke=0, fill=1)
        canvas.showPage()
    return canvas.getpdfdata()


def time_calls(*calls: object) -> list[float]:
    """Median seconds of each call, taken in turn."""
    seconds: list[list[float]] = [[] for _ in calls]
    for turn in range(TIMES + 1):
        for place, call in enumerate(calls):
            start = time.perf_counter()
            call()  # type: ignore[operator]
            if turn:
                seconds[place].append(time.perf_counter() - start)
    return [statistics.median(found) for found in seconds]


def main() -> None:
    plan = plan_work(resolve_build(read_spec(SPEC)))
    pages = count_marks(lay_out(plan, choices=choices_of(plan.build.printing), date=DATE))
    total = sum((count for count, _ in pages), Counter())
    total["codes"] = sum(len(codes) for _, codes in pages)
    print(f"{len(pages)} pages:", ", ".join(f"{number} {name}" for name, number in sorted(total.items())))
    with tempfile.TemporaryDirectory() as folder:
        whole, bare = time_calls(lambda: build_documents(SPEC, folder, date=DATE), lambda: draw_bare(pages))
        size = (Path(folder) / "packet.pdf").stat().st_size
    print(f"whole packet, spec to five files  {whole:.3f} s  ({size / 1024:.0f} KiB packet)")
    print(f"bare script, one file             {bare:.3f} s  ({len(draw_bare(pages)) / 1024:.0f} KiB)")
    print(f"ratio                             {whole / bare:.2f}")


if __name__ == "__main__":
    main()
