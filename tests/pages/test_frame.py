"""The band at the foot: whole on the usual papers, whatever the names are."""

from dataclasses import replace

import pytest

from docgen.fonts import ascent_mm, descent_mm, text_width_mm
from docgen.geometry.path import boxes_overlap, path_box
from docgen.geometry.shapes import Box
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import CodeMark, Mark, PathMark, TextMark
from docgen.pages.setting.frame import Stamp, draw_band, page_frame
from docgen.pages.setting.tag import QUIET_MODULES

STYLE = load_page_style()
LETTER, A4 = (215.9, 279.4), (210.0, 297.0)
SHORT = Stamp(
    title="Tuner Satchel",
    code="TUNER-SATCHEL",
    version=3,
    date="2025-03-14",
    digest="9F2C61AB04",
    units="inches first, mm in brackets",
    document_title="Cutting list",
)
LONG = replace(
    SHORT,
    title="Large satchel with two gussets and a flap for rainy days, B2",
    code="LARGE-SATCHEL-WITH-TWO-GUSSETS-AND-FLAPS",
    version=128,
    shop="The Long Named Leather Workshop beside the River",
    link="HTTPS://EXAMPLE.ORG/BAGS-AND-CASES/BUILDS",
)
ONE_WORD = replace(LONG, title="W" * 240, shop="W" * 60, units="m" * 60, document_title="W" * 40)


def text_box(mark: TextMark) -> Box:
    right = mark.x_mm + text_width_mm(mark.text, mark.face, mark.size_mm)
    bottom = mark.y_mm - descent_mm(mark.size_mm, mark.face)
    return Box(mark.x_mm, bottom, right, mark.y_mm + ascent_mm(mark.size_mm, mark.face))


def shrink(box: Box) -> Box:
    return Box(box.left + 0.01, box.bottom + 0.01, box.right - 0.01, box.top - 0.01)


def symbol_with_quiet_zone(marks: tuple[Mark, ...]) -> Box:
    (mark,) = (mark for mark in marks if isinstance(mark, CodeMark))
    quiet = 4 * mark.size_mm / len(mark.rows)
    return Box(mark.x_mm - quiet, mark.y_mm - quiet, mark.x_mm + mark.size_mm + quiet, mark.y_mm + mark.size_mm + quiet)


def all_text(marks: tuple[Mark, ...]) -> list[str]:
    return [mark.text for mark in marks if isinstance(mark, TextMark)]


def type_size(marks: tuple[Mark, ...], text: str) -> float:
    return next(mark.size_mm for mark in marks if isinstance(mark, TextMark) and mark.text == text)


@pytest.mark.parametrize("stamp", [SHORT, LONG, ONE_WORD], ids=["short", "long", "one word"])
@pytest.mark.parametrize("paper", [LETTER, A4], ids=["letter", "A4"])
@pytest.mark.parametrize("side", [0, 14])
def test_nothing_overlaps_or_leaves_the_band(stamp: Stamp, paper: tuple[float, float], side: float) -> None:
    """The symbol's quiet zone may lie in the margins, and the symbol stand above the band."""
    marks, _ = draw_band(stamp, "PATTERN", 12, 24, *paper, 10, STYLE, "rows 1–2, column B", side_mm=side)
    band = Box(max(10, side), 10, paper[0] - max(10, side), 28)
    boxes = [text_box(mark) for mark in marks if isinstance(mark, TextMark)]
    symbol = symbol_with_quiet_zone(marks)
    assert symbol.right - QUIET_MODULES * symbol.width / 37 <= band.right + 0.5
    assert symbol.top <= 10 + STYLE.band_mm + STYLE.above_band_mm + 1e-6
    assert symbol.bottom >= 0
    assert not any(boxes_overlap(shrink(box), shrink(symbol)) for box in boxes)
    for place, box in enumerate(boxes):
        assert box.left > band.left - 1e-6
        assert box.right < band.right + 1e-6
        assert box.bottom > band.bottom - 1e-6
        assert box.top < band.top + 1e-6
        assert not any(boxes_overlap(shrink(box), shrink(other)) for other in boxes[place + 1 :])
    lines = [path_box(mark.path) for mark in marks if isinstance(mark, PathMark)]
    assert len(lines) == 3
    assert not any(boxes_overlap(shrink(line_box), shrink(box)) for line_box in lines for box in boxes)


@pytest.mark.parametrize("stamp", [SHORT, LONG])
@pytest.mark.parametrize("paper", [LETTER, A4], ids=["letter", "A4"])
def test_titles_of_sixty_letters_are_whole_and_type_is_no_smaller_than_its_least(
    stamp: Stamp, paper: tuple[float, float]
) -> None:
    marks, _ = draw_band(stamp, "PATTERN", 12, 24, *paper, 10, STYLE, "rows 1–2, column B")
    said = " ".join(all_text(marks))
    for text in (stamp.title, stamp.shop, stamp.units, stamp.date, "sheet 12 of 24 rows 1–2, column B"):
        assert text in said
    assert min(mark.size_mm for mark in marks if isinstance(mark, TextMark)) >= STYLE.least_type_mm - 1e-9


@pytest.mark.parametrize("stamp", [SHORT, LONG, ONE_WORD])
def test_the_payload_is_in_the_code_and_in_full_in_type(stamp: Stamp) -> None:
    marks, payload = draw_band(stamp, "PATTERN", 4, 9, *LETTER, 10, STYLE)
    assert payload in "".join(all_text(marks))
    assert [mark.payload for mark in marks if isinstance(mark, CodeMark)] == [payload]


def test_the_payload_breaks_after_a_slash() -> None:
    longer = replace(LONG, link=LONG.link + "/OF-THE-WORKSHOP-BESIDE-THE-RIVER" * 8)
    marks, payload = draw_band(longer, "PATTERN", 4, 9, *LETTER, 10, STYLE)
    lines = [text for text in all_text(marks) if text in payload and "/" in text]
    assert "".join(lines) == payload
    assert len(lines) > 1
    assert all(line.endswith("/") and not line.endswith("//") for line in lines[:-1])


def test_only_a_title_beyond_measure_is_shortened() -> None:
    marks, _ = draw_band(ONE_WORD, "PATTERN", 1, 1, *LETTER, 10, STYLE)
    texts = all_text(marks)
    shortened = [text for text in texts if text.endswith("…")]
    assert len(shortened) == 1
    rest = "".join(texts[texts.index(shortened[0]) + 1 :])
    assert ONE_WORD.units in rest
    assert ONE_WORD.shop in rest


def test_title_and_version_stand_out() -> None:
    marks, _ = draw_band(SHORT, "CUTTING-LIST", 1, 2, *LETTER, 14, STYLE)
    assert type_size(marks, "Tuner Satchel") == STYLE.band_title_type_mm
    assert type_size(marks, "version 3") == STYLE.band_version_type_mm
    assert type_size(marks, "sheet 1 of 2") == STYLE.band_value_type_mm


def test_a_long_title_shrinks_no_more_than_it_must() -> None:
    marks, _ = draw_band(LONG, "PATTERN", 1, 2, *LETTER, 10, STYLE)
    # Two lines in the 5.2 mm of the title's row, less 0.9 mm of space, can be 2.4 mm high: 7 pt.
    assert STYLE.least_type_mm - 1e-9 <= type_size(marks, all_text(marks)[0]) <= 4.3


def test_the_band_says_all_that_a_title_block_has() -> None:
    """Owner, identification, date, sheet, title and kind of document, as in ISO 7200:2004 (from memory), with words only
    where a value does not tell what it is."""
    marks, _ = draw_band(SHORT, "CUTTING-LIST", 1, 2, *LETTER, 14, STYLE)
    assert " | ".join(all_text(marks)) == (
        "Tuner Satchel | version 3 | Cutting list | sheet 1 of 2 | 2025-03-14 | inches first, mm in brackets | "
        "SPEC:TUNER-SATCHEL/3/9F2C61AB04/CUTTING-LIST/1"
    )


def test_all_in_a_usual_band_is_10_pt_or_larger() -> None:
    """On both papers: what is read at the bench."""
    for paper in (LETTER, A4):
        marks, _ = draw_band(replace(SHORT, shop="Alder Lane Leather"), "CUTTING-LIST", 1, 12, *paper, 10, STYLE)
        assert min(mark.size_mm for mark in marks if isinstance(mark, TextMark)) * 72 / 25.4 >= 10 - 1e-6


def test_the_symbol_is_at_least_18_mm_in_a_clear_box_at_the_right() -> None:
    marks, _ = draw_band(SHORT, "PATTERN", 1, 1, *LETTER, 10, STYLE)
    (mark,) = (mark for mark in marks if isinstance(mark, CodeMark))
    # ISO/IEC 18004: four modules of white, here above it, in the 22.5 mm of the band and the space over it
    assert mark.size_mm == pytest.approx(22.5 * 25 / 29)
    assert mark.size_mm / len(mark.rows) > 4 * 25.4 / 150
    assert mark.x_mm + mark.size_mm == pytest.approx(205.9)


def test_the_symbol_of_a_very_long_link_stays_in_the_band() -> None:
    stamp = replace(SHORT, link="HTTPS://EXAMPLE.ORG/" + "LONG-" * 40)
    marks, payload = draw_band(stamp, "PATTERN", 1, 1, *LETTER, 10, STYLE)
    box = symbol_with_quiet_zone(marks)
    quiet = 4 * box.height / (len(next(mark for mark in marks if isinstance(mark, CodeMark)).rows) + 8)
    assert box.top == pytest.approx(10 + STYLE.band_mm + STYLE.above_band_mm)
    assert box.bottom == pytest.approx(10 - quiet)
    assert payload in "".join(all_text(marks))


def test_the_free_area_ends_above_the_band() -> None:
    frame = page_frame(*LETTER, 10, STYLE)
    assert frame == Box(10, pytest.approx(32.5), pytest.approx(205.9), pytest.approx(269.4))


def test_no_line_is_thinner_than_a_home_printer_shows() -> None:
    marks, _ = draw_band(SHORT, "PATTERN", 1, 1, *LETTER, 10, STYLE)
    widths = [mark.stroke.width_mm for mark in marks if isinstance(mark, PathMark) and mark.stroke]
    assert min(widths) >= 0.12


def test_too_narrow_a_band_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^the band has 56 mm for its words; it needs 60$"):
        draw_band(SHORT, "PATTERN", 1, 1, 100, 200, 10, STYLE)
