"""How wide columns are: by their shares, or by what stands in them where one has to spare what another lacks."""

from dataclasses import replace

import pytest
from demos import demo_plan
from hypothesis import given, settings
from hypothesis import strategies as st
from on_paper import make_setup, texts

from docgen.fonts import text_width_mm
from docgen.pages.looks.words import load_page_style
from docgen.pages.setting.blocks import Column, Figure, Table
from docgen.pages.setting.columns import column_widths
from docgen.pages.work.build_sheet import lay_out_build_sheet

STYLE = load_page_style()
ROOM_MM = 150.0


def words_mm(words: str) -> float:
    return text_width_mm(words, "regular", STYLE.body_type_mm)


def lay_widths(shares: tuple[float, ...], row: tuple[str, ...], *, is_fitted: bool = True) -> list[float]:
    return column_widths(
        Table(tuple(Column("", share) for share in shares), (row,), is_fitted=is_fitted), ROOM_MM, STYLE
    )


def test_a_column_takes_what_others_have_to_spare() -> None:
    told = "Tex 135 waxed polyester, natural"
    assert words_mm(told) > ROOM_MM / 4
    wide, *others = lay_widths((1, 1, 1, 1), (told, "1", "2", "3"))
    assert wide == pytest.approx(words_mm(told), abs=0.01)
    assert all(other == pytest.approx((ROOM_MM - wide) / 3, abs=0.5) for other in others)


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(("Tex 135 waxed", "1", "2", "3"), id="it has room"),
        pytest.param(("waxed polyester thread " * 30, "1", "2", "3"), id="no room would do"),
    ],
)
def test_columns_keep_their_shares_where_nothing_is_lacking_or_nothing_helps(row: tuple[str, ...]) -> None:
    assert lay_widths((1, 1, 1, 2), row) == pytest.approx([30.0, 30.0, 30.0, 60.0])


def test_only_a_fitted_table_does_so() -> None:
    row = ("Tex 135 waxed polyester, natural", "1", "2", "3")
    assert lay_widths((1, 1, 1, 1), row, is_fitted=False) == pytest.approx([37.5] * 4)


def test_a_word_is_not_broken_though_others_turn_a_line_for_it() -> None:
    """The other column turns lines as it is, and has nothing to spare but for that."""
    narrow, _ = lay_widths((1, 14), ("machine", "waxed polyester thread " * 30))
    assert words_mm("machine") > ROOM_MM / 15
    assert narrow == pytest.approx(words_mm("machine"), abs=0.01)


@given(
    shares=st.lists(st.floats(1, 50), min_size=2, max_size=6),
    words=st.lists(
        st.lists(st.sampled_from(["waxed", "natural", "5/32 in", "130/21,"]), max_size=9), min_size=6, max_size=6
    ),
    wide_mm=st.floats(0, 8),
)
@settings(max_examples=60, deadline=None)
def test_columns_fill_the_room_and_none_loses_a_line_that_it_had(
    shares: list[float], words: list[list[str]], wide_mm: float
) -> None:
    cells = [" ".join(one) for one in words[: len(shares) - 1]]
    drawn = Figure(wide_mm, 3.0, ())
    columns = tuple(Column("", share) for share in shares)
    table = Table(columns, ((*cells, drawn),), is_fitted=True)
    before = column_widths(replace(table, is_fitted=False), ROOM_MM, STYLE)
    after = column_widths(table, ROOM_MM, STYLE)
    assert sum(after) == pytest.approx(ROOM_MM)
    assert all(width > 0 for width in after)
    longest = [max(map(words_mm, cell.split()), default=0.0) for cell in cells]
    if all(wide >= least for wide, least in zip(before, longest, strict=False)):
        for old, new, line in zip(before, after, [*map(words_mm, cells), wide_mm], strict=True):
            assert new >= line - 0.01 or old < line


def test_the_name_of_a_stitch_is_whole() -> None:
    plan = demo_plan("field-bag")
    first, *others = plan.scraps
    renamed = replace(first, stitch=replace(first.stitch, name="machine"))
    found = texts(lay_out_build_sheet(replace(plan, scraps=(renamed, *others)), make_setup("A4")))
    assert "machine" in found
    assert "machin" not in found
