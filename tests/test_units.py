from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.written.threads import parse_needle, parse_thread
from docgen.written.units.lengths import (
    match_length,
    parse_length,
    parse_percent,
    parse_pitch,
    parse_run,
    parse_thickness,
    parse_type_size,
)
from docgen.written.units.numbers import WrittenError, match_number
from docgen.written.units.telling import (
    format_area,
    format_inches,
    format_length,
    format_mm,
    format_pitch,
    format_punch,
    format_run,
    format_short,
    format_stack,
    format_thickness,
)

LIKE_A_LENGTH = 'write it like "3 1/2 in" or "89 mm"'
LIKE_A_THICKNESS = 'write it like "4.5 oz", "4-5 oz" or "1.8 mm"'
LIKE_A_PITCH = 'write it like "6 per inch", "3.6 mm" or "French iron 8"'
LIKE_A_RUN = 'write it like "250 m" or "275 yd"'
# What reads it -> what is written, and what it comes to.
READ = {
    parse_length: [
        ("3 1/2 in", 88.9),
        ("3-1/2 in", 88.9),
        ('3 1/2"', 88.9),
        ("3 1/2″", 88.9),
        ("3½ in", 88.9),
        ("3 ½ in", 88.9),
        ("½ in", 12.7),
        ("3 1⁄2 in", 88.9),
        ("3.5 in", 88.9),
        ("3.5 inches", 88.9),
        ("1 inch", 25.4),
        ("5/4 in", 31.75),
        ("1 1/2in", 38.1),
        ("  2 IN ", 50.8),
        ("89 mm", 89.0),
        ("8.9 cm", 89.0),
        ("0.5 m", 500.0),
        ("2 ft", 609.6),
        ("1 ft 2 in", 355.6),
        ("1 ft 2 1/2 in", 368.3),
        ('1 ft ½"', 317.5),
        ("-2 mm", -2.0),
        ("−1/4 in", -6.35),
        ("0", 0.0),
        ("-0", 0.0),
        ("0 in", 0.0),
        ("10 m", 10_000.0),
    ],
    parse_thickness: [
        ("4.5 oz", 4.5 * 25.4 / 64),
        ("4 1/2 oz", 4.5 * 25.4 / 64),
        ("4-1/2 oz", 4.5 * 25.4 / 64),
        ("4-5 oz", 4.5 * 25.4 / 64),
        ("4 – 5 oz", 4.5 * 25.4 / 64),
        ("4 to 5 oz", 4.5 * 25.4 / 64),
        ("3 1/2-4 oz", 3.75 * 25.4 / 64),
        ("4.5 iron", 4.5 * 25.4 / 48),
        ("12 irons", 6.35),
        ("9-10 iron", 9.5 * 25.4 / 48),
        ("1.8-2 mm", 1.9),
        ("1.8 mm", 1.8),
        ("1/16 in", 1.5875),
        ("0", 0.0),
    ],
    parse_pitch: [
        # mm = 25.4 / spi, by definition; French irons count by the Paris inch, 27.07 mm.
        ("6 per inch", 25.4 / 6),
        ("6 per in", 25.4 / 6),
        ("6 1/2 per inch", 25.4 / 6.5),
        ("3.6 mm", 3.6),
        ("1/8 in", 3.175),
        ("French iron 8", 27.07 / 8),
        ("french pricking iron 7 1/2", 27.07 / 7.5),
        ("English iron 8", 3.175),
    ],
    parse_percent: [("25 %", 0.25), ("25%", 0.25), ("12.5 %", 0.125), ("0 %", 0.0)],
    parse_type_size: [
        # ISO 32000-1:2008, 8.3.2.3: the unit of default user space is 1/72 in.
        ("72 pt", 25.4),
        ("12 pt", 25.4 / 6),
        ("4 mm", 4.0),
    ],
    parse_run: [
        # 1 yd = 914.4 mm, 1 ft = 304.8 mm, exact (NIST SP 811, appendix B.8).
        ("250 m", 250_000),
        ("1500 yd", 1_371_600),
        ("1/2 yd", 457.2),
        ("12.5m", 12_500),
        ("3 FEET", 914.4),
    ],
}
# What reads it -> what is written, what is wrong, and what would mend it.
REFUSED = {
    parse_length: [
        ("12", "12 has no unit", 'write "12 in" or "12 mm"'),
        ("3 1/2", "3 1/2 has no unit", 'write "3 1/2 in" or "3 1/2 mm"'),
        ("-12", "-12 has no unit", 'write "-12 in" or "-12 mm"'),
        ("3,5 cm", "3,5 has a comma in it", 'write a decimal point: "3.5 cm"'),
        ("1,000 mm", "1,000 has a comma in it", 'write a decimal point: "1.000 mm", or no comma: "1000 mm"'),
        ("4 inhces", '"inhces" is not a unit known here', 'did you mean "inches"?'),
        ("4 in.", '"in." is not a unit known here', 'did you mean "in"?'),
        ("4 oz", '"oz" measures a thickness, and a length is wanted', "use in, ft, mm, cm or m"),
        ("1/0 in", "1/0 divides by nothing", "write a fraction with a number below the line"),
        ("2 1/0 in", "2 1/0 divides by nothing", "write a fraction with a number below the line"),
        ("3 5/4 in", "3 5/4 is not a proper mixed number", 'write "4 1/4", if that is meant'),
        ("1 ft 14 in", '"1 ft 14 in" has 12 in or more beside the feet', 'write "2 ft 2 in", if that is meant'),
        ("", "nothing is written here", LIKE_A_LENGTH),
        (" \t", "nothing is written here", LIKE_A_LENGTH),
        ("abc", '"abc" cannot be read as a length', LIKE_A_LENGTH),
        (".5 in", '".5 in" cannot be read as a length', LIKE_A_LENGTH),
        ("-", '"-" cannot be read as a length', LIKE_A_LENGTH),
        ("1 in 2 ft", '"1 in 2 ft" cannot be read as a length', LIKE_A_LENGTH),
        ("1 ft 2 mm", '"1 ft 2 mm" cannot be read as a length', LIKE_A_LENGTH),
        ("2 in * 3", '"2 in * 3" cannot be read as a length', LIKE_A_LENGTH),
        ("11 m", '"11 m" is longer than 10 m', "check the number and its unit"),
        ("1234567890123 mm", "the number 1234567890123 has more than 12 digits", "write it with fewer digits"),
        ("9" * 81, "this is longer than 80 letters", LIKE_A_LENGTH),
    ],
    parse_thickness: [
        ("4", "4 has no unit", LIKE_A_THICKNESS),
        ("4 oss", '"oss" is not a unit known here', LIKE_A_THICKNESS),
        ("thin", '"thin" cannot be read as a length', LIKE_A_THICKNESS),
        ("", "nothing is written here", LIKE_A_THICKNESS),
        ("-1 mm", '"-1 mm" is less than nothing', LIKE_A_THICKNESS),
        ("5-4 oz", '"5-4 oz" does not run from less to more', "write the smaller number first"),
        ("101 mm", '"101 mm" is thicker than 100 mm', "check the number and its unit"),
        ("4,5 oz", "4,5 has a comma in it", 'write a decimal point: "4.5 oz"'),
    ],
    parse_pitch: [
        ("6", "6 has no unit", LIKE_A_PITCH),
        ("6 spi", '"spi" is not a unit known here', LIKE_A_PITCH),
        ("6 per cm", '"6 per cm" cannot be read as a length', LIKE_A_PITCH),
        ("0 per inch", '"0 per inch" makes no stitch at all', LIKE_A_PITCH),
        ("100 per inch", '"100 per inch" is a stitch of 0.25 mm', "write a stitch between 0.5 and 50 mm long"),
        (
            "iron 8",
            '"iron 8" does not say whose inch the number of the iron counts by',
            'write "French iron 8" or "English iron 8"',
        ),
        ("French iron", '"French iron" cannot be read as a length', LIKE_A_PITCH),
        ("French iron 8 mm", '"French iron 8 mm" cannot be read as a length', LIKE_A_PITCH),
        ("French iron 0", '"French iron 0" makes no stitch at all', LIKE_A_PITCH),
        ("English iron 60", '"English iron 60" is a stitch of 0.42 mm', "write a stitch between 0.5 and 50 mm long"),
        ("6 cm", '"6 cm" is a stitch of 60 mm', "write a stitch between 0.5 and 50 mm long"),
    ],
    parse_percent: [
        ("25", "25 has no percent sign", 'write "25 %"'),
        ("lots", '"lots" cannot be read as a share', 'write it like "25 %"'),
        ("-5 %", '"-5 %" cannot be read as a share', 'write it like "25 %"'),
        ("100 %", '"100 %" leaves nothing', "write a share below 100 %"),
    ],
    parse_type_size: [("0 pt", '"0 pt" is no type size', "write a size above 0 and up to 100 pt")],
    parse_run: [
        ("250", '"250" cannot be read as a running length', LIKE_A_RUN),
        ("20 kg", '"kg" measures a weight, and a length is wanted', LIKE_A_RUN),
        ("a lot", '"a lot" cannot be read as a running length', LIKE_A_RUN),
        ("0 m", '"0 m" is no running length', "write a length above 0 and up to 100 km"),
        ("200000 m", '"200000 m" is no running length', "write a length above 0 and up to 100 km"),
        ("", "nothing is written here", LIKE_A_RUN),
        ("2,5 m", "2,5 has a comma in it", 'write a decimal point: "2.5 m"'),
    ],
}


def all_rows(table):
    return [(parse, *row) for parse, rows in table.items() for row in rows]


@pytest.mark.parametrize(("parse", "text", "amount"), all_rows(READ))
def test_quantities_are_read_as_shops_write_them(parse, text, amount):
    assert parse(text) == pytest.approx(amount, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("parse", "text", "what", "mend"), all_rows(REFUSED))
def test_what_cannot_be_meant_says_what_and_mend(parse, text, what, mend):
    with pytest.raises(WrittenError) as caught:
        parse(text)
    assert (caught.value.what, caught.value.mend) == (what, mend)


def test_error_is_a_value_error_that_says_both_halves():
    error = WrittenError("12 has no unit", 'write "12 in"')
    assert isinstance(error, ValueError)
    assert str(error) == '12 has no unit; write "12 in"'


@pytest.mark.parametrize("text", ["__import__('os')", "9**9**9 mm", "1e9 mm", "inf m", "nan mm", "٣ mm", "0x10 mm"])
def test_nothing_but_plain_numbers_and_known_units_is_read(text):
    with pytest.raises(WrittenError):
        parse_length(text)


def read_outcome(parse, text):
    """What the text is read as, or the written error; any other error goes through."""
    try:
        return parse(text)
    except WrittenError as error:
        return error


@given(st.text(max_size=120))
@settings(derandomize=True, max_examples=300, deadline=None)
def test_any_text_is_a_length_or_a_written_error(text):
    outcome = read_outcome(parse_length, text)
    assert outcome.mend if isinstance(outcome, WrittenError) else -10_000 <= outcome <= 10_000


@given(st.text(alphabet='0123456789 .,/-½%"inmftoczpertexNmkTVic', max_size=40))
@settings(derandomize=True, max_examples=300, deadline=None)
@pytest.mark.parametrize(
    "parse", [parse_thickness, parse_pitch, parse_percent, parse_type_size, parse_thread, parse_needle]
)
def test_any_text_is_a_quantity_or_a_written_error(parse, text):
    outcome = read_outcome(parse, text)
    assert outcome.mend if isinstance(outcome, WrittenError) else outcome is not None


def test_a_million_letters_are_refused():
    for hostile in ("1" * 1_000_000, "1 " * 500_000, "1 1/" * 250_000):
        with pytest.raises(WrittenError, match="longer than 80 letters"):
            parse_length(hostile)


@given(st.integers(0, 32 * 393), st.sampled_from([1, 2, 4, 8, 16, 32]))
@settings(derandomize=True, max_examples=200, deadline=None)
def test_inches_in_32nds_come_back_as_they_were_printed(steps, denominator):
    mm = float(Fraction(steps // denominator * denominator, 32) * Fraction(254, 10))
    assert parse_length(format_inches(mm)) == mm


@given(st.integers(-99_999, 99_999))
@settings(derandomize=True, max_examples=200, deadline=None)
def test_tenths_of_a_millimetre_come_back_as_they_were_printed(tenths):
    assert parse_length(format_mm(tenths / 10)) == tenths / 10


@given(st.floats(-9000, 9000))
@settings(derandomize=True, max_examples=200, deadline=None)
def test_printed_inches_are_never_more_than_a_64th_off(mm):
    assert abs(parse_length(format_inches(mm)) - mm) <= 25.4 / 64 + 1e-6


def test_matching_starts_and_ends_inside_a_text():
    assert match_length("width - 1 1/2 in + 3", 8) == (38.1, 16)
    assert match_length("width", 0) is None
    assert match_length("2 * width", 0) is None
    assert match_length("1 ft 2 * width", 0) == (304.8, 4)
    assert match_number("2 * width", 0) == (Fraction(2), 1)
    assert match_number("x", 0) is None


@pytest.mark.parametrize(
    ("mm", "places", "words"),
    [(89.0, 1, "89 mm"), (88.9, 1, "88.9 mm"), (0.62, 2, "0.62 mm"), (-0.01, 1, "0 mm"), (100.0, 0, "100 mm")],
)
def test_millimetres_print_without_trailing_noughts(mm, places, words):
    assert format_mm(mm, places) == words


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        (88.9, "3 1/2 in"),
        (0.0, "0 in"),
        (0.1, "0 in"),
        (-0.1, "0 in"),
        (25.4 / 32, "1/32 in"),
        (25.4 / 64, "1/32 in"),
        (-50.8, "-2 in"),
        (89.0, "3 1/2 in"),
        (1117.6, "44 in"),
        (25.39, "1 in"),
    ],
)
def test_inches_print_to_the_nearest_32nd_reduced(mm, words):
    assert format_inches(mm) == words


def test_inches_print_to_another_denominator_when_asked():
    assert format_inches(25.4 / 64, 64) == "1/64 in"
    assert format_inches(27.0, 2) == "1 in"


def test_both_units_print_with_the_one_to_show_first():
    assert format_length(88.9, "in") == "3 1/2 in (88.9 mm)"
    assert format_length(88.9, "mm") == "88.9 mm (3 1/2 in)"
    assert format_short(88.9, "in") == "3 1/2 in"
    assert format_short(88.9, "mm") == "88.9 mm"
    assert format_area(5.25 * 92903.04, "in") == "5.25 sq ft (48.8 dm²)"
    assert format_area(5.25 * 92903.04, "mm") == "48.8 dm² (5.25 sq ft)"
    assert format_area(1520.0, "in") == "0.016 sq ft (0.15 dm²)"
    assert format_area(15.2, "mm") == "0.0015 dm² (0.00016 sq ft)"
    assert format_area(0.0, "mm") == "0 dm² (0 sq ft)"
    assert format_run(1143.0, "in") == "1.25 yd (1.14 m)"
    assert format_run(1143.0, "mm") == "1.14 m (1.25 yd)"


def test_pitch_prints_as_length_and_per_inch():
    assert format_pitch(25.4 / 6) == "4.2 mm (6 per inch)"
    assert format_pitch(3.6) == "3.6 mm (7.1 per inch)"
    assert format_pitch(3.85) == "3.85 mm (6.6 per inch)"
    assert format_pitch(1088.2 / 272) == format_pitch(4.0) == "4 mm (6.4 per inch)"
    assert format_pitch(240 / 70) == "3.43 mm (7.4 per inch)"
    assert format_pitch(25.4 / 7.5) == "3.4 mm (7.5 per inch)"


def test_thickness_prints_in_ounces_for_leather_only():
    assert format_thickness(4.5 * 25.4 / 64, "leather", "in") == "4.5 oz (1.8 mm)"
    assert format_thickness(4.5 * 25.4 / 64, "leather", "mm") == "1.8 mm (4.5 oz)"
    assert format_thickness(0.6, "fabric", "in") == "0.6 mm"
    assert format_thickness(0.25, "fabric", "mm") == "0.25 mm"


@pytest.mark.parametrize(
    ("written", "mm", "kind", "inch_first", "mm_first"),
    [
        ("5 oz", 1.984375, "leather", "5 oz (2 mm)", "2 mm (5 oz)"),
        ("4-5 oz", 1.785938, "leather", "4–5 oz (1.8 mm)", "1.8 mm (4–5 oz)"),
        ("3.75 iron", 1.984375, "leather", "3.75 iron (2 mm)", "2 mm (3.75 iron)"),
        ("2 mm", 1.984375, "leather", "5 oz (2 mm)", "2 mm (5 oz)"),
        ("1.2 mm", 1.2, "leather", "3 oz (1.2 mm)", "1.2 mm (3 oz)"),
        ("1.6 - 2 mm", 1.8, "leather", "4.5 oz (1.6–2 mm)", "1.6–2 mm (4.5 oz)"),
        ("2 mm", 2.0, "fabric", "2 mm", "2 mm"),
    ],
)
def test_thickness_keeps_the_words_of_the_spec_and_follows_the_unit_to_show(
    written: str, mm: float, kind: str, inch_first: str, mm_first: str
) -> None:
    assert format_thickness(mm, kind, "in", written) == inch_first
    assert format_thickness(mm, kind, "mm", written) == mm_first


def test_layers_together_are_told_in_mm_alone() -> None:
    assert format_stack(2.381) == "2.4 mm"
    assert format_stack(2.381, 5.5) == "2.4 to 5.5 mm"


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        (0.0, "0 in (0 mm)"),
        (1e-9, "0 in (0 mm)"),
        (0.00002, "0.000001 in (0.00002 mm)"),
        (0.03, "0.0012 in (0.03 mm)"),
        (0.3, "0.012 in (0.3 mm)"),
        (0.5, "1/32 in (0.5 mm)"),
    ],
)
def test_next_to_nothing_is_not_told_as_nothing(mm: float, words: str) -> None:
    assert format_length(mm, "in") == words


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        # Inches by hand, 1/64 in is 0.397 mm: 9/64 in is 3.57 mm, 1/8 in is 3.18 mm and too small for 3.5 mm.
        (3.5, "3.5 mm (9/64 in)"),
        (2.5, "2.5 mm (7/64 in)"),
        (5.0, "5 mm (13/64 in)"),
        # What is smaller by next to nothing serves: 5/32 in is 3.97 mm, 3/16 in is 4.76 mm.
        (4.0, "4 mm (5/32 in)"),
        (4.8, "4.8 mm (3/16 in)"),
        (3.0, "3 mm (1/8 in)"),
        (3.175, "3.2 mm (1/8 in)"),
    ],
)
def test_a_punch_is_never_told_smaller_than_its_hole(mm: float, words: str) -> None:
    assert format_punch(mm, "mm") == words
