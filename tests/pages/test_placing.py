"""Placing on sheets: nothing overlaps, small pieces are never cut, few sheets, few joins.

Outside check: shapely says what overlaps and what lies inside what.
"""

import math
from random import Random

import pytest
from shapely import STRtree
from shapely.geometry import box as shapely_box

from docgen.geometry.shapes import Box
from docgen.pages.pattern.grid import (
    Footprint,
    Grid,
    Placed,
    Spot,
    Tag,
    TooLarge,
    Window,
    count_cost,
    fits_one_sheet,
    lower_bound,
    weigh,
)
from docgen.pages.pattern.large import free_room
from docgen.pages.pattern.placing import place_footprints

WHITE_MM = 1.5  # round the cut line of every footprint, see test_paper.py
GAP_MM = 4.0 - 2 * WHITE_MM  # our choice: 4 mm for a knife between two cut lines
JOIN_CLEAR_MM = 2.0 - WHITE_MM  # our choice: cut lines of small templates keep 2 mm from where sheets are glued
TAG_MM = (106.0, 26.0), (57.0, 51.0)  # about as large as a tag, wide and tall, and as a pair of squares
SQUARES_MM = (57.0, 29.0), (29.0, 57.0)
PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}


def make_window(paper: str, margin_mm: float = 6.0, overlap_mm: float = 10.0) -> Window:
    width, height = PAPERS_MM[paper]
    return Window(
        width_mm=width - 2 * margin_mm, height_mm=height - 2 * margin_mm, across_mm=overlap_mm, down_mm=overlap_mm
    )


def many(name: str, count: int, width_mm: float, height_mm: float) -> list[Footprint]:
    return [Footprint(name=f"{name}-{i}", width_mm=width_mm, height_mm=height_mm) for i in range(count)]


def random_bag(seed: int) -> list[Footprint]:
    """20 to 30 footprints of a bag: two to five larger than a sheet, the others small, some long and narrow."""
    random = Random(seed)
    bag = [
        Footprint(name=f"panel-{i}", width_mm=random.uniform(215, 330), height_mm=random.uniform(205, 300))
        for i in range(random.randint(2, 4))
    ]
    bag += [
        Footprint(name=f"strip-{i}", width_mm=random.uniform(45, 95), height_mm=random.uniform(300, 780))
        for i in range(random.randint(0, 2))
    ]
    while len(bag) < random.randint(20, 30):
        i = len(bag)
        if random.random() < 0.3:
            bag.append(Footprint(name=f"band-{i}", width_mm=random.uniform(20, 50), height_mm=random.uniform(120, 255)))
        else:
            bag.append(Footprint(name=f"part-{i}", width_mm=random.uniform(25, 150), height_mm=random.uniform(30, 180)))
    return bag


def as_polygon(box: Box):
    return shapely_box(box.left, box.bottom, box.right, box.top)


def sheet_polygons(grid: Grid, window: Window):
    return {cell: as_polygon(window.sheet(*cell)) for cell in grid.sheets}


def check_layout(bag: list[Footprint], grids: tuple[Grid, ...], window: Window) -> None:
    """Everything that must hold for any layout."""
    assert sorted(item.name for grid in grids for item in grid.placed) == sorted(item.name for item in bag)
    by_name = {item.name: item for item in bag}
    for grid in grids:
        check_sizes(grid, by_name)
        check_overlaps(grid)
        check_shown(grid, window)
        check_sheets(grid, window)
        check_small(grid, by_name, window)


def check_sizes(grid: Grid, by_name: dict[str, Footprint]) -> None:
    for placed in grid.placed:
        item = by_name[placed.name]
        size = (item.height_mm, item.width_mm) if placed.is_turned else (item.width_mm, item.height_mm)
        assert (placed.box.width, placed.box.height) == pytest.approx(size, abs=1e-6)


def check_overlaps(grid: Grid) -> None:
    """No two boxes come nearer to each other than the gap."""
    polygons = [as_polygon(item.box) for item in grid.placed]
    pairs = STRtree(polygons).query(polygons, predicate="dwithin", distance=GAP_MM - 1e-6)
    assert [(a, b) for a, b in zip(*pairs, strict=True) if a < b] == []


def check_shown(grid: Grid, window: Window) -> None:
    """Together, the sheets that are printed show all of every box."""
    shown = None
    for polygon in sheet_polygons(grid, window).values():
        shown = polygon if shown is None else shown.union(polygon)
    for item in grid.placed:
        assert as_polygon(item.box).difference(shown.buffer(1e-6)).area < 1e-6


def check_sheets(grid: Grid, window: Window) -> None:
    """A sheet without which everything would still be printed is not listed; joins are between neighbours."""
    polygons = sheet_polygons(grid, window)
    boxes = [as_polygon(item.box) for item in grid.placed]
    assert len(set(grid.sheets)) == len(grid.sheets)
    for cell, polygon in polygons.items():
        others = [other for name, other in polygons.items() if name != cell]
        alone = polygon
        for other in others:
            alone = alone.difference(other)
        assert any(box.intersection(alone).area > 0 or box.within(polygon) for box in boxes), cell
    for first, second in grid.joins:
        assert first in polygons
        assert second in polygons
        assert abs(first[0] - second[0]) + abs(first[1] - second[1]) == 1
        assert any(box.intersects(polygons[first]) and box.intersects(polygons[second]) for box in boxes)


def check_small(grid: Grid, by_name: dict[str, Footprint], window: Window) -> None:
    """What fits one sheet lies whole on one, and clear of every strip where sheets are glued."""
    polygons = sheet_polygons(grid, window)
    strips = [polygons[first].intersection(polygons[second]) for first, second in grid.joins]
    for item in grid.placed:
        if fits_one_sheet(by_name[item.name], window):
            whole = [cell for cell, polygon in polygons.items() if polygon.buffer(1e-6).contains(as_polygon(item.box))]
            assert whole, f"{item.name} is cut"
            for strip in strips:
                assert strip.distance(as_polygon(item.box)) >= JOIN_CLEAR_MM - 1e-6, item.name


def tight_grid(bag: list[Footprint], window: Window) -> tuple[int, int]:
    """Sheets and joins of one big grid that carries rows of boxes, the highest first, as close as the gap allows.

    Rows are as wide as whole sheets; of all widths up to eight sheets the one with the fewest sheets counts. All
    neighbours that carry something are joined.
    """
    best = (10**9, 10**9)
    tall = sorted(bag, key=lambda item: -item.height_mm)
    for columns in range(1, 9):
        wide = window.span(columns, 1)[0]
        if max(item.width_mm for item in bag) > wide:
            continue
        x = y = row_height = 0.0
        for item in tall:
            if x and x + item.width_mm > wide:
                x, y, row_height = 0.0, y + row_height + GAP_MM, 0.0
            x += item.width_mm + GAP_MM
            row_height = max(row_height, item.height_mm)
        rows = math.ceil((y + row_height - window.down_mm) / (window.height_mm - window.down_mm))
        best = min(best, (columns * rows, rows * (columns - 1) + columns * (rows - 1)))
    return best


# ---- random bags -------------------------------------------------------------


@pytest.fixture(scope="module")
def ten_bags() -> list[tuple[list[Footprint], Window, tuple[Grid, ...]]]:
    made = []
    for seed in range(10):
        bag, window = random_bag(seed), make_window("letter" if seed % 2 else "a4")
        made.append((bag, window, place_footprints(bag, window)))
    return made


def test_random_bags_are_laid_whole_apart_and_once(ten_bags) -> None:
    for bag, window, grids in ten_bags:
        assert 20 <= len(bag) <= 30
        check_layout(bag, grids, window)


def test_random_bags_take_few_sheets_and_half_the_joins_of_one_tight_grid(ten_bags) -> None:
    sheets = joins = least = grid_sheets = grid_joins = 0
    for bag, window, grids in ten_bags:
        sheets, joins = sheets + count_cost(grids)[0], joins + count_cost(grids)[1]
        least += lower_bound(bag, window)
        grid_sheets, grid_joins = (grid_sheets + tight_grid(bag, window)[0], grid_joins + tight_grid(bag, window)[1])
    assert sheets <= 1.25 * least, (sheets, least)
    assert joins <= grid_joins / 2, (joins, grid_joins)


def no_room(placed: Placed, sheet: Box, strips: tuple[Box, ...]) -> tuple[Spot, ...]:
    return ()


def room_in_panels(placed: Placed, sheet: Box, strips: tuple[Box, ...]) -> tuple[Spot, ...]:
    """The whole tag in the lower left of what shows of a panel, its squares above; both clear of strips at the edges."""
    left, bottom = max(placed.box.left, sheet.left) + 10, max(placed.box.bottom, sheet.bottom) + 10
    right, top = min(placed.box.right, sheet.right) - 10, min(placed.box.top, sheet.top) - 10
    spots = (
        Spot(block=0, shape=0, box=Box(left, bottom, left + TAG_MM[0][0], bottom + TAG_MM[0][1])),
        Spot(block=1, shape=0, box=Box(left, bottom + 30, left + SQUARES_MM[0][0], bottom + 30 + SQUARES_MM[0][1])),
    )
    has_room = all(spot.box.right <= right and spot.box.top <= top for spot in spots)
    return spots if placed.name.startswith("panel") and has_room else ()


def check_spots(grids: tuple[Grid, ...], window: Window, holders: tuple[str, ...] = ()) -> None:
    """Every sheet has a spot for both blocks, of a size that was asked for, inside the sheet, clear of each other, of
    strips, and of every footprint but those that hold them."""
    for grid in grids:
        polygons = sheet_polygons(grid, window)
        strips = [polygons[first].intersection(polygons[second]) for first, second in grid.joins]
        for cell, spots in zip(grid.sheets, grid.spots, strict=True):
            assert sorted(spot.block for spot in spots) == [0, 1]
            first, second = (as_polygon(spot.box) for spot in spots)
            assert first.intersection(second).area < 1e-6
            for spot in spots:
                assert (spot.box.width, spot.box.height) == pytest.approx((TAG_MM, SQUARES_MM)[spot.block][spot.shape])
                place = as_polygon(spot.box)
                assert polygons[cell].buffer(1e-6).contains(place)
                assert all(place.intersection(strip).area < 1e-6 for strip in strips)
                others = [item for item in grid.placed if not item.name.startswith(holders or "no such name")]
                assert all(place.intersection(as_polygon(item.box)).area < 1e-6 for item in others)


@pytest.mark.parametrize("seed", range(5))
def test_every_sheet_keeps_room_for_its_tag(seed: int) -> None:
    """Small footprints have no room for it inside, large ones have."""
    bag, window = random_bag(seed), make_window("letter" if seed % 2 else "a4")
    grids = place_footprints(bag, window, Tag(blocks=(TAG_MM, SQUARES_MM), held=room_in_panels))
    check_layout(bag, grids, window)
    check_spots(grids, window, ("panel",))


def test_sheets_whose_pieces_hold_the_tag_keep_no_room_for_it() -> None:
    window = make_window("letter")
    bag = many("panel", 6, 201, 260)
    grids = place_footprints(bag, window, Tag(blocks=(TAG_MM, SQUARES_MM), held=room_in_panels))
    assert count_cost(grids) == (6, 0)
    check_spots(grids, window, ("panel",))


def test_only_the_sheet_that_is_too_full_for_its_tag_has_none() -> None:
    window = make_window("letter")
    bag = [*many("full", 1, 202, 265), *many("part", 4, 100, 110)]
    grids = place_footprints(bag, window, Tag(blocks=(TAG_MM, SQUARES_MM), held=no_room))
    check_layout(bag, grids, window)
    (full,) = [grid for grid in grids if grid.placed[0].name.startswith("full")]
    assert full.spots == ((),)
    assert full.joins == ()
    check_spots(tuple(grid for grid in grids if grid is not full), window)


# ---- known bags --------------------------------------------------------------


def test_one_small_footprint_takes_one_sheet_and_no_join() -> None:
    (grid,) = place_footprints(many("tab", 1, 30, 60), make_window("a4"))
    assert grid.sheets == ((0, 0),)
    assert grid.joins == ()


def test_footprint_that_fits_only_when_turned_is_turned() -> None:
    ((placed,),) = [grid.placed for grid in place_footprints(many("wide", 1, 260, 190), make_window("letter"))]
    assert placed.is_turned
    assert (placed.box.width, placed.box.height) == (190, 260)


def test_footprint_of_exactly_the_window_fits_one_sheet() -> None:
    window = make_window("a4")
    (grid,) = place_footprints(many("panel", 1, window.width_mm, window.height_mm), window)
    assert count_cost([grid]) == (1, 0)


def test_panel_wider_than_a_sheet_lies_on_two_joined_ones() -> None:
    (grid,) = place_footprints(many("panel", 1, 300, 240), make_window("letter"))
    assert count_cost([grid]) == (2, 1)


def test_no_footprints_take_no_sheet() -> None:
    assert place_footprints([], make_window("a4")) == ()
    assert lower_bound([], make_window("a4")) == 0


def test_bound_counts_area_and_footprints_that_cannot_share_a_sheet() -> None:
    # A sheet of 203.9 x 267.4 mm: by area 8 of 150 x 140 take 3.08 sheets, yet two of them never fit on one.
    window = make_window("letter")
    assert lower_bound(many("part", 8, 150, 140), window) == 8
    assert lower_bound(many("part", 8, 150, 130), window) == math.ceil(8 * 150 * 130 / (203.9 * 267.4))


def test_bound_counts_what_two_sheets_print_and_the_gaps() -> None:
    """By hand: a panel of 300 x 240 mm on sheets of 203.9 x 267.4 mm goes over one strip of 10 mm, upright or turned; the
    strip and all sides grow by the gap of 1 mm. 301 x 241 + 11 x 241 = 75,192 mm2 a panel, 204.9 x 268.4 = 54,995.16 a
    sheet: 22 panels take 30.08 sheets, where their bare area takes 29.05 and 30 would be the bound."""
    window = make_window("letter")
    assert math.ceil(22 * 300 * 240 / (203.9 * 267.4)) == 30
    assert lower_bound(many("panel", 22, 300, 240), window) == 31


def test_bound_is_not_above_what_narrow_strips_take() -> None:
    window, strips = make_window("letter"), many("strip", 6, 20, 400)
    grids = place_footprints(strips, window)
    check_layout(strips, grids, window)
    assert 2 <= lower_bound(strips, window) <= count_cost(grids)[0] < len(strips)


def test_footprint_longer_than_any_grid_is_named() -> None:
    with pytest.raises(TooLarge, match=r"^belt$"):
        place_footprints([Footprint(name="belt", width_mm=40, height_mm=9000)], make_window("letter"))


def test_two_joins_weigh_as_much_as_a_sheet() -> None:
    assert weigh(3, 2) == weigh(4, 0)


def test_joined_grid_is_narrower_by_its_overlaps() -> None:
    # By hand: 3 sheets of 203.9 mm that lie 10 mm over each other are 3 * 203.9 - 2 * 10 wide.
    window = make_window("letter")
    assert window.span(3, 1)[0] == pytest.approx(591.7)
    assert window.sheet(2, 0).right == pytest.approx(591.7)
    assert window.sheet(1, 0).left == pytest.approx(193.9)


def test_the_room_of_a_sheet_is_all_of_it_but_the_strips_that_its_neighbours_cover() -> None:
    """By adding areas up: what is free, with the gap that lies past its right and upper edge, and what is covered."""
    window = Window(width_mm=200.0, height_mm=250.0, across_mm=15.0, down_mm=12.0)
    sheets = ((0, 0), (1, 0), (2, 0), (1, 1), (1, 2))
    grid = Grid(columns=3, rows=3, placed=(), sheets=sheets, joins=())
    across, down = 15.0 + JOIN_CLEAR_MM, 12.0 + JOIN_CLEAR_MM
    covered = {(0, 0): (1, 1), (1, 0): (2, 1), (2, 0): (1, 1), (1, 1): (2, 2), (1, 2): (0, 1)}
    for sheet in sheets:
        (free,) = free_room(grid, sheet, window)
        left, bottom, right, top = free
        beside, above = covered[sheet]
        assert (right - left, top - bottom) == pytest.approx(
            (200.0 + GAP_MM - beside * across, 250.0 + GAP_MM - above * down)
        ), sheet
