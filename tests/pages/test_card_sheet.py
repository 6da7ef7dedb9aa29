"""Cards on a sheet of paper: as many as it holds, and every cut with a mark that prints on no card."""

import pytest
from on_paper import contains, shrink

from docgen.geometry.path import boxes_overlap
from docgen.geometry.shapes import Box
from docgen.pages.care.card_format import find_format
from docgen.pages.care.card_sheet import find_sheet
from docgen.tables.paper import CARD_SIZES_MM

PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0), "tabloid": (279.4, 431.8), "least": (190.0, 250.0)}
EVERY_SHEET = [(paper, card) for paper in PAPERS_MM for card in CARD_SIZES_MM]


def sheet_of(paper, card, margin_mm=6.35):
    return find_sheet(find_format(card, 2), *PAPERS_MM[paper], margin_mm)


def line_box(ends):
    (x, y), (to_x, to_y) = ends
    return Box(x, y, to_x, to_y)


def round_box(box):
    return tuple(round(value, 6) for value in (box.left, box.bottom, box.right, box.top))


@pytest.mark.parametrize("margin_mm", [6.35, 12.7])
@pytest.mark.parametrize(("paper", "card"), EVERY_SHEET)
def test_cards_lie_on_the_paper_apart_and_what_they_say_where_the_printer_reaches(paper, card, margin_mm):
    sheet, form = sheet_of(paper, card, margin_mm), find_format(card, 2)
    printed = shrink(Box(0, 0, *PAPERS_MM[paper]), margin_mm)
    for place in sheet.places:
        size = (place.box.width, place.box.height)
        assert size == pytest.approx(CARD_SIZES_MM[card][::-1] if place.is_turned else CARD_SIZES_MM[card])
        assert contains(Box(0, 0, *PAPERS_MM[paper]), place.box)
        assert contains(printed, shrink(place.box, form.margin_mm))
        others = [other.box for other in sheet.places if other is not place]
        assert not any(boxes_overlap(shrink(place.box, 1e-6), other) for other in others)
    for ends in (*sheet.cuts, *sheet.folds):
        assert contains(printed, line_box(ends))


@pytest.mark.parametrize("margin_mm", [6.35, 12.7])
@pytest.mark.parametrize(("paper", "card"), EVERY_SHEET)
def test_no_mark_prints_on_a_card(paper, card, margin_mm):
    """Half the width of a mark is 0.125 mm; the narrowest strip between cards has 1 mm."""
    sheet = sheet_of(paper, card, margin_mm)
    for ends in (*sheet.cuts, *sheet.folds):
        for place in sheet.places:
            assert not boxes_overlap(shrink(line_box(ends), -0.1), place.box)


@pytest.mark.parametrize("margin_mm", [6.35, 12.7])
@pytest.mark.parametrize(("paper", "card"), EVERY_SHEET)
def test_every_side_that_is_no_side_of_the_paper_has_a_mark_in_its_line(paper, card, margin_mm):
    """A cut may also halve the paper, or run half-way between two cards that lie at most 2 mm apart."""
    sheet = sheet_of(paper, card, margin_mm)
    upright = [ends[0].x for ends in sheet.cuts if ends[0].x == ends[1].x]
    level = [ends[0].y for ends in sheet.cuts if ends[0].y == ends[1].y]
    assert len(upright) + len(level) == len(sheet.cuts) == len(set(sheet.cuts))
    for box in (place.box for place in sheet.places):
        for side, length, marks in (
            (box.left, sheet.width_mm, upright),
            (box.right, sheet.width_mm, upright),
            (box.bottom, sheet.height_mm, level),
            (box.top, sheet.height_mm, level),
        ):
            at_rim = min(side, length - side) < 0.1
            near = min((abs(side - mark) for mark in marks), default=99.0)
            is_halved = near < 1.0 and abs(near - abs(side - length / 2)) < 1e-6
            assert at_rim or near < 1e-5 or is_halved or abs(side - length / 2) < 0.1, (side, marks)


def test_crop_marks_stand_off_the_card_in_line_with_its_sides():
    sheet = sheet_of("letter", "A5 folded")
    (place,) = sheet.places
    assert place.is_turned
    # Letter is 215.9 x 279.4 mm: a card of 148 x 210 mm in its middle begins 33.95 and 34.7 mm in.
    assert round_box(place.box) == (33.95, 34.7, 181.95, 244.7)
    boxes = [round_box(line_box(ends)) for ends in sheet.cuts]
    assert len(boxes) == 8
    assert (28.45, 34.7, 32.45, 34.7) in boxes
    assert (181.95, 246.2, 181.95, 250.2) in boxes
    assert sorted(round_box(line_box(ends)) for ends in sheet.folds) == [
        (28.45, 139.7, 32.45, 139.7),
        (183.45, 139.7, 187.45, 139.7),
    ]


def test_as_many_cards_lie_on_a_sheet_as_its_paper_holds():
    counts = {(paper, card): len(sheet_of(paper, card).places) for paper, card in EVERY_SHEET}
    # By hand. A4 is 210 x 297 mm: 2 x 2 of 105 x 148 mm, two of 210 x 148 mm, 2 x 5 of 85.6 x 53.98 mm.
    assert (counts["a4", "A6"], counts["a4", "A5 folded"], counts["a4", "ID-1"]) == (4, 2, 10)
    # Letter is 215.9 x 279.4 mm: two of 105 x 148 mm side by side and one across below them (148 + 105 = 253 mm); three
    # columns of 53.98 + 53.98 + 85.6 mm with 3 + 3 + 4 cards.
    assert (counts["letter", "A6"], counts["letter", "ID-1"], counts["letter", "A5 folded"]) == (3, 10, 1)
    # 101.6 x 152.4 mm: two side by side and one across, 254 mm high, on both.
    assert counts["letter", "4x6 in"] == counts["a4", "4x6 in"] == 3
    assert counts["least", "A6"] == 2


def test_four_postcards_fill_an_a4_sheet_and_two_cuts_through_its_middle_part_them():
    sheet = sheet_of("a4", "A6")
    assert [round_box(place.box) for place in sheet.places] == [
        (0.0, 149.0, 105.0, 297.0),
        (105.0, 149.0, 210.0, 297.0),
        (0.0, 0.0, 105.0, 148.0),
        (105.0, 0.0, 210.0, 148.0),
    ]
    level = [round_box(line_box(ends)) for ends in sheet.cuts if ends[0].y == ends[1].y]
    assert {(box[1], box[3]) for box in level} == {(148.5, 148.5)}
    assert min(box[0] for box in level) == 6.35
    assert max(box[2] for box in level) == 203.65
    (upright,) = [ends for ends in sheet.cuts if ends[0].x == ends[1].x]
    assert upright[0].x == 105.0
    assert 148.0 < upright[0].y < upright[1].y < 149.0


@pytest.mark.parametrize("card", ["A6", "4x6 in", "ID-1"])
def test_widest_margin_on_the_least_paper_still_takes_a_card(card):
    assert sheet_of("least", card, 25.4).places


@pytest.mark.parametrize("margin_mm", [6.35, 12.7])
@pytest.mark.parametrize(("paper", "card"), EVERY_SHEET)
def test_marks_lead_a_rule_over_more_than_half_of_every_cut(paper, card, margin_mm):
    """From the first mark in the line of a side to the last; a cut half-way between two cards, at most 2 mm apart, is asked
    for above."""
    sheet = sheet_of(paper, card, margin_mm)
    boxes, marks = [place.box for place in sheet.places], [line_box(ends) for ends in (*sheet.cuts, *sheet.on_cuts)]
    flipped = [[Box(box.bottom, box.left, box.top, box.right) for box in found] for found in (boxes, marks)]
    for cards, drawn, wide in ((boxes, marks, sheet.width_mm), (*flipped, sheet.height_mm)):
        sides = {round(x, 5) for box in cards for x in (box.left, box.right) if 0.1 < x < wide - 0.1}
        for x in (x for x in sides if not any(0.1 < abs(x - other) <= 2.0 for other in sides)):
            own = [mark for mark in drawn if abs(mark.left - x) < 1e-4 and mark.width == 0]
            longest_mm = max(box.height for box in cards if min(abs(box.left - x), abs(box.right - x)) < 1e-4)
            assert max(mark.top for mark in own) - min(mark.bottom for mark in own) > longest_mm / 2, (x, own)


def test_a_mark_on_the_side_of_a_card_lies_in_its_margin():
    for paper, card in EVERY_SHEET:
        sheet, form = sheet_of(paper, card), find_format(card, 2)
        for ends in sheet.on_cuts:
            for place in sheet.places:
                assert not boxes_overlap(shrink(line_box(ends), -0.1), shrink(place.box, form.margin_mm))


def test_the_cut_that_halves_an_a4_sheet_of_postcards_has_a_mark_at_its_top_and_at_its_foot():
    sheet = sheet_of("a4", "A6")
    # The printer reaches to 6.35 mm from the rim; the marks are 4 mm long.
    assert sorted(round_box(line_box(ends)) for ends in sheet.on_cuts) == [
        (105.0, 6.35, 105.0, 10.35),
        (105.0, 286.65, 105.0, 290.65),
    ]


def test_a_card_in_the_middle_of_its_paper_has_no_mark_on_its_sides():
    assert sheet_of("letter", "A5 folded").on_cuts == ()
