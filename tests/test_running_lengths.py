"""Running lengths of thread, as they are written."""

import pytest

from docgen.written.units.lengths import parse_run
from docgen.written.units.numbers import WrittenError


@pytest.mark.parametrize(
    ("text", "mm"),
    [("250 m", 250_000), ("1500 yd", 1_371_600), ("1/2 yd", 457.2), ("12.5m", 12_500), ("3 FEET", 914.4)],
)
def test_metres_yards_and_feet(text: str, mm: float) -> None:
    """1 yd = 914.4 mm, 1 ft = 304.8 mm, exact (NIST SP 811, appendix B.8)."""
    assert parse_run(text) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("250", '"250" cannot be read as a running length; write it like "250 m" or "275 yd"'),
        ("20 kg", '"kg" measures a weight, and a length is wanted; write it like "250 m" or "275 yd"'),
        ("a lot", '"a lot" cannot be read as a running length; write it like "250 m" or "275 yd"'),
        ("0 m", '"0 m" is no running length; write a length above 0 and up to 100 km'),
        ("200000 m", '"200000 m" is no running length; write a length above 0 and up to 100 km'),
        ("", 'nothing is written here; write it like "250 m" or "275 yd"'),
        ("2,5 m", '2,5 has a comma in it; write a decimal point: "2.5 m"'),
    ],
)
def test_what_cannot_be_meant(text: str, what: str) -> None:
    with pytest.raises(WrittenError) as caught:
        parse_run(text)
    assert str(caught.value) == what
