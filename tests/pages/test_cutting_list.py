"""The cutting list: every part once, sums and amounts from the values, all inside the page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from docgen.fonts import text_width_mm
from docgen.pages.cutting_list import count_words, lay_out_cutting_list, thickness_words
from docgen.pages.page import ClipMark, Document, Mark, TextMark
from docgen.pages.setup import Setup
from docgen.pages.templates import load_page_style
from docgen.plan import CutItem, Plan, plan_work
from docgen.problems import Place, make_caution
from docgen.read import read_spec
from docgen.resolve import Build, resolve_build
from docgen.units import MM2_PER_SQFT, format_area

SPECS = Path(__file__).parents[2] / "specs"
PAPERS = {"letter": (215.9, 279.4), "A4": (210.0, 297.0)}
HOSTILE = ('<b>&amp;</b> <img src="x"/> {{ x }} # -', "W" * 200)


@cache
def demo_build(name: str) -> Build:
    return resolve_build(read_spec(SPECS / f"{name}.toml"))


def make_setup(paper: str = "letter") -> Setup:
    width, height = PAPERS[paper]
    return Setup(
        paper_width_mm=width, paper_height_mm=height, margin_mm=6.0, date="2026-03-04",
        style=load_page_style(),
    )  # fmt: skip


def visible_marks(
    marks: tuple[Mark, ...], dx: float = 0.0, dy: float = 0.0
) -> Iterator[tuple[Mark, float, float]]:
    """Every mark with how far it is moved; what a clip cuts off is left in: text must not need cutting."""
    for mark in marks:
        if isinstance(mark, ClipMark):
            yield from visible_marks(mark.marks, dx + mark.dx_mm, dy + mark.dy_mm)
        else:
            yield mark, dx, dy


def texts(document: Document) -> list[str]:
    return [
        mark.text.replace("\u00a0", " ")
        for page in document.pages
        for mark, _, _ in visible_marks(page.marks)
        if isinstance(mark, TextMark)
    ]


def check_inside(document: Document) -> None:
    """No letter and no figure leaves the printer's margin; letters above the band stay out of it too."""
    for page in document.pages:
        for mark, dx, dy in visible_marks(page.marks):
            if not isinstance(mark, TextMark):
                continue
            wide = text_width_mm(mark.text, mark.face, mark.size_mm)
            left = mark.x_mm + dx - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
            assert left >= 6 - 1e-6
            assert left + wide <= page.width_mm - 6 + 1e-6, mark.text
            assert mark.y_mm + dy >= 6 - 1e-6
            assert mark.y_mm + dy + mark.size_mm <= page.height_mm - 6
        for mark in page.marks:
            if isinstance(mark, ClipMark):
                assert mark.box.left >= 14 - 1e-6
                assert mark.box.right <= page.width_mm - 14 + 1e-6
                assert mark.box.bottom >= 6 + 27


def lay_out_texts(plan: Plan) -> list[str]:
    return texts(lay_out_cutting_list(plan, make_setup()))


def joined(plan: Plan) -> str:
    return " ".join(lay_out_texts(plan))


def with_material(plan: Plan, **changes: object) -> Plan:
    """The plan with its first material's sums changed."""
    return replace(plan, materials=(replace(plan.materials[0], **changes), *plan.materials[1:]))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["field-bag", "notebook-sleeve"])
@pytest.mark.parametrize("changes", [{}, {"makes": 12}, {"show": "mm"}, {"show": "in"}])
def test_demo_pages_stay_inside(name: str, paper: str, changes: dict[str, object]) -> None:
    plan = plan_work(replace(demo_build(name), **changes))
    document = lay_out_cutting_list(plan, make_setup(paper))
    check_inside(document)
    assert [page.label for page in document.pages] == [
        f"Cutting list {n + 1}" for n in range(len(document.pages))
    ]
    assert all(f"/CUTTING-LIST/{n}" in page.payload for n, page in enumerate(document.pages, start=1))
    assert document.name == "cutting-list"


def test_pages_are_well_filled_before_the_last() -> None:
    document = lay_out_cutting_list(plan_work(demo_build("field-bag")), make_setup())
    for page in document.pages[:-1]:
        lowest = min(m.y_mm for m in page.marks if isinstance(m, TextMark) and m.y_mm > 36)
        assert lowest < page.height_mm / 2


def test_every_part_has_one_line() -> None:
    """Titles are given made-up words that stand nowhere else and do not wrap."""
    build = demo_build("field-bag")
    pieces = tuple(replace(piece, title=f"Piece{n:02}") for n, piece in enumerate(build.pieces))
    straps = tuple(replace(strap, title=f"Strap{n:02}") for n, strap in enumerate(build.straps))
    hardware = tuple(replace(item, what=f"Metal{n:02}") for n, item in enumerate(build.hardware))
    found = lay_out_texts(plan_work(replace(build, pieces=pieces, straps=straps, hardware=hardware)))
    for wanted in [*(p.title for p in pieces), *(s.title for s in straps), *(h.what for h in hardware)]:
        assert found.count(wanted) == 1
    places = [found.index(text) for text in found if text.startswith(("Strap0", "Piece0"))]
    first_piece = min(found.index(p.title) for p in pieces)
    assert places
    assert all(found.index(s.title) < first_piece for s in straps)


def test_sum_of_the_pieces_is_the_sum_shown() -> None:
    plan = plan_work(demo_build("field-bag"))
    found = joined(plan)
    for material in plan.materials:
        total = sum(i.area_mm2 * i.count for i in (*material.straps, *material.items))
        assert format_area(total, "in") in found


def test_five_square_feet_at_twenty_percent_lost_take_six_and_a_quarter() -> None:
    """5 / (1 - 0.20) = 6.25 by definition: waste is a share of what is bought."""
    build = demo_build("field-bag")
    first = replace(build.materials[0], waste=0.20)
    plan = plan_work(replace(build, materials=(first, *build.materials[1:])))
    share = 5.0 * MM2_PER_SQFT / plan.materials[0].net_mm2
    gross = plan.materials[0].gross_mm2 * share
    found = joined(with_material(plan, net_mm2=5.0 * MM2_PER_SQFT, gross_mm2=gross))
    assert "5 sq ft (46.5 dm²)" in found
    assert "20 % of the hide is lost" in found
    assert "6.25 sq ft (58.1 dm²)" in found


def test_goods_from_a_roll_say_their_running_length() -> None:
    plan = plan_work(demo_build("field-bag"))
    found = " ".join(lay_out_texts(replace(plan, materials=(replace(plan.materials[1], run_mm=1371.6),))))
    assert "1.5 yd (1.37 m)" in found
    assert "54 in (1371.6 mm)" in found


@pytest.mark.parametrize(("makes", "words"), [(1, "1 make"), (12, "12 makes")])
def test_head_says_the_batch_and_what_has_changed(makes: int, words: str) -> None:
    build = replace(demo_build("field-bag"), makes=makes, changed="Everything anew.")
    found = lay_out_texts(plan_work(build))
    assert found[:2] == ["Cutting list", build.title]
    assert words in found
    assert "Everything anew." in found


def test_counts_say_which_are_mirrored() -> None:
    item = CutItem(
        name="a", title="A", count=2, is_pair=True, shape="rectangle", width_mm=1, height_mm=1,
        area_mm2=1, notes=(),
    )  # fmt: skip
    said = {"mirrored": "mirrored"}
    assert count_words(item, said) == "2 (1 + 1 mirrored)"
    assert count_words(replace(item, is_pair=False), said) == "2"


@pytest.mark.parametrize(
    ("written", "kind", "words"),
    [("5 oz", "leather", "5 oz (2 mm)"), ("2 mm", "leather", "2 mm (5 oz)"), ("2 mm", "fabric", "2 mm")],
)
def test_thickness_is_given_as_written_and_in_the_other_unit(written: str, kind: str, words: str) -> None:
    """5 oz of 1/64 in each are 1.984 mm, and 1.984375 mm are 5 oz."""
    material = replace(
        demo_build("field-bag").materials[0], thickness_mm=1.984375, thickness_words=written, kind=kind
    )
    assert thickness_words(material) == words


def test_thread_for_machine_and_hand() -> None:
    by_machine, by_hand = (
        joined(plan_work(demo_build("field-bag"))),
        joined(plan_work(demo_build("notebook-sleeve"))),
    )
    assert "Tex 135 bonded nylon 130/21" in by_machine
    assert "Thread (estimate)" in by_machine
    assert "Tex 280 waxed linen 2 hand needles" in by_hand


def test_cautions_of_the_build_and_the_blade_are_printed() -> None:
    caution = make_caution(Place(), "the needle is thin for its thread", "take 140/22")
    found = joined(plan_work(replace(demo_build("field-bag"), cautions=(caution,))))
    assert "the needle is thin for its thread; take 140/22" in found
    assert "Blade: Cut away from the hand that holds the rule" in found


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_text_and_inside(words: str) -> None:
    build = demo_build("field-bag")
    build = replace(
        build, title=words, changed=words,
        pieces=tuple(replace(piece, title=words, note=words) for piece in build.pieces),
        straps=tuple(replace(strap, title=words, note=words) for strap in build.straps),
        materials=tuple(replace(goods, title=words, tannage=words, note=words) for goods in build.materials),
        hardware=tuple(replace(item, what=words, finish=words, note=words) for item in build.hardware),
        stitches=tuple(replace(stitch, thread_words=words) for stitch in build.stitches),
    )  # fmt: skip
    document = lay_out_cutting_list(plan_work(build), make_setup())
    check_inside(document)
    said = "".join(texts(document)).replace(" ", "")
    assert said.count(words.replace(" ", "")) >= len(build.pieces)
