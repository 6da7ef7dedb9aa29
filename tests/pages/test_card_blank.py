"""A blank care card line by line: what stands under what, how far apart, in which type.

Distances are those of the design, in mm: common practice, no published source. A line of type takes a strip of 1.28
times its size, with its letters in the middle; strips lie under each other without a gap where none is named here.
"""

from dataclasses import replace
from itertools import pairwise

import pytest

from docgen.fonts import ascent_mm, descent_mm, text_width_mm
from docgen.geometry.path import path_box
from docgen.pages.care.card import Look, break_payload, break_personal, break_shop, draw_blank, draw_order, find_kind
from docgen.pages.care.card_format import find_format
from docgen.pages.care.care_words import load_care_words
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import CodeMark, ImageMark, PathMark, TextMark
from docgen.read import Order, Picture
from docgen.resolve import Care

STYLE = load_page_style()
PT = 25.4 / 72
PAYLOAD = "SPEC:APRON/4/0123456789/CARE-CARD/1"
ORDER = Order(name="Rosa Ferro", serial="A-1", date="2026-03-31", personal_line="For ten years of seeds.")
EVERY_CARD = [("A6", 1), ("A6", 2), ("4x6 in", 1), ("ID-1", 2), ("A5 folded", 2)]
PICTURES = {
    "none": None,
    "square": Picture(width_mm=10.0, height_mm=10.0, columns=1, rows=1, pixels=(b"\0",)),
    "wide": Picture(width_mm=60.0, height_mm=10.0, columns=6, rows=1, pixels=(bytes(6),)),
}


class Card:
    """A blank, what was asked for, and its marks by kind."""

    def __init__(self, plan, card, sides, order=ORDER, picture=None, title="Apron with a pocket", **care):
        care = Care(card=card, sides=sides, **care)
        shop = replace(plan.build.shop, mark=picture)
        self.plan = replace(plan, build=replace(plan.build, care=care, shop=shop, title=title))
        self.form = find_format(card, sides)
        self.panel = self.form.panel(1 if self.form.is_folded else 0)
        self.kind = find_kind(order, self.plan, self.form)
        said = load_care_words("en")
        self.look = Look(said=said, payload=PAYLOAD, version="4", style=STYLE)
        self.blank = draw_blank(self.plan, self.form, self.kind, self.look)
        self.front = self.blank.faces[0]
        self.texts = [mark for mark in self.front if isinstance(mark, TextMark)]
        self.images = [mark for mark in self.front if isinstance(mark, ImageMark)]

    def coded(self):
        """The code of the front, and its words from the top down."""
        (code,) = (mark for mark in self.front if isinstance(mark, CodeMark))
        said = [mark for mark in self.texts if mark.y_mm < code.y_mm + 8.0 and mark.text in PAYLOAD]
        return code, *sorted(said, key=lambda mark: -mark.y_mm)

    def text(self, words):
        (found,) = (mark for mark in self.texts if mark.text == words)
        return found

    def lines(self, width_mm):
        """The level lines of this width on the front, from the top."""
        marks = [mark for mark in self.front if isinstance(mark, PathMark) and mark.stroke.width_mm == width_mm]
        return sorted((path_box(mark.path) for mark in marks), key=lambda box: -box.top)

    def in_title(self):
        return [mark for mark in self.texts if mark.face == "bold" and mark.text in self.plan.build.title]

    def under_title(self):
        shop = self.plan.build.shop
        said = f"{shop.name} · {shop.contact}"
        return [mark for mark in self.texts if mark.text in said and mark.x_mm == self.panel.left]


def top_of(mark):
    inside = ascent_mm(mark.size_mm) + descent_mm(mark.size_mm)
    return mark.y_mm + ascent_mm(mark.size_mm) + (1.28 * mark.size_mm - inside) / 2


def bottom_of(mark):
    return top_of(mark) - 1.28 * mark.size_mm


def near(value):
    return pytest.approx(value, abs=1e-6)


@pytest.fixture(params=[(card, sides, picture) for card, sides in EVERY_CARD for picture in PICTURES], ids=str)
def card(request, care_plan):
    name, sides, picture = request.param
    return Card(care_plan, name, sides, picture=PICTURES[picture])


def test_the_head_stands_line_under_line(card):
    panel, form = card.panel, card.form
    label, title, shop = card.text("Care card"), card.in_title(), card.under_title()
    assert (label.x_mm, label.size_mm, label.face, label.grey) == (panel.left, near(7 * PT), "regular", STYLE.help_grey)
    assert top_of(label) == near(panel.top)
    assert top_of(title[0]) == near(bottom_of(label))
    for upper, lower in pairwise(title):
        assert top_of(lower) == near(bottom_of(upper))
    assert {(mark.x_mm, mark.face, mark.grey) for mark in title} == {(panel.left, "bold", 0.0)}
    assert top_of(shop[0]) == near(bottom_of(title[-1]) - 0.4)
    for upper, lower in pairwise(shop):
        assert top_of(lower) == near(bottom_of(upper))
    assert {(mark.x_mm, mark.face) for mark in shop} == {(panel.left, "regular")}
    assert [mark.size_mm for mark in shop] == near([form.shop_pt * PT] * len(shop))
    below = bottom_of(shop[-1]) - (1.6 if form.has_advice_in_front else 1.0)
    rule = card.lines(STYLE.thick_line_mm)[0]
    assert rule.top == near(min([below, *(mark.y_mm - 1.0 for mark in card.images)]))
    assert (rule.left, rule.right) == (near(panel.left), near(panel.right))


def test_the_title_is_as_large_as_its_room_allows(card):
    largest, least = (size * PT for size in card.form.title_pt)
    room = card.images[0].x_mm - 2.6 - card.panel.left if card.images else card.panel.width
    fitting = room / text_width_mm(card.plan.build.title, "bold", 1.0)
    for mark in card.in_title():
        assert mark.size_mm == near(min(largest, max(least, fitting)))
        assert text_width_mm(mark.text, "bold", mark.size_mm) <= room + 1e-6


def test_the_name_mark_hangs_in_the_upper_right_corner(card):
    for mark in card.images:
        ratio = mark.picture.width_mm / mark.picture.height_mm
        most = 0.7 * 11.0 if card.form.is_short else 11.0
        assert mark.height_mm == near(min(most, 0.28 * card.panel.width / ratio))
        assert mark.x_mm + mark.height_mm * ratio == near(card.panel.right)
        # on the smallest card one line of 7 pt stands above it
        assert mark.y_mm + mark.height_mm == near(card.panel.top - (7 * PT * 1.28 if card.form.is_short else 0.0))
        for line in card.under_title():
            if top_of(line) > mark.y_mm:
                assert line.x_mm + text_width_mm(line.text, "regular", line.size_mm) <= mark.x_mm - 2.6 + 1e-6


def test_name_and_contact_take_the_whole_width_only_below_the_mark(care_plan):
    beside = Card(care_plan, "A6", 1, picture=PICTURES["square"])
    assert [mark.text for mark in beside.under_title()] == ["Alder Lane Leather · bench@alder-lane.example"]
    long = "Apron with a pocket for a pencil, a rule and a pair of shears"
    below = Card(care_plan, "ID-1", 2, picture=PICTURES["wide"], title=long)
    assert top_of(below.under_title()[0]) <= below.images[0].y_mm + 1e-6
    assert len(below.under_title()) == 1


def test_the_version_stands_bold_above_the_code_and_on_the_smallest_card_in_the_head(card):
    version = card.text("version 4")
    if card.form.is_short:
        label = card.text("Care card")
        assert (version.x_mm, version.y_mm, version.anchor) == (card.panel.right, label.y_mm, "end")
        assert (version.size_mm, version.face, version.grey) == (label.size_mm, "regular", 0.0)
    else:
        _, first, *_ = card.coded()
        assert bottom_of(version) == near(top_of(first))
        assert (version.x_mm, version.size_mm, version.face) == (card.panel.left, near(8 * PT), "bold")


def test_the_code_fills_the_lower_right_corner_and_its_words_stand_on_the_margin(card):
    code, *said = card.coded()
    assert isinstance(code, CodeMark)
    assert code.x_mm + code.size_mm == near(card.panel.right)
    assert code.y_mm == near(card.panel.bottom)
    # ISO/IEC 18004: four modules of white round the symbol; and 1 mm
    right = code.x_mm - 4 * code.size_mm / len(code.rows) - 1.0
    assert "".join(mark.text for mark in said) == PAYLOAD
    assert [mark.text for mark in said] == list(break_payload(PAYLOAD, right - card.panel.left))
    assert said[-1].y_mm == near(card.panel.bottom)
    for mark in said:
        assert (mark.x_mm, mark.size_mm, mark.face) == (near(card.panel.left), near(7 * PT), "regular")
        assert mark.x_mm + text_width_mm(mark.text, mark.face, mark.size_mm) <= right + 1e-6


def test_lines_to_write_on_part_the_foot_evenly(card):
    code, *said = card.coded()
    above = top_of(said[0]) if card.form.is_short else top_of(card.text("version 4"))
    quiet = 4 * code.size_mm / len(code.rows)
    low = above + 2.0
    high = max(code.y_mm + code.size_mm + quiet + 0.5, low + 3 * card.form.row_mm)
    lines = card.lines(STYLE.thin_line_mm)
    assert [line.top for line in lines] == [near(low + row * (high - low) / 3) for row in (2, 1, 0)]
    labels = [card.look.said.labels[key] for key in ("for", "serial", "on")]
    left = card.panel.left + 1.5 + max(text_width_mm(label, "regular", 7 * PT) for label in labels)
    for line, label, slot in zip(lines, labels, reversed(card.blank.slots), strict=True):
        mark = card.text(label)
        assert (line.left, line.right) == (near(left), near(code.x_mm - quiet - 1.0))
        assert (mark.x_mm, mark.size_mm, mark.grey) == (card.panel.left, near(7 * PT), STYLE.help_grey)
        assert mark.y_mm == slot.y_mm == near(line.top + STYLE.thin_line_mm / 2 + 0.25 + descent_mm(10 * PT))
        assert (slot.x_mm, slot.width_mm) == (near(line.left + 0.6), near(line.width - 1.2))
        assert slot.size_mm == near(10 * PT)
    ruled = card.lines(STYLE.hair_line_mm)
    assert [line.top for line in ruled] == ([near(high)] if card.form.has_advice_in_front else [])
    assert all((line.left, line.right) == (near(card.panel.left), near(card.panel.right)) for line in ruled)


def test_the_personal_line_stands_under_the_head_and_the_advice_under_it(card):
    rule = card.lines(STYLE.thick_line_mm)[0]
    size = card.form.personal_pt * PT
    added, problems = draw_order(card.blank, ORDER, card.form)
    (personal,) = (mark for mark in added if mark.text == ORDER.personal_line)
    assert problems == ()
    assert (personal.x_mm, personal.size_mm, personal.face) == (card.panel.left, near(size), "regular")
    assert top_of(personal) == near(rule.top - 1.3)
    if card.form.has_advice_in_front:
        advice = [mark for mark in card.texts if mark.face == "bold" and mark not in card.in_title()]
        highest = max(advice, key=lambda mark: mark.y_mm)
        assert top_of(highest) == near(bottom_of(personal) - 2.6)
        lowest = min(mark.y_mm for mark in advice if mark.text != "version 4")
        assert lowest > card.lines(STYLE.hair_line_mm)[0].top + 2.6


@pytest.mark.parametrize(("name", "sides"), EVERY_CARD)
def test_without_a_personal_line_the_advice_begins_under_the_head(care_plan, name, sides):
    card = Card(care_plan, name, sides, order=replace(ORDER, personal_line=""))
    if card.form.has_advice_in_front:
        advice = [mark for mark in card.texts if mark.face == "bold" and mark not in card.in_title()]
        assert top_of(max(advice, key=lambda mark: mark.y_mm)) == near(card.lines(STYLE.thick_line_mm)[0].top - 2.6)
    assert card.blank.personal.height == near(0.0)


@pytest.mark.parametrize(("name", "serial", "rows"), [("A6", "", 2), ("A6", "7", 3), ("ID-1", "", 2)])
def test_a_row_for_the_serial_stands_only_where_there_is_one(care_plan, name, serial, rows):
    card = Card(care_plan, name, 2, order=Order(name="Rosa Ferro", serial=serial))
    assert len(card.lines(STYLE.thin_line_mm)) == len(card.blank.slots) == rows
    assert [slot.key for slot in card.blank.slots] == (["on", "serial", "for"] if serial else ["on", "for"])


@pytest.mark.parametrize(("length", "size_pt"), [(8, 10.0), (30, None)])
def test_words_of_an_order_shrink_to_their_line(care_plan, length, size_pt):
    card = Card(care_plan, "A6", 1)
    (slot,) = (slot for slot in card.blank.slots if slot.key == "for")
    added, problems = draw_order(card.blank, replace(ORDER, name="n" * length), card.form)
    (name,) = (mark for mark in added if mark.text == "n" * length)
    fitting = slot.width_mm / text_width_mm("n" * length, "regular", 1.0)
    assert name.size_mm == near(size_pt * PT if size_pt else fitting)
    assert (name.x_mm, name.y_mm, problems) == (slot.x_mm, slot.y_mm, ())


@pytest.mark.parametrize("serial", ["", "A-1"])
def test_each_word_of_an_order_stands_in_its_own_row(care_plan, serial):
    card = Card(care_plan, "A6", 1, order=replace(ORDER, serial=serial))
    added, _ = draw_order(card.blank, replace(ORDER, serial=serial), card.form)
    rows = {slot.key: slot.y_mm for slot in card.blank.slots}
    found = {mark.text: mark.y_mm for mark in added}
    wanted = {"for": "Rosa Ferro", "on": "2026-03-31"} | ({"serial": "A-1"} if serial else {})
    assert {key: found[text] for key, text in wanted.items()} == rows


def test_the_back_has_a_head_of_its_own_but_on_the_smallest_card(care_plan):
    for name, sides in EVERY_CARD:
        card = Card(care_plan, name, sides)
        if sides == 1:
            assert len(card.blank.faces) == 1
            continue
        panel, back = card.form.panel(), card.blank.faces[1]
        texts = [mark for mark in back if isinstance(mark, TextMark)]
        rules = [path_box(mark.path) for mark in back if isinstance(mark, PathMark)]
        first = max((mark for mark in texts if mark.face == "bold"), key=lambda mark: (mark.y_mm, -mark.x_mm))
        if card.form.is_short:
            assert (rules, top_of(first)) == ([], near(panel.top))
            continue
        (label,) = (mark for mark in texts if mark.text == "Care card")
        assert (label.x_mm, label.size_mm, label.grey) == (panel.left, near(7 * PT), STYLE.help_grey)
        assert top_of(label) == near(panel.top)
        panels = [card.form.panel(column) for column in ((0, 1) if card.form.is_folded else (0,))]
        assert {(rule.left, rule.right) for rule in rules} == {(panel.left, panel.right) for panel in panels}
        assert [rule.top for rule in rules] == [near(bottom_of(label) - 0.6)] * len(panels)
        assert top_of(first) == near(bottom_of(label) - 0.6 - 2.6)


def test_a_folded_card_has_advice_in_both_inner_panels_and_the_shops_words_at_the_foot_of_its_back(care_plan):
    card = Card(care_plan, "A5 folded", 2, extra="The pocket holds a pencil.", repair="Ask for a new strap.")
    left, right = card.form.panel(0), card.form.panel(1)
    inside = [mark for mark in card.blank.faces[1] if isinstance(mark, TextMark) and mark.face == "bold"]
    tops = [max(top_of(mark) for mark in inside if mark.x_mm == panel.left) for panel in (left, right)]
    assert tops[0] == near(tops[1])
    extra, repair = card.text("From the bench"), card.text("Repair")
    assert extra.x_mm == repair.x_mm == left.left
    assert extra.size_mm == repair.size_mm <= inside[0].size_mm
    # each has one line: they stand 3.2 mm apart (1.2 mm, and the millimetre that each is given), down to the margin
    assert bottom_of(extra) - top_of(repair) == near(3.2)
    assert bottom_of(repair) == near(left.bottom)


@pytest.mark.parametrize(("name", "sides"), EVERY_CARD)
def test_a_long_personal_line_fills_its_lines_and_pushes_the_advice_down(care_plan, name, sides):
    words = "For ten years of seeds, rows and rain, and for the ten that are to come."
    card = Card(care_plan, name, sides, order=replace(ORDER, personal_line=words))
    size = card.form.personal_pt * PT
    added, _ = draw_order(card.blank, replace(ORDER, personal_line=words), card.form)
    lines = [mark for mark in added if mark.text in words]
    assert " ".join(mark.text for mark in lines) == words
    assert len(lines) > 1
    for upper, lower in pairwise(lines):
        assert top_of(lower) == near(bottom_of(upper))
        longer = f"{upper.text} {lower.text.split()[0]}"
        assert text_width_mm(upper.text, "regular", size) <= card.panel.width
        assert text_width_mm(longer, "regular", size) > card.panel.width
    assert card.blank.personal.bottom == near(bottom_of(lines[-1]))


def test_the_shops_words_on_several_lines_end_at_the_foot_too(care_plan):
    extra = "The pocket holds a pencil, a rule and a pair of shears. " * 6
    card = Card(care_plan, "A5 folded", 2, extra=extra.strip())
    left = card.form.panel(0)
    closing = [mark for mark in card.texts if mark.x_mm < left.right]
    assert len({mark.y_mm for mark in closing}) > 4
    assert min(bottom_of(mark) for mark in closing) == near(left.bottom)


def is_filled(lines, size_mm, width_mm):
    """Every line fits in plain type, and none has room for the first word of the next."""
    wide = [text_width_mm(line, "regular", size_mm) for line in lines]
    longer = [text_width_mm(f"{a} {b.split()[0]}", "regular", size_mm) for a, b in pairwise(lines)]
    return max(wide) <= width_mm < min(longer)


@pytest.mark.parametrize(("name", "sides"), EVERY_CARD)
def test_words_are_broken_by_the_width_of_plain_type(name, sides):
    form = find_format(name, sides)
    words = [f"{'mwnilo'[n % 6] * (2 + n % 7)}" for n in range(60)]
    size, width = form.personal_pt * PT, form.panel().width
    for first in range(20):
        text = " ".join(words[first:])
        assert is_filled(break_personal(Order(personal_line=text), form), size, width)
        assert is_filled(break_shop(text, "", 3.0, 60.0 + first), 3.0, 60.0 + first)


def test_the_line_under_the_head_stays_clear_of_a_mark_that_hangs_lower_than_the_words(care_plan):
    plan = replace(care_plan, build=replace(care_plan.build, shop=replace(care_plan.build.shop, name="", contact="")))
    card = Card(plan, "ID-1", 2, picture=PICTURES["square"], title="Apron")
    assert card.lines(STYLE.thick_line_mm)[0].top == near(card.images[0].y_mm - 1.0)


def test_the_number_of_a_code_never_stands_alone_on_a_line() -> None:
    """In a room that holds all of it but its number, the document goes down with it; a wider one holds it all."""
    whole_mm = text_width_mm(PAYLOAD, "regular", 7 * PT)
    number_mm = text_width_mm(PAYLOAD.rpartition("/")[2], "regular", 7 * PT)
    *parts, document, number = PAYLOAD.split("/")
    assert break_payload(PAYLOAD, whole_mm - number_mm / 2) == ("/".join((*parts, "")), f"{document}/{number}")
    assert break_payload(PAYLOAD, whole_mm + 10) == (PAYLOAD,)
