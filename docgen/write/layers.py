"""Layers that a viewer can hide: optional content of PDF 32000-1:2008, 8.11."""

from collections.abc import Iterable
from typing import Final

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFDocument, PDFName, PDFObjectReference, PDFString

from docgen.pages.marks.page import ClipMark, CodeMark, ImageMark, Mark, Page

LAYER_NAMES: Final = {"cut": "Cut lines", "stitch": "Stitch lines", "marks": "Marks", "words": "Words"}
"""Layer of a mark -> what a viewer calls it."""


def layer_of(mark: Mark) -> str:
    """The layer of a mark; none for a clip, whose inner marks have their own."""
    return "" if isinstance(mark, ClipMark) else "words" if isinstance(mark, (CodeMark, ImageMark)) else mark.layer


def has_layers(page: Page) -> bool:
    """True when something on the page is more than words: only such pages are divided into layers."""
    return _has_drawing(page.marks)


def _has_drawing(marks: Iterable[Mark]) -> bool:
    return any(_has_drawing(mark.marks) if isinstance(mark, ClipMark) else layer_of(mark) != "words" for mark in marks)


def add_layers(file: PDFDocument) -> tuple[PDFDictionary, dict[str, PDFObjectReference]]:
    """The layers as objects of a file: what its root says of them, and their names on the pages that have some."""
    groups = {
        layer: file.Reference(PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(name)}))
        for layer, name in LAYER_NAMES.items()
    }
    order = PDFArray(groups.values())
    shown = PDFDictionary({"Order": order, "ON": order, "Name": PDFString("Pattern")})
    return PDFDictionary({"OCGs": order, "D": shown}), groups
