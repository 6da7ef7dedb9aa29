"""A thread by its V number or ticket: what the build makes of it."""

import pytest
from spec_text import Resolve, Tell

from docgen.tables.strength import N_PER_LB

PIECE = '[pieces.back]\nof = "body"\nshape = "rectangle"\nsize = ["100 mm", "50 mm"]\n'


def stitch(thread: str) -> str:
    return f'[stitches.rim]\nby = "machine"\nthread = "{thread}"\npitch = "French iron 8"\ninset = "4 mm"\n'


@pytest.mark.parametrize("size", ["V138", "Tkt 20"])
def test_bonded_nylon_by_other_numbers_is_sewn_like_tex_135(resolve_text: Resolve, size: str) -> None:
    build = resolve_text(stitch(f"{size} bonded nylon") + PIECE)
    rim = next(found for found in build.stitches if found.name == "rim")
    assert rim.thread_words == f"{size} (Tex 135) bonded nylon"
    assert (rim.thread_tex, rim.thread_fibre, rim.needle_nm) == (140.0, "nylon", 130)
    assert rim.thread_strength_n == pytest.approx(22 * N_PER_LB)
    assert rim.pitch_mm == pytest.approx(27.07 / 8)


def test_a_thread_too_heavy_for_any_needle_is_named_as_it_was_written(messages: Tell) -> None:
    told = messages(stitch("Tkt 5 polyester") + PIECE)
    assert told == (
        "a.toml:16: error: no needle is known for Tkt 5 (Tex 600)\n"
        '    written: "Tkt 5 polyester"\n'
        '    mend:    look at the number; for a thread so thick name its needle: needle = "250/27"\n'
    )
