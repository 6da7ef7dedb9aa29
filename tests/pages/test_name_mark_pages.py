"""The shop's name mark on the pages: beside the shop's name and on the care card, grey, in its own proportions."""

import re
from io import BytesIO
from pathlib import Path as FilePath

import numpy as np
import pypdfium2
import pytest
from on_paper import write_file
from PIL import Image
from pypdf import PdfReader

from docgen.checks import resolve_build
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Box, Path, Point
from docgen.pages import choices_of, lay_out
from docgen.pages.marks.moving import place_marks, turn_marks
from docgen.pages.marks.page import ImageMark, Page
from docgen.plan import plan_work
from docgen.read import Picture, PictureShape, read_spec

SPEC = FilePath(__file__).parents[2] / "specs" / "notebook-sleeve.toml"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 10"><path d="M0 0H30V10H0Z"/></svg>'


def square(width_mm: float = 20.0) -> Picture:
    """Black at its left half, white at its right, twice as wide as high."""
    return Picture(width_mm=width_mm, height_mm=10.0, columns=40, rows=20, pixels=(bytes(20) + b"\xff" * 20) * 20)


def shapes() -> Picture:
    """The same, with a hole in the black half."""

    def box(left: float, bottom: float, right: float, top: float) -> Path:
        return polyline([Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)])

    white = PictureShape(paths=(box(0, 0, 20, 10),), grey=1.0)
    black = PictureShape(paths=(box(0, 0, 10, 10), box(4, 4, 6, 6)), grey=0.0)
    return Picture(width_mm=20.0, height_mm=10.0, shapes=(white, black))


def sides(box: Box) -> tuple[float, float, float, float]:
    return box.left, box.bottom, box.right, box.top


def page_of(*marks: ImageMark) -> Page:
    return Page(width_mm=60.0, height_mm=60.0, marks=marks, label="1", payload="X")


@pytest.mark.parametrize("picture", [square(), shapes()], ids=["pixels", "shapes"])
@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_a_picture_fills_its_box_turned_and_unstretched(picture: Picture, quarters: int) -> None:
    box = Box(10.0, 20.0, 30.0, 30.0) if quarters % 2 == 0 else Box(10.0, 20.0, 20.0, 40.0)
    (mark,) = turn_marks((ImageMark(picture=picture, x_mm=0.0, y_mm=0.0, height_mm=10.0),), quarters, box)
    assert isinstance(mark, ImageMark)
    assert sides(mark.box) == pytest.approx(sides(box))
    image = pypdfium2.PdfDocument(write_file(page_of(mark)))[0].render(scale=4).to_pil().convert("L")
    grey = np.asarray(image)
    dark = np.argwhere(grey < 128) / 4 * 25.4 / 72  # mm from the top left
    (top, left), (bottom, right) = dark.min(axis=0), dark.max(axis=0)
    # the black half is the left one before it is turned
    half = {
        0: Box(10.0, 20.0, 20.0, 30.0),
        1: Box(10.0, 20.0, 20.0, 30.0),
        2: Box(20.0, 20.0, 30.0, 30.0),
        3: Box(10.0, 30.0, 20.0, 40.0),
    }[quarters]
    assert (left, 60 - bottom, right, 60 - top) == pytest.approx(sides(half), abs=0.2)
    middle = grey[tuple(round(mm * 4 * 72 / 25.4) for mm in (60 - half.centre.y, half.centre.x))]
    assert middle == (255 if picture.shapes else 0)


def test_a_picture_moves_with_its_neighbours() -> None:
    (mark,) = place_marks((ImageMark(picture=square(), x_mm=1.0, y_mm=2.0, height_mm=5.0),), 10.0, 20.0)
    assert isinstance(mark, ImageMark)
    assert sides(mark.box) == (11.0, 22.0, 21.0, 27.0)


def test_a_file_holds_the_pixels_once_however_often_they_are_printed() -> None:
    mark = ImageMark(picture=square(), x_mm=1.0, y_mm=2.0, height_mm=5.0)
    content = write_file(page_of(mark), page_of(mark, mark))
    assert len(re.findall(rb"/Subtype\s*/Image", content)) == 1
    assert content == write_file(page_of(mark), page_of(mark, mark))
    assert PdfReader(BytesIO(content)).pages[1].images[0].image.mode == "L"


@pytest.mark.parametrize("kind", ["png", "svg"])
def test_the_mark_is_on_every_band_and_card_in_its_proportions(tmp_path: FilePath, kind: str) -> None:
    text = SPEC.read_text().replace("[shop]\n", f'[shop]\nmark = "mark.{kind}"\n')
    (tmp_path / "sleeve.toml").write_text(text)
    (tmp_path / "mark.svg").write_text(SVG)
    Image.new("L", (300, 100), 0).save(tmp_path / "mark.png")
    build = resolve_build(read_spec(tmp_path / "sleeve.toml"))
    packet = lay_out(plan_work(build), choices=choices_of(build.printing), date="2026-03-31")
    for document in packet.documents:
        for page in document.pages if document.name != "pattern" else document.pages[:1]:
            marks = [mark for mark in page.marks if isinstance(mark, ImageMark)]
            assert marks, page.label
            for mark in marks:
                short, long = sorted((mark.box.width, mark.box.height))
                assert long / short == pytest.approx(3.0)
                assert mark.box.left > 0
                assert mark.box.right < page.width_mm
    cards = next(document for document in packet.documents if document.name == "care-card").pages[0]
    assert len([mark for mark in cards.marks if isinstance(mark, ImageMark)]) > 1
    assert [name for name, _ in packet.files] == [f"mark.{kind}"]
