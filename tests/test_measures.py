import math
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.written.measures import evaluate_length, find_names, resolve_measures
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import format_mm

MEASURES = {"width": 300.0, "edge": 3.0, "corner-radius": 30.0, "nothing": 0.0}
LIKE = 'write it like "3 1/2 in", "width" or "width - 2 * edge"'
NAME_A_PART = "give a part of it a name among the measures"
ADD_A_UNIT = 'give every part its unit, like "width + 2 in"'
CHECK_UNITS = "check which parts have a unit"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("width", 300.0),
        ("corner-radius", 30.0),
        ("3 1/2 in", 88.9),
        ("3-1/2 in", 88.9),
        ("1 ft 2 in", 355.6),
        ("0", 0.0),
        ("width - 2 * edge", 294.0),
        ("2 * edge + width", 306.0),
        ("width − edge", 297.0),
        ("1 1/2 in + edge", 41.1),
        ("width / 2", 150.0),
        ("width * 1/2", 150.0),
        ("width * 2 1/2", 750.0),
        ("width / 2 / 3", 50.0),
        ("width - edge - edge", 294.0),
        ("(width - edge) * 2", 594.0),
        ("width × 2 ÷ 4", 150.0),
        ("-edge", -3.0),
        ("- - edge", 3.0),
        ("width - -edge", 303.0),
        ("12 in-1/2 in", 292.1),
        ("2 mm-edge", -1.0),
        ("width * edge / (1 in)", 300 * 3 / 25.4),
        ("width / edge * 1 mm", 100.0),
        ("((((((((((((((((((((1 mm))))))))))))))))))))", 1.0),
    ],
)
def test_arithmetic_comes_to_the_length_that_is_written(text, mm):
    assert evaluate_length(text, MEASURES) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("width-edge", 'unknown measure "width-edge"', 'write spaces round the minus: "width - edge"'),
        (
            "corner-radius-edge",
            'unknown measure "corner-radius-edge"',
            'write spaces round the minus: "corner-radius - edge"',
        ),
        ("width-1/2 in", 'unknown measure "width-1"', 'write spaces round the minus: "width - 1"'),
        ("widht", 'unknown measure "widht"', 'did you mean "width"? Else add it: widht = "..." under [measures]'),
        ("strap", 'unknown measure "strap"', 'add it: strap = "..." under [measures]'),
        ("Width", '"Width" is not a measure\'s name', 'write it in small letters: "width"'),
        ("2 width", '"width" is not a unit known here', 'use in, ft, mm, cm or m; for a measure write "2 * width"'),
        ("3 inhces + edge", '"inhces" is not a unit known here', 'did you mean "inches"?'),
        ("12", "12 has no unit", 'write "12 in" or "12 mm"'),
        ("3,5 cm", "3,5 has a comma in it", 'write a decimal point: "3.5 cm"'),
        ("3 5/4 in", "3 5/4 is not a proper mixed number", 'write "4 1/4", if that is meant'),
        ("2 * 3", "this comes to a plain number, not a length", CHECK_UNITS),
        ("width / edge", "this comes to a plain number, not a length", CHECK_UNITS),
        ("width * edge", "this comes to an area, not a length", CHECK_UNITS),
        ("width * edge * edge", "this comes to a volume, not a length", CHECK_UNITS),
        ("1 / edge", "this comes to something that is no measure, not a length", CHECK_UNITS),
        ("width + 2", "a plain number cannot be added to a length", ADD_A_UNIT),
        ("2 - width", "a length cannot be taken from a plain number", ADD_A_UNIT),
        ("width * width - edge", "a length cannot be taken from an area", ADD_A_UNIT),
        ("width / nothing", "this divides by nothing", "check what stands after the /"),
        ("width / (edge - 3 mm)", "this divides by nothing", "check what stands after the /"),
        ("(width", "a bracket is opened and never closed", 'close it with ")"'),
        ("width)", "a bracket is closed that was never opened", 'take the ")" away, or open it with "("'),
        ("width edge", 'a sign is missing before "edge"', "write + - * or / between the parts"),
        ("(width edge)", 'a sign is missing before "edge"', "write + - * or / between the parts"),
        ("width *", "this ends where a length should follow", LIKE),
        ("* width", 'a length is missing before "*"', LIKE),
        ("width + * 2", 'a length is missing before "*"', LIKE),
        ("()", 'a length is missing before ")"', LIKE),
        ("width % 2", '"%" has no meaning in a length', LIKE),
        ("2 * 6 m", "this comes to more than 10 m", "check the numbers and their units"),
        ("- 2 * 6 m", "this comes to more than 10 m", "check the numbers and their units"),
        (
            "99999999999 * 99999999999 * edge",
            "the numbers in this grow beyond all bounds",
            "check what is multiplied and divided",
        ),
        ("(" * 21 + "1 mm" + ")" * 21, "more than 20 brackets stand inside each other", NAME_A_PART),
        ("1 mm" + "+ edge" * 30, "this has more than 60 parts", NAME_A_PART),
        ("1" * 201, "this is longer than 200 letters", NAME_A_PART),
        ("", "nothing is written here", LIKE),
    ],
)
def test_expression_that_cannot_be_meant_says_what_and_mend(text, what, mend):
    with pytest.raises(WrittenError) as caught:
        evaluate_length(text, MEASURES)
    assert (caught.value.what, caught.value.mend) == (what, mend)


@pytest.mark.parametrize("text", ["__import__('os')", "9**9**9 mm", "width.real", "[1]", "lambda: 1", "1e5 mm", "inf"])
def test_nothing_is_evaluated_but_lengths_and_four_signs(text):
    with pytest.raises(WrittenError):
        evaluate_length(text, MEASURES)


def read_outcome(text):
    """The length, or the written error; any other error goes through."""
    try:
        return evaluate_length(text, MEASURES)
    except WrittenError as error:
        return error


@given(st.text(alphabet='0123456789 .,/*+-()"inmftwdhege½×', max_size=60))
@settings(derandomize=True, max_examples=400, deadline=None)
def test_any_text_is_a_length_or_a_written_error(text):
    outcome = read_outcome(text)
    assert outcome.mend if isinstance(outcome, WrittenError) else -10_000 <= outcome <= 10_000


NUMBERS = st.integers(1, 40)
EXPRESSIONS = st.recursive(
    st.integers(0, 500).map(lambda tenths: (format_mm(tenths / 10), tenths / 10)),
    lambda inner: st.one_of(
        st.tuples(inner, inner).map(lambda p: (f"({p[0][0]} + {p[1][0]})", p[0][1] + p[1][1])),
        st.tuples(inner, inner).map(lambda p: (f"({p[0][0]} - {p[1][0]})", p[0][1] - p[1][1])),
        st.tuples(inner, NUMBERS).map(lambda p: (f"{p[0][0]} * {p[1]}", p[0][1] * p[1])),
        st.tuples(inner, NUMBERS).map(lambda p: (f"{p[0][0]} / {p[1]}", p[0][1] / p[1])),
    ),
    max_leaves=5,
)


@given(EXPRESSIONS.filter(lambda pair: abs(pair[1]) < 9999 and len(pair[0]) <= 200))
@settings(derandomize=True, max_examples=200, deadline=None)
def test_arithmetic_agrees_with_python_on_made_up_expressions(pair):
    text, mm = pair
    assert evaluate_length(text, {}) == pytest.approx(mm, rel=1e-9, abs=1e-9)


def test_names_of_an_expression_are_listed_once():
    assert find_names("width - 2 * edge + (edge / 2) + 1 in") == ("width", "edge")


def test_measures_resolve_in_any_order():
    resolved, failures = resolve_measures(
        [("inner", "width - 2 * edge"), ("edge", "1/8 in"), ("width", "12 in"), ("half", "inner / 2")]
    )
    assert failures == ()
    assert resolved == pytest.approx({"inner": 298.45, "edge": 3.175, "width": 304.8, "half": 149.225})


def list_failures(written):
    return [(name, error.what, error.mend) for name, error in resolve_measures(written)[1]]


def test_circle_is_reported_once_and_what_rests_on_it_is_left_out():
    written = [("a", "b"), ("b", "a + 1 in"), ("c", "a"), ("d", "2 in")]
    assert resolve_measures(written)[0] == {"d": 50.8}
    assert list_failures(written) == [
        ("a", "goes round in a circle: a -> b -> a", "give one of them a length of its own")
    ]


def test_measure_that_needs_itself_is_a_circle():
    assert list_failures([("a", "a + 1 in")]) == [
        ("a", "goes round in a circle: a -> a", "give one of them a length of its own")
    ]


def test_long_circle_is_shown_shortened():
    written = [(f"m{number}", f"m{(number + 1) % 9}") for number in range(9)]
    assert list_failures(written) == [
        ("m0", "goes round in a circle: m0 -> m1 -> m2 -> m3 -> ... -> m0", "give one of them a length of its own")
    ]


def test_two_circles_are_both_reported():
    written = [("a", "b"), ("b", "a"), ("c", "d"), ("d", "c"), ("e", "a + c")]
    assert [name for name, _ in resolve_measures(written)[1]] == ["a", "c"]


def test_every_fault_is_reported_by_its_own_measure_only():
    written = [
        ("width", "12"),
        ("inner", "width - 2 * edge"),
        ("edge", "1/8 in"),
        ("flap", "edgy * 2"),
        ("strap", "flap"),
        ("area", "edge * edge"),
    ]
    assert resolve_measures(written)[0] == {"edge": 3.175}
    assert list_failures(written) == [
        ("width", "12 has no unit", 'write "12 in" or "12 mm"'),
        ("flap", 'unknown measure "edgy"', 'did you mean "edge"? Else add it: edgy = "..." under [measures]'),
        ("area", "this comes to an area, not a length", CHECK_UNITS),
    ]


def test_missing_spaces_round_a_minus_are_found_among_the_measures():
    assert list_failures([("inner", "width-edge"), ("width", "12 in"), ("edge", "1/8 in")]) == [
        ("inner", 'unknown measure "width-edge"', 'write spaces round the minus: "width - edge"')
    ]


def test_names_that_no_expression_could_use_are_refused():
    assert list_failures([("in", "2 mm"), ("solve", "2 mm"), ("Top Edge", "2 mm"), ("a--b", "2 mm")]) == [
        ("in", '"in" already means something else', "give this measure another name"),
        ("solve", '"solve" already means something else', "give this measure another name"),
        (
            "Top Edge",
            '"Top Edge" cannot be a measure\'s name',
            "use small letters, digits and single hyphens, a letter first",
        ),
        ("a--b", '"a--b" cannot be a measure\'s name', "use small letters, digits and single hyphens, a letter first"),
    ]


def test_a_long_chain_of_measures_does_not_run_out_of_stack():
    length = sys.getrecursionlimit() * 2
    written = [(f"m{number}", f"m{number + 1} + 1 mm") for number in range(length)] + [(f"m{length}", "1 mm")]
    resolved, failures = resolve_measures(written)
    assert failures == ()
    assert resolved["m0"] == length + 1


def test_pi_is_a_number_that_no_measure_can_be_called() -> None:
    assert evaluate_length("pi * 100 mm", {}) == pytest.approx(314.159265358979)
    assert evaluate_length("across * pi / 2", {"across": 2.0}) == pytest.approx(math.pi)
    assert find_names("pi * across") == ("across",)
    with pytest.raises(WrittenError, match="pi has no unit"):
        evaluate_length("pi", {})
    values, failures = resolve_measures([("pi", "3 mm"), ("pint-glass", "pi * 10 mm")])
    assert values == {"pint-glass": pytest.approx(31.4159265)}
    assert [(name, error.what) for name, error in failures] == [("pi", '"pi" already means something else')]
