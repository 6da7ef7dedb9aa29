"""Units, loads, weights, densities and prices: the table against NIST SP 811 and pint, other units, every refusal."""

import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from spec_text import Resolve

from docgen.problems import SpecRejected
from docgen.resolve.goods.amounts import parse_density, parse_load, parse_price, parse_weight
from docgen.written.measures import evaluate_length
from docgen.written.units.finding import find_factor
from docgen.written.units.lengths import parse_length, parse_run, parse_thickness
from docgen.written.units.numbers import WrittenError
from docgen.written.units.other import find_other, load_registry
from docgen.written.units.table import FACTORS, MM2_PER_SQFT, N_PER_KG, N_PER_LB, UNITS

# NIST SP 811 (2008), appendix B.8, converted to mm, g and N; those in bold there, which are exact.
NIST = {
    ("length", "in"): "25.4",
    ("length", "ft"): "304.8",
    ("length", "yd"): "914.4",
    ("length", "mil"): "0.0254",
    ("weight", "lb"): "453.59237",
    ("force", "n"): "1",
}
# Names of pint for rows whose own words mean something else to it.
PINT_NAMES = {"pt": "point", "mil": "thou", '"': "inch", "oz": "ounce", "n": "newton"}
INNER = {"length": "mm", "weight": "g", "force": "N"}
LIKE_A_LOAD = 'write it like "6 kg", "13 lb" or "60 N"'
LIKE_A_WEIGHT = 'write it like "12 g", "0.4 oz" or "1.2 kg"'
LIKE_A_PRICE = 'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"'


def test_the_table_agrees_with_nist() -> None:
    for row, factor in NIST.items():
        assert FACTORS[row] == Fraction(factor), row  # type: ignore[index]
    assert float(FACTORS["weight", "oz"]) == pytest.approx(28.34952, abs=5e-6), "NIST gives 2.834 952 E-02 kg"
    assert pytest.approx(4.448222, abs=5e-7) == N_PER_LB, "pound-force"
    assert N_PER_KG == 9.80665, "kilogram-force"
    assert MM2_PER_SQFT == 92903.04


def test_the_table_agrees_with_pint() -> None:
    registry = pint.UnitRegistry(cache_folder=None)
    for unit in UNITS:
        if unit.kind in INNER:
            name = PINT_NAMES.get(unit.names[0], unit.names[0])
            assert registry.Quantity(1, name).to(INNER[unit.kind]).magnitude == pytest.approx(float(unit.factor)), unit
    # ASTM D1814-70(2000): an ounce of thickness is 1/64 in, an iron 1/48 in; pint has neither.
    assert [float(FACTORS["thickness", name]) * 64 / 25.4 for name in ("oz", "iron")] == [1, pytest.approx(64 / 48)]


def test_every_row_has_a_source_and_names_in_small_letters() -> None:
    assert all(unit.source and unit.factor > 0 for unit in UNITS)
    names = [(unit.kind, name) for unit in UNITS for name in unit.names]
    assert len(names) == len(set(names))
    assert all(name == name.lower() for _, name in names)


@pytest.mark.parametrize(
    ("parse", "text", "value"),
    [
        # NIST SP 811 (2008), appendix B.8: kgf 9.80665 N, lbf 4.448222 N, ounce 28.34952 g, pound 453.5924 g.
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
        (parse_length, "1.5 dm", 150.0),
        (parse_length, "60 thou", 1.524),
        (parse_length, "4 hands", 406.4),  # a hand is 4 in
        (parse_length, "25 millimeters", 25.0),
        (parse_length, "2 Centimetre", 20.0),
        (parse_length, "500 micrometres", 0.5),
        (parse_length, "1 yd", 914.4),
        (parse_length, "36 pt", 12.7),
        (parse_thickness, "60 thou", 1.524),
        (parse_thickness, "70 mil", 1.778),
        (parse_run, "2 furlongs", 402336.8),  # of 660 US survey feet, 1200/3937 m each
        (parse_weight, "2 stone", 12700.58636),  # a stone is 14 lb
        (parse_weight, "3 ounces", 85.048569375),
        (parse_load, "2 stone", 12.70058636 * 9.80665),
        (parse_load, "0.2 kN", 200.0),
        (parse_load, "10 kgf", 98.0665),
        (parse_load, "5 lbf", 22.2411080763),
        (parse_density, "60 lb/ft3", 0.961107),  # NIST SP 811: 1.601 846 E+01 kg/m3
        (parse_density, "900 kg/m3", 0.9),
    ],
)
def test_other_units_are_taken(parse: Callable[[str], float], text: str, value: float) -> None:
    assert parse(text) == pytest.approx(value, rel=2e-6)


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
        ("12 per sq yd", "area", 12 / 914.4**2),
        ("12 per square foot", "area", 12 / 304.8**2),
        ("12 per cm2", "area", 12 / 100),
        ("12 per dm²", "area", 12 / 10000),
        ("7 per 100 feet", "length", 7 / 30480),
        ("3 per furlong", "length", 3 / 201168.4),
        ("3000 per acre", "area", 3000 / 4046.873e6),  # NIST SP 811: 4.046 873 E+03 m2
    ],
)
def test_prices_are_for_one_millimetre_square_millimetre_item_or_hour(text: str, per: str, amount: float) -> None:
    price = parse_price(text)
    assert (price.per, price.words, price.amount) == (per, text, pytest.approx(amount, rel=2e-6))


@pytest.mark.parametrize(
    ("parse", "text", "what", "mend"),
    [
        (parse_load, "six", '"six" cannot be read', LIKE_A_LOAD),
        (parse_load, "6", "6 has no unit", LIKE_A_LOAD),
        (parse_load, "6 kgs", '"kgs" is not a unit known here', 'did you mean "kg"?'),
        (parse_load, "0 kg", '"0 kg" is nothing', LIKE_A_LOAD),
        (parse_weight, "12 mm", '"mm" measures a length, and a weight is wanted', LIKE_A_WEIGHT),
        (parse_density, "0.9", "0.9 has no unit", 'write it like "0.9 g/cm3"'),
        (parse_price, "cheap", '"cheap" does not begin with a number', LIKE_A_PRICE),
        (parse_price, "11.50", '"11.50" does not say for how much', LIKE_A_PRICE),
        (parse_price, "11.50 per hide", '"hide" is not a unit known here', LIKE_A_PRICE),
        (parse_price, "11,50 per m", "11,50 has a comma in it", 'write a decimal point: "11.50 per m"'),
        (parse_price, "11 per 0 m", '"11 per 0 m" is a price for nothing', LIKE_A_PRICE),
    ],
)
def test_what_cannot_be_meant_is_refused_whole(parse: Callable[[str], object], text: str, what: str, mend: str) -> None:
    with pytest.raises(WrittenError) as caught:
        parse(text)
    assert (caught.value.what, caught.value.mend) == (what, mend)


@pytest.mark.parametrize(
    ("parse", "text", "what"),
    [
        (parse_length, "3 kg", '"kg" measures a weight, and a length is wanted'),
        (parse_length, "3 stone", '"stone" measures a weight, and a length is wanted'),
        (parse_length, "3 acres", '"acres" measures an area, and a length is wanted'),
        (parse_length, "3 litres", '"litres" measures a volume, and a length is wanted'),
        (parse_length, "3 hours", '"hours" measures a time, and a length is wanted'),
        (parse_thickness, "3 kg", '"kg" measures a weight, and a length is wanted'),
        (parse_weight, "3 inches", '"inches" measures a length, and a weight is wanted'),
        (parse_load, "3 inches", '"inches" measures a length, and a force or weight is wanted'),
        (parse_load, "3 sq ft", '"sq ft" measures an area, and a force or weight is wanted'),
        (parse_density, "3 kg", '"kg" measures a weight, and a density is wanted'),
        (parse_density, "3 g/in2", '"g/in2" is not a unit known here'),
        (parse_weight, "3 degC", '"degC" measures a temperature, and a weight is wanted'),
        (parse_weight, "3 knots", '"knots" measures something else, and a weight is wanted'),
        (parse_length, "3 em", '"em" is not a unit known here'),
        (parse_price, "3 per kg", '"kg" measures a weight, and an area is wanted'),
    ],
)
def test_a_unit_of_another_kind_is_told(parse: Callable[[str], object], text: str, what: str) -> None:
    with pytest.raises(WrittenError) as caught:
        parse(text)
    assert caught.value.what == what
    assert caught.value.mend


def test_a_unit_of_another_kind_is_told_in_arithmetic_too() -> None:
    with pytest.raises(WrittenError) as caught:
        evaluate_length("3 kg + edge", {"edge": 3.0})
    assert (caught.value.what, caught.value.mend) == (
        '"kg" measures a weight, and a length is wanted',
        "use in, ft, mm, cm or m",
    )


def test_a_measure_that_is_called_like_a_unit_is_not_taken_for_one() -> None:
    assert evaluate_length("3 * hand", {"hand": 90.0}) == 270.0
    assert evaluate_length("3 hand", {}) == pytest.approx(304.8)
    with pytest.raises(WrittenError, match='"hand" is a unit, and a measure too'):
        evaluate_length("3 hand", {"hand": 90.0})


def test_everyday_units_load_no_library() -> None:
    script = (
        "import sys; from docgen.written.units.lengths import *; from docgen.resolve.goods.amounts import *;"
        "[parse_length(f'1 {name}') for name in ('in', 'ft', 'mm', 'cm', 'dm', 'm', 'yd')];"
        "parse_thickness('4-5 oz'); parse_pitch('French iron 8'); parse_run('250 m'); parse_load('6 kg');"
        "parse_load('60 N'); parse_weight('2 lb'); parse_density('0.9 g/cm3'); parse_price('11 per sq ft');"
        "parse_price('11 per m2'); assert 'pint' not in sys.modules;"
        "parse_length('60 thou'); assert 'pint' in sys.modules; print('lazy')"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout == "lazy\n"


WORDS = st.text(max_size=40) | st.text(alphabet="abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", max_size=30)
ODD = ["lambda", "as", "if", "None", "__import__", "delta_degC", "degF", "dB", "π", "kkkm", "e", "1e9", "()", "nan"]


@pytest.mark.parametrize("name", ODD)
def test_odd_names_are_told_or_taken_like_any_other(name: str) -> None:
    for kind in ("length", "thickness", "weight", "force", "area", "density", "iron"):
        factor = find_factor(kind, name)  # type: ignore[arg-type]
        assert factor is None or factor > 0


@settings(max_examples=300, deadline=None)
@given(WORDS)
@example("a" * 5000)
@example("9" * 5000)
@example("sq " * 500)
def test_no_name_breaks_the_reading(name: str) -> None:
    for parse in (parse_length, parse_thickness, parse_weight, parse_load, parse_density, parse_run, parse_price):
        with suppress(WrittenError):
            parse(f"3 {name}")


def test_the_library_sees_plain_short_names_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []

    class Registry:
        def parse_unit_name(self, name: str) -> tuple[()]:
            seen.append(name)
            return ()

    monkeypatch.setattr("docgen.written.units.other.load_registry", Registry)
    find_other.cache_clear()
    for name in (*ODD, "thou", "in; import os", "m**9**9", "a" * 25, "_thou", "th ou", "Thou", "é" * 3):
        find_other(name)
    find_other.cache_clear()
    assert " ".join(seen) == "lambda as if none None degf degF db dB kkkm nan thou thou Thou"


def test_every_unit_that_is_known_has_the_dimension_it_is_taken_for() -> None:
    """Every name of pint's own list, against what pint itself converts it to."""
    registry = load_registry()
    inner = {"length": "mm", "weight": "g", "area": "mm ** 2", "force": "N"}
    checked = 0
    for name in sorted({str(name) for name in registry._units if str(name).isalpha() and str(name).isascii()}):
        found = find_other(name)
        if found and found[0] in inner and len(name) >= 2 and name == name.lower():
            factor = registry.Quantity(1.0, name).to(inner[found[0]]).magnitude
            assert float(found[1]) == pytest.approx(factor, rel=1e-9), name
            checked += 1
    assert checked > 100


# Every key of a spec that holds a unit, with one that is none, and one of another kind.
SITES = (
    '[measures]\nm1 = "{}"\n',
    '[materials.x]\nkind = "leather"\nthickness = "{}"\n',
    '[materials.x]\nkind = "leather"\nthickness = "2 mm"\ndensity = "{}"\n',
    '[materials.x]\nkind = "leather"\nthickness = "2 mm"\nprice = "4 per {}"\n',
    '[materials.x]\nkind = "fabric"\nthickness = "2 mm"\nwidth = "{}"\n',
    '[pieces.a]\nof = "body"\nshape = "rectangle"\nsize = ["{}", "2 in"]\n',
    '[pieces.a]\nof = "body"\nshape = "rectangle"\nsize = ["9 in", "2 in"]\n'
    'holes = [{{ at = "{} from left, middle", punch = "2 mm" }}]\n',
    '[pieces.a]\nof = "body"\nshape = "drawing"\nfile = "a.svg"\nscale = "{}"\n',
    '[hardware.r]\nwhat = "ring"\ncount = 1\nweight = "{}"\n',
    '[stitches.s]\nby = "hand"\nthread = "Tex 210 linen"\npitch = "{}"\ninset = "3 mm"\n'
    'bobbin = "{}"\nthread-strength = "{}"\n',
    '[limits]\nhand-tails = "{}"\nhole-edge = "{}"\nneedle-share = "{}"\n',
    '[pattern]\nmargin = "{}"\npaper = "{}"\n',
    '[inside]\nwidth = "{}"\nheight = "1 in"\ndepth = "1 in"\n',
)


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("unit", ["blorps", "degC", "lambda", "µ", "hours"])
def test_no_unit_anywhere_ends_in_a_fault(resolve_text: Resolve, site: str, unit: str) -> None:
    Path("a.svg").write_text('<svg><path d="M0 0H60V40H0z"/></svg>')
    with pytest.raises(SpecRejected) as caught:
        resolve_text(site.replace("{}", f"3 {unit}").replace("{{", "{").replace("}}", "}"))
    assert all(problem.what and problem.mend for problem in caught.value.problems)
