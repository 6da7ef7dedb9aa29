"""Advice in rooms: whole, in order, evenly shared out, and what is over counted right."""

import math

import pytest

from docgen.geometry.shapes import Box
from docgen.pages.care.advice import LEAST_PT, choose_setting, divide, draw_setting, height_mm, letters_over
from docgen.pages.care.care_words import Advice
from docgen.pages.marks.moving import turn_marks
from docgen.pages.marks.page import TextMark
from docgen.written.units.table import MM_PER_POINT

LEAST_MM = LEAST_PT * MM_PER_POINT
ROOM = Box(0.0, 0.0, 90.0, 60.0)


def advise(count, words="Dust it with a soft dry cloth and leave it be.", rank=0):
    return [Advice(heading=f"No. {number}", text=words, rank=rank * number) for number in range(1, count + 1)]


def test_one_room_takes_all_or_nothing():
    listed = advise(4)
    assert divide(listed, [ROOM], LEAST_MM).rooms == (tuple(listed),)
    assert divide(advise(40), [ROOM], LEAST_MM) is None


def test_two_rooms_keep_the_order_and_are_about_equally_full():
    listed = advise(10)
    first, second = divide(listed, [ROOM, ROOM], LEAST_MM).rooms
    assert (*first, *second) == tuple(listed)
    assert len(first) == len(second) == 5


def test_least_important_is_left_out_until_the_rest_fits():
    setting = choose_setting(advise(40, rank=1), [ROOM], 10.0, 8.0, 99)
    kept = setting.rooms[0]
    assert [advice.rank for advice in kept] == list(range(1, len(kept) + 1))
    assert height_mm(kept, ROOM.width, 8.0 * MM_PER_POINT) <= ROOM.height
    more = advise(len(kept) + 1, rank=1)
    assert height_mm(more, ROOM.width, 8.0 * MM_PER_POINT) > ROOM.height


def test_no_more_than_wanted_are_kept_beside_the_shops_own():
    own = Advice(heading="From the bench", text="Waxed twice.", own="extra", own_letters=12)
    setting = choose_setting([*advise(9, rank=1), own], [ROOM], 10.0, 7.0, 5)
    assert [advice.heading for advice in setting.rooms[0]] == [*(f"No. {n}" for n in range(1, 6)), "From the bench"]


def test_what_must_stay_and_does_not_fit_is_no_setting():
    assert choose_setting(advise(40), [ROOM], 10.0, 8.0, 99) is None


def test_letters_over_are_enough_and_no_more():
    text = "A word more. " * 400
    must = advise(2)

    def with_own(letters):
        return [*must, Advice(heading="", text=text[:letters], own="extra", own_letters=letters)]

    over = letters_over(with_own(len(text)), [ROOM])
    assert over % 10 == 0
    assert divide(with_own(len(text) - over), [ROOM], LEAST_MM) is not None
    assert divide(with_own(len(text) - over + 20), [ROOM], LEAST_MM) is None


def test_lines_stand_in_their_room_one_below_the_other():
    setting = divide(advise(3, "Dust it with a soft dry cloth. " * 4), [ROOM], LEAST_MM)
    (marks,) = draw_setting(setting, [ROOM], 3.0)
    heights = [mark.y_mm for mark in marks]
    assert heights == sorted(heights, reverse=True)
    assert ROOM.bottom < heights[-1] < heights[0] < ROOM.top


@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_turned_marks_fill_their_box_and_keep_their_distances(quarters):
    wide, high = (30.0, 20.0) if quarters % 2 == 0 else (20.0, 30.0)
    box = Box(100.0, 50.0, 100.0 + wide, 50.0 + high)
    ends = [TextMark(x_mm=x, y_mm=y, text="a", size_mm=3.0) for x, y in ((0.0, 0.0), (30.0, 20.0))]
    low, far = turn_marks(ends, quarters, box)
    assert sorted((low.x_mm, far.x_mm)) == pytest.approx([box.left, box.right])
    assert sorted((low.y_mm, far.y_mm)) == pytest.approx([box.bottom, box.top])
    assert low.angle_deg == far.angle_deg == 90.0 * quarters
    turn = math.radians(90.0 * quarters)
    assert far.x_mm - low.x_mm == pytest.approx(30.0 * math.cos(turn) - 20.0 * math.sin(turn))
