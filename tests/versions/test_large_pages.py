"""Pages and pictures from elsewhere that would take more memory than a workshop's computer has."""

import errno
import math
import os

import pytest
from PIL import Image
from pypdf import PdfWriter

from docgen import bounded
from docgen.bounded import TooMuch
from docgen.versions.traced import scan
from docgen.write import enclosed


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


def test_a_picture_that_is_too_much_in_its_colours_is_told(run, tmp_path, monkeypatch):
    monkeypatch.setattr(scan, "MOST_BYTES", 100_000)
    Image.new("RGB", (200, 200), "white").save(tmp_path / "colour.png")
    assert run("trace", "colour.png") == (
        2,
        "",
        "docgen: colour.png has 200 x 200 pixels in colour, too many to be read; save it smaller, or in greys\n",
    )
    Image.new("L", (200, 200), 255).save(tmp_path / "grey.png")
    assert "no code is found" in run("trace", "grey.png")[2]


def test_a_picture_that_there_is_no_memory_for_is_told(run, tmp_path, monkeypatch):
    Image.new("L", (200, 200), 255).save(tmp_path / "a.png")
    monkeypatch.setattr(scan, "run_within", lambda *given, seconds: raise_too_much("memory"))
    assert run("trace", "a.png") == (
        2,
        "",
        "docgen: a.png takes more memory to read than docgen gives to one file; cut out the part with the code, "
        "or type what is printed beside its code\n",
    )


def raise_too_much(what):
    raise TooMuch(what)


def test_a_scan_is_looked_at_while_there_is_time(run, tmp_path, monkeypatch):
    path = write_pdf(tmp_path / "scan.pdf", (200, 200), pages=3)
    assert scan.read_page_codes(path, 3) == ((), 3)
    assert scan.read_page_codes(path, 3, scan.LAST_S) == ((), 1)
    monkeypatch.setattr(scan, "LAST_S", 60)
    assert run("trace", "scan.pdf")[2].endswith("only the first 1 page were looked at\n")


def test_a_pdf_of_ours_is_read_while_there_is_time_and_the_rest_is_told(run, write_bag, monkeypatch):
    write_bag()
    assert run("make", "field-bag.toml", "--only", "cutting-list", "--out", ".")[0] == 0
    assert run("trace", "cutting-list.pdf")[0] == 4
    monkeypatch.setattr(enclosed, "TEXT_S", -60)
    code, said, _ = run("trace", "cutting-list.pdf")
    assert (code, "not looked at, for lack of time: the last " in said) == (6, True)
    assert "only the first 1 pages" in run("compare", "cutting-list.pdf", "field-bag.toml")[2]


def test_a_pdf_that_takes_too_long_is_told(run, tmp_path, monkeypatch):
    write_pdf(tmp_path / "slow.pdf", (200, 200))
    monkeypatch.setattr(enclosed, "run_within", lambda *given: raise_too_much("time"))
    assert run("trace", "slow.pdf") == (
        2,
        "",
        "docgen: slow.pdf takes more time to read than docgen gives to one file; "
        "save one page of it as a PDF, or type what is printed beside its code\n",
    )


@pytest.mark.parametrize("name", ["care-card.pdf", "wide.pdf", "blank.png", "broken.pdf"])
def test_where_processes_do_not_part_the_same_is_said(run, write_bag, tmp_path, monkeypatch, name):
    write_bag()
    assert run("make", "field-bag.toml", "--only", "care-card", "--out", ".")[0] == 0
    write_pdf(tmp_path / "wide.pdf", (14400, 14400))
    Image.new("L", (200, 200), 255).save(tmp_path / "blank.png")
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.7")
    said = run("trace", name)
    monkeypatch.setattr(bounded, "PARTS", False)
    monkeypatch.setattr(os, "fork", None)
    assert run("trace", name) == said


@pytest.mark.parametrize("name", ["a.pdf", "a.png"])
def test_a_system_that_gives_no_process_is_told(run, tmp_path, monkeypatch, name):
    def refuse():
        raise OSError(errno.EAGAIN, "Resource temporarily unavailable")

    (tmp_path / name).write_bytes(b"")
    monkeypatch.setattr(os, "fork", refuse)
    words = f"no process can be had to read {name}: resource temporarily unavailable; try again"
    assert run("trace", name) == (2, "", f"docgen: {words}\n")


@pytest.mark.parametrize(
    ("limit", "told"), [("ATTACHED_MOST", "MiB are attached"), ("FILES_MOST", "files are attached")]
)
def test_a_pdf_with_too_much_attached_is_told(run, tmp_path, monkeypatch, limit, told):
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    for number in range(3):
        writer.add_attachment(f"{number}.bin", bytes(100))
    writer.write(tmp_path / "full.pdf")
    monkeypatch.setattr(enclosed, limit, 2)
    code, _, wrong = run("trace", "full.pdf")
    assert (code, told in wrong) == (2, True)


def test_a_pdf_of_too_many_parts_is_told(run, tmp_path, monkeypatch):
    write_pdf(tmp_path / "parts.pdf", (200, 200), pages=9)
    monkeypatch.setattr(enclosed, "OBJECTS_MOST", 5)
    assert run("trace", "parts.pdf") == (2, "", "docgen: parts.pdf has more parts than docgen looks through\n")
