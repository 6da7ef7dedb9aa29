"""How a row by hand begins and ends, in the words of the build sheet. Common practice, no published source."""

import pytest
from on_paper import make_setup, texts
from short_specs import piece, seam, step
from spec_text import HEAD, Resolve

from docgen.pages.work.build_sheet import lay_out_build_sheet
from docgen.plan import plan_work

WORK = (
    piece("front", 160, 140)
    + piece("back", 160, 140)
    + seam("round", "front: left bottom right", "back: left bottom right")
    + step("Sew it.", seams="round")
)


@pytest.fixture
def head() -> str:
    return HEAD.partition("[stitches.main]")[0]


def sheet(resolve_text: Resolve, thread: str, more: str = "", by: str = "hand") -> str:
    stitch = f'[stitches.main]\nby = "{by}"\nthread = "{thread}"\npitch = "4 mm"\ninset = "4 mm"\n{more}'
    return " ".join(texts(lay_out_build_sheet(plan_work(resolve_text(stitch + WORK)), make_setup())))


@pytest.mark.parametrize(
    ("thread", "melts"), [("waxed polyester", True), ("bonded nylon", True), ("waxed linen", False), ("waxed", False)]
)
def test_ends_of_thread_are_melted_where_they_melt(resolve_text: Resolve, thread: str, *, melts: bool) -> None:
    assert ("Melt the ends of nylon and polyester" in sheet(resolve_text, f"0.6 mm {thread}")) == melts


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("", "3 stitches"),
        ('back-tack = "8 mm"\n', "2 stitches"),
        ('back-tack = "4 mm"\n', "1 stitch"),
        ('back-tack = "0"\n', "none"),
    ],
)
def test_a_back_tack_is_told_in_stitches(resolve_text: Resolve, more: str, told: str) -> None:
    """Half an inch where the spec says nothing: 12.7 / 4 is a little over 3, and as much thread is cut for it."""
    row = sheet(resolve_text, "0.6 mm waxed linen", more).partition("back-tack")[2].partition(" Try every stitch")[0]
    assert f" 4 mm 4 mm {told} (6.4 per inch)" in row


def test_a_row_by_machine_has_a_back_tack_in_length_and_no_words_of_hands(resolve_text: Resolve) -> None:
    found = sheet(resolve_text, "Tex 70 bonded nylon", by="machine")
    assert " 12.7 mm " in found.partition("back-tack")[2].partition(" Try every stitch")[0]
    assert "Begin and end each row" not in found
