"""Which edge lies on which, of two parts with one side together: each is named as it is seen by itself, so that left comes
on right (plane geometry: what lies face down is turned over)."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("", "Lay left, bottom and right of front on right, bottom and left of back, flesh sides together"),
        ("turned = true\n", "grain sides together, edges level: left, bottom and right on right, bottom and left."),
    ],
)
def test_left_lies_on_right_of_what_is_laid_side_to_side(resolve_text: Resolve, more: str, words: str) -> None:
    sides = ("front: left bottom right", "back: left bottom right")
    text = piece("front", 200, 150) + piece("back", 200, 150) + seam("s", *sides, more=more)
    told = lines(plan_work(resolve_text(write_out(text) + step("Sew.", seams="s"))), 1)
    assert any(words in line for line in told)


def test_left_lies_on_left_of_what_lies_behind_a_part(resolve_text: Resolve) -> None:
    """A lining is named as the part that it lines, and lies on it as it is named."""
    cloth = '<fabric cloth: 0.5 mm>\nwidth = "1 m"\n'
    lining = '[pieces.lining]\nof = "cloth"\nlike = "back"\nlines = ["back"]\n'
    text = cloth + piece("back", 200, 150) + lining + seam("s", "back: left bottom right", "lining: left bottom right")
    told = lines(plan_work(resolve_text(write_out(text) + step("Sew.", seams="s"))), 1)
    assert not any("on right" in line for line in told)
