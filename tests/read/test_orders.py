"""Orders from a CSV file: every message whole, and files as spreadsheets save them."""

from pathlib import Path

import pytest

from docgen.problems import SpecRejected, render_problems
from docgen.read import Order, read_orders, share_orders
from docgen.read.orders import CARDS_MOST, ROWS_MOST, SIZE_MOST

pytestmark = pytest.mark.usefixtures("bench")
HEAD = "name,serial,date,personal line,variant,language,how many\n"


def read(text, encoding="utf-8"):
    Path("orders.csv").write_bytes(text.encode(encoding))
    return read_orders("orders.csv")


def reject(text, encoding="utf-8"):
    with pytest.raises(SpecRejected) as caught:
        read(text, encoding)
    return render_problems(caught.value.problems)


def test_a_row_is_an_order_in_the_order_of_the_file():
    first, second = read(HEAD + 'Rosa Ferro,A-2,2026-03-31,"For seeds, and more",tan,IT,1\nJon Ek,A-1\n')
    assert (first.name, first.serial, first.date) == ("Rosa Ferro", "A-2", "2026-03-31")
    assert (first.personal_line, first.variant, first.language, first.copies) == ("For seeds, and more", "tan", "it", 1)
    assert (second.name, second.serial, second.date, second.copies) == ("Jon Ek", "A-1", "", 1)
    assert [order.place.line for order in (first, second)] == [2, 3]


def test_a_spreadsheet_may_save_it_with_a_mark_semicolons_and_its_own_line_ends():
    text = "Name;How many;Personal-line;DATE\r\nŁucja Čapková;2;Für, Samen;3.4.2026\r\n\r\n;;;\r\n"
    (order,) = read(text, "utf-8-sig")
    assert (order.name, order.copies, order.personal_line) == ("Łucja Čapková", 2, "Für, Samen")
    assert order.date == "2026-04-03"


def test_names_in_greek_and_cyrillic_are_taken():
    greek, cyrillic = read("name\nΕλένη Σταμάτη\nСветлана Якимова\n")
    assert (greek.name, cyrillic.name) == ("Ελένη Σταμάτη", "Светлана Якимова")


def test_line_of_a_row_is_right_after_a_cell_of_several_lines():
    said = reject('name,language\n"Rosa\nFerro",it\nJon,xx\n')
    assert said == (
        "orders.csv:2: error: name goes over more than one line\n"
        '    written: "Rosa\n'
        "    mend:    write it on one line\n"
        'orders.csv:4: error: language cannot be "xx"\n'
        "    written: Jon,xx\n"
        "    mend:    there are de, en, es, fr and it\n"
        "2 errors"
    )


MESSAGES = {
    "no columns": (
        "Rosa Ferro,A-1\n",
        "1: error: the first row does not name the columns\n    written: Rosa Ferro,A-1\n"
        "    mend:    begin with a row like name,serial,date,personal line,variant,language,how many",
    ),
    "an empty file": (
        "",
        ": error: the first row does not name the columns\n"
        "    mend:    begin with a row like name,serial,date,personal line,variant,language,how many",
    ),
    "an unknown column": (
        "name,serail\nRosa,1\n",
        '1: error: there is no column "serail"\n    written: name,serail\n    mend:    did you mean "serial"?',
    ),
    "a column far from all": (
        "name,colour of thread\nRosa,1\n",
        '1: error: there is no column "colour of thread"\n    written: name,colour of thread\n'
        "    mend:    there are name, serial, date, personal line, variant, language and how many",
    ),
    "no rows": (
        "name\n",
        ": error: the file has no orders\n    mend:    write one row below the names of the columns for each customer",
    ),
    "a cell too many": (
        "name,serial\nRosa,1,2\n",
        "2: error: the row has 3 cells, and the first row names 2\n    written: Rosa,1,2\n"
        "    mend:    put a cell that holds a comma or semicolon in quotes",
    ),
    "a date that is none": (
        "date\n2026-02-30\n",
        '2: error: date cannot be "2026-02-30"\n    written: 2026-02-30\n'
        "    mend:    write it like 2026-03-31 or 31.3.2026",
    ),
    "a date with slashes": (
        "date\n3/4/2026\n",
        '2: error: date cannot be "3/4/2026"\n    written: 3/4/2026\n'
        "    mend:    write it like 2026-03-31 or 31.3.2026",
    ),
    "none of it": (
        "name,serial,how many\nRosa,A-1,2\nJon,A-2,1\nMira,,3\n",
        '2: error: the serial "A-1" would stand on 2 cards\n    written: Rosa,A-1,2\n'
        "    mend:    write a row for each card, with a serial of its own, or leave it out",
    ),
    "one serial for several cards": (
        "name,how many\nRosa,0\n",
        '2: error: how many must be a whole number from 1 to 500: "0"\n    written: Rosa,0\n'
        "    mend:    write 1, or leave it empty",
    ),
    "a serial twice": (
        "serial\nA-1\nA-2\na-1\n",
        '4: error: the serial "a-1" is given twice, first on line 2\n    written: a-1\n'
        "    mend:    give each row a serial of its own",
    ),
    "an open quote": (
        'name\n"Rosa\n',
        '2: error: a quote is missing or too many in this row\n    written: "Rosa\n'
        '    mend:    put a cell with quotes or commas in quotes, and write each quote inside it twice: ""',
    ),
    "a letter the typeface lacks": (
        "name\n李\n",
        '2: error: name holds "李" (U+674E), which the typeface of the pages does not have\n    written: 李\n'
        "    mend:    write it with other letters",
    ),
    "an invisible letter": (
        "name\nRo\u200bsa\n",
        "2: error: name holds U+200B, ZERO WIDTH SPACE\n    written: Ro sa\n    mend:    take that character out",
    ),
    "too many cards": (
        "how many\n" + "500\n" * (CARDS_MOST // 500 + 1),
        ": error: these orders make 5,500 cards; at most 5,000 are made in one go\n    mend:    split the file",
    ),
    "a column twice": (
        "name,serial\nRosa,1\n".replace("serial", "name"),
        '1: error: the column "name" comes twice\n    written: name,name\n    mend:    leave one out',
    ),
}


@pytest.mark.parametrize("name", MESSAGES)
def test_message_is_whole_and_names_the_line(name):
    text, said = MESSAGES[name]
    head = "orders.csv" if said.startswith(":") else "orders.csv:"
    assert reject(text) == f"{head}{said}\n1 error"


def test_cell_that_is_too_long_is_told_with_its_length():
    assert reject("name\n" + "a" * 201 + "\n").startswith(
        "orders.csv:2: error: name has 201 letters; at most 200 are allowed\n"
    )


def test_more_rows_than_allowed_are_told_with_the_first_of_them():
    said = reject("name\n" + "Rosa\n" * (ROWS_MOST + 1))
    assert said == (
        "orders.csv:5002: error: there are more than 5,000 rows\n    written: Rosa\n    mend:    split the file\n1 error"
    )


def test_a_file_over_one_mebibyte_is_refused():
    said = reject("name\n" + "a" * SIZE_MOST)
    assert said == "orders.csv: error: the file is larger than 1 MiB\n    mend:    split the file\n1 error"


def test_a_file_in_another_encoding_is_told_with_its_line():
    assert reject("name\nRosa\nZoë\n", "cp1252") == (
        "orders.csv:3: error: the file is not UTF-8 text: the byte EB cannot be read\n"
        '    mend:    save it from the spreadsheet as "CSV UTF-8"\n'
        "1 error"
    )


def test_a_missing_file_and_a_folder_are_told(bench):
    for path, what, mend in (
        ("none.csv", "there is no such file", "check the name, and the folder you are in"),
        (str(bench), "this is not an ordinary file", "name a .csv file"),
    ):
        with pytest.raises(SpecRejected) as caught:
            read_orders(path)
        assert render_problems(caught.value.problems) == f"{path}: error: {what}\n    mend:    {mend}\n1 error"


def test_of_very_many_problems_the_first_two_hundred_are_listed():
    said = reject("date\n" + "never\n" * 300)
    assert said.endswith(
        "orders.csv:202: error: 100 more problems, from this line on, are not listed\n"
        "    mend:    mend those above and try again\n201 errors"
    )


def test_an_order_without_anything_is_a_blank_card():
    assert Order().copies == 1
    assert Order().name == Order().serial == Order().language == ""


def test_a_file_that_may_not_be_read_is_told(monkeypatch):
    def refuse(path):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("docgen.read.source.os.stat", refuse)
    assert reject("name\nRosa\n") == (
        "orders.csv: error: the file cannot be read: permission denied\n"
        "    mend:    check the file, and who may read it\n"
        "1 error"
    )


def test_orders_are_shared_out_to_the_variants_they_name():
    orders = read("name,variant\nRosa,Large\nJon,small\nMira,large\n")
    shared = share_orders(orders, ("small", "large"))
    assert [(name, [order.name for order in part]) for name, part in shared] == [
        ("small", ["Jon"]),
        ("large", ["Rosa", "Mira"]),
    ]


def test_a_spec_without_variants_takes_rows_that_name_none():
    orders = read("name\nRosa\nJon\n")
    assert share_orders(orders, ()) == (("", orders),)
    with pytest.raises(SpecRejected) as caught:
        share_orders(read("name,variant\nRosa,\nJon,small\n"), ())
    assert render_problems(caught.value.problems) == (
        'orders.csv:3: error: there is no variant "small"\n'
        "    written: Jon,small\n"
        "    mend:    the spec has no variants; leave the column out\n"
        "1 error"
    )


def test_rows_without_a_known_variant_are_told_with_their_lines():
    orders = read("name,variant\nRosa,smal\nJon,\n")
    with pytest.raises(SpecRejected) as caught:
        share_orders(orders, ("small", "large"))
    assert render_problems(caught.value.problems) == (
        'orders.csv:2: error: there is no variant "smal"\n'
        "    written: Rosa,smal\n"
        '    mend:    did you mean "small"?\n'
        "orders.csv:3: error: the row names no variant\n"
        "    written: Jon,\n"
        "    mend:    there are small and large\n"
        "2 errors"
    )


def test_a_cell_beyond_all_measure_is_told_as_too_long():
    said = reject(HEAD + "a" * 200_000 + "\n")
    assert "a cell is longer than 131,072 letters; at most 200 are allowed" in said
    assert "quote is missing" not in said


def test_a_column_without_a_name_is_told():
    said = reject("name,,serial\nRosa,,1\n")
    assert "orders.csv:1: error: a column has no name\n" in said
    assert "mend:    take it out, or name it" in said


@pytest.mark.parametrize(("sep", "mark"), [("sep=;", ";"), ("SEP=,", ","), ('"sep=;"', ";")])
def test_a_first_line_that_names_the_separator_is_passed_over(sep, mark):
    (order,) = read(f"{sep}\nname{mark}serial\nRosa{mark}7\n")
    assert (order.name, order.serial, order.place.line) == ("Rosa", "7", 3)
