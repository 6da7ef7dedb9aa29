"""A seam that is sewn more than once for one make: on the sheet, in its stitches and in its thread."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from short_specs import piece, seam, step
from spec_text import HEAD

from docgen import build_documents
from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.read import read_spec

PLACES = ("20 mm from left, 20 mm from bottom", "20 mm from right, 20 mm from bottom")


def spec_of(count: int) -> str:
    """A back with so many pockets, each 80 mm wide and high and sewn on along three sides."""
    lands = ", ".join(f'{{ piece = "pocket", at = "{place}" }}' for place in PLACES[:count])
    back = piece("back", 220, 150, f"landings = [{lands}]\n")
    sewn = seam("on", "pocket: left bottom right", "back") + step("Sew on what lands.", seams="on")
    return HEAD + back + piece("pocket", 80, 80, f"cut = {count}\n") + sewn


@pytest.mark.parametrize(("count", "is_told"), [(1, False), (2, True)])
def test_the_sheet_says_how_often(tmp_path: Path, count: int, is_told: bool) -> None:
    path = tmp_path / "bag.toml"
    path.write_text(spec_of(count), encoding="utf-8")
    build_documents(path, tmp_path / "out", only=("build-sheet",), date="2026-03-31")
    text = "\n".join(page.extract_text() for page in PdfReader(tmp_path / "out" / "build-sheet.pdf").pages)
    assert (f"{count} times" in text) == is_told
    assert " runs" not in text, "that is said of joints and edges"


def test_twice_the_seam_takes_twice_the_thread(tmp_path: Path) -> None:
    taken = []
    for count in (1, 2):
        path = tmp_path / f"bag-{count}.toml"
        path.write_text(spec_of(count), encoding="utf-8")
        plan = plan_work(resolve_build(read_spec(path)))
        (job,) = plan.steps[0].jobs
        (need,) = plan.threads
        assert job.runs == count
        taken.append((need.sewn_mm, need.needle_thread_mm, need.bobbin_thread_mm))
    assert taken[1] == pytest.approx([2 * taken_mm for taken_mm in taken[0]])
