"""`docgen make --orders`: the whole program, from a spreadsheet's file to cards."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from docgen.cli import main

SPEC = Path(__file__).resolve().parents[2] / "specs" / "field-bag.toml"
ROWS = "name;serial;date;personal line;language;how many\r\n"


def make(*more):
    return main(["make", str(SPEC), "--only", "care-card", "--out", "box", "--date", "2026-03-31", *more])


def test_there_is_a_card_for_each_order(bench, capsys):
    text = ROWS + "Łucja Čapková;;31.3.2026;;de;2\r\nΕλένη Σταμάτη;A-2;;For seeds, and more;;\r\n"
    (bench / "orders.csv").write_bytes(text.encode("utf-8-sig"))
    assert make("--orders", "orders.csv") == 0
    assert capsys.readouterr().out.startswith("wrote box\n  care-card.pdf  1 page\n")
    (sheet,) = (page.extract_text() for page in PdfReader(bench / "box" / "care-card.pdf").pages)
    assert sheet.count("Łucja Čapková") == sheet.count("Pflegekarte") == 2
    assert sheet.count("Ελένη Σταμάτη") == sheet.count("For seeds, and more") == 1


@pytest.mark.parametrize(("makes", "is_told"), [(12, True), (50, False), (51, True)])
def test_a_batch_of_another_size_than_its_orders_is_told(bench, capsys, makes, is_told):
    (bench / "orders.csv").write_text("name,how many\nRosa Ferro,49\nJon Ek,1\n", encoding="utf-8")
    assert make("--orders", "orders.csv", "--makes", str(makes)) == 0
    told = (
        "orders.csv: caution: the orders make 50 care cards, "
        f"and {makes} of Seed collector's field bag are made\n"
        "    mend:    take --makes 50 for as many of them, or count the orders"
    )
    assert (told in capsys.readouterr().out) is is_told


def test_a_wrong_row_is_named_and_nothing_is_written(bench, capsys):
    (bench / "orders.csv").write_text("name,language\nRosa Ferro,it\nJon Ek,xx\n", encoding="utf-8")
    assert make("--orders", "orders.csv") == 1
    assert capsys.readouterr().err == (
        'orders.csv:3: error: language cannot be "xx"\n'
        "    written: Jon Ek,xx\n"
        "    mend:    there are de, en, es, fr and it\n"
        "1 error\n"
    )
    assert not (bench / "box").exists()


def test_a_row_that_does_not_fit_the_card_is_named_and_nothing_is_written(bench, capsys):
    name = "Maximiliana " * 12
    (bench / "orders.csv").write_text(f"name\nRosa Ferro\n{name.strip()}\n", encoding="utf-8")
    assert make("--orders", "orders.csv") == 1
    told = 'orders.csv:3: error: name is too long for the line "made for" of the A6 care card, also in 7 pt\n'
    assert told in capsys.readouterr().err
    assert not (bench / "box").exists()


def test_every_variant_gets_the_orders_that_name_it(bench, capsys):
    spec = SPEC.read_text(encoding="utf-8") + '\n[variants.small.measures]\nedge = "1/8 in"\n[variants.plain]\n'
    (bench / "bag.toml").write_text(spec, encoding="utf-8")
    (bench / "orders.csv").write_text("name,variant\nRosa Ferro,plain\nJon Ek,small\n", encoding="utf-8")
    call = ["make", "bag.toml", "--only", "care-card", "--out", "box", "--orders", "orders.csv"]
    assert main(call) == 0
    found = {
        path.parent.name: PdfReader(path).pages[0].extract_text() for path in (bench / "box").rglob("care-card.pdf")
    }
    assert {name: ("Rosa Ferro" in text, "Jon Ek" in text) for name, text in found.items()} == {
        "plain": (True, False),
        "small": (False, True),
    }
    (bench / "orders.csv").write_text("name,variant\nRosa Ferro,plane\n", encoding="utf-8")
    capsys.readouterr()
    assert main([*call[:-3], "none", *call[-2:]]) == 1
    assert capsys.readouterr().err == (
        'orders.csv:2: error: there is no variant "plane"\n'
        "    written: Rosa Ferro,plane\n"
        '    mend:    did you mean "plain"?\n'
        "1 error\n"
    )
    assert not (bench / "none").exists()


def test_variants_that_nobody_ordered_get_no_blank_cards(bench):
    spec = SPEC.read_text(encoding="utf-8") + '\n[variants.small.measures]\nedge = "1/8 in"\n[variants.plain]\n'
    (bench / "bag.toml").write_text(spec, encoding="utf-8")
    (bench / "orders.csv").write_text("name,variant\nRosa Ferro,plain\n", encoding="utf-8")
    call = ["make", "bag.toml", "--only", "care-card", "--out"]
    assert main([*call, "box", "--orders", "orders.csv"]) == 0
    assert [path.parent.name for path in (bench / "box").rglob("*.pdf")] == ["plain"]
    assert main([*call[:-1], "cutting-list", "--out", "both", "--orders", "orders.csv"]) == 0
    found = sorted(path.relative_to(bench / "both").as_posix() for path in (bench / "both").rglob("*.pdf"))
    assert found == ["plain/care-card.pdf", "plain/cutting-list.pdf", "small/cutting-list.pdf"]
    assert main([*call, "blank"]) == 0
    assert len(list((bench / "blank").rglob("care-card.pdf"))) == 2
