"""The typeface: widths against the font file itself, wrapping, missing characters."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from docgen.fonts import (
    FACES,
    ascent_mm,
    cap_height_mm,
    descent_mm,
    font_file,
    missing_characters,
    text_width_mm,
    wrap_text,
)

LETTERS = st.text(alphabet="abcdefgh iMW\u00a0½-", max_size=60)


def test_a_figure_and_its_unit_stay_on_one_line() -> None:
    """Where the column holds them; a word that begins like a unit is no unit."""
    for words in ("15 3/8 in", "5.25 sq ft", "50 min", "25 %", "1 h", "4.2 mm", "48.8 dm²"):
        width_mm = text_width_mm(words, "regular", 3.0)
        assert words in wrap_text(f"a {words} of it", "regular", 3.0, width_mm + 0.5)
        assert "".join(wrap_text(words, "regular", 3.0, width_mm / 2)).replace(" ", "") == words.replace(" ", "")
    narrow_mm = text_width_mm("12 make", "regular", 3.0) - 0.1
    assert wrap_text("12 makes", "regular", 3.0, narrow_mm) == ("12", "makes")
    assert wrap_text("2 inches", "regular", 3.0, narrow_mm) == ("2", "inches")


def test_both_faces_have_a_file_of_their_own() -> None:
    files = {font_file(face) for face in FACES}
    assert len(files) == 2
    assert all(file.is_file() for file in files)


def test_an_unknown_face_is_refused() -> None:
    with pytest.raises(KeyError, match="italic"):
        font_file("italic")


@pytest.mark.parametrize("face", FACES)
def test_widths_agree_with_freetype(face: str) -> None:
    # outside check: FreeType, through Pillow, at 1000 units to the em and without kerning
    font = ImageFont.truetype(str(font_file(face)), 1000, layout_engine=ImageFont.Layout.BASIC)
    for text in ("Front panel", "3 1/2 in", "½ × 4.0 mm", "WAVE"):
        alone = sum(font.getlength(letter) for letter in text)
        assert text_width_mm(text, face, 10.0) == pytest.approx(alone / 100, abs=0.01)


def test_width_grows_with_the_size_and_the_weight() -> None:
    assert text_width_mm("Gusset", "regular", 8.0) == pytest.approx(2 * text_width_mm("Gusset", "regular", 4.0))
    assert text_width_mm("Gusset", "bold", 4.0) > text_width_mm("Gusset", "regular", 4.0)
    assert text_width_mm("", "regular", 4.0) == 0.0


@pytest.mark.parametrize("face", FACES)
def test_a_thin_space_is_about_a_sixth_of_the_type_and_holds_its_words_together(face: str) -> None:
    thin = text_width_mm("tissu\u202f;", face, 6.0) - text_width_mm("tissu;", face, 6.0)
    assert 0.75 < thin < 1.0
    assert missing_characters("tissu\u202f;") == ()
    assert wrap_text("un sac en tissu\u202f; dans", face, 4.0, text_width_mm("un sac en tissu", face, 4.0)) == (
        "un sac en",
        "tissu\u202f; dans",
    )


def test_heights_agree_with_the_drawn_letters() -> None:
    # outside check: the box FreeType draws for an H, at 1000 units to the em
    font = ImageFont.truetype(str(font_file("regular")), 1000)
    _, top, _, bottom = font.getbbox("H", anchor="ls")
    assert bottom == 0
    assert cap_height_mm(10.0) == pytest.approx(-top / 100, abs=0.02)
    ascent, descent = font.getmetrics()
    assert ascent_mm(10.0) == pytest.approx(ascent / 100, abs=0.02)
    assert descent_mm(10.0) == pytest.approx(descent / 100, abs=0.02)


def test_missing_characters_are_named_once_and_in_order() -> None:
    assert missing_characters("Flap 3′ by 4″ and 5′ ✓") == ("′", "″", "✓")


def test_what_the_face_has_is_not_reported() -> None:
    assert missing_characters("Ärmel ½ ¼ ⅛ × ° – — “ ” · ≥ ≤ → ²\u00a0mm\nnext line") == ()


def test_control_characters_are_reported() -> None:
    assert missing_characters("a\x07b") == ("\x07",)


def test_wrapping_fills_each_line_with_whole_words() -> None:
    width = text_width_mm("Saddle stitch the", "regular", 4.0)
    lines = wrap_text("Saddle stitch the gusset  to the front", "regular", 4.0, width)
    assert lines == ("Saddle stitch the", "gusset to the", "front")


def test_line_ends_are_kept_and_outer_ones_dropped() -> None:
    assert wrap_text("\none\n\ntwo\n", "regular", 4.0, 100.0) == ("one", "", "two")


def test_an_empty_text_has_no_lines() -> None:
    assert wrap_text(" \n ", "regular", 4.0, 100.0) == ()


def test_a_no_break_space_holds_a_number_and_its_unit_together() -> None:
    width = text_width_mm("skive to 4.0", "regular", 4.0)
    assert wrap_text("skive to 4.0\u00a0mm", "regular", 4.0, width) == ("skive to", "4.0\u00a0mm")


def test_a_column_narrower_than_a_letter_holds_one_letter_a_line() -> None:
    assert wrap_text("WM", "regular", 4.0, 0.1) == ("W", "M")


@given(text=LETTERS, width_mm=st.floats(min_value=6.0, max_value=60.0))
@settings(max_examples=150, deadline=None)
def test_wrapping_loses_no_letter_and_clips_none(text: str, width_mm: float) -> None:
    lines = wrap_text(text, "regular", 4.0, width_mm)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width_mm(line, "regular", 4.0) <= width_mm + 1e-6 for line in lines)
