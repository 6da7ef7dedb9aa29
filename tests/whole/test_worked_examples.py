"""Published worked examples, and some derived ones, each done by the code that users rely on.

All of them stand here once, with their sources; where a figure is tested more closely, a test names the place. Left
out, since nothing here would use them: bytes of a code at level Q (codes have level M), and the load of a thickness
gauge (ISO 2589: 393 g on a foot of 10 mm are 500 g/cm2).
"""

import math

import pytest
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_length
from docgen.geometry.run import run_path
from docgen.pages.pattern.grid import Footprint, Window
from docgen.pages.pattern.placing import place_footprints
from docgen.pages.setting.tag import LEAST_MODULE_MM, QUIET_MODULES, code_rows, code_size_mm
from docgen.read import read_spec
from docgen.resolve.straps.strap_ends import bar_wrap_mm
from docgen.tables.material import find_gross_mm2
from docgen.tables.strength import N_PER_LB, seam_strength_n
from docgen.tables.thread import MACHINE_WASTE, NEEDLE_SIZES, V_TO_DENIER, find_label, lockstitch_ratio, ticket_tex
from docgen.written.threads import parse_needle, parse_thread
from docgen.written.units.lengths import parse_length, parse_pitch, parse_run, parse_thickness
from docgen.written.units.table import MM2_PER_SQFT

INCH = 25.4
HEAD = write_out("""\
<spec example: Example, version 1>
<leather body: 2 mm>
<stitch main: by hand, Tex 135 bonded nylon, 4 mm, {inset}>
""")
PANEL = write_out("""\
<back>
round = { bottom-left = "30 mm", bottom-right = "30 mm" }
<strip gusset: ["60 mm", "solve"]>
<seam round: ["back: left bottom right", "gusset: left"]>
""")
TOTE = write_out("""\
[measures]
wide = "13 in"
deep = "4 in"
high = "12 1/2 in"
allowance = "1/2 in"
<rectangle tote: ["2 * wide + 2 * deep + 2 * allowance", "high + deep / 2 + 2 * allowance"]>
""")
OVAL = write_out("""\
[measures]
long = "solve"
corner = "2 in"
<rectangle base: ["2 * corner + long", "2 * corner + 1/2 in"]>
round = "corner"
<strip wall: ["60 mm", "20 in"]>
<seam rim: ["base: all", "wall: left"]>
""")
BELT = """\
[measures]
trousers = "34 in"
[straps.belt]
of = "body"
width = "1 1/2 in"
wears = "trousers + 5 in"
holes = { count = 5, pitch = "1 in", punch = "4 mm", tip = "4 in" }
"""


@pytest.fixture
def build(tmp_path):
    """build(text, inset) -> what a small spec with these lines comes to."""

    def resolve(text, inset="4 mm"):
        path = tmp_path / "example.toml"
        path.write_text(HEAD.replace("{inset}", inset) + text, encoding="utf-8")
        return resolve_build(read_spec(path))

    return resolve


def find_box(build, name):
    return outline_box(next(piece.outline for piece in build.pieces if piece.name == name))


def test_a_lockstitch_of_thin_cloth_takes_2_20_of_thread():
    """textilecalculations.com, "Calculate amount of sewing thread consumption": type 301, T 0.01 in, 10 per inch ->
    2.20; Coats, "Standard Stitch Type Classification": half needle, half bobbin."""
    ratio = lockstitch_ratio(0.01 * INCH, parse_pitch("10 per inch"))
    assert ratio == pytest.approx(2.20, abs=1e-9)
    assert ratio / 2 == pytest.approx(1.10, abs=1e-9)


def test_the_thickness_term_follows_the_published_chart():
    """American & Efird, "Estimating Thread Consumption": type 401, C = 4 + 2 T S at 8 per inch, then a seam of 42 in
    with 15 % (6.08 and 7.00 yd there, from 42 in rounded to 1.17 yd). Type 301 has 2 for 4."""
    chart = {0.055: 4.88, 0.060: 4.96, 0.065: 5.04, 0.070: 5.12, 0.075: 5.20}
    found = [lockstitch_ratio(stack * INCH, parse_pitch("8 per inch")) + 2 for stack in chart]
    assert found == pytest.approx(list(chart.values()), abs=0.005)
    thread_yd = parse_length("42 in") * found[-1] / parse_run("1 yd")
    assert thread_yd == pytest.approx(6.08, abs=0.03)
    assert thread_yd * (1 + MACHINE_WASTE) == pytest.approx(7.00, abs=0.03)


def test_the_flat_ratio_makes_550_cm_of_a_seam_of_220():
    """Coats, "Standard Stitch Type Classification": type 301 takes 2.5, which the formula gives where T S = 0.25;
    melgeecrafts.com (a weak page): 220 cm -> 550 cm."""
    ratio = lockstitch_ratio(0.25 * INCH / 18, parse_pitch("18 per inch"))
    assert parse_length("220 cm") * ratio == pytest.approx(parse_length("550 cm"))


def test_seams_carry_what_the_source_says():
    """American & Efird, "Stitches per inch - what you should know", pages 32-33, in lb per inch; the last series is
    rounded there."""

    def pounds(spi, thread_lb, stitch_type="301"):
        return seam_strength_n(spi, thread_lb * N_PER_LB, stitch_type) / N_PER_LB

    assert [pounds(10, 4.0, kind) for kind in ("301", "401")] == pytest.approx([60, 68], abs=0.01)
    assert [pounds(spi, 2.6) for spi in (6, 8, 10, 12)] == pytest.approx([23.4, 31.2, 39.0, 46.8], abs=0.01)
    assert [pounds(spi, 2.2) for spi in (6, 8, 10, 12)] == pytest.approx([20, 26, 33, 40], abs=0.5)


def test_ounces_and_irons_of_leather_agree():
    """ASTM D1814-70(2000), 1.2: 1 oz = 1/64 in, 1 iron = 1/48 in; brettunsvillage.com: 6 oz = 4.5 iron, 16 oz = 12
    iron."""
    assert parse_thickness("1 oz") == pytest.approx(0.396, abs=0.001)
    assert parse_thickness("1 iron") == pytest.approx(0.53, abs=0.001)
    assert parse_thickness("8 oz") == pytest.approx(parse_length("1/8 in"), abs=0.001)
    assert parse_thickness("6 oz") == parse_thickness("4.5 iron")
    assert parse_thickness("16 oz") == parse_thickness("12 irons")


def test_thread_sizes_turn_into_each_other():
    """jsrz.com: 420 denier x 3, V138, Tex 135; onlineclothingstudy.com, January 2013: Tex 40 is ticket 75, Nm 80/2
    (25 tex) ticket 120; American & Efird, "Yarn Size Systems and Conversions": 110 g/km is "Tex 105". Also in
    tables/test_thread.py and test_threads.py."""
    bonded = parse_thread("V138 bonded nylon")
    assert V_TO_DENIER[138] == 420 * 3 == 1260
    assert (bonded.tex, bonded.size) == (140.0, "V138 (Tex 135)")
    assert ticket_tex(75) == parse_thread("Tkt 75 polyester").tex == 40
    assert ticket_tex(120) == parse_thread("Tkt 120 polyester").tex == 1000 / (80 / 2)
    assert find_label(110) == 105


def test_french_pricking_irons_count_by_the_paris_inch():
    """27.07 mm: absoluteastronomy.com, "Paris inch"; the rounded pitches from a leathercraft guide (r/Leathercraft,
    August 2016)."""
    chart = {5: 5.4, 6: 4.5, 7: 3.9, 8: 3.4, 9: 3.0, 10: 2.7, 12: 2.3, 14: 1.9}
    for number, pitch_mm in chart.items():
        assert parse_pitch(f"French iron {number}") == pytest.approx(pitch_mm, abs=0.05), number


def test_english_pricking_irons_count_by_the_inch():
    """oneandawl.org: English and American makers count by the inch; 6 4.23, 7 3.63, 8 3.18, 9 2.82, 10 2.54 mm by
    arithmetic."""
    chart = {6: 4.23, 7: 3.63, 8: 3.18, 9: 2.82, 10: 2.54}
    for number, pitch_mm in chart.items():
        assert parse_pitch(f"English iron {number}") == pytest.approx(pitch_mm, abs=0.006), number


def test_needle_numbers_of_both_systems_agree():
    """apparelscience.com, "Needle number system": sizes 8, 12, 14, 16, 18 are Nm 60, 80, 90, 100, 110; Nm 110 is a
    blade of 1.10 mm."""
    pairs = {8: 60, 12: 80, 14: 90, 16: 100, 18: 110}
    assert [NEEDLE_SIZES[metric] for metric in pairs.values()] == list(pairs)
    assert parse_needle("110/18") / 100 == 1.10


def test_codes_are_as_large_as_their_words_ask():
    """ISO/IEC 18004:2015, table 7, from memory: at level L version 2 holds 47 letters, version 3 77 and version 4 114.
    DENSO WAVE: a module of 5 dots at 300 to the inch, 0.42 mm, is read well. Also in pages/test_tag.py."""
    for version, most in ((2, 47), (3, 77), (4, 114)):
        assert len(code_rows("A" * most)) == 17 + 4 * version
        assert len(code_rows("A" * (most + 1))) == 17 + 4 * (version + 1)
    side = len(code_rows("A" * 63))
    assert side == 29
    assert (side + 2 * QUIET_MODULES) * LEAST_MODULE_MM == pytest.approx(37 * 0.5, abs=0.005)
    assert code_size_mm("A" * 63) / side >= LEAST_MODULE_MM >= parse_length("0.42 mm")


def test_a_tote_is_cut_35_by_15_and_a_half_inches(build):
    """ktgreendesign.com: 13 wide, 4 deep, 12.5 in high, seams of 1/2 in: 2 w + 2 d + 1 by h + d/2 + 1."""
    box = find_box(build(TOTE), "tote")
    assert (box.width, box.height) == pytest.approx((35 * INCH, 15.5 * INCH), abs=1e-9)


def test_an_oval_base_is_found_from_the_length_of_its_wall(build):
    """projectsbyjane.blogspot, May 2010: 20 in round, corners of 2 in, one straight of 1/2 in; the other is 3.25 in
    there, with 12.5 for 4 pi, and 3.217 exactly."""
    long_in = build(OVAL, inset="0.0001 mm").solved_measures[0][1] / INCH
    assert long_in == pytest.approx(3.25, abs=0.05)
    assert long_in == pytest.approx(3.217, abs=0.0005)


def test_leather_of_3_mm_at_6_per_inch_takes_3_417_of_thread():
    """2 (1 + T/p), derived."""
    assert lockstitch_ratio(3.0, parse_pitch("6 per inch")) == pytest.approx(3.417, abs=0.0005)


def test_a_gusset_is_as_long_as_the_stitch_line_of_its_panel(build):
    """200 x 150 mm, two corners of 30 mm, inset 4 mm: edge 474.25, stitch line 461.68, difference 4 pi; plane geometry.
    Also in geometry/test_geometry_insets.py."""
    found = build(PANEL)
    back = next(piece.outline for piece in found.pieces if piece.name == "back")
    edge_mm = path_length(run_path(back, ("left", "bottom", "right")))
    assert edge_mm == pytest.approx(474.25, abs=0.005)
    assert find_box(found, "gusset").height == pytest.approx(461.68, abs=0.005)
    assert edge_mm - find_box(found, "gusset").height == pytest.approx(4 * math.pi)


def test_a_fold_and_a_way_round_a_bar_take_the_middle_of_the_leather():
    """pi (d + t) / 2: leather of 2 mm folded flat 3.142, of 3 mm round a bar of 4 mm 10.996; plane geometry."""
    assert bar_wrap_mm(0, 2) == pytest.approx(3.142, abs=0.0005)
    assert bar_wrap_mm(4, 3) == pytest.approx(10.996, abs=0.0005)


def test_waste_is_a_share_of_the_hide():
    """5.00 sq ft of pieces with a fifth of the hide lost: 6.25, not 6.00; arithmetic."""
    assert find_gross_mm2(5 * MM2_PER_SQFT, 0.20) / MM2_PER_SQFT == pytest.approx(6.25)


def test_three_yards_of_cloth_are_54_square_feet_of_hide():
    """Keleen Leathers, "Hide diagram": 18 sq ft of hide for a yard of cloth 54 in wide, which is 13.5 sq ft: a quarter
    of the hide is lost. The share also in tables/test_material.py."""
    cloth_mm2 = parse_run("3 yd") * parse_length("54 in")
    assert cloth_mm2 / MM2_PER_SQFT == pytest.approx(3 * 13.5)
    assert find_gross_mm2(cloth_mm2, 0.25) / MM2_PER_SQFT == pytest.approx(54)


@pytest.mark.parametrize(
    ("paper_mm", "columns", "rows"), [((210, 297), 3, 2), ((297, 210), 2, 2)], ids=["portrait", "landscape"]
)
def test_sheets_for_a_panel_follow_from_what_each_adds(paper_mm, columns, rows):
    """n = ceil((L - o) / (P - o)), derived: 400 x 300 mm on A4 with margins and overlaps of 10 mm takes 3 x 2 upright
    sheets, 2 x 2 lying ones. Upright ones do with 2 x 2 once the panel is turned, and that is how it is placed. More in
    pages/test_placing.py."""
    width, height = paper_mm[0] - 20, paper_mm[1] - 20
    window = Window(width_mm=width, height_mm=height, across_mm=10, down_mm=10)
    assert (math.ceil((400 - 10) / (width - 10)), math.ceil((300 - 10) / (height - 10))) == (columns, rows)
    assert window.span(columns - 1, 1)[0] < 400 <= window.span(columns, 1)[0]
    assert window.span(1, rows - 1)[1] < 300 <= window.span(1, rows)[1]
    (grid,) = place_footprints([Footprint(name="panel", width_mm=400, height_mm=300)], window)
    assert (grid.columns, grid.rows, grid.placed[0].is_turned) == (2, 2, columns == 3)


def test_a_belt_for_trousers_of_34_inches_is_worn_at_99_cm(build):
    """currierGoods.com (least accurate by its own word): (W + 5) x 2.54 = 99.06 cm to the middle hole. More in
    resolve/test_strap_lengths.py."""
    shortest, middle, longest = build(BELT).straps[0].worn_mm
    assert middle / 10 == pytest.approx(99, abs=0.1)
    assert (middle - shortest, longest - middle) == pytest.approx((2 * INCH, 2 * INCH))
