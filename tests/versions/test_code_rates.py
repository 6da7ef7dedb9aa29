"""Every page's code is read from pictures at 100 dpi and more, turned, noisy, grey or squeezed; the rates of harder
ones are printed by the bench.

Outside checks: pypdfium2 draws the pages, zxing-cpp reads the codes, and OpenCV's QRCodeDetector, which searches in
another way: what one reader forgives, another does not.
"""

import importlib.util
from pathlib import Path

import pytest
from photos import DRAWN_DPI, LARGE, SMALL, read_by_opencv, read_by_zxing, take_photo
from zxingcpp import BarcodeFormat, read_barcodes

BENCH = Path(__file__).resolve().parents[1] / "bench" / "bench_codes.py"


@pytest.fixture(scope="module")
def bench():
    spec = importlib.util.spec_from_file_location("bench_codes", BENCH)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def packet(bench):
    return bench.make_packet()


@pytest.fixture(scope="module")
def coarse(bench, packet):
    """Every page at 100 dpi."""
    return bench.draw_pages(packet[0], 100)


@pytest.mark.parametrize(("dpi", "kind"), [(150, "plain"), (150, "jpeg 50"), (200, "grey")])
def test_every_code_is_read_from_an_upright_picture(bench, packet, dpi, kind):
    pdf, payloads = packet
    pages = bench.draw_pages(pdf, dpi)
    assert len(pages) == len(payloads) > 15
    assert bench.count_read(pages, payloads, 0, bench.KINDS[kind]) == len(payloads)


@pytest.mark.parametrize(("turn_deg", "kind"), [(0, "noisy"), (3, "noisy"), (3, "grey"), (3, "jpeg 50")])
def test_every_code_is_read_from_a_coarse_picture_slightly_turned_or_spoilt(bench, packet, coarse, turn_deg, kind):
    assert bench.count_read(coarse, packet[1], turn_deg, bench.KINDS[kind]) == len(coarse)


def test_most_codes_that_are_too_small_and_noisy_are_read_at_twice_the_size(bench, packet):
    """At 55 dpi a module of a code is under two dots wide: zxing-cpp alone reads hardly any on these pictures."""
    pdf, payloads = packet
    pictures = [bench.add_noise(page) for page in bench.draw_pages(pdf, 55)]
    alone = sum(
        payload in [code.text for code in read_barcodes(picture, formats=BarcodeFormat.QRCode)]
        for picture, payload in zip(pictures, payloads, strict=True)
    )
    ours = bench.count_read(pictures, payloads, 0, bench.KINDS["plain"])
    assert ours > max(alone, len(payloads) / 2), (ours, alone)


def test_both_readers_read_the_code_of_every_page_at_150_dpi(bench, packet):
    """zxing-cpp as the page is drawn; OpenCV, which may lose a code where the dots fall badly on its modules, as it is
    drawn or a third of a dot off, as a scanner may have it."""
    pdf, payloads = packet
    pages = bench.draw_pages(pdf, 150)
    assert [p for page, p in zip(pages, payloads, strict=True) if p not in read_by_zxing(page)] == []
    missed = [k for k, (page, p) in enumerate(zip(pages, payloads, strict=True)) if p not in read_by_opencv(page)]
    fine = bench.draw_pages(pdf, 3 * 150) if missed else []
    assert [
        payloads[k] for k in missed if not any(payloads[k] in read_by_opencv(seen) for seen in shifted(fine[k]))
    ] == []


def shifted(page):
    """A page of 450 dpi at 150 dpi, each a third of a dot off the one before."""
    for off in range(3):
        yield page.crop((off, off, page.width - 3 + off, page.height - 3 + off)).reduce(3)


def list_documents(payloads):
    """One page of each document, from the middle of it."""
    names = [payload.split("/")[3] for payload in payloads]
    return [names.index(name) + names.count(name) // 2 for name in dict.fromkeys(names)]


def test_both_readers_read_a_page_of_each_document_on_a_photo_of_the_whole_page(bench, packet):
    """zxing-cpp on every photo; OpenCV, which a little noise throws off, on one of three at least."""
    pdf, payloads = packet
    places = list_documents(payloads)
    assert len(places) == 4
    pages = bench.draw_pages(pdf, DRAWN_DPI, places)
    for page, payload in zip(pages, (payloads[place] for place in places), strict=True):
        photos = [take_photo(page, camera) for camera in (LARGE, *SMALL[:2])]
        assert all(payload in read_by_zxing(photo) for photo in photos), payload
        assert any(payload in read_by_opencv(photo) for photo in photos), payload
