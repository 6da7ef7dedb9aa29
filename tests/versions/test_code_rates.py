"""Every page's code is read from pictures at 100 dpi and more, turned, noisy, grey or squeezed; the rates of harder
ones are printed by the bench.

Outside checks: pypdfium2 draws the pages, zxing-cpp reads the codes.
"""

import importlib.util
from pathlib import Path

import pytest
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
