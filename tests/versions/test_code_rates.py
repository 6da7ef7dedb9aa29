"""Every page's code is read from pictures at 150 dpi and more; the rates of harder ones are printed by the bench.

Outside checks: pypdfium2 draws the pages, zxing-cpp reads the codes.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

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


@pytest.mark.parametrize("dpi", [150, 200])
@pytest.mark.parametrize("kind", ["plain", "grey", "jpeg 50"])
def test_every_code_is_read_from_an_upright_picture(bench, packet, dpi, kind):
    pdf, payloads = packet
    pages = bench.draw_pages(pdf, dpi)
    assert len(pages) == len(payloads) > 15
    assert bench.count_read(pages, payloads, 0, bench.KINDS[kind]) == len(payloads)
