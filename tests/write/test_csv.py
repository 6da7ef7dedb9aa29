"""CSV by RFC 4180, read back by the standard library, and nothing a spreadsheet would run."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.pages.marks.page import CsvTable
from docgen.write.csv import guard_cell, write_csv

CELLS = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\x00"), max_size=30)


def make_table(*rows: tuple[str, ...]) -> CsvTable:
    return CsvTable(name="pieces", headings=("piece", "width (mm)"), rows=rows)


def test_lines_end_with_cr_lf_and_quotes_are_doubled() -> None:
    """RFC 4180, section 2, rules 1, 2, 5 to 7; letters beyond ASCII in UTF-8, without a mark at the head."""
    table = make_table(("back, left", "88.9"), ('the "good" side', ""), ("two\nlines", "1"), ("Größe", "2"))
    assert write_csv(table) == (
        b'piece,width (mm)\r\n"back, left",88.9\r\n"the ""good"" side",\r\n"two\nlines",1\r\nGr\xc3\xb6\xc3\x9fe,2\r\n'
    )


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_what_a_spreadsheet_would_run_gets_an_apostrophe(start: str) -> None:
    """OWASP, "CSV Injection": cells that begin with = + - @, a tab or a carriage return."""
    assert guard_cell(f'{start}HYPERLINK("x")') == f'\'{start}HYPERLINK("x")'
    assert guard_cell(f"a{start}") == f"a{start}"
    assert guard_cell(start) == f"'{start}"


def test_an_empty_cell_stays_empty() -> None:
    assert guard_cell("") == ""


@given(st.lists(st.tuples(CELLS, CELLS), max_size=8))
def test_every_cell_comes_back(rows: list[tuple[str, str]]) -> None:
    text = write_csv(make_table(*rows)).decode("utf-8")
    found = list(csv.reader(StringIO(text, newline="")))
    assert found[0] == ["piece", "width (mm)"]
    assert found[1:] == [[guard_cell(cell) for cell in row] for row in rows]
    assert not any(cell[:1] in ("=", "+", "-", "@", "\t", "\r") for row in found for cell in row if cell)


def test_a_row_that_is_too_short_is_refused() -> None:
    with pytest.raises(ValueError, match="a row of pieces has 1 cells; there are 2 headings"):
        write_csv(make_table(("alone",)))
