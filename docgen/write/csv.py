"""Tables -> CSV as RFC 4180 has it: commas, lines ended by CR LF, quotes doubled inside quotes; UTF-8, no mark."""

import csv
from io import StringIO
from typing import Final

from docgen.pages.marks.page import CsvTable

FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r")
"""A spreadsheet takes a cell that begins with one of these for a formula (OWASP, "CSV Injection")."""


def write_csv(table: CsvTable) -> bytes:
    """The headings and rows of a table; ValueError when a row has not one cell per heading."""
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    for row in (table.headings, *table.rows):
        if len(row) != len(table.headings):
            raise ValueError(f"a row of {table.name} has {len(row)} cells; there are {len(table.headings)} headings")
        writer.writerow([guard_cell(cell) for cell in row])
    return text.getvalue().encode("utf-8")


def guard_cell(text: str) -> str:
    """The text, with an apostrophe before it when a spreadsheet would take it for a formula."""
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
