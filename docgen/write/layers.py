"""Layers that a viewer can hide: optional content of PDF 32000-1:2008, 8.11."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from pypdf import PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, PdfObject, TextStringObject

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


def add_layers(writer: PdfWriter, layered: Sequence[int]) -> None:
    """Tell the file of its layers, and every page that has some, by its number from 0, where they are."""
    if not layered:
        return
    groups = {
        layer: writer._add_object(
            DictionaryObject({NameObject("/Type"): NameObject("/OCG"), NameObject("/Name"): TextStringObject(name)})
        )
        for layer, name in LAYER_NAMES.items()
    }
    order: list[PdfObject] = list(groups.values())
    shown = DictionaryObject(
        {
            NameObject("/Order"): ArrayObject(order),
            NameObject("/ON"): ArrayObject(order),
            NameObject("/Name"): TextStringObject("Pattern"),
        }
    )
    writer.root_object[NameObject("/OCProperties")] = DictionaryObject(
        {NameObject("/OCGs"): ArrayObject(order), NameObject("/D"): shown}
    )
    for index in layered:
        resources = writer.pages[index]["/Resources"].get_object()
        assert isinstance(resources, DictionaryObject)
        resources[NameObject("/Properties")] = DictionaryObject(
            {NameObject(f"/{layer}"): group for layer, group in groups.items()}
        )
