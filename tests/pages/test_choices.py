"""Choices for printing: who has the last word, and what a printer's correction is."""

import inspect
from dataclasses import fields

import pytest

from docgen.calls.asked import PatternCall
from docgen.pages import Choices, choices_of
from docgen.read import PatternSpec
from docgen.resolve import Printer, Printing, parse_printing


def test_nothing_said_gives_the_defaults() -> None:
    # 1/4 in and 3/8 in.
    assert choices_of() == choices_of(Printing()) == Choices()
    assert (Choices().paper, Choices().margin_mm, Choices().overlap_mm) == ("letter", 6.35, 9.525)


def test_first_that_says_something_has_the_last_word() -> None:
    call = Printing(paper="a0")
    spec = Printing(paper="a4", margin_mm=3.0, join="overlap")
    shop = Printing(paper="legal", margin_mm=9.0, overlap_mm=12.0, join="trim", has_full_straps=True)
    assert choices_of(call, spec, shop) == Choices(
        paper="a0", margin_mm=3.0, overlap_mm=12.0, join="overlap", has_full_straps=True
    )


def test_no_and_nought_are_words_too() -> None:
    chosen = choices_of(Printing(margin_mm=0.0, has_full_straps=False), Printing(margin_mm=9.0, has_full_straps=True))
    assert (chosen.margin_mm, chosen.has_full_straps) == (0.0, False)


def test_printer_that_prints_short_is_stretched_by_as_much() -> None:
    # By hand: what is drawn 100.806 mm long comes out 100.806 * 0.992 = 100.000 mm long.
    across, down = Printer(name="office", across_mm=99.2, down_mm=100.5).stretch
    assert across == pytest.approx(1.0080645, abs=1e-7)
    assert across * 0.992 == pytest.approx(1.0)
    assert down * 1.005 == pytest.approx(1.0)


def test_spec_call_and_choices_know_the_same_of_printing() -> None:
    keys = {field.name for field in fields(PatternSpec)} - {"place"}
    assert {field.name for field in fields(PatternCall)} == keys == set(inspect.signature(parse_printing).parameters)
    said = {field.name for field in fields(Printing)}
    assert {name.removesuffix("_mm").removeprefix("has_") for name in said} == keys
    assert {field.name for field in fields(Choices)} - said == {"is_mirrored", "pieces", "printer"}
