"""Paper through the whole program: how many sheets and joins, 4 mm between cut lines, what moves no piece, and that nothing
white lies over a cut line.

The satchel and the random bags are invented; shapely says what touches what.
"""

import importlib.util
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from shapely import STRtree
from shapely.geometry import LineString, Polygon
from shapely.geometry import box as shapely_box

from docgen.checks import resolve_build
from docgen.geometry.path import flatten
from docgen.pages import choices_of
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.moving import text_box
from docgen.pages.marks.page import ClipMark, CodeMark, Document, Mark, Page, PathMark, TextMark
from docgen.pages.pattern.pattern import lay_out_pattern
from docgen.pages.setting.setup import Setup
from docgen.plan import Plan, plan_work
from docgen.read import read_spec
from docgen.tables.paper import find_paper

TESTS = Path(__file__).parents[1]
SPECS = TESTS.parent / "specs"
DEMOS = ("field-bag", "cable-roll", "notebook-sleeve")
Drawn = Callable[[str, str, float], Document]
KNIFE_MM = 4.0  # our choice: white between two cut lines, enough for the knife
SHEETS = (("letter", 0.0), ("a4", 7.3), ("letter", 25.0))  # paper and margin in mm


def load_bench():
    """The script that prints these counts, for its random bags."""
    found = importlib.util.spec_from_file_location("bench_sheets", TESTS / "bench" / "bench_sheets.py")
    module = importlib.util.module_from_spec(found)
    found.loader.exec_module(module)
    return module


BENCH = load_bench()


# ---- how many sheets -----------------------------------------------------------


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_satchel_takes_at_most_twelve_sheets_and_eight_joins(paper: str) -> None:
    count = BENCH.count_sheets(TESTS / "pages" / "satchel.toml", paper)
    assert count.sheets <= 12
    assert count.joins <= 8


def test_twenty_random_bags_take_at_most_a_tenth_more_than_the_bound(tmp_path: Path) -> None:
    counts = []
    for number in range(20):
        bag = plan_bag(tmp_path / "bag.toml", number)
        counts.append(draw(bag, ("a4", "letter")[number % 2]).count)
    sheets, bound = sum(count.sheets for count in counts), sum(count.bound for count in counts)
    assert sheets <= 1.10 * bound, (sheets, bound)


# ---- what lies on the sheets ---------------------------------------------------


def plan_bag(path: Path, number: int) -> Plan:
    path.write_text(BENCH.make_spec(BENCH.random_sizes(number)), encoding="utf-8")
    return plan_work(resolve_build(read_spec(path)))


def draw(plan: Plan, paper: str = "letter", margin_mm: float = 6.35, *, is_draft: bool = False) -> Document:
    width, height = sorted(find_paper(paper))
    setup = Setup(
        paper_width_mm=width,
        paper_height_mm=height,
        margin_mm=margin_mm,
        date="2026-03-31",
        style=load_page_style(),
        is_draft=is_draft,
    )
    choices = replace(choices_of(plan.build.printing), paper=paper, margin_mm=margin_mm)
    chosen = replace(setup, choices=choices)
    return lay_out_pattern(plan, chosen, replace(chosen, margin_mm=6.35))


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Drawn:
    """The pattern of the demos, the satchel and two random bags on some paper with some margin, drawn once."""
    paths = [*(SPECS / f"{name}.toml" for name in DEMOS), TESTS / "pages" / "satchel.toml"]
    plans = {path.stem: plan_work(resolve_build(read_spec(path))) for path in paths}
    bag = tmp_path_factory.mktemp("bags") / "bag.toml"
    plans |= {f"bag-{number}": plan_bag(bag, number) for number in range(2)}
    return cache(lambda name, paper, margin_mm: draw(plans[name], paper, margin_mm))


NAMES = (*DEMOS, "satchel", "bag-0", "bag-1")


def flat_marks(marks: tuple[Mark, ...], dx: float = 0.0, dy: float = 0.0, shown=None) -> Iterator[tuple]:
    """(mark, dx, dy, what clips leave to be seen) in the order of drawing."""
    for mark in marks:
        if isinstance(mark, ClipMark):
            box = mark.box
            clip = shapely_box(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)
            inner = clip if shown is None else clip.intersection(shown)
            yield from flat_marks(mark.marks, dx + mark.dx_mm, dy + mark.dy_mm, inner)
        else:
            yield mark, dx, dy, shown


def line_of(mark: PathMark, dx: float, dy: float) -> LineString:
    points = [(x + dx, y + dy) for x, y in flatten(mark.path, 0.05)]
    return LineString([*points, points[0]] if mark.path.closed else points)


def cut_lines(page: Page, *, whole: bool = False) -> list[LineString]:
    """The cut lines that show on a page; `whole` ones are closed and in no clip of a broken strap."""
    found = []
    for mark, dx, dy, shown in flat_marks(page.marks):
        if isinstance(mark, PathMark) and mark.layer == "cut" and (mark.path.closed or not whole):
            line = line_of(mark, dx, dy)
            found.append(line if shown is None else line.intersection(shown))
    return [line for line in found if not line.is_empty]


@pytest.mark.parametrize("sheet", SHEETS[:2])
@pytest.mark.parametrize("name", NAMES)
def test_cut_lines_of_two_pieces_are_four_millimetres_apart(drawn: Drawn, name: str, sheet: tuple[str, float]) -> None:
    for page in drawn(name, *sheet).pages[1:]:
        lines = cut_lines(page, whole=True)
        near = STRtree(lines).query(lines, predicate="dwithin", distance=KNIFE_MM - 1e-3)
        assert [(first, second) for first, second in zip(*near, strict=True) if first < second] == [], page.label


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_white_lies_over_a_cut_line(drawn: Drawn, name: str, sheet: tuple[str, float]) -> None:
    """Fills but black ones, and the white that is cleared about a code: four modules, the quiet zone of ISO/IEC 18004."""
    for page in drawn(name, *sheet).pages[1:]:
        lines = STRtree(cut_lines(page))
        for mark, dx, dy, _ in flat_marks(page.marks):
            if isinstance(mark, CodeMark):
                quiet = 4 * mark.size_mm / len(mark.rows)
                x, y, side = mark.x_mm + dx - quiet, mark.y_mm + dy - quiet, mark.size_mm + 2 * quiet
                white = shapely_box(x, y, x + side, y + side)
            elif isinstance(mark, PathMark) and mark.fill:
                white = Polygon(line_of(mark, dx, dy))
            else:
                continue
            assert len(lines.query(white, predicate="intersects")) == 0, (page.label, white.bounds)


@pytest.mark.parametrize("name", NAMES)
def test_no_number_of_a_join_stands_in_a_tag_or_a_square(drawn: Drawn, name: str) -> None:
    for page in drawn(name, *SHEETS[1]).pages[1:]:
        flat = list(flat_marks(page.marks))
        tags = [
            line_of(mark, dx, dy)
            for mark, dx, dy, shown in flat
            if isinstance(mark, PathMark) and mark.path.closed and shown is None
        ]
        own = STRtree([Polygon(line) for line in tags if line.length < 400])  # the frame of the sheet is longer
        names = {name for name, _, _ in page.sheet.matches}
        for mark, dx, dy, shown in flat:
            if shown is not None and isinstance(mark, TextMark) and mark.text in names:
                box = text_box(mark)
                place = shapely_box(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)
                assert len(own.query(place, predicate="intersects")) == 0, (page.label, mark.text)


# ---- what moves no piece -------------------------------------------------------


def places(document: Document) -> list:
    return [page.sheet for page in document.pages]


@pytest.mark.parametrize(
    ("name", "paper"),
    [("field-bag", "letter"), ("field-bag", "a4"), ("cable-roll", "a4"), ("notebook-sleeve", "letter")],
)
def test_comment_version_and_draft_move_no_piece(tmp_path: Path, name: str, paper: str) -> None:
    text = (SPECS / f"{name}.toml").read_text(encoding="utf-8")
    for drawing in SPECS.glob("*.svg"):
        shutil.copy(drawing, tmp_path)
    (version,) = [line for line in text.splitlines() if line.startswith("version ")]
    changes = [
        (text, False),
        (text.replace(version, 'version = "8"'), False),
        (text.replace(version, 'version = "10.0-41.2388"') + "\n# a note\n", True),
    ]
    documents = []
    for change, is_draft in changes:
        (tmp_path / "spec.toml").write_text(change, encoding="utf-8")
        plan = plan_work(resolve_build(read_spec(tmp_path / "spec.toml")))
        documents.append(draw(plan, paper, is_draft=is_draft))
    assert len({page.payload for document in documents for page in document.pages[:1]}) == len(documents)
    assert all(places(document) == places(documents[0]) for document in documents[1:])
