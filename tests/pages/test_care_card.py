"""The care card: whole, cut out without cutting into marks or words, in every size on every usual paper."""

from dataclasses import replace

import pypdfium2
import pytest
import zxingcpp

from docgen.geometry import Box, boxes_overlap, path_box
from docgen.pages.card import LEAST_PT, MARGIN_MM, list_advice
from docgen.pages.care_card import CARD_SIZES_MM, REACH_MM, draw_crop_marks, find_sheet, lay_out_care_card
from docgen.pages.frame import page_frame
from docgen.pages.moving import mark_box
from docgen.pages.page import CodeMark, Packet, TextMark
from docgen.pages.setup import Setup
from docgen.pages.templates import load_page_style
from docgen.plan import Plan
from docgen.problems import Place, SpecRejected, render_problems
from docgen.resolve import Build, Care, Printing, Shop
from docgen.tables.care import ADVICE, find_care
from docgen.units import MM_PER_POINT
from docgen.write import write_documents

STYLE = load_page_style()
PAPERS_MM = {
    "letter": (215.9, 279.4),
    "a4": (210.0, 297.0),
    "tabloid": (279.4, 431.8),
    "least": (190.0, 250.0),
}
EVERY_CARD = [(paper, card) for paper in PAPERS_MM for card in CARD_SIZES_MM]
FEW = find_care([("leather", "vegetable", "oiled")], [])
MANY = find_care(
    [("leather", "vegetable", "waxed"), ("fabric", "", ""), ("foam", "", "")],
    ["nickel-plated", "solid brass"],
)


def make_setup(paper="letter", margin_mm=6.35):
    wide, high = PAPERS_MM[paper]
    return Setup(
        paper_width_mm=wide, paper_height_mm=high, margin_mm=margin_mm, date="2026-03-31", style=STYLE
    )


def make_plan(
    card="A6", extra="", repair="", advice=MANY, title="Apron with a pocket", makes=1, **care_places
):
    build = Build(
        code="apron",
        title=title,
        version="4",
        changed="",
        show="mm",
        makes=makes,
        digest="0123456789",
        source_name="apron.toml",
        source=b"",
        shop=Shop(name="Alder Lane Leather", contact="bench@alder-lane.example"),
        printing=Printing(paper="letter", margin_mm=6.35, overlap_mm=10.0),
        materials=(),
        stitches=(),
        pieces=(),
        joins=(),
        seams=(),
        straps=(),
        hardware=(),
        steps=(),
        care=Care(card=card, extra=extra, repair=repair, **care_places),
        cautions=(),
    )
    return Plan(
        build=build,
        materials=(),
        threads=(),
        hardware=(),
        steps=(),
        is_proposed=False,
        tools=(),
        hazards=(),
        care=advice,
    )


def contains(outer, inner, slack=1e-6):
    return (
        outer.left <= inner.left + slack
        and outer.bottom <= inner.bottom + slack
        and inner.right <= outer.right + slack
        and inner.top <= outer.top + slack
    )


def shrink(box, by):
    return Box(box.left + by, box.bottom + by, box.right - by, box.top - by)


def card_words(page, box):
    return " ".join(
        mark.text.replace("\u00a0", " ")
        for mark in page.marks
        if isinstance(mark, TextMark) and contains(box, mark_box(mark))
    )


@pytest.mark.parametrize(("paper", "card"), EVERY_CARD)
def test_cards_and_crop_marks_lie_inside_the_printable_room_and_apart(paper, card):
    setup = make_setup(paper)
    sheet = find_sheet(CARD_SIZES_MM[card], setup)
    room = page_frame(sheet.width_mm, sheet.height_mm, setup.margin_mm, STYLE)
    for box in sheet.boxes:
        assert sorted((box.width, box.height)) == pytest.approx(sorted(CARD_SIZES_MM[card]))
        assert contains(room, box)
        for mark in draw_crop_marks(box, STYLE.hair_line_mm):
            assert contains(room, path_box(mark.path))
            assert not any(boxes_overlap(path_box(mark.path), other) for other in sheet.boxes)


def test_crop_marks_stand_off_the_corner_in_line_with_the_sides():
    marks = draw_crop_marks(Box(50.0, 60.0, 155.0, 208.0), 0.15)
    boxes = [path_box(mark.path) for mark in marks]
    assert len(boxes) == 8
    assert Box(44.5, 60.0, 48.5, 60.0) in boxes
    assert Box(155.0, 209.5, 155.0, 213.5) in boxes


def test_as_many_cards_lie_on_a_sheet_as_its_room_allows():
    counts = {
        (paper, card): len(find_sheet(CARD_SIZES_MM[card], make_setup(paper)).boxes)
        for paper, card in EVERY_CARD
    }
    # Room above the band divided by the card with its crop marks, by hand: letter 203.2 x 236.7 mm takes
    # 1 x 2 of 159 x 116 mm; tabloid 266.7 x 389.1 mm takes 2 x 2 of 116 x 159 mm.
    assert counts[("letter", "A6")] == counts[("a4", "A6")] == counts[("a4", "4x6 in")] == 2
    assert counts[("tabloid", "A6")] == counts[("tabloid", "4x6 in")] == 4
    assert counts[("least", "A6")] == 1


def test_widest_margin_on_the_least_paper_still_takes_a_card():
    for size in CARD_SIZES_MM.values():
        assert find_sheet(size, make_setup("least", margin_mm=25.4)).boxes


def test_sheet_that_takes_no_card_is_an_error():
    setup = replace(make_setup(), paper_width_mm=100.0, paper_height_mm=150.0)
    with pytest.raises(ValueError, match=r"^no card fits a sheet of 100\.0 x 150\.0 mm$"):
        find_sheet(CARD_SIZES_MM["A6"], setup)


@pytest.mark.parametrize(("makes", "sheets"), [(1, 1), (2, 1), (3, 2), (40, 20), (1000, 20)])
def test_there_is_a_card_for_each_make_on_full_sheets_up_to_twenty(makes, sheets):
    assert len(lay_out_care_card(make_plan(makes=makes, advice=FEW), make_setup()).pages) == sheets


@pytest.mark.parametrize(("paper", "card"), EVERY_CARD)
def test_every_mark_of_a_card_stays_inside_its_margin(paper, card):
    setup = make_setup(paper)
    sheet = find_sheet(CARD_SIZES_MM[card], setup)
    plan = make_plan(card, extra="Waxed once more before it left the bench.", repair="Write to us.")
    page = lay_out_care_card(plan, setup).pages[0]
    band_top = setup.margin_mm + STYLE.band_mm
    own = [mark for mark in page.marks if mark_box(mark).bottom > band_top]
    crops = [path_box(mark.path) for box in sheet.boxes for mark in draw_crop_marks(box, 0.15)]
    inside = [mark for mark in own if getattr(mark, "path", None) is None or path_box(mark.path) not in crops]
    assert len(inside) == len(own) - len(set(crops))
    # The lowest line is in capitals: what its type keeps free below them may lie in the margin.
    free = [shrink(box, MARGIN_MM - 0.6) for box in sheet.boxes]
    for mark in inside:
        assert any(contains(box, mark_box(mark)) for box in free), mark


@pytest.mark.parametrize("card", CARD_SIZES_MM)
def test_every_card_says_everything_once(card):
    plan = make_plan(card, extra="The pocket holds a pencil.", repair="Ask for a new strap.")
    page = lay_out_care_card(plan, make_setup()).pages[0]
    for box in find_sheet(CARD_SIZES_MM[card], make_setup()).boxes:
        said = card_words(page, box)
        for advice in MANY:
            assert said.count(f"{advice.heading} {advice.text}") == 1
        for words in (
            "Care card",
            "Apron with a pocket",
            "Alder Lane Leather",
            "bench@alder-lane.example",
            "From the bench The pocket holds a pencil.",
            "Repair Ask for a new strap.",
            "made for",
            "made on",
            "version 4",
        ):
            assert said.count(words) == 1, words


def test_words_of_the_shop_stay_words():
    plan = make_plan(extra="# <b>50 %</b> {{ 1 + 1 }} - [ ] ! & more", advice=FEW)
    assert list_advice(plan)[-1].text == "# <b>50 %</b> {{ 1 + 1 }} - [ ] ! & more"
    assert list_advice(plan)[-1].heading == "From the bench"


def test_nothing_is_said_where_the_shop_has_no_words_of_its_own():
    assert [advice.heading for advice in list_advice(make_plan())] == [advice.heading for advice in MANY]


def body_size_pt(plan):
    marks = lay_out_care_card(plan, make_setup()).pages[0].marks
    headings = {advice.heading for advice in plan.care}
    return next(m.size_mm for m in marks if isinstance(m, TextMark) and m.text in headings) / MM_PER_POINT


def test_short_last_words_stay_together():
    plan = make_plan(extra="The outer pocket holds a thin book that is tall, up to 7 in.", advice=FEW)
    texts = [
        mark.text
        for mark in lay_out_care_card(plan, make_setup()).pages[0].marks
        if isinstance(mark, TextMark)
    ]
    assert any(text.endswith("7\u00a0in.") for text in texts)


def test_type_is_as_large_as_the_words_allow():
    assert body_size_pt(make_plan(advice=FEW)) == pytest.approx(9.5)
    sizes = [body_size_pt(make_plan(extra="A word more. " * count)) for count in (1, 20, 40)]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] > sizes[-1] >= LEAST_PT


@pytest.mark.parametrize("card", CARD_SIZES_MM)
@pytest.mark.parametrize("link", ["", "https://" + "a" * 72])
def test_longest_advice_fits_every_card(card, link):
    longest = tuple(sorted(ADVICE, key=lambda advice: len(advice.heading + advice.text))[-8:])
    plan = make_plan(
        card, advice=longest, title="A bag with a title that is about as long as titles ever are " * 2
    )
    plan = replace(plan, build=replace(plan.build, shop=replace(plan.build.shop, link=link)))
    page = lay_out_care_card(plan, make_setup()).pages[0]
    box = find_sheet(CARD_SIZES_MM[card], make_setup()).boxes[0]
    assert all(f"{advice.heading} {advice.text}" in card_words(page, box) for advice in longest)


def reject(plan):
    with pytest.raises(SpecRejected) as caught:
        lay_out_care_card(plan, make_setup())
    return render_problems(caught.value.problems)


def test_too_many_words_of_the_shop_are_told_with_their_length():
    plan = make_plan(
        extra="A word more from the bench. " * 35,
        repair="Write to us.",
        extra_place=Place(path="apron.toml", line=71, column=10, words='extra = "A word"'),
    )
    assert reject(plan) == (
        "apron.toml:71: error: extra and repair are 9 lines too long for the A6 care card "
        "in its smallest type\n"
        '    written: extra = "A word"\n'
        "    mend:    take out about 650 letters\n"
        "1 error"
    )


def test_repair_alone_is_named_alone():
    plan = make_plan(repair="Write to us. " * 70, repair_place=Place(path="apron.toml", line=72))
    assert reject(plan) == (
        "apron.toml:72: error: repair is 4 lines too long for the A6 care card in its smallest type\n"
        "    mend:    take out about 330 letters\n"
        "1 error"
    )


def test_taking_out_as_many_letters_as_the_message_says_is_enough():
    words = "A word more from the bench. " * 35
    plan = make_plan(extra=words[: len(words) - 650], repair="Write to us.")
    assert lay_out_care_card(plan, make_setup()).pages


def test_title_that_leaves_no_room_is_told():
    plan = make_plan(title="A very long title " * 40, extra="Short.")
    assert reject(plan) == (
        "apron.toml: error: title, shop and contact leave the advice 10 lines too little "
        "on the A6 care card in its smallest type\n"
        "    mend:    shorten the title, or the shop's contact\n"
        "1 error"
    )


@pytest.mark.parametrize(("paper", "card"), [("letter", "A6"), ("a4", "4x6 in"), ("tabloid", "A6")])
def test_codes_of_cards_and_page_say_the_same_and_can_be_read(paper, card, tmp_path):
    document = lay_out_care_card(make_plan(card, makes=9, advice=FEW), make_setup(paper))
    packet = Packet(
        documents=(document,), title="Apron", author="", source_name="", source=b"", date="2026-03-31"
    )
    (path, _) = write_documents(packet, tmp_path)
    with pypdfium2.PdfDocument(path) as pdf:
        for number, page in enumerate(document.pages, start=1):
            picture = pdf[number - 1].render(scale=200 / 72).to_pil()
            found = [code.text for code in zxingcpp.read_barcodes(picture)]
            wanted = [mark for mark in page.marks if isinstance(mark, CodeMark)]
            assert found == [f"SPEC:APRON/4/0123456789/CARE-CARD/{number}"] * len(wanted)
            assert len(wanted) == 1 + len(find_sheet(CARD_SIZES_MM[card], make_setup(paper)).boxes)


@pytest.mark.parametrize(("paper", "card"), EVERY_CARD)
def test_no_words_or_lines_come_into_the_white_round_a_code(paper, card):
    page = lay_out_care_card(make_plan(card), make_setup(paper)).pages[0]
    for code in (mark for mark in page.marks if isinstance(mark, CodeMark)):
        quiet = 4 * code.size_mm / len(code.rows)
        white = Box(
            code.x_mm - quiet,
            code.y_mm - quiet,
            code.x_mm + code.size_mm + quiet,
            code.y_mm + code.size_mm + quiet,
        )
        others = [mark for mark in page.marks if mark is not code]
        assert not [mark for mark in others if boxes_overlap(shrink(white, 1e-6), mark_box(mark))]


def test_same_plan_gives_the_same_pages():
    assert lay_out_care_card(make_plan(), make_setup()) == lay_out_care_card(make_plan(), make_setup())


def test_cards_keep_room_for_crop_marks_of_their_own():
    first, second = find_sheet(CARD_SIZES_MM["A6"], make_setup()).boxes
    assert first.bottom - second.top == pytest.approx(2 * REACH_MM)
