"""Pictures of steps are larger where much of a page stays empty, and nothing else changes by that."""

from dataclasses import replace
from functools import cache

import pytest
from demos import PATHS, demo_build, demo_plan
from on_paper import check_inside, make_setup, texts, visible_marks

from docgen.geometry.path import path_box
from docgen.pages.marks.page import ClipMark, Document, Page, PathMark, TextMark
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.work import step_pages
from docgen.pages.work.build_sheet import lay_out_build_sheet
from docgen.pages.work.build_step import SIDE_MM, WIDE_SIDE_MM


@cache
def lay_out(name: str, paper: str) -> Document:
    return lay_out_build_sheet(demo_plan(name), make_setup(paper))


def columns_of(page: Page) -> list[float]:
    """How wide the columns are, in which something is drawn at the right edge of the words, but for the front page."""
    right = page.width_mm - make_setup().side_mm
    boxes = [mark.box for mark in page.marks if isinstance(mark, ClipMark)]
    return [box.width for box in boxes if abs(box.right - right) < 1e-6 and box.width < 100]


def lowest_mm(page: Page, bottom_mm: float) -> float:
    lows = [mark.y_mm for mark in page.marks if isinstance(mark, TextMark)]
    lows += [mark.box.bottom for mark in page.marks if isinstance(mark, ClipMark)]
    return min(y for y in lows if y > bottom_mm)


def drawn_mm(document: Document, number: int) -> float:
    """How wide the widest picture of the last page is, without its names, by its lines."""
    clips = [mark for mark in document.pages[number].marks if isinstance(mark, ClipMark)]
    wide = []
    for clip in clips:
        paths = [path_box(mark.path) for mark, _, _ in visible_marks(clip.marks) if isinstance(mark, PathMark)]
        wide.append(max((box.right for box in paths), default=0.0) - min((box.left for box in paths), default=0.0))
    return max(mm for mm, clip in zip(wide, clips, strict=True) if clip.box.width in (SIDE_MM, WIDE_SIDE_MM))


def test_a_picture_on_a_page_that_is_half_empty_is_larger(monkeypatch: pytest.MonkeyPatch) -> None:
    """The duffel's last page holds one step: its picture was 33 mm wide in a column of 66 mm, the other half of which stood
    empty beside its names."""
    wide = lay_out("duffel", "A4")
    monkeypatch.setattr(step_pages, "EMPTY_ENOUGH", 1.0)
    narrow = lay_out_build_sheet(demo_plan("duffel"), make_setup("A4"))
    assert columns_of(wide.pages[-1])[0] == pytest.approx(WIDE_SIDE_MM)
    assert columns_of(narrow.pages[-1])[0] == pytest.approx(SIDE_MM)
    assert drawn_mm(wide, -1) > 1.5 * drawn_mm(narrow, -1)


def test_a_full_page_keeps_its_columns() -> None:
    """Of the field bag on letter paper no page is a seventh empty."""
    document, frame = lay_out("field-bag", "letter"), make_setup().frame
    for page in document.pages[1:]:
        assert (lowest_mm(page, frame.bottom) - frame.bottom) / frame.height < 0.15
        assert columns_of(page)
        assert all(mm == pytest.approx(SIDE_MM) for mm in columns_of(page))


def test_a_picture_as_high_as_the_room_keeps_its_column() -> None:
    """The bucket is drawn as high as pictures are; a wider column would only narrow the words beside it."""
    assert {round(mm, 3) for page in lay_out("bucket", "A4").pages[1:] for mm in columns_of(page)} == {SIDE_MM}


def words_of(document: Document) -> list[str]:
    """All words, but to what a drawing is."""
    return sorted(word for word in " ".join(texts(document)).split() if not word.startswith("1:"))


@pytest.mark.parametrize("name", PATHS)
@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_larger_pictures_take_no_page_and_lose_no_word(name: str, paper: str, monkeypatch: pytest.MonkeyPatch) -> None:
    wide = lay_out(name, paper)
    check_inside(wide)
    monkeypatch.setattr(step_pages, "EMPTY_ENOUGH", 1.1)
    narrow = lay_out_build_sheet(demo_plan(name), make_setup(paper))
    assert len(wide.pages) == len(narrow.pages)
    for one, other in zip(wide.pages, narrow.pages, strict=True):
        its, own = (words_of(replace(wide, pages=(page,))) for page in (one, other))
        assert its == own


def test_names_on_one_side_leave_the_other_to_the_picture() -> None:
    """Both names of the crossbody bag's last step stand at its right; those of the satchel's at both sides."""
    style, width = make_setup().style, 88.0
    for name, step, is_larger in (("crossbody", 5, True), ("satchel", 4, False)):
        pictures = Pictures(demo_build(name))
        plain, roomy = (
            pictures.step_drawers(step, width, style, {}, is_roomy=is_roomy)[0](200.0) for is_roomy in (False, True)
        )
        assert (roomy.height_mm > 1.2 * plain.height_mm) == is_larger
        assert is_larger or roomy == plain
