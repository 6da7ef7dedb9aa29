"""The shop's own file: where it is looked for, what is wrong in it, and how a printer is written into it."""

import tomllib
from pathlib import Path

import pytest

from docgen.problems import Place, SpecRejected, render_problem
from docgen.read import find_shop_file, read_shop_file, replace_printer
from docgen.resolve import Printer, Printing, ShopSettings, resolve_shop_file

KEYS = {"across": "99.2 mm", "down": "100.5 mm", "date": "2026-03-31"}
KEPT = """\
# how we print
[pattern]
paper = "a4"          # the small printer

[printers.office]     # by the window
across = '3 15/16"'   # steel rule
down   = "100 mm"

# the plotter
[printers.plotter]
across = "100.2 mm"
down = "100 mm"
"""


def messages(text: str) -> list[str]:
    Path("shop.toml").write_text(text, encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        resolve_shop_file(read_shop_file("shop.toml"))
    return [render_problem(problem) for problem in caught.value.problems]


# ---- where it is looked for ------------------------------------------------------


def test_file_beside_the_spec_comes_before_that_of_the_folder(bench: Path) -> None:
    Path("specs").mkdir()
    assert find_shop_file("specs/bag.toml") is None
    Path("shop.toml").touch()
    assert find_shop_file("specs/bag.toml") == Path("shop.toml")
    Path("specs/shop.toml").touch()
    assert find_shop_file("specs/bag.toml") == Path("specs/shop.toml")


def test_spec_that_is_called_so_is_not_its_own_shop_file(bench: Path) -> None:
    Path("shop.toml").touch()
    assert find_shop_file("shop.toml") is None
    assert find_shop_file(bench / "shop.toml") is None


# ---- what it says ---------------------------------------------------------------


def test_file_gives_printing_and_printers(bench: Path) -> None:
    Path("shop.toml").write_text(
        '[pattern]\npaper = "roll 36 in"\nmargin = "5 mm"\noverlap = "1/2 in"\njoin = "overlap"\n'
        'full-straps = true\n[printers.office]\nacross = "99.2 mm"\ndown = "3 15/16 in"\ndate = "spring"\n',
        encoding="utf-8",
    )
    found = resolve_shop_file(read_shop_file("shop.toml"))
    # 3 15/16 in is 63/16 * 25.4 mm = 100.0125 mm.
    assert found == ShopSettings(
        path="shop.toml",
        printing=Printing(paper="roll 36 in", margin_mm=5.0, overlap_mm=12.7, join="overlap", has_full_straps=True),
        printers=(Printer(name="office", across_mm=99.2, down_mm=100.0125, date="spring"),),
    )


def test_empty_file_leaves_everything_open(bench: Path) -> None:
    Path("shop.toml").touch()
    assert resolve_shop_file(read_shop_file("shop.toml")) == ShopSettings(path="shop.toml")


MESSAGES = {
    "an unknown table": (
        '[pater]\n[printers.x]\nacross = "99 mm"\ndown = "99 mm"\n',
        'shop.toml:1: error: unknown table "pater"\n    written: [pater]\n    mend:    did you mean "pattern"?',
    ),
    "an unknown key": (
        "[pattern]\nfull-strap = true\n",
        'shop.toml:2: error: unknown key "full-strap" in [pattern]\n'
        '    written: true\n    mend:    did you mean "full-straps"?',
    ),
    "a missing key": (
        '[printers.office]\nacross = "99 mm"\n',
        'shop.toml:1: error: "down" is missing in [printers.office]\n    written: [printers.office]\n'
        '    mend:    add down = ..., a length in quotes ("3 1/2 in", "89 mm") or arithmetic on measures '
        '("width - 2 * edge")',
    ),
    "a wrong name": (
        '[printers.Office]\nacross = "99 mm"\ndown = "99 mm"\n',
        'shop.toml:1: error: in [printers], "Office" is not a short name\n    written: [printers.Office]\n'
        '    mend:    write "office": small letters, digits and hyphens',
    ),
    "no unit": (
        '[printers.office]\nacross = 99\ndown = "99 mm"\n',
        "shop.toml:2: error: across has no unit: 99\n    written: 99\n"
        '    mend:    write "99 in" or "99 mm", quotes and all',
    ),
    "a length that is none": (
        '[printers.office]\nacross = "wide"\ndown = "99 mm"\n',
        'shop.toml:2: error: "wide" cannot be read as a length\n    written: "wide"\n'
        '    mend:    write it like "3 1/2 in" or "89 mm"',
    ),
    "a page that was fitted": (
        '[printers.office]\nacross = "94 mm"\ndown = "99 mm"\n',
        "shop.toml:2: error: the 100 mm square measured 94 mm, which is 6 % out: more than 5 % is no printer's "
        'stretch\n    written: "94 mm"\n    mend:    it was printed with "fit to page": print page 1 again at '
        '100 % ("actual size") and measure that',
    ),
    "a price that is no way to buy it": (
        '[prices.materials]\nhide = "11.50 each"\n[prices.hardware]\nrivet = "3 per m"\n',
        'shop.toml:4: error: this is a price for a length, which is no way to buy it\n    written: "3 per m"\n'
        '    mend:    write "3 each"',
    ),
    "a price that is none": (
        '[prices.materials]\n"Bridle hide" = "dear"\n',
        'shop.toml:2: error: "dear" does not begin with a number\n    written: "dear"\n'
        '    mend:    write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"',
    ),
    "a thread without its size": (
        '[prices.threads]\n"nylon" = "18 per 500 m"\n',
        'shop.toml:2: error: "nylon" does not say the size of the thread\n    written: "18 per 500 m"\n'
        '    mend:    write its Tex, ticket or V number first, like "Tex 135 bonded nylon" or "V138 bonded nylon"',
    ),
    "prices for nothing known": (
        '[prices.material]\nhide = "11.50 per sq ft"\n',
        'shop.toml:1: error: unknown key "material" in [prices]\n    written: [prices.material]\n'
        '    mend:    did you mean "materials"?',
    ),
    "a list of prices": (
        '[prices]\nmaterials = "11.50 per sq ft"\n',
        'shop.toml:2: error: materials must be a table of name = price\n    written: "11.50 per sq ft"\n'
        '    mend:    write [prices.materials] with a line like "name" = "11.50 per sq ft" for each below',
    ),
    "a wrong join": (
        '[pattern]\njoin = "overlp"\n',
        'shop.toml:2: error: join cannot be "overlp"\n    written: "overlp"\n'
        '    mend:    did you mean "overlap"? it takes "trim" or "overlap"',
    ),
    "an unknown paper": (
        '[pattern]\npaper = "lettr"\n',
        'shop.toml:2: error: "lettr" is not a paper known here\n    written: "lettr"\n'
        '    mend:    did you mean "letter"?',
    ),
    "a roll too wide": (
        '[pattern]\npaper = "roll 2 m"\n',
        'shop.toml:2: error: "roll 2 m" is no width of a roll\n    written: "roll 2 m"\n'
        "    mend:    take a roll of 250 to 1300 mm",
    ),
    "a margin too wide": (
        '[pattern]\nmargin = "26 mm"\n',
        'shop.toml:2: error: the margin cannot be 26 mm\n    written: "26 mm"\n    mend:    use 0 to 25.4 mm',
    ),
    "an overlap too small": (
        '[pattern]\noverlap = "2 mm"\n',
        'shop.toml:2: error: the overlap cannot be 2 mm\n    written: "2 mm"\n    mend:    use 3 to 40 mm',
    ),
    "an overlap without room for its marks": (
        '[pattern]\noverlap = "5 mm"\njoin = "overlap"\n',
        "shop.toml:2: error: an overlap of 5 mm has no room for the match marks of sheets that overlap\n"
        '    written: "5 mm"\n    mend:    use 6 mm or more, or join = "trim"',
    ),
}


@pytest.mark.parametrize(("text", "said"), MESSAGES.values(), ids=MESSAGES)
def test_what_is_wrong_is_told_as_in_a_spec(bench: Path, text: str, said: str) -> None:
    assert messages(text) == [said]


def test_all_that_is_wrong_is_told_at_once(bench: Path) -> None:
    text = '[pattern]\npaper = "lettr"\nmargin = 5\n[printers.x]\nacross = "80 mm"\ndown = "120 mm"\n'
    assert [message.split(":")[1] for message in messages(text)] == ["2", "3", "5", "6"]


def test_file_that_is_not_there_is_told() -> None:
    with pytest.raises(SpecRejected) as caught:
        read_shop_file("nowhere.toml")
    assert render_problem(caught.value.problems[0]) == (
        "nowhere.toml: error: there is no such file\n    mend:    check the name, and the folder you are in"
    )


# ---- how a printer is written into it -------------------------------------------


def test_printer_of_an_empty_file_is_its_first_table() -> None:
    assert replace_printer("shop.toml", b"", "office", KEYS) == (
        b'[printers.office]\nacross = "99.2 mm"\ndown = "100.5 mm"\ndate = "2026-03-31"\n'
    )


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["", "\n"])
def test_new_printer_comes_last_and_all_before_it_stays_byte_for_byte(newline: str, mark: str, end: str) -> None:
    before = (mark + KEPT.rstrip("\n") + end).replace("\n", newline).encode()
    after = replace_printer("shop.toml", before, "shed", KEYS)
    assert after.startswith(before)
    added = after[len(before) :].decode()
    gap = "" if end else newline
    table = '[printers.shed]\nacross = "99.2 mm"\ndown = "100.5 mm"\ndate = "2026-03-31"\n'
    assert added == gap + newline + table.replace("\n", newline)


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_known_printer_gets_new_figures_and_nothing_else_changes(newline: str, mark: str) -> None:
    before = (mark + KEPT).replace("\n", newline).encode()
    after = replace_printer("shop.toml", before, "office", KEYS)
    expected = (
        KEPT.replace("""'3 15/16"'""", '"99.2 mm"')
        .replace('down   = "100 mm"', 'down   = "100.5 mm"')
        .replace("# by the window\n", '# by the window\ndate = "2026-03-31"\n')
    )
    assert after.decode() == (mark + expected).replace("\n", newline)
    again = replace_printer("shop.toml", after, "office", {**KEYS, "date": "2026-04-01"})
    assert again == after.replace(b"2026-03-31", b"2026-04-01")


def test_length_with_an_inch_mark_is_quoted_so_that_it_can_be_read() -> None:
    after = replace_printer("shop.toml", KEPT.encode(), "office", {**KEYS, "down": '3 15/16"'})
    assert tomllib.loads(after.decode())["printers"]["office"]["down"] == '3 15/16"'


@pytest.mark.parametrize(
    "text",
    [
        'printers = { office = { across = "99 mm", down = "99 mm" } }\n',
        'printers.office.across = "99 mm"\nprinters.office.down = "99 mm"\n',
        '[printers]\noffice = { across = "99 mm", down = "99 mm" }\n',
        '[printers.office]\nacross = """99 mm"""\ndown = "99 mm"\n',
    ],
)
def test_printers_written_in_another_way_are_left_alone_and_told(text: str) -> None:
    with pytest.raises(SpecRejected) as caught:
        replace_printer("shop.toml", text.encode(), "office", KEYS)
    (problem,) = caught.value.problems
    assert problem.place.path == "shop.toml"
    assert (problem.place.line, problem.what, problem.mend) == (
        1,
        "the printers stand here in a way that cannot be changed",
        "give each printer a table of its own: [printers.office] with its keys below, one to a line",
    )


def test_braces_take_no_further_printer() -> None:
    with pytest.raises(SpecRejected) as caught:
        replace_printer("shop.toml", b'printers = { a = { across = "99 mm", down = "99 mm" } }\n', "office", KEYS)
    assert caught.value.problems[0].place == Place(
        path="shop.toml", line=1, column=1, words='{ a = { across = "99 mm", down = "99 mm" } }'
    )
