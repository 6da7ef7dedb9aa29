"""Paper to lay pages out on, and what is found on them."""

from collections.abc import Iterator

from by_hand import make_piece

from docgen.fonts import text_width_mm
from docgen.geometry.outline import rectangle_outline
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box, Point
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import ClipMark, Document, Mark, Packet, Page, PathMark, TextMark
from docgen.pages.pattern.piece_template import Template
from docgen.pages.setting.setup import Setup
from docgen.write import finish_documents

PAPERS = {"letter": (215.9, 279.4), "A4": (210.0, 297.0)}


HOSTILE = ('<b>&amp;</b> <img src="x"/> {{ x }} # -', "W" * 200)


def make_setup(paper: str = "letter") -> Setup:
    width, height = PAPERS[paper]
    return Setup(
        paper_width_mm=width, paper_height_mm=height, margin_mm=6.0, date="2026-03-04", style=load_page_style()
    )


def visible_marks(marks: tuple[Mark, ...], dx: float = 0.0, dy: float = 0.0) -> Iterator[tuple[Mark, float, float]]:
    """Every mark with how far it is moved; what a clip cuts off is left in: text must not need cutting."""
    for mark in marks:
        if isinstance(mark, ClipMark):
            yield from visible_marks(mark.marks, dx + mark.dx_mm, dy + mark.dy_mm)
        else:
            yield mark, dx, dy


def texts(document: Document) -> list[str]:
    """Every line of a document in the order of its marks, with plain spaces."""
    return [
        mark.text.replace("\u00a0", " ")
        for page in document.pages
        for mark, _, _ in visible_marks(page.marks)
        if isinstance(mark, TextMark)
    ]


def contains(outer: Box, inner: Box, slack: float = 1e-6) -> bool:
    return (
        outer.left <= inner.left + slack
        and outer.bottom <= inner.bottom + slack
        and inner.right <= outer.right + slack
        and inner.top <= outer.top + slack
    )


def shrink(box: Box, by: float) -> Box:
    return Box(box.left + by, box.bottom + by, box.right - by, box.top - by)


def check_inside(document: Document) -> None:
    """No letter and no figure leaves the printer's margin; letters above the band stay out of it too."""
    for page in document.pages:
        for mark, dx, dy in visible_marks(page.marks):
            if not isinstance(mark, TextMark):
                continue
            wide = text_width_mm(mark.text, mark.face, mark.size_mm)
            left = mark.x_mm + dx - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
            assert left >= 6 - 1e-6
            assert left + wide <= page.width_mm - 6 + 1e-6, mark.text
            assert mark.y_mm + dy >= 6 - 1e-6
            assert mark.y_mm + dy + mark.size_mm <= page.height_mm - 6
        for mark in page.marks:
            if isinstance(mark, ClipMark):
                assert mark.box.left >= 10 - 1e-6
                assert mark.box.right <= page.width_mm - 10 + 1e-6
                assert mark.box.bottom >= 6 + 18


def check_said(document: Document, words: str, least: int) -> None:
    """These words stand in the document so often as they are, and all inside."""
    check_inside(document)
    said = "".join(texts(document)).replace(" ", "")
    assert said.count(words.replace(" ", "")) >= least


def make_template(name: str, width: float, height: float) -> Template:
    """A rectangle that needs no label."""
    path = box_path(Box(0, 0, width, height))
    return Template(
        name=name,
        marks=(PathMark(path=path, stroke=load_pattern_style()["cut"], layer="cut"),),
        width_mm=width,
        height_mm=height,
        outline=path,
        label=(),
        label_box=Box(0, 0, 1, 1),
        piece=make_piece(name, rectangle_outline(width, height)),
        offset=Point(0, 0),
    )


def write_file(*pages: Page) -> bytes:
    """A file of these pages."""
    document = Document(name="all", title="All", pages=pages)
    packet = Packet(documents=(document,), title="", author="", source_name="", source=b"", date="2026-03-31")
    return finish_documents(packet, only=("all",))["all.pdf"]
