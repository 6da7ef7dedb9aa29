"""Loads, weights, densities and prices: exact factors, and every refusal whole."""

from collections.abc import Callable

import pytest

from docgen.resolve.goods.amounts import parse_density, parse_load, parse_price, parse_weight
from docgen.written.units.numbers import WrittenError


# NIST SP 811 (2008), appendix B.8: kilogram-force 9.80665 N, pound-force 4.448222 N, ounce 28.34952 g, pound 453.5924 g.
@pytest.mark.parametrize(
    ("parse", "text", "amount"),
    [
        (parse_load, "6 kg", 58.8399),
        (parse_load, "10 lb", 44.48222),
        (parse_load, "60 N", 60),
        (parse_load, "1/2 kg", 4.903325),
        (parse_weight, "12 g", 12),
        (parse_weight, "2 oz", 56.69905),
        (parse_weight, "1.2 kg", 1200),
        (parse_weight, "1/10 lb", 45.35924),
        (parse_density, "0.9 g/cm3", 0.9),
        (parse_density, "860 kg/m³", 0.86),
    ],
)
def test_amounts_are_read_with_their_units(parse: Callable[[str], float], text: str, amount: float) -> None:
    assert parse(text) == pytest.approx(amount, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "per", "amount"),
    [
        ("11.50 per sq ft", "area", 11.50 / 92903.04),
        ("110 per m2", "area", 110 / 1e6),
        ("1.2 per dm2", "area", 1.2 / 1e4),
        ("14 per m", "length", 14 / 1000),
        ("14 a yd", "length", 14 / 914.4),
        ("18 per 500 m", "length", 18 / 500_000),
        ("0.35 each", "each", 0.35),
        ("12 per 100", "each", 0.12),
        ("2 per piece", "each", 2),
        ("30 per hour", "hour", 30),
        ("0 each", "each", 0),
    ],
)
def test_prices_are_for_one_millimetre_square_millimetre_item_or_hour(text: str, per: str, amount: float) -> None:
    price = parse_price(text)
    assert (price.per, price.words) == (per, text)
    assert price.amount == pytest.approx(amount)


@pytest.mark.parametrize(
    ("parse", "text", "what", "mend"),
    [
        (parse_load, "six", '"six" cannot be read', 'write it like "6 kg", "13 lb" or "60 N"'),
        (parse_load, "6", "6 has no unit", 'write it like "6 kg", "13 lb" or "60 N"'),
        (parse_load, "6 kgs", '"kgs" is not a unit known here', 'did you mean "kg"?'),
        (parse_load, "0 kg", '"0 kg" is nothing', 'write it like "6 kg", "13 lb" or "60 N"'),
        (
            parse_weight,
            "12 mm",
            '"mm" measures a length, and a weight is wanted',
            'write it like "12 g", "0.4 oz" or "1.2 kg"',
        ),
        (parse_density, "0.9", "0.9 has no unit", 'write it like "0.9 g/cm3"'),
        (
            parse_price,
            "cheap",
            '"cheap" does not begin with a number',
            'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"',
        ),
        (
            parse_price,
            "11.50",
            '"11.50" does not say for how much',
            'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"',
        ),
        (
            parse_price,
            "11.50 per hide",
            '"hide" is not a unit known here',
            'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"',
        ),
        (parse_price, "11,50 per m", "11,50 has a comma in it", 'write a decimal point: "11.50 per m"'),
        (
            parse_price,
            "11 per 0 m",
            '"11 per 0 m" is a price for nothing',
            'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"',
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_whole(parse: Callable[[str], object], text: str, what: str, mend: str) -> None:
    with pytest.raises(WrittenError) as caught:
        parse(text)
    assert (caught.value.what, caught.value.mend) == (what, mend)
