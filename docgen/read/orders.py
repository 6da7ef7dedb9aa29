"""A CSV file of orders -> `Order`s, one for each row: whom a care card is for.

The first row names the columns, in any order; what is not named stays empty. Commas or semicolons part the cells, and a
byte order mark is passed over, so that a spreadsheet's "CSV UTF-8" can be read as it is saved.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from io import StringIO
from pathlib import Path

from docgen.classes import dataclass
from docgen.layout_files import list_languages
from docgen.problems import Place, Problem, SpecRejected, make_error, suggest
from docgen.read.kinds import WORDS_MOST
from docgen.read.letters import judge_letters, judge_size, judge_typeface
from docgen.read.source import decode_source, read_start
from docgen.read.words import list_words, quote_word

SIZE_MOST = 1024 * 1024
ROWS_MOST = 5_000
CARDS_MOST = 5_000
COPIES_MOST = 500
PROBLEMS_LISTED = 200
COLUMNS = ("name", "serial", "date", "personal line", "variant", "language", "how many")
SEPARATOR_RE = r"(?i)\"?sep=([;,\t])\"?"
"""A line that some spreadsheets put first, to say what parts the cells."""
DAY_RE = r"(?a)(\d{4})-(\d{1,2})-(\d{1,2})|(\d{1,2})\.(\d{1,2})\.(\d{4})"
"""Year first with hyphens, or day first with points, as a spreadsheet may write the same day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One customer's card; "" for what was not given. `date` is YYYY-MM-DD, `copies` at least 1."""

    name: str = ""
    serial: str = ""
    date: str = ""
    personal_line: str = ""
    variant: str = ""
    language: str = ""
    copies: int = 1
    place: Place = Place()


def read_orders(path: str | Path) -> tuple[Order, ...]:
    """The orders of a CSV file, in its order; empty rows are passed over.

    At most 1 MiB, 5,000 rows, 200 letters to a cell and 5,000 cards. Raises SpecRejected with every problem, each with
    its line; then no order is taken.
    """
    text = _read_text(path)
    lines = text.split("\n")
    first = lines[0]
    told = re.fullmatch(SEPARATOR_RE, first.strip())
    if told:
        text, first = "\n".join(["", *lines[1:]]), "".join(lines[1:2])
    counted = ";" if first.count(";") > first.count(",") else ","
    rows = _list_rows(str(path), text, told[1] if told else counted)
    columns = _read_columns(next(rows, (Place(path=str(path)), [])))
    problems: list[Problem] = []
    orders: list[Order] = []
    for place, cells in rows:
        if len(orders) == ROWS_MOST:
            what = f"there are more than {ROWS_MOST:,} rows"
            raise SpecRejected([*problems, make_error(place, what, "split the file")])
        order, found = _read_row(place, columns, cells)
        problems += found
        orders.append(order)
    problems += _check_serials(orders) + _check_count(str(path), orders)
    if problems:
        raise SpecRejected(_cap(problems))
    return tuple(orders)


def share_orders(orders: Sequence[Order], variants: Sequence[str]) -> tuple[tuple[str, tuple[Order, ...]], ...]:
    """The orders of each variant, in the order of the variants; of a spec without variants all, under "".

    Raises SpecRejected with every row that names no variant where there are some, or one that is not there.
    """
    problems = [problem for order in orders if (problem := _judge_variant(order, variants))]
    if problems:
        raise SpecRejected(_cap(problems))
    if not variants:
        return (("", tuple(orders)),)
    shared = ((name, tuple(order for order in orders if order.variant.lower() == name)) for name in variants)
    return tuple(shared)


def _judge_variant(order: Order, variants: Sequence[str]) -> Problem | None:
    if order.variant.lower() in (variants or ("",)):
        return None
    if not order.variant:
        return make_error(order.place, "the row names no variant", f"there are {list_words(variants)}")
    what = f"there is no variant {quote_word(order.variant)}"
    if not variants:
        return make_error(order.place, what, "the spec has no variants; leave the column out")
    mend = suggest(order.variant.lower(), variants) or f"there are {list_words(variants)}"
    return make_error(order.place, what, mend)


def _read_text(path: str | Path) -> str:
    source = read_start(path, SIZE_MOST, ".csv")
    if len(source) > SIZE_MOST:
        raise SpecRejected([make_error(Place(path=str(path)), "the file is larger than 1 MiB", "split the file")])
    return decode_source(path, source, 'save it from the spreadsheet as "CSV UTF-8"').replace("\r", "\n")


def _list_rows(path: str, text: str, separator: str) -> Iterator[tuple[Place, list[str]]]:
    """Rows that are not empty, with their place; SpecRejected for quotes that do not close."""
    import csv

    lines = text.split("\n")
    reader = csv.reader(StringIO(text), delimiter=separator, strict=True)
    while True:
        line = reader.line_num + 1
        place = Place(path=path, line=line, words=lines[line - 1] if line <= len(lines) else "")
        try:
            cells = [cell.strip() for cell in next(reader)]
        except StopIteration:
            return
        except csv.Error as error:
            if "limit" in str(error):
                what = f"a cell is longer than {csv.field_size_limit():,} letters; at most {WORDS_MOST} are allowed"
                raise SpecRejected([make_error(place, what, "write less, or close the quote before it")]) from None
            what = "a quote is missing or too many in this row"
            mend = 'put a cell with quotes or commas in quotes, and write each quote inside it twice: ""'
            raise SpecRejected([make_error(place, what, mend)]) from None
        if any(cells):
            yield place, cells


def _read_columns(row: tuple[Place, list[str]]) -> tuple[str, ...]:
    """The names of the columns; SpecRejected for one that is not known or comes twice."""
    place, cells = row
    names = tuple(" ".join(re.split(r"[\s_-]+", cell.lower())).strip() for cell in cells)
    if not any(name in COLUMNS for name in names):
        what = "the first row does not name the columns"
        raise SpecRejected([make_error(place, what, f"begin with a row like {','.join(COLUMNS)}")])
    problems = []
    for name in names:
        if not name:
            problems.append(make_error(place, "a column has no name", "take it out, or name it"))
        elif name not in COLUMNS:
            mend = suggest(name, COLUMNS) or f"there are {list_words(COLUMNS)}"
            problems.append(make_error(place, f"there is no column {quote_word(name)}", mend))
        elif names.count(name) > 1:
            problems.append(make_error(place, f"the column {quote_word(name)} comes twice", "leave one out"))
    if problems:
        raise SpecRejected(problems)
    return names


def _read_row(place: Place, columns: tuple[str, ...], cells: list[str]) -> tuple[Order, list[Problem]]:
    if len(cells) > len(columns):
        what = f"the row has {len(cells)} cells, and the first row names {len(columns)}"
        mend = "put a cell that holds a comma or semicolon in quotes"
        return Order(place=place), [make_error(place, what, mend)]
    found = dict(zip(columns, cells, strict=False))
    problems = [problem for column, cell in found.items() for problem in _check_cell(place, column, cell)]
    if problems:
        return Order(place=place), problems
    return _make_order(place, found, problems), problems


def _check_cell(place: Place, column: str, cell: str) -> Iterator[Problem]:
    """The checks that texts of a spec pass too."""
    fault = judge_size(column, cell, WORDS_MOST) or judge_letters(column, cell) or judge_typeface(column, cell)
    if fault is not None:
        yield make_error(place, *fault)


def _make_order(place: Place, found: Mapping[str, str], problems: list[Problem]) -> Order:
    """The order; what cannot be read is added to `problems`."""
    day, language = found.get("date", ""), found.get("language", "").lower()
    copies = found.get("how many", "")
    if day and _read_day(day) is None:
        what = f"date cannot be {quote_word(day)}"
        problems.append(make_error(place, what, "write it like 2026-03-31 or 31.3.2026"))
    if language and language not in list_languages():
        what = f"language cannot be {quote_word(language)}"
        problems.append(make_error(place, what, f"there are {list_words(list_languages())}"))
    if copies and not (re.fullmatch(r"[0-9]{1,4}", copies) and 1 <= int(copies) <= COPIES_MOST):
        what = f"how many must be a whole number from 1 to {COPIES_MOST}: {quote_word(copies)}"
        problems.append(make_error(place, what, "write 1, or leave it empty"))
        copies = ""
    if found.get("serial") and copies and int(copies) > 1:
        what = f"the serial {quote_word(found['serial'])} would stand on {copies} cards"
        problems.append(make_error(place, what, "write a row for each card, with a serial of its own, or leave it out"))
    return Order(
        name=found.get("name", ""),
        serial=found.get("serial", ""),
        date=_read_day(day) or "",
        personal_line=found.get("personal line", ""),
        variant=found.get("variant", ""),
        language=language,
        copies=int(copies or 1),
        place=place,
    )


def _read_day(written: str) -> str | None:
    """A day of the calendar as YYYY-MM-DD; None for anything else."""
    match = re.fullmatch(DAY_RE, written)
    if match is None:
        return None
    year, month, day = match.group(1, 2, 3) if match[1] else match.group(6, 5, 4)
    try:
        return date(int(year), int(month), int(day)).isoformat()
    except ValueError:
        return None


def _check_serials(orders: list[Order]) -> list[Problem]:
    """A serial is given to one row only."""
    first: dict[str, Order] = {}
    problems = []
    for order in orders:
        if not order.serial:
            continue
        other = first.setdefault(order.serial.casefold(), order)
        if other is not order:
            what = f"the serial {quote_word(order.serial)} is given twice, first on line {other.place.line}"
            problems.append(make_error(order.place, what, "give each row a serial of its own"))
    return problems


def _check_count(path: str, orders: list[Order]) -> list[Problem]:
    cards = sum(order.copies for order in orders)
    if not orders:
        what, mend = ("the file has no orders", "write one row below the names of the columns for each customer")
        return [make_error(Place(path=path), what, mend)]
    if cards > CARDS_MOST:
        what = f"these orders make {cards:,} cards; at most {CARDS_MOST:,} are made in one go"
        return [make_error(Place(path=path), what, "split the file")]
    return []


def _cap(problems: list[Problem]) -> list[Problem]:
    """The first 200 problems, and one that counts the rest."""
    rest = len(problems) - PROBLEMS_LISTED
    if rest <= 1:
        return problems
    ordered = sorted(problems, key=lambda problem: problem.place.line)
    place = Place(path=ordered[0].place.path, line=ordered[PROBLEMS_LISTED].place.line)
    what = f"{rest} more problems, from this line on, are not listed"
    return [*ordered[:PROBLEMS_LISTED], make_error(place, what, "mend those above and try again")]
