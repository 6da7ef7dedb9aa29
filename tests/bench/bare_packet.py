"""A bare reportlab script that draws the very ink of a packet, and what finds that ink in its file.

`find_ink` reads with PDFium, not with docgen. Run as `python bare_packet.py INK.json OUT.pdf` it draws what a plain
script would: canvas calls only, both faces embedded, each code made once with qrcode's defaults (best of eight masks).
"""

import ctypes
import json
import sys
from typing import Any

FACES = {"regular": "FiraSans-Regular.ttf", "bold": "FiraSans-SemiBold.ttf"}
DPI = 300
MODULES = 150  # a filled path of more rectangles than this is the dark part of a code


def find_ink(file: str) -> list[dict[str, Any]]:
    """Of each page its size, paths [fill, stroke, width, dashes, steps], texts [face, size, matrix, words] and codes
    [payload, x, y, size]; in points, matrices worked in. What a clip hides stays."""
    import pypdfium2

    pages = []
    for page in pypdfium2.PdfDocument(file):
        wide, high = page.get_size()
        found: dict[str, Any] = {"size": (wide, high), "paths": [], "texts": [], "codes": _find_codes(page, high)}
        letters = page.get_textpage()
        for item in page.get_objects(max_depth=4):
            if item.type == pypdfium2.raw.FPDF_PAGEOBJ_PATH:
                path = _read_path(item)
                if sum(step[0] == "m" for step in path[-1]) <= MODULES:
                    found["paths"].append(path)
            elif item.type == pypdfium2.raw.FPDF_PAGEOBJ_TEXT:
                found["texts"].append(_read_text(item, letters))
        pages.append(found)
    return pages


def _find_codes(page: Any, high: float) -> list[tuple[str, float, float, float]]:
    import numpy as np
    import zxingcpp

    picture = page.render(scale=DPI / 72, grayscale=True).to_numpy()
    codes, point = [], 72 / DPI
    for code in zxingcpp.read_barcodes(
        np.ascontiguousarray(picture.reshape(picture.shape[:2])), zxingcpp.BarcodeFormat.QRCode
    ):
        corners = code.position.top_left, code.position.bottom_right
        xs, ys = sorted(at.x for at in corners), sorted(at.y for at in corners)
        codes.append((code.text, xs[0] * point, high - ys[1] * point, (xs[1] - xs[0]) * point))
    return codes


def _read_path(item: Any) -> tuple[float | None, float | None, float, list[float], list[list[Any]]]:
    import pypdfium2.raw as pdfium

    mode, is_stroked, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
    pdfium.FPDFPath_GetDrawMode(item, mode, is_stroked)
    pdfium.FPDFPageObj_GetStrokeWidth(item, width)
    count = max(pdfium.FPDFPageObj_GetDashCount(item), 0)
    dashes = (ctypes.c_float * count)()
    if count:
        pdfium.FPDFPageObj_GetDashArray(item, dashes, count)
    fill = _grey(pdfium.FPDFPageObj_GetFillColor, item) if mode.value else None
    stroke = _grey(pdfium.FPDFPageObj_GetStrokeColor, item) if is_stroked.value else None
    return fill, stroke, round(width.value, 3), [round(dash, 3) for dash in dashes], _read_steps(item)


def _grey(ask: Any, item: Any) -> float:
    parts = [ctypes.c_uint() for _ in range(4)]
    ask(item, *parts)
    return round(parts[0].value / 255, 3)


def _read_steps(item: Any) -> list[list[Any]]:
    import pypdfium2.raw as pdfium

    a, b, c, d, e, f = item.get_matrix().get()
    steps: list[list[Any]] = []
    curve: list[float] = []
    for place in range(pdfium.FPDFPath_CountSegments(item)):
        step = pdfium.FPDFPath_GetPathSegment(item, place)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(step, x, y)
        at = [round(a * x.value + c * y.value + e, 3), round(b * x.value + d * y.value + f, 3)]
        kind = pdfium.FPDFPathSegment_GetType(step)
        if kind == pdfium.FPDF_SEGMENT_BEZIERTO:
            curve += at
            if len(curve) == 6:
                steps.append(["c", *curve])
                curve = []
        else:
            steps.append(["m" if kind == pdfium.FPDF_SEGMENT_MOVETO else "l", *at])
        if pdfium.FPDFPathSegment_GetClose(step):
            steps.append(["h"])
    return steps


def _read_text(item: Any, letters: Any) -> tuple[str, float, tuple[float, ...], str]:
    import pypdfium2.raw as pdfium

    long = pdfium.FPDFTextObj_GetText(item, letters, None, 0)
    held = ctypes.create_string_buffer(long)
    pdfium.FPDFTextObj_GetText(item, letters, ctypes.cast(held, ctypes.POINTER(pdfium.FPDF_WCHAR)), long)
    size, name = ctypes.c_float(), ctypes.create_string_buffer(80)
    pdfium.FPDFTextObj_GetFontSize(item, size)
    pdfium.FPDFFont_GetBaseFontName(pdfium.FPDFTextObj_GetFont(item), name, 80)
    face = "bold" if b"Bold" in name.value else "regular"
    words = held.raw[:long].decode("utf-16-le").rstrip("\0")
    return face, round(size.value, 3), tuple(round(value, 4) for value in item.get_matrix().get()), words


def draw(pages: list[dict[str, Any]], out: str) -> None:
    """One file of the same ink."""
    import fontpkg_fira_sans
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    for face, file in FACES.items():
        registerFont(TTFont(face, str(fontpkg_fira_sans.ROOT / "files" / file)))
    canvas, known = Canvas(out, pageCompression=1, invariant=1), dict[str, Any]()
    for page in pages:
        canvas.setPageSize(page["size"])
        for path in page["paths"]:
            _draw_path(canvas, *path)
        canvas.setFillGray(0)
        for face, size, matrix, words in page["texts"]:
            canvas.saveState()
            canvas.setFont(face, size)
            canvas.transform(*matrix)
            canvas.drawString(0, 0, words)
            canvas.restoreState()
        for payload, x, y, size in page["codes"]:
            _draw_code(canvas, known, payload, x, y, size)
        canvas.showPage()
    canvas.save()


def _draw_path(canvas: Any, fill: Any, stroke: Any, width: float, dashes: list[float], steps: list[list[Any]]) -> None:
    if fill is not None:
        canvas.setFillGray(fill)
    if stroke is not None:
        canvas.setStrokeGray(stroke)
        canvas.setLineWidth(width)
        canvas.setDash(dashes)
    path = canvas.beginPath()
    ways = {"m": path.moveTo, "l": path.lineTo, "c": path.curveTo, "h": path.close}
    for kind, *numbers in steps:
        ways[kind](*numbers)
    canvas.drawPath(path, stroke=stroke is not None, fill=fill is not None)


def _draw_code(canvas: Any, known: dict[str, Any], payload: str, x: float, y: float, size: float) -> None:
    from qrcode.constants import ERROR_CORRECT_M
    from qrcode.main import QRCode

    if payload not in known:
        symbol = QRCode(error_correction=ERROR_CORRECT_M, border=0)
        symbol.add_data(payload)
        symbol.make(fit=True)
        known[payload] = symbol.modules
    rows = known[payload]
    module = size / len(rows)
    path = canvas.beginPath()
    for up, row in enumerate(reversed(rows)):
        for along, is_dark in enumerate(row):
            if is_dark:
                path.rect(x + along * module, y + up * module, module, module)
    canvas.drawPath(path, stroke=0, fill=1)


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as ink:
        draw(json.load(ink), sys.argv[2])
