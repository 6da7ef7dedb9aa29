"""Lays of batches made by chance, proved with shapely; and the rules of the bench, each on a case that would break it."""

import json
import math
import random
from dataclasses import replace
from functools import partial
from itertools import pairwise
from pathlib import Path

import pytest
from laid import box, draw_batch, draw_hides, find_wrongs, goods_of, make_part, strap
from shapely.geometry import LineString, Polygon
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.lay import Effort, Hide, Lay, Part, lay_boxes, lay_hides, lay_usual, list_parts, usual_hide
from docgen.lay.filling import Clashes, Turn, fill_sheet
from docgen.lay.hides import _ROUND, _TURNS, draw_faults
from docgen.lay.kinds import HIDDEN
from docgen.lay.lay import STRAP_CELL_MM
from docgen.lay.parts import make_kinds
from docgen.lay.search import Score, Search, Try
from docgen.lay.sheets import box_sheet
from docgen.lay.squeeze import find_top, squeeze_roll
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.tables.hides import FAULT_MM, FAULT_MM2, HIDES
from docgen.tables.limits import Limits

LIMITS = Limits()
SETS = Path(__file__).parents[1] / "bench" / "lay" / "sets.json"
PLAIN = Hide(name="plain", outline=tuple(box(600.0, 1500.0)))


def lay_on(hide: Hide, parts: list[Part], limits: Limits = LIMITS) -> Lay:
    """The lay on hides that are all alike."""
    return lay_hides(parts, limits, lambda number: hide, effort=Effort(20))


def columns(lay: Lay, number: int) -> list[tuple[float, float]]:
    """From where to where across each piece of a line lies on the first sheet."""
    found = [Polygon(one.outline).bounds for one in lay.sheets[0].placed if one.number == number]
    return sorted((left, right) for left, _, right, _ in found)


@pytest.mark.parametrize("seed", range(12))
def test_nothing_lies_where_it_must_not(seed: int) -> None:
    chance = random.Random(seed)
    parts, (_, find_hide) = draw_batch(chance), draw_hides(chance)
    lay = lay_hides(parts, LIMITS, find_hide, effort=Effort(12))
    assert list(find_wrongs(lay, parts)) == []
    assert sum(count for _, count in lay.missing) < sum(part.count for part in parts)


@pytest.mark.parametrize("seed", range(6))
def test_panels_hold_what_is_laid_on_them(seed: int) -> None:
    chance = random.Random(seed)
    parts = [replace(part, group=1) for part in draw_batch(chance)]
    lay = lay_boxes(parts, LIMITS, 400.0, 900.0, effort=Effort(12))
    assert list(find_wrongs(lay, parts)) == []
    assert not lay.missing


def test_the_same_batch_gets_the_same_lay() -> None:
    chance = random.Random(3)
    parts, (_, find_hide) = draw_batch(chance), draw_hides(chance)
    one, other = (lay_hides(parts, LIMITS, find_hide, effort=Effort(12)) for _ in range(2))
    assert one == other


def test_what_is_found_wrong_is_wrong() -> None:
    """A lay that was moved, and one whose row is mixed, are told: the proof itself can fail."""
    parts = [strap(1, 40.0, 700.0, 2), make_part(2, box(100.0, 100.0))]
    lay = lay_on(PLAIN, parts)
    assert list(find_wrongs(lay, parts)) == []
    (sheet,) = lay.sheets
    first = sheet.placed[0]
    for dx, told in ((-20.0, "is trimmed"), (-60.0, "outside"), (2.0, "apart")):
        moved = replace(first, outline=tuple((x + dx, y) for x, y in first.outline))
        wrong = replace(lay, sheets=(replace(sheet, placed=(moved, *sheet.placed[1:])),))
        assert any(told in words for words in find_wrongs(wrong, parts)), told
    far = replace(first, outline=tuple((x + 2.0, y + 720.0) for x, y in first.outline))
    mixed = replace(lay, sheets=(replace(sheet, placed=(first, far)),))
    assert any("mixed" in words for words in find_wrongs(mixed, parts))


def test_rows_are_of_one_width_and_begin_at_the_trimmed_edge() -> None:
    """Two of 40 in one row though one of 20 would fit beside: a strap cutter takes rows off, one width at a time."""
    parts = [strap(1, 40.0, 700.0, 3), strap(2, 20.0, 300.0, 4)]
    lay = lay_on(PLAIN, parts)
    assert list(find_wrongs(lay, parts)) == []
    wide, narrow = columns(lay, 1), columns(lay, 2)
    assert wide[0] == wide[1], "two of 700 lie end to end in 1500"
    assert LIMITS.edge_trim_mm < wide[0][0] < LIMITS.edge_trim_mm + 5
    assert len(set(wide)) == 2
    assert len(set(narrow)) == 1
    left, right = narrow[0]
    assert all(right <= begun or left >= end for begun, end in wide), "not in a row of wider ones, where 800 are free"


def test_rows_lie_behind_each_other_at_their_exact_widths() -> None:
    """Straps of three widths off a firm part that holds just what they and the knife's gaps take, and 6 mm for where the
    first one begins: on whole cells each row would take up to 3 mm more."""
    widths = {1: 25.4, 2: 31.0, 3: 19.5}
    takes = LIMITS.edge_trim_mm + 6.0 + sum(5 * (wide + LIMITS.knife_gap_mm) for wide in widths.values())
    hide = replace(PLAIN, firm=(tuple(box(takes, 1500.0)),))
    parts = [strap(number, wide, 1200.0, 5) for number, wide in widths.items()]
    lay = lay_on(hide, parts)
    assert list(find_wrongs(lay, parts)) == []
    assert len(lay.sheets) == 1
    rows = sorted(row for number in widths for row in columns(lay, number))
    assert len(rows) == 15
    for (_, right), (left, _) in pairwise(rows):
        assert left - right == pytest.approx(LIMITS.knife_gap_mm, abs=1e-6)


def test_a_row_that_would_begin_in_a_cell_with_a_fault_lies_beyond_it() -> None:
    """The first row ends within a cell, which the second begins in, by hand; there a fault of half a mm lies beside the end
    of the only strap of the first row, on what would be the second."""
    parts = [strap(1, 26.2, 700.0), strap(2, 19.0, 1400.0)]
    first = math.ceil(LIMITS.edge_trim_mm / STRAP_CELL_MM) * STRAP_CELL_MM
    second = first + 26.2 + 1.5 * LIMITS.knife_gap_mm
    lay = lay_hides(parts, LIMITS, lambda number: PLAIN, effort=Effort(0))
    assert columns(lay, 2)[0][0] == pytest.approx(second)
    fault = tuple((x + second + 0.2, y + 1000.0) for x, y in box(0.5, 0.5))
    assert (second + 0.7) // STRAP_CELL_MM == (second - LIMITS.knife_gap_mm / 2) // STRAP_CELL_MM
    lay = lay_hides(parts, LIMITS, lambda number: replace(PLAIN, faults=(fault,)), effort=Effort(0))
    assert list(find_wrongs(lay, parts)) == []
    assert not lay.missing


def test_rows_begin_at_an_edge_that_is_struck_where_a_hide_has_none() -> None:
    """By hand: of a hide 600 mm wide, firm from 100 to 500, rows begin at 100; a wide piece that would take their places
    along lies beyond their ends, and none across the edge."""
    firm = replace(PLAIN, has_edge=False, back_mm=300.0, firm=(tuple((x + 100.0, y) for x, y in box(400.0, 1500.0)),))
    parts = [strap(1, 38.0, 1200.0, 3), strap(2, 19.0, 600.0, 4), make_part(3, box(480.0, 200.0), lies="up")]
    lay = lay_on(firm, parts)
    assert list(find_wrongs(lay, parts)) == []
    (sheet,) = lay.sheets
    (left, low), (same, high) = sheet.struck
    assert left == same == pytest.approx(100, abs=6)
    assert high - low == pytest.approx(1200, abs=6)
    assert columns(lay, 1)[0][0] == left
    wide = next(one for one in sheet.placed if one.number == 3)
    assert min(y for _, y in wide.outline) > high
    assert lay_on(firm, [make_part(3, box(480.0, 200.0))]).sheets[0].struck == ()


@pytest.mark.parametrize("seed", range(6))
def test_hides_without_an_edge_are_laid_by_the_rules_too(seed: int) -> None:
    chance = random.Random(seed)
    goods, parts = goods_of(chance.choice(["whole", "skin", "double-butt"]), 0.01), draw_batch(chance)
    lay = lay_hides(parts, LIMITS, partial(usual_hide, goods, seed=seed), effort=Effort(6))
    assert list(find_wrongs(lay, parts)) == []
    assert any(sheet.struck for sheet in lay.sheets)


def test_what_is_hidden_does_not_push_the_rows_off_the_edge() -> None:
    """A hidden layer as long as the straps lies in the belly, and the rows still begin at the edge."""
    hide = replace(PLAIN, poor=(tuple(box(200.0, 1500.0)),))
    hide = replace(hide, poor=(tuple((x + 400.0, y) for x, y in hide.poor[0]),))
    layer = make_part(2, box(60.0, 1200.0), 1, lies="up", group=HIDDEN)
    lay = lay_on(hide, [strap(1, 40.0, 1200.0, 2), layer])
    assert columns(lay, 1)[0][0] < LIMITS.edge_trim_mm + 5
    assert columns(lay, 2)[0][0] >= 400
    shown = make_part(3, box(60.0, 1200.0), 1, lies="up")
    assert columns(lay_on(hide, [shown]), 3)[0][1] <= 400, "what shows keeps out of the belly"


def test_a_fault_is_cut_round_unless_another_piece_covers_it() -> None:
    """A fault in the middle of goods just as large as the piece: it fits only where a pocket lies over the fault."""
    fault = ((140.0, 140.0), (160.0, 140.0), (160.0, 160.0), (140.0, 160.0))
    hide = Hide(name="small", outline=tuple(box(303.0, 303.0)), faults=(fault,), has_edge=False)
    limits = replace(LIMITS, knife_gap_mm=0.0)
    bare = make_part(1, box(300.0, 300.0))
    pocket = tuple((x + 100.0, y + 100.0) for x, y in box(100.0, 100.0))
    assert lay_hides([bare], limits, lambda number: hide if number < 1 else None).missing == ((1, 1),)
    covered = lay_hides([replace(bare, covered=(pocket,))], limits, lambda number: hide if number < 1 else None)
    assert not covered.missing
    near = tuple((x + 136.0, y + 136.0) for x, y in box(28.0, 28.0))
    assert lay_hides([replace(bare, covered=(near,))], limits, lambda n: hide if n < 1 else None).missing, (
        "where the pocket is sewn the leather must be sound"
    )


@pytest.mark.parametrize(("lies", "fits"), [("", True), ("up", False), ("across", True), ("nap", False)])
def test_a_piece_is_turned_as_its_stretch_or_nap_allows(lies: str, fits: bool) -> None:
    """On goods 200 wide and 400 long a piece of 390 by 190 must be turned by a quarter."""
    lay = lay_boxes([make_part(1, box(390.0, 190.0), lies=lies)], LIMITS, 200.0, 400.0)
    assert (not lay.missing) == fits


def test_a_nap_keeps_even_a_half_turn_off() -> None:
    """Two wedges that fill a rectangle together when one is turned by half, and take twice the goods when not."""
    wedge = [(0.0, 0.0), (200.0, 0.0), (0.0, 200.0)]
    sheets = {
        lies: len(lay_boxes([make_part(1, wedge, 2, lies=lies)], LIMITS, 215.0, 215.0).sheets) for lies in ("up", "nap")
    }
    assert sheets == {"up": 1, "nap": 2}


def test_half_of_a_pair_is_mirrored() -> None:
    lay = lay_boxes([make_part(1, [(0, 0), (90, 0), (90, 40), (0, 120)], 4, is_pair=True)], LIMITS, 300.0, 300.0)
    assert [one.is_mirrored for one in lay.sheets[0].placed].count(True) == 2
    assert list(find_wrongs(lay, list(lay.parts))) == []


def test_the_halves_of_a_pair_come_from_one_hide() -> None:
    """Each hide holds two of four pieces: one as drawn and one mirrored, and what is smaller lies beside them."""
    slanted = [(0.0, 0.0), (500.0, 0.0), (500.0, 600.0), (0.0, 700.0)]
    parts = [
        make_part(1, slanted, 6, is_pair=True),
        make_part(2, [(0, 0), (200, 0), (150, 60), (0, 60)], 6, is_pair=True),
    ]
    lay = lay_on(PLAIN, parts)
    assert list(find_wrongs(lay, parts)) == []
    assert len(lay.sheets) == 3
    for sheet in lay.sheets:
        for number in (1, 2):
            halves = [one.is_mirrored for one in sheet.placed if one.number == number]
            assert halves.count(True) * 2 == len(halves)


def test_goods_that_are_too_small_leave_pieces_over() -> None:
    lay = lay_hides(
        [make_part(1, box(700.0, 100.0), 2, lies="across"), make_part(2, box(50.0, 50.0))], LIMITS, lambda n: PLAIN
    )
    assert not lay.missing
    lay = lay_hides(
        [make_part(1, box(700.0, 100.0), 2, lies="up"), make_part(2, box(50.0, 50.0))], LIMITS, lambda n: PLAIN
    )
    assert lay.missing == ((1, 2),)


def test_the_rest_is_told_in_one_piece() -> None:
    """Of 600 x 1500 mm a piece as wide as the goods takes the lower 500: what is left is one piece of 600 x 1000."""
    limits = replace(LIMITS, edge_trim_mm=0.0)
    lay = lay_on(replace(PLAIN, has_edge=False), [make_part(1, box(594.0, 500.0))], limits)
    assert lay.sheets[0].rest_mm2 == pytest.approx(600.0 * 1000.0, rel=0.02)


def test_a_hide_by_the_tape_has_those_widths() -> None:
    goods = replace(
        goods_of("side"), measured_mm=(500.0, 700.0, 900.0, 800.0, 600.0), edge_mm=800.0, least_mm2=6e5, most_mm2=6e5
    )
    hide = usual_hide(goods, 0)
    # By the trapezoid rule: (500 + 600) / 2 + 700 + 900 + 800 = 2950, times 200 mm.
    assert hide.area_mm2 == pytest.approx(2950 * 200)
    assert (hide.width_mm, hide.length_mm) == (900.0, 800.0)


@pytest.mark.parametrize("sold", ["side", "butt", "double-butt", "shoulder", "double-shoulder", "whole", "skin"])
def test_usual_hides_have_their_area_their_edge_and_their_share_of_faults(sold: str) -> None:
    goods = goods_of(sold, 0.03)
    hide = usual_hide(goods, 2)
    shape = Polygon(hide.outline)
    assert shape.is_valid
    assert shape.area == pytest.approx(goods.middle_mm2)
    if hide.has_edge:
        on_edge = [y for x, y in hide.outline if x == 0]
        assert max(on_edge) - min(on_edge) == pytest.approx(goods.edge_mm, rel=0.02)
    faults = sum(Polygon(fault).area for fault in hide.faults)
    assert 0.03 <= faults / shape.area < 0.034
    assert usual_hide(goods, 2) == hide
    assert usual_hide(goods, 3).faults != hide.faults
    assert all(Polygon(part).intersection(shape).area > 0.02 * shape.area for part in hide.poor)


@pytest.mark.parametrize("sold", HIDES)
def test_rows_are_as_long_as_usual_hides_are_there(sold: str) -> None:
    """The table for the buying estimate against the outline for the lay, cut by shapely at equal steps of firm depth; and
    both know which hides have a straight edge."""
    goods, kind = goods_of(sold), HIDES[sold]
    hide = usual_hide(goods, 0)
    assert hide.has_edge == kind.has_edge == (not goods.is_struck)
    left, right = hide.firm[0][0][0] + 1e-6, hide.firm[0][1][0]
    steps = [left + (right - left) * k / (len(kind.rows) - 1) for k in range(len(kind.rows))]
    cut = [Polygon(hide.outline).intersection(LineString([(x, -1), (x, 9e3)])).length for x in steps]
    assert list(kind.rows) == pytest.approx([mm / goods.edge_mm for mm in cut], abs=0.006)


def test_faults_are_as_large_as_the_buying_estimate_takes_them() -> None:
    """On average of those that are drawn: their areas, and how far they reach across and along."""
    faults = [Polygon(one) for one in draw_faults(tuple(box(3e3, 3e3)), 0.5, 1)]
    count = len(faults)
    assert count > 1000
    assert sum(fault.area for fault in faults) / count == pytest.approx(FAULT_MM2, rel=0.05)
    sides = [(right - left, top - low) for left, low, right, top in (fault.bounds for fault in faults)]
    assert [sum(each) / count for each in zip(*sides, strict=True)] == pytest.approx(FAULT_MM, rel=0.08)


def test_faults_are_turned_and_not_stretched() -> None:
    assert [x * x + y * y for x, y in _TURNS] == pytest.approx([1.0] * 6)
    assert [x * x + y * y for x, y in _ROUND] == pytest.approx([1.0] * 10, abs=1e-3)


@pytest.mark.parametrize(
    ("keys", "zone", "group"), [("", "good", 1), ('cut-from = "firm"', "firm", 1), ('cut-from = "any"', "", 2)]
)
def test_a_piece_says_from_which_part_of_the_hide_it_comes(tmp_path, keys: str, zone: str, group: int) -> None:
    spec = tmp_path / "a.toml"
    text = f'<spec mat: Mat, version 1>\n<leather hide: 3 mm>\n<rectangle top of hide: ["90 mm", "60 mm"]>\n{keys}\n'
    spec.write_text(write_out(text), encoding="utf-8")
    (material,) = plan_work(resolve_build(read_spec(spec))).materials
    (part,) = list_parts(material)
    assert (part.zone, part.group) == (zone, group)


@pytest.mark.parametrize(
    ("keys", "zone", "group"),
    [("", "firm", 0), ('cut-from = "good"', "good", 0), ('cut-from = "any"', "", 2), ("doubled = true", "firm", 0)],
)
def test_a_strap_says_so_too_and_is_firm_else(tmp_path, keys: str, zone: str, group: int) -> None:
    """Of a doubled one the second layer is hidden, and may come from anywhere."""
    spec = tmp_path / "a.toml"
    text = (
        f'<spec mat: Mat, version 1>\n<leather hide: 3 mm>\n<strap belt of hide: 38 mm>\nfinished = "900 mm"\n{keys}\n'
    )
    spec.write_text(write_out(text), encoding="utf-8")
    (material,) = plan_work(resolve_build(read_spec(spec))).materials
    part, *second = list_parts(material)
    assert (part.zone, part.group) == (zone, group)
    assert [(one.zone, one.group) for one in second] == ([("", 2)] if "doubled" in keys else [])


@pytest.mark.parametrize(
    ("sold", "size", "count"),
    [("butt", (400.0, 350.0), 8), ("butt", (400.0, 350.0), 7), ("shoulder", (300.0, 250.0), 7)],
)
def test_of_three_draws_of_faults_the_middle_one_is_told(sold: str, size: tuple[float, float], count: int) -> None:
    """Large pieces on faulty hides take more or fewer hides as the faults fall."""
    goods, parts = goods_of(sold, 0.03), [make_part(1, box(*size), count)]
    counts = [
        len(lay_hides(parts, LIMITS, partial(usual_hide, goods, seed=seed), effort=Effort(0)).sheets)
        for seed in range(3)
    ]
    assert len(set(counts)) == 2, "the draws differ"
    assert len(lay_usual(parts, LIMITS, goods, effort=Effort(0)).sheets) == sorted(counts)[1]


def test_what_must_be_firm_lies_in_the_firm_part() -> None:
    hide = replace(PLAIN, firm=(tuple(box(150.0, 1500.0)),))
    firm = make_part(1, box(100.0, 100.0), 3, zone="firm")
    assert all(right <= 150 for _, right in columns(lay_on(hide, [firm]), 1))
    wide = make_part(1, box(200.0, 200.0), 1, zone="firm")
    assert lay_on(hide, [wide]).missing == ((1, 1),)


def test_pieces_alike_lie_on_a_roll_as_rows_of_them_take_least() -> None:
    """Of 1400 mm four of 340 stand beside each other: 16 take 4 rows of 440 and the knife's gaps; lying, 6 of 340."""
    lay = lay_boxes([make_part(1, box(340.0, 440.0), 16)], LIMITS, 1400.0, 3000.0, is_roll=True)
    assert list(find_wrongs(lay, list(lay.parts))) == []
    assert lay.sheets[0].used_mm <= 4 * (440 + LIMITS.knife_gap_mm + 3.0)


def test_panels_that_no_order_can_better_are_not_searched_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two of 190 x 140 mm, 26,600 mm2, go on a panel of 60,000 mm2, so that eighty take forty, whatever lies beside."""
    orders: list[int] = []

    def count(search: Search, order: tuple[Turn, ...], limit: Score | None, held: Try | None) -> Try | None:
        orders.append(len(order))
        return judge(search, order, limit, held)

    judge = Search._judge
    monkeypatch.setattr(Search, "_judge", count)
    parts = [make_part(1, box(190.0, 140.0), 80, group=1), make_part(2, box(20.0, 12.0), 3, group=1)]
    lay = lay_boxes(parts, LIMITS, 200.0, 300.0)
    assert len(lay.sheets) == 40
    assert not lay.missing
    assert 0 < len(orders) < 200


def test_of_places_as_low_a_turn_takes_the_left_or_the_right_one() -> None:
    """On a roll of 300 mm a square of 100 stands at 0 or at 200."""
    ((kind, _),) = make_kinds([make_part(1, box(100.0, 100.0))], 1.0, 0.0, has_zones=False)
    sheet = box_sheet(300.0, 400.0, 1.0, 0.0)
    lefts = [fill_sheet(sheet, [Turn(kind, None, is_right)], Clashes()).laid[0].u for is_right in (False, True)]
    assert lefts == [0, 200]


def hooked(scale_mm: float) -> list[Part]:
    """Pieces that hook into each other, of the open set shapes0 (its source stands in bench/lay/sets.json)."""
    held = json.loads(SETS.read_text(encoding="utf-8"))["sets"]["shapes0"]
    return [
        make_part(number, [(y * scale_mm, x * scale_mm) for x, y in shape], count // 3, lies="nap")
        for number, (count, shape) in enumerate(held["items"], start=1)
    ]


def test_a_roll_with_a_nap_takes_less_where_pieces_make_room_for_each_other() -> None:
    """What no order of laying gives: shorter than the first lay, nothing overlapping, and the same again."""
    parts = hooked(12.0)
    kinds = make_kinds(parts, 3.0, 0.0, has_zones=False)
    sheet, clashes = box_sheet(240.0, 900.0, 3.0, 0.0), Clashes()
    order = [Turn(kind, None) for kind, count in kinds for _ in range(count)]
    first = tuple(fill_sheet(sheet, order, clashes).laid)
    one, other = (squeeze_roll(sheet, clashes, first, Effort(1500)) for _ in range(2))
    assert one == other
    assert find_top(one) <= 0.96 * find_top(first)
    assert sorted(spot.kind.number for spot in one) == sorted(turn.kind.number for turn in order)
    shapes = [Polygon([(x + spot.u * 3.0, y + spot.v * 3.0) for x, y in spot.mask.points]) for spot in one]
    assert all(shape.bounds[0] >= 0.0 and shape.bounds[2] <= 240.0 for shape in shapes)
    assert max(shape.bounds[3] for shape in shapes) <= find_top(one) * 3.0
    assert all(shape.intersection(beside).area < 1e-6 for k, shape in enumerate(shapes) for beside in shapes[:k])


def test_a_roll_that_is_made_shorter_keeps_the_gap() -> None:
    lay = lay_boxes(hooked(12.0), LIMITS, 240.0, 900.0, is_roll=True, effort=Effort(200))
    assert list(find_wrongs(lay, list(lay.parts))) == []
    assert not lay.missing


def test_a_patient_search_is_never_longer(monkeypatch: pytest.MonkeyPatch) -> None:
    """It begins as the plain one does, and goes on by other chances: shown on less than it does."""
    monkeypatch.setattr("docgen.lay.squeeze.STARTS", 3)
    plain, patient = (
        lay_boxes(hooked(12.0), LIMITS, 240.0, 900.0, is_roll=True, effort=Effort(300, is_patient))
        for is_patient in (False, True)
    )
    assert patient.sheets[0].used_mm <= plain.sheets[0].used_mm
    assert list(find_wrongs(patient, list(patient.parts))) == []
