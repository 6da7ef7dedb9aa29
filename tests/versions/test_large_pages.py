"""Pages and pictures from elsewhere that would take more memory than a workshop's computer has."""

import math

import pytest
from PIL import Image
from pypdf import PdfWriter

from docgen.versions.traced import scan


def write_pdf(path, size, pages=1):
    writer = PdfWriter()
    for _ in range(pages):
        writer.add_blank_page(*size)
    writer.write(path)
    return path


@pytest.mark.parametrize(
    ("inches", "dpi"),
    [((8.5, 11), 200), ((36, 48), 186.3), ((36, 240), 83.3), ((36, 360), None), ((200, 200), None), ((0, 0), 200)],
)
def test_a_large_page_is_drawn_coarser_down_to_where_a_code_is_still_read(inches, dpi):
    scale = scan.choose_scale(*(side * 72 for side in inches))
    assert (scale is None) == (dpi is None)
    if scale is not None:
        assert math.isclose(scale * 72, dpi, rel_tol=1e-3)
        assert inches[0] * inches[1] * (scale * 72) ** 2 <= scan.MOST_PAGE * 1.0001


def test_a_page_too_large_to_draw_is_told(run, tmp_path):
    write_pdf(tmp_path / "wide.pdf", (14400, 14400))
    assert run("trace", "wide.pdf") == (
        2,
        "",
        "docgen: page 1 of wide.pdf is too large to be drawn: 200 in x 200 in; type what is printed beside its code\n",
    )


def test_too_many_pages_to_draw_are_told(run, tmp_path):
    write_pdf(tmp_path / "long.pdf", (612, 792), pages=450)
    assert run("trace", "long.pdf") == (
        2,
        "",
        "docgen: long.pdf has more pages than docgen draws to find a code on; save one page of it as a PDF, "
        "or type what is printed beside its code\n",
    )


def test_an_encrypted_pdf_is_called_so(run, tmp_path):
    writer = PdfWriter()
    writer.add_blank_page(612, 792)
    writer.encrypt("secret", algorithm="RC4-128")
    writer.write(tmp_path / "locked.pdf")
    assert run("trace", "locked.pdf") == (2, "", "docgen: locked.pdf is encrypted; save it without a password\n")


@pytest.mark.parametrize("times", [1.5, 3])
def test_a_picture_too_large_is_called_so(run, tmp_path, monkeypatch, times):
    monkeypatch.setattr(scan, "MOST_PIXELS", 1_000_000)
    side = int(1000 * math.sqrt(times))
    Image.new("L", (side, side), 255).save(tmp_path / "poster.png")
    assert run("trace", "poster.png") == (
        2,
        "",
        "docgen: poster.png is too large: docgen reads pictures of up to 1 million pixels; save it smaller\n",
    )


@pytest.mark.parametrize("sides", [(70_000, 10), (10, 70_000)])
def test_a_picture_too_long_for_the_reader_is_told(run, tmp_path, sides):
    Image.new("L", sides, 255).save(tmp_path / "long.png")
    assert run("trace", "long.png") == (
        2,
        "",
        f"docgen: long.png has {sides[0]} x {sides[1]} pixels, and a side of at most 65535 can be read; "
        "cut out the part with the code\n",
    )
