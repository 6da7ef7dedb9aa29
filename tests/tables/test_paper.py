import pytest

from docgen.tables.paper import PAPER_SIZES_MM, check_paper, find_paper, find_roll, paper_words
from docgen.written.units.numbers import WrittenError

LIKE = 'write letter, legal, tabloid, a4, a3, or a size like "8.5x11 in" or "300x400 mm"'
TAKE_BIGGER = "take a sheet of at least 190 x 250 mm"


def test_a_sizes_agree_with_iso_216():
    # ISO 216, A series: A0 is 1 m2 with sides 1 : sqrt 2, each next one is halved and rounded down to whole
    # mm.
    width, height = 1000 * 0.5**0.25, 1000 * 2**0.25
    for number in range(7):
        assert PAPER_SIZES_MM[f"a{number}"] == pytest.approx((width, height), abs=1.0)
        width, height = height / 2, width
    assert PAPER_SIZES_MM["a4"] == (210.0, 297.0)
    assert PAPER_SIZES_MM["a6"] == (105.0, 148.0)


def test_inch_sizes_agree_with_asme_y14_1():
    # ASME Y14.1, size A 8.5 x 11 in, size B 11 x 17 in; legal 8.5 x 14 in.
    inches = {"letter": (8.5, 11), "legal": (8.5, 14), "tabloid": (11, 17)}
    for name, (width, height) in inches.items():
        assert PAPER_SIZES_MM[name] == pytest.approx((width * 25.4, height * 25.4), abs=1e-9)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("letter", (215.9, 279.4)),
        ("Letter", (215.9, 279.4)),
        ("A4", (210.0, 297.0)),
        ("a 3", (297.0, 420.0)),
        ("8.5x11 in", (215.9, 279.4)),
        ("8 1/2 x 11 in", (215.9, 279.4)),
        ("8½ in × 11 in", (215.9, 279.4)),
        ('8.5"x11"', (215.9, 279.4)),
        ("300x400 mm", (300.0, 400.0)),
        ("400 x 300 mm", (400.0, 300.0)),
        ("1 ft x 500 mm", (304.8, 500.0)),
        ("190x250 mm", (190.0, 250.0)),
        ("3000x1300 mm", (3000.0, 1300.0)),
    ],
)
def test_paper_is_found_by_name_or_by_size(text, size):
    assert find_paper(text) == size


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("leter", '"leter" is not a paper known here', 'did you mean "letter"?'),
        ("papyrus", '"papyrus" is not a paper known here', LIKE),
        ("8x9x10 in", '"8x9x10 in" is not a paper known here', LIKE),
        ("", "nothing is written here", LIKE),
        ("8.5x11", "8.5 has no unit", 'write "8.5 in" or "8.5 mm"'),
        ("8,5x11 in", "8,5 has a comma in it", 'write a decimal point: "8.5x11 in"'),
        ("20x30 zoll", '"zoll" is not a unit known here', "use in, ft, mm, cm or m"),
        ("a5", 'the sheet "a5" is too small: the test squares and the code would not fit', TAKE_BIGGER),
        ("189x400 mm", 'the sheet "189x400 mm" is too small: the test squares and the code would not fit', TAKE_BIGGER),
        ("1301x1301 mm", 'the sheet "1301x1301 mm" is too big', "take a sheet of at most 1300 x 3000 mm"),
    ],
)
def test_paper_that_cannot_be_meant_says_what_and_mend(text, what, mend):
    with pytest.raises(WrittenError) as caught:
        find_paper(text)
    assert (caught.value.what, caught.value.mend) == (what, mend)


@pytest.mark.parametrize(
    ("text", "told"), [("a4", "A4"), ("A3", "A3"), ("letter", "letter"), ("300x400 mm", "300x400 mm")]
)
def test_paper_is_told_as_people_write_it(text: str, told: str) -> None:
    assert paper_words(text) == told


@pytest.mark.parametrize(
    ("text", "width_mm"),
    [("roll 36 in", 914.4), ("Roll  610 mm", 610.0), ("roll 24 1/2 in", 622.3), ("roll 250 mm", 250.0)],
)
def test_roll_is_known_by_its_width(text: str, width_mm: float) -> None:
    assert find_roll(text) == pytest.approx(width_mm)
    assert check_paper(text) == text


@pytest.mark.parametrize("text", ["letter", "a0", "36 in", "300x400 mm"])
def test_anything_else_is_no_roll(text: str) -> None:
    assert find_roll(text) is None


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("roll 249 mm", '"roll 249 mm" is no width of a roll', "take a roll of 250 to 1300 mm"),
        ("roll 52 in", '"roll 52 in" is no width of a roll', "take a roll of 250 to 1300 mm"),
        ("roll 36", "36 has no unit", 'write "36 in" or "36 mm"'),
        ("roll wide", '"wide" cannot be read as a length', 'write it like "3 1/2 in" or "89 mm"'),
        ("lettr", '"lettr" is not a paper known here', 'did you mean "letter"?'),
    ],
)
def test_roll_or_sheet_that_cannot_be_meant_is_told(text: str, what: str, mend: str) -> None:
    with pytest.raises(WrittenError) as caught:
        check_paper(text)
    assert (caught.value.what, caught.value.mend) == (what, mend)
