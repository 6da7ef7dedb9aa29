"""The very ink of a packet, found by pdfium, and drawn again by a bare reportlab script that knows nothing else.

`python tests/bench/bare_packet.py find PACKET.pdf INK.json`, then `... draw INK.json OUT.pdf`. The ink is a list of pages:
size in points, paths with their fill, stroke and segments, lines of text with their matrix, codes by what they say.
Drawn is what a plain script would write: calls of the canvas, both faces embedded, each code made once, one file.
Nothing of docgen is used in either.
"""

from __future__ import annotations

import ctypes
import json
import sys
from collections import Counter
from collections.abc import Iterator
from typing import Any

DPI = 300
MANY_MODULES = 150
"""A filled path of so many subpaths, with few different x, is the dark modules of a code."""


def find_ink(pdf: str) -> list[dict[str, Any]]:
    """Every page's paths, texts and codes; what a clip hides is kept."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    return [_find_page(document[number]) for number in range(len(document))]


def _find_page(page: Any) -> dict[str, Any]:
    import pypdfium2.raw as raw

    width, height = page.get_size()
    found: dict[str, Any] = {"size": (round(width, 3), round(height, 3)), "paths": [], "texts": []}
    found["codes"] = list(_find_codes(page, height))
    words = raw.FPDFText_LoadPage(page.raw)
    for item, matrix in _walk(page.raw, raw.FPDFPage_CountObjects, raw.FPDFPage_GetObject, (1, 0, 0, 1, 0, 0)):
        kind = raw.FPDFPageObj_GetType(item)
        if kind == raw.FPDF_PAGEOBJ_PATH:
            path = _find_path(item, matrix)
            if not _is_code(path):
                found["paths"].append(path)
        elif kind == raw.FPDF_PAGEOBJ_TEXT and (text := _find_text(item, matrix, words)):
            found["texts"].append(text)
    raw.FPDFText_ClosePage(words)
    return found


def _find_codes(page: Any, height: float) -> Iterator[tuple[str, float, float, float]]:
    """What each code says, with its lower left and its size in points."""
    import zxingcpp

    image = page.render(scale=DPI / 72, grayscale=True).to_pil()
    for code in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode):
        at = code.position
        corners = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
        xs, ys = [corner.x * 72 / DPI for corner in corners], [corner.y * 72 / DPI for corner in corners]
        yield code.text, round(min(xs), 2), round(height - max(ys), 2), round(max(xs) - min(xs), 2)


Matrix = tuple[float, ...]


def _walk(holder: Any, count: Any, get: Any, outer: Matrix) -> Iterator[tuple[Any, Matrix]]:
    """Every object, those inside forms too, with its matrix."""
    import pypdfium2.raw as raw

    for number in range(count(holder)):
        item = get(holder, number)
        own = raw.FS_MATRIX()
        raw.FPDFPageObj_GetMatrix(item, own)
        matrix = _join((own.a, own.b, own.c, own.d, own.e, own.f), outer)
        if raw.FPDFPageObj_GetType(item) == raw.FPDF_PAGEOBJ_FORM:
            yield from _walk(item, raw.FPDFFormObj_CountObjects, raw.FPDFFormObj_GetObject, matrix)
        else:
            yield item, matrix


def _join(inner: Matrix, outer: Matrix) -> Matrix:
    """First the inner, then the outer (PDF 32000-1:2008, 8.3.4)."""
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u


def _find_path(item: Any, matrix: Matrix) -> dict[str, Any]:
    import pypdfium2.raw as raw

    fill, stroke, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
    raw.FPDFPath_GetDrawMode(item, fill, stroke)
    raw.FPDFPageObj_GetStrokeWidth(item, width)
    dashes = (ctypes.c_float * max(0, raw.FPDFPageObj_GetDashCount(item)))()
    if dashes:
        raw.FPDFPageObj_GetDashArray(item, dashes, len(dashes))
    return {
        "fill": _grey(raw.FPDFPageObj_GetFillColor, item) if fill.value else None,
        "stroke": _grey(raw.FPDFPageObj_GetStrokeColor, item) if stroke.value else None,
        "width": round(width.value, 3),
        "dash": [round(dash, 3) for dash in dashes],
        "segments": list(_find_segments(item, matrix)),
    }


def _grey(get: Any, item: Any) -> float:
    parts = [ctypes.c_uint() for _ in range(4)]
    get(item, *parts)
    return round(parts[0].value / 255, 3)


def _find_segments(item: Any, matrix: Matrix) -> Iterator[list[Any]]:
    """["m", x, y], ["l", x, y], ["c", x, y, x, y, x, y] and ["h"]."""
    import pypdfium2.raw as raw

    a, b, c, d, e, f = matrix
    x, y, curve = ctypes.c_float(), ctypes.c_float(), []
    for number in range(raw.FPDFPath_CountSegments(item)):
        segment = raw.FPDFPath_GetPathSegment(item, number)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = [round(a * x.value + c * y.value + e, 3), round(b * x.value + d * y.value + f, 3)]
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_BEZIERTO:
            curve += at
            if len(curve) == 6:
                yield ["c", *curve]
                curve = []
        else:
            yield ["m" if kind == raw.FPDF_SEGMENT_MOVETO else "l", *at]
        if raw.FPDFPathSegment_GetClose(segment):
            yield ["h"]


def _is_code(path: dict[str, Any]) -> bool:
    starts = sum(segment[0] == "m" for segment in path["segments"])
    columns = {round(segment[1], 1) for segment in path["segments"] if segment[0] != "h"}
    return path["fill"] is not None and path["stroke"] is None and starts > MANY_MODULES and len(columns) < 120


def _find_text(item: Any, matrix: Matrix, words: Any) -> dict[str, Any] | None:
    import pypdfium2.raw as raw

    length = raw.FPDFTextObj_GetText(item, words, None, 0)
    held = ctypes.create_string_buffer(length)
    raw.FPDFTextObj_GetText(item, words, ctypes.cast(held, ctypes.POINTER(raw.FPDF_WCHAR)), length)
    text = held.raw[:length].decode("utf-16-le").rstrip("\0")
    size, font = ctypes.c_float(), raw.FPDFTextObj_GetFont(item)
    raw.FPDFTextObj_GetFontSize(item, size)
    name = ctypes.create_string_buffer(raw.FPDFFont_GetBaseFontName(font, None, 0))
    raw.FPDFFont_GetBaseFontName(font, name, len(name))
    face = "bold" if b"old" in name.value else "regular"
    at = [round(part, 4) for part in matrix]
    return {"face": face, "size": round(size.value, 3), "matrix": at, "text": text} if text.strip() else None


def count_ink(pages: list[dict[str, Any]]) -> Counter[str]:
    """How much there is of everything."""
    count: Counter[str] = Counter(pages=len(pages))
    for page in pages:
        count["codes"] += len(page["codes"])
        count["words"] += sum(len(text["text"].split()) for text in page["texts"])
        for path in page["paths"]:
            kinds = Counter(segment[0] for segment in path["segments"])
            count.update(paths=1, lines=kinds["l"], curves=kinds["c"])
            if kinds["c"] and not kinds["l"] and kinds["h"]:
                count["holes"] += kinds["m"]
    return count


def draw_ink(pages: list[dict[str, Any]], out: str) -> None:
    """The same ink into one file."""
    import fontpkg_fira_sans
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    for face, file in (("regular", "FiraSans-Regular.ttf"), ("bold", "FiraSans-Bold.ttf")):
        pdfmetrics.registerFont(TTFont(face, str(fontpkg_fira_sans.ROOT / "files" / file)))
    canvas = Canvas(out, pageCompression=1, invariant=1)
    codes: dict[str, list[list[bool]]] = {}
    for page in pages:
        canvas.setPageSize(page["size"])
        for path in page["paths"]:
            _draw_path(canvas, path)
        canvas.setFillGray(0)
        for text in page["texts"]:
            _draw_text(canvas, text)
        for code in page["codes"]:
            _draw_code(canvas, codes, *code)
        canvas.showPage()
    canvas.save()


def _draw_path(canvas: Any, path: dict[str, Any]) -> None:
    if path["fill"] is not None:
        canvas.setFillGray(path["fill"])
    if path["stroke"] is not None:
        canvas.setStrokeGray(path["stroke"])
        canvas.setLineWidth(path["width"])
        canvas.setDash(path["dash"])
    drawn = canvas.beginPath()
    calls = {"m": drawn.moveTo, "l": drawn.lineTo, "c": drawn.curveTo, "h": drawn.close}
    for kind, *at in path["segments"]:
        calls[kind](*at)
    canvas.drawPath(drawn, stroke=path["stroke"] is not None, fill=path["fill"] is not None)


def _draw_text(canvas: Any, text: dict[str, Any]) -> None:
    canvas.setFont(text["face"], text["size"])
    a, b, *_, x, y = text["matrix"]
    if abs(b) < 1e-6 and abs(a - 1) < 1e-3:
        canvas.drawString(x, y, text["text"])
        return
    canvas.saveState()
    canvas.transform(*text["matrix"])
    canvas.drawString(0, 0, text["text"])
    canvas.restoreState()


def _draw_code(canvas: Any, codes: dict[str, list[list[bool]]], says: str, x: float, y: float, size: float) -> None:
    from qrcode.constants import ERROR_CORRECT_M
    from qrcode.main import QRCode

    if says not in codes:
        code = QRCode(error_correction=ERROR_CORRECT_M, border=0)
        code.add_data(says)
        code.make(fit=True)
        codes[says] = code.modules
    rows = codes[says]
    side = size / len(rows)
    canvas.setFillGray(1)
    canvas.rect(x - 4 * side, y - 4 * side, size + 8 * side, size + 8 * side, stroke=0, fill=1)
    canvas.setFillGray(0)
    drawn = canvas.beginPath()
    for down, row in enumerate(reversed(rows)):
        for across, is_dark in enumerate(row):
            if is_dark:
                drawn.rect(x + across * side, y + down * side, side, side)
    canvas.drawPath(drawn, stroke=0, fill=1)


def main() -> None:
    work, source, target = sys.argv[1:]
    if work == "find":
        with open(target, "w", encoding="utf-8") as file:
            json.dump(find_ink(source), file)
    else:
        with open(source, encoding="utf-8") as file:
            draw_ink(json.load(file), target)


if __name__ == "__main__":
    main()
