"""What the files carry beside their pages: codes, the spec itself, paper size, true scale, page labels.

Outside checks: zxing-cpp decodes the codes, pypdf reads the files, hashlib gives the digest.
"""

import hashlib

import pytest
import zxingcpp
from demos import DOCUMENTS
from pypdf import PdfReader


def bound(demo):
    """The documents in the packet: not the shop's own page."""
    return [document for document in demo.packet.documents if document.name != "shop-page"]


def test_code_on_every_page_of_the_packet_is_read_at_150_dpi(demo, rasterise):
    digest = hashlib.sha256(demo.spec.read_bytes()).hexdigest()[:10].upper()
    version = {"field-bag": "3", "notebook-sleeve": "1"}[demo.name]
    expected = [
        f"SPEC:{demo.name.upper()}/{version}/{digest}/{document.name.upper()}/{number}"
        for document in bound(demo)
        for number in range(1, len(document.pages) + 1)
    ]
    assert len(PdfReader(demo.file("packet")).pages) == len(expected)
    read = []
    for page in range(len(expected)):
        picture = 255 - rasterise(demo.file("packet"), page, 150)
        read.append({code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)})
    assert read == [{payload} for payload in expected]


def test_pages_have_the_size_of_the_paper(demo):
    # Sizes in mm from ASME Y14.1 (A) and ISO 216 (A4); a point is 1/72 in.
    for page in PdfReader(demo.file("packet")).pages:
        size_mm = [float(side) * 25.4 / 72 for side in (page.mediabox.width, page.mediabox.height)]
        assert size_mm == pytest.approx(demo.paper_mm, abs=0.001)
        assert page.get("/Rotate", 0) == 0
        assert page.get("/UserUnit", 1) == 1


def test_page_labels_name_document_and_page(demo):
    labels = PdfReader(demo.file("packet")).page_labels
    assert len(labels) == len(set(labels)) == sum(len(document.pages) for document in bound(demo))
    assert labels[0] == "Pattern 1"
    assert labels[-1] == "Care card 1"
    assert PdfReader(demo.file("cutting-list")).page_labels[0] == "Cutting list 1"


def test_packet_is_the_documents_one_after_the_other(demo):
    packet = [page.extract_text() for page in PdfReader(demo.file("packet")).pages]
    parts = [page.extract_text() for name in DOCUMENTS for page in PdfReader(demo.file(name)).pages]
    assert packet == parts
