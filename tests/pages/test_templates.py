"""Layouts: settings in mm, words for labels, templates to blocks, and spec text that stays text."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.layout_files import LayoutFile, Layouts, layouts_folder, use_layouts
from docgen.pages.looks import templates
from docgen.pages.looks.templates import find_file, load_page_style, parse_words, read_settings, render_words, words
from docgen.pages.setting.flow import Bullet, Caution, Heading, Paragraph, Tick
from docgen.problems import SpecRejected, render_problem

CARD = """\
# Care of {{ name }}

Wipe it dry.
Then wax it.
{% for line in lines %}
- {{ line }}
{% endfor %}
[ ] {{ name }} is clean
! {{ warning }}

{{ warning }} {{ name }}
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
    assert style.band_mm == 27
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


def test_a_template_becomes_blocks() -> None:
    with layout("card.j2", CARD):
        text = render_words("card", name="the bag", lines=("no oil", "no sun"), warning="No heat")
    assert parse_words(text) == (
        Heading("Care of the bag", 1),
        Paragraph("Wipe it dry. Then wax it."),
        Bullet("no oil"),
        Bullet("no sun"),
        Tick("the bag is clean"),
        Caution("No heat"),
        Paragraph("No heat the bag"),
    )


def test_blocks_are_told_apart_by_their_first_letters() -> None:
    text = "### Edges\nsand them\n\nburnish\n-no item\n- an item\nthat goes on\n-\n## Next"
    assert parse_words(text) == (
        Heading("Edges", 3),
        Paragraph("sand them"),
        Paragraph("burnish -no item"),
        Bullet("an item that goes on"),
        Heading("Next", 2),
    )


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.text(st.sampled_from("#-!&<>[]{%}\"';a \n\r\t\x0b\x1c\u2028\u00a0"), min_size=1, max_size=12))
def test_text_from_a_spec_opens_no_block_and_comes_back_as_written(value: str) -> None:
    environment = templates._environment()
    template = environment.from_string("{{ value }}{{ value }}\n- {{ value }}x\n")
    blocks = parse_words(template.render(value=templates._collapse(f"{value}x")))
    flat = " ".join(f"{value}x".replace("\u00a0", "~").split()).replace("~", "\u00a0")
    assert blocks == (Paragraph(flat + flat), Bullet(f"{flat}x"))


@pytest.mark.parametrize("value", ["# big", "- item", "[ ] tick", "! caution", "a\n\n# b", "&lt;b&gt;", "<img src=x>"])
def test_markers_and_markup_in_a_value_are_printed_as_text(value: str) -> None:
    with layout("line.j2", "{{ value }}\n"):
        assert parse_words(render_words("line", value=value)) == (Paragraph(" ".join(value.split())),)


def test_a_template_can_compare_a_value_with_a_word() -> None:
    with layout("line.j2", '{% if kind == "box-stitch" %}by hand{% endif %}\n'):
        assert parse_words(render_words("line", kind="box-stitch")) == (Paragraph("by hand"),)


def test_a_no_break_space_survives() -> None:
    with layout("line.j2", "{{ size }}\n"):
        assert parse_words(render_words("line", size="3\u00a0 mm\n[9]")) == (Paragraph("3\u00a0 mm [9]"),)


def test_numbers_are_refused_by_templates() -> None:
    with pytest.raises(TypeError) as caught:
        render_words("card", width=(3.5,))  # type: ignore[arg-type]
    assert str(caught.value) == "a template takes strings and tuples of strings, not float"
