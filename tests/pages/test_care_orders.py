"""Care cards for orders: one for each, in their order, with their words in their language."""

import math
from dataclasses import replace

import pypdfium2
import pytest

from docgen.fonts import cap_height_mm, descent_mm
from docgen.geometry.path import path_box
from docgen.layout_files import Layouts, list_languages, shipped_layouts, use_layouts
from docgen.pages.care import care_card
from docgen.pages.care.card import Look, draw_blank, find_kind
from docgen.pages.care.card_format import find_format
from docgen.pages.care.card_sheet import find_sheet
from docgen.pages.care.care_card import CARD_SIZES_MM, lay_out_care_card
from docgen.pages.care.care_words import load_care_words
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Packet, PathMark, TextMark
from docgen.pages.setting.setup import Setup
from docgen.problems import Place, SpecRejected, render_problems
from docgen.read import Order
from docgen.resolve import Care
from docgen.write import finish_documents, replace_files

SETUP = Setup(paper_width_mm=210.0, paper_height_mm=297.0, margin_mm=6.35, date="2026-03-31", style=load_page_style())
ROSA = Order(
    name="Rosa Ferro",
    serial="A-1",
    date="2026-03-31",
    personal_line="For ten years of seeds.",
    language="it",
    place=Place(path="orders.csv", line=2),
)


@pytest.fixture
def make_plan(care_plan):
    def make(card="A6", sides=1, **more):
        care = Care(card=card, sides=2 if card in ("ID-1", "A5 folded") else sides, **more)
        return replace(care_plan, build=replace(care_plan.build, care=care))

    return make


def boxes_of(card):
    return [place.box for place in find_sheet(find_format(card, 2), 210.0, 297.0, SETUP.margin_mm).places]


def tell_cards(document, card, sides=1):
    """The words of every card in reading order, fronts only."""
    boxes = boxes_of(card)
    told = []
    for page in document.pages[::sides]:
        for box in boxes:
            inside = [
                mark.text
                for mark in page.marks
                if isinstance(mark, TextMark)
                and box.left <= mark_box(mark).left
                and mark_box(mark).right <= box.right
                and box.bottom <= mark_box(mark).bottom
                and mark_box(mark).top <= box.top
            ]
            told += [inside] if inside else []
    return told


@pytest.mark.parametrize("card", CARD_SIZES_MM)
def test_every_order_has_its_card_in_order_and_as_many_as_it_asks_for(make_plan, card):
    plan = make_plan(card)
    orders = [replace(ROSA, copies=2), Order(name="Jon Ek", serial="A-2"), Order(), Order(name="Mira Sol")]
    told = tell_cards(lay_out_care_card(plan, SETUP, orders), card, plan.build.care.sides)
    names = [next((text for text in texts if text in ("Rosa Ferro", "Jon Ek", "Mira Sol")), "") for texts in told]
    assert names == ["Rosa Ferro", "Rosa Ferro", "Jon Ek", "", "Mira Sol"]


@pytest.mark.parametrize("card", CARD_SIZES_MM)
def test_card_carries_all_that_the_order_says(make_plan, card):
    plan = make_plan(card, language="de")
    first, second = tell_cards(lay_out_care_card(plan, SETUP, [ROSA, Order()]), card, plan.build.care.sides)
    for words in ("Rosa Ferro", "A-1", "2026-03-31", "For ten years of seeds.", "Scheda di cura", "per", "n."):
        assert first.count(words) == 1, words
    assert {"Pflegekarte", "für", "gefertigt am"} <= set(second)
    assert "Nr." not in second


def test_a_batch_makes_no_more_cards_than_there_are_orders(make_plan):
    plan = make_plan()
    plan = replace(plan, build=replace(plan.build, makes=30))
    assert len(lay_out_care_card(plan, SETUP, [ROSA]).pages) == 1


def test_names_in_latin_greek_and_cyrillic_are_printed(make_plan, tmp_path):
    """Read back by pdfium from the written file."""
    names = ("Łucja Čapková", "Ελένη Παπαδοπούλου", "Светлана Якимова", "Zoë Ñáñez")
    document = lay_out_care_card(make_plan("ID-1"), SETUP, [Order(name=name) for name in names])
    packet = Packet(documents=(document,), title="", author="", source_name="", source=b"", date="2026-03-31")
    (path, _) = replace_files(tmp_path, finish_documents(packet))
    with pypdfium2.PdfDocument(path) as pdf:
        text = pdf[0].get_textpage().get_text_bounded()
    assert [name for name in names if name not in text] == []


@pytest.mark.parametrize("card", CARD_SIZES_MM)
@pytest.mark.parametrize("language", list_languages())
def test_no_letter_reaches_the_line_it_stands_on(make_plan, card, language):
    """The deepest letters of every alphabet and of every label stay above their own line, and clear of the next row."""
    plan = make_plan(card, language=language)
    form = find_format(card, plan.build.care.sides)
    order = replace(ROSA, name="Ψηφοφόρου Щукина gjpqyçŞ", language=language)
    look = Look(
        said=load_care_words(language),
        payload="SPEC:APRON/4-DRAFT/0123456789/CARE-CARD/1",
        version="4",
        style=SETUP.style,
    )
    blank = draw_blank(plan, form, find_kind(order, plan, form), look)
    slots = sorted(blank.slots, key=lambda slot: slot.y_mm)
    lines = sorted(
        path_box(mark.path).bottom
        for mark in blank.faces[0]
        if isinstance(mark, PathMark) and mark.stroke and mark.stroke.width_mm == SETUP.style.thin_line_mm
    )
    assert len(lines) == len(slots) == 3
    for slot, line, over in zip(slots, lines, (*lines[1:], slots[-1].y_mm + form.row_mm), strict=True):
        assert slot.y_mm - descent_mm(slot.size_mm) > line + SETUP.style.thin_line_mm / 2
        assert slot.y_mm + cap_height_mm(slot.size_mm) < over - 0.3
        label = look.said.labels[slot.key]
        places = [mark.y_mm for mark in blank.faces[0] if isinstance(mark, TextMark) and mark.text == label]
        assert places == [slot.y_mm]


def reject(plan, orders):
    with pytest.raises(SpecRejected) as caught:
        lay_out_care_card(plan, SETUP, orders)
    return render_problems(caught.value.problems)


def test_words_too_long_for_their_line_are_all_told_with_their_rows(make_plan):
    orders = [
        Order(name="Maximiliana " * 12, place=Place(path="orders.csv", line=2)),
        ROSA,
        Order(serial="A" * 80, place=Place(path="orders.csv", line=4)),
    ]
    said = reject(make_plan(), orders)
    assert said == (
        'orders.csv:2: error: name is too long for the line "made for" of the A6 care card, also in 7 pt\n'
        "    mend:    write at most 47 letters\n"
        'orders.csv:4: error: serial is too long for the line "no." of the A6 care card, also in 7 pt\n'
        "    mend:    write at most 39 letters\n"
        "2 errors"
    )


def test_as_many_letters_as_the_refusal_tells_do_fit_and_one_more_does_not(make_plan):
    for name in ("Maximiliana " * 12, "ij." * 60, "WM" * 40):
        said = reject(make_plan(), [Order(name=name)])
        most = int(said.partition("write at most ")[2].split()[0])
        assert lay_out_care_card(make_plan(), SETUP, [Order(name=name[:most])]).pages[0]
        assert "write at most" in reject(make_plan(), [Order(name=name[: most + 1].rstrip() + "W")])


def test_personal_line_that_takes_the_room_of_the_advice_is_told(make_plan):
    orders = [replace(ROSA, personal_line="For seeds. " * 18)]
    plan = make_plan(extra="A word more from the bench. " * 50)
    assert reject(plan, orders) == (
        "orders.csv:2: error: the personal line leaves the advice too little room on the A6 care card\n"
        "    mend:    shorten it, or take a larger card\n"
        "1 error"
    )


def test_personal_line_too_long_for_a_wallet_card_is_told(make_plan):
    long = replace(ROSA, personal_line="For seeds. " * 18)
    orders = [long, ROSA, replace(long, place=Place(path="orders.csv", line=4))]
    assert reject(make_plan("ID-1"), orders) == (
        "orders.csv:2: error: the personal line does not fit the front of the ID-1 care card\n"
        "    mend:    shorten it, or take a larger card\n"
        "orders.csv:4: error: the personal line does not fit the front of the ID-1 care card\n"
        "    mend:    shorten it, or take a larger card\n"
        "2 errors"
    )


def test_what_cards_share_is_laid_out_once(make_plan, monkeypatch):
    drawn = []
    draw_blank = care_card.draw_blank

    def count(*arguments):
        drawn.append(arguments)
        return draw_blank(*arguments)

    monkeypatch.setattr(care_card, "draw_blank", count)
    orders = [Order(name=f"Customer {number}", serial=f"A-{number}", language="ende"[:2]) for number in range(500)]
    assert (
        len(lay_out_care_card(make_plan("ID-1"), SETUP, orders).pages) == 100
    )  # fronts and backs of 50 sheets, ten cards on each
    assert len(drawn) == 1


def test_pages_are_laid_out_anew_and_always_the_same(make_plan):
    """Cards of thousands of orders are too many to be kept: a page is made whenever it is asked for."""
    orders = [replace(ROSA, serial=f"A-{number}", place=Place()) for number in range(9)]
    pages = lay_out_care_card(make_plan("A6", 2), SETUP, orders).pages
    room = len(boxes_of("A6"))
    sheets = math.ceil(len(orders) / room)
    assert len(pages) == len(list(pages)) == 2 * sheets  # fronts and backs
    assert pages[0] == pages[0]
    assert pages[0] is not pages[0]
    assert pages[1:4] == (pages[1], pages[2], pages[3])
    assert pages[-1].label.endswith(f"{sheets} back")
    with pytest.raises(IndexError):
        pages[2 * sheets]


def test_pages_keep_the_layouts_they_were_laid_out_with(make_plan):
    shipped = shipped_layouts()
    words = next(file for file in shipped.files if file.name == "words.toml")
    other = replace(words, source=words.source.replace(b'\nback = "back"', b'\nback = "other side"'))
    assert other.source != words.source
    own = Layouts(tuple(other if file is words else file for file in shipped.files))
    with use_layouts(own):
        pages = lay_out_care_card(make_plan("A6", 2), SETUP, [ROSA]).pages
    assert pages[1].label.endswith("1 other side")
