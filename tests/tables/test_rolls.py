"""Paper from a roll, by its width."""

import pytest

from docgen.tables.paper import check_paper, find_roll
from docgen.written.units.numbers import WrittenError


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
