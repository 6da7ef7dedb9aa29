"""Layouts in use: settings in mm, words for labels, and sentences in which what is put in stays text."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.layout_files import LayoutFile, Layouts, layouts_folder, use_layouts
from docgen.pages.looks.words import find_file, load_page_style, read_settings, say, say_heading, words
from docgen.problems import SpecRejected, render_problem

CARE = """\
[care]
title = "Care"
dry = ["Wipe {name} dry.", "Then wax it: {name}, {how}."]
never = []
"""


@contextmanager
def layout(name: str, text: str) -> Iterator[None]:
    """One file in place of all layouts."""
    with use_layouts(Layouts((LayoutFile(name, f"layouts/{name}", text.encode(), is_shipped=False),))):
        yield


def rendered(error: SpecRejected) -> list[str]:
    return [render_problem(problem) for problem in error.problems]


def test_the_layouts_lie_beside_the_package() -> None:
    assert (layouts_folder() / "page.toml").is_file()


def test_the_page_style_is_in_mm() -> None:
    style = load_page_style()
    assert style.band_mm == 18
    # 1 pt = 1/72 in
    assert style.least_type_mm == pytest.approx(6.5 * 25.4 / 72)


def test_pages_are_readable_at_arms_length_and_on_a_home_printer() -> None:
    style = load_page_style()
    assert style.body_type_mm >= 9.5 * 25.4 / 72
    assert style.hair_line_mm >= 0.12


def test_settings_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        read_settings(find_file("page.toml"))["type"]["body"] = "3 pt"  # type: ignore[index]


def test_words_are_read_by_table() -> None:
    assert words("documents")["CUTTING-LIST"] == "Cutting list"


def test_a_missing_table_of_words_is_named() -> None:
    with pytest.raises(SpecRejected) as caught:
        words("documants")
    assert rendered(caught.value) == ["layouts/words.toml: error: the table [documants] is missing"]


def test_a_missing_layout_is_named() -> None:
    with layout("page.toml", ""), pytest.raises(SpecRejected) as caught:
        read_settings(find_file("pattern.toml"))
    assert rendered(caught.value) == ["layouts/pattern.toml: error: this layout file is missing"]


def test_a_layout_that_is_no_toml_is_named_with_its_line() -> None:
    with layout("page.toml", "[type]\nbody = 10 pt\n"), pytest.raises(SpecRejected) as caught:
        read_settings(find_file("page.toml"))
    assert rendered(caught.value) == [
        'layouts/page.toml:2: error: the value of "body" needs quotes (column 11)\n'
        "    written: body = 10 pt\n"
        '    mend:    write body = "10 pt"'
    ]


def test_sentences_come_by_case_with_their_names_put_in() -> None:
    with layout("sentences.toml", CARE):
        assert say("care", "dry", name="the bag", how="thinly") == (
            "Wipe the bag dry.",
            "Then wax it: the bag, thinly.",
        )
        assert say("care", "never") == ()
        assert say_heading("care") == "Care"


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.text(st.sampled_from("{}name%$\\.[0]! \n\r\t\x0b\x1c\u2028\u00a0"), max_size=20))
def test_what_is_put_in_stays_text_on_one_line(value: str) -> None:
    with layout("sentences.toml", CARE):
        said = say("care", "dry", name=value, how="{name}")
    # Every run of white becomes a space, but for the no-break space, which keeps a number and its unit together.
    flat = " ".join(value.replace("\u00a0", "~").split()).replace("~", "\u00a0")
    assert said == (f"Wipe {flat} dry.", f"Then wax it: {flat}, {{name}}.")
