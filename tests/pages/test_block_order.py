"""The blocks of a document stand in the order of the layout in use."""

import tomllib
from dataclasses import replace
from functools import cache

import pytest
from demos import demo_plan

from docgen.layout_files import Layouts, shipped_layouts, use_layouts
from docgen.pages import choices_of, lay_out
from docgen.pages.looks.block_order import arrange, find_order
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Packet, TextMark


def order_as(**changed: list[str]) -> Layouts:
    """The shipped layouts with other lists in order.toml."""
    lists = tomllib.loads(shipped_layouts().find("order.toml").source.decode()) | changed
    source = "".join(f"{key} = {names}\n" for key, names in lists.items()).encode()
    files = (
        replace(f, source=source, is_shipped=False) if f.name == "order.toml" else f for f in shipped_layouts().files
    )
    return Layouts(tuple(files))


@cache
def lay(layouts: Layouts | None = None) -> Packet:
    plan = demo_plan()
    return lay_out(plan, choices=choices_of(plan.build.printing), date="2026-03-31", layouts=layouts)


def place_of(packet: Packet, document: str, text: str) -> tuple[int, float]:
    """Page and depth of the first line that begins so; StopIteration when there is none."""
    pages = next(item for item in packet.documents if item.name == document).pages
    return next(
        (number, -mark.y_mm)
        for number, page in enumerate(pages)
        for mark in page.marks
        if isinstance(mark, TextMark) and mark.text.startswith(text)
    )


def test_parts_are_arranged_and_those_not_listed_are_left_out() -> None:
    names = ["cautions", "head", "blade", "accepted", "materials"]
    with use_layouts(order_as(cutting_list=names)):
        assert find_order("cutting_list") == tuple(names)
        parts = {"head": [1, 2], "hardware": [3], "materials": [4], "cautions": []}
        assert arrange("cutting_list", parts) == [1, 2, 4]


def test_hardware_can_come_before_the_leather_on_the_cutting_list() -> None:
    names = ["head", "how", "blade", "cautions", "accepted", "hardware", "materials", "thread", "supplies"]
    leather, hardware = f"{words('cutting')['from']} ", words("cutting")["hardware_title"]
    shipped, own = lay(), lay(order_as(cutting_list=names))
    assert place_of(shipped, "cutting-list", leather) < place_of(shipped, "cutting-list", hardware)
    assert place_of(own, "cutting-list", hardware) < place_of(own, "cutting-list", leather)


def test_stitches_can_come_before_tools_on_the_build_sheet_and_tools_can_go() -> None:
    said = words("building")
    own = lay(order_as(build_sheet=["head", "stitches", "lists", "cautions", "accepted", "hazards"]))
    assert place_of(own, "build-sheet", said["setup_title"]) < place_of(own, "build-sheet", said["goods_title"])
    bare = lay(order_as(build_sheet=["head", "stitches", "cautions", "accepted", "hazards"]))
    with pytest.raises(StopIteration):
        place_of(bare, "build-sheet", said["goods_title"])


def test_advice_of_the_care_card_follows_the_list() -> None:
    shipped = list(find_order("care_advice"))
    own = lay(order_as(care_advice=[*shipped[shipped.index("wet") :], *shipped[: shipped.index("wet")]]))
    clean, wet = "Waxed leather", "If it gets wet"
    below = "care-card"
    down = {text: place_down(packet, below, text) for packet in (own,) for text in (clean, wet)}
    assert down[wet] < down[clean]
    assert place_down(lay(), below, clean) < place_down(lay(), below, wet)


def place_down(packet: Packet, document: str, text: str) -> float:
    """How far down its card a heading stands; the first card of a sheet stands upright."""
    page = next(item for item in packet.documents if item.name == document).pages[0]
    return next(-mark.y_mm for mark in page.marks if isinstance(mark, TextMark) and mark.text.startswith(text))
