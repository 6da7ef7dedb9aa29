"""Layouts: settings in mm, words for labels, templates to blocks, and spec text that stays text."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jinja2 import Environment, nodes

from docgen.pages import templates
from docgen.pages.flow import Bullet, Caution, Heading, Paragraph, Tick
from docgen.pages.templates import (
    layouts_folder,
    load_page_style,
    load_settings,
    parse_words,
    read_page_style,
    render_words,
    words,
)
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


@pytest.fixture
def layouts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty folder in place of the layouts."""
    monkeypatch.setattr(templates, "layouts_folder", lambda: tmp_path)
    load_settings.cache_clear()
    templates._environment.cache_clear()
    yield tmp_path
    load_settings.cache_clear()
    templates._environment.cache_clear()


def rendered(error: SpecRejected) -> list[str]:
    return [render_problem(problem) for problem in error.problems]


def test_the_layouts_lie_beside_the_package() -> None:
    assert (layouts_folder() / "page.toml").is_file()


def test_the_page_style_is_in_mm() -> None:
    style = load_page_style()
    assert style.band_mm == 27
    assert style.square_inch_mm == pytest.approx(25.4)
    # 1 pt = 1/72 in
    assert style.least_type_mm == pytest.approx(6.5 * 25.4 / 72)


def test_pages_are_readable_at_arms_length_and_on_a_home_printer() -> None:
    style = load_page_style()
    assert style.body_type_mm >= 9.5 * 25.4 / 72
    assert style.hair_line_mm >= 0.12
    assert style.square_inch_mm + style.square_metric_mm + 2 * style.square_gap_mm < 58


def test_settings_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        load_settings("page")["type"]["body"] = "3 pt"  # type: ignore[index]


def test_words_are_read_by_table() -> None:
    assert words("documents")["CUTTING-LIST"] == "Cutting list"


def test_a_missing_table_of_words_is_named() -> None:
    with pytest.raises(SpecRejected) as caught:
        words("documants")
    assert rendered(caught.value) == ["layouts/words.toml: error: the table [documants] is missing"]


def test_a_missing_layout_is_named(layouts: Path) -> None:
    with pytest.raises(SpecRejected) as caught:
        load_settings("pattern")
    assert rendered(caught.value) == ["layouts/pattern.toml: error: this layout file cannot be read"]


def test_a_layout_that_is_no_toml_is_named(layouts: Path) -> None:
    (layouts / "page.toml").write_text("[type]\nbody = 10 pt\n")
    with pytest.raises(SpecRejected) as caught:
        load_settings("page")
    assert rendered(caught.value) == [
        "layouts/page.toml: error: this layout file is not TOML: "
        "Expected newline or end of document after a statement (at line 2, column 11)"
    ]


def test_every_wrong_setting_of_the_page_is_named_at_once() -> None:
    page = {table: dict(keys) for table, keys in load_settings("page").items()}
    del page["type"]["body"]
    page["type"]["bodie"] = "10 pt"
    page["type"]["label"] = "8 parsecs"
    page["space"]["margin"] = 14
    page["tone"]["leading"] = "wide"
    with pytest.raises(SpecRejected) as caught:
        read_page_style({**page, "paper": "letter"})
    assert sorted(rendered(caught.value)) == [
        'layouts/page.toml: error: "parsecs" is not a unit known here\n'
        "    written: label = 8 parsecs\n"
        "    mend:    use in, ft, mm, cm or m",
        'layouts/page.toml: error: "wide" is no plain number from 0 to 3\n'
        "    written: leading = wide\n"
        "    mend:    write it like 1.3",
        "layouts/page.toml: error: 14 is no written measure\n"
        "    written: margin = 14\n"
        '    mend:    write it like "3 mm"',
        'layouts/page.toml: error: [type] has no "body"',
        'layouts/page.toml: error: there is no setting "bodie" in [type]\n'
        "    written: bodie = 10 pt\n"
        '    mend:    did you mean "body"?',
        'layouts/page.toml: error: there is no setting "paper"\n    written: paper = letter',
    ]


def test_a_template_becomes_blocks(layouts: Path) -> None:
    (layouts / "card.j2").write_text(CARD)
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


@pytest.mark.parametrize(
    "value", ["# big", "- item", "[ ] tick", "! caution", "a\n\n# b", "&lt;b&gt;", "<img src=x>"]
)
def test_markers_and_markup_in_a_value_are_printed_as_text(layouts: Path, value: str) -> None:
    (layouts / "line.j2").write_text("{{ value }}\n")
    assert parse_words(render_words("line", value=value)) == (Paragraph(" ".join(value.split())),)


def test_a_template_can_compare_a_value_with_a_word(layouts: Path) -> None:
    (layouts / "line.j2").write_text('{% if kind == "box-stitch" %}by hand{% endif %}\n')
    assert parse_words(render_words("line", kind="box-stitch")) == (Paragraph("by hand"),)


def test_a_no_break_space_survives(layouts: Path) -> None:
    (layouts / "line.j2").write_text("{{ size }}\n")
    assert parse_words(render_words("line", size="3\u00a0 mm\n[9]")) == (Paragraph("3\u00a0 mm [9]"),)


def test_a_string_the_template_was_not_given_is_named(layouts: Path) -> None:
    (layouts / "line.j2").write_text("{{ colour }}\n")
    with pytest.raises(SpecRejected) as caught:
        render_words("line", name="bag")
    assert rendered(caught.value) == [
        "layouts/line.j2: error: this template is faulty: 'colour' is undefined"
    ]


def test_a_faulty_template_is_named_with_its_line(layouts: Path) -> None:
    (layouts / "line.j2").write_text("fine\n{% for %}\n")
    with pytest.raises(SpecRejected) as caught:
        render_words("line")
    assert rendered(caught.value) == [
        "layouts/line.j2:2: error: this template is faulty: "
        "Expected an expression, got 'end of statement block'"
    ]


@pytest.mark.parametrize("inside", ["{% include '../secret.j2' %}", "{{ name.__class__.__mro__ }}"])
def test_a_template_reaches_nothing_outside_its_folder_and_strings(layouts: Path, inside: str) -> None:
    (layouts.parent / "secret.j2").write_text("secret")
    (layouts / "line.j2").write_text(inside)
    with pytest.raises(SpecRejected):
        render_words("line", name="bag")


def test_numbers_are_refused_by_templates() -> None:
    with pytest.raises(TypeError) as caught:
        render_words("card", width=(3.5,))  # type: ignore[arg-type]
    assert str(caught.value) == "a template takes strings and tuples of strings, not float"


def test_no_template_calculates() -> None:
    sums = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div, nodes.FloorDiv, nodes.Mod, nodes.Pow)
    for path in sorted(layouts_folder().glob("*.j2")):
        tree = Environment().parse(path.read_text(encoding="utf-8"))
        assert list(tree.find_all(sums)) == [], path.name
