"""Marks on the page, measured on the picture another library (PDFium) makes of it."""

import math
from io import BytesIO

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from on_paper import write_file
from pypdf import PdfReader

from docgen.fonts import cap_height_mm, missing_characters, text_width_mm
from docgen.geometry.path import box_path, circle_path
from docgen.geometry.shapes import Arc, Box, Curve, Line, Path, Point
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import ClipMark, CodeMark, Mark, Page, PathMark, StampMark, Stroke, TextMark
from docgen.pages.setting.tag import code_rows, draw_code
from docgen.write.pdf import mark_box, merge_modules, path_operators

Picture = npt.NDArray[np.float64]

WIDTH_MM, HEIGHT_MM = 203.2, 254.0  # 8 x 10 in: a whole number of pixels at any whole dpi
THIN = Stroke(width_mm=0.3)


def make_page(*marks: Mark) -> Page:
    return Page(width_mm=WIDTH_MM, height_mm=HEIGHT_MM, marks=marks, label="1", payload="")


def rasterise(*marks: Mark, dpi: int = 300) -> Picture:
    """Darkness of every pixel, 0 white to 1 black; row 0 is the bottom of the page."""
    document = pypdfium2.PdfDocument(write_file(make_page(*marks)))
    grey = document[0].render(scale=dpi / 72, grayscale=True).to_numpy()
    assert grey.shape[:2] == (round(HEIGHT_MM / 25.4 * dpi), round(WIDTH_MM / 25.4 * dpi))
    return np.flipud(1 - grey.reshape(grey.shape[:2]) / 255.0)


def ink_box(picture: Picture, dpi: int = 300) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of all ink in mm, to a pixel."""
    rows, columns = np.nonzero(picture > 0.5)
    edges = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
    left, bottom, right, top = (float(edge) * 25.4 / dpi for edge in edges)
    return left, bottom, right, top


def centre_of_ink(profile: Picture, dpi: int = 300) -> float:
    """The middle of a line's cross-section in mm, finer than a pixel because its edges are grey."""
    places = (np.arange(len(profile)) + 0.5) * 25.4 / dpi
    return float((profile * places).sum() / profile.sum())


def page_operators(*marks: Mark) -> str:
    """The page's own operators, as another library reads them."""
    contents = PdfReader(BytesIO(write_file(make_page(*marks)))).pages[0].get_contents()
    assert contents is not None
    return contents.get_data().decode("latin-1")


def stroked(path: Path, stroke: Stroke = THIN) -> PathMark:
    return PathMark(path=path, stroke=stroke)


def test_a_100_mm_square_measures_100_mm() -> None:
    picture = rasterise(stroked(box_path(Box(50.0, 60.0, 150.0, 160.0))))
    dot = 300 / 25.4
    low, high = round(80 * dot), round(140 * dot)  # a band that cuts only the two sides
    across, middle = picture[low:high].mean(axis=0), round(100 * dot)
    left, right = centre_of_ink(across[:middle]), centre_of_ink(across[middle:]) + middle / dot
    assert (left, right) == (pytest.approx(50.0, abs=0.03), pytest.approx(150.0, abs=0.03))
    up, middle = picture[:, low:high].mean(axis=1), round(110 * dot)
    bottom, top = centre_of_ink(up[:middle]), centre_of_ink(up[middle:]) + middle / dot
    assert (bottom, top) == (pytest.approx(60.0, abs=0.03), pytest.approx(160.0, abs=0.03))


def test_a_circle_has_its_radius_all_round() -> None:
    picture = rasterise(stroked(circle_path(Point(100.0, 120.0), 50.0)))
    rows, columns = np.nonzero(picture)
    ink = picture[rows, columns]
    x, y = (columns + 0.5) * 25.4 / 300 - 100.0, (rows + 0.5) * 25.4 / 300 - 120.0
    sector = (np.degrees(np.arctan2(y, x)) // 10).astype(int)
    for part in np.unique(sector):
        here = sector == part
        assert np.average(np.hypot(x, y)[here], weights=ink[here]) == pytest.approx(50.0, abs=0.03)


@pytest.mark.parametrize("radius", [0.5, 4.0, 50.0, 1000.0])
@pytest.mark.parametrize("sweep", [2 * math.pi, -math.pi / 2, 0.3])
def test_arcs_are_true_to_a_ten_thousandth_of_a_millimetre(radius: float, sweep: float) -> None:
    centre, begin = Point(20.0, 30.0), 0.7
    numbers = path_operators(Path((Arc(centre, radius, begin, sweep),))).split()
    values = [float(word) * 25.4 / 72 for word in numbers if word not in ("m", "c")]
    points = [complex(x, y) for x, y in zip(values[::2], values[1::2], strict=True)]
    middle = complex(*centre)
    assert abs(points[-1] - middle - radius * np.exp(1j * (begin + sweep))) < 1e-4
    rounding = 2e-5 * math.sqrt(2)  # half of 0.0001 pt in x and y
    share = np.linspace(0, 1, 50)
    for first in range(0, len(points) - 1, 3):
        a, b, c, d = points[first : first + 4]
        curve = (1 - share) ** 3 * a + 3 * share * (1 - share) ** 2 * b + 3 * share**2 * (1 - share) * c
        assert np.abs(np.abs(curve + share**3 * d - middle) - radius).max() < 1e-4 + rounding


def test_a_circle_takes_no_more_pieces_than_it_needs() -> None:
    """A quarter as one Bezier strays 2.7253e-4 of its radius (the closed form for handles of 4/3 tan(pi/8)): of 0.3 mm
    that is less than a ten thousandth of a millimetre, of 0.4 mm more."""
    assert [path_operators(circle_path(Point(9.0, 9.0), radius)).count("c") for radius in (0.3, 0.4)] == [4, 5]


def test_lines_and_curves_are_written_as_they_are() -> None:
    line = Line(Point(0.0, 0.0), Point(25.4, 0.0))
    curve = Curve(Point(25.4, 0.0), Point(50.8, 0.0), Point(50.8, 25.4), Point(25.4, 25.4))
    assert path_operators(Path((line, curve), closed=True)) == (
        "0.0000 0.0000 m 72.0000 0.0000 l 144.0000 0.0000 144.0000 72.0000 72.0000 72.0000 c h"
    )


def test_a_path_is_filled_first_and_stroked_over() -> None:
    mark = PathMark(path=box_path(Box(50, 50, 100, 100)), stroke=Stroke(width_mm=4.0), fill=0.5)
    picture = rasterise(mark, dpi=100)
    dot = 100 / 25.4
    assert picture[round(75 * dot), round(75 * dot)] == pytest.approx(0.5, abs=0.02)
    assert picture[round(75 * dot), round(51 * dot)] == pytest.approx(1.0)
    assert picture[round(75 * dot), round(49 * dot)] == pytest.approx(1.0)


def test_a_path_may_be_only_filled() -> None:
    picture = rasterise(PathMark(path=box_path(Box(50, 50, 100, 100)), fill=0.0), dpi=100)
    assert ink_box(picture, dpi=100) == pytest.approx((50, 50, 100, 100), abs=0.26)
    assert picture.sum() * 0.254**2 == pytest.approx(2500, rel=0.005)


def test_a_path_with_nothing_to_print_prints_nothing() -> None:
    empty = PathMark(path=Path(()), stroke=THIN)
    bare = PathMark(path=box_path(Box(50, 50, 100, 100)))
    assert page_operators(empty, bare) == page_operators()


def test_strokes_have_their_width_grey_and_dashes() -> None:
    line = Path((Line(Point(20, 100), Point(120, 100)),))
    solid = rasterise(stroked(line, Stroke(width_mm=2.0, grey=0.4)), dpi=254)  # ten pixels to the mm
    assert solid[:, 700].sum() / 10 == pytest.approx(2.0 * 0.6, abs=0.02)
    dashed = rasterise(stroked(line, Stroke(width_mm=1.0, dash_mm=(6.0, 4.0))), dpi=254)
    along = dashed[1000, 200:1200] > 0.5
    assert along.reshape(10, 100).mean(axis=1) == pytest.approx(0.6, abs=0.02)


def test_a_stroke_inside_a_clip_does_not_leak_out() -> None:
    def line(y: float, width_mm: float) -> PathMark:
        return stroked(Path((Line(Point(20, y), Point(120, y)),)), Stroke(width_mm=width_mm))

    clip = ClipMark(box=Box(0, 0, 200, 200), marks=(line(80, 3.0),))
    picture = rasterise(line(60, 1.0), clip, line(100, 3.0), line(120, 1.0), dpi=254)
    widths = [picture[round(10 * y) - 30 : round(10 * y) + 30, 700].sum() / 10 for y in (60, 80, 100, 120)]
    assert widths == pytest.approx([1.0, 3.0, 3.0, 1.0], abs=0.05)


def test_a_clip_moves_its_marks_and_cuts_them_at_its_box() -> None:
    disc = PathMark(path=circle_path(Point(0.0, 0.0), 30.0), fill=0.0)
    clip = ClipMark(box=Box(100, 60, 160, 140), marks=(disc,), dx_mm=100.0, dy_mm=100.0)
    assert ink_box(rasterise(clip)) == pytest.approx((100, 70, 130, 130), abs=0.09)


def test_a_clip_inside_a_clip_is_cut_by_both() -> None:
    disc = PathMark(path=circle_path(Point(0.0, 0.0), 30.0), fill=0.0)
    inner = ClipMark(box=Box(-10, -40, 40, 10), marks=(disc,))
    outer = ClipMark(box=Box(0, 0, 110, 200), marks=(inner,), dx_mm=100.0, dy_mm=100.0)
    left, bottom, right, top = ink_box(rasterise(outer))
    assert (left, right, top) == pytest.approx((90, 110, 110), abs=0.09)
    assert bottom == pytest.approx(70, abs=0.09)


def test_marks_outside_a_clip_are_left_out_of_the_file() -> None:
    far = stroked(circle_path(Point(500.0, 500.0), 5.0))
    near = stroked(circle_path(Point(50.0, 50.0), 5.0))
    box = Box(0, 0, 100, 100)
    assert page_operators(ClipMark(box=box, marks=(far,))) == page_operators()
    assert page_operators(ClipMark(box=box, marks=(far, near))) == page_operators(ClipMark(box=box, marks=(near,)))


def test_a_stamp_looks_like_its_marks_drawn_one_by_one_and_is_cut_by_a_clip() -> None:
    ring = stroked(circle_path(Point(20.0, 20.0), 3.0), Stroke(width_mm=0.5))
    cross = stroked(Path((Line(Point(15.0, 20.0), Point(25.0, 20.0)),)))
    shifts = tuple(Point(10.0 * column, 7.0 * row) for column in range(12) for row in range(20))
    stamp = StampMark(marks=(ring, cross), shifts=shifts)
    alone = [place_marks((ring, cross), *by) for by in shifts]
    box = Box(37.0, 33.0, 90.0, 101.0)
    clips = [ClipMark(box=box, marks=marks) for marks in ((stamp,), tuple(mark for pair in alone for mark in pair))]
    stamped, drawn = map(rasterise, clips)
    assert stamped.max() == 1.0
    assert round(255 * np.abs(stamped - drawn).max()) <= 2
    assert len(page_operators(clips[0])) < len(page_operators(ClipMark(box=mark_box(stamp), marks=(stamp,)))) / 3


def test_a_line_that_only_reaches_into_a_clip_with_half_its_width_is_kept() -> None:
    line = stroked(Path((Line(Point(20, 100.5), Point(80, 100.5)),)), Stroke(width_mm=4.0))
    left, bottom, right, top = ink_box(rasterise(ClipMark(box=Box(0, 0, 100, 100), marks=(line,))))
    assert (left, right) == pytest.approx((20, 80), abs=0.09)
    assert (bottom, top) == pytest.approx((98.5, 100), abs=0.09)


def make_text(text: str = "H", **changes: object) -> TextMark:
    values: dict[str, object] = {"x_mm": 100.0, "y_mm": 120.0, "text": text, "size_mm": 20.0} | changes
    return TextMark(**values)  # type: ignore[arg-type]


@pytest.mark.parametrize("face", ["regular", "bold"])
def test_text_stands_on_its_baseline_at_its_size(face: str) -> None:
    left, bottom, right, top = ink_box(rasterise(make_text(face=face)))
    assert bottom == pytest.approx(120.0, abs=0.09)
    assert top - bottom == pytest.approx(cap_height_mm(20.0, face), abs=0.17)
    assert (left + right) / 2 == pytest.approx(100.0 + text_width_mm("H", face, 20.0) / 2, abs=0.17)


@pytest.mark.parametrize(("anchor", "share"), [("start", 0.5), ("middle", 0.0), ("end", -0.5)])
def test_text_keeps_to_its_anchor(anchor: str, share: float) -> None:
    left, _, right, _ = ink_box(rasterise(make_text("HOOH", anchor=anchor)))
    assert (left + right) / 2 == pytest.approx(100.0 + share * text_width_mm("HOOH", "regular", 20.0), abs=0.17)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_text_turns_anticlockwise_about_its_anchor(anchor: str) -> None:
    flat = ink_box(rasterise(make_text("HL", anchor=anchor)))
    turned = ink_box(rasterise(make_text("HL", anchor=anchor, angle_deg=90.0)))
    expected = (100 - (flat[3] - 120), 120 + (flat[0] - 100), 100 - (flat[1] - 120), 120 + (flat[2] - 100))
    assert turned == pytest.approx(expected, abs=0.17)


def test_text_may_be_grey_and_what_follows_is_not() -> None:
    picture = rasterise(make_text("I", grey=0.6), make_text("I", x_mm=50.0))
    dot = 300 / 25.4
    assert picture[:, round(90 * dot) :].max() == pytest.approx(0.4, abs=0.02)
    assert picture[:, : round(90 * dot)].max() == pytest.approx(1.0)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_a_thin_space_is_printed_as_wide_as_it_is_measured(anchor: str) -> None:
    """What follows it, on its line and on the next, stands in its place."""
    thin = make_text("H\u202fH", anchor=anchor)
    plain = make_text("HH", anchor=anchor)
    wider = text_width_mm(thin.text, "regular", 20.0) - text_width_mm(plain.text, "regular", 20.0)
    boxes = [ink_box(rasterise(mark)) for mark in (thin, plain)]
    assert (boxes[0][2] - boxes[0][0]) - (boxes[1][2] - boxes[1][0]) == pytest.approx(wider, abs=0.17)
    after = make_text("HH", y_mm=60.0)
    alone, both = rasterise(after), rasterise(thin, after)
    rows = alone.max(axis=1) > 0.5
    assert np.array_equal(alone[rows], both[rows])


def test_text_can_be_read_and_copied_from_the_file() -> None:
    words = "Gusset (2×), ½ in \\ ≥ 4.0\u00a0mm → “edge”"
    reader = PdfReader(BytesIO(write_file(make_page(make_text(words, size_mm=4.0, x_mm=20.0)))))
    assert reader.pages[0].extract_text() == words.replace("\u00a0", " ")


def test_only_our_faces_are_in_the_file_and_they_are_embedded() -> None:
    page = make_page(make_text("A"), make_text("B", face="bold", y_mm=50.0), make_text("C", y_mm=80.0))
    reader = PdfReader(BytesIO(write_file(page, page)))
    names = set()
    for sheet in reader.pages:
        for font in sheet["/Resources"]["/Font"].values():
            names.add(font.get_object()["/BaseFont"].split("+")[1])
            assert "/FontFile2" in font.get_object()["/FontDescriptor"]
    assert names == {"FiraSans-Regular", "FiraSans-SemiBold"}


@given(
    angle=st.floats(min_value=-180, max_value=180),
    anchor=st.sampled_from(["start", "middle", "end"]),
    words=st.sampled_from(["Åg", "jQ", "Front panel"]),
)
@settings(max_examples=12, deadline=None)
def test_the_box_of_a_text_holds_its_ink(angle: float, anchor: str, words: str) -> None:
    mark = make_text(words, size_mm=10.0, angle_deg=angle, anchor=anchor)
    box, (left, bottom, right, top) = mark_box(mark), ink_box(rasterise(mark, dpi=100), dpi=100)
    slack = 0.3  # a pixel at 100 dpi
    assert box.left - slack < left
    assert box.bottom - slack < bottom
    assert right < box.right + slack
    assert top < box.top + slack
    assert box.width < 90


PAYLOAD = "SPEC:TUNER-SATCHEL/3/9F2C61AB04/PATTERN/4"


def read_codes(picture: Picture) -> list[str]:
    pixels = np.ascontiguousarray(np.flipud(255 - picture * 255)).astype(np.uint8)
    return [found.text for found in zxingcpp.read_barcodes(pixels)]


def test_a_code_is_read_from_a_page_at_150_dpi() -> None:
    assert read_codes(rasterise(draw_code(PAYLOAD, 170.0, 15.3), dpi=150)) == [PAYLOAD]


def test_a_code_is_read_with_pattern_lines_under_it() -> None:
    lines = [stroked(Path((Line(Point(0, 5 * i), Point(200, 5 * i + 20)),))) for i in range(40)]
    assert read_codes(rasterise(*lines, draw_code(PAYLOAD, 80.0, 100.0), dpi=150)) == [PAYLOAD]


def test_a_code_has_its_size_and_place_and_a_white_box_of_four_modules() -> None:
    code = draw_code(PAYLOAD, 80.0, 100.0)
    assert ink_box(rasterise(code)) == pytest.approx((80, 100, 98, 118), abs=0.09)
    dark = PathMark(path=box_path(Box(10, 10, 190, 240)), fill=0.0)
    picture = rasterise(dark, code)
    quiet, dot = 4 * 18.0 / len(code.rows), 300 / 25.4  # ISO/IEC 18004: quiet zone of four modules
    row = picture[round((100 - quiet / 2) * dot)]
    white = np.nonzero(row[round(15 * dot) : round(185 * dot)] < 0.5)[0] + round(15 * dot)
    assert white.min() / dot == pytest.approx(80 - quiet, abs=0.09)
    assert (white.max() + 1) / dot == pytest.approx(98 + quiet, abs=0.09)


def test_no_seam_shows_between_the_modules_of_a_code() -> None:
    solid = CodeMark(x_mm=50.03, y_mm=50.07, size_mm=30.0, rows=("1" * 29,) * 29, payload="")
    picture = rasterise(solid, dpi=137)
    dot = 137 / 25.4
    inside = picture[round(51 * dot) : round(79 * dot), round(51 * dot) : round(79 * dot)]
    assert inside.min() == pytest.approx(1.0)


def test_merged_modules_cover_the_dark_ones_and_no_others() -> None:
    rows = code_rows(PAYLOAD)
    covered = np.zeros((len(rows), len(rows)), dtype=int)
    for x, y, width, height in merge_modules(rows):
        covered[len(rows) - y - height : len(rows) - y, x : x + width] += 1
    assert covered.tolist() == [[int(cell) for cell in row] for row in rows]
    assert sum(1 for _ in merge_modules(rows)) < covered.sum() * 0.6


def test_every_page_has_its_own_size() -> None:
    sizes = [(215.9, 279.4), (210.0, 297.0), (420.0, 297.0)]
    pages = [Page(width_mm=w, height_mm=h, marks=(), label="", payload="") for w, h in sizes]
    boxes = [page.mediabox for page in PdfReader(BytesIO(write_file(*pages))).pages]
    found = [(float(box.width) * 25.4 / 72, float(box.height) * 25.4 / 72) for box in boxes]
    assert found == [pytest.approx(size, abs=0.001) for size in sizes]


def test_a_face_that_is_not_there_is_a_fault() -> None:
    with pytest.raises(KeyError):
        write_file(make_page(make_text(face="italic")))


def test_more_letters_than_a_byte_tells_apart_are_read_back_from_several_parts_of_a_face() -> None:
    letters = [letter for letter in map(chr, range(0xA1, 0x460)) if letter.isalpha() and not missing_characters(letter)]
    assert len(letters) > 2 * 255
    lines = ["".join(letters[first : first + 40]) for first in range(0, len(letters), 40)]
    marks = [make_text(line, x_mm=10.0, y_mm=240.0 - 8 * row) for row, line in enumerate(lines)]
    (page,) = PdfReader(BytesIO(write_file(make_page(*marks)))).pages
    assert len(page["/Resources"]["/Font"]) > 2
    assert page.extract_text().replace("\n", "") == "".join(letters)
