"""Patterns printed for a corrected printer, on large paper, mirrored, overlapping, with whole straps: measured.

Outside check: pypdfium2 draws the pages at 300 dpi; where a line lies is the centroid of its darkness. The figures are
those written in the spec below, by hand.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from on_paper import visible_marks
from picture import Picture
from pypdf import PdfReader
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.pages import Choices, lay_out
from docgen.pages.marks.page import ClipMark, Document, Mark, Page, PathMark, TextMark
from docgen.plan import plan_work
from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec
from docgen.resolve import Printer
from docgen.write import finish_documents, replace_files

DPI = 300
WITHIN_MM = 0.05
INCH_MM = 25.4
OFFICE = Printer(name="office", across_mm=99.2, down_mm=100.5)
SPEC = write_out("""\
<spec case: Case, version 1>

<leather hide: 3 mm>

<rectangle panel of hide: ["12 in", "7 in"]>
holes = [{ at = "2 in from left, 1 1/2 in from bottom", punch = "1/4 in" }]

<rectangle flap of hide: ["5 in", "4 in"]>
holes = [{ at = "1 in from left, 3/4 in from bottom", punch = "1/4 in" }]

<strap belt of hide: 1 in>
finished = "40 in"
holes = { count = 7, pitch = "1 in", punch = "5/32 in", tip = "3 1/2 in" }
ends = [{ shape = "square" }, { shape = "pointed" }]
""")
PANEL_MM = (12 * INCH_MM, 7 * INCH_MM)
FLAP_MM = (5 * INCH_MM, 4 * INCH_MM)
BELT_MM = (INCH_MM, 40 * INCH_MM)
BELT_HOLE_MM = 5 / 32 * INCH_MM
PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    file: Path
    pattern: Document


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A drawn path where it lies on the finished page, and what part of the page shows it; mm."""

    box: Box
    shown: Box
    mark: PathMark

    @property
    def is_whole(self) -> bool:
        return (
            self.shown.left <= self.box.left
            and self.box.right <= self.shown.right
            and self.shown.bottom <= self.box.bottom
            and self.box.top <= self.shown.top
        )


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> object:
    """case(**choices) -> Made; the same call makes nothing twice."""
    top = tmp_path_factory.mktemp("case")
    spec = top / "case.toml"
    spec.write_text(SPEC, encoding="utf-8")
    plan = plan_work(resolve_build(read_spec(spec)))

    @cache
    def make(choices: Choices) -> Made:
        folder = top / str(len(list(top.iterdir())))
        packet = lay_out(plan, choices=choices, date="2026-03-31")
        (file,) = replace_files(folder, finish_documents(packet, only=("pattern",)))
        return Made(file=file, pattern=packet.documents[0])

    return lambda **choices: make(Choices(**choices))


def take_picture(made: Made, page: int, part: Box) -> Picture:
    """A part of one printed page."""
    with pypdfium2.PdfDocument(made.file) as document:
        sheet = document[page]
        width, height, scale, point = sheet.get_width(), sheet.get_height(), DPI / 72, 72 / INCH_MM
        cut = (part.left * point, part.bottom * point, width - part.right * point, height - part.top * point)
        crop = tuple(max(0.0, side) for side in cut)
        bitmap = sheet.render(scale=scale, crop=crop, grayscale=True)
        dark = 255.0 - bitmap.to_numpy().reshape(bitmap.height, bitmap.width)
    across_mm, down_mm = width / point / math.ceil(width * scale), height / point / math.ceil(height * scale)
    left_mm = math.ceil(crop[0] * scale) * across_mm
    top_mm = height / point - math.ceil(crop[3] * scale) * down_mm
    return Picture(dark=dark, left_mm=left_mm, top_mm=top_mm, across_mm=across_mm, down_mm=down_mm)


def shapes(page: Page) -> Iterator[Shape]:
    """Every path of a page where the printed sheet has it."""
    across, down = page.stretch
    for box, shown, mark in walk(page.marks, 0.0, 0.0, Box(0, 0, page.width_mm, page.height_mm)):
        yield Shape(box=stretched(box, across, down), shown=stretched(shown, across, down), mark=mark)


def walk(marks: tuple[Mark, ...], dx: float, dy: float, shown: Box) -> Iterator[tuple[Box, Box, PathMark]]:
    for mark in marks:
        if isinstance(mark, PathMark):
            yield moved(path_box(mark.path), dx, dy), shown, mark
        elif isinstance(mark, ClipMark):
            own = moved(mark.box, dx, dy)
            both = Box(
                max(own.left, shown.left),
                max(own.bottom, shown.bottom),
                min(own.right, shown.right),
                min(own.top, shown.top),
            )
            yield from walk(mark.marks, dx + mark.dx_mm, dy + mark.dy_mm, both)


def moved(box: Box, dx: float, dy: float) -> Box:
    return Box(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)


def stretched(box: Box, across: float, down: float) -> Box:
    return Box(box.left * across, box.bottom * down, box.right * across, box.top * down)


def around(box: Box) -> Box:
    return Box(box.left - 3.0, box.bottom - 3.0, box.right + 3.0, box.top + 3.0)


def is_sized(box: Box, size: tuple[float, float], stretch: tuple[float, float] = (1.0, 1.0)) -> bool:
    """Whether a box on the page has this size on paper, either way round."""
    own = sorted((box.width / stretch[0], box.height / stretch[1]))
    return bool(np.allclose(own, sorted(size), atol=0.2))


def find(made: Made, size: tuple[float, float], layer: str | None = None) -> list[tuple[int, Shape]]:
    """(page, shape) of all closed paths of a size that a page shows whole."""
    return [
        (number, shape)
        for number, page in enumerate(made.pattern.pages)
        for shape in shapes(page)
        if shape.mark.path.closed
        and is_sized(shape.box, size, page.stretch)
        and shape.is_whole
        and layer in (None, shape.mark.layer)
    ]


def measure(made: Made, page: int, box: Box) -> tuple[float, float]:
    return take_picture(made, page, around(box)).sides(box)


def page_texts(page: Page) -> str:
    return " ".join(mark.text for mark, *_ in visible_marks(page.marks) if isinstance(mark, TextMark))


# ---- a printer that stretches ---------------------------------------------------


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_squares_for_a_corrected_printer_come_out_true(case, paper) -> None:
    made = case(paper=paper, printer=OFFICE)
    assert len(made.pattern.pages) >= 3
    for page in range(3):
        for side in (101.6, 100.0) if page == 0 else (25.4, 25.0):
            ((_, square),) = [hit for hit in find(made, (side, side)) if hit[0] == page]
            across, down = measure(made, page, square.box)
            # In the file larger by what the printer takes away: 100 mm are drawn 100 * 100 / 99.2 mm wide.
            assert (across, down) == pytest.approx((side * 100 / 99.2, side * 100 / 100.5), abs=WITHIN_MM)
            # The printer then makes 99.2 mm of every 100 across, and 100.5 mm down.
            assert (across * 0.992, down * 1.005) == pytest.approx((side, side), abs=WITHIN_MM)


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_pages_for_a_corrected_printer_have_the_size_of_the_paper(case, paper) -> None:
    plain, corrected = case(paper=paper), case(paper=paper, printer=OFFICE)
    size = [side / INCH_MM * 72 for side in PAPERS_MM[paper]]
    sizes = [[float(side) for side in page.mediabox[2:]] for page in PdfReader(corrected.file).pages]
    assert sizes == [pytest.approx(size, abs=1e-3)] * len(sizes)
    assert list(PdfReader(plain.file).pages[1].mediabox) == list(PdfReader(corrected.file).pages[1].mediabox)


def test_pages_for_a_corrected_printer_keep_their_margin(case) -> None:
    made = case(paper="letter", printer=OFFICE, margin_mm=8.0)
    for page in made.pattern.pages:
        seen = list(shapes(page))
        assert min(max(one.box.left, one.shown.left) for one in seen) >= 8.0 - 1e-6
        assert min(max(one.box.bottom, one.shown.bottom) for one in seen) >= 8.0 - 1e-6
        assert max(min(one.box.right, one.shown.right) for one in seen) <= 215.9 - 8.0 + 1e-6
        assert max(min(one.box.top, one.shown.top) for one in seen) <= 279.4 - 8.0 + 1e-6


def test_every_page_names_the_printer_it_is_corrected_for(case) -> None:
    assert all("office" in page_texts(page) for page in case(printer=OFFICE).pattern.pages)
    assert not any("office" in page_texts(page) for page in case().pattern.pages)


def test_pieces_for_a_corrected_printer_come_out_true(case) -> None:
    made = case(printer=OFFICE)
    ((page, flap),) = find(made, FLAP_MM, "cut")
    across, down = measure(made, page, flap.box)
    assert sorted((across * 0.992, down * 1.005)) == pytest.approx(sorted(FLAP_MM), abs=WITHIN_MM)


# ---- large paper ----------------------------------------------------------------


@pytest.mark.parametrize("paper", ["a0", "roll 36 in"])
@pytest.mark.parametrize("printer", [None, OFFICE], ids=["plain", "corrected"])
def test_squares_pieces_and_straps_are_true_on_large_paper(case, paper, printer) -> None:
    made = case(paper=paper, printer=printer, has_full_straps=True)
    assert (made.pattern.count.sheets, made.pattern.count.joins) == (1, 0)
    across, down = (0.992, 1.005) if printer else (1.0, 1.0)
    for side in (101.6, 100.0, 25.4, 25.0):
        ((page, square),) = [hit for hit in find(made, (side, side)) if hit[0] == 1]
        width, height = measure(made, page, square.box)
        assert (width * across, height * down) == pytest.approx((side, side), abs=WITHIN_MM)
    for size in (PANEL_MM, FLAP_MM):
        ((page, piece),) = find(made, size, "cut")
        width, height = measure(made, page, piece.box)
        assert sorted((width * across, height * down)) == pytest.approx(sorted(size), abs=WITHIN_MM)


def test_sheet_of_a_roll_is_as_wide_as_the_roll_and_no_longer_than_needed(case) -> None:
    made = case(paper="roll 36 in", has_full_straps=True)
    page = PdfReader(made.file).pages[1].mediabox
    # The belt, 1016 mm, is longer than the roll is wide: it lies along it.
    assert float(page.width) / 72 * INCH_MM == pytest.approx(36 * INCH_MM, abs=1e-3)
    assert 1016 < float(page.height) / 72 * INCH_MM < 1016 * 1.1
    first = PdfReader(made.file).pages[0].mediabox
    assert (float(first.width), float(first.height)) == pytest.approx((612.0, 792.0))


# ---- turned over ------------------------------------------------------------------


@pytest.mark.parametrize("is_mirrored", [False, True])
def test_hole_of_a_mirrored_piece_lies_at_the_other_side(case, is_mirrored) -> None:
    made = case(pieces=("flap",), is_mirrored=is_mirrored)
    ((page, flap),) = find(made, FLAP_MM, "cut")
    ((_, hole),) = find(made, (6.35, 6.35), "marks")
    assert flap.box.width > flap.box.height  # upright as in the spec
    picture = take_picture(made, page, around(flap.box))
    centre = hole.box.centre
    # The arms of the centre cross, outside the rim.
    x = picture.line_x(centre.x, centre.y + 3.6, centre.y + 4.4, 0.5)
    y = picture.line_y(centre.y, centre.x + 3.6, centre.x + 4.4, 0.5)
    low, high = flap.box.bottom + 40.0, flap.box.top - 15.0
    left, right = picture.line_x(flap.box.left, low, high), picture.line_x(flap.box.right, low, high)
    bottom = picture.line_y(flap.box.bottom, flap.box.left + 50.0, flap.box.left + 80.0)
    assert (right - x if is_mirrored else x - left) == pytest.approx(INCH_MM, abs=WITHIN_MM)
    assert y - bottom == pytest.approx(0.75 * INCH_MM, abs=WITHIN_MM)
    assert ("mirrored" in page_texts(made.pattern.pages[page])) is is_mirrored


def test_only_the_pieces_asked_for_are_printed(case) -> None:
    made = case(pieces=("flap", "belt"))
    assert find(made, FLAP_MM, "cut")
    names = {part.name for page in made.pattern.pages[1:] for part in page.sheet.parts}
    assert names == {"flap", "belt"}


# ---- joins ------------------------------------------------------------------------


def dark_share(picture: Picture, at: tuple[float, float], is_level: bool) -> float:
    """How much of a match mark's cross line, from tip to tip, is printed."""
    x, y = at
    reach, half = 2.5, 0.06
    box = Box(x - reach, y - half, x + reach, y + half)
    if not is_level:
        box = Box(x - half, y - reach, x + half, y + reach)
    dark, _, _ = picture.cut(box)
    return float((dark.max(axis=0 if is_level else 1) > 60).mean())


def match_shares(made: Made) -> dict[str, list[float]]:
    """Name of each match mark -> the least share of its cross that each sheet shows."""
    found: dict[str, list[float]] = {}
    for number, page in enumerate(made.pattern.pages[1:], start=1):
        for name, x, y in page.sheet.matches:
            picture = take_picture(made, number, Box(x - 8, y - 8, x + 8, y + 8))
            shares = min(dark_share(picture, (x, y), is_level) for is_level in (True, False))
            found.setdefault(name, []).append(shares)
    return found


def test_match_marks_of_overlapping_sheets_are_whole_on_both(case) -> None:
    found = match_shares(case(join="overlap"))
    assert found
    assert all(len(shares) == 2 and min(shares) > 0.97 for shares in found.values()), found
    least = match_shares(case(join="overlap", overlap_mm=6.0))
    assert all(len(shares) == 2 and min(shares) > 0.97 for shares in least.values()), least


def test_match_marks_of_trimmed_sheets_are_half_on_the_upper_one(case) -> None:
    found = match_shares(case(join="trim"))
    assert found
    assert all(min(shares) < 0.6 < max(shares) for shares in found.values()), found


@pytest.mark.parametrize("join", ["trim", "overlap"])
@pytest.mark.parametrize("printer", [None, OFFICE], ids=["plain", "corrected"])
def test_panel_on_joined_sheets_has_its_whole_width_through_the_match_marks(case, join, printer) -> None:
    # From the panel's edge to the mark on one sheet, and from the mark to the other edge on the next.
    made = case(pieces=("panel",), join=join, printer=printer)
    assert made.pattern.count.sheets == 2
    first, second = made.pattern.pages[1:]
    across, down = (0.992, 1.005) if printer else (1.0, 1.0)
    edges = []
    for number, page in ((1, first), (2, second)):
        (panel,) = [
            shape for shape in shapes(page) if shape.mark.layer == "cut" and is_sized(shape.box, PANEL_MM, page.stretch)
        ]
        marks = {name: (x * page.stretch[0], y * page.stretch[1]) for name, x, y in page.sheet.matches}
        edges.append((take_picture(made, number, Box(0, 0, 230, 300)), panel.box, marks))
    (one, box, marks), (other, other_box, other_marks) = edges
    is_upright = box.width > box.height
    for name, at in marks.items():
        if is_upright:
            low, high = box.bottom + 0.55 * box.height, box.bottom + 0.6 * box.height
            left, right = one.line_x(box.left, low, high), other.line_x(other_box.right, low, high)
            here = one.line_x(at[0], at[1] + 0.6, at[1] + 1.6, 0.5)
            # To trim, the mark lies under the frame of the sheet that is laid on top.
            there_at = other_marks[name]
            there = other.line_x(there_at[0], there_at[1] + 0.6, there_at[1] + 1.6, 0.5)
            size = ((here - left) + (right - there)) * across
        else:
            low, high = box.left + 0.55 * box.width, box.left + 0.6 * box.width
            top, bottom = one.line_y(box.top, low, high), other.line_y(other_box.bottom, low, high)
            here = one.line_y(at[1], at[0] + 0.6, at[0] + 1.6, 0.5)
            there_at = other_marks[name]
            there = other.line_y(there_at[1], there_at[0] + 0.6, there_at[0] + 1.6, 0.5)
            size = ((top - here) + (there - bottom)) * down
        assert size == pytest.approx(PANEL_MM[0], abs=WITHIN_MM)


# ---- straps -----------------------------------------------------------------------


def belt_holes(made: Made) -> list[tuple[int, Shape]]:
    return find(made, (BELT_HOLE_MM, BELT_HOLE_MM), "marks")


def test_broken_strap_shows_all_its_holes_at_their_pitch(case) -> None:
    made = case(pieces=("belt",))
    holes = belt_holes(made)
    assert len(holes) == 7
    page = holes[0][0]
    assert {number for number, _ in holes} == {page}
    assert "cut 40\u00a0in (1016\u00a0mm) long" in page_texts(made.pattern.pages[page])
    centres = sorted((hole.box.centre for _, hole in holes), key=lambda at: (at.x, at.y))
    is_upright = abs(centres[0].x - centres[1].x) < 1.0
    picture = take_picture(made, page, Box(0, 0, 215.9, 279.4))
    places = [
        picture.line_y(at.y, at.x + 2.2, at.x + 3.2, 0.5)
        if is_upright
        else picture.line_x(at.x, at.y + 2.2, at.y + 3.2, 0.5)
        for at in centres
    ]
    assert np.diff(places) == pytest.approx([INCH_MM] * 6, abs=WITHIN_MM)


def test_full_strap_is_printed_from_end_to_end(case) -> None:
    made = case(pieces=("belt",), has_full_straps=True)
    assert len({(number, shape.box.centre) for number, shape in belt_holes(made)}) >= 7
    assert made.pattern.count.sheets >= 4
    roll = case(pieces=("belt",), has_full_straps=True, paper="roll 36 in")
    ((page, belt),) = find(roll, BELT_MM, "cut")
    # From its square end to its last hole, 3 1/2 in before the tip: 36 1/2 in.
    box = belt.box
    last = max((hole.box.centre for _, hole in belt_holes(roll)), key=lambda at: at.y)
    foot = take_picture(roll, page, Box(box.left - 3, box.bottom - 3, box.right + 3, box.bottom + 10))
    head = take_picture(roll, page, Box(box.left - 3, last.y - 10, box.right + 3, box.top + 3))
    end = foot.line_y(box.bottom, box.left + 8, box.right - 8)
    hole = head.line_y(last.y, last.x + 2.2, last.x + 3.2, 0.5)
    assert hole - end == pytest.approx(36.5 * INCH_MM, abs=WITHIN_MM)
    assert box.height == pytest.approx(1016.0, abs=1e-6)
    assert "cut 40 in" not in page_texts(roll.pattern.pages[page])


# ---- sheets too full for their tag ------------------------------------------------


def test_sheet_too_full_for_its_squares_has_them_at_true_size_on_a_page_to_cut_out(tmp_path: Path) -> None:
    # 197 x 262 mm fill the 203.2 x 266.7 mm inside the margins, and a net of slits leaves no room in it.
    slits = ", ".join(
        f'{{ start = "{step} mm from left, 12 mm from bottom", end = "{step} mm from left, 12 mm from top" }}'
        for step in range(12, 190, 12)
    )
    (tmp_path / "net.toml").write_text(
        SPEC.split("[pieces.panel]")[0]
        + f'[pieces.net]\nof = "hide"\nshape = "rectangle"\nsize = ["197 mm", "262 mm"]\nslits = [{slits}]\n',
        encoding="utf-8",
    )
    plan = plan_work(resolve_build(read_spec(tmp_path / "net.toml")))
    packet = lay_out(plan, choices=Choices(), date="2026-03-31")
    (file,) = replace_files(tmp_path / "out", finish_documents(packet, only=("pattern",)))
    made = Made(file=file, pattern=packet.documents[0])
    assert (made.pattern.count.sheets, made.pattern.count.joins) == (1, 0)
    first, sheet, last = range(3)
    assert len(made.pattern.pages) == 3
    for page in made.pattern.pages:
        assert (page.width_mm, page.height_mm) == pytest.approx((215.9, 279.4))
    for number, sides in ((first, (101.6, 100.0)), (sheet, ()), (last, (25.4, 25.0))):
        for side in sides:
            ((_, square),) = [hit for hit in find(made, (side, side)) if hit[0] == number]
            assert measure(made, number, square.box) == pytest.approx((side, side), abs=WITHIN_MM)
    assert not [hit for side in (25.4, 25.0) for hit in find(made, (side, side)) if hit[0] == sheet]


# ---- what cannot be printed -------------------------------------------------------


def messages(tmp_path: Path, pieces: str, **choices) -> str:
    (tmp_path / "case.toml").write_text(SPEC.split("[pieces.panel]")[0] + pieces, encoding="utf-8")
    plan = plan_work(resolve_build(read_spec(tmp_path / "case.toml")))
    with pytest.raises(SpecRejected) as caught:
        lay_out(plan, choices=Choices(**choices), date="2026-03-31")
    return "\n".join(render_problem(problem) for problem in caught.value.problems)


FLAP = '[pieces.flap]\nof = "hide"\nshape = "rectangle"\nsize = ["5 in", "4 in"]\n'
SAIL = '[pieces.sail]\nof = "hide"\nshape = "rectangle"\nsize = ["4 m", "4 m"]\n'


def test_margin_without_room_for_the_test_squares_is_told(tmp_path: Path) -> None:
    # Inside 25.4 mm a sheet of 10 in is 203.2 mm high: 22.5 mm for the band, 205.1 mm for the squares.
    assert messages(tmp_path, FLAP, margin_mm=25.4, paper="8.5x10 in") == (
        "case.toml: error: the first page of the pattern has no room for its test squares, map and words inside "
        "these margins\n    mend:    use a smaller margin, larger paper, or a shorter title"
    )


def test_piece_that_needs_too_many_sheets_is_told(tmp_path: Path) -> None:
    assert messages(tmp_path, SAIL) == (
        f'{tmp_path}/case.toml:10: error: the piece "sail" needs too many sheets of this paper to be joined\n'
        "    written: [pieces.sail]\n"
        "    mend:    print on larger paper, or cut the piece from smaller ones"
    )


def test_pattern_longer_than_a_page_of_a_roll_can_be_is_told(tmp_path: Path) -> None:
    assert messages(tmp_path, SAIL, paper="roll 36 in").split("error: ")[1] == (
        "the pattern does not fit 5 m of this roll\n    mend:    print on larger paper"
    )


def test_code_on_a_narrow_strap_leaves_its_cut_lines_whole(case) -> None:
    # A code of 18 mm with four modules of white on every side, 23.8 mm, on a strap of 25.4 mm.
    made = case(pieces=("belt",), has_full_straps=True, paper="roll 36 in")
    ((page, belt),) = find(made, BELT_MM, "cut")
    picture = take_picture(made, page, around(belt.box))
    for x in (belt.box.left, belt.box.right):
        dark, _, _ = picture.cut(Box(x - 0.3, belt.box.bottom + 5.0, x + 0.3, belt.box.top - 20.0))
        assert (dark.max(axis=1) > 128).all()
