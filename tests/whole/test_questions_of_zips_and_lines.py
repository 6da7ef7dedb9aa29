"""A pocket with a zip behind its window: that is sewn in while it is loose, and its dividing lines once it is not.

That both do not go at one time is plain from the work.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

ZIP = 'laid = [{ goods = "zip", at = "40 mm from top", window = "10 mm", stitch = "main" }]\n'
LINE = 'dividers = [{ at = "80 mm from left", on = "panel", stitch = "main" }]\n'
POCKET = f"""\
<zip: coil zip, 30 mm, 0.6 mm>
<rectangle panel: ["300 mm", "250 mm"]>
landings = [{{ piece = "pocket", at = "centre, 30 mm from bottom" }}]
<rectangle pocket: ["200 mm", "150 mm"]>
{ZIP}{LINE}<seam round: ["pocket: left bottom right top", "panel"]>
<step "Sew the pocket on.": seams = ["round"]>
trimmings = ["zip"]
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("laid_and_divided")


def test_a_zip_and_dividing_lines_through_another_part_are_asked_about(ask: Ask) -> None:
    (told,) = ask(POCKET)
    assert '"zip" is laid on "pocket", and its dividing lines go through "panel" too' in told


@pytest.mark.parametrize(
    "edit",
    [
        (ZIP, ""),
        (LINE, ""),
        (', on = "panel"', ""),
        ('trimmings = ["zip"]', 'trimmings = ["zip"]\nfirst = ["Sew the zip in first, and the dividing line last."]'),
    ],
    ids=["no zip", "no line", "a line through the pocket alone", "words"],
)
def test_what_is_sewn_at_one_time_is_not(ask: Ask, edit: tuple[str, str]) -> None:
    text = POCKET.replace('trimmings = ["zip"]\n', "") if edit[0] == ZIP else POCKET
    text = text[text.index("<rectangle panel") :] if edit[0] == ZIP else text
    assert ask(text, edit) == []
