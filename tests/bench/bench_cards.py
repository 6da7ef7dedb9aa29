"""Cards per second, laid out and written, for 500 orders in every size: `python tests/bench/bench_cards.py`."""

import tempfile
import time
from dataclasses import replace
from pathlib import Path

from docgen.checks import resolve_build
from docgen.pages.care.care_card import CARD_SIZES_MM, lay_out_care_card
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import Packet
from docgen.pages.setting.setup import Setup
from docgen.plan import Plan, plan_work
from docgen.read import Order, read_spec
from docgen.resolve import Care
from docgen.write import finish_documents, replace_files

SPEC = Path(__file__).parents[2] / "specs" / "field-bag.toml"
CARDS = 500
LANGUAGES = ("en", "de", "fr", "es", "it")


def make_plan(card: str) -> Plan:
    plan = plan_work(resolve_build(read_spec(SPEC)))
    return replace(plan, build=replace(plan.build, care=Care(card=card, sides=2)))


def make_orders() -> list[Order]:
    return [
        Order(
            name=f"Customer {number}",
            serial=f"A-{number:03}",
            date="2026-03-31",
            personal_line="For ten years of seeds." if number % 3 else "",
            language=LANGUAGES[number % 5],
        )
        for number in range(CARDS)
    ]


def time_cards(card: str, folder: Path) -> tuple[int, float, float]:
    """Pages, and seconds to lay out and to write."""
    setup = Setup(
        paper_width_mm=210.0, paper_height_mm=297.0, margin_mm=6.35, date="2026-03-31", style=load_page_style()
    )
    plan, orders = make_plan(card), make_orders()
    began = time.perf_counter()
    document = lay_out_care_card(plan, setup, orders)
    laid = time.perf_counter()
    packet = Packet(documents=(document,), title="Apron", author="", source_name="", source=b"", date="2026-03-31")
    replace_files(folder, finish_documents(packet, only=("care-card",)))
    return len(document.pages), laid - began, time.perf_counter() - laid


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        for card in CARD_SIZES_MM:
            pages, lay_s, write_s = time_cards(card, Path(folder))
            print(
                f"{card:10} {CARDS / (lay_s + write_s):6.0f} cards a second "
                f"({CARDS} cards, {pages} pages: laid out in {lay_s:.2f} s, written in {write_s:.2f} s)"
            )


if __name__ == "__main__":
    main()
